"""The pieces of a skirt by what is done with them, for the rows that use them.

What a piece is, is read off its cloth and the roles of its edges.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence

from skirtwright.checks.measured_outline import HEM, Paper
from skirtwright.draft.draft import CLOTHS
from skirtwright.geometry import heading
from skirtwright.pieces.piece import Piece

_SAME_LENGTH = 0.1
"""Lengths nearer than this are one, mm."""

_INSIDE = {"caught", "facing_edge"}
_PLACKET = _INSIDE | {"opening", "turned_in"}

PieceGroups = Mapping[str, tuple[Piece, ...]]
"""By group: strip, patch, interfacing, lining, overlay, pocket_bag, pocket_facing, tie,
placket, waist, hem_facing, skirt; those of the main cloth with an open edge down to the
hem, as a wrap or a vent has, are `open_edged` as well."""


def piece_groups(
    papers: Sequence[Paper], strips: Sequence[float], patches: Collection[str] = ()
) -> PieceGroups:
    """Every piece in its group.

    Args:
        strips: lengths of the strips behind an opening, mm.
        patches: names of the pieces that are stitched onto another.
    """
    found: dict[str, list[Piece]] = {}
    for paper in papers:
        is_patch = paper.piece.spec.stem in patches
        group = "patch" if is_patch else _group(paper, strips)
        found.setdefault(group, []).append(paper.piece)
        if paper.is_shell and paper.of_role("opening") and paper.of_role(HEM):
            found.setdefault("open_edged", []).append(paper.piece)
    return {group: tuple(pieces) for group, pieces in found.items()}


def _group(paper: Paper, strips: Sequence[float]) -> str:
    spec = paper.piece.spec
    roles = {paper.role(edge.name) for edge in paper.panel.edges}
    kinds = (
        ("strip", spec.material == "interfacing" and _is_long(paper.piece, strips)),
        ("interfacing", spec.material == "interfacing"),
        ("pocket_bag", "pocket" in roles),
        ("lining", spec.material == "lining"),
        ("overlay", spec.material not in CLOTHS),
        ("tie", roles == {"turned_in"}),
        ("pocket_facing", roles == _INSIDE),
        ("placket", "opening" in roles and roles <= _PLACKET),
        ("waist", "waist_join" in roles),
        ("hem_facing", "facing_edge" in roles),
    )
    return next((group for group, holds in kinds if holds), "skirt")


def _is_long(piece: Piece, lengths: Sequence[float]) -> bool:
    """Whether a piece is just so long: strips behind a zip have a row of their own."""
    long = reach(piece, along=True)
    return any(abs(long - length) <= _SAME_LENGTH for length in lengths)


def reach(piece: Piece, *, along: bool) -> float:
    """How far a piece as it is drawn reaches along its grain, or across it, mm."""
    grain = heading(piece.grain_deg)
    way = grain if along else grain.left()
    found = [point.dot(way) for point in piece.cut]
    return max(found) - min(found)
