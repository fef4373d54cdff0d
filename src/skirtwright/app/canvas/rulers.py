"""The scale along two edges of the table, in her unit, from the paper's corner on."""

from __future__ import annotations

from dataclasses import dataclass
from math import floor

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
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


def paint_rulers(
    painter: QPainter,
    view: View,
    size: tuple[float, float],
    nought: Point,
    brushes: Brushes,
    pointer: tuple[float, float] | None,
) -> None:
    """Both scales, with the pointer's place on them.

    Args:
        painter: the table's.
        view: how the table is seen.
        size: of the table's window, px.
        nought: the place of the table both scales count from, mm.
        brushes: colours, unit and text size.
        pointer: px, None when it is elsewhere.
    """
    width, height = size
    strip = wide(brushes.percent)
    colours = brushes.colours
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, on=False)
    painter.fillRect(QRectF(0, 0, width, strip), QColor(colours.strip))
    painter.fillRect(QRectF(0, 0, strip, height), QColor(colours.strip))
    painter.setPen(QPen(QColor(colours.strip_line), 1))
    painter.drawLine(QPointF(strip, strip), QPointF(width, strip))
    painter.drawLine(QPointF(strip, strip), QPointF(strip, height))
    _along(painter, view, width, nought, brushes)
    _down(painter, view, height, nought, brushes)
    if pointer:
        x, y = pointer
        painter.setPen(QPen(QColor(colours.accent), 1))
        painter.drawLines([QLineF(x, 0, x, strip), QLineF(0, y, strip, y)])
    painter.fillRect(QRectF(0, 0, strip, strip), QColor(colours.strip))
    painter.setPen(QColor(colours.faint))
    painter.setFont(letters(brushes.percent, -3.0))
    corner = QRectF(0, 0, strip, strip)
    painter.drawText(corner, Qt.AlignmentFlag.AlignCenter, brushes.manner.unit)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, on=True)


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
