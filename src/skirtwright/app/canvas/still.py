"""What lies still while something is pulled: painted once, and laid under the rest.

Painting the pieces takes longer than working the panel in hand. They change only when
all of the order follows the pull, so between two such times their picture is kept.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

from PySide6.QtGui import QPainter, QPixmap
from PySide6.QtWidgets import QWidget

from skirtwright.app.canvas.laying import Laid
from skirtwright.app.canvas.paths import Prepared

Thing = tuple[Laid, Prepared]
Paint = Callable[[QPainter, Sequence[Thing]], None]
"""Paints the ground, and these things on it."""


@dataclass(frozen=True)
class _Kept:
    """A picture of what lies still.

    Attributes:
        seen: all else it hangs on: view, colours, paper, size.
        things: what is painted on it.
    """

    seen: tuple[Any, ...]
    things: tuple[Thing, ...]
    picture: QPixmap


class Still:
    """Keeps the picture of what lies still."""

    def __init__(self) -> None:
        self._kept: _Kept | None = None
        self._last: tuple[Thing, ...] = ()
        self._moved: set[str] = set()

    def forget(self) -> None:
        """Nothing is pulled any more."""
        self._kept, self._last, self._moved = None, (), set()

    def paint(
        self,
        painter: QPainter,
        widget: QWidget,
        things: Sequence[Thing],
        seen: tuple[Any, ...],
        paint: Paint,
    ) -> list[Thing]:
        """Lay the picture of what lies still under the rest.

        Args:
            painter: the widget's.
            widget: as large as the picture has to be.
            things: all that lies on the table.
            seen: all else that the picture hangs on.
            paint: paints the ground and some of the things.

        Returns:
            What moves, still to be painted.
        """
        kept, now = self._kept, tuple(things)
        # A panel that moved once will move again before the hand lets go.
        if self._last:
            self._moved.update(laid.name for laid, _ in _not_in(now, self._last))
        if kept is None or kept.seen != seen or _not_in(kept.things, now):
            rest = tuple(
                (laid, prepared)
                for laid, prepared in now
                if laid.kind == "piece" or laid.name not in self._moved
            )
            picture = _picture(widget, lambda onto: paint(onto, rest))
            kept = self._kept = _Kept(seen, rest, picture)
        self._last = now
        painter.drawPixmap(0, 0, kept.picture)
        return _not_in(now, kept.things)


def _is_in(thing: Thing, things: Sequence[Thing]) -> bool:
    """Whether the same thing lies in the same place there."""
    return any(thing[1] is other[1] and thing[0] == other[0] for other in things)


def _not_in(things: Sequence[Thing], others: Sequence[Thing]) -> list[Thing]:
    return [thing for thing in things if not _is_in(thing, others)]


def _picture(widget: QWidget, paint: Callable[[QPainter], None]) -> QPixmap:
    ratio = widget.devicePixelRatioF()
    picture = QPixmap(widget.size() * ratio)
    picture.setDevicePixelRatio(ratio)
    with QPainter(picture) as painter:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        paint(painter)
    return picture
