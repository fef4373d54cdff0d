"""The cut pieces of an order as a sheet, beside one another at true scale."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Sequence
from dataclasses import replace

from skirtwright.budget import bounded
from skirtwright.export.facts import CoverFacts
from skirtwright.export.figure_marks import figure_marks
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
from skirtwright.pieces.piece import AllowanceRun, Piece, make_piece
from skirtwright.pieces.piece_drawing import Drawn, DrawnText, Kind, drawn
from skirtwright.pieces.wording.labels import cut_line, label_lines
from skirtwright.pieces.wording.notch_words import notch_legend
from skirtwright.problems import NotFound
from skirtwright.report import Report
from skirtwright.words import Manner, say, translate

GAP = 20.0
"""Between pieces, mm."""

FIGURE_HIGH = 30.0
"""Of the skirt on her on the first page, mm."""

TOILE = 40.0
"""Seam allowance of a toile, mm: room to let out (common practice, no source)."""

_ON_THE_LINE = frozenset({"waist", "hem"})

_LAYER: dict[Kind, Layer] = {
    "stitching": "stitching",
    "cutting": "cutting",
    "fold": "fold",
    "grain": "grain",
    "notch": "notch",
    "drill": "drill",
    "dart": "stitching",
    "inside": "inside",
    "pleat": "inside",
    "label": "label",
}


def pattern_of(
    report: Report,
    client: str,
    manner: Manner,
    *,
    only: Collection[str] = (),
    toile: bool = False,
    short_labels: bool = False,
    date: str = "",
) -> Sheet:
    """The pieces of an order as a sheet.

    Args:
        report: of the order.
        client: whom it is for.
        manner: her unit and language.
        only: names of the pieces wanted, hidden ones too; none means all shown.
        toile: with wide allowances at the seams and none at waist and hem.
        short_labels: only what each piece is and how it is cut.
        date: as it is to be read on the labels.

    Raises:
        NotFound: there is no such piece.
        Refused: there is no piece at all.
    """
    pieces = report.cut.pieces
    known = [piece.name for piece in pieces]
    for name in only:
        if name not in known:
            raise NotFound(
                "print.unknown_piece", name, name=name, known=", ".join(known)
            )
    shown = report.cut.shown
    chosen = [piece for piece in pieces if piece.name in only] if only else [*shown]
    if toile:
        chosen = [toile_piece(piece) for piece in chosen]

    titles = {seam.name: seam.title for seam in report.worked.seams}
    materials = {piece.name: piece.spec.material for piece in pieces}
    seams = [walked.seam for walked in report.cut.seams]

    def label(piece: Piece) -> Sequence[str]:
        if short_labels:
            return translate(piece.spec.title, manner), cut_line(piece, manner)
        title = report.worked.draft.title
        legend = notch_legend(piece, seams, titles, materials, manner)
        return label_lines(piece, title, client, date, manner, legend)

    return pattern(report.title, chosen, label, manner)


def toile_piece(piece: Piece) -> Piece:
    """A piece for a toile: wide seams to pin, waist and hem on the line."""
    edges = {
        edge.name: (AllowanceRun(None, 0.0 if edge.role in _ON_THE_LINE else TOILE),)
        for edge in piece.edges
        if edge.name not in piece.spec.folds
    }
    spec = replace(piece.spec, allowances=edges, corners={})
    return make_piece(piece.panel, spec)


@bounded()
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
            [
                mark
                for item in drawn(piece, label(piece), manner)
                for mark in _marks(item)
            ],
            piece.name,
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
                bold=item.bold and number == 0,
            )
    elif item.filled:
        yield Fill(item.chain.segments, layer)
    else:
        dash = () if item.kind == "pleat" else None
        yield Stroke(item.chain.segments, layer, dash=dash, closed=item.closed)


def cover_facts(report: Report, client: str, date: str, manner: Manner) -> CoverFacts:
    """What the first page says of an order."""
    finished = tuple(
        (say(f"finished.{name}", manner=manner), _length(value, manner))
        for name, value in report.finished.items()
        if value is not None
    )
    cut_list = tuple(
        (translate(piece.spec.title, manner), cut_line(piece, manner))
        for piece in report.cut.shown
    )
    return CoverFacts(
        client,
        translate(report.worked.draft.title, manner),
        date,
        finished,
        cut_list,
        say("print.allowances_included", manner=manner),
        figure=figure_marks(report, FIGURE_HIGH),
    )


def _length(value: float, manner: Manner) -> str:
    return say("finished.length_shown", {"value": value}, manner)
