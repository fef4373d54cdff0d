"""Panels: made from edges, marked, darted, and led along other lines."""

from __future__ import annotations

from itertools import pairwise
from typing import ClassVar, Literal

from skirtwright.draft.shapes.edges import inward, joined_to, walked, with_edge
from skirtwright.draft.shapes.folds import Fold
from skirtwright.draft.shapes.panel import Dart, Panel, panel_of
from skirtwright.draft.step import (
    Length,
    LineOf,
    PanelOf,
    PlaceOf,
    Ratio,
    ShapeOf,
    Step,
)
from skirtwright.geometry.chain import Chain, join, straight
from skirtwright.geometry.point import Point
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


class InsertDarts(Step):
    """Darts set into an edge.

    Distances are walked from the edge's start with the darts shut. All are `width`
    wide on the edge; each goes in square to the edge (or upright) by its length, or
    to its height over the zero line where `tips_up` is given.
    """

    kind: Literal["insert_darts"] = "insert_darts"
    panel: PanelOf
    edge: str
    count: Ratio
    at: list[Length]
    width: Length
    lengths: list[Length] = []
    tips_up: list[Length] = []
    axis: Literal["square", "upright"] = "square"

    rewrites: ClassVar[str | None] = "panel"

    def draw(
        self,
        panel: Panel,
        count: float,
        at: tuple[float, ...],
        width: float,
        lengths: tuple[float, ...],
        tips_up: tuple[float, ...],
    ) -> Panel:
        """The panel with its darts, the edge still as it was drawn.

        Raises:
            Refused: too few places, a width that is not positive, or darts that do
                not fit on the edge.
        """
        number = round(count)
        if number == 0:
            return panel
        depths = tips_up or lengths
        if number < 0 or len(at) < number or len(depths) < number:
            raise Refused("draft.too_few_places", self.step, count=number)
        if width <= 0:
            raise Refused("draft.dart_not_positive", self.step, width=width)
        chain = panel.edge(self.edge).chain
        self._fit(chain, at[:number], width)
        parts: list[Chain] = []
        darts = list(panel.darts)
        done = 0.0
        for index in range(number):
            middle = at[index] + width * (index + 0.5)
            name = str(Fold("dart", len(darts) + 1))
            if middle - width / 2 > done + SAME:
                parts.append(chain.part(done, middle - width / 2))
            cap = chain.part(middle - width / 2, middle + width / 2)
            parts.append(cap.taken_up(name))
            done = middle + width / 2
            tip = self._tip(panel, middle, depths[index], bool(tips_up))
            darts.append(Dart(name, self.edge, tip))
        rest = chain.split(done)[1]
        drawn = join([*parts, rest])
        placed = panel.with_chain(self.edge, drawn)
        return Panel(placed.edges, tuple(darts), placed.marks)

    def _fit(self, chain: Chain, at: tuple[float, ...], width: float) -> None:
        room = chain.length - width * len(at)
        ordered = all(a < b for a, b in pairwise(at))
        if not ordered or at[0] < 0 or at[-1] > room:
            raise Refused("draft.darts_do_not_fit", self.step, room=max(room, 0.0))

    def _tip(self, panel: Panel, middle: float, depth: float, up: bool) -> Point:
        edge = panel.edge(self.edge)
        place, along = edge.chain.at(middle), edge.chain.direction_at(middle)
        into = inward(edge, along) if self.axis == "square" else Point(0.0, -1.0)
        if not up:
            if depth <= 0:
                raise Refused("draft.dart_not_positive", self.step, width=depth)
            return place + into * depth
        if into.y == 0 or (depth - place.y) / into.y <= 0:
            raise Refused(
                "draft.dart_tip_too_high", self.step, up=depth, highest=place.y
            )
        return place + into * ((depth - place.y) / into.y)


class LeadAlong(Step):
    """Leads an edge, from a place on it to its end, along other lines."""

    kind: Literal["lead_along"] = "lead_along"
    panel: PanelOf
    edge: str
    at: PlaceOf
    lines: list[LineOf]

    rewrites: ClassVar[str | None] = "panel"

    def draw(self, panel: Panel, at: Point, lines: tuple[Chain, ...]) -> Panel:
        """The panel; the edge at its end is brought to the new end.

        Raises:
            Refused: the place is not on the edge, or a line does not join on.
        """
        head = panel.edge(self.edge).chain.split(walked(panel, self.edge, at))[0]
        try:
            drawn = join([head, *lines])
        except ValueError as trouble:
            raise Refused("draft.lines_do_not_meet", self.step) from trouble
        return with_edge(panel, self.edge, drawn)


class Lengthen(Step):
    """Lengthens an edge at its end, straight on; a negative amount shortens it."""

    kind: Literal["lengthen"] = "lengthen"
    panel: PanelOf
    edge: str
    by: Length

    rewrites: ClassVar[str | None] = "panel"

    def draw(self, panel: Panel, by: float) -> Panel:
        """The panel; the edge at its end is brought to the new end.

        Raises:
            Refused: nothing would be left of the edge.
        """
        chain = panel.edge(self.edge).chain
        if abs(by) <= SAME:
            # So short a stretch would have no direction.
            return panel
        if by > 0:
            end = chain.end + chain.end_direction * by
            return with_edge(
                panel, self.edge, joined_to(chain, at_start=False, place=end)
            )
        if -by >= chain.length:
            raise Refused("draft.nothing_left", self.step, length=chain.length)
        head = chain.split(chain.length + by)[0]
        if head is None:
            raise Refused("draft.nothing_left", self.step, length=chain.length)
        return with_edge(panel, self.edge, head)


KINDS: tuple[type[Step], ...] = (Outline, PanelMark, InsertDarts, LeadAlong, Lengthen)
