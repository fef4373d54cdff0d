"""Ovals: level sections of a body, each a polygon whose girth is exact.

An oval is a superellipse, |x / a|^p + |y / b|^p = 1, whose half breadth may differ to
the left and to the right. It is drawn as a polygon; the girth is the polygon's own, so
that whoever measures the exported ring finds the tape's figure.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache
from itertools import pairwise

from skirtwright.figure.proportions import proportions

Place = tuple[float, float]
"""x to her left, y to her front, mm."""

_LEAST_HALF = 0.2

STEPS = 24
"""Sides of the polygon in each quarter."""


@dataclass(frozen=True)
class Oval:
    """A convex level section, mm.

    Attributes:
        left, right: half breadths to her left and right of its middle.
        depth: half its depth.
        x, y: its middle.
    """

    left: float
    right: float
    depth: float
    x: float = 0.0
    y: float = 0.0

    @property
    def girth(self) -> float:
        """Length all round, mm."""
        return 2 * (_quarter(self.left, self.depth) + _quarter(self.right, self.depth))

    def ring(self) -> tuple[Place, ...]:
        """The polygon, from the front round by her left, first place not repeated."""
        return tuple(self._places())

    def _places(self) -> Iterator[Place]:
        unit = _unit()
        x, y, deep = self.x, self.y, self.depth
        for across, out in unit[:-1]:
            yield x + self.left * across, y + deep * out
        for across, out in unit[:0:-1]:
            yield x + self.left * across, y - deep * out
        for across, out in unit[:-1]:
            yield x - self.right * across, y - deep * out
        for across, out in unit[:0:-1]:
            yield x - self.right * across, y + deep * out

    def moved(self, x: float, y: float) -> Oval:
        """The same oval with its middle elsewhere."""
        return replace(self, x=x, y=y)


def oval_of_girth(girth: float, depth_to_breadth: float) -> Oval:
    """The oval of a girth and proportion, its middle at nought."""
    half = girth / (4 * _quarter(1.0, depth_to_breadth))
    return Oval(half, half, half * depth_to_breadth)


def oval_of_halves(left: float, right: float, depth_to_breadth: float) -> Oval:
    """The oval that measures so much round her left half and so much round her right.

    Halves too unlike for the depth that the whole would have make it less deep; where
    one is less than a fifth of the whole, a slip of the pen, they are taken as alike.
    """
    whole = oval_of_girth(left + right, depth_to_breadth)
    if left == right or min(left, right) < _LEAST_HALF * (left + right):
        return whole
    deep = min(whole.depth, 0.45 * min(left, right))
    return Oval(_half_breadth(left, deep), _half_breadth(right, deep), deep)


def _half_breadth(half_girth: float, depth: float) -> float:
    """The half breadth at which a half is so long; it grows with the breadth."""
    low, high = 0.0, half_girth
    for _ in range(60):
        middle = (low + high) / 2
        if 2 * _quarter(middle, depth) < half_girth:
            low = middle
        else:
            high = middle
    return (low + high) / 2


def _quarter(across: float, deep: float) -> float:
    """Length of a quarter of the polygon, mm."""
    return sum(
        math.hypot(across * (b - a), deep * (d - c))
        for (a, c), (b, d) in pairwise(_unit())
    )


@cache
def _unit() -> tuple[Place, ...]:
    """A quarter of the oval that is 1 by 1, from the front to her left."""
    share = 2 / float(proportions()["power"])
    angles = [i * math.pi / 2 / STEPS for i in range(STEPS + 1)]
    inner = [(math.sin(t) ** share, math.cos(t) ** share) for t in angles[1:-1]]
    return ((0.0, 1.0), *inner, (1.0, 0.0))
