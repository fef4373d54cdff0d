"""The foot of a strip that saves a file: what came of it, and the buttons."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QFrame,
    QPushButton,
    QWidget,
)

from skirtwright.app.fields import sentence_label
from skirtwright.app.layouts import in_column
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
        in_column(
            *above,
            self.trouble,
            self.done,
            (self.open_button, 0, Qt.AlignmentFlag.AlignLeft),
            self.save_button,
            on=self,
            spacing=6,
            margins=(24, 12, 24, 16),
        )

    def say_again(self, manner: Manner) -> None:
        """The words of the buttons that say the same in every strip."""
        self.open_button.setText(say("printing.open", manner=manner))
