"""The open work: everything a person made; everything else is worked out from it."""

from __future__ import annotations

from typing import Any

from skirtwright import shelf
from skirtwright.draft.draft import Draft
from skirtwright.draft.inputs import Inputs
from skirtwright.measures.card import Card, values_of
from skirtwright.measures.measurements import SIDES
from skirtwright.measures.records import Record, ruled, take
from skirtwright.measures.units import Unit
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
        piece: its name.
        title: her name for it; empty for the style's.
        hidden: left off the table and the paper.
        allowances: as typed, by edge; `edge[1]` is the first run of an edge.
        notches: placed by hand.
    """

    piece: str
    title: str = ruled(default="", max_length=MOST_TITLE)
    hidden: bool = False
    allowances: dict[str, str] = {}
    notches: tuple[AddedNotch, ...] = ()

    @property
    def is_plain(self) -> bool:
        """True when nothing is set."""
        return self == PieceChanges(piece=self.piece)

    def settings(self) -> PieceSettings:
        """The same as cutting asks for it."""
        notches = tuple(HandNotch(n.edge, n.at, n.count) for n in self.notches)
        return PieceSettings(self.title, self.hidden, self.allowances, notches)


class Job(Record):
    """One order: whom it is for, how it is drafted, and how it is cut.

    Attributes:
        title: hers; may be empty.
        card: the client's measurements, as typed.
        draft: the style, copied, so that an old order never changes.
        amounts: what she set, as typed; the rest are at their defaults.
        choices: what she chose; the rest are at their defaults.
        unit: of numbers typed without one in `amounts` and `pieces`.
        pieces: what she set for single pieces.
        sample: True while the card is the shelf's sample, so that titles say so.
    """

    title: str = ruled(default="", max_length=200)
    sample: bool = False
    card: Card
    unit: Unit = "cm"
    choices: dict[str, str] = {}
    amounts: dict[str, str] = {}
    pieces: tuple[PieceChanges, ...] = ()
    draft: Draft

    def piece(self, name: str) -> PieceChanges:
        """What she set for a piece; plain where she set nothing.

        Of a left or right piece where left and right differ: what she set for it by
        itself, else what she set while they were one.
        """
        known = {own.piece: own for own in self.pieces}
        drafted = {piece.name for piece in self.draft.pieces}
        whole, _, side = name.rpartition("_")
        if name in known or name in drafted or side not in SIDES or whole not in known:
            return known.get(name) or take(PieceChanges, {"piece": name})
        title = known[whole].title and f"{known[whole].title}, {side}"
        return known[whole].model_copy(update={"piece": name, "title": title})

    def inputs(self, provisional: dict[str, float] | None = None) -> Inputs:
        """What the draft is worked from.

        Args:
            provisional: amounts being dragged: mm, degrees or plain numbers.

        Raises:
            BadInput: a measurement on the card cannot be read.
        """
        amounts: dict[str, Any] = dict(self.amounts)
        amounts.update(provisional or {})
        return Inputs(values_of(self.card), amounts, self.choices, self.unit)


def sample_card(draft: Draft) -> Card:
    """The card a style is tried on."""
    return take(Card, shelf.read_json(f"cards/{draft.sample}.json"))


def new_job(draft: Draft, card: Card | None = None) -> Job:
    """An order for a style; with the style's sample card when none is given."""
    made = {"card": card or sample_card(draft), "sample": card is None, "draft": draft}
    # Each was read on its own: nothing is left to be checked.
    return Job.model_construct(**made)
