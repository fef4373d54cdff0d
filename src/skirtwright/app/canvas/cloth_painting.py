"""The cloths painted: woven along their length, their edges named, pieces on them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from PySide6.QtCore import QPointF, QRect, QRectF, Qt
from PySide6.QtGui import (
    QBrush,
    QColor,
    QFont,
    QFontMetricsF,
    QPainter,
    QPainterPath,
    QPen,
    QPolygonF,
    QTransform,
)

from skirtwright.app.canvas.drawing import Brushes, edge_pen, screen_rect, tint_of
from skirtwright.app.canvas.frame import Item
from skirtwright.app.canvas.laid_cloths import (
    LEAST_WIDE,
    LEFT,
    RIGHT,
    RULER,
    TITLE,
    Cloths,
    Key,
    Spread,
    keys_of,
    span,
)
from skirtwright.app.canvas.lettering import cut_short, length_shown, paint_words, sized
from skirtwright.app.canvas.view import View, nice_step
from skirtwright.app.look import letters
from skirtwright.export.lay_words import lay_title, where_it_lies
from skirtwright.geometry import Point
from skirtwright.lay.lay import Placed
from skirtwright.measures.units import MM_PER, show_number
from skirtwright.words import Manner, say, says, translate

_NAME, _SMALL = 19, 15
"""Sizes of a cloth's name and of all else on it, px."""

_STEPS = {
    "cm": (50.0, 100.0, 200.0, 500.0, 1000.0),
    "in": tuple(MM_PER["in"] * n for n in (1, 3, 6, 9, 18, 36)),
}
"""Between two figures of the measure from the end, mm."""

_ROOM_FOR_GRAIN = 18.0
"""A narrower piece has its name alone, px: the weave shows the grain."""

_BETWEEN_PARTS = " · "
"""Of what is told of a cloth, the weightiest part first."""

_FIGURE_APART = 54.0
"""px."""


@dataclass(frozen=True)
class ClothShown:
    """A cloth as it is painted.

    Attributes:
        spread: it.
        sure: it is laid as the order stands.
        share: of the laying that is done.
    """

    spread: Spread
    sure: bool
    share: float


@dataclass(frozen=True)
class PieceShown:
    """A piece as it is painted on its cloth.

    Attributes:
        placed: it.
        spread: the cloth it lies on.
        number: of the cut list.
        wrong: it overlaps another or lies off the cloth.
        chosen, hovered: by the hand.
    """

    placed: Placed
    spread: Spread
    number: int
    wrong: bool
    chosen: bool
    hovered: bool


def cloth_items(
    cloths: Cloths,
    numbers: Mapping[str, int],
    view: View,
    within: QRect,
    brushes: Brushes,
) -> Iterator[Item]:
    """The cloths, then the pieces on them, what is in hand last."""
    wrong = {key for fault in cloths.wrong for key in keys_of(fault)}
    over: list[Item] = []
    for one in cloths.seen():
        material = one.lay.cloth.material
        sure = material in cloths.sure
        share = 1.0 if sure else cloths.share
        area = screen_rect(one.box, view).adjusted(-LEFT, -TITLE - 8, RIGHT, RULER + 8)
        area.setWidth(max(area.width(), LEFT + LEAST_WIDE))
        shown = ClothShown(one, sure, share)
        leans = (shown, brushes)
        key = ("cloth", material)
        yield Item(key, area.toAlignedRect() & within, _paint_cloth, leans, kept=True)
        for placed in one.lay.placed:
            key_of: Key = (material, *placed.key)
            held = cloths.held is not None and cloths.held.key == key_of
            piece = PieceShown(
                placed,
                replace(one, lay=replace(one.lay, placed=())),
                numbers.get(placed.copy.piece.name, 0),
                key_of in wrong,
                key_of == cloths.chosen,
                key_of == cloths.hovered,
            )
            ring = _ring(piece, view)
            rect = ring.boundingRect().toAlignedRect().adjusted(-8, -8, 8, 8)
            item = Item(("laid", *key_of), rect & within, paint_laid, (piece, brushes))
            if held or piece.chosen:
                over.append(item)
            elif not item.area.isEmpty():
                yield item
    yield from over


def _ring(piece: PieceShown, view: View) -> QPolygonF:
    home = piece.spread.home
    places = (view.screen(home(p)) for p in piece.placed.outline)
    return QPolygonF([QPointF(*place) for place in places])


def piece_sentence(cloths: Cloths, manner: Manner) -> str:
    """What is wrong with a piece that is pointed at or chosen, or where it lies."""
    key = cloths.hovered or cloths.chosen
    found = cloths.find(key)
    if key is None or found is None:
        return says(cloths.wrong[0].problem, manner) if cloths.wrong else ""
    told = [says(problem, manner) for problem in cloths.wrong_with(key)]
    if not told:
        name = translate(found[1].copy.piece.spec.title, manner)
        told = [f"{name}.", where_it_lies(found[1], found[0].lay, manner)]
    return " ".join([*told, say("cloths.keys", {}, manner)])


# A cloth


def _paint_cloth(
    painter: QPainter, view: View, shown: ClothShown, brushes: Brushes
) -> None:
    colours, one = brushes.colours, shown.spread
    area = screen_rect(one.box, view)
    painter.fillRect(area.translated(0, 3), QColor(colours.paper_edge))
    painter.fillRect(area, _ground(one, brushes))
    painter.fillRect(area, _weave(area, brushes))
    _paint_repeats(painter, view, one, brushes)
    _paint_edges(painter, view, area, one, brushes)
    _paint_measure(painter, view, area, one, brushes)
    _paint_title(painter, area, shown, brushes)


def _ground(one: Spread, brushes: Brushes) -> QColor:
    material, colours = one.lay.cloth.material, brushes.colours
    tint = tint_of(material, colours)
    return QColor(colours.cloth if tint == colours.paper else tint)


def _weave(area: QRectF, brushes: Brushes) -> QBrush:
    """Threads along the grain, which runs with the length of the cloth."""
    colour = QColor(brushes.colours.weave)
    colour.setAlpha(150)
    brush = QBrush(colour, Qt.BrushStyle.HorPattern)
    brush.setTransform(QTransform.fromTranslate(area.left(), area.top()))
    return brush


def _paint_repeats(
    painter: QPainter, view: View, one: Spread, brushes: Brushes
) -> None:
    """Where each repeat of a stripe, check or print begins."""
    cloth, home = one.lay.cloth, one.home
    painter.setPen(edge_pen(QColor(brushes.colours.pencil), 0.8))

    def line(a: Point, b: Point) -> None:
        ends = [QPointF(*view.screen(home(p))) for p in (a, b)]
        painter.drawLine(*ends)

    for y in _multiples(cloth.repeat_along, 0.0, one.long):
        line(Point(0, y), Point(one.wide, y))
    for x in _multiples(cloth.repeat_across, cloth.pattern_begins, one.wide):
        line(Point(x, 0), Point(x, one.long))


def _multiples(step: float, begins: float, most: float) -> Iterator[float]:
    """The places from 0 to `most` that lie whole steps from where it begins."""
    if step:
        at = begins % step
        while at < most:
            if at > 0:
                yield at
            at += step


def _paint_edges(
    painter: QPainter, view: View, area: QRectF, one: Spread, brushes: Brushes
) -> None:
    """Fold, selvedges and cut end, each with its name and its own kind of line."""
    colours, cloth, manner = brushes.colours, one.lay.cloth, brushes.manner
    painter.setPen(edge_pen(QColor(colours.pencil), 1.2))
    painter.drawRect(area)
    painter.setFont(letters(brushes.percent, sized(_SMALL)))
    selvedge = cloth.selvedge * view.scale
    lengthwise = cloth.fold == "lengthwise"
    free = [(area.bottom() - selvedge, area.bottom())]
    if not lengthwise:
        free.append((area.top(), area.top() + selvedge))
    dots = QPen(QColor(colours.pencil), 1.0, Qt.PenStyle.DotLine)
    for low, high in free:
        painter.setPen(dots)
        inner = low if high == area.bottom() else high
        painter.drawLine(QPointF(area.left(), inner), QPointF(area.right(), inner))
    heavy = edge_pen(QColor(colours.fold), 5.0)
    heavy.setCapStyle(Qt.PenCapStyle.FlatCap)
    painter.setPen(heavy)
    if lengthwise:
        painter.drawLine(area.topLeft(), area.topRight())
    elif cloth.fold == "crosswise":
        painter.drawLine(area.topLeft(), area.bottomLeft())
    names = {
        "lengthwise": ("fold", "selvedge", "cut_end"),
        "crosswise": ("selvedge", "selvedge", "fold"),
        "single": ("selvedge", "selvedge", "cut_end"),
    }[cloth.fold]
    words = [say(f"cloths.{name}", {}, manner) for name in names]
    painter.setPen(QColor(colours.faint))
    _write_along(painter, area, words)
    if cloth.one_way:
        _paint_nap(painter, area, brushes)


def _write_along(painter: QPainter, area: QRectF, words: list[str]) -> None:
    """The names of the far, the near and the left edge."""
    metrics = QFontMetricsF(painter.font())
    far, near = area.top() + metrics.ascent() - 2, area.bottom() - metrics.descent()
    for word, y in zip(words, (far, near), strict=False):
        painter.drawText(QPointF(area.right() + 8, y), word)
    painter.save()
    painter.translate(area.left() - 8, area.center().y())
    painter.rotate(-90)
    wide = metrics.horizontalAdvance(words[2])
    painter.drawText(QPointF(-wide / 2, -metrics.descent()), words[2])
    painter.restore()


def _paint_nap(painter: QPainter, area: QRectF, brushes: Brushes) -> None:
    """Which way the upper edges of all pieces lie."""
    words = say("cloths.nap", {}, brushes.manner)
    metrics = QFontMetricsF(painter.font())
    left, y = area.right() + 8, area.center().y()
    painter.setPen(QColor(brushes.colours.ink))
    painter.drawText(QPointF(left, y - 12), words)
    painter.setPen(edge_pen(QColor(brushes.colours.ink), 2.0))
    tip = QPointF(left + max(metrics.horizontalAdvance(words), 40.0), y)
    painter.drawLine(QPointF(left, y), tip)
    for side in (-6, 6):
        painter.drawLine(tip, QPointF(tip.x() - 10, y + side))


def _paint_measure(
    painter: QPainter, view: View, area: QRectF, one: Spread, brushes: Brushes
) -> None:
    """How far from the end, along the edge nearest to her; and where the lay ends."""
    colours, manner = brushes.colours, brushes.manner
    unit = "in" if manner.unit == "in" else "cm"
    steps = [step * view.scale for step in _STEPS[unit]]
    step = nice_step(_FIGURE_APART, steps) / view.scale
    font = letters(brushes.percent, sized(_SMALL))
    metrics = QFontMetricsF(font)
    painter.setFont(font)
    painter.setPen(edge_pen(QColor(colours.chalk), 1.2))
    top, number = area.bottom() + 4, 0
    end = area.left() + one.lay.reach * view.scale
    while number * step <= one.long + 0.01:
        x = area.left() + number * step * view.scale
        painter.drawLine(QPointF(x, top), QPointF(x, top + 7))
        words = show_number(number * step / MM_PER[unit], 0)
        words = f"{words} {unit}" if number == 0 else words
        wide = metrics.horizontalAdvance(words)
        # The line where the lay ends goes through no figure.
        if not one.lay.placed or abs(end - x) > wide / 2 + 3:
            painter.drawText(QPointF(x - wide / 2, top + 8 + metrics.ascent()), words)
        number += 1
    if one.lay.placed:
        painter.setPen(edge_pen(QColor(colours.ink), 1.6))
        foot = top + 8 + metrics.height()
        painter.drawLine(QPointF(end, area.top()), QPointF(end, foot))
        words = length_shown(one.lay.reach, manner)
        wide = metrics.horizontalAdvance(words)
        painter.drawText(QPointF(end - wide / 2, foot + metrics.ascent()), words)


def _paint_title(
    painter: QPainter, area: QRectF, shown: ClothShown, brushes: Brushes
) -> None:
    """Which cloth it is, how it lies and how much is taken, over it."""
    manner = brushes.manner
    title, taken = lay_title(shown.spread.lay, manner, sure=shown.sure)
    if shown.share < 1:
        done = say("cloths.share", {"share": shown.share}, manner)
        taken = f"{taken}{_BETWEEN_PARTS}{done}"
    bold = letters(brushes.percent, sized(_NAME), bold=True)
    plain = letters(brushes.percent, sized(_SMALL))
    foot = area.top() - 10
    painter.setFont(bold)
    painter.setPen(QColor(brushes.colours.ink))
    painter.drawText(QPointF(area.left(), foot), title)
    x = area.left() + QFontMetricsF(bold).horizontalAdvance(title) + 12
    painter.setFont(plain)
    painter.setPen(QColor(brushes.colours.faint))
    room = max(area.width() + RIGHT, LEAST_WIDE) - (x - area.left())
    painter.drawText(QPointF(x, foot), _as_goes(taken, plain, max(room, 60.0)))


def _as_goes(words: str, font: QFont, room: float) -> str:
    """As many of the parts as go into so many px, the first of them whole or cut."""
    wide = QFontMetricsF(font).horizontalAdvance
    parts = words.split(_BETWEEN_PARTS)
    while len(parts) > 1 and wide(_BETWEEN_PARTS.join(parts)) > room:
        parts.pop()
    return cut_short(_BETWEEN_PARTS.join(parts), font, room)


# A piece


def paint_laid(
    painter: QPainter, view: View, piece: PieceShown, brushes: Brushes
) -> None:
    """A piece of paper on its cloth, its grain and its name."""
    colours = brushes.colours
    ring = _ring(piece, view)
    path = QPainterPath()
    path.addPolygon(ring)
    path.closeSubpath()
    painter.fillPath(path, QColor(colours.paper))
    line = edge_pen(QColor(colours.cutting), 2.0)
    if piece.wrong:
        wrong = QColor(colours.wrong)
        hatch = QColor(wrong)
        hatch.setAlpha(110)
        painter.fillPath(path, QBrush(hatch, Qt.BrushStyle.BDiagPattern))
        line = QPen(wrong, 2.6)
        line.setDashPattern([4, 2])
    if piece.chosen or piece.hovered:
        painter.strokePath(path, edge_pen(QColor(colours.accent), 6.0))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.strokePath(path, line)
    middle = _middle(piece)
    _paint_grain(painter, view, piece, brushes)
    x, y = view.screen(middle)
    home = piece.spread.home
    outline = [home(p) for p in piece.placed.outline]
    room = tuple(
        0.85 * view.scale * span(outline, middle, across=across)
        for across in (True, False)
    )
    manner = brushes.manner
    spec = piece.placed.copy.piece.spec
    below = say("cloths.locked", {}, manner) if piece.placed.locked else ""
    words = (translate(spec.title, manner), below)
    paint_words(painter, (x, y), words, str(piece.number), (room[0], room[1]), brushes)
    if piece.placed.locked:
        _paint_lock(painter, ring.boundingRect(), brushes)


def _middle(piece: PieceShown) -> Point:
    """Where its name stands, on the table."""
    place, _ = piece.placed.copy.piece.middle
    return piece.spread.home(piece.placed.motion(place))


def _paint_grain(
    painter: QPainter, view: View, piece: PieceShown, brushes: Brushes
) -> None:
    """The grain arrow, its head where the upper edge lies."""
    motion = piece.placed.motion.then(piece.spread.home)
    grain = piece.placed.copy.piece.grain
    ends = [QPointF(*view.screen(motion(p))) for p in (grain.start, grain.end)]
    way = ends[1] - ends[0]
    size = (way.x() ** 2 + way.y() ** 2) ** 0.5
    room = piece.placed.copy.piece.middle[1]
    if size < 24 or room * view.scale < _ROOM_FOR_GRAIN:
        return
    painter.setPen(edge_pen(QColor(brushes.colours.grain), 1.2))
    painter.drawLine(*ends)
    way /= size
    aside = QPointF(-way.y(), way.x())
    for side in (-4.0, 4.0):
        painter.drawLine(ends[1], ends[1] - way * 9 + aside * side)


def _paint_lock(painter: QPainter, area: QRectF, brushes: Brushes) -> None:
    """A padlock in the upper left corner of a piece's box."""
    box = QRectF(area.left() + 10, area.top() + 16, 14, 10)
    painter.setPen(edge_pen(QColor(brushes.colours.ink), 1.8))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawArc(QRectF(box.left() + 2.5, box.top() - 8, 9, 14), 0, 180 * 16)
    painter.fillRect(box, QColor(brushes.colours.ink))
