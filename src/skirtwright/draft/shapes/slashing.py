"""Slash and spread: the one operation behind most styles (common practice, no source).

The paper is slashed along straight lines from a place on one edge (the *mouth*)
through any corners to a place on an edge or inside (the *hinge*), and one part is
turned about the hinge until the gap has the asked width. The gap becomes paper.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from skirtwright.draft.shapes.panel import Dart, Edge, Mark, Panel
from skirtwright.draft.shapes.spot import Spot
from skirtwright.geometry.chain import Chain, join, straight
from skirtwright.geometry.meeting import line_meets
from skirtwright.geometry.point import Motion, Point, turn
from skirtwright.geometry.ring import crossing, holds, without_repeats
from skirtwright.geometry.tolerance import OUTLINE, SAME
from skirtwright.problems import Refused

_LARGEST_TURN_DEG: Final = 90.0
_NEAR: Final = 100 * SAME


@dataclass(frozen=True)
class Piece:
    """Part of an edge, walked with the outline."""

    edge: str
    chain: Chain


@dataclass(frozen=True)
class Slashed:
    """A panel cut along a slash: the ring either side of it.

    Attributes:
        from_mouth: the outline anticlockwise from the mouth to the hinge.
        from_hinge: the outline anticlockwise from the hinge to the mouth.
    """

    path: tuple[Point, ...]
    from_mouth: tuple[Piece, ...]
    from_hinge: tuple[Piece, ...]
    mouth_edge: str


def slash(panel: Panel, path: Sequence[Spot]) -> Slashed:
    """Cut a panel along a slash from its mouth (first) to its hinge (last).

    Raises:
        Refused: mouth or hinge lie on no edge, or the slash leaves the panel.
    """
    points = tuple(spot.point for spot in path)
    if len(points) < 2 or points[0].is_at(points[-1]):
        raise Refused("draft.slash_too_short", path[0].part if path else "")
    mouth, hinge = _on_ring(panel, path[0]), _on_ring(panel, path[-1])
    _stay_inside(panel, points)
    ring = [Piece(edge.name, edge.ringwise) for edge in panel.edges]
    return Slashed(
        points,
        tuple(_ring_part(ring, mouth, hinge)),
        tuple(_ring_part(ring, hinge, mouth)),
        panel.edges[mouth[0]].name,
    )


def _on_ring(panel: Panel, spot: Spot) -> tuple[int, float]:
    """Edge number and distance along it, ringwise, of a place on the outline."""
    # The edge a place was named on comes first: at a corner two edges would do.
    for number, edge in sorted(
        enumerate(panel.edges), key=lambda item: item[1].name != spot.part
    ):
        distance, gap = edge.ringwise.nearest(spot.point)
        if gap <= _NEAR:
            return number, distance
    raise Refused("draft.slash_off_edge", spot.part, part=spot.part)


def _stay_inside(panel: Panel, points: tuple[Point, ...]) -> None:
    """Refuse a slash that crosses the outline between its mouth and its hinge."""
    for first, second in pairwise(points):
        for place in line_meets(first, second, panel.outline):
            if place.to(points[0]) > _NEAR and place.to(points[-1]) > _NEAR:
                raise Refused("draft.slash_leaves_panel", "")


def _ring_part(
    ring: Sequence[Piece], start: tuple[int, float], end: tuple[int, float]
) -> Iterator[Piece]:
    """The outline from one place to another, anticlockwise."""
    number, distance = start
    if number == end[0] and distance < end[1]:
        before = ring[number].chain.split(end[1])[0]
        middle = before.split(distance)[1] if before else None
        if middle:
            yield Piece(ring[number].edge, middle)
        return
    rest = ring[number].chain.split(distance)[1]
    if rest:
        yield Piece(ring[number].edge, rest)
    while (number := (number + 1) % len(ring)) != end[0]:
        yield ring[number]
    head = ring[number].chain.split(end[1])[0]
    if head:
        yield Piece(ring[number].edge, head)


def turn_for(opening: float, reach: float) -> float:
    """The turn, degrees, that opens a gap at a distance from the hinge.

    2 asin(opening / 2 reach): the gap is the straight distance between the two sides.
    """
    return math.degrees(2 * math.asin(min(opening / (2 * reach), 1.0)))


def largest_opening(reach: float) -> float:
    """The gap at which the paper would have turned by 90 degrees, mm."""
    return 2 * reach * math.sin(math.radians(_LARGEST_TURN_DEG / 2))


@dataclass(frozen=True)
class Spread:
    """A panel spread once, and the part that turned."""

    panel: Panel
    turned: MovingPart

    def carried(self, place: Point) -> Point:
        """A place of the old panel on the new one; on the slash it stays."""
        return self.turned.place(place)


def spread(
    panel: Panel, path: Sequence[Spot], corner: int, opening: float, stays: str
) -> Spread:
    """Slash and spread once.

    Args:
        path: mouth, corners, hinge.
        corner: at which place of the path the gap is measured; 1 is the mouth.
        opening: the gap there, mm.
        stays: the part that holds this edge lies still.

    Raises:
        Refused: see `slash`; or the part would turn more than 90 degrees or fold
            over, with the largest gap that would do.
    """
    cut = slash(panel, path)
    hinge = cut.path[-1]
    if not 1 <= corner < len(path):
        raise Refused("draft.no_such_corner", "", corner=corner)
    reach = cut.path[corner - 1].to(hinge)
    if opening < 0 or reach <= SAME:
        raise Refused("draft.opening_negative", "", opening=opening)
    largest = largest_opening(reach)
    if opening > largest:
        raise Refused("draft.turns_too_far", "", opening=opening, largest=largest)
    result = _turned(panel, cut, turn_for(opening, reach), stays)
    if crossing(result.panel.ring(1.0)):
        largest = _largest_without_fold(panel, cut, reach, opening, stays)
        raise Refused("draft.folds_over", "", opening=opening, largest=largest)
    return result


def _largest_without_fold(
    panel: Panel, cut: Slashed, reach: float, opening: float, stays: str
) -> float:
    low, high = 0.0, opening
    while high - low > 0.1:
        middle = (low + high) / 2
        tried = _turned(panel, cut, turn_for(middle, reach), stays)
        low, high = (low, middle) if crossing(tried.panel.ring(1.0)) else (middle, high)
    return low


def _turned(panel: Panel, cut: Slashed, angle_deg: float, stays: str) -> Spread:
    """The part without the named edge turned about the hinge, away from the rest."""
    mouth, hinge = cut.path[0], cut.path[-1]
    mouth_moves = _held(cut.from_hinge, stays) >= _held(cut.from_mouth, stays)
    # What runs anticlockwise from the mouth lies right of the slash as it is cut,
    # so turning it anticlockwise opens the gap.
    motion = turn(hinge, angle_deg if mouth_moves else -angle_deg)
    moving = cut.from_mouth if mouth_moves else cut.from_hinge
    still = cut.from_hinge if mouth_moves else cut.from_mouth
    moved = tuple(Piece(p.edge, p.chain.moved(motion)) for p in moving)
    gap: tuple[Piece, ...] = ()
    if not mouth.is_at(motion(mouth)):
        ends = (mouth, motion(mouth)) if mouth_moves else (motion(mouth), mouth)
        gap = (Piece(cut.mouth_edge, straight(*ends)),)
    pieces = (*still, *gap, *moved) if mouth_moves else (*still, *moved, *gap)
    inner = cut.path[1:-1]
    way = inner[::-1] if mouth_moves else inner
    ring = without_repeats(
        [p for piece in moving for p in piece.chain.flattened(OUTLINE)] + list(way)
    )
    outline = tuple(piece.chain for piece in moving)
    part = MovingPart(motion, tuple(ring), cut.path, outline)
    drawn = Panel(
        edges_from(panel, pieces),
        tuple(part.dart(dart) for dart in panel.darts),
        tuple(part.mark(mark) for mark in panel.marks),
    )
    return Spread(drawn, part)


def _held(part: Sequence[Piece], edge: str) -> float:
    """How much of an edge is in a part of the outline, mm."""
    held = 0.0
    for piece in part:
        if piece.edge == edge:
            held += piece.chain.paper_length
    return held


def edges_from(panel: Panel, pieces: Sequence[Piece]) -> tuple[Edge, ...]:
    """The edges of a panel from the pieces of its outline, in the panel's order."""
    names = [piece.edge for piece in pieces]
    first = next((i for i in range(len(names)) if names[i] != names[i - 1]), 0)
    chains: dict[str, list[Chain]] = {}
    for piece in (*pieces[first:], *pieces[:first]):
        chains.setdefault(piece.edge, []).append(piece.chain)
    drawn = []
    for edge in panel.edges:
        ringwise = join(chains[edge.name])
        chain = ringwise if edge.forward else ringwise.reversed()
        drawn.append(Edge(edge.name, chain, edge.forward))
    return tuple(drawn)


@dataclass(frozen=True)
class MovingPart:
    """The part that turns, and what it carries along.

    Attributes:
        motion: how it turns about the hinge.
        ring: the whole of it, slash included, as points.
        path: the slash.
        outline: its share of the panel's outline, as it lay.
    """

    motion: Motion
    ring: tuple[Point, ...]
    path: tuple[Point, ...]
    outline: tuple[Chain, ...] = ()

    def moves(self, place: Point) -> bool:
        """True when a place lies on the moving part; the slash itself stays."""
        if straight(*self.path).nearest(place)[1] <= _NEAR:
            return False
        # Whether a ring holds a place on its own line is a matter of luck: a mouth or
        # a corner on the outline is asked for by itself.
        on_line = any(chain.nearest(place)[1] <= _NEAR for chain in self.outline)
        return on_line or holds(self.ring, place)

    def place(self, place: Point) -> Point:
        """Where a place comes to lie."""
        return self.motion(place) if self.moves(place) else place

    def dart(self, dart: Dart) -> Dart:
        """A dart with its tip where it comes to lie."""
        return Dart(dart.name, dart.edge, self.place(dart.tip), dart.bow)

    def mark(self, mark: Mark) -> Mark:
        """A mark moved with its paper."""
        at = mark.shape
        moved = self.place(at) if isinstance(at, Point) else self.line(at)
        return Mark(mark.name, moved, mark.level)

    def line(self, chain: Chain) -> Chain:
        """A line drawn on the paper: what moves is moved, a gap is drawn across."""
        cuts = sorted(
            chain.nearest(place)[0]
            for first, second in pairwise(self.path)
            for place in line_meets(first, second, chain)
        )
        parts: list[Chain] = []
        rest: Chain | None = chain
        done = 0.0
        for cut in cuts:
            if rest is None or cut - done <= _NEAR:
                continue
            head, rest = rest.split(cut - done)
            done = cut
            if head:
                parts.append(head)
        if rest:
            parts.append(rest)
        drawn: list[Chain] = []
        for part in parts:
            middle = part.at(part.length / 2)
            placed = part.moved(self.motion) if self.moves(middle) else part
            if drawn and not drawn[-1].end.is_at(placed.start):
                drawn.append(straight(drawn[-1].end, placed.start))
            drawn.append(placed)
        return join(drawn)
