"""A new client's table: paper, with the levels and quarters that are measured so far.

Nothing of another woman is on it. Each length lies where the draft will begin with it:
the fold at the left, the waist at the top, a quarter of each girth to the right.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPen

from skirtwright.app.canvas.drawing import Brushes
from skirtwright.app.canvas.lettering import sized
from skirtwright.app.canvas.view import View
from skirtwright.app.look import letters
from skirtwright.app.shown_figures import length_about
from skirtwright.words import say

_LEVELS = (("waist", ""), ("hip", "waist_to_hip"), ("knee", "waist_to_knee"))
"""What goes round her, and how far below the waist that is."""

_TALL = 640.0
"""mm from the waist to the lower edge of the paper, unless her knee is lower."""

_LOWER = 1.12
_WIDE = 0.62
"""Of its height."""

_WORD = 17


@dataclass(frozen=True)
class FirstLine:
    """A level of her that can be drawn already.

    Attributes:
        name: of what goes round her there.
        down: how far below the waist, mm.
        girth: all round, mm; None where it is not measured.
    """

    name: str
    down: float
    girth: float | None


def first_lines(taken: Mapping[str, float]) -> tuple[FirstLine, ...]:
    """The levels that what was measured allows to be drawn, mm."""
    found = []
    for name, way in _LEVELS:
        down = taken.get(way) if way else 0.0
        if down is not None and (taken.get(name) is not None or way):
            found.append(FirstLine(name, down, taken.get(name)))
    return tuple(found)


def paint_first_paper(
    painter: QPainter,
    _: View,
    room: QRectF,
    lines: tuple[FirstLine, ...],
    brushes: Brushes,
) -> None:
    """A sheet in the middle of the room, and what is known drawn on it."""
    colours, manner = brushes.colours, brushes.manner
    deepest = max([_TALL, *(_LOWER * line.down for line in lines)])
    tall = 0.82 * room.height()
    sheet = QRectF(0, 0, _WIDE * tall, tall)
    sheet.moveCenter(room.center())
    for away, colour in ((4.0, colours.paper_edge), (0.0, colours.paper)):
        painter.fillRect(sheet.translated(0, away), QColor(colour))
    top, left = sheet.top() + 0.1 * tall, sheet.left() + 0.16 * sheet.width()
    scale = 0.84 * tall / deepest
    painter.setPen(QPen(QColor(colours.stitching), 2.2))
    painter.drawLine(QLineF(left, top, left, top + deepest * scale))
    font = letters(brushes.percent, sized(_WORD))
    metrics = QFontMetricsF(font)
    painter.setFont(font)
    ends: list[QPointF] = []
    for line in lines:
        y = top + line.down * scale
        if line.girth is None:
            painter.setPen(QPen(QColor(colours.chalk), 1.2, Qt.PenStyle.DashLine))
            end = QPointF(sheet.right() - 0.1 * sheet.width(), y)
        else:
            painter.setPen(QPen(QColor(colours.chalk), 1.6))
            end = QPointF(left + line.girth / 4 * scale, y)
            ends.append(end)
        painter.drawLine(QPointF(left, y), end)
        word = say(f"table.entry.{line.name}", {}, manner)
        if line.girth is not None:
            word = f"{word} {length_about(line.girth, manner)}"
        painter.setPen(QColor(colours.ink if line.girth else colours.faint))
        painter.drawText(QPointF(left + 10, y + metrics.ascent() + 4), word)
    if len(ends) > 1:
        painter.setPen(QPen(QColor(colours.chalk), 1.2, Qt.PenStyle.DashLine))
        painter.drawPolyline(ends)
