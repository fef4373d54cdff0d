"""Whether one edge could be taken for another: their lengths and balance marks.

The rule is one for the marks that are set and the check of them (common practice, no
source).
"""

from __future__ import annotations

import math
from collections.abc import Sequence

Mark = tuple[float, int]
"""A balance mark: walked distance from the edge's start, mm, and its snips."""


def from_other_end(marks: Sequence[Mark], length: float) -> tuple[Mark, ...]:
    """The marks of an edge as they lie when it is walked from its end."""
    return tuple((length - distance, count) for distance, count in reversed(marks))


def greatest_difference(
    own: Sequence[Mark], length: float, theirs: Sequence[Mark], their_length: float
) -> float:
    """By how much two edges differ at the most telling place, whichever way they lie.

    Args:
        own: marks of the one, in order.
        length: its walked length, mm.

    Returns:
        mm; infinite where the counts of the marks differ both ways round.
    """
    off = abs(their_length - length)
    turned = from_other_end(theirs, their_length)
    return min(_margin(own, marks, off) for marks in (theirs, turned))


def _margin(own: Sequence[Mark], theirs: Sequence[Mark], off: float) -> float:
    if [count for _, count in own] != [count for _, count in theirs]:
        return math.inf
    gaps = (abs(a - b) for (a, _), (b, _) in zip(own, theirs, strict=True))
    return max(off, *gaps, 0.0)
