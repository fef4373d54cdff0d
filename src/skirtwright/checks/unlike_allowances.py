"""A check that both edges of a seam have one allowance, as they are pinned flush."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from skirtwright.checks.checked_skirt import Skirt
from skirtwright.checks.limits import severity_of
from skirtwright.draft.runs import Side
from skirtwright.geometry.tolerance import SAME
from skirtwright.pieces.piece_settings import allowance_runs
from skirtwright.problems import Problem

_SEEN = 0.5
"""mm by which two allowances differ before it is seen at the pins, from memory."""


@dataclass(frozen=True)
class Stretch:
    """One allowance along a side of a seam.

    Attributes:
        ends: where it ends, walked along the side, mm.
        width: mm.
    """

    ends: float
    width: float
    piece: str
    edge: str


def unlike_allowances(skirt: Skirt) -> Iterator[Problem]:
    """Seams of which one edge has more than the other, where she asked for it."""
    titles = {seam.name: seam.title for seam in skirt.worked.seams}
    for walked in skirt.cut.seams:
        first, second = (list(_stretches(skirt, s)) for s in walked.seam.sides)
        for one, other in _stretches_side_by_side(first, second):
            unlike = abs(one.width - other.width) > _SEEN
            if unlike and any(_has_own_allowance(skirt, each) for each in (one, other)):
                values = {
                    "seam": titles.get(walked.seam.name) or walked.seam.name,
                    "piece": skirt.papers[one.piece].title,
                    "first": one.width,
                    "other": skirt.papers[other.piece].title,
                    "second": other.width,
                }
                where = f"{one.piece}.{one.edge}"
                code = "check.unlike_allowances"
                yield Problem(code, severity_of("caution"), where, values)
                break


def _stretches(skirt: Skirt, side: Side) -> Iterator[Stretch]:
    """The allowances along a side of a seam, in the order they are sewn."""
    walked = 0.0
    for run in side:
        paper = skirt.papers.get(run.piece)
        edges = paper.piece.edges if paper else ()
        edge = next((e for e in edges if e.name == run.edge), None)
        if edge is None:
            continue
        backwards = run.own_distance(0.0, edge.length) > edge.length / 2
        for width, length in edge.allowances[:: -1 if backwards else 1]:
            walked += length
            yield Stretch(walked, width, run.piece, run.edge)


def _has_own_allowance(skirt: Skirt, stretch: Stretch) -> bool:
    """Whether an edge has another allowance than its style gives it."""
    piece = skirt.papers[stretch.piece].piece
    edge = next(e for e in piece.edges if e.name == stretch.edge)
    data = skirt.cut.asked.get(stretch.piece)
    if data is None:
        return True
    style = allowance_runs(skirt.worked, data, stretch.edge, {})
    known = {round(run.width, 3) for _, run in style} or {0.0}
    return any(round(width, 3) not in known for width, _ in edge.allowances)


def _stretches_side_by_side(
    first: list[Stretch], second: list[Stretch]
) -> Iterator[tuple[Stretch, Stretch]]:
    """What lies beside what along a seam."""
    rest, other = iter(first), iter(second)
    one, two = next(rest, None), next(other, None)
    while one is not None and two is not None:
        yield one, two
        ends = min(one.ends, two.ends)
        if one.ends <= ends + SAME:
            one = next(rest, None)
        if two.ends <= ends + SAME:
            two = next(other, None)
