"""What is painted over the drawing: what is pointed at, pins, the value in hand."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPainterPath, QPen

from skirtwright.app.canvas.drawing import Brushes, edge_pen, transform
from skirtwright.app.canvas.laying import Laid
from skirtwright.app.canvas.lettering import length_shown, sized
from skirtwright.app.canvas.paths import body_of, path_of
from skirtwright.app.canvas.pointing import Found
from skirtwright.app.canvas.signs import Pin
from skirtwright.app.canvas.view import View
from skirtwright.app.canvas.walking import Walk
from skirtwright.app.look import letters
from skirtwright.draft.shapes.panel import Panel
from skirtwright.geometry.chain import Chain
from skirtwright.pieces.piece import Piece
from skirtwright.words import say, translate


def paint_found(
    painter: QPainter,
    view: View,
    found: Found,
    of: Panel | Piece | None,
    chosen: bool,
    brushes: Brushes,
) -> None:
    """What is pointed at: a heavier line, a ring; doubled when it is chosen.

    Args:
        of: the panel or piece it is, or is part of.
        chosen: it was clicked, or is in hand elsewhere.
    """
    accent = QColor(brushes.colours.accent)
    if isinstance(found.shape, Chain):
        painter.save()
        painter.setTransform(transform(view, found.laid), combine=True)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(edge_pen(accent, 4.5 if chosen else 3.0))
        painter.drawPath(path_of(found.shape))
        painter.restore()
        ends = [found.shape.start, found.shape.end] if chosen else []
    elif found.shape is not None:
        ends = [found.shape]
    elif chosen and of is not None:
        _outlined(painter, body_of(of), found, view, accent)
        return
    else:
        return
    painter.setBrush(QColor(brushes.colours.paper))
    painter.setPen(QPen(accent, 2.0))
    for end in ends:
        size = 5.0 if chosen else 4.0
        painter.drawEllipse(QPointF(*view.screen(found.laid.at(end))), size, size)


def _outlined(
    painter: QPainter, body: QPainterPath, found: Found, view: View, accent: QColor
) -> None:
    """A heavy line round a whole panel or piece."""
    painter.save()
    painter.setTransform(transform(view, found.laid), combine=True)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(edge_pen(accent, 4.0))
    painter.drawPath(body)
    painter.restore()


def bubble_size(lines: Sequence[str], brushes: Brushes) -> tuple[float, float]:
    """Width and height of a small slip of paper, px; its last line is in bold."""
    metrics = [QFontMetricsF(font) for font in _bubble_fonts(lines, brushes)]
    pairs = zip(metrics, lines, strict=True)
    width = max(m.horizontalAdvance(line) for m, line in pairs) + 20
    return width, sum(m.height() for m in metrics) + 10


def _bubble_fonts(lines: Sequence[str], brushes: Brushes) -> list[QFont]:
    fonts = [letters(brushes.percent, -1.0)] * (len(lines) - 1)
    return [*fonts, letters(brushes.percent, 2.0, bold=True)]


def paint_bubble(
    painter: QPainter, _: View, lines: Sequence[str], area: QRectF, brushes: Brushes
) -> None:
    """A small slip of paper with a few lines on it."""
    colours = brushes.colours
    painter.setPen(QPen(QColor(colours.accent), 1.2))
    painter.setBrush(QColor(colours.field))
    painter.drawRoundedRect(area, 6, 6)
    top = area.top() + 5
    for number, font in enumerate(_bubble_fonts(lines, brushes), 1):
        last = number == len(lines)
        painter.setFont(font)
        painter.setPen(QColor(colours.ink if last else colours.faint))
        tall = QFontMetricsF(font).height()
        row = QRectF(area.left() + 10, top, area.width(), tall)
        painter.drawText(row, Qt.AlignmentFlag.AlignLeft, lines[number - 1])
        top += tall


def pin_area(pin: Pin, view: View) -> QRectF:
    """All that a pin covers, px, with its leader and its ring."""
    x, y = view.screen(pin.place)
    area = pin.area
    body = QRectF(area.left, area.top, area.width, area.height)
    return body.united(QRectF(x - 19, y - 19, 38, 38))


def paint_pin(
    painter: QPainter, view: View, pin: Pin, shown: bool, brushes: Brushes
) -> None:
    """A numbered disc of ink beside the pieces, and a line to what it is about.

    Args:
        shown: it is the one she asked to be shown; its place has a ring.
    """
    colours, at = brushes.colours, QPointF(*view.screen(pin.place))
    ink, area = QColor(colours.ink), pin.area
    body = QRectF(area.left, area.top, area.width, area.height)
    painter.setPen(QPen(ink, 1.6))
    painter.drawLine(body.center(), at)
    painter.setBrush(ink)
    painter.drawEllipse(at, 3.0, 3.0)
    painter.setPen(QPen(QColor(colours.paper), 2.0))
    painter.drawEllipse(body.adjusted(1, 1, -1, -1))
    painter.setPen(QColor(colours.paper))
    painter.setFont(letters(100, sized(17), bold=True))
    painter.drawText(body, Qt.AlignmentFlag.AlignCenter, str(pin.number or "i"))
    if shown:
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(ink, 2.5))
        painter.drawEllipse(at, 16, 16)


def paint_walk(
    painter: QPainter, view: View, walk: Walk, laid: Laid, brushes: Brushes
) -> None:
    """The second piece rolled along the first."""
    now = walk.rolled()
    colours = brushes.colours
    second = walk.panels[now.second.piece]
    painter.save()
    painter.setTransform(transform(view, laid), combine=True)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(edge_pen(QColor(colours.faint), 1.2))
    painter.drawPath(path_of(second.outline.moved(now.motion)))
    painter.setPen(edge_pen(QColor(colours.fold), 3.0))
    for run in walk.seam.seam.sides[1]:
        if run.piece == now.second.piece:
            chain = second.edge(run.edge).chain
            painter.drawPath(path_of(chain.moved(now.motion)))
    painter.setPen(edge_pen(QColor(colours.stitching), 3.0))
    for run in walk.seam.seam.sides[0]:
        if run.piece == now.first.piece:
            chain = walk.panels[run.piece].edge(run.edge).chain
            painter.drawPath(path_of(chain))
    painter.restore()
    at = view.screen(laid.at(now.first.place))
    painter.setBrush(QColor(colours.accent))
    painter.setPen(QPen(QColor(colours.paper), 2))
    painter.drawEllipse(QPointF(*at), 6, 6)


def walk_lines(walk: Walk, title: str, brushes: Brushes) -> tuple[str, ...]:
    """What is said while a seam is walked, and at its end."""
    manner = brushes.manner
    first, second = walk.seam.lengths
    over, ease = abs(walk.seam.difference), walk.seam.seam.ease
    values = {
        "seam": translate(title, manner),
        "walked": walk.distance,
        "first": first,
        "second": second,
        "ease": ease,
        "over": over,
    }
    head = say("table.walk", values, manner)
    if not walk.done:
        return head, length_shown(walk.distance, manner)
    if over < 0.05:
        met = "table.walk_with_ease" if abs(ease) >= 0.05 else "table.walk_meets"
        return head, say(met, values, manner)
    long = "first" if walk.seam.difference > 0 else "second"
    return head, say(f"table.walk_over_{long}", values, manner)
