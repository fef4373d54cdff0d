"""Balance marks nobody has to think of: long seams, quarters of gathers, likenesses.

No seam is without a mark for more than 35 cm; a seam eased in by more than gathers
are needed for has marks at its quarters (common practice, no source). A mark is moved,
or given another count, where two edges that do not belong together could otherwise be
joined with all their marks matching; where they could be all the same one gets a mark
more.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from typing import Final

from skirtwright.draft.runs import Run, Side
from skirtwright.draft.shapes.panel import Panel
from skirtwright.geometry.tolerance import SAME
from skirtwright.pieces.marks.likeness import Mark, greatest_difference
from skirtwright.pieces.marks.notches import walked_to_dart
from skirtwright.pieces.spec import NotchSpec
from skirtwright.pieces.walked_seams import (
    Key,
    Seam,
    alike,
    along,
    balance_marks,
    joints,
    length_of,
    matched,
    share_of,
)

LONGEST: Final = 350.0
"""A seam is marked at least this often, mm (common practice, no source)."""

GATHERED: Final = 0.05
"""Ease of more than this share is gathered, not eased (common practice, no source)."""

_NEAR: Final = 20.0
"""A mark nearer than this to one that is there is not needed, mm."""

_APART: Final = 15.0
"""Marks that differ by more tell edges apart, mm (common practice, no source)."""

_CLEAR: Final = 12.0
"""Marks nearer than this, mm, read as one (common practice)."""

_TRIES = tuple((shift, count) for shift in (0, 20, -20, 40, -40) for count in (1, 2, 3))

Placed = tuple[str, NotchSpec]


@dataclass(frozen=True)
class Edges:
    """The edges of all pieces, what each is made of, and the marks on them so far.

    Attributes:
        panels: by the names of the pieces.
        materials: by the names of the pieces.
        folds: of each piece.
        wholes: what the left and the right piece are called together, by their names.
        marks: by the names of the pieces; those that are added here are not in it.
    """

    panels: Mapping[str, Panel]
    materials: Mapping[str, str]
    folds: Mapping[str, Sequence[str]]
    wholes: Mapping[str, str]
    marks: Mapping[str, Sequence[NotchSpec]]
    _lengths: dict[Key, float] = field(default_factory=dict)

    def length(self, piece: str, edge: str) -> float:
        """Walked length of an edge, mm."""
        key = (piece, edge)
        if key not in self._lengths:
            self._lengths[key] = self.panels[piece].edge(edge).chain.length
        return self._lengths[key]

    def whole(self, key: Key) -> Key:
        """An edge of a piece, whichever half of the skirt the piece is of."""
        return self.wholes.get(key[0], key[0]), key[1]

    def on(self, piece: str, edge: str, more: Sequence[Placed] = ()) -> list[Mark]:
        """The marks of an edge in order, with some that may be added."""
        found = [m for m in self.marks.get(piece, ()) if m.edge == edge]
        found += [m for name, m in more if name == piece and m.edge == edge]
        return sorted({(m.distance, m.count) for m in found})


def marks_of_long_seams(
    seams: Sequence[Seam], edges: Edges, add: Callable[[str, NotchSpec], None]
) -> None:
    """Give every seam the marks it lacks, through `add`.

    What is marked in one seam of an edge is marked in its others too; long and gathered
    seams, and edges like another, are given further marks.
    """
    sewn = _stretches(seams, edges)
    asked = [(piece, spec) for piece, specs in edges.marks.items() for spec in specs]
    for piece, spec in _carried_on(asked, sewn, edges):
        add(piece, spec)
    for seam in seams:
        length = length_of(seam.sides[0], edges.panels)
        taken = sorted(_taken(seam, edges))
        wanted = [*_quarters(seam, length, edges, taken)]
        wanted += balance_marks(length, [*taken, *wanted], LONGEST)
        if not wanted:
            continue
        stops = [0.0, *taken, length]
        placed = _placed(seam, wanted, stops, seams, edges)
        for piece, spec in (*placed, *_carried_on(placed, sewn, edges)):
            add(piece, spec)
    for seam, key in _mistakable(seams, edges):
        share = share_of(seam, edges.panels)
        there = [*_along(seam.sides[0], edges)]
        there += [distance * share for distance in _along(seam.sides[1], edges)]
        stops = [0.0, *sorted(there), length_of(seam.sides[0], edges.panels)]
        placed = _placed(seam, [_quarter(seam, key, edges)], stops, seams, edges)
        for piece, spec in (*placed, *_carried_on(placed, sewn, edges)):
            add(piece, spec)


def _mistakable(seams: Sequence[Seam], edges: Edges) -> Iterator[tuple[Seam, Key]]:
    """Seams with an edge that could be taken for one of another, the later of the two.

    What a mark that was added meanwhile tells apart is left out.
    """
    sewn: dict[Key, set[int]] = {}
    belong: dict[Key, set[int]] = {}
    for number, seam in enumerate(seams):
        for run in (run for side in seam.sides for run in side):
            sewn.setdefault(run.key, set()).add(number)
            belong.setdefault(edges.whole(run.key), set()).add(number)
    for number, group in enumerate(alike(seams, edges.panels), len(seams)):
        for key in group:
            belong[edges.whole(key)].add(number)
    for pair in _of_one_length(sewn, edges):
        one, other = map(edges.whole, pair)
        if one == other or not belong[one].isdisjoint(belong[other]):
            continue
        (own, length), (theirs, their_length) = (
            (edges.on(*key), edges.length(*key)) for key in pair
        )
        if greatest_difference(own, length, theirs, their_length) < _APART:
            key = max(pair, key=lambda key: max(sewn[key]))
            yield seams[max(sewn[key])], key


def _quarter(seam: Seam, key: Key, edges: Edges) -> float:
    """How far along a seam the first quarter of one of its edges ends."""
    shares = (1.0, share_of(seam, edges.panels))
    for side, share in zip(seam.sides, shares, strict=True):
        walked = 0.0
        for run in side:
            length = edges.length(*run.key)
            if run.key == key:
                return (walked + length / 4) * share
            walked += length
    return 0.0


def _of_one_length(sewn: Iterable[Key], edges: Edges) -> Iterator[tuple[Key, Key]]:
    """Pairs of edges of one cloth that their lengths alone do not tell apart."""
    found = sorted(
        (edges.length(*key), key)
        for key in sewn
        if key[1] not in edges.folds.get(key[0], ())
    )
    for number, (length, one) in enumerate(found):
        for longer, other in found[number + 1 :]:
            if longer - length >= _APART:
                break
            if edges.materials.get(one[0]) == edges.materials.get(other[0]):
                yield one, other


def _taken(seam: Seam, edges: Edges) -> Iterator[float]:
    """Walked distances of marks on the first side that have a partner."""
    first, second = seam.sides
    share = share_of(seam, edges.panels)
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
    clearest: list[float] | None = None
    darts = darts_along(seam, edges.panels)
    for shift, count in _TRIES:
        places = [place + shift for place in wanted]
        if shift and _widest([*stops, *places]) > LONGEST + SAME:
            continue
        if any(_is_near(place, stops, darts) for place in places):
            continue
        made: list[Placed] = []
        for place in places:
            made.extend(matched(seam, edges.panels, place, count))
        clear = _clear(seam, made, seams, edges)
        if clearest is None or clear > clearest:
            best, clearest = made, clear
        if min(clear, default=_APART) >= _APART:
            break
    return best


@dataclass(frozen=True)
class _Stretch:
    """An edge as part of a seam's side: where it begins along it, mm."""

    seam: Seam
    run: Run
    begins: float
    share: float

    def along(self, distance: float, length: float) -> float:
        """How far along the first side a place of the edge faces, mm."""
        return (self.begins + self.run.own_distance(distance, length)) * self.share


def _stretches(seams: Sequence[Seam], edges: Edges) -> dict[Key, list[_Stretch]]:
    """Every edge with the seams in which it is sewn."""
    found: dict[Key, list[_Stretch]] = {}
    for seam in seams:
        shares = (1.0, share_of(seam, edges.panels))
        for side, share in zip(seam.sides, shares, strict=True):
            begins = 0.0
            for run in side:
                stretch = _Stretch(seam, run, begins, share)
                found.setdefault(run.key, []).append(stretch)
                begins += edges.length(*run.key)
    return found


def _carried_on(
    placed: Iterable[Placed], sewn: Mapping[Key, Sequence[_Stretch]], edges: Edges
) -> Iterator[Placed]:
    """What faces marks in the further seams in which their edges are sewn.

    An edge is sewn twice at a waist, and where a piece is cut for left and right and
    only one of them is opened.
    """
    found = list(placed)
    given = len(found)
    for number, (piece, spec) in enumerate(found):
        if number >= given:
            yield piece, spec
        key = piece, spec.edge
        for stretch in sewn.get(key, ()):
            place = stretch.along(spec.distance, edges.length(*key))
            found.extend(
                (other, mark)
                for other, mark in matched(
                    stretch.seam, edges.panels, place, spec.count
                )
                if not any(other == p and mark.is_same_mark(m) for p, m in found)
            )


def darts_along(seam: Seam, panels: Mapping[str, Panel]) -> tuple[float, ...]:
    """Where darts of either side lie along the first side of a seam, mm.

    Raises:
        NotFound: a piece or an edge is not there.
    """
    found = []
    lengths = [length_of(side, panels) for side in seam.sides]
    for side, length in zip(seam.sides, lengths, strict=True):
        share = lengths[0] / length if seam.ease and length > 0 else 1.0
        for run, begins, own in along(side, panels):
            for dart in panels[run.piece].darts:
                if dart.edge == run.edge:
                    place = walked_to_dart(panels[run.piece], dart)
                    found.append((begins + run.own_distance(place, own)) * share)
    return tuple(found)


def _is_near(place: float, stops: Sequence[float], darts: Sequence[float]) -> bool:
    """Whether a mark would lie outside its seam or run into what is there."""
    inside = stops[0] < place < stops[-1]
    return not inside or any(abs(place - at) < _CLEAR for at in (*stops, *darts))


def _widest(stops: Sequence[float]) -> float:
    return max(after - before for before, after in pairwise(sorted(stops)))


def _clear(
    seam: Seam, made: Sequence[Placed], seams: Sequence[Seam], edges: Edges
) -> list[float]:
    """How far the seam's edges are from being taken for others, least first, mm.

    What is far enough counts as that. All are told, so that two that no mark of this
    seam tells apart do not hide the next.
    """
    belong = [{edges.whole(run.key) for side in s.sides for run in side} for s in seams]
    belong += [{*map(edges.whole, group)} for group in alike(seams, edges.panels)]
    found: list[float] = []
    for key in {run.key for side in seam.sides for run in side}:
        own = edges.on(*key, made)
        for other in _alike_in_length(key, edges):
            both = {edges.whole(key), edges.whole(other)}
            # Left and right are mirror images, told apart by "right side up".
            if len(both) == 1 or any(both <= pair for pair in belong):
                continue
            theirs = edges.on(*other, made)
            lengths = edges.length(*key), edges.length(*other)
            margin = greatest_difference(own, lengths[0], theirs, lengths[1])
            found.append(min(margin, _APART))
    return sorted(found)


def _alike_in_length(key: Key, edges: Edges) -> Iterator[Key]:
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
