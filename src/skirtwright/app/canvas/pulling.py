"""A pull point in hand: from the press of the button to its release."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from skirtwright.app.canvas.stepping import Pace, snapped
from skirtwright.draft.inputs import AmountState
from skirtwright.draft.pulls import NEAR, Drag, Handle
from skirtwright.geometry.point import Point
from skirtwright.words import Manner

FINE = 0.1
"""What a pointer's way counts for with a fine hand."""

_SEEN = 0.25
"""Pixels that cannot be told apart while something moves."""

SLACK = 3.0
"""Pixels a button may be moved while pressed and it is still a click."""


@dataclass
class Pull:
    """One pull.

    Attributes:
        states: its amounts as they stood at the press.
        drafted: the place of the draft that lies at a place of the table.
        hand: where the hand is taken to be, on the table, mm.
        pointer: where the pointer is, px.
        pressed: where it was pressed, px.
        fine: it moves a tenth of what the pointer does.
        near: so near the hand is where it should be, mm.
        values: the amounts as they would be now.
        alike: amounts that go with the first by as much, as they stood at the press.
        alone: they stay as they are.
        moved: it has been moved by more than a click allows.
    """

    handle: Handle
    states: dict[str, AmountState]
    drag: Drag
    drafted: Callable[[Point], Point]
    hand: Point
    pointer: tuple[float, float]
    pressed: tuple[float, float]
    fine: bool = False
    near: float = NEAR
    values: dict[str, float] = field(default_factory=dict)
    moved: bool = False
    alike: dict[str, AmountState] = field(default_factory=dict)
    alone: bool = False

    def move(
        self, x: float, y: float, scale: float, *, fine: bool, alone: bool = False
    ) -> None:
        """Take note of the pointer; cheap, for it may come a thousand times a second.

        Args:
            x: px.
            y: px.
            scale: px to a mm.
            fine: with a fine hand.
            alone: what goes alike with it stays.
        """
        self.alone = alone
        share = (FINE if fine else 1.0) / scale
        step = Point(x - self.pointer[0], self.pointer[1] - y)
        self.hand = self.hand + step * share
        self.pointer = (x, y)
        self.fine = fine
        self.near = NEAR if fine else max(NEAR, _SEEN / scale)
        way = max(abs(x - self.pressed[0]), abs(y - self.pressed[1]))
        self.moved = self.moved or way > SLACK

    def tick(self, manner: Manner) -> bool:
        """Find the amounts for where the hand is now; True when they changed."""
        if not self.moved:
            return False
        pace: Pace = "fine" if self.fine else "plain"
        found = self.drag.to(
            self.drafted(self.hand),
            self.near,
            lambda state, wish: snapped(state, wish, manner, pace),
        )
        found = found if self.alone else {**found, **self._moving_along(found)}
        changed = found != self.values
        self.values = found
        return changed

    def _moving_along(self, found: Mapping[str, float]) -> dict[str, float]:
        """What goes with the first amount, by as much more or less."""
        first = self.handle.amount
        if first not in found:
            return {}
        return changed_by(self.alike, found[first] - self.states[first].value)

    @property
    def most_changed(self) -> str:
        """The amount of the point that has been moved furthest."""

        def way(name: str) -> float:
            before = self.states[name].value
            return abs(self.values.get(name, before) - before)

        return max(self.handle.amounts, key=way)

    @property
    def changed(self) -> bool:
        """True when an amount differs from what it was at the press."""
        return any(
            abs(value - {**self.states, **self.alike}[name].value) > 1e-9
            for name, value in self.values.items()
        )


def changed_by(states: Mapping[str, AmountState], more: float) -> dict[str, float]:
    """Amounts so much more or less, within their ranges."""
    return {
        name: round(min(max(state.value + more, state.least), state.most), 6)
        for name, state in states.items()
    }


def begin(
    handle: Handle,
    place: Point,
    pointer: tuple[float, float],
    drafted: Callable[[Point], Point],
    start: Callable[[Handle, Point], Drag | None],
    states: dict[str, AmountState],
) -> Pull | None:
    """Take a pull point in hand; None where there is no drawing to pull.

    Args:
        place: of the pointer, on the table, mm.
        pointer: the same, px.
        drafted: from the table to the draft, for the handle's panel.
        start: the scene's.
        states: of the handle's amounts.
    """
    drag = start(handle, place)
    if drag is None:
        return None
    return Pull(handle, states, drag, drafted, place, pointer, pointer)
