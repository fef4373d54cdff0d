"""The pages of a tiled print: the drawing in its windows, and how to join them."""

from __future__ import annotations

from collections.abc import Iterator

from skirtwright.export.cover import correction_said, cover_pages
from skirtwright.export.facts import CoverFacts, one_line
from skirtwright.export.furniture import cross, frame_of, rule
from skirtwright.export.pages import (
    Document,
    Page,
    View,
    language_tag,
    layer_names,
)
from skirtwright.export.papers import looks
from skirtwright.export.setting import broken
from skirtwright.export.sheet import LEADING, Mark, Stroke, Text, line
from skirtwright.export.tiles import Tile, Tiling, moved_to_page
from skirtwright.geometry import Point
from skirtwright.geometry.box import Box
from skirtwright.words import Manner, say

_NAME = 8.0
_SMALL = 1.8
_INSIDE = 3.0
_LEAST_MARGIN_FOR_RULE = 6.0


def write_tiled(
    tiling: Tiling,
    facts: CoverFacts,
    manner: Manner | None = None,
    *,
    layered: bool = True,
    printer: str = "",
) -> bytes:
    """A PDF of the first page and every sheet that is not blank.

    Args:
        tiling: from `tiles.tile`.
        facts: what the pages say of the order.
        manner: her unit and language.
        layered: kinds of line that a reader can turn off; False for a print shop.
        printer: her name for the printer, said beside its correction.
    """
    from skirtwright.export.pdf import write

    return write(
        tiled_document(tiling, facts, manner, layered=layered, printer=printer)
    )


def tiled_document(
    tiling: Tiling,
    facts: CoverFacts,
    manner: Manner | None = None,
    *,
    layered: bool = True,
    printer: str = "",
) -> Document:
    """The same as a value."""
    manner = manner or Manner()
    covers = cover_pages(tiling, facts, manner, printer)
    foot = one_line(tiling.sheet, facts, manner)
    corrected = (told.rstrip(".") for told in correction_said(tiling, manner, printer))
    foot = " · ".join([foot, *corrected])
    pages = [
        _page(tiling, tile, number, foot, manner)
        for number, tile in enumerate(tiling.printed, 1)
    ]
    return Document(
        title=" · ".join(filter(None, (facts.client, tiling.sheet.title))),
        subject=foot,
        client=facts.client,
        date=facts.date,
        language=language_tag(manner),
        look=looks()["paper"],
        drawing=tiling.sheet,
        pages=(*covers, *pages),
        stencils=_stencils(tiling),
        layer_names=layer_names(manner) if layered else {},
    )


def _window(tiling: Tiling) -> Box:
    left, foot = tiling.margin
    return Box(left, foot, left + tiling.window[0], foot + tiling.window[1])


def _page(tiling: Tiling, tile: Tile, number: int, foot: str, manner: Manner) -> Page:
    window = _window(tiling)
    home = moved_to_page(tiling, tile)
    right = tiling.correction
    enlarge = (right.across, right.along)
    values = {
        "name": tile.name,
        "number": number,
        "of": tiling.sheets,
        "line": foot,
    }
    words = say("print.foot", values, manner)
    marks: list[Mark] = [
        Text(
            tile.name,
            Point(window.left + _INSIDE + 9, window.top - _NAME - _INSIDE - 9),
            _NAME,
            layer="frame",
            bold=True,
        ),
        _foot(words, window, tiling.overlap),
        *_neighbours(tiling, tile, window, manner),
    ]
    return Page(
        tile.name,
        tiling.page[0],
        tiling.page[1],
        tuple(marks),
        ("frame", _joined_sides(tiling, tile)),
        View(window, home(Point(0, 0))),
        enlarge[::-1] if tiling.landscape else enlarge,
    )


def _foot(words: str, window: Box, overlap: float) -> Text:
    """What the sheet is, in as many lines as it needs, above the shared strip."""
    indent = 14.0
    lines = broken(words, window.width - 2 * indent, _SMALL)
    clear = max(overlap + 2, _INSIDE + 2 * _SMALL)
    up = clear + (len(lines) - 1) * LEADING * _SMALL
    at = Point(window.left + indent, window.bottom + up)
    return Text("\n".join(lines), at, _SMALL, layer="frame")


def _frame(tiling: Tiling) -> Iterator[Mark]:
    """What every sheet has alike: its frame, and the rule along its margin."""
    window = _window(tiling)
    yield frame_of(window)
    margin = min(tiling.margin)
    yield from rule(window, 2.5 if margin >= _LEAST_MARGIN_FOR_RULE else -2.5)


_SIDES = {
    "left": (0, -1),
    "right": (0, 1),
    "top": (-1, 0),
    "foot": (1, 0),
}
"""Each side, and how far down and over the neighbour lies."""


def _joined_sides(tiling: Tiling, tile: Tile) -> str:
    """Which sides of a sheet are joined: the name of the stencil it shares."""
    joined = (
        side
        for side, (down, over) in _SIDES.items()
        if tiling.tile_at(tile.row + down, tile.column + over)
    )
    return "-".join(("joins", *joined))


def _stencils(tiling: Tiling) -> dict[str, tuple[Mark, ...]]:
    """The frame, and the crosses and strips of each kind of joined sheet."""
    stencils = {"frame": tuple(_frame(tiling))}
    for tile in tiling.printed:
        name = _joined_sides(tiling, tile)
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
    for side, (down, over) in _SIDES.items():
        other = tiling.tile_at(tile.row + down, tile.column + over)
        if other is not None and not other.blank:
            yield _joined_to(other.name, side, window, manner)


def _joined_to(name: str, side: str, window: Box, manner: Manner) -> Text:
    """The neighbour's name just inside a side, clear of the cross in its middle."""
    across = window.left + window.width * 0.7
    up = window.bottom + window.height * 0.3
    at, angle = {
        "left": (Point(window.left + _INSIDE, up), 90.0),
        "right": (Point(window.right - _INSIDE + _SMALL, up), 90.0),
        "top": (Point(across, window.top - _INSIDE), 0.0),
        "foot": (Point(across, window.bottom + _INSIDE - _SMALL), 0.0),
    }[side]
    words = say("print.joins", {"name": name}, manner)
    return Text(words, at, _SMALL, angle, "frame", "middle")


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
    joined_x = {
        side
        for side, over in ((0, -1), (1, 1))
        if tiling.tile_at(tile.row, tile.column + over)
    }
    joined_y = {
        side
        for side, down in ((0, 1), (1, -1))
        if tiling.tile_at(tile.row + down, tile.column)
    }
    places = [
        Point(xs[a], ys[b]) for a in xs for b in ys if a in joined_x or b in joined_y
    ]
    places += [Point(xs[a], middle.y) for a in sorted(joined_x)]
    places += [Point(middle.x, ys[b]) for b in sorted(joined_y)]
    return places
