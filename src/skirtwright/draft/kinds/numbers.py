"""Numbers worked, or read off what is drawn already, and what is said of them."""

from __future__ import annotations

from itertools import pairwise
from typing import Literal

from skirtwright.budget import LONGEST_SENTENCE
from skirtwright.draft.shapes.panel import Panel
from skirtwright.draft.step import (
    Figure,
    LineOf,
    PanelOf,
    PlaceOf,
    Step,
    Whether,
)
from skirtwright.geometry.chain import Chain
from skirtwright.geometry.point import Point
from skirtwright.geometry.tolerance import OUTLINE
from skirtwright.measures.records import ruled
from skirtwright.problems import Problem


class Number(Step):
    """A number by a working: a length, a plain number or an angle.

    One `of_both` is the same for both halves where left and right are drawn apart: the
    mean of theirs, such as how far the hem lies below the hip.
    """

    kind: Literal["number"] = "number"
    value: Figure
    of_both: bool = False

    def draw(self, value: float) -> float:
        """The number itself."""
        return float(value)


class Check(Step):
    """Says something when a condition holds; with `refuse` the draft stops there.

    `says` and `remedy` may name numbers above in braces: `{side_edge:length}`.
    """

    kind: Literal["check"] = "check"
    when: Whether
    grade: Literal["note", "caution", "wrong", "refuse"] = "note"
    says: str = ruled(max_length=LONGEST_SENTENCE)
    remedy: str = ruled(default="", max_length=LONGEST_SENTENCE)
    values: dict[str, Figure] = {}

    def draw(self, when: bool, values: dict[str, float]) -> Problem | None:
        """The finding, or nothing."""
        if not when:
            return None
        return Problem(
            code=f"style.{self.step}",
            severity="wrong" if self.grade == "refuse" else self.grade,
            where=self.step,
            values=values,
            says=self.says,
            remedy=self.remedy or None,
            stops=self.grade == "refuse",
        )


class Slant(Step):
    """The direction in which a line runs at a place on it, less an angle.

    0 is to the right, 90 up; the result lies between 0 and 360 before `less` is
    taken off.
    """

    kind: Literal["slant"] = "slant"
    line: LineOf
    at: PlaceOf
    less: Figure = "0 deg"

    def draw(self, line: Chain, at: Point, less: float) -> float:
        """The angle, degrees."""
        along = line.direction_at(line.nearest(at)[0])
        return along.heading_deg() % 360.0 - less


class WidthAt(Step):
    """How wide a panel is at a height over the zero line, its darts shut, mm."""

    kind: Literal["width_at"] = "width_at"
    panel: PanelOf
    up: Figure

    def draw(self, panel: Panel, up: float) -> float:
        """The width; nothing where the panel does not reach."""
        ring = panel.ring()
        across = sorted(
            _crossing(start, end, up)
            for start, end in zip(ring, [*ring[1:], ring[0]], strict=True)
            if (start.y > up) != (end.y > up)
        )
        width = sum(across[1::2]) - sum(across[::2])
        for dart in panel.darts:
            near, far = panel.legs(dart)
            if (near.y > up) == (far.y > up) != (dart.tip.y > up):
                left, right = (_met(leg, up) for leg in panel.leg_lines(dart))
                width -= abs(right - left)
        return width


def _met(leg: Chain, up: float) -> float:
    """How far right a leg is at a height between its ends."""
    steps = pairwise(leg.flattened(OUTLINE))
    return next(_crossing(a, b, up) for a, b in steps if (a.y > up) != (b.y > up))


def _crossing(start: Point, end: Point, up: float) -> float:
    """How far right the straight line between two points is at a height."""
    return start.x + (end.x - start.x) * (up - start.y) / (end.y - start.y)
