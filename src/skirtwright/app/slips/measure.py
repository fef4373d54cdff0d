"""Whom the skirt is for, and what the tape said."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QFrame,
    QLabel,
    QLineEdit,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from skirtwright.app.desk import Desk
from skirtwright.app.fields import (
    NumberLine,
    link_button,
    role_label,
    sentence_label,
    tell,
)
from skirtwright.app.guard import guarded
from skirtwright.app.layouts import in_column, in_row, tab_as_read
from skirtwright.app.slips.measurement import MeasurementRow
from skirtwright.app.slips.notes import Notes
from skirtwright.app.slips.slip import Fold, Slip
from skirtwright.app.slips.tape import TapeFigure
from skirtwright.job.edits import Edited, set_age, set_card, set_client, set_title
from skirtwright.job.worktable import Look
from skirtwright.measures.card import MOST_YEARS
from skirtwright.measures.measurements import measurements
from skirtwright.problems import BadInput
from skirtwright.words import in_one_sentence, say, translate

_TAKEN_LINES = 5
"""Lines that how a measurement is taken may need."""

_TAKEN_SHARE = 0.25
"""Of the slip's height, for how a measurement is taken."""


class MeasureSlip(Slip):
    """The client, her measurements, and the notes on her."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._in_hand = "waist"
        self.client = QLineEdit()
        self.client.setMaxLength(200)
        self.client.setProperty("quiet", True)
        self.client.editingFinished.connect(self._name)
        self.units: dict[str, QToolButton] = {}
        self.sample = sentence_label()
        self.order = QLineEdit()
        self.order.setMaxLength(200)
        self.order_label = QLabel()
        self.order_label.setBuddy(self.order)
        self.order.editingFinished.connect(self._title)
        self.age = QLineEdit()
        self.age.setMaxLength(len(str(MOST_YEARS)))
        self.age_label = QLabel()
        self.age_label.setBuddy(self.age)
        self.age_wrong = sentence_label()
        self.age.editingFinished.connect(self._age)
        self.notes = Notes()
        self.notes.left.connect(self._note)
        self.figure = TapeFigure()
        self.taken = role_label("faint", wraps=True)
        self.taken.setAlignment(Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft)
        self.rows_by_name = {
            name: MeasurementRow(desk, known) for name, known in measurements().items()
        }
        for name, row in self.rows_by_name.items():
            for line in (row.line, row.left, row.right):
                line.came.connect(lambda name=name: self._show_tape(name))
                line.taken.connect(partial(self._go_on, line))
        self._arrange()
        self.taking = Fold("", self._fill_taking, self)
        self.outer.addWidget(self._tape_box())
        self.client.returnPressed.connect(partial(self._go_on, self.client))
        desk.begun.connect(self._begin)

    def _arrange(self) -> None:
        head = in_row((self.client, 1))
        for unit in ("cm", "in"):
            button = link_button()
            button.setText(unit)
            button.setCheckable(True)
            button.setProperty("unit", True)
            # After her name Tab goes to the first figure; keys have the settings.
            button.setFocusPolicy(Qt.FocusPolicy.NoFocus)
            button.clicked.connect(lambda _, u=unit: self._choose_unit(u))
            head.addWidget(button)
            self.units[unit] = button
        self.measured = _column()
        self.more_label = role_label("subheading")
        self.decides = link_button()
        self.decides.setCheckable(True)
        self.decides.setProperty("lesser", True)
        self.decides.toggled.connect(self._explain)
        between = in_row((self.more_label, 1), self.decides)
        self.others = _column()
        self.unused = Fold("", lambda _: None, self.body)
        self.unused.rows.setSpacing(0)
        self.notes_fold = Fold("", self._fill_notes, self.body)
        self.rows.setSpacing(6)
        self.rows.addLayout(head)
        self.rows.addWidget(self.sample)
        self.rows.addLayout(self.measured)
        self.rows.addWidget(_thin_line())
        self.rows.addLayout(between)
        self.rows.addLayout(self.others)
        self.rows.addWidget(self.unused)
        self.rows.addWidget(self.notes_fold)
        self.rows.addStretch(1)

    def _fill_notes(self, rows: QVBoxLayout) -> None:
        rows.addWidget(self.order_label)
        rows.addWidget(self.order)
        rows.addLayout(in_row(self.age_label, (self.age, 1)))
        rows.addWidget(self.age_wrong)
        rows.addWidget(self.notes)

    def _tape_box(self) -> QWidget:
        box = QFrame()
        box.setProperty("tape", True)
        in_column(self.taking, on=box, margins=(24, 4, 24, 4))
        self.taking.button.hide()
        self.taking.unfold()
        return box

    def _fill_taking(self, rows: QVBoxLayout) -> None:
        row = in_row(self.figure, (self.taken, 1), spacing=14)
        rows.addLayout(row)

    def _fold_taking(self) -> None:
        """How it is taken is folded away where it would take the room of the rows."""
        words = _TAKEN_LINES * self.taken.fontMetrics().lineSpacing()
        needed = max(self.figure.sizeHint().height(), words)
        tight = needed > _TAKEN_SHARE * self.height()
        if tight == self.taking.button.isHidden():
            self.taking.button.setVisible(tight)
            self.taking.button.setChecked(not tight)

    @guarded()
    def resizeEvent(self, event: QResizeEvent) -> None:
        """Lower, it has less room for how a measurement is taken."""
        super().resizeEvent(event)
        self._fold_taking()

    def first_place(self) -> QWidget:
        """Her name while it is not known, else the first measurement."""
        if not self.desk.job.card.name:
            return self.client
        return self.rows_by_name[next(iter(self.desk.job.draft.measurements))].lines[0]

    def bring_in_sight(self, names: Sequence[str]) -> None:
        """Have the rows of measurements in sight."""
        for name in names:
            whole = name.removesuffix("_left").removesuffix("_right")
            if whole in self.rows_by_name:
                self.scrolled.ensureWidgetVisible(self.rows_by_name[whole])

    def bring(self, name: str) -> None:
        """Put a measurement in hand; the fold of those not used is opened for it."""
        row = self.rows_by_name[name]
        if self.unused.isAncestorOf(row):
            self.unused.unfold()
        row.lines[0].setFocus(Qt.FocusReason.ShortcutFocusReason)
        self.bring_in_sight([name])

    def _go_on(self, before: QWidget) -> None:
        """Enter goes from her name to the first figure, and from each to the next."""
        at: QWidget | None = before.nextInFocusChain()
        while at is not None and at not in (before, self.client):
            if isinstance(at, NumberLine) and at.isVisible() and self.isAncestorOf(at):
                at.setFocus(Qt.FocusReason.TabFocusReason)
                return
            at = at.nextInFocusChain()
        self.focusNextChild()

    # Showing

    def _begin(self) -> None:
        """Another order: nothing of how the last was shown is left."""
        for row in self.rows_by_name.values():
            row.begin()
        self._place()

    def refresh(self) -> None:
        """Say everything again; rows find their places before they are seen."""
        manner = self.desk.manner
        self.head(say("card.title", manner=manner))
        self.client.setAccessibleName(say("card.client", manner=manner))
        self.client.setPlaceholderText(say("card.client", manner=manner))
        for unit, button in self.units.items():
            button.setChecked(unit == manner.unit)
            button.setAccessibleName(say(f"unit.{unit}", manner=manner))
        self.decides.setText(say("card.what_each_decides", manner=manner))
        self.notes_fold.button.setText(say("card.notes", manner=manner))
        self.taking.button.setText(say("card.how_taken", manner=manner))
        self.figure.set_colours(self.colours)
        self._fold_taking()
        if not self.isVisible():
            self._place()
        self.show_order(self.desk.look)

    def _place(self) -> None:
        """What is measured or needed first; what is of no use to the style last."""
        rows = self.rows_by_name.values()
        first = [row for row in rows if row.is_measured or row.is_needed]
        rest = [row for row in rows if row not in first]
        columns = (
            (self.measured, first),
            (self.others, [row for row in rest if row.is_used]),
            (self.unused.rows, [row for row in rest if not row.is_used]),
        )
        for column, placed in columns:
            for row in placed:
                column.addWidget(row)
        tab_as_read(self)

    def show_order(self, look: Look) -> None:
        """Show the card of the order in hand."""
        job, manner = self.desk.job, self.desk.manner
        if not self.client.isModified():
            self.client.setText(job.card.name)
            if not self.client.hasFocus():
                self.client.setCursorPosition(0)
        sample = say("card.sample", manner=manner) if job.sample else ""
        tell(self.sample, sample)
        self.more_label.setText(say("card.not_measured", manner=manner))
        count = self.unused.rows.count()
        message = "card.not_used_one" if count == 1 else "card.not_used"
        self.unused.button.setText(say(message, {"count": count}, manner))
        self.unused.setVisible(count > 0)
        self.order_label.setText(say("card.order", manner=manner))
        self.order.setPlaceholderText(translate(job.draft.title, manner))
        if not self.order.isModified():
            self.order.setText(job.title)
        self.age_label.setText(say("card.age", manner=manner))
        if not self.age.isModified():
            years = job.card.age
            self.age.setText("" if years is None else str(years))
            tell(self.age_wrong, "")
        self.notes.setAccessibleName(say("card.notes_on_client", manner=manner))
        self.notes.setPlaceholderText(say("card.notes_on_client", manner=manner))
        self.notes.rest_at(job.card.notes)
        for row in self.rows_by_name.values():
            row.refresh()
        self._show_tape(self._in_hand)

    def _show_tape(self, name: str) -> None:
        self._in_hand = name
        self.figure.show_tape(name)
        self.taken.setText(translate(measurements()[name].taken, self.desk.manner))

    # Doing

    def part_in_hand(self) -> bool:
        """Left and right apart, or together again, of the measurement in hand."""
        held = self.window().focusWidget()
        for row in self.rows_by_name.values():
            if held in (row.line, row.left, row.right) and row.known.sides:
                row.sign.click()
                return True
        return False

    def _explain(self, on: bool) -> None:
        """What each decides that is not measured, or quiet again."""
        for row in self.rows_by_name.values():
            row.explain(on)

    def _choose_unit(self, unit: str) -> None:
        self.desk.settings.choose("unit", unit)
        for name, button in self.units.items():
            button.setChecked(name == self.desk.manner.unit)

    def _name(self) -> None:
        name = self.client.text().strip()
        self.client.setModified(False)
        if name == self.desk.job.card.name:
            self.client.setText(name)
            return
        self.desk.change(set_client(self.desk.job, name))

    def _title(self) -> None:
        title = self.order.text().strip()
        self.order.setModified(False)
        if title != self.desk.job.title:
            self.desk.change(set_title(self.desk.job, title))

    def _age(self) -> None:
        try:
            edited = set_age(self.desk.job, self.age.text())
        except BadInput as refused:
            tell(self.age_wrong, in_one_sentence(refused.problem, self.desk.manner))
            return
        self.age.setModified(False)
        tell(self.age_wrong, "")
        if edited.job != self.desk.job:
            self.desk.change(edited)

    def _note(self, text: str) -> None:
        job = self.desk.job
        noted = set_card(job, job.card.replace(notes=text)).job
        noted = noted.replace(sample=job.sample)
        self.desk.change(Edited(noted, "edit.notes", {}))


def _column() -> QVBoxLayout:
    return in_column(spacing=0)


def _thin_line() -> QFrame:
    made = QFrame()
    made.setProperty("thin", True)
    made.setFixedHeight(1)
    return made
