"""Edges drawn anew between their ends: fair, even, eased, square, to a length."""

from __future__ import annotations

import math
from typing import Literal

from skirtwright.draft.shapes.darts import shut_darts, with_line_opened
from skirtwright.draft.shapes.edges import square_direction, swayed, walked, with_edge
from skirtwright.draft.shapes.panel import Panel
from skirtwright.draft.solving import find
from skirtwright.draft.step import EdgeStep, Length, LineOf, PlaceOf, Ratio
from skirtwright.geometry.chain import Chain, straight
from skirtwright.geometry.curves import (
    FLATTEST,
    FULLEST,
    ORDINARY,
    fair_fullness,
    level_at_ends,
    of_fullness,
    reaching,
    round_between,
    round_curve,
    rounded,
    smooth_through,
)
from skirtwright.geometry.meeting import nearest_of, ray_meets
from skirtwright.geometry.point import Motion, Point, bend_deg, turn
from skirtwright.geometry.segment import Cubic
from skirtwright.geometry.tolerance import SAME
from skirtwright.problems import Refused

_MOST_MOVED = 3.0
"""How far an edge's end is moved at most, mm, so that a fair curve has the length."""

_MOST_TRIES = 8
"""How often an end is brought nearer at most; a few times are enough."""

_AGREES = 1e-6
"""Lengths nearer than this, mm, are one."""

_MOST_AHEAD = 5.0
"""The slope of u^2 (1 - u)^2 is under 0.193; 5 of it is still less than the way's."""

_ON_IT = 0.01
"""A place nearer to an edge than this, mm, lies on it."""


class Redraw(EdgeStep):
    """Redraws an edge as one curve, with its darts shut.

    Each end leaves square to the edge it meets, or as the edge runs now; its reach is a
    share of the straight distance, less or more where the edge would bend too tightly.
    The darts are then opened again, which gives their caps.
    """

    kind: Literal["redraw"] = "redraw"
    start: Literal["square", "as_drawn"] = "square"
    end: Literal["square", "as_drawn"] = "square"
    start_reach: Ratio = "0.36"
    end_reach: Ratio = "0.36"
    pressed: Literal["start", "end"] = "start"

    def draw(self, panel: Panel, start_reach: float, end_reach: float) -> Panel:
        """The panel with the edge redrawn.

        Raises:
            Refused: the curve misses a dart.
        """
        chain = panel.edge(self.edge).chain
        darts = shut_darts(panel, self.edge)
        beyond = darts[-1].beyond if darts else Motion()
        leaving = chain.start_direction
        if self.start == "square":
            leaving = square_direction(panel, self.edge, at_start=True)
        arriving = chain.end_direction
        if self.end == "square":
            arriving = square_direction(panel, self.edge, at_start=False)
        origin = beyond(Point(0.0, 0.0))
        arriving = beyond(arriving) - origin
        end = beyond(chain.end)
        chord = chain.start.to(end)
        if chord <= SAME:
            raise Refused("draft.line_too_short", self.step)

        def curve(fullness: float) -> Cubic:
            reaches = chord * start_reach * fullness, chord * end_reach * fullness
            return reaching(chain.start, leaving, end, arriving, *reaches)

        shut = Chain((curve(fair_fullness(curve, 1.0)),))
        return with_line_opened(panel, self.edge, shut, self.pressed == "start")


class EvenFrom(EdgeStep):
    """Redraws an edge everywhere at one distance from a line.

    Straight stretches run level with the line; about each end of the line the edge
    is an arc, so that it meets a seam that hangs from there squarely.
    """

    kind: Literal["even_from"] = "even_from"
    line: LineOf
    distance: Length

    def draw(self, panel: Panel, line: Chain, distance: float) -> Panel:
        """The panel with the edge redrawn between its two ends.

        Raises:
            Refused: the distance is not positive.
        """
        if distance <= 0:
            raise Refused("draft.distance_not_positive", self.step, distance=distance)
        chain = panel.edge(self.edge).chain
        if chain.start.to(line.start) > chain.start.to(line.end):
            line = line.reversed()
        along = line.start_direction
        across = along.right()
        if across.dot(chain.at(chain.length / 2) - line.start) < 0:
            across = -across
        first, last = line.start + across * distance, line.end + across * distance
        ends = (chain.start, chain.end)
        swung = [
            _swung(corner, hinge, across, distance)
            for corner, hinge in zip(ends, (line.start, line.end), strict=True)
        ]
        # A lowered fold has the whole level to run into; two of them half of it each.
        middle = first.between(last, 0.5)
        far = (last if swung[1] else middle, first if swung[0] else middle)
        way = (last - first).unit()
        square = square_direction(panel, self.edge, at_start=True)
        foot = first if swung[0] else far[0]
        head = _gentle(ends[0], square, foot, way, arc=swung[0])
        square = square_direction(panel, self.edge, at_start=False)
        foot = last if swung[1] else far[1]
        tail = _gentle(foot, way, ends[1], square, arc=swung[1])
        level = None
        if not head.end.is_at(tail.start):
            level = straight(head.end, tail.start)
        parts = [part for part in (head, level, tail) if part is not None]
        drawn = parts[0].and_then(*parts[1:])
        segments = tuple(s for s in drawn.segments if s.length > SAME)
        return panel.with_chain(self.edge, Chain(segments))


def _swung(corner: Point, hinge: Point, down: Point, distance: float) -> bool:
    """True when an end swung aside about the line's end, so that an arc leads there.

    False when it hangs straight down, lowered or not: it runs gently into the level.
    """
    aside = abs(down.cross(corner - hinge))
    return aside > 4 * abs(corner.to(hinge) - distance) + SAME


def _gentle(
    start: Point, leaving: Point, end: Point, arriving: Point, *, arc: bool
) -> Chain:
    if start.is_at(end):
        return straight(start, end)
    if arc:
        return round_curve(start, leaving, end, arriving)
    return Chain((reaching(start, leaving, end, arriving, start.to(end) / 3),))


class EaseCorner(EdgeStep):
    """Eases a corner in an edge by a fair curve that begins `run` either side of it."""

    kind: Literal["ease_corner"] = "ease_corner"
    at: PlaceOf
    run: Length

    def draw(self, panel: Panel, at: Point, run: float) -> Panel:
        """The panel; lines drawn to the corner are drawn on to the curve.

        Raises:
            Refused: the run is negative or longer than the edge on one side.
        """
        chain = panel.edge(self.edge).chain
        here = walked(panel, self.edge, at)
        if run == 0:
            return panel
        room = min(here, chain.length - here)
        if run < 0 or run > room:
            raise Refused("draft.run_too_long", self.step, run=run, largest=room)
        leaving, arriving = (chain.direction_at(here + way) for way in (-run, run))
        if abs(bend_deg(leaving, arriving)) < 1e-6:
            return panel
        drawn = rounded(chain, here, run)
        result = panel.with_chain(self.edge, drawn)
        for mark in panel.marks:
            if isinstance(mark.shape, Chain):
                shape = _drawn_on(mark.shape, at, drawn)
                result = result.with_mark(mark.name, shape)
        return result


class EaseStart(EdgeStep):
    """Leads the start of an edge into the rest past a corner, by one fair curve.

    What lies before the corner was set on there. The curve begins `run` before it and
    ends `beyond` it. With `turned` under 1 only that share of the bend at the corner is
    made: the stretch before the curve leans on so much as the edge does past the
    corner, and its start stays where it is. A stretch set on that is next to nothing,
    with a turn that is next to nothing, leaves the edge next to as it was.
    """

    kind: Literal["ease_start"] = "ease_start"
    at: PlaceOf
    run: Length
    beyond: Length
    turned: Ratio = "1"

    def draw(
        self, panel: Panel, at: Point, run: float, beyond: float, turned: float
    ) -> Panel:
        """The panel with the edge led past the corner.

        Raises:
            Refused: a run that is not positive or longer than the edge on its side,
                or a share outside 0 to 1.
        """
        chain = panel.edge(self.edge).chain
        here = walked(panel, self.edge, at)
        for length, room in ((run, here), (beyond, chain.length - here)):
            if not 0 < length <= room:
                raise Refused("draft.run_too_long", self.step, run=length, largest=room)
        if not 0 <= turned <= 1:
            raise Refused("draft.shares_do_not_fit", self.step)
        stretch, rest = chain.split(here)
        if stretch is None or rest is None:
            raise Refused("draft.nothing_left", self.step, length=0.0)
        bend = bend_deg(rest.start_direction, stretch.start_direction)
        turning = turn(Point(0.0, 0.0), bend * turned)
        along = turning(rest.start_direction)
        begins = chain.start + along * (here - run)
        place, arriving = chain.at(here + beyond), chain.direction_at(here + beyond)
        curve = round_between(begins, along, place, arriving)
        drawn = Chain((curve,)).and_then(rest.split(beyond)[1])
        if here - run > SAME:
            drawn = straight(chain.start, begins).and_then(drawn)
        return panel.with_chain(self.edge, drawn)


def _drawn_on(line: Chain, corner: Point, curve: Chain) -> Chain:
    """A line that ended at a corner, drawn on to the curve that eases it."""
    if line.start.is_at(corner) and not line.end.is_at(corner):
        return _drawn_on(line.reversed(), corner, curve).reversed()
    if not line.end.is_at(corner):
        return line
    place = nearest_of(ray_meets(line.end, line.end_direction, curve), corner)
    if place is not None and not place.is_at(corner):
        return line.and_then(straight(line.end, place))
    place = nearest_of(ray_meets(line.end, -line.end_direction, curve), corner)
    if place is None or place.is_at(corner):
        return line
    return line.split(line.nearest(place)[0])[0] or line


class SquareEnd(EdgeStep):
    """Bends the last `run` of an edge so that it ends square to the edge it meets."""

    kind: Literal["square_end"] = "square_end"
    which: Literal["start", "end"] = "end"
    run: Length

    def draw(self, panel: Panel, run: float) -> Panel:
        """The panel.

        Raises:
            Refused: the run is not positive or longer than the edge.
        """
        chain = panel.edge(self.edge).chain
        if not 0 < run <= chain.length:
            raise Refused(
                "draft.run_too_long", self.step, run=run, largest=chain.length
            )
        square = square_direction(panel, self.edge, at_start=self.which == "start")
        reach = run / 3
        # Where the edge has a corner, the bend leads on from what is kept of it.
        if self.which == "start":
            rest = chain.split(run)[1]
            place = chain.at(run)
            along = rest.start_direction if rest else chain.end_direction
            bent = reaching(chain.start, square, place, along, reach)
            return panel.with_chain(self.edge, Chain((bent,)).and_then(rest))
        head = chain.split(chain.length - run)[0]
        place = chain.at(chain.length - run)
        along = head.end_direction if head else chain.start_direction
        last = Chain((reaching(place, along, chain.end, square, reach),))
        return panel.with_chain(self.edge, head.and_then(last) if head else last)


class RedrawToLength(EdgeStep):
    """Redraws an edge as one fair curve of a given length, with its darts shut.

    Both ends are square to what they meet; the fullness is found. Where no fair curve
    between them has that length, the end is moved along it by what is left, at most
    3 mm; the edge it meets follows softly and keeps its own length.
    """

    kind: Literal["redraw_to_length"] = "redraw_to_length"
    length: Length

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
        if chain.start.to(beyond(chain.end)) <= SAME:
            raise Refused("draft.line_too_short", self.step)
        leaving = square_direction(panel, self.edge, at_start=True)
        square = square_direction(panel, self.edge, at_start=False)
        arriving = beyond(square) - beyond(Point(0.0, 0.0))
        met, its_start = panel.neighbours(self.edge)[1]
        into = met.chain.start_direction if its_start else -met.chain.end_direction
        # Led aside, the edge that is met would be longer or shorter: the corner is
        # brought along it by as much, and the curve drawn once more from there.
        corner, follows = chain.end, met.chain
        for _ in range(_MOST_TRIES):
            drawn, moved = _of_length(
                chain.start, leaving, beyond(corner), arriving, length
            )
            aside = corner + square * moved - chain.end
            if aside == Point(0.0, 0.0):
                break
            follows = swayed(met.chain, its_start, aside)
            longer = follows.length - met.chain.length
            if abs(longer) <= _AGREES:
                break
            corner += into * longer
        return with_line_opened(panel.with_chain(met.name, follows), self.edge, drawn)


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


class GradedHem(EdgeStep):
    """Lets an edge down by more and more along its way; the edges it meets follow.

    `first` and `last` are what is let down where the whole way begins and ends
    (negative: taken up). The way may run over several panels: this edge lies between
    the shares `start_share` and `end_share` of it. It begins and ends level, by the
    rule 3u^2 - 2u^3; `late` above 1 keeps it back until the end. Where this edge ends
    counts as `ahead` further along, and what lies near it a little less: two halves
    whose shares differ are so let down alike where they meet.
    """

    kind: Literal["graded_hem"] = "graded_hem"
    first: Length
    last: Length
    start_share: Ratio = "0"
    end_share: Ratio = "1"
    late: Ratio = "1"
    ahead: Ratio = "0"

    def draw(
        self,
        panel: Panel,
        first: float,
        last: float,
        start_share: float,
        end_share: float,
        late: float,
        ahead: float,
    ) -> Panel:
        """The panel with the edge let down, square to a fold where it runs level.

        Raises:
            Refused: shares outside 0 to 1 or alike, `late` under 1, or so far `ahead`
                that the way would turn back.
        """
        shares = (start_share, end_share)
        most_ahead = _MOST_AHEAD * _both_ways(end_share)
        if (
            min(shares) < 0
            or max(shares) > 1
            or start_share == end_share
            or late < 1
            or abs(ahead) > most_ahead
        ):
            raise Refused("draft.shares_do_not_fit", self.step)
        edge, chain = panel.edge(self.edge), panel.edge(self.edge).chain

        def let_down(way: float) -> float:
            share = graded_share(way, shares, ahead)
            return first + (last - first) * level_at_ends(math.pow(share, late))

        def across(way: float) -> Point:
            along = chain.direction_at(way * chain.length)
            out = along.right() if edge.forward else along.left()
            return chain.at(way * chain.length) + out * let_down(way)

        met_edges = panel.neighbours(self.edge)
        # What is taken up ends on the edge it meets, however that is curved.
        aside = [
            _taken_up(met.chain, at_start, -let_down(way), across(way))
            for (met, at_start), way in zip(met_edges, (0.0, 1.0), strict=True)
        ]

        def place(way: float) -> Point:
            rest = aside[0] * level_at_ends(1 - way) + aside[1] * level_at_ends(way)
            return across(way) + rest

        drawn = smooth_through(place)
        for (met, at_start), end in zip(
            met_edges, (drawn.start, drawn.end), strict=True
        ):
            panel = panel.with_chain(met.name, _cut_back(met.chain, at_start, end))
        return with_edge(panel, self.edge, drawn)


def graded_share(way: float, shares: tuple[float, float], ahead: float) -> float:
    """Where on its whole way a place of a graded edge counts as lying.

    Args:
        way: the place, as a share of the edge.
        shares: where on the whole way the edge begins and ends.
        ahead: how much further along its end counts. The ends of the whole way stay,
            and the places between are moved by u^2 (1 - u)^2, without a kink.
    """
    share = shares[0] + (shares[1] - shares[0]) * way
    if ahead:
        share += ahead * _both_ways(share) / _both_ways(shares[1])
    return share


def _both_ways(share: float) -> float:
    """Nothing at 0 and at 1, and level there."""
    return share * share * (1 - share) * (1 - share)


def _taken_up(chain: Chain, at_start: bool, by: float, place: Point) -> Point:
    """How far aside of a place an edge runs, `by` mm along it; nothing beyond it."""
    if not 0 < by < chain.length:
        return Point(0.0, 0.0)
    return chain.at(by if at_start else chain.length - by) - place


def _cut_back(chain: Chain, at_start: bool, place: Point) -> Chain:
    """An edge cut off at a place that lies on it; one that does not reach it stays."""
    walked, gap = chain.nearest(place)
    if gap > _ON_IT:
        return chain
    head, tail = chain.split(walked)
    return (tail if at_start else head) or chain
