"""The pull points: which is pointed at, chosen, in hand; what each has to say."""

from __future__ import annotations

import math
from collections.abc import Sequence

from PySide6.QtCore import QObject, QRect
from PySide6.QtGui import QAccessible, QAccessibleEvent, QAccessibleValueChangeEvent

from skirtwright.app.canvas.handles import TARGET, Shown
from skirtwright.app.canvas.pointing import point_said
from skirtwright.app.canvas.scene import Scene
from skirtwright.app.canvas.stepping import shown, snapped, step_of
from skirtwright.app.canvas.view import View
from skirtwright.draft.pulls import Handle
from skirtwright.geometry.point import Point
from skirtwright.words import Manner, translate


class PullPoint(QObject):
    """A pull point's stand-in in the tree of objects, for assistive technology."""

    def __init__(self, table: QObject, name: str) -> None:
        super().__init__(table)
        self.setObjectName(name)
        self.name = name


class Points:
    """State of the pull points.

    Attributes:
        stand_ins: one object per point for assistive technology, in reading order.
    """

    def __init__(self, scene: Scene) -> None:
        self._scene = scene
        self.focused = ""
        self.chosen = ""
        self.hovered = ""
        self.held = ""
        self.stand_ins: list[PullPoint] = []

    def names(self) -> list[str]:
        """Their names, in reading order."""
        return [handle.place for handle in self._scene.points]

    def renew(self, table: QObject) -> None:
        """Let go of points that are no longer there; stand-ins for those that are."""
        known = self.names()
        self.focused = self.focused if self.focused in known else ""
        self.chosen = self.chosen if self.chosen in known else ""
        self.hovered = self.hovered if self.hovered in known else ""
        if known != [stand_in.name for stand_in in self.stand_ins]:
            for lost in self.stand_ins:
                lost.deleteLater()
            self.stand_ins = [PullPoint(table, name) for name in known]

    def _stand_in(self, name: str) -> PullPoint | None:
        return next((s for s in self.stand_ins if s.name == name), None)

    def tell_focus(self, name: str) -> None:
        """Let assistive technology know which point has the keyboard."""
        stand_in = self._stand_in(name)
        if stand_in and QAccessible.isActive():
            event = QAccessibleEvent(stand_in, QAccessible.Event.Focus)
            QAccessible.updateAccessibility(event)

    def tell_value(self, manner: Manner) -> None:
        """Let assistive technology know the amount of the point in hand."""
        name = self.held or self.focused or self.chosen
        stand_in = self._stand_in(name)
        if stand_in and QAccessible.isActive():
            value = self.says_value(name, manner)
            event = QAccessibleValueChangeEvent(stand_in, value)
            QAccessible.updateAccessibility(event)

    def active(self) -> Handle | None:
        """The point that what is shown beside it is about."""
        for name in (self.held, self.hovered, self.focused, self.chosen):
            handle = self._scene.point_of(name) if name else None
            if handle:
                return handle
        return None

    # On the screen

    def shown(self, view: View, *, has_keyboard: bool) -> list[Shown]:
        """All points as they stand on the screen."""
        made: list[Shown] = []
        for handle in self._scene.points:
            way = self._known_way(handle)
            x, y = _aside(view.screen(self._scene.at(handle)), way, made)
            name = handle.place
            focused = has_keyboard and self.focused == name
            made.append(
                Shown(
                    name,
                    x,
                    y,
                    way=way,
                    both=handle.second is not None,
                    dim=self._scene.is_dim(handle),
                    hovered=self.hovered == name,
                    focused=focused,
                    chosen=self.chosen == name,
                    held=self.held == name,
                )
            )
        return made

    def _known_way(self, handle: Handle) -> tuple[float, float] | None:
        step = self._scene.known_way(handle)
        return _on_screen(step) if step else None

    def way(self, handle: Handle) -> tuple[float, float]:
        """The way it goes on the screen as its amount grows; right when it stays."""
        return _on_screen(self._scene.way(handle, handle.amount))

    def target(self, name: str, view: View) -> QRect:
        """A point's target on the screen."""
        handle = self._scene.point_of(name)
        if handle is None:
            return QRect()
        drawn = (point for point in self.shown(view, has_keyboard=False))
        return next(point.rect.toRect() for point in drawn if point.name == name)

    # Amounts

    def value(self, name: str) -> float:
        """A point's amount: mm, degrees or plain; nought for one that is not there."""
        handle = self._scene.point_of(name)
        state = self._scene.state(handle.amount) if handle else None
        return state.value if state else 0.0

    def range(self, name: str, manner: Manner) -> tuple[float, float, float]:
        """Least, most and one step of a point's amount."""
        handle = self._scene.point_of(name)
        state = self._scene.state(handle.amount) if handle else None
        if state is None:
            return 0.0, 0.0, 0.0
        return state.least, state.most, step_of(state, manner)

    def snapped(self, name: str, value: float, manner: Manner) -> dict[str, float]:
        """A wish for a point's amount as what it can be; empty for a lost point."""
        handle = self._scene.point_of(name)
        state = self._scene.state(handle.amount) if handle else None
        if handle is None or state is None:
            return {}
        return {handle.amount: snapped(state, value, manner, "fine")}

    def label(self, name: str, manner: Manner) -> str:
        """What its amount is called; both, for a point that moves both ways."""
        handle = self._scene.point_of(name)
        states = [self._scene.state(a) for a in handle.amounts] if handle else []
        return ", ".join(translate(s.amount.label, manner) for s in states if s)

    def says_value(self, name: str, manner: Manner) -> str:
        """Its amount with the unit; both, for a point that moves both ways."""
        handle = self._scene.point_of(name)
        states = [self._scene.state(a) for a in handle.amounts] if handle else []
        return ", ".join(shown(s, s.value, manner) for s in states if s)

    def sentence(self, name: str, manner: Manner) -> str:
        """What it does."""
        handle = self._scene.point_of(name)
        return point_said(self._scene, handle, manner) if handle else ""

    # Keys

    def key_steps(self, handle: Handle, way: Point) -> tuple[str, int]:
        """The amount an arrow key steps and which way.

        A key that points the way the place goes makes more of its amount, one against
        it less. A key across it is for the second amount, up and right for more; a
        point with one amount takes that for its own.

        Args:
            way: of the key, unit step on the table, y up.
        """
        step = self._scene.way(handle, handle.amount)
        along = step.dot(way)
        more = 1 if way.x + way.y > 0 else -1
        if abs(along) > 0.5:
            return handle.amount, 1 if along > 0 else -1
        if handle.second is None:
            return handle.amount, more
        other = self._scene.way(handle, handle.second).dot(way)
        return handle.second, more if abs(other) < 0.1 else (1 if other > 0 else -1)


def _on_screen(step: Point) -> tuple[float, float]:
    return (step.x, -step.y) if step.size() > 0 else (1.0, 0.0)


def _aside(
    at: tuple[float, float], way: tuple[float, float] | None, others: Sequence[Shown]
) -> tuple[float, float]:
    """Where a point is drawn: beside its place, the way it goes, where one is already.

    Else it could not be taken in hand.
    """
    x, y = at
    for other in others:
        if way and math.hypot(other.x - x, other.y - y) < TARGET / 2:
            return x + way[0] * TARGET, y + way[1] * TARGET
    return at
