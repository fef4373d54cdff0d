"""Lines and curves between points above."""

from __future__ import annotations

from itertools import pairwise
from typing import Literal

from skirtwright.draft.step import Degrees, LineOf, PlaceOf, Ratio, Step
from skirtwright.geometry.arc import arc
from skirtwright.geometry.chain import Chain, join, straight
from skirtwright.geometry.curves import reaching
from skirtwright.geometry.point import Point, heading
from skirtwright.problems import Refused


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
    start_handle: Ratio = "1/3"
    end_handle: Ratio = "1/3"

    def draw(
        self,
        start: Point,
        end: Point,
        leaving: float,
        arriving: float,
        start_handle: float,
        end_handle: float,
    ) -> Chain:
        """The curve.

        Raises:
            Refused: the two places are one.
        """
        chord = start.to(end)
        if start.is_at(end):
            raise Refused("draft.line_too_short", self.step)
        reaches = chord * start_handle, chord * end_handle
        drawn = reaching(start, heading(leaving), end, heading(arriving), *reaches)
        return Chain((drawn,))


class Arc(Step):
    """Part of a circle about a centre, anticlockwise for a positive angle."""

    kind: Literal["arc"] = "arc"
    centre: PlaceOf
    start: PlaceOf
    angle: Degrees

    def draw(self, centre: Point, start: Point, angle: float) -> Chain:
        """The arc.

        Raises:
            Refused: no radius, no angle, or more than a whole turn.
        """
        if centre.is_at(start) or angle == 0 or abs(angle) > 360:
            raise Refused("draft.no_arc", self.step, angle=angle)
        return arc(centre, start, angle)


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


KINDS: tuple[type[Step], ...] = (Join, Curve, Arc, Run)
