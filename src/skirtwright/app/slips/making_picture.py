"""The pieces of an order painted at one scale, for the making-up sheet on screen."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QColor, QFont, QImage, QPainter, QPainterPath, QPen

from skirtwright.app.look import Colours
from skirtwright.export.printed_letters import CAPITAL
from skirtwright.export.sewing.making_up_sheet import SewingStep
from skirtwright.export.sewing.piece_pictures import pictures
from skirtwright.export.sewing.step_pictures import step_picture
from skirtwright.export.sheet import Fill, Mark, Path, Text, box_of
from skirtwright.geometry import Cubic
from skirtwright.pieces.piece import Piece
from skirtwright.words import Manner

_UPRIGHT = 3.5
"""A picture is at most so much higher than wide."""

_STEP_SHARE = 0.8
"""Of the page's width the drawing of a step takes at most."""

_STEP_TALL = 0.5
"""Of its width it is high at most."""

_CAPTIONS = 0.85
"""Letters of the captions, as a share of ordinary ones."""


def painted(
    pieces: Sequence[Piece],
    size: tuple[int, float],
    font: QFont,
    colours: Colours,
    manner: Manner,
) -> QImage:
    """A picture of all pieces.

    Args:
        size: how wide it may be, px, and how many of them a screen has for each.
        font: of ordinary text, its size in px.

    Raises:
        Refused: there is no piece.
    """
    width, sharp = size
    letters = QFont(font)
    letters.setPixelSize(round(_CAPTIONS * font.pixelSize()))
    # So much of a millimetre that captions come out in the size of the font.
    per_mm = letters.pixelSize() * CAPITAL / 2.0
    drawn = pictures(pieces, width / per_mm, _UPRIGHT * width / per_mm, manner)
    height = sum(row.height for row in drawn.rows)
    image = _clear(width, height * per_mm, sharp)
    with QPainter(image) as painter:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        foot = 0.0
        for row in drawn.rows:
            foot += row.height * per_mm
            for mark in row.marks:
                _paint(painter, mark, (per_mm, foot), letters, colours)
    return image


def step_painted(
    step: SewingStep,
    pieces: Sequence[Piece],
    size: tuple[int, float],
    font: QFont,
    colours: Colours,
) -> QImage | None:
    """The pieces a step joins, lit, and what it sews drawn heavily; None for no pieces.

    Args:
        pieces: all of the skirt.
        size: how wide it may be, px, and how many of them a screen has for each.
        font: of ordinary text, its size in px.
    """
    width, sharp = size
    per_mm = font.pixelSize() * CAPITAL / 2.0
    room = _STEP_SHARE * width / per_mm
    marks = step_picture(step.row, pieces, room, _STEP_TALL * room)
    if not marks:
        return None
    height = box_of(marks).top * per_mm + 4
    image = _clear(_STEP_SHARE * width, height, sharp)
    with QPainter(image) as painter:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for mark in marks:
            if isinstance(mark, Fill):
                # Grey on paper; on screen the tint of what can be taken.
                path = _path(mark.path, per_mm, height - 2)
                painter.fillPath(path, QColor(colours.accent_tint))
            else:
                _paint(painter, mark, (per_mm, height - 2), font, colours)
    return image


def _clear(width: float, height: float, sharp: float) -> QImage:
    kind = QImage.Format.Format_ARGB32_Premultiplied
    image = QImage(round(width * sharp), round(height * sharp), kind)
    image.setDevicePixelRatio(sharp)
    image.fill(Qt.GlobalColor.transparent)
    return image


def _paint(
    painter: QPainter,
    mark: Mark,
    scale: tuple[float, float],
    font: QFont,
    colours: Colours,
) -> None:
    per_mm, foot = scale
    if isinstance(mark, Text):
        letters = QFont(font)
        letters.setBold(mark.bold)
        painter.setFont(letters)
        painter.setPen(QColor(colours.ink))
        painter.drawText(
            QPointF(mark.at.x * per_mm, foot - mark.at.y * per_mm), mark.text
        )
        return
    ink = QColor(_ink(mark.layer, colours))
    path = _path(mark.path, per_mm, foot)
    if isinstance(mark, Fill):
        painter.fillPath(path, ink)
        return
    wide = max((mark.weight or 0.2) * per_mm, 1.0)
    pen = QPen(ink, wide)
    if mark.dash:
        pen.setDashPattern([part * per_mm / wide for part in mark.dash])
    painter.strokePath(path, pen)


def _ink(layer: str, colours: Colours) -> str:
    known = {
        "cutting": colours.cutting,
        "stitching": colours.stitching,
        "fold": colours.fold,
        "grain": colours.grain,
        "inside": colours.mark,
    }
    return known.get(layer, colours.ink)


def _path(path: Path, per_mm: float, foot: float) -> QPainterPath:
    def at(x: float, y: float) -> QPointF:
        return QPointF(x * per_mm, foot - y * per_mm)

    made = QPainterPath(at(path[0].start.x, path[0].start.y))
    for segment in path:
        end = at(segment.end.x, segment.end.y)
        if isinstance(segment, Cubic):
            first, second = segment.control1, segment.control2
            made.cubicTo(at(first.x, first.y), at(second.x, second.y), end)
        else:
            made.lineTo(end)
    return made
