"""A picture of the table as a list of items, each with all that it hangs on.

Two frames are compared item by item: what hangs on the same things lies as it lay, and
only the places where something differs are painted.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable
from dataclasses import dataclass, field
from typing import Any

from PySide6.QtCore import QRect
from PySide6.QtGui import QRegion

from skirtwright.app.canvas.view import View

Draw = Callable[..., None]
"""Draws an item: handed a painter, the view it is seen in, and all it hangs on."""


@dataclass(frozen=True)
class Item:
    """Something to be painted.

    Two are alike when they are drawn by the same function from equal values: there is
    nothing else that an item could hang on, for the function is handed nothing else.

    Attributes:
        key: which of the table's things it is.
        area: all that it covers, px.
        draw: a function of a module.
        leans: all that it hangs on beside the view, frozen.
        kept: drawing it takes long; its picture is kept.
        fixed: of a kept one: it lies where it lies however the table is seen, and is
            drawn as if its area began at nought.
    """

    key: Hashable
    area: QRect
    draw: Draw
    leans: tuple[Any, ...]
    kept: bool = False
    fixed: bool = False


@dataclass(frozen=True)
class Frame:
    """All that is to be seen, from the ground up.

    Attributes:
        view: how the table is seen.
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
            if old == item:
                continue
            found += item.area
            found += old.area if old else QRect()
        for gone in before.values():
            found += gone.area
        return found
