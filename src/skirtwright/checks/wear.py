"""Checks of the floor under the hem, and cautions of law and of bitter experience."""

from __future__ import annotations

from collections.abc import Iterator

from skirtwright.checks.checked_skirt import Skirt
from skirtwright.checks.limits import finding, graded, limits, severity_of
from skirtwright.measures.measurements import SIDES
from skirtwright.problems import Problem

_FLOOR_CODES = {
    "strong": "hem_on_floor",
    "caution": "hem_near_floor",
    "note": "hem_low",
}


def wear_checks(skirt: Skirt) -> Iterator[Problem]:
    """What there is to say of the hem over the floor, and of who wears it where."""
    yield from _lengths(skirt)
    clear = _clear(skirt)
    yield from _floor(clear, has_train=bool(skirt.stated("train")))
    yield from _floor_of_sides(clear)
    yield from _points(skirt)
    if clear and min(clear)[0] < limits()["near_floor"]["within"]:
        yield from _floor_lengths(skirt)
        yield from _shoes(skirt)
    yield from _wearer(skirt)


Clear = list[tuple[float, str]]
"""Height of the hem over the floor, mm, and where."""


def _lengths(skirt: Skirt) -> Iterator[Problem]:
    """A waist that stands higher over the level hip and hem on one side of her.

    A hem levelled off the floor says nothing of her hips.
    """
    left, right = (skirt.finished.get(f"length_{side}") for side in SIDES)
    if left is None or right is None or skirt.stated("hem_levelled"):
        return
    high, low = SIDES if left > right else SIDES[::-1]
    values = {
        "more": abs(left - right),
        "long": max(left, right),
        "short": min(left, right),
        "length": (left + right) / 2,
        "high": f"check.on_the_{high}",
        "low": f"check.on_the_{low}",
    }
    yield Problem("check.sides_uneven", "note", "length", values)


def _clear(skirt: Skirt) -> Clear:
    """How far the hem clears the floor at the sides and in front, in the shoes worn.

    Unless the length to the floor was taken on each side, it clears it by as much on
    both: the hem is level.
    """
    length, floor = skirt.finished.get("length"), skirt.body("waist_to_floor_side")
    values = skirt.worked.values
    ways: list[tuple[str, float | None, float | None]] = [
        (
            side,
            skirt.finished.get(f"length_{side}", length),
            values.get(f"waist_to_floor_side_{side}"),
        )
        for side in SIDES
    ]
    if any(floor is None for _, _, floor in ways):
        ways = [("side", length, floor)]
    ways += [
        ("front", skirt.stated("front_length"), skirt.body("waist_to_floor_front")),
    ]
    return [
        (floor - length, way)
        for way, length, floor in ways
        if length is not None and floor is not None
    ]


def _floor(clear: Clear, *, has_train: bool) -> Iterator[Problem]:
    if not clear:
        return
    least, way = min(clear)
    grade = "strong" if least <= 0 else graded("clearance", least)
    mended_by = limits()["clearance"]["mended_by"]
    values = {
        "clear": least,
        "over": -least,
        "way": f"check.at_{way}",
    }
    if grade:
        code = f"check.{_FLOOR_CODES[grade]}"
        yield Problem(code, severity_of(grade), "length", values, mended_by=mended_by)
    elif not has_train:
        yield from finding("floor_length", least, "length", values)


def _floor_of_sides(clear: Clear) -> Iterator[Problem]:
    """How far it clears the floor on each side, where it does not by as much."""
    over = {way: least for least, way in clear}
    if over.keys() >= set(SIDES):
        values = {**over, "apart": abs(over["left"] - over["right"])}
        yield Problem("check.floor_of_sides", "note", "length", values)


def _points(skirt: Skirt) -> Iterator[Problem]:
    """Low points and low backs over the floor; a train lies on it and says so."""
    ways = (("point_length", "side"), ("back_length", "back"))
    for measure, way in ways if not skirt.stated("train") else ():
        floor = skirt.body(f"waist_to_floor_{way}")
        lengths = [length for _, length in skirt.stated_at(measure)]
        if lengths and floor is not None:
            clear = floor - max(lengths)
            values = {"clear": clear, "over": -clear}
            codes = {"caution": "point_near_floor", "strong": "point_on_floor"}
            yield from finding("point_clearance", clear, "sweep", values, codes)


def _floor_lengths(skirt: Skirt) -> Iterator[Problem]:
    """The hip line lies level where the lengths to the floor hardly differ."""
    names = [f"waist_to_floor_{way}" for way in ("front", "side", "back")]
    taken = [length for name in names if (length := skirt.taken(name)) is not None]
    if len(taken) > 1:
        apart = max(taken) - min(taken)
        values = {"apart": apart}
        yield from finding("floor_lengths", apart, names[1], values)


def _shoes(skirt: Skirt) -> Iterator[Problem]:
    """A long skirt whose floor length was worked out, not taken in the shoes worn."""
    floor = skirt.body("waist_to_floor_side")
    if floor is not None and skirt.taken("waist_to_floor_side") is None:
        values = {"floor": floor}
        yield Problem("check.shoes", "note", "length", values)


def _wearer(skirt: Skirt) -> Iterator[Problem]:
    train = skirt.stated("train")
    if train:
        yield Problem("check.train", "caution", "length", {"train": train})
    yield from _child(skirt)
    if skirt.stated("nightwear"):
        yield Problem("check.nightwear", "caution", "length", {})
    if skirt.stated("seated"):
        yield Problem("check.seated", "caution", "length", {})
    sweep = skirt.finished.get("sweep")
    if sweep is not None:
        yield from finding("flame", sweep, "sweep", {"sweep": sweep})


def of_age(skirt: Skirt, years: int | None) -> tuple[Problem, ...]:
    """What is said of a child by her age, where her measurements did not say it."""
    if years is None or not graded("child_age", years) or _height_of_child(skirt):
        return ()
    sleeps = Problem("check.child_sleeps", "note", "length", {})
    if not _may_catch(skirt):
        return (sleeps,)
    return (*finding("child_age", years, "waist", {"age": years}), sleeps)


def _may_catch(skirt: Skirt) -> bool:
    return any(skirt.stated(what) for what in ("elastic", "cords", "train"))


def _child(skirt: Skirt) -> Iterator[Problem]:
    """What may catch, and what is slept in."""
    height = _height_of_child(skirt)
    if height is None:
        return
    if _may_catch(skirt):
        yield from finding("child", height, "waist", {"height": height})
    yield Problem("check.child_sleeps", "note", "length", {})


def _height_of_child(skirt: Skirt) -> float | None:
    """Of one whose height, else the way to whose knee, is a child's, mm."""
    height, knee = skirt.taken("height"), skirt.taken("waist_to_knee")
    if height is None and knee is not None and knee < limits()["child"]["knee"]:
        height = skirt.body("height")
    return height if height is not None and graded("child", height) else None
