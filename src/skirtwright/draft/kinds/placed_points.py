"""Points: each from points, lines and numbers above."""

from __future__ import annotations

from typing import Literal

from skirtwright.draft.step import Degrees, Length, LineOf, PlaceOf, Ratio, Step
from skirtwright.geometry.chain import Chain
from skirtwright.geometry.meeting import lines_meet, ray_meets
from skirtwright.geometry.point import Point, heading, reflect, turn
from skirtwright.problems import Refused


class Start(Step):
    """A point given by how far right and how far up it lies."""

    kind: Literal["start"] = "start"
    right: Length = "0"
    up: Length = "0"

    def draw(self, right: float, up: float) -> Point:
        """The point."""
        return Point(right, up)


class MeasureOff(Step):
    """A point measured off from another in a direction (0 right, 90 up)."""

    kind: Literal["measure_off"] = "measure_off"
    start: PlaceOf
    distance: Length
    direction: Degrees

    def draw(self, start: Point, distance: float, direction: float) -> Point:
        """The point."""
        return start + heading(direction) * distance


class SquareOut(Step):
    """A point squared out from a line at a place on it, to the left or right of it."""

    kind: Literal["square_out"] = "square_out"
    line: LineOf
    at: PlaceOf
    distance: Length
    side: Literal["left", "right"] = "left"

    def draw(self, line: Chain, at: Point, distance: float) -> Point:
        """The point."""
        along = line.direction_at(line.nearest(at)[0])
        across = along.left() if self.side == "left" else along.right()
        return at + across * distance


class Divide(Step):
    """A point at a share of the straight way between two others."""

    kind: Literal["divide"] = "divide"
    start: PlaceOf
    end: PlaceOf
    share: Ratio = "1/2"

    def draw(self, start: Point, end: Point, share: float) -> Point:
        """The point."""
        return start.between(end, share)


class Meet(Step):
    """Where the straight line through two points, made longer, meets a line."""

    kind: Literal["meet"] = "meet"
    start: PlaceOf
    through: PlaceOf
    line: LineOf

    def draw(self, start: Point, through: Point, line: Chain) -> Point:
        """The nearest meeting place.

        Raises:
            Refused: they do not meet.
        """
        along = through - start
        found = ray_meets(start, along, line)
        if found:
            return found[0]
        place = lines_meet(start, along, line.end, line.end_direction)
        if len(line.segments) == 1 and place and along.dot(place - start) > 0:
            return place
        raise Refused("draft.do_not_meet", self.step)


class PlaceOn(Step):
    """A place on a line or an edge, kept as a point."""

    kind: Literal["place"] = "place"
    at: PlaceOf

    def draw(self, at: Point) -> Point:
        """The point."""
        return at


class Turned(Step):
    """A point turned about another (anticlockwise)."""

    kind: Literal["turned"] = "turned"
    point: PlaceOf
    about: PlaceOf
    angle: Degrees

    def draw(self, point: Point, about: Point, angle: float) -> Point:
        """The point."""
        return turn(about, angle)(point)


class Reflected(Step):
    """A point folded over the straight line through two others."""

    kind: Literal["reflected"] = "reflected"
    point: PlaceOf
    start: PlaceOf
    end: PlaceOf

    def draw(self, point: Point, start: Point, end: Point) -> Point:
        """The point.

        Raises:
            Refused: the two places are one.
        """
        if start.is_at(end):
            raise Refused("draft.no_direction", self.step)
        return reflect(start, end)(point)
