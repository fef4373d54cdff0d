"""Pictures of what takes long to paint, kept for as long as they stay the same."""

from __future__ import annotations

from collections.abc import Hashable, Iterable

from PySide6.QtCore import Qt
from PySide6.QtGui import QPainter, QPixmap

from skirtwright.app.canvas.frame import Item
from skirtwright.app.canvas.view import View

_EXACT = 9
"""Decimals of a mm that can tell two views apart."""

_Seen = tuple[View, int, int, float]


class Pictures:
    """One kept picture for each item."""

    def __init__(self) -> None:
        self._kept: dict[Hashable, tuple[Item, _Seen, QPixmap]] = {}

    def lay(self, painter: QPainter, item: Item, view: View) -> None:
        """Lay down the picture of an item.

        Args:
            painter: the table's, untransformed.
            item: what is to be seen.
            view: how the table is seen.
        """
        area = item.area
        here = view.panned(-area.x(), -area.y())
        # Pushed by whole pixels, it is the same picture to the last bit.
        here = View(here.scale, round(here.left, _EXACT), round(here.top, _EXACT))
        ratio = painter.device().devicePixelRatioF()
        seen = (here, area.width(), area.height(), ratio)
        known, before, picture = self._kept.get(item.key, (item, None, QPixmap()))
        if before != seen or not known.hangs_on_the_same(item):
            picture = _painted(item, here, ratio)
            self._kept[item.key] = (item, seen, picture)
        painter.drawPixmap(area.topLeft(), picture)

    def keep_only(self, items: Iterable[Item]) -> None:
        """Forget what is no longer to be seen."""
        for key in self._kept.keys() - {item.key for item in items}:
            del self._kept[key]


def _painted(item: Item, view: View, ratio: float) -> QPixmap:
    picture = QPixmap(item.area.size() * ratio)
    picture.setDevicePixelRatio(ratio)
    picture.fill(Qt.GlobalColor.transparent)
    with QPainter(picture) as painter:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        item.paint(painter, view)
    return picture
