"""What is said of a lay: how much cloth, how it lies, what else would do."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from skirtwright.geometry.box import box_of
from skirtwright.lay.all_cloths import (
    AtWidth,
    at_widths,
    cost_of_repeat,
    saved_by_opening,
)
from skirtwright.lay.cloth_to_cut import Cloth, sold, widths_sold
from skirtwright.lay.lay import Lay, Placed
from skirtwright.measures.units import Unit, show_length, show_number
from skirtwright.pieces.cutting import Cut
from skirtwright.pieces.wording.labels import material_words
from skirtwright.words import Left, Manner, say, translate

_YARD = 36

_METRE = 1000.0


def bought_words(length: float, unit: Unit) -> str:
    """A length up to what a shop cuts, with its unit."""
    up = sold(length, unit)
    if unit == "in":
        return f"{show_length(up / _YARD, 'in', 8)} yd"
    return show_length(up, "cm", with_unit=True)


def cost_words(length: float, cloth: Cloth, unit: Unit) -> str:
    """What a length up to what a shop cuts costs; empty where no price is known."""
    cost = cost_of(length, cloth, unit)
    return "" if cost is None else show_number(cost)


def cost_of(length: float, cloth: Cloth, unit: Unit) -> float | None:
    """The same as a number; None where no price is known."""
    if cloth.price is None:
        return None
    return in_hundredths(sold(length, unit) / _METRE * cloth.price)


def in_hundredths(cost: float) -> float:
    """A cost in whole hundredths of the currency, a half up as on a till.

    What a product of figures with few decimals is off by in binary is not counted.
    """
    from decimal import ROUND_HALF_UP, Decimal

    exact = Decimal(repr(round(cost, 6)))
    return float(exact.quantize(Decimal("0.01"), ROUND_HALF_UP))


def material_name(material: str, manner: Manner) -> str:
    """The name of a cloth, to begin a sentence with."""
    name = material_words(material, manner)
    return name[:1].upper() + name[1:]


def left_over(laid: Lay) -> Left | None:
    """What is left of cloth on hand that is enough; None where some is to be bought."""
    on_hand = laid.asked.on_hand
    if on_hand is None or on_hand < laid.bought:
        return None
    return Left(on_hand, laid.bought)


def needs(laid: Lay, manner: Manner) -> str:
    """How much cloth a lay takes, in one sentence."""
    values = {**lay_values(laid, manner), "used": laid.efficiency}
    return say("lay.takes" if values["left"] else "lay.needs", values, manner)


def lay_values(laid: Lay, manner: Manner) -> dict[str, Any]:
    """What sentences name of a lay: its cloth, how it lies and what it takes, mm."""
    return {
        "material": material_name(laid.cloth.material, manner),
        "width": laid.cloth.width,
        "how": f"lay.how.{laid.cloth.fold}",
        "length": laid.length,
        "bought": bought_words(laid.bought, manner.unit),
        "left": left_over(laid),
    }


def short_needs(laid: Lay, manner: Manner, *, sure: bool) -> list[str]:
    """What is to be bought of a cloth, and how much of it is cut."""
    values = lay_values(laid, manner)
    if not sure:
        told = ("needs_about", "until_laid")
    elif laid.faults:
        told = ("not_so", "lay_is")
    else:
        told = ("enough" if values["left"] else "needs", "lay_is")
    return [say(f"cloth.{name}", values, manner) for name in told]


def lay_title(laid: Lay, manner: Manner, *, sure: bool) -> tuple[str, str]:
    """The name of a cloth, and in short how it lies and what it takes.

    Args:
        sure: they were laid as they are; else what they take is an estimate.
    """
    values = lay_values(laid, manner)
    off = (translate(piece.spec.title, manner) for piece in laid.left_off)
    values["pieces"] = ", ".join(off)
    told = "enough" if values["left"] else "taken"
    if laid.left_off:
        told = "left_off"
    elif not sure:
        told = "about"
    elif laid.faults:
        told = "not_so"
    said = say(f"cloths.{told}", values, manner)
    return values["material"], said


def lay_sentences(laid: Lay, cut: Cut, manner: Manner) -> Iterator[str]:
    """Everything there is to say of a lay."""
    yield needs(laid, manner)
    cloth = laid.asked
    yield from opened_words(laid, manner)
    if cloth.shrinks_along or cloth.shrinks_across:
        shrunk = {"bought": laid.bought, "length": laid.length}
        yield say("lay.shrunk_first", shrunk, manner)
    left = left_over(laid)
    if left and not laid.faults:
        values = {"length": cloth.on_hand, "left": left}
        yield say("lay.left_over", values, manner)
    single = saved_by_opening(cut, laid, manner.unit)
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


def opened_words(laid: Lay, manner: Manner) -> Iterator[str]:
    """Why it lies open where it was to be folded."""
    if laid.cloth.fold != laid.asked.fold:
        wide = laid.too_wide_folded
        yield say("lay.opened" if wide else "lay.opened_for_one", {}, manner)


def placement_sentences(placed: Placed, laid: Lay, manner: Manner) -> str:
    """Where a piece lies and how it is cut, in sentences."""
    box = box_of(placed.outline)
    values = {"end": box.bottom, "across": box.left, "far": box.right}
    said = [say("lay.lies", values, manner)]
    if placed.copy.on_fold:
        said = [say("lay.lies_on_fold", values, manner)]
    if heads_down(placed):
        said.append(say("lay.heads_down", {}, manner))
    if placed.copy.opened:
        said.append(say("lay.opened_out", {}, manner))
    if laid.cloth.layers == 2 and not placed.copy.on_fold:
        said.append(say(f"lay.{_layers(placed)}", {}, manner))
    elif placed.way.mirrored and not placed.copy.on_fold:
        said.append(say("lay.turned_over", {}, manner))
    return " ".join(said)


def _layers(placed: Placed) -> str:
    """Which layers of folded cloth a piece is cut from.

    The cloth lies right sides together, so that of the lower layer the right side is
    up, as it is of the printed pattern; of the upper layer it is down.
    """
    if placed.copy.gives > 1:
        return "both_layers"
    return "upper_layer" if placed.way.mirrored else "lower_layer"


def heads_down(placed: Placed) -> bool:
    """True where what is up on the draft lies towards the cut end."""
    grain = placed.copy.piece.grain
    return placed.motion(grain.start).y > placed.motion(grain.end).y


def width_sentences(
    cut: Cut, cloth: Cloth, manner: Manner, tries: int
) -> Iterator[str]:
    """What would be bought in each width it is commonly sold in."""
    for at in at_widths(cut, cloth, widths_sold(manner.unit), tries):
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
