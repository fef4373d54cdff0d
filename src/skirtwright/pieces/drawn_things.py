"""What a drawing of a piece is made of: lines and words, each of a kind."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from skirtwright.geometry import Chain, Point

Kind = Literal[
    "stitching",
    "cutting",
    "fold",
    "grain",
    "notch",
    "drill",
    "dart",
    "inside",
    "pleat",
    "label",
]
"""`pleat` is the fold line of a pleat, drawn unbroken."""


@dataclass(frozen=True)
class DrawnLine:
    """A line, or a filled shape, and what it stands for."""

    kind: Kind
    chain: Chain
    closed: bool = False
    filled: bool = False


@dataclass(frozen=True)
class DrawnText:
    """Lines of text.

    Attributes:
        lines: as read.
        at: start of the first line's foot.
        height: of a capital, mm.
        angle_deg: direction of reading, anticlockwise from the x axis.
        bold: True when the first line is.
    """

    lines: tuple[str, ...]
    at: Point
    height: float
    angle_deg: float
    kind: Kind = "label"
    bold: bool = False


Drawn = DrawnLine | DrawnText
