"""A seam edge of a piece: its length, its allowances, and the notches placed on it."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QLabel,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from skirtwright.app.fields import sentence_label, tell
from skirtwright.app.piece_desk import EdgeState, NotchState, PieceDesk
from skirtwright.app.slips.allowance_field import AllowanceField, LengthField
from skirtwright.app.slips.slip import clear
from skirtwright.job.job import MOST_SNIPS
from skirtwright.problems import SkirtwrightError
from skirtwright.words import in_one_sentence, say


class NotchRow(LengthField):
    """A notch she placed: how far from the edge's start, and how many snips."""

    def __init__(self, desk: PieceDesk, piece: str, number: int) -> None:
        def take(text: str | None) -> None:
            if text is None:
                self.remove()
            else:
                desk.move_notch(piece, number, text)

        super().__init__(desk, take, "−")
        self._piece, self.number = piece, number
        self.count = QComboBox()
        for snips in range(1, MOST_SNIPS + 1):
            self.count.addItem(str(snips), snips)
        self.count.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.count.activated.connect(self._count)
        self.grid.addWidget(self.count, 0, 1)
        self.label.setProperty("role", "faint")
        self.line.set_back.connect(self.remove)
        self.button.clicked.connect(self.remove)

    def show_state(self, state: NotchState, edge: str, piece: str) -> None:
        """Show the notch as it stands."""
        manner = self._desk.manner
        values = {"edge": edge, "piece": piece}
        self.label.setText(say("pieces.notch", manner=manner))
        self.name_line(say("pieces.notch_at", values, manner))
        words = say("pieces.notch_count", values, manner)
        self.count.setAccessibleName(words)
        self.count.setToolTip(words)
        for index in range(self.count.count()):
            snips = index + 1
            words = say(f"pieces.notch_of_{snips}", manner=manner)
            self.count.setItemText(index, words)
        self.count.setCurrentIndex(state.count - 1)
        off = say("pieces.notch_off", manner=manner)
        self.button.setAccessibleName(off)
        self.button.setToolTip(off)
        self.show_length(state.distance or 0.0, state.typed)

    def remove(self) -> None:
        """Take the notch away."""
        self._desk.remove_notch(self._piece, self.number)

    def _count(self, index: int) -> None:
        try:
            self._desk.count_notch(self._piece, self.number, index + 1)
        except SkirtwrightError as refused:
            tell(self.said, in_one_sentence(refused.problem, self._desk.manner))


class EdgeRow(QWidget):
    """A seam edge.

    Signals:
        grown: it has more rows, or fewer.
    """

    grown = Signal()

    def __init__(self, desk: PieceDesk, piece: str, edge: str) -> None:
        super().__init__()
        self._desk, self.piece, self.edge = desk, piece, edge
        self._length = 0.0
        self.name = QLabel()
        self.name.setWordWrap(True)
        self.add = QToolButton()
        self.add.setProperty("link", True)
        self.add.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.add.clicked.connect(self._add)
        self.said = sentence_label("wrong")
        self.fields: dict[str, AllowanceField] = {}
        self.marks: list[NotchRow] = []
        foot = QHBoxLayout()
        foot.addWidget(self.add)
        foot.addStretch(1)
        self._widths = QVBoxLayout()
        self._notches = QVBoxLayout()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        column.addWidget(self.name)
        for rows in (self._widths, self._notches):
            rows.setSpacing(3)
            column.addLayout(rows)
        column.addLayout(foot)
        column.addWidget(self.said)

    def show_state(self, state: EdgeState, piece: str) -> None:
        """Show the edge as it stands; `piece` is what its piece is called."""
        manner = self._desk.manner
        self._length = state.length
        length = say("pieces.edge_length", {"length": state.length}, manner)
        length = length.replace(" ", "\u00a0")
        self.name.setText(f"{state.title[:1].upper()}{state.title[1:]}  {length}")
        # Where there is one allowance the edge's name stands before it.
        self.name.setVisible(len(state.allowances) != 1)
        self.add.setText(say("pieces.add_notch", manner=manner))
        values = {"edge": state.title, "piece": piece}
        self.add.setAccessibleName(say("pieces.add_notch_on", values, manner))
        keys = [one.key for one in state.allowances]
        numbers = [notch.number for notch in state.notches]
        grown = self._lay_out(keys, numbers)
        for one in state.allowances:
            field = self.fields[one.key]
            field.show_state(one, state.title, piece, state.length)
        for mark, notch in zip(self.marks, state.notches, strict=True):
            mark.show_state(notch, state.title, piece)
        tell(self.said, "")
        if grown:
            self.grown.emit()

    def first_field(self) -> AllowanceField | None:
        """The field that is meant when the edge is."""
        return next(iter(self.fields.values()), None)

    def in_reading_order(self) -> list[QWidget]:
        """What takes the keyboard, as she reads."""
        found: list[QWidget] = []
        for field in self.fields.values():
            found += [field.line, field.button, field.alone]
        for mark in self.marks:
            found += [mark.count, mark.line, mark.button]
        return [*found, self.add]

    def _lay_out(self, keys: list[str], numbers: list[int]) -> bool:
        """Rows for what there is; True when they are others than before."""
        grown = False
        if keys != list(self.fields):
            clear(self._widths)
            self.fields = {k: AllowanceField(self._desk, self.piece, k) for k in keys}
            for field in self.fields.values():
                self._widths.addWidget(field)
            grown = True
        if numbers != [mark.number for mark in self.marks]:
            held = self.window().focusWidget()
            if held is not None and any(m.isAncestorOf(held) for m in self.marks):
                # What took the place of a thing taken away is what made it.
                self.add.setFocus(Qt.FocusReason.OtherFocusReason)
            clear(self._notches)
            self.marks = [NotchRow(self._desk, self.piece, n) for n in numbers]
            for mark in self.marks:
                self._notches.addWidget(mark)
            grown = True
        return grown

    def _add(self) -> None:
        """A notch in the middle, to be moved from there."""
        try:
            self._desk.add_notch(self.piece, self.edge, self._length / 2)
        except SkirtwrightError as refused:
            words = in_one_sentence(refused.problem, self._desk.manner)
            tell(self.said, words, "wrong")
            return
        if self.marks:
            self.marks[-1].line.setFocus(Qt.FocusReason.OtherFocusReason)
