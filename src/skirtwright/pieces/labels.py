"""The words on a piece."""

from __future__ import annotations

from skirtwright.pieces.piece import Piece
from skirtwright.words import Manner, has_message, say, translate

_BRITISH = Manner()


def label_lines(
    piece: Piece,
    style: str = "",
    client: str = "",
    date: str = "",
    manner: Manner = _BRITISH,
) -> tuple[str, ...]:
    """Lines of a piece's label: name, style, for whom and when, how it is cut.

    What is not given is left out.
    """
    whose = ", ".join(part for part in (client, date) if part)
    lines = (
        translate(piece.spec.title, manner),
        translate(style, manner) if style else "",
        whose,
        cut_line(piece, manner),
    )
    return tuple(line for line in lines if line)


def cut_line(piece: Piece, manner: Manner = _BRITISH) -> str:
    """How many of a piece are cut, and of what, such as `Cut 1 pair, main cloth`."""
    cloth = material_words(piece.spec.material, manner)
    return say(f"label.{_how(piece)}", {**_counts(piece), "cloth": cloth}, manner)


def how_cut(piece: Piece, manner: Manner = _BRITISH) -> str:
    """The same where its cloth is said already, such as `1 pair`."""
    return say(f"making.{_how(piece)}", _counts(piece), manner)


def _how(piece: Piece) -> str:
    spec = piece.spec
    if spec.folds:
        return "cut_on_fold"
    if spec.mirrored:
        return "cut_pair" if spec.count == 2 else "cut_pairs"
    return "cut"


def _counts(piece: Piece) -> dict[str, int]:
    return {"count": piece.spec.count, "pairs": piece.spec.count // 2}


def material_words(material: str, manner: Manner = _BRITISH) -> str:
    """A cloth's name as it is read."""
    known = f"label.material.{material}"
    return say(known, {}, manner) if has_message(known) else translate(material, manner)
