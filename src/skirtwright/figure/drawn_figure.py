"""Pictures of the figure: polylines in mm, each of a kind; the ways she is seen."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, get_args

View = Literal["front", "side", "back"]
VIEWS: tuple[View, ...] = get_args(View)
"""The side is her left."""

Kind = Literal[
    "floor",
    "inside",
    "behind",
    "body",
    "taped",
    "guessed",
    "skirt",
    "wave",
    "dart",
    "pleat",
    "seam",
    "edge",
    "outline",
    "tight",
]
"""Floor: the line she stands on. Inside, body, skirt: filled. Behind:
the hem on the far side. Taped, guessed: where a
girth of the body was measured or not. Wave: where cloth lies deepest. Edge: an edge
that lies open. Outline: of the skirt. Tight: where it is shorter than the body."""

FILLED: frozenset[Kind] = frozenset({"inside", "body", "skirt"})

Place = tuple[float, float]

FROM_ABOVE = 0.16
"""What lies 1 mm nearer is drawn so many mm lower (no source)."""

WAYS: dict[View, tuple[Place, Place]] = {
    # The way right on the picture, and the way towards whoever looks.
    "front": ((1.0, 0.0), (0.0, 1.0)),
    "back": ((-1.0, 0.0), (0.0, -1.0)),
    "side": ((0.0, -1.0), (1.0, 0.0)),
}


@dataclass(frozen=True)
class Line:
    """A polyline, mm; filled where its kind is, and closed then."""

    kind: Kind
    points: tuple[Place, ...]


Picture = tuple[Line, ...]
