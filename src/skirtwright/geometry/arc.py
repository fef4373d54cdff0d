"""Circular arcs, as cubics of at most 30 degrees each."""

from __future__ import annotations

import math

from skirtwright.geometry.chain import Chain
from skirtwright.geometry.point import Point, bend_deg, turn
from skirtwright.geometry.segment import Line, handled
from skirtwright.geometry.tolerance import SAME_DEG

_LARGEST_DEG = 30.0


def arc(centre: Point, start: Point, sweep_deg: float) -> Chain:
    """The arc about `centre` from `start`, `sweep_deg` degrees (left > 0).

    A cubic of 30 degrees leaves the circle by less than 4e-7 of its radius
    (4/3 tan(angle/4) handles; plain geometry).
    """
    parts = max(1, math.ceil(abs(sweep_deg) / _LARGEST_DEG - 1e-9))
    step_deg = sweep_deg / parts
    handle = 4 / 3 * math.tan(math.radians(step_deg) / 4)
    segments = []
    here = start
    for number in range(1, parts + 1):
        there = turn(centre, step_deg * number)(start)
        leaving, arriving = ((p - centre).left() * handle for p in (here, there))
        segments.append(handled(here, leaving, there, arriving))
        here = there
    return Chain(tuple(segments))


def fair_curve(start: Point, leaving: Point, end: Point, arriving: Point) -> Chain:
    """One cubic between two directions: a circular arc where one fits.

    Handles are 4/3 tan(bend/4) times the radius of the arc with this chord and this
    whole bend; a straight line where there is no bend.
    """
    chord = start.to(end)
    whole_deg = abs(bend_deg(leaving, arriving))
    if whole_deg <= SAME_DEG:
        return Chain((Line(start, end),))
    half = math.radians(whole_deg) / 2
    handle = chord / (2 * math.sin(half)) * 4 / 3 * math.tan(half / 2)
    bent = handled(start, leaving.unit() * handle, end, arriving.unit() * handle)
    return Chain((bent,))
