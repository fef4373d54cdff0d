"""All cloths of a skirt laid, and what there is to say of them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from skirtwright.geometry.tolerance import SAME
from skirtwright.lay.by_hand import HandLay, at_spots, why_left_off
from skirtwright.lay.cloth_to_cut import Cloth, checked, opened, sold
from skirtwright.lay.copies import copies_of
from skirtwright.lay.lay import QUICK, TRIES, Lay, lay
from skirtwright.measures.units import Unit
from skirtwright.pieces.cutting import Cut
from skirtwright.problems import Problem, Refused
from skirtwright.words import Left


@dataclass(frozen=True)
class Lays:
    """The lays of a skirt.

    Attributes:
        lays: one for each cloth that its pieces go on.
        refused: why they do not go on another.
        partial: what goes on a cloth that not all pieces go on.
    """

    lays: tuple[Lay, ...] = ()
    refused: tuple[Problem, ...] = ()
    partial: tuple[Lay, ...] = ()

    @cached_property
    def problems(self) -> tuple[Problem, ...]:
        """All there is to say: what does not go, lies wrong or is short."""
        return (*self.refused, *(problem for _, problem in self.told))

    @cached_property
    def told(self) -> tuple[tuple[Lay, Problem], ...]:
        """Of each lay what lies wrong or is short."""
        return tuple(
            (one, problem)
            for one in self.lays
            for problem in (*(fault.problem for fault in one.faults), *_short(one))
        )


NOT_LAID = Lays()


def materials(cut: Cut) -> tuple[str, ...]:
    """The cloths that pieces are cut of, in the order of the cut list."""
    shown = (piece for piece in cut.listed if piece.name not in cut.hidden)
    return tuple(dict.fromkeys(piece.spec.material for piece in shown))


def lay_all(
    cut: Cut,
    cloths: Iterable[Cloth],
    tries: int = TRIES,
    better: Callable[[float], None] | None = None,
    by_hand: Mapping[str, HandLay] = {},
) -> Lays:
    """The pieces laid on each cloth.

    Args:
        by_hand: lays by hand, by material: they stand where their pieces still fit.

    Raises:
        BadInput: one is no cloth.
    """
    known = list(cloths)
    lays: list[Lay] = []
    partial: list[Lay] = []
    refused: list[Problem] = []
    for number, cloth in enumerate(known):

        def part(share: float, before: int = number) -> None:
            if better:
                better((before + share) / len(known))

        hand = by_hand.get(cloth.material)
        try:
            if hand and hand.fits(cut, cloth):
                laid = at_spots(cut, checked(cloth), cloth, hand.spots)
            else:
                laid = lay(cut, cloth, tries, part)
        except Refused as error:
            refused.append(replace(error.problem, stops=False))
            continue
        why = why_left_off(laid) if laid else None
        refused += [why] if why else []
        if laid:
            (partial if why else lays).append(laid)
    return Lays(tuple(lays), tuple(refused), tuple(partial))


def partial_lay(cut: Cut, cloth: Cloth, tries: int = QUICK) -> Lay | None:
    """What goes on a cloth that is too narrow for some pieces; None where nothing does.

    Raises:
        BadInput: it is no cloth.
        Refused: more than any skirt is cut of.
    """
    single = opened(cloth)
    pieces = [p for p in cut.shown if p.spec.material == cloth.material]
    wide = [c.piece for c in copies_of(pieces, single) if c.across > single.room + SAME]
    left_off = {piece.name: piece for piece in wide}
    laid = lay(cut.without(left_off), cloth, tries) if left_off else None
    return replace(laid, left_off=tuple(left_off.values())) if laid else None


def _short(laid: Lay) -> Iterator[Problem]:
    """That she has less than the lay takes."""
    cloth = laid.asked
    if cloth.on_hand is not None and laid.bought > cloth.on_hand:
        yield Problem(
            "lay.too_little",
            "wrong",
            cloth.material,
            {
                "material": cloth.material,
                "needed": laid.bought,
                "length": cloth.on_hand,
                "short": Left(laid.bought, cloth.on_hand),
            },
        )


def saved_by_opening(cut: Cut, laid: Lay, unit: Unit, tries: int = QUICK) -> Lay | None:
    """The lay on the same cloth in a single layer, where less has to be bought.

    Args:
        unit: the shop's, for what it cuts.
    """
    if laid.cloth.fold == "single":
        return None
    try:
        single = lay(cut, opened(laid.asked), tries)
    except Refused:
        return None
    if single is None or sold(single.bought, unit) >= sold(laid.bought, unit):
        return None
    return single


def cost_of_repeat(cut: Cut, laid: Lay) -> float:
    """How much more cloth is cut because of its repeat, mm."""
    cloth = laid.asked
    if not (cloth.repeat_along or cloth.repeat_across):
        return 0.0
    plain = lay(cut, replace(cloth, repeat_along=0.0, repeat_across=0.0), QUICK)
    return max(laid.length - plain.length, 0.0) if plain else 0.0


@dataclass(frozen=True)
class AtWidth:
    """What would be bought of cloth of another width.

    Attributes:
        width: mm.
        bought: mm; None where the pieces do not go on it.
        fold: how it would lie.
    """

    width: float
    bought: float | None
    fold: str = ""


def at_widths(
    cut: Cut, cloth: Cloth, widths: Sequence[float], tries: int = TRIES
) -> Iterator[AtWidth]:
    """What would be bought of the same cloth in other widths."""
    for width in widths:
        try:
            laid = lay(cut, replace(cloth, width=width, on_hand=None), tries)
        except Refused:
            laid = None
        found = (laid.bought, laid.cloth.fold) if laid else (None,)
        yield AtWidth(width, *found)
