"""Which point of each piece has to lie at the beginning of a repeat.

Stripes and checks meet where seams do: along the cloth at the balance marks of side
and centre seams, so that pieces sewn there lie in phase; across it at the centres, so
that both halves are each other's mirror image. Over a join the pattern goes on.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import pairwise

from skirtwright.draft.runs import Side
from skirtwright.geometry import Point, heading
from skirtwright.pieces.cutting import Cut
from skirtwright.pieces.parts import piece_of_part
from skirtwright.pieces.piece import Piece
from skirtwright.pieces.walked_seams import WalkedSeam, along, place_on

_MET = ("side", "centre")


def phases(cut: Cut, material: str) -> dict[str, Point]:
    """For each piece that has to lie in phase along the cloth, the point that does."""
    pieces = {p.name: p for p in cut.pieces if p.spec.material == material}
    met: dict[str, list[tuple[str, Point, Point]]] = {}
    for walked in cut.seams:
        for (one, at), (other, there) in _meetings(walked, pieces):
            met.setdefault(one, []).append((other, at, there))
            met.setdefault(other, []).append((one, there, at))
    for one, other in _parts_joined(pieces):
        # Cut from one panel: what is a level there is one on both.
        at = pieces[one].panel.box.middle
        met.setdefault(one, []).append((other, at, at))
        met.setdefault(other, []).append((one, at, at))
    found: dict[str, Point] = {}
    for first, meetings in met.items():
        if first in found:
            continue
        found[first] = meetings[0][1]
        queue = [first]
        while queue:
            name = queue.pop()
            for other, at, there in met[name]:
                if other not in found:
                    up = (found[name] - at).dot(heading(pieces[name].grain_deg))
                    found[other] = there + heading(pieces[other].grain_deg) * up
                    queue.append(other)
    return found


def centres(cut: Cut, material: str) -> dict[str, Point]:
    """For each piece with a centre, a point of it that lies in phase across."""
    found: dict[str, Point] = {}
    for piece in cut.pieces:
        if piece.spec.material != material:
            continue
        down = (edge.name for edge in piece.edges if edge.role == "centre")
        for name in (*piece.spec.folds, *down):
            edge = piece.panel.edge(name).chain
            way = (edge.end - edge.start).unit()
            if abs(way.dot(heading(piece.grain_deg))) > 0.99:
                found.setdefault(piece.name, edge.end)
    pieces = {p.name: p for p in cut.pieces if p.spec.material == material}
    joined = list(_parts_joined(pieces))
    for one, other in (*joined, *(pair[::-1] for pair in reversed(joined))):
        if one in found:
            found.setdefault(other, found[one])
    return found


def _parts_joined(pieces: Mapping[str, Piece]) -> Iterator[tuple[str, str]]:
    """The names of the parts of a piece, each with the next."""
    of: dict[str, list[str]] = {}
    for name in pieces:
        whole = piece_of_part(name)
        if whole:
            of.setdefault(whole, []).append(name)
    for parts in of.values():
        yield from pairwise(parts)


def _meetings(
    walked: WalkedSeam, pieces: Mapping[str, Piece]
) -> Iterator[tuple[tuple[str, Point], tuple[str, Point]]]:
    """Where two pieces of the cloth meet at a balance mark of a side or centre seam."""
    sides = walked.seam.sides
    runs = [run for side in sides for run in side]
    if not all(run.piece in pieces for run in runs):
        return
    if not any(pieces[r.piece].spec.role(r.edge) in _MET for r in runs):
        return
    panels = {name: piece.panel for name, piece in pieces.items()}
    for mark in _marks(sides[0], pieces):
        places = [place_on(side, panels, mark) for side in sides]
        if places[0] and places[1]:
            (one, at), (other, there) = (
                (name, panels[name].edge(edge).chain.at(distance))
                for name, edge, distance in (places[0], places[1])
            )
            yield (one, at), (other, there)


def _marks(side: Side, pieces: Mapping[str, Piece]) -> Iterator[float]:
    """How far along a seam each of its pieces has its first balance mark, mm.

    Where one has none, the middle of it.
    """
    panels = {name: piece.panel for name, piece in pieces.items()}
    for run, begins, length in along(side, panels):
        notches = pieces[run.piece].notches
        marks = [n.distance for n in notches if n.edge == run.edge and not n.dart]
        yield begins + (run.own_distance(marks[0], length) if marks else length / 2)
