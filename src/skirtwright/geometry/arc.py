"""Circular arcs, as cubics of at most 30 degrees each."""

from __future__ import annotations

import math
from typing import Final

from skirtwright.geometry.chain import Chain
from skirtwright.geometry.curves import reaching
from skirtwright.geometry.point import Point, turn

_LARGEST_DEG: Final = 30.0


def arc(centre: Point, start: Point, sweep_deg: float) -> Chain:
    """The arc about `centre` from `start`, `sweep_deg` degrees (left > 0).

    A cubic of 30 degrees leaves the circle by less than 4e-7 of its radius
    (reaches of 4/3 tan(angle/4) radii; plain geometry).
    """
    parts = max(1, math.ceil(abs(sweep_deg) / _LARGEST_DEG - 1e-9))
    step_deg = sweep_deg / parts
    reach = centre.to(start) * 4 / 3 * math.tan(math.radians(step_deg) / 4)
    segments = []
    here = start
    for number in range(1, parts + 1):
        there = turn(centre, step_deg * number)(start)
        leaving, arriving = ((p - centre).left().unit() for p in (here, there))
        segments.append(reaching(here, leaving, there, arriving, reach))
        here = there
    return Chain(tuple(segments))
