"""Roots of polynomials of low degree, coefficients from the highest down."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise


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


def roots_within(terms: Sequence[float]) -> list[float]:
    """Real roots between 0 and 1 of a polynomial of any low degree.

    Between two neighbouring roots of its derivative there is at most one, found by
    Newton steps kept between them.
    """
    degree = len(terms) - 1
    if degree <= 3:
        padded = (0.0, 0.0, 0.0, *terms)[-4:]
        return sorted(t for t in cubic_roots(*padded) if 0 <= t <= 1)
    slope = [term * (degree - i) for i, term in enumerate(terms[:-1])]
    stops = [0.0, *roots_within(slope), 1.0]
    found = []
    for low, high in pairwise(stops):
        before, after = _value(terms, low), _value(terms, high)
        if before == 0:
            found.append(low)
        elif (before < 0) != (after < 0):
            found.append(_root_between(terms, slope, low, high))
    return found


def _value(terms: Sequence[float], t: float) -> float:
    total = 0.0
    for term in terms:
        total = total * t + term
    return total


def _root_between(
    terms: Sequence[float], slope: Sequence[float], low: float, high: float
) -> float:
    rises = _value(terms, low) < 0
    t = (low + high) / 2
    for _ in range(60):
        value, steep = _value(terms, t), _value(slope, t)
        low, high = (t, high) if (value < 0) == rises else (low, t)
        further = t - value / steep if steep else -1.0
        if not low < further < high:
            further = (low + high) / 2
        if abs(further - t) < 1e-15:
            break
        t = further
    return t
