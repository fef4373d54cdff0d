"""A question under a field about what was typed into it, with one key to agree."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton, QVBoxLayout

from skirtwright.app.desk import Desk
from skirtwright.app.fields import NumberLine, length_about, link_button
from skirtwright.measures.other_unit import meant_otherwise
from skirtwright.words import say


class OtherUnit(QFrame):
    """Whether a number was meant in the other unit.

    Args:
        desk: knows her unit.
        line: what was typed into.

    Signals:
        answered: the text to take.
    """

    answered = Signal(str)

    def __init__(self, desk: Desk, line: NumberLine) -> None:
        super().__init__()
        self._desk, self._line = desk, line
        self._text, self._taken = "", ""
        self.setProperty("question", True)
        self.words = QLabel()
        self.words.setProperty("role", "strong")
        self.words.setWordWrap(True)
        self.take = QPushButton()
        self.take.setProperty("main", True)
        self.key = QLabel()
        self.key.setProperty("role", "faint")
        self.leave = link_button()
        row = QHBoxLayout()
        row.addWidget(self.take)
        row.addWidget(self.key)
        row.addStretch(1)
        row.addWidget(self.leave)
        column = QVBoxLayout(self)
        column.setContentsMargins(14, 8, 12, 10)
        column.addWidget(self.words)
        column.addLayout(row)
        self.take.clicked.connect(lambda: self._answer(self._taken))
        self.leave.clicked.connect(lambda: self._answer(self._text))
        line.agreed.connect(lambda: self._answer(self._taken))
        line.textEdited.connect(self.hide)
        line.restored.connect(self.hide)
        self.hide()

    def asks(self, text: str, least: float, most: float) -> bool:
        """Ask, where what was typed only makes sense in the other unit.

        Args:
            text: as typed.
            least: of the ordinary range, mm.
            most: of it, mm.
        """
        manner = self._desk.manner
        meant = meant_otherwise(text, manner.unit, least, most)
        if meant is None:
            return False
        figure = length_about(meant, manner)
        other = "cm" if manner.unit == "in" else "in"
        values = {"text": text.strip(), "figure": f"{figure} {manner.unit}"}
        self._text = text
        # In the unit it was meant in, so that nothing is lost by rounding.
        self._taken = f"{text.strip()} {other}"
        self.words.setText(say(f"field.other_{other}", values, manner))
        self.take.setText(say("field.take", {"figure": figure}, manner))
        self.key.setText(say("field.take_key", manner=manner))
        self.leave.setText(say("field.leave_it", manner=manner))
        self.setAccessibleName(self.words.text())
        self._line.ask()
        self._line.setAccessibleDescription(self.words.text())
        self.show()
        return True

    def _answer(self, text: str) -> None:
        if self.isHidden():
            return
        self.hide()
        self._line.answer(text)
        self.answered.emit(text)
        self._line.setFocus(Qt.FocusReason.OtherFocusReason)
