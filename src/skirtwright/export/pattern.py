"""The cut pieces of an order as a sheet, beside one another at true scale."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from skirtwright.export.facts import CoverFacts
from skirtwright.export.sheet import (
    LEADING,
    Fill,
    Group,
    Layer,
    Mark,
    Sheet,
    Stroke,
    Text,
)
from skirtwright.export.svg import write_svg
from skirtwright.geometry import heading, shift
from skirtwright.pieces.arrange import side_by_side
from skirtwright.pieces.drawing import Drawn, DrawnText, Kind, drawn
from skirtwright.pieces.labels import cut_line, label_lines
from skirtwright.pieces.piece import Piece
from skirtwright.report import Report
from skirtwright.words import Manner, say, translate

GAP = 20.0
"""Between pieces, mm."""

_LAYER: dict[Kind, Layer] = {
    "stitching": "stitching",
    "cutting": "cutting",
    "fold": "fold",
    "grain": "grain",
    "notch": "notch",
    "drill": "drill",
    "dart": "stitching",
    "inside": "inside",
    "label": "label",
}


def pattern_of(report: Report, client: str, manner: Manner) -> Sheet:
    """All the pieces of an order as a sheet.

    Raises:
        Refused: there is no piece.
    """
    style = report.worked.draft.title
    return pattern(
        report.title,
        report.cut.pieces,
        lambda piece: label_lines(piece, style, client, manner=manner),
        manner,
    )


def svg_of(report: Report, client: str, manner: Manner) -> str:
    """All the pieces of an order as SVG at true scale, with its test squares.

    Raises:
        Refused: there is no piece.
    """
    facts = cover_facts(report, client, "", manner)
    return write_svg(pattern_of(report, client, manner), facts, manner)


def pattern(
    title: str,
    pieces: Sequence[Piece],
    label: Callable[[Piece], Sequence[str]],
    manner: Manner,
) -> Sheet:
    """The pieces as a sheet, side by side, each a group named as it is read."""
    moves = side_by_side([piece.cut for piece in pieces], GAP)
    groups = [
        Group.of(
            translate(piece.spec.title, manner),
            [mark for item in drawn(piece, label(piece)) for mark in _marks(item)],
        ).moved(shift(move))
        for piece, move in zip(pieces, moves, strict=True)
    ]
    return Sheet(title, tuple(groups))


def _marks(item: Drawn) -> Iterator[Mark]:
    layer = _LAYER[item.kind]
    if isinstance(item, DrawnText):
        down = heading(item.angle_deg).right() * (item.height * LEADING)
        for number, line in enumerate(item.lines):
            yield Text(
                line,
                item.at + down * number,
                item.height,
                item.angle_deg,
                layer,
                bold=number == 0,
            )
    elif item.filled:
        yield Fill(item.chain.segments, layer)
    else:
        yield Stroke(item.chain.segments, layer, closed=item.closed)


def cover_facts(report: Report, client: str, date: str, manner: Manner) -> CoverFacts:
    """What the first page says of an order."""
    finished = tuple(
        (say(f"finished.{name}", manner=manner), _length(value, manner))
        for name, value in report.finished.items()
        if value is not None
    )
    cut_list = tuple(
        (translate(piece.spec.title, manner), cut_line(piece, manner))
        for piece in report.cut.pieces
    )
    return CoverFacts(
        client,
        translate(report.worked.draft.title, manner),
        date,
        finished,
        cut_list,
        say("print.allowances_included", manner=manner),
    )


def _length(value: float, manner: Manner) -> str:
    return say("finished.length_shown", {"value": value}, manner)
