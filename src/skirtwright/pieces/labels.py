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
    spec = piece.spec
    values = {"count": spec.count, "pairs": spec.count // 2}
    cloth = material_words(spec.material, manner)
    if spec.folds:
        how = "label.cut_on_fold"
    elif spec.mirrored and spec.count == 2:
        how = "label.cut_pair"
    elif spec.mirrored:
        how = "label.cut_pairs"
    else:
        how = "label.cut"
    return say(how, {**values, "cloth": cloth}, manner)


def material_words(material: str, manner: Manner = _BRITISH) -> str:
    """A cloth's name as it is read."""
    known = f"label.material.{material}"
    return say(known, {}, manner) if has_message(known) else translate(material, manner)
