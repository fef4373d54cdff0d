"""Whole numbers of things: how many pieces, turns, darts or pleats are asked for."""

from __future__ import annotations

from skirtwright.budget import MOST_TURNS

_NEAR = 1e-9


def whole_number(value: float, least: int = 0, most: int = MOST_TURNS) -> int | None:
    """The whole number a working came to; None where it is none, or out of bounds.

    Args:
        value: what the working came to.
        least: how many there are at least.
        most: how many there may be.
    """
    if not least - _NEAR <= value <= most + _NEAR:
        return None
    count = round(value)
    return count if abs(value - count) <= _NEAR else None
