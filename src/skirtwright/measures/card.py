"""The measurement card of one client, as it is kept and as it is read."""

from __future__ import annotations

from collections.abc import Callable
from typing import Annotated, Any

from skirtwright.measures.measurements import read_measurement
from skirtwright.measures.records import ReadBy, Record, ruled
from skirtwright.measures.strict_json import read_as, read_strict
from skirtwright.measures.units import Unit
from skirtwright.problems import BadInput

MOST_YEARS = 120
"""Of an age."""


def _as_typed(value: Any, read: Callable[[Any], str]) -> str:
    """A number written without quotes is kept as the text it was."""
    plain = isinstance(value, int | float) and not isinstance(value, bool)
    return read(repr(value) if plain else value)


class Card(Record, strict=True):
    """One client's measurements, each kept as it was typed.

    Attributes:
        measurements: name of the measurement to the text typed, such as `74 cm`.
        unit: of numbers typed without one.
        notes: hers, free.
        age: in whole years, of a child; it stands in a file only where it is given.
    """

    name: str = ruled(max_length=200)
    measurements: dict[str, Annotated[str, ReadBy(str, _as_typed)]]
    unit: Unit = "cm"
    notes: str = ruled(default="", max_length=20_000)
    age: int | None = ruled(default=None, ge=0, le=MOST_YEARS)


def read_age(typed: str) -> int | None:
    """An age in whole years; nothing typed, none.

    Raises:
        BadInput: it is no whole number of years.
    """
    text = typed.strip()
    whole = text.isascii() and text.isdigit() and len(text) <= len(str(MOST_YEARS))
    if text and not (whole and int(text) <= MOST_YEARS):
        raise BadInput("card.age_not_whole", "age", typed=typed, most=MOST_YEARS)
    return int(text) if text else None


def read_card(json_text: str | bytes, what: str = "the measurement card") -> Card:
    """The card in a JSON text.

    Args:
        json_text: the document.
        what: its name for refusals, such as the file's.

    Raises:
        BadInput: when it is not a card, with the place of what is wrong.
    """
    return read_as(Card, read_strict(json_text, what), what)


def values_of(card: Card) -> dict[str, float]:
    """The measurements of a card in mm.

    Raises:
        BadInput: an unknown measurement, or one that is not a usable length.
    """
    return {
        name: read_measurement(name, text, card.unit)
        for name, text in card.measurements.items()
    }
