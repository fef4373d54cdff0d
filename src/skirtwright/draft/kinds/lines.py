"""Lines and curves between points above."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import Literal

from skirtwright.draft.step import Degrees, Length, LineOf, PlaceOf, Ratio, Step
from skirtwright.geometry.arc import arc
from skirtwright.geometry.chain import Chain, join, straight
from skirtwright.geometry.curves import reaching, smooth_through
from skirtwright.geometry.point import Point, heading, turn
from skirtwright.geometry.tolerance import SAME
from skirtwright.problems import Refused

_STRETCH_DEG = 7.5
"""A line that leaves the circle is drawn in cubics of at most so many degrees."""


class Join(Step):
    """Straight lines through places in turn."""

    kind: Literal["join"] = "join"
    through: list[PlaceOf]

    def draw(self, through: tuple[Point, ...]) -> Chain:
        """The line.

        Raises:
            Refused: fewer than two places, or two neighbours that are one.
        """
        if len(through) < 2 or any(a.is_at(b) for a, b in pairwise(through)):
            raise Refused("draft.line_too_short", self.step)
        return straight(*through)


class Curve(Step):
    """One curve between two places with a direction at each end.

    Directions are the way the curve runs (0 right, 90 up, 270 down); the reaches, how
    far it follows each, are shares of the straight distance.
    """

    kind: Literal["curve"] = "curve"
    start: PlaceOf
    end: PlaceOf
    leaving: Degrees
    arriving: Degrees
    start_reach: Ratio = "1/3"
    end_reach: Ratio = "1/3"

    def draw(
        self,
        start: Point,
        end: Point,
        leaving: float,
        arriving: float,
        start_reach: float,
        end_reach: float,
    ) -> Chain:
        """The curve.

        Raises:
            Refused: the two places are one.
        """
        chord = start.to(end)
        if start.is_at(end):
            raise Refused("draft.line_too_short", self.step)
        reaches = chord * start_reach, chord * end_reach
        drawn = reaching(start, heading(leaving), end, heading(arriving), *reaches)
        return Chain((drawn,))


class Arc(Step):
    """Part of a circle about a centre, anticlockwise for a positive angle.

    It begins on the grain; half way to the cross grain, on the bias, it lies nearer
    the centre by `less`, and towards both grains less and less so.
    """

    kind: Literal["arc"] = "arc"
    centre: PlaceOf
    start: PlaceOf
    angle: Degrees
    less: Length = "0"

    def draw(self, centre: Point, start: Point, angle: float, less: float) -> Chain:
        """The arc.

        Raises:
            Refused: no radius, no angle, more than a whole turn, or more taken off
                than half the radius.
        """
        radius = centre.to(start)
        if centre.is_at(start) or angle == 0 or abs(angle) > 360:
            raise Refused("draft.no_arc", self.step, angle=angle)
        if not 0 <= less <= radius / 2:
            raise Refused("draft.no_arc", self.step, angle=angle)
        if less <= SAME:
            return arc(centre, start, angle)

        def lifted(share: float) -> Point:
            turned = share * angle
            off = less * math.sin(math.radians(2 * turned)) ** 2
            return centre + (turn(centre, turned)(start) - centre) * (1 - off / radius)

        return smooth_through(lifted, max(4, math.ceil(abs(angle) / _STRETCH_DEG)))


class Run(Step):
    """Lines joined end to end into one."""

    kind: Literal["run"] = "run"
    lines: list[LineOf]

    def draw(self, lines: tuple[Chain, ...]) -> Chain:
        """The line.

        Raises:
            Refused: one does not begin where the one before ended.
        """
        try:
            return join(lines)
        except ValueError as trouble:
            raise Refused("draft.lines_do_not_meet", self.step) from trouble
