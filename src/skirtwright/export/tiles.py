"""A sheet cut into the pages of a home printer.

The window of a page is the paper without its margins; windows stand `window - overlap`
apart, so that neighbours share a strip (or butt, without overlap). A drawing w wide
takes ceil((w - overlap) / step) windows, or one more where the grid slides to save
sheets. Columns have numbers from the left, rows letters from the top: 2C is the second
of the third row, and no name is a size of paper. Windows with
nothing in them that the others do not show are left out but keep their names.

All lengths are true ones: what she measures on the paper when the printer has been put
right. With a correction the paper therefore counts as a little larger or smaller than
it is, and the writer draws everything that much smaller or larger.

Pieces are laid all together, a cloth at a time or a piece at a time: each block has a
grid of its own.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Iterator
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Literal, get_args

from skirtwright.export.correction import AS_IT_IS, Correction
from skirtwright.export.packing import on_sheets
from skirtwright.export.print_media import Paper
from skirtwright.export.sheet import Group, Sheet
from skirtwright.export.windows import (
    Grid,
    Ink,
    Spot,
    slides,
    windows_needed,
    windows_showing,
)
from skirtwright.geometry import Motion, Point, shift
from skirtwright.geometry.box import Box
from skirtwright.geometry.tolerance import SAME
from skirtwright.problems import BadInput, Refused

Orientation = Literal["auto", "portrait", "landscape"]

Laying = Literal["together", "cloth", "piece"]
"""All pieces together, which takes the fewest sheets, or a block for each cloth, or for
each piece."""

LAYINGS: tuple[Laying, ...] = get_args(Laying)

LEAST_STEP = 50.0
"""A page must show at least this much of the drawing each way, mm."""

MOST_OVERLAP = 50.0

_APART = 120.0
"""Between the grids of two blocks, mm."""

MOST_SHEETS = 1000
"""More windows than this is a mistake in a measurement, not a skirt."""


@dataclass(frozen=True)
class TileOptions:
    """How to cut a sheet into pages.

    Attributes:
        orientation: `auto` takes whichever way needs fewer sheets.
        overlap: how much neighbours share, mm; 0 for sheets laid edge to edge.
        margin: left unprinted along each edge, mm; None takes the paper's own.
        pack: move and turn the pieces to save sheets.
    """

    orientation: Orientation = "auto"
    overlap: float = 10.0
    margin: float | None = None
    correction: Correction = AS_IT_IS
    pack: bool = True


@dataclass(frozen=True)
class Tile:
    """One window: where it lies in the drawing, and whether it is left out.

    Attributes:
        row: from the top.
        column: from the left.
        window: mm.
        blank: nothing is in it that the others do not show.
        kept: its sheet was printed before and is still good.
    """

    row: int
    column: int
    name: str
    window: Box
    blank: bool
    kept: bool = False


@dataclass(frozen=True)
class Tiling:
    """A sheet cut into pages; lengths true, mm.

    Attributes:
        landscape: True when the pages lie on their side.
        page: width and height of a page.
        margin: unprinted strip, from the left and from the foot.
        overlap: how much neighbours share.
        tiles: every window, row by row from the top, blank ones too.
        title: of the block, such as a piece's name; empty for all pieces together.
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
    title: str = ""

    @property
    def window(self) -> tuple[float, float]:
        """Width and height of a window."""
        return (self.page[0] - 2 * self.margin[0], self.page[1] - 2 * self.margin[1])

    @property
    def printed(self) -> tuple[Tile, ...]:
        """The windows that become pages, in order."""
        return tuple(tile for tile in self.tiles if not (tile.blank or tile.kept))

    @property
    def kept(self) -> tuple[Tile, ...]:
        """The windows whose sheets are there already."""
        return tuple(tile for tile in self.tiles if tile.kept)

    @property
    def corner(self) -> Point:
        """The lower left corner of the lowest window at the left."""
        return self.tiles[-self.columns].window.corners[0]

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
class Blocks:
    """A print in blocks, each with its own grid of sheets; they lie apart."""

    tilings: tuple[Tiling, ...]

    @property
    def sheet(self) -> Sheet:
        """All pieces where they lie."""
        first = self.tilings[0].sheet
        groups = (group for tiling in self.tilings for group in tiling.sheet.groups)
        return replace(first, groups=tuple(groups))

    @property
    def sheets(self) -> int:
        """How many sheets of pattern there are in all."""
        return sum(tiling.sheets for tiling in self.tilings)

    @property
    def printed(self) -> tuple[tuple[Tiling, Tile], ...]:
        """The windows that become pages, in order."""
        return tuple((t, tile) for t in self.tilings for tile in t.printed)


def in_blocks(
    sheet: Sheet,
    paper: Paper,
    options: TileOptions | None = None,
    laying: Laying = "together",
) -> Blocks:
    """Cut a sheet into pages, all together or block by block.

    Raises:
        Refused: see `tile`.
        BadInput: see `tile`.
    """
    if laying == "together":
        return Blocks((tile(sheet, paper, options),))
    named: dict[str, list[Group]] = {}
    for group in sheet.groups:
        cloth = group.cloth[:1].upper() + group.cloth[1:]
        named.setdefault(cloth if laying == "cloth" else group.name, []).append(group)
    tilings = []
    left = 0.0
    for title, groups in named.items():
        own = tile(replace(sheet, groups=tuple(groups)), paper, options)
        moved = _moved(own, left)
        tilings.append(replace(moved, title=title))
        left = max(t.window.right for t in moved.tiles) + _APART
    return Blocks(tuple(tilings) or (tile(sheet, paper, options),))


def _moved(tiling: Tiling, left: float) -> Tiling:
    """A tiling with its left and lower edges elsewhere: at `left` mm and at nought."""
    step = Point(left - tiling.corner.x, -tiling.corner.y)
    return replace(
        tiling,
        sheet=tiling.sheet.moved(shift(step)),
        tiles=tuple(replace(t, window=t.window.moved(step)) for t in tiling.tiles),
    )


def tile(sheet: Sheet, paper: Paper, options: TileOptions | None = None) -> Tiling:
    """Cut a sheet into pages.

    Raises:
        Refused: `print.nothing` (no pieces chosen), `print.no_window` (margins and
            overlap leave too little of the paper), `print.too_many_sheets`.
        BadInput: `print.margin_size`, `print.overlap_size`.
    """
    if not sheet.groups:
        raise Refused("print.nothing")
    # What is said of the pieces does not decide how they lie.
    silent = (replace(g, motion=Motion(), labels=()) for g in sheet.groups)
    bare = replace(sheet, title="", groups=tuple(silent))
    tiling = _fewest(bare, paper, options or TileOptions())
    groups = tuple(
        replace(
            laid,
            motion=group.motion.then(laid.motion),
            labels=tuple(label.moved(laid.motion) for label in group.labels),
        )
        for group, laid in zip(sheet.groups, tiling.sheet.groups, strict=True)
    )
    return replace(tiling, sheet=replace(sheet, groups=groups))


@lru_cache(maxsize=32)
def _fewest(sheet: Sheet, paper: Paper, options: TileOptions) -> Tiling:
    """The sheet laid and cut so that fewest pages are needed.

    Kept, since what was counted is then printed, and a cloth of one piece is laid as
    that piece is alone.
    """
    ways = {"portrait": (False,), "landscape": (True,), "auto": (False, True)}
    tilings = [
        tiling
        for landscape in ways[options.orientation]
        for tiling in _tilings(sheet, paper, options, landscape)
    ]
    return _slid(min(tilings, key=lambda t: (t.sheets, len(t.tiles), t.landscape)))


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


def bare_tiling(paper: Paper, options: TileOptions, landscape: bool) -> Tiling:
    """A page of the paper as it lies, with nothing on it yet.

    Raises:
        SkirtwrightError: see `tile`.
    """
    _check_lengths(paper, options)
    margin = paper.margin if options.margin is None else options.margin
    right = options.correction
    size = (paper.width, paper.height)
    factor = (right.across, right.along)
    if landscape:
        size, factor = size[::-1], factor[::-1]
    page = (size[0] / factor[0], size[1] / factor[1])
    edge = (margin / factor[0], margin / factor[1])
    nothing = Sheet("", ())
    return Tiling(
        nothing, paper, landscape, page, edge, options.overlap, 0, 0, (), right
    )


def _tilings(
    sheet: Sheet, paper: Paper, options: TileOptions, landscape: bool
) -> Iterator[Tiling]:
    """The sheet as it lies, and packed if that is asked for, on one way of paper."""
    bare = bare_tiling(paper, options, landscape)

    def tiling(laid: Sheet, grid: Grid) -> Tiling:
        return replace(
            bare,
            sheet=laid,
            columns=grid.columns,
            rows=grid.rows,
            tiles=_tiles(laid, grid),
        )

    over = _grid_over(sheet.box, bare.window, options.overlap)
    yield tiling(sheet, over)
    if options.pack:
        packed = on_sheets(
            sheet, over.step, options.overlap, columns_for(sheet, over.step)
        )
        if packed is not None:
            yield tiling(packed, grid_from(_first(packed.box, over), packed.box, over))


def _first(box: Box, grid: Grid) -> Point:
    """The corner of the first window of a grid from the origin that a box reaches."""
    columns, rows = (
        math.floor((low + SAME) / step)
        for low, step in zip((box.left, box.bottom), grid.step, strict=True)
    )
    return Point(columns * grid.step[0], rows * grid.step[1])


def columns_for(sheet: Sheet, step: tuple[float, float]) -> int:
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
    check_count(columns * rows)
    wide = columns * (window[0] - overlap) + overlap
    high = rows * (window[1] - overlap) + overlap
    corner = Point(
        box.left - (wide - box.width) / 2, box.bottom - (high - box.height) / 2
    )
    return Grid(corner, window, overlap, columns, rows)


def grid_from(corner: Point, box: Box, like: Grid) -> Grid:
    """The least grid of like windows from a corner that covers a box."""
    columns = _count(box.right - corner.x, like.window[0], like.overlap)
    rows = _count(box.top - corner.y, like.window[1], like.overlap)
    return Grid(corner, like.window, like.overlap, columns, rows)


def _slid(tiling: Tiling) -> Tiling:
    """The tiling with its grid where fewest sheets are needed, or as it was."""
    grid, sheet = grid_of(tiling), tiling.sheet
    ink, box = Ink.roughly(sheet), sheet.box
    grids = (grid_from(corner, box, grid) for corner in slides(grid))
    best = min(grids, key=lambda grid: len(windows_needed(ink, grid)))
    slid = replace(
        tiling, columns=best.columns, rows=best.rows, tiles=_tiles(sheet, best)
    )
    return slid if slid.sheets < tiling.sheets else tiling


def check_count(sheets: int) -> None:
    """Refuse more sheets than any skirt takes.

    Raises:
        Refused: `print.too_many_sheets`.
    """
    if sheets > MOST_SHEETS:
        raise Refused("print.too_many_sheets", sheets=sheets, most=MOST_SHEETS)


def grid_of(tiling: Tiling) -> Grid:
    """The grid a tiling is cut by."""
    corner, window = tiling.corner, tiling.window
    return Grid(corner, window, tiling.overlap, tiling.columns, tiling.rows)


def sheets_of(tiling: Tiling, group: Group) -> list[Tile]:
    """The sheets that show some of a piece, in order."""
    ink = Ink.roughly(replace(tiling.sheet, groups=(group,)))
    shown = windows_showing(ink, grid_of(tiling))
    return [
        tile
        for tile in tiling.tiles
        if not tile.blank and (tile.column, tiling.rows - 1 - tile.row) in shown
    ]


def _tiles(sheet: Sheet, grid: Grid) -> tuple[Tile, ...]:
    return tiles_of(grid, windows_needed(Ink.of(sheet), grid))


def tiles_of(
    grid: Grid, needed: Collection[Spot], kept: Collection[Spot] = frozenset()
) -> tuple[Tile, ...]:
    """Every window, row by row from the top."""
    check_count(grid.columns * grid.rows)
    return tuple(
        Tile(
            row,
            column,
            tile_name(row, column),
            grid.box(column, grid.rows - 1 - row),
            (column, grid.rows - 1 - row) not in needed,
            (column, grid.rows - 1 - row) in kept,
        )
        for row in range(grid.rows)
        for column in range(grid.columns)
    )


def tile_name(row: int, column: int) -> str:
    """1A, 2A and so on, 1B below 1A; after Z come AA, AB."""
    letters = ""
    number = row + 1
    while number:
        number, rest = divmod(number - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return f"{column + 1}{letters}"


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
