"""Numbers read off what is drawn already."""

from __future__ import annotations

from typing import Literal

from skirtwright.draft.step import Figure, LineOf, PlaceOf, Step
from skirtwright.geometry.chain import Chain
from skirtwright.geometry.point import Point


class Slant(Step):
    """The direction in which a line runs at a place on it, less an angle.

    0 is to the right, 90 up; the result lies between 0 and 360 before `less` is
    taken off.
    """

    kind: Literal["slant"] = "slant"
    line: LineOf
    at: PlaceOf
    less: Figure = "0 deg"

    def draw(self, line: Chain, at: Point, less: float) -> float:
        """The angle, degrees."""
        along = line.direction_at(line.nearest(at)[0])
        return along.heading_deg() % 360.0 - less


KINDS: tuple[type[Step], ...] = (Slant,)
