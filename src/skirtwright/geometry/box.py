"""Upright rectangles."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from skirtwright.geometry.point import Point
from skirtwright.geometry.tolerance import SAME


@dataclass(init=False, slots=True, unsafe_hash=True)
class Box:
    """An upright rectangle, mm."""

    left: Final[float]
    bottom: Final[float]
    right: Final[float]
    top: Final[float]

    def __init__(self, left: float, bottom: float, right: float, top: float) -> None:
        self.left = left
        self.bottom = bottom
        self.right = right
        self.top = top

    @property
    def width(self) -> float:
        """From left to right, mm."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """From bottom to top, mm."""
        return self.top - self.bottom

    @property
    def middle(self) -> Point:
        """Its centre."""
        return Point((self.left + self.right) / 2, (self.bottom + self.top) / 2)

    @property
    def corners(self) -> tuple[Point, Point, Point, Point]:
        """The corners, anticlockwise from the lower left."""
        return (
            Point(self.left, self.bottom),
            Point(self.right, self.bottom),
            Point(self.right, self.top),
            Point(self.left, self.top),
        )

    def meets(self, other: Box) -> bool:
        """True when the two share more than an edge."""
        return (
            self.left < other.right - SAME
            and other.left < self.right - SAME
            and self.bottom < other.top - SAME
            and other.bottom < self.top - SAME
        )

    def moved(self, step: Point) -> Box:
        """The same box elsewhere."""
        return Box(
            self.left + step.x,
            self.bottom + step.y,
            self.right + step.x,
            self.top + step.y,
        )

    def grown(self, by: float) -> Box:
        """The box with a border of `by` mm added all round."""
        return Box(self.left - by, self.bottom - by, self.right + by, self.top + by)

    def holds(self, place: Point) -> bool:
        """True when a place lies in it or on its rim."""
        return self.left <= place.x <= self.right and self.bottom <= place.y <= self.top


def box_of(points: Iterable[Point]) -> Box:
    """The smallest box round points, of which there must be one at least."""
    known = list(points)
    across, along = [p.x for p in known], [p.y for p in known]
    return Box(min(across), min(along), max(across), max(along))
