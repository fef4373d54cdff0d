"""Narrower allowances in tight hollows, where a full one could not be turned.

In a hollow of less than 30 mm radius an allowance is at most 0.8 of the radius
(common practice, no source). It narrows and widens gradually, so that the cutting line
has no step.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Final

from skirtwright.geometry import Cubic, Point, Segment
from skirtwright.geometry.tolerance import SAME

RADIUS: Final = 30.0
"""A hollow of less than this radius takes less allowance, mm."""

SHARE: Final = 0.8
"""How much of the radius it may be."""

LEAST: Final = 6.0
"""No hollow takes less than an enclosed edge has, mm (common practice, no source)."""

_STEP: Final = 1.0

_WIDENS: Final = 0.5
"""It widens by 1 in 2, so that two sides of a hollow leave room for scissors."""


@dataclass(frozen=True, slots=True)
class Hollow:
    """The tightest hollow of a run and the allowance left there, mm."""

    radius: float
    width: float


@dataclass(frozen=True, slots=True)
class _Spot:
    """A place of a seam: how far along, which way outwards, the radius there."""

    place: Point
    along: float
    out: Point
    radius: float


def may_be_tight(bend: float, width: float) -> bool:
    """Whether a hollow is worth looking at closely; `bend` is 1 / radius, coarse."""
    return 2 * RADIUS * bend > 1 and 2 * width * bend > SHARE


def narrowed(
    run: Sequence[Segment], width: float
) -> tuple[list[Point], list[Point], list[float], Hollow] | None:
    """A run's points, their offsets and widths where a hollow is too tight, or None."""
    spots = _spots(run, width)
    tight = min(spots, key=lambda spot: spot.radius)
    if _most(tight.radius, width) >= width:
        return None
    widths = [_most(spot.radius, width) for spot in spots]
    gaps = [after.along - before.along for before, after in pairwise(spots)]
    for i, gap in enumerate(gaps):
        widths[i + 1] = min(widths[i + 1], widths[i] + _WIDENS * gap)
    for i in range(len(gaps) - 1, -1, -1):
        widths[i] = min(widths[i], widths[i + 1] + _WIDENS * gaps[i])
    points = [s.place + s.out * w for s, w in zip(spots, widths, strict=True)]
    least = min(widths)
    return [spot.place for spot in spots], points, widths, Hollow(tight.radius, least)


def _most(radius: float, width: float) -> float:
    if radius >= RADIUS:
        return width
    return min(width, max(SHARE * radius, LEAST))


def _spots(run: Sequence[Segment], width: float) -> list[_Spot]:
    start = run[0].start
    spots = [_Spot(start, 0.0, run[0].start_direction.right(), math.inf)]
    for segment in run:
        for spot in _along(segment, width):
            along = spots[-1].along + spots[-1].place.to(spot.place)
            spots.append(replace(spot, along=along))
    return spots


def _along(segment: Segment, width: float) -> Iterator[_Spot]:
    """Places at most 1 mm apart; of a straight one only those near its ends."""
    long = segment.length
    if isinstance(segment, Cubic):
        count = max(math.ceil(2 * long / _STEP), 2)
        for i in range(1, count + 1):
            t = i / count
            way = segment.direction_at_parameter(t)
            place = segment.point_at_parameter(t)
            yield _Spot(place, 0.0, way.right(), _radius(segment, t))
        return
    out = segment.start_direction.right()
    count = max(math.ceil(long / _STEP), 1)
    for i in range(1, count + 1):
        distance = long * i / count
        if i == count or min(distance, long - distance) <= width / _WIDENS + 2 * _STEP:
            yield _Spot(segment.at(distance), 0.0, out, math.inf)


def _radius(segment: Segment, t: float) -> float:
    """The radius of a hollow; infinite where the seam is straight or full."""
    if not isinstance(segment, Cubic):
        return math.inf
    p, q, r, s = segment.start, segment.control1, segment.control2, segment.end
    rest = 1 - t
    first, second, third = q - p, r - q, s - r
    speed = first * (3 * rest * rest) + second * (6 * rest * t)
    speed = speed + third * (3 * t * t)
    turning = (second - first) * (6 * rest) + (third - second) * (6 * t)
    size = speed.size()
    bend = speed.cross(turning)
    return size**3 / -bend if bend < -SAME and size > SAME else math.inf
