"""The foot of a strip that saves a file: what came of it, and the buttons."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QFrame,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from skirtwright.app.fields import sentence_label
from skirtwright.words import Manner, say


class SavingFoot(QFrame):
    """What went wrong or was saved, over open and save."""

    def __init__(self, *above: QWidget) -> None:
        """Put what a strip says or asks before saving above the rest."""
        super().__init__()
        self.setProperty("tape", True)
        self.trouble = sentence_label("wrong")
        self.done = sentence_label("ink")
        self.open_button = QPushButton()
        self.open_button.hide()
        self.save_button = QPushButton()
        self.save_button.setProperty("main", True)
        column = QVBoxLayout(self)
        column.setContentsMargins(24, 12, 24, 16)
        column.setSpacing(6)
        for widget in (*above, self.trouble, self.done):
            column.addWidget(widget)
        column.addWidget(self.open_button, 0, Qt.AlignmentFlag.AlignLeft)
        column.addWidget(self.save_button)

    def say_again(self, manner: Manner) -> None:
        """The words of the buttons that say the same in every strip."""
        self.open_button.setText(say("printing.open", manner=manner))
