"""Panels: made from edges, marked, and given an extension."""

from __future__ import annotations

from dataclasses import replace
from typing import ClassVar, Literal

from skirtwright.budget import spend
from skirtwright.draft.counting import whole_number
from skirtwright.draft.shapes.panel import Edge, Panel, panel_of
from skirtwright.draft.step import (
    Degrees,
    EdgeStep,
    Length,
    LineOf,
    PanelOf,
    PlaceOf,
    Ratio,
    ShapeOf,
    Step,
)
from skirtwright.geometry.chain import Chain, straight
from skirtwright.geometry.point import Point, heading, turn
from skirtwright.geometry.tolerance import SAME
from skirtwright.problems import Refused


class Outline(Step):
    """A panel from its edges, in order round it; each in its own direction."""

    kind: Literal["outline"] = "outline"
    edges: dict[str, LineOf]

    def parts(self, of_panel: tuple[str, ...]) -> tuple[str, ...]:
        """The edges it is made from."""
        return (*of_panel, *self.edges)

    def draw(self, edges: dict[str, Chain]) -> Panel:
        """The panel.

        Raises:
            Refused: fewer than two edges, or two that do not meet.
        """
        if len(edges) < 2:
            raise Refused("draft.outline_too_short", self.step)
        return panel_of(list(edges.items()))


class Rectangle(Step):
    """A rectangle, such as a band: edges `foot`, `right`, `top` and `left`.

    Foot and top run to the right, left and right run up, or down as the seams of a
    tier do. Its lower left corner lies `right` and `up` of the zero point.
    """

    kind: Literal["rectangle"] = "rectangle"
    wide: Length
    high: Length
    right: Length = "0"
    up: Length = "0"
    ends: Literal["up", "down"] = "up"

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
        left, right_end = straight(a, d), straight(b, c)
        if self.ends == "down":
            left, right_end = left.reversed(), right_end.reversed()
        return panel_of(
            [
                ("foot", straight(a, b)),
                ("right", right_end),
                ("top", straight(d, c)),
                ("left", left),
            ]
        )


class PanelMark(Step):
    """A point or a line drawn on a panel; it moves with the paper.

    `level` says that it marks where her hip lies, or her knee (the line the hem hangs
    from where the skirt is narrowest).
    """

    kind: Literal["mark"] = "mark"
    panel: PanelOf
    name: str
    shape: ShapeOf | None = None
    through: list[PlaceOf] = []
    level: Literal["", "hip", "knee"] = ""

    rewrites: ClassVar[str | None] = "panel"

    def parts(self, of_panel: tuple[str, ...]) -> tuple[str, ...]:
        """The mark too."""
        return (*of_panel, self.name)

    def draw(
        self,
        panel: Panel,
        shape: Point | Chain | None,
        through: tuple[Point, ...],
    ) -> Panel:
        """The marked panel.

        Raises:
            Refused: neither a shape nor places to draw through.
        """
        if shape is None:
            if not through:
                raise Refused("draft.nothing_to_mark", self.step)
            shape = through[0] if len(through) == 1 else straight(*through)
        return panel.with_mark(self.name, shape, self.level)


class MarkRow(Step):
    """Marks in a row on a panel, `name[1]` on: the first at `start`, the last at `end`.

    Each is a line across its place, from `before` it to `after` it in `direction`; a
    point, where both are nothing.
    """

    kind: Literal["mark_row"] = "mark_row"
    panel: PanelOf
    name: str
    start: PlaceOf
    end: PlaceOf
    count: Ratio
    before: Length = "0"
    after: Length = "0"
    direction: Degrees = "0"

    rewrites: ClassVar[str | None] = "panel"

    def parts(self, of_panel: tuple[str, ...]) -> tuple[str, ...]:
        """The marks too."""
        return (*of_panel, f"{self.name}[1]")

    def draw(
        self,
        panel: Panel,
        start: Point,
        end: Point,
        count: float,
        before: float,
        after: float,
        direction: float,
    ) -> Panel:
        """The marked panel.

        Raises:
            Refused: a count that is not a whole number.
        """
        number = whole_number(count)
        if number is None:
            raise Refused("draft.not_whole", self.step, count=count)
        for mark in range(1, number + 1):
            spend("steps")
            place = start.between(end, (mark - 1) / max(number - 1, 1))
            ends = [place + heading(direction) * by for by in (-before, after)]
            shape = straight(*ends) if before + after > SAME else place
            panel = panel.with_mark(f"{self.name}[{mark}]", shape)
        return panel


class AddExtension(EdgeStep):
    """Adds an extension to the end part of an edge, such as a vent.

    The edge stops at the place; from there the new edge `name` slopes out by `width`
    and runs on beside the old end. The edge there is drawn on straight to meet it.
    """

    kind: Literal["add_extension"] = "add_extension"
    at: PlaceOf
    width: Length
    name: str
    slope: Degrees = "45"

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
        return _with_edge_after(drawn, old, new)


class DivideEdge(EdgeStep):
    """Divides an edge in two at a place; from there to its end it is edge `name`."""

    kind: Literal["divide_edge"] = "divide_edge"
    at: PlaceOf
    name: str

    def parts(self, of_panel: tuple[str, ...]) -> tuple[str, ...]:
        """The new edge too."""
        return (*of_panel, self.name)

    def draw(self, panel: Panel, at: Point) -> Panel:
        """The panel with one more edge; its outline stays.

        Raises:
            Refused: a name that is there already, or a place at an end of the edge.
        """
        old = panel.edge(self.edge)
        if any(edge.name == self.name for edge in panel.edges):
            raise Refused("draft.edge_there", self.step, edge=self.name)
        head, tail = old.chain.split(old.chain.nearest(at)[0])
        if head is None or tail is None:
            raise Refused("draft.edge_not_divided", self.step, edge=self.edge)
        drawn = panel.with_chain(self.edge, head)
        return _with_edge_after(drawn, old, Edge(self.name, tail, old.forward))


def _with_edge_after(panel: Panel, old: Edge, new: Edge) -> Panel:
    """The panel with an edge more, which goes on where another ends."""
    index = [edge.name for edge in panel.edges].index(old.name)
    place = index + 1 if old.forward else index
    return replace(panel, edges=(*panel.edges[:place], new, *panel.edges[place:]))


def _slope_meets(
    at: Point, tail: Chain, out: Point, width: float, slope: float, forward: bool
) -> Point:
    """Where the sloping top comes to the extension's own edge."""
    along = tail.end_direction
    way = turn(Point(0.0, 0.0), -slope if forward else slope)(along)
    missing = width - (at - tail.end).dot(out)
    return at + way * (missing / way.dot(out))
