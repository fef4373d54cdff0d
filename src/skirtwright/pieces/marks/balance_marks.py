"""The balance marks a style asks for on its seams."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Final

from skirtwright.budget import spend
from skirtwright.draft.draft import Seam as SeamOf
from skirtwright.draft.runs import Side
from skirtwright.draft.shapes.panel import Panel
from skirtwright.draft.step import Reads
from skirtwright.draft.working.recompute import Worked
from skirtwright.geometry import Chain, Point
from skirtwright.geometry.tolerance import SAME
from skirtwright.pieces.marks.long_seams import darts_along
from skirtwright.pieces.spec import ONE_MARK, NotchSpec
from skirtwright.pieces.walked_seams import Seam, length_of, matched

_NEAR_MARK: Final = 12.0
"""Balance marks of a seam nearer than this, mm, read as one (common practice)."""


AskedMark = tuple[tuple[int, ...], Point, float, int]
"""A mark: on which edges of a seam's first side, where, how far beyond, mm; snips."""


def asked_marks(worked: Worked, data: SeamOf) -> Iterator[AskedMark]:
    """The balance marks a style asks for on a seam.

    Panels lie over one another in a draft: a place named on an edge is looked for on
    that edge, and only another kind of place on all.
    """
    edges = [run.named for run in data.sides[0]]
    for mark in data.notches:
        if mark.when is None or worked.read(mark.when, Reads.WHETHER):
            place = worked.read(mark.at, Reads.PLACE)
            beyond = worked.read(mark.beyond, Reads.LENGTH)
            named = mark.at.partition(" ")[0]
            on = tuple(number for number, edge in enumerate(edges) if edge == named)
            yield on or tuple(range(len(edges))), place, beyond, mark.count


def balance_marks(
    seam: Seam, asked: tuple[AskedMark, ...], *sewn: Panel
) -> tuple[tuple[str, NotchSpec], ...]:
    """The balance marks of a seam, each with the piece it is on.

    Args:
        sewn: the panels of both sides, edge by edge.
    """
    names = [run.piece for side in seam.sides for run in side]
    panels = dict(zip(names, sewn, strict=True))
    placed = [
        (_distance_along(place, on, seam.sides[0], panels) + beyond, count)
        for on, place, beyond, count in asked
    ]
    darts = darts_along(seam, panels)
    length = length_of(seam.sides[0], panels)
    clear = [
        (_past_darts(distance, darts, length), count) for distance, count in placed
    ]
    return tuple(
        found
        for distance, count in _spaced_marks(clear)
        for found in matched(seam, panels, distance, count)
    )


def _past_darts(distance: float, darts: Sequence[float], length: float) -> float:
    """A place along a seam of a length, moved on where it lies too near a dart, mm.

    One at a dart itself stays: it says which dart faces it.
    """
    by = min((abs(distance - dart) for dart in darts), default=_NEAR_MARK)
    if not ONE_MARK < by < _NEAR_MARK:
        return distance
    places = [dart + way * _NEAR_MARK for dart in darts for way in (-1.0, 1.0)]
    free = [
        place
        for place in places
        if 0 < place < length
        and all(abs(place - dart) >= _NEAR_MARK - SAME for dart in darts)
    ]
    return min(free, key=lambda place: abs(place - distance), default=distance)


def _spaced_marks(asked: Sequence[tuple[float, int]]) -> Iterator[tuple[float, int]]:
    """Marks of a seam that do not run into one another.

    Of two that lie too near, such as the hip line's and the end of an opening, the one
    of fewer snips gives way; of two alike the earlier, which is the plainer one.
    """
    for number, (distance, count) in enumerate(asked):
        rivals = (
            (other_count, other)
            for other, (place, other_count) in enumerate(asked)
            if abs(place - distance) < _NEAR_MARK
        )
        if max(rivals) == (count, number):
            yield distance, count


def add_mark(notches: dict[str, list[NotchSpec]], piece: str, spec: NotchSpec) -> None:
    """One more balance mark, unless it is there already."""
    marks = notches.setdefault(piece, [])
    spend("points", 1 + len(marks) // 4)
    if not any(spec.is_same_mark(mark) for mark in marks):
        marks.append(spec)


def _distance_along(
    place: Point, on: tuple[int, ...], side: Side, panels: Mapping[str, Panel]
) -> float:
    """Walked distance, from a side's beginning, of a place on some of its edges."""
    walked, best = 0.0, (0.0, float("inf"))
    for number, run in enumerate(side):
        chain = panels[run.piece].edge(run.edge).chain
        if number in on:
            along, gap = _along(chain, place)
            if gap < best[1]:
                best = (walked + run.own_distance(along, chain.length), gap)
            if best[1] <= SAME:
                break
        walked += chain.length
    return best[0]


def _along(chain: Chain, place: Point) -> tuple[float, float]:
    """Walked distance of the nearest place and its gap; ends are seen at once."""
    if place.is_at(chain.start):
        return 0.0, 0.0
    if place.is_at(chain.end):
        return chain.length, 0.0
    return chain.nearest(place)
