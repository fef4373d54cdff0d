"""Checks of a cut draft against thresholds kept as data (resources/checks.json).

Each measures for itself along the outline as it is exported; what they are about
stands in the files beside this one. A piece that stays the same is not looked at
again.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from skirtwright.checks.checked_skirt import FoundByPiece, Skirt
from skirtwright.checks.cut_cloth import (
    WIDER,
    cut_checks,
    halves_of_skirt,
    pairs_of_skirt,
)
from skirtwright.checks.fit import fit_checks
from skirtwright.checks.fullness import fullness_checks
from skirtwright.checks.hem_line import hem_depth_of_skirt, hem_even
from skirtwright.checks.measured_outline import Paper
from skirtwright.checks.piece_names import pieces_called_alike
from skirtwright.checks.room_to_walk import walking_checks, with_levels
from skirtwright.checks.scissors import bends_of_skirt, outline_checks
from skirtwright.checks.sewn_together import (
    notch_proof,
    off_grain_of_skirt,
    seam_checks,
    swing_of_skirt,
)
from skirtwright.checks.unlike_allowances import unlike_allowances
from skirtwright.checks.unsewn import unsewn
from skirtwright.checks.waist_to_hip import band_of_skirt, waist_checks, waist_of_skirt
from skirtwright.checks.wear import wear_checks
from skirtwright.draft.working.recompute import Worked
from skirtwright.measures.measurements import unlikely
from skirtwright.pieces.cutting import Cut
from skirtwright.problems import Problem
from skirtwright.remembered import Remembered


@dataclass(frozen=True, eq=False)
class Checked:
    """A skirt and what the checks find, each worked when it is first asked for.

    A hand that pulls does not wait for what nothing in sight shows.

    Attributes:
        measured: the skirt before its room to walk was looked at.
    """

    measured: Skirt

    @cached_property
    def skirt(self) -> Skirt:
        """With the levels at which room to walk is looked at, and its step."""
        return with_levels(self.measured)

    @cached_property
    def problems(self) -> tuple[Problem, ...]:
        """What the checks find."""
        return tuple(_checks(self.skirt))


class Checking:
    """Measures skirts one after another; a piece that stays the same is kept."""

    def __init__(self) -> None:
        self._papers = Remembered(Paper)
        self._found: FoundByPiece = Remembered(_found)

    def of(
        self, worked: Worked, cut: Cut, finished: Mapping[str, float | None]
    ) -> Checked:
        """A worked and cut draft, of which nothing was asked yet."""
        self._papers.next_round()
        self._found.next_round()
        papers = {p.name: self._papers.of(p.name, p) for p in cut.pieces}
        return Checked(Skirt(worked, cut, finished, papers, self._found))


def _checks(skirt: Skirt) -> Iterator[Problem]:
    """Of equally grave findings those about her come before the paper's."""
    raised = skirt.stated("waist_raised") or 0.0
    of_pieces = [
        problem
        for paper in skirt.papers.values()
        for problem in skirt.remembered(
            paper.name, _piece_checks, paper, skirt.depth_of(paper), raised
        )
        if not (problem.code == WIDER and paper.name in skirt.cut.apart)
    ]
    yield from unlikely(skirt.worked.inputs.measurements)
    yield from fit_checks(skirt)
    yield from walking_checks(skirt)
    yield from wear_checks(skirt)
    yield from _merged_sides(of_pieces, gives=bool(skirt.stated("stretch")))
    yield from bends_of_skirt(skirt)
    yield from unsewn(skirt)
    yield from unlike_allowances(skirt)
    yield from pieces_called_alike(skirt)
    yield from seam_checks(skirt)
    yield from notch_proof(skirt)
    yield from waist_of_skirt(skirt)
    yield from band_of_skirt(skirt)
    yield from off_grain_of_skirt(skirt)
    yield from swing_of_skirt(skirt)
    yield from hem_depth_of_skirt(skirt)
    yield from hem_even(skirt)
    yield from fullness_checks(skirt)
    yield from halves_of_skirt(skirt)
    yield from pairs_of_skirt(skirt)


_OF_THE_SKIRT = ("check.intake_at_side", "check.side_lean", "check.hip_level")
"""What all side seams have alike, so that the gravest speaks for them."""


def _merged_sides(found: list[Problem], *, gives: bool) -> list[Problem]:
    """The gravest of what all sides have alike; cloth that gives takes more there."""
    said: dict[str, Problem] = {}
    kept = []
    for problem in found:
        if problem.code not in _OF_THE_SKIRT:
            kept.append(problem)
        elif gives and problem.severity == "note":
            continue
        elif problem.code not in said or _is_graver(problem, said[problem.code]):
            said[problem.code] = problem
    return [*kept, *said.values()]


def _is_graver(problem: Problem, other: Problem) -> bool:
    order = ("wrong", "caution", "note")
    return order.index(problem.severity) < order.index(other.severity)


def _found(check: Callable[..., Iterator[Problem]], *leans: Any) -> tuple[Problem, ...]:
    return tuple(check(*leans))


def _piece_checks(
    paper: Paper, depth: float | None, raised: float
) -> Iterator[Problem]:
    yield from outline_checks(paper)
    yield from cut_checks(paper)
    if paper.is_shell:
        # A lining's tucks are no darts, and what holds of the shell was said of it.
        yield from waist_checks(paper, depth, raised)
