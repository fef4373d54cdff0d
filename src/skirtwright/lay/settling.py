"""Laid pieces slid down and to the side until they touch, exactly."""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import chain

from skirtwright.budget import look_up
from skirtwright.geometry import Point
from skirtwright.geometry.box import Box, box_of

_BESIDE = 0.01
"""Left between what was slid and what it met, mm."""

Ring = Sequence[Point]


def settled(
    rings: Sequence[Ring],
    slides: Sequence[tuple[bool, bool]],
    room: Sequence[tuple[float, float]],
) -> list[Point]:
    """How far each piece may be slid, down first and then to the left, mm.

    Args:
        rings: outlines as they lie; none overlaps another.
        slides: for each whether it may be slid across, and along.
        room: for each how far it may go left and down, mm.
    """
    lying = [(_Look.of(ring), _Look.of(ring, turned=True)) for ring in rings]
    order = sorted(range(len(lying)), key=lambda n: lying[n][0].box.bottom)
    steps = [Point(0, 0)] * len(lying)
    for _ in range(2):
        for along in (True, False):
            for number in order:
                look_up()
                if not slides[number][along]:
                    continue
                looks = [look[not along] for look in lying]
                gone = steps[number].y if along else steps[number].x
                most = room[number][along] + gone
                by = _free(looks.pop(number), looks, most)
                steps[number] += Point(0, -by) if along else Point(-by, 0)
                ring = [p + steps[number] for p in rings[number]]
                lying[number] = (_Look.of(ring), _Look.of(ring, turned=True))
    return steps


@dataclass(frozen=True)
class _Look:
    """A ring so that it slides down, its box, and its corners from the left."""

    ring: Sequence[Point]
    box: Box
    corners: Sequence[tuple[float, float]]

    @classmethod
    def of(cls, ring: Ring, *, turned: bool = False) -> _Look:
        ring = [Point(p.y, p.x) for p in ring] if turned else ring
        return cls(ring, box_of(ring), sorted((p.x, p.y) for p in ring))


def _free(own: _Look, others: Iterable[_Look], most: float) -> float:
    """How far a ring is free to go down, mm."""
    free = most
    for other in others:
        if _beneath(other.box, own.box, free):
            gaps = chain(_drops(own, other, 1), _drops(other, own, -1))
            free = min([free, *(gap - _BESIDE for gap in gaps)])
    return max(free, 0.0)


def _beneath(under: Box, box: Box, free: float) -> bool:
    """True where a box may stand in the way of another."""
    if under.right <= box.left or under.left >= box.right:
        return False
    return under.bottom < box.top and under.top > box.bottom - free


def _drops(corners: _Look, sides: _Look, down: int) -> Iterator[float]:
    """Upright distances from a ring's corners to another's sides; -1 where upwards."""
    last = sides.ring[-1]
    for point in sides.ring:
        left, right = (last, point) if last.x < point.x else (point, last)
        last = point
        if left.x == right.x:
            continue
        rise = (right.y - left.y) / (right.x - left.x)
        first = bisect_left(corners.corners, (left.x, -math.inf))
        end = bisect_right(corners.corners, (right.x, math.inf))
        for x, y in corners.corners[first:end]:
            drop = down * (y - left.y - (x - left.x) * rise)
            if drop >= -_BESIDE:
                yield max(drop, 0.0)
