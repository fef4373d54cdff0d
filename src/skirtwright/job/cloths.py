"""The cloths of an order: what she set for each, as typed, and its changes."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from typing import Any

from skirtwright.draft.draft import PieceOf
from skirtwright.lay.by_hand import HandLay
from skirtwright.lay.cloth_to_cut import Cloth, Fold, checked, usual
from skirtwright.measures.records import Record, ruled
from skirtwright.measures.unit_marking import length_with_unit
from skirtwright.measures.units import Unit, read_length, read_number
from skirtwright.pieces.larger import Shrinks
from skirtwright.problems import Problem, SkirtwrightError, told_of
from skirtwright.words import Phrase, has_message

LENGTHS = ("width", "selvedge", "on_hand", "repeat_along", "repeat_across", "gap")
"""Fields that are lengths."""

_SHARES = ("shrinks_along", "shrinks_across")

MOST_CLOTHS = 20
"""No skirt is cut of more."""

MOST_TYPED = 200
"""Letters of what is typed for one."""


_MEASURES: dict[str, float] = {"m": 1.0, "yd": 0.9144}
"""What a price is of, m."""


def read_price(text: str, unit: Unit) -> float:
    """A price as typed: of a metre, or of a yard where it says so or she uses inches.

    Raises:
        BadInput: it is no number.
    """
    amount, _, of = price_with_measure(text, unit).partition("/")
    return read_number(amount) / _MEASURES[of]


def price_with_measure(text: str, unit: Unit) -> str:
    """A price with what it is of behind it, where that is not said."""
    amount, _, of = (part.strip() for part in text.partition("/"))
    if not amount or of in _MEASURES:
        return f"{amount}/{of}" if amount else text
    return f"{text.strip()}/{'yd' if unit == 'in' else 'm'}"


class ChosenCloth(Record):
    """One cloth; what is empty is as that cloth commonly comes.

    Attributes:
        width: as sold, selvedge to selvedge.
        selvedge: left free at each side.
        on_hand: the length she has; empty where it is to be bought.
        fold: how it lies when it is cut.
        one_way: nap, or a print that runs one way.
        repeat_along, repeat_across: of its stripes, checks or print.
        shrinks_along, shrinks_across: by how many of a hundred.
        gap: kept free between pieces.
        price: of a metre, or of a yard where bare lengths are inches; so it stays
            when the unit changes, `14.50/yd` or `14.50/m`.
        laid: how she laid the pieces by hand.
        cut_larger: pieces are cut larger by what it shrinks, and it is not shrunk
            before it is cut.
    """

    material: str = ruled(max_length=MOST_TYPED)
    width: str = ruled(default="", max_length=MOST_TYPED)
    selvedge: str = ruled(default="", max_length=MOST_TYPED)
    on_hand: str = ruled(default="", max_length=MOST_TYPED)
    fold: Fold = "lengthwise"
    one_way: bool = False
    repeat_along: str = ruled(default="", max_length=MOST_TYPED)
    repeat_across: str = ruled(default="", max_length=MOST_TYPED)
    shrinks_along: str = ruled(default="", max_length=MOST_TYPED)
    shrinks_across: str = ruled(default="", max_length=MOST_TYPED)
    gap: str = ruled(default="", max_length=MOST_TYPED)
    price: str = ruled(default="", max_length=MOST_TYPED)
    laid: HandLay | None = None
    cut_larger: bool = False

    def with_units(self, unit: Unit) -> ChosenCloth:
        """The same, each length without a unit given one, and the price its measure."""
        texts = {name: getattr(self, name) for name in LENGTHS}
        found = {
            name: length_with_unit(text, unit)
            for name, text in texts.items()
            if text.strip()
        }
        found["price"] = price_with_measure(self.price, unit)
        return self.replace(**found)

    def cloth(self, unit: Unit) -> Cloth:
        """The cloth to lay pieces on.

        Args:
            unit: of lengths typed without one.

        Raises:
            BadInput: a text is no length or number, or it is no cloth.
        """
        found: dict[str, Any] = {"fold": self.fold, "one_way": self.one_way}
        for name in LENGTHS:
            found |= self._read(name, lambda text: read_length(text, unit))
        for name in _SHARES:
            found |= self._read(name, lambda text: read_number(text) / 100)
        found |= self._read("price", lambda text: read_price(text, unit))
        cloth = checked(replace(usual(self.material, unit), **found))
        if self.cut_larger:
            return replace(cloth, shrinks_along=0.0, shrinks_across=0.0)
        return cloth

    def shrinks(self) -> tuple[float, float]:
        """By what share it shrinks along and across.

        Raises:
            BadInput: a text is no number, or no cloth shrinks by so much.
        """
        found: dict[str, Any] = {}
        for name in _SHARES:
            found |= self._read(name, lambda text: read_number(text) / 100)
        cloth = checked(replace(usual(self.material, "cm"), **found))
        return cloth.shrinks_along, cloth.shrinks_across

    def _read(self, name: str, how: Callable[[str], float]) -> dict[str, float]:
        text = getattr(self, name)
        if not text.strip():
            return {}
        try:
            return {name: how(text)}
        except SkirtwrightError as error:
            raise told_of(error, Phrase(f"cloth_value.{name}")) from error


def unused_cloths(
    cloths: Iterable[ChosenCloth], pieces: Iterable[PieceOf], cut: Iterable[str]
) -> Iterator[Problem]:
    """What she set for cloths that no piece of the style is ever cut of: said, kept.

    Args:
        pieces: of the style, as it may be cut.
        cut: the materials the order is cut of.
    """
    known = {piece.material for piece in pieces}
    for own in cloths:
        if own.material not in known:
            told = {"cloth": _in_words(own.material), "known": [*map(_in_words, cut)]}
            yield Problem("cloth.no_piece", "note", own.material, told)


def _in_words(material: str) -> Phrase | str:
    known = f"label.material.{material}"
    return Phrase(known) if has_message(known) else material


def shrinks_after(
    cloths: Iterable[ChosenCloth], unit: Unit
) -> tuple[Shrinks, list[Problem]]:
    """By what cloths shrink along and across that pieces are cut larger for.

    Of one that cannot be read, which is told as wrong, the pieces are not larger.

    Args:
        unit: of lengths typed without one.
    """
    found: dict[str, tuple[float, float]] = {}
    untold: list[Problem] = []
    for cloth in cloths:
        try:
            cloth.cloth(unit)
            if cloth.cut_larger:
                found[cloth.material] = cloth.shrinks()
        except SkirtwrightError as error:
            problem = replace(error.problem, severity="wrong", stops=False)
            untold.append(replace(problem, where=cloth.material))
    return found, untold
