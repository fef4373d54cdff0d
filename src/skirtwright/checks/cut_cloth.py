"""Checks of a piece as it is cut: its allowances, the cloth's width, folds and pairs.

The cutting line is looked at as it is exported, from the places of the stitching line
outwards; nothing is asked of what drew it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from skirtwright.checks.checked_skirt import Skirt, of_edge
from skirtwright.checks.edge_walk import DrawnEdge, Place
from skirtwright.checks.limits import finding, limits
from skirtwright.checks.measured_outline import Paper
from skirtwright.checks.scissors import crosses, near_sides
from skirtwright.draft.draft import all_steps
from skirtwright.draft.kinds.panels_from_panels import Unfold
from skirtwright.problems import Problem

_TWICE: Final = 200.0
"""A run of allowance longer than this, mm, is looked at in two places."""

WIDER: Final = "check.cloth_width"
"""That a piece is wider than cloth is sold; it does not hold of one cut apart."""

_EVERY: Final = 4
"""Of the places of a smooth line, drawn within 0.02 mm, every so many are enough."""

_NO_CORNER: Final = math.cos(math.radians(12))
"""A line that turns less than this over twice its allowance has no corner there."""

_STRETCH: Final = 16
"""So many sides of the cutting line are looked at together."""

_FURTHER: Final = 20.0
"""How far beyond twice its width an allowance is looked for, mm."""

_CLEAR_OF_ENDS: Final = 1.2
"""How far from a run's ends an allowance is measured, in widths of the widest."""


def cut_checks(paper: Paper) -> Iterator[Problem]:
    """What there is to say of a piece's cutting line and of its place on the cloth."""
    yield from _cutting_line(paper)
    yield from _width(paper)


def halves_of_skirt(skirt: Skirt) -> Iterator[Problem]:
    """Pieces whose sides come out alike though left and right of her differ."""
    values = skirt.worked.values
    differ = any(
        values.get(f"{name}_left") != values.get(f"{name}_right")
        for name in skirt.worked.stated.measurements
    )
    # Panels opened out from both halves, each unlike the other.
    opened = {
        step.step
        for step in all_steps(skirt.worked.draft.steps)
        if isinstance(step, Unfold) and step.other is not None
    }
    for paper in skirt.papers.values() if differ else ():
        said = {"piece": paper.title}
        folds = paper.piece.spec.folds
        if folds:
            where = f"{paper.name}.{folds[0]}"
            yield Problem("check.fold_differs", "wrong", where, said)
        elif paper.piece.spec.panel in opened:
            continue
        elif paper.is_shell and paper.hip is not None and paper.stem == paper.name:
            yield Problem("check.sides_alike", "caution", paper.name, said)


def pairs_of_skirt(skirt: Skirt) -> Iterator[Problem]:
    """Pieces sewn to their own mirror image, of which no whole pairs are cut."""
    joined = {
        side[0].piece
        for walked in skirt.cut.seams
        for side in walked.seam.sides[:1]
        if walked.seam.sides[0] == walked.seam.sides[1]
    }
    for name in sorted(joined & skirt.papers.keys()):
        spec = skirt.papers[name].piece.spec
        if spec.count % 2 and not spec.folds:
            values = {"piece": spec.title, "count": spec.count}
            yield Problem("check.pair_odd", "wrong", name, values)


# Allowances


def _cutting_line(paper: Paper) -> Iterator[Problem]:
    ring = [(p.x, p.y) for p in paper.piece.cut]
    thin = _thinned(ring)
    if crosses(thin, list(near_sides(thin, 0.0))):
        said = {"piece": paper.title}
        yield Problem("check.allowance_crosses", "wrong", paper.name, said)
        return
    line = _in_stretches(ring)
    short = {p.where for p in paper.piece.problems}
    for edge in paper.piece.edges:
        where = f"{paper.name}.{edge.name}"
        if edge.name in paper.piece.spec.folds or where in short:
            # What an edge lacks at a hollow has been said where it was cut.
            continue
        offs = _offs(paper, paper.edges[edge.name], edge.allowances, line)
        off, width, found = max(offs, default=(0.0, 0.0, 0.0))
        values = of_edge(paper, edge.name, width=width, found=found)
        yield from finding("allowance_off", off, where, values)


def _thinned(ring: Sequence[Place]) -> Sequence[Place]:
    """The corners of a ring, and of its curves as much as keeps within 0.5 mm."""
    kept = []
    (a, b), (c, d) = ring[-2], ring[-1]
    for number, (e, f) in enumerate(ring):
        x, y, u, v = c - a, d - b, e - c, f - d
        # The place before this one turns by more than about 3 degrees, or is due.
        if number % _EVERY == 0 or abs(x * v - y * u) > 0.05 * abs(x * u + y * v):
            kept.append((c, d))
        a, b, c, d = c, d, e, f
    return kept


def _offs(
    paper: Paper,
    edge: DrawnEdge,
    runs: Sequence[tuple[float, float]],
    line: Sequence[_Stretch],
) -> Iterator[tuple[float, float, float]]:
    """How far off, width and width found at places of an edge, corners left out."""
    side = 1.0 if paper.panel.edge(edge.name).forward else -1.0
    # From one width to the next the line runs on a slant.
    widest = max((width for width, _ in runs), default=0.0)
    for begun, length, width in _stretches(edge, runs):
        for share in (0.25, 0.75) if length > _TWICE else (0.5,):
            if min(share, 1 - share) * length < _CLEAR_OF_ENDS * widest:
                continue
            at, near = begun + share * length, _CLEAR_OF_ENDS * width
            if _turns(edge, at - near, at + near):
                continue
            place, way = edge.place_and_way(at)
            out = (way[1] * side, -way[0] * side)
            found = _outwards(line, place, out, 2 * width + _FURTHER)
            yield abs(found - width), width, found


def _turns(edge: DrawnEdge, first: float, last: float) -> bool:
    """Whether an edge turns a corner between two walked distances."""
    (x, y), (u, v) = (edge.place_and_way(at)[1] for at in (first, last))
    return x * u + y * v < _NO_CORNER


def _stretches(
    edge: DrawnEdge, runs: Sequence[tuple[float, float]]
) -> Iterator[tuple[float, float, float]]:
    """Where each stretch of one width begins, its length and width: darts part them."""
    taken_up = edge.taken_up
    begun = 0.0
    for width, length in runs:
        stops = [begun, *(t for t in taken_up if begun < t < begun + length)]
        stops.append(begun + length)
        for low, high in pairwise(stops):
            yield low, high - low, width
        begun += length


@dataclass(frozen=True)
class _Stretch:
    """A part of the cutting line within its box, for looking where it may be met."""

    left: float
    right: float
    low: float
    high: float
    points: Sequence[Place]


def _in_stretches(ring: Sequence[Place]) -> list[_Stretch]:
    closed = [*ring, ring[0]]
    found = []
    for begin in range(0, len(ring), _STRETCH):
        points = closed[begin : begin + _STRETCH + 1]
        xs, ys = [p[0] for p in points], [p[1] for p in points]
        found.append(_Stretch(min(xs), max(xs), min(ys), max(ys), points))
    return found


def _outwards(line: Sequence[_Stretch], place: Place, out: Place, far: float) -> float:
    """How far from a place the cutting line is met, mm, at most `far`.

    `out` is a unit step. What runs a hair inside the place is met at once.
    """
    (x, y), (u, v) = place, out
    hair: float = limits()["allowance_off"]["over"]["wrong"]
    left, right = sorted((x - u * hair, x + u * far))
    low, high = sorted((y - v * hair, y + v * far))
    best = far
    for part in line:
        if part.left > right or part.right < left or part.low > high or part.high < low:
            continue
        (a, b), before = part.points[0], None
        for c, d in part.points:
            here = u * (d - y) - v * (c - x)
            if before is not None and (before < 0) != (here < 0):
                share = before / (before - here)
                ahead = (a + (c - a) * share - x) * u + (b + (d - b) * share - y) * v
                if -hair <= ahead < best:
                    best = ahead
            a, b, before = c, d, here
    return max(best, 0.0)


# The cloth


def _width(paper: Paper) -> Iterator[Problem]:
    """A piece wider across its grain than the widest cloth there commonly is."""
    cloth = limits()["cloth_width"]
    widest = cloth["widest"].get(paper.piece.spec.material)
    if widest is None:
        return
    usable = widest - cloth["selvedges"]
    wide = _across(paper)
    if wide > usable:
        values = {"piece": paper.title, "wide": wide, "cloth": widest}
        yield Problem(WIDER, "caution", paper.name, values)


def _across(paper: Paper) -> float:
    """How wide a piece lies across its grain, opened out along its fold, mm."""
    grain = math.radians(paper.piece.grain_deg)
    x, y = math.sin(grain), -math.cos(grain)
    along = [p.x * x + p.y * y for p in paper.piece.cut]
    for fold in paper.piece.spec.folds[:1]:
        # On paper it is half: over its fold lies as much again.
        line = paper.edges[fold]
        (a, b), (c, d) = line.points[0], line.points[-1]
        size = math.hypot(c - a, d - b) or 1.0
        normal = ((d - b) / size, -(c - a) / size)
        far = [(p.x - a) * normal[0] + (p.y - b) * normal[1] for p in paper.piece.cut]
        step = 2 * (normal[0] * x + normal[1] * y)
        along += [place - off * step for place, off in zip(along, far, strict=True)]
    return max(along) - min(along)
