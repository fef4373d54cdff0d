"""Pictures of the figure: polylines in mm, each of a kind; the ways she is seen."""

from __future__ import annotations

import json
import math
from dataclasses import dataclass
from typing import Any, Final, Literal, get_args

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

FROM_ABOVE: Final = 0.16
"""What lies 1 mm nearer is drawn so many mm lower (no source)."""

WAYS: Final[dict[View, tuple[Place, Place]]] = {
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

_TOLD_APART = 5.0
"""Points of a kept picture nearer to one another than this, mm, are one."""

_LONGEST = 500_000
"""Letters of a kept picture; a thousandth of that is usual."""


def written_picture(picture: Picture) -> str:
    """A picture as a text, to whole mm: for pictures that are shown small."""
    lines = [
        [line.kind, [round(part) for place in _thinned(line.points) for part in place]]
        for line in picture
    ]
    return json.dumps(lines, separators=(",", ":"))


def read_picture(text: str) -> Picture:
    """A picture from its text; nothing where it is none."""
    if len(text) > _LONGEST:
        return ()
    try:
        lines = [_line(kind, parts) for kind, parts in json.loads(text)]
    except (ValueError, TypeError, RecursionError):
        return ()
    return tuple(lines)


def _line(kind: Any, parts: Any) -> Line:
    if kind not in get_args(Kind) or len(parts) % 2 or len(parts) < 4:
        raise ValueError
    along = [float(part) for part in parts]
    if not all(abs(part) < _FARTHEST for part in along):
        raise ValueError
    return Line(kind, tuple(zip(along[::2], along[1::2], strict=True)))


_FARTHEST = 100_000.0


def _thinned(points: tuple[Place, ...]) -> list[Place]:
    """The ends of a line, and of its points those so far from the one before."""
    kept = [points[0]]
    for place in points[1:-1]:
        if math.dist(place, kept[-1]) >= _TOLD_APART:
            kept.append(place)
    return [*kept, points[-1]]
