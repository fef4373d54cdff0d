"""Five short hints on the drawn example, left at any time."""

from __future__ import annotations

from PySide6.QtCore import QObject, Signal

from skirtwright.app.desk import Desk
from skirtwright.app.line import SentenceLine, Way
from skirtwright.words import say

STEPS = 5
_CODE = "welcome"


class Welcome(QObject):
    """A sentence at a time on the lower edge; the table is hers all the while.

    Signals:
        left: she has seen enough.
    """

    left = Signal()

    def __init__(self, desk: Desk, line: SentenceLine) -> None:
        super().__init__(line)
        self._desk, self._line = desk, line
        self.step = 0

    def begin(self) -> None:
        """From the first step."""
        self.show_step(1)

    def show_step(self, step: int) -> None:
        """Say one step; past the last one it ends."""
        if step > STEPS:
            self.end()
            return
        self.step = max(1, step)
        manner = self._desk.manner
        told = {"step": self.step, "of": STEPS}
        words = f"{say('welcome.count', told, manner)}  "
        words += say(f"welcome.{self.step}", manner=manner)
        following = "welcome.end" if self.step == STEPS else "welcome.next"
        ways: list[Way] = [
            (say(following, manner=manner), lambda: self.show_step(self.step + 1))
        ]
        if self.step > 1:
            back = say("welcome.back", manner=manner)
            ways.append((back, lambda: self.show_step(self.step - 1)))
        if self.step < STEPS:
            ways.append((say("welcome.leave", manner=manner), self.end))
        self._line.tell(_CODE, words, ways)

    def refresh(self) -> None:
        """Say it again, in another manner."""
        if self._line.code == _CODE:
            self.show_step(self.step)

    def end(self) -> None:
        """Leave the steps."""
        self._line.done(_CODE)
        self.left.emit()
