"""Closed outlines as lists of points, first not repeated, anticlockwise."""

from __future__ import annotations

from collections.abc import Sequence

from skirtwright.geometry.chain import Chain
from skirtwright.geometry.point import Point
from skirtwright.geometry.segment import Cubic
from skirtwright.geometry.tolerance import SAME

_SAME_WAY = 1e-9
"""Sine of the angle below which two sides lie on one line."""


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
    inside = False
    last = points[-1]
    for point in points:
        if (point.y > place.y) != (last.y > place.y):
            share = (place.y - point.y) / (last.y - point.y)
            if place.x < point.x + share * (last.x - point.x):
                inside = not inside
        last = point
    return inside


def without_repeats(points: Sequence[Point]) -> list[Point]:
    """The ring without points that repeat the one before."""
    kept: list[Point] = []
    for point in points:
        if not kept or not point.is_at(kept[-1]):
            kept.append(point)
    while len(kept) > 1 and kept[0].is_at(kept[-1]):
        kept.pop()
    return kept


def crossing(points: Sequence[Point]) -> Point | None:
    """A place where a ring crosses or touches itself, or None when it is simple.

    Sides sorted along the longer way of the ring; only those whose boxes overlap are
    compared. A side that doubles back on the one before counts as touching it.
    """
    count = len(points)
    xs, ys = [p.x for p in points], [p.y for p in points]
    if max(ys) - min(ys) > max(xs) - min(xs):
        xs, ys = ys, xs
    sides = []
    for i in range(count):
        j = i + 1 if i + 1 < count else 0
        a, b, c, d = xs[i], xs[j], ys[i], ys[j]
        if a > b:
            a, b = b, a
        if c > d:
            c, d = d, c
        sides.append((a, b, c, d, i))
        if _doubles_back(points[i - 1], points[i], points[j]):
            return points[i]
    sides.sort()
    open_sides: list[tuple[float, float, float, float, int]] = []
    for side in sides:
        low, _, bottom, top, i = side
        open_sides = [other for other in open_sides if other[1] >= low]
        for _, _, other_bottom, other_top, j in open_sides:
            if other_bottom > top or other_top < bottom:
                continue
            if (i - j) % count in (1, count - 1):
                continue
            place = _sides_cross(points, i, j)
            if place:
                return place
        open_sides.append(side)
    return None


def _doubles_back(before: Point, here: Point, after: Point) -> bool:
    first, second = here - before, after - here
    size = first.size() * second.size()
    return first.dot(second) < 0 and abs(first.cross(second)) <= _SAME_WAY * size


def _sides_cross(points: Sequence[Point], i: int, j: int) -> Point | None:
    a, b = points[i], points[(i + 1) % len(points)]
    c, d = points[j], points[(j + 1) % len(points)]
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
