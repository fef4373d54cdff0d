"""Finding the number at which two things agree: secant steps inside a bracket.

The search depends on its arguments only, so the same draft always gives the same
number, whatever was drawn before.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from typing import Final

_AGREES: Final = 1e-7
_MOST_TRIES: Final = 80
_MOST_QUICK_TRIES: Final = 8


@dataclass(frozen=True)
class SearchEnd:
    """Where the search ended, and by how much the two still differ there."""

    value: float
    miss: float

    @property
    def agrees(self) -> bool:
        """True when the two agree to a thousandth of a millimetre."""
        return abs(self.miss) <= 1e-3


def find(
    difference: Callable[[float], float | None],
    least: float,
    most: float,
    first: float | None = None,
) -> SearchEnd | None:
    """The number between two limits at which a difference is nothing.

    The last number tried is the one returned, unless nothing agrees.

    Args:
        difference: the difference at a number, or None where it cannot be worked.
        first: a number likely to be near; from it a few steps mostly do.

    Returns:
        The best number found; None when nothing could be worked anywhere.
    """
    difference = cache(difference)
    if first is not None and least <= first <= most:
        miss = difference(first)
        if miss is not None and abs(miss) <= _AGREES:
            return SearchEnd(first, miss)
        quick = _from_near(difference, least, most, first) if first > least else None
        if quick is not None:
            return quick
    ends = _workable_ends(difference, least, most)
    if ends is None:
        return None
    low, low_miss, high, high_miss = ends
    best = min(((low, low_miss), (high, high_miss)), key=lambda end: abs(end[1]))
    if low_miss * high_miss > 0 or abs(best[1]) <= _AGREES:
        return SearchEnd(*best)
    return _between(difference, (low, low_miss), (high, high_miss), best)


def _from_near(
    difference: Callable[[float], float | None],
    least: float,
    most: float,
    first: float,
) -> SearchEnd | None:
    """Secant steps from a likely number; None when they lead astray."""
    last, last_miss = first, difference(first)
    here = first + (most - least) / 100
    if last_miss is None or here >= most:
        return None
    for _ in range(_MOST_QUICK_TRIES):
        miss = difference(here)
        if miss is None or miss == last_miss:
            return None
        if abs(miss) <= _AGREES:
            return SearchEnd(here, miss)
        step = miss * (here - last) / (miss - last_miss)
        last, last_miss, here = here, miss, here - step
        if not least < here < most:
            return None
    return None


def _workable_ends(
    difference: Callable[[float], float | None], least: float, most: float
) -> tuple[float, float, float, float] | None:
    """Limits drawn in until both can be worked: by halves, then by sixteenths."""
    shares = (0.0, 1 / 64, 1 / 16, 1 / 8, 1 / 4, 3 / 8, 1 / 2)
    low = _first_workable(difference, [least + (most - least) * s for s in shares])
    high = _first_workable(difference, [most - (most - least) * s for s in shares])
    if low is None and high is None:
        return None
    low, high = low or high, high or low
    if low is None or high is None:
        return None
    return (*low, *high)


def _first_workable(
    difference: Callable[[float], float | None], places: list[float]
) -> tuple[float, float] | None:
    for place in places:
        miss = difference(place)
        if miss is not None:
            return place, miss
    return None


def _between(
    difference: Callable[[float], float | None],
    low: tuple[float, float],
    high: tuple[float, float],
    best: tuple[float, float],
) -> SearchEnd:
    """Secant through the two latest, kept inside the bracket; else half of it."""
    last, latest = (high, low) if best == low else (low, high)
    slow = 0
    for _ in range(_MOST_TRIES):
        rise = latest[1] - last[1]
        guess = latest[0] - latest[1] * (latest[0] - last[0]) / rise if rise else None
        inside = guess is not None and low[0] < guess < high[0]
        if guess is None or not inside or slow > 3:
            guess, slow = (low[0] + high[0]) / 2, 0
        miss = difference(guess)
        if miss is None:
            break
        slow = slow + 1 if abs(miss) > abs(best[1]) / 2 else 0
        last, latest = latest, (guess, miss)
        if abs(miss) < abs(best[1]):
            best = latest
        if miss * low[1] > 0:
            low = latest
        else:
            high = latest
        if abs(best[1]) <= _AGREES or high[0] - low[0] <= 1e-12 * max(1, abs(guess)):
            break
    return SearchEnd(*best)
