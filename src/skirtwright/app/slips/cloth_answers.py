"""What is asked of a cloth and worked apart: other widths, and what it will give."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from dataclasses import asdict
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QGridLayout,
    QLabel,
    QPushButton,
    QWidget,
)

from skirtwright.app.child import KeptChild, Task
from skirtwright.app.cloth_work import ClothWork
from skirtwright.app.desk import Desk
from skirtwright.app.fields import Choosing, link_button, sentence_label, tell
from skirtwright.app.layouts import in_column, in_row
from skirtwright.app.slips.progress import Progress
from skirtwright.export.lay_words import bought_words, cost_words
from skirtwright.job.edits import Edited, set_amount
from skirtwright.job.worktable import Look
from skirtwright.lay.cloth_to_cut import Cloth
from skirtwright.lay.lay import TRIES
from skirtwright.measures.units import show_length
from skirtwright.words import Manner, say, translate


class Asked(QWidget):
    """Something worked apart for the order as it stands; another order ends it.

    Attributes:
        told_of: the cloth it is asked of, and how it is told.
    """

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self.desk, self._kept = desk, KeptChild(self)
        self.child: Task | None = None
        self.told_of: tuple[str, Manner] | None = None
        self._look: Look | None = None
        self.material = ""
        self.progress = Progress(self.stop)
        self.said = sentence_label("ink")
        self.rows = in_column(on=self, spacing=6)
        desk.looked.connect(self._looked)

    def ask(self, what: str, *asked: str) -> None:
        """Have it worked."""
        self.stop()
        desk = self.desk
        self._look = desk.look
        spoken = json.dumps(asdict(desk.manner))
        self.child = self._kept.ask([what, self.material, spoken, *asked], desk.job)
        self.child.told.connect(self.take)
        self.child.ended.connect(self._ended)
        self.progress.show_share(0.0)
        tell(self.said, "")

    def stop(self) -> None:
        """End what is being worked."""
        self._end_search()

    def wait(self) -> None:
        """End it, and see it gone."""
        self._end_search(wait=True)

    def take(self, news: Mapping[str, Any]) -> None:
        """A line of news."""
        if "share" in news:
            self.progress.show_share(float(news["share"]))

    def _looked(self, look: Look) -> None:
        if look is self.desk.look and look is not self._look:
            self._look = None
            self.stop()
            self.drop()

    def drop(self) -> None:
        """The order is another: what is told here is told no more."""
        tell(self.said, "")

    def _ended(self, well: bool) -> None:
        self._end_search()
        if not well:
            tell(self.said, say("cloth.child_failed", manner=self.desk.manner), "wrong")

    def _end_search(self, *, wait: bool = False) -> None:
        child, self.child = self.child, None
        if child is not None:
            child.stop()
        self._kept.close(wait=wait)
        self.progress.show_share(1.0)


class Widths(Asked):
    """What would be bought in each width cloth is sold in."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._grid = QGridLayout()
        self._grid.setHorizontalSpacing(12)
        self._grid.setColumnStretch(2, 1)
        self.rows.addLayout(self._grid)
        for widget in (self.progress, self.said):
            self.rows.addWidget(widget)
        self.told: list[tuple[str, ...]] = []

    def begin(self, material: str, cloth: Cloth) -> None:
        """Work them out for a cloth."""
        self.material, self._cloth = material, cloth
        self.drop()
        self.ask("widths", str(TRIES))

    def take(self, news: Mapping[str, Any]) -> None:
        """A width, or how much is done."""
        if "width" not in news:
            super().take(news)
            return
        at, manner = news["width"], self.desk.manner
        fraction = manner.fraction if manner.unit == "in" else None
        wide = show_length(at["width"], manner.unit, fraction, with_unit=True)
        if at["bought"] is None:
            cells: tuple[str, ...] = (wide, say("cloth.too_narrow", manner=manner))
        else:
            bought = bought_words(at["bought"], manner.unit)
            cost = cost_words(at["bought"], self._cloth, manner.unit)
            how = say(f"cloth_field.{at['fold']}", manner=manner)
            cells = (wide, bought, how, cost)
        self.told.append(cells)
        for column, words in enumerate(cells):
            label = QLabel(words)
            label.setProperty("role", "faint" if column > 1 else "ink")
            self._grid.addWidget(label, len(self.told), column)
        self.progress.show_share(len(self.told) / 4)

    def drop(self) -> None:
        """Nothing is told of another order."""
        super().drop()
        self.told = []
        while self._grid.count():
            item = self._grid.takeAt(0)
            widget = item.widget() if item else None
            if widget is not None:
                widget.hide()
                widget.deleteLater()


class Given(Asked):
    """How much of an amount the cloth she has will give.

    Attributes:
        answer: what comes of it, to be put where it is always in sight.
    """

    def __init__(self, desk: Desk, work: ClothWork) -> None:
        super().__init__(desk)
        self._work = work
        self.label, self.box, self.button = QLabel(), Choosing(), QPushButton()
        self.label.setWordWrap(True)
        self.label.setBuddy(self.box)
        row = in_row((self.box, 1), (self.button, 0, Qt.AlignmentFlag.AlignTop))
        self.rows.addWidget(self.label)
        self.rows.addLayout(row)
        self.back = link_button()
        self.back.hide()
        self.answer = QWidget()
        in_column(
            self.progress,
            self.said,
            (self.back, 0, Qt.AlignmentFlag.AlignLeft),
            on=self.answer,
            spacing=6,
        )
        self.button.clicked.connect(self.begin)
        self.back.clicked.connect(self._put_back)
        self._on_hand: float | None = None

    def say_again(self) -> None:
        """Labels in her manner."""
        manner = self.desk.manner
        self.button.setText(say("cloth.find", manner=manner))
        self.back.setText(say("cloth.given_back", manner=manner))
        self.box.setAccessibleName(say("cloth.gives_what", manner=manner))
        stop = say("cloth.stop", manner=manner)
        self.progress.say_again(say("cloth.searching", manner=manner), stop)
        self._name()

    def _name(self) -> None:
        known = self._on_hand is not None
        values = {"length": self._on_hand or 0.0}
        words = "cloth.gives_known" if known else "cloth.gives_unknown"
        self.label.setText(say(words, values, self.desk.manner))
        for widget in (self.box, self.button):
            widget.setEnabled(known)

    def show_cloth(self, material: str, cloth: Cloth, look: Look) -> None:
        """The amounts the style has, and how much cloth there is."""
        self.material, self._on_hand = material, cloth.on_hand
        self._name()
        offered = [*offers(look)]
        self.box.fill([self._label(look, names) for names in offered], offered)

    def _label(self, look: Look, names: tuple[str, ...]) -> str:
        manner = self.desk.manner
        amounts = [look.job.draft.amount(name) for name in names]
        labels = [translate(a.label, manner) for a in amounts if a is not None]
        if len(labels) == 1:
            return labels[0]
        return say("cloth.both", {"first": labels[0], "second": labels[1]}, manner)

    def begin(self) -> None:
        """Look for the most the cloth gives."""
        names = self.box.currentData()
        if names:
            self.ask("largest", *names)

    def take(self, news: Mapping[str, Any]) -> None:
        """How much is done, or what was found: one step, its lay the proof."""
        if "said" not in news:
            super().take(news)
            return
        desk, job = self.desk, self.desk.job
        amounts = news.get("amounts", {})
        told = list(news["said"])
        self._end_search()
        if amounts:
            for name, text in amounts.items():
                job = set_amount(job, name, text).job
            changed = job != desk.job
            desk.change(Edited(job, "edit.on_hand", {}))
            self._work.take(news)
            self._work.told.emit()
            words = "cloth.given_changed" if changed else "cloth.given_same"
            told.append(say(words, manner=desk.manner))
            self.back.setVisible(changed)
        tell(self.said, "\n".join(told), "ink" if amounts else "wrong")

    def drop(self) -> None:
        """Of another order nothing is told, and this is not its last step."""
        super().drop()
        self.back.hide()

    def _put_back(self) -> None:
        """The skirt as it was before the cloth was asked."""
        self.desk.history.undo()
        self.button.setFocus(Qt.FocusReason.OtherFocusReason)


def offers(look: Look) -> Iterator[tuple[str, ...]]:
    """The amounts a cloth may give more of: pairs of front and back, then each."""
    stated = look.worked.stated.amounts
    known = [n for n, s in stated.items() if s.applies and s.least < s.most]
    groups = ("flare", "length", "ease")
    found = [n for g in groups for n in known if stated[n].amount.group == g]
    for name in found:
        other = "back_" + name.removeprefix("front_")
        if name.startswith("front_") and other in found:
            yield name, other
    for name in found:
        yield (name,)
