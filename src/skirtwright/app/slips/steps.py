"""The draft in sentences, and on request why a place is where it is."""

from __future__ import annotations

from PySide6.QtCore import (
    QModelIndex,
    QPersistentModelIndex,
    QRect,
    QSize,
    Qt,
    Signal,
)
from PySide6.QtWidgets import (
    QFrame,
    QListWidget,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QWidget,
)

from skirtwright.app.desk import Desk
from skirtwright.app.fields import role_label
from skirtwright.app.guard import guarded
from skirtwright.app.slips.slip import Slip
from skirtwright.job.worktable import Look
from skirtwright.problems import SkirtwrightError
from skirtwright.telling.names_in_words import plain
from skirtwright.telling.sentences import Sentence, steps_told, why
from skirtwright.words import say, translate


class StepsSlip(Slip):
    """Every step as she would say it; worked out only while it is open.

    Signals:
        chosen: a step was taken in hand; its path, and what it says.
    """

    chosen = Signal(str, str)

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._asked = ""
        self._shown_for: Look | None = None
        self.why_heading = role_label("subheading", wraps=True)
        self.why = _list()
        self.all_heading = role_label("subheading", wraps=True)
        self.all = _list()
        self.scrolled.hide()
        for widget in (self.why_heading, self.why, self.all_heading, self.all):
            self.outer.addWidget(widget)
        for heading in (self.why_heading, self.all_heading):
            heading.setContentsMargins(12, 6, 16, 2)
        # The sentences begin where the rows of other slips do.
        self.outer.setContentsMargins(12, 10, 6, 6)
        self.outer.setStretchFactor(self.all, 2)
        self.outer.setStretchFactor(self.why, 1)
        self.all.currentRowChanged.connect(self._choose)
        self._paths: list[str] = []
        self._show_why(False)

    def first_place(self) -> QWidget:
        """The sentences."""
        return self.all

    def ask(self, name: str) -> None:
        """Show the chain behind a place, from the tape down to it."""
        self._asked = name
        self._shown_for = None
        if self.isVisible():
            self.show_order(self.desk.look)

    def refresh(self) -> None:
        """Say everything again, in another manner."""
        manner = self.desk.manner
        self.head(say("steps.title", manner=manner))
        self.all_heading.setText(say("steps.all", manner=manner))
        self.all.setAccessibleName(say("steps.all", manner=manner))
        self._shown_for = None

    def show_order(self, look: Look) -> None:
        """Write its sentences."""
        if self._shown_for is look:
            return
        self._shown_for = look
        said = steps_told(look.worked)
        self._paths = [one.path for one in said]
        row = self.all.currentRow()
        self.all.blockSignals(True)
        self.all.clear()
        self.all.addItems([self._say(one) for one in said])
        if 0 <= row < self.all.count():
            self.all.setCurrentRow(row)
        self.all.blockSignals(False)
        self._fill_why(look)

    def _fill_why(self, look: Look) -> None:
        self.why.clear()
        self._show_why(bool(self._asked))
        if not self._asked:
            return
        manner = self.desk.manner
        amount = look.job.draft.amount(self._asked)
        name = translate(amount.label, manner) if amount else plain(self._asked)
        heading = say("steps.why", {"name": name}, manner)
        self.why_heading.setText(heading)
        self.why.setAccessibleName(heading)
        try:
            chain = why(look.worked, self._asked)
        except SkirtwrightError:
            chain = ()
        self.why.addItems([self._say(said) for said in chain])

    def _show_why(self, on: bool) -> None:
        self.why_heading.setVisible(on)
        self.why.setVisible(on)

    def _say(self, said: Sentence) -> str:
        return say(said.message, said.values, self.desk.manner)

    def _choose(self, row: int) -> None:
        if 0 <= row < len(self._paths):
            self.chosen.emit(self._paths[row], self.all.item(row).text())


_AROUND = 28
"""Of a row's width its rim, padding and spacing take, px."""


class _WholeSentence(QStyledItemDelegate):
    """A row as tall as its sentence: Qt forgets the padding and cuts the last word."""

    @guarded(otherwise=lambda: QSize(120, 24))
    def sizeHint(
        self, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> QSize:
        rows = self.parent()
        if not isinstance(rows, QListWidget):
            return super().sizeHint(option, index)
        room = QRect(0, 0, rows.viewport().width() - _AROUND, 10_000)
        wraps = Qt.TextFlag.TextWordWrap.value
        said = rows.fontMetrics().boundingRect(room, wraps, index.data())
        return QSize(room.width(), said.height() + 8)


def _list() -> QListWidget:
    made = QListWidget()
    made.setWordWrap(True)
    made.setSpacing(3)
    made.setResizeMode(QListWidget.ResizeMode.Adjust)
    made.setItemDelegate(_WholeSentence(made))
    made.setFrameShape(QFrame.Shape.NoFrame)
    made.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    made.setVerticalScrollMode(QListWidget.ScrollMode.ScrollPerPixel)
    made.setContentsMargins(12, 0, 12, 0)
    return made
