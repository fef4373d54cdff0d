"""The map of a print: how the sheets lie, and where the pieces lie on them."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace

from skirtwright.export.furniture import HAIR, clear_of
from skirtwright.export.labelling import Field, Room
from skirtwright.export.sheet import (
    SMALLEST_LETTERS,
    Fill,
    Group,
    Label,
    Mark,
    Stroke,
    Text,
    box_of,
    line,
    outline,
)
from skirtwright.export.tiles import Tile, Tiling
from skirtwright.geometry import Motion, Point
from skirtwright.geometry.box import Box
from skirtwright.words import Manner, say

Size = tuple[float, float]

_TITLE = 5.0
"""Room for the title of a map, mm."""

_RULER = 4.0
"""Room for the letters of rows and the numbers of columns, mm."""

_LARGEST = {True: 45.0, False: 16.0}
"""Side of a sheet on the map at most, mm: of the only map, of one among several."""

_OUTLINE = 0.35
_NAME = 2.5
"""Height of capitals where there is room, mm."""

_CLOSE = 0.4
_KEPT, _PIECE = 0.8, 0.93
"""How light a sheet is that stays from a print before, and a piece."""

_OFF = 0.6
"""How far the lines between sheets keep from words, mm."""


def map_of(
    tiling: Tiling,
    numbers: Mapping[str, str],
    manner: Manner,
    room: Size,
    *,
    only: bool,
) -> tuple[list[Mark], Size]:
    """The pieces over the grid of sheets.

    Sheets left out are crossed through, sheets that stay from a print before are grey.

    Args:
        numbers: what a piece is called where there is no room for its name.
        room: width and height it may take, mm.
        only: there is no other map.

    Returns:
        The marks from their lower left corner, and their size, mm.
    """
    size = (
        tiling.columns * (tiling.window[0] - tiling.overlap) + tiling.overlap,
        tiling.rows * (tiling.window[1] - tiling.overlap) + tiling.overlap,
    )
    shrink = min(
        (room[0] - _RULER) / size[0],
        (room[1] - _TITLE - _RULER) / size[1],
        _LARGEST[only] / min(tiling.window),
    )
    corner = tiling.tiles[-tiling.columns].window
    home = Motion(e=-corner.left, f=-corner.bottom).then(Motion(a=shrink, d=shrink))
    cells = {tile.name: _cell(tile, tiling, home) for tile in tiling.tiles}
    drawn = [
        g for g in tiling.sheet.groups if any(isinstance(m, Stroke) for m in g.marks)
    ]
    groups = [_small(group, numbers, home) for group in drawn]
    whole = Box(0, 0, size[0] * shrink, size[1] * shrink)
    small = replace(tiling.sheet, groups=tuple(groups))
    made = Room(small, [Field(whole, whole)], close=_CLOSE)
    marks = [*made.sheet.marks]
    for tile in (tile for tile in tiling.tiles if not tile.blank):
        cell = cells[tile.name]
        corner_of_cell = cell.corners[3]
        field = Field(cell, cell.grown(-_OFF))
        marks += made.words_on(field, (tile.name,), _NAME, corner_of_cell, bold=False)
    grey = [
        Fill(outline(*cells[tile.name].corners), "frame", _KEPT) for tile in tiling.kept
    ]
    words = [box_of([m]).grown(_OFF) for m in marks if isinstance(m, Text)]
    pieces = [
        Fill(stroke.path, "label", _PIECE) for g in groups for stroke in g.outlines
    ]
    marks = [*pieces, *grey, *marks, *_lines(tiling.tiles, cells, words)]
    marks += _rulers(tiling, cells)
    title = tiling.title or say("print.map", manner=manner)
    foot = Point(-_RULER, whole.top + _RULER + 2)
    marks.append(Text(title, foot, SMALLEST_LETTERS, bold=True))
    wide = max(whole.width + _RULER, box_of(marks[-1:]).width)
    aside = Motion(e=_RULER)
    moved = [mark.moved(aside) for mark in marks]
    return moved, (wide, whole.height + _RULER + _TITLE)


def _rulers(tiling: Tiling, cells: Mapping[str, Box]) -> list[Mark]:
    """Numbers of columns over the map, letters of rows beside it.

    A sheet is found by them where there is no room for its name.
    """
    marks: list[Mark] = []
    for tile in tiling.tiles:
        cell = cells[tile.name]
        number, letters = re.findall(r"\d+|\D+", tile.name)
        if tile.row == 0:
            at = Point(cell.middle.x, cell.top + 1.2)
            marks.append(Text(number, at, SMALLEST_LETTERS, anchor="middle"))
        if tile.column == 0:
            at = Point(cell.left - 1.2, cell.middle.y - SMALLEST_LETTERS / 2)
            marks.append(Text(letters, at, SMALLEST_LETTERS, anchor="end"))
    return marks


def _small(group: Group, numbers: Mapping[str, str], home: Motion) -> Group:
    """A piece on the map: its outlines, and its name or else its number."""
    drawn = group.outlines or [m for m in group.marks if isinstance(m, Stroke)]
    outlines = [
        replace(s.moved(home), layer="label", weight=_OUTLINE, dash=()) for s in drawn
    ]
    names = dict.fromkeys((group.name, numbers.get(group.name, group.name)))
    label = Label(tuple((name,) for name in names), _NAME)
    return Group.of(group.name, outlines, labels=[label])


def _cell(tile: Tile, tiling: Tiling, home: Motion) -> Box:
    """One sheet on the map, up to the middle of what it shares with the next."""
    window, half = tile.window, tiling.overlap / 2
    low = home(
        Point(
            window.left + (half if tile.column else 0),
            window.bottom + (half if tile.row + 1 < tiling.rows else 0),
        )
    )
    high = home(
        Point(
            window.right - (half if tile.column + 1 < tiling.columns else 0),
            window.top - (half if tile.row else 0),
        )
    )
    return Box(low.x, low.y, high.x, high.y)


def _lines(
    tiles: Sequence[Tile], cells: Mapping[str, Box], words: Sequence[Box]
) -> list[Mark]:
    """The lines between sheets, which leave out the words; sheets left out crossed."""
    sides: dict[tuple[Point, Point], None] = {}
    marks: list[Mark] = []
    for tile in tiles:
        low, right, high, left = cells[tile.name].corners
        sides |= dict.fromkeys(((low, right), (left, high), (low, left), (right, high)))
        if tile.blank:
            marks += [
                Stroke(line(*ends), "frame", HAIR, ())
                for ends in ((low, high), (left, right))
                if not any(cells[tile.name].meets(box) for box in words)
            ]
    for start, end in sides:
        for part in clear_of(start, end, words):
            marks.append(Stroke(line(*part), "frame", HAIR, ()))
    return marks
