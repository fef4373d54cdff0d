"""Where something may be laid beside a place of the table without covering another.

All in pixels; what is not to be covered is rectangles, pieces are outlines.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from heapq import merge

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QPainterPath

BESIDE = 20.0
"""From a place to what is laid beside it at least, px."""

_GRID = 24
_HELD = 96.0
"""From a place to what keeps lying beside it at most, px; what came to lie as far off
or further may come to be a step of the grid further."""


def place_for(
    hand: tuple[float, float],
    size: tuple[float, float],
    room: QRectF,
    pieces: Sequence[QPainterPath],
    taken: Sequence[QRectF],
    *,
    leader: bool = False,
    reach: float = math.inf,
    before: tuple[QPointF, float] | None = None,
) -> QRectF:
    """The nearest place beside the hand that covers no piece and nothing that is taken.

    Args:
        hand: px.
        size: of what is laid there, px.
        room: of the window, px.
        pieces: their outlines, px.
        taken: what else is not to be covered, px.
        leader: a line leads there from the hand, and crosses nothing that is taken.
        reach: how far from the hand it may be laid so that it covers no piece.
        before: the corner at which it lay, and how far from the hand it may stay there
            while that is free, px.
    """
    if before is not None:
        (left, top), held = before[0].toTuple(), before[1]
        area = QRectF(left, top, *size)
        is_free = room.contains(area) and not any(map(area.intersects, taken))
        if is_free and is_bare(area, pieces) and BESIDE <= _off(hand, area) <= held:
            return area
    first: QRectF | None = None
    for off, area in near_places(hand, size, room, taken):
        if first is not None and off > reach:
            break
        if leader and _crosses(hand, area, taken):
            continue
        first = first or area
        if is_bare(area, pieces):
            return area
    return first or QRectF(room.left() + 4, room.bottom() - size[1] - 4, *size)


def held_within(hand: tuple[float, float], area: QRectF) -> float:
    """How far from the hand what was laid in an area may stay there, px."""
    return max(_HELD, _off(hand, area) + _GRID)


def near_places(
    hand: tuple[float, float],
    size: tuple[float, float],
    room: QRectF,
    taken: Sequence[QRectF],
    least: float = BESIDE,
) -> Iterator[tuple[float, QRectF]]:
    """Places that cover nothing that is taken, and how far off, the nearest first."""
    wide, tall = size
    across = range(round(room.left()) + 4, round(room.right() - wide) - 3, _GRID)
    down = range(round(room.top()) + 4, round(room.bottom() - tall) - 3, _GRID)
    columns = sorted((_aside(hand[0], x, x + wide) ** 2, x) for x in across)
    rows = [(_aside(hand[1], y, y + tall) ** 2, y) for y in down]
    # Of more than a thousand only the nearest few are looked at.
    for off, x, y in merge(*(_row(columns, off, y) for off, y in rows)):
        area = QRectF(x, y, wide, tall)
        if off >= least**2 and not any(map(area.intersects, taken)):
            yield math.sqrt(off), area


def _row(
    columns: Sequence[tuple[float, int]], off: float, y: int
) -> Iterator[tuple[float, int, int]]:
    """The places of a row, the nearest first: how far away, squared, and where."""
    return ((away + off, x, y) for away, x in columns)


def is_bare(area: QRectF, pieces: Sequence[QPainterPath]) -> bool:
    """Whether no piece lies there."""
    return not any(piece.intersects(area) for piece in pieces)


def _off(hand: tuple[float, float], area: QRectF) -> float:
    return math.hypot(
        _aside(hand[0], area.left(), area.right()),
        _aside(hand[1], area.top(), area.bottom()),
    )


def _crosses(hand: tuple[float, float], area: QRectF, taken: Sequence[QRectF]) -> bool:
    """Whether a line from the hand to an area crosses what it does not begin in."""
    start, end = QPointF(*hand), area.center()
    places = [start + (end - start) * (step / 24) for step in range(25)]
    near = QRectF(start, end).normalized().adjusted(-1, -1, 1, 1)
    others = [one for one in taken if near.intersects(one) and not one.contains(start)]
    return any(other.contains(place) for other in others for place in places)


def _aside(place: float, least: float, most: float) -> float:
    """How far a place lies outside of two limits."""
    return max(least - place, 0.0, place - most)
