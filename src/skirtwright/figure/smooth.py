"""A smooth line through given heights that never swings past what it is given.

Monotone cubic interpolation: F. N. Fritsch and R. E. Carlson, "Monotone Piecewise
Cubic Interpolation", SIAM Journal on Numerical Analysis 17 (1980), with the slopes of
F. N. Fritsch and J. Butland (1984).
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

Values = tuple[float, ...]


@dataclass(init=False)
class Smooth:
    """Several values over a height, each smooth and monotone between two heights.

    Attributes:
        heights: rising, two at least.
        values: what each of them has there.
        slopes: per mm of height, each value's.
    """

    heights: Final[Values]
    values: Final[tuple[Values, ...]]
    slopes: Final[tuple[Values, ...]]

    def __init__(
        self, heights: Values, values: tuple[Values, ...], slopes: tuple[Values, ...]
    ) -> None:
        self.heights = heights
        self.values = values
        self.slopes = slopes

    def at(self, height: float) -> Values:
        """The values at a height; beyond the ends those of the end."""
        heights = self.heights
        height = min(max(height, heights[0]), heights[-1])
        i = min(max(bisect_right(heights, height) - 1, 0), len(heights) - 2)
        span = heights[i + 1] - heights[i]
        t = (height - heights[i]) / span
        u = 1 - t
        first, last = (1 + 2 * t) * u * u, t * t * (3 - 2 * t)
        leave, arrive = t * u * u * span, -t * t * u * span
        rows = zip(
            self.values[i],
            self.values[i + 1],
            self.slopes[i],
            self.slopes[i + 1],
            strict=True,
        )
        return tuple(
            first * a + last * b + leave * p + arrive * q for a, b, p, q in rows
        )


def smooth(heights: Sequence[float], values: Sequence[Values]) -> Smooth:
    """The smooth line through values at heights.

    Args:
        heights: mm, rising.
        values: as many as heights, all of one length.
    """
    columns = [_slopes(heights, column) for column in zip(*values, strict=True)]
    return Smooth(tuple(heights), tuple(values), tuple(zip(*columns, strict=True)))


def _slopes(heights: Sequence[float], values: Sequence[float]) -> list[float]:
    spans = [b - a for a, b in pairwise(heights)]
    rises = [(b - a) / s for (a, b), s in zip(pairwise(values), spans, strict=True)]
    inner = [
        _between(before, after, rise, next_rise)
        for (before, after), (rise, next_rise) in zip(
            pairwise(spans), pairwise(rises), strict=True
        )
    ]
    return [rises[0], *inner, rises[-1]]


def _between(before: float, after: float, rise: float, next_rise: float) -> float:
    """Weighted harmonic mean of two rises; none where they turn."""
    if rise * next_rise <= 0:
        return 0.0
    one, other = 2 * after + before, after + 2 * before
    return (one + other) / (one / rise + other / next_rise)


def value_at(values: Sequence[float], share: float) -> float:
    """The value at a share of the way along values that stand evenly apart."""
    place = min(max(share, 0.0), 1.0) * (len(values) - 1)
    i = min(int(place), len(values) - 2)
    return values[i] + (values[i + 1] - values[i]) * (place - i)
