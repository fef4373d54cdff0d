"""Pull points as they are painted and hit.

At rest a point is a small dot; it opens as the pointer comes near, shows which way it
goes under the pointer, stands in a square frame when it has the keyboard, and becomes
a diamond with a minus and a plus beside it when it is chosen. Every target is at least
24 px across, however near or far the table is seen.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPolygonF

from skirtwright.app.canvas.drawing import Brushes
from skirtwright.geometry.point import Point

TARGET = 28.0
"""Across a pull point's target and each minus and plus, px; 24 is the least."""

APPROACH = 90.0
"""Distance from which a point opens under the coming pointer, px."""

AWAY = 34.0
"""From a chosen point to its minus and its plus, px."""

_DOT = 3.5
_OPEN = 6.5
_SIGN = 11.0


@dataclass(frozen=True)
class Shown:
    """A pull point as it stands on the screen.

    Attributes:
        name: its place.
        x: px.
        y: px.
        way: unit step on the screen (y down) as the amount grows.
        both: it moves both ways, for two amounts.
        dim: pulling here does next to nothing.
        hovered: the pointer is on it.
        focused: it has the keyboard.
        chosen: it was clicked, or is in hand.
        held: it is being pulled.
        near: how near the pointer is, 0 far to 1 on it.
    """

    name: str
    x: float
    y: float
    way: tuple[float, float] = (1.0, 0.0)
    both: bool = False
    dim: bool = False
    hovered: bool = False
    focused: bool = False
    chosen: bool = False
    held: bool = False
    near: float = 0.0

    @property
    def about(self) -> bool:
        """True when its amount is shown beside it."""
        return self.hovered or self.focused or self.chosen or self.held

    @property
    def place(self) -> QPointF:
        """Its middle, px."""
        return QPointF(self.x, self.y)

    def sign(self, more: bool) -> QPointF:
        """The middle of its plus or its minus: on the side the place would go to."""
        turn = AWAY if more else -AWAY
        return QPointF(self.x + turn * self.way[0], self.y + turn * self.way[1])

    def sign_rect(self, more: bool) -> QRectF:
        """The target of its plus or its minus."""
        return _target(self.sign(more))

    @property
    def rect(self) -> QRectF:
        """Its target."""
        return _target(self.place)


def _target(middle: QPointF) -> QRectF:
    half = TARGET / 2
    return QRectF(middle.x() - half, middle.y() - half, TARGET, TARGET)


def hit_point(shown: Sequence[Shown], x: float, y: float) -> Shown | None:
    """The pull point whose target lies under a pixel; the nearest where several do."""
    best, least = None, TARGET / 2
    for point in shown:
        away = math.hypot(point.x - x, point.y - y)
        if away <= least:
            best, least = point, away
    return best


def hit_sign(shown: Sequence[Shown], x: float, y: float) -> tuple[Shown, int] | None:
    """The chosen point whose minus (-1) or plus (+1) lies under a pixel."""
    for point in shown:
        if not (point.chosen or point.focused) or point.held:
            continue
        for steps in (1, -1):
            middle = point.sign(steps > 0)
            if math.hypot(middle.x() - x, middle.y() - y) <= TARGET / 2:
                return point, steps
    return None


def nearness(away: float) -> float:
    """How far a point has opened for a pointer that far away, 0 to 1."""
    return min(max((APPROACH - away) / (APPROACH - TARGET / 2), 0.0), 1.0)


def cursor_for(way: tuple[float, float], *, both: bool, dim: bool) -> Qt.CursorShape:
    """The pointer's shape that tells which way a point goes."""
    if dim:
        return Qt.CursorShape.PointingHandCursor
    if both:
        return Qt.CursorShape.SizeAllCursor
    # On the screen, clockwise from the right, folded to a half turn.
    angle = math.degrees(math.atan2(way[1], way[0])) % 180
    if angle < 22.5 or angle >= 157.5:
        return Qt.CursorShape.SizeHorCursor
    if angle < 67.5:
        return Qt.CursorShape.SizeFDiagCursor
    if angle < 112.5:
        return Qt.CursorShape.SizeVerCursor
    return Qt.CursorShape.SizeBDiagCursor


def area_of(point: Shown) -> QRectF:
    """All that a pull point covers, px."""
    signs = (point.chosen or point.focused) and not point.held
    half = AWAY + _SIGN + 1 if signs else TARGET / 2 + 5
    return QRectF(point.x - half, point.y - half, 2 * half, 2 * half)


def paint_point(painter: QPainter, point: Shown, brushes: Brushes) -> None:
    """One pull point."""
    colours = brushes.colours
    known = colours.working if point.dim else colours.pull
    body = QColor(colours.pull_held if point.chosen or point.held else known)
    paper = QColor(colours.paper)
    painter.setPen(QPen(paper, 1.5))
    painter.setBrush(paper if point.dim else body)
    if point.focused:
        _paint_frame(painter, point, brushes)
    if point.dim:
        painter.setPen(QPen(body, 1.4))
    if point.chosen or point.held:
        painter.drawPolygon(_diamond(point.place, 8.5))
    elif point.hovered:
        painter.drawEllipse(point.place, _OPEN, _OPEN)
    else:
        size = _DOT + (_OPEN - 1 - _DOT) * point.near
        painter.drawEllipse(point.place, size, size)
    if (point.hovered or point.held) and not point.dim:
        _paint_ways(painter, point, body)
    if (point.chosen or point.focused) and not point.held:
        for more in (True, False):
            _paint_sign(painter, point.sign(more), more, brushes)


def _paint_frame(painter: QPainter, point: Shown, brushes: Brushes) -> None:
    """The square frame of the point that has the keyboard."""
    painter.save()
    painter.setBrush(Qt.BrushStyle.NoBrush)
    half = TARGET / 2 - 1
    area = QRectF(point.x - half, point.y - half, 2 * half, 2 * half)
    painter.setPen(QPen(QColor(brushes.colours.paper), 4))
    painter.drawRoundedRect(area, 4, 4)
    painter.setPen(QPen(QColor(brushes.colours.accent), 2))
    painter.drawRoundedRect(area, 4, 4)
    painter.restore()


def _diamond(middle: QPointF, half: float) -> QPolygonF:
    x, y = middle.x(), middle.y()
    return QPolygonF(
        [
            QPointF(x, y - half),
            QPointF(x + half, y),
            QPointF(x, y + half),
            QPointF(x - half, y),
        ]
    )


def _paint_ways(painter: QPainter, point: Shown, colour: QColor) -> None:
    """Small arrowheads on the sides it can go to."""
    painter.setBrush(colour)
    painter.setPen(Qt.PenStyle.NoPen)
    ways = [Point(*point.way), Point(-point.way[0], -point.way[1])]
    if point.both:
        ways += [way.left() for way in ways]
    for way in ways:
        tip = Point(point.x, point.y) + way * (TARGET / 2 + 4)
        foot = tip - way * 6
        corners = (tip, foot + way.left() * 4, foot - way.left() * 4)
        painter.drawPolygon(QPolygonF([QPointF(p.x, p.y) for p in corners]))


def _paint_sign(
    painter: QPainter, middle: QPointF, more: bool, brushes: Brushes
) -> None:
    """A round button with a plus or a minus."""
    colours = brushes.colours
    painter.setPen(QPen(QColor(colours.pull_held), 1.5))
    painter.setBrush(QColor(colours.paper))
    painter.drawEllipse(middle, _SIGN, _SIGN)
    painter.setPen(QPen(QColor(colours.pull_held), 2))
    x, y = middle.x(), middle.y()
    painter.drawLine(QPointF(x - 5, y), QPointF(x + 5, y))
    if more:
        painter.drawLine(QPointF(x, y - 5), QPointF(x, y + 5))
