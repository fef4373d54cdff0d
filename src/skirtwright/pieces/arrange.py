"""Pieces beside one another, upright and apart, as they are shown."""

from __future__ import annotations

from collections.abc import Sequence

from skirtwright.geometry import Point


def side_by_side(rings: Sequence[Sequence[Point]], gap: float) -> tuple[Point, ...]:
    """How far to move each ring so that they stand in a row from left to right.

    The row begins at x = 0, with its tops at y = 0; between two stand `gap` mm.
    """
    moves = []
    x = 0.0
    for ring in rings:
        left, right = min(p.x for p in ring), max(p.x for p in ring)
        moves.append(Point(x - left, -max(p.y for p in ring)))
        x += right - left + gap
    return tuple(moves)
