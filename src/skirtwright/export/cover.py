"""The first page: is the printer true, how do the sheets join, what is to be cut.

It stands upright whichever way the sheets lie, because the squares are measured along
the short and the long edge of the paper. Squares, map and lists each have their own
room and never meet; what does not fit goes on another page.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from skirtwright.export.correction import SQUARE
from skirtwright.export.facts import CoverFacts, Row, scale_said, units_said
from skirtwright.export.furniture import (
    HAIR,
    INCH_SQUARE,
    inch_square,
    metric_square,
)
from skirtwright.export.pages import Page
from skirtwright.export.printed_letters import width_of
from skirtwright.export.setting import (
    LETTERS,
    LINE,
    Line,
    broken,
    flowed,
    heading,
    rows,
)
from skirtwright.export.sheet import (
    Fill,
    Group,
    Mark,
    Path,
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

_GAP = 6.0
_LEAST_COLUMN = 45.0
_LEAST_HEAD = 90.0
_TITLE = 5.0
_WARNING = 3.0
_MAP_TILE = 45.0
_MAP_NAME = 1.8
_KEPT = 0.85
"""How light a sheet is that stays from a print before."""


def cover_pages(
    tiling: Tiling, facts: CoverFacts, manner: Manner, printer: str = ""
) -> list[Page]:
    """The first page, and more if the lists are long or the paper is small."""
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
    marks, top = _head(tiling, facts, manner, printer, window)
    room = Box(window.left, window.bottom, window.right, top)
    pages: list[tuple[Mark, ...]] = []
    free: list[Box] = []
    for block, size in _blocks(tiling, facts, manner, room):
        place = _place(room, free, size)
        if place is None:
            pages.append(tuple(marks))
            marks, room, free = [], window, []
            place = _place(room, free, size) or room
        marks.extend(mark.moved(Motion(e=place.left, f=place.bottom)) for mark in block)
        free.append(place)
    lists = _lists(facts, manner)
    set_marks, lists = flowed(lists, _gaps(room, free))
    marks.extend(set_marks)
    pages.append(tuple(marks))
    while lists:
        set_marks, lists = flowed(lists, [_column(window, n) for n in (0, 1)])
        if not set_marks:
            break
        pages.append(tuple(set_marks))
    return [replace(blank, marks=page) for page in pages]


def _head(
    tiling: Tiling, facts: CoverFacts, manner: Manner, printer: str, window: Box
) -> tuple[list[Mark], float]:
    """Title, whom it is for, and the order to print at 100 %; and what is left."""
    sheet = tiling.sheet
    marks, wide, low = _figure(facts, window)
    y = window.top - _TITLE
    for part in broken(sheet.title, wide, _TITLE, bold=True):
        marks.append(Text(part, Point(window.left, y), _TITLE, bold=True))
        y -= _TITLE * 1.7
    y += _TITLE * 1.7
    told = [facts.client, facts.style if facts.style != sheet.title else "", facts.date]
    told += [scale_said(sheet, manner), units_said(manner)]
    how = [
        say("print.at_full", manner=manner),
        say(
            "print.sheets_joined",
            {
                "sheets": tiling.sheets,
                "paper": tiling.paper.name,
                "overlap": tiling.overlap,
            },
            manner,
        )
        if tiling.overlap
        else say(
            "print.sheets_butted",
            {"sheets": tiling.sheets, "paper": tiling.paper.name},
            manner,
        ),
    ]
    how += correction_said(tiling, manner, printer)
    sets = [(" · ".join(filter(None, told)), False)]
    sets += [(words, number == 0) for number, words in enumerate(how)]
    for words, bold in sets:
        height = _WARNING if bold else LETTERS
        y -= LETTERS / 2
        for part in broken(words, wide, height, bold=bold):
            y -= height * 2
            marks.append(Text(part, Point(window.left, y), height, bold=bold))
    return marks, min(y, low) - _GAP


def _figure(facts: CoverFacts, window: Box) -> tuple[list[Mark], float, float]:
    """The skirt on her in the upper right corner, where the paper is wide enough.

    Returns:
        The marks, what is left of the width for words, and how low they reach.
    """
    if not facts.figure:
        return [], window.width, window.top
    size = box_of(facts.figure)
    left = window.width - size.width - 2 * _GAP
    if left < _LEAST_HEAD:
        return [], window.width, window.top
    low = window.top - size.top
    home = Motion(e=window.right - size.right, f=low)
    return [mark.moved(home) for mark in facts.figure], left, low


def correction_said(tiling: Tiling, manner: Manner, printer: str) -> list[str]:
    """That the print is corrected, by how much, and for which printer."""
    right = tiling.correction
    if right.is_none:
        return []
    values = {"across": right.across, "along": right.along, "printer": printer}
    named = "print.corrected_for" if printer else "print.corrected"
    return [say(named, values, manner)]


def _blocks(
    tiling: Tiling, facts: CoverFacts, manner: Manner, room: Box
) -> list[tuple[list[Mark], tuple[float, float]]]:
    """The two squares and the map, each from its own lower left corner."""
    home = Point(0, 0)
    squares = (
        (list(metric_square(home, manner)), (SQUARE, SQUARE)),
        (list(inch_square(home, manner)), (INCH_SQUARE, INCH_SQUARE)),
    )
    beside = room.width - INCH_SQUARE - _GAP
    wide = beside if beside >= _LEAST_COLUMN else room.width
    numbers = {name: f"{number}" for number, (name, _) in _numbered(facts)}
    space = (wide, min(room.height * 0.55, 1.4 * wide))
    chart, size = _map(tiling, numbers, manner, space)
    return [*squares, (chart, size)]


def _place(room: Box, taken: list[Box], size: tuple[float, float]) -> Box | None:
    """Below what stands at the left, else at the top of the column beside it."""
    lefts = [box for box in taken if box.left == room.left]
    foot = min((box.bottom for box in lefts), default=room.top + _GAP) - _GAP
    side = max((box.right for box in taken), default=room.left - _GAP) + _GAP
    for left, top in ((room.left, foot), (side, room.top)):
        box = Box(left, top - size[1], left + size[0], top)
        if box.right > room.right + 0.01 or box.bottom < room.bottom - 0.01:
            continue
        if not any(box.meets(other) for other in taken):
            return box
    return None


def _gaps(room: Box, taken: list[Box]) -> list[Box]:
    """Room for the lists: beside and below the blocks, then inside the squares."""
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
    inside = [
        Box(box.left + 6, box.bottom + 10, box.right - 4, box.top - 3)
        for box in left
        if box.width in (SQUARE, INCH_SQUARE) or abs(box.width - SQUARE) < 2
    ]
    return [gap for gap in gaps + inside if gap.width >= _LEAST_COLUMN - 1]


def _column(window: Box, number: int) -> Box:
    half = (window.width - _GAP) / 2
    left = window.left + number * (half + _GAP)
    return Box(left, window.bottom, left + half, window.top)


def _numbered(facts: CoverFacts) -> Iterator[tuple[int, Row]]:
    """The rows of the cut list; on the map a number stands for a name without room."""
    return enumerate(facts.cut_list, 1)


def _lists(facts: CoverFacts, manner: Manner) -> list[Line]:
    lines: list[Line] = []
    if facts.cut_list:
        cut = [(f"{number}  {name}", how) for number, (name, how) in _numbered(facts)]
        lines += heading(say("print.cut_list", manner=manner)) + rows(cut)
    if facts.allowances:
        lines += heading(say("print.allowances", manner=manner))
        lines.append(Line(facts.allowances))
    if facts.finished:
        lines += heading(say("print.finished", manner=manner)) + rows(facts.finished)
    if facts.notes:
        lines += heading(say("print.notes", manner=manner))
        lines += [Line(note) for note in facts.notes]
    return lines


def _map(
    tiling: Tiling,
    numbers: Mapping[str, str],
    manner: Manner,
    room: tuple[float, float],
) -> tuple[list[Mark], tuple[float, float]]:
    """The pieces over the grid of sheets.

    Sheets left out are crossed through, sheets that stay from a print before are grey.
    """
    title = 5.0
    size = (
        tiling.columns * (tiling.window[0] - tiling.overlap) + tiling.overlap,
        tiling.rows * (tiling.window[1] - tiling.overlap) + tiling.overlap,
    )
    shrink = min(
        room[0] / size[0], (room[1] - title) / size[1], _MAP_TILE / min(tiling.window)
    )
    corner = tiling.tiles[-tiling.columns].window
    home = Motion(e=-corner.left, f=-corner.bottom).then(Motion(a=shrink, d=shrink))
    marks: list[Mark] = []
    for tile in tiling.tiles:
        marks.extend(_cell(tile, tiling, home))
    for group in tiling.sheet.groups:
        marks.extend(
            Stroke(tuple(s.moved(home) for s in path), "label", 0.25, (), closed=True)
            for path in _outlines(group)
        )
        marks.append(_name_on_map(group, numbers, home, shrink))
    top = size[1] * shrink + 2
    marks.append(Text(say("print.map", manner=manner), Point(0, top), 2.1, bold=True))
    return marks, (size[0] * shrink, size[1] * shrink + title)


def _name_on_map(
    group: Group, numbers: Mapping[str, str], home: Motion, shrink: float
) -> Text:
    """The piece's name in its middle, upright where narrow; where small its number."""
    box = group.outline_box
    upright = box.height > box.width
    width = width_of(group.name, _MAP_NAME, bold=True)
    across, along = sorted((box.width * shrink, box.height * shrink))
    if along < width or across < _MAP_NAME * 1.4:
        name, upright = numbers.get(group.name, group.name), False
    else:
        name, upright = group.name, upright and width > box.width * shrink
    half = _MAP_NAME / 2
    middle = home(box.corners[0].between(box.corners[2], 0.5))
    foot = middle + (Point(half, 0) if upright else Point(0, -half))
    angle = 90.0 if upright else 0.0
    return Text(name, foot, _MAP_NAME, angle, anchor="middle", bold=True)


def _outlines(group: Group) -> list[Path]:
    """The cutting lines of a piece, or its other outlines where it has none."""
    closed = [m for m in group.marks if isinstance(m, Stroke) and m.closed]
    cut = [mark for mark in closed if mark.layer == "cutting"]
    return [mark.path for mark in cut or closed]


def _cell(tile: Tile, tiling: Tiling, home: Motion) -> list[Mark]:
    """One sheet on the map, up to the middle of what it shares with the next."""
    window, half = tile.window, tiling.overlap / 2
    low = Point(
        window.left + (half if tile.column else 0),
        window.bottom + (half if tile.row + 1 < tiling.rows else 0),
    )
    high = Point(
        window.right - (half if tile.column + 1 < tiling.columns else 0),
        window.top - (half if tile.row else 0),
    )
    low, high = home(low), home(high)
    box = Box(low.x, low.y, high.x, high.y)
    corners = box.corners
    marks: list[Mark] = [Stroke(outline(*corners), "frame", HAIR, (), closed=True)]
    if tile.kept:
        marks.insert(0, Fill(outline(*corners), "frame", _KEPT))
    if tile.blank:
        marks.append(Stroke(line(corners[0], corners[2]), "frame", HAIR, ()))
        marks.append(Stroke(line(corners[1], corners[3]), "frame", HAIR, ()))
    letters = min(LETTERS, box.width / 4, box.height / 4)
    at = Point(box.left + 1, box.top - letters - 1)
    return [*marks, Text(tile.name, at, letters, layer="frame")]
