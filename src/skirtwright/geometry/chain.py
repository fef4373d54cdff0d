"""A run of segments joined end to end: an edge, a mark, a line of the draft.

Distances along a chain are *walked*: segments taken up by a dart or pleat count
nothing, as when the garment is sewn. `paper_length` counts everything.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Final

from skirtwright.budget import spend
from skirtwright.geometry.point import Motion, Point
from skirtwright.geometry.segment import Cubic, Line, Segment
from skirtwright.geometry.tolerance import SAME


@dataclass(init=False)
class Chain:
    """Segments joined end to end; never empty."""

    segments: Final[tuple[Segment, ...]]

    def __init__(self, segments: tuple[Segment, ...]) -> None:
        spend("points", len(segments))
        self.segments = segments
        self._length = self._paper_length = self._furthest = -1.0

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Chain) and self.segments == other.segments

    def __hash__(self) -> int:
        return hash((self.segments,))

    @property
    def start(self) -> Point:
        """First point."""
        return self.segments[0].start

    @property
    def end(self) -> Point:
        """Last point."""
        return self.segments[-1].end

    @property
    def start_direction(self) -> Point:
        """Unit direction of leaving."""
        return self.segments[0].start_direction

    @property
    def end_direction(self) -> Point:
        """Unit direction of arriving."""
        return self.segments[-1].end_direction

    @property
    def length(self) -> float:
        """Walked length, mm: what is taken up by darts and pleats is left out."""
        if self._length < 0:
            walked = 0.0
            for segment in self.segments:
                if not segment.fold:
                    walked += segment.length
            self._length = walked
        return self._length

    @property
    def paper_length(self) -> float:
        """Length of the whole drawn line, mm."""
        if self._paper_length < 0:
            drawn = 0.0
            for segment in self.segments:
                drawn += segment.length
            self._paper_length = drawn
        return self._paper_length

    @property
    def furthest(self) -> float:
        """How far from zero it is drawn, mm; endless where a point is no number."""
        if self._furthest < 0:
            far = (point.size() for s in self.segments for point in s.points)
            self._furthest = max(min(math.inf, size) for size in far)
        return self._furthest

    def locate(self, distance: float) -> tuple[int, float]:
        """Segment number and distance within it of a walked distance."""
        left = distance
        last = 0
        for index, segment in enumerate(self.segments):
            if segment.fold:
                continue
            last = index
            if left <= segment.length:
                return index, max(left, 0.0)
            left -= segment.length
        return last, self.segments[last].length

    def at(self, distance: float) -> Point:
        """The point at a walked distance, mm."""
        index, rest = self.locate(distance)
        return self.segments[index].at(rest)

    def direction_at(self, distance: float) -> Point:
        """Unit direction at a walked distance."""
        index, rest = self.locate(distance)
        return self.segments[index].direction_at(rest)

    def split(self, distance: float) -> tuple[Chain | None, Chain | None]:
        """The parts before and after a walked distance; None where nothing is left."""
        index, rest = self.locate(distance)
        segment = self.segments[index]
        before, after = self.segments[:index], self.segments[index + 1 :]
        if rest <= SAME:
            after = (segment, *after)
        elif rest >= segment.length - SAME:
            before = (*before, segment)
        else:
            first, second = segment.split(rest)
            before, after = (*before, first), (second, *after)
        return (Chain(before) if before else None, Chain(after) if after else None)

    def part(self, low: float, high: float) -> Chain:
        """The part between two walked distances, low < high.

        Raises:
            ValueError: nothing lies between them.
        """
        _, rest = self.split(low)
        middle = rest.split(high - low)[0] if rest else None
        if middle is None:
            message = "no part of the chain lies between the distances"
            raise ValueError(message)
        return middle

    def reversed(self) -> Chain:
        """The same line walked the other way."""
        return Chain(tuple(s.reversed() for s in reversed(self.segments)))

    def moved(self, motion: Motion) -> Chain:
        """The same line after a motion."""
        return Chain(tuple(s.moved(motion) for s in self.segments))

    def taken_up(self, fold: str) -> Chain:
        """The same line as part of a dart or pleat."""
        return Chain(tuple(s.taken_up(fold) for s in self.segments))

    def with_ends(self, start: Point, end: Point) -> Chain:
        """The same line with its ends put exactly where its neighbours end."""
        first = replace(self.segments[0], start=start)
        rest = self.segments[1:]
        if not rest:
            return Chain((replace(first, end=end),))
        return Chain((first, *rest[:-1], replace(rest[-1], end=end)))

    def flattened(self, tolerance: float) -> list[Point]:
        """All points, start included, within `tolerance` mm of the line."""
        points = [self.start]
        for segment in self.segments:
            points.extend(segment.flattened(tolerance))
        return points

    def nearest(self, point: Point, within: float = math.inf) -> tuple[float, float]:
        """Walked distance of the nearest place, and how far away it lies, mm.

        Where it is looked for `within` a distance and nothing lies there, further away.
        """
        spend("points", len(self.segments))
        number, parameter, gap = 0, 0.0, within + SAME
        # None lies further than the nearest joint: most are passed over by that.
        joint = self.start.to(point)
        for segment in self.segments:
            joint = min(joint, segment.end.to(point))
        joint += 2 * SAME
        for index, segment in enumerate(self.segments):
            if isinstance(segment, Cubic) and segment.is_beyond(
                point, min(gap - SAME, joint)
            ):
                continue
            t = segment.nearest_parameter(point)
            away = segment.point_at_parameter(t).to(point)
            if away < gap - SAME:
                number, parameter, gap = index, t, away
        walked = 0.0
        for segment in self.segments[:number]:
            if not segment.fold:
                walked += segment.length
        found = self.segments[number]
        return walked + (0.0 if found.fold else found.distance_at(parameter)), gap

    def and_then(self, *others: Chain | None) -> Chain:
        """This chain with others joined behind it; None is passed over."""
        return join([self, *others])


def join(chains: Iterable[Chain | None]) -> Chain:
    """One chain of several; gaps nearer than the tolerance are closed.

    Raises:
        ValueError: there is none, or one does not begin where the last ended.
    """
    segments: list[Segment] = []
    for chain in chains:
        for segment in chain.segments if chain else ():
            if segments and not segments[-1].end.is_at(segment.start):
                message = "a chain must begin where the one before it ended"
                raise ValueError(message)
            segments.append(segment)
    if not segments:
        message = "no chain to join"
        raise ValueError(message)
    return Chain(tuple(segments))


def straight(*points: Point) -> Chain:
    """Straight lines through the points in turn."""
    return Chain(tuple(Line(a, b) for a, b in pairwise(points)))


def curve(points: Sequence[Point]) -> Chain:
    """One cubic of four points."""
    first, second, third, last = points
    return Chain((Cubic(first, second, third, last),))
