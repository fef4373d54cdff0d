"""Hands on the table: what the mouse, the touchpad and the keys do to it."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6 import QtGui, QtWidgets
from PySide6.QtCore import QEvent, QPointF, Qt
from PySide6.QtGui import QCursor, QKeyEvent, QMouseEvent, QPointingDevice, QWheelEvent

from skirtwright.app.canvas import pulling
from skirtwright.app.canvas.choosing import along, edge_of
from skirtwright.app.canvas.cloth_hands import ClothHands
from skirtwright.app.canvas.entries import alike
from skirtwright.app.canvas.handles import cursor_for, hit_point, hit_sign
from skirtwright.app.canvas.laying import SKIRT
from skirtwright.app.canvas.pointing import Found, find
from skirtwright.app.canvas.stepping import Pace
from skirtwright.app.canvas.tabletop import Tabletop
from skirtwright.geometry.chain import Chain
from skirtwright.geometry.point import Point

PAN_KEY = 60.0
"""Pixels an arrow key pushes the table."""

WHEEL_STEP = 1.2
"""Nearer by one notch of the wheel."""

_WALK_KEY = 10.0
_PINCHES = frozenset({QEvent.Type.NativeGesture, QEvent.Type.Gesture})
_WAYS = {
    Qt.Key.Key_Left: Point(-1, 0),
    Qt.Key.Key_Right: Point(1, 0),
    Qt.Key.Key_Up: Point(0, 1),
    Qt.Key.Key_Down: Point(0, -1),
}
_MORE = frozenset({Qt.Key.Key_Plus, Qt.Key.Key_Equal, Qt.Key.Key_PageUp})
_LESS = frozenset({Qt.Key.Key_Minus, Qt.Key.Key_Underscore, Qt.Key.Key_PageDown})
_PAGES = frozenset({Qt.Key.Key_PageUp, Qt.Key.Key_PageDown})
_WHY = frozenset({Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space})
_SHIFT = Qt.KeyboardModifier.ShiftModifier
_CONTROL = Qt.KeyboardModifier.ControlModifier


@dataclass
class _Pan:
    """The table being pushed: where the pointer was last, and was at first, px."""

    last: QPointF
    pressed: QPointF
    button: Qt.MouseButton
    moved: bool = False


class Hands:
    """Turns events into what the table does."""

    def __init__(self, table: Tabletop) -> None:
        self._table = table
        self._pan: _Pan | None = None
        self._cloth = ClothHands(table)

    # The mouse

    def press(self, event: QMouseEvent) -> None:
        """A pull point, its minus or plus, or the table itself."""
        table, at = self._table, event.position()
        table.pointer = (at.x(), at.y())
        left = event.button() == Qt.MouseButton.LeftButton
        if self._cloth.press(event) or (left and self._press_figure(at)):
            return
        card = table.card_at(at.x(), at.y())
        if left and card:
            table.stop_walking()
            table.bring(card)
            return
        if left and not (table.walk_player.walk or table.on_cloths):
            shown = table.shown_points()
            sign = hit_sign(shown, at.x(), at.y())
            point = hit_point(shown, at.x(), at.y())
            if sign and not point:
                fine = bool(event.modifiers() & _SHIFT)
                handle = table.scene.point_of(sign[0].name)
                if handle:
                    pace: Pace = "fine" if fine else "plain"
                    alone = bool(event.modifiers() & _CONTROL)
                    table.pull_by(handle.amount, sign[1], pace, alone=alone)
                return
            if point and self._take(point.name, at):
                return
            written = table.entry_at(at.x(), at.y())
            if written:
                table.open_entry(written.entry.name)
                return
        if event.button() in (Qt.MouseButton.LeftButton, Qt.MouseButton.MiddleButton):
            self._pan = _Pan(at, at, event.button())

    def _press_figure(self, at: QPointF) -> bool:
        """The skirt on her, large and small again; what lies over it goes before."""
        table, x, y = self._table, at.x(), at.y()
        figure = table.figure
        over = not figure.is_large and (
            table.card_at(x, y)
            or hit_point(table.shown_points(), x, y)
            or find(table.scene, table.view, x, y)
        )
        busy = table.walk_player.walk or table.on_cloths
        if over or busy or not table.figure_at(x, y):
            return False
        table.show_figure()
        return True

    def _take(self, name: str, at: QPointF) -> bool:
        table = self._table
        handle = table.scene.point_of(name)
        if handle is None:
            return False
        states = {a: table.scene.state(a) for a in handle.amounts}
        known = {a: state for a, state in states.items() if state}
        laid = table.scene.layout.of_panel(handle.panel)
        if laid is None:
            return False
        table.pull = pulling.begin(
            handle,
            table.view.table(at.x(), at.y()),
            (at.x(), at.y()),
            laid.drafted,
            table.scene.begin,
            known,
        )
        if table.pull is None:
            return False
        table.pull.alike = alike(table.scene, handle)
        table.points.held = name
        table.note_press()
        table.look_around()
        return True

    def move(self, event: QMouseEvent) -> None:
        """Only take note; what it means is worked when all events are in."""
        table, at = self._table, event.position()
        table.pointer = (at.x(), at.y())
        if self._cloth.move(at):
            return
        if table.pull:
            fine, alone = (bool(event.modifiers() & key) for key in (_SHIFT, _CONTROL))
            scale = table.view.scale
            table.pull.move(at.x(), at.y(), scale, fine=fine, alone=alone)
        elif self._pan:
            pan = self._pan
            way = at - pan.pressed
            pan.moved = pan.moved or way.manhattanLength() > pulling.SLACK
            if pan.moved:
                table.setCursor(Qt.CursorShape.ClosedHandCursor)
                step = at - pan.last
                pan.last = at
                table.pan_by(step.x(), step.y())
        table.look_around()

    def release(self, event: QMouseEvent) -> None:
        """A pull becomes one change; a press without a pull chooses."""
        table = self._table
        if self._cloth.release():
            return
        if table.pull and event.button() == Qt.MouseButton.LeftButton:
            self._let_go(table.pull)
        elif self._pan and event.button() == self._pan.button:
            pan, self._pan = self._pan, None
            left = event.button() == Qt.MouseButton.LeftButton
            if left and not pan.moved and not table.on_cloths:
                self._choose(pan.pressed)
        table.look_around()

    def _let_go(self, pull: pulling.Pull) -> None:
        table = self._table
        # The last moves may still wait for their tick.
        pull.tick(table.brushes.manner)
        table.pull, table.points.held = None, ""
        table.chosen, table.entry_in_hand = None, ""
        if pull.moved and pull.changed:
            table.pulled.emit(dict(pull.values))
        elif pull.moved:
            table.dropped.emit()
        table.points.chosen = pull.handle.place
        # The arrows go on where the hand left off.
        table.focus_point(pull.handle.place)

    def _choose(self, at: QPointF) -> None:
        table = self._table
        table.points.chosen = table.points.focused = table.entry_in_hand = ""
        table.edges_in_hand = frozenset()
        table.chosen = find(table.scene, table.view, at.x(), at.y())
        table.signs.shown = table.pin_at(at.x(), at.y())
        if table.signs.shown:
            table.chosen = None
        table.say_pointed()
        table.picked.emit(table.chosen, (at.x(), at.y()))

    def double_click(self, event: QMouseEvent) -> None:
        """A balance mark on a piece's edge; elsewhere ask why."""
        table, at = self._table, event.position()
        self.press(event)
        if table.on_cloths:
            return
        found = None
        if not table.pull:
            found = find(table.scene, table.view, at.x(), at.y())
        if not self._notch(found, at):
            self.ask_why()

    def _notch(self, found: Found | None, at: QPointF | None) -> bool:
        """Ask for a balance mark on an edge: at a pixel, else in its middle."""
        table, edge = self._table, edge_of(found)
        if found is None or edge is None:
            return False
        if at is not None:
            distance = along(found, table.view, at.x(), at.y())
        else:
            distance = found.shape.length / 2 if isinstance(found.shape, Chain) else 0
        table.notch_wanted.emit(*edge, distance)
        return True

    def ask_notch(self) -> bool:
        """A balance mark where she points, or in the middle of what is chosen."""
        table = self._table
        if table.hovered and edge_of(table.hovered) and table.pointer:
            return self._notch(table.hovered, QPointF(*table.pointer))
        return self._notch(table.chosen, None)

    def ask_why(self) -> None:
        """Have what is pointed at or chosen explained."""
        table = self._table
        handle = table.points.active()
        found = table.hovered or table.chosen
        name = handle.place if handle else found.name if found else ""
        if name:
            table.asked_why.emit(name)

    def leave(self) -> None:
        """The pointer is elsewhere; a pull goes on, for the mouse stays ours."""
        table = self._table
        if table.pull is None:
            table.pointer = None
            table.look_around()

    def tick(self) -> None:
        """What the pointer means, once per round of events."""
        table = self._table
        if table.pull:
            if table.pull.tick(table.brushes.manner):
                table.pulling.emit(dict(table.pull.values))
                table.say_pointed()
            # Before Qt paints what of the slips changed: all is painted in one go.
            table.show_changes()
            return
        if table.on_cloths:
            self._cloth.hover()
            return
        table.points.hovered, table.hovered = "", None
        table.signs.hovered = None
        table.entry_hovered = ""
        table.card_in_hand = table.card_at(*table.pointer) if table.pointer else ""
        if (
            table.pointer
            and not table.figure.is_large
            and not table.card_in_hand
            and not table.walk_player.walk
            and not (self._pan and self._pan.moved)
        ):
            self._find(*table.pointer)
        self._show_cursor()
        table.say_pointed()

    def _find(self, x: float, y: float) -> None:
        table = self._table
        shown = table.shown_points()
        point = hit_point(shown, x, y)
        if point:
            table.points.hovered = point.name
        elif written := table.entry_at(x, y):
            table.entry_hovered = written.entry.name
        elif not hit_sign(shown, x, y):
            table.signs.hovered = table.pin_at(x, y)
            if not table.signs.hovered:
                table.hovered = find(table.scene, table.view, x, y)
        table.refresh()

    def _show_cursor(self) -> None:
        table = self._table
        shape = Qt.CursorShape.ArrowCursor
        if table.card_in_hand or table.on_figure:
            shape = Qt.CursorShape.PointingHandCursor
        elif self._pan and self._pan.moved:
            shape = Qt.CursorShape.ClosedHandCursor
        elif table.points.hovered:
            handle = table.scene.point_of(table.points.hovered)
            if handle:
                way, dim = table.points.way(handle), table.scene.is_dim(handle)
                shape = cursor_for(way, both=handle.second is not None, dim=dim)
        elif table.entry_hovered:
            shape = Qt.CursorShape.IBeamCursor
        elif table.pointer and hit_sign(table.shown_points(), *table.pointer):
            shape = Qt.CursorShape.PointingHandCursor
        if table.cursor().shape() != shape:
            table.setCursor(QCursor(shape))

    # The wheel and two fingers

    def wheel(self, event: QWheelEvent) -> None:
        """Zoom at the pointer; a touchpad's two fingers, or Shift, pan."""
        table, at, turned = self._table, event.position(), event.angleDelta()
        event.accept()
        if table.pull:
            return
        step = event.pixelDelta()
        pad = event.device().type() == QPointingDevice.DeviceType.TouchPad
        if event.modifiers() & _CONTROL:
            pad = False
        if pad and not step.isNull():
            table.pan_by(step.x(), step.y())
        elif event.modifiers() & _SHIFT:
            table.pan_by(turned.y() or turned.x(), 0)
        else:
            table.zoom_by(WHEEL_STEP ** (turned.y() / 120), (at.x(), at.y()))

    def pinch(self, event: QEvent) -> bool:
        """Zoom by pinching; False for every other event."""
        table = self._table
        if event.type() not in _PINCHES:
            return False
        if isinstance(event, QtGui.QNativeGestureEvent):
            if event.gestureType() != Qt.NativeGestureType.ZoomNativeGesture:
                return False
            at = event.position()
            table.zoom_by(1 + event.value(), (at.x(), at.y()))
            return True
        if isinstance(event, QtWidgets.QGestureEvent):
            gesture = event.gesture(Qt.GestureType.PinchGesture)
            if isinstance(gesture, QtWidgets.QPinchGesture):
                middle = table.mapFromGlobal(gesture.centerPoint())
                table.zoom_by(gesture.scaleFactor(), (middle.x(), middle.y()))
                return True
        return False

    # Keys

    def key(self, event: QKeyEvent) -> bool:
        """What a key does; False when it means nothing here."""
        key = Qt.Key(event.key())
        if self._table.on_cloths:
            shift = bool(event.modifiers() & _SHIFT)
            seen = key in _WAYS or key in _MORE or key in _LESS
            held = event.modifiers() & _CONTROL
            return self._cloth.key(event) or (
                seen and not held and self._table_key(key, shift=shift)
            )
        if key == Qt.Key.Key_Escape:
            return self._escape()
        alone = bool(event.modifiers() & _CONTROL)
        by_arrow = key in _WAYS and self._table.points.focused
        if event.modifiers() & Qt.KeyboardModifier.AltModifier or (
            alone and not by_arrow
        ):
            return False
        if self._table.pull:
            return True
        if self._table.walk_player.walk:
            return self._walk_key(key)
        entry = self._table.entry_in_hand
        if entry and (key in _WHY or event.text().isdigit()):
            self._table.open_entry(entry)
            if event.text().isdigit():
                self._table.field.line.setText(event.text())
                self._table.field.line.setModified(True)
            return True
        fine = bool(event.modifiers() & _SHIFT)
        name = self._table.points.focused
        if name and self._point_key(name, key, fine=fine, alone=alone):
            return True
        return self._table_key(key, shift=fine)

    def _escape(self) -> bool:
        """Drop what is in hand, stop walking, let go of what is chosen."""
        table = self._table
        if table.figure.is_large:
            table.show_figure(large=False)
        elif table.pull:
            table.pull, table.points.held = None, ""
            table.dropped.emit()
        elif table.walk_player.walk:
            table.stop_walking()
        elif self._has_choice():
            table.points.chosen = table.points.focused = table.entry_in_hand = ""
            table.chosen = table.signs.shown = None
            table.edges_in_hand = frozenset()
        elif table.scene.brought != SKIRT:
            table.bring(SKIRT)
        else:
            return False
        table.look_around()
        return True

    def _has_choice(self) -> bool:
        table = self._table
        points = table.points
        known = (points.chosen, points.focused, table.entry_in_hand)
        held = table.chosen or table.signs.shown or table.edges_in_hand
        return any(known) or bool(held)

    def _walk_key(self, key: Qt.Key) -> bool:
        way = _WAYS.get(key)
        walk = self._table.walk_player.walk
        if way is None or walk is None:
            return False
        self._table.walk_player.to(walk.distance + _WALK_KEY * (way.x + way.y))
        return True

    def _point_key(self, name: str, key: Qt.Key, *, fine: bool, alone: bool) -> bool:
        table = self._table
        handle = table.scene.point_of(name)
        if handle is None:
            return False
        pace: Pace = "page" if key in _PAGES else "fine" if fine else "plain"
        if key in _WAYS:
            amount, steps = table.points.key_steps(handle, _WAYS[key])
            table.pull_by(amount, steps, pace, alone=alone)
        elif key in _MORE or key in _LESS:
            # Shift is part of typing a plus.
            if key == Qt.Key.Key_Plus:
                pace = "plain"
            table.pull_by(handle.amount, 1 if key in _MORE else -1, pace)
        elif key in _WHY:
            table.asked_why.emit(name)
        else:
            return False
        return True

    def _table_key(self, key: Qt.Key, *, shift: bool) -> bool:
        table = self._table
        if key in _WAYS:
            table.pan_by(-PAN_KEY * _WAYS[key].x, PAN_KEY * _WAYS[key].y)
        elif key in _MORE or key in _LESS:
            table.zoom_by(WHEEL_STEP if key in _MORE else 1 / WHEEL_STEP)
        elif key == Qt.Key.Key_N:
            return self.ask_notch()
        elif key == Qt.Key.Key_C:
            table.leaf(-1 if shift else 1)
        elif key == Qt.Key.Key_A:
            table.fit_pieces()
        elif key in _WHY:
            self.ask_why()
        else:
            return False
        return True
