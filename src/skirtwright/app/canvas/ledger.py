"""The entries as they are painted: chalk level lines, a margin column, a dimension.

A length is drawn as ISO 129-1 draws it: between two short marks, arrows at both ends,
the value beside the unbroken line. No entry stands on a piece, or on another.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from PySide6.QtCore import QLineF, QPointF, QRectF
from PySide6.QtGui import (
    QColor,
    QPainter,
    QPainterPath,
    QPen,
    QPolygonF,
)

from skirtwright.app.canvas.drawing import Brushes
from skirtwright.app.canvas.entries import Entry, Level
from skirtwright.app.canvas.lettering import font_of, metrics_of, wide_of
from skirtwright.app.canvas.view import View
from skirtwright.geometry.point import Point
from skirtwright.measures.units import show_length, show_number
from skirtwright.words import Manner, say, translate

_WORD, _NUMBER, _FRACTION = 17, 25, 20
"""Sizes of the word beside an entry, of the entry and of its fraction, px."""

_GAP = 8.0
"""From a piece to the end of a chalk line, and from the word to its entry, px."""

_AWAY = (10.0, 22.0, 36.0, 54.0)
"""From an edge to the figure outside it, px."""

_SMALLER = (150, 125, 100)
"""Percents of ordinary text that are tried where larger letters have no room."""

_ASIDE = 30.0
"""From the back to its dimension, px."""


@dataclass(frozen=True)
class Written:
    """An entry where it is written.

    Attributes:
        word: before it.
        whole: the whole number, or the number.
        fraction: after it, smaller; in inches.
        area: that it covers, px.
        turned: it is read from the right, along an upright line.
        hot: it follows what is in hand.
        chosen: it has the keyboard, or the pointer is on it.
        percent: of ordinary text.
    """

    entry: Entry
    word: str
    whole: str
    fraction: str
    area: QRectF
    turned: bool = False
    hot: bool = False
    chosen: bool = False
    percent: int = 100


def number_of(
    entry: Entry, manner: Manner, value: float | None = None
) -> tuple[str, str]:
    """An entry as it is written: its whole part, and its fraction in inches.

    Args:
        value: another one, to be written as its own.
    """
    value = entry.value if value is None else value
    if entry.kind != "length":
        return show_number(value, 0 if entry.kind == "count" else 2), ""
    if manner.unit != "in":
        digits = 1 if manner.unit == "cm" else 0
        return show_length(value, manner.unit, None, digits=digits), ""
    whole, _, rest = show_length(value, "in", manner.fraction).partition(" ")
    return whole, rest


def word_of(entry: Entry, manner: Manner) -> str:
    """The small word beside an entry."""
    return _word(entry.name, entry.label, entry.drawn_up, manner)


@lru_cache(maxsize=128)
def _word(name: str, label: str, drawn_up: bool, manner: Manner) -> str:
    if label:
        label = translate(label, manner)
        return label[:1].lower() + label[1:]
    # Styles have the knee's level where their flare begins, seldom at her knee.
    known = "drawn_up" if drawn_up else "break" if name == "knee" else name
    return say(f"table.entry.{known}", {}, manner)


def _size(entry: Entry, before: str, brushes: Brushes) -> tuple[float, float]:
    """Width and height of an entry with its word before it, px."""
    percent = brushes.percent
    whole, rest = number_of(entry, brushes.manner)
    wide = wide_of(whole, _NUMBER, percent, True)
    wide += _GAP + wide_of(before, _WORD, percent, False) if before else 0
    if rest:
        wide += 3 + wide_of(rest, _FRACTION, percent, True)
    return wide + 4, metrics_of(_NUMBER, percent, True).height()


# Where each stands


def write(
    entries: Sequence[Entry],
    view: View,
    room: QRectF,
    column: float,
    pieces: Sequence[QPainterPath],
    taken: Sequence[QRectF],
    brushes: Brushes,
) -> list[Written]:
    """Every entry where it can be read: aside of pieces, points and each other.

    All are in her letters, or in smaller ones where some would have no room in those;
    where even so a word has none, the number stands alone on its line.

    Args:
        room: of the window, px.
        column: the left edge of the margin column, px.
        pieces: their outlines, px.
        taken: what else is not to be covered, px.
    """
    best: list[Written] = []
    percents = [brushes.percent, *(p for p in _SMALLER if p < brushes.percent)]
    ways = [(percent, False) for percent in percents] + [(percents[-1], True)]
    for percent, alone in ways:
        smaller = replace(brushes, percent=percent)
        found = _written(
            entries, view, room, column, pieces, taken, smaller, alone=alone
        )
        if not best or len(found) > len(best):
            best = found
        if len(best) == len(entries):
            break
    return best


def _written(
    entries: Sequence[Entry],
    view: View,
    room: QRectF,
    column: float,
    pieces: Sequence[QPainterPath],
    taken: Sequence[QRectF],
    brushes: Brushes,
    *,
    alone: bool,
) -> list[Written]:
    """The entries that have room in letters of one size; if need be numbers alone."""
    done: list[Written] = []
    lines = [view.screen(each.place)[1] for each in entries if each.where == "level"]
    dimensions = [(o, dimension_area(o, view)) for o in entries if o.ends]
    for entry in entries:
        covered = [*taken, *(each.area for each in done)]
        covered += [area for other, area in dimensions if other is not entry]
        free = (
            (word, area, turned)
            for word in _words(entry, brushes.manner, alone=alone)
            for area, turned in _places(
                entry, view, room, column, *_size(entry, word, brushes)
            )
            if room.contains(area)
            and not (entry.where == "level" and _is_struck(area, lines, brushes))
            and not any(map(area.intersects, covered))
            and not any(piece.intersects(area) for piece in pieces)
        )
        found = next(free, None)
        if found is None:
            continue
        word, area, turned = found
        whole, rest = number_of(entry, brushes.manner)
        made = Written(entry, word, whole, rest, area, turned, percent=brushes.percent)
        done.append(made)
    return done


def _words(entry: Entry, manner: Manner, *, alone: bool) -> tuple[str, ...]:
    """The word before an entry, and a shorter one for where that has no room.

    At the last its number stands alone on its line, rather than not at all.
    """
    words = [word_of(entry, manner)]
    if entry.drawn_up:
        words.append(_word(entry.name, entry.label, False, manner))
    if alone and entry.where in ("level", "length"):
        words.append("")
    return tuple(words)


def _is_struck(area: QRectF, lines: Sequence[float], brushes: Brushes) -> bool:
    """Whether a line goes through the figures written in an area, px."""
    metrics = metrics_of(_NUMBER, brushes.percent, True)
    foot = area.top() + metrics.ascent()
    return any(foot - metrics.capHeight() <= y <= foot for y in lines)


def _places(
    entry: Entry, view: View, room: QRectF, column: float, wide: float, tall: float
) -> Iterator[tuple[QRectF, bool]]:
    """Where an entry may stand, the best first; and whether it is turned there."""
    x, y = view.screen(entry.place)
    if entry.where == "length":
        # In a pull it stays as it stood, where there is room: it is not to flip.
        along = _along(entry, view, wide, tall)
        yield from sorted(along, key=lambda place: place[1] is not entry.turned)
    elif entry.where == "edge":
        yield from _outside(entry, view, wide, tall)
    elif entry.where == "corner":
        # Under the hem, on the side of the corner where its own piece lies.
        for left in (x - wide - 2, x + 2)[:: -entry.aside or 1]:
            for down in range(18, 90, 2):
                yield QRectF(left, y + down, wide, tall), False
    elif entry.where == "level":
        # Over the line or right under it, at the column or no further aside than a
        # longer figure must be, else in a gap between pieces.
        aside = range(round(column), round(room.left()) + 23, -16)
        lefts = (*aside, *_along_the_room(room, wide))
        for left, step in ((x, step) for x in lefts for step in (-tall - 2, -tall / 6)):
            yield QRectF(left, y + step, wide, tall), False
    else:
        lefts, lift = (column, room.left() + 24), tall + 10
        places = [(left, y - step * lift) for left in lefts for step in (1, 2)]
        for left, top in (*places, *_places_by_hem(y, room.left(), column)):
            yield QRectF(left, top, wide, tall), False
        for left in _along_the_room(room, wide):
            yield QRectF(left, y + 14, wide, tall), False


def _along_the_room(room: QRectF, wide: float) -> range:
    return range(round(room.left()) + 24, round(room.right() - wide), 16)


def _along(
    entry: Entry, view: View, wide: float, tall: float
) -> Iterator[tuple[QRectF, bool]]:
    """Beside a dimension, at its middle before elsewhere; upright before turned."""
    x, middle = view.screen(entry.place)
    right = x + _ASIDE
    low = view.screen(entry.ends[1])[1] if entry.ends else middle
    heights = [middle + share * (low - middle) for share in (0.0, 0.4, -0.4)]
    for y in heights:
        yield QRectF(right + 14, y - tall, wide, 2 * tall), False
    for y in heights:
        yield QRectF(right - tall - 2, y - wide / 2, tall, wide), True
        yield QRectF(right + 2, y - wide / 2, tall, wide), True


def _outside(
    entry: Entry, view: View, wide: float, tall: float
) -> Iterator[tuple[QRectF, bool]]:
    """Outside an edge, the nearest first."""
    for away in _AWAY:
        for place, out in entry.spots:
            x, y = view.screen(place)
            x += out.x * (wide / 2 + away)
            y -= out.y * (tall / 2 + away)
            yield QRectF(x - wide / 2, y - tall / 2, wide, tall), False
    for place, out in entry.spots:
        x, y = view.screen(place)
        x += out.x * (tall / 2 + _AWAY[0])
        y -= out.y * (wide / 2 + _AWAY[0])
        yield QRectF(x - tall / 2, y - wide / 2, tall, wide), True


def _places_by_hem(
    y: float, side: float, column: float
) -> Iterator[tuple[float, float]]:
    """Further places of what has no line: about the column, then down the side."""
    for left in range(round(column) - 48, round(column) + 96, 16):
        yield from ((left, y - up) for up in range(50, 150, 20))
    yield from ((side + 24, y + down) for down in range(0, 320, 20))


# Painting


def paint_level(
    painter: QPainter, view: View, level: Level, column: float, brushes: Brushes
) -> None:
    """A chalk line across both pieces, left off where they lie."""
    painter.setPen(QPen(QColor(brushes.colours.chalk), 1.2))
    y = view.screen(Point(0.0, level.height))[1]
    reached = column
    for left, right in level.spans:
        start = view.screen(Point(left, 0.0))[0] - _GAP
        if start - reached > _GAP:
            painter.drawLine(QLineF(reached, y, start, y))
        reached = max(reached, view.screen(Point(right, 0.0))[0] + _GAP)


def level_area(level: Level, view: View, column: float) -> QRectF:
    """What a chalk line covers, px."""
    y = view.screen(Point(0.0, level.height))[1]
    right = max(view.screen(Point(left, 0.0))[0] for left, _ in level.spans)
    return QRectF(column, y - 1, max(right - column, 0.0), 2)


def dimension_area(entry: Entry, view: View) -> QRectF:
    """What a dimension covers beside its value, px."""
    if entry.ends is None:
        return QRectF()
    (x, top), (_, low) = (view.screen(end) for end in entry.ends)
    return QRectF(x + _ASIDE - 9, top - 2, 18, low - top + 4)


def paint_dimension(
    painter: QPainter, view: View, entry: Entry, brushes: Brushes
) -> None:
    """A length between two places: marks, an unbroken line, arrows at both ends."""
    if entry.ends is None:
        return
    (x, top), (_, low) = (view.screen(end) for end in entry.ends)
    x += _ASIDE
    chalk = QColor(brushes.colours.chalk)
    painter.setPen(QPen(chalk, 1.2))
    painter.drawLine(QLineF(x, top, x, low))
    for y in (top, low):
        painter.drawLine(QLineF(x - 8, y, x + 8, y))
    painter.setBrush(chalk)
    for y, way in ((top, 1), (low, -1)):
        tip = QPointF(x, y)
        feet = [QPointF(x + side, y + 13 * way) for side in (-4, 4)]
        painter.drawPolygon(QPolygonF([tip, *feet]))


def paint_entry(painter: QPainter, _: View, written: Written, brushes: Brushes) -> None:
    """The word in quiet letters, then the entry; bold where she set it."""
    colours, entry, area = brushes.colours, written.entry, written.area
    percent, bold = written.percent, entry.given or written.hot
    ink = colours.accent if written.hot or written.chosen else colours.ink
    rows = [
        [(written.word, (_WORD, percent, False), colours.faint)],
        [(written.whole, (_NUMBER, percent, bold), ink)],
    ]
    if written.fraction:
        rows[1].append((f" {written.fraction}", (_FRACTION, percent, bold), ink))
    if entry.where != "length" or written.turned:
        before = [*rows[0], ("", (_WORD, percent, False), ink)] if written.word else []
        rows = [[*before, *rows[1]]]
    painter.save()
    if written.turned:
        painter.translate(area.left(), area.bottom())
        painter.rotate(-90)
        area = QRectF(0, 0, area.height(), area.width())
    rise = metrics_of(_NUMBER, percent, bold).ascent()
    foot = area.top() + (rise if len(rows) == 1 else area.height() / 2 - 6)
    for row in rows:
        x = area.left() + 2
        for text, kind, colour in row:
            if text:
                painter.setFont(font_of(*kind))
                painter.setPen(QColor(colour))
                painter.drawText(QPointF(x, foot), text)
            x += wide_of(text, *kind) if text else _GAP
        foot += rise
    painter.restore()
    if written.chosen:
        painter.setPen(QPen(QColor(colours.accent), 2.0))
        low = written.area.bottom() - 1
        painter.drawLine(QLineF(written.area.left(), low, written.area.right(), low))
