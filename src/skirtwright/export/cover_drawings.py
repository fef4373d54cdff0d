"""What stands inside the test squares of the first page: key of lines, how to join."""

from __future__ import annotations

from collections.abc import Iterator

from skirtwright.export.changed_sheets import BEFORE
from skirtwright.export.furniture import HAIR, cross
from skirtwright.export.setting import LETTERS, broken
from skirtwright.export.sheet import (
    LEADING,
    SIZE_LAYERS,
    SMALLEST_LETTERS,
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
    """Three small drawings with a line or two under each, in the middle of a box."""
    y = box.top - LETTERS
    words = say("print.join", manner=manner)
    yield Text(words, Point(box.left, y), LETTERS, bold=True)
    step = box.width / 3
    wide = step - 6
    kind = "butted" if butted else "lapped"
    told = [say(f"print.join.{kind}.{number}", manner=manner) for number in (1, 2, 3)]
    under = [
        broken(f"{number}  {words}", wide + 3, SMALLEST_LETTERS)
        for number, words in enumerate(told, 1)
    ]
    tall = _DRAWN + LEADING * SMALLEST_LETTERS * (1 + max(map(len, under)))
    top = y - 5 - max((y - 5 - box.bottom - tall) / 2, 0)
    for number, (draw, lines) in enumerate(
        zip((_trimmed, _laid, _taped), under, strict=True)
    ):
        left = box.left + number * step
        yield from draw(Box(left, top - _DRAWN, left + wide, top), butted=butted)
        foot = top - _DRAWN - LEADING * SMALLEST_LETTERS
        yield Text("\n".join(lines), Point(left, foot), SMALLEST_LETTERS)


_DRAWN = 34.0
"""Height of a drawing of how to join, mm."""

_SHEET = (18.0, 25.0)
_MARGIN = 2.5


def _page(low: Point, trimmed: str = "") -> Iterator[Mark]:
    """A sheet with its frame, some of its margins cut off."""
    left = low.x + (_MARGIN if "l" in trimmed else 0)
    foot = low.y + (_MARGIN if "f" in trimmed else 0)
    right = low.x + _SHEET[0] - (_MARGIN if "r" in trimmed else 0)
    top = low.y + _SHEET[1] - (_MARGIN if "t" in trimmed else 0)
    sheet = Box(left, foot, right, top)
    yield Fill(outline(*sheet.corners), "label", 1.0)
    yield Stroke(outline(*sheet.corners), "label", 0.25, (), closed=True)


def _frame(low: Point) -> Box:
    return Box(low.x, low.y, low.x + _SHEET[0], low.y + _SHEET[1]).grown(-_MARGIN)


def _trimmed(box: Box, *, butted: bool) -> Iterator[Mark]:
    """A sheet of which margins are cut off along the dashed frame."""
    low = Point(box.left + 3, box.bottom + 9)
    frame = _frame(low)
    yield from _page(low)
    far = 3.5
    ends = [
        (Point(frame.left, low.y - far), Point(frame.left, low.y + _SHEET[1] + far)),
        (
            Point(low.x - far, frame.bottom),
            Point(low.x + _SHEET[0] + far, frame.bottom),
        ),
    ]
    if butted:
        ends += [
            (Point(frame.right, a.y), Point(frame.right, b.y)) for a, b in ends[:1]
        ]
        ends += [(Point(a.x, frame.top), Point(b.x, frame.top)) for a, b in ends[1:2]]
    for start, end in ends:
        yield Stroke(line(start, end), "label", 0.35, (2.0, 1.2))


def _laid(box: Box, *, butted: bool) -> Iterator[Mark]:
    """A sheet laid over its neighbour, or beside it, so that the crosses meet."""
    low = Point(box.left, box.bottom + 9)
    yield from _page(low, "lrft" if butted else "f")
    other = low + Point(_SHEET[0] - 2 * _MARGIN - (0 if butted else 2.5), -3 if
                        not butted else 0)  # fmt: skip
    trimmed = Box(
        other.x + _MARGIN,
        other.y + _MARGIN,
        min(other.x + _SHEET[0], box.right + 4),
        other.y + _SHEET[1] - (_MARGIN if butted else 0),
    )
    yield Fill(outline(*trimmed.corners), "label", 1.0)
    yield Stroke(outline(*trimmed.corners), "label", 0.35, (), closed=True)
    for up in (0.25, 0.75):
        at = Point(trimmed.left + (0 if butted else 1.4), trimmed.bottom
                   + up * trimmed.height)  # fmt: skip
        for stroke in cross(at, "label"):
            start, end = stroke.path[0].start, stroke.path[0].end
            yield Stroke(
                line(at.between(start, 0.5), at.between(end, 0.5)), "label", HAIR, ()
            )


def _taped(box: Box, *, butted: bool) -> Iterator[Mark]:
    """Sheets taped across the join, and the piece cut out of them."""
    del butted
    low = Point(box.left, box.bottom + 9)
    wide = box.width
    whole = Box(low.x, low.y, low.x + wide, low.y + _SHEET[1])
    yield Stroke(outline(*whole.corners), "label", 0.25, (), closed=True)
    middle = whole.middle.x
    ends = Point(middle, whole.bottom), Point(middle, whole.top)
    yield Stroke(line(*ends), "label", HAIR, ())
    for up in (0.2, 0.8):
        at = Point(middle, whole.bottom + up * whole.height)
        tape = Box(at.x - 4, at.y - 1.2, at.x + 4, at.y + 1.2)
        yield Fill(outline(*tape.corners), "label", 1.0)
        yield Stroke(outline(*tape.corners), "label", HAIR, (), closed=True)
    corners = (
        Point(whole.left + 5, whole.bottom + 3),
        Point(whole.right - 4, whole.bottom + 3),
        Point(whole.right - 8, whole.top - 4),
        Point(whole.left + 8, whole.top - 4),
    )
    yield Stroke(outline(*corners), "label", 0.7, (), closed=True)
