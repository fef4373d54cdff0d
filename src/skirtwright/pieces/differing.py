"""Where a piece differs from the same piece as it was drawn before."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from skirtwright.geometry.apart import Lines, Run
from skirtwright.geometry.tolerance import FLAT
from skirtwright.pieces.drawn_things import Kind
from skirtwright.pieces.piece import Piece
from skirtwright.pieces.piece_drawing import outlines


def parts_apart(piece: Piece, other: Piece) -> Iterator[tuple[Kind, Run]]:
    """The parts of a piece's lines that are none of the other's, each with its kind.

    Grain and label, which lie where there is room, are not looked at.
    """
    if piece is other:
        return
    against: dict[Kind, Lines] = {}
    theirs = outlines(other)
    for item in outlines(piece):
        if item in theirs:
            continue
        if item.kind not in against:
            alike = (o.chain.flattened(FLAT) for o in theirs if o.kind == item.kind)
            against[item.kind] = Lines(alike)
        for run in against[item.kind].apart(item.chain.flattened(FLAT)):
            yield item.kind, run


def differ(piece: Piece, other: Piece) -> bool:
    """Whether anything that is sewn or cut lies elsewhere, on either of them."""
    if piece.cut == other.cut and piece.panel == other.panel and piece == other:
        return False
    both = ((piece, other), (other, piece))
    return any(True for one, two in both for _ in parts_apart(one, two))


def cutting_length(piece: Piece) -> float:
    """The length of a piece's cutting line, mm, to a hundredth."""
    ring = (*piece.cut, piece.cut[0])
    return round(sum(p.to(q) for p, q in pairwise(ring)), 2)
