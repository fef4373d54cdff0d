"""PullTrials: an amount found so that a place on the table follows the pointer.

A handle is a place and one or two amounts. While it is pulled only what the place
leans on is worked; the amounts are found by Gauss-Newton steps with the slope kept
warm from tick to tick, never more than six tries a tick.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

from skirtwright.draft.inputs import AmountState
from skirtwright.draft.step import Reads
from skirtwright.draft.working.recompute import Worked
from skirtwright.geometry.point import Point
from skirtwright.problems import SkirtwrightError

HOPELESS = 0.02
"""mm a place moves per mm (or degree) of its amount, below which pulling is vain."""

_MOST_TRIES = 6
NEAR = 0.05
"""mm: a place that would move less is where it should be."""

_PROBE = 0.5


Snap = Callable[[AmountState, float], float]
"""An amount's state and a wish for it to the value it can be set to."""


@dataclass(frozen=True)
class Handle:
    """A place on the table that pulls an amount, as the draft stands.

    Attributes:
        point: where it lies, in the panel's own coordinates, mm.
        second: a further amount, for places that move both ways.
    """

    place: str
    panel: str
    point: Point
    amount: str
    second: str | None
    label: str

    @property
    def amounts(self) -> tuple[str, ...]:
        """The amounts it pulls."""
        return (self.amount, self.second) if self.second else (self.amount,)


def handles(worked: Worked) -> tuple[Handle, ...]:
    """The handles of a draft as it stands; those that do not apply are left out."""
    found = []
    for data in worked.draft.pulls:
        names = (data.amount, data.second) if data.second else (data.amount,)
        states = [worked.stated.amounts[name] for name in names]
        if not states[0].applies:
            continue
        second = data.second if len(states) > 1 and states[1].applies else None
        try:
            if data.when and not worked.read(data.when, Reads.WHETHER):
                continue
            point = worked.read(data.place, Reads.PLACE)
        except SkirtwrightError:
            continue
        panel = data.place.split(".", 1)[0]
        label = states[0].amount.label
        found.append(Handle(data.place, panel, point, data.amount, second, label))
    return tuple(found)


@dataclass(frozen=True)
class Response:
    """How a place answers to an amount: the step it makes for one mm more of it."""

    per_unit: Point

    @property
    def reach(self) -> float:
        """How far the place moves for one more of the amount, mm."""
        return self.per_unit.size()

    @property
    def direction(self) -> Point:
        """The way it moves as the amount grows."""
        return self.per_unit.unit()

    @property
    def is_ineffective(self) -> bool:
        """True when pulling here would do next to nothing."""
        return self.reach < HOPELESS


class PullTrials:
    """Works places for trial amounts.

    It works them where the draft on the table was worked, so that what was tried
    last need not be done again when the whole draft follows.
    """

    def place(
        self, worked: Worked, handle: Handle, amounts: Mapping[str, float]
    ) -> Point | None:
        """Where the handle's place lies for other amounts; None if it cannot be."""
        inputs = replace(worked.inputs, amounts={**worked.inputs.amounts, **amounts})
        try:
            place: Point = worked.worked_by.read(
                worked.draft, inputs, handle.place, Reads.PLACE
            )
        except SkirtwrightError:
            return None
        return place

    def response(self, worked: Worked, handle: Handle, amount: str) -> Response:
        """How a handle's place answers to an amount, by trying a little more of it.

        An amount of its own that does nothing where it stands, as one that is held to
        what the skirt allows, is tried a quarter of the way to either end as well.
        """
        state = worked.stated.amounts[amount]
        probe = _probe(state)
        steps = [probe if state.value + probe <= state.most else -probe]
        if amount in handle.amounts:
            steps += [_quarter(state, end) for end in (state.least, state.most)]
        found = Response(Point(0.0, 0.0))
        for step in filter(None, steps):
            moved = self.place(worked, handle, {amount: state.value + step})
            if moved is not None:
                found = Response((moved - handle.point) * (1 / step))
            if not found.is_ineffective:
                break
        return found


def _quarter(state: AmountState, end: float) -> float:
    """A quarter of the way to an end of its range; of a count all of it."""
    step = end - state.value
    return float(round(step)) if state.amount.kind == "count" else step / 4


class Drag:
    """One pull, from press to release.

    Args:
        trials: what works the trial amounts.
        worked: the draft at the press.
        pointer: where, in the panel's coordinates; the offset to the place is kept.
    """

    def __init__(
        self, trials: PullTrials, worked: Worked, handle: Handle, pointer: Point
    ) -> None:
        self.handle = handle
        self._trials = trials
        self._worked = worked
        self._offset = handle.point - pointer
        self._states = [worked.stated.amounts[name] for name in handle.amounts]
        self._values = [state.value for state in self._states]
        self._place = handle.point
        self._slopes = [
            trials.response(worked, handle, name).per_unit for name in handle.amounts
        ]

    @property
    def is_ineffective(self) -> bool:
        """True when the place hardly answers to its first amount."""
        return self._slopes[0].size() < HOPELESS

    def to(
        self, pointer: Point, near: float = NEAR, snap: Snap | None = None
    ) -> dict[str, float]:
        """The amounts at which the place is nearest to the pointer, within range.

        Args:
            pointer: in the panel's coordinates, mm.
            near: a place that would move less is where it should be, mm.
            snap: brings a wish to a value the amount can be set to. What is tried last
                is then what is set, and need not be worked again for the whole draft.
        """
        snap = snap or _allowed
        target = pointer + self._offset
        for _ in range(_MOST_TRIES):
            steps = _least_squares(self._slopes, target - self._place)
            wanted = [
                snap(state, value + step)
                for state, value, step in zip(
                    self._states, self._values, steps, strict=True
                )
            ]
            moves = [w - v for w, v in zip(wanted, self._values, strict=True)]
            sizes = [slope.size() for slope in self._slopes]
            if sum(abs(m) * s for m, s in zip(moves, sizes, strict=True)) < near:
                break
            place = self._trials.place(self._worked, self.handle, self._named(wanted))
            if place is None:
                break
            self._learn(moves, place)
            self._values, self._place = wanted, place
        return self._named(self._values)

    def _named(self, values: list[float]) -> dict[str, float]:
        return dict(zip(self.handle.amounts, values, strict=True))

    def _learn(self, moves: list[float], place: Point) -> None:
        """Broyden's update: the slopes put right by what the last step showed."""
        size = sum(move * move for move in moves)
        expected = self._place
        for slope, move in zip(self._slopes, moves, strict=True):
            expected = expected + slope * move
        miss = place - expected
        self._slopes = [
            slope + miss * (move / size)
            for slope, move in zip(self._slopes, moves, strict=True)
        ]


def _allowed(state: AmountState, value: float) -> float:
    """A value within the range, or as far out as it was set; a count is whole."""
    whole = float(round(value)) if state.amount.kind == "count" else value
    return min(max(whole, min(state.least, state.value)), max(state.most, state.value))


def _probe(state: AmountState) -> float:
    """How much more of an amount is tried: mm or degrees, one, or part of its range."""
    if state.amount.kind == "count":
        return 1.0
    if state.amount.kind == "ratio":
        return (state.most - state.least) / 100 or 0.01
    return _PROBE


def _least_squares(slopes: list[Point], away: Point) -> list[float]:
    """The steps of one or two amounts that bring a place nearest to where it should."""
    first = slopes[0]
    if len(slopes) == 1:
        size = first.dot(first)
        return [first.dot(away) / size if size > HOPELESS**2 else 0.0]
    second = slopes[1]
    area = first.cross(second)
    if abs(area) <= 1e-6:
        return [_least_squares([first], away)[0], 0.0]
    return [away.cross(second) / area, first.cross(away) / area]
