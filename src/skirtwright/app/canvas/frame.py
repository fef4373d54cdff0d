"""A picture of the table as a list of items, each with all that it hangs on.

Two frames are compared item by item: what hangs on the same things lies as it lay, and
only the places where something differs are painted.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Sequence
from dataclasses import dataclass, field
from typing import Any

from PySide6.QtCore import QRect
from PySide6.QtGui import QRegion

from skirtwright.app.canvas.view import View

Draw = Callable[..., None]
"""Draws an item: handed a painter, the view it is seen in, and all it hangs on."""

Apart = Callable[..., Sequence[QRect] | None]
"""Where two of a kind differ, px: handed the view, and all that one and then the other
hangs on. None where they may differ all over."""


@dataclass(frozen=True)
class Item:
    """Something to be painted.

    Two are alike when they are drawn by the same function from equal values: there is
    nothing else that an item could hang on, for the function is handed nothing else.

    Attributes:
        area: all that it covers, px.
        draw: a function of a module.
        leans: all that it hangs on beside the view, frozen.
        kept: drawing it takes long; its picture is kept.
        fixed: of a kept one: it lies where it lies however the table is seen, and is
            drawn as if its area began at nought.
        apart: tells where it is another than it was, if that is seldom all over.
    """

    key: Hashable
    area: QRect
    draw: Draw
    leans: tuple[Any, ...]
    kept: bool = False
    fixed: bool = False
    apart: Apart | None = None

    def differs_from(self, old: Item | None, view: View) -> QRegion:
        """Where it is another than it was, seen alike; all of it where it was not."""
        if old is None:
            return QRegion(self.area)
        where: Sequence[QRect] | None = None
        if self.apart is not None and self.apart == old.apart:
            where = self.apart(view, old.leans, self.leans)
        found = QRegion()
        for part in (self.area, old.area) if where is None else where:
            found += part
        return found


@dataclass(frozen=True)
class Frame:
    """All that is to be seen, from the ground up.

    Attributes:
        size: of the whole, px.
        items: each over those before it.
    """

    view: View = field(default_factory=View)
    size: QRect = field(default_factory=QRect)
    items: tuple[Item, ...] = ()

    def differs_from(self, other: Frame) -> QRegion:
        """Where the two are not alike."""
        if (self.view, self.size) != (other.view, other.size):
            return QRegion(self.size)
        found = QRegion()
        before = {item.key: item for item in other.items}
        for item in self.items:
            old = before.pop(item.key, None)
            if old != item:
                found += item.differs_from(old, self.view)
        for gone in before.values():
            found += gone.area
        return found
