"""Five short hints on the drawn example, left at any time."""

from __future__ import annotations

from PySide6.QtCore import QObject, Signal

from skirtwright.app.desk import Desk
from skirtwright.app.line import SentenceLine, Way
from skirtwright.draft import styles
from skirtwright.words import say

STEPS = 5
_CODE = "welcome"


class Welcome(QObject):
    """A sentence at a time on the lower edge; the table is hers all the while.

    Attributes:
        step: the one that is said; none before the first and after the last.

    Signals:
        left: she has seen enough.
    """

    left = Signal()

    def __init__(self, desk: Desk, line: SentenceLine) -> None:
        super().__init__(line)
        self._desk, self._line = desk, line
        self.step = 0
        desk.begun.connect(self._begin_another)

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
        words += say(f"welcome.{self._name()}", manner=manner)
        following = "welcome.end" if self.step == STEPS else "welcome.next"
        step, first, last = self.step, self.step == 1, self.step == STEPS
        # All three at every step: no button comes to lie where another was.
        ways: list[Way] = [
            (say(following, manner=manner), lambda: self.show_step(step + 1)),
            (
                say("welcome.back", manner=manner),
                None if first else lambda: self.show_step(step - 1),
            ),
            (say("welcome.leave", manner=manner), None if last else self.end),
        ]
        self._line.tell(_CODE, words, ways)

    def _name(self) -> str:
        """Of the step's sentence: the first is about the example where that lies."""
        job = self._desk.job
        is_example = job.sample and job.draft.id == styles.first()
        return f"{self.step}" if self.step > 1 or is_example else "1_order"

    def _begin_another(self) -> None:
        """What was told was told of the skirt that is away."""
        if self.step:
            self.end()

    def refresh(self) -> None:
        """Say it again, in another manner."""
        if self._line.code == _CODE:
            self.show_step(self.step)

    def end(self) -> None:
        """Leave the steps."""
        self.step = 0
        self._line.done(_CODE)
        self.left.emit()
