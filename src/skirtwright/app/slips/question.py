"""A question under a field about what was typed into it, with one key to agree."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QPushButton

from skirtwright.app.desk import Desk
from skirtwright.app.fields import NumberLine, link_button, role_label
from skirtwright.app.layouts import in_column, in_row
from skirtwright.app.shown_figures import length_about
from skirtwright.measures.other_unit import meant_otherwise
from skirtwright.words import say


class Question(QFrame):
    """Whether a number was meant as it was typed.

    Signals:
        answered: the line asked about, and the text to take.
    """

    answered = Signal(object, str)

    def __init__(self, desk: Desk, *lines: NumberLine) -> None:
        super().__init__()
        self._desk, self._line = desk, lines[0]
        self._text: str | None = ""
        self._taken = ""
        self.setProperty("question", True)
        self.words = role_label("strong", wraps=True)
        self.take = QPushButton()
        self.take.setProperty("main", True)
        self.key = role_label("faint")
        self.leave = link_button()
        row = in_row(self.take, self.key, 1, self.leave)
        in_column(self.words, row, on=self, margins=(14, 8, 12, 10))
        self.take.clicked.connect(lambda: self._answer(self._taken))
        self.leave.clicked.connect(lambda: self._answer(self._text))
        for line in lines:
            line.agreed.connect(lambda: self._answer(self._taken))
            line.textEdited.connect(self.hide)
            line.restored.connect(self.hide)
        self.hide()

    def asks_unit(self, line: NumberLine, text: str, least: float, most: float) -> bool:
        """Ask, where what was typed only makes sense in the other unit.

        Args:
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
        # As the question says it; her fractions are coarser than what was typed.
        taken = figure if manner.unit == "cm" else text.strip()
        self._taken, self._text = f"{taken} cm", text
        take = say("field.take", {"figure": figure}, manner)
        leave = say("field.leave_it", manner=manner)
        self._ask(line, say(f"field.other_{other}", values, manner), take, leave)
        return True

    def ask_again(self, line: NumberLine, text: str, words: str) -> None:
        """Ask whether what was typed is so; else the line is as it was."""
        manner = self._desk.manner
        self._taken, self._text = text, None
        yes, no = (say(f"field.{key}", manner=manner) for key in ("is_so", "not_so"))
        self._ask(line, words, yes, no)

    def _ask(self, line: NumberLine, words: str, take: str, leave: str) -> None:
        self._line = line
        self.words.setText(words)
        self.take.setText(take)
        self.key.setText(say("field.take_key", manner=self._desk.manner))
        # Left by Tab the field no longer hears that key.
        self.key.setVisible(line.hasFocus())
        self.leave.setText(leave)
        self.setAccessibleName(words)
        line.ask()
        line.setAccessibleDescription(words)
        self.show()

    @property
    def open_words(self) -> str:
        """What is asked of which field; empty when nothing is."""
        label = self._line.accessibleName()
        return "" if self.isHidden() else f"{label}: {self.words.text()}"

    def take_back(self) -> None:
        """Ask no more; the field is as it was."""
        if not self.isHidden():
            self.hide()
            self._line.restore()

    def _answer(self, text: str | None) -> None:
        """Take a text; None takes back what was typed."""
        if self.isHidden():
            return
        self.hide()
        if text is None:
            self._line.restore()
        else:
            self._line.answer(text)
            self.answered.emit(self._line, text)
        self._line.setFocus(Qt.FocusReason.OtherFocusReason)
        self._line.selectAll()
