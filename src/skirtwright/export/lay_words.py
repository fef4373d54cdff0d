"""What is said of a lay: how much cloth, how it lies, what else would do."""

from __future__ import annotations

from collections.abc import Iterator

from skirtwright.lay.all_cloths import (
    AtWidth,
    at_widths,
    cost_of_repeat,
    saved_by_opening,
)
from skirtwright.lay.cloth_to_cut import Cloth, sold, widths_sold
from skirtwright.lay.lay import Lay
from skirtwright.measures.units import Unit, show_length, show_number
from skirtwright.pieces.cutting import Cut
from skirtwright.pieces.wording.labels import material_words
from skirtwright.words import Left, Manner, say

_YARD = 36

_SELLS_METRES = 1000.0
_SELLS_YARDS = 914.4


def bought_words(length: float, unit: Unit) -> str:
    """A length up to what a shop cuts, with its unit."""
    up = sold(length, unit)
    if unit == "in":
        return f"{show_length(up / _YARD, 'in', 8)} yd"
    return show_length(up, "cm", with_unit=True)


def cost_words(length: float, cloth: Cloth, unit: Unit) -> str:
    """What a length up to what a shop cuts costs; empty where no price is known."""
    if cloth.price is None:
        return ""
    by = _SELLS_YARDS if unit == "in" else _SELLS_METRES
    return show_number(round(sold(length, unit) / by * cloth.price, 2))


def material_name(material: str, manner: Manner) -> str:
    """The name of a cloth, to begin a sentence with."""
    name = material_words(material, manner)
    return name[:1].upper() + name[1:]


def needs(laid: Lay, manner: Manner) -> str:
    """How much cloth a lay takes, in one sentence."""
    values = {
        "material": material_name(laid.cloth.material, manner),
        "width": laid.cloth.width,
        "how": f"lay.how.{laid.cloth.fold}",
        "length": laid.length,
        "bought": bought_words(laid.bought, manner.unit),
        "used": laid.efficiency,
    }
    return say("lay.needs", values, manner)


def lay_sentences(laid: Lay, cut: Cut, manner: Manner) -> Iterator[str]:
    """Everything there is to say of a lay."""
    yield needs(laid, manner)
    cloth = laid.asked
    if laid.cloth.fold != cloth.fold:
        yield say("lay.opened", {}, manner)
    if cloth.shrinks_along or cloth.shrinks_across:
        shrunk = {"bought": laid.bought, "length": laid.length}
        yield say("lay.shrunk_first", shrunk, manner)
    if cloth.on_hand is not None and cloth.on_hand >= laid.bought:
        left = Left(cloth.on_hand, laid.bought)
        values = {"length": cloth.on_hand, "left": left}
        yield say("lay.left_over", values, manner)
    single = saved_by_opening(cut, laid)
    if single:
        saved = {
            "length": single.length,
            "saved": Left(laid.length, single.length),
        }
        yield say("lay.opening_saves", saved, manner)
    more = cost_of_repeat(cut, laid)
    if more:
        yield say("lay.repeat_costs", {"more": more}, manner)
    cost = cost_words(laid.bought, cloth, manner.unit)
    if cost:
        yield say("lay.cost", {"cost": cost}, manner)


def width_sentences(cut: Cut, cloth: Cloth, manner: Manner) -> Iterator[str]:
    """What would be bought in each width it is commonly sold in."""
    for at in at_widths(cut, cloth, widths_sold(manner.unit)):
        yield _at_width(at, cloth, manner)


def _at_width(at: AtWidth, cloth: Cloth, manner: Manner) -> str:
    if at.bought is None:
        return say("lay.at_width_none", {"width": at.width}, manner)
    values = {
        "width": at.width,
        "bought": bought_words(at.bought, manner.unit),
        "how": f"lay.how.{at.fold}",
        "cost": cost_words(at.bought, cloth, manner.unit),
    }
    told = "lay.at_width_cost" if values["cost"] else "lay.at_width"
    return say(told, values, manner)
