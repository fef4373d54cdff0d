"""An order opened: drafted, cut and reported, each part redone only when it must be."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import suppress
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from skirtwright.budget import allow_altered, bounded
from skirtwright.checks.all_checks import Checking
from skirtwright.checks.wear import of_age
from skirtwright.draft.alterations import Alteration
from skirtwright.draft.draft import Draft
from skirtwright.draft.halves.halving import Halving, as_one
from skirtwright.draft.inputs import Inputs, Stated
from skirtwright.draft.step import Reads
from skirtwright.draft.working.recompute import Reworking, Worked
from skirtwright.job import fitting_edits
from skirtwright.job.cloths import shrinks_after, unused_cloths
from skirtwright.job.job import Job
from skirtwright.lay.all_cloths import lay_all, materials
from skirtwright.lay.lay import TRIES
from skirtwright.measures.units import Unit
from skirtwright.pieces.cutting import Cutting
from skirtwright.pieces.piece import Piece
from skirtwright.pieces.piece_settings import Settings
from skirtwright.problems import Problem, Refused, SkirtwrightError
from skirtwright.remembered import Remembered
from skirtwright.report import Report, report
from skirtwright.resting import collector_resting
from skirtwright.words import say

if TYPE_CHECKING:
    from skirtwright.draft.altering import Altered, LeftOut


@dataclass(frozen=True)
class Look:
    """An order as it stands, with everything worked out from it.

    Attributes:
        report: its pieces and what there is to say.
        left_out: alterations that the style has no place for, each with why.
    """

    job: Job
    worked: Worked
    report: Report
    left_out: tuple[LeftOut, ...] = ()

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

    def unrefused(self) -> Look:
        """The same, where its pieces could be made.

        Raises:
            SkirtwrightError: what was refused first.
        """
        for refused in self.report.refusals:
            raise SkirtwrightError.of(refused)
        return self


def laid(
    look: Look, tries: int = TRIES, better: Callable[[float], None] | None = None
) -> Look:
    """The same look with its pieces laid on the cloths of the order.

    Args:
        tries: lays to try on each cloth.
        better: told what share of the work is done.

    Raises:
        BadInput: what she set for one is no cloth.
    """
    cut, job = look.report.to_cut, look.job
    cloths = [job.cloth(material) for material in materials(cut)]
    lays = lay_all(cut, cloths, tries, better, job.hand_lays)
    return replace(look, report=look.report.with_lays(lays))


class Worktable:
    """Works orders one after another, remembering what need not be done again."""

    def __init__(self) -> None:
        self._altering = Remembered(_altered)
        self._fold_conditions = Remembered(_fold_conditions)
        self._asking = Reworking()
        self._halving = Halving()
        self._reworking = Reworking()
        self._cutting = Cutting()
        self._checking = Checking()

    def stated(self, job: Job) -> Stated:
        """What the order is to be worked from, before anything of it is.

        Raises:
            SkirtwrightError: a measurement, amount or choice cannot be read.
        """
        return self._reworking.state(*self._to_work(job, job.inputs())[:2])

    def _to_work(
        self, job: Job, given: Inputs
    ) -> tuple[Draft, Inputs, tuple[LeftOut, ...]]:
        """The order's draft as altered, for both halves where they differ."""
        drawn = tuple(one for one in job.fitting if one.is_drawn)
        if not drawn:
            return *self._halving.of(job.draft, given, {}), ()
        folds = frozenset(self._folds(job.draft, given, drawn))
        found = self._altering.of("", job.draft, drawn, job.unit, folds)
        return *self._halving.of(found.draft, given, found.sides), found.left_out

    def _folds(
        self, draft: Draft, given: Inputs, drawn: tuple[Alteration, ...]
    ) -> Iterator[str]:
        """The conditions that hold under which an altered seam is on the fold.

        One that cannot be told stops the draft where it holds.
        """
        for when in self._fold_conditions.of("", draft, drawn):
            with suppress(SkirtwrightError):
                if self._asking.read(draft, as_one(given), when, Reads.WHETHER):
                    yield when

    def look(self, job: Job, provisional: dict[str, float] | None = None) -> Look:
        """The order drafted, cut and reported.

        Args:
            provisional: amounts being dragged: mm, degrees or plain numbers.

        Raises:
            SkirtwrightError: a measurement, amount or choice cannot be read, or the
                order asks for more work than any skirt needs.
        """
        drawn = sum(one.is_drawn for one in job.fitting)
        try:
            with bounded(), collector_resting():
                allow_altered(drawn)
                return self._look(job, provisional)
        except Refused as refused:
            if drawn and refused.problem.code == "budget.too_much":
                raise Refused("fitting.too_much", count=drawn) from refused
            raise

    def _look(self, job: Job, provisional: dict[str, float] | None) -> Look:
        given = job.inputs(provisional)
        draft, inputs, left_out = self._to_work(job, given)
        worked = self._reworking.work(draft, inputs)
        cut = self._cutting.cut(worked, _settings(job, draft))
        taken = given.measurements
        title, (shrinks, untold) = full_title(job), shrinks_after(job.cloths, job.unit)
        found = report(worked, cut, title, self._checking, taken, shrinks)
        if job.fitting:
            told = fitting_edits.told(job, besides=left_out)
            found = replace(found, altered=told)
        said = [
            *untold,
            *_unused_choices(job, worked),
            *unused_cloths(job.cloths, job.draft.pieces, materials(found.to_cut)),
            *of_age(found.checked.measured, job.card.age),
            *fitting_edits.left_out_words(job, left_out),
        ]
        look = Look(job, worked, found.with_problems(said), left_out)
        if provisional is None:
            # Within the bounds of a look; a thread may ask for it later.
            _ = look.problems
        return look


def _altered(
    draft: Draft,
    alterations: tuple[Alteration, ...],
    unit: Unit,
    folds: frozenset[str],
) -> Altered:
    from skirtwright.draft.altering import altered

    return altered(draft, alterations, unit, folds)


def _fold_conditions(draft: Draft, drawn: tuple[Alteration, ...]) -> tuple[str, ...]:
    from skirtwright.draft.altering import fold_conditions

    return fold_conditions(draft, drawn)


def _unused_choices(job: Job, worked: Worked) -> Iterator[Problem]:
    """Details she chose that have no meaning with the others: said, and kept."""
    for choice in job.draft.choices:
        if choice.name in job.choices and not worked.applies(choice):
            told = {"label": choice.label}
            yield Problem("draft.choice_not_used", "note", choice.name, told)


def _settings(job: Job, draft: Draft) -> Settings:
    """What she set, by piece; where a half is repeated, for its left and right."""
    own = {piece.piece: piece.settings() for piece in job.pieces}
    if draft is job.draft:
        return own
    drafted = {piece.name for piece in job.draft.pieces}
    halves = [p for p in draft.pieces if p.half and p.name not in drafted]
    own |= {half.name: job.piece(half.name).settings() for half in halves}
    for half in halves:
        own.pop(half.whole or "", None)
    return own


def full_title(job: Job) -> str:
    """What an order is called: its title or its style, for whom."""
    name = job.title or job.draft.title
    title = f"{name}, {job.card.name}" if job.card.name else name
    return say("title.sample", {"title": title}) if job.sample else title
