"""Cloths she keeps on a shelf of her own, for orders to pick from."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from skirtwright.job import habits
from skirtwright.job.cloths import LENGTHS, MOST_TYPED, ChosenCloth, price_with_measure
from skirtwright.job.job import Job
from skirtwright.lay.cloth_to_cut import Fold
from skirtwright.measures.letters import check_letters
from skirtwright.measures.records import Record, ruled
from skirtwright.measures.unit_marking import with_units
from skirtwright.problems import BadInput

_KEPT = "cloths.json"
MOST_TITLE = 60
"""Letters of a cloth's name."""

MOST_KEPT = 200
"""Cloths on a shelf."""


class ShelfCloth(Record):
    """One cloth, as typed, its lengths with their units.

    Attributes:
        width, selvedge, on_hand, fold, one_way, repeat_along, repeat_across,
        shrinks_along, shrinks_across, gap, price, cut_larger: as of `ChosenCloth`.
    """

    title: str = ruled(min_length=1, max_length=MOST_TITLE)
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
    cut_larger: bool = False

    @property
    def typed(self) -> dict[str, Any]:
        """What it is, for `set_cloth`."""
        return {name: value for name, value in self if name != "title"}


class _Shelf(habits.Habit):
    cloths: tuple[ShelfCloth, ...] = ruled(default=(), max_length=MOST_KEPT)


def kept() -> tuple[ShelfCloth, ...]:
    """Her cloths, in the order they came.

    Raises:
        FileTrouble, BadInput: the file is there and cannot be read.
    """
    found = habits.kept_as(_Shelf, _KEPT).cloths
    for one in found:
        ChosenCloth(material="shell", **one.typed).cloth("cm")
    return found


def keep(cloths: Sequence[ShelfCloth]) -> None:
    """Keep her cloths, instead of those kept before.

    Raises:
        FileTrouble: they cannot be written; what was kept stays.
    """
    habits.keep_as(_KEPT, _Shelf(cloths=tuple(cloths)))


def put(job: Job, material: str, title: str) -> ShelfCloth:
    """Put a cloth of an order on the shelf; one of the same name makes room.

    Raises:
        BadInput: the name is empty or too long, or the shelf is full.
        FileTrouble: it cannot be written.
    """
    title = " ".join(check_letters(title, "text.name").split())
    if not title:
        raise BadInput("cloth.no_name", material)
    if len(title) > MOST_TITLE:
        raise BadInput("cloth.long_name", material, most=MOST_TITLE)
    new = ShelfCloth(title=title, **dict(_marked(job, material)))
    others = [c for c in kept() if c.title.casefold() != title.casefold()]
    if len(others) >= MOST_KEPT:
        raise BadInput("cloth.full_shelf", material, most=MOST_KEPT)
    keep([*others, new])
    return new


def take_off(title: str) -> None:
    """Take a cloth off the shelf.

    Raises:
        FileTrouble: it cannot be written.
    """
    keep([cloth for cloth in kept() if cloth.title != title])


def in_use(job: Job, material: str, cloths: Sequence[ShelfCloth]) -> ShelfCloth | None:
    """The last of her cloths that is the one of an order, to the letter."""
    typed = dict(_marked(job, material))
    return next((one for one in reversed(cloths) if one.typed == typed), None)


def _marked(job: Job, material: str) -> Iterator[tuple[str, Any]]:
    """What an order says of a cloth, its lengths with their units."""
    chosen = job.chosen_cloth(material)
    for name, value in chosen:
        if name in ("material", "laid"):
            continue
        if name == "price":
            yield name, price_with_measure(value, job.unit)
        elif name in LENGTHS and value:
            yield name, with_units(value, job.unit)
        else:
            yield name, value
