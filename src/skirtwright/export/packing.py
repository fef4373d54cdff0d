"""Pieces moved and turned so that they take fewer sheets, or less of a roll.

The mat that pieces are laid on keeps one whole number for each row of cells. Largest
first, each piece goes to the place that costs least. This is a quick greedy way, not
the search of `lay.placing`: paper is cheap, and she waits for the count of sheets.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache

from skirtwright.export.sheet import Mark, Sheet, Stroke
from skirtwright.geometry import Motion, Point, turn
from skirtwright.geometry.box import box_of
from skirtwright.lay.cells import Cells, Place, Shape, Span, rows_of

CLEAR = 1.5
"""Room kept round each piece, mm."""

QUARTERS = (0, 90, 180, 270)
HALVES = (0, 180)

_ROUGH = 0.5
"""How far the outline packed may lie from the true one, well within what is clear."""

_CELL = 16.0
"""About the side of a cell when sheets are saved, mm."""


@lru_cache(maxsize=64)
def shapes_of(
    marks: tuple[Mark, ...], cells: Cells, turns: tuple[int, ...], clear: float = CLEAR
) -> tuple[Shape, ...]:
    """A piece turned each allowed way, without like ones, with clear room round it."""
    found: dict[tuple[int, ...], Shape] = {}
    runs = [
        (mark.points(_ROUGH), isinstance(mark, Stroke) and mark.closed)
        for mark in marks
    ]
    for angle in turns:
        spin = turn(Point(0, 0), angle)
        turned = [spin(p) for run, _ in runs for p in run]
        box = box_of(turned)
        home = spin.then(Motion(e=clear - box.left, f=clear - box.bottom))
        brought = [([home(p) for p in run], closed) for run, closed in runs]
        rows = rows_of(brought, cells, clear)
        size = (box.width + 2 * clear, box.height + 2 * clear)
        found.setdefault(rows, Shape(home, *size, rows))
    return tuple(found.values())


class Mat:
    """What is taken already: a number for each row, a bit for each cell."""

    def __init__(self) -> None:
        self.rows: list[int] = []

    def lay(self, place: Place) -> None:
        """Take the cells of a laid piece."""
        self.rows.extend([0] * max(place.top - len(self.rows), 0))
        for row, taken in enumerate(place.shape.rows, place.y):
            self.rows[row] |= taken << place.x

    def free(self, shape: Shape, y: int, places: int) -> int:
        """A bit for each of the first `places` x at which it fits, its foot at y."""
        every = (1 << places) - 1
        blocked = 0
        for runs, row in zip(shape.runs, self.rows[y:], strict=False):
            if row:
                for first, last in runs:
                    blocked |= _smeared(row >> first, last - first)
                if blocked & every == every:
                    return 0
        return ~blocked & every


def _smeared(bits: int, by: int) -> int:
    """The bits and all their copies moved down by 1 to `by` places."""
    done = 0
    while done < by:
        step = min(done + 1, by - done)
        bits |= bits >> step
        done += step
    return bits


def _places(mat: Mat, shape: Shape, keeper: Windows) -> Iterator[Place]:
    """Places worth trying: the stops, and both ends of every free run of a row."""
    room = keeper.columns - shape.width + 1
    if room <= 0:
        return
    for y in range(len(mat.rows) + 1):
        free = mat.free(shape, y, room)
        ends = free & (~(free << 1) | ~(free >> 1) | keeper.stops)
        while ends:
            lowest = ends & -ends
            yield Place(shape, lowest.bit_length() - 1, y)
            ends ^= lowest


class Windows:
    """Keeps which windows of a grid are used, a number a row, a bit a window."""

    def __init__(
        self, fine: tuple[int, int], lap: tuple[int, int], across: int
    ) -> None:
        self.fine = fine
        self.lap = lap
        self.columns = across * fine[0]
        self.stops = sum(1 << (column * fine[0]) for column in range(across))
        self.used: dict[int, int] = {}
        self.known: dict[tuple[int, int], list[tuple[int, Span]]] = {}

    def price(self, place: Place) -> tuple[float, ...]:
        """Windows newly used, then how far from the corner."""
        new = 0
        for row, mask in self._touched(place):
            new += (mask & ~self.used.get(row, 0)).bit_count()
        reach = max(place.x + place.shape.width, place.top)
        return (new, reach, place.y, place.x)

    def take(self, place: Place) -> None:
        """Note the windows."""
        for row, mask in self._touched(place):
            self.used[row] = self.used.get(row, 0) | mask

    def _touched(self, place: Place) -> Iterator[tuple[int, int]]:
        high, phase = divmod(place.y, self.fine[1])
        key = (id(place.shape), phase)
        if key not in self.known:
            self.known[key] = self._spans(place.shape, phase)
        for window, (first, last) in self.known[key]:
            low = max((place.x + first - self.lap[0] + 1) // self.fine[0], 0)
            far = (place.x + last) // self.fine[0]
            yield high + window, (1 << (far + 1)) - (1 << low)

    def _spans(self, shape: Shape, phase: int) -> list[tuple[int, Span]]:
        """For each row of windows a shape touches, how far across in cells."""
        spans: dict[int, Span] = {}
        fine, lap = self.fine[1], self.lap[1]
        for row, (first, last) in enumerate(shape.spans, phase):
            for window in range(max((row - lap + 1) // fine, 0), row // fine + 1):
                was = spans.get(window, (first, last))
                spans[window] = (min(first, was[0]), max(last, was[1]))
        return list(spans.items())


def on_sheets(
    sheet: Sheet, step: tuple[float, float], overlap: float, columns: int
) -> Sheet | None:
    """The sheet laid so that it touches few windows of a grid from the origin.

    Args:
        step: distance from window to window, mm.
        overlap: how much windows overlap, mm.
        columns: how many windows side by side at most.
    """
    fine = (math.ceil(step[0] / _CELL), math.ceil(step[1] / _CELL))
    cells = Cells(step[0] / fine[0], step[1] / fine[1])
    lap = (math.ceil(overlap / cells.width), math.ceil(overlap / cells.height))
    keeper = Windows(fine, lap, columns)
    mat = Mat()
    motions: dict[int, Motion] = {}
    pieces = [shapes_of(group.marks, cells, QUARTERS) for group in sheet.groups]
    for number in sorted(range(len(pieces)), key=lambda n: -pieces[n][0].area):
        places = [p for shape in pieces[number] for p in _places(mat, shape, keeper)]
        if not places:
            return None
        place = min(places, key=keeper.price)
        mat.lay(place)
        keeper.take(place)
        motions[number] = place.motion(cells)
    groups = tuple(g.moved(motions[n]) for n, g in enumerate(sheet.groups))
    return replace(sheet, groups=groups)
