"""Seams walked: two runs of edges measured against one another, darts shut."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from skirtwright.budget import spend
from skirtwright.draft.runs import Run, Side
from skirtwright.draft.shapes.panel import Panel
from skirtwright.geometry.tolerance import SAME
from skirtwright.pieces.spec import NotchSpec
from skirtwright.problems import NotFound

Key = tuple[str, str]
"""A piece and its edge."""

_ENDS_TOGETHER: Final = 0.1
"""By how much the sides of a seam may differ, mm."""


@dataclass(frozen=True)
class Seam:
    """Two runs of edges that are sewn together.

    Attributes:
        sides: the two runs, from the end where the seam begins.
        ease: how much longer the first side is meant to be, mm.
        half: `left` or `right` where it is sewn on that half of the skirt alone.
    """

    name: str
    sides: tuple[Side, Side]
    ease: float = 0.0
    half: str = ""


@dataclass(frozen=True)
class WalkedSeam:
    """A seam with its lengths, mm; difference = first - second - ease."""

    seam: Seam
    lengths: tuple[float, float]

    @property
    def difference(self) -> float:
        """What is left over on the first side, mm."""
        return self.lengths[0] - self.lengths[1] - self.seam.ease


def walk(seam: Seam, panels: Mapping[str, Panel]) -> WalkedSeam:
    """Walk a seam; `panels` by the names of the pieces.

    Raises:
        NotFound: a piece or an edge is not there.
    """
    first, second = (length_of(side, panels) for side in seam.sides)
    return WalkedSeam(seam, (first, second))


def length_of(side: Side, panels: Mapping[str, Panel]) -> float:
    """Length of a run of edges with darts shut, mm.

    Raises:
        NotFound: a piece or an edge is not there.
    """
    walked = 0.0
    for run in side:
        walked += _edge_length(run, panels)
    return walked


def along(
    side: Side, panels: Mapping[str, Panel]
) -> Iterator[tuple[Run, float, float]]:
    """Each edge of a run, where it begins along it, and its length, mm.

    Raises:
        NotFound: a piece or an edge is not there.
    """
    begins = 0.0
    for run in side:
        length = _edge_length(run, panels)
        yield run, begins, length
        begins += length


def share_of(seam: Seam, panels: Mapping[str, Panel]) -> float:
    """How much of the first side lies along so much of the second."""
    if not seam.ease:
        return 1.0
    first, second = (length_of(side, panels) for side in seam.sides)
    return first / second if second else 1.0


def place_on(
    side: Side, panels: Mapping[str, Panel], distance: float
) -> tuple[str, str, float] | None:
    """Piece, edge and distance from that edge's own start of a place on a run.

    None where the run is shorter. A place where two edges meet lies on the first.

    Raises:
        NotFound: a piece or an edge is not there.
    """
    left = distance
    for run in side:
        length = _edge_length(run, panels)
        if left <= length + SAME:
            return run.piece, run.edge, run.own_distance(min(left, length), length)
        left -= length
    return None


def matched(
    seam: Seam, panels: Mapping[str, Panel], distance: float, count: int = 1
) -> tuple[tuple[str, NotchSpec], ...]:
    """The notches that a balance mark of a seam puts on its two sides, with pieces.

    Both lie at the same walked distance from the seam's beginning; where one side is
    eased or gathered to the other, at the same share of it. A side has no notch where
    two of its pieces meet: the seam there is the mark. A seam whose two sides are the
    same edge gives one.

    Raises:
        NotFound: a piece or an edge is not there.
    """
    found: list[tuple[str, NotchSpec]] = []
    lengths = [length_of(side, panels) for side in seam.sides]
    eased = seam.ease != 0 and lengths[0] > 0
    for side, length in zip(seam.sides, lengths, strict=True):
        shared = distance * length / lengths[0] if eased else distance
        if 0 < shared - length < _ENDS_TOGETHER:
            # At the end of the seam, of which the sides are all but equal.
            shared = length
        place = place_on(side, panels, shared)
        if place and not any(abs(shared - j) <= SAME for j in joints(side, panels)):
            made = (place[0], NotchSpec(place[1], place[2], count))
            if made not in found:
                found.append(made)
    return tuple(found)


def joints(side: Side, panels: Mapping[str, Panel]) -> tuple[float, ...]:
    """Walked distances at which a run goes over from one edge to another one.

    Where it turns back along the same edge it crosses a fold, or the middle of a
    mirrored pair, which is no joint of two pieces.

    Raises:
        NotFound: a piece or an edge is not there.
    """
    found, walked = [], 0.0
    for run, after in pairwise(side):
        walked += _edge_length(run, panels)
        if run.key != after.key:
            found.append(walked)
    return tuple(found)


def alike(seams: Sequence[Seam], panels: Mapping[str, Panel]) -> list[set[Key]]:
    """The edges that must be snipped alike: in some seam each lies along the next.

    A left side that opens to its facing is so bound to the right one, for both are cut
    by one piece. Seams of pieces that are not there are left out.
    """
    found: list[set[Key]] = []
    for seam in seams:
        if any(run.piece not in panels for side in seam.sides for run in side):
            continue
        first, second = (
            [(run.key, begins, begins + long) for run, begins, long in walk]
            for walk in (along(side, panels) for side in seam.sides)
        )
        for one, begins, ends in first:
            for other, other_begins, other_ends in second:
                off = max(abs(begins - other_begins), abs(ends - other_ends))
                if one != other and off <= _ENDS_TOGETHER:
                    bound = {one, other}.union(*(g for g in found if g & {one, other}))
                    found = [group for group in found if not group & bound]
                    found.append(bound)
    return found


def balance_marks(length: float, taken: Sequence[float], most: float) -> list[float]:
    """Distances of marks to be added so that none is further than `most` from the next.

    `taken` are marks that are there already; the ends of the seam count as marks. Each
    gap that is too long is shared into equal parts.
    """
    stops = [0.0, *sorted(taken), length]
    added: list[float] = []
    for low, high in pairwise(stops):
        parts = max(1, -int(-(high - low - SAME) // most))
        added.extend(low + (high - low) * i / parts for i in range(1, parts))
    return added


def edge_met(run: Run, panels: Mapping[str, Panel], *, at_end: bool) -> tuple[str, str]:
    """The piece and edge met where a walk comes to an edge, or leaves it at its end."""
    start, end = panels[run.piece].neighbours(run.edge)
    return run.piece, (end if at_end == run.forward else start)[0].name


def _edge_length(run: Run, panels: Mapping[str, Panel]) -> float:
    spend("points")
    piece = run.piece
    if piece not in panels:
        raise NotFound(
            "pieces.no_piece", piece, piece=piece, known=", ".join(sorted(panels))
        )
    return panels[piece].edge(run.edge).chain.length
