"""Panels of a skirt whose halves differ: turned over, and made to meet."""

from __future__ import annotations

from dataclasses import replace
from typing import ClassVar, Literal

from skirtwright.draft.runs import Run
from skirtwright.draft.shapes.edges import joined_to
from skirtwright.draft.shapes.panel import Edge, Panel, moved_mark
from skirtwright.draft.step import Length, PanelOf, Step
from skirtwright.geometry.chain import Chain
from skirtwright.geometry.point import Point, reflect
from skirtwright.geometry.segment import Cubic, Line


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


class MoveStart(Step):
    """Makes an edge longer (or shorter) at its start, straight on.

    The edge that meets it there goes along with its first stretch only and keeps
    its direction at the corner: for the few millimetres by which halves differ.
    """

    kind: Literal["move_start"] = "move_start"
    panel: PanelOf
    edge: str
    by: Length

    rewrites: ClassVar[str | None] = "panel"

    def draw(self, panel: Panel, by: float) -> Panel:
        """The panel with the corner moved."""
        if abs(by) <= 1e-9:
            return panel
        chain = panel.edge(self.edge).chain
        place = chain.start - chain.start_direction * by
        (met, its_start), _ = panel.neighbours(self.edge)
        along = met.chain if its_start else met.chain.reversed()
        along = _corner_moved(along, place)
        drawn = panel.with_chain(self.edge, joined_to(chain, True, place))
        return drawn.with_chain(met.name, along if its_start else along.reversed())


def _corner_moved(chain: Chain, place: Point) -> Chain:
    first = chain.segments[0]
    if isinstance(first, Cubic):
        shift = place - first.start
        first = replace(first, start=place, control1=first.control1 + shift)
    elif isinstance(first, Line):
        first = replace(first, start=place)
    return Chain((first, *chain.segments[1:]))


KINDS: tuple[type[Step], ...] = (TurnOver, MoveStart)
