"""Roots of polynomials of low degree, coefficients from the highest down."""

from __future__ import annotations

import math
from typing import Final


def cubic_roots(a: float, b: float, c: float, d: float) -> list[float]:
    """Real roots of a t^3 + b t^2 + c t + d."""
    scale = max(abs(a), abs(b), abs(c), abs(d))
    if scale == 0:
        return []
    if abs(a) <= 1e-12 * scale:
        if abs(b) <= 1e-12 * scale:
            return [] if abs(c) <= 1e-15 * scale else [-d / c]
        inside = c * c - 4 * b * d
        if inside < 0:
            return []
        q = -(c + math.copysign(math.sqrt(inside), c)) / 2
        return [q / b] + ([d / q] if q else [])
    b, c, d = b / a, c / a, d / a
    p, q = c - b * b / 3, 2 * b * b * b / 27 - b * c / 3 + d
    inside = q * q / 4 + p * p * p / 27
    if inside > 0:
        root = math.sqrt(inside)
        u, v = math.cbrt(-q / 2 + root), math.cbrt(-q / 2 - root)
        return [u + v - b / 3]
    size = 2 * math.sqrt(-p / 3) if p < 0 else 0.0
    if size == 0:
        return [-b / 3]
    angle = math.acos(max(-1.0, min(1.0, 3 * q / (p * size)))) / 3
    return [size * math.cos(angle - 2 * math.pi * k / 3) - b / 3 for k in range(3)]


def cubic_roots_within(a: float, b: float, c: float, d: float) -> list[float]:
    """Real roots between 0 and 1 of a t^3 + b t^2 + c t + d, the least first."""
    return sorted([t for t in cubic_roots(a, b, c, d) if 0 <= t <= 1])


class Quintic:
    """A polynomial of degree five: a t^5 + b t^4 + c t^3 + d t^2 + e t + f."""

    def __init__(
        self, a: float, b: float, c: float, d: float, e: float, f: float
    ) -> None:
        self.a: Final = a
        self.b: Final = b
        self.c: Final = c
        self.d: Final = d
        self.e: Final = e
        self.f: Final = f

    def at(self, t: float) -> float:
        """Its value."""
        total = self.a
        total = total * t + self.b
        total = total * t + self.c
        total = total * t + self.d
        total = total * t + self.e
        return total * t + self.f

    def slope(self) -> Quintic:
        """Its derivative."""
        return Quintic(0.0, self.a * 5, self.b * 4, self.c * 3, self.d * 2, self.e)

    def roots_within(self) -> list[float]:
        """Its real roots between 0 and 1, the least first."""
        slope = self.slope()
        bend = slope.slope()
        turns = cubic_roots_within(bend.c, bend.d, bend.e, bend.f)
        return self.roots(slope, slope.roots(bend, turns))

    def roots(self, slope: Quintic, turns: list[float]) -> list[float]:
        """Its roots between 0 and 1, where those of its derivative are known.

        Between two neighbouring ones there is at most one, found by Newton steps kept
        between them.
        """
        found: list[float] = []
        low = 0.0
        before = self.at(low)
        for high in (*turns, 1.0):
            after = self.at(high)
            if before == 0:
                found.append(low)
            elif (before < 0) != (after < 0):
                found.append(self._root_between(slope, low, high))
            low, before = high, after
        return found

    def _root_between(self, slope: Quintic, low: float, high: float) -> float:
        rises = self.at(low) < 0
        t = (low + high) / 2
        for _ in range(60):
            value, steep = self.at(t), slope.at(t)
            low, high = (t, high) if (value < 0) == rises else (low, t)
            further = t - value / steep if steep else -1.0
            if not low < further < high:
                further = (low + high) / 2
            if abs(further - t) < 1e-15:
                break
            t = further
        return t
