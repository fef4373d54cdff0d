"""Edges led elsewhere: lengthened, led along lines, set in or out, let out, swung."""

from __future__ import annotations

from dataclasses import replace
from typing import Literal

from skirtwright.draft.shapes.darts import shut_darts
from skirtwright.draft.shapes.edges import inward, joined_to, walked, with_edge
from skirtwright.draft.shapes.panel import Panel
from skirtwright.draft.step import Degrees, EdgeStep, Length, LineOf, PlaceOf
from skirtwright.geometry.chain import Chain, join, straight
from skirtwright.geometry.curves import (
    level_at_ends,
    round_curve_of_length,
    smooth_through,
)
from skirtwright.geometry.point import Motion, Point, shift, turn
from skirtwright.geometry.segment import Cubic, Line
from skirtwright.geometry.tolerance import SAME
from skirtwright.problems import Refused

_NO_DART = 10.0
"""What is left of a dart that is shorter than this, mm, is not sewn."""

_MOST_TURN = 90.0


class LeadAlong(EdgeStep):
    """Leads an edge, from a place on it to its end, along other lines."""

    kind: Literal["lead_along"] = "lead_along"
    at: PlaceOf
    lines: list[LineOf]

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


class Lengthen(EdgeStep):
    """Lengthens an edge at its end, straight on; a negative amount shortens it."""

    kind: Literal["lengthen"] = "lengthen"
    by: Length

    def draw(self, panel: Panel, by: float) -> Panel:
        """The panel; the edge at its end is brought to the new end.

        Raises:
            Refused: nothing would be left of the edge.
        """
        if abs(by) <= SAME:
            # So short a stretch would have no direction.
            return panel
        chain = panel.edge(self.edge).chain
        return with_edge(panel, self.edge, lengthened(self.step, chain, by, False))


class MoveStart(EdgeStep):
    """Makes an edge longer at its start, straight on, or shorter, cut off along it.

    The edge that meets it there goes along with its first stretch only and keeps
    its direction at the corner: for the few millimetres by which halves differ.
    """

    kind: Literal["move_start"] = "move_start"
    by: Length

    def draw(self, panel: Panel, by: float) -> Panel:
        """The panel with the corner moved.

        Raises:
            Refused: nothing would be left of the edge.
        """
        if abs(by) <= SAME:
            return panel
        moved = lengthened(self.step, panel.edge(self.edge).chain, by, True)
        (met, its_start), _ = panel.neighbours(self.edge)
        along = met.chain if its_start else met.chain.reversed()
        along = _corner_moved(along, moved.start)
        drawn = panel.with_chain(self.edge, moved)
        return drawn.with_chain(met.name, along if its_start else along.reversed())


def lengthened(step: str, chain: Chain, by: float, at_start: bool) -> Chain:
    """A chain led straight on at one end or, by less than nothing, cut off there.

    Raises:
        Refused: nothing would be left of it.
    """
    if by > 0:
        end = chain.end + chain.end_direction * by
        if at_start:
            end = chain.start - chain.start_direction * by
        return joined_to(chain, at_start, end)
    kept = None
    if -by < chain.length:
        head, tail = chain.split(-by if at_start else chain.length + by)
        kept = tail if at_start else head
    if kept is None:
        raise Refused("draft.nothing_left", step, length=chain.length)
    return kept


def _corner_moved(chain: Chain, place: Point) -> Chain:
    first = chain.segments[0]
    if isinstance(first, Cubic):
        shift = place - first.start
        first = replace(first, start=place, control1=first.control1 + shift)
    elif isinstance(first, Line):
        first = replace(first, start=place)
    return Chain((first, *chain.segments[1:]))


class SetEdge(EdgeStep):
    """Sets an edge out (or, by less than nothing, in) along the edges that meet it.

    Inwards those edges are cut off at the walked distance. Outwards, with the darts
    shut, both go on the same way, as the edge at its start does, so that what is set
    out does not narrow on; the far one leans out to end `wider`. The edge itself is
    brought to its new ends only, to be redrawn; a dart that is cut off whole is gone.
    """

    kind: Literal["set_edge"] = "set_edge"
    by: Length
    wider: Length = "0"

    def draw(self, panel: Panel, by: float, wider: float) -> Panel:
        """The panel, its edge ending where it will lie.

        Raises:
            Refused: nothing would be left of an edge that meets it.
        """
        if abs(by) <= SAME:
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
                drawn = lengthened(self.step, chain, by, True)
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


def _across(edge: Chain, onward: Point) -> Point:
    """The direction across the way onward in which an edge runs."""
    across = onward.left().unit()
    return across if across.dot(edge.end - edge.start) >= 0 else -across


def _leaving(chain: Chain, at_start: bool) -> Point:
    """The direction of a chain away from one of its ends."""
    return chain.start_direction if at_start else -chain.end_direction


class LetOut(EdgeStep):
    """Lets an edge out: nothing at its start, `by` from a place on it to its end.

    Below the place the edge keeps its shape and length. Lines that ended on the edge
    are drawn on to it.
    """

    kind: Literal["let_out"] = "let_out"
    at: PlaceOf
    by: Length

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


class SwingEdge(EdgeStep):
    """Turns an edge out from a place on it to its end; it keeps its length.

    A positive turn leads away from the panel. With an `ease` the corner at the break
    becomes a curve of that length, which begins at the break as the edge ran there.
    """

    kind: Literal["swing_edge"] = "swing_edge"
    at: PlaceOf
    by: Degrees
    ease: Length = "0"

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
