"""What of each piece lies on a cloth, how often, and which ways it may be turned.

On cloth folded selvedge to selvedge a piece on the fold lies on the fold, and what
is cut through both layers is a pair. Where the cloth has no fold for it, a piece is
opened out and lies whole. The grain runs along the cloth.

Cloth is looked at with its length upwards: x across from the fold or the left edge,
y along from the cut end.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from functools import cached_property

from skirtwright.geometry import Motion, Point, heading, reflect, turn
from skirtwright.geometry.area import grown_ring, union_ring, unlike
from skirtwright.geometry.box import box_of
from skirtwright.geometry.ring import lies_on
from skirtwright.geometry.tolerance import SAME
from skirtwright.lay.cloth_to_cut import Cloth
from skirtwright.pieces.piece import Piece
from skirtwright.problems import Refused

MOST_COPIES = 100
"""More than any skirt is cut of."""

CLEAR = 0.02
"""Kept free round what is laid, so that rounding never makes pieces overlap, mm."""

_ROUGH = 0.05
"""How much further a piece's simpler outline may lie outside it, mm."""

_ALIKE = 1e-3
"""Share of its area by which a piece may differ from its mirror image."""

_ALONG = 0.9999
"""Cosine from which a fold lies along the grain."""

_OVER = Motion(a=-1.0)
"""Turned over, left to right."""


@dataclass(frozen=True)
class Way:
    """How a piece is turned on the cloth: over first, then round.

    Attributes:
        mirrored: turned over, left to right.
        rotation_deg: anticlockwise.
    """

    mirrored: bool
    rotation_deg: float

    @cached_property
    def motion(self) -> Motion:
        """The motion, about the origin of the piece's draft."""
        round_ = turn(Point(0, 0), self.rotation_deg)
        return _OVER.then(round_) if self.mirrored else round_


@dataclass(frozen=True)
class Copy:
    """A piece to be laid once.

    Attributes:
        outline: as it lies, in the coordinates of its draft: the half of a piece on
            the fold, else whole.
        ways: how it may be turned.
        on_fold: it lies on the fold of the cloth.
        opened: it is drafted on a fold and lies opened out.
        gives: how many pieces are cut from it.
        number: which it is of the times its piece is laid, from 0.
        phase: the point of it that lies at the beginning of a repeat along the
            cloth, if one has to.
        centre: the same across.
    """

    piece: Piece
    outline: tuple[Point, ...]
    ways: tuple[Way, ...]
    on_fold: bool
    opened: bool
    gives: int
    number: int = 0
    phase: Point | None = None
    centre: Point | None = None

    def widened(self, gap: float) -> list[Point]:
        """A simpler outline round it, in which half a gap is kept free, mm."""
        return grown_ring(self.outline, max(gap / 2, CLEAR), _ROUGH)

    @staticmethod
    def margin(gap: float) -> float:
        """By how much that outline may reach beyond it, mm."""
        return 2 * (max(gap / 2, CLEAR) + _ROUGH)

    @property
    def across(self) -> float:
        """The least room it takes across the cloth, mm."""
        return min(box_of(map(way.motion, self.outline)).width for way in self.ways)

    @property
    def along(self) -> float:
        """The least room it takes along the cloth, mm."""
        return min(box_of(map(way.motion, self.outline)).height for way in self.ways)


def copies_of(pieces: Iterable[Piece], cloth: Cloth) -> list[Copy]:
    """Everything to be laid on a cloth.

    Raises:
        Refused: more than any skirt is cut of.
    """
    wanted = list(pieces)
    if sum(piece.spec.count for piece in wanted) > MOST_COPIES:
        raise Refused("lay.too_many", cloth.material, most=MOST_COPIES)
    return [
        replace(copy, number=number)
        for piece in wanted
        for number, copy in enumerate(_copies(piece, cloth))
    ]


def _copies(piece: Piece, cloth: Cloth) -> Iterator[Copy]:
    fold = _fold_for(piece, cloth)
    outline = _opened(piece, fold)
    opened = any(edge != fold for edge in piece.spec.folds)
    count = piece.spec.count
    if fold:
        ways = tuple(w for w in _ways(piece, cloth) if _on_edge(piece, fold, w, cloth))
        for _ in range(count):
            yield Copy(piece, outline, ways, True, opened, 1)
        return
    pair = piece.spec.mirrored
    if cloth.layers == 2:
        two = pair or _alike(outline, piece.grain_deg)
        ways = tuple(_ways(piece, cloth))
        for number in range(0, count, 2 if two else 1):
            yield Copy(
                piece,
                outline,
                ways,
                False,
                opened,
                min(2, count - number) if two else 1,
            )
        return
    for number in range(count):
        over = pair and number % 2 == 1
        ways = tuple(w for w in _ways(piece, cloth) if w.mirrored == over)
        yield Copy(piece, outline, ways, False, opened, 1)


def _ways(piece: Piece, cloth: Cloth) -> Iterator[Way]:
    """All ways that keep the grain, and the nap where there is one."""
    for mirrored in (False, True):
        grain = 180.0 - piece.grain_deg if mirrored else piece.grain_deg
        up = 90.0 - grain
        yield Way(mirrored, up)
        if not (cloth.one_way or cloth.repeat_along):
            yield Way(mirrored, up + 180.0 if up <= 0 else up - 180.0)


def _fold_for(piece: Piece, cloth: Cloth) -> str:
    """The edge of a piece that lies on the fold of the cloth; empty for none."""
    grain = heading(piece.grain_deg)
    way = {"lengthwise": grain, "crosswise": grain.left()}.get(cloth.fold)
    for name in piece.spec.folds:
        chain = piece.panel.edge(name).chain
        along = (chain.end - chain.start).unit()
        if way is not None and abs(along.dot(way)) > _ALONG:
            return name
    return ""


def _opened(piece: Piece, fold: str) -> tuple[Point, ...]:
    """The cutting line, opened out over all folds but one."""
    ring = list(piece.cut)
    for name in piece.spec.folds:
        if name != fold:
            chain = piece.panel.edge(name).chain
            over = reflect(chain.start, chain.end)
            ring = union_ring([ring, [over(p) for p in ring]])
    return tuple(ring)


def _on_edge(piece: Piece, fold: str, way: Way, cloth: Cloth) -> bool:
    """True where the fold then lies towards the fold of the cloth."""
    ring = [way.motion(p) for p in piece.cut]
    place = way.motion(piece.panel.edge(fold).chain.start)
    box = box_of(ring)
    if cloth.fold == "lengthwise":
        return place.x < box.middle.x
    return place.y < box.middle.y


def _alike(outline: tuple[Point, ...], grain_deg: float) -> bool:
    """True where an outline turned over can be laid on itself, grain along grain."""
    upright = turn(Point(0, 0), 90.0 - grain_deg)
    ring = _about_middle([upright(p) for p in outline])
    over = _about_middle([_OVER(p) for p in ring])
    ways = (over, [-p for p in over])
    # A band does so corner by corner: areas are only worked of what does not.
    if any(_lies_on(ring, way) and _lies_on(way, ring) for way in ways):
        return True
    area = box_of(ring).width * box_of(ring).height
    return min(unlike(ring, way) for way in ways) < _ALIKE * area


def _lies_on(ring: list[Point], other: list[Point]) -> bool:
    return all(lies_on(other, corner, SAME) for corner in ring)


def _about_middle(ring: list[Point]) -> list[Point]:
    middle = box_of(ring).middle
    return [p - middle for p in ring]
