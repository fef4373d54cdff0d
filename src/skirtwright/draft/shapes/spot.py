"""A place and the part of the panel it was named on."""

from __future__ import annotations

from dataclasses import dataclass

from skirtwright.geometry.point import Point


@dataclass(frozen=True)
class Spot:
    """A place that remembers the part of the panel it was named on.

    Attributes:
        part: the edge or mark it was named on; empty for a bare point.
    """

    point: Point
    part: str
