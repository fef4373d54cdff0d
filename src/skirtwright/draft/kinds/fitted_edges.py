"""Edges altered after a fitting: let out or taken in between two places, levelled."""

from __future__ import annotations

import math
from bisect import bisect
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import accumulate, pairwise
from typing import ClassVar, Literal

from skirtwright.draft.kinds.moved_edges import lengthened
from skirtwright.draft.shapes.edges import inward, swayed, walked
from skirtwright.draft.shapes.panel import Edge, Panel
from skirtwright.draft.step import EdgeStep, Length, PanelOf, PlaceOf, Step
from skirtwright.geometry.chain import Chain, join
from skirtwright.geometry.curves import level_at_ends, smooth_through
from skirtwright.geometry.point import Point
from skirtwright.geometry.segment import Segment
from skirtwright.geometry.tolerance import SAME
from skirtwright.problems import Refused

_STRETCH = 25.0
"""One curve is drawn for so much of an edge, mm."""

_ON_IT = 100 * SAME
"""A line ends on an edge where it comes as near as this, mm."""

_AS_LONG = 1e-3
"""Edges are as long as each other within this, mm: a shorter piece has no direction."""

_LEAST_STRETCH = 20.0
"""No seam is altered over less than this, mm; common practice, no source."""

_AT_THE_JOINT = 1 / 200
"""A line is not divided so near to where it was, as a share of what is altered."""

_NEARLY = 0.8
"""As the sine of an angle, 53 degrees: what meets an edge at less is not led on along
itself, and what would be led on by so much more, or less, is left."""

Move = Callable[[float], Point]
"""Where a place of an edge goes, by its walked distance, mm."""


class LetOutBetween(EdgeStep):
    """Lets an edge out between two places on it; less than nothing takes it in.

    All of `by` half way between them, nothing at both; where one of them is an end of
    the edge, all of it there, and where both are, everywhere. The edge keeps its
    length: it is cut off, or led straight on, at its end, and the edge that meets it
    there follows softly and is as much longer. Lines that end on the edge are led on to
    it the way they run.
    """

    kind: Literal["let_out_between"] = "let_out_between"
    first: PlaceOf
    last: PlaceOf
    by: Length

    def draw(self, panel: Panel, first: Point, last: Point, by: float) -> Panel:
        """The panel; the edges that meet a moved end follow.

        Raises:
            Refused: a place is not on the edge, the second not beyond the first, or too
                near to it to be drawn fair.
        """
        if abs(by) <= SAME:
            return panel
        edge = panel.edge(self.edge)
        chain = edge.chain
        low, high = (walked(panel, self.edge, place) for place in (first, last))
        if high - low <= SAME:
            raise Refused("draft.run_too_long", self.step, run=low, largest=high)
        from_start, to_end = low <= SAME, high >= chain.length - SAME
        least = least_stretch(by, from_start, to_end)
        if high - low < least - SAME:
            values = {"run": high - low, "by": abs(by), "least": least}
            raise Refused("draft.stretch_too_short", self.step, **values)
        share = _share_between(low, high, chain.length)
        turn = () if from_start or to_end else ((low + high) / 2,)
        endings = _endings(panel, chain)

        def let_out(way: Move) -> Panel:
            def move(distance: float) -> Point:
                return way(distance) * (by * share(distance))

            drawn = displaced(chain, (low, *turn, high), move)
            lost = chain.length - drawn.length
            if abs(lost) > _AS_LONG:
                drawn = lengthened(self.step, drawn, lost, False)
            return _with_lines_led(self._with_ends(panel, drawn), endings, move)

        square = -inward(edge, (chain.at(high) - chain.at(low)).unit())
        if not to_end:
            return let_out(lambda _: square)
        result = let_out(_way_out(panel, edge, low, endings, square))
        name = panel.neighbours(self.edge)[1][0].name
        grown = result.edge(name).chain.length - panel.edge(name).chain.length
        # What follows along a curve is a little longer, or shorter, than it is led.
        if not _NEARLY <= grown / by <= 1 / _NEARLY:
            return result
        return let_out(_way_out(panel, edge, low, endings, square, by / grown))

    def _with_ends(self, panel: Panel, drawn: Chain) -> Panel:
        """The panel with the edge, and those that meet it at its new ends."""
        first, second = panel.neighbours(self.edge)
        panel = panel.with_chain(self.edge, drawn)
        for (met, at_start), end in ((first, drawn.start), (second, drawn.end)):
            chain = panel.edge(met.name).chain
            by = end - (chain.start if at_start else chain.end)
            if by.to(Point(0.0, 0.0)) > SAME:
                panel = panel.with_chain(met.name, swayed(chain, at_start, by))
        return panel


@dataclass(frozen=True)
class _Ending:
    """An end of a marked line that lies on the edge, at a walked distance, mm."""

    mark: str
    line: Chain
    at_start: bool
    at: float


def _endings(panel: Panel, chain: Chain) -> list[_Ending]:
    """The ends of lines that lie on an edge, from its start on."""
    found = []
    for mark in panel.marks:
        line = mark.shape
        if not isinstance(line, Chain):
            continue
        for at_start, end in ((True, line.start), (False, line.end)):
            distance, gap = chain.nearest(end, _ON_IT)
            if gap <= _ON_IT:
                found.append(_Ending(mark.name, line, at_start, distance))
    return sorted(found, key=lambda one: one.at)


def _way_out(
    panel: Panel,
    edge: Edge,
    low: float,
    endings: Sequence[_Ending],
    square: Point,
    at_end: float = 1.0,
) -> Move:
    """Which way each place of an edge is let out, from a walked distance to its end.

    Where an edge or a line meets it nearly square it is the way that one runs on, so
    that it is longer by as much; elsewhere `square` to the whole stretch. From one to
    the next it turns softly. At the end of the edge it goes `at_end` times as far.
    """
    chain = edge.chain
    (first, of_first), (last, of_last) = panel.neighbours(edge.name)
    meeting = [
        (0.0, _onward(first.chain, of_first)),
        *((one.at, _onward(one.line, one.at_start)) for one in endings),
        (chain.length, _onward(last.chain, of_last) * at_end),
    ]
    known = [
        (place, way)
        for place, way in meeting
        if place >= low - SAME
        and -inward(edge, chain.direction_at(place)).dot(way) >= _NEARLY
    ]
    if not known:
        return lambda _: square
    places = [place for place, _ in known]

    def way(distance: float) -> Point:
        after = bisect(places, distance)
        start, first = known[max(after - 1, 0)]
        end, last = known[min(after, len(known) - 1)]
        if end - start <= SAME:
            return first
        soft = level_at_ends(min(max((distance - start) / (end - start), 0.0), 1.0))
        return first * (1.0 - soft) + last * soft

    return way


def _onward(chain: Chain, at_start: bool) -> Point:
    """The way a line runs on beyond one of its ends."""
    return -chain.start_direction if at_start else chain.end_direction


def _share_between(low: float, high: float, whole: float) -> Callable[[float], float]:
    """How much of a move each place of an edge takes part in."""
    from_start, to_end = low <= SAME, high >= whole - SAME

    def share(distance: float) -> float:
        way = min(max((distance - low) / (high - low), 0.0), 1.0)
        if from_start and to_end:
            return 1.0
        if from_start:
            return level_at_ends(1.0 - way)
        if to_end:
            return level_at_ends(way)
        return level_at_ends(min(2.0 * way, 2.0 - 2.0 * way))

    return share


def least_stretch(by: float, from_start: bool, to_end: bool) -> float:
    """Over how much of an edge it may be altered by so much, mm.

    It turns by no more than 45 degrees: `_share_between` is steepest at 1.5 over the
    way it has, which is half the stretch where it goes out and back. At its start it
    may be altered by what is being found, so there only the least holds.
    """
    if from_start:
        return 0.0 if to_end else _LEAST_STRETCH
    return max(_LEAST_STRETCH, (1.5 if to_end else 3.0) * abs(by))


def displaced(chain: Chain, places: Sequence[float], move: Move) -> Chain:
    """A line moved from the first to the last of some walked distances, mm.

    Between two of them that follow the move is one smooth curve.
    """
    joints = [0.0, *accumulate(segment.length for segment in chain.segments)]
    near = (places[-1] - places[0]) * _AT_THE_JOINT
    inner = []
    for place in places[1:-1]:
        joint = min(joints, key=lambda one: abs(one - place))
        inner.append(joint if abs(joint - place) <= near else place)
    parts = [chain.split(places[0])[0]]
    for low, high in pairwise((places[0], *inner, places[-1])):
        at = low
        for segment in chain.part(low, high).segments:
            parts.append(_displaced_part(segment, at, move))
            at += segment.length
    return join([*parts, chain.split(places[-1])[1]])


def _displaced_part(segment: Segment, at: float, move: Move) -> Chain:
    """One segment of a line, which begins at a walked distance, moved."""
    length = segment.length
    steps = max(1, math.ceil(length / _STRETCH))
    return smooth_through(
        lambda way: segment.at(way * length) + move(at + way * length), steps
    )


def _with_lines_led(drawn: Panel, endings: Sequence[_Ending], move: Move) -> Panel:
    """The panel with each line that ended on the edge led to where it lies now."""
    led: dict[str, Chain] = {}
    for one in endings:
        line = led.get(one.mark, one.line)
        led[one.mark] = swayed(line, one.at_start, move(one.at))
    for name, line in led.items():
        drawn = drawn.with_mark(name, line)
    return drawn


class ShortenAlong(EdgeStep):
    """Cuts the paper off along an edge: so much at each of several places of it.

    The places lie at even shares of the edge, the first at its start and the last at
    its end; between them it goes over softly. Less than nothing adds paper. The edges
    that meet it are cut off, or led straight on, by what is told of its ends.
    """

    kind: Literal["shorten_along"] = "shorten_along"
    cuts: list[Length]

    def draw(self, panel: Panel, cuts: tuple[float, ...]) -> Panel:
        """The panel with its edge drawn anew.

        Raises:
            Refused: darts or pleats open on the edge, fewer than two places are told,
                or nothing would be left of an edge that meets it.
        """
        edge = panel.edge(self.edge)
        chain = edge.chain
        if any(segment.fold for segment in chain.segments):
            raise Refused("draft.folds_on_edge", self.step, edge=self.edge)
        if len(cuts) < 2:
            raise Refused("draft.too_few_places", self.step)
        if max(abs(one) for one in cuts) <= SAME:
            return panel
        meeting = panel.neighbours(self.edge)
        shorter = [
            lengthened(self.step, one.chain, -cut, at_start)
            for (one, at_start), cut in zip(meeting, (cuts[0], cuts[-1]), strict=True)
        ]
        ends = [
            kept.start if at_start else kept.end
            for kept, (_, at_start) in zip(shorter, meeting, strict=True)
        ]
        moved = ends[0] - chain.start, ends[1] - chain.end
        inner = [
            inward(edge, chain.direction_at(chain.length * at / (len(cuts) - 1))) * cut
            for at, cut in enumerate(cuts[1:-1], 1)
        ]
        drawn = self._drawn(chain, [moved[0], *inner, moved[1]])
        for kept, (one, _) in zip(shorter, meeting, strict=True):
            panel = panel.with_chain(one.name, kept)
        return panel.with_chain(self.edge, drawn)

    def _drawn(self, chain: Chain, moves: list[Point]) -> Chain:
        """The edge with each of its even places moved by its own step."""
        spaces = len(moves) - 1

        def move(distance: float) -> Point:
            way = min(distance / chain.length, 1.0) * spaces
            at = min(int(way), spaces - 1)
            soft = level_at_ends(way - at)
            return moves[at] * (1.0 - soft) + moves[at + 1] * soft

        places = [chain.length * at / spaces for at in range(spaces + 1)]
        return displaced(chain, places, move)


class PutBack(Step):
    """Puts a panel back as another is, which was traced from it before."""

    kind: Literal["put_back"] = "put_back"
    panel: PanelOf
    traced: PanelOf

    rewrites: ClassVar[str | None] = "panel"

    def draw(self, panel: Panel, traced: Panel) -> Panel:
        """The panel as it was."""
        return traced
