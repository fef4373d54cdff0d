"""A picture of the table as a list of items, each with all that it hangs on.

Two frames are compared item by item: what hangs on the same things lies as it lay, and
only the places where something differs are painted.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable
from dataclasses import dataclass, field
from operator import is_

from PySide6.QtCore import QRect
from PySide6.QtGui import QPainter, QRegion

from skirtwright.app.canvas.view import View

Paint = Callable[[QPainter, View], None]


@dataclass(frozen=True)
class Item:
    """Something to be painted.

    Attributes:
        key: which of the table's things it is.
        area: all that it covers, px.
        things: what it hangs on that is compared as an object: frozen, so that the same
            one has not changed.
        values: what it hangs on that is compared by value.
        paint: paints it, seen as it is told.
        kept: painting it takes long; its picture is kept.
    """

    key: Hashable
    area: QRect
    things: tuple[object, ...]
    values: tuple[object, ...]
    paint: Paint = field(compare=False)
    kept: bool = False

    def hangs_on_the_same(self, other: Item) -> bool:
        """True when nothing that it hangs on is another than there."""
        return (
            len(self.things) == len(other.things)
            and all(map(is_, self.things, other.things))
            and self.values == other.values
        )


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
            if old and old.area == item.area and old.hangs_on_the_same(item):
                continue
            found += item.area
            found += old.area if old else QRect()
        for gone in before.values():
            found += gone.area
        return found
