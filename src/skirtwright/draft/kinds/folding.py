"""Edges turned out from a break, keeping their length."""

from __future__ import annotations

from typing import ClassVar, Literal

from skirtwright.draft.shapes.edges import inward, walked, with_edge
from skirtwright.draft.shapes.panel import Panel
from skirtwright.draft.step import Degrees, Length, PanelOf, PlaceOf, Step
from skirtwright.geometry.chain import Chain
from skirtwright.geometry.curves import round_curve_of_length
from skirtwright.geometry.point import Point, shift, turn
from skirtwright.problems import Refused

_MOST_TURN = 90.0


class SwingEdge(Step):
    """Turns an edge out from a place on it to its end; it keeps its length.

    A positive turn leads away from the panel. With an `ease` the corner at the break
    becomes a curve of that length, which begins at the break as the edge ran there.
    """

    kind: Literal["swing_edge"] = "swing_edge"
    panel: PanelOf
    edge: str
    at: PlaceOf
    by: Degrees
    ease: Length = "0"

    rewrites: ClassVar[str | None] = "panel"

    def draw(self, panel: Panel, at: Point, by: float, ease: float) -> Panel:
        """The panel; the edge at its end is brought along.

        Raises:
            Refused: the place is not on the edge, nothing is left below it, a turn
                of 90 degrees or more, or a curve longer than the edge.
        """
        chain = panel.edge(self.edge).chain
        here = walked(panel, self.edge, at)
        left = chain.length - here
        if by == 0:
            return panel
        if abs(by) >= _MOST_TURN or left <= 0:
            raise Refused("draft.turns_too_far", self.step, opening=0.0, largest=left)
        if not 0 <= ease < left:
            raise Refused("draft.run_too_long", self.step, run=ease, largest=left)
        return with_edge(panel, self.edge, self._swung(panel, chain, here, by, ease))

    def _swung(
        self, panel: Panel, chain: Chain, here: float, angle: float, ease: float
    ) -> Chain:
        head, tail = chain.split(here)
        if tail is None:
            return chain
        into = inward(panel.edge(self.edge), tail.start_direction)
        signed = -angle if tail.start_direction.cross(into) > 0 else angle
        if ease <= 0:
            swung = tail.moved(turn(tail.start, signed))
            return head.and_then(swung) if head else swung
        # A curve over the first stretch, then the rest of the edge, turned and set on
        # the curve's end: it takes up the whole turn, and what the edge turned there.
        rest = tail.split(ease)[1]
        about = turn(Point(0.0, 0.0), signed)
        along = rest.start_direction if rest else tail.end_direction
        bend = round_curve_of_length(
            tail.start, tail.start_direction, about(along), min(ease, tail.length)
        )
        placed = None
        if rest is not None:
            placed = rest.moved(about.then(shift(bend.end - about(rest.start))))
        return head.and_then(bend, placed) if head else bend.and_then(placed)


KINDS: tuple[type[Step], ...] = (SwingEdge,)
