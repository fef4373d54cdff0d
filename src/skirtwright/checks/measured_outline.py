"""A cut piece as one would measure it: points along its exported outline.

Its edges are walked in `edge_walk`.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

from skirtwright.checks.edge_walk import DrawnEdge, Place, edges_along
from skirtwright.geometry import Cubic, Point, Segment
from skirtwright.geometry.tolerance import SAME
from skirtwright.pieces.marks.likeness import Mark
from skirtwright.pieces.piece import Piece

HEM, WAIST, WAIST_JOIN = "hem", "waist", "waist_join"
"""The roles of the edges that lie in the waist and in the hem of the skirt."""

_DOWN = "centre", "side"
"""The roles of edges that run from the waist down."""


@dataclass(frozen=True)
class Level:
    """The hip line of a piece: where it starts, the ways along and down, its length."""

    start: Point
    along: Point
    down: Point
    length: float

    def below(self, place: Place) -> float:
        """How far a place lies below the line, mm."""
        x, y = place[0] - self.start.x, place[1] - self.start.y
        return x * self.down.x + y * self.down.y

    def across(self, place: Place) -> float:
        """How far along the line a place lies, mm."""
        x, y = place[0] - self.start.x, place[1] - self.start.y
        return x * self.along.x + y * self.along.y


class Paper:
    """A piece with what is measured on it."""

    def __init__(self, piece: Piece) -> None:
        self.piece = piece
        self.panel = piece.panel

    @property
    def name(self) -> str:
        """The piece's name."""
        return self.piece.name

    @property
    def title(self) -> str:
        """The piece's name as it is read."""
        return self.piece.spec.title

    @cached_property
    def stem(self) -> str:
        """What left and right are called together."""
        return self.piece.spec.stem

    @property
    def times(self) -> int:
        """How often this outline lies in the finished skirt."""
        return self.piece.spec.count * (2 if self.piece.spec.folds else 1)

    @property
    def is_shell(self) -> bool:
        """True when it is cut of the main cloth."""
        return self.piece.spec.material == "shell"

    @cached_property
    def edges(self) -> dict[str, DrawnEdge]:
        """The edges by name, walked along the exported outline."""
        return edges_along(self.piece)

    @cached_property
    def ring(self) -> list[Place]:
        """The outline within 0.5 mm, anticlockwise, first place not repeated."""
        return self._ring(fine=False)

    @cached_property
    def fine_ring(self) -> list[Place]:
        """The same within 0.02 mm."""
        return self._ring(fine=True)

    def _ring(self, *, fine: bool) -> list[Place]:
        found: list[Place] = []
        for edge in self.panel.edges:
            drawn = self.edges[edge.name]
            places = drawn.points if fine else drawn.coarse
            found += places[:-1] if edge.forward else places[:0:-1]
        return found

    @cached_property
    def corners(self) -> dict[tuple[str, bool], float]:
        """Inner angle, degrees, at (edge, True at its start)."""
        found: dict[tuple[str, bool], float] = {}
        edges = self.panel.edges
        for before, after in zip((edges[-1], *edges), edges, strict=False):
            first, last = before.chain.segments, after.chain.segments
            coming = arriving(first[-1]) if before.forward else leaving(first[0])
            going = leaving(last[0]) if after.forward else arriving(last[-1])
            inner = 180.0 - turned(coming, going)
            if before.forward != after.forward:
                # One of the two runs against the ring.
                inner = (inner + 180.0) % 360.0
            found[before.name, not before.forward] = inner
            found[after.name, after.forward] = inner
        return found

    @cached_property
    def neighbours(self) -> dict[tuple[str, bool], str]:
        """The edge met at (edge, True at its start)."""
        edges = self.panel.edges
        found: dict[tuple[str, bool], str] = {}
        for before, after in zip((edges[-1], *edges), edges, strict=False):
            found[before.name, not before.forward] = after.name
            found[after.name, after.forward] = before.name
        return found

    def role(self, edge: str) -> str:
        """What an edge is, as the style says."""
        return self.piece.spec.role(edge)

    def of_role(self, role: str) -> tuple[str, ...]:
        """The edges that are of a role, in the panel's order."""
        return tuple(e.name for e in self.panel.edges if self.role(e.name) == role)

    def marks(self, edge: str) -> tuple[Mark, ...]:
        """The balance marks of an edge, in order; those of darts and tucks left out."""
        return self._marks.get(edge, ())

    @cached_property
    def _marks(self) -> dict[str, tuple[Mark, ...]]:
        found: dict[str, list[Mark]] = {}
        for notch in self.piece.notches:
            if not notch.dart:
                marks = found.setdefault(notch.edge, [])
                marks.append((notch.distance, notch.count))
        return {edge: tuple(sorted(marks)) for edge, marks in found.items()}

    @cached_property
    def hip(self) -> Level | None:
        """The hip line, beyond its last pleat; None where the piece has none."""
        line = self.panel.level_at_side("hip")
        if line is None:
            return None
        start, end = line.start, line.end
        along = (end - start).unit()
        down = along.right()
        # Down is where it ends below, or away from the waist.
        for found, way in ((self.lower, 1.0), (self.of_role(WAIST), -1.0)):
            if found:
                x, y = self.edges[found[0]].points[0]
                if ((x - start.x) * down.x + (y - start.y) * down.y) * way < 0:
                    down = -down
                break
        return Level(start, along, down, start.to(end))

    @cached_property
    def hem_below(self) -> float | None:
        """How far under the hip line the higher end of the hem lies, mm."""
        hems = [self.edges[name].points for name in self.of_role(HEM)]
        if self.hip is None or not hems:
            return None
        return min(self.hip.below(points[end]) for points in hems for end in (0, -1))

    @cached_property
    def closed_depth(self) -> float:
        """How far under the hip line it ends, or a godet let into it begins, mm."""
        if self.hip is None:
            return 0.0
        hem = [place for name in self.lower for place in self.edges[name].coarse]
        tops = [self.edges[name].points[0] for name in self.of_role("godet")]
        return min(map(self.hip.below, (*hem, *tops)), default=0.0)

    @cached_property
    def hung_from(self) -> tuple[str, ...]:
        """The edges it is sewn to a yoke along: its sides and centre begin there."""
        return tuple(top for top in self._met(at_top=True) if self.role(top) == "seam")

    @cached_property
    def lower(self) -> tuple[str, ...]:
        """Its hem, or the edges its sides and centre end at, where more hangs on it."""
        return self.of_role(HEM) or self._met(at_top=False)

    def _met(self, *, at_top: bool) -> tuple[str, ...]:
        """The edges its sides and centre begin at, or those they end at."""
        down = [name for role in _DOWN for name in self.of_role(role)]
        return tuple(dict.fromkeys(self.neighbours[name, at_top] for name in down))

    def width_at(self, below_hip: float, *, fine: bool = False) -> float:
        """Width on paper at a level under the hip line, darts shut, mm.

        Where the level runs above the seam it hangs from, it is as wide as that seam.
        """
        if self.hip is None:
            return 0.0
        ring = self.fine_ring if fine else self.ring
        meets = sorted(_level_meets(self.hip, below_hip, ring, closed=True))
        width = sum(b - a for a, b in zip(meets[::2], meets[1::2], strict=False))
        for dart in self.piece.darts:
            tip = (dart.tip.x, dart.tip.y)
            legs = [
                next(_level_meets(self.hip, below_hip, [tip, (leg.x, leg.y)]), None)
                for leg in dart.legs
            ]
            if legs[0] is not None and legs[1] is not None:
                width -= abs(legs[1] - legs[0])
        hung = [self.edges[name].coarse for name in self.hung_from] if meets else []
        return width + sum(_lower(self.hip, below_hip, places) for places in hung)


def leaving(segment: Segment) -> Place:
    """The way a segment leaves its start, of any length."""
    start = segment.start
    ahead = segment.control1 if isinstance(segment, Cubic) else segment.end
    way = (ahead.x - start.x, ahead.y - start.y)
    if abs(way[0]) + abs(way[1]) > SAME:
        return way
    unit = segment.start_direction
    return unit.x, unit.y


def arriving(segment: Segment) -> Place:
    """The way a segment comes to its end, of any length."""
    end = segment.end
    last = segment.control2 if isinstance(segment, Cubic) else segment.start
    way = (end.x - last.x, end.y - last.y)
    if abs(way[0]) + abs(way[1]) > SAME:
        return way
    unit = segment.end_direction
    return unit.x, unit.y


def turned(before: Place, after: Place) -> float:
    """How far a path turns from one way to another, degrees, left > 0."""
    (x, y), (u, v) = before, after
    return math.degrees(math.atan2(x * v - y * u, x * u + y * v))


def _lower(level: Level, below: float, places: list[Place]) -> float:
    """How much of a line, along a level, lies lower than it."""
    depths = [level.below(place) - below for place in places]
    found = 0.0
    for at, (first, last) in enumerate(pairwise(depths)):
        ends = level.across(places[at]), level.across(places[at + 1])
        if max(first, last) > 0:
            share = (
                1.0 if min(first, last) >= 0 else max(first, last) / abs(last - first)
            )
            found += share * abs(ends[1] - ends[0])
    return found


def _level_meets(
    level: Level, below: float, places: list[Place], *, closed: bool = False
) -> Iterator[float]:
    """Where a line of places meets a level, as distances along the level."""
    down_x, down_y = level.down.x, level.down.y
    base = level.start.x * down_x + level.start.y * down_y + below
    line = [*places, places[0]] if closed else places
    heights = [x * down_x + y * down_y - base for x, y in line]
    before = heights[0]
    for i in range(1, len(heights)):
        here = heights[i]
        if (before < 0) != (here < 0):
            first, last = level.across(line[i - 1]), level.across(line[i])
            yield first + (last - first) * before / (before - here)
        before = here
