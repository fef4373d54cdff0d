"""What is drawn while a point is pulled: the edges that follow, a lens, the value.

The lens stands in the hollow, the value beside the hand, and neither on a piece where
there is room elsewhere.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from heapq import merge

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPainterPath, QPen

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
from skirtwright.app.canvas.laying import Laid
from skirtwright.app.canvas.lettering import length_shown, sized
from skirtwright.app.canvas.paths import Prepared, add_segments
from skirtwright.app.canvas.view import View
from skirtwright.app.look import letters
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

_BESIDE = 20.0
"""From the hand to its label at least, px."""

_ROUND = 10.0
"""Round what the lens shows, mm: a line beside it may reach in, and none is thinner."""

_GRID = 24
_FOLLOWS = Stroke("accent", 2.2)
_DOTS = (2.0, 4.0)
_SCALES = {"cm": 20.0, "mm": 20.0, "in": 25.4}


# The edges that follow


@dataclass(frozen=True)
class Followed:
    """What of a thing's outline the hand has moved.

    Attributes:
        laid: how the thing lies.
        now: the parts that are another way now, as drafted.
        before: the same as they were at the press.
    """

    laid: Laid
    now: tuple[Segment, ...]
    before: tuple[Segment, ...]


def followed(laid: Laid, before: Panel, after: Panel) -> Followed | None:
    """What has moved of a panel's edges; None when nothing has."""
    if before is after:
        return None
    old, new = _segments(before), _segments(after)
    now = tuple(segment for segment in new if segment not in old)
    return Followed(laid, now, tuple(s for s in old if s not in new)) if now else None


def _segments(panel: Panel) -> dict[Segment, None]:
    """In order, each once."""
    edges = panel.edges
    return dict.fromkeys(s for edge in edges for s in edge.chain.segments)


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
    mine = transform(view, what.laid) * at
    painter.setTransform(mine)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    # Dots of one pixel are set ten times as quickly as wider ones.
    old = edge_pen(QColor(brushes.colours.faint), 1.0)
    old.setDashPattern(list(_DOTS))
    painter.setPen(old)
    painter.drawPath(_path(what.before))
    draw_line(painter, mine, _path(what.now), _FOLLOWS, brushes)
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
    hand: tuple[float, float], place: Point, hollow: float, room: QRectF
) -> Lens:
    """A lens in the hollow, above the hand; else below it or beside.

    Args:
        hand: px.
        place: the same on the table, mm.
        hollow: the middle of the hollow between front and back, px.
        room: of the window, px.
    """
    half, away = LENS / 2 + 4, LENS / 2 + _CLEAR
    left, right = room.left() + half, room.right() - half
    top, low = room.top() + half, room.bottom() - half

    def within(x: float, y: float) -> tuple[float, float]:
        return min(max(x, left), right), min(max(y, top), low)

    wanted = [within(hollow, hand[1] - away - 24), within(hollow, hand[1] + away + 24)]
    wanted += [within(hand[0] + step, hand[1]) for step in (away, -away)]
    clear = (w for w in wanted if math.dist(w, hand) >= away - 1)
    return Lens(next(clear, wanted[0]), hand, place)


def paint_lens(
    painter: QPainter,
    view: View,
    lens: Lens,
    things: tuple[tuple[Laid, Prepared], ...],
    moved: tuple[Followed, ...],
    brushes: Brushes,
) -> None:
    """What is about the hand, four times nearer, with a scale to read it by."""
    colours, area = brushes.colours, lens.area
    painter.setPen(QPen(QColor(colours.accent), 1.4))
    painter.drawLine(QPointF(*lens.middle), QPointF(*lens.hand))
    round_glass = QPainterPath()
    round_glass.addEllipse(area)
    scale = view.scale * NEARER
    x, y = lens.middle
    near = View(scale, lens.place.x - x / scale, lens.place.y + y / scale)
    painter.save()
    painter.setClipPath(round_glass)
    paint_linen(painter, near, area.toAlignedRect(), brushes)
    for laid, thing in things:
        if screen_rect(laid.covered, near).intersects(area):
            paint_thing(painter, laid, thing, near, brushes)
    for one in moved:
        paint_followed(painter, near, _within(one, area, near), brushes)
    painter.restore()
    painter.setBrush(QColor(colours.pull))
    painter.setPen(QPen(QColor(colours.paper), 2.0))
    painter.drawEllipse(QPointF(x, y), 8, 8)
    _paint_scale(painter, area, scale, brushes)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(QColor(colours.chalk), 1.6))
    painter.drawEllipse(area)


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
    painter.setFont(letters(brushes.percent, sized(15)))
    painter.drawText(QPointF(x + long * scale + 7, y + 5), length_shown(long, manner))


# The value


@dataclass(frozen=True)
class Told:
    """What the label beside the hand says.

    Attributes:
        word: what is measured.
        number: its value.
        change: how much more or less than at the press; empty for nothing.
        below: a quiet line under the label; may be empty.
    """

    word: str
    number: str
    change: str = ""
    below: str = ""


def _fonts(brushes: Brushes) -> tuple[QFont, QFont, QFont]:
    percent = brushes.percent
    return (
        letters(percent, sized(17)),
        letters(percent, sized(25), bold=True),
        letters(percent, sized(22)),
    )


def _parts(told: Told, brushes: Brushes) -> Iterator[tuple[str, QFont, str]]:
    word, number, change = _fonts(brushes)
    if told.word:
        yield told.word, word, brushes.colours.faint
    yield told.number, number, brushes.colours.ink
    if told.change:
        yield told.change, change, brushes.colours.accent


def told_size(told: Told, brushes: Brushes) -> tuple[float, float]:
    """Width and height of the label with the line under it, px."""
    parts = list(_parts(told, brushes))
    wide = sum(
        QFontMetricsF(font).horizontalAdvance(text) + 10 for text, font, _ in parts
    )
    below = QFontMetricsF(_fonts(brushes)[0])
    wide = max(wide + 14, below.horizontalAdvance(told.below) + 8)
    tall = QFontMetricsF(_fonts(brushes)[1]).height() + 12
    return wide, tall + (below.height() + 2 if told.below else 0)


def place_for(
    hand: tuple[float, float],
    size: tuple[float, float],
    room: QRectF,
    pieces: Sequence[QPainterPath],
    taken: Sequence[QRectF],
    *,
    leader: bool = False,
) -> QRectF:
    """The nearest place beside the hand that covers no piece and nothing that is taken.

    Args:
        hand: px.
        size: of the label, px.
        room: of the window, px.
        pieces: their outlines, px.
        taken: what else is not to be covered, px.
        leader: a line leads there from the hand, and crosses nothing that is taken.
    """
    wide, tall = size
    across = range(round(room.left()) + 4, round(room.right() - wide) - 3, _GRID)
    down = range(round(room.top()) + 4, round(room.bottom() - tall) - 3, _GRID)
    columns = sorted((_aside(hand[0], x, x + wide) ** 2, x) for x in across)
    rows = [(_aside(hand[1], y, y + tall) ** 2, y) for y in down]
    # Of more than a thousand only the nearest few are looked at.
    first: QRectF | None = None
    for away, x, y in merge(*(_row(columns, off, y) for off, y in rows)):
        if away < _BESIDE**2:
            continue
        area = QRectF(x, y, wide, tall)
        if any(map(area.intersects, taken)):
            continue
        if leader and _crosses(hand, area, taken):
            continue
        first = first or area
        if not any(piece.intersects(area) for piece in pieces):
            return area
    return first or QRectF(room.left() + 4, room.bottom() - tall - 4, wide, tall)


def _row(
    columns: Sequence[tuple[float, int]], off: float, y: int
) -> Iterator[tuple[float, int, int]]:
    """The places of a row, the nearest first: how far away, squared, and where."""
    return ((away + off, x, y) for away, x in columns)


def _crosses(hand: tuple[float, float], area: QRectF, taken: Sequence[QRectF]) -> bool:
    """Whether a line from the hand to an area crosses what it does not begin in."""
    start, end = QPointF(*hand), area.center()
    places = [start + (end - start) * (step / 24) for step in range(25)]
    others = [other for other in taken if not other.contains(start)]
    return any(other.contains(place) for other in others for place in places)


def _aside(place: float, least: float, most: float) -> float:
    """How far a place lies outside of two limits."""
    return max(least - place, 0.0, place - most)


def paint_told(
    painter: QPainter, _: View, told: Told, area: QRectF, brushes: Brushes
) -> None:
    """A slip of paper with the value, and the quiet line under it."""
    colours = brushes.colours
    tall = QFontMetricsF(_fonts(brushes)[1]).height() + 12
    slip = QRectF(area.left(), area.top(), area.width(), tall)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QColor(colours.paper_edge))
    painter.drawRoundedRect(slip.translated(0, 2), 5, 5)
    painter.setBrush(QColor(colours.paper))
    painter.drawRoundedRect(slip, 5, 5)
    x = slip.left() + 12
    foot = slip.top() + 6 + QFontMetricsF(_fonts(brushes)[1]).ascent()
    for text, font, colour in _parts(told, brushes):
        painter.setFont(font)
        painter.setPen(QColor(colour))
        painter.drawText(QPointF(x, foot), text)
        x += QFontMetricsF(font).horizontalAdvance(text) + 10
    if told.below:
        painter.setFont(_fonts(brushes)[0])
        painter.setPen(QColor(colours.faint))
        rise = QFontMetricsF(_fonts(brushes)[0]).ascent()
        painter.drawText(QPointF(slip.left() + 4, slip.bottom() + 2 + rise), told.below)
