"""Closed outlines as lists of points, first not repeated, anticlockwise."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Final

from skirtwright.budget import spend
from skirtwright.geometry.box import Box, box_of
from skirtwright.geometry.chain import Chain
from skirtwright.geometry.point import Point
from skirtwright.geometry.segment import Cubic
from skirtwright.geometry.tolerance import SAME

_SAME_WAY: Final = 1e-9
"""Tangent of the angle below which two sides lie on one line."""

_ASIDE: Final = SAME * SAME

_SIDES_A_POINT: Final = 8
"""To look at so many sides of a ring is as much work as to find a point."""


def area_of_points(points: Sequence[Point]) -> float:
    """Signed area, mm2; positive when anticlockwise."""
    total = 0.0
    last = points[-1]
    for point in points:
        total += last.x * point.y - point.x * last.y
        last = point
    return total / 2


def area_of_chain(chain: Chain) -> float:
    """Signed area swept about the origin, mm2, exact for cubics (Green's theorem).

    Added over the chains of a closed outline it is the outline's area.
    """
    total = 0.0
    for s in chain.segments:
        if isinstance(s, Cubic):
            p, q, r, e = s.start, s.control1, s.control2, s.end
            total += (
                6 * p.cross(q)
                + 3 * p.cross(r)
                + p.cross(e)
                + 3 * q.cross(r)
                + 3 * q.cross(e)
                + 6 * r.cross(e)
            ) / 20
        else:
            total += s.start.cross(s.end) / 2
    return total


def holds(points: Sequence[Point], place: Point) -> bool:
    """True when a place lies inside a ring (crossing count; the line itself varies)."""
    spend("points", 1 + len(points) // _SIDES_A_POINT)
    inside = False
    last = points[-1]
    for point in points:
        if (point.y > place.y) != (last.y > place.y):
            share = (place.y - point.y) / (last.y - point.y)
            if place.x < point.x + share * (last.x - point.x):
                inside = not inside
        last = point
    return inside


def crossed_at(points: Sequence[Point], height: float) -> list[float]:
    """Where a level line crosses a ring, from the left.

    A place on the line lies inside where an odd number of them is to its right, as
    `holds` counts; for many places at one height.
    """
    spend("points", 1 + len(points) // _SIDES_A_POINT)
    found = []
    last = points[-1]
    for point in points:
        if (point.y > height) != (last.y > height):
            share = (height - point.y) / (last.y - point.y)
            found.append(point.x + share * (last.x - point.x))
        last = point
    return sorted(found)


def lies_on(points: Sequence[Point], place: Point, within: float) -> bool:
    """True when a place is no further than `within` mm from a ring's line."""
    spend("points", 1 + len(points) // _SIDES_A_POINT)
    before = points[-1]
    for after in points:
        along, away = after - before, place - before
        size = along.dot(along)
        share = min(max(away.dot(along) / size, 0.0), 1.0) if size > 0 else 0.0
        if (away - along * share).size() <= within:
            return True
        before = after
    return False


def without_repeats(points: Sequence[Point]) -> list[Point]:
    """The ring without points that repeat the one before."""
    kept: list[Point] = []
    for point in points:
        if not kept or not point.is_at(kept[-1]):
            kept.append(point)
    while len(kept) > 1 and kept[0].is_at(kept[-1]):
        kept.pop()
    return kept


def without_spikes(points: Sequence[Point]) -> list[Point]:
    """The ring without ways that run out to a point and straight back, or repeats."""
    kept: list[Point] = []
    for point in points:
        if len(kept) > 1 and point.is_at(kept[-2]):
            kept.pop()
        elif not kept or not point.is_at(kept[-1]):
            kept.append(point)
    return without_repeats(kept)


def without_straights(points: Sequence[Point]) -> list[Point]:
    """The ring without points that lie on the straight way between their neighbours.

    It begins at its leftmost point, which is a corner in any case.
    """
    first = 0
    for i, point in enumerate(points):
        left = points[first]
        if point.x < left.x or (point.x == left.x and point.y < left.y):
            first = i
    turned = [*points[first:], *points[:first], points[first]]
    kept = [turned[0]]
    left_out: list[Point] = []
    for here, after in pairwise(turned[1:]):
        left_out.append(here)
        spend("points", 1 + len(left_out) // _SIDES_A_POINT)
        for place in left_out:
            if not _lies_between(kept[-1], place, after):
                kept.append(here)
                left_out = []
                break
    return kept


def _lies_between(first: Point, place: Point, second: Point) -> bool:
    x, y = second.x - first.x, second.y - first.y
    u, v = place.x - first.x, place.y - first.y
    size, along = x * x + y * y, x * u + y * v
    aside = x * v - y * u
    return 0 < along < size and aside * aside <= _ASIDE * size


def crossing(points: Sequence[Point]) -> Point | None:
    """A place where a ring crosses or touches itself, or None when it is simple.

    Sides sorted along the longer way of the ring; only those whose boxes overlap are
    compared. A side that doubles back on the one before counts as touching it.
    """
    along, across = [p.x for p in points], [p.y for p in points]
    if max(across) - min(across) > max(along) - min(along):
        along, across = across, along
    lows, highs = _reaches(along)
    bottoms, tops = _reaches(across)
    count = len(points)
    met: list[int] = []
    for i in sorted(range(count), key=lows.__getitem__):
        low, bottom, top = lows[i], bottoms[i], tops[i]
        spend("points", 1 + len(met) // _SIDES_A_POINT)
        open_sides = []
        for j in met:
            if highs[j] < low:
                continue
            open_sides.append(j)
            if bottoms[j] > top or tops[j] < bottom:
                continue
            if (i - j) % count in (1, count - 1):
                continue
            place = _crosses(points[i - 1], points[i], points[j - 1], points[j])
            if place:
                return place
        open_sides.append(i)
        met = open_sides
    return _reversal_point(points)


def _reaches(places: Sequence[float]) -> tuple[list[float], list[float]]:
    """The lesser and the greater end of each side, of the ends' places one way."""
    lows, highs = [], []
    before = places[-1]
    for place in places:
        lows.append(min(before, place))
        highs.append(max(before, place))
        before = place
    return lows, highs


def lie_apart(one: Sequence[Point], other: Sequence[Point]) -> bool:
    """True when two rings have no place in common, neither inside the other."""
    boxes = box_of(one), box_of(other)
    ours, theirs = _sides_near(one, boxes[1]), _sides_near(other, boxes[0])
    spend("points", 1 + len(ours) * len(theirs) // _SIDES_A_POINT)
    for a, b in ours:
        for c, d in theirs:
            if _crosses(a, b, c, d) is not None:
                return False
    return not (holds(other, one[0]) or holds(one, other[0]))


def _sides_near(ring: Sequence[Point], box: Box) -> list[tuple[Point, Point]]:
    """The sides of a ring that may reach into a box."""
    found = []
    before = ring[-1]
    for here in ring:
        if box_of((before, here)).grown(SAME).meets(box):
            found.append((before, here))
        before = here
    return found


def _reversal_point(points: Sequence[Point]) -> Point | None:
    """A point where a ring turns back along the side it came by."""
    before, here = points[-2], points[-1]
    for after in points:
        x, y = here.x - before.x, here.y - before.y
        u, v = after.x - here.x, after.y - here.y
        way = x * u + y * v
        if way < 0 and abs(x * v - y * u) <= -way * _SAME_WAY:
            return here
        before, here = here, after
    return None


def _crosses(a: Point, b: Point, c: Point, d: Point) -> Point | None:
    """Where a side from a to b and one from c to d cross or touch."""
    along, other = b - a, d - c
    across = along.cross(other)
    if across == 0:
        return None
    share = (c - a).cross(other) / across
    share2 = (c - a).cross(along) / across
    edge, edge2 = SAME / max(along.size(), SAME), SAME / max(other.size(), SAME)
    if -edge <= share <= 1 + edge and -edge2 <= share2 <= 1 + edge2:
        return a + along * share
    return None
