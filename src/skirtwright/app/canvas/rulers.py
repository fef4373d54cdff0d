"""The scale along two edges of the table, in her unit, from the paper's corner on."""

from __future__ import annotations

from dataclasses import dataclass
from math import floor

from PySide6.QtCore import QLineF, QPointF, QRect, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPen

from skirtwright.app.canvas.drawing import Brushes
from skirtwright.app.canvas.view import View, nice_step
from skirtwright.app.look import letters
from skirtwright.geometry.point import Point
from skirtwright.measures.units import MM_PER, Unit

WIDE = 24.0
"""Width of a scale at ordinary text size, px."""

_LEAST_BETWEEN = 46.0
_NUMBERED: dict[Unit, tuple[float, ...]] = {
    "cm": (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000),
    "mm": (10, 20, 50, 100, 200, 500, 1000, 2000, 5000),
    "in": (1, 2, 3, 6, 12, 24, 36, 72, 144),
}
_PARTS: dict[Unit, dict[float, int]] = {
    "cm": {1: 10, 2: 4, 5: 5, 10: 10, 20: 4, 50: 5, 100: 10},
    "mm": {10: 10, 20: 4, 50: 5, 100: 10, 200: 4, 500: 5},
    "in": {1: 8, 2: 4, 3: 3, 6: 6, 12: 12, 24: 4, 36: 6},
}


@dataclass(frozen=True)
class Tick:
    """A line of the scale.

    Attributes:
        at: mm from the scale's nought.
        number: written beside it; None for a short line.
    """

    at: float
    number: str | None


def ticks(low: float, high: float, scale: float, unit: Unit) -> list[Tick]:
    """The lines of a scale between two places.

    Args:
        low: the first place shown, mm from the scale's nought.
        high: the last, mm.
        scale: px to a mm.
        unit: hers.
    """
    one = MM_PER[unit]
    step = nice_step(_LEAST_BETWEEN / scale / one, _NUMBERED[unit])
    parts = _PARTS[unit].get(step, 5)
    first, last = floor(low / one / step * parts), floor(high / one / step * parts) + 1
    return [
        Tick(
            i * step / parts * one,
            f"{i // parts * step:g}" if i % parts == 0 else None,
        )
        for i in range(first, last + 1)
    ]


def wide(percent: int) -> float:
    """Width of a scale at her text size, px."""
    return max(WIDE, WIDE * percent / 100)


def paint_scale(
    painter: QPainter,
    view: View,
    area: QRect,
    nought: Point,
    upright: bool,
    brushes: Brushes,
) -> None:
    """The scale down the left edge, or the one along the upper edge.

    Args:
        painter: the table's.
        view: how the table is seen.
        area: that it covers, px.
        nought: the place of the table it counts from, mm.
        upright: the one down the left edge.
        brushes: colours, unit and text size.
    """
    strip, colours = wide(brushes.percent), brushes.colours
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, on=False)
    painter.fillRect(area, QColor(colours.strip))
    painter.setPen(QPen(QColor(colours.strip_line), 1))
    if upright:
        painter.drawLine(QPointF(strip - 1, strip), QPointF(strip - 1, area.height()))
        _down(painter, view, area.height(), nought, brushes)
        return
    painter.drawLine(QPointF(strip, strip - 1), QPointF(area.width(), strip - 1))
    _along(painter, view, area.width(), nought, brushes)
    painter.setPen(QColor(colours.faint))
    painter.setFont(letters(brushes.percent, -3.0))
    corner, middle = QRectF(0, 0, strip, strip), Qt.AlignmentFlag.AlignCenter
    painter.drawText(corner, middle, brushes.manner.unit)


def _along(
    painter: QPainter, view: View, width: float, nought: Point, brushes: Brushes
) -> None:
    strip = wide(brushes.percent)
    low, high = view.left - nought.x, view.left - nought.x + width / view.scale
    lines, font = [], letters(brushes.percent, -3.0)
    painter.setFont(font)
    painter.setPen(QColor(brushes.colours.faint))
    rise = QFontMetricsF(font).ascent()
    for tick in ticks(low, high, view.scale, brushes.manner.unit):
        x = (tick.at + nought.x - view.left) * view.scale
        if x < strip:
            continue
        long = 0.45 if tick.number is not None else 0.2
        lines.append(QLineF(x, strip * (1 - long), x, strip))
        if tick.number is not None:
            painter.drawText(QPointF(x + 4, rise + 1), tick.number)
    painter.setPen(QPen(QColor(brushes.colours.field_line), 1))
    painter.drawLines(lines)


def _down(
    painter: QPainter, view: View, height: float, nought: Point, brushes: Brushes
) -> None:
    strip = wide(brushes.percent)
    low, high = nought.y - view.top, nought.y - view.top + height / view.scale
    lines, font = [], letters(brushes.percent, -3.0)
    painter.setFont(font)
    painter.setPen(QColor(brushes.colours.faint))
    rise = QFontMetricsF(font).ascent()
    for tick in ticks(low, high, view.scale, brushes.manner.unit):
        y = (view.top - nought.y + tick.at) * view.scale
        if y < strip:
            continue
        long = 0.45 if tick.number is not None else 0.2
        lines.append(QLineF(strip * (1 - long), y, strip, y))
        if tick.number is not None:
            painter.save()
            painter.translate(rise + 1, y - 4)
            painter.rotate(-90)
            painter.drawText(QPointF(0, 0), tick.number)
            painter.restore()
    painter.setPen(QPen(QColor(brushes.colours.field_line), 1))
    painter.drawLines(lines)
