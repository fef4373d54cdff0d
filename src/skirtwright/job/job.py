"""The open work: everything a person made; everything else is worked out from it."""

from __future__ import annotations

from typing import Any

from pydantic import BaseModel, ConfigDict, Field, SerializeAsAny

from skirtwright import shelf
from skirtwright.draft.draft import Draft
from skirtwright.draft.inputs import Inputs
from skirtwright.measures.card import Card, read_card, values_of
from skirtwright.measures.units import Unit

_FROZEN = ConfigDict(frozen=True, extra="forbid")


class PieceSetting(BaseModel):
    """What she set for one edge of one piece; kept even when the edge is gone."""

    model_config = _FROZEN

    piece: str
    edge: str
    allowance: str


class Job(BaseModel):
    """One order: whom it is for, how it is drafted, and how it is cut.

    Attributes:
        title: hers; may be empty.
        card: the client's measurements, as typed.
        draft: the style, copied, so that an old order never changes.
        amounts: what she set, as typed; the rest are at their defaults.
        choices: what she chose; the rest are at their defaults.
        unit: of numbers typed without one in `amounts` and `pieces`.
        pieces: allowances of her own.
        sample: True while the card is the shelf's sample, so that titles say so.
    """

    model_config = _FROZEN

    title: str = Field(default="", max_length=200)
    sample: bool = False
    card: Card
    unit: Unit = "cm"
    choices: dict[str, str] = {}
    amounts: dict[str, str] = {}
    pieces: tuple[PieceSetting, ...] = ()
    draft: SerializeAsAny[Draft]

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
    place = f"cards/{draft.sample}.json"
    with shelf.open_text(place) as text:
        return read_card(text.read(), place)


def new_job(draft: Draft, card: Card | None = None) -> Job:
    """An order for a style; with the style's sample card when none is given."""
    return Job(card=card or sample_card(draft), sample=card is None, draft=draft)
