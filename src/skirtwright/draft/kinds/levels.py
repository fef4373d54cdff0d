"""Levels of a panel: an edge set higher or lower, and how wide it is at a height."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from typing import ClassVar, Literal

from skirtwright.draft.shapes.darts import shut_darts
from skirtwright.draft.shapes.edges import with_edge
from skirtwright.draft.shapes.panel import Panel
from skirtwright.draft.step import Figure, Length, PanelOf, Step
from skirtwright.geometry.chain import Chain, straight
from skirtwright.geometry.point import Motion, Point
from skirtwright.geometry.tolerance import OUTLINE
from skirtwright.problems import Refused

_NO_DART = 10.0
"""What is left of a dart that is shorter than this, mm, is not sewn."""


class SetEdge(Step):
    """Sets an edge out (or, by less than nothing, in) along the edges that meet it.

    Inwards those edges are cut off at the walked distance. Outwards, with the darts
    shut, both go on the same way, as the edge at its start does, so that what is set
    out does not narrow on; the far one leans out to end `wider`. The edge itself is
    brought to its new ends only, to be redrawn; a dart that is cut off whole is gone.
    """

    kind: Literal["set_edge"] = "set_edge"
    panel: PanelOf
    edge: str
    by: Length
    wider: Length = "0"

    rewrites: ClassVar[str | None] = "panel"

    def draw(self, panel: Panel, by: float, wider: float) -> Panel:
        """The panel, its edge ending where it will lie.

        Raises:
            Refused: nothing would be left of an edge that meets it.
        """
        if abs(by) <= 1e-9:
            return panel
        first, second = panel.neighbours(self.edge)
        darts = shut_darts(panel, self.edge)
        opening = darts[-1].open_beyond if darts else Motion()
        onward = -_leaving(first[0].chain, first[1]) * by
        leaning = onward + _across(panel.edge(self.edge).chain, onward) * wider
        for (met, its_start), way in (
            (first, onward),
            (second, opening(leaning) - opening(Point(0.0, 0.0))),
        ):
            chain = met.chain if its_start else met.chain.reversed()
            if by < 0:
                drawn = self._cut_off(chain, -by)
            else:
                drawn = straight(chain.start + way, chain.start).and_then(chain)
            panel = with_edge(panel, met.name, drawn if its_start else drawn.reversed())
        return self._with_darts_below(panel, -by) if by < 0 else panel

    def _with_darts_below(self, panel: Panel, depth: float) -> Panel:
        """The panel without the darts of the edge that end above its new place."""
        gone = {
            dart.name
            for dart in panel.darts
            if dart.edge == self.edge
            and dart.tip.to(panel.legs(dart)[0]) < depth + _NO_DART
        }
        edge = panel.edge(self.edge).chain
        plain = (s.taken_up("") if s.fold in gone else s for s in edge.segments)
        return replace(
            panel.with_chain(self.edge, Chain(tuple(plain))),
            darts=tuple(dart for dart in panel.darts if dart.name not in gone),
        )

    def _cut_off(self, chain: Chain, depth: float) -> Chain:
        rest = chain.split(depth)[1] if depth < chain.length else None
        if rest is None:
            raise Refused("draft.nothing_left", self.step, length=chain.length)
        return rest


def _across(edge: Chain, onward: Point) -> Point:
    """The direction across the way onward in which an edge runs."""
    across = onward.left().unit()
    return across if across.dot(edge.end - edge.start) >= 0 else -across


def _leaving(chain: Chain, at_start: bool) -> Point:
    """The direction of a chain away from one of its ends."""
    return chain.start_direction if at_start else -chain.end_direction


class WidthAt(Step):
    """How wide a panel is at a height over the zero line, its darts shut, mm."""

    kind: Literal["width_at"] = "width_at"
    panel: PanelOf
    up: Figure

    def draw(self, panel: Panel, up: float) -> float:
        """The width; nothing where the panel does not reach."""
        ring = panel.ring()
        across = sorted(
            _crossing(start, end, up)
            for start, end in zip(ring, [*ring[1:], ring[0]], strict=True)
            if (start.y > up) != (end.y > up)
        )
        width = sum(across[1::2]) - sum(across[::2])
        for dart in panel.darts:
            near, far = panel.legs(dart)
            if (near.y > up) == (far.y > up) != (dart.tip.y > up):
                left, right = (_met(leg, up) for leg in panel.leg_lines(dart))
                width -= abs(right - left)
        return width


def _met(leg: Chain, up: float) -> float:
    """How far right a leg is at a height between its ends."""
    steps = pairwise(leg.flattened(OUTLINE))
    return next(_crossing(a, b, up) for a, b in steps if (a.y > up) != (b.y > up))


def _crossing(start: Point, end: Point, up: float) -> float:
    """How far right the straight line between two points is at a height."""
    return start.x + (end.x - start.x) * (up - start.y) / (end.y - start.y)


KINDS: tuple[type[Step], ...] = (SetEdge, WidthAt)
