"""Pleats laid all along straight cloth: what they take up, and their lines."""

from __future__ import annotations

from dataclasses import replace
from typing import Final, Literal

from skirtwright.budget import spend
from skirtwright.draft.shapes.folds import Fold
from skirtwright.draft.shapes.panel import Mark, Panel
from skirtwright.geometry.chain import Chain, straight
from skirtwright.geometry.point import Point
from skirtwright.geometry.segment import Cubic, Segment
from skirtwright.geometry.tolerance import SAME

Side = Literal["before", "after", "hidden", "whole_before", "whole_after"]
"""Which part of a pleat lies about its middle: the half before or after it with its
fold, the half before it without one, or the whole with its fold before or after."""

_LEVEL: Final = 0.5
"""A line across lies as deep as the pleats run aslant, within so much, mm."""


class PleatedCloth:
    """A panel in which pleats are laid one after another along an edge.

    Args:
        edge: the straight edge along which they are folded; it may slope a little.
        to: the straight edge they run to, square to it.
        down: how far below the edge their lines begin to run straight, mm.
    """

    def __init__(self, panel: Panel, edge: str, to: str, down: float) -> None:
        self._panel, self._edge = panel, edge
        self._top = panel.edge(edge).chain
        foot = panel.edge(to).chain
        along = foot.start_direction
        slope = along.dot(self._top.start_direction)
        self._along = along if slope > 0 else -along
        self._level = abs(slope)
        across = self._along.right()
        deep = (foot.start - self._top.start).dot(across)
        self._into = across if deep > 0 else -across
        self._deep, self._down = abs(deep), down
        self._taken: list[tuple[float, float, float, float, str]] = []
        self._marks: list[Mark] = []

    def lay(self, side: Side, middle: float, half: float, half_low: float) -> None:
        """Lay a pleat, or half of one; halves of what it takes up, above and below."""
        spend("steps", 1)
        before = side != "after"
        after = side in ("after", "whole_before", "whole_after")
        name = str(Fold("pleat", len(self._taken) + 1))
        low, high = -1.0 if before else 0.0, 1.0 if after else 0.0
        self._taken.append(
            (
                middle + low * half,
                middle + high * half,
                middle * self._level + low * half_low,
                middle * self._level + high * half_low,
                name,
            )
        )
        lines = {"middle": 0.0}
        if side in ("before", "whole_before", "whole_after", "hidden"):
            lines["fold" if side in ("before", "whole_before") else "meets"] = -1.0
        if after:
            lines["meets" if side == "whole_before" else "fold"] = 1.0
        for line, way in lines.items():
            below = middle * self._level + way * half_low
            chain = self._line(middle + way * half, below)
            self._marks.append(Mark(f"{name}.{line}", chain))

    def folded(self) -> Panel:
        """The panel with all that was laid."""
        spots = [(low, high, name) for low, high, _, _, name in self._taken]
        drawn = self._panel.with_chain(self._edge, _taken_up(self._top, spots))
        spots = [(low, high, name) for _, _, low, high, name in self._taken]
        marks = tuple(
            replace(mark, shape=_taken_up(mark.shape, spots))
            if isinstance(mark.shape, Chain) and self._lies_level(mark.shape)
            else mark
            for mark in drawn.marks
        )
        return replace(drawn, marks=(*marks, *self._marks))

    def _lies_level(self, line: Chain) -> bool:
        away = [(p - self._top.start).dot(self._into) for p in (line.start, line.end)]
        return all(abs(far - self._down) < _LEVEL for far in away)

    def _line(self, above: float, below: float) -> Chain:
        """A line of a pleat from the edge down to the other one."""
        low = self._top.start + self._along * below
        top, knee = self._top.at(above), low + self._into * self._down
        foot = low + self._into * self._deep
        if abs(above - below) <= SAME:
            return straight(top, knee, foot)
        # A parabola that runs into the straight: as the hip does, it fills out at once.
        bent = low + self._into * (self._down / 2)
        slant = Cubic(top, top.between(bent, 2 / 3), knee.between(bent, 2 / 3), knee)
        return Chain((slant, *straight(knee, foot).segments))


def _taken_up(line: Chain, spots: list[tuple[float, float, str]]) -> Chain:
    """A straight line with stretches of it folded away."""
    start, way = line.start, line.start_direction
    segments: list[Segment] = []
    walked = 0.0

    def place(far: float) -> Point:
        return line.end if far >= line.length - SAME else start + way * far

    for low, high, name in (*spots, (line.length, line.length, "")):
        if low - walked > SAME:
            segments += straight(place(walked), place(low)).segments
        if high - low > SAME:
            taken = straight(place(low), place(high))
            segments += taken.taken_up(name).segments
        walked = high
    return Chain(tuple(segments))
