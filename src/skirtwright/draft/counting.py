"""Whole numbers of things: how many pieces, turns, darts or pleats are asked for."""

from __future__ import annotations

from skirtwright.budget import MOST_TURNS

_NEAR = 1e-9


def whole_number(value: float, least: int = 0) -> int | None:
    """The whole number a working came to; None where it is none, or out of bounds.

    Args:
        least: how many there are at least.
    """
    if not least - _NEAR <= value <= MOST_TURNS + _NEAR:
        return None
    count = round(value)
    return count if abs(value - count) <= _NEAR else None
