"""That something is being worked, how much of it is done, and a way to stop it."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QProgressBar, QPushButton, QWidget

from skirtwright.app.layouts import in_row


class Progress(QWidget):
    """A bar and a button; neither is there while nothing is worked."""

    def __init__(self, stop: Callable[[], None]) -> None:
        super().__init__()
        self.bar, self.button = QProgressBar(), QPushButton()
        self.bar.setRange(0, 100)
        self.bar.setTextVisible(False)
        in_row((self.bar, 1), (self.button, 0, Qt.AlignmentFlag.AlignLeft), on=self)
        self.button.clicked.connect(stop)
        self.hide()

    def say_again(self, name: str, stop: str) -> None:
        """What is worked, and the word on the button."""
        self.bar.setAccessibleName(name)
        self.button.setText(stop)

    def show_share(self, share: float | None) -> None:
        """So much is done; nothing is shown when all is, and no bar for None."""
        self.bar.setVisible(share is not None)
        if share is not None:
            self.bar.setValue(round(100 * share))
        self.setVisible(share is None or share < 1)
