"""Hands on the cloths: pieces pushed, turned and locked, by mouse and by keys."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QKeyEvent, QMouseEvent

from skirtwright.app.canvas.pulling import SLACK
from skirtwright.app.canvas.tabletop import Tabletop
from skirtwright.geometry import Point
from skirtwright.lay.lay import Lay
from skirtwright.problems import Refused

_WAYS = {
    Qt.Key.Key_Left: Point(0, -1),
    Qt.Key.Key_Right: Point(0, 1),
    Qt.Key.Key_Up: Point(-1, 0),
    Qt.Key.Key_Down: Point(1, 0),
}
"""On the cloth: across from its far edge, and along from its cut end."""

_STEP = {"in": (12.7, 3.175), "cm": (10.0, 1.0), "mm": (10.0, 1.0)}
"""How far an arrow key moves a piece, and with Shift, mm."""


class ClothHands:
    """What mouse and keys do while the cloths are seen."""

    def __init__(self, table: Tabletop) -> None:
        self._table = table
        self._pressed = QPointF()
        self._moved = False

    def press(self, event: QMouseEvent) -> bool:
        """Take the piece in hand that lies there; False where none does."""
        table, at = self._table, event.position()
        left = event.button() == Qt.MouseButton.LeftButton
        if not (table.on_cloths and left):
            return False
        place = table.view.table(at.x(), at.y())
        key = table.cloths.at(place)
        if key is None:
            table.cloths = replace(table.cloths, chosen=None)
            return False
        self._pressed, self._moved = at, False
        table.cloths = table.cloths.taken(key, place)
        table.look_around()
        return True

    def move(self, at: QPointF) -> bool:
        """What is in hand follows; False when nothing is."""
        table = self._table
        if table.cloths.held is None:
            return False
        self._moved |= (at - self._pressed).manhattanLength() > SLACK
        if self._moved:
            place = table.view.table(at.x(), at.y())
            table.cloths = table.cloths.dragged(place)
            table.setCursor(Qt.CursorShape.ClosedHandCursor)
            table.look_around()
        return True

    def release(self) -> bool:
        """What was in hand lies where it was let go; False when nothing was."""
        table = self._table
        cloths, moved = table.cloths, table.cloths.in_hand
        if cloths.held is None:
            return False
        table.cloths = replace(cloths, held=None)
        if self._moved and moved is not None:
            table.laid_by_hand.emit(moved, "edit.piece_laid")
        table.look_around()
        return True

    def hover(self) -> None:
        """What the pointer is on."""
        table, cloths = self._table, self._table.cloths
        key = None
        if table.pointer and cloths.held is None:
            key = cloths.at(table.view.table(*table.pointer))
        if key != cloths.hovered:
            table.cloths = replace(cloths, hovered=key)
            table.refresh()
        if cloths.held is None:
            shape = Qt.CursorShape.OpenHandCursor if key else Qt.CursorShape.ArrowCursor
            table.setCursor(shape)
        table.say_pointed()

    def key(self, event: QKeyEvent) -> bool:
        """Keys for the chosen piece; False for what means nothing here."""
        table, key = self._table, Qt.Key(event.key())
        chosen = table.cloths.find(table.cloths.chosen)
        if key == Qt.Key.Key_Escape:
            return self._escape()
        if chosen is None or event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            return False
        if key in _WAYS:
            fine = bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
            by = _STEP[table.brushes.manner.unit][fine]
            self._do(lambda: table.cloths.stepped(_WAYS[key] * by), "edit.piece_laid")
        elif key == Qt.Key.Key_R:
            self._do(table.cloths.turned, "edit.piece_turned")
        elif key == Qt.Key.Key_L:
            name = "edit.piece_unlocked" if chosen[1].locked else "edit.piece_locked"
            self._do(table.cloths.locked, name)
        else:
            return False
        return True

    def _do(self, how: Callable[[], Lay | None], name: str) -> None:
        table = self._table
        try:
            lay = how()
        except Refused as refused:
            table.refused.emit(refused.problem)
            return
        if lay is not None:
            table.laid_by_hand.emit(lay, name)

    def _escape(self) -> bool:
        table, cloths = self._table, self._table.cloths
        if cloths.held is not None:
            table.cloths = replace(cloths, held=None)
        elif cloths.chosen is not None:
            table.cloths = replace(cloths, chosen=None)
        else:
            return False
        table.look_around()
        return True
