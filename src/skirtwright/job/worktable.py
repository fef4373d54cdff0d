"""An order opened: drafted, cut and reported, each part redone only when it must be."""

from __future__ import annotations

from dataclasses import dataclass, replace

from skirtwright.draft.draft import Draft
from skirtwright.draft.halves.repeating import Halving
from skirtwright.draft.working.recompute import Part, Reworking, Worked
from skirtwright.draft.working.tracing import trace
from skirtwright.job.job import Job
from skirtwright.measures.measurements import SIDES
from skirtwright.pieces.cutting import Cutting
from skirtwright.pieces.piece import Piece
from skirtwright.pieces.settings import Settings
from skirtwright.problems import Problem
from skirtwright.report import Report, report
from skirtwright.words import say


@dataclass(frozen=True)
class Look:
    """An order as it stands, with everything worked out from it.

    Attributes:
        job: the order.
        worked: its draft.
        report: its pieces and what there is to say; of an earlier draft at a glance.
    """

    job: Job
    worked: Worked
    report: Report

    @property
    def pieces(self) -> tuple[Piece, ...]:
        """The cut pieces that could be made."""
        return self.report.cut.pieces

    @property
    def shown(self) -> tuple[Piece, ...]:
        """Those of them that are drawn and put on paper."""
        return self.report.cut.shown

    @property
    def problems(self) -> tuple[Problem, ...]:
        """Everything there is to say, the gravest first."""
        return self.report.problems

    @property
    def drawn(self) -> bool:
        """True when nothing was refused: the drawing is whole."""
        return not (self.worked.stopped or self.report.refusals)

    @property
    def at_a_glance(self) -> bool:
        """True when pieces and findings are still those of an earlier draft."""
        return self.report.worked is not self.worked


class Worktable:
    """Works orders one after another, remembering what need not be done again."""

    def __init__(self) -> None:
        self._halving = Halving()
        self._reworking = Reworking()
        self._cutting = Cutting()
        self._skirt: tuple[object, frozenset[str]] = (None, frozenset())

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
        cut = self._cutting.cut(worked, _settings(job, draft))
        return Look(job, worked, report(worked, cut, full_title(job)))

    def glance(self, before: Look, provisional: dict[str, float]) -> Look:
        """The draft of the skirt itself while amounts of it are being dragged.

        Lining and interfacing, the pieces and what there is to say of them stay as they
        were; a look at the same amounts gives all of it.

        Args:
            before: the whole order as it was last looked at.
            provisional: the amounts: mm, degrees or plain numbers.

        Raises:
            SkirtwrightError: an amount cannot be read.
        """
        draft, inputs = self._halving.of(
            before.job.draft, before.job.inputs(provisional)
        )
        drawn = (draft, before.worked.ran)
        if self._skirt[0] != drawn:
            self._skirt = (drawn, _drawing_the_skirt(before.worked))
        part = Part(self._skirt[1], before.worked.values)
        worked = self._reworking.work(draft, inputs, part)
        # Who drew what is not asked for meanwhile, and is as it was.
        return replace(before, worked=replace(worked, ran=before.worked.ran))


def _drawing_the_skirt(worked: Worked) -> frozenset[str]:
    """The steps that the panels of its main cloth hang on."""
    panels = {
        piece.panel
        for piece in worked.draft.pieces
        if piece.material == "shell" and piece.panel in worked.values
    }
    return frozenset(path for name in panels for path in trace(worked, name).paths)


def _settings(job: Job, draft: Draft) -> Settings:
    """What she set, by piece; where a half is repeated, for its left and right."""
    own = {piece.piece: piece.settings() for piece in job.pieces}
    if draft is job.draft:
        return own
    known = {piece.name for piece in draft.pieces}
    for name in list(own):
        halves = [f"{name}_{side}" for side in SIDES if f"{name}_{side}" in known]
        own.update((half, job.piece(half).settings()) for half in halves)
        if halves:
            del own[name]
    return own


def full_title(job: Job) -> str:
    """What an order is called: its title or its style, for whom."""
    name = job.title or job.draft.title
    whose = f"{name}, {job.card.name}" if job.card.name else name
    return say("title.sample", {"title": whose}) if job.sample else whose
