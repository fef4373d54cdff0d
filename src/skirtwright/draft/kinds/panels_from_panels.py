"""Panels made from panels: copied, cut apart, unfolded, turned over; a strip."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import ClassVar, Literal

from skirtwright.draft.runs import Run
from skirtwright.draft.shapes.edges import inward
from skirtwright.draft.shapes.folds import Fold
from skirtwright.draft.shapes.panel import Edge, Mark, Panel, moved_mark, panel_of
from skirtwright.draft.shapes.parting import cut_apart
from skirtwright.draft.shapes.worn import worn
from skirtwright.draft.step import Length, LineOf, PanelOf, Step
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
from skirtwright.geometry.point import Motion, Point, reflect, shift
from skirtwright.geometry.segment import Cubic, Segment
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


class CutApart(Step):
    """Cuts a panel apart along a line drawn from edge to edge.

    `first` is the part that holds the edge `holds`, `second` the other; `edge` names
    the new edge of both. Each part keeps the names of the edges it holds. What is left
    of a dart beyond the line stays one; narrower than `eased` it is left to be eased.
    """

    kind: Literal["cut_apart"] = "cut_apart"
    panel: PanelOf
    line: LineOf
    first: str
    second: str
    holds: str
    edge: str
    eased: Length = "0.6 cm"

    makes: ClassVar[tuple[str, ...]] = ("first", "second")

    edge_fields: ClassVar[tuple[str, ...]] = ("holds",)

    def parts(self, of_panel: tuple[str, ...]) -> tuple[str, ...]:
        """The new edge of both too."""
        return (*of_panel, self.edge)

    def draw(self, panel: Panel, line: Chain, eased: float) -> Mapping[str, Panel]:
        """The two parts.

        Raises:
            Refused: the line does not cut the panel in two, or neither part alone
                holds the named edge.
        """
        left, right = cut_apart(panel, line, self.edge, eased)
        holding = [
            any(edge.name == self.holds for edge in part.edges)
            for part in (left, right)
        ]
        if holding[0] == holding[1]:
            raise Refused("draft.cut_does_not_part", self.step, edge=self.holds)
        first, second = (left, right) if holding[0] else (right, left)
        return {self.first: first, self.second: second}


class Unfold(Step):
    """A panel opened out over an edge on the fold: whole, both halves in one.

    The fold becomes a mark of its own name. Edges that meet the fold run on through
    it; the mirrored ones are named by `others` (`{"side": "other_side"}`). Where left
    and right differ, the mirrored half is the `other` panel's, which is laid with its
    fold on this one's: a facing may begin elsewhere on each.
    """

    kind: Literal["unfold"] = "unfold"
    panel: PanelOf
    fold: str
    others: dict[str, str]
    other: PanelOf | None = None

    edge_fields: ClassVar[tuple[str, ...]] = ("fold", "others")

    def parts(self, of_panel: tuple[str, ...]) -> tuple[str, ...]:
        """The mirrored edges too."""
        return (*of_panel, *self.others.values())

    def draw(self, panel: Panel, other: Panel | None) -> Panel:
        """The whole panel.

        Raises:
            Refused: the fold is not straight or not the other's, or a mirrored edge
                has no name.
        """
        far = other or panel
        fold, far_fold = panel.edge(self.fold).chain, far.edge(self.fold).chain
        if not fold.start.is_at(far_fold.start):
            far = far.moved(shift(fold.start - far_fold.start))
            far_fold = far.edge(self.fold).chain
        if max(fold.start.to(far_fold.start), fold.end.to(far_fold.end)) > 1000 * SAME:
            raise Refused("draft.lines_do_not_meet", self.step)
        straightly = straight(fold.start, fold.end)
        if any(straightly.nearest(s.end)[1] > 1000 * SAME for s in fold.segments):
            raise Refused("draft.fold_not_straight", self.step, edge=self.fold)
        over = reflect(fold.start, fold.end)
        names = {
            d.name: str(Fold("dart", len(panel.darts) + i))
            for i, d in enumerate(far.darts, 1)
        }
        index = [edge.name for edge in panel.edges].index(self.fold)
        run = [*panel.edges[index + 1 :], *panel.edges[:index]]
        mirrored = {e.name: _mirrored(e.ringwise, over, names) for e in far.edges}
        edges = self._edges(run, mirrored)
        darts = [
            *panel.darts,
            *(replace(d, name=names[d.name], tip=over(d.tip)) for d in far.darts),
        ]
        shapes = {mark.name: mark.shape for mark in far.marks}
        marks = [
            _whole_mark(mark, shapes.get(mark.name), fold, over) for mark in panel.marks
        ]
        return Panel(tuple(edges), tuple(darts), (*marks, Mark(self.fold, straightly)))

    def _edges(self, run: list[Edge], mirrored: dict[str, Chain]) -> list[Edge]:
        first, last = run[0], run[-1]
        middle = run[1:-1]
        missing = [edge.name for edge in middle if edge.name not in self.others]
        if missing:
            raise Refused("draft.mirrored_unnamed", self.step, edge=missing[0])
        whole_last = last.ringwise.and_then(mirrored[last.name])
        whole_first = mirrored[first.name].and_then(first.ringwise)
        far = [
            Edge(
                self.others[edge.name],
                mirrored[edge.name].reversed() if edge.forward else mirrored[edge.name],
                forward=not edge.forward,
            )
            for edge in reversed(middle)
        ]
        return [
            _as(first, whole_first),
            *middle,
            _as(last, whole_last),
            *far,
        ]


def _mirrored(ringwise: Chain, over: Motion, names: dict[str, str]) -> Chain:
    """What an edge's mirror image adds to the outline, walked anticlockwise."""
    turned = ringwise.moved(over).reversed()
    segments: tuple[Segment, ...] = tuple(
        s.taken_up(names.get(s.fold, s.fold)) if s.fold else s for s in turned.segments
    )
    return Chain(segments)


def _as(edge: Edge, ringwise: Chain) -> Edge:
    return replace(edge, chain=ringwise if edge.forward else ringwise.reversed())


def _whole_mark(
    mark: Mark, other: Point | Chain | None, fold: Chain, over: Motion
) -> Mark:
    """A mark with the other half's joined on, where it begins or ends on the fold."""
    shape = mark.shape
    if isinstance(shape, Point) or not isinstance(other, Chain):
        return mark
    mirrored = other.moved(over).reversed()
    if fold.nearest(shape.start)[1] <= 100 * SAME:
        return replace(mark, shape=mirrored.and_then(shape))
    if fold.nearest(shape.end)[1] <= 100 * SAME:
        return replace(mark, shape=shape.and_then(mirrored))
    return mark


class TurnOver(Step):
    """Turns a panel over its upright zero line.

    With `beside` it is turned only when it must be to lie beside that panel, both
    with the same side up, joined by an edge of each.
    """

    kind: Literal["turn_over"] = "turn_over"
    panel: PanelOf
    edge: str = ""
    beside: PanelOf | None = None
    beside_edge: str = ""

    rewrites: ClassVar[str | None] = "panel"

    @classmethod
    def on_edges(cls) -> tuple[tuple[str, str], ...]:
        """The edge of each of the two panels."""
        return ("edge", "panel"), ("beside_edge", "beside")

    def draw(self, panel: Panel, beside: Panel | None) -> Panel:
        """The panel, turned over or as it was."""
        if beside is not None and _faces(panel, self.edge) != _faces(
            beside, self.beside_edge
        ):
            return panel
        over = reflect(Point(0.0, 0.0), Point(0.0, 1.0))
        return Panel(
            tuple(
                Edge(edge.name, edge.chain.moved(over), not edge.forward)
                for edge in reversed(panel.edges)
            ),
            tuple(replace(dart, tip=over(dart.tip)) for dart in panel.darts),
            tuple(moved_mark(mark, over) for mark in panel.marks),
        )


def _faces(panel: Panel, edge: str) -> bool:
    """Whether the paper lies on the left of an edge, walked as a seam names it."""
    run = Run.of(edge)
    return panel.edge(run.edge).forward == run.forward


class StripAlong(Step):
    """A strip along an edge of a panel as it is worn, such as a facing.

    Darts are shut and pleats folded. Its edges are `joins` (the panel's edge, its first
    `less` left out), `outer`, and `start` and `end`, which run as the panel's own do.
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
        line, before, beyond = worn(panel, self.edge)
        if width <= 0 or less < 0:
            raise Refused("draft.distance_not_positive", self.step, distance=width)
        if less >= line.length:
            raise Refused("draft.nothing_left", self.step, length=line.length)
        first, second = (_from_edge(*near) for near in panel.neighbours(self.edge))
        shortest = min(first.length, second.length)
        if width >= shortest:
            raise Refused("draft.run_too_long", self.step, run=width, largest=shortest)
        joins = line.split(less)[1] or line
        start = first.part(0, width).moved(before)
        start = start.moved(shift(joins.start - start.start))
        end = second.part(0, width).moved(beyond)
        outer = _parallel_between(
            Edge(self.edge, joins, edge.forward), width, start.end, end.end
        )
        return panel_of(
            [("joins", joins), ("end", end), ("outer", outer), ("start", start)]
        )


def _from_edge(edge: Edge, its_start: bool) -> Chain:
    """A neighbour's line as it leaves the edge."""
    return edge.chain if its_start else edge.chain.reversed()


def _parallel_between(edge: Edge, width: float, first: Point, last: Point) -> Chain:
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
