"""Where a piece that its cloth cannot hold is joined so that it shows least.

Skirt pieces near the side, their middle as wide as the cloth gives; bands and strips at
a side seam of what they are sewn to; the back of a lining at its centre (common
practice, no source).
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from skirtwright.geometry import heading
from skirtwright.lay.cloth_to_cut import Cloth, opened
from skirtwright.lay.copies import copies_of
from skirtwright.measures.units import Unit, read_length
from skirtwright.pieces.cutting import Cut
from skirtwright.pieces.parts import (
    MOST_JOINS,
    NARROWEST,
    Ruler,
    join_allowance,
    piece_of_part,
    ruler,
)
from skirtwright.pieces.piece import Piece
from skirtwright.pieces.walked_seams import joints, place_on

_STEPS: dict[bool, str] = {False: "0.5 cm", True: "1/4 in"}
"""Joins are set in steps that can be read off a tape; in inches where True."""

_LEAST_PART = NARROWEST + 10.0
"""No part is offered narrower than this, mm."""

Joins = Mapping[str, tuple[float, ...]]
"""By the names of pieces: where each is joined, mm along its ruler."""


@dataclass(frozen=True)
class OverwidePiece:
    """A whole piece beside the room there is for it, along its ruler, mm.

    Attributes:
        room: for one part with its allowances.
        first, last: where its cutting line begins and ends.
        allowance: on either side of a join.
    """

    piece: Piece
    ruler: Ruler
    room: float
    first: float
    last: float
    allowance: float

    @property
    def goes(self) -> bool:
        """Whether it needs no join."""
        twice = 2 if self.ruler.fold else 1
        return twice * (self.last - self.first) <= self.room

    def parts(self) -> tuple[float, ...]:
        """Its joins, where it lies on no seam: the last part is the narrowest."""
        most = self.room / 2 if self.ruler.fold else self.room + self.first
        found = [most - self.allowance]
        while self.last - found[-1] + self.allowance > self.room:
            found.append(found[-1] + self.room - 2 * self.allowance)
            if len(found) > MOST_JOINS:
                return ()
        found[-1] = min(found[-1], self.ruler.long - _LEAST_PART)
        return tuple(found)


def joins_for(cut: Cut, cloth: Cloth, unit: Unit, beyond: float = 0.0) -> Joins:
    """Where the pieces of a cloth that it cannot hold are to be joined.

    What is cut apart already is joined anew if a part of it is too wide. Nothing is
    told of a piece that no join along its grain would help.

    Args:
        cut: all pieces of the skirt, as they go on the cloth.
        unit: hers, for the steps in which joins are set.
        beyond: by how much a part reaches further than its allowance, mm, where its
            hem is turned up aslant.
    """
    found = {}
    for bare in too_wide(cut, cloth, unit):
        wide = replace(bare, allowance=bare.allowance + beyond)
        at = _of_strip(wide, cut) or _at_centre(wide) or _near_side(wide)
        step = read_length(_STEPS[unit == "in"])
        down = tuple(math.floor(place / step + 1e-9) * step for place in at)
        if at:
            found[wide.piece.name] = down
    return found


def centre_seams_for(cut: Cut, cloth: Cloth, unit: Unit) -> Joins:
    """The pieces on a fold that a cloth would hold with a seam there instead."""
    return {
        wide.piece.name: (0.0,)
        for wide in too_wide(cut, cloth, unit)
        if wide.ruler.fold and wide.last + wide.allowance <= wide.room
    }


def across_for(cut: Cut, cloth: Cloth, unit: Unit) -> tuple[str, ...]:
    """The pieces of a lining, all of which go on their cloth cut across it."""
    if cloth.material != "lining" or not any(too_wide(cut, cloth, unit)):
        return ()
    pieces = [p for p in cut.whole.pieces if p.spec.material == cloth.material]
    room = opened(cloth).room
    for piece in pieces:
        along = heading(piece.grain_deg)
        far = [place.dot(along) for place in piece.cut]
        if max(far) - min(far) > room:
            return ()
    return tuple(piece.name for piece in pieces)


def too_wide(cut: Cut, cloth: Cloth, unit: Unit) -> Iterator[OverwidePiece]:
    """The pieces, whole, that a cloth cannot hold though it lies open."""
    single = opened(cloth)
    shown = [p for p in cut.shown if p.spec.material == cloth.material]
    held = {p.name for p in shown}
    wide = {
        piece_of_part(copy.piece.name) or copy.piece.name
        for copy in copies_of(shown, single)
        if copy.across > single.room or copy.along > _length(cloth)
    }
    for piece in cut.whole.pieces:
        if piece.name not in wide:
            continue
        one = _beside(piece, cloth, join_allowance(unit))
        # What is longer than the cloth is joined only where it is a strip.
        if one.room < math.inf and not (piece.name in held and one.goes):
            yield one


def _length(cloth: Cloth) -> float:
    """Cloth she has when it is cut, mm."""
    return math.inf if cloth.on_hand is None else cloth.left(cloth.on_hand)


def _beside(piece: Piece, cloth: Cloth, allowance: float) -> OverwidePiece:
    measured = ruler(piece.panel, piece.grain_deg, piece.spec.folds)
    along, across = piece.larger
    is_along = abs(measured.way.dot(heading(piece.grain_deg))) > 0.5
    room = (
        _length(cloth) * (1 - along) if is_along else opened(cloth).room * (1 - across)
    )
    far = [measured.at(place) for place in piece.cut]
    first = 0.0 if measured.fold else min(far)
    return OverwidePiece(piece, measured, room, first, max(far), allowance)


def _at_centre(wide: OverwidePiece) -> tuple[float, ...]:
    """The back of a lining: a seam at its centre."""
    spec = wide.piece.spec
    at_back = spec.material == "lining" and spec.body == "back" and wide.ruler.fold
    return (0.0,) if at_back and wide.last + wide.allowance <= wide.room else ()


def _near_side(wide: OverwidePiece) -> tuple[float, ...]:
    """As near the side as the room lets it, wherever on the piece the side lies."""
    if wide.ruler.fold or not _side_comes_first(wide):
        return wide.parts()
    long = wide.ruler.long
    over = replace(wide, first=long - wide.last, last=long - wide.first)
    return tuple(long - at for at in reversed(over.parts()))


def _side_comes_first(wide: OverwidePiece) -> bool:
    sides = [
        wide.ruler.at(edge.start.between(edge.end, 0.5))
        for edge in wide.piece.edges
        if edge.role == "side"
    ]
    return bool(sides) and sum(sides) / len(sides) < wide.ruler.long / 2


def _of_strip(wide: OverwidePiece, cut: Cut) -> tuple[float, ...]:
    """A strip that is sewn to pieces: where two of these meet, as far as can be."""
    places = sorted(_met(wide, cut))
    found: list[float] = []
    begins, most = wide.first, wide.room - wide.allowance
    if wide.ruler.fold:
        most = wide.room / 2 - wide.allowance
    while wide.last - begins > most + wide.allowance * (not found):
        here = [at for at in places if begins + _LEAST_PART < at <= begins + most]
        if not here or len(found) >= MOST_JOINS:
            return ()
        found.append(here[-1])
        begins, most = here[-1], wide.room - 2 * wide.allowance
    return tuple(found)


def _met(wide: OverwidePiece, cut: Cut) -> Iterator[float]:
    """Where, along its ruler, what a piece is sewn to goes over to the next piece."""
    panels = {piece.name: piece.panel for piece in cut.whole.pieces}
    for walked in cut.whole.seams:
        for side, other in (walked.seam.sides, walked.seam.sides[::-1]):
            if {run.piece for run in side} != {wide.piece.name}:
                continue
            share = walked.lengths[walked.seam.sides.index(side)] / max(
                walked.lengths[walked.seam.sides.index(other)], 1.0
            )
            for at in joints(other, panels):
                place = place_on(side, panels, at * share)
                if place is not None:
                    chain = panels[place[0]].edge(place[1]).chain
                    yield wide.ruler.at(chain.at(place[2]))
