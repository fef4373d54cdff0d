"""Other lines beside those of today, dotted: as they were, or as they would be."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QRectF
from PySide6.QtGui import QColor, QPainter, QPainterPath

from skirtwright.app.canvas.drawing import Brushes, edge_pen, transform
from skirtwright.app.canvas.laying import Laid
from skirtwright.app.canvas.view import View
from skirtwright.draft.shapes.panel import Panel
from skirtwright.geometry.apart import Lines, Run
from skirtwright.geometry.tolerance import FLAT
from skirtwright.pieces.differing import parts_apart
from skirtwright.pieces.piece import Piece

_DOTS = (1.0, 3.0)
_WIDTH = 1.6

_SEWN = ("stitching", "dart")


@dataclass(frozen=True)
class LinesBefore:
    """A thing on the table, and parts of its lines as they lie in another look.

    Attributes:
        to_come: as a remedy would draw it, not as it was printed.
    """

    laid: Laid
    runs: tuple[Run, ...]
    to_come: bool = False

    def area(self, view: View) -> QRectF:
        """All that they cover, px."""
        return transform(view, self.laid).mapRect(self.path().boundingRect())

    def path(self) -> QPainterPath:
        """The lines, where they were drafted."""
        path = QPainterPath()
        for first, *rest in self.runs:
            path.moveTo(first.x, first.y)
            for place in rest:
                path.lineTo(place.x, place.y)
        return path


def runs_before(
    now: Panel | Piece, before: Panel | Piece | None, cutting: bool
) -> tuple[Run, ...]:
    """The parts of a thing's lines in another look that are none of its lines now.

    Args:
        now: the thing on the table.
        before: the same in the other look, if it is there.
        cutting: whether cutting lines are shown.
    """
    if isinstance(now, Piece) and isinstance(before, Piece):
        shown = ("cutting", *_SEWN) if cutting else _SEWN
        runs = (run for kind, run in parts_apart(before, now) if kind in shown)
        return tuple(run for run in runs if len(run) > 1)
    if not isinstance(now, Panel) or not isinstance(before, Panel) or now is before:
        return ()
    lines = Lines(edge.chain.flattened(FLAT) for edge in now.edges)
    return tuple(
        run
        for edge in before.edges
        for run in lines.apart(edge.chain.flattened(FLAT))
        if len(run) > 1
    )


def paint_before(
    painter: QPainter, view: View, what: LinesBefore, brushes: Brushes
) -> None:
    """The other lines, dotted; those to come in the accent."""
    painter.save()
    colours = brushes.colours
    dots = edge_pen(QColor(colours.accent if what.to_come else colours.ink), _WIDTH)
    dots.setDashPattern(list(_DOTS))
    painter.setPen(dots)
    painter.setTransform(transform(view, what.laid) * painter.transform())
    painter.drawPath(what.path())
    painter.restore()
