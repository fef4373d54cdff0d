"""A lining cut from the shell, as lines of its own on the shell's piece.

The lining is traced off by its own lines where they differ, and elsewhere by the
shell's: the paper serves twice. It has to lie on the shell's piece in the draft.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from skirtwright.export.sheet import Label, Layer, Pen, Stroke
from skirtwright.geometry import straight
from skirtwright.geometry.area import grown_ring, shared_area
from skirtwright.pieces.differing import parts_apart
from skirtwright.pieces.drawn_things import Kind
from skirtwright.pieces.piece import Piece
from skirtwright.pieces.wording.labels import cut_line
from skirtwright.words import Manner, say, translate

_SMALL = 15.0
"""How far a lining may reach beyond the piece it is drawn on, mm."""

_ROUGH = 0.2
_SAME_DEG = 0.01
_WORDS = 3.0
_LONG = 60.0
"""A shorter part of a line is not named, mm."""

_LAYER: dict[Kind, Layer] = {
    "cutting": "cutting",
    "stitching": "stitching",
    "inside": "inside",
    "pleat": "inside",
    "notch": "notch",
}

LINING_CUTTING: Pen = (0.7, (9.0, 2.5))
LINING_STITCHING: Pen = (0.5, (1.5, 4.0))
LINING_INSIDE: Pen = (0.5, (5.0, 3.0))
"""Of the lining's own lines."""

_PEN: dict[Layer, Pen] = {
    "cutting": LINING_CUTTING,
    "stitching": LINING_STITCHING,
    "inside": LINING_INSIDE,
    "notch": (0.7, ()),
}
"""Weight and dashes, mm: unlike every line of the shell."""


def traced_twice(pieces: Sequence[Piece]) -> dict[str, list[Piece]]:
    """The linings that can be drawn on another piece, by that piece's name."""
    found: dict[str, list[Piece]] = {}
    shells = [p for p in pieces if p.spec.material == "shell"]
    for lining in pieces:
        if lining.spec.material == "lining":
            fits = [shell for shell in shells if _lies_on(lining, shell)]
            if fits:
                most = max(fits, key=lambda shell: shared_area(lining.cut, shell.cut))
                found.setdefault(most.name, []).append(lining)
    return found


def _lies_on(lining: Piece, shell: Piece) -> bool:
    one, other = lining.spec, shell.spec
    if (one.mirrored, one.body, one.half) != (other.mirrored, other.body, other.half):
        return False
    if bool(one.folds) != bool(other.folds):
        return False
    if abs(lining.grain_deg - shell.grain_deg) > _SAME_DEG:
        return False
    beyond = lining.cut_area - shared_area(
        lining.cut, grown_ring(shell.cut, _SMALL, _ROUGH)
    )
    return beyond < 1.0


def lines_of(lining: Piece, shell: Piece) -> Iterator[Stroke]:
    """The lining's own lines, where they are none of the shell's."""
    for kind, run in parts_apart(lining, shell):
        layer = _LAYER.get(kind)
        if layer and len(run) > 1:
            weight, dash = _PEN[layer]
            yield Stroke(straight(*run).segments, layer, weight, dash)


def names_of(lining: Piece, lines: Sequence[Stroke], manner: Manner) -> Iterator[Label]:
    """The lining's name on the longest of its cutting lines."""
    cuts = [line.path for line in lines if line.layer == "cutting"]
    if cuts:
        longest = max(cuts, key=lambda path: sum(s.length for s in path))
        if sum(s.length for s in longest) >= _LONG:
            name = translate(lining.spec.title, manner)
            yield Label(((name,),), _WORDS, longest)


def words_of(lining: Piece, manner: Manner) -> tuple[str, ...]:
    """What the label of the piece it is drawn on says of it."""
    name = translate(lining.spec.title, manner)
    values = {"piece": name, "how": cut_line(lining, manner)}
    return (
        say("label.traced_twice", values, manner),
        say("label.traced_how", values, manner),
    )
