"""Walking a seam: the second edge rolled along the first, as paper is on a table."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from skirtwright.draft.runs import Run, Side
from skirtwright.draft.shapes.panel import Panel
from skirtwright.geometry.point import Motion, Point, shift, turn
from skirtwright.pieces.walked_seams import WalkedSeam, place_on

_ORIGIN = Point(0.0, 0.0)
_OVER = Motion(d=-1.0)
"""Turned over along the x axis."""


@dataclass(frozen=True)
class Stand:
    """A place on one side of a seam.

    Attributes:
        place: in the piece's own coordinates.
        along: unit direction of walking there.
        inside_left: the piece lies to the left of the way walked.
    """

    piece: str
    edge: str
    place: Point
    along: Point
    inside_left: bool


@dataclass(frozen=True)
class Rolled:
    """A seam rolled so far.

    Attributes:
        first: where the two touch, on the first side.
        second: the same on the second side.
        motion: from the second piece's coordinates to the first's.
    """

    first: Stand
    second: Stand
    motion: Motion


def stand(side: Side, panels: Mapping[str, Panel], distance: float) -> Stand:
    """The place at a walked distance; the side's end when it is shorter.

    Raises:
        NotFound: a piece or an edge is not there.
    """
    found = place_on(side, panels, max(distance, 0.0))
    if found is None:
        last = side[-1]
        length = panels[last.piece].edge(last.edge).chain.length
        found = (*last.key, last.own_distance(length, length))
    piece, name, along = found
    edge_here = panels[piece].edge(name)
    backwards = Run(piece, name, forward=False) in side
    direction = edge_here.chain.direction_at(along)
    return Stand(
        piece,
        name,
        edge_here.chain.at(along),
        -direction if backwards else direction,
        edge_here.forward != backwards,
    )


def rolled(seam: WalkedSeam, panels: Mapping[str, Panel], distance: float) -> Rolled:
    """Both sides laid edge to edge at a walked distance, mm.

    The second piece comes to lie on the other side of the first one's edge; it is
    turned over when it would otherwise lie on top.

    Raises:
        NotFound: a piece or an edge is not there.
    """
    first, second = (stand(side, panels, distance) for side in seam.seam.sides)
    motion = shift(-second.place).then(turn(_ORIGIN, -second.along.heading_deg()))
    if first.inside_left == second.inside_left:
        motion = motion.then(_OVER)
    motion = motion.then(turn(_ORIGIN, first.along.heading_deg()))
    return Rolled(first, second, motion.then(shift(first.place)))


@dataclass(frozen=True)
class Walk:
    """A walk that is shown on the table.

    Attributes:
        distance: walked so far, mm.
    """

    seam: WalkedSeam
    panels: Mapping[str, Panel]
    distance: float = 0.0

    @property
    def whole(self) -> float:
        """The longer side, mm."""
        return max(self.seam.lengths)

    @property
    def done(self) -> bool:
        """True at the end."""
        return self.distance >= self.whole

    def at(self, distance: float) -> Walk:
        """The same walk, so far."""
        return Walk(self.seam, self.panels, min(max(distance, 0.0), self.whole))

    def rolled(self) -> Rolled:
        """How the two pieces lie."""
        return rolled(self.seam, self.panels, self.distance)
