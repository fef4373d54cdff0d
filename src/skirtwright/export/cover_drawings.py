"""What stands inside the test squares of the first page: key of lines, how to join."""

from __future__ import annotations

from collections.abc import Iterator

from skirtwright.export.changed_sheets import BEFORE
from skirtwright.export.furniture import HAIR, cross
from skirtwright.export.setting import LETTERS, broken
from skirtwright.export.sheet import (
    LEADING,
    PLEAT_FOLD,
    SIZE_LAYERS,
    Fill,
    Layer,
    Mark,
    Pen,
    Sheet,
    Stroke,
    Text,
    line,
    outline,
)
from skirtwright.export.traced_twice import (
    LINING_CUTTING,
    LINING_INSIDE,
    LINING_STITCHING,
)
from skirtwright.geometry import Point
from skirtwright.geometry.arc import arc
from skirtwright.geometry.box import Box
from skirtwright.words import Manner, say

KEY: tuple[Layer, ...] = (
    "cutting",
    "stitching",
    "fold",
    "grain",
    "inside",
    "lengthen",
    "notch",
    "drill",
)
"""Kinds of line that the key shows, in its order."""

_OTHERWISE = {
    "print.layer.pleat": PLEAT_FOLD,
    "print.layer.lining_cutting": LINING_CUTTING,
    "print.layer.lining_stitching": LINING_STITCHING,
    "print.layer.lining_inside": LINING_INSIDE,
    "print.layer.before": BEFORE,
}
"""What is drawn with a pen of its own, and which."""

_ROW = 9.0
_LONG = 38.0
_HEADING = 7.0


def key_of_lines(sheet: Sheet, box: Box, manner: Manner) -> Iterator[Mark]:
    """Each kind of line that is drawn, with its name, from the top of a box down."""
    y = box.top - LETTERS
    words = say("print.key", manner=manner)
    yield Text(words, Point(box.left, y), LETTERS, bold=True)
    y -= _HEADING
    kinds = list(_kinds(sheet, manner))
    row = min(_ROW, (y - box.bottom) / max(len(kinds), 1))
    y -= (y - box.bottom - row * len(kinds)) / 2
    for words, layer, pen in kinds:
        yield from _sample(layer, Point(box.left, y), pen)
        at = Point(box.left + _LONG + 5, y - LETTERS / 2)
        yield Text(words, at, LETTERS)
        y -= row


def _kinds(sheet: Sheet, manner: Manner) -> Iterator[tuple[str, Layer, Pen | None]]:
    """What each kind of line on a sheet is called, its layer, and a pen of its own."""
    drawn = {mark.layer for mark in sheet.marks if not isinstance(mark, Text)}
    pens = {(m.weight, m.dash) for m in sheet.marks if isinstance(m, Stroke)}
    for layer, name in zip(SIZE_LAYERS, sheet.sizes, strict=False):
        yield say("print.layer.size", {"name": name}, manner), layer, None
    for layer in KEY:
        if layer in drawn:
            yield say(f"print.layer.{layer}", manner=manner), layer, None
    for words, pen in _OTHERWISE.items():
        if pen in pens:
            yield say(words, manner=manner), "inside", pen


def _sample(layer: Layer, at: Point, pen: Pen | None) -> Iterator[Mark]:
    """A piece of a line as it is drawn on the pattern."""
    end = at + Point(_LONG, 0)
    if layer == "notch":
        yield Stroke(line(at, end), "cutting")
        for x in (12.0, 26.0, 31.0):
            foot = at + Point(x, 0)
            yield Stroke(line(foot, foot - Point(0, 4)), layer)
    elif layer == "drill":
        middle = at + Point(_LONG / 2, 0)
        circle = arc(middle, middle + Point(2, 0), 360.0)
        yield Stroke(circle.segments, layer, closed=True)
    elif layer == "lengthen":
        for up in (1.5, -1.5):
            yield Stroke(line(at + Point(0, up), end + Point(0, up)), layer)
    else:
        yield Stroke(line(at, end), layer, *(pen or ()))
    if layer == "grain":
        for tip, way in ((at, 1.0), (end, -1.0)):
            back = tip + Point(8 * way, 0)
            side = Point(0, 2.5)
            yield Fill(outline(tip, back + side, back - side), layer)


def how_to_join(box: Box, manner: Manner, *, butted: bool) -> Iterator[Mark]:
    """Three small drawings one below another, each with its words beside it."""
    y = box.top - LETTERS
    words = say("print.join", manner=manner)
    yield Text(words, Point(box.left, y), LETTERS, bold=True)
    row = (y - _HEADING / 2 - box.bottom) / 3
    kind = "butted" if butted else "lapped"
    beside = box.left + _LONG + 5
    for number, draw in enumerate((_trimmed, _laid, _taped), 1):
        middle = y - _HEADING / 2 - (number - 0.5) * row
        yield from draw(Point(box.left, middle - _SHEET[1] / 2), butted=butted)
        told = say(f"print.join.{kind}.{number}", manner=manner)
        lines = broken(f"{number}  {told}", box.right - beside, LETTERS)
        foot = middle + (len(lines) / 2 - 1) * LEADING * LETTERS + LETTERS / 2
        yield Text("\n".join(lines), Point(beside, foot), LETTERS)


_SHEET = (15.0, 21.0)
"""A sheet in these drawings, mm."""

_MARGIN = 2.0
_SHARED = 2.0
"""What two sheets share where they overlap, mm."""

_CUT_OFF, _PIECE = 0.8, 0.9
"""How light margins are that are cut off, and the piece."""


def _paper(box: Box) -> Iterator[Mark]:
    """Paper that hides what lies under it."""
    yield Fill(outline(*box.corners), "label", 1.0)
    yield Stroke(outline(*box.corners), "label", 0.35, (), closed=True)


def _trimmed(low: Point, *, butted: bool) -> Iterator[Mark]:
    """A sheet whose grey margins are cut off along the dashed frame."""
    whole = Box(low.x, low.y, low.x + _SHEET[0], low.y + _SHEET[1])
    whole = whole.moved(Point((_LONG - whole.width) / 2, 0))
    frame = whole.grown(-_MARGIN)
    kept = frame if butted else Box(frame.left, frame.bottom, whole.right, whole.top)
    yield Fill(outline(*whole.corners), "label", _CUT_OFF)
    yield Fill(outline(*kept.corners), "label", 1.0)
    yield Stroke(outline(*whole.corners), "label", 0.35, (), closed=True)
    far = whole.grown(2.0)
    xs = (frame.left, frame.right) if butted else (frame.left,)
    ys = (frame.bottom, frame.top) if butted else (frame.bottom,)
    for ends in (
        *((Point(x, far.bottom), Point(x, far.top)) for x in xs),
        *((Point(far.left, y), Point(far.right, y)) for y in ys),
    ):
        yield Stroke(line(*ends), "label", 0.35, (2.0, 1.2))


def _laid(low: Point, *, butted: bool) -> Iterator[Mark]:
    """A sheet laid over its neighbour, or beside it, so that the crosses meet."""
    shared = 0.0 if butted else _SHARED
    wide = _SHEET[0] - (2 if butted else 1) * _MARGIN
    high = _SHEET[1] - (2 if butted else 1) * _MARGIN
    beside = wide - shared - (0.0 if butted else _MARGIN)
    left = low.x + (_LONG - beside - wide) / 2
    first = Box(left, low.y, left + wide, low.y + high)
    over = first.moved(Point(beside, 0))
    yield from (*_paper(first), *_paper(over))
    for up in (0.25, 0.75):
        at = Point(over.left + shared / 2, over.bottom + up * high)
        for stroke in cross(at, "label"):
            ends = stroke.path[0].start, stroke.path[0].end
            small = line(*(at.between(end, 0.5) for end in ends))
            yield Stroke(small, "label", HAIR, ())


def _taped(low: Point, *, butted: bool) -> Iterator[Mark]:
    """Sheets taped across the join, and the piece cut out of them."""
    del butted
    wide = 2 * (_SHEET[0] - _MARGIN)
    left = low.x + (_LONG - wide) / 2
    whole = Box(left, low.y, left + wide, low.y + _SHEET[1])
    yield from _paper(whole)
    middle = whole.middle.x
    half = whole.height / 2
    corners = [
        Point(middle + across, whole.middle.y + up * (half - 2.5))
        for across, up in ((-10.0, -1), (10.0, -1), (5.5, 1), (-5.5, 1))
    ]
    yield Fill(outline(*corners), "label", _PIECE)
    ends = Point(middle, whole.bottom), Point(middle, whole.top)
    yield Stroke(line(*ends), "label", HAIR, ())
    yield Stroke(outline(*corners), "label", 0.7, (), closed=True)
    for up in (0.3, 0.7):
        at = Point(middle, whole.bottom + up * whole.height)
        yield from _paper(Box(at.x - 4, at.y - 1.2, at.x + 4, at.y + 1.2))
