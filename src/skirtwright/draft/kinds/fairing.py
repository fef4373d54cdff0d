"""Edges made fair: redrawn to a length, or graded along their way."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import ClassVar, Literal

from skirtwright.draft.shapes.darts import opened, shut_darts
from skirtwright.draft.shapes.edges import square_direction, with_edge
from skirtwright.draft.shapes.panel import Panel
from skirtwright.draft.step import Length, PanelOf, Ratio, Step
from skirtwright.draft.working.solving import find
from skirtwright.geometry.chain import Chain
from skirtwright.geometry.point import Motion, Point
from skirtwright.geometry.segment import handled
from skirtwright.geometry.tolerance import SAME
from skirtwright.problems import Refused

_FLATTEST, _ORDINARY, _FULLEST = 0.05, 0.72, 1.4
"""Handles as shares of the way to where the two end directions meet."""

_STEPS = 12

_ON_IT = 0.01
"""A place nearer to an edge than this, mm, lies on it."""


class RedrawToLength(Step):
    """Redraws an edge as one curve of a given length, with its darts shut.

    Both ends stay and are square to what they meet; the fullness is found. Where no
    curve between them has that length the nearest is drawn.
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

        reaches = _reaches(start, leaving, end, arriving)

        def curve(fullness: float) -> Chain:
            first = leaving * (reaches[0] * fullness)
            last = arriving * (reaches[1] * fullness)
            return Chain((handled(start, first, end, last),))

        found = find(lambda h: curve(h).length - length, _FLATTEST, _FULLEST)
        drawn = curve(found.value if found else _ORDINARY)
        if darts:
            drawn = opened(drawn, darts, pressed_to_start=True)
        return panel.with_chain(self.edge, drawn)


def _reaches(
    start: Point, leaving: Point, end: Point, arriving: Point
) -> tuple[float, float]:
    """How far from each end the two directions meet: a curve within bends one way.

    Half the straight distance where they do not meet between the ends.
    """
    across = leaving.cross(arriving)
    chord = end - start
    if abs(across) > 1e-6:
        first, last = chord.cross(arriving) / across, leaving.cross(chord) / across
        if first > 0 and last > 0:
            return first, last
    return chord.size() / 2, chord.size() / 2


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
            turned = math.pow(share, late)
            by = first + (last - first) * turned * turned * (3 - 2 * turned)
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


def smooth_through(place: Callable[[float], Point]) -> Chain:
    """A smooth line through places at shares 0 to 1, of curves that follow them."""
    small = 1e-5

    def speed(way: float) -> Point:
        low, high = max(way - small, 0.0), min(way + small, 1.0)
        return (place(high) - place(low)) * (1 / (high - low))

    shares = [number / _STEPS for number in range(_STEPS + 1)]
    points = [place(share) for share in shares]
    speeds = [speed(share) * (1 / (3 * _STEPS)) for share in shares]
    return Chain(
        tuple(
            handled(start, leaving, end, arriving)
            for start, end, leaving, arriving in zip(
                points, points[1:], speeds, speeds[1:], strict=False
            )
        )
    )


KINDS: tuple[type[Step], ...] = (RedrawToLength, GradedHem)
