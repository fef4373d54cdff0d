"""Balance marks nobody has to think of: on long seams, and the quarters of gathers.

No seam is without a mark for more than 35 cm; a seam eased in by more than gathers
are needed for has marks at its quarters (finishing.md 4.7). A mark is moved, or given
another count, where two edges that do not belong together could otherwise be joined
with all their marks matching.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from skirtwright.draft.runs import Side
from skirtwright.draft.shapes.panel import Panel
from skirtwright.geometry.tolerance import SAME
from skirtwright.measures.measurements import without_half
from skirtwright.pieces.marks.likeness import Mark, told_apart
from skirtwright.pieces.spec import NotchSpec
from skirtwright.pieces.walked_seams import (
    Seam,
    balance_marks,
    joints,
    length_of,
    matched,
)

LONGEST = 350.0
"""A seam is marked at least this often, mm (finishing.md 4.7)."""

GATHERED = 0.05
"""Ease of more than this share is gathered, not eased (finishing.md 5.1)."""

_NEAR = 20.0
"""A mark nearer than this to one that is there is not needed, mm."""

_APART = 15.0
"""Marks that differ by more than this tell edges apart, mm (finishing.md 5.1)."""

_TRIES = tuple((shift, count) for shift in (0, 20, -20, 40, -40) for count in (1, 2, 3))

Placed = tuple[str, NotchSpec]


@dataclass(frozen=True)
class Edges:
    """The edges of all pieces, what each is made of, and the marks on them so far.

    Attributes:
        panels: by the names of the pieces.
        materials: by the names of the pieces.
        folds: of each piece.
        marks: by the names of the pieces; those that are added here are not in it.
    """

    panels: Mapping[str, Panel]
    materials: Mapping[str, str]
    folds: Mapping[str, Sequence[str]]
    marks: Mapping[str, Sequence[NotchSpec]]
    _lengths: dict[tuple[str, str], float] = field(default_factory=dict)

    def length(self, piece: str, edge: str) -> float:
        """Walked length of an edge, mm."""
        key = (piece, edge)
        if key not in self._lengths:
            self._lengths[key] = self.panels[piece].edge(edge).chain.length
        return self._lengths[key]

    def on(self, piece: str, edge: str, more: Sequence[Placed] = ()) -> list[Mark]:
        """The marks of an edge in order, with some that may be added."""
        found = [m for m in self.marks.get(piece, ()) if m.edge == edge]
        found += [m for name, m in more if name == piece and m.edge == edge]
        return sorted({(m.distance, m.count) for m in found})


def marks_of_long_seams(
    seams: Sequence[Seam], edges: Edges, add: Callable[[str, NotchSpec], None]
) -> None:
    """Give every long or gathered seam the marks it lacks, through `add`."""
    for seam in seams:
        length = length_of(seam.sides[0], edges.panels)
        taken = sorted(_taken(seam, edges))
        wanted = [*_quarters(seam, length, edges, taken)]
        wanted += balance_marks(length, [*taken, *wanted], LONGEST)
        if not wanted:
            continue
        stops = [0.0, *taken, length]
        for piece, spec in _placed(seam, wanted, stops, seams, edges):
            add(piece, spec)


def _taken(seam: Seam, edges: Edges) -> Iterator[float]:
    """Walked distances of marks on the first side that have a partner."""
    first, second = seam.sides
    share = _share(seam, edges)
    there = [distance * share for distance in _along(second, edges)]
    for distance in _along(first, edges):
        if first == second or any(abs(distance - d) < 1 for d in there):
            yield distance


def _along(side: Side, edges: Edges) -> Iterator[float]:
    yield from joints(side, edges.panels)
    walked = 0.0
    for run in side:
        length = edges.length(*run.key)
        for distance, _ in edges.on(*run.key):
            yield walked + run.own_distance(distance, length)
        walked += length


def _share(seam: Seam, edges: Edges) -> float:
    if not seam.ease:
        return 1.0
    first, second = (length_of(side, edges.panels) for side in seam.sides)
    return first / second if second else 1.0


def _quarters(
    seam: Seam, length: float, edges: Edges, taken: Sequence[float]
) -> Iterator[float]:
    shorter = min(length_of(side, edges.panels) for side in seam.sides)
    if shorter <= 0 or abs(seam.ease) <= GATHERED * shorter:
        return
    for part in (0.25, 0.5, 0.75):
        place = part * length
        if all(abs(place - other) > _NEAR for other in taken):
            yield place


def _placed(
    seam: Seam,
    wanted: Sequence[float],
    stops: Sequence[float],
    seams: Sequence[Seam],
    edges: Edges,
) -> list[Placed]:
    """The marks for a seam, changed until nothing else can be sewn to it by mistake.

    Marks are moved only where none is then further than is allowed from the next.
    """
    best: list[Placed] = []
    clearest = -1.0
    for shift, count in _TRIES:
        places = [place + shift for place in wanted]
        if shift and _widest([*stops, *places]) > LONGEST + SAME:
            continue
        made: list[Placed] = []
        for place in places:
            made.extend(matched(seam, edges.panels, place, count))
        clear = _clear(seam, made, seams, edges)
        if clear > clearest:
            best, clearest = made, clear
        if clear >= _APART:
            break
    return best


def _widest(stops: Sequence[float]) -> float:
    return max(after - before for before, after in pairwise(sorted(stops)))


def _clear(
    seam: Seam, made: Sequence[Placed], seams: Sequence[Seam], edges: Edges
) -> float:
    """How far the seam's edges are from being taken for others, mm."""
    belong = [{_whole(run.key) for side in s.sides for run in side} for s in seams]
    least = math.inf
    for key in {run.key for side in seam.sides for run in side}:
        own = edges.on(*key, made)
        for other in _others(key, edges):
            both = {_whole(key), _whole(other)}
            # Left and right are mirror images, told apart by "right side up".
            if len(both) == 1 or any(both <= pair for pair in belong):
                continue
            theirs = edges.on(*other, made)
            lengths = edges.length(*key), edges.length(*other)
            least = min(least, told_apart(own, lengths[0], theirs, lengths[1]))
    return least


def _others(key: tuple[str, str], edges: Edges) -> Iterator[tuple[str, str]]:
    """Edges of one cloth that an edge's length alone does not tell it from."""
    piece, edge = key
    length = edges.length(piece, edge)
    for other, panel in edges.panels.items():
        if edges.materials.get(other) != edges.materials.get(piece):
            continue
        for side in panel.edges:
            found = (other, side.name)
            if found == key or side.name in edges.folds.get(other, ()):
                continue
            if abs(edges.length(*found) - length) < _APART:
                yield found


def _whole(key: tuple[str, str]) -> tuple[str, str]:
    """An edge of a piece, whichever half of the skirt the piece is of."""
    return without_half(key[0]), key[1]
