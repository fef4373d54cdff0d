"""Where lines of points are met: positions along them, rays, crossings."""

from __future__ import annotations

from collections.abc import Sequence

from skirtwright.budget import spend
from skirtwright.geometry import Point
from skirtwright.geometry.tolerance import SAME


def place_on(points: Sequence[Point], position: float) -> Point:
    """The point at a position: 2.25 is a quarter past the third point."""
    index = min(int(position), len(points) - 2)
    return points[index].between(points[index + 1], position - index)


def first_hit(
    points: Sequence[Point], origin: Point, along: Point
) -> tuple[float, float] | None:
    """Where a ray first meets a line of points, searched from the line's start.

    Returns the position on the line and the distance along the ray (`along` is a
    unit step), or None.
    """
    spend("points", 1 + len(points) // 8)
    before = along.cross(points[0] - origin)
    for i in range(len(points) - 1):
        after = along.cross(points[i + 1] - origin)
        if (before <= 0 <= after or after <= 0 <= before) and before != after:
            share = before / (before - after)
            place = points[i].between(points[i + 1], share)
            distance = (place - origin).dot(along)
            if distance >= -SAME:
                return i + share, max(distance, 0.0)
        before = after
    return None


def first_crossing(
    first: Sequence[Point], second: Sequence[Point], reach: float
) -> tuple[float, float] | None:
    """Where two lines of points cross, nearest to the start of `first`.

    Only what lies within `reach` mm of each line's own start is looked at. Returns
    the two positions, or None.
    """
    ends = _within(second, reach)
    for i in range(_within(first, reach)):
        spend("points", 1 + ends // 8)
        a, b = first[i], first[i + 1]
        low_x, high_x = (a.x, b.x) if a.x < b.x else (b.x, a.x)
        low_y, high_y = (a.y, b.y) if a.y < b.y else (b.y, a.y)
        best: tuple[float, float] | None = None
        for j in range(ends):
            c, d = second[j], second[j + 1]
            if (
                (c.x < low_x and d.x < low_x)
                or (c.x > high_x and d.x > high_x)
                or (c.y < low_y and d.y < low_y)
                or (c.y > high_y and d.y > high_y)
            ):
                continue
            found = _crossing_shares(a, b, c, d)
            if found and (best is None or i + found[0] < best[0]):
                best = (i + found[0], j + found[1])
        if best:
            return best
    return None


def _within(points: Sequence[Point], reach: float) -> int:
    """How many pieces of a line begin within `reach` of its start."""
    last = len(points) - 1
    start = points[0]
    for i in range(last):
        if start.to(points[i]) > reach:
            return i
    return last


def _crossing_shares(
    a: Point, b: Point, c: Point, d: Point
) -> tuple[float, float] | None:
    ux, uy, vx, vy = b.x - a.x, b.y - a.y, d.x - c.x, d.y - c.y
    across = ux * vy - uy * vx
    if across == 0:
        return None
    wx, wy = c.x - a.x, c.y - a.y
    share, other = (wx * vy - wy * vx) / across, (wx * uy - wy * ux) / across
    if 0 <= share <= 1 and 0 <= other <= 1:
        return share, other
    return None
