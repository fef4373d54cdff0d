"""Which allowance is turned first where two meet, and so how the corner is cut.

What is sewn and pressed before another edge crosses its end is, at that end, the
mirror of the piece over its own line (common practice, no source). Which seam comes
first is read from the seams themselves: one that runs over the meeting of two pieces
can only be sewn when those two are joined. What is sewn to nothing is finished last,
and a hem or facing that is turned up is turned over everything beside it.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from skirtwright.budget import spend
from skirtwright.draft.draft import PieceOf
from skirtwright.draft.draft import Seam as SeamOf
from skirtwright.draft.shapes.panel import Edge, Panel
from skirtwright.pieces.spec import Corner, End
from skirtwright.pieces.walked_seams import Seam, edge_met

PieceEdge = tuple[str, str]
"""A piece and one of its edges."""

Corners = dict[tuple[str, End], Corner]

_LAST: Final = 99


@dataclass(frozen=True)
class SewingOrder:
    """When edges are sewn, and which are not pressed open.

    Attributes:
        turns: for each sewn edge, how many seams have to be sewn before it.
        pressed_off: edges whose allowances are pressed away from their piece.
    """

    turns: Mapping[PieceEdge, int]
    pressed_off: frozenset[PieceEdge]

    def turn_of(self, piece: str, edge: str) -> int:
        """How late an edge is sewn; what is not sewn at all comes last."""
        return self.turns.get((piece, edge), _LAST)


def sewing_order(
    seams: Sequence[Seam],
    written: Sequence[SeamOf],
    panels: Mapping[str, Panel],
    waists: Collection[PieceEdge] = (),
) -> SewingOrder:
    """When each edge is sewn.

    Args:
        seams: those that are sewn.
        waists: edges that are finished when the skirt is joined round.
    """
    of_edge: dict[PieceEdge, list[int]] = {}
    for number, seam in enumerate(seams):
        for key in {run.key for side in seam.sides for run in side}:
            of_edge.setdefault(key, []).append(number)
    needs = [_needed(seam, of_edge, panels) for seam in seams]
    turns = [0] * len(seams)
    for _ in seams:
        before = list(turns)
        for number, needed in enumerate(needs):
            spend("points", 1 + len(needed) // 4)
            turns[number] = 1 + max((turns[n] for n in needed), default=-1)
        if turns == before:
            break
    pressed = {data.name: data.pressed for data in written}
    off: set[PieceEdge] = set()
    for seam in seams:
        way = pressed.get(seam.name, "open")
        if way != "open":
            first, second = ([run.key for run in side] for side in seam.sides)
            off.update(second if way == "first" else first)
    found = {key: min(turns[n] for n in numbers) for key, numbers in of_edge.items()}
    for key, turn in found.items():
        if key in waists:
            found[key] = max(turn, 1)
    return SewingOrder(found, frozenset(off))


def corners_of(data: PieceOf, panel: Panel, order: SewingOrder) -> Corners:
    """How the corners of a piece are cut, where the plain rule will not do."""
    corners: Corners = {}
    for index, after in enumerate(panel.edges):
        before = panel.edges[index - 1]
        if before.name not in data.folds and after.name not in data.folds:
            corners.update(_corner(data, before, after, order))
    stated = {edge.name for edge in panel.edges}
    for place, how in data.corners.items():
        edge, _, which = place.rpartition(" ")
        if edge in stated:
            corners[edge, "start" if which == "start" else "end"] = how
    return corners


def _corner(
    data: PieceOf, before: Edge, after: Edge, order: SewingOrder
) -> Iterator[tuple[tuple[str, End], Corner]]:
    """The rule at the corner where one edge runs into the next."""
    first: tuple[str, End] = (before.name, "end" if before.forward else "start")
    second: tuple[str, End] = (after.name, "start" if after.forward else "end")
    turned = [edge.name in data.turned_up for edge in (before, after)]
    if all(turned):
        yield first, "mitre"
    elif any(turned):
        yield (first if turned[0] else second), "mirror"
    else:
        turns = [order.turn_of(data.name, edge.name) for edge in (before, after)]
        if turns[0] != turns[1]:
            owner = first if turns[0] < turns[1] else second
            off = (data.name, owner[0]) in order.pressed_off
            yield owner, "square" if off else "mirror"


def _needed(
    seam: Seam, of_edge: Mapping[PieceEdge, list[int]], panels: Mapping[str, Panel]
) -> set[int]:
    """The seams that have to be sewn before one: those its run goes across."""
    found: set[int] = set()
    for side in seam.sides:
        for one, two in pairwise(side):
            met = (
                edge_met(one, panels, at_end=True),
                edge_met(two, panels, at_end=False),
            )
            seams = [set(of_edge.get(key, ())) for key in met]
            found |= seams[0] & seams[1]
    return found
