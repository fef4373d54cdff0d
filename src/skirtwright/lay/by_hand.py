"""Pieces at known places of a cloth: kept, moved and turned by hand, and judged."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from skirtwright.geometry import Point, shift
from skirtwright.geometry.box import box_of
from skirtwright.geometry.tolerance import SAME
from skirtwright.lay.cloth_to_cut import LONGEST, Cloth, Fold
from skirtwright.lay.copies import MOST_COPIES, Copy, Way, copies_of
from skirtwright.lay.lay import Lay, Placed, copies_in_phase, from_end, too_wide
from skirtwright.measures.records import Record, ruled
from skirtwright.pieces.cutting import Cut
from skirtwright.pieces.differing import cutting_length
from skirtwright.problems import Problem, Refused

_BESIDE = 20.0
"""Between the lay and what has no place on it yet, mm."""


class Spot(Record):
    """Where a piece lies on its cloth.

    Attributes:
        number: which it is of the times the piece is laid, from 0.
        mirrored, rotation_deg: as it is turned: over first, then anticlockwise.
        x: from the fold or the left edge to its own left, mm.
        y: from the cut end to its lower end, mm.
        locked: it stays when the rest is laid anew.
    """

    piece: str
    number: int = ruled(default=0, ge=0, le=MOST_COPIES)
    mirrored: bool = False
    rotation_deg: float = ruled(default=0.0, ge=-360, le=360)
    x: float = ruled(ge=-LONGEST, le=LONGEST)
    y: float = ruled(ge=-LONGEST, le=LONGEST)
    locked: bool = False


class HandLay(Record):
    """A lay by hand, as long as its pieces are what they were.

    Attributes:
        drawn: the length of each piece's cutting line, mm.
    """

    fold: Fold
    drawn: dict[str, float] = {}
    spots: tuple[Spot, ...] = ruled(default=(), max_length=MOST_COPIES)

    def fits(self, cut: Cut, cloth: Cloth) -> bool:
        """Whether the pieces of a cloth, and how it lies, are what they were."""
        return (self.fold, dict(self.drawn)) == (cloth.fold, _drawn(cut, cloth))


def _drawn(cut: Cut, cloth: Cloth) -> dict[str, float]:
    pieces = (p for p in cut.shown if p.spec.material == cloth.material)
    return {piece.name: cutting_length(piece) for piece in pieces}


def hand_lay(laid: Lay, cut: Cut) -> HandLay:
    """A lay as it is kept."""
    spots = tuple(
        Spot(**{**vars(spot), "x": round(spot.x, 2), "y": round(spot.y, 2)})
        for spot in spots_of(laid)
    )
    drawn = _drawn(cut, laid.cloth)
    return HandLay(fold=laid.cloth.fold, drawn=drawn, spots=spots)


def spots_of(laid: Lay) -> tuple[Spot, ...]:
    """Where the pieces of a lay lie."""
    return tuple(map(_spot, laid.placed))


def _spot(placed: Placed) -> Spot:
    box = box_of(placed.outline)
    return Spot.model_construct(
        piece=placed.copy.piece.name,
        number=placed.copy.number,
        mirrored=placed.way.mirrored,
        rotation_deg=placed.way.rotation_deg,
        x=box.left,
        y=box.bottom,
        locked=placed.locked,
    )


def at_spots(cut: Cut, cloth: Cloth, asked: Cloth, spots: Iterable[Spot]) -> Lay | None:
    """The pieces as they are, where they lay; None where none is cut of the cloth.

    Args:
        spots: where each lay; one that had no place lies beyond the others, and is
            left off where it is too wide.

    Raises:
        Refused: more than any skirt is cut of.
    """
    known = {(spot.piece, spot.number): spot for spot in spots}
    placed, new = [], []
    for copy in copies_in_phase(cut, cloth):
        spot = known.get((copy.piece.name, copy.number))
        if spot is None:
            new.append(copy)
        else:
            way = Way(spot.mirrored, spot.rotation_deg)
            placed.append(_put(copy, way, Point(spot.x, spot.y), locked=spot.locked))
    wide = [copy for copy in new if copy.across > cloth.room + SAME]
    reach = max((p.y for one in placed for p in one.outline), default=-_BESIDE)
    for copy in (copy for copy in new if copy not in wide):
        one = _put(copy, copy.ways[0], Point(cloth.edge, reach + _BESIDE))
        placed.append(one)
        reach = max(p.y for p in one.outline)
    if not placed:
        return None
    left_off = tuple({copy.piece.name: copy.piece for copy in wide}.values())
    return Lay(cloth, tuple(sorted(placed, key=from_end)), asked, left_off)


def why_left_off(laid: Lay) -> Problem | None:
    """Why pieces of a lay by hand are left off; None where all lie on the cloth."""
    off = copies_of(laid.left_off, laid.cloth)
    if not off:
        return None
    refused = too_wide(max(off, key=lambda copy: copy.across), laid.cloth)
    return replace(refused.problem, stops=False)


def _put(copy: Copy, way: Way, corner: Point, *, locked: bool = False) -> Placed:
    """A copy with the lower left corner of the box round it at a place."""
    box = box_of(map(way.motion, copy.outline))
    step = shift(corner - Point(box.left, box.bottom))
    return Placed(copy, way, way.motion.then(step), locked)


# By hand


def moved(laid: Lay, one: Placed, step: Point) -> Lay:
    """A piece moved, as far as fold and repeat let it; it then stays.

    Args:
        step: mm, across and along.
    """
    there = replace(one, motion=one.motion.then(shift(step)), locked=True)
    return _with(laid, one, _kept_to(there, laid.cloth))


def turned(laid: Lay, one: Placed) -> Lay:
    """A piece turned end for end about its middle; it then stays.

    Raises:
        Refused: nap, repeat or fold hold it as it lies.
    """
    copy, box = one.copy, box_of(one.outline)
    others = [
        way
        for way in copy.ways
        if _lies_upright(copy, way) != _lies_upright(copy, one.way)
    ]
    if not others:
        held = laid.cloth.one_way or laid.cloth.repeat_along
        code = "lay.cannot_turn_nap" if held else "lay.cannot_turn_fold"
        raise Refused(code, copy.piece.name, piece=copy.piece.spec.title)
    # On the fold it has to be turned over besides, which is the same to the cloth.
    way = min(others, key=lambda way: way.mirrored != one.way.mirrored)
    there = _put(copy, way, Point(box.left, box.bottom), locked=True)
    return _with(laid, one, _kept_to(there, laid.cloth))


def _lies_upright(copy: Copy, way: Way) -> bool:
    """Whether what is up on the draft lies away from the cut end."""
    grain = copy.piece.grain
    return way.motion(grain.end).y > way.motion(grain.start).y


def locked(laid: Lay, one: Placed, *, on: bool) -> Lay:
    """A piece that stays when the rest is laid anew, or does not."""
    return _with(laid, one, replace(one, locked=on))


def _with(laid: Lay, one: Placed, other: Placed) -> Lay:
    placed = (other if each is one else each for each in laid.placed)
    return replace(laid, placed=tuple(sorted(placed, key=from_end)))


def _kept_to(one: Placed, cloth: Cloth) -> Placed:
    """A piece at the nearest place that keeps it on the fold and in phase."""
    copy, box = one.copy, box_of(one.outline)
    across = along = 0.0
    if copy.on_fold and cloth.fold == "lengthwise":
        across = cloth.edge - box.left
    elif copy.centre and cloth.repeat_across:
        at = one.motion(copy.centre).x - cloth.pattern_begins
        across = _to_nearest(at, cloth.repeat_across)
    if copy.on_fold and cloth.fold == "crosswise":
        along = -box.bottom
    elif copy.phase and cloth.repeat_along:
        along = _to_nearest(one.motion(copy.phase).y, cloth.repeat_along)
    return replace(one, motion=one.motion.then(shift(Point(across, along))))


def _to_nearest(at: float, repeat: float) -> float:
    return round(at / repeat) * repeat - at
