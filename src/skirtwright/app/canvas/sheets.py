"""The sheets an order takes, with the pieces laid on them.

While a print is made ready the pieces lie on their sheets, in the place where they
lay on the table: each sheet with its frame and its name, where two share a strip a
tint, and those that stay empty hatched, for they are left out.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QFontMetricsF, QPainter, QPainterPath, QPen

from skirtwright.app.canvas.drawing import (
    DETAIL_FROM,
    STROKES,
    Brushes,
    pen,
    screen_rect,
    shifted,
)
from skirtwright.app.canvas.lettering import fits, least_size, paint_words
from skirtwright.app.canvas.paths import add_segments
from skirtwright.app.canvas.view import View, box_round
from skirtwright.app.look import letters
from skirtwright.geometry.box import Box
from skirtwright.geometry.point import Point
from skirtwright.pieces.marks.notches import distances_out
from skirtwright.pieces.outline.room import roomiest_place
from skirtwright.words import say

if TYPE_CHECKING:
    from skirtwright.export import sheet as paper
    from skirtwright.export.full_size import FullSize
    from skirtwright.export.plotter import Plot
    from skirtwright.export.tiles import Tiling

    Printed = Tiling | FullSize | paper.Sheet | Plot
    """Pieces where they will lie on paper, for each kind of print."""

_SMALL = frozenset({"notch", "drill", "inside", "grain"})
_NOT_DRAWN = frozenset({"frame", "test"})
_LEAST_NAMED = 26.0
"""Pixels a sheet must measure before it is named."""

_SHADOW = 3.0

_FILLED = 0.85
"""Share of a piece's width that its name may fill."""

_FAR, _STEP = 240, 10
"""How far off a name is put at most, and in what steps, px."""


@dataclass(frozen=True)
class Frame:
    """A sheet of paper, or a part of a roll.

    Attributes:
        name: such as `A1`; may be empty.
        box: mm.
        blank: nothing is on it; it is left out.
        kept: it is there from a print before, and good.
    """

    name: str
    box: Box
    blank: bool = False
    kept: bool = False


@dataclass(frozen=True)
class Laid:
    """A piece on paper.

    Attributes:
        name: as read.
        place: for its name, the roomiest.
        across: how wide it is there, mm.
        along: how tall it is there, mm.
        body: its outline, to be filled.
        lines: for each kind of line, everything of that kind.
        solid: for each kind of line, small shapes to be filled.
    """

    name: str
    place: Point
    across: float
    along: float
    body: QPainterPath
    lines: dict[str, QPainterPath]
    solid: dict[str, QPainterPath]


@dataclass(frozen=True)
class Sheets:
    """Sheets with pieces on them; their upper left corner is at 0, 0.

    Attributes:
        frames: the sheets.
        pieces: what lies on them.
        shared: strips that two sheets have in common.
        box: round everything, mm.
    """

    frames: tuple[Frame, ...]
    pieces: tuple[Laid, ...]
    shared: tuple[Box, ...] = field(default=())

    @property
    def box(self) -> Box:
        """Round all sheets, mm."""
        return box_round(frame.box for frame in self.frames) or Box(0, 0, 1, 1)


def prepare(laid: Printed) -> Sheets:
    """Make paper ready to be painted.

    Args:
        laid: pieces where they will lie, for whichever kind of print.
    """
    sheet, frames = _frames(laid)
    whole = box_round(frame.box for frame in frames)
    corner = Point(whole.left, whole.top) if whole else Point(0.0, 0.0)
    moved = [replace(frame, box=frame.box.moved(-corner)) for frame in frames]
    pieces = [_piece(group, corner) for group in sheet.groups]
    return Sheets(tuple(moved), tuple(p for p in pieces if p), tuple(_shared(moved)))


def _frames(
    laid: Printed,
) -> tuple[paper.Sheet, list[Frame]]:
    from skirtwright.export.plotter import Plot
    from skirtwright.export.sheet import Sheet
    from skirtwright.export.tiles import Tiling

    if isinstance(laid, Sheet):
        # The first group of a page to be thrown is its grid and border.
        return laid, [Frame("", _box(laid.groups[0].outline_box))]
    if isinstance(laid, Tiling):
        tiles = [Frame(t.name, _box(t.window), t.blank, t.kept) for t in laid.tiles]
        return laid.sheet, tiles
    windows = laid.frames if isinstance(laid, Plot) else laid.windows
    many = len(windows) > 1
    named = [str(number) if many else "" for number in range(1, len(windows) + 1)]
    return laid.sheet, [
        Frame(name, _box(window)) for name, window in zip(named, windows, strict=True)
    ]


def _box(box: Box) -> Box:
    return Box(box.left, box.bottom, box.right, box.top)


def _piece(group: paper.Group, corner: Point) -> Laid | None:
    """A group of marks as paths; None for what is only the page's own furniture."""
    from skirtwright.export.sheet import Stroke, Text

    body = QPainterPath()
    lines: dict[str, QPainterPath] = {}
    solid: dict[str, QPainterPath] = {}
    for mark in group.marks:
        if isinstance(mark, Text) or mark.layer in _NOT_DRAWN:
            continue
        is_line = isinstance(mark, Stroke)
        kept = lines if is_line else solid
        closed = isinstance(mark, Stroke) and mark.closed
        path = kept.setdefault(mark.layer, QPainterPath())
        add_segments(path, mark.path, closed=closed)
        if closed and mark.layer in ("cutting", "stitching"):
            add_segments(body, mark.path, closed=True)
    if not lines:
        return None
    body.setFillRule(Qt.FillRule.WindingFill)
    for path in (body, *lines.values(), *solid.values()):
        path.translate(-corner.x, -corner.y)
    ring = _outline(group)
    place, room = roomiest_place(ring)
    across, along = _ways(ring, place)
    middle = _box(group.outline_box).middle
    wide, tall = _ways(ring, middle)
    if max(wide, tall) > max(across, along) and min(wide, tall) > room:
        place, across, along = middle, wide, tall
    return Laid(group.name, place - corner, across, along, body, lines, solid)


def _ways(ring: Sequence[Point], place: Point) -> tuple[float, float]:
    """How wide and how tall a piece is at a place, about it, mm."""
    found = []
    for way in (Point(1.0, 0.0), Point(0.0, 1.0)):
        ends = (distances_out(ring, place, each) for each in (way, -way))
        found.append(2 * min(min(each, default=0.0) for each in ends))
    return found[0], found[1]


def _outline(group: paper.Group) -> list[Point]:
    """The longest closed line of a piece, flattened."""
    closed = [mark.points(2.0) for mark in group.marks if getattr(mark, "closed", 0)]
    return max(closed, key=len) if closed else list(group.outline_box.corners)


def _shared(frames: Sequence[Frame]) -> Iterable[Box]:
    """What each sheet has in common with those after it."""
    used = [frame.box for frame in frames if not frame.blank]
    for index, one in enumerate(used):
        for other in used[index + 1 :]:
            left, right = max(one.left, other.left), min(one.right, other.right)
            low, high = max(one.bottom, other.bottom), min(one.top, other.top)
            # Those that meet only at a corner add nothing to see.
            if right - left > 0 and high - low > 0 and _is_strip(one, other):
                yield Box(left, low, right, high)


def _is_strip(one: Box, other: Box) -> bool:
    return one.left == other.left or one.bottom == other.bottom


# Painting


def paint_sheets(
    painter: QPainter, view: View, sheets: Sheets, place: Point, brushes: Brushes
) -> None:
    """Paper, pieces, then frames and names over both.

    Args:
        painter: the table's.
        sheets: what there is.
        place: of their upper left corner on the table.
        view: how the table is seen.
        brushes: colours, text size, manner.
    """
    colours = brushes.colours
    for frame in sheets.frames:
        if not frame.blank:
            area = screen_rect(frame.box.moved(place), view)
            painter.fillRect(
                area.translated(_SHADOW, _SHADOW), QColor(colours.paper_edge)
            )
    for frame in sheets.frames:
        if not frame.blank:
            area = screen_rect(frame.box.moved(place), view)
            ground = colours.mirror if frame.kept else colours.paper
            painter.fillRect(area, QColor(ground))
    painter.save()
    painter.setTransform(shifted(view, place))
    for piece in sheets.pieces:
        painter.fillPath(piece.body, QColor(colours.other))
    painter.restore()
    for strip in sheets.shared:
        area = screen_rect(strip.moved(place), view)
        painter.fillRect(area, QColor(colours.accent_tint))
    for frame in sheets.frames:
        _paint_frame(painter, frame, place, view, brushes)
        _paint_name(painter, frame, place, view, brushes)
    for piece in sheets.pieces:
        _paint_piece(painter, piece, place, view, brushes)
    _paint_names(painter, sheets, place, view, brushes)


def _paint_names(
    painter: QPainter, sheets: Sheets, place: Point, view: View, brushes: Brushes
) -> None:
    """Every piece's name on it; where it is too narrow as near to it as can be."""
    colours = brushes.colours
    taken: list[QRectF] = []
    bodies = [shifted(view, place).map(each.body) for each in sheets.pieces]
    for piece in sheets.pieces:
        room = (_FILLED * piece.across * view.scale, _FILLED * piece.along * view.scale)
        ground = QColor(colours.other)
        words = (piece.name, "")
        middle = view.screen(piece.place + place)
        if fits(piece.name, room, brushes):
            paint_words(painter, middle, words, "", room, brushes, ground)
            continue
        area = _beside(piece.name, middle, bodies, taken, brushes)
        taken.append(area)
        at = (area.center().x(), area.center().y())
        room, ground = (area.width() + 1, area.height() + 1), QColor(colours.paper)
        paint_words(painter, at, words, "", room, brushes, ground)


def _beside(
    name: str,
    middle: tuple[float, float],
    bodies: Sequence[QPainterPath],
    taken: Sequence[QRectF],
    brushes: Brushes,
) -> QRectF:
    """The nearest place clear of pieces for the name of what is too narrow for it."""
    wide, tall = least_size(name, brushes)
    steps = range(-_FAR, _FAR + 1, _STEP)
    places = [
        QRectF(middle[0] + x - wide / 2, middle[1] + y - tall / 2, wide, tall)
        for x in steps
        for y in steps
    ]
    places.sort(
        key=lambda area: math.dist((area.center().x(), area.center().y()), middle)
    )
    for area in places:
        if any(map(area.intersects, taken)):
            continue
        if not any(body.intersects(area) for body in bodies):
            return area
    return places[0]


def _paint_frame(
    painter: QPainter, frame: Frame, place: Point, view: View, brushes: Brushes
) -> None:
    area = screen_rect(frame.box.moved(place), view)
    colours = brushes.colours
    if frame.blank:
        hatched = QBrush(QColor(colours.paper_edge), Qt.BrushStyle.BDiagPattern)
        painter.fillRect(area, hatched)
        edge = QPen(QColor(colours.field_line), 1.0, Qt.PenStyle.DashLine)
    else:
        edge = QPen(QColor(colours.field_line), 1.2)
    painter.setPen(edge)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawRect(area)


def _paint_piece(
    painter: QPainter, piece: Laid, place: Point, view: View, brushes: Brushes
) -> None:
    far = view.scale < DETAIL_FROM
    painter.save()
    painter.setTransform(shifted(view, place))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    for kind, stroke in STROKES.items():
        path = piece.lines.get(kind)
        if path is not None and not (far and kind in _SMALL):
            painter.setPen(pen(stroke, brushes.colours, moving=brushes.moving))
            painter.drawPath(path)
    for kind, path in piece.solid.items():
        if not far and kind in STROKES:
            colour = getattr(brushes.colours, STROKES[kind].colour)
            painter.fillPath(path, QColor(colour))
    painter.restore()


def _paint_name(
    painter: QPainter, frame: Frame, place: Point, view: View, brushes: Brushes
) -> None:
    """The sheet's name in its corner, under the lines; one not printed says why."""
    area = screen_rect(frame.box.moved(place), view)
    if not frame.name or min(area.width(), area.height()) < _LEAST_NAMED:
        return
    colours = brushes.colours
    words = frame.name
    why = "left_out" if frame.blank else "kept" if frame.kept else ""
    font = letters(brushes.percent, -2.0, bold=not why)
    metrics = QFontMetricsF(font)
    room = metrics.horizontalAdvance
    if why:
        said = say(f"table.sheet_{why}", manner=brushes.manner)
        longer = f"{words} · {said}"
        words = longer if room(longer) + 16 < area.width() else words
    slip = QRectF(area.left() + 3, area.top() + 3, room(words) + 8, metrics.height())
    if frame.blank:
        painter.fillRect(slip, QColor(colours.ground))
    painter.setPen(QColor(colours.faint))
    painter.setFont(font)
    painter.drawText(slip, Qt.AlignmentFlag.AlignCenter, words)
