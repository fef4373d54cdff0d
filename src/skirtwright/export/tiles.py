"""A sheet cut into the pages of a home printer.

The window of a page is the paper without its margins; windows stand `window - overlap`
apart, so that neighbours share a strip (or butt, without overlap). A drawing w wide
takes ceil((w - overlap) / step) windows. Rows have letters from the top, columns
numbers from the left. Windows with nothing in them are left out but keep their names.

All lengths are true ones: what she measures on the paper when the printer has been put
right. With a correction the paper therefore counts as a little larger or smaller than
it is, and the writer draws everything that much smaller or larger.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from skirtwright.export.correction import AS_IT_IS, Correction
from skirtwright.export.packing import on_sheets
from skirtwright.export.papers import Paper
from skirtwright.export.sheet import Sheet, Stroke
from skirtwright.geometry import Motion, Point
from skirtwright.geometry.box import Box
from skirtwright.geometry.ring import holds
from skirtwright.geometry.tolerance import SAME
from skirtwright.problems import BadInput, Refused

Orientation = Literal["auto", "portrait", "landscape"]

LEAST_STEP = 50.0
"""A page must show at least this much of the drawing each way, mm."""

MOST_OVERLAP = 50.0

MOST_SHEETS = 1000
"""More windows than this is a mistake in a measurement, not a skirt."""


@dataclass(frozen=True)
class TileOptions:
    """How to cut a sheet into pages.

    Attributes:
        orientation: `auto` takes whichever way needs fewer sheets.
        overlap: how much neighbours share, mm; 0 for sheets laid edge to edge.
        margin: left unprinted along each edge, mm; None takes the paper's own.
        correction: what the printer needs.
        pack: move and turn the pieces to save sheets.
    """

    orientation: Orientation = "auto"
    overlap: float = 10.0
    margin: float | None = None
    correction: Correction = AS_IT_IS
    pack: bool = True


@dataclass(frozen=True)
class Tile:
    """One window: where it lies in the drawing, and whether anything is in it."""

    row: int
    column: int
    name: str
    window: Box
    blank: bool


@dataclass(frozen=True)
class Tiling:
    """A sheet cut into pages; lengths true, mm.

    Attributes:
        sheet: the pieces where they now lie.
        paper: what it is printed on.
        landscape: True when the pages lie on their side.
        page: width and height of a page.
        margin: unprinted strip, from the left and from the foot.
        overlap: how much neighbours share.
        columns: windows side by side.
        rows: windows one above another.
        tiles: every window, row by row from the top, blank ones too.
        correction: what the printer needs.
    """

    sheet: Sheet
    paper: Paper
    landscape: bool
    page: tuple[float, float]
    margin: tuple[float, float]
    overlap: float
    columns: int
    rows: int
    tiles: tuple[Tile, ...]
    correction: Correction

    @property
    def window(self) -> tuple[float, float]:
        """Width and height of a window."""
        return (self.page[0] - 2 * self.margin[0], self.page[1] - 2 * self.margin[1])

    @property
    def printed(self) -> tuple[Tile, ...]:
        """The windows that become pages, in order."""
        return tuple(tile for tile in self.tiles if not tile.blank)

    @property
    def sheets(self) -> int:
        """How many sheets of pattern there are; the first page comes on top."""
        return len(self.printed)

    def tile_at(self, row: int, column: int) -> Tile | None:
        """The window at a row (0 at the top) and column; None outside the grid."""
        if 0 <= row < self.rows and 0 <= column < self.columns:
            return self.tiles[row * self.columns + column]
        return None


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


def tile(sheet: Sheet, paper: Paper, options: TileOptions | None = None) -> Tiling:
    """Cut a sheet into pages.

    Raises:
        Refused: `print.nothing` (no pieces chosen), `print.no_window` (margins and
            overlap leave too little of the paper), `print.too_many_sheets`.
        BadInput: `print.margin_size`, `print.overlap_size`.
    """
    options = options or TileOptions()
    if not sheet.groups:
        raise Refused("print.nothing")
    _check_lengths(paper, options)
    ways = {"portrait": (False,), "landscape": (True,), "auto": (False, True)}
    tilings = [
        tiling
        for landscape in ways[options.orientation]
        for tiling in _tilings(sheet, paper, options, landscape)
    ]
    return min(tilings, key=lambda t: (t.sheets, len(t.tiles), t.landscape))


def _check_lengths(paper: Paper, options: TileOptions) -> None:
    margin = paper.margin if options.margin is None else options.margin
    if not math.isfinite(margin) or margin < 0:
        raise BadInput("print.margin_size", "margin", margin=margin)
    if not 0 <= options.overlap <= MOST_OVERLAP:
        raise BadInput(
            "print.overlap_size", "overlap", overlap=options.overlap, most=MOST_OVERLAP
        )
    least = min(paper.width, paper.height) - 2 * margin - options.overlap
    if least < LEAST_STEP:
        raise Refused(
            "print.no_window",
            "margin",
            paper=paper.name,
            margin=margin,
            overlap=options.overlap,
            most=(min(paper.width, paper.height) - options.overlap - LEAST_STEP) / 2,
        )


def _tilings(
    sheet: Sheet, paper: Paper, options: TileOptions, landscape: bool
) -> Iterator[Tiling]:
    """The sheet as it lies, and packed if that is asked for, on one way of paper."""
    margin = paper.margin if options.margin is None else options.margin
    right = options.correction
    size = (paper.width, paper.height)
    factor = (right.across, right.along)
    if landscape:
        size, factor = size[::-1], factor[::-1]
    page = (size[0] / factor[0], size[1] / factor[1])
    edge = (margin / factor[0], margin / factor[1])
    window = (page[0] - 2 * edge[0], page[1] - 2 * edge[1])

    def tiling(laid: Sheet, grid: Grid) -> Tiling:
        tiles = _tiles(laid, grid)
        return Tiling(
            laid,
            paper,
            landscape,
            page,
            edge,
            options.overlap,
            grid.columns,
            grid.rows,
            tiles,
            right,
        )

    yield tiling(sheet, _grid_over(sheet.box, window, options.overlap))
    if options.pack:
        step = (window[0] - options.overlap, window[1] - options.overlap)
        packed = on_sheets(sheet, step, options.overlap, _columns(sheet, step))
        if packed is not None:
            box = packed.box
            yield tiling(
                packed, _grid_from_origin(box.right, box.top, window, options.overlap)
            )


def _columns(sheet: Sheet, step: tuple[float, float]) -> int:
    """Windows side by side to pack into: the widest piece, and a square heap."""
    boxes = [group.outline_box for group in sheet.groups]
    widest = max(min(b.width, b.height) for b in boxes) + step[0]
    area = sum(b.width * b.height for b in boxes)
    return math.ceil(max(widest, 1.2 * math.sqrt(area)) / step[0]) + 1


def _count(length: float, window: float, overlap: float) -> int:
    step = window - overlap
    return max(1, math.ceil((length - overlap - SAME) / step))


def _grid_over(box: Box, window: tuple[float, float], overlap: float) -> Grid:
    """The least grid that covers a box, the box in its middle."""
    columns = _count(box.width, window[0], overlap)
    rows = _count(box.height, window[1], overlap)
    _check_count(columns * rows)
    wide = columns * (window[0] - overlap) + overlap
    high = rows * (window[1] - overlap) + overlap
    corner = Point(
        box.left - (wide - box.width) / 2, box.bottom - (high - box.height) / 2
    )
    return Grid(corner, window, overlap, columns, rows)


def _grid_from_origin(
    right: float, top: float, window: tuple[float, float], overlap: float
) -> Grid:
    """The grid a packed sheet was laid on."""
    columns = _count(right, window[0], overlap)
    rows = _count(top, window[1], overlap)
    _check_count(columns * rows)
    return Grid(Point(0, 0), window, overlap, columns, rows)


def _check_count(sheets: int) -> None:
    if sheets > MOST_SHEETS:
        raise Refused("print.too_many_sheets", sheets=sheets, most=MOST_SHEETS)


def _tiles(sheet: Sheet, grid: Grid) -> tuple[Tile, ...]:
    touched = windows_touched(sheet, grid)
    return tuple(
        Tile(
            row,
            column,
            tile_name(row, column),
            grid.box(column, grid.rows - 1 - row),
            (column, grid.rows - 1 - row) not in touched,
        )
        for row in range(grid.rows)
        for column in range(grid.columns)
    )


def tile_name(row: int, column: int) -> str:
    """A1, A2 and so on, B1 below A1; after Z come AA, AB."""
    letters = ""
    number = row + 1
    while number:
        number, rest = divmod(number - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return f"{letters}{column + 1}"


def windows_touched(sheet: Sheet, grid: Grid) -> set[tuple[int, int]]:
    """Windows (column, row from the foot) with ink in them, or wholly in a piece."""
    touched: set[tuple[int, int]] = set()
    outlines = []
    for mark in sheet.marks:
        points = mark.points()
        for p, q in zip(points, points[1:] or points, strict=False):
            for spot in _near(p, q, grid):
                if spot not in touched and crosses(p, q, grid.box(*spot)):
                    touched.add(spot)
        if isinstance(mark, Stroke) and mark.closed:
            outlines.append(points)
    for column in range(grid.columns):
        for up in range(grid.rows):
            if (column, up) not in touched:
                box = grid.box(column, up)
                middle = box.corners[0].between(box.corners[2], 0.5)
                if any(holds(points, middle) for points in outlines):
                    touched.add((column, up))
    return touched


def _near(p: Point, q: Point, grid: Grid) -> Iterator[tuple[int, int]]:
    """Windows whose boxes the straight line's own box reaches."""
    spans = []
    for axis, count in ((0, grid.columns), (1, grid.rows)):
        corner = (grid.corner.x, grid.corner.y)[axis]
        ends = ((p.x, q.x), (p.y, q.y))[axis]
        step = grid.step[axis]
        first = math.ceil((min(ends) - corner - grid.window[axis]) / step)
        last = math.floor((max(ends) - corner) / step)
        spans.append(range(max(first, 0), min(last, count - 1) + 1))
    return ((column, up) for column in spans[0] for up in spans[1])


def crosses(p: Point, q: Point, box: Box) -> bool:
    """True when a straight line has a point inside a box (Liang and Barsky)."""
    return clipped(p, q, box) is not None


def clipped(p: Point, q: Point, box: Box) -> tuple[Point, Point] | None:
    """The part of a straight line inside a box, or None."""
    low, high = 0.0, 1.0
    dx, dy = q.x - p.x, q.y - p.y
    for run, room in (
        (-dx, p.x - box.left),
        (dx, box.right - p.x),
        (-dy, p.y - box.bottom),
        (dy, box.top - p.y),
    ):
        if run == 0:
            if room < 0:
                return None
        elif run < 0:
            low = max(low, room / run)
        else:
            high = min(high, room / run)
    if low > high:
        return None
    return p.between(q, low), p.between(q, high)


def moved_to_page(tiling: Tiling, tile: Tile) -> Motion:
    """The motion from the drawing to the page of a window."""
    return Motion(
        e=tiling.margin[0] - tile.window.left, f=tiling.margin[1] - tile.window.bottom
    )
