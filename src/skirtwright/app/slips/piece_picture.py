"""A small picture of a piece, drawn once for as long as the piece stays the same."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QPointF, QSize, Qt, Signal
from PySide6.QtGui import (
    QBrush,
    QColor,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QPixmap,
    QPolygonF,
)
from PySide6.QtWidgets import QWidget

from skirtwright.app.guard import guarded
from skirtwright.app.look import LIGHT, Colours, clear_pixmap
from skirtwright.geometry.box import box_of
from skirtwright.geometry.point import Point
from skirtwright.pieces.piece import Piece

WIDE, TALL = 54, 66
_MARGIN = 4.0
_COARSE = 2.0
"""A hair on a picture this small, mm."""

_WEAVES = {
    "lining": Qt.BrushStyle.BDiagPattern,
    "interfacing": Qt.BrushStyle.Dense7Pattern,
}


class PiecePicture(QWidget):
    """The picture; a click on it chooses the piece.

    Signals:
        clicked: with the left button.
    """

    clicked = Signal()

    def __init__(self) -> None:
        super().__init__()
        self._piece: Piece | None = None
        self._colours: Colours = LIGHT
        self._drawn: tuple[Piece, Colours, float, QPixmap] | None = None
        self._faint = False
        self.setFixedSize(QSize(WIDE, TALL))
        self.setCursor(Qt.CursorShape.PointingHandCursor)

    def show_piece(self, piece: Piece, colours: Colours, *, hidden: bool) -> None:
        """Take over a piece; a hidden one is faint."""
        self._piece, self._colours, self._faint = piece, colours, hidden
        self.update()

    def picture(self) -> QPixmap | None:
        """The picture as it is now; drawn when it is first asked for."""
        piece, ratio = self._piece, self.devicePixelRatioF()
        if piece is None:
            return None
        known = self._drawn
        if (
            known
            and known[1:3] == (self._colours, ratio)
            and _looks_same(known[0], piece)
        ):
            return known[3]
        made = drawn(piece, self._colours, ratio)
        self._drawn = (piece, self._colours, ratio, made)
        return made

    @guarded()
    def paintEvent(self, _: QPaintEvent) -> None:
        made = self.picture()
        if made is None:
            return
        with QPainter(self) as painter:
            painter.setOpacity(0.35 if self._faint else 1.0)
            painter.drawPixmap(0, 0, made)

    @guarded()
    def mousePressEvent(self, event: QMouseEvent) -> None:
        if event.button() == Qt.MouseButton.LeftButton:
            self.clicked.emit()


def _looks_same(one: Piece, other: Piece) -> bool:
    """Whether two pieces give one picture: the second was only worked anew."""
    if one is other:
        return True
    return one.cut == other.cut and one.spec.material == other.spec.material


def drawn(piece: Piece, colours: Colours, ratio: float) -> QPixmap:
    """The cutting and the stitching line of a piece on a small sheet."""
    made = clear_pixmap(QSize(WIDE, TALL), ratio)
    box = box_of(piece.cut)
    scale = min(
        (WIDE - 2 * _MARGIN) / max(box.width, 1.0),
        (TALL - 2 * _MARGIN) / max(box.height, 1.0),
    )
    middle = box.middle

    def shape(points: Sequence[Point]) -> QPolygonF:
        return QPolygonF(
            [
                QPointF(
                    WIDE / 2 + (p.x - middle.x) * scale,
                    TALL / 2 - (p.y - middle.y) * scale,
                )
                for p in points
            ]
        )

    material = piece.spec.material
    with QPainter(made) as painter:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        outline = shape(piece.cut)
        painter.setPen(QPen(QColor(colours.cutting), 1.3))
        ground = material if material in _WEAVES else "paper"
        painter.setBrush(QColor(getattr(colours, ground)))
        painter.drawPolygon(outline)
        if material in _WEAVES:
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(QBrush(QColor(colours.weave), _WEAVES[material]))
            painter.drawPolygon(outline)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(QColor(colours.stitching), 1.0))
        for edge in piece.panel.edges:
            if edge.name not in piece.spec.folds:
                painter.drawPolyline(shape(edge.ringwise.flattened(_COARSE)))
    return made
