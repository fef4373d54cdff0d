"""A piece as things to be drawn, in mm: what a sheet and the window both show."""

from __future__ import annotations

from collections.abc import Iterator

from skirtwright.draft.shapes.folds import Fold
from skirtwright.geometry import Chain, Line, Point, straight
from skirtwright.geometry.arc import arc
from skirtwright.pieces.drawn_things import Drawn, DrawnLine, Kind
from skirtwright.pieces.marks.inner_marks import pleat_arrow, pleat_folds
from skirtwright.pieces.piece import Piece
from skirtwright.pieces.wording.mark_words import lettered
from skirtwright.words import Manner

_ARROW_LONG = 8.0
_ARROW_HALF = 2.5
_DRILL_RADIUS = 2.0


def drawn(piece: Piece, manner: Manner = Manner()) -> tuple[Drawn, ...]:
    """Everything drawn for a piece but its label, the cutting line first.

    Args:
        manner: how the names of its lines and marks are said; None leaves them out.
    """
    return (
        *outlines(piece),
        *_arrow("grain", piece.grain),
        *(lettered(piece, manner) if manner else ()),
    )


def outlines(piece: Piece) -> tuple[DrawnLine, ...]:
    """All that is drawn but grain and words, which ask for the roomiest place."""
    cut = straight(*piece.cut, piece.cut[0])
    return (DrawnLine("cutting", cut, closed=True), *lines_within(piece))


def lines_within(piece: Piece) -> tuple[DrawnLine, ...]:
    """All that is drawn within the cutting line, but grain and label."""
    return (
        *_seams(piece),
        *_darts(piece),
        *(
            DrawnLine("notch", Chain((snip,)))
            for notch in piece.notches
            for snip in notch.snips
        ),
        *(DrawnLine("notch", Chain((clip,))) for clip in piece.clips),
        *_inside(piece),
        *_pleats(piece),
        *(DrawnLine("lengthen", Chain((line,))) for line in piece.lengthen or ()),
    )


def _seams(piece: Piece) -> Iterator[DrawnLine]:
    for edge in piece.panel.edges:
        fold = edge.name in piece.spec.folds
        yield DrawnLine("fold" if fold else "stitching", edge.ringwise)
    for bracket in piece.brackets:
        yield DrawnLine("fold", bracket)
        for arm in (bracket.segments[0].reversed(), bracket.segments[-1]):
            yield DrawnLine("fold", _head(arm.end, arm.end_direction), True, True)


def _darts(piece: Piece) -> Iterator[DrawnLine]:
    for dart in piece.darts:
        yield DrawnLine("dart", dart.stitching)
        yield DrawnLine("inside", Chain((dart.fold,)))
        rim = dart.drill + Point(_DRILL_RADIUS, 0)
        yield DrawnLine("drill", arc(dart.drill, rim, 360.0), closed=True)


def _inside(piece: Piece) -> Iterator[DrawnLine]:
    for name, shape in piece.inside:
        if isinstance(shape, Chain):
            pleat, line = Fold.part_of(name)
            yield DrawnLine("pleat" if pleat and line == "fold" else "inside", shape)
        else:
            for step in (Point(3, 0), Point(0, 3)):
                yield DrawnLine("inside", straight(shape - step, shape + step))


def _pleats(piece: Piece) -> Iterator[DrawnLine]:
    """Where the fold of each drawn pleat is laid, and an arrow there."""
    shown = {name for name, _ in piece.inside}
    for pleat, fold, meets in pleat_folds(piece.panel):
        if pleat.part("fold") not in shown:
            continue
        if pleat.part("meets") not in shown and not _on_an_edge(piece, meets):
            yield DrawnLine("inside", meets)
        arrow = pleat_arrow(fold, meets)
        if arrow:
            yield DrawnLine("pleat", arrow)
            yield DrawnLine("inside", _head(arrow.end, arrow.end_direction), True, True)


def _on_an_edge(piece: Piece, line: Chain) -> bool:
    places = [line.start, line.at(line.length / 2), line.end]
    return any(
        all(edge.chain.nearest(place)[1] < 1.0 for place in places)
        for edge in piece.panel.edges
    )


def _arrow(kind: Kind, line: Line) -> Iterator[DrawnLine]:
    yield DrawnLine(kind, Chain((line,)))
    yield DrawnLine(kind, _head(line.end, line.end_direction), True, True)
    yield DrawnLine(kind, _head(line.start, -line.start_direction), True, True)


def _head(tip: Point, along: Point) -> Chain:
    foot = tip - along * _ARROW_LONG
    side = along.left() * _ARROW_HALF
    return straight(tip, foot + side, foot - side, tip)
