"""Pieces as they are cut of cloth that lies single: opened out, and each of a pair."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from skirtwright.geometry import Chain, Motion, Point, reflect, straight
from skirtwright.geometry.ring import area_of_points
from skirtwright.pieces.drawn_things import Drawn, DrawnLine
from skirtwright.pieces.piece import Piece

_BESIDE = 0.05
"""A side of the cutting line nearer to the fold than this lies on it, mm."""

_ONCE = frozenset({"grain"})


def opened(piece: Piece, items: Sequence[Drawn]) -> list[Drawn]:
    """A piece on the fold with its other half; any other as it is.

    The fold is drawn as a line inside, its brackets are left out; what is said of the
    lines is said once.
    """
    if not piece.spec.folds:
        return list(items)
    fold = piece.panel.edge(piece.spec.folds[0]).chain
    ends, over = (fold.start, fold.end), reflect(fold.start, fold.end)
    whole = _opened_ring(piece.cut, ends, over)
    return list(_with_other_half(piece, items, ends, over, whole))


def _with_other_half(
    piece: Piece,
    items: Sequence[Drawn],
    fold: tuple[Point, Point],
    over: Motion,
    whole: Chain,
) -> Iterator[Drawn]:
    yield DrawnLine("cutting", whole, closed=True)
    yield DrawnLine("inside", straight(*fold))
    for item in items:
        if not isinstance(item, DrawnLine):
            if not any(item.of.start.is_at(b.start) for b in _sides(piece)):
                yield item
        elif item.kind not in ("cutting", "fold"):
            yield item
            if item.kind not in _ONCE:
                yield replace(item, chain=item.chain.moved(over))


def _sides(piece: Piece) -> list[Chain]:
    return [Chain((bracket.segments[1],)) for bracket in piece.brackets]


def fold_side(piece: Piece, edge: str) -> tuple[Point, Point]:
    """The straight side of the cutting line on a fold: its two ends."""
    fold = piece.panel.edge(edge).chain
    along = (fold.end - fold.start).unit()
    on = [p for p in piece.cut if abs((p - fold.start).cross(along)) <= _BESIDE]
    on.sort(key=lambda p: (p - fold.start).dot(along))
    return on[0], on[-1]


def _opened_ring(
    ring: Sequence[Point], fold: tuple[Point, Point], over: Motion
) -> Chain:
    """The cutting line of both halves: the ring's own way, then back over the fold."""
    along = (fold[1] - fold[0]).unit()
    on = [abs((p - fold[0]).cross(along)) <= _BESIDE for p in ring]
    count = len(ring)
    first = next(n for n in range(count) if on[n] and not on[(n + 1) % count])
    half = [ring[first]]
    for step in range(1, count):
        number = (first + step) % count
        half.append(ring[number])
        if on[number]:
            break
    other = [over(p) for p in reversed(half[1:-1])]
    whole = [*half, *other]
    if area_of_points(whole) < 0:
        whole.reverse()
    return straight(*whole, whole[0])


def turned_over(items: Sequence[Drawn]) -> list[Drawn]:
    """The other piece of a pair: the mirror image."""
    over = Motion(a=-1.0)
    mirrored: list[Drawn] = []
    for item in items:
        if isinstance(item, DrawnLine):
            mirrored.append(replace(item, chain=item.chain.moved(over)))
        else:
            mirrored.append(replace(item, of=item.of.moved(over)))
    return mirrored
