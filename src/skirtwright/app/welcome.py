"""Five short hints on the drawn example, left at any time."""

from __future__ import annotations

from PySide6.QtCore import QObject, Signal

from skirtwright.app.desk import Desk
from skirtwright.app.line import SentenceLine, Ways
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
        following = "welcome.end" if self.step == STEPS else "welcome.next"
        step, first, last = self.step, self.step == 1, self.step == STEPS
        # All three at every step: no button comes to lie where another was.
        ways: Ways = {
            following: lambda: self.show_step(step + 1),
            "welcome.back": None if first else lambda: self.show_step(step - 1),
            "welcome.leave": None if last else self.end,
        }
        # As tall at every step: the drawing does not move.
        room = [self._words_of(each + 1) for each in range(STEPS)]
        self._line.tell(_CODE, self._words_of(self.step), ways, room)

    def _words_of(self, step: int) -> str:
        """What is said at a step: the first is about the example where that lies."""
        job, manner = self._desk.job, self._desk.manner
        is_example = job.sample and job.draft.id == styles.first()
        name = f"{step}" if step > 1 or is_example else "1_order"
        count = say("welcome.count", {"step": step, "of": STEPS}, manner)
        return f"{count}  {say(f'welcome.{name}', manner=manner)}"

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
