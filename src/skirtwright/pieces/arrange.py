"""Pieces beside one another, upright and apart, as they are shown."""

from __future__ import annotations

from collections.abc import Sequence

from skirtwright.geometry import Point


def side_by_side(
    rings: Sequence[Sequence[Point]], gap: float, widest: float = float("inf")
) -> tuple[Point, ...]:
    """How far to move each ring so that they stand in rows from left to right.

    Rows begin at x = 0 and grow downwards; tops of a row are level, the first at
    y = 0. A new row begins where one would become wider than `widest` mm.
    """
    moves = []
    x, y, lowest = 0.0, 0.0, 0.0
    for ring in rings:
        left, right = min(p.x for p in ring), max(p.x for p in ring)
        bottom, top = min(p.y for p in ring), max(p.y for p in ring)
        if x > 0 and x + right - left > widest:
            x, y = 0.0, lowest - gap
        moves.append(Point(x - left, y - top))
        x += right - left + gap
        lowest = min(lowest, y - (top - bottom))
    return tuple(moves)
