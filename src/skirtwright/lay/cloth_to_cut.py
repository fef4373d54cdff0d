"""A cloth: how wide it is, how it lies, and what pieces on it must keep to."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import cache
from typing import Any, Literal

from skirtwright import shelf
from skirtwright.measures.units import Unit, read_length
from skirtwright.problems import BadInput

Fold = Literal["lengthwise", "crosswise", "single"]
"""Folded selvedge to selvedge, end to end, or lying open in a single layer."""

WIDEST = 5_000.0
"""No loom is wider, mm."""

LONGEST = 100_000.0
"""No bolt is longer, mm."""

MOST_SHRUNK = 0.5
"""Cloth that shrinks by more is none to make a skirt of."""


@dataclass(frozen=True)
class Cloth:
    """One cloth of an order, in mm and shares.

    Attributes:
        width: as sold, selvedge to selvedge.
        selvedge: left free at each side.
        on_hand: the length she has; None where it is to be bought.
        one_way: nap or a print that runs one way: all pieces lie heads up.
        repeat_along, repeat_across: of its stripes, checks or print; 0 for none.
        shrinks_along, shrinks_across: by what share, 0.05 is a twentieth. It is
            shrunk before it is cut.
        gap: kept free between pieces.
        price: of a metre.
    """

    material: str
    width: float
    selvedge: float = 15.0
    on_hand: float | None = None
    fold: Fold = "lengthwise"
    one_way: bool = False
    repeat_along: float = 0.0
    repeat_across: float = 0.0
    shrinks_along: float = 0.0
    shrinks_across: float = 0.0
    gap: float = 0.0
    price: float | None = None

    @property
    def shrunk_width(self) -> float:
        """Selvedge to selvedge when it is cut, mm."""
        return self.width * (1 - self.shrinks_across)

    @property
    def edge(self) -> float:
        """Where pieces may begin: from the fold, or from the left edge, mm."""
        return 0.0 if self.fold == "lengthwise" else self.selvedge

    @property
    def room(self) -> float:
        """Between fold and selvedge, or between the selvedges, mm."""
        usable = self.shrunk_width - 2 * self.selvedge
        return usable / 2 if self.fold == "lengthwise" else usable

    @property
    def pattern_begins(self) -> float:
        """Where a repeat across begins: at the fold, or in the middle, mm."""
        return 0.0 if self.fold == "lengthwise" else self.shrunk_width / 2

    @property
    def layers(self) -> int:
        """How many lie on one another."""
        return 1 if self.fold == "single" else 2

    def bought(self, length: float) -> float:
        """What is to be bought for a length that is cut, mm."""
        return length / (1 - self.shrinks_along)

    def left(self, length: float) -> float:
        """What a bought length shrinks to, mm."""
        return length * (1 - self.shrinks_along)


def checked(cloth: Cloth) -> Cloth:
    """The cloth, where pieces can be laid on it.

    Raises:
        BadInput: naming what of it is no cloth's.
    """
    name = cloth.material
    if not 0 < cloth.width <= WIDEST:
        raise BadInput("cloth.width", name, width=cloth.width, most=WIDEST)
    if cloth.on_hand is not None and not 0 < cloth.on_hand <= LONGEST:
        raise BadInput("cloth.on_hand", name, length=cloth.on_hand, most=LONGEST)
    lengths = cloth.selvedge, cloth.gap, cloth.repeat_along, cloth.repeat_across
    if not all(0 <= length <= LONGEST for length in lengths):
        raise BadInput("cloth.out_of_range", name)
    for share in (cloth.shrinks_along, cloth.shrinks_across):
        if not 0 <= share <= MOST_SHRUNK:
            raise BadInput("cloth.shrinks", name, share=share, most=MOST_SHRUNK)
    if cloth.price is not None and not 0 <= cloth.price < math.inf:
        raise BadInput("cloth.price", name, price=cloth.price)
    _check_goes(cloth, name)
    return cloth


def _check_goes(cloth: Cloth, name: str) -> None:
    """Refuse a cloth on which nothing could lie so."""
    if cloth.room <= 0:
        values = {"width": cloth.width, "selvedge": cloth.selvedge}
        raise BadInput("cloth.all_selvedge", name, **values)
    repeats = cloth.repeat_along, cloth.repeat_across
    for repeat in repeats:
        if 0 < repeat < LEAST_REPEAT:
            values = {"repeat": repeat, "least": LEAST_REPEAT}
            raise BadInput("cloth.fine_repeat", name, **values)
    repeat = max(repeats)
    if repeat > cloth.room:
        raise BadInput("cloth.repeat", name, repeat=repeat, room=cloth.room)
    if cloth.fold == "crosswise" and cloth.one_way:
        raise BadInput("cloth.nap_crosswise", name)


@cache
def table() -> dict[str, Any]:
    """What shops sell, `resources/cloths.json`."""
    found: dict[str, Any] = shelf.read_json("cloths.json")
    return found


def usual(material: str, unit: Unit) -> Cloth:
    """The cloth as it is commonly sold, folded lengthwise.

    Args:
        material: as pieces name it; one the table does not know is as wide as the
            main cloth.
        unit: cloth comes in other widths where she works in inches.
    """
    known = table()["cloths"]
    widths = known.get(material, known["shell"])["width"]
    width = read_length(widths[unit == "in"])
    return Cloth(material, width, read_length(table()["selvedge"]))


def widths_sold(unit: Unit) -> tuple[float, ...]:
    """The widths cloth is commonly sold in, mm."""
    return tuple(map(read_length, table()["widths"]["in" if unit == "in" else "cm"]))


def widest_sold() -> float:
    """The widest that cloth is commonly sold, mm."""
    return max(*widths_sold("cm"), *widths_sold("in"))


def sold(length: float, unit: Unit) -> float:
    """A length up to what a shop cuts: 10 cm, or an eighth of a yard, mm."""
    step = read_length(table()["sold_by"]["in" if unit == "in" else "cm"])
    return math.ceil(length / step - 1e-9) * step


def opened(cloth: Cloth) -> Cloth:
    """The same cloth in a single layer."""
    return replace(cloth, fold="single")


LEAST_REPEAT = 5.0
"""mm; a finer pattern is cut as plain cloth (common practice, no source)."""
