"""What is drawn while a point is pulled: the edges that follow, a lens, the value.

Lens and value stand beside the hand, and on no piece where there is room elsewhere; and
they stand still while the hand goes on.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from PySide6.QtCore import QLineF, QPointF, QRect, QRectF, Qt
from PySide6.QtGui import (
    QColor,
    QPainter,
    QPainterPath,
    QPen,
    QPixmap,
    QRegion,
)

from skirtwright.app.canvas.drawing import (
    Brushes,
    Stroke,
    draw_line,
    edge_pen,
    paint_linen,
    paint_thing,
    screen_rect,
    transform,
)
from skirtwright.app.canvas.free_places import is_bare, near_places
from skirtwright.app.canvas.laying import Laid
from skirtwright.app.canvas.lettering import font_of, length_shown, metrics_of, wide_of
from skirtwright.app.canvas.paths import Prepared, add_segments
from skirtwright.app.canvas.view import View
from skirtwright.draft.shapes.panel import Panel
from skirtwright.geometry.box import Box, box_of
from skirtwright.geometry.point import Point
from skirtwright.geometry.segment import Segment

LENS = 220.0
"""Across the lens, px."""

NEARER = 4.0
"""How much nearer the lens shows what is in it."""

_CLEAR = 34.0
"""From the hand to the rim of the lens at least, px."""

_LENS_REACH = 260.0
"""From the hand to a lens over bare cloth at most, px."""

_ROUND = 10.0
"""Round what the lens shows, mm: a line beside it may reach in, and none is thinner."""

_FOLLOWS = Stroke("accent", 2.2)
_DOTS = (2.0, 4.0)
_SCALES = {"cm": 20.0, "mm": 20.0, "in": 25.4}


# The edges that follow


@dataclass(frozen=True)
class Followed:
    """What of a thing's outline the hand has moved.

    Attributes:
        now: the parts that are another way now, as drafted.
        before: the same as they were at the press.
    """

    laid: Laid
    now: tuple[Segment, ...]
    before: tuple[Segment, ...]

    def area(self, view: View) -> QRectF:
        """All that it covers, px."""
        points = [p for each in (*self.now, *self.before) for p in each.points]
        box = box_of(points)
        drafted = QRectF(box.left, box.bottom, box.width, box.height)
        return transform(view, self.laid).mapRect(drafted)


def followed(laid: Laid, before: Panel, after: Panel) -> Followed | None:
    """What has moved of a panel's edges; None when nothing has."""
    if before is after:
        return None
    then = {edge.name: edge.chain for edge in before.edges}
    old: list[Segment] = []
    new: list[Segment] = []
    for edge in after.edges:
        was = then.get(edge.name)
        if was is not edge.chain:
            ends = was.segments if was else ()
            new += _others(edge.chain.segments, ends)
            old += _others(ends, edge.chain.segments)
    return Followed(laid, tuple(new), tuple(old)) if new else None


def _others(these: Sequence[Segment], those: Sequence[Segment]) -> list[Segment]:
    """Those of some segments that are none of others, which stand in the same order."""
    if len(these) != len(those):
        return [one for one in these if one not in those]
    pairs = zip(these, those, strict=True)
    return [one for one, other in pairs if one is not other and one != other]


def _path(segments: Sequence[Segment]) -> QPainterPath:
    path = QPainterPath()
    for segment in segments:
        add_segments(path, (segment,))
    return path


def _within(what: Followed, glass: QRectF, view: View) -> Followed:
    """As much of it as may be seen in a glass: dots on the rest take as long to set."""
    seen = transform(view, what.laid).inverted()[0].mapRect(glass)
    box = Box(seen.left(), seen.top(), seen.right(), seen.bottom()).grown(_ROUND)

    def shown(segments: Sequence[Segment]) -> tuple[Segment, ...]:
        return tuple(each for each in segments if box_of(each.points).meets(box))

    return replace(what, now=shown(what.now), before=shown(what.before))


def paint_followed(
    painter: QPainter, view: View, what: Followed, brushes: Brushes
) -> None:
    """The old line dotted, over it what follows the hand, in the accent."""
    at = painter.transform()
    painter.save()
    at_hand = transform(view, what.laid) * at
    painter.setTransform(at_hand)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    # Dots of one pixel are set ten times as quickly as wider ones.
    old = edge_pen(QColor(brushes.colours.faint), 1.0)
    old.setDashPattern(list(_DOTS))
    painter.setPen(old)
    painter.drawPath(_path(what.before))
    draw_line(painter, at_hand, _path(what.now), _FOLLOWS, brushes)
    painter.restore()


# The lens


@dataclass(frozen=True)
class Lens:
    """A round glass over the table.

    Attributes:
        middle: of it, px.
        hand: the place in hand, px.
        place: the same on the table, mm.
    """

    middle: tuple[float, float]
    hand: tuple[float, float]
    place: Point

    @property
    def area(self) -> QRectF:
        """Round it, px."""
        half = LENS / 2
        x, y = self.middle
        return QRectF(x - half, y - half, LENS, LENS)


def lens_for(
    hand: tuple[float, float],
    place: Point,
    hollow: float,
    room: QRectF,
    pieces: Sequence[QPainterPath],
    taken: Sequence[QRectF],
) -> Lens:
    """A lens beside the hand over bare cloth; where there is none, in the hollow.

    There it stands above the hand, else below it or beside.

    Args:
        hand: px.
        place: the same on the table, mm.
        hollow: the middle of the hollow between front and back, px.
        room: of the window, px.
        pieces: their outlines, px.
        taken: what else is not to be covered, px.
    """
    size, half, away = (LENS, LENS), LENS / 2 + 4, LENS / 2 + _CLEAR
    for off, area in near_places(hand, size, room, taken, _CLEAR):
        if off > _LENS_REACH:
            break
        if is_bare(area, pieces):
            return Lens((area.center().x(), area.center().y()), hand, place)
    left, right = room.left() + half, room.right() - half
    top, low = room.top() + half, room.bottom() - half

    def within(x: float, y: float) -> tuple[float, float]:
        return min(max(x, left), right), min(max(y, top), low)

    wanted = [within(hollow, hand[1] - away - 24), within(hollow, hand[1] + away + 24)]
    wanted += [within(hand[0] + step, hand[1]) for step in (away, -away)]
    clear = (w for w in wanted if math.dist(w, hand) >= away - 1)
    return Lens(next(clear, wanted[0]), hand, place)


def held(lens: Lens, hand: tuple[float, float], place: Point) -> Lens | None:
    """The same lens where it stands, for a hand that has gone on; None if too near."""
    is_clear = math.dist(lens.middle, hand) >= LENS / 2 + _CLEAR - 1
    return Lens(lens.middle, hand, place) if is_clear else None


def paint_lens(
    painter: QPainter,
    view: View,
    lens: Lens,
    things: tuple[tuple[Laid, Prepared], ...],
    moved: tuple[Followed, ...],
    brushes: Brushes,
) -> None:
    """What is about the hand, four times nearer; its rim lies over its edge."""
    painter.setPen(QPen(QColor(brushes.colours.accent), 1.4))
    painter.drawLine(QPointF(*lens.middle), QPointF(*lens.hand))
    scale, pixels = view.scale * NEARER, lens.area.toAlignedRect()
    x, y = lens.middle
    near = View(scale, lens.place.x - x / scale, lens.place.y + y / scale)
    ratio = painter.device().devicePixelRatioF()
    painter.setClipRegion(QRegion(pixels, QRegion.RegionType.Ellipse))
    seen = _seen_in(pixels, ratio, near, things, moved, brushes)
    painter.drawPixmap(pixels.topLeft(), seen)


def paint_rim(
    painter: QPainter, _: View, area: QRectF, scale: float, brushes: Brushes
) -> None:
    """The rim of a lens, the place in hand in its middle, a scale to read it by."""
    colours = brushes.colours
    painter.setBrush(QColor(colours.pull))
    painter.setPen(QPen(QColor(colours.paper), 2.0))
    painter.drawEllipse(area.center(), 8, 8)
    _paint_scale(painter, area, scale * NEARER, brushes)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(QColor(colours.chalk), 1.6))
    painter.drawEllipse(area)


def _seen_in(
    glass: QRect,
    ratio: float,
    view: View,
    things: Sequence[tuple[Laid, Prepared]],
    moved: Sequence[Followed],
    brushes: Brushes,
) -> QPixmap:
    """What is seen in a glass, square: to clip every line to a circle takes longer."""
    area, corner = QRectF(glass), glass.topLeft()
    seen = QPixmap(glass.size() * ratio)
    seen.setDevicePixelRatio(ratio)
    near = view.panned(-corner.x(), -corner.y())
    with QPainter(seen) as painter:
        painter.translate(-corner)
        paint_linen(painter, view, glass, brushes)
        painter.resetTransform()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for laid, thing in things:
            if screen_rect(laid.covered, view).intersects(area):
                shown = _without_hidden_half(laid, view, area)
                paint_thing(painter, shown, thing, near, brushes)
        for one in moved:
            paint_followed(painter, near, _within(one, area, view), brushes)
    return seen


def _without_hidden_half(laid: Laid, near: View, area: QRectF) -> Laid:
    """A thing whose other half does not reach into the lens is painted without it."""
    other = laid.other_half
    if other is None or screen_rect(other.grown(_ROUND), near).intersects(area):
        return laid
    return replace(laid, fold=None)


def _paint_scale(
    painter: QPainter, area: QRectF, scale: float, brushes: Brushes
) -> None:
    """A short way and how long it is, above the middle of the lens."""
    manner = brushes.manner
    long = _SCALES[manner.unit]
    while long * scale > 0.5 * area.width():
        long /= 2
    x, y = area.center().x() - 60, area.top() + 46
    painter.setPen(QPen(QColor(brushes.colours.faint), 1.4))
    painter.drawLine(QLineF(x, y, x + long * scale, y))
    for end in (x, x + long * scale):
        painter.drawLine(QLineF(end, y - 5, end, y + 5))
    painter.setFont(font_of(15, brushes.percent))
    painter.drawText(QPointF(x + long * scale + 7, y + 5), length_shown(long, manner))


# The value


@dataclass(frozen=True)
class Told:
    """What the label beside the hand says.

    Attributes:
        change: how much more or less than at the press; empty for nothing.
        below: a quiet line under the label; may be empty.
    """

    word: str
    number: str
    change: str = ""
    below: str = ""


def _kinds(brushes: Brushes) -> list[tuple[int, int, bool]]:
    """Letters of the word, the number and the change: px, percentage, heavier."""
    percent = brushes.percent
    return [(17, percent, False), (25, percent, True), (22, percent, False)]


def _parts(
    told: Told, brushes: Brushes
) -> Iterator[tuple[str, tuple[int, int, bool], str]]:
    word, number, change = _kinds(brushes)
    if told.word:
        yield told.word, word, brushes.colours.faint
    yield told.number, number, brushes.colours.ink
    if told.change:
        yield told.change, change, brushes.colours.accent


def told_size(told: Told, brushes: Brushes) -> tuple[float, float]:
    """Width and height of the label with the line under it, px."""
    below, number, _ = _kinds(brushes)
    wide = sum(wide_of(text, *kind) + 10 for text, kind, _ in _parts(told, brushes))
    wide = max(wide + 14, wide_of(told.below, *below) + 8)
    tall = metrics_of(*number).height() + 12
    return wide, tall + (metrics_of(*below).height() + 2 if told.below else 0)


def paint_told(
    painter: QPainter, _: View, told: Told, area: QRectF, brushes: Brushes
) -> None:
    """A slip of paper with the value, and the quiet line under it."""
    colours, (below, number) = brushes.colours, _kinds(brushes)[:2]
    tall = metrics_of(*number).height() + 12
    slip = QRectF(area.left(), area.top(), area.width(), tall)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QColor(colours.paper_edge))
    painter.drawRoundedRect(slip.translated(0, 2), 5, 5)
    painter.setBrush(QColor(colours.paper))
    painter.drawRoundedRect(slip, 5, 5)
    x = slip.left() + 12
    foot = slip.top() + 6 + metrics_of(*number).ascent()
    for text, kind, colour in _parts(told, brushes):
        painter.setFont(font_of(*kind))
        painter.setPen(QColor(colour))
        painter.drawText(QPointF(x, foot), text)
        x += wide_of(text, *kind) + 10
    if told.below:
        painter.setFont(font_of(*below))
        painter.setPen(QColor(colours.faint))
        rise = metrics_of(*below).ascent()
        painter.drawText(QPointF(slip.left() + 4, slip.bottom() + 2 + rise), told.below)
