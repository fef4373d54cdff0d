"""Words on the table: names of panels, pieces, cloths and lines; lengths of edges."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import inf

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter

from skirtwright.app.canvas.drawing import (
    DETAIL_FROM,
    MEASURES_FROM,
    NAMES_FROM,
    Brushes,
    paint_grain,
)
from skirtwright.app.canvas.laying import ROW_GAP, Heap, Laid, Layout
from skirtwright.app.canvas.scene import Rest
from skirtwright.app.canvas.view import View
from skirtwright.app.look import letters
from skirtwright.draft.shapes.panel import Panel
from skirtwright.geometry.chain import Chain
from skirtwright.geometry.point import Point
from skirtwright.geometry.segment import Line
from skirtwright.measures.units import show_length
from skirtwright.pieces.piece import Piece
from skirtwright.pieces.wording.labels import label_lines, material_words
from skirtwright.telling.sentences import plain
from skirtwright.words import Manner, has_message, say, translate


def paint_names(
    painter: QPainter,
    laid: Laid,
    of: Panel | Piece,
    title: str,
    rest: Rest,
    view: View,
    brushes: Brushes,
) -> None:
    """The label of a panel or piece, its grain arrow, names of lines, lengths.

    Args:
        painter: the table's.
        laid: where it lies.
        of: the panel or piece.
        title: of the panel, as the style has it.
        rest: where label and arrow go.
        view: how the table is seen.
        brushes: colours, manner, text size.
    """
    if view.scale < NAMES_FROM:
        return
    lines: Sequence[str] = (translate(title, brushes.manner),)
    place = rest.place
    if not isinstance(of, Panel):
        lines = label_lines(of, manner=brushes.manner)
        place = _beside_the_grain(rest.grain, place)
    if rest.grain:
        paint_grain(painter, rest.grain, laid.offset, view, brushes)
    middle = view.screen(place + laid.offset)
    paint_label(painter, lines, middle, rest.room * view.scale, brushes)
    if isinstance(of, Panel):
        _paint_levels(painter, of, laid, view, brushes)


@dataclass(frozen=True)
class ClothName:
    """The name of a cloth over its pieces.

    Attributes:
        words: as read.
        left: px.
        foot: its baseline, px.
        area: that it covers, px.
    """

    words: str
    left: float
    foot: float
    area: QRectF


def cloth_names(layout: Layout, view: View, brushes: Brushes) -> Iterator[ClothName]:
    """The name of each cloth over the pieces cut of it, where there is room."""
    heaps = layout.heaps()
    if len(heaps) < 2:
        return
    metrics = QFontMetricsF(_cloth_font(brushes))
    if metrics.height() > ROW_GAP * view.scale:
        return
    for heap in heaps:
        words = material_words(heap.material, brushes.manner)
        words = words[:1].upper() + words[1:]
        free = [o.box.left - heap.box.left for o in heaps if _follows(o, heap)]
        wide = metrics.horizontalAdvance(words)
        if wide < min(free, default=inf) * view.scale:
            x, y = view.screen(Point(heap.box.left, heap.box.top))
            foot = y - 0.5 * metrics.descent() - 4
            area = QRectF(x, foot - metrics.ascent(), wide, metrics.height())
            yield ClothName(words, x, foot, area)


def paint_cloth(painter: QPainter, _: View, name: ClothName, brushes: Brushes) -> None:
    """The name of a cloth."""
    painter.setFont(_cloth_font(brushes))
    painter.setPen(QColor(brushes.colours.faint))
    painter.drawText(QPointF(name.left, name.foot), name.words)


def _cloth_font(brushes: Brushes) -> QFont:
    return letters(brushes.percent, -0.5, bold=True)


def _follows(other: Heap, heap: Heap) -> bool:
    """Whether a heap lies to the right of another in its row."""
    in_row = other.box.bottom < heap.box.top and heap.box.bottom < other.box.top
    return in_row and other.box.left > heap.box.left


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
    kept: list[tuple[str, QFont, float]] = []
    for number, line in enumerate(lines):
        font = body if number else head
        height = QFontMetricsF(font).height()
        kept += [(part, font, height) for part in parted(line, font, 1.5 * room)]
    # As many lines as the room is high, the first before the rest.
    while kept and sum(height for _, _, height in kept) > 1.7 * room:
        kept.pop()
    y = middle[1] - sum(height for _, _, height in kept) / 2
    for line, font, height in kept:
        painter.setFont(font)
        colours = brushes.colours
        painter.setPen(QColor(colours.ink if font is head else colours.faint))
        area = QRectF(middle[0] - 400, y, 800, height)
        painter.drawText(area, Qt.AlignmentFlag.AlignCenter, line)
        y += height


def parted(line: str, font: QFont, wide: float) -> tuple[str, ...]:
    """A line, or its two halves where it is too wide; nothing where they are, too."""
    metrics = QFontMetricsF(font)
    if metrics.horizontalAdvance(line) <= wide:
        return (line,)
    words = line.split()
    halves = [(" ".join(words[:n]), " ".join(words[n:])) for n in range(1, len(words))]
    least = min(
        halves,
        key=lambda pair: max(map(metrics.horizontalAdvance, pair)),
        default=(line,),
    )
    return least if max(map(metrics.horizontalAdvance, least)) <= wide else ()


def _paint_levels(
    painter: QPainter, panel: Panel, laid: Laid, view: View, brushes: Brushes
) -> None:
    """Names of the lines across a panel, and lengths of its edges when near."""
    if view.scale < DETAIL_FROM:
        return
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
