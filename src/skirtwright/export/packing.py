"""Pieces moved and turned so that they take fewer sheets, or less of a roll.

A piece is looked at as a stack of rows of small cells, each row an interval; the mat
it is laid on keeps one whole number for each row, a bit for each cell, so that all
places along a row are tried at once. Largest first, each piece goes to the place that
costs least. This is a quick greedy way, not the search of `lay`: paper is cheap, and
she waits for the count of sheets.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Protocol

from skirtwright.export.sheet import Group, Sheet
from skirtwright.geometry import Motion, Point, turn
from skirtwright.geometry.tolerance import SAME

CLEAR = 1.5
"""Room kept round each piece, mm."""

QUARTERS = (0, 90, 180, 270)
HALVES = (0, 180)

_ROUGH = 0.5
"""How far the outline packed may lie from the true one, well within what is clear."""

_CELL = 16.0
"""About the side of a cell when sheets are saved, mm."""

Span = tuple[int, int]
"""First and last cell of a row."""


@dataclass(frozen=True)
class Cells:
    """The size of a cell, mm."""

    width: float
    height: float


@dataclass(frozen=True)
class Shape:
    """A piece turned one way, in cells from its own lower left corner."""

    motion: Motion
    rows: tuple[Span, ...]

    @cached_property
    def width(self) -> int:
        """Cells across."""
        return max(last for _, last in self.rows) + 1


@dataclass(frozen=True)
class Place:
    """A shape laid at a cell."""

    shape: Shape
    x: int
    y: int


def shapes_of(group: Group, cells: Cells, turns: Sequence[int]) -> list[Shape]:
    """The piece turned each allowed way, without like ones."""
    found: dict[tuple[Span, ...], Shape] = {}
    points = [mark.points(_ROUGH) for mark in group.marks]
    for angle in turns:
        spin = turn(Point(0, 0), angle)
        turned = [[spin(p) for p in run] for run in points]
        left = min(p.x for run in turned for p in run) - CLEAR
        foot = min(p.y for run in turned for p in run) - CLEAR
        rows = _rows(turned, left, foot, cells)
        home = spin.then(Motion(e=-left, f=-foot))
        found.setdefault(rows, Shape(home, rows))
    return list(found.values())


def _rows(
    runs: Iterable[Sequence[Point]], left: float, foot: float, cells: Cells
) -> tuple[Span, ...]:
    """For each row of cells, the first and last cell the piece comes near."""
    spans: dict[int, Span] = {}
    for run in runs:
        for p, q in zip(run, run[1:] or run, strict=False):
            low, high = sorted((p.y - foot, q.y - foot))
            lowest = int((low - CLEAR) // cells.height)
            highest = int((high + CLEAR) // cells.height)
            for row in range(max(lowest, 0), highest + 1):
                a, b = _across(p, q, row * cells.height + foot, cells.height)
                first = max(int((a - left - CLEAR) // cells.width), 0)
                # A piece exactly as wide as the mat fits.
                last = int((b - left + CLEAR - SAME) // cells.width)
                was = spans.get(row, (first, last))
                spans[row] = (min(first, was[0]), max(last, was[1]))
    top = max(spans)
    inside = [spans.get(row) for row in range(top + 1)]
    return tuple(span or (0, 0) for span in inside)


def _across(p: Point, q: Point, foot: float, height: float) -> tuple[float, float]:
    """Where a straight line runs, in x, inside a row with room to spare."""
    low, high = foot - CLEAR, foot + height + CLEAR
    xs = []
    rise = q.y - p.y
    for end in (p, q):
        y = min(max(end.y, low), high)
        share = (y - p.y) / rise if abs(rise) > 1e-9 else 0.0
        xs.append(p.x + share * (q.x - p.x) if abs(rise) > 1e-9 else end.x)
    return min(xs), max(xs)


class Mat:
    """What is taken already: a number for each row, a bit for each cell."""

    def __init__(self, columns: int) -> None:
        self.columns = columns
        self.rows: list[int] = []

    def lay(self, place: Place) -> None:
        """Take the cells of a laid piece."""
        missing = place.y + len(place.shape.rows) - len(self.rows)
        self.rows.extend([0] * max(missing, 0))
        for row, (first, last) in enumerate(place.shape.rows, place.y):
            self.rows[row] |= ((1 << (last - first + 1)) - 1) << (first + place.x)

    def free(self, shape: Shape, y: int) -> int:
        """A bit for each x at which the shape fits with its foot at row y."""
        taken = 0
        for (first, last), row in zip(shape.rows, self.rows[y:], strict=False):
            if row:
                taken |= _smeared(row >> first, last - first)
        room = self.columns - shape.width + 1
        return ~taken & ((1 << room) - 1) if room > 0 else 0


def _smeared(bits: int, by: int) -> int:
    """The bits and all their copies moved down by 1 to `by` places."""
    done = 0
    while done < by:
        step = min(done + 1, by - done)
        bits |= bits >> step
        done += step
    return bits


def _places(mat: Mat, shape: Shape, stops: int) -> Iterator[Place]:
    """Places worth trying: the stops, and both ends of every free run of a row."""
    for y in range(len(mat.rows) + 1):
        free = mat.free(shape, y)
        ends = free & (~(free << 1) | ~(free >> 1) | stops)
        while ends:
            lowest = ends & -ends
            yield Place(shape, lowest.bit_length() - 1, y)
            ends ^= lowest


def laid(
    sheet: Sheet, cells: Cells, columns: int, turns: Sequence[int], keeper: Keeper
) -> Sheet | None:
    """The sheet with its pieces laid from the origin up, or None if one is too wide.

    Args:
        sheet: the pieces, wherever they lie now.
        cells: how fine to look.
        columns: cells across the mat.
        turns: the angles a piece may be turned by, degrees.
        keeper: says what a place costs; the least is taken.
    """
    mat = Mat(columns)
    all_shapes = [shapes_of(group, cells, turns) for group in sheet.groups]
    order = sorted(range(len(all_shapes)), key=lambda n: -_size(all_shapes[n][0]))
    motions: dict[int, Motion] = {}
    for number in order:
        places = [
            place
            for shape in all_shapes[number]
            for place in _places(mat, shape, keeper.stops)
        ]
        if not places:
            return None
        place = min(places, key=keeper.price)
        mat.lay(place)
        keeper.take(place)
        step = Motion(e=place.x * cells.width, f=place.y * cells.height)
        motions[number] = place.shape.motion.then(step)
    groups = tuple(g.moved(motions[n]) for n, g in enumerate(sheet.groups))
    return replace(sheet, groups=groups)


def _size(shape: Shape) -> int:
    return sum(last - first + 1 for first, last in shape.rows)


class Keeper(Protocol):
    """Keeps what is used up, and says what one more piece would cost."""

    stops: int
    """Cells across worth trying besides the ends of free runs, a bit each."""

    def price(self, place: Place) -> tuple[float, ...]:
        """What a place costs; compared in order."""

    def take(self, place: Place) -> None:
        """Note that a place is taken."""


class Length:
    """Keeps the length of a roll."""

    stops = 0

    def __init__(self) -> None:
        self.used = 0

    def price(self, place: Place) -> tuple[float, ...]:
        """The length of roll used after, then how far up and across."""
        top = place.y + len(place.shape.rows)
        return (max(top, self.used), top, place.x)

    def take(self, place: Place) -> None:
        """Note the length."""
        self.used = max(self.used, place.y + len(place.shape.rows))


class Windows:
    """Keeps which windows of a grid are used, a number a row, a bit a window."""

    def __init__(
        self, fine: tuple[int, int], lap: tuple[int, int], across: int
    ) -> None:
        self.fine = fine
        self.lap = lap
        self.stops = sum(1 << (column * fine[0]) for column in range(across))
        self.used: dict[int, int] = {}
        self.known: dict[tuple[int, int], list[tuple[int, Span]]] = {}

    def price(self, place: Place) -> tuple[float, ...]:
        """Windows newly used, then how far from the corner."""
        new = 0
        for row, mask in self._touched(place):
            new += (mask & ~self.used.get(row, 0)).bit_count()
        reach = max(place.x + place.shape.width, place.y + len(place.shape.rows))
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
        for row, (first, last) in enumerate(shape.rows, phase):
            for window in range(max((row - lap + 1) // fine, 0), row // fine + 1):
                was = spans.get(window, (first, last))
                spans[window] = (min(first, was[0]), max(last, was[1]))
        return list(spans.items())


def on_a_roll(sheet: Sheet, width: float, turns: Sequence[int]) -> Sheet | None:
    """The sheet laid within `width` mm as short as this way finds it.

    None when a piece is wider than the roll however it is turned.
    """
    columns = 96
    return laid(sheet, Cells(width / columns, 10.0), columns, turns, Length())


def on_sheets(
    sheet: Sheet, step: tuple[float, float], overlap: float, columns: int
) -> Sheet | None:
    """The sheet laid so that it touches few windows of a grid from the origin.

    Args:
        sheet: the pieces.
        step: distance from window to window, mm.
        overlap: how much windows overlap, mm.
        columns: how many windows side by side at most.
    """
    fine = (math.ceil(step[0] / _CELL), math.ceil(step[1] / _CELL))
    cells = Cells(step[0] / fine[0], step[1] / fine[1])
    lap = (math.ceil(overlap / cells.width), math.ceil(overlap / cells.height))
    keeper = Windows(fine, lap, columns)
    return laid(sheet, cells, columns * fine[0], QUARTERS, keeper)
