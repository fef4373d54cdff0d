"""The names of the pieces on a cloth, in letters of one size.

A name stands within its piece, clear of the grain: level, else upright, else word
under word; else beside the end of a strip, where the cloth is bare. A number stands
only for a name that goes nowhere, and a key under the cloth tells which it is.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QFontMetricsF, QPainterPath, QPolygonF

from skirtwright.app.canvas.lettering import sized
from skirtwright.app.look import letters

_SIZES = (20.0, 17.0, 15.0)
"""Of letters, the largest first, px."""

_CLEAR = 6.0
"""Between a piece and words beside it, px."""

_ALONG_EDGE = 120.0
"""Room for the name of an edge, px."""

_STEPS = 8
"""Into so many parts a piece is divided to look for room along it, half across."""


@dataclass(frozen=True)
class Named:
    """A piece to be named.

    Attributes:
        name, number: what it is called, and its number in the cut list.
        ring: its outline, px.
        middle: where it is roomiest, px.
        arrow: what its grain covers, px; nothing where none is drawn.
    """

    name: str
    number: int
    ring: QPolygonF
    middle: QPointF
    arrow: QRectF


@dataclass(frozen=True)
class Written:
    """Words where they stand.

    Attributes:
        size: of the letters, px.
        area: what they cover, px.
        upright: they run from below upwards.
        over_grain: there is no room for them beside the arrow.
        numbered: the number stands for the name.
    """

    words: str
    size: float
    area: QRectF
    upright: bool = False
    over_grain: bool = False
    numbered: bool = False


def written_on(
    pieces: Sequence[Named], cloth: QRectF, percent: int
) -> tuple[Written, ...]:
    """What is written for each piece of a cloth.

    Args:
        pieces: all that lie on it.
        cloth: what it covers, px.
    """
    tries = (_names(pieces, cloth, size, percent) for size in _SIZES)
    best = max(tries, key=lambda found: sum(one is not None for one in found))
    size = next((one.size for one in best if one), _SIZES[-1])
    for place, one in enumerate(pieces):
        if best[place] is None:
            others = [each.ring.boundingRect() for each in pieces if each is not one]
            written = [*_edge_names(cloth, percent), *(e.area for e in best if e)]
            best[place] = _number(one, others, written, cloth, size, percent)
    return tuple(one for one in best if one)


def _names(
    pieces: Sequence[Named], cloth: QRectF, size: float, percent: int
) -> list[Written | None]:
    """The names in letters of a size; None for one that goes nowhere."""
    found: list[Written | None] = []
    for one in pieces:
        others = [each.ring.boundingRect() for each in pieces if each is not one]
        taken = [*others, *(written.area for written in found if written)]
        found.append(_name(one, taken, cloth, size, percent))
    return found


def _name(
    one: Named, taken: Sequence[QRectF], cloth: QRectF, size: float, percent: int
) -> Written | None:
    """The name of a piece in letters of a size; None where it goes nowhere."""
    metrics = QFontMetricsF(letters(percent, sized(size), bold=True))
    clear = metrics.horizontalAdvance(" ")
    wide, tall = metrics.horizontalAdvance(one.name) + clear, metrics.height()
    first, _, rest = one.name.partition(" ")
    two = max(map(metrics.horizontalAdvance, (first, rest))) + clear
    path = QPainterPath()
    path.addPolygon(one.ring)
    path.closeSubpath()
    arrows = (one.arrow,) if one.arrow.isEmpty() else (one.arrow, QRectF())
    for arrow in arrows:
        for words, across, down, upright in (
            (one.name, wide, tall, False),
            (one.name, tall, wide, True),
            (f"{first}\n{rest}" if rest else "", two, 2 * tall, False),
        ):
            area = words and _within(one, path, arrow, across, down)
            if area:
                return Written(words, size, area, upright, arrow != one.arrow)
    for beside in _room_past_strip(one, wide, tall):
        if cloth.contains(beside) and not any(map(beside.intersects, taken)):
            return Written(one.name, size, beside)
    return None


def _within(
    one: Named, path: QPainterPath, arrow: QRectF, wide: float, tall: float
) -> QRectF | None:
    """Room for words of a size in a piece, as near its roomiest place as there is."""
    box = path.boundingRect()
    area = QRectF(0.0, 0.0, wide, tall)
    if area.width() > box.width() or area.height() > box.height():
        return None
    for place in _places(one, box):
        area.moveCenter(place)
        if not area.intersects(arrow) and path.contains(area):
            return area
    return None


def _places(one: Named, box: QRectF) -> Iterator[QPointF]:
    """Where words may stand, the roomiest place first, then round it."""
    yield one.middle
    rows = _STEPS // 2
    found = [
        QPointF(
            box.left() + box.width() * column / _STEPS,
            box.top() + box.height() * row / rows,
        )
        for column in range(1, _STEPS)
        for row in range(1, rows)
    ]
    yield from sorted(found, key=lambda at: (at - one.middle).manhattanLength())


def _room_past_strip(one: Named, wide: float, tall: float) -> Iterator[QRectF]:
    """Room past the far end of a strip, along its sides, before its near end."""
    box = one.ring.boundingRect()
    for top in (box.center().y() - tall / 2, box.top(), box.bottom() - tall):
        yield QRectF(box.right() + _CLEAR, top, wide, tall)
    spare = box.width() - wide
    for top in (box.bottom() + 1, box.top() - tall - 1):
        for share in (0.0, 1.0, 0.5, 0.25, 0.75):
            yield QRectF(box.left() + share * spare, top, wide, tall)
    yield QRectF(box.left() - _CLEAR - wide, box.center().y() - tall / 2, wide, tall)


def _edge_names(cloth: QRectF, percent: int) -> Iterator[QRectF]:
    """Where a cloth's own name stands, over it, and those of its edges, right of it."""
    tall = QFontMetricsF(letters(percent, sized(_SIZES[-1]))).height()
    yield QRectF(cloth.left(), cloth.top() - 2 * tall, cloth.width(), 2 * tall)
    for top in (cloth.top() - 2, cloth.bottom() - tall):
        yield QRectF(cloth.right(), top, _ALONG_EDGE * percent / 100, tall)


def _number(
    one: Named,
    others: Sequence[QRectF],
    written: Sequence[QRectF],
    cloth: QRectF,
    size: float,
    percent: int,
) -> Written:
    """The number that stands for the name: in the piece, else where cloth is bare."""
    metrics = QFontMetricsF(letters(percent, sized(size), bold=True))
    words = str(one.number)
    wide, tall = metrics.horizontalAdvance(words), metrics.height()
    path = QPainterPath()
    path.addPolygon(one.ring)
    path.closeSubpath()
    area = _within(one, path, QRectF(), wide, tall)
    if area is None:
        # Off the cloth rather than over a piece, over a piece rather than over words.
        area = min(
            _room_past_strip(one, wide, tall),
            key=lambda beside: (
                any(map(beside.intersects, written)),
                any(map(beside.intersects, others)),
                not cloth.contains(beside),
            ),
        )
    return Written(words, size, area, over_grain=True, numbered=True)
