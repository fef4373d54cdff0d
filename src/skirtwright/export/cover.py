"""The first page: is the printer true, how do the sheets join, what is to be cut.

It stands upright whichever way the sheets lie, because the squares are measured along
the short and the long edge of the paper. Squares, map and lists each have their own
room and never meet; what does not fit goes on another page.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from skirtwright.export.correction import SQUARE
from skirtwright.export.cover_drawings import how_to_join, key_of_lines
from skirtwright.export.cover_map import map_of
from skirtwright.export.facts import CoverFacts, scale_said, units_said
from skirtwright.export.furniture import INCH_SQUARE, inch_square, metric_square
from skirtwright.export.pages import Page
from skirtwright.export.setting import (
    LETTERS,
    LINE,
    Line,
    broken,
    flowed,
    heading,
    in_columns,
    rows,
)
from skirtwright.export.sheet import LEADING, Mark, Text, box_of
from skirtwright.export.tiles import Blocks, Tile, Tiling, sheets_of
from skirtwright.geometry import Motion, Point
from skirtwright.geometry.box import Box
from skirtwright.words import Manner, say

_GAP = 6.0
_LEAST_COLUMN = 45.0
_LEAST_HEAD = 90.0
_TITLES = (9.0, 8.0, 7.0, 6.0, 5.0)
"""Heights of the title: the largest with which the head is no taller than the figure
beside it, mm."""

_WARNING = 3.0
_FIGURE_MOST = 62.0
"""Height of the skirt on her at most, mm."""


def cover_pages(
    blocks: Blocks, facts: CoverFacts, manner: Manner, printer: str = ""
) -> list[Page]:
    """The first page, and more if the lists are long or the paper is small."""
    tiling = blocks.tilings[0]
    right = tiling.correction
    wide, high = tiling.paper.width / right.across, tiling.paper.height / right.along
    edge = tiling.margin[::-1] if tiling.landscape else tiling.margin
    window = Box(edge[0], edge[1], wide - edge[0], high - edge[1])
    blank = Page(
        say("print.first_page", manner=manner),
        wide,
        high,
        enlarge=(right.across, right.along),
    )
    marks, top = _head(blocks, facts, manner, printer, window)
    beside: Blocked = []
    if top - window.bottom < SQUARE + _GAP + INCH_SQUARE and facts.figure:
        # Both squares stand on this page: the figure goes beside them, not above.
        bare = replace(facts, figure=())
        marks, top = _head(blocks, bare, manner, printer, window)
        drawn = box_of(facts.figure)
        beside.append((list(facts.figure), (drawn.right, drawn.top)))
    room = Box(window.left, window.bottom, window.right, top)
    pages: list[tuple[Mark, ...]] = []
    ways = _WAYS if len(blocks.tilings) == 1 else (*_WAYS, *_OF_MANY)
    for share, close in ways:
        squares_and_maps = _blocks(blocks, manner, room, facts, beside, share)
        lists = _lists(blocks, facts, manner, close=close)
        found = _set(marks, window, room, squares_and_maps, lists)
        if not pages or len(found) < len(pages):
            pages = found
        if len(pages) == 1:
            break
    return [replace(blank, marks=page) for page in pages]


_WAYS = (
    (0.55, False),
    (0.48, False),
    (0.42, False),
    (0.42, True),
    (0.32, True),
    (0.26, True),
)
"""Share of the room for the map, and whether lists are set close: what comes first
that takes no other page."""

_OF_MANY = ((0.2, True), (0.15, True), (0.12, True))
"""The same where there are several maps, each of a few sheets."""


def _set(
    head: Sequence[Mark],
    window: Box,
    room: Box,
    blocks: Blocked,
    lists: list[Line],
) -> list[tuple[Mark, ...]]:
    """Squares, maps and lists in their room below the head, on as many pages."""
    marks = list(head)
    pages: list[tuple[Mark, ...]] = []
    free: list[Box] = []
    for block, size in blocks:
        place = _place(room, free, size)
        if place is None:
            pages.append(tuple(marks))
            marks, room, free = [], window, []
            place = _place(room, free, size) or room
        marks.extend(mark.moved(Motion(e=place.left, f=place.bottom)) for mark in block)
        free.append(place)
    set_marks, lists = flowed(lists, _gaps(room, free))
    marks.extend(set_marks)
    pages.append(tuple(marks))
    while lists:
        set_marks, lists = flowed(lists, [_column(window, n) for n in (0, 1)])
        if not set_marks:
            break
        pages.append(tuple(set_marks))
    return pages


def _head(
    blocks: Blocks, facts: CoverFacts, manner: Manner, printer: str, window: Box
) -> tuple[list[Mark], float]:
    """Title, whom it is for, and the order to print at 100 %; and what is left."""
    tiling = blocks.tilings[0]
    sheet = tiling.sheet
    marks, wide, low = _figure(facts, window)
    client = "" if facts.client in sheet.title else facts.client
    told = [client, facts.style if facts.style not in sheet.title else "", facts.date]
    told += [scale_said(sheet, manner), units_said(manner)]
    values = {"sheets": blocks.sheets, "paper": tiling.paper.name}
    values["overlap"] = tiling.overlap
    joined = "print.sheets_joined" if tiling.overlap else "print.sheets_butted"
    how = [say("print.at_full", manner=manner), say(joined, values, manner)]
    how += correction_said(tiling, manner, printer)
    sets = [(" · ".join(filter(None, told)), LETTERS, False)]
    sets += [(how[0], _WARNING, True), *((words, LETTERS, False) for words in how[1:])]
    for title in _TITLES:
        words, y = _column_of([(sheet.title, title, True), *sets], window, wide)
        if y >= low:
            break
    return [*marks, *words], min(y, low) - _GAP


def _column_of(
    sets: Sequence[tuple[str, float, bool]], window: Box, wide: float
) -> tuple[list[Mark], float]:
    """Words with their heights, bold or not, from the top of a window down."""
    marks: list[Mark] = []
    y = window.top
    for words, height, bold in sets:
        for part in broken(words, wide, height, bold=bold):
            y -= height if not marks else height * LEADING
            marks.append(Text(part, Point(window.left, y), height, bold=bold))
        y -= LETTERS / 2
    return marks, y


def _figure(facts: CoverFacts, window: Box) -> tuple[list[Mark], float, float]:
    """The skirt on her in the upper right corner, where the paper is wide enough.

    Returns:
        The marks, what is left of the width for words, and how low they reach.
    """
    if not facts.figure:
        return [], window.width, window.top
    drawn = box_of(facts.figure)
    # As large as the squares below it, one above the other, leave room for.
    below = SQUARE + INCH_SQUARE + 3 * _GAP
    high = min(_FIGURE_MOST, window.height - below)
    room = window.width - _LEAST_HEAD - 2 * _GAP
    times = max(min(high / drawn.height, room / drawn.width), 1.0)
    left = window.width - times * drawn.width - 2 * _GAP
    if left < _LEAST_HEAD:
        return [], window.width, window.top
    low = window.top - times * drawn.height
    large = Motion(a=times, d=times)
    home = large.then(Motion(e=window.right - times * drawn.right, f=low))
    return [mark.moved(home) for mark in facts.figure], left, low


def correction_said(tiling: Tiling, manner: Manner, printer: str) -> list[str]:
    """That the print is corrected, by how much, and for which printer."""
    right = tiling.correction
    if right.is_none:
        return []
    values = {"across": right.across, "along": right.along, "printer": printer}
    named = "print.corrected_for" if printer else "print.corrected"
    return [say(named, values, manner)]


Blocked = list[tuple[list[Mark], tuple[float, float]]]
"""What stands together, from its own lower left corner, and its size."""


def _blocks(
    blocks: Blocks,
    manner: Manner,
    room: Box,
    facts: CoverFacts,
    more: Blocked,
    share: float,
) -> Blocked:
    """The two squares, what more there is, and the maps in their share of the room."""
    home = Point(0, 0)
    butted = not blocks.tilings[0].overlap
    key = key_of_lines(blocks.sheet, _inside(SQUARE), manner)
    joins = how_to_join(_inside(INCH_SQUARE), manner, butted=butted)
    squares = (
        ([*metric_square(home, manner), *key], (SQUARE, SQUARE)),
        ([*inch_square(home, manner), *joins], (INCH_SQUARE, INCH_SQUARE)),
    )
    beside = room.width - INCH_SQUARE - _GAP
    wide = beside if beside >= _LEAST_COLUMN else room.width
    numbers = {name: f"{number}" for number, name, _ in facts.cut_list}
    only = len(blocks.tilings) == 1
    space = (wide, min(room.height * share, 1.4 * wide))
    maps = [map_of(t, numbers, manner, space, only=only) for t in blocks.tilings]
    return [*squares, *more, *_side_by_side(maps, wide)]


def _inside(side: float) -> Box:
    """The room within a test square, clear of its ticks and its words."""
    return Box(7.0, 9.0, side - 5.0, side - 5.0)


def _side_by_side(
    maps: Sequence[tuple[list[Mark], tuple[float, float]]], wide: float
) -> Blocked:
    """Maps in rows no wider than a column."""
    made: Blocked = []
    row: list[Mark] = []
    across, high = 0.0, 0.0
    for marks, size in maps:
        if row and across + size[0] > wide:
            made.append((row, (across, high)))
            row, across, high = [], 0.0, 0.0
        row += [mark.moved(Motion(e=across)) for mark in marks]
        across += size[0] + _GAP
        high = max(high, size[1])
    return [*made, (row, (min(across, wide), high))]


def _place(room: Box, taken: list[Box], size: tuple[float, float]) -> Box | None:
    """Below what stands at the left, else at the top of the column beside it."""
    lefts = [box for box in taken if box.left == room.left]
    foot = min((box.bottom for box in lefts), default=room.top + _GAP) - _GAP
    side = max((box.right for box in taken), default=room.left - _GAP) + _GAP
    rights = [box for box in taken if box.left != room.left]
    beside = min((box.left for box in rights), default=side)
    under = min((box.bottom for box in rights), default=room.top + _GAP) - _GAP
    for left, top in ((room.left, foot), (beside, under)):
        box = Box(left, top - size[1], left + size[0], top)
        if box.right > room.right + 0.01 or box.bottom < room.bottom - 0.01:
            continue
        if not any(box.meets(other) for other in taken):
            return box
    return None


def _gaps(room: Box, taken: list[Box]) -> list[Box]:
    """Room for the lists: beside and below the blocks."""
    if not taken:
        return [room]
    left = [box for box in taken if box.left == room.left]
    right = [box for box in taken if box.left != room.left]
    side = max(box.right for box in left) + _GAP
    under = min((box.bottom for box in right), default=room.top + _GAP) - _GAP
    foot = min(box.bottom for box in left) - _GAP
    gaps = [Box(side, room.bottom, room.right, under)]
    if foot - room.bottom > 3 * LINE:
        gaps.append(Box(room.left, room.bottom, side - _GAP, foot))
    return [gap for gap in gaps if gap.width >= _LEAST_COLUMN - 1]


def _column(window: Box, number: int) -> Box:
    half = (window.width - _GAP) / 2
    left = window.left + number * (half + _GAP)
    return Box(left, window.bottom, left + half, window.top)


def _lists(
    blocks: Blocks, facts: CoverFacts, manner: Manner, *, close: bool
) -> list[Line]:
    """What is told in columns; close together where it would take another page."""
    told = _run_on if close else rows
    lines: list[Line] = []
    where = {
        group.name: _on_sheets(sheets_of(tiling, group))
        for tiling in blocks.tilings
        for group in tiling.sheet.groups
    }
    if facts.toile:
        lines += heading(say("print.toile", manner=manner))
        lines.append(Line(facts.toile))
    if facts.cut_list:
        cut = [
            (f"{number} {name}", f"{how}; {where[name]}" if name in where else how)
            for number, name, how in facts.cut_list
        ]
        lines += heading(say("print.cut_list", manner=manner))
        lines += [Line(" · ".join(row)) for row in cut] if close else in_columns(cut)
    if facts.allowances:
        lines += heading(say("print.allowances", manner=manner))
        lines.append(Line(facts.allowances))
        lines += told(facts.widths)
    if facts.finished:
        lines += heading(say("print.finished", manner=manner)) + told(facts.finished)
    if facts.notes:
        lines += heading(say("print.notes", manner=manner))
        lines += [Line(note) for note in facts.notes]
    return lines


def _run_on(pairs: Sequence[tuple[str, str]]) -> list[Line]:
    """Names with their lengths one after another."""
    return [Line(" · ".join(" ".join(pair) for pair in pairs))]


def _on_sheets(tiles: Sequence[Tile]) -> str:
    """Names of sheets, those of a row side by side told by the first and the last."""
    runs: list[list[Tile]] = []
    for tile in tiles:
        last = runs[-1][-1] if runs else None
        if last and (last.row, last.column + 1) == (tile.row, tile.column):
            runs[-1].append(tile)
        else:
            runs.append([tile])
    return ", ".join("–".join(dict.fromkeys((r[0].name, r[-1].name))) for r in runs)
