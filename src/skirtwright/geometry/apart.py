"""Where one drawing differs from another: parts of lines that lie off the other's.

Plain geometry: a line is walked in small steps, and every step's distance from the
nearest of the other lines is measured.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise
from typing import Final

from skirtwright.budget import spend
from skirtwright.geometry.point import Point

SEEN: Final = 0.25
"""Lines nearer than this are one line, mm: half of the pen a cutting line is drawn
with."""

_STEP: Final = 2.0
"""How far apart the places are that are measured, mm."""

_CELL: Final = 8.0

_LIGHT: Final = 4
"""To measure so many places is as much work as to find a point."""

Run = tuple[Point, ...]
"""A part of a line, as points."""


class Lines:
    """Lines that others are held against, each as points."""

    def __init__(self, lines: Iterable[Sequence[Point]]) -> None:
        self._cells: dict[tuple[int, int], list[tuple[Point, Point]]] = {}
        for line in lines:
            for p, q in _steps(line, _CELL):
                for cell in _cells(p, q):
                    self._cells.setdefault(cell, []).append((p, q))

    def near(self, place: Point) -> bool:
        """Whether one of the lines runs through a place, as far as can be seen."""
        cell = (math.floor(place.x / _CELL), math.floor(place.y / _CELL))
        return any(_gap(place, p, q) <= SEEN for p, q in self._cells.get(cell, ()))

    def apart(self, line: Sequence[Point]) -> Iterator[Run]:
        """The parts of a line that are none of these lines."""
        run: list[Point] = []
        last: Point | None = None
        for place in _places(line):
            if not self.near(place):
                # From the last place where they were one.
                run = run or ([last] if last else [])
                run.append(place)
            elif run:
                yield (*run, place)
                run = []
            last = place
        if run:
            yield tuple(run)


def _places(line: Sequence[Point]) -> Iterator[Point]:
    yield line[0]
    for _, q in _steps(line, _STEP):
        yield q


def _steps(line: Sequence[Point], most: float) -> Iterator[tuple[Point, Point]]:
    """The line in straight steps no longer than that; a point is a step of nothing."""
    if len(line) == 1:
        yield line[0], line[0]
    for p, q in pairwise(line):
        count = max(1, math.ceil(p.to(q) / most))
        spend("points", 1 + count // _LIGHT)
        before = p
        for number in range(1, count + 1):
            here = p.between(q, number / count)
            yield before, here
            before = here


def _cells(p: Point, q: Point) -> Iterator[tuple[int, int]]:
    """The cells of a short step, and of whatever is near enough to be one with it."""
    low_x, high_x = sorted((p.x, q.x))
    low_y, high_y = sorted((p.y, q.y))
    for x in range(_cell(low_x - SEEN), _cell(high_x + SEEN) + 1):
        for y in range(_cell(low_y - SEEN), _cell(high_y + SEEN) + 1):
            yield x, y


def _cell(length: float) -> int:
    return math.floor(length / _CELL)


def _gap(place: Point, p: Point, q: Point) -> float:
    along = q - p
    size = along.dot(along)
    share = (place - p).dot(along) / size if size else 0.0
    return place.to(p + along * min(max(share, 0.0), 1.0))
