"""Steps of an amount: how far one key press or click goes, and how it is read."""

from __future__ import annotations

from typing import Literal

from skirtwright.draft.inputs import AmountState
from skirtwright.measures.units import MM_PER, show_length, show_number
from skirtwright.words import Manner

Pace = Literal["fine", "plain", "page"]

_TURNS = {"fine": 0.1, "plain": 1.0, "page": 10.0}
_SHARES = {"fine": 0.01, "plain": 0.05, "page": 0.25}
_COUNTS = {"fine": 1.0, "plain": 1.0, "page": 5.0}
_FINE_FRACTION = 64
_NEARLY = 1e-9


def step_of(state: AmountState, manner: Manner, pace: Pace = "plain") -> float:
    """One step of an amount: mm, degrees, or plain.

    A millimetre, a tenth with a fine hand, ten by the page; in inches her fraction,
    a 64th, and ten fractions.
    """
    kind = state.amount.kind
    if kind == "count":
        return _COUNTS[pace]
    if kind == "ratio":
        return _SHARES[pace]
    if kind == "length" and manner.unit == "in":
        parts = _FINE_FRACTION if pace == "fine" else manner.fraction
        return MM_PER["in"] / parts * (10.0 if pace == "page" else 1.0)
    return _TURNS[pace]


def stepped(
    state: AmountState, steps: float, manner: Manner, pace: Pace = "plain"
) -> float:
    """The amount so many steps on, on the scale of its steps and within its range."""
    step = step_of(state, manner, pace)
    return snapped(state, state.value + steps * step, manner, pace)


def snapped(
    state: AmountState, value: float, manner: Manner, pace: Pace = "plain"
) -> float:
    """A value brought to the nearest step and into the range.

    A value set outside the range stays reachable: it widens the range to itself.
    """
    grain = step_of(state, manner, "fine" if pace == "fine" else "plain")
    value = round(value / grain) * grain
    least, most = min(state.least, state.value), max(state.most, state.value)
    # Tenths have no exact binary form: what is kept is what is read.
    return round(min(max(value, least), most), 6)


def at_limit(state: AmountState, value: float) -> Literal["least", "most", ""]:
    """Which end of its range a value stands at."""
    if value >= state.most - _NEARLY:
        return "most"
    return "least" if value <= state.least + _NEARLY else ""


def shown(state: AmountState, value: float, manner: Manner) -> str:
    """An amount's value as she reads it, with its unit."""
    kind = state.amount.kind
    if kind == "length":
        if manner.unit == "in":
            return _inches(value, manner)
        digits = {"cm": 2, "mm": 1}[manner.unit]
        return show_length(value, manner.unit, digits=digits, with_unit=True)
    if kind == "angle":
        return f"{show_number(value, 1)}°"
    return show_number(value, 0 if kind == "count" else 2)


def _inches(value: float, manner: Manner) -> str:
    """In 64ths where a fine hand has left it on one, else in her fraction."""
    parts = value / MM_PER["in"] * _FINE_FRACTION
    fine = abs(parts - round(parts)) < _NEARLY * 1e4
    fraction = _FINE_FRACTION if fine else manner.fraction
    return show_length(value, "in", fraction, with_unit=True)
