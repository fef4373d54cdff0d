"""What finishes a skirt, drawn from its panels: linings, facings."""

from __future__ import annotations

from dataclasses import replace
from typing import ClassVar, Literal

from skirtwright.draft.shapes.darts import darts_on, opened, shut_darts
from skirtwright.draft.shapes.edges import inward, joined_to, walked, with_edge
from skirtwright.draft.shapes.folds import TUCK_LINES, Fold
from skirtwright.draft.shapes.panel import Edge, Panel, panel_of
from skirtwright.draft.shapes.shutting import shut_line
from skirtwright.draft.step import Length, PanelOf, PlaceOf, Step
from skirtwright.geometry.chain import Chain, straight
from skirtwright.geometry.curves import (
    ORDINARY,
    TIGHTEST,
    fair_fullness,
    level_at_ends,
    of_fullness,
    smooth_through,
    tightest_bend,
)
from skirtwright.geometry.point import Motion, Point, shift
from skirtwright.geometry.segment import Cubic
from skirtwright.geometry.tolerance import SAME
from skirtwright.problems import Refused


class CopyPanel(Step):
    """A panel once more under this step's name; its edges may take other names."""

    kind: Literal["copy"] = "copy"
    panel: PanelOf
    edges: dict[str, str] = {}

    edge_fields: ClassVar[tuple[str, ...]] = ("edges",)

    def parts(self, of_panel: tuple[str, ...]) -> tuple[str, ...]:
        """The edges under their other names too."""
        return (*of_panel, *self.edges.values())

    def draw(self, panel: Panel) -> Panel:
        """The copy.

        Raises:
            NotFound: the panel has no edge of a name that is changed.
        """
        for name in self.edges:
            panel.edge(name)
        new = self.edges
        return Panel(
            tuple(replace(e, name=new.get(e.name, e.name)) for e in panel.edges),
            tuple(replace(d, edge=new.get(d.edge, d.edge)) for d in panel.darts),
            panel.marks,
        )


class DartsToTucks(Step):
    """Makes tucks of the darts of an edge, `tuck[1]` on from its start.

    Each takes up what the dart did; its two lines, the marks `tuck[1].left` and
    `.right`, follow the dart's legs for `length`, below which the cloth is free.
    """

    kind: Literal["tucks"] = "tucks"
    panel: PanelOf
    edge: str
    length: Length
    pressed: Literal["start", "end"] = "end"

    rewrites: ClassVar[str | None] = "panel"

    def parts(self, of_panel: tuple[str, ...]) -> tuple[str, ...]:
        """The lines of the tucks too."""
        return (*of_panel, *map(Fold("tuck", 1).part, TUCK_LINES))

    def draw(self, panel: Panel, length: float) -> Panel:
        """The panel with tucks; the edge keeps its finished length and its run.

        Raises:
            Refused: a length that is not positive.
        """
        if length <= 0:
            raise Refused("draft.distance_not_positive", self.step, distance=length)
        shut = shut_darts(panel, self.edge)
        if not shut:
            return panel
        smooth = shut_line(panel, self.edge)
        chain = opened(smooth, shut, self.pressed == "start")
        tucks = {s.dart.name: Fold("tuck", n) for n, s in enumerate(shut, 1)}
        segments = (s.taken_up(str(tucks.get(s.fold, s.fold))) for s in chain.segments)
        drawn = panel.with_chain(self.edge, Chain(tuple(segments)))
        for dart in darts_on(panel, self.edge):
            for side, leg in zip(TUCK_LINES, panel.legs(dart), strict=True):
                reach = min(length, leg.to(dart.tip))
                foot = leg + (dart.tip - leg).unit() * reach
                line = straight(leg, foot)
                drawn = drawn.with_mark(tucks[dart.name].part(side), line)
        kept = tuple(dart for dart in panel.darts if dart.name not in tucks)
        return replace(drawn, darts=kept)


class LetOut(Step):
    """Lets an edge out: nothing at its start, `by` from a place on it to its end.

    Below the place the edge keeps its shape and length. Lines that ended on the edge
    are drawn on to it.
    """

    kind: Literal["let_out"] = "let_out"
    panel: PanelOf
    edge: str
    at: PlaceOf
    by: Length

    rewrites: ClassVar[str | None] = "panel"

    def draw(self, panel: Panel, at: Point, by: float) -> Panel:
        """The panel; the edge at the end of this one is brought along.

        Raises:
            Refused: the place is not on the edge, or is its start.
        """
        if by == 0:
            return panel
        edge = panel.edge(self.edge)
        here = walked(panel, self.edge, at)
        head, tail = edge.chain.split(here)
        if head is None:
            raise Refused("draft.run_too_long", self.step, run=here, largest=here)
        out = -inward(edge, edge.chain.direction_at(here)) * by

        def grown(distance: float) -> Point:
            way = min(distance / here, 1.0)
            return edge.chain.at(distance) + out * level_at_ends(way)

        drawn = smooth_through(lambda way: grown(way * here))
        lower = tail.moved(shift(out)) if tail else None
        result = with_edge(panel, self.edge, drawn.and_then(lower))
        for mark in panel.marks:
            if isinstance(mark.shape, Chain):
                shape = mark.shape
                for at_start, end in ((True, shape.start), (False, shape.end)):
                    distance, gap = edge.chain.nearest(end)
                    if gap <= 100 * SAME:
                        shape = joined_to(shape, at_start, grown(distance))
                result = result.with_mark(mark.name, shape)
        return result


class StripAlong(Step):
    """A strip along an edge of a panel with its darts shut, such as a facing.

    Its edges are `joins` (the panel's edge, its first `less` left out), `outer`, and
    `start` and `end`, which run as the panel's own edges do there.
    """

    kind: Literal["strip_along"] = "strip_along"
    panel: PanelOf
    edge: str
    width: Length
    less: Length = "0"

    def parts(self, of_panel: tuple[str, ...]) -> tuple[str, ...]:
        """Its own edges."""
        return ("joins", "end", "outer", "start")

    def draw(self, panel: Panel, width: float, less: float) -> Panel:
        """The strip.

        Raises:
            Refused: a width that is not positive, or wider than an edge it runs
                along; nothing left of the edge.
        """
        edge = panel.edge(self.edge)
        line = shut_line(panel, self.edge)
        if width <= 0 or less < 0:
            raise Refused("draft.distance_not_positive", self.step, distance=width)
        if less >= line.length:
            raise Refused("draft.nothing_left", self.step, length=line.length)
        darts = shut_darts(panel, self.edge)
        beyond = darts[-1].beyond if darts else Motion()
        first, second = (_from_edge(*near) for near in panel.neighbours(self.edge))
        shortest = min(first.length, second.length)
        if width >= shortest:
            raise Refused("draft.run_too_long", self.step, run=width, largest=shortest)
        joins = line.split(less)[1] or line
        start = first.part(0, width).moved(shift(joins.start - line.start))
        end = second.part(0, width).moved(beyond)
        outer = _beside(Edge(self.edge, joins, edge.forward), width, start.end, end.end)
        return panel_of(
            [("joins", joins), ("end", end), ("outer", outer), ("start", start)]
        )


def _from_edge(edge: Edge, its_start: bool) -> Chain:
    """A neighbour's line as it leaves the edge."""
    return edge.chain if its_start else edge.chain.reversed()


def _beside(edge: Edge, width: float, first: Point, last: Point) -> Chain:
    """The line beside an edge at a width inwards, brought to two given ends.

    It runs at each end as the edge does, so that it is square where the edge is.
    """
    chain = edge.chain

    def beside(way: float) -> Point:
        distance = way * chain.length
        return chain.at(distance) + inward(edge, chain.direction_at(distance)) * width

    off_first, off_last = first - beside(0.0), last - beside(1.0)

    def brought(way: float) -> Point:
        share = level_at_ends(way)
        return beside(way) + off_first * (1 - share) + off_last * share

    drawn = smooth_through(brought)
    if tightest_bend(drawn) >= TIGHTEST:
        return drawn
    # Beside a hollow narrower than the strip no line runs at one width: one curve does.
    leaving, arriving = chain.start_direction, chain.end_direction

    def curve(fullness: float) -> Cubic:
        return of_fullness(first, leaving, last, arriving, fullness)

    plain = Chain((curve(fair_fullness(curve, ORDINARY)),))
    return max(drawn, plain, key=tightest_bend)


class Rectangle(Step):
    """A rectangle, such as a band: edges `foot`, `right`, `top` and `left`.

    Foot and top run to the right, left and right run up. Its lower left corner lies
    `right` and `up` of the zero point.
    """

    kind: Literal["rectangle"] = "rectangle"
    wide: Length
    high: Length
    right: Length = "0"
    up: Length = "0"

    def parts(self, of_panel: tuple[str, ...]) -> tuple[str, ...]:
        """Its own edges."""
        return (*of_panel, "foot", "right", "top", "left")

    def draw(self, wide: float, high: float, right: float, up: float) -> Panel:
        """The panel.

        Raises:
            Refused: a side that is not positive.
        """
        if min(wide, high) <= 0:
            least = min(wide, high)
            raise Refused("draft.distance_not_positive", self.step, distance=least)
        a, b = Point(right, up), Point(right + wide, up)
        d, c = Point(right, up + high), Point(right + wide, up + high)
        return panel_of(
            [
                ("foot", straight(a, b)),
                ("right", straight(b, c)),
                ("top", straight(d, c)),
                ("left", straight(a, d)),
            ]
        )


KINDS: tuple[type[Step], ...] = (
    CopyPanel,
    DartsToTucks,
    LetOut,
    StripAlong,
    Rectangle,
)
