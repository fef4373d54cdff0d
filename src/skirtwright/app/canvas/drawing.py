"""Drawing what lies on the table: linen, paper with its shadow, lines.

Tints are opaque (half the time of translucent ones) and lines keep their width at
every distance. Lines are dashed only while nothing moves: dashes that crawl along a
moving line are slow to paint and worse to look at. Kinds of line differ in weight and
pattern, not in colour alone.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from PySide6.QtCore import QPointF, QRect, QRectF, Qt
from PySide6.QtGui import (
    QBrush,
    QColor,
    QImage,
    QPainter,
    QPainterPath,
    QPen,
    QTransform,
)

from skirtwright.app.canvas.laying import Laid
from skirtwright.app.canvas.paths import Prepared
from skirtwright.app.canvas.view import View
from skirtwright.app.look import Colours
from skirtwright.geometry.box import Box
from skirtwright.geometry.point import Point, reflect
from skirtwright.geometry.segment import Line
from skirtwright.words import Manner

DETAIL_FROM = 0.3
"""Pixels a mm from which small marks and inner lines are drawn."""


@dataclass(frozen=True)
class Stroke:
    """How a kind of line is drawn.

    Attributes:
        width: px.
        dashes: drawn and left out by turns, px; only at rest.
    """

    colour: str
    width: float
    dashes: tuple[float, ...] = ()


STROKES: dict[str, Stroke] = {
    "working": Stroke("pencil", 1.2, (9, 6)),
    "inside": Stroke("pencil", 1.2, (9, 6)),
    "lengthen": Stroke("pencil", 1.4, (2, 3)),
    "dart": Stroke("stitching", 1.6),
    "pleat": Stroke("stitching", 1.2),
    "fold": Stroke("stitching", 2.2),
    "grain": Stroke("stitching", 1.6, (9, 6)),
    "notch": Stroke("cutting", 1.8),
    "drill": Stroke("cutting", 1.4),
    "stitching": Stroke("stitching", 2.2),
    "cutting": Stroke("cutting", 2.4),
}
"""Beside a cutting line the stitching line is drawn lighter."""

_BESIDE_CUTTING = Stroke("stitching", 1.1)
_SMALL = frozenset({"notch", "drill", "grain", "working"})
_WEAVES = {
    "lining": Qt.BrushStyle.BDiagPattern,
    "interfacing": Qt.BrushStyle.Dense7Pattern,
}
"""Cloths that are told from the main one without their tint, too."""

_THREAD, _WOVEN, _WIDE = 4, 64, 1024
"""From one thread of the linen to the next; as much as is woven once; across, px."""

_SHADOW = 2.5
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


def shifted(view: View, offset: Point) -> QTransform:
    """From mm moved by an offset to the screen."""
    x, y = view.screen(offset)
    return QTransform(view.scale, 0, 0, -view.scale, x, y)


def transform(view: View, laid: Laid) -> QTransform:
    """From where a thing was drafted to the screen, turned over where it lies so."""
    x, y = view.screen(laid.offset)
    across = -view.scale if laid.turned else view.scale
    return QTransform(across, 0, 0, -view.scale, x, y)


def outline_of(
    laid: Laid,
    thing: Prepared,
    view: View,
    *,
    cutting: bool = False,
    mirrored: bool = True,
) -> QPainterPath:
    """All that a thing covers within its stitching line, px, with its other half.

    Args:
        cutting: within its cutting line instead.
        mirrored: with its other half, where it lies on the fold.
    """
    body = thing.cut if cutting else thing.body
    at = transform(view, laid)
    covered = at.map(body)
    covered.setFillRule(Qt.FillRule.WindingFill)
    if laid.fold and mirrored:
        covered.addPath(at.map(_mirrored(body, laid.fold)))
    return covered


@dataclass(frozen=True)
class Brushes:
    """What one painting of the table needs.

    Attributes:
        moving: True while something is pulled: no dashes, labels stay where they were.
        percent: her text size.
        cutting: allowances are shown, with notches, grain and drill marks.
    """

    colours: Colours
    manner: Manner
    moving: bool = False
    percent: int = 100
    cutting: bool = False


def paint_linen(painter: QPainter, _: View, area: QRect, brushes: Brushes) -> None:
    """The table itself, woven."""
    ratio = painter.device().devicePixelRatioF()
    painter.fillRect(area, _linen(brushes.colours, ratio))


@lru_cache(maxsize=4)
def _linen(colours: Colours, ratio: float) -> QBrush:
    """Linen for a screen of so many pixels to one of ours.

    A wide brush is laid down as quickly as a picture of the whole table (measured); a
    square one takes half as long again, one of a single thread five times as long.
    """
    side = round(_WOVEN * ratio)
    woven = QImage(side * _WIDE // _WOVEN, side, QImage.Format.Format_RGB32)
    woven.setDevicePixelRatio(side / _WOVEN)
    woven.fill(QColor(colours.ground))
    with QPainter(woven) as weaving:
        for thread in range(0, _WIDE, _THREAD):
            weaving.fillRect(0, thread, _WIDE, 1, QColor(colours.grid))
            weaving.fillRect(thread, 0, 1, _WOVEN, QColor(colours.grid))
    return QBrush(woven)


def screen_rect(box: Box, view: View) -> QRectF:
    """A box of the table on the screen."""
    left, top = view.screen(Point(box.left, box.top))
    return QRectF(left, top, box.width * view.scale, box.height * view.scale)


def lies_alike(one: Laid, other: Laid) -> bool:
    """Whether two are drawn alike, but for their lines: they lie and fold alike."""
    folds = [reflect(*laid.fold) if laid.fold else None for laid in (one, other)]
    alike = folds[0] == folds[1] and one.material == other.material
    return alike and (one.offset, one.turned) == (other.offset, other.turned)


def seen_boxes(boxes: Sequence[Box], laid: Laid, view: View) -> list[QRectF]:
    """Boxes as drafted on the screen, and again on the other half of a thing."""
    at = transform(view, laid)
    rects = [QRectF(b.left, b.bottom, b.width, b.height) for b in boxes]
    if laid.fold:
        over = _turned(laid.fold)
        rects += [over.mapRect(rect) for rect in rects]
    return [at.mapRect(rect) for rect in rects]


def paint_thing(
    painter: QPainter, laid: Laid, prepared: Prepared, view: View, brushes: Brushes
) -> None:
    """A panel or a piece on its shadow: its tint, then its lines, the heaviest last.

    While it moves the rims of its tints are not smoothed: that takes five times as long
    (measured), and the lines, which are, lie over them.
    """
    colours = brushes.colours
    at = transform(view, laid)
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, not brushes.moving)
    body = prepared.cut if brushes.cutting else prepared.body
    paper = QPainterPath(body)
    if laid.fold:
        paper.addPath(_mirrored(body, laid.fold))
        paper.setFillRule(Qt.FillRule.WindingFill)
    for away, tint in ((2 * _SHADOW, 0.35), (_SHADOW, 0.8)):
        painter.setTransform(at * QTransform.fromTranslate(0, away))
        painter.fillPath(paper, _mixed(colours.ground, colours.paper_edge, tint))
    painter.setTransform(at)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    if laid.fold:
        _paint_mirror(painter, laid.fold, body, prepared, brushes)
    painter.fillPath(body, QColor(tint_of(laid.material, colours)))
    if laid.material in _WEAVES:
        brush = QBrush(QColor(colours.weave), _WEAVES[laid.material])
        # As fine on the screen at every distance, and lying still on the piece.
        brush.setTransform(QTransform.fromScale(1 / view.scale, 1 / view.scale))
        painter.fillPath(body, brush)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    _paint_lines(painter, at, prepared, view, brushes)
    painter.restore()


def _paint_lines(
    painter: QPainter, at: QTransform, prepared: Prepared, view: View, brushes: Brushes
) -> None:
    known = prepared.cutting_lines if brushes.cutting else prepared.lines
    for kind, stroke in STROKES.items():
        path = known.get(kind)
        if path is None or (kind in _SMALL and view.scale < DETAIL_FROM):
            continue
        lighter = kind == "stitching" and brushes.cutting
        draw_line(painter, at, path, _BESIDE_CUTTING if lighter else stroke, brushes)
    if brushes.cutting and view.scale >= DETAIL_FROM:
        for kind, path in prepared.solid.items():
            colour = getattr(brushes.colours, STROKES[kind].colour)
            painter.fillPath(path, QColor(colour))


def _mirrored(path: QPainterPath, fold: tuple[Point, Point]) -> QPainterPath:
    return _turned(fold).map(path)


def _turned(fold: tuple[Point, Point]) -> QTransform:
    over = reflect(*fold)
    return QTransform(over.a, over.b, over.c, over.d, over.e, over.f)


def _paint_mirror(
    painter: QPainter,
    fold: tuple[Point, Point],
    body: QPainterPath,
    prepared: Prepared,
    brushes: Brushes,
) -> None:
    """The other half of a piece on the fold: faint, for it is not cut by itself."""
    other = _mirrored(body, fold)
    painter.fillPath(other, QColor(brushes.colours.mirror))
    smooth = painter.renderHints()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(edge_pen(mirror_line(brushes.colours), 1.0))
    painter.drawPath(other)
    if "dart" in prepared.lines:
        painter.drawPath(_mirrored(prepared.lines["dart"], fold))
    painter.setRenderHints(smooth)


def mirror_line(colours: Colours) -> QColor:
    """The line round the faint half."""
    return _mixed(colours.mirror, colours.pencil, 0.5)


def _mixed(first: str, second: str, share: float) -> QColor:
    """An opaque colour between two."""
    one, other = QColor(first), QColor(second)
    return QColor.fromRgbF(
        one.redF() + (other.redF() - one.redF()) * share,
        one.greenF() + (other.greenF() - one.greenF()) * share,
        one.blueF() + (other.blueF() - one.blueF()) * share,
    )


def draw_line(
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
    if not brushes.moving or stroke.width <= 1.2:
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


def tint_of(material: str, colours: Colours) -> str:
    """The tint of a panel or piece, by its cloth."""
    return str(getattr(colours, material)) if material in _WEAVES else colours.paper


def grain_area(line: Line, laid: Laid, view: View) -> QRectF:
    """What a grain arrow covers, px."""
    ends = [QPointF(*view.screen(laid.at(end))) for end in (line.start, line.end)]
    return QRectF(*ends).normalized().adjusted(-5, -2, 5, 2)


def paint_grain(
    painter: QPainter, line: Line, laid: Laid, view: View, brushes: Brushes
) -> None:
    """A grain arrow with heads at screen size."""
    stroke = STROKES["grain"]
    painter.setPen(pen(stroke, brushes.colours, moving=brushes.moving))
    ends = [QPointF(*view.screen(laid.at(end))) for end in (line.start, line.end)]
    painter.drawLine(*ends)
    painter.setPen(pen(stroke, brushes.colours, moving=True))
    along = laid.way(line.start_direction)
    for end, way in ((ends[0], -along), (ends[1], along)):
        for side in (way.left(), way.right()):
            barb = QPointF(
                end.x() - 9 * way.x + 4 * side.x, end.y() + 9 * way.y - 4 * side.y
            )
            painter.drawLine(end, barb)
