"""Pictures of the things on the table, kept so that only what changed is painted.

A thing's picture states all it hangs on: the panel or piece itself, its words, and how
it is seen. When each of these is what it was, the kept picture is laid down again.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Hashable, Sequence
from dataclasses import dataclass
from operator import is_

from PySide6.QtCore import QRect, QRectF, Qt
from PySide6.QtGui import QPainter, QPixmap

from skirtwright.app.canvas.view import View

_ROUND = 6
"""Pixels round a thing that its lines and its shadow need."""

_EXACT = 9
"""Decimals of a mm that can tell two views apart."""


@dataclass(frozen=True)
class Leans:
    """What a picture hangs on.

    Attributes:
        things: compared as objects: frozen, so that the same one has not changed.
        values: compared by value.
    """

    things: tuple[object, ...]
    values: tuple[object, ...]

    def same(self, other: Leans) -> bool:
        """True when nothing of it is another than there."""
        return (
            len(self.things) == len(other.things)
            and all(map(is_, self.things, other.things))
            and self.values == other.values
        )


class Pictures:
    """One kept picture for each thing."""

    def __init__(self) -> None:
        self._kept: dict[Hashable, tuple[Leans, QPixmap]] = {}

    def lay(
        self,
        painter: QPainter,
        key: Hashable,
        leans: Leans,
        area: QRect,
        view: View,
        paint: Callable[[QPainter, View], None],
    ) -> None:
        """Lay down the picture of a thing.

        Args:
            painter: the table's, untransformed.
            key: which thing.
            leans: all that the picture hangs on, beside what follows.
            area: the part of the table it covers, px.
            view: how the table is seen.
            paint: paints it, seen so that the area begins at 0, 0.
        """
        here = view.panned(-area.x(), -area.y())
        ratio = painter.device().devicePixelRatioF()
        # Pushed by whole pixels, it is the same picture.
        seen = (here.scale, round(here.left, _EXACT), round(here.top, _EXACT))
        size = (area.width(), area.height(), ratio)
        whole = Leans(leans.things, (*leans.values, seen, size))
        kept = self._kept.get(key)
        if kept is None or not kept[0].same(whole):
            kept = (whole, _painted(area, ratio, lambda onto: paint(onto, here)))
            self._kept[key] = kept
        painter.drawPixmap(area.topLeft(), kept[1])

    def keep_only(self, keys: Sequence[Hashable]) -> None:
        """Forget things that are no longer on the table."""
        for key in self._kept.keys() - set(keys):
            del self._kept[key]


def area_round(box: QRectF, table: QRect) -> QRect:
    """Whole pixels round a thing with its lines, as far as they lie on the table."""
    left, top = math.floor(box.left()) - _ROUND, math.floor(box.top()) - _ROUND
    right, bottom = math.ceil(box.right()) + _ROUND, math.ceil(box.bottom()) + _ROUND
    return QRect(left, top, right - left, bottom - top).intersected(table)


def _painted(area: QRect, ratio: float, paint: Callable[[QPainter], None]) -> QPixmap:
    picture = QPixmap(area.size() * ratio)
    picture.setDevicePixelRatio(ratio)
    picture.fill(Qt.GlobalColor.transparent)
    with QPainter(picture) as painter:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        paint(painter)
    return picture
