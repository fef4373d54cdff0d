"""The table with hands: what Qt tells of mouse, touchpad and keys comes in here."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QEvent, Qt
from PySide6.QtWidgets import QWidget

from skirtwright.app.canvas import accessible
from skirtwright.app.canvas.hands import Hands
from skirtwright.app.canvas.tabletop import Tabletop
from skirtwright.app.guard import guarded
from skirtwright.app.look import Colours

_COMES_BACK = (Qt.FocusReason.PopupFocusReason, Qt.FocusReason.ActiveWindowFocusReason)
"""After a menu or another program the hand is where it was."""


class Table(Tabletop):
    """The table."""

    def __init__(self, colours: Colours, parent: QWidget | None = None) -> None:
        accessible.install()
        # Before anything of Qt: it may call at once.
        self._hands = Hands(self)
        super().__init__(colours, parent)

    def notice(self) -> None:
        """What the pointer means now, once all events are in."""
        self._hands.tick()

    def ask_notch(self) -> bool:
        """Ask for a balance mark on the edge in hand; False when none is."""
        return self._hands.ask_notch()

    @guarded(otherwise=False)
    def event(self, event: QEvent) -> bool:
        return self._hands.pinch(event) or super().event(event)

    @guarded()
    def mousePressEvent(self, event: Any) -> None:
        self._hands.press(event)

    @guarded()
    def mouseMoveEvent(self, event: Any) -> None:
        self._hands.move(event)

    @guarded()
    def mouseReleaseEvent(self, event: Any) -> None:
        self._hands.release(event)

    @guarded()
    def mouseDoubleClickEvent(self, event: Any) -> None:
        self._hands.double_click(event)

    @guarded()
    def contextMenuEvent(self, event: Any) -> None:
        """Ask why, too: the other button, or the menu key."""
        self._hands.ask_why()
        event.accept()

    @guarded()
    def wheelEvent(self, event: Any) -> None:
        self._hands.wheel(event)

    @guarded()
    def leaveEvent(self, event: Any) -> None:
        super().leaveEvent(event)
        self._hands.leave()

    @guarded()
    def keyPressEvent(self, event: Any) -> None:
        """Keys for the point that has the keyboard, or for the table."""
        if not self._hands.key(event):
            super().keyPressEvent(event)

    @guarded(otherwise=False)
    def focusNextPrevChild(self, next: bool) -> bool:  # noqa: A002 - Qt's name
        """Tab goes from figure to figure, from pull point to pull point, and on."""
        if not self.walk_player.walk and self.step_focus(forward=next):
            return True
        return super().focusNextPrevChild(next)

    @guarded()
    def focusInEvent(self, event: Any) -> None:
        """Tab comes in at the first figure or, backwards, at the last point."""
        super().focusInEvent(event)
        if event.reason() in (
            Qt.FocusReason.TabFocusReason,
            Qt.FocusReason.BacktabFocusReason,
        ):
            self.entry_in_hand = self.points.focused = ""
            self.step_focus(forward=event.reason() == Qt.FocusReason.TabFocusReason)
        self.refresh()

    @guarded()
    def focusOutEvent(self, event: Any) -> None:
        """Its frame goes; a pull goes on; a point at rest is let go of."""
        super().focusOutEvent(event)
        if self.pull is None and event.reason() not in _COMES_BACK:
            self.points.chosen = self.points.focused = ""
        self.say_pointed()
        self.refresh()
