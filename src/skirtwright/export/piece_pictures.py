"""Small pictures of all pieces of an order, at one scale, in rows with their names."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from skirtwright.export.sheet import Fill, Layer, Mark, Stroke, box_of, outline
from skirtwright.geometry import Line, Motion, Point, shift
from skirtwright.geometry.box import Box
from skirtwright.pieces.drawing import DrawnText, drawn
from skirtwright.pieces.piece import Piece
from skirtwright.problems import Refused

SCALES = (4, 5, 6, 8, 10, 12, 15, 20, 25, 30, 40, 50, 75, 100)
"""One to so many: round numbers, so that a ruler can be laid on."""

_ONE_PAGE = 20
"""Down to this scale all pieces are got on one page; smaller than that they would be
hard to make out, and go on to a second."""

CAPTION = 10.0
"""Room under a picture for its two lines, mm."""

LEAST_WIDE = 38.0
"""Room for a caption of usual length, mm."""

_GAP = 6.0
_HEAD_LONG, _HEAD_HALF = 2.4, 0.8

_WEIGHTS: dict[str, tuple[Layer, float, tuple[float, ...]]] = {
    "cutting": ("cutting", 0.35, ()),
    "stitching": ("stitching", 0.18, (1.6, 0.8)),
    "dart": ("stitching", 0.18, (1.6, 0.8)),
    "fold": ("fold", 0.25, (3.0, 0.8, 0.3, 0.8)),
    "grain": ("grain", 0.25, ()),
    "notch": ("notch", 0.35, ()),
    "inside": ("inside", 0.13, (2.4, 0.6, 0.8, 0.6)),
}
"""Layer, pen and dashes on a picture, mm; drill marks are too small to show."""


@dataclass(frozen=True)
class Picture:
    """One piece.

    Attributes:
        piece: which.
        marks: its lines at the scale, mm on the page, y up.
        box: the room of the lines.
        at: the upper left corner of its place: mm from the left and down from the top.
        width: of the place, mm.
    """

    piece: Piece
    marks: tuple[Mark, ...]
    box: Box
    at: tuple[float, float]
    width: float


@dataclass(frozen=True)
class PicturePage:
    """Pictures that stand together, and how high they are with their captions, mm."""

    pictures: tuple[Picture, ...]
    height: float


@dataclass(frozen=True)
class Pictures:
    """All pieces of an order.

    Attributes:
        scale: drawn at one to so many.
        pages: one or more.
    """

    scale: int
    pages: tuple[PicturePage, ...]


def pictures(pieces: Sequence[Piece], width: float, height: float) -> Pictures:
    """The pieces at the largest scale at which they go on a page.

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
    scale = _scale(boxes, width, height)
    places = _places(boxes, scale, width, height)
    pages: list[list[Picture]] = []
    for piece, box, (page, across, down, wide) in zip(
        pieces, boxes, places, strict=True
    ):
        while len(pages) <= page:
            pages.append([])
        marks, small = _small(piece, box, scale)
        pages[page].append(Picture(piece, marks, small, (across, down), wide))
    return Pictures(scale, tuple(_page(found) for found in pages))


def _page(found: list[Picture]) -> PicturePage:
    height = max(p.at[1] + p.box.height + CAPTION for p in found)
    return PicturePage(tuple(found), height)


def _outline(piece: Piece) -> Stroke:
    return Stroke(outline(*piece.cut), "cutting", closed=True)


def _scale(boxes: Sequence[Box], width: float, height: float) -> int:
    """The first at which all stand on one page; else at which each stands on one."""
    for scale in SCALES:
        tall = max(box.height for box in boxes) / scale + CAPTION
        fits = tall <= height and max(box.width for box in boxes) / scale <= width
        if fits and scale >= _ONE_PAGE:
            return scale
        if fits and _places(boxes, scale, width, height)[-1][0] == 0:
            return scale
    return math.ceil(
        max(
            max(box.width for box in boxes) / width,
            max(box.height for box in boxes) / (height - CAPTION),
        )
    )


def _places(
    boxes: Sequence[Box], scale: int, width: float, height: float
) -> list[tuple[int, float, float, float]]:
    """Page, way across, way down and width of each place, in rows; tops level."""
    found: list[tuple[int, float, float, float]] = []
    page, across, down, tallest = 0, 0.0, 0.0, 0.0
    for box in boxes:
        wide = max(box.width / scale, min(LEAST_WIDE, width))
        tall = box.height / scale + CAPTION
        if across > 0 and across + wide > width:
            across, down, tallest = 0.0, down + tallest + _GAP, 0.0
        if down > 0 and down + tall > height:
            # The row begun goes on where it is; this piece begins a page.
            page, across, down, tallest = page + 1, 0.0, 0.0, 0.0
        found.append((page, across, down, wide))
        across += wide + _GAP
        tallest = max(tallest, tall)
    return found


def _small(piece: Piece, box: Box, scale: int) -> tuple[tuple[Mark, ...], Box]:
    """A piece's lines at the scale, its lower left corner at the zero point."""
    shrink = Motion(a=1 / scale, d=1 / scale)
    to_corner = shift(Point(-box.left, -box.bottom))
    marks: list[Mark] = []
    for item in drawn(piece):
        if isinstance(item, DrawnText) or item.filled or item.kind not in _WEIGHTS:
            continue
        layer, weight, dash = _WEIGHTS[item.kind]
        stroke = Stroke(item.chain.segments, layer, weight, dash, item.closed)
        marks.append(stroke.moved(to_corner).moved(shrink))
        if item.kind == "grain":
            marks.extend(_heads(marks[-1]))
    return tuple(marks), Box(0.0, 0.0, box.width / scale, box.height / scale)


def _heads(arrow: Mark) -> Iterator[Fill]:
    """Arrowheads of one size whatever the scale, or nobody would see them."""
    if not isinstance(arrow, Stroke):
        return
    start, end = arrow.path[0].start, arrow.path[-1].end
    for tip, other in ((end, start), (start, end)):
        if tip.to(other) < 2 * _HEAD_LONG:
            continue
        along = (tip - other).unit()
        foot = tip - along * _HEAD_LONG
        side = along.left() * _HEAD_HALF
        corners = (tip, foot + side, foot - side)
        path = tuple(
            Line(a, b) for a, b in zip(corners, corners[1:] + corners[:1], strict=True)
        )
        yield Fill(path, arrow.layer)
