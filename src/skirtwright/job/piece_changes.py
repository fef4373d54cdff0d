"""What she set for single pieces of an order, as it is kept."""

from __future__ import annotations

from skirtwright.measures.records import Record, ruled
from skirtwright.pieces.parts import MOST_JOINS
from skirtwright.pieces.piece_settings import HandNotch, PieceSettings

MOST_SNIPS = 3
"""Snips of one notch; more cannot be told apart at a glance."""

MOST_TITLE = 80
"""Letters of a piece's name."""


class AddedNotch(Record):
    """A notch she placed: how far along an edge, as typed, and how many snips."""

    edge: str
    at: str = ruled(max_length=200)
    count: int = ruled(default=1, ge=1, le=MOST_SNIPS)


class PieceChanges(Record):
    """What she set for one piece; kept even when the piece or an edge is gone.

    Attributes:
        title: her name for it; empty for the style's.
        hidden: left off the table and the paper.
        allowances: as typed, by edge; `edge[1]` is the first run of an edge.
        joins: where it is cut apart and joined again, as typed: from its fold, else
            from its left or lower end; 0 is a seam on the fold.
        across: cut with the grain across it.
    """

    piece: str
    title: str = ruled(default="", max_length=MOST_TITLE)
    hidden: bool = False
    allowances: dict[str, str] = {}
    notches: tuple[AddedNotch, ...] = ()
    joins: tuple[str, ...] = ruled(default=(), max_length=MOST_JOINS)
    across: bool = False

    @property
    def is_plain(self) -> bool:
        """True when nothing is set."""
        return self == PieceChanges(piece=self.piece)

    def settings(self) -> PieceSettings:
        """The same as cutting asks for it."""
        notches = tuple(HandNotch(n.edge, n.at, n.count) for n in self.notches)
        return PieceSettings(
            self.title,
            self.hidden,
            self.allowances,
            notches,
            self.joins,
            self.across,
        )
