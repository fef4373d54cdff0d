"""The worst thing to look at, as one sentence on the lower edge; nothing when well."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import QObject
from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent

from skirtwright.app.line import Way
from skirtwright.app.mending import says_what
from skirtwright.app.window_frame import Frame
from skirtwright.job.worktable import Look
from skirtwright.problems import Problem
from skirtwright.words import Manner, in_one_sentence, say, says


class ToLookAt(QObject):
    """What the checks found, on the line; a check that is new is said once."""

    def __init__(self, window: Frame) -> None:
        super().__init__(window)
        self._window = window
        self._said: set[str] = set()
        window.desk.looked.connect(self._looked)
        window.mending.found.connect(self.say_again)

    @property
    def problems(self) -> tuple[Problem, ...]:
        """What is to be looked at, the gravest first; notes are not."""
        desk = self._window.desk
        return tuple(
            p for p in desk.problems if p.severity != "note" or p is desk.waits
        )

    def say_again(self) -> None:
        """In another manner."""
        self._looked(self._window.desk.look)

    def _looked(self, look: Look) -> None:
        if look is not self._window.desk.look:
            # Under a held point the sentence keeps its place and its words.
            return
        manner, problems = self._window.settings.manner, self.problems
        if not problems:
            self._window.line.stand("", [])
        else:
            worst = problems[0]
            self._window.line.stand(says(worst, manner), self._ways(worst, manner))
        self._announce(problems, manner)

    def _ways(self, worst: Problem, manner: Manner) -> list[Way]:
        commands = self._window.acts.by_name
        if worst is self._window.desk.waits:
            return [(say("line.measure", manner=manner), commands["measure"].trigger)]
        found = self._window.mending.of(worst)
        if found:
            take = partial(self._window.mending.take, found[0])
            return [(says_what(found[0], manner), take)]
        return [(say("line.show", manner=manner), commands["check"].trigger)]

    def _announce(self, problems: tuple[Problem, ...], manner: Manner) -> None:
        now = {in_one_sentence(problem, manner) for problem in problems}
        fresh, self._said = now - self._said, now
        if QAccessible.isActive():
            for words in sorted(fresh):
                event = QAccessibleAnnouncementEvent(self._window.line, words)
                QAccessible.updateAccessibility(event)
