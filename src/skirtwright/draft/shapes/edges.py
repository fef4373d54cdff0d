"""Edges drawn anew while the rest of the panel stays: shared by several kinds."""

from __future__ import annotations

import math
from typing import Final

from skirtwright.draft.shapes.panel import Edge, Panel
from skirtwright.geometry.chain import Chain, join, straight
from skirtwright.geometry.curves import level_at_ends, smooth_through
from skirtwright.geometry.point import Point
from skirtwright.geometry.segment import Line, Segment
from skirtwright.geometry.tolerance import SAME
from skirtwright.problems import Refused

_FINE: Final = 12
"""So many curves follow any sway of an edge closely."""


def joined_to(chain: Chain, at_start: bool, place: Point) -> Chain:
    """A chain whose start or end is brought to another place.

    A straight end is drawn to the new place; to a curved one a straight is added.
    """
    if not at_start:
        return joined_to(chain.reversed(), True, place).reversed()
    first = chain.segments[0]
    if first.start.is_at(place):
        return chain
    if isinstance(first, Line) and not first.fold:
        return Chain((Line(place, first.end), *chain.segments[1:]))
    return straight(place, first.start).and_then(chain)


def with_edge(panel: Panel, name: str, chain: Chain) -> Panel:
    """The panel with one edge drawn anew and its neighbours brought to its ends."""
    neighbours = panel.neighbours(name)
    drawn = panel.with_chain(name, chain)
    for (edge, at_start), place in zip(
        neighbours, (chain.start, chain.end), strict=True
    ):
        other = drawn.edge(edge.name)
        drawn = drawn.with_chain(edge.name, joined_to(other.chain, at_start, place))
    return drawn


def swayed(chain: Chain, at_start: bool, by: Point) -> Chain:
    """A chain whose start or end is moved by a step, all of it following softly.

    The other end stays, and both ends keep their directions; a chain with darts or
    pleats is drawn on to the new place instead.
    """
    if any(segment.fold for segment in chain.segments):
        return joined_to(chain, at_start, (chain.start if at_start else chain.end) + by)

    whole, walked_to = chain.length, 0.0
    parts = []
    for segment in chain.segments:
        first, steps = walked_to / whole, _sway_steps(chain, segment, whole)
        parts.append(_swayed_part(segment, first, whole, steps, at_start, by))
        walked_to += segment.length
    return join(parts)


def _sway_steps(chain: Chain, segment: Segment, whole: float) -> int:
    """In how many curves a segment of a swayed chain is drawn.

    One that was drawn so before is not divided again, however often it is swayed.
    """
    if isinstance(segment, Line):
        return 1  # The one curve is exact.
    share = segment.length / whole
    if len(chain.segments) < _FINE:
        return math.ceil(3 + 9 * share)
    return max(1, round(_FINE * share))


def _swayed_part(
    segment: Segment, first: float, whole: float, steps: int, at_start: bool, by: Point
) -> Chain:
    """One segment of a swayed chain; `first` is the share at which it begins."""
    length = segment.length

    def place(way: float) -> Point:
        share = first + way * length / whole
        return segment.at(way * length) + by * level_at_ends(
            1 - share if at_start else share
        )

    return smooth_through(place, steps)


def inward(edge: Edge, direction: Point) -> Point:
    """The direction into the panel across an edge that runs in `direction`."""
    return direction.left() if edge.forward else direction.right()


def square_direction(panel: Panel, name: str, at_start: bool) -> Point:
    """The direction square to the neighbour at an edge's start or end.

    It runs as the edge does: away from its start, or towards its end.
    """
    chain = panel.edge(name).chain
    neighbour, its_start = panel.neighbours(name)[0 if at_start else 1]
    along = (
        neighbour.chain.start_direction if its_start else neighbour.chain.end_direction
    )
    across = along.left()
    way = chain.end - chain.start
    return across if across.dot(way) >= 0 else -across


def walked(panel: Panel, name: str, place: Point) -> float:
    """The walked distance of a place along an edge, mm.

    Raises:
        Refused: the place does not lie on the edge.
    """
    distance, gap = panel.edge(name).chain.nearest(place)
    if gap > 100 * SAME:
        raise Refused("draft.not_on_edge", name, edge=name, gap=gap)
    return distance
