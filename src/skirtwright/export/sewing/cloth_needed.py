"""About how much cloth is needed, until a lay says it exactly.

The greater of two: what the pieces cover, given the share of cloth that one skirt
makes use of; and the longest piece along its grain. Widths and shares are data.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from skirtwright.export.sewing.sewing_facts import of_unit, table
from skirtwright.export.sewing.sewing_pieces import reach
from skirtwright.geometry import heading
from skirtwright.measures.units import Unit, read_length, show_length
from skirtwright.pieces.piece import Piece

_SOLD_BY: dict[Unit, float] = {"cm": 100.0, "mm": 100.0, "in": 4.5 * 25.4}
"""Shops sell by 10 cm or by an eighth of a yard, mm; common practice, no source."""

_YARD = 36


@dataclass(frozen=True)
class ClothNeeded:
    """An estimate for one cloth.

    Attributes:
        material: as the pieces name it.
        width: of the cloth as sold, mm.
        length: about what is to be bought, not rounded, mm.
        too_wide: the piece that this cloth does not hold across, or None.
    """

    material: str
    width: float
    length: float
    too_wide: Piece | None

    def sold(self, unit: Unit) -> str:
        """The length up to what a shop cuts, with its unit."""
        step = _SOLD_BY[unit]
        up = math.ceil(self.length / step - 1e-9) * step
        if unit == "in":
            return f"{show_length(up / _YARD, 'in', 8)} yd"
        return show_length(up, unit, with_unit=True)


def cloth_needed(pieces: Iterable[Piece], *, inches: bool) -> tuple[ClothNeeded, ...]:
    """An estimate for each cloth the pieces are cut of, in their order.

    Args:
        pieces: all of the skirt.
        inches: whether it is made in inches: cloth comes in other widths then.
    """
    cut: dict[str, list[Piece]] = {}
    for piece in pieces:
        cut.setdefault(piece.spec.material, []).append(piece)
    return tuple(_needed(name, found, inches=inches) for name, found in cut.items())


def _needed(material: str, pieces: list[Piece], *, inches: bool) -> ClothNeeded:
    data = table()["cloth"]
    widths = data.get(material, data["shell"])["width"]
    width = read_length(of_unit(widths, inches=inches))
    usable = width - read_length(data["selvedges"])
    apart = read_length(data["apart"])
    area = sum(piece.cut_area * _outlines(piece) for piece in pieces)
    longest = max(_extent(piece, along=True) for piece in pieces) + 2 * apart
    widest = max(pieces, key=lambda piece: _extent(piece, along=False))
    holds = _extent(widest, along=False) <= usable
    length = max(area / (usable * data["share"]), longest)
    return ClothNeeded(material, width, length, None if holds else widest)


def _outlines(piece: Piece) -> int:
    """How often the outline lies on the cloth; twice for a piece on a fold."""
    return piece.spec.count * (2 if piece.spec.folds else 1)


def _extent(piece: Piece, *, along: bool) -> float:
    """How much cloth a piece takes along its grain, or across it, mm."""
    size = reach(piece, along=along)
    grain = heading(piece.grain_deg)
    way = grain if along else grain.left()
    for fold in piece.spec.folds:
        chain = piece.panel.edge(fold).chain
        if abs((chain.end - chain.start).unit().dot(way)) < 0.5:
            return 2 * size
    return size
