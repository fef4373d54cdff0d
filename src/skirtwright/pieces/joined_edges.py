"""Edges whose allowances are set together: both sides of a seam, a hem all round.

Left and right of one seam go together, and so do seams that are repeated round the
skirt. What lies in no seam goes with what is alike in its cloth: hems, edges that are
turned in, all edges of interfacing.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from skirtwright.measures.measurements import SIDES
from skirtwright.pieces.cutting import Cut
from skirtwright.pieces.piece import Piece
from skirtwright.pieces.walked_seams import Seam

Key = tuple[str, str]
"""A piece and an edge of it."""

_ALL_ROUND = frozenset(("side", "hem"))
"""Roles that the pieces of one cloth have in common."""

_STUCK_ON = "interfacing"
"""A cloth that is laid on another piece and sewn with it."""


@dataclass(frozen=True)
class JoinedEdges:
    """Edges that are given one allowance.

    Attributes:
        seams: the names of the seams they lie in, in the style's order.
        role: what they have in common where they lie in no seam; else of the first.
        material: the cloth of the first.
    """

    seams: tuple[str, ...]
    edges: tuple[Key, ...]
    role: str
    material: str


def joined_edges(cut: Cut) -> tuple[JoinedEdges, ...]:
    """All edges that have an allowance or can have one, by what goes together."""
    pieces = {piece.name: piece for piece in cut.pieces}
    edges = [key for piece in cut.pieces for key in _edges(piece)]
    group = {key: key for key in edges}

    def first(key: Key) -> Key:
        while group[key] != key:
            key = group[key]
        return key

    for together in _together(cut):
        known = [key for key in together if key in group]
        for key in known[1:]:
            one, other = first(known[0]), first(key)
            group[max(one, other, key=edges.index)] = min(one, other, key=edges.index)
    found: dict[Key, list[Key]] = {}
    for key in edges:
        found.setdefault(first(key), []).append(key)
    return tuple(_joined(cut, pieces, keys) for keys in found.values())


def _edges(piece: Piece) -> Iterator[Key]:
    folds = piece.spec.folds
    return ((piece.name, e.name) for e in piece.edges if e.name not in folds)


def _together(cut: Cut) -> Iterator[list[Key]]:
    """Edges that go together, each time for one reason."""
    alike: dict[tuple[str, ...], list[Key]] = {}
    sewn: set[Key] = set()
    for walked in cut.seams:
        keys = [run.key for side in walked.seam.sides for run in side]
        sewn.update(keys)
        alike.setdefault(("seam", _plain(walked.seam)), []).extend(keys)
    for piece in cut.pieces:
        cloth = piece.spec.material
        for edge in piece.edges:
            key = (piece.name, edge.name)
            if cloth == _STUCK_ON and key not in sewn:
                alike.setdefault((cloth,), []).append(key)
            elif edge.role in _ALL_ROUND or key not in sewn:
                alike.setdefault((edge.role, cloth), []).append(key)
    yield from alike.values()


def _plain(seam: Seam) -> str:
    """The name of a seam without its turn and its half."""
    name = seam.name.partition("[")[0]
    base, _, side = name.rpartition("_")
    return base if side in SIDES else name


def _joined(cut: Cut, pieces: dict[str, Piece], keys: list[Key]) -> JoinedEdges:
    lying = set(keys)
    seams = tuple(
        walked.seam.name
        for walked in cut.seams
        if any(run.key in lying for side in walked.seam.sides for run in side)
    )
    piece, edge = keys[0]
    role = next(e.role for e in pieces[piece].edges if e.name == edge)
    return JoinedEdges(seams, tuple(keys), role, pieces[piece].spec.material)
