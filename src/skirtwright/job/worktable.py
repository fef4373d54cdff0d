"""An order opened: drafted, cut and reported, each part redone only when it must be."""

from __future__ import annotations

from dataclasses import dataclass

from skirtwright.draft.halves import Halving
from skirtwright.draft.recompute import Reworking, Worked
from skirtwright.job.job import Job
from skirtwright.pieces.cutting import Cutting
from skirtwright.pieces.piece import Piece
from skirtwright.problems import Problem
from skirtwright.report import Report, report
from skirtwright.words import say


@dataclass(frozen=True)
class Look:
    """An order as it stands, with everything worked out from it."""

    job: Job
    worked: Worked
    report: Report

    @property
    def pieces(self) -> tuple[Piece, ...]:
        """The cut pieces that could be made."""
        return self.report.cut.pieces

    @property
    def problems(self) -> tuple[Problem, ...]:
        """Everything there is to say, the gravest first."""
        return self.report.problems

    @property
    def drawn(self) -> bool:
        """True when nothing was refused: the drawing is whole."""
        return not self.report.refusals


class Worktable:
    """Works orders one after another, remembering what need not be done again."""

    def __init__(self) -> None:
        self._halving = Halving()
        self._reworking = Reworking()
        self._cutting = Cutting()

    def look(self, job: Job, provisional: dict[str, float] | None = None) -> Look:
        """The order drafted, cut and reported.

        Args:
            job: the order.
            provisional: amounts being dragged: mm, degrees or plain numbers.

        Raises:
            SkirtwrightError: a measurement, amount or choice cannot be read.
        """
        draft, inputs = self._halving.of(job.draft, job.inputs(provisional))
        worked = self._reworking.work(draft, inputs)
        own = {(s.piece, s.edge): s.allowance for s in job.pieces}
        cut = self._cutting.cut(worked, own)
        return Look(job, worked, report(worked, cut, full_title(job)))


def full_title(job: Job) -> str:
    """What an order is called: its title or its style, for whom."""
    name = job.title or job.draft.title
    whose = f"{name}, {job.card.name}" if job.card.name else name
    return say("title.sample", {"title": whose}) if job.sample else whose
