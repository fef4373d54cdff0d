"""Panels cut along a line from edge to edge: each part keeps its edges' names."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from skirtwright.draft.shapes.panel import Dart, Edge, Mark, Panel
from skirtwright.draft.shapes.slashing import Piece, slash
from skirtwright.draft.step import Spot
from skirtwright.geometry.chain import Chain, join
from skirtwright.geometry.meeting import line_meets, nearest_of
from skirtwright.geometry.point import Point
from skirtwright.geometry.ring import holds
from skirtwright.geometry.tolerance import OUTLINE, SAME
from skirtwright.problems import Refused

_NEAR = 100 * SAME


@dataclass(frozen=True)
class _Stub:
    """Where a dart crosses the cutting line: walked from the line's start."""

    dart: Dart
    low: float
    high: float


def cut_apart(panel: Panel, line: Chain, name: str) -> tuple[Panel, Panel]:
    """Cut a panel along a line drawn from edge to edge.

    A dart that crosses the line stays in the part that has its mouth, and its rest
    becomes a dart of the new edge in the other; the new edge is walked without it.

    Args:
        panel: the panel.
        line: the cut; both ends lie on the outline.
        name: the new edge, in both parts; it runs as the line does.

    Returns:
        The part left of the line, then the part right of it.

    Raises:
        Refused: an end lies on no edge, both lie on one edge, or the line leaves the
            panel.
    """
    if any(edge.name == name for edge in panel.edges):
        raise Refused("draft.edge_there", name, edge=name)
    cut = slash(panel, (Spot(line.start, ""), Spot(line.end, "")))
    stubs = _stubs(panel, line)
    line = _without(line, stubs)
    # Anticlockwise from the line's start to its end the outline encloses, with the
    # line walked back, what lies to the right of it.
    right = _Part(panel, cut.from_mouth, Edge(name, line, forward=False))
    left = _Part(panel, cut.from_hinge, Edge(name, line, forward=True))
    return left.drawn(stubs), right.drawn(stubs)


def _stubs(panel: Panel, line: Chain) -> list[_Stub]:
    found = []
    for dart in panel.darts:
        places = [
            nearest_of(line_meets(leg, dart.tip, line), leg) for leg in panel.legs(dart)
        ]
        if places[0] is None or places[1] is None:
            continue
        low, high = sorted(line.nearest(place)[0] for place in places if place)
        if high - low > _NEAR:
            found.append(_Stub(dart, low, high))
    return sorted(found, key=lambda stub: stub.low)


def _without(line: Chain, stubs: Sequence[_Stub]) -> Chain:
    """The line with the stretches inside darts taken up by them."""
    parts: list[Chain] = []
    rest: Chain | None = line
    done = 0.0
    for stub in stubs:
        if rest is None:
            break
        head, rest = rest.split(stub.low - done)
        inside, rest = rest.split(stub.high - stub.low) if rest else (None, None)
        done = stub.high
        parts.extend(part for part in (head,) if part)
        if inside:
            parts.append(inside.taken_up(stub.dart.name))
    return join([*parts, rest])


@dataclass(frozen=True)
class _Part:
    """One part of a cut panel, before what lies on it is shared out."""

    panel: Panel
    pieces: tuple[Piece, ...]
    new: Edge

    def drawn(self, stubs: Sequence[_Stub]) -> Panel:
        names = [piece.edge for piece in self.pieces]
        if len(set(names)) < len(names):
            raise Refused("draft.cut_on_one_edge", names[0], edge=names[0])
        edges = (*(self._edge(piece) for piece in self.pieces), self.new)
        here = Panel(edges)
        mouths = {s.fold for piece in self.pieces for s in piece.chain.segments}
        mine = tuple(d for d in self.panel.darts if d.name in mouths)
        rest = tuple(
            Dart(stub.dart.name, self.new.name, stub.dart.tip)
            for stub in stubs
            if stub.dart not in mine
        )
        ring = here.ring()
        marks = tuple(
            mark
            for old in self.panel.marks
            if (mark := _mark_within(old, ring, here.outline, self.new.chain))
        )
        return Panel(edges, mine + rest, marks)

    def _edge(self, piece: Piece) -> Edge:
        forward = self.panel.edge(piece.edge).forward
        chain = piece.chain if forward else piece.chain.reversed()
        return Edge(piece.edge, chain, forward)


def _mark_within(
    mark: Mark, ring: Sequence[Point], outline: Chain, line: Chain
) -> Mark | None:
    """What of a mark lies on a part: its longest run there."""
    shape = mark.shape
    if isinstance(shape, Point):
        on_it = outline.nearest(shape)[1] <= _NEAR
        return mark if on_it or holds(ring, shape) else None
    flat = line.flattened(OUTLINE)
    cuts = sorted(
        shape.nearest(place)[0]
        for first, second in pairwise(flat)
        for place in line_meets(first, second, shape)
    )
    kept: Chain | None = None
    for low, high in zip([0.0, *cuts], [*cuts, shape.length], strict=True):
        if high - low <= _NEAR:
            continue
        run = shape.part(low, high)
        inside = holds(ring, run.at(run.length / 2))
        if inside and (kept is None or run.length > kept.length):
            kept = run
    return replace(mark, shape=kept) if kept else None
