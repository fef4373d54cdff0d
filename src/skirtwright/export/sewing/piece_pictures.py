"""Small pictures of all pieces of an order, at one scale, in rows with their names."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from skirtwright.export.setting import broken
from skirtwright.export.sheet import (
    SMALLEST_LETTERS,
    Fill,
    Layer,
    Mark,
    Stroke,
    Text,
    box_of,
    line,
    outline,
)
from skirtwright.geometry import Motion, Point, shift
from skirtwright.geometry.box import Box
from skirtwright.measures.units import Unit, show_length
from skirtwright.pieces.drawn_things import DrawnWords
from skirtwright.pieces.piece import Piece
from skirtwright.pieces.piece_drawing import drawn
from skirtwright.pieces.wording.labels import how_cut
from skirtwright.problems import Refused
from skirtwright.words import Manner, translate

SCALES = (4, 5, 6, 8, 10, 12, 15, 20, 25, 30, 40, 50, 75, 100)
"""One to so many: round numbers, so that a ruler can be laid on."""

_ONE_PAGE = 20
"""Down to this scale all pieces are got into the room of a page; smaller than that they
would be hard to make out, and take more."""

_LETTERS, _LINE = SMALLEST_LETTERS, 3.6
"""Height of the capitals of a caption, and from line to line, mm."""

_CAPTION_LINES = 3
_CAPTION = _CAPTION_LINES * _LINE + 1.0
_LEAST_WIDE = 38.0
"""Room for a caption of usual length, mm."""

_GAP = 6.0
_HEAD_LONG, _HEAD_HALF = 2.4, 0.8

_BAR: dict[Unit, float] = {"cm": 200.0, "mm": 200.0, "in": 8 * 25.4}
"""Length that the scale bar stands for, mm."""

_BAR_ROOM = 9.0

_WEIGHTS: dict[str, tuple[Layer, float, tuple[float, ...]]] = {
    "cutting": ("cutting", 0.35, ()),
    "stitching": ("stitching", 0.18, (1.6, 0.8)),
    "dart": ("stitching", 0.18, (1.6, 0.8)),
    "fold": ("fold", 0.25, (3.0, 0.8, 0.3, 0.8)),
    "grain": ("grain", 0.25, ()),
    "notch": ("notch", 0.35, ()),
    "inside": ("inside", 0.13, (2.4, 0.6, 0.8, 0.6)),
    "lengthen": ("lengthen", 0.18, (0.4, 0.8)),
    "pleat": ("inside", 0.18, ()),
}
"""Layer, pen and dashes on a picture, mm; drill marks are too small to show."""


@dataclass(frozen=True)
class PictureRow:
    """Pictures that stand beside one another, their tops level.

    Attributes:
        marks: lines and captions, mm, y up from the row's foot.
        height: of the row, mm.
    """

    marks: tuple[Mark, ...]
    height: float


@dataclass(frozen=True)
class Pictures:
    """All pieces of an order.

    Attributes:
        scale: drawn at one to so many.
        rows: to be set one below the other; a bar over the first shows the scale.
    """

    scale: int
    rows: tuple[PictureRow, ...]


def pictures(
    pieces: Sequence[Piece], width: float, height: float, manner: Manner
) -> Pictures:
    """The pieces at the largest scale at which a page has room for all.

    Args:
        pieces: in the order they are shown.
        width: room across a page, mm.
        height: room down a page, mm.

    Raises:
        Refused: `print.nothing`, there is no piece.
    """
    if not pieces:
        raise Refused("print.nothing")
    boxes = [box_of([_outline(piece)]) for piece in pieces]
    scale = _scale(boxes, width, height - _BAR_ROOM)
    placed = [
        (piece, box, place)
        for piece, box, place in zip(
            pieces, boxes, _places(boxes, scale, width), strict=True
        )
    ]
    rows = []
    for number in range(placed[-1][2].row + 1):
        here = [each for each in placed if each[2].row == number]
        rows.append(_row(here, scale, manner, barred=number == 0))
    return Pictures(scale, tuple(rows))


def _row(
    here: Sequence[tuple[Piece, Box, _Place]],
    scale: int,
    manner: Manner,
    *,
    barred: bool,
) -> PictureRow:
    top = _CAPTION + max(box.height for _, box, _ in here) / scale
    height = top + (_BAR_ROOM if barred else _GAP)
    marks: list[Mark] = list(_bar(scale, height, manner)) if barred else []
    for piece, box, place in here:
        foot = top - box.height / scale
        corner = shift(Point(place.across, foot))
        marks += [mark.moved(corner) for mark in _small(piece, box, scale)]
        marks += _caption(piece, place, foot, manner)
    return PictureRow(tuple(marks), height)


def _bar(scale: int, top: float, manner: Manner) -> Iterator[Mark]:
    """A bar that says how long so much of a picture is."""
    stands = _BAR[manner.unit]
    long, high = stands / scale, top - 3.0
    for start, end in (
        (Point(0, high), Point(long, high)),
        (Point(0, high - 1), Point(0, high + 1)),
        (Point(long, high - 1), Point(long, high + 1)),
    ):
        yield Stroke(line(start, end), "test", 0.35, ())
    words = show_length(stands, manner.unit, with_unit=True)
    yield Text(words, Point(long + 2, high - _LETTERS / 2), _LETTERS)


def _caption(
    piece: Piece, place: _Place, foot: float, manner: Manner
) -> Iterator[Mark]:
    """Name and cut under a picture, as many lines as there is room for."""
    name = translate(piece.spec.title, manner)
    lines = [
        *((words, True) for words in broken(name, place.wide, _LETTERS, bold=True)),
        *((words, False) for words in broken(how_cut(piece, manner), place.wide)),
    ]
    for number, (words, bold) in enumerate(lines[:_CAPTION_LINES], 1):
        at = Point(place.across, foot - number * _LINE - 0.6)
        yield Text(words, at, _LETTERS, bold=bold)


def _outline(piece: Piece) -> Stroke:
    return Stroke(outline(*piece.cut), "cutting", closed=True)


def _scale(boxes: Sequence[Box], width: float, height: float) -> int:
    """The first at which a page has room for all; else at which it has for each."""
    for scale in SCALES:
        tallest = max(box.height for box in boxes) / scale + _CAPTION
        if tallest > height or max(box.width for box in boxes) / scale > width:
            continue
        if scale >= _ONE_PAGE or _all_rows(boxes, scale, width) <= height:
            return scale
    return math.ceil(
        max(
            max(box.width for box in boxes) / width,
            max(box.height for box in boxes) / (height - _CAPTION),
        )
    )


def _all_rows(boxes: Sequence[Box], scale: int, width: float) -> float:
    """Height of all rows, mm."""
    tallest: dict[int, float] = {}
    for box, place in zip(boxes, _places(boxes, scale, width), strict=True):
        tallest[place.row] = max(tallest.get(place.row, 0.0), box.height / scale)
    return sum(tall + _CAPTION for tall in tallest.values()) + _GAP * (len(tallest) - 1)


@dataclass(frozen=True)
class _Place:
    """Where a picture stands: its row, how far across it, and how wide, mm."""

    row: int
    across: float
    wide: float


def _places(boxes: Sequence[Box], scale: int, width: float) -> list[_Place]:
    """A place for each, in rows from left to right."""
    found: list[_Place] = []
    row, across = 0, 0.0
    for box in boxes:
        wide = max(box.width / scale, min(_LEAST_WIDE, (width - _GAP) / 2))
        if across > 0 and across + wide > width:
            row, across = row + 1, 0.0
        found.append(_Place(row, across, wide))
        across += wide + _GAP
    return found


def _small(piece: Piece, box: Box, scale: int) -> Iterator[Mark]:
    """A piece's lines at the scale, its lower left corner at the zero point."""
    shrink = Motion(a=1 / scale, d=1 / scale)
    to_corner = shift(Point(-box.left, -box.bottom))
    for item in drawn(piece):
        if isinstance(item, DrawnWords) or item.filled or item.kind not in _WEIGHTS:
            continue
        layer, weight, dash = _WEIGHTS[item.kind]
        stroke = Stroke(item.chain.segments, layer, weight, dash, item.closed)
        small = stroke.moved(to_corner).moved(shrink)
        yield small
        if item.kind == "grain":
            yield from _heads(small)


def _heads(arrow: Stroke) -> Iterator[Fill]:
    """Arrowheads of one size whatever the scale, or nobody would see them.

    Only on a very short arrow are they smaller.
    """
    start, end = arrow.path[0].start, arrow.path[-1].end
    size = min(1.0, 0.4 * start.to(end) / _HEAD_LONG)
    for tip, other in ((end, start), (start, end)):
        along = (tip - other).unit()
        foot = tip - along * (_HEAD_LONG * size)
        side = along.left() * (_HEAD_HALF * size)
        yield Fill(outline(tip, foot + side, foot - side), arrow.layer)
