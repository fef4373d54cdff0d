"""The worst thing to look at, as one sentence on the lower edge; nothing when well."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import QObject

from skirtwright.app.fields import announce
from skirtwright.app.line import Way
from skirtwright.app.mending import says_what
from skirtwright.app.window_frame import Frame
from skirtwright.job.worktable import Look
from skirtwright.problems import Problem
from skirtwright.words import Manner, in_one_sentence, say, says


class FindingNotices(QObject):
    """What the checks found, on the line; a check that is new is said once."""

    def __init__(self, window: Frame) -> None:
        super().__init__(window)
        self._window = window
        self._said: set[str] = set()
        window.desk.looked.connect(self._looked)
        window.mending.found.connect(self.say_again)

    @property
    def problems(self) -> tuple[Problem, ...]:
        """What is to be looked at, the gravest first; notes are not.

        What the lay lacks is not: it comes as a piece is laid down, and the line would
        move the cloth under her hand.
        """
        desk = self._window.desk
        found = desk.skirt_problems
        return tuple(p for p in found if p.severity != "note" or p is desk.waits)

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
            ways = self._ways(worst, manner)
            # More than where it lies is offered: a change.
            cut = self._window.mending.says_cut() if len(ways) > 1 else ""
            self._window.line.stand(f"{says(worst, manner)} {cut}".strip(), ways)
        self._announce(problems, manner)

    def _ways(self, worst: Problem, manner: Manner) -> list[Way]:
        commands = self._window.acts.by_name
        if worst is self._window.desk.waits:
            return [(say("line.measure", manner=manner), commands["measure"].trigger)]
        # Last, at the edge: what is found later never comes where it stood.
        show = (say("line.show", manner=manner), partial(self._show_where, worst))
        mending = self._window.mending
        for least in mending.of(worst)[:1]:
            return [(says_what(least, manner), partial(mending.take, least)), show]
        return [show]

    def _show_where(self, worst: Problem) -> None:
        """It stays among the checks, whether they were open before or not."""
        self._window.acts.by_name["check"].setChecked(True)
        self._window.table.show_problem(worst)

    def _announce(self, problems: tuple[Problem, ...], manner: Manner) -> None:
        now = {in_one_sentence(problem, manner) for problem in problems}
        fresh, self._said = now - self._said, now
        for words in sorted(fresh):
            announce(self._window.line, words)
