"""An edge walked one way, as a seam walks it: read from text and written here only."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

_BACKWARDS: Final = "-"


@dataclass(frozen=True, slots=True)
class Run:
    """One edge, walked in its own direction or backwards.

    Attributes:
        piece: the piece, on the draft the panel, whose edge it is; a step that names
            its panel elsewhere leaves it empty.
        forward: False where it is walked from its end to its start.
    """

    piece: str
    edge: str
    forward: bool = True

    @classmethod
    def of(cls, text: str) -> Run:
        """Read `panel.edge`, or `-panel.edge` walked backwards, or an edge alone."""
        piece, _, edge = text.removeprefix(_BACKWARDS).rpartition(".")
        return cls(piece, edge, not text.startswith(_BACKWARDS))

    def __str__(self) -> str:
        """As `of` reads it."""
        sign = "" if self.forward else _BACKWARDS
        return f"{sign}{self.named}" if self.piece else self.signed

    @property
    def named(self) -> str:
        """The edge as a place is named on it: `panel.edge`."""
        return f"{self.piece}.{self.edge}"

    @property
    def signed(self) -> str:
        """The edge alone, `-edge` where it is walked backwards."""
        return self.edge if self.forward else f"{_BACKWARDS}{self.edge}"

    @property
    def key(self) -> tuple[str, str]:
        """The piece and the edge, however it is walked."""
        return self.piece, self.edge

    def on(self, piece: str) -> Run:
        """The same edge of another piece, walked the same way."""
        return Run(piece, self.edge, self.forward)

    def own_distance(self, distance: float, length: float) -> float:
        """From a distance along the walk to the edge's own, or back, mm."""
        return distance if self.forward else length - distance


Side = tuple[Run, ...]
"""One side of a seam: its edges in the order they are walked."""
