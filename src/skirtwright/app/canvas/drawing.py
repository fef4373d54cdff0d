"""Painting the table: paper, the draft on it, the pieces beside it.

Tints are opaque (half the time of translucent ones) and lines keep their width at
every distance. Lines are dashed only while nothing moves: dashes that crawl along a
moving line are slow to paint and worse to look at. Kinds of line differ in weight and
pattern as well as in colour.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import (
    QBrush,
    QColor,
    QFontMetricsF,
    QPainter,
    QPainterPath,
    QPen,
    QTransform,
)

from skirtwright.app.canvas.laying import Laid
from skirtwright.app.canvas.paths import Prepared
from skirtwright.app.canvas.scene import Scene
from skirtwright.app.canvas.view import View, nice_step
from skirtwright.app.look import Colours, letters
from skirtwright.draft.sentences import plain
from skirtwright.geometry.box import Box
from skirtwright.geometry.chain import Chain
from skirtwright.geometry.point import Point
from skirtwright.geometry.segment import Line
from skirtwright.measures.units import MM_PER, show_length
from skirtwright.pieces.labels import label_lines, material_words
from skirtwright.words import Manner, has_message, say, translate

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
    painter.fillPath(prepared.body, QColor(tint(laid.name, colours, laid.material)))
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


def tint(name: str, colours: Colours, material: str = "shell") -> str:
    """The tint of a panel or piece, by its cloth, and whether it is front or back."""
    if material in _WEAVES:
        return str(getattr(colours, material))
    if "front" in name:
        return colours.front
    return colours.back if "back" in name else colours.other


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


# Words on the table


def paint_words(painter: QPainter, scene: Scene, view: View, brushes: Brushes) -> None:
    """Names of panels and pieces, of the lines across them, and lengths of edges."""
    if view.scale < NAMES_FROM:
        return
    _paint_cloths(painter, scene, view, brushes)
    titles = {piece.spec.panel: piece.spec.title for piece in scene.pieces}
    pieces = {piece.name: piece for piece in scene.pieces}
    for laid in scene.layout.laid:
        rest = scene.rest_of(laid, held=brushes.moving)
        if rest is None:
            continue
        if laid.kind == "piece":
            lines = label_lines(pieces[laid.name], manner=brushes.manner)
            if rest.grain:
                paint_grain(painter, rest.grain, laid.offset, view, brushes)
        else:
            title = titles.get(laid.name, plain(laid.name).capitalize())
            lines = (translate(title, brushes.manner),)
        middle = rest.place + laid.offset
        if laid.kind == "piece":
            middle = _beside_the_grain(rest.grain, rest.place) + laid.offset
        paint_label(
            painter, lines, view.screen(middle), rest.room * view.scale, brushes
        )
        if laid.kind == "draft":
            _paint_levels(painter, scene, laid, view, brushes)


def _paint_cloths(
    painter: QPainter, scene: Scene, view: View, brushes: Brushes
) -> None:
    """The name of each cloth over the pieces that are cut of it."""
    heaps = scene.layout.heaps()
    if len(heaps) < 2:
        return
    painter.setFont(letters(brushes.percent, -0.5, bold=True))
    painter.setPen(QColor(brushes.colours.faint))
    for heap in heaps:
        x, y = view.screen(Point(heap.box.left, heap.box.top))
        words = material_words(heap.material, brushes.manner)
        painter.drawText(QPointF(x, y - 9), words[:1].upper() + words[1:])


def _beside_the_grain(grain: Line | None, place: Point) -> Point:
    """The arrow stands to one side of the roomiest place, the words to the other."""
    if grain is None:
        return place
    away = place - grain.at(grain.length / 2)
    side = away - grain.start_direction * away.dot(grain.start_direction)
    return place + side * 0.35


def paint_label(
    painter: QPainter,
    lines: Sequence[str],
    middle: tuple[float, float],
    room: float,
    brushes: Brushes,
) -> None:
    """Lines of text round a place, the first bold; those that do not fit are left out.

    Args:
        painter: the table's.
        lines: as read.
        middle: px.
        room: clear way round the place, px.
        brushes: colours and text size.
    """
    head = letters(brushes.percent, 1.0, bold=True)
    body = letters(brushes.percent, -1.0)
    fonts = [head] + [body] * (len(lines) - 1)
    heights = [QFontMetricsF(font).height() for font in fonts]
    kept = [
        (line, font, height)
        for line, font, height in zip(lines, fonts, heights, strict=True)
        if QFontMetricsF(font).horizontalAdvance(line) <= 1.5 * room
    ]
    # As many lines as the room is high, the first before the rest.
    while kept and sum(height for _, _, height in kept) > 1.7 * room:
        kept.pop()
    y = middle[1] - sum(height for _, _, height in kept) / 2
    for index, (line, font, height) in enumerate(kept):
        painter.setFont(font)
        colours = brushes.colours
        painter.setPen(QColor(colours.ink if index == 0 else colours.faint))
        area = QRectF(middle[0] - 400, y, 800, height)
        painter.drawText(area, Qt.AlignmentFlag.AlignCenter, line)
        y += height


def _paint_levels(
    painter: QPainter, scene: Scene, laid: Laid, view: View, brushes: Brushes
) -> None:
    """Names of the lines across a panel, and lengths of its edges when near."""
    if view.scale < DETAIL_FROM:
        return
    panel = scene.panels[laid.name]
    font = letters(brushes.percent, -2.0)
    painter.setFont(font)
    painter.setPen(QColor(brushes.colours.faint))
    for mark in panel.marks:
        if isinstance(mark.shape, Chain) and mark.shape.length * view.scale > 60:
            x, y = view.screen(mark.shape.start + laid.offset)
            painter.drawText(
                QPointF(x + 7, y - 5), mark_name(mark.name, brushes.manner)
            )
    if view.scale < MEASURES_FROM or brushes.moving:
        return
    for edge in panel.edges:
        _paint_length(painter, edge.chain, laid.offset, view, brushes)


def mark_name(name: str, manner: Manner) -> str:
    """The name of a line across a panel, such as the hip line."""
    known = f"table.line.{name}"
    return say(known, {}, manner) if has_message(known) else plain(name)


def _paint_length(
    painter: QPainter, chain: Chain, offset: Point, view: View, brushes: Brushes
) -> None:
    """The length of an edge, along it and just inside the middle of it."""
    text = length_shown(chain.length, brushes.manner)
    across = QFontMetricsF(painter.font()).horizontalAdvance(text)
    longest = max(chain.segments, key=lambda segment: segment.length)
    if longest.length * view.scale < across + 40:
        return
    place = longest.at(longest.length * 0.62)
    along = longest.direction_at(longest.length * 0.62)
    angle = -along.heading_deg()
    if not -90 < angle <= 90:
        angle += 180 if angle <= -90 else -180
    painter.save()
    painter.translate(*view.screen(place + offset))
    painter.rotate(angle)
    painter.drawText(QPointF(-across / 2, -6), text)
    painter.restore()


def length_shown(mm: float, manner: Manner) -> str:
    """A length in her unit, with it."""
    fraction = manner.fraction if manner.unit == "in" else None
    return show_length(mm, manner.unit, fraction, with_unit=True)
