"""Pictures of what takes long to paint, kept for as long as they stay the same."""

from __future__ import annotations

from collections.abc import Hashable
from typing import Any

from PySide6.QtCore import QSize
from PySide6.QtGui import QPainter, QPixmap

from skirtwright.app.canvas.frame import Draw, Frame, Item
from skirtwright.app.canvas.view import View
from skirtwright.app.look import clear_pixmap
from skirtwright.remembered import Remembered

_EXACT = 9
"""Decimals of a mm that can tell two views apart."""

_AT_NOUGHT = View()


class Pictures:
    """One kept picture for each item."""

    def __init__(self) -> None:
        self._kept = Remembered(_painted)
        self._keys: set[Hashable] = set()

    def lay(self, painter: QPainter, item: Item, view: View) -> None:
        """Lay down the picture of an item.

        Args:
            painter: the table's, untransformed.
        """
        area = item.area
        here = _AT_NOUGHT
        if not item.fixed:
            here = view.panned(-area.x(), -area.y())
            # Pushed by whole pixels, it is the same picture to the last bit.
            here = View(here.scale, round(here.left, _EXACT), round(here.top, _EXACT))
        ratio = painter.device().devicePixelRatioF()
        picture = self._kept.of(
            item.key, item.draw, item.leans, here, area.size(), ratio
        )
        painter.drawPixmap(area.topLeft(), picture)

    def keep_only(self, frame: Frame) -> None:
        """Forget, in time, what is no longer to be seen."""
        keys = {item.key for item in frame.items}
        if not self._keys <= keys:
            self._kept.next_round()
        self._keys = keys


def _painted(
    draw: Draw, leans: tuple[Any, ...], view: View, size: QSize, ratio: float
) -> QPixmap:
    picture = clear_pixmap(size, ratio)
    with QPainter(picture) as painter:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        draw(painter, view, *leans)
    return picture
