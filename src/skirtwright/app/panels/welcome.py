"""Five short steps on the drawn example, left at any time."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton, QWidget

from skirtwright.app.desk import Desk
from skirtwright.words import say

STEPS = 5


class Welcome(QFrame):
    """A sentence at a time; the table below is hers all the while.

    Signals:
        left: she has seen enough.
    """

    left = Signal()

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self.setProperty("notice", True)
        self.step = 1
        self.words = QLabel()
        self.words.setWordWrap(True)
        self.words.setTextFormat(Qt.TextFormat.PlainText)
        self.back = QPushButton()
        self.next = QPushButton()
        self.leave = QPushButton()
        self.back.clicked.connect(lambda: self.show_step(self.step - 1))
        self.next.clicked.connect(lambda: self.show_step(self.step + 1))
        self.leave.clicked.connect(self.end)
        row = QHBoxLayout(self)
        row.setContentsMargins(16, 10, 12, 10)
        row.setSpacing(8)
        row.addWidget(self.words, 1)
        for button in (self.back, self.next, self.leave):
            row.addWidget(button, 0, Qt.AlignmentFlag.AlignTop)
        self.hide()

    def begin(self) -> None:
        """From the first step."""
        self.show_step(1)
        self.show()

    def show_step(self, step: int) -> None:
        """Say one step; past the last one it ends."""
        if step > STEPS:
            self.end()
            return
        self.step = max(1, step)
        manner = self._desk.manner
        told = {"step": self.step, "of": STEPS}
        count = say("welcome.count", told, manner)
        words = f"{count}  {say(f'welcome.{self.step}', manner=manner)}"
        self.words.setText(words)
        self.setAccessibleName(words)
        self.back.setText(say("welcome.back", manner=manner))
        self.back.setVisible(self.step > 1)
        last = self.step == STEPS
        self.next.setText(say("welcome.end" if last else "welcome.next", manner=manner))
        self.leave.setText(say("welcome.leave", manner=manner))
        self.leave.setVisible(not last)

    def refresh(self) -> None:
        """Say it again, in another manner."""
        if not self.isHidden():
            self.show_step(self.step)

    def end(self) -> None:
        """Leave the steps."""
        self.hide()
        self.left.emit()
