"""The pages of a tiled print: the drawing in its windows, and how to join them."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from skirtwright.export.cover import correction_said, cover_pages
from skirtwright.export.facts import CoverFacts, one_line
from skirtwright.export.furniture import (
    JOINS_AT,
    OFF,
    TICK,
    cross,
    frame_of,
    margin_words,
    rule,
)
from skirtwright.export.labelling import Field, Room
from skirtwright.export.pages import Document, Page, View
from skirtwright.export.setting import broken
from skirtwright.export.sheet import (
    LEADING,
    SMALLEST_LETTERS,
    Mark,
    Stroke,
    Text,
    line,
)
from skirtwright.export.tiles import Blocks, Tile, Tiling, moved_to_page
from skirtwright.geometry import Motion, Point
from skirtwright.geometry.box import Box
from skirtwright.words import Manner, say

_NAME = 8.0
"""Height of capitals of a sheet's name, mm."""

_BLOCK = 4.0
"""Height of capitals of the name of its block, mm."""

_OFF_FRAME = 1.5
"""How far words keep from the frame and from the strips that sheets share, mm."""

_LEAST_MARGIN = 6.0
"""A margin narrower than this has no room for words."""


def tiled_document(
    blocks: Blocks,
    facts: CoverFacts,
    manner: Manner = Manner(),
    *,
    layered: bool = True,
    printer: str = "",
    only: Collection[int] = (),
) -> Document:
    """The first page and every sheet that is not blank.

    Args:
        layered: kinds of line that a reader can turn off; False for a print shop.
        printer: her name for the printer, said beside its correction.
        only: numbers of the sheets wanted, without the first page; none means all.
    """
    title = blocks.sheet.title
    foot = one_line(blocks.sheet, facts, manner)
    corrected = correction_said(blocks.tilings[0], manner, printer)
    foot = " · ".join([foot, *(told.rstrip(".") for told in corrected)])
    room = with_words(blocks)
    pages = [
        _page(tiling, tile, _said_of(blocks, number, foot, manner), manner, room)
        for number, (tiling, tile) in enumerate(blocks.printed, 1)
    ]
    if only:
        pages = [page for number, page in enumerate(pages, 1) if number in only]
    else:
        pages = [*cover_pages(blocks, facts, manner, printer), *pages]
    return Document(
        of=title,
        subject=foot,
        client=facts.client,
        date=facts.date,
        manner=manner,
        drawing=room.sheet,
        pages=tuple(pages),
        stencils={k: v for t in blocks.tilings for k, v in _stencils(t).items()},
        layered=layered,
    )


def with_words(blocks: Blocks) -> Room:
    """The pieces with their words on the sheets that are printed."""
    fields = [_field(tiling, tile) for tiling, tile in blocks.printed]
    crosses = [mark for tiling in blocks.tilings for mark in _crosses(tiling)]
    return Room(blocks.sheet, fields, crosses)


def _said_of(blocks: Blocks, number: int, line: str, manner: Manner) -> str:
    """The line in the margin of a sheet: its name, and its number in all."""
    before = 0
    for tiling in blocks.tilings:
        if number <= before + tiling.sheets:
            break
        before += tiling.sheets
    name = tiling.printed[number - before - 1].name
    values = {"name": name, "number": number, "of": blocks.sheets, "line": line}
    if not tiling.title:
        return say("print.foot", values, manner)
    values |= {"block": tiling.title, "own": number - before, "own_of": tiling.sheets}
    return say("print.foot_of_block", values, manner)


def _field(tiling: Tiling, tile: Tile) -> Field:
    window, sides = tile.window, _joined_sides(tiling, tile)
    ruled = 0.0 if _has_margin(tiling) else TICK
    left, right, top, foot = (
        _OFF_FRAME + (tiling.overlap if side in sides else 0.0)
        for side in ("left", "right", "top", "foot")
    )
    core = Box(
        window.left + left + ruled,
        window.bottom + foot + ruled,
        window.right - right,
        window.top - top,
    )
    return Field(window, core)


def _has_margin(tiling: Tiling) -> bool:
    return min(tiling.margin) >= _LEAST_MARGIN


def _crosses(tiling: Tiling) -> Iterator[Mark]:
    """The joining crosses where they lie in the drawing."""
    for tile in tiling.printed:
        back = moved_to_page(tiling, tile)
        home = Motion(e=-back.e, f=-back.f)
        for at in cross_places(tiling, tile):
            yield from cross(home(at))


def _window(tiling: Tiling) -> Box:
    left, foot = tiling.margin
    return Box(left, foot, left + tiling.window[0], foot + tiling.window[1])


def _page(tiling: Tiling, tile: Tile, words: str, manner: Manner, room: Room) -> Page:
    window, field = _window(tiling), _field(tiling, tile)
    home = moved_to_page(tiling, tile)
    right = tiling.correction
    enlarge = (right.across, right.along)
    corner = field.core.corners[3]
    inside = room.words_on(field, (tile.name,), _NAME, corner)
    if tiling.title:
        number = tiling.printed.index(tile) + 1
        values = {"block": tiling.title, "own": number, "own_of": tiling.sheets}
        named = (say("print.of_block", values, manner),)
        inside += room.words_on(field, named, _BLOCK, corner, bold=False)
    marks: list[Mark] = []
    room_above = int((tiling.margin[1] - OFF) // (LEADING * SMALLEST_LETTERS))
    lines = broken(words, JOINS_AT["top"] * window.width - 2, SMALLEST_LETTERS)
    if len(lines) <= room_above and _has_margin(tiling):
        for below, part in enumerate(lines, 1):
            up = len(lines) - below
            marks.append(margin_words(part, "top", window, 0.0, up=up))
    else:
        inside += _line_inside(words, field, room)
    marks += _neighbours(tiling, tile, window, manner)
    return Page(
        f"{tiling.title} {tile.name}".strip(),
        tiling.page[0],
        tiling.page[1],
        (*marks, *(mark.moved(home) for mark in inside)),
        (_kind("frame", tiling), _kind(_joined_sides(tiling, tile), tiling)),
        View(window, home(Point(0, 0))),
        enlarge[::-1] if tiling.landscape else enlarge,
    )


def _line_inside(words: str, field: Field, room: Room) -> list[Mark]:
    """The margin's line where the margin is too narrow for it: long or short lines."""
    for share in (0.8, 0.5, 0.3, 0.2):
        lines = broken(words, share * field.core.width, SMALLEST_LETTERS)
        corner = field.core.corners[3]
        marks = room.words_on(field, tuple(lines), SMALLEST_LETTERS, corner)
        if marks:
            return marks
    return []


def _frame(tiling: Tiling) -> Iterator[Mark]:
    """What every sheet has alike: its frame, and the rule along its margin."""
    window = _window(tiling)
    yield frame_of(window)
    yield from rule(window, outside=_has_margin(tiling))


_SIDES = {"left": (0, -1), "right": (0, 1), "top": (-1, 0), "foot": (1, 0)}
"""Each side, and how far down and over the neighbour lies."""


def _joined_sides(tiling: Tiling, tile: Tile) -> str:
    """Which sides of a sheet are joined: the name of the stencil it shares."""
    joined = (
        side
        for side, (down, over) in _SIDES.items()
        if tiling.tile_at(tile.row + down, tile.column + over)
    )
    return "-".join(("joins", *joined))


def _kind(name: str, tiling: Tiling) -> str:
    """A stencil's name for sheets that stand or lie."""
    return f"{name}-lying" if tiling.landscape else name


def _stencils(tiling: Tiling) -> dict[str, tuple[Mark, ...]]:
    """The frame, and the crosses and strips of each kind of joined sheet."""
    stencils = {_kind("frame", tiling): tuple(_frame(tiling))}
    for tile in tiling.printed:
        name = _kind(_joined_sides(tiling, tile), tiling)
        if name not in stencils:
            stencils[name] = tuple(_joins(tiling, tile))
    return stencils


def _joins(tiling: Tiling, tile: Tile) -> Iterator[Mark]:
    """Crosses, and where the neighbour at the right and at the top will lie."""
    for at in cross_places(tiling, tile):
        yield from cross(at)
    window, lap = _window(tiling), tiling.overlap
    sides = _joined_sides(tiling, tile)
    if lap and "right" in sides:
        x = window.right - lap
        ends = Point(x, window.bottom), Point(x, window.top)
        yield Stroke(line(*ends), "frame", dash=(2.0, 2.0))
    if lap and "top" in sides:
        y = window.top - lap
        ends = Point(window.left, y), Point(window.right, y)
        yield Stroke(line(*ends), "frame", dash=(2.0, 2.0))


def _neighbours(
    tiling: Tiling, tile: Tile, window: Box, manner: Manner
) -> Iterator[Text]:
    """The names of the sheets that join at each side, blank ones left out."""
    if not _has_margin(tiling):
        return
    for side, (down, over) in _SIDES.items():
        other = tiling.tile_at(tile.row + down, tile.column + over)
        if other is not None and not other.blank:
            words = say("print.joins", {"name": other.name}, manner)
            reach = window.height if side in ("left", "right") else window.width
            yield margin_words(words, side, window, reach * JOINS_AT[side])


def cross_places(tiling: Tiling, tile: Tile) -> list[Point]:
    """Where this page's joining crosses stand, on the page.

    They stand in the middle of the overlap, at the corners and half way along each
    joined side, at places fixed in the drawing: the same for both pages.
    """
    window = _window(tiling)
    half = tiling.overlap / 2
    xs = {0: window.left + half, 1: window.right - half}
    ys = {0: window.bottom + half, 1: window.top - half}
    middle = window.corners[0].between(window.corners[2], 0.5)
    sides = _joined_sides(tiling, tile)
    joined_x = [side for side, name in enumerate(("left", "right")) if name in sides]
    joined_y = [side for side, name in enumerate(("foot", "top")) if name in sides]
    places = [
        Point(xs[a], ys[b]) for a in xs for b in ys if a in joined_x or b in joined_y
    ]
    places += [Point(xs[a], middle.y) for a in joined_x]
    places += [Point(middle.x, ys[b]) for b in joined_y]
    return places
