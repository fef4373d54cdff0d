"""A grid of windows over a drawing, and which of them a print cannot do without.

Neighbours share a strip, so that what lies in the strip is on either. The grid is
looked at zone by zone, a zone being what the same windows show; of the windows that
show a zone with something in it one must be printed, and no more are.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from itertools import pairwise, product

from skirtwright.export.sheet import Sheet, Stroke
from skirtwright.geometry import Point
from skirtwright.geometry.box import Box, box_of
from skirtwright.geometry.ring import crossed_at
from skirtwright.geometry.tolerance import SAME

Spot = tuple[int, int]
"""A window's column, and its row counted from the foot."""

Band = tuple[int, int]
"""First and last window along one axis that show a place."""

Zone = tuple[int, int, int, int]
"""First and last column, first and last row from the foot, of the windows that show
it."""

ROUGH = 0.5
"""How far lines may lie from the true ones while places for the grid are compared."""

_SLIDES = 6
"""Places tried along each side of a window."""


@dataclass(frozen=True)
class Grid:
    """Windows in rows and columns from a lower left corner."""

    corner: Point
    window: tuple[float, float]
    overlap: float
    columns: int
    rows: int

    @property
    def step(self) -> tuple[float, float]:
        """Distance from window to window."""
        return (self.window[0] - self.overlap, self.window[1] - self.overlap)

    def box(self, column: int, up: int) -> Box:
        """The window at a column and a row counted from the foot."""
        left = self.corner.x + column * self.step[0]
        foot = self.corner.y + up * self.step[1]
        return Box(left, foot, left + self.window[0], foot + self.window[1])

    @property
    def ways(self) -> tuple[Row, Row]:
        """The windows side by side, and one over the other."""
        (wide, high), (across, up) = self.window, self.step
        return (
            Row(self.corner.x, wide, across, self.columns),
            Row(self.corner.y, high, up, self.rows),
        )

    def cuts(self) -> tuple[list[float], list[float]]:
        """Where windows begin and end, across and up, in order."""
        across, up = self.ways
        return (across.cuts(), up.cuts())


@dataclass(frozen=True)
class Row:
    """Windows of a grid along one axis: where the first begins, their size, how many.

    Attributes:
        begin: where the first begins, mm.
        window: how long each is, mm.
        step: from one to the next, mm.
    """

    begin: float
    window: float
    step: float
    count: int

    def showing(self, at: float) -> Band:
        """First and last window that show a place; the edge belongs."""
        first = math.ceil((at - self.begin - self.window - SAME) / self.step)
        last = math.floor((at - self.begin + SAME) / self.step)
        return (
            min(max(first, 0), self.count - 1),
            max(min(last, self.count - 1), 0),
        )

    def cuts(self) -> list[float]:
        """Where windows begin and end, in order."""
        starts = (self.begin + n * self.step for n in range(self.count))
        return sorted(start + far for start in starts for far in (0.0, self.window))


@dataclass(frozen=True)
class Ink:
    """Lines as points, and those of them that close round a piece.

    Attributes:
        runs: the points of each line.
        outlines: those that close, each with its box.
    """

    runs: tuple[Sequence[Point], ...]
    outlines: tuple[tuple[Box, Sequence[Point]], ...]
    _known: dict[tuple[int, Row], list[list[Band]]] = field(
        default_factory=dict, init=False, repr=False, compare=False
    )
    _levels: dict[float, list[tuple[Box, list[float]]]] = field(
        default_factory=dict, init=False, repr=False, compare=False
    )

    def zones(self, grid: Grid) -> Iterator[tuple[Sequence[Point], list[Zone]]]:
        """Each line with the zones its points lie in."""
        across, up = (self._bands(axis, row) for axis, row in enumerate(grid.ways))
        for points, columns, rows in zip(self.runs, across, up, strict=True):
            yield points, [(*c, *r) for c, r in zip(columns, rows, strict=True)]

    def _bands(self, axis: int, row: Row) -> list[list[Band]]:
        """Of each line; grids slid along one axis are alike on the other."""
        if (axis, row) not in self._known:
            self._known[axis, row] = [
                [row.showing(p.y if axis else p.x) for p in run] for run in self.runs
            ]
        return self._known[axis, row]

    @classmethod
    def of(cls, sheet: Sheet) -> Ink:
        """Every mark of a sheet."""
        return cls._read((mark.points(), mark) for mark in sheet.marks)

    @classmethod
    def roughly(cls, sheet: Sheet) -> Ink:
        """The outlines alone, a little off; everything where nothing is closed."""
        closed = [m for m in sheet.marks if isinstance(m, Stroke) and m.closed]
        marks = closed or sheet.marks
        return cls._read((mark.points(ROUGH), mark) for mark in marks)

    def covers(self, place: Point) -> bool:
        """True for a place inside a piece."""
        return any(
            box.holds(place) and (len(xs) - bisect_right(xs, place.x)) % 2
            for box, xs in self._crossed(place.y)
        )

    def _crossed(self, height: float) -> list[tuple[Box, list[float]]]:
        """Of each outline; grids slid sideways ask again for the same heights."""
        if height not in self._levels:
            self._levels[height] = [
                (box, crossed_at(points, height))
                for box, points in self.outlines
                if box.bottom <= height <= box.top
            ]
        return self._levels[height]

    @classmethod
    def _read(cls, marks: Iterable[tuple[Sequence[Point], object]]) -> Ink:
        runs, outlines = [], []
        for points, mark in marks:
            runs.append(points)
            if isinstance(mark, Stroke) and mark.closed:
                outlines.append((box_of(points), points))
        return cls(tuple(runs), tuple(outlines))


def windows_showing(ink: Ink, grid: Grid) -> set[Spot]:
    """Windows that show any of it."""
    return {spot for zone in _zones_taken(ink, grid) for spot in _spots(zone)}


def windows_needed(
    ink: Ink, grid: Grid, there: Collection[Spot] = frozenset()
) -> set[Spot]:
    """Windows that show every mark and all of every piece, none of them in vain.

    Each has something in it that no other of them shows.

    Args:
        there: windows that are printed already: of two either of which would do, the
            other is left out.
    """
    shown: dict[Spot, list[Zone]] = {}
    left: Counter[Zone] = Counter()
    for zone in _zones_taken(ink, grid):
        for spot in _spots(zone):
            shown.setdefault(spot, []).append(zone)
            left[zone] += 1
    needed = set(shown)
    for spot in sorted(shown, key=lambda s: (s in there, len(shown[s]), s)):
        if all(left[zone] > 1 for zone in shown[spot]):
            needed.remove(spot)
            left.subtract(shown[spot])
    return needed


def _spots(zone: Zone) -> Iterator[Spot]:
    return product(range(zone[0], zone[1] + 1), range(zone[2], zone[3] + 1))


def _zones_taken(ink: Ink, grid: Grid) -> set[Zone]:
    """Zones with a line in them, or wholly in a piece."""
    across, up = grid.ways
    cuts = grid.cuts()
    taken: set[Zone] = set()
    for points, zones in ink.zones(grid):
        if len(points) == 1:
            taken.update(zones)
        for (p, q), (here, there) in zip(
            pairwise(points), pairwise(zones), strict=True
        ):
            if here == there:
                taken.add(here)
            else:
                taken.update(
                    (*across.showing(place.x), *up.showing(place.y))
                    for place in _between_cuts(p, q, cuts)
                )
    columns, rows = (
        [(at, row.showing(at)) for at in _middles(row_cuts)]
        for row, row_cuts in zip(grid.ways, cuts, strict=True)
    )
    for (x, column), (y, row) in product(columns, rows):
        zone = (*column, *row)
        if zone not in taken and ink.covers(Point(x, y)):
            taken.add(zone)
    return taken


def _middles(cuts: Sequence[float]) -> list[float]:
    """The middle of every band that is wide enough to hold anything."""
    return [(a + b) / 2 for a, b in pairwise(cuts) if b - a > 2 * SAME]


def _between_cuts(
    p: Point, q: Point, cuts: tuple[Sequence[float], Sequence[float]]
) -> Iterator[Point]:
    """A point of every part into which the grid cuts a straight line."""
    shares = {0.0, 1.0}
    for a, b, along in ((p.x, q.x, cuts[0]), (p.y, q.y, cuts[1])):
        shares.update((cut - a) / (b - a) for cut in along if (cut - a) * (cut - b) < 0)
    for low, high in pairwise(sorted(shares)):
        yield p.between(q, (low + high) / 2)


def slides(grid: Grid) -> Iterator[Point]:
    """Corners to try for a grid: its own, then others less than a step before it."""
    parts = [n / _SLIDES for n in range(_SLIDES)]
    for across, up in product(parts, parts):
        yield grid.corner - Point(across * grid.step[0], up * grid.step[1])
