"""The cutting line: an allowance for each edge, or part of one, and its corners.

First each smooth run of seam is offset along its true normals and joined to the next
by the rules of `corners`. Where that line crosses itself (an allowance wider than a
hollow's radius, two sides of a narrow slot) the same strips and corners are laid
together as areas and the outer line of them all is taken.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from skirtwright.draft.shapes.panel import Edge, Panel
from skirtwright.geometry import Chain, Point
from skirtwright.geometry.ring import (
    area_of_points,
    crossing,
    without_repeats,
    without_straights,
)
from skirtwright.geometry.tolerance import FLAT, OUTLINE, SAME
from skirtwright.pieces.outline.allowance_strip import Strip, strips_of
from skirtwright.pieces.outline.corners import MITRE, Joint, joint
from skirtwright.pieces.outline.crossings import place_on
from skirtwright.pieces.outline.hollows import Hollow
from skirtwright.pieces.spec import AllowanceRun, Corner, End
from skirtwright.problems import BadInput

_LOOK: Final = 10.0


@dataclass(frozen=True)
class CuttingLine:
    """Where a piece is cut.

    Attributes:
        ring: anticlockwise, first point not repeated, within 0.02 mm of the true line.
        short: for each edge that could not have its whole allowance, how much is
            missing at the worst place, mm.
        hollows: for each edge with a hollow too tight for its allowance, the
            tightest and what is left there.
    """

    ring: tuple[Point, ...]
    short: Mapping[str, float]
    hollows: Mapping[str, Hollow]


def cutting_line(
    panel: Panel,
    allowances: Mapping[str, tuple[AllowanceRun, ...]],
    folds: Collection[str] = (),
    corners: Mapping[tuple[str, End], Corner] | None = None,
) -> CuttingLine:
    """The cutting line of a panel.

    Raises:
        BadInput: an allowance is negative or not a number.
    """
    strips = [
        strip
        for edge in panel.edges
        for strip in _strips_of_edge(edge, allowances, folds)
    ]
    joints = _joints(panel, strips, corners or {})
    hollows = _hollows(strips)
    if not any(strip.folds_back for strip in strips):
        ring = _joined(strips, joints)
        if ring and area_of_points(ring) > 0 and crossing(ring) is None:
            return CuttingLine(tuple(ring), {}, hollows)
    from skirtwright.geometry.area import union_ring

    ring = without_straights(union_ring(_areas(strips, joints)))
    return CuttingLine(tuple(ring), _short(strips, ring), hollows)


def _hollows(strips: Sequence[Strip]) -> dict[str, Hollow]:
    found: dict[str, Hollow] = {}
    for strip in strips:
        kept = found.get(strip.edge)
        if strip.hollow and (kept is None or strip.hollow.width < kept.width):
            found[strip.edge] = strip.hollow
    return found


def runs_of(
    chain: Chain, runs: Sequence[AllowanceRun], edge: str = ""
) -> list[tuple[Chain, float]]:
    """An edge's chain cut at the ends of its allowance runs, with their widths.

    Raises:
        BadInput: an allowance is negative or not a number.
    """
    found: list[tuple[Chain, float]] = []
    rest: Chain | None = chain
    walked = 0.0
    for run in runs:
        if not 0 <= run.width < float("inf"):
            raise BadInput("pieces.bad_allowance", edge, edge=edge, width=run.width)
        if rest is None:
            break
        if run.until is None or run.until >= chain.length - SAME:
            part, rest = rest, None
        elif run.until <= walked + SAME:
            continue
        else:
            first, rest = rest.split(run.until - walked)
            walked = run.until
            if first is None:
                continue
            part = first
        found.append((part, run.width))
    if rest is not None:
        found.append((rest, found[-1][1] if found else 0.0))
    return found


def _strips_of_edge(
    edge: Edge,
    allowances: Mapping[str, tuple[AllowanceRun, ...]],
    folds: Collection[str],
) -> list[Strip]:
    fold = edge.name in folds
    runs = () if fold else allowances.get(edge.name, ())
    # What is narrower than a curve is flattened by is no allowance at all.
    parts = [
        (part, width if width > FLAT else 0.0)
        for part, width in runs_of(edge.chain, runs, edge.name)
    ]
    if not edge.forward:
        parts = [(part.reversed(), width) for part, width in reversed(parts)]
    return [
        strip
        for part, width in parts
        for strip in strips_of(part, edge.name, width, fold=fold)
    ]


def _joints(
    panel: Panel, strips: Sequence[Strip], corners: Mapping[tuple[str, End], Corner]
) -> list[Joint]:
    forward = {edge.name: edge.forward for edge in panel.edges}
    found = []
    for index, left in enumerate(strips):
        right = strips[(index + 1) % len(strips)]
        rule, owner = None, "left"
        # An edge that is the whole outline meets itself where the list comes round.
        if left.edge != right.edge or index == len(strips) - 1:
            leaves: End = "end" if forward[left.edge] else "start"
            takes: End = "start" if forward[right.edge] else "end"
            rule = corners.get((left.edge, leaves))
            if rule is None:
                rule, owner = corners.get((right.edge, takes)), "right"
        found.append(joint(left, right, rule, "left" if owner == "left" else "right"))
    return found


def _joined(strips: Sequence[Strip], joints: Sequence[Joint]) -> list[Point] | None:
    """The cutting line; None where a strip's two corners take all of it."""
    ring: list[Point] = []
    for index, strip in enumerate(strips):
        span = _span(strip, joints[index - 1], joints[index])
        if span is None:
            return None
        ring.extend(_between(strip.points, *span))
        ring.extend(joints[index].points)
    return without_straights(without_repeats(ring))


def _span(strip: Strip, before: Joint, after: Joint) -> tuple[float, float] | None:
    low, high = before.right, len(strip.points) - 1 - after.left
    return (low, high) if low <= high else None


def _between(points: Sequence[Point], low: float, high: float) -> list[Point]:
    """The part of a line of points between two positions."""
    first, last = int(low), int(high)
    inner = list(points[first + 1 : last + 1])
    start = points[first] if low == first else place_on(points, low)
    if high > last:
        inner.append(place_on(points, high))
    return [start, *inner]


def _areas(strips: Sequence[Strip], joints: Sequence[Joint]) -> list[list[Point]]:
    """The body, each step of each strip, and each corner, as areas."""
    areas = [[point for strip in strips for point in strip.base[:-1]]]
    count = len(strips)
    spans = [_span(s, joints[i - 1], joints[i]) for i, s in enumerate(strips)]
    for strip, span in zip(strips, spans, strict=True):
        if strip.width > 0:
            low, high = span or (0.0, len(strip.points) - 1.0)
            base = _between(strip.base, low, high)
            cut = _between(strip.points, low, high)
            areas.extend(
                [base[i], cut[i], cut[i + 1], base[i + 1]] for i in range(len(base) - 1)
            )
    for index, made in enumerate(joints):
        after = (index + 1) % count
        if spans[index] and spans[after]:
            areas.append(_corner(strips[index], made, strips[after]))
    return areas


def _corner(left: Strip, made: Joint, right: Strip) -> list[Point]:
    last = len(left.points) - 1
    leave = last - made.left
    return [
        *_between(left.base, leave, last)[::-1],
        place_on(left.points, leave),
        *made.points,
        place_on(right.points, made.right),
        *_between(right.base, 0.0, made.right)[::-1],
    ]


def _short(strips: Sequence[Strip], ring: Sequence[Point]) -> dict[str, float]:
    """How much allowance is missing at worst, away from corners, by edge."""
    from skirtwright.geometry.area import gaps

    reach = MITRE * max(strip.width for strip in strips)
    found: dict[str, float] = {}
    for strip in strips:
        ends = (strip.base[0], strip.base[-1])
        middle = [
            place
            for seam, place in _looked_at(strip)
            if min(seam.to(end) for end in ends) > reach
        ]
        worst = max(gaps(ring, middle), default=0.0) if middle else 0.0
        if worst > OUTLINE:
            found[strip.edge] = max(worst, found.get(strip.edge, 0.0))
    return found


def _looked_at(strip: Strip) -> Iterator[tuple[Point, Point]]:
    """Places of a seam with their offsets, at most 10 mm apart."""
    for i in range(len(strip.base) - 1):
        parts = math.ceil(strip.base[i].to(strip.base[i + 1]) / _LOOK)
        for k in range(parts):
            yield (
                place_on(strip.base, i + k / parts),
                place_on(strip.points, i + k / parts),
            )
