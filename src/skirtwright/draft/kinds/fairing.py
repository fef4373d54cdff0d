"""Edges made fair: redrawn to a length, or graded along their way."""

from __future__ import annotations

import math
from typing import ClassVar, Literal

from skirtwright.draft.shapes.darts import opened, shut_darts
from skirtwright.draft.shapes.edges import square_direction, swayed, with_edge
from skirtwright.draft.shapes.panel import Panel
from skirtwright.draft.solving import find
from skirtwright.draft.step import Length, PanelOf, Ratio, Step
from skirtwright.geometry.chain import Chain
from skirtwright.geometry.curves import (
    FLATTEST,
    FULLEST,
    ORDINARY,
    fair_fullness,
    level_at_ends,
    of_fullness,
    smooth_through,
)
from skirtwright.geometry.point import Motion, Point
from skirtwright.geometry.segment import Cubic
from skirtwright.geometry.tolerance import SAME
from skirtwright.problems import Refused

_MOST_MOVED = 3.0
"""How far an edge's end is moved at most, mm, so that a fair curve has the length."""

_AGREES = 1e-6
"""Lengths nearer than this, mm, are one."""

_ON_IT = 0.01
"""A place nearer to an edge than this, mm, lies on it."""


class RedrawToLength(Step):
    """Redraws an edge as one fair curve of a given length, with its darts shut.

    Both ends are square to what they meet; the fullness is found. Where no fair curve
    between them has that length, the end is moved along it by what is left, at most
    3 mm, and the edge it meets follows softly.
    """

    kind: Literal["redraw_to_length"] = "redraw_to_length"
    panel: PanelOf
    edge: str
    length: Length

    rewrites: ClassVar[str | None] = "panel"

    def draw(self, panel: Panel, length: float) -> Panel:
        """The panel with the edge redrawn, its darts shut and opened again.

        Raises:
            Refused: its ends are one place, a pleat is folded on it, or the curve
                misses a dart.
        """
        chain = panel.edge(self.edge).chain
        darts = shut_darts(panel, self.edge)
        known = {dart.dart.name for dart in darts}
        if any(
            segment.fold and segment.fold not in known for segment in chain.segments
        ):
            raise Refused("draft.edge_has_folds", self.step, edge=self.edge)
        beyond = darts[-1].beyond if darts else Motion()
        start, end = chain.start, beyond(chain.end)
        if start.to(end) <= SAME:
            raise Refused("draft.line_too_short", self.step)
        leaving = square_direction(panel, self.edge, at_start=True)
        square = square_direction(panel, self.edge, at_start=False)
        arriving = beyond(square) - beyond(Point(0.0, 0.0))
        drawn, moved = _of_length(start, leaving, end, arriving, length)
        if darts:
            drawn = opened(drawn, darts, pressed_to_start=True)
        if moved:
            met, its_start = panel.neighbours(self.edge)[1]
            panel = panel.with_chain(
                met.name, swayed(met.chain, its_start, square * moved)
            )
        return panel.with_chain(self.edge, drawn)


def _of_length(
    start: Point, leaving: Point, end: Point, arriving: Point, length: float
) -> tuple[Chain, float]:
    """A fair curve of a length, mm, and how far its end was moved for it, mm."""

    def curve(fullness: float, moved: float = 0.0) -> Cubic:
        return of_fullness(start, leaving, end + arriving * moved, arriving, fullness)

    found = find(lambda f: curve(f).length - length, FLATTEST, FULLEST)
    fullness = fair_fullness(curve, found.value if found else ORDINARY)
    if abs(curve(fullness).length - length) <= _AGREES:
        return Chain((curve(fullness),)), 0.0
    rest = find(
        lambda moved: curve(fullness, moved).length - length, -_MOST_MOVED, _MOST_MOVED
    )
    moved = rest.value if rest else 0.0
    return Chain((curve(fullness, moved),)), moved


class GradedHem(Step):
    """Lets an edge down by more and more along its way; the edges it meets follow.

    `first` and `last` are what is let down where the whole way begins and ends
    (negative: taken up). The way may run over several panels: this edge lies between
    the shares `start_share` and `end_share` of it. It begins and ends level, by the
    rule 3u^2 - 2u^3; `late` above 1 keeps it back until the end.
    """

    kind: Literal["graded_hem"] = "graded_hem"
    panel: PanelOf
    edge: str
    first: Length
    last: Length
    start_share: Ratio = "0"
    end_share: Ratio = "1"
    late: Ratio = "1"

    rewrites: ClassVar[str | None] = "panel"

    def draw(
        self,
        panel: Panel,
        first: float,
        last: float,
        start_share: float,
        end_share: float,
        late: float,
    ) -> Panel:
        """The panel with the edge let down, square to a fold where it runs level.

        Raises:
            Refused: shares outside 0 to 1 or alike, or `late` under 1.
        """
        shares = (start_share, end_share)
        if min(shares) < 0 or max(shares) > 1 or start_share == end_share or late < 1:
            raise Refused("draft.shares_do_not_fit", self.step)
        edge, chain = panel.edge(self.edge), panel.edge(self.edge).chain

        def place(way: float) -> Point:
            share = start_share + (end_share - start_share) * way
            by = first + (last - first) * level_at_ends(math.pow(share, late))
            distance = way * chain.length
            along = chain.direction_at(distance)
            out = along.right() if edge.forward else along.left()
            return chain.at(distance) + out * by

        drawn = smooth_through(place)
        for (met, at_start), end in zip(
            panel.neighbours(self.edge), (drawn.start, drawn.end), strict=True
        ):
            panel = panel.with_chain(met.name, _cut_back(met.chain, at_start, end))
        return with_edge(panel, self.edge, drawn)


def _cut_back(chain: Chain, at_start: bool, place: Point) -> Chain:
    """An edge cut off at a place that lies on it; one that does not reach it stays."""
    walked, gap = chain.nearest(place)
    if gap > _ON_IT:
        return chain
    head, tail = chain.split(walked)
    return (tail if at_start else head) or chain


KINDS: tuple[type[Step], ...] = (RedrawToLength, GradedHem)
