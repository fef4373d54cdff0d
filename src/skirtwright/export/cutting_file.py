"""The pieces for another workroom or a cutter, on the layers of ASTM D6673.

ASTM D6673-10, Practice for Sewn Products Pattern Data Interchange: one style a file, a
block a piece, what a line is told by the number of its layer, and what a piece is by
texts of a key and its value. Of the standard only its public front part was read; the
numbers are from memory, and layers whose meaning is not sure are left out. Release 12
in place of 13, which it names, because every reader knows it and it says the same.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from skirtwright.budget import bounded
from skirtwright.export.dxf import Block, Dot, Polyline, Words, block_name, write_dxf
from skirtwright.export.opened import fold_side, opened, turned_over
from skirtwright.geometry import Chain, Point, bend_deg
from skirtwright.geometry.ring import without_repeats
from skirtwright.geometry.tolerance import OUTLINE
from skirtwright.pieces.arrange import side_by_side
from skirtwright.pieces.drawn_things import Drawn, DrawnLine, Kind
from skirtwright.pieces.piece import Piece
from skirtwright.pieces.piece_drawing import drawn
from skirtwright.pieces.wording.labels import (
    cut_line,
    cut_single,
    larger_line,
    material_words,
)
from skirtwright.problems import Refused
from skirtwright.report import Report
from skirtwright.words import Manner, say, translate

BOUNDARY, TURNS, CURVES, NOTCHES = 1, 2, 3, 4
MIRROR, GRAIN, INSIDE, DRILLS, SEWING, WRITING = 6, 7, 8, 13, 14, 15
"""The layers of the standard."""

_LAYER: dict[Kind, int] = {
    "stitching": SEWING,
    "dart": SEWING,
    "inside": INSIDE,
    "lengthen": INSIDE,
    "pleat": INSIDE,
}

_FINE = OUTLINE / 25
"""As fine as the report's outlines, mm."""

_TURN_DEG = 10.0
"""A boundary that bends more than this at a point turns there."""

_GAP = 20.0
_LETTERS, _LINE = 5.0, 9.0
"""Height of capitals, and from line to line, mm."""


@bounded()
def cutting_file(
    report: Report,
    size: str,
    made: str,
    manner: Manner,
    *,
    on_fold: bool = False,
) -> bytes:
    """The pieces shown of an order, as DXF in mm.

    Args:
        size: whose, or which, it is; empty where that is not to be told.
        made: the day, as ISO 8601 has it.
        on_fold: a piece on the fold as its half with the mirror line, and one of a
            pair for both; else every piece whole as it is cut.

    Raises:
        Refused: `print.nothing`.
    """
    pieces = report.to_cut.shown
    if not pieces:
        raise Refused("print.nothing")
    whose = size or say("dxf.made_to_measure", {}, manner)
    blocks: list[Block] = []
    for piece in pieces:
        for title, count, items in _as_cut(piece, manner, on_fold=on_fold):
            name = block_name(title, [block.name for block in blocks])
            how = cut_line if on_fold else cut_single
            said = _said(
                piece, title, count, whose, how(piece, manner), _foot(items), manner
            )
            mirrors = _mirrors(piece) if on_fold else ()
            entities = tuple(dict.fromkeys((*_lines(items), *mirrors, *said)))
            blocks.append(Block(name, entities, Point(0, 0)))
    moves = side_by_side([block.box.corners for block in blocks], _GAP)
    placed = [
        Block(block.name, block.entities, move)
        for block, move in zip(blocks, moves, strict=True)
    ]
    style = {
        "STYLE NAME": translate(report.worked.draft.title, manner),
        "CREATION DATE": made,
        "AUTHOR": "Skirtwright",
        "SAMPLE SIZE": whose,
        "UNITS": "METRIC",
    }
    head = [f"{key}: {value}" for key, value in style.items()]
    return write_dxf(
        placed, list(_stacked(head, Point(0, _LINE * len(head)), BOUNDARY))
    )


def _as_cut(
    piece: Piece, manner: Manner, *, on_fold: bool
) -> Iterator[tuple[str, int, Sequence[Drawn]]]:
    """What a piece is called, how many are cut, and what is drawn, for each block."""
    title, count = translate(piece.spec.title, manner), piece.spec.count
    items = drawn(piece)
    if on_fold:
        yield title, count, items
        return
    items = tuple(opened(piece, items))
    if not piece.spec.mirrored:
        yield title, count, items
        return
    yield title, count // 2, items
    other = say("print.turned_over", {"piece": title}, manner)
    yield other, count // 2, turned_over(items)


def _lines(items: Sequence[Drawn]) -> Iterator[Polyline | Dot]:
    for item in items:
        if not isinstance(item, DrawnLine) or item.filled:
            continue
        if item.kind == "cutting":
            yield from _outlined(BOUNDARY, _ring(item.chain), closed=True)
        elif item.kind == "notch":
            yield Dot(NOTCHES, item.chain.start)
        elif item.kind == "drill":
            yield Dot(DRILLS, _middle(item.chain))
        elif item.kind == "grain":
            yield Polyline(GRAIN, (item.chain.start, item.chain.end))
        elif item.kind in _LAYER:
            yield from _outlined(_LAYER[item.kind], item.chain.flattened(_FINE))


def _ring(chain: Chain) -> list[Point]:
    return without_repeats(chain.flattened(_FINE))


def _middle(circle: Chain) -> Point:
    half = circle.at(circle.length / 2)
    return circle.start.between(half, 0.5)


def _outlined(
    layer: int, points: Sequence[Point], *, closed: bool = False
) -> Iterator[Polyline | Dot]:
    """A line with what its points are: turns, or places on a curve."""
    yield Polyline(layer, tuple(points), closed)
    walked = [points[-1], *points, points[0]] if closed else points
    if not closed:
        yield Dot(TURNS, points[0])
        yield Dot(TURNS, points[-1])
    steps = [after - before for before, after in pairwise(walked)]
    for at, (come, go) in zip(walked[1:-1], pairwise(steps), strict=True):
        turns = abs(bend_deg(come, go)) > _TURN_DEG
        yield Dot(TURNS if turns else CURVES, at)


def _mirrors(piece: Piece) -> Iterator[Polyline]:
    for name in piece.spec.folds:
        yield Polyline(MIRROR, fold_side(piece, name))


def _foot(items: Sequence[Drawn]) -> Point:
    """Where words begin: at the middle of the grain arrow, which stands well inside."""
    lines = (item for item in items if isinstance(item, DrawnLine))
    grain = next(line.chain for line in lines if line.kind == "grain")
    return grain.start.between(grain.end, 0.5)


def _said(
    piece: Piece,
    title: str,
    count: int,
    size: str,
    how: str,
    foot: Point,
    manner: Manner,
) -> Iterator[Words]:
    """What a piece is, by key and value, and the same to be read on it."""
    cloth = material_words(piece.spec.material, manner)
    system = {
        "PIECE NAME": title,
        "SIZE": size,
        "QUANTITY": count,
        "MATERIAL": cloth,
        "ANNOTATION": how,
    }
    lines = [f"{key}: {value}" for key, value in system.items()]
    yield from _stacked(lines, foot, BOUNDARY)
    label = filter(None, (title, how, larger_line(piece.larger, manner)))
    yield from _stacked([*label], foot + Point(0, -_LINE * len(lines)), WRITING)


def _stacked(lines: Sequence[str], top: Point, layer: int) -> Iterator[Words]:
    for number, line in enumerate(lines):
        yield Words(layer, line, top + Point(0, -_LINE * number), _LETTERS)
