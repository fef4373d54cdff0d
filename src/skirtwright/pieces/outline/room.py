"""The roomiest place in an outline: where its label and grain arrow go."""

from __future__ import annotations

import heapq
import math
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Final

from skirtwright.budget import spend
from skirtwright.geometry import Chain, Point
from skirtwright.geometry.ring import holds

_NEAR_ENOUGH: Final = 4.0
_BETTER: Final = 1.0
_FLAT: Final = 5.0

_IN_VAIN: Final = 300
"""Places looked at with none roomier, after which the search ends: where there are many
alike, such as between pleats, each has as good a hope as the next."""

_Side = tuple[float, float, float, float, float]


def roomiest_place(
    ring: Sequence[Point], lines: Sequence[Chain] = ()
) -> tuple[Point, float]:
    """A place inside `ring` far from it and from `lines`, and that distance, mm.

    Squares are searched best first and quartered until none can hold a place better
    by 4 mm, or hundreds held none.
    """
    sides = _sides([*ring, ring[0]])
    for line in lines:
        sides += _sides(line.flattened(_FLAT))
    left, right = min(p.x for p in ring), max(p.x for p in ring)
    bottom, top = min(p.y for p in ring), max(p.y for p in ring)
    half = max(min(right - left, top - bottom) / 2, _NEAR_ENOUGH)
    waiting: list[tuple[float, float, float, float]] = []
    best = (left, bottom, -math.inf)
    in_vain = 0

    def look(x: float, y: float, half: float) -> None:
        nonlocal best, in_vain
        spend("points", 1 + len(sides) // 4)
        room = _gap(sides, x, y) * (1 if holds(ring, Point(x, y)) else -1)
        in_vain += 1
        if room > best[2] + _BETTER:
            best, in_vain = (x, y, room), 0
        heapq.heappush(waiting, (-(room + half * math.sqrt(2)), x, y, half))

    for x, y in _middles(left, right, bottom, top):
        look(x, y, 0.0)
    for x, y in _squares(left, right, bottom, top, half):
        look(x, y, half)
    while waiting:
        hope, x, y, half = heapq.heappop(waiting)
        if -hope <= best[2] + _NEAR_ENOUGH or in_vain > _IN_VAIN:
            break
        for dx in (-half / 2, half / 2):
            for dy in (-half / 2, half / 2):
                look(x + dx, y + dy, half / 2)
    return Point(best[0], best[1]), max(best[2], 0.0)


def _squares(
    left: float, right: float, bottom: float, top: float, half: float
) -> Iterator[tuple[float, float]]:
    """The middles of squares, `half` their half side, that cover a box."""
    for column in range(math.ceil((right - left) / (2 * half))):
        for row in range(math.ceil((top - bottom) / (2 * half))):
            yield left + (2 * column + 1) * half, bottom + (2 * row + 1) * half


def _middles(
    left: float, right: float, bottom: float, top: float
) -> tuple[tuple[float, float], ...]:
    """The middle, kept unless another place is clearly roomier, and places beside it.

    Those are for a strip with a fold line down its middle.
    """
    x, y = (left + right) / 2, (bottom + top) / 2
    return (x, y), ((left + x) / 2, y), (x, (bottom + y) / 2)


def _sides(points: Sequence[Point]) -> list[_Side]:
    """Start, step and squared length of each side."""
    return [
        (a.x, a.y, b.x - a.x, b.y - a.y, max((b - a).dot(b - a), 1e-12))
        for a, b in pairwise(points)
    ]


def _gap(sides: Sequence[_Side], x: float, y: float) -> float:
    least = math.inf
    for start_x, start_y, step_x, step_y, size in sides:
        dx, dy = x - start_x, y - start_y
        share = (dx * step_x + dy * step_y) / size
        share = 0.0 if share < 0 else min(share, 1.0)
        dx, dy = dx - share * step_x, dy - share * step_y
        least = min(least, dx * dx + dy * dy)
    return math.sqrt(least)
