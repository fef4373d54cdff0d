"""Pieces moved and turned so that they take fewer sheets, or less of a roll.

A piece is looked at as a stack of rows of small cells, each row an interval; the mat
it is laid on keeps one whole number for each row, a bit for each cell, so that all
places along a row are tried at once. Largest first, each piece goes to the place that
costs least. This is a quick greedy way, not the search of `lay`: paper is cheap, and
she waits for the count of sheets.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from skirtwright.export.sheet import Group, Sheet, Stroke
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
    """A piece turned one way, in cells from its own lower left corner.

    Attributes:
        motion: brings the piece there.
        across: its true width with the room kept round it, mm.
        rows: a number for each row of cells, a bit for each cell it comes near.
    """

    motion: Motion
    across: float
    rows: tuple[int, ...]

    @cached_property
    def width(self) -> int:
        """Cells across."""
        return max(map(int.bit_length, self.rows))

    @cached_property
    def area(self) -> int:
        """How many cells it takes."""
        return sum(map(int.bit_count, self.rows))

    @cached_property
    def runs(self) -> tuple[tuple[Span, ...], ...]:
        """For each row, the first and last cell of every run of taken ones."""
        return tuple(tuple(_runs(row)) for row in self.rows)

    @cached_property
    def spans(self) -> tuple[Span, ...]:
        """For each row, the first and last cell taken."""
        return tuple(
            (runs[0][0], runs[-1][1]) if runs else (0, 0) for runs in self.runs
        )


def _runs(row: int) -> Iterator[Span]:
    """The runs of set bits, lowest first."""
    first = 0
    while row:
        skipped = (row & -row).bit_length() - 1
        row >>= skipped
        long = (~row & row + 1).bit_length() - 1
        yield first + skipped, first + skipped + long - 1
        row >>= long
        first += skipped + long


@dataclass(frozen=True)
class Place:
    """A shape laid at a cell."""

    shape: Shape
    x: int
    y: int

    @property
    def top(self) -> int:
        """The row above it."""
        return self.y + len(self.shape.rows)


def shapes_of(group: Group, cells: Cells, turns: Sequence[int]) -> list[Shape]:
    """The piece turned each allowed way, without like ones."""
    found: dict[tuple[int, ...], Shape] = {}
    runs = [
        (mark.points(_ROUGH), isinstance(mark, Stroke) and mark.closed)
        for mark in group.marks
    ]
    for angle in turns:
        spin = turn(Point(0, 0), angle)
        turned = [([spin(p) for p in run], closed) for run, closed in runs]
        xs = [p.x for run, _ in turned for p in run]
        corner = Point(
            min(xs) - CLEAR, min(p.y for run, _ in turned for p in run) - CLEAR
        )
        home = Motion(e=-corner.x, f=-corner.y)
        rows: dict[int, int] = {}
        for run, closed in turned:
            _draw([home(p) for p in run], cells, rows)
            if closed:
                _fill([home(p) for p in run], cells, rows)
        masks = tuple(rows.get(row, 0) for row in range(max(rows) + 1))
        across = max(xs) - min(xs) + 2 * CLEAR
        found.setdefault(masks, Shape(spin.then(home), across, masks))
    return list(found.values())


def _draw(run: Sequence[Point], cells: Cells, rows: dict[int, int]) -> None:
    """Take the cells that a line through points comes near."""
    for p, q in zip(run, run[1:] or run, strict=False):
        low, high = sorted((p.y, q.y))
        lowest = max(int((low - CLEAR) // cells.height), 0)
        # A piece exactly as high or as wide as the mat fits.
        highest = int((high + CLEAR - SAME) // cells.height)
        for row in range(lowest, highest + 1):
            a, b = _across(p, q, row * cells.height, cells.height)
            first = max(int((a - CLEAR) // cells.width), 0)
            last = int((b + CLEAR - SAME) // cells.width)
            rows[row] = rows.get(row, 0) | (1 << last + 1) - (1 << first)


def _fill(outline: Sequence[Point], cells: Cells, rows: dict[int, int]) -> None:
    """Take the cells inside an outline: where the middle of a row runs through it."""
    for row in tuple(rows):
        middle = (row + 0.5) * cells.height
        met = sorted(
            p.x + (middle - p.y) / (q.y - p.y) * (q.x - p.x)
            for p, q in zip(outline, (*outline[1:], outline[0]), strict=True)
            if (p.y <= middle) != (q.y <= middle)
        )
        for a, b in zip(met[::2], met[1::2], strict=True):
            rows[row] |= (1 << int(b // cells.width) + 1) - (1 << int(a // cells.width))


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
        sheet: the pieces.
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
    pieces = [shapes_of(group, cells, QUARTERS) for group in sheet.groups]
    for number in sorted(range(len(pieces)), key=lambda n: -pieces[n][0].area):
        places = [p for shape in pieces[number] for p in _places(mat, shape, keeper)]
        if not places:
            return None
        place = min(places, key=keeper.price)
        mat.lay(place)
        keeper.take(place)
        motions[number] = laid_at(place, cells)
    groups = tuple(g.moved(motions[n]) for n, g in enumerate(sheet.groups))
    return replace(sheet, groups=groups)


def laid_at(place: Place, cells: Cells) -> Motion:
    """The motion that lays a piece at its place."""
    step = Motion(e=place.x * cells.width, f=place.y * cells.height)
    return place.shape.motion.then(step)
