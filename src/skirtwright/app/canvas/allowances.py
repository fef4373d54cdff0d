"""Seam allowances where they are: figures beside the edges, and the seam in hand.

While they are shown they stand in the place of the ledger; one figure is for all edges
of a seam.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPainterPathStroker

from skirtwright.app.canvas.drawing import Brushes, edge_pen, transform
from skirtwright.app.canvas.entries import Entry, spots_along
from skirtwright.app.canvas.laying import Laid
from skirtwright.app.canvas.paths import path_of, polygon_of
from skirtwright.app.canvas.scene import Scene
from skirtwright.app.canvas.view import View
from skirtwright.app.seams import SeamState
from skirtwright.draft.shapes.panel import Panel
from skirtwright.pieces.joined_edges import Key
from skirtwright.pieces.piece import Piece
from skirtwright.pieces.piece_settings import edge_and_run

_SHARES = (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9)
"""Where along an edge its figure may stand, the best first."""

_WIDER = 1.05
"""So much wider than the allowance is what is tinted, to be cut to it."""

_SIDE = "side"


def allowance_entries(scene: Scene, seams: Sequence[SeamState]) -> tuple[Entry, ...]:
    """A figure for every seam of what is on the table.

    A seam that faces itself across the hollow has one, another one a side of the body.
    """
    if scene.on_paper:
        return ()
    return tuple(entry for seam in seams for entry in _of_seam(scene, seam))


def _of_seam(scene: Scene, seam: SeamState) -> Iterator[Entry]:
    if not seam.allowances:
        return
    told: set[str] = set()
    for piece, edge in seam.edges:
        laid = scene.layout.find("piece", piece)
        if laid is None:
            continue
        side = _SIDE if _is_side(scene, laid, edge) else laid.body or piece
        if side in told:
            continue
        told.add(side)
        parts = seam.allowances[-1].parts
        own = next((p for p in parts if p.piece == piece), parts[0])
        chain = scene.panel_of(laid).edge(edge).chain
        spots = tuple(spots_along(laid, chain, _SHARES))
        yield Entry(
            f"{piece}.{edge}",
            seam.title,
            own.width,
            "length",
            (),
            any(part.typed for part in parts),
            "edge",
            spots[0][0],
            spots=spots,
            keys=tuple((part.piece, part.key) for part in parts),
        )


def _is_side(scene: Scene, laid: Laid, edge: str) -> bool:
    piece = scene.piece_of(laid)
    edges = piece.edges if piece else ()
    return any(e.name == edge and e.role == _SIDE for e in edges)


def edges_of(entry: Entry) -> set[Key]:
    """The edges an allowance is of."""
    return {(piece, edge_and_run(key)[0]) for piece, key in entry.keys}


def edges_in_hand(
    scene: Scene, keys: Collection[Key]
) -> Iterator[tuple[Laid, Piece, tuple[str, ...]]]:
    """The pieces on the table of which edges are in hand, with these."""
    for laid, of in scene.things():
        names = tuple(sorted(edge for piece, edge in keys if piece == laid.name))
        if names and not isinstance(of, Panel):
            yield laid, of, names


def paint_edges(
    painter: QPainter,
    view: View,
    laid: Laid,
    piece: Piece,
    names: tuple[str, ...],
    brushes: Brushes,
) -> None:
    """The turnings of edges in hand tinted, their stitching lines and notches heavy."""
    colours = brushes.colours
    painter.save()
    painter.setTransform(transform(view, laid), combine=True)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    turnings = polygon_of(piece.cut) - path_of(piece.panel.outline, closed=True)
    for edge in piece.edges:
        if edge.name not in names:
            continue
        line = path_of(piece.panel.edge(edge.name).chain)
        painter.fillPath(
            turnings & _round(line, max(width for width, _ in edge.allowances)),
            QColor(colours.accent_tint),
        )
        painter.setPen(edge_pen(QColor(colours.accent), 4.0))
        painter.drawPath(line)
    painter.setPen(edge_pen(QColor(colours.accent), 3.0))
    for notch in piece.notches:
        if notch.edge in names:
            # Through the whole turning: a snip alone is no larger than a hair here.
            deep = max(notch.clear, 0.0)
            for snip in notch.snips:
                inner = snip.end + (snip.end - snip.start).unit() * deep
                ends = (QPointF(at.x, at.y) for at in (snip.start, inner))
                painter.drawLine(*ends)
    painter.restore()


def _round(line: QPainterPath, width: float) -> QPainterPath:
    """All that lies within a width of a line."""
    stroker = QPainterPathStroker()
    stroker.setWidth(2 * _WIDER * max(width, 0.1))
    stroker.setCapStyle(Qt.PenCapStyle.FlatCap)
    return stroker.createStroke(line)
