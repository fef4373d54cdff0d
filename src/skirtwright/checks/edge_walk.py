"""Edges of a piece walked along its exported outline, for the checks.

An edge is what lies between its two ends on the outline; what lies between the legs of
a dart, or of a pleat or tuck, is left out. These are the figures a report gives to
anyone outside; nothing is asked of the lengths the draft worked with.
"""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from skirtwright.geometry import Cubic, Point, Segment
from skirtwright.geometry.tolerance import FLAT
from skirtwright.pieces.folding import folded
from skirtwright.pieces.piece import Piece

Place = tuple[float, float]

_COARSE: Final = 5
"""Every fifth step is enough to see where an outline is narrow (0.5 mm)."""


@dataclass(frozen=True)
class DrawnEdge:
    """An edge as points within 0.02 mm, in the style's direction.

    Attributes:
        points: along the whole line, caps of darts too.
        walked: walked length up to each point, what is taken up left out, mm.
        coarse: as many of the points as lie within 0.5 mm.
        taken_up: walked distances of what is taken up: darts, tucks, pleats.
    """

    name: str
    points: list[Place]
    walked: list[float]
    coarse: list[Place]
    taken_up: tuple[float, ...] = ()

    @property
    def length(self) -> float:
        """Walked length, mm."""
        return self.walked[-1]

    @property
    def open_length(self) -> float:
        """Length of the whole line, what is taken up and all, mm."""
        whole = 0.0
        for a, b in pairwise(self.points):
            whole += math.dist(a, b)
        return whole

    def at(self, distance: float) -> Place:
        """The place at a walked distance."""
        return self.place_and_way(distance)[0]

    def place_and_way(self, distance: float) -> tuple[Place, Place]:
        """The place at a walked distance, and the way of the line there, 1 mm long."""
        i = min(max(bisect_left(self.walked, distance), 1), len(self.walked) - 1)
        (a, b), (c, d) = self.points[i - 1], self.points[i]
        size = math.hypot(c - a, d - b) or 1.0
        step = self.walked[i] - self.walked[i - 1]
        share = (distance - self.walked[i - 1]) / step if step > 0 else 1.0
        place = (a + (c - a) * share, b + (d - b) * share)
        return place, ((c - a) / size, (d - b) / size)


def edges_along(piece: Piece) -> dict[str, DrawnEdge]:
    """The edges of a piece by name, each walked along the outline."""
    outline = piece.panel.outline.segments
    lines = [[_key(s.start), *_steps(s)] for s in outline]
    for line, after in pairwise((*lines, lines[0])):
        line[-1] = after[0]
    begins = {line[0]: number for number, line in enumerate(lines)}

    def on(point: Point) -> Place:
        """The corner of the outline that a point is, or all but is."""
        key = _key(point)
        return key if key in begins else min(begins, key=lambda c: math.dist(c, key))

    legs: dict[str, list[tuple[Place, Place]]] = {}
    for dart in piece.darts:
        left, right = dart.legs
        legs.setdefault(dart.edge, []).append((on(left), on(right)))
    for crossing in (c for fold in folded(piece.panel) for c in fold.edges):
        if crossing.folded:
            left, right = crossing.legs
            legs.setdefault(crossing.edge, []).append((on(left), on(right)))
    return {
        edge.name: _walked(
            edge.name,
            _runs(
                on(edge.chain.start),
                on(edge.chain.end),
                lines,
                begins,
                forward=edge.forward,
            ),
            legs.get(edge.name, []),
        )
        for edge in piece.panel.edges
    }


def _key(point: Point) -> Place:
    return point.x, point.y


def _walked(
    name: str, runs: Sequence[list[Place]], legs: Sequence[tuple[Place, Place]]
) -> DrawnEdge:
    points, coarse = [runs[0][0]], [runs[0][0]]
    walked, total = [0.0], 0.0
    taken_up: list[float] = []
    waiting, until = list(legs), None
    hypot = math.hypot
    for run in runs:
        x, y = run[0]
        if until == run[0]:
            until = None
        if until is None:
            for pair in waiting:
                if run[0] in pair:
                    until = pair[1] if pair[0] == run[0] else pair[0]
                    taken_up.append(total)
                    waiting.remove(pair)
                    break
        points += run[1:]
        coarse += run[_COARSE:-1:_COARSE]
        coarse.append(run[-1])
        if until is not None:
            walked += [total] * (len(run) - 1)
            continue
        for u, v in run[1:]:
            total += hypot(u - x, v - y)
            walked.append(total)
            x, y = u, v
    return DrawnEdge(name, points, walked, coarse, tuple(taken_up))


def _runs(
    start: Place,
    end: Place,
    lines: Sequence[list[Place]],
    begins: dict[Place, int],
    *,
    forward: bool,
) -> list[list[Place]]:
    """The stretches of the outline from an edge's start to its end."""
    first, last = (start, end) if forward else (end, start)
    at, stop = begins[first], begins[last]
    count = (stop - at) % len(lines) or len(lines)
    runs = [lines[(at + number) % len(lines)] for number in range(count)]
    return runs if forward else [run[::-1] for run in reversed(runs)]


def _steps(segment: Segment) -> Iterator[Place]:
    """Places after a segment's start, evenly by parameter, within 0.02 mm."""
    p, s = segment.start, segment.end
    if isinstance(segment, Cubic):
        q, r = segment.control1, segment.control2
        bend = max(
            math.hypot(p.x - 2 * q.x + r.x, p.y - 2 * q.y + r.y),
            math.hypot(q.x - 2 * r.x + s.x, q.y - 2 * r.y + s.y),
        )
        count = max(1, math.ceil(math.sqrt(0.75 * bend / FLAT)))
        ax, ay = 3 * (q.x - p.x), 3 * (q.y - p.y)
        bx, by = 3 * (r.x - 2 * q.x + p.x), 3 * (r.y - 2 * q.y + p.y)
        cx, cy = s.x - 3 * r.x + 3 * q.x - p.x, s.y - 3 * r.y + 3 * q.y - p.y
        px, py = p.x, p.y
        for i in range(1, count):
            t = i / count
            x = px + t * (ax + t * (bx + t * cx))
            yield x, py + t * (ay + t * (by + t * cy))
    yield s.x, s.y
