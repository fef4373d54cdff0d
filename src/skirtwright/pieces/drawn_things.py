"""What a drawing of a piece is made of: lines and words, each of a kind."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from skirtwright.geometry import Chain

Kind = Literal[
    "stitching",
    "cutting",
    "fold",
    "grain",
    "notch",
    "drill",
    "dart",
    "inside",
    "lengthen",
    "pleat",
    "label",
]
"""`inside` is a line that is neither sewn nor cut, such as the hip line; `lengthen` the
pair of lines where a piece is made longer or shorter; `pleat` the fold line of a pleat,
drawn unbroken."""


@dataclass(frozen=True)
class DrawnLine:
    """A line, or a filled shape, and what it stands for."""

    kind: Kind
    chain: Chain
    closed: bool = False
    filled: bool = False


@dataclass(frozen=True)
class DrawnWords:
    """Words about a line of a piece; where they stand is found on the paper.

    Attributes:
        share: how far along it they stand best.
    """

    words: str
    of: Chain
    share: float = 0.5
    kind: Kind = "label"


Drawn = DrawnLine | DrawnWords
