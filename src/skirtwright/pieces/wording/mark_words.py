"""The words on the lines and marks of a piece: hip line, place to fold, centre back."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator

from skirtwright.geometry import Chain, Line, Point
from skirtwright.pieces.drawn_things import DrawnText
from skirtwright.pieces.marks.notches import Notch
from skirtwright.pieces.outline.crossings import first_crossing
from skirtwright.pieces.piece import Piece
from skirtwright.words import Manner, has_message, say, translate

LETTERS = 3.0
"""Height of the capitals, mm."""

_WIDE = 0.85
"""Room a letter takes at most, as a multiple of the height of capitals."""

_OFF = 1.2
"""From a line to the foot of its words, mm."""

_FROM_START = 30.0
_BESIDE_SNIP = 3.0


def lettered(piece: Piece, manner: Manner) -> Iterator[DrawnText]:
    """The words on a piece's lines, brackets, balance marks and clips."""
    for name, shape in piece.inside:
        words = _named(name, manner)
        if words and isinstance(shape, Chain):
            yield from _along(shape, words, piece.grain)
    for bracket in piece.brackets:
        side = bracket.segments[1]
        words = say("mark.fold_bracket", {}, manner)
        yield from _along(Chain((side,)), words, piece.grain, 0.5)
    if piece.lengthen:
        words = say("mark.lengthen", {}, manner)
        yield from _along(Chain((piece.lengthen[0],)), words, piece.grain, 0.5)
    for notch in piece.notches:
        if notch.word:
            yield _beside(piece, notch, manner)
    for clip in piece.clips:
        words = say("mark.clip", {}, manner)
        yield _read_inwards(words, clip.end, clip.start_direction)


def _named(name: str, manner: Manner) -> str:
    """What a line drawn inside is called; nothing where it speaks for itself."""
    known = "mark." + re.sub(r"\[\d*\]", "", name)
    return say(known, {}, manner) if has_message(known) else ""


def _along(
    line: Chain, words: str, arrow: Line, share: float = 0.0
) -> Iterator[DrawnText]:
    """Words over a line, read from left to right or upwards, if there is room.

    They begin a little from its left end, or stand about a share of its length; where
    the grain arrow runs through them they are moved along.
    """
    long = len(words) * LETTERS * _WIDE
    length = line.length
    if long > 0.9 * length:
        return
    along = (line.end - line.start).unit()
    if _is_backwards(along):
        line, along = line.reversed(), -along
    wanted = max(share * length - long / 2, min(_FROM_START, length - long))
    step = 0.5 * long
    places = [wanted + step * n for n in (0, 1, 2, 3, -1, -2, -3)]
    found = None
    for start in places:
        if not 0 <= start <= length - long:
            continue
        at = line.at(start) + along.left() * _OFF
        found = found or at
        middle = at + along.left() * (LETTERS / 2)
        over = [middle - along * _OFF, middle + along * (long + _OFF)]
        if first_crossing(over, [arrow.start, arrow.end], math.inf) is None:
            found = at
            break
    if found:
        yield DrawnText((words,), found, LETTERS, along.heading_deg())


def _is_backwards(along: Point) -> bool:
    """Whether words would have to be read from right to left or downwards."""
    return along.x < -1e-6 or (abs(along.x) <= 1e-6 and along.y < 0)


def _beside(piece: Piece, notch: Notch, manner: Manner) -> DrawnText:
    """Words along the seam, inside it and on from a balance mark, or back from it."""
    word = notch.word
    of = {"piece": translate(notch.of, manner)}
    words = say(word, of, manner) if notch.of else translate(word, manner)
    edge = piece.panel.edge(notch.edge)
    chain, distance = edge.ringwise, notch.distance
    if not edge.forward:
        distance = chain.length - distance
    long = len(words) * LETTERS * _WIDE
    back = distance + _BESIDE_SNIP + long > chain.length
    middle = distance + (-1 if back else 1) * (_BESIDE_SNIP + long / 2)
    middle = min(max(middle, 0.0), chain.length)
    along = chain.direction_at(middle)
    inwards = along.left()
    backwards = _is_backwards(along)
    # Walked anticlockwise the piece lies to the left: words read that way stand on
    # the seam, words read the other way hang from it.
    foot = chain.at(middle) + inwards * (_OFF + (LETTERS if backwards else 0.0))
    reading = -along if backwards else along
    return DrawnText(
        (words,), foot - reading * (long / 2), LETTERS, reading.heading_deg()
    )


def _read_inwards(words: str, place: Point, inwards: Point) -> DrawnText:
    """Words that begin, or end, a little inside a place, and stand on a line there."""
    long = len(words) * LETTERS * _WIDE
    backwards = _is_backwards(inwards)
    far = _BESIDE_SNIP + (long if backwards else 0.0)
    along = -inwards if backwards else inwards
    at = place + inwards * far + along.left() * _OFF
    return DrawnText((words,), at, LETTERS, along.heading_deg())
