"""Pull points for those who do not see them: each a slider with name, value and unit.

The table is a canvas whose children are the pull points. Value and action are given
by objects of their own: Qt's C++ side takes the address handed to it for the very
interface it asked for, so that one object cannot stand for several.
"""

from __future__ import annotations

from functools import partial
from typing import Any, cast

from PySide6.QtCore import QObject, QPoint, QRect
from PySide6.QtGui import (
    QAccessible,
    QAccessibleActionInterface,
    QAccessibleInterface,
    QAccessibleObject,
    QAccessibleValueInterface,
)
from PySide6.QtWidgets import QAccessibleWidget

from skirtwright.app.canvas.points import PullPoint
from skirtwright.app.canvas.tabletop import Tabletop
from skirtwright.app.guard import guarded


def _table_of(point: PullPoint) -> Tabletop:
    return cast(Tabletop, point.parent())


class PullValue(QAccessibleValueInterface):
    """A pull point's amount as a number: mm, degrees or plain."""

    def __init__(self, point: PullPoint) -> None:
        super().__init__()
        self._point = point

    @guarded(0.0)
    def currentValue(self) -> float:
        return _table_of(self._point).points.value(self._point.name)

    @guarded()
    def setCurrentValue(self, value: Any) -> None:
        """Set the amount; one step to undo."""
        table = _table_of(self._point)
        wanted = table.points.snapped(
            self._point.name, float(value), table.brushes.manner
        )
        table.set_amounts(wanted)

    @guarded(0.0)
    def minimumValue(self) -> float:
        return self._range()[0]

    @guarded(0.0)
    def maximumValue(self) -> float:
        return self._range()[1]

    @guarded(0.0)
    def minimumStepSize(self) -> float:
        return self._range()[2]

    def _range(self) -> tuple[float, float, float]:
        table = _table_of(self._point)
        return table.points.range(self._point.name, table.brushes.manner)


class PullActions(QAccessibleActionInterface):
    """What can be done to a pull point."""

    def __init__(self, point: PullPoint) -> None:
        super().__init__()
        self._point = point

    @guarded(list)
    def actionNames(self) -> list[str]:
        """More, less, take the keyboard."""
        return [self.increaseAction(), self.decreaseAction(), self.setFocusAction()]

    @guarded()
    def doAction(self, actionName: str) -> None:
        table, name = _table_of(self._point), self._point.name
        if actionName == self.setFocusAction():
            table.focus_point(name)
        elif actionName in (self.increaseAction(), self.decreaseAction()):
            handle = table.scene.point_of(name)
            if handle:
                more = actionName == self.increaseAction()
                table.pull_by(handle.amount, 1 if more else -1)

    @guarded(list)
    def keyBindingsForAction(self, actionName: str) -> list[str]:
        keys = {self.increaseAction(): ["+"], self.decreaseAction(): ["-"]}
        return keys.get(actionName, [])


class PullInterface(QAccessibleObject):
    """A pull point as assistive technology meets it."""

    def __init__(self, point: PullPoint) -> None:
        super().__init__(point)
        self._point = point
        self._value = PullValue(point)
        self._actions = PullActions(point)

    @guarded()
    def parent(self) -> Any:
        return QAccessible.queryAccessibleInterface(_table_of(self._point))

    @guarded()
    def child(self, index: int) -> Any:
        return None

    @guarded(0)
    def childCount(self) -> int:
        return 0

    @guarded(-1)
    def indexOfChild(self, child: QAccessibleInterface) -> int:
        return -1

    @guarded(QAccessible.Role.Slider)
    def role(self) -> QAccessible.Role:
        return QAccessible.Role.Slider

    @guarded(QAccessible.State)
    def state(self) -> QAccessible.State:
        """Whether it can take and has the keyboard, and whether it is in sight."""
        state = QAccessible.State()
        table = _table_of(self._point)
        state.focusable = True
        state.focused = table.hasFocus() and table.points.focused == self._point.name
        state.offscreen = not table.point_in_sight(self._point.name)
        return state

    @guarded("")
    def text(self, t: QAccessible.Text) -> str:
        """Its name, its value with the unit, and what it does."""
        table, name = _table_of(self._point), self._point.name
        if t == QAccessible.Text.Name:
            return table.points.label(name, table.brushes.manner)
        if t == QAccessible.Text.Value:
            return table.points.says_value(name, table.brushes.manner)
        if t in (QAccessible.Text.Description, QAccessible.Text.Help):
            return table.points.sentence(name, table.brushes.manner)
        return ""

    @guarded(QRect)
    def rect(self) -> QRect:
        """Its target on the screen."""
        table = _table_of(self._point)
        area = table.points.target(self._point.name, table.view)
        return QRect(table.mapToGlobal(area.topLeft()), area.size())

    @guarded()
    def interface_cast(self, t: QAccessible.InterfaceType) -> Any:
        """The value or the actions."""
        if t == QAccessible.InterfaceType.ValueInterface:
            return self._value
        if t == QAccessible.InterfaceType.ActionInterface:
            return self._actions
        return None


class TableInterface(QAccessibleWidget):
    """The table as assistive technology meets it: a canvas with pull points."""

    def __init__(self, table: Tabletop) -> None:
        super().__init__(table, QAccessible.Role.Canvas, table.accessibleName())
        self._table = table

    @guarded(0)
    def childCount(self) -> int:
        return len(self._table.points.stand_ins)

    @guarded()
    def child(self, index: int) -> Any:
        """A pull point, in reading order."""
        points = self._table.points.stand_ins
        if not 0 <= index < len(points):
            return None
        return QAccessible.queryAccessibleInterface(points[index])

    @guarded(-1)
    def indexOfChild(self, child: QAccessibleInterface) -> int:
        points: list[QObject] = list(self._table.points.stand_ins)
        point = child.object()
        return points.index(point) if point in points else -1

    @guarded()
    def childAt(self, x: int, y: int) -> Any:
        table = self._table
        here = table.mapFromGlobal(QPoint(x, y))
        for point in table.points.stand_ins:
            if table.points.target(point.name, table.view).contains(here):
                return QAccessible.queryAccessibleInterface(point)
        return None

    @guarded()
    def focusChild(self) -> Any:
        """The pull point that has the keyboard, or the table itself."""
        table = self._table
        if not table.hasFocus():
            return None
        for point in table.points.stand_ins:
            if point.name == table.points.focused:
                return QAccessible.queryAccessibleInterface(point)
        return self

    @guarded("")
    def text(self, t: QAccessible.Text) -> str:
        if t == QAccessible.Text.Name:
            return self._table.accessibleName()
        if t == QAccessible.Text.Description:
            return self._table.accessibleDescription()
        return ""


_kept: dict[int, QAccessibleInterface] = {}
"""Interfaces are ours to keep alive: Qt keeps only their address."""


def _make(key: str, thing: QObject) -> QAccessibleInterface | None:
    """The interface of a thing of ours; None for all others."""
    # By the class's name first: this is asked of every object of the program.
    if key == "PullPoint" and isinstance(thing, PullPoint):
        return _keep(thing, PullInterface(thing))
    if key == "Table" and isinstance(thing, Tabletop):
        return _keep(thing, TableInterface(thing))
    return None


def _keep(thing: QObject, made: QAccessibleInterface) -> QAccessibleInterface:
    _kept[id(made)] = made
    thing.destroyed.connect(partial(_let_go, id(made)))
    return made


def _let_go(number: int, _: QObject | None = None) -> None:
    """PySide never lets an interface go: all that it holds, the table, must."""
    vars(_kept.pop(number)).clear()


def install() -> None:
    """Let Qt know, once for the program."""
    global _installed  # noqa: PLW0603 - Qt's own list of factories is global too
    if not _installed:
        QAccessible.installFactory(_make)
        _installed = True


_installed = False
