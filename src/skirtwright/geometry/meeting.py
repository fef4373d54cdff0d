"""Where lines and curves meet."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from skirtwright.budget import spend
from skirtwright.geometry.chain import Chain
from skirtwright.geometry.point import Point
from skirtwright.geometry.roots import cubic_roots
from skirtwright.geometry.segment import Line, Segment
from skirtwright.geometry.tolerance import SAME

_CLEAR: Final = 1e-3
"""What lies wholly this far to one side of a line does not meet it, mm."""


def lines_meet(first: Point, along: Point, second: Point, other: Point) -> Point | None:
    """Where two endless lines meet, each a point and a direction; None if parallel."""
    crossing = along.cross(other)
    if abs(crossing) <= 1e-14 * along.size() * other.size():
        return None
    return first + along * ((second - first).cross(other) / crossing)


def _line_meets_segment(
    start: Point, along: Point, segment: Segment
) -> list[tuple[float, Point]]:
    """Shares along `along` and points where an endless line meets a segment."""
    spend("points", 2)
    size = along.size()
    across = along.left() * (1 / size)
    far = [across.dot(p - start) for p in segment.points]
    if min(far) > _CLEAR or max(far) < -_CLEAR:
        return []
    if isinstance(segment, Line):
        rise = far[1] - far[0]
        shares = [-far[0] / rise] if abs(rise) > 1e-14 else []
        places = [segment.start.between(segment.end, t) for t in shares]
    else:
        p, q, r, s = far
        shares = cubic_roots(s - 3 * r + 3 * q - p, 3 * (r - 2 * q + p), 3 * (q - p), p)
        shares = [_polish(far, t) for t in shares]
        places = [segment.point_at_parameter(min(max(t, 0.0), 1.0)) for t in shares]
    slack = SAME / max(segment.length, SAME)
    return [
        ((place - start).dot(along) / (size * size), place)
        for t, place in zip(shares, places, strict=True)
        if -slack <= t <= 1 + slack
    ]


def _polish(far: Sequence[float], t: float) -> float:
    """Two Newton steps on the distance of a cubic from a line."""
    p, q, r, s = far
    for _ in range(2):
        u = 1 - t
        value = u * u * u * p + 3 * u * u * t * q + 3 * u * t * t * r + t * t * t * s
        slope = 3 * (u * u * (q - p) + 2 * u * t * (r - q) + t * t * (s - r))
        if slope == 0:
            break
        t -= value / slope
    return t


def ray_meets(start: Point, along: Point, chain: Chain) -> list[Point]:
    """Points of `chain` on the ray from `start`, nearest first."""
    hits = [
        hit
        for segment in chain.segments
        for hit in _line_meets_segment(start, along, segment)
        if hit[0] >= -SAME / max(along.size(), SAME)
    ]
    return _in_order(hits)


def line_meets(first: Point, second: Point, chain: Chain) -> list[Point]:
    """Points of `chain` on the straight line between two points, in order."""
    along = second - first
    if along.size() <= SAME:
        return []
    reach = 1 + SAME / along.size()
    hits = [
        hit
        for segment in chain.segments
        for hit in _line_meets_segment(first, along, segment)
        if -SAME / along.size() <= hit[0] <= reach
    ]
    return _in_order(hits)


def _in_order(hits: Sequence[tuple[float, Point]]) -> list[Point]:
    """The places by their shares of the line, each once."""
    found: list[Point] = []
    for _, place in sorted(hits, key=lambda hit: hit[0]):
        spend("points", 1 + len(found))
        if not any(place.is_at(other) for other in found):
            found.append(place)
    return found


def nearest_of(points: Sequence[Point], to: Point) -> Point | None:
    """The point of a list nearest to another; None of none."""
    return min(points, key=to.to) if points else None
