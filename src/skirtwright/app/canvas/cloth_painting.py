"""The cloths painted: woven along their length, their edges named, pieces on them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
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

from skirtwright.app.canvas.cloth_lettering import Named, Written, written_on
from skirtwright.app.canvas.drawing import Brushes, edge_pen, screen_rect, tint_of
from skirtwright.app.canvas.frame import Item
from skirtwright.app.canvas.laid_cloths import (
    LEFT,
    RIGHT,
    RULER,
    TITLE,
    Cloths,
    Key,
    Spread,
    keys_of,
)
from skirtwright.app.canvas.lettering import cut_short, length_shown, sized
from skirtwright.app.canvas.view import View, nice_step
from skirtwright.app.look import letters
from skirtwright.export.lay_words import lay_title, placement_sentences
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

_SHORTEST_ARROW = 24.0
"""px."""

_ROOM_FOR_GRAIN = 18.0
"""A narrower piece has its name alone, px: the weave shows the grain."""

_BETWEEN_PARTS = " · "
"""Of what is told of a cloth, the weightiest part first."""

_FIGURE_APART = 54.0
"""px."""

_BESIDE = 8.0
"""From the end of a cloth to what is written beside it, px."""


@dataclass(frozen=True)
class ClothShown:
    """A cloth as it is painted.

    Attributes:
        sure: it is laid as the order stands.
        share: of the laying that is done.
        key: what the numbers on it stand for.
    """

    spread: Spread
    sure: bool
    share: float
    key: str


@dataclass(frozen=True)
class PieceShown:
    """A piece as it is painted on its cloth.

    Attributes:
        written: its name, from the corner of the cloth.
        wrong: it overlaps another or lies off the cloth.
        chosen, hovered: by the hand.
    """

    placed: Placed
    spread: Spread
    written: Written
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
    over: list[Item] = []
    for one in cloths.seen():
        material = one.lay.cloth.material
        sure = material in cloths.sure
        share = 1.0 if sure else cloths.share
        text = brushes.percent / 100
        edges = (-LEFT, -TITLE - 8, RIGHT, RULER + 30)
        area = screen_rect(one.box, view).adjusted(*(text * edge for edge in edges))
        area.setWidth(max(area.width(), text * LEFT + one.room))
        pieces = list(_pieces(cloths, one, numbers, view, brushes))
        shown = ClothShown(one, sure, share, _key_of(pieces, brushes))
        leans = (shown, brushes)
        key = ("cloth", material)
        yield Item(key, area.toAlignedRect() & within, _paint_cloth, leans, kept=True)
        for piece in pieces:
            rect = _ring(piece.placed, one, view).boundingRect().toAlignedRect()
            words = piece.written.area.translated(*view.screen(one.corner))
            rect = rect.adjusted(-8, -8, 8, 8) | words.toAlignedRect()
            key_of: Key = (material, *piece.placed.key)
            leans_on = (piece, brushes)
            item = Item(("laid", *key_of), rect & within, paint_laid, leans_on)
            held = cloths.held is not None and cloths.held.key == key_of
            if held or piece.chosen:
                over.append(item)
            elif not item.area.isEmpty():
                yield item
    yield from over


def _pieces(
    cloths: Cloths,
    one: Spread,
    numbers: Mapping[str, int],
    view: View,
    brushes: Brushes,
) -> Iterator[PieceShown]:
    """The pieces on a cloth, their names all in letters of one size."""
    wrong = {key for fault in cloths.wrong for key in keys_of(fault)}
    material, placed = one.lay.cloth.material, one.lay.placed
    # Where words stand is told from the corner of the cloth: a table that is pushed
    # leaves them where they are on it.
    still = replace(view, left=one.corner.x, top=one.corner.y)
    named = [_named(each, one, numbers, still, brushes) for each in placed]
    written = written_on(named, screen_rect(one.box, still), brushes.percent)
    for each, words in zip(placed, written, strict=True):
        key: Key = (material, *each.key)
        yield PieceShown(
            each,
            replace(one, lay=replace(one.lay, placed=())),
            words,
            key in wrong,
            key == cloths.chosen,
            key == cloths.hovered,
        )


def _named(
    placed: Placed,
    one: Spread,
    numbers: Mapping[str, int],
    view: View,
    brushes: Brushes,
) -> Named:
    piece = placed.copy.piece
    middle = one.home(placed.motion(piece.middle[0]))
    arrow = _grain(placed, one, view)
    covered = QRectF(*arrow).normalized().adjusted(-6, -6, 6, 6) if arrow else QRectF()
    return Named(
        translate(piece.spec.title, brushes.manner),
        numbers.get(piece.name, 0),
        _ring(placed, one, view),
        QPointF(*view.screen(middle)),
        covered,
    )


def _key_of(pieces: Sequence[PieceShown], brushes: Brushes) -> str:
    """What the numbers on a cloth stand for."""
    titles = {
        one.written.words: translate(one.placed.copy.piece.spec.title, brushes.manner)
        for one in pieces
        if one.written.numbered
    }
    return _BETWEEN_PARTS.join(f"{n} {title}" for n, title in titles.items())


def _ring(placed: Placed, one: Spread, view: View) -> QPolygonF:
    places = (view.screen(one.home(p)) for p in placed.outline)
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
        told = [f"{name}.", placement_sentences(found[1], found[0].lay, manner)]
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
    _paint_measure(painter, view, area, shown, brushes)
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
        painter.drawText(QPointF(area.right() + _BESIDE, y), word)
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
    left, y = area.right() + _BESIDE, area.center().y()
    painter.setPen(QColor(brushes.colours.ink))
    painter.drawText(QPointF(left, y - 12), words)
    painter.setPen(edge_pen(QColor(brushes.colours.ink), 2.0))
    tip = QPointF(left + max(metrics.horizontalAdvance(words), 40.0), y)
    painter.drawLine(QPointF(left, y), tip)
    for side in (-6, 6):
        painter.drawLine(tip, QPointF(tip.x() - 10, y + side))


def _paint_measure(
    painter: QPainter, view: View, area: QRectF, shown: ClothShown, brushes: Brushes
) -> None:
    """How far from the end, along the edge nearest to her; and where the lay ends.

    Below that stands what the numbers on the pieces are.
    """
    one = shown.spread
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
        below = QPointF(area.left(), foot + metrics.height() + metrics.ascent())
        _write_key(painter, area, shown, below, brushes.percent)


def _write_key(
    painter: QPainter, area: QRectF, shown: ClothShown, below: QPointF, percent: int
) -> None:
    """What the numbers stand for: in a line below, else in lines beside the cloth.

    Those stand between the names of its edges, where no nap is told.
    """
    metrics, edge = QFontMetricsF(painter.font()), RIGHT * percent / 100
    room = max(area.width() + edge, shown.spread.room)
    lines = shown.key.split(_BETWEEN_PARTS)
    widest = max(map(metrics.horizontalAdvance, lines))
    whole = metrics.horizontalAdvance(shown.key)
    tall = (len(lines) + 3) * metrics.height()
    beside = area.width() + _BESIDE + widest <= room and tall <= area.height()
    if whole <= room or shown.spread.lay.cloth.one_way or not beside:
        painter.drawText(below, cut_short(shown.key, painter.font(), room))
        return
    at = QPointF(area.right() + _BESIDE, area.top() + metrics.ascent())
    for number, line in enumerate(lines, 2):
        painter.drawText(at + QPointF(0.0, number * metrics.height()), line)


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
    wide = area.width() + RIGHT * brushes.percent / 100
    room = max(wide, shown.spread.room) - (x - area.left())
    painter.drawText(QPointF(x, foot), _fitting_words(taken, plain, max(room, 60.0)))


def _fitting_words(words: str, font: QFont, room: float) -> str:
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
    ring = _ring(piece.placed, piece.spread, view)
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
    arrow = _grain(piece.placed, piece.spread, view)
    if arrow and not piece.written.over_grain:
        _paint_arrow(painter, *arrow, brushes)
    _write(painter, view.screen(piece.spread.corner), piece.written, brushes)
    if piece.placed.locked:
        _paint_lock(painter, ring.boundingRect(), brushes)


def _write(
    painter: QPainter, corner: tuple[float, float], words: Written, brushes: Brushes
) -> None:
    """The name of a piece, or its number."""
    area = words.area.translated(*corner)
    painter.setFont(letters(brushes.percent, sized(words.size), bold=True))
    painter.setPen(QColor(brushes.colours.ink))
    painter.save()
    painter.translate(area.center())
    if words.upright:
        painter.rotate(-90)
    room = QRectF(-400, -200, 800, 400)
    painter.drawText(room, Qt.AlignmentFlag.AlignCenter, words.words)
    painter.restore()


def _grain(placed: Placed, one: Spread, view: View) -> tuple[QPointF, QPointF] | None:
    """The ends of the grain arrow, px; None where it has no room."""
    motion = placed.motion.then(one.home)
    grain, room = placed.copy.piece.grain, placed.copy.piece.middle[1]
    ends = [QPointF(*view.screen(motion(p))) for p in (grain.start, grain.end)]
    way = ends[1] - ends[0]
    size = (way.x() ** 2 + way.y() ** 2) ** 0.5
    if size < _SHORTEST_ARROW or room * view.scale < _ROOM_FOR_GRAIN:
        return None
    return ends[0], ends[1]


def _paint_arrow(
    painter: QPainter, start: QPointF, end: QPointF, brushes: Brushes
) -> None:
    """The grain arrow, its head where the upper edge lies."""
    painter.setPen(edge_pen(QColor(brushes.colours.grain), 1.2))
    painter.drawLine(start, end)
    way = end - start
    way /= (way.x() ** 2 + way.y() ** 2) ** 0.5
    aside = QPointF(-way.y(), way.x())
    for side in (-4.0, 4.0):
        painter.drawLine(end, end - way * 9 + aside * side)


def _paint_lock(painter: QPainter, area: QRectF, brushes: Brushes) -> None:
    """A padlock in the upper left corner of a piece's box."""
    box = QRectF(area.left() + 10, area.top() + 16, 14, 10)
    painter.setPen(edge_pen(QColor(brushes.colours.ink), 1.8))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawArc(QRectF(box.left() + 2.5, box.top() - 8, 9, 14), 0, 180 * 16)
    painter.fillRect(box, QColor(brushes.colours.ink))
