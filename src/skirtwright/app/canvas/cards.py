"""The stack of cards as it is painted: a name on each upper edge, the top one drawn."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter

from skirtwright.app.canvas.drawing import Brushes, edge_pen, shifted, tint_of
from skirtwright.app.canvas.fitting import Area, Stacked
from skirtwright.app.canvas.lettering import cut_short, sized
from skirtwright.app.canvas.paths import body_of
from skirtwright.app.canvas.view import Margins, View, box_round, fitted
from skirtwright.app.look import letters
from skirtwright.draft.shapes.panel import Panel
from skirtwright.geometry.box import Box
from skirtwright.geometry.point import Point
from skirtwright.pieces.piece import Piece

_CLOTH = 15
"""Size of what is told of the cloth, px."""

_CLOTH_WIDE = 196.0
"""Room for a line of it, px; a wider stack gives more."""

_GAP = 40.0
"""Between pieces on a card, mm."""


@dataclass(frozen=True)
class CardShown:
    """A card ready to be painted.

    Attributes:
        of: what is on it, small and true; nothing for one that is covered.
        chosen: it has the keyboard, or the pointer is on it.
    """

    stacked: Stacked
    title: str
    of: tuple[Panel | Piece, ...]
    chosen: bool = False


def rect_of(area: Area) -> QRectF:
    """An area as Qt has it."""
    return QRectF(area.left, area.top, area.width, area.height)


def paint_card(painter: QPainter, _: View, shown: CardShown, brushes: Brushes) -> None:
    """A card: paper of its cloth, its name, how many pieces, and the pieces."""
    colours, stacked = brushes.colours, shown.stacked
    area = rect_of(stacked.area)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QColor(colours.paper_edge))
    painter.drawRoundedRect(area.translated(0, 2), 3, 3)
    painter.setBrush(QColor(tint_of(stacked.card.material, colours)))
    painter.drawRoundedRect(area, 3, 3)
    if shown.chosen:
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(edge_pen(QColor(colours.accent), 2.0))
        painter.drawRoundedRect(area.adjusted(1, 1, -1, -1), 3, 3)
    font = letters(brushes.percent, sized(15))
    metrics = QFontMetricsF(font)
    count = len(stacked.card.things)
    tail = str(count) if count > 1 else ""
    wide = metrics.horizontalAdvance(tail)
    foot = area.top() + 7 + metrics.ascent()
    painter.setFont(font)
    painter.setPen(QColor(colours.faint))
    painter.drawText(QPointF(area.right() - 8 - wide, foot), tail)
    painter.setPen(QColor(colours.ink))
    room = area.width() - 15 - (wide + 6 if tail else 0)
    painter.drawText(QPointF(area.left() + 8, foot), cut_short(shown.title, font, room))
    if shown.of:
        top = 12 + metrics.height()
        _paint_pieces(painter, area.adjusted(10, top, -10, -10), shown.of, brushes)


def _paint_pieces(
    painter: QPainter, room: QRectF, of: tuple[Panel | Piece, ...], brushes: Brushes
) -> None:
    """What is on a card, side by side at one scale."""
    boxes: list[tuple[Panel | Piece, Point, Box]] = []
    x = 0.0
    for each in of:
        box = (each if isinstance(each, Panel) else each.panel).box
        step = Point(x - box.left, -box.top)
        boxes.append((each, step, box.moved(step)))
        x += box.width + _GAP
    whole = box_round(box for _, _, box in boxes)
    if whole is None or room.height() < 10:
        return
    view = fitted(whole, room.width(), room.height(), Margins())
    view = view.panned(room.left(), room.top())
    painter.save()
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(edge_pen(QColor(brushes.colours.stitching), 1.4))
    for each, step, _ in boxes:
        painter.setTransform(shifted(view, step), combine=True)
        painter.drawPath(body_of(each))
        painter.restore()
        painter.save()
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(edge_pen(QColor(brushes.colours.stitching), 1.4))
    painter.restore()


# Over the stack


@dataclass(frozen=True)
class ClothTold:
    """How much cloth is needed, as it is written over the stack.

    Attributes:
        area: that they cover, px.
    """

    lines: tuple[str, ...]
    area: QRectF


def cloth_told(
    lines: Sequence[str], stack: Sequence[Stacked], brushes: Brushes
) -> ClothTold:
    """Where it is told how much cloth is needed: over the stack, to its right edge."""
    metrics = QFontMetricsF(letters(brushes.percent, sized(_CLOTH)))
    last = stack[-1].area
    room = max(last.width, _CLOTH_WIDE)
    whole = tuple(part for line in lines for part in _broken(line, room, metrics))
    wide = max(metrics.horizontalAdvance(line) for line in whole) + 4
    tall = len(whole) * metrics.height()
    top = min(stacked.area.top for stacked in stack) - 10 - tall
    return ClothTold(whole, QRectF(last.left + last.width - wide, top, wide, tall))


def _broken(line: str, room: float, metrics: QFontMetricsF) -> list[str]:
    """A line broken between words where it is too wide."""
    parts: list[str] = []
    # A figure stays with its unit.
    for word in re.split("(?<![0-9]) ", line):
        joined = f"{parts[-1]} {word}" if parts else word
        if parts and metrics.horizontalAdvance(joined) <= room:
            parts[-1] = joined
        else:
            parts.append(word)
    return parts


def paint_cloth(painter: QPainter, _: View, told: ClothTold, brushes: Brushes) -> None:
    """How much cloth is needed: a heading, and a line for each cloth."""
    font = letters(brushes.percent, sized(_CLOTH))
    metrics = QFontMetricsF(font)
    painter.setFont(font)
    for number, line in enumerate(told.lines):
        painter.setPen(QColor(brushes.colours.ink if number else brushes.colours.faint))
        foot = told.area.top() + number * metrics.height() + metrics.ascent()
        wide = metrics.horizontalAdvance(line)
        painter.drawText(QPointF(told.area.right() - wide - 2, foot), line)
