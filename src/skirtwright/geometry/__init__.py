"""Shapes: points, lines, cubics, chains and rings (mm, y up)."""

from skirtwright.geometry.chain import Chain, curve, join, straight
from skirtwright.geometry.point import (
    Motion,
    Point,
    bend_deg,
    heading,
    reflect,
    shift,
    turn,
)
from skirtwright.geometry.segment import Cubic, Line, Segment

__all__ = [
    "Chain",
    "Cubic",
    "Line",
    "Motion",
    "Point",
    "Segment",
    "bend_deg",
    "curve",
    "heading",
    "join",
    "reflect",
    "shift",
    "straight",
    "turn",
]
