"""Whether left and right differ, and the draft to be worked where they do.

What writes a draft out for both halves is loaded for the first that needs it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from types import MappingProxyType
from typing import Final

from skirtwright.draft.draft import Draft
from skirtwright.draft.inputs import Inputs
from skirtwright.measures.measurements import SIDES, measurements, of_side
from skirtwright.measures.units import Unit
from skirtwright.remembered import Remembered

NOTHING_APART: Final[Mapping[str, tuple[float, float]]] = MappingProxyType({})


class Halving:
    """Writes drafts out one after another; one that stays the same is kept.

    Another figure of what differs already has nothing written out again.
    """

    def __init__(self) -> None:
        self._written = Remembered(_written)
        self._measured = Remembered(_measured)

    def of(
        self,
        draft: Draft,
        inputs: Inputs,
        apart: Mapping[str, tuple[float, float]] = NOTHING_APART,
    ) -> tuple[Draft, Inputs]:
        """The draft and inputs with both halves written out, where they differ.

        Args:
            draft: drafted for one half.
            apart: numbers that the draft speaks of and that differ, mm.

        Returns:
            The draft as it was when left and right are alike; and inputs without
            sides, each measurement taken by sides being the mean of the two.
        """
        sides = both_sides(inputs.measurements)
        if not (sides or apart):
            return draft, inputs
        whole = as_one(inputs)
        differing = {name: both for name, both in sides.items() if both[0] != both[1]}
        if not (differing or apart):
            return draft, whole
        both = {**differing, **apart}
        written = self._written.of("", draft, tuple(both), inputs.unit)
        return self._measured.of("", written, both), whole


def as_one(inputs: Inputs) -> Inputs:
    """Inputs without sides, each measurement taken by sides being the mean of both."""
    plain = {n: v for n, v in inputs.measurements.items() if not of_side(n)}
    for name, (left, right) in both_sides(inputs.measurements).items():
        plain[name] = (left + right) / 2
    return replace(inputs, measurements=plain)


def _written(draft: Draft, differing: tuple[str, ...], unit: Unit) -> Draft:
    from skirtwright.draft.halves.repeating import written

    return written(draft, differing, unit)


def _measured(written: Draft, sides: Mapping[str, tuple[float, float]]) -> Draft:
    from skirtwright.draft.halves.repeating import number
    from skirtwright.draft.halves.rewriting import millimetres

    found = [
        number(f"{name}_{side}", millimetres(length))
        for name, both in sides.items()
        for side, length in zip(SIDES, both, strict=True)
    ]
    return written.replace(steps=(*found, *written.steps))


def both_sides(given: Mapping[str, float]) -> dict[str, tuple[float, float]]:
    """Left and right of what was taken by sides, mm, a half girth counted double.

    Where only the lengths to the floor were, the hip is level and so lies as much
    deeper under the waist where that stands higher over the floor (plain geometry).
    """
    found: dict[str, tuple[float, float]] = {}
    for name, known in measurements().items():
        left, right = (given.get(f"{name}_{side}") for side in SIDES)
        if known.sides == "half":
            found |= _half_girths(name, left, right, given.get(name))
        elif left is not None or right is not None:
            whole = given.get(name)
            found[name] = (_first(left, whole, right), _first(right, whole, left))
    depth, floor = given.get("waist_to_hip"), found.get("waist_to_floor_side")
    if floor and depth is not None and "waist_to_hip" not in found:
        higher = (floor[0] - floor[1]) / 2
        found["waist_to_hip"] = (depth + higher, depth - higher)
    return found


def _half_girths(
    name: str, left: float | None, right: float | None, whole: float | None
) -> dict[str, tuple[float, float]]:
    """A side that was not taken is what the whole leaves, or like the other."""
    if left is None and right is None:
        return {}
    rest = None if whole is None else whole - _first(left, right)
    return {name: (2 * _first(left, rest, right), 2 * _first(right, rest, left))}


def _first(*values: float | None) -> float:
    return next(value for value in values if value is not None)
