"""Words on the table: the name of each piece on it, the name of a line, a length."""

from __future__ import annotations

from functools import cache, lru_cache

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter

from skirtwright.app.canvas.drawing import Brushes, paint_grain
from skirtwright.app.canvas.laying import GAP, Card, Laid
from skirtwright.app.canvas.scene import Rest
from skirtwright.app.canvas.view import View
from skirtwright.app.look import POINTS, letters
from skirtwright.draft.shapes.panel import Panel
from skirtwright.geometry.point import Point
from skirtwright.measures.units import show_length
from skirtwright.pieces.piece import Piece
from skirtwright.pieces.wording.labels import how_cut, material_words
from skirtwright.telling.names_in_words import plain
from skirtwright.words import Manner, has_message, say, translate

_NAME, _BELOW = 21, 16
"""Sizes of a piece's name and of the line below it, px."""

_ROUND = 12
"""Room above and below a name with a line under it, px."""

_LEAST = 15
"""The smallest letters on the table, px."""

_SIZES = (_NAME, _LEAST)

BESIDE = 48.0
"""Room beside a band or strip for its name and its length, px."""

_NARROW = 8.0
"""So many times as long as wide a piece has its name beside it."""


def sized(px: float) -> float:
    """The step from ordinary text to letters of a size, for `letters`."""
    return px * 0.75 - POINTS


@cache
def font_of(px: int, percent: int, bold: bool = False) -> QFont:
    """Letters of a size."""
    return letters(percent, sized(px), bold=bold)


@cache
def metrics_of(px: int, percent: int, bold: bool = False) -> QFontMetricsF:
    """How tall they are."""
    return QFontMetricsF(font_of(px, percent, bold))


@lru_cache(maxsize=512)
def wide_of(text: str, px: int, percent: int, bold: bool = False) -> float:
    """How wide a text is in them, px; kept, for it is shaped anew each time."""
    return metrics_of(px, percent, bold).horizontalAdvance(text)


def _extent(
    text: str, px: int, brushes: Brushes, *, bold: bool = False
) -> tuple[float, float]:
    """How wide and how tall a text is, px."""
    kind = (px, brushes.percent, bold)
    return wide_of(text, *kind), metrics_of(*kind).height()


def name_of(of: Panel | Piece, name: str, manner: Manner) -> tuple[str, str]:
    """A piece's name and the line below it: which half it is, or how it is cut."""
    if isinstance(of, Panel):
        return plain(name).capitalize(), ""
    title, _, half = translate(of.spec.title, manner).partition(", ")
    if half or of.spec.folds:
        return title, half or say("table.on_fold", {}, manner)
    return title, say("table.cut", {"how": how_cut(of, manner)}, manner)


def named_beside(laid: Laid, view: View, brushes: Brushes) -> bool:
    """Whether a piece is too narrow for its name and there is room beside it."""
    narrow = laid.seen.height > _NARROW * laid.seen.width
    return narrow and brushes.cutting and GAP * view.scale >= BESIDE - 8


def _paint_beside(
    painter: QPainter, laid: Laid, name: str, view: View, brushes: Brushes
) -> None:
    """A band's name along its right side, and how long it is within its seams."""
    x, y = view.screen(Point(laid.box.right, laid.seen.middle.y))
    words = (name, length_shown(laid.seen.height, brushes.manner))
    painter.save()
    painter.translate(x + BESIDE / 2, y)
    painter.rotate(-90)
    _write(painter, (0.0, 0.0), words, _LEAST, brushes)
    painter.restore()


def paint_name(
    painter: QPainter,
    laid: Laid,
    words: tuple[str, str],
    number: int,
    rest: Rest,
    view: View,
    brushes: Brushes,
) -> None:
    """The name of a piece where there is most room on it, at every size.

    Args:
        words: its name, and the line below that.
        number: it is told by where there is no room for its name.
        rest: where name and grain go.
    """
    if rest.grain and brushes.cutting:
        paint_grain(painter, rest.grain, laid, view, brushes)
    if named_beside(laid, view, brushes):
        _paint_beside(painter, laid, words[0], view, brushes)
        return
    middle = _middle(laid, rest, view, brushes)
    room = (0.85 * rest.across * view.scale, 0.85 * rest.along * view.scale)
    paint_words(painter, middle, words, str(number), room, brushes)


def _middle(
    laid: Laid, rest: Rest, view: View, brushes: Brushes
) -> tuple[float, float]:
    """Round which place a name stands on its piece, px."""
    x, y = view.screen(laid.at(rest.place))
    if rest.grain and brushes.cutting:
        # The arrow stands to one side of the roomiest place, the words to the other.
        arrow = view.screen(laid.at(rest.grain.at(rest.grain.length / 2)))
        x += 0.3 * rest.room * view.scale * (1 if x > arrow[0] else -1)
    return x, y


def name_area(
    laid: Laid, words: tuple[str, str], rest: Rest, view: View, brushes: Brushes
) -> QRectF:
    """What the name of a piece covers at most, px."""
    room = 0.85 * rest.across * view.scale
    names = [_extent(words[0], px, brushes, bold=True) for px in _SIZES]
    across = [each for each in names if each[0] <= room]
    (name, high), below = (across or names)[0], _extent(words[1], _BELOW, brushes)
    wide, tall = max(name, below[0]) + 8, high + below[1]
    if not across:
        wide, tall = tall, wide
    x, y = _middle(laid, rest, view, brushes)
    return QRectF(x - wide / 2, y - tall / 2, wide, tall)


def paint_words(
    painter: QPainter,
    middle: tuple[float, float],
    words: tuple[str, str],
    number: str,
    room: tuple[float, float],
    brushes: Brushes,
) -> None:
    """A name with the line below it, small if need be; else the name alone.

    Alone it stands across, else along, else small, else word under word, else its
    number does.

    Args:
        middle: of the words, px.
        words: the name, and the line below it.
        number: what it is told by where there is no room for the name.
        room: across, and along the piece, px.
    """
    sizes = [(px, *_extent(words[0], px, brushes, bold=True)) for px in _SIZES]
    below = _extent(words[1], _BELOW, brushes)
    for px, wide, tall in sizes:
        two, both = below[0] <= room[0], tall + below[1] + _ROUND
        if two and wide <= room[0] and both <= room[1]:
            _write(painter, middle, words, px, brushes)
            return
    for px, wide, tall in sizes:
        if wide <= room[0] and tall <= room[1]:
            _write(painter, middle, (words[0], ""), px, brushes)
            return
        if wide <= room[1] and tall <= room[0]:
            painter.save()
            painter.translate(*middle)
            painter.rotate(-90)
            _write(painter, (0.0, 0.0), (words[0], ""), px, brushes)
            painter.restore()
            return
    for px, _, tall in sizes:
        lines = _wrapped(words[0], font_of(px, brushes.percent, True), room[0])
        if lines and len(lines) * tall <= room[1]:
            _write(painter, middle, ("\n".join(lines), ""), px, brushes)
            return
    _write(painter, middle, (number, ""), _LEAST, brushes)


def _wrapped(name: str, font: QFont, wide: float) -> list[str]:
    """A name in lines of so many px at most; none where a word is wider."""
    metrics, lines = QFontMetricsF(font), [""]
    for word in name.split():
        longer = f"{lines[-1]} {word}".strip()
        if metrics.horizontalAdvance(longer) <= wide:
            lines[-1] = longer
        elif metrics.horizontalAdvance(word) <= wide:
            lines.append(word)
        else:
            return []
    return lines


def _write(
    painter: QPainter,
    middle: tuple[float, float],
    words: tuple[str, str],
    px: int,
    brushes: Brushes,
) -> None:
    """A name, and the quiet line below it, round a place."""
    percent, colours = brushes.percent, brushes.colours
    rows = [(x, (px, percent, True), colours.ink) for x in words[0].split("\n")]
    if words[1]:
        rows.append((words[1], (_BELOW, percent, False), colours.faint))
    heights = [metrics_of(*kind).height() for _, kind, _ in rows]
    top = middle[1] - sum(heights) / 2
    for (line, kind, colour), tall in zip(rows, heights, strict=True):
        painter.setFont(font_of(*kind))
        painter.setPen(QColor(colour))
        area = QRectF(middle[0] - 400, top, 800, tall)
        painter.drawText(area, Qt.AlignmentFlag.AlignCenter, line)
        top += tall


def card_title(card: Card, manner: Manner) -> str:
    """What a card of the stack is called."""
    if card.titles:
        # Left and right under the name of both, unless she gave one its own.
        known = (translate(title, manner).partition(", ")[0] for title in card.titles)
        return ", ".join(dict.fromkeys(known))
    own = f"table.card.{card.key}"
    if has_message(own):
        return say(own, {}, manner)
    words = material_words(card.material, manner)
    return words[:1].upper() + words[1:]


def cut_short(line: str, font: QFont, wide: float) -> str:
    """A line that fits, ended with dots where it would not."""
    return QFontMetricsF(font).elidedText(line, Qt.TextElideMode.ElideRight, wide)


def mark_name(name: str, manner: Manner) -> str:
    """The name of a line across a panel, such as the hip line."""
    known = f"table.line.{name}"
    return say(known, {}, manner) if has_message(known) else plain(name)


def length_shown(mm: float, manner: Manner) -> str:
    """A length in her unit, with it."""
    fraction = manner.fraction if manner.unit == "in" else None
    return show_length(mm, manner.unit, fraction, with_unit=True)
