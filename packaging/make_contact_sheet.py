"""Draw every style on the shelf for five bodies, to be looked at by a dressmaker.

`python packaging/make_contact_sheet.py contact.pdf [STYLE ...]`: one page a style, a
column for each body, cutting lines full, stitching lines dashed, all to one scale.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path

from reportlab.lib.pagesizes import A3, landscape
from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas

from skirtwright.draft import styles
from skirtwright.draft.inputs import Inputs
from skirtwright.draft.working.recompute import Reworking
from skirtwright.geometry import Chain, Point
from skirtwright.pieces.arrange import side_by_side
from skirtwright.pieces.cutting import Cutting
from skirtwright.pieces.piece import Piece
from skirtwright.report import Report, report

BODIES = {
    "Small waist 60/97, depth 21": (600.0, 970.0, 210.0, 580.0),
    "Straight figure 83/88.1, depth 21": (830.0, 881.0, 210.0, 580.0),
    "Apple 112/110, depth 20": (1120.0, 1100.0, 200.0, 580.0),
    "Large 101.5/128.3, depth 24": (1015.0, 1283.0, 240.0, 660.0),
    "Child 56/66, depth 13": (560.0, 660.0, 130.0, 410.0),
}
"""Waist, hip, waist to hip and to knee in mm; all are invented."""

GAP = 60.0
MARGIN = 12 * mm
HEAD = 20 * mm


def drawn(style: str, body: tuple[float, ...]) -> Report:
    """A style worked for a body with its own amounts."""
    names = "waist", "hip", "waist_to_hip", "waist_to_knee"
    measurements = dict(zip(names, body, strict=True))
    worked = Reworking().work(styles.style(style), Inputs(measurements))
    return report(worked, Cutting().cut(worked, {}), style)


class Column:
    """The pieces of one body, laid in rows no wider than a column of the page."""

    def __init__(self, title: str, told: Report, widest: float) -> None:
        self.title, self.told = title, told
        self.pieces = told.cut.pieces
        rings = [piece.cut for piece in self.pieces]
        self.moves = side_by_side(rings, GAP, widest) if rings else ()
        placed = [
            point + move
            for ring, move in zip(rings, self.moves, strict=True)
            for point in ring
        ]
        self.width = max((p.x for p in placed), default=1.0)
        self.height = -min((p.y for p in placed), default=-1.0)


def page(canvas: Canvas, style: str) -> None:
    """One style for all bodies."""
    wide, high = landscape(A3)
    told = {title: drawn(style, body) for title, body in BODIES.items()}
    room = (wide - 2 * MARGIN) / len(told)
    columns = [Column(title, one, 1500.0) for title, one in told.items()]
    scale = min(
        (room - 10 * mm) / max(column.width for column in columns),
        (high - 2 * MARGIN - HEAD) / max(column.height for column in columns),
    )
    canvas.setFont("Helvetica-Bold", 14)
    title = styles.style(style).title
    canvas.drawString(MARGIN, high - MARGIN, f"{title} ({style})")
    for number, column in enumerate(columns):
        left = MARGIN + number * room
        canvas.setFont("Helvetica", 8)
        canvas.drawString(left, high - MARGIN - 6 * mm, column.title)
        canvas.drawString(left, high - MARGIN - 10 * mm, _measures(column.told))
        canvas.drawString(left, high - MARGIN - 14 * mm, _grave(column.told))
        canvas.saveState()
        canvas.translate(left, high - MARGIN - HEAD)
        canvas.scale(scale, scale)
        for piece, move in zip(column.pieces, column.moves, strict=True):
            _piece(canvas, piece, move, 1 / scale)
        canvas.restoreState()
    canvas.showPage()


def _measures(told: Report) -> str:
    return "  ".join(
        f"{name} {value / 10:.1f}"
        for name, value in told.finished.items()
        if value is not None
    )


def _grave(told: Report) -> str:
    """The codes of everything that is more than a note."""
    grave = [p for p in told.problems if p.severity != "note"]
    return "; ".join(f"{p.severity} {p.code} {p.where}" for p in grave)[:110]


def _piece(canvas: Canvas, piece: Piece, move: Point, hair: float) -> None:
    canvas.setLineWidth(0.6 * hair)
    _path(canvas, [*piece.cut, piece.cut[0]], move)
    canvas.setLineWidth(0.3 * hair)
    canvas.setDash(3 * hair, 2 * hair)
    _path(canvas, piece.stitching.flattened(0.1), move)
    for _, shape in piece.inside:
        if isinstance(shape, Chain):
            _path(canvas, shape.flattened(0.1), move)
    canvas.setDash()
    for dart in piece.darts:
        _path(canvas, [dart.legs[0], dart.tip, dart.legs[1]], move)
    for notch in piece.notches:
        for snip in notch.snips:
            _path(canvas, [snip.start, snip.end], move)
    middle = Point(
        sum(p.x for p in piece.cut) / len(piece.cut),
        sum(p.y for p in piece.cut) / len(piece.cut),
    )
    canvas.setFont("Helvetica", 7 * hair)
    canvas.drawCentredString(middle.x + move.x, middle.y + move.y, piece.spec.title)


def _path(canvas: Canvas, points: Sequence[Point], move: Point) -> None:
    path = canvas.beginPath()
    first, *others = (point + move for point in points)
    path.moveTo(first.x, first.y)
    for point in others:
        path.lineTo(point.x, point.y)
    canvas.drawPath(path)


def main(arguments: Sequence[str]) -> None:
    """Write the sheet."""
    if not arguments:
        sys.exit(__doc__)
    target, *asked = arguments
    canvas = Canvas(str(Path(target)), pagesize=landscape(A3))
    for style in asked or styles.names():
        page(canvas, style)
    canvas.save()
    print(f"{target}: {len(asked or styles.names())} styles for {len(BODIES)} bodies")


if __name__ == "__main__":
    main(sys.argv[1:])
