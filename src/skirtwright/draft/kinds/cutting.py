"""Panels cut apart, opened out over a fold, and given an extension."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import ClassVar, Literal

from skirtwright.draft.shapes.folds import Fold
from skirtwright.draft.shapes.panel import Edge, Mark, Panel
from skirtwright.draft.shapes.parting import cut_apart
from skirtwright.draft.step import Degrees, Length, LineOf, PanelOf, PlaceOf, Step
from skirtwright.geometry.chain import Chain, straight
from skirtwright.geometry.point import Motion, Point, reflect, turn
from skirtwright.geometry.segment import Segment
from skirtwright.geometry.tolerance import SAME
from skirtwright.problems import Refused


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
    it; the mirrored ones are named by `others` (`{"side": "other_side"}`).
    """

    kind: Literal["unfold"] = "unfold"
    panel: PanelOf
    fold: str
    others: dict[str, str]

    edge_fields: ClassVar[tuple[str, ...]] = ("fold", "others")

    def parts(self, of_panel: tuple[str, ...]) -> tuple[str, ...]:
        """The mirrored edges too."""
        return (*of_panel, *self.others.values())

    def draw(self, panel: Panel) -> Panel:
        """The whole panel.

        Raises:
            Refused: the fold is not straight, or a mirrored edge has no name.
        """
        fold = panel.edge(self.fold).chain
        straightly = straight(fold.start, fold.end)
        if any(straightly.nearest(s.end)[1] > 1000 * SAME for s in fold.segments):
            raise Refused("draft.fold_not_straight", self.step, edge=self.fold)
        over = reflect(fold.start, fold.end)
        names = {
            d.name: str(Fold("dart", len(panel.darts) + i))
            for i, d in enumerate(panel.darts, 1)
        }
        index = [edge.name for edge in panel.edges].index(self.fold)
        run = [*panel.edges[index + 1 :], *panel.edges[:index]]
        edges = self._edges(run, over, names)
        darts = [
            *panel.darts,
            *(replace(d, name=names[d.name], tip=over(d.tip)) for d in panel.darts),
        ]
        marks = [_whole(mark, fold, over) for mark in panel.marks]
        return Panel(tuple(edges), tuple(darts), (*marks, Mark(self.fold, straightly)))

    def _edges(
        self, run: list[Edge], over: Motion, names: dict[str, str]
    ) -> list[Edge]:
        first, last = run[0], run[-1]
        middle = run[1:-1]
        missing = [edge.name for edge in middle if edge.name not in self.others]
        if missing:
            raise Refused("draft.mirrored_unnamed", self.step, edge=missing[0])
        mirrored = {edge.name: _mirrored(edge.ringwise, over, names) for edge in run}
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


def _whole(mark: Mark, fold: Chain, over: Motion) -> Mark:
    """A mark with its mirror image joined on, where it begins or ends on the fold."""
    shape = mark.shape
    if isinstance(shape, Point):
        return mark
    if fold.nearest(shape.start)[1] <= 100 * SAME:
        return replace(mark, shape=shape.moved(over).reversed().and_then(shape))
    if fold.nearest(shape.end)[1] <= 100 * SAME:
        return replace(mark, shape=shape.and_then(shape.moved(over).reversed()))
    return mark


class AddExtension(Step):
    """Adds an extension to the end part of an edge, such as a vent.

    The edge stops at the place; from there the new edge `name` slopes out by `width`
    and runs on beside the old end. The edge there is drawn on straight to meet it.
    """

    kind: Literal["add_extension"] = "add_extension"
    panel: PanelOf
    edge: str
    at: PlaceOf
    width: Length
    name: str
    slope: Degrees = "45"

    rewrites: ClassVar[str | None] = "panel"

    def parts(self, of_panel: tuple[str, ...]) -> tuple[str, ...]:
        """The new edge too."""
        return (*of_panel, self.name)

    def draw(self, panel: Panel, at: Point, width: float, slope: float) -> Panel:
        """The panel with one more edge.

        Raises:
            Refused: a width or slope that is not positive, a place with too little
                of the edge below it, or a name that is there already.
        """
        old = panel.edge(self.edge)
        if any(edge.name == self.name for edge in panel.edges):
            raise Refused("draft.edge_there", self.step, edge=self.name)
        walked = old.chain.nearest(at)[0]
        head, tail = old.chain.split(walked)
        if width <= 0 or not 0 < slope <= 90:
            raise Refused("draft.width_not_positive", self.step, width=width)
        if head is None or tail is None or tail.length <= 2 * width:
            raise Refused("draft.no_room_for_extension", self.step, width=width)
        along = tail.end_direction
        out = along.right() if old.forward else along.left()
        foot = tail.end + out * width
        corner = _slope_meets(at, tail, out, width, slope, old.forward)
        run = straight(at, corner, foot)
        neighbour, its_start = panel.neighbours(self.edge)[1]
        level = straight(tail.end, foot)
        longer = (
            level.reversed().and_then(neighbour.chain)
            if its_start
            else neighbour.chain.and_then(level)
        )
        drawn = panel.with_chain(self.edge, head).with_chain(neighbour.name, longer)
        new = Edge(self.name, run, old.forward)
        index = [edge.name for edge in panel.edges].index(self.edge)
        place = index + 1 if old.forward else index
        edges = (*drawn.edges[:place], new, *drawn.edges[place:])
        return replace(drawn, edges=edges)


def _slope_meets(
    at: Point, tail: Chain, out: Point, width: float, slope: float, forward: bool
) -> Point:
    """Where the sloping top comes to the extension's own edge."""
    along = tail.end_direction
    way = turn(Point(0.0, 0.0), -slope if forward else slope)(along)
    missing = width - (at - tail.end).dot(out)
    return at + way * (missing / way.dot(out))


KINDS: tuple[type[Step], ...] = (CutApart, Unfold, AddExtension)
