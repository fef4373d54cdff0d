"""The open work: everything a person made; everything else is worked out from it."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from skirtwright import shelf
from skirtwright.draft.alterations import MOST_ALTERATIONS, Alteration
from skirtwright.draft.draft import Draft
from skirtwright.draft.inputs import Inputs
from skirtwright.job.cloths import MOST_CLOTHS, ChosenCloth
from skirtwright.job.piece_changes import PieceChanges
from skirtwright.job.prints import MOST_PRINTS, How, Print, with_print
from skirtwright.lay.by_hand import HandLay
from skirtwright.lay.cloth_to_cut import Cloth
from skirtwright.measures.card import Card, values_of
from skirtwright.measures.measurements import SIDES
from skirtwright.measures.records import Record, ruled, take
from skirtwright.measures.units import Unit
from skirtwright.pieces.differing import cutting_length
from skirtwright.pieces.parts import piece_of_part
from skirtwright.pieces.piece import Piece
from skirtwright.pieces.sheets_laid import SheetsLaid

_PRINTED = ("unit", "choices", "amounts", "pieces", "fitting", "draft")
"""What a print keeps as it was, beside the card."""


class Job(Record):
    """One order: whom it is for, how it is drafted, and how it is cut.

    Attributes:
        title: hers; may be empty.
        card: the client's measurements, as typed.
        draft: the style, copied, so that an old order never changes.
        amounts: what she set, as typed; the rest are at their defaults.
        choices: what she chose; the rest are at their defaults.
        unit: of numbers typed without one in `amounts`, `pieces` and `cloths`.
        pieces: what she set for single pieces.
        cloths: what she set for single cloths.
        prints: what was put on paper or saved as a file, the last one last.
        sample: True while the card is the shelf's sample, so that titles say so.
    """

    title: str = ruled(default="", max_length=200)
    sample: bool = False
    card: Card
    unit: Unit = "cm"
    choices: dict[str, str] = {}
    amounts: dict[str, str] = {}
    pieces: tuple[PieceChanges, ...] = ()
    cloths: tuple[ChosenCloth, ...] = ruled(default=(), max_length=MOST_CLOTHS)
    fitting: tuple[Alteration, ...] = ruled(default=(), max_length=MOST_ALTERATIONS)
    prints: tuple[Print, ...] = ruled(default=(), max_length=MOST_PRINTS)
    draft: Draft

    def piece(self, name: str) -> PieceChanges:
        """What she set for a piece; plain where she set nothing.

        Of a left or right piece where left and right differ: what she set for it by
        itself, else what she set while they were one. So it is of the parts of a piece
        that is cut apart.
        """
        known = {own.piece: own for own in self.pieces}
        drafted = {piece.name for piece in self.draft.pieces}
        if name not in known and (joined := piece_of_part(name)):
            own = self.piece(joined)
            bare = {"piece": name, "title": "", "notches": (), "joins": ()}
            return own.replace(**bare)
        whole, _, side = name.rpartition("_")
        if name in known or name in drafted or side not in SIDES or whole not in known:
            return known.get(name) or take(PieceChanges, {"piece": name})
        title = known[whole].title and f"{known[whole].title}, {side}"
        return known[whole].replace(piece=name, title=title)

    def chosen_cloth(self, material: str) -> ChosenCloth:
        """What she set for a cloth; plain where she set nothing."""
        known = {own.material: own for own in self.cloths}
        return known.get(material) or take(ChosenCloth, {"material": material})

    def cloth(self, material: str) -> Cloth:
        """The cloth that pieces of a material are laid on.

        Raises:
            BadInput: what she set for it is no cloth.
        """
        return self.chosen_cloth(material).cloth(self.unit)

    @property
    def hand_lays(self) -> dict[str, HandLay]:
        """Her lays by hand, by material."""
        return {own.material: own.laid for own in self.cloths if own.laid}

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

    def printed(
        self, on: str, how: How, pieces: Iterable[Piece], laid: SheetsLaid | None = None
    ) -> Job:
        """The order with a print of it, as it stands, noted in its record."""
        made = Print(
            on=on,
            how=how,
            drawn={piece.name: cutting_length(piece) for piece in pieces},
            card=self.card.replace(notes="", age=None),
            laid=laid,
            **{name: getattr(self, name) for name in _PRINTED},
        )
        return self.replace(prints=with_print(self.prints, made))

    def as_printed(self, one: Print) -> Job | None:
        """The order as it was when it was printed; None where that is not kept."""
        if not isinstance(one.draft, Draft):
            return None
        then = {name: getattr(one, name) for name in _PRINTED}
        return self.replace(card=one.card, prints=(), **then)


def sample_card(draft: Draft) -> Card:
    """The card a style is tried on."""
    return take(Card, shelf.read_json(f"cards/{draft.sample}.json"))


def new_job(draft: Draft, card: Card | None = None) -> Job:
    """An order for a style; with the style's sample card when none is given."""
    made = {"card": card or sample_card(draft), "sample": card is None, "draft": draft}
    # Each was read on its own: nothing is left to be checked.
    return Job.model_construct(**made)
