"""Gores: panels about an upright grain, shaped at their seams alone."""

from __future__ import annotations

import math
from typing import Literal

from skirtwright.draft.shapes.panel import Mark, Panel, panel_of
from skirtwright.draft.solving import find
from skirtwright.draft.step import Length, Ratio, Step
from skirtwright.geometry.chain import Chain
from skirtwright.geometry.chain import straight as line_through
from skirtwright.geometry.curves import (
    ORDINARY,
    fair_fullness,
    of_fullness,
    reaching,
    round_curve,
    round_curve_of_length,
    rounded,
)
from skirtwright.geometry.point import Point, heading, reflect, shift
from skirtwright.geometry.segment import Cubic
from skirtwright.geometry.tolerance import SAME
from skirtwright.problems import Refused

_LEAN = 1.5
"""A hip curve leans at the waist by so much more than its chord (as the block's)."""

_HANDLES = 0.30, 0.38
"""How far a hip curve follows its ends, at the waist and at the hip (the block's)."""

_EASED = 40.0
"""How far to both sides of the waist an edge that stands above it is eased, mm."""

_UPRIGHT_FROM = 35.0
"""An edge is led on upright where it stands so far above the waist, mm; lower down it
leans on by what is left, so that nothing is turned where nothing is raised (as the
block's)."""

_MOST_LEAN = 60.0
"""Degrees; an edge that leans further is no seam of a skirt (common practice)."""


class Gore(Step):
    """A gore: shaped to the waist and flared to the hem at its edges.

    Its edges are `waist`, `inner` (at x = 0), `hem` and `outer`; `hip` is marked, and
    `knee[1]` where the flare begins below it. The edges, the inner one first, are as
    long from the waist to the hip as `depths` says, and `below` from there; where it
    says four, the last two are how far they are led on above it, turning upright. The
    waist is as long as asked, square to both: what it is shorter than the hip is taken
    at the inner edge by `inner_share`, at the outer one by the rest. Each edge stands
    out from the hip by the first of `out` at `flare_from` below it, and from there by
    the second at the hem; the outer one by a third, where it is told. One that is
    `straight` (1) does not: the gore is half of one.
    """

    kind: Literal["gore"] = "gore"
    hip: Length
    waist: Length
    depths: list[Length]
    below: Length
    inner_share: Ratio = "0.5"
    flare_from: Length = "0"
    out: list[Length] = ["0", "0"]
    straight: list[Ratio] = ["0", "0"]

    def parts(self, of_panel: tuple[str, ...]) -> tuple[str, ...]:
        """Its own edges, and the levels marked on it."""
        return (*of_panel, "waist", "inner", "hem", "outer", "hip", "knee[1]")

    def draw(
        self,
        hip: float,
        waist: float,
        depths: tuple[float, ...],
        below: float,
        inner_share: float,
        flare_from: float,
        out: tuple[float, ...],
        straight: tuple[float, ...],
    ) -> Panel:
        """The gore.

        Raises:
            Refused: a measure that is not positive or not told for both, edges too
                short for what they would have to take in, or for the flare.
        """
        least = min(hip, waist, *depths[:2], below - flare_from)
        if least <= 0:
            raise Refused("draft.distance_not_positive", self.step, distance=least)
        if len(straight) != 2 or len(depths) not in (2, 4) or len(out) not in (2, 3):
            raise Refused("draft.gore_of_two_edges", self.step)
        first, line, last = self._shaped(hip, waist, depths, inner_share)
        inner, outer = (
            self._flared(below, flare_from, out[0], at_hem)
            for at_hem in (out[1], out[-1])
        )
        edge = inner if straight[1] > 0 else outer
        # An edge that is not flared is the middle of a whole gore, and its hem's.
        half = hip + edge.end.x
        low = edge.end.y - half * math.tan(_lean_of(edge) / 2)
        plain = line_through(Point(0.0, 0.0), Point(0.0, low))
        over = reflect(Point(0.0, 0.0), Point(0.0, 1.0))
        left, right = (
            plain if told > 0 else flared
            for told, flared in zip(straight, (inner, outer), strict=True)
        )
        left, right = left.moved(over), right.moved(shift(Point(hip, 0.0)))
        square = [edge.end_direction.left() for edge in (left, right)]
        panel = panel_of(
            [
                ("waist", line),
                ("inner", first.and_then(left)),
                ("hem", round_curve(left.end, square[0], right.end, square[1])),
                ("outer", last.and_then(right)),
            ]
        )
        levels = [("hip", 0.0)] + ([("knee[1]", flare_from)] if flare_from > 0 else [])
        marks = (
            Mark(
                name,
                line_through(left.at(down), right.at(down)),
                name.partition("[")[0],
            )
            for name, down in levels
        )
        return Panel(panel.edges, panel.darts, tuple(marks))

    def _shaped(
        self, hip: float, waist: float, depths: tuple[float, ...], share: float
    ) -> tuple[Chain, Chain, Chain]:
        """The inner edge down to the hip, the waist, and the outer edge."""
        raised = depths[2:] or (0.0, 0.0)

        def tops(taken: float) -> tuple[Chain, Chain, Chain]:
            first = _hip_curve(0.0, taken * share, depths[0])
            last = _hip_curve(hip, -taken * (1 - share), depths[1])
            first, last = _raised(first, raised[0]), _raised(last, raised[1])
            return first, _waist_line(first, last), last

        most = 0.9 * min(depths[:2])
        found = find(
            lambda taken: tops(taken)[1].length - waist, -most, most, hip - waist
        )
        if found is None or not found.agrees:
            values = {"taken": hip - waist, "depth": min(depths[:2])}
            raise Refused("draft.gore_takes_too_much", self.step, **values)
        return tops(found.value)

    def _flared(self, below: float, flare_from: float, out: float, hem: float) -> Chain:
        """An outer edge from the hip line down, which it leaves at the zero point."""
        hip = Point(0.0, 0.0)
        if flare_from <= SAME:
            return self._leaning(hip, 0.0, below, 1 / 3, hem)[0]
        begun, lean = self._leaning(hip, 0.0, flare_from, 1 / 2, out)
        depth = below - flare_from
        return begun.and_then(self._leaning(begun.end, lean, depth, 1 / 3, hem)[0])

    def _leaning(
        self, start: Point, before: float, length: float, share: float, out: float
    ) -> tuple[Chain, float]:
        """A run that turns in its first share, so that it ends so far out; its lean."""

        def run(lean: float) -> Chain:
            way = heading(270 + lean)
            if abs(lean - before) <= SAME:
                return line_through(start, start + way * length)
            bend = round_curve_of_length(
                start, heading(270 + before), way, share * length
            )
            rest = line_through(bend.end, bend.end + way * ((1 - share) * length))
            return bend.and_then(rest)

        found = find(
            lambda lean: run(lean).end.x - start.x - out,
            -_MOST_LEAN,
            _MOST_LEAN,
            math.degrees(math.asin(max(min(out / length, 0.8), -0.8))),
        )
        if found is None or not found.agrees:
            raise Refused(
                "draft.turns_too_far", self.step, opening=out, largest=0.8 * length
            )
        return run(found.value), found.value


def _lean_of(edge: Chain) -> float:
    """How far an edge leans out where it ends, radians."""
    return math.atan2(edge.end_direction.x, -edge.end_direction.y)


def _hip_curve(x: float, taken: float, length: float) -> Chain:
    """An edge from the waist to the hip line, which it reaches upright.

    It is a curve of the length with the waist `taken` to the right of the hip.
    """
    hip = Point(x, 0.0)
    if abs(taken) <= SAME:
        return line_through(Point(x, length), hip)

    def drawn(high: float) -> Chain:
        top = Point(x + taken, high)
        chord = top.to(hip)
        lean = _LEAN * math.degrees(math.asin(taken / chord))
        reaches = (share * chord for share in _HANDLES)
        return Chain((reaching(top, heading(270 - lean), hip, heading(270), *reaches),))

    level = math.sqrt(max(length * length - taken * taken, 0.0))
    found = find(lambda high: drawn(high).length - length, 0.5 * level, length, level)
    return drawn(found.value if found else level)


def _raised(edge: Chain, by: float) -> Chain:
    """An edge led on over the waist, turning upright; as much longer, and eased."""
    if by <= SAME:
        return edge
    run = min(0.8 * by, _EASED)
    leans = math.atan2(-edge.start_direction.x, -edge.start_direction.y)
    left = max(1 - by / _UPRIGHT_FROM, 0.0)
    way = heading(90 - math.degrees(leans) * left)

    def eased(up: float) -> Chain:
        top = edge.start + way * up
        return rounded(line_through(top, edge.start).and_then(edge), up, run)

    return eased(2 * by + edge.length - eased(by).length)


def _waist_line(first: Chain, last: Chain) -> Chain:
    """From the top of one edge to that of the other, square to both, and fair."""
    start, end = first.start, last.start
    leaving, arriving = (edge.start_direction.left() for edge in (first, last))

    def curve(fullness: float) -> Cubic:
        return of_fullness(start, leaving, end, arriving, fullness)

    return Chain((curve(fair_fullness(curve, ORDINARY)),))
