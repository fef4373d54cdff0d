"""Pull points as they are painted and hit.

A point is a disc with arrowheads on the sides it can go to; hollow and without them
where its amount does not move it. It stands in a square frame when it has the keyboard
and has a minus and a plus beside it when it is chosen. Discs and targets keep their
size however near or far the table is seen.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPolygonF

from skirtwright.app.canvas.drawing import Brushes
from skirtwright.geometry.point import Point

TARGET = 32.0
"""Across a pull point's target and each minus and plus, px."""

DRAWN = 16.0
"""Across a pull point as it is drawn, px."""

AWAY = 38.0
"""From a chosen point to its minus and its plus, px."""

_HOLLOW = 5.0
_SIGN = 12.0


@dataclass(frozen=True)
class Shown:
    """A pull point as it stands on the screen.

    Attributes:
        x: px.
        y: px.
        way: unit step on the screen (y down) as the amount grows; None while unknown.
        both: it moves both ways, for two amounts.
        dim: pulling here does next to nothing.
        hovered: the pointer is on it.
        focused: it has the keyboard.
        chosen: it was clicked, or is in hand.
        held: it is being pulled.
    """

    name: str
    x: float
    y: float
    way: tuple[float, float] | None = None
    both: bool = False
    dim: bool = False
    hovered: bool = False
    focused: bool = False
    chosen: bool = False
    held: bool = False

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
        way = self.way or (1.0, 0.0)
        return QPointF(self.x + turn * way[0], self.y + turn * way[1])

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


def reach_of(point: Shown) -> float:
    """From the middle of a pull point to the edge of all that it covers, px."""
    signs = (point.chosen or point.focused) and not point.held
    return AWAY + _SIGN + 1 if signs else TARGET / 2 + 5


def area_of(point: Shown) -> QRectF:
    """All that a pull point covers, px."""
    half = reach_of(point)
    return QRectF(point.x - half, point.y - half, 2 * half, 2 * half)


def paint_point(painter: QPainter, point: Shown, brushes: Brushes) -> None:
    """One pull point."""
    colours = brushes.colours
    paper, body = QColor(colours.paper), QColor(colours.pull)
    if point.focused:
        _paint_frame(painter, point, brushes)
    if point.dim:
        painter.setBrush(paper)
        painter.setPen(QPen(QColor(colours.pencil), 1.8))
        painter.drawEllipse(point.place, _HOLLOW, _HOLLOW)
    else:
        if point.hovered or point.held:
            painter.setPen(QPen(body, 1.5) if point.held else Qt.PenStyle.NoPen)
            painter.setBrush(QColor(colours.accent_tint))
            painter.drawEllipse(point.place, TARGET / 2 + 1, TARGET / 2 + 1)
        _paint_ways(painter, point, body, paper)
        painter.setPen(QPen(paper, 2.0))
        painter.setBrush(body)
        # Half its rim, of the colour of paper, lies within.
        half = DRAWN / 2 + 1 + 2 * (point.hovered or point.held)
        painter.drawEllipse(point.place, half, half)
    if (point.chosen or point.focused) and not point.held:
        for more in (True, False):
            _paint_sign(painter, point.sign(more), more, brushes)


def _paint_frame(painter: QPainter, point: Shown, brushes: Brushes) -> None:
    painter.save()
    painter.setBrush(Qt.BrushStyle.NoBrush)
    half = TARGET / 2 - 1
    area = QRectF(point.x - half, point.y - half, 2 * half, 2 * half)
    painter.setPen(QPen(QColor(brushes.colours.paper), 4))
    painter.drawRoundedRect(area, 4, 4)
    painter.setPen(QPen(QColor(brushes.colours.accent), 2))
    painter.drawRoundedRect(area, 4, 4)
    painter.restore()


def _paint_ways(painter: QPainter, point: Shown, colour: QColor, rim: QColor) -> None:
    """Small arrowheads on the sides it can go to."""
    if point.way is None:
        return
    painter.setBrush(colour)
    painter.setPen(QPen(rim, 1.0))
    ways = [Point(*point.way), Point(-point.way[0], -point.way[1])]
    if point.both:
        ways += [way.left() for way in ways]
    for way in ways:
        tip = Point(point.x, point.y) + way * (TARGET / 2)
        foot = tip - way * 6
        corners = (tip, foot + way.left() * 4.5, foot - way.left() * 4.5)
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
