"""What is asked of a cut piece: plain values, with every number worked already."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Final, Literal

End = Literal["start", "end"]
"""An end of an edge, in the edge's own direction."""

Corner = Literal["mirror", "mitre", "square", "bevel"]
"""How an edge's allowance ends where the plain rule will not do.

`mirror`: it is folded over the edge and must match the piece there (a turned-up hem,
a zip allowance at the waist). `mitre`: it is turned like the one it meets, and both
are mitred. `square`: it stops square to its edge. `bevel`: the corner is cut off from
allowance to allowance.
"""


@dataclass(frozen=True)
class AllowanceRun:
    """An allowance of one width along a part of an edge.

    Attributes:
        until: walked distance from the edge's start at which it stops, mm; None for
            the edge's end.
        width: mm.
    """

    until: float | None
    width: float


ONE_MARK: Final = 0.5
"""Marks of as many snips no further apart than this, mm, are one: scissors and chalk
tell no finer (common practice, no source)."""


@dataclass(init=False, unsafe_hash=True)
class NotchSpec:
    """A balance mark: `count` snips at a walked distance from an edge's start, mm.

    `word` is what is written beside it, a message id or text of the style; `of` the
    title of a piece that the message names.
    """

    edge: Final[str]
    distance: Final[float]
    count: Final[int]
    word: Final[str]
    of: Final[str]

    def __init__(
        self, edge: str, distance: float, count: int = 1, word: str = "", of: str = ""
    ) -> None:
        self.edge = edge
        self.distance = distance
        self.count = count
        self.word = word
        self.of = of

    def is_same_mark(self, other: NotchSpec) -> bool:
        """Whether two marks are one: of as many snips, at the same place of an edge."""
        alike = self.edge == other.edge and self.count == other.count
        return alike and abs(self.distance - other.distance) <= ONE_MARK


@dataclass(frozen=True)
class Grain:
    """Direction of the straight grain: along an edge, or an angle from the x axis."""

    angle_deg: float = 90.0
    along: str = ""


@dataclass(frozen=True)
class PieceSpec:
    """One piece to be cut.

    Attributes:
        material: `shell`, `lining`, `interfacing` or another cloth's name.
        count: pieces cut in all; whole pieces where it lies on a fold.
        mirrored: True when half of them are turned over.
        allowances: runs for each edge, from its start; an edge left out has none.
        corners: ends of edges with a corner of their own.
        turned_up: hems and facings, whose allowance is turned to the inside.
        notches: balance marks besides those at dart legs.
        grain: direction of the straight grain.
        inside: marks of the panel drawn on the piece, such as the hip line.
        roles: what an edge is where it is no plain seam, such as `hem`.
        body: `front` or `back`, or nothing.
        whole: what it and the other half's are called together, if that is so.
    """

    name: str
    title: str
    panel: str
    material: str = "shell"
    count: int = 1
    mirrored: bool = False
    folds: tuple[str, ...] = ()
    allowances: Mapping[str, tuple[AllowanceRun, ...]] = field(default_factory=dict)
    corners: Mapping[tuple[str, End], Corner] = field(default_factory=dict)
    turned_up: tuple[str, ...] = ()
    notches: tuple[NotchSpec, ...] = ()
    grain: Grain = Grain()
    inside: tuple[str, ...] = ()
    roles: Mapping[str, str] = field(default_factory=dict)
    body: str = ""
    half: str = ""
    whole: str = ""

    @property
    def stem(self) -> str:
        """What left and right are called together; its own name where it is whole."""
        return self.whole or self.name

    def role(self, edge: str) -> str:
        """What an edge is."""
        return self.roles.get(edge, "seam")
