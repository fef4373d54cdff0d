"""The cloths of the order: what each is, how much is taken, what it will give."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import partial

from PySide6.QtWidgets import (
    QCheckBox,
    QFrame,
    QLabel,
    QVBoxLayout,
    QWidget,
)

from skirtwright.app.cloth_work import ClothWork
from skirtwright.app.desk import Desk
from skirtwright.app.fields import (
    Choosing,
    link_button,
    role_label,
    sentence_label,
    tell,
)
from skirtwright.app.layouts import in_column, in_row
from skirtwright.app.slips.check import RemedyButton
from skirtwright.app.slips.cloth_answers import Given, Widths
from skirtwright.app.slips.cloth_fields import ClothField, FoldRow
from skirtwright.app.slips.cloth_shelf_row import ShelfRow
from skirtwright.app.slips.progress import Progress
from skirtwright.app.slips.slip import Fold, Slip
from skirtwright.export.lay_words import (
    cost_words,
    material_name,
    opened_words,
    short_needs,
)
from skirtwright.job.cloth_edits import set_cloth, set_hand_lay
from skirtwright.job.edits import Edited
from skirtwright.job.joining import joins_made, without_joins
from skirtwright.job.worktable import Look
from skirtwright.lay.all_cloths import materials
from skirtwright.lay.by_hand import HandLay, at_spots, hand_lay
from skirtwright.lay.cloth_to_cut import usual
from skirtwright.lay.lay import Lay
from skirtwright.pieces.cutting import Cut
from skirtwright.problems import Problem, SkirtwrightError
from skirtwright.words import Manner, in_one_sentence, say, translate

FIRST = ("width", "on_hand")
REST = (
    "repeat_along",
    "repeat_across",
    "shrinks_along",
    "shrinks_across",
    "selvedge",
    "gap",
    "price",
)


class ClothSlip(Slip):
    """One cloth at a time; which, she chooses above."""

    def __init__(self, desk: Desk, work: ClothWork) -> None:
        super().__init__(desk)
        self._work = work
        self.box = Choosing()
        self.taken, self.trouble = sentence_label("title"), sentence_label("wrong")
        self.besides = sentence_label()
        self.progress = Progress(work.stop)
        self.ways = WaysPart(desk, work)
        self.hand = HandPart(desk, work)
        self.shelf = ShelfRow(desk)
        self.fields = {name: ClothField(desk, name) for name in (*FIRST, *REST)}
        self.fold, self.nap = FoldRow(desk), QCheckBox()
        self.shrunk, self.how_shrunk = Choosing(), QLabel()
        self.how_shrunk.setBuddy(self.shrunk)
        self.widths, self.given = Widths(desk), Given(desk, work)
        self.gives = role_label("subheading")
        self.more = Fold("", self._fill_more, self.body)
        self.others = Fold("", lambda rows: rows.addWidget(self.widths), self.body)
        self._arrange()
        self.box.activated.connect(lambda _: self.show_look(desk.look))
        self.nap.clicked.connect(lambda on: self._choose(one_way=on))
        self.shrunk.activated.connect(lambda way: self._choose(cut_larger=way == 1))
        self.others.button.toggled.connect(self._ask_widths)
        work.told.connect(self._hear)

    def _arrange(self) -> None:
        asked = (
            self.box,
            *(self.fields[name] for name in FIRST),
            self.fold,
            self.nap,
            self.gives,
            self.given,
            self.shelf,
            self.more,
            self.others,
        )
        for widget in asked:
            self.rows.addWidget(widget)
        self.rows.addStretch(1)
        # What is told comes and goes at the foot: nothing above moves under the hand.
        foot = QFrame()
        foot.setProperty("tape", True)
        in_column(
            self.given.answer,
            self.taken,
            self.besides,
            self.progress,
            self.trouble,
            self.ways,
            self.hand,
            on=foot,
            spacing=6,
            margins=(24, 12, 24, 16),
        )
        self.outer.addWidget(foot)

    def _fill_more(self, rows: QVBoxLayout) -> None:
        rows.setSpacing(2)
        for name in REST:
            rows.addWidget(self.fields[name])
            if name == "shrinks_across":
                rows.addWidget(self.how_shrunk)
                rows.addWidget(self.shrunk)

    @property
    def material(self) -> str:
        """Of the cloth that is shown."""
        return str(self.box.currentData() or "")

    def choose(self, material: str) -> None:
        """Show a cloth."""
        self.box.setCurrentIndex(max(self.box.findData(material), 0))
        self.show_look(self.desk.look)

    # Showing

    def refresh(self) -> None:
        """Say everything again, in another manner or other colours."""
        manner = self.desk.manner
        self.head(say("cloth.title", manner=manner))
        self.box.setAccessibleName(say("cloth.which", manner=manner))
        self.nap.setText(say("cloth_field.one_way", manner=manner))
        self.nap.setToolTip(say("cloth_field.one_way.help", manner=manner))
        self.more.button.setText(say("cloth.more", manner=manner))
        self.others.button.setText(say("cloth.other_widths", manner=manner))
        self.gives.setText(say("cloth.gives", manner=manner))
        self.how_shrunk.setText(say("cloth.how_shrunk", manner=manner))
        self.shrunk.setAccessibleName(say("cloth.how_shrunk", manner=manner))
        ways = ("shrunk_first", "cut_larger")
        self.shrunk.fill([say(f"cloth.{way}", manner=manner) for way in ways])
        stop = say("cloth.stop", manner=manner)
        self.progress.say_again(say("cloth.laying", manner=manner), stop)
        self.widths.progress.say_again(say("cloth.laying", manner=manner), stop)
        for field in self.fields.values():
            field.say_again()
        self.fold.say_again(self.colours)
        for part in (self.shelf, self.given, self.hand):
            part.say_again()

    def show_order(self, look: Look) -> None:
        """Show the cloth as it stands."""
        names, manner = materials(look.report.to_cut), self.desk.manner
        chosen = self.material
        self.box.fill([material_name(name, manner) for name in names], names)
        self.box.setCurrentIndex(max(self.box.findData(chosen), 0))
        if not self.material:
            return
        wrong = False
        try:
            cloth = look.job.cloth(self.material)
        except SkirtwrightError:
            # A file said so, and it is told; here it can be put right.
            cloth, wrong = usual(self.material, look.job.unit), True
        for field in self.fields.values():
            field.show_cloth(self.material, cloth, wrong=wrong)
        self.fold.show_cloth(self.material, cloth.fold)
        self.nap.setChecked(cloth.one_way)
        larger = look.job.chosen_cloth(self.material).cut_larger
        self.shrunk.setCurrentIndex(int(larger))
        self.shelf.show_cloth(self.material)
        self.given.show_cloth(self.material, cloth, look)
        self._told()
        told_of = (self.material, manner)
        for asked in (self.widths, self.given):
            if asked.told_of != told_of:
                asked.stop()
                asked.drop()
                asked.told_of = told_of
        if self.others.button.isChecked() and self.isVisible() and not self.widths.told:
            self._ask_widths(on=True)

    def _hear(self) -> None:
        if self.isVisible() and self.material:
            self._told()

    def _told(self) -> None:
        """What it takes, as far as that is known."""
        work, manner = self._work, self.desk.manner
        lay = self._lay()
        sure = lay is not None and work.is_sure(self.material)
        words, besides = "", ""
        if lay is not None:
            words, *more = short_needs(lay, manner, sure=sure)
            if sure:
                more += self._besides(lay)
            besides = " ".join(more)
        for one in work.seen:
            if one.cloth.material == self.material and work.is_known(self.material):
                self.fold.show_cloth(self.material, one.cloth.fold)
        tell(self.taken, words, "title")
        tell(self.besides, besides)
        self.progress.show_share(work.share)
        wrong = [in_one_sentence(problem, manner) for problem in self._wrong(lay, sure)]
        if work.failed:
            wrong.append(say("cloth.child_failed", manner=manner))
        tell(self.trouble, "\n".join(wrong), "wrong")
        self.ways.show_ways(self.material)
        self.hand.show_hand(self.material)

    def _besides(self, lay: Lay) -> Iterator[str]:
        """That it lies open where it was to be folded, and what it costs."""
        manner = self.desk.manner
        yield from opened_words(lay, manner)
        cost = cost_words(lay.bought, lay.asked, manner.unit)
        if cost:
            yield say("lay.cost", {"cost": cost}, manner)

    def _lay(self) -> Lay | None:
        lays = self._work.lays.lays
        return next((one for one in lays if one.cloth.material == self.material), None)

    def _wrong(self, lay: Lay | None, sure: bool) -> list[Problem]:
        """What there is to say of this cloth."""
        lays = self._work.lays
        own = [
            problem
            for problem in lays.refused
            if self.material in (problem.where, problem.values.get("material"))
        ]
        if lay is not None and sure:
            own += [p for one, p in lays.told if one is lay]
        if self._work.trouble:
            own.append(self._work.trouble)
        return own

    # Doing

    def _choose(self, **typed: bool) -> None:
        desk = self.desk
        try:
            desk.change(set_cloth(desk.job, self.material, **typed))
        except SkirtwrightError as refused:
            self.show_look(desk.look)
            tell(self.trouble, in_one_sentence(refused.problem, desk.manner), "wrong")

    def _ask_widths(self, on: bool) -> None:
        if on and self.material:
            cloth = self.desk.job.cloth(self.material)
            self.widths.begin(self.material, cloth)
        else:
            self.widths.stop()

    def wait(self) -> None:
        """Let nothing be worked any more."""
        self.widths.wait()
        self.given.wait()

    def first_place(self) -> QWidget:
        """The width."""
        return self.fields["width"].line


class WaysPart(QWidget):
    """What would do where a piece is too wide, or take less; and joins that are made.

    Each is one click, and one step to take back.
    """

    def __init__(self, desk: Desk, work: ClothWork) -> None:
        super().__init__()
        self._desk, self._work = desk, work
        self.buttons: list[RemedyButton] = []
        self._ways: list[Callable[[], Edited]] = []
        self.column = in_column(on=self, spacing=7)

    def show_ways(self, material: str) -> None:
        """Show what is offered for a cloth."""
        job, manner = self._desk.job, self._desk.manner
        ways: list[tuple[str, Callable[[], Edited]]] = [
            (offer.says(job, manner.unit).said(manner), partial(offer.edited, job))
            for offer in self._work.would(material)
        ]
        cut = self._desk.look.report.cut.whole
        of_cloth = {p.name for p in cut.pieces if p.spec.material == material}
        made = [name for name in joins_made(job) if name in of_cloth]
        if made:
            titles = ", ".join(_title(cut, name, manner) for name in made)
            words = say("join.take_away", {"piece": titles}, manner)
            ways.append((words, partial(without_joins, job, made)))
        self.setVisible(bool(ways))
        self._ways = [edited for _, edited in ways]
        if [words for words, _ in ways] == [b.accessibleName() for b in self.buttons]:
            return
        for button in self.buttons:
            self.column.removeWidget(button)
            button.deleteLater()
        self.buttons = []
        for number, (words, _) in enumerate(ways):
            button = RemedyButton(words, "")
            button.clicked.connect(partial(self._do, number))
            self.column.addWidget(button)
            self.buttons.append(button)

    def _do(self, number: int) -> None:
        self._desk.change(self._ways[number]())


def _title(cut: Cut, name: str, manner: Manner) -> str:
    piece = next(piece for piece in cut.pieces if piece.name == name)
    return translate(piece.spec.title, manner)


class HandPart(QWidget):
    """What is done about a lay by hand."""

    def __init__(self, desk: Desk, work: ClothWork) -> None:
        super().__init__()
        self._desk, self._work, self._material = desk, work, ""
        self.said = sentence_label("faint")
        self.rest, self.again, self.anew = (link_button() for _ in range(3))
        row = in_row(self.rest, self.again, self.anew, 1, spacing=8)
        in_column(self.said, row, on=self, spacing=2)
        self.rest.clicked.connect(lambda: work.lay_rest(self._material))
        self.again.clicked.connect(self._lay_again)
        self.anew.clicked.connect(lambda: self._put(None, "edit.laid_anew"))

    def say_again(self) -> None:
        """Words in her language."""
        manner = self._desk.manner
        self.rest.setText(say("cloth.rest_anew", manner=manner))
        self.again.setText(say("cloth.as_by_hand", manner=manner))
        self.anew.setText(say("cloth.all_anew", manner=manner))

    def show_hand(self, material: str) -> None:
        """Show what stands of a lay by hand; nothing where there is none."""
        self._material = material
        hand = self._desk.job.hand_lays.get(material)
        fits = hand is not None and self._work.is_by_hand(material)
        self.setVisible(hand is not None)
        words = "cloth.by_hand" if fits else "cloth.was_by_hand"
        tell(self.said, say(words, manner=self._desk.manner), "faint")
        self.rest.setVisible(fits)
        self.again.setVisible(not fits)

    def _lay_again(self) -> None:
        """The pieces as they are now, where she laid them."""
        desk = self._desk
        job, cut = desk.job, desk.look.report.to_cut
        cloth, spots = job.cloth(self._material), job.hand_lays[self._material].spots
        lay = at_spots(cut, cloth, cloth, spots)
        if lay is not None:
            self._put(hand_lay(lay, cut), "edit.laid_again")

    def _put(self, kept: HandLay | None, name: str) -> None:
        desk = self._desk
        desk.change(set_hand_lay(desk.job, self._material, kept, name))
