"""Closed outlines as lists of points, first not repeated, anticlockwise."""

from __future__ import annotations

from collections.abc import Sequence

from skirtwright.geometry.chain import Chain
from skirtwright.geometry.point import Point
from skirtwright.geometry.segment import Cubic
from skirtwright.geometry.tolerance import SAME


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
    """A place where a ring crosses itself, or None when it is simple.

    Sides sorted by x; only those whose boxes overlap are compared.
    """
    count = len(points)
    sides = sorted(
        (
            (
                min(points[i].x, points[(i + 1) % count].x),
                max(points[i].x, points[(i + 1) % count].x),
                i,
            )
            for i in range(count)
        ),
    )
    open_sides: list[tuple[float, int]] = []
    for low, high, i in sides:
        open_sides = [side for side in open_sides if side[0] >= low]
        for _, j in open_sides:
            if (i - j) % count in (1, count - 1):
                continue
            place = _sides_cross(points, i, j)
            if place:
                return place
        open_sides.append((high, i))
    return None


def _sides_cross(points: Sequence[Point], i: int, j: int) -> Point | None:
    a, b = points[i], points[(i + 1) % len(points)]
    c, d = points[j], points[(j + 1) % len(points)]
    if max(a.y, b.y) < min(c.y, d.y) or max(c.y, d.y) < min(a.y, b.y):
        return None
    along, other = b - a, d - c
    across = along.cross(other)
    if across == 0:
        return None
    share = (c - a).cross(other) / across
    share2 = (c - a).cross(along) / across
    edge, edge2 = SAME / max(along.size(), SAME), SAME / max(other.size(), SAME)
    if edge < share < 1 - edge and edge2 < share2 < 1 - edge2:
        return a + along * share
    return None
