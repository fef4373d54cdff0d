"""Panels cut along a line from edge to edge: each part keeps its edges' names."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Final

from skirtwright.draft.shapes.darts import darts_on, opened, shut_darts
from skirtwright.draft.shapes.panel import Dart, Edge, Mark, Panel
from skirtwright.draft.shapes.shutting import shut_line
from skirtwright.draft.shapes.slashing import Piece, slash
from skirtwright.draft.shapes.spot import Spot
from skirtwright.geometry.chain import Chain, join
from skirtwright.geometry.curves import rounded
from skirtwright.geometry.meeting import line_meets, nearest_of
from skirtwright.geometry.point import Point
from skirtwright.geometry.ring import holds
from skirtwright.geometry.tolerance import OUTLINE, SAME
from skirtwright.problems import Refused

_NEAR: Final = 100 * SAME
_HAIR: Final = 0.5
"""How finely a cutting line is followed to see that it stays inside, mm."""


@dataclass(frozen=True)
class _Stub:
    """Where a dart crosses the cutting line: walked from the line's start."""

    dart: Dart
    low: float
    high: float


def cut_apart(
    panel: Panel, line: Chain, name: str, eased: float = 0.0
) -> tuple[Panel, Panel]:
    """Cut a panel along a line drawn from edge to edge.

    A dart that crosses the line stays in the part that has its mouth, and its rest
    becomes a dart of the new edge in the other, with legs of one length; the new edge
    is walked without it. A rest narrower than `eased` is no dart: there the new edge
    is that much longer, to be eased in.

    Args:
        line: the cut; both ends lie on the outline.
        name: the new edge, in both parts; it runs as the line does.
        eased: the width, mm, under which the rest of a dart is left out.

    Returns:
        The part left of the line, then the part right of it.

    Raises:
        Refused: an end lies on no edge, both lie on one edge, or the line leaves the
            panel.
    """
    if any(edge.name == name for edge in panel.edges):
        raise Refused("draft.edge_there", name, edge=name)
    cut = slash(panel, [Spot(point, "") for point in line.flattened(_HAIR)])
    stubs = _stubs(panel, line)
    kept = [stub for stub in stubs if stub.high - stub.low >= eased]
    # Anticlockwise from the line's start to its end the outline encloses, with the
    # line walked back, what lies to the right of it.
    right = _Part(panel, cut.from_mouth, name, line, forward=False)
    left = _Part(panel, cut.from_hinge, name, line, forward=True)
    return left.drawn(stubs, kept), right.drawn(stubs, kept)


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
    name: str
    line: Chain
    forward: bool

    def drawn(self, stubs: Sequence[_Stub], kept: Sequence[_Stub]) -> Panel:
        names = [piece.edge for piece in self.pieces]
        if len(set(names)) < len(names):
            raise Refused("draft.cut_on_one_edge", names[0], edge=names[0])
        mouths = {s.fold for piece in self.pieces for s in piece.chain.segments}
        mine = tuple(d for d in self.panel.darts if d.name in mouths)
        rests = tuple(stub for stub in kept if stub.dart not in mine)
        crossed = [stub for stub in stubs if stub.dart in mine or stub in rests]
        new = Edge(self.name, _without(self.line, crossed), self.forward)
        edges = (*(self._edge(piece) for piece in self.pieces), new)
        here = Panel(edges)
        darts = (*mine, *(Dart(s.dart.name, self.name, s.dart.tip) for s in rests))
        ring = here.ring()
        marks = tuple(
            mark
            for old in self.panel.marks
            if (mark := _mark_within(old, ring, here.outline, new.chain))
        )
        part = Panel(edges, darts, marks)
        return _with_equal_legs(part, self.name) if rests else part

    def _edge(self, piece: Piece) -> Edge:
        forward = self.panel.edge(piece.edge).forward
        chain = piece.chain if forward else piece.chain.reversed()
        return Edge(piece.edge, chain, forward)


_TRUED: Final = 30.0
"""So far to either side of a dart, mm, a cut line is trued across it."""


def _with_equal_legs(part: Panel, edge: str) -> Panel:
    """The rests of darts with legs as long as both were on the mean.

    With them shut the line would have a corner at each; it is trued there.
    """
    smooth = shut_line(part, edge)
    line = part.edge(edge).chain
    for dart in darts_on(part, edge):
        here = line.nearest(part.legs(dart)[0])[0]
        run = min(_TRUED, here / 2, (smooth.length - here) / 2)
        smooth = rounded(smooth, here, run)
    return part.with_chain(
        edge, opened(smooth, shut_darts(part, edge), pressed_to_start=True)
    )


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
