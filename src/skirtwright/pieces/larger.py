"""Pieces cut larger by what their cloth shrinks, where it is not shrunk first.

A cloth that shrinks by a twentieth gives, of a length of 1 / 0.95, the length that is
wanted. The whole piece grows so, its allowances too, along the grain and across it; its
panel, and all that is measured on it, is what it shrinks to. Plain geometry.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from skirtwright.geometry import Line, Motion, Point, turn
from skirtwright.pieces.cutting import Cut
from skirtwright.pieces.marks.notches import Notch
from skirtwright.pieces.piece import CutDart, Piece, PieceEdge

Shrinks = Mapping[str, tuple[float, float]]
"""By what share each cloth shrinks along and across, as pieces name it."""


def cut_larger(cut: Cut, shrinks: Shrinks) -> Cut:
    """The same pieces as they are cut of cloths that shrink afterwards."""
    pieces = tuple(
        larger(piece, *shrinks.get(piece.spec.material, (0.0, 0.0)))
        for piece in cut.pieces
    )
    return replace(cut, pieces=pieces) if pieces != cut.pieces else cut


def larger(piece: Piece, along: float, across: float) -> Piece:
    """A piece as it is cut of cloth that shrinks by so much along and across.

    Its notches keep the distances they are sewn at.
    """
    if not along and not across:
        return piece
    grow = _growth(piece.grain_deg, 1 / (1 - along), 1 / (1 - across))
    panel = piece.panel.moved(grow)
    return replace(
        piece,
        panel=panel,
        edges=tuple(
            _edge(edge, panel.edge(edge.name).chain.length, grow)
            for edge in piece.edges
        ),
        cut=tuple(map(grow, piece.cut)),
        darts=tuple(_dart(dart, grow) for dart in piece.darts),
        notches=tuple(_notch(notch, grow) for notch in piece.notches),
        brackets=tuple(bracket.moved(grow) for bracket in piece.brackets),
        inside=tuple(
            (name, grow(shape) if isinstance(shape, Point) else shape.moved(grow))
            for name, shape in piece.inside
        ),
        clips=tuple(line.moved(grow) for line in piece.clips),
        lengthen=_moved(piece.lengthen, grow),
        larger=(along, across),
    )


def _growth(grain_deg: float, along: float, across: float) -> Motion:
    """Along the grain and across it, about the origin of the draft."""
    about = Point(0, 0)
    upright = turn(about, -grain_deg)
    return upright.then(Motion(a=along, d=across)).then(turn(about, grain_deg))


def _edge(edge: PieceEdge, length: float, grow: Motion) -> PieceEdge:
    return replace(edge, length=length, start=grow(edge.start), end=grow(edge.end))


def _dart(dart: CutDart, grow: Motion) -> CutDart:
    left, right = map(grow, dart.legs)
    return replace(
        dart,
        tip=grow(dart.tip),
        legs=(left, right),
        intake=left.to(right),
        drill=grow(dart.drill),
        fold=dart.fold.moved(grow),
        stitching=dart.stitching.moved(grow),
    )


def _notch(notch: Notch, grow: Motion) -> Notch:
    return replace(notch, snips=tuple(snip.moved(grow) for snip in notch.snips))


def _moved(lines: tuple[Line, Line] | None, grow: Motion) -> tuple[Line, Line] | None:
    return lines and (lines[0].moved(grow), lines[1].moved(grow))
