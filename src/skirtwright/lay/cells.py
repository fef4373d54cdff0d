"""Pieces as stacks of rows of small cells, laid on paper and on cloth alike.

A row is a whole number with a bit for each cell, so that all places along a row are
tried at once.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

from skirtwright.geometry import Motion, Point
from skirtwright.geometry.tolerance import SAME

Span = tuple[int, int]
"""First and last cell of a row."""

Outline = tuple[Sequence[Point], bool]
"""A line through points, and whether it is closed and filled."""


@dataclass(frozen=True)
class Cells:
    """The size of a cell, mm."""

    width: float
    height: float


@dataclass(frozen=True)
class Steps:
    """The cells at which a shape may lie, along one way.

    Attributes:
        apart: how many cells from each to the next; 0 where there is but the first.
    """

    first: int = 0
    apart: int = 1

    def up_to(self, count: int) -> range:
        """Those of the first `count` cells."""
        if self.apart == 0:
            return range(self.first, min(self.first + 1, count))
        return range(self.first, count, self.apart)

    def mask(self, count: int) -> int:
        """A bit for each of them among the first `count` cells."""
        if self.apart == 1:
            return (1 << count) - (1 << self.first) if count > self.first else 0
        return sum(1 << cell for cell in self.up_to(count))


ANYWHERE = Steps()


@dataclass(frozen=True)
class Shape:
    """A piece turned one way, in cells from its own lower left corner.

    Attributes:
        motion: brings the piece there.
        across, along: its true width and height with the room kept round it, mm.
        rows: a number for each row of cells, a bit for each cell it comes near.
        columns, levels: where it may lie across and up.
    """

    motion: Motion
    across: float
    along: float
    rows: tuple[int, ...]
    columns: Steps = ANYWHERE
    levels: Steps = ANYWHERE

    @cached_property
    def width(self) -> int:
        """Cells across."""
        return max(map(int.bit_length, self.rows))

    @cached_property
    def area(self) -> int:
        """How many cells it takes."""
        return sum(map(int.bit_count, self.rows))

    @cached_property
    def middle(self) -> float:
        """The mean row of the cells it takes."""
        taken = (row * cells.bit_count() for row, cells in enumerate(self.rows))
        return sum(taken) / self.area + 0.5

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

    def motion(self, cells: Cells) -> Motion:
        """The motion that lays the piece there."""
        step = Motion(e=self.x * cells.width, f=self.y * cells.height)
        return self.shape.motion.then(step)


def rows_of(outlines: Iterable[Outline], cells: Cells, clear: float) -> tuple[int, ...]:
    """The cells that lines and filled outlines come near.

    Args:
        outlines: from their own lower left corner; what lies left of it or below is
            cut off.
        cells: how large a cell is.
        clear: how near, mm.
    """
    rows: dict[int, int] = {}
    for run, closed in outlines:
        draw([*run, run[0]] if closed else run, cells, clear, rows)
        if closed:
            fill(run, cells, rows)
    return tuple(rows.get(row, 0) for row in range(max(rows) + 1))


def draw(
    run: Sequence[Point], cells: Cells, clear: float, rows: dict[int, int]
) -> None:
    """Take the cells that a line through points comes near."""
    for p, q in zip(run, run[1:] or run, strict=False):
        low, high = sorted((p.y, q.y))
        lowest = max(int((low - clear) // cells.height), 0)
        # A piece exactly as high or as wide as the room fits.
        highest = int((high + clear - SAME) // cells.height)
        for row in range(lowest, highest + 1):
            foot = row * cells.height
            a, b = _across(p, q, foot - clear, foot + cells.height + clear)
            first = max(int((a - clear) // cells.width), 0)
            last = int((b + clear - SAME) // cells.width)
            rows[row] = rows.get(row, 0) | (1 << last + 1) - (1 << first)


def fill(outline: Sequence[Point], cells: Cells, rows: dict[int, int]) -> None:
    """Take the cells inside an outline: where the middle of a row runs through it."""
    for row in tuple(rows):
        middle = (row + 0.5) * cells.height
        met = sorted(
            p.x + (middle - p.y) / (q.y - p.y) * (q.x - p.x)
            for p, q in zip(outline, (*outline[1:], outline[0]), strict=True)
            if (p.y <= middle) != (q.y <= middle)
        )
        for a, b in zip(met[::2], met[1::2], strict=True):
            first = max(int(a // cells.width), 0)
            rows[row] |= (1 << int(b // cells.width) + 1) - (1 << first)


def _across(p: Point, q: Point, low: float, high: float) -> tuple[float, float]:
    """Where a straight line runs, in x, between two heights."""
    rise, run = q.y - p.y, q.x - p.x
    if abs(rise) <= 1e-9:
        return (p.x, q.x) if run > 0 else (q.x, p.x)
    a = p.x + (min(max(p.y, low), high) - p.y) / rise * run
    b = p.x + (min(max(q.y, low), high) - p.y) / rise * run
    return (a, b) if a < b else (b, a)
