"""The words on the lines and marks of a piece: hip line, place to fold, centre back."""

from __future__ import annotations

import re
from collections.abc import Iterator

from skirtwright.geometry import Chain
from skirtwright.pieces.drawn_things import DrawnWords
from skirtwright.pieces.marks.notches import Notch
from skirtwright.pieces.piece import Piece
from skirtwright.words import Manner, has_message, say, translate

_NEAR_THE_START = 0.2


def lettered(piece: Piece, manner: Manner) -> Iterator[DrawnWords]:
    """The words on a piece's lines, brackets, balance marks and clips."""
    for name, shape in piece.inside:
        words = _named(name, manner)
        if words and isinstance(shape, Chain):
            yield DrawnWords(words, shape, _NEAR_THE_START)
    for bracket in piece.brackets:
        side = bracket.segments[1]
        yield DrawnWords(say("mark.fold_bracket", {}, manner), Chain((side,)))
    if piece.lengthen:
        words = say("mark.lengthen", {}, manner)
        yield DrawnWords(words, Chain((piece.lengthen[0],)))
    for notch in piece.notches:
        words = notch_word(notch, manner)
        if words:
            yield DrawnWords(words, Chain((notch.snips[len(notch.snips) // 2],)), 1.0)
    for clip in piece.clips:
        yield DrawnWords(say("mark.clip", {}, manner), Chain((clip,)), 1.0)


def notch_word(notch: Notch, manner: Manner) -> str:
    """What is written beside a balance mark, if anything is."""
    if notch.word and notch.of:
        return say(notch.word, {"piece": translate(notch.of, manner)}, manner)
    return translate(notch.word, manner) if notch.word else ""


def _named(name: str, manner: Manner) -> str:
    """What a line drawn inside is called; nothing where it speaks for itself."""
    known = "mark." + re.sub(r"\[\d*\]", "", name)
    return say(known, {}, manner) if has_message(known) else ""
