"""Laid pieces slid down and to the side until they touch, exactly."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from skirtwright.budget import look_up
from skirtwright.geometry import Point
from skirtwright.geometry.box import Box, box_of

_BESIDE = 0.01
"""Left between what was slid and what it met, mm."""

Ring = Sequence[Point]


def settled(
    rings: Sequence[Ring],
    slides: Sequence[tuple[bool, bool]],
    room: Sequence[tuple[float, float]],
) -> list[Point]:
    """How far each piece may be slid, down first and then to the left, mm.

    Args:
        rings: outlines as they lie; none overlaps another.
        slides: for each whether it may be slid across, and along.
        room: for each how far it may go left and down, mm.
    """
    lying = [list(ring) for ring in rings]
    order = sorted(range(len(lying)), key=lambda n: min(p.y for p in lying[n]))
    steps = [Point(0, 0)] * len(lying)
    for _ in range(2):
        for along in (True, False):
            for number in order:
                look_up()
                if not slides[number][along]:
                    continue
                others = [r for n, r in enumerate(lying) if n != number]
                gone = steps[number].y if along else steps[number].x
                most = room[number][along] + gone
                by = _free(lying[number], others, most, along=along)
                step = Point(0, -by) if along else Point(-by, 0)
                lying[number] = [p + step for p in lying[number]]
                steps[number] = steps[number] + step
    return steps


def _free(ring: Ring, others: Sequence[Ring], most: float, *, along: bool) -> float:
    """How far a ring is free to go down, or to the left, mm."""
    own = _looked_at(ring, along=along)
    box = box_of(own)
    free = most
    for other in others:
        turned = _looked_at(other, along=along)
        if _beneath(box_of(turned), box, free):
            free = min([free, *(gap - _BESIDE for gap in _gaps(own, turned))])
    return max(free, 0.0)


def _looked_at(ring: Ring, *, along: bool) -> list[Point]:
    """The ring so that it slides down."""
    return list(ring) if along else [Point(p.y, p.x) for p in ring]


def _beneath(under: Box, box: Box, free: float) -> bool:
    """True where a box may stand in the way of another."""
    if under.right <= box.left or under.left >= box.right:
        return False
    return under.bottom < box.top and under.top > box.bottom - free


def _gaps(above: Sequence[Point], below: Sequence[Point]) -> Iterator[float]:
    """Upright distances from each ring's corners to the other's sides, downwards."""
    yield from _drops(above, below)
    yield from _drops(
        [Point(p.x, -p.y) for p in below], [Point(p.x, -p.y) for p in above]
    )


def _drops(corners: Sequence[Point], ring: Sequence[Point]) -> Iterator[float]:
    last = ring[-1]
    for point in ring:
        left, right = (last, point) if last.x < point.x else (point, last)
        last = point
        if left.x == right.x:
            continue
        rise = (right.y - left.y) / (right.x - left.x)
        for corner in corners:
            if left.x <= corner.x <= right.x:
                drop = corner.y - (left.y + (corner.x - left.x) * rise)
                if drop >= -_BESIDE:
                    yield max(drop, 0.0)
