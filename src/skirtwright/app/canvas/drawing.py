"""Painting the table: paper, the draft on it, the pieces beside it.

Tints are opaque (half the time of translucent ones) and lines keep their width at
every distance. Lines are dashed only while nothing moves: dashes that crawl along a
moving line are slow to paint and worse to look at. Kinds of line differ in weight and
pattern as well as in colour.
"""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import (
    QBrush,
    QColor,
    QPainter,
    QPainterPath,
    QPen,
    QTransform,
)

from skirtwright.app.canvas.laying import Laid
from skirtwright.app.canvas.paths import Prepared
from skirtwright.app.canvas.view import View, nice_step
from skirtwright.app.look import Colours
from skirtwright.geometry.box import Box
from skirtwright.geometry.point import Point
from skirtwright.geometry.segment import Line
from skirtwright.measures.units import MM_PER
from skirtwright.words import Manner

NAMES_FROM = 0.12
"""Pixels a mm from which things are named."""

DETAIL_FROM = 0.45
"""Pixels a mm from which small marks and inner lines are drawn."""

MEASURES_FROM = 0.9
"""Pixels a mm from which seam edges say how long they are."""


@dataclass(frozen=True)
class Stroke:
    """How a kind of line is drawn.

    Attributes:
        colour: the name of its colour.
        width: px.
        dashes: drawn and left out by turns, px; only at rest.
    """

    colour: str
    width: float
    dashes: tuple[float, ...] = ()


STROKES: dict[str, Stroke] = {
    "stitching": Stroke("stitching", 1.3),
    # A symmetry line of ISO 128: long dash, dot.
    "fold": Stroke("fold", 1.4, (14, 4, 2, 4)),
    "grain": Stroke("grain", 1.2, (18, 5)),
    "working": Stroke("working", 1.0, (6, 4)),
    "inside": Stroke("mark", 1.0, (6, 4)),
    "pleat": Stroke("mark", 1.2),
    "dart": Stroke("stitching", 1.0),
    "notch": Stroke("cutting", 1.6),
    "drill": Stroke("mark", 1.2),
    "cutting": Stroke("cutting", 1.8),
}
"""The stitching line of the draft is drawn heavier: there is no cutting line yet."""

DRAFT_STITCHING = Stroke("stitching", 1.8)
_SMALL = frozenset({"notch", "drill", "inside", "grain"})
_GRIDS = {
    "cm": (10.0, 50.0, 100.0, 500.0, 1000.0),
    "mm": (10.0, 50.0, 100.0, 500.0, 1000.0),
    "in": tuple(MM_PER["in"] * n for n in (0.5, 1, 3, 6, 12, 36)),
}
_LEAST_GRID = 16.0
_WEAVES = {
    "lining": Qt.BrushStyle.BDiagPattern,
    "interfacing": Qt.BrushStyle.Dense7Pattern,
}
"""Cloths that are told from the main one without their tint, too."""

_SHADOW = 3.0
_AROUND = ((1.0, 0.0), (-0.5, 0.87), (-0.5, -0.87))


def pen(stroke: Stroke, colours: Colours, *, moving: bool) -> QPen:
    """The pen of a kind of line."""
    made = QPen(QColor(getattr(colours, stroke.colour)))
    width = stroke.width
    if stroke.dashes and not moving:
        made.setDashPattern([dash / width for dash in stroke.dashes])
        made.setCapStyle(Qt.PenCapStyle.FlatCap)
    else:
        made.setCapStyle(Qt.PenCapStyle.RoundCap)
    made.setJoinStyle(Qt.PenJoinStyle.BevelJoin)
    made.setWidthF(width)
    made.setCosmetic(True)
    return made


def edge_pen(colour: QColor, width: float) -> QPen:
    """A plain pen of a width on the screen."""
    made = QPen(colour, width)
    made.setCosmetic(True)
    made.setCapStyle(Qt.PenCapStyle.RoundCap)
    made.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    return made


def transform(view: View, offset: Point) -> QTransform:
    """From drafted mm, moved by an offset, to the screen."""
    x, y = view.screen(offset)
    return QTransform(view.scale, 0, 0, -view.scale, x, y)


@dataclass(frozen=True)
class Brushes:
    """What one painting of the table needs.

    Attributes:
        moving: True while something is pulled: no dashes, labels stay where they were.
        percent: her text size.
    """

    colours: Colours
    manner: Manner
    moving: bool = False
    percent: int = 100


def paint_sheet(painter: QPainter, sheet: Box, view: View, brushes: Brushes) -> None:
    """The paper under the draft, with its faint squares."""
    colours = brushes.colours
    area = screen_rect(sheet, view)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, on=False)
    painter.fillRect(area.translated(_SHADOW, _SHADOW), QColor(colours.paper_edge))
    painter.fillRect(area, QColor(colours.paper))
    step = nice_step(_LEAST_GRID / view.scale, _GRIDS[brushes.manner.unit])
    painter.setPen(QPen(QColor(colours.grid), 1))
    painter.drawLines(_squares(sheet, step, view))
    painter.setPen(QPen(QColor(colours.paper_edge), 1))
    painter.drawRect(area)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, on=True)


def _squares(sheet: Box, step: float, view: View) -> list[QLineF]:
    """Lines a step apart, from the paper's upper left corner on."""
    left, top = view.screen(Point(sheet.left, sheet.top))
    right, bottom = view.screen(Point(sheet.right, sheet.bottom))
    gap = step * view.scale
    across = [left + i * gap for i in range(1, int(sheet.width / step) + 1)]
    down = [top + i * gap for i in range(1, int(sheet.height / step) + 1)]
    lines = [QLineF(x, top, x, bottom) for x in across]
    lines += [QLineF(left, y, right, y) for y in down]
    return lines


def screen_rect(box: Box, view: View) -> QRectF:
    """A box of the table on the screen."""
    left, top = view.screen(Point(box.left, box.top))
    return QRectF(left, top, box.width * view.scale, box.height * view.scale)


def paint_thing(
    painter: QPainter, laid: Laid, prepared: Prepared, view: View, brushes: Brushes
) -> None:
    """A panel or a piece: its tint, then its lines, the heaviest last."""
    colours, is_piece = brushes.colours, laid.kind == "piece"
    at = transform(view, laid.offset)
    painter.save()
    if is_piece:
        painter.setTransform(at * QTransform.fromTranslate(_SHADOW / 2, _SHADOW / 2))
        painter.fillPath(prepared.body, QColor(colours.paper_edge))
    painter.setTransform(at)
    painter.fillPath(prepared.body, QColor(tint(laid.body, colours, laid.material)))
    if laid.material in _WEAVES:
        brush = QBrush(QColor(colours.weave), _WEAVES[laid.material])
        # As fine on the screen at every distance, and lying still on the piece.
        brush.setTransform(QTransform.fromScale(1 / view.scale, 1 / view.scale))
        painter.fillPath(prepared.body, brush)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    for kind, stroke in STROKES.items():
        path = prepared.lines.get(kind)
        if path is None or (kind in _SMALL and view.scale < DETAIL_FROM):
            continue
        heavier = kind == "stitching" and not is_piece
        _draw(painter, at, path, DRAFT_STITCHING if heavier else stroke, brushes)
    for kind, path in prepared.solid.items():
        if view.scale >= DETAIL_FROM:
            painter.fillPath(path, QColor(getattr(colours, STROKES[kind].colour)))
    painter.restore()


def _draw(
    painter: QPainter,
    at: QTransform,
    path: QPainterPath,
    stroke: Stroke,
    brushes: Brushes,
) -> None:
    """A line. A moving one of some weight is three hairlines side by side.

    A hairline is painted fifteen times as quickly as a line of two pixels (measured);
    three of them, a fraction of a pixel apart, look the same.
    """
    known = pen(stroke, brushes.colours, moving=brushes.moving)
    if not brushes.moving or stroke.width <= 1.0:
        painter.setPen(known)
        painter.drawPath(path)
        return
    known.setWidthF(1.0)
    painter.setPen(known)
    for x, y in _AROUND:
        aside = (stroke.width - 1.0) / 2
        painter.setTransform(at * QTransform.fromTranslate(x * aside, y * aside))
        painter.drawPath(path)
    painter.setTransform(at)


def tint(body: str, colours: Colours, material: str = "shell") -> str:
    """The tint of a panel or piece, by its cloth, and whether it is front or back."""
    if material in _WEAVES:
        return str(getattr(colours, material))
    if body == "front":
        return colours.front
    return colours.back if body == "back" else colours.other


def paint_grain(
    painter: QPainter, line: Line, offset: Point, view: View, brushes: Brushes
) -> None:
    """A grain arrow with heads at screen size."""
    if view.scale < NAMES_FROM:
        return
    stroke = STROKES["grain"]
    painter.setPen(pen(stroke, brushes.colours, moving=brushes.moving))
    ends = [QPointF(*view.screen(end + offset)) for end in (line.start, line.end)]
    painter.drawLine(*ends)
    painter.setPen(pen(stroke, brushes.colours, moving=True))
    along = line.start_direction
    for end, way in ((ends[0], -along), (ends[1], along)):
        for side in (way.left(), way.right()):
            barb = QPointF(
                end.x() - 9 * way.x + 4 * side.x, end.y() + 9 * way.y - 4 * side.y
            )
            painter.drawLine(end, barb)
