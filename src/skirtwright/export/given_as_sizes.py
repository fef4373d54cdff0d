"""Rectangles given as sizes, to be drawn on the cloth: bands, strips, interfacing.

A rectangle is told with its grain upright: how long and wide it is cut, where its
notches are and where a line runs over it. What cannot be told so is drawn.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from skirtwright.geometry import Chain, Point, turn
from skirtwright.geometry.box import Box, box_of
from skirtwright.pieces.folding import folded
from skirtwright.pieces.marks.notches import Notch
from skirtwright.pieces.piece import Piece
from skirtwright.pieces.wording.labels import cut_line
from skirtwright.pieces.wording.mark_words import notch_word
from skirtwright.words import Manner, say, translate

_NEAR = 0.1
"""Sides and lines that are straight, or along the grain, to this are so, mm."""

_MOST_LINES = 3
"""More lines over a rectangle are drawn."""


@dataclass(frozen=True)
class Rectangle:
    """A piece that a few sizes tell, its grain upright.

    Attributes:
        long: along the grain, mm.
        wide: across it, mm.
        notches: for `left`, `right`, `foot` and `top` each notch with its distance
            from the foot or from the left, mm.
        along: lines along the grain, distances from the left, mm.
        across: lines across it, distances from the foot, mm.
    """

    long: float
    wide: float
    notches: dict[str, list[tuple[float, Notch]]]
    along: list[float]
    across: list[float]


def rectangle_of(piece: Piece) -> Rectangle | None:
    """The sizes of a piece; None where it is no plain rectangle."""
    if piece.darts or len(piece.inside) > _MOST_LINES or folded(piece.panel):
        return None
    upright = turn(Point(0, 0), 90.0 - piece.grain_deg)
    box = box_of(map(upright, piece.cut))
    if abs(box.width * box.height - piece.cut_area) > _NEAR * (box.width + box.height):
        return None
    along: list[float] = []
    across: list[float] = []
    for _, shape in piece.inside:
        if not isinstance(shape, Chain) or not _note_side(
            shape.moved(upright), box, along, across
        ):
            return None
    snips = [(upright(s.start), n) for n in piece.notches for s in n.snips]
    notches = _notches(snips, box)
    return Rectangle(box.height, box.width, notches, along, across)


def _note_side(line: Chain, box: Box, along: list[float], across: list[float]) -> bool:
    """Note where a straight line runs; False where it slants or bends."""
    points = line.flattened(_NEAR / 2)
    xs, ys = [p.x for p in points], [p.y for p in points]
    if max(xs) - min(xs) < _NEAR:
        along.append(xs[0] - box.left)
    elif max(ys) - min(ys) < _NEAR:
        across.append(ys[0] - box.bottom)
    else:
        return False
    return True


def _notches(
    snips: Sequence[tuple[Point, Notch]], box: Box
) -> dict[str, list[tuple[float, Notch]]]:
    found: dict[str, list[tuple[float, Notch]]] = {}
    for p, notch in snips:
        sides = {
            "left": (abs(p.x - box.left), p.y - box.bottom),
            "right": (abs(p.x - box.right), p.y - box.bottom),
            "foot": (abs(p.y - box.bottom), p.x - box.left),
            "top": (abs(p.y - box.top), p.x - box.left),
        }
        side = min(sides, key=lambda name: sides[name][0])
        found.setdefault(side, []).append((sides[side][1], notch))
    return {side: sorted(held, key=lambda one: one[0]) for side, held in found.items()}


def sentences_of(pieces: Sequence[Piece], manner: Manner) -> Iterator[str]:
    """What is to be drawn on the cloth, a sentence or two a piece."""
    for piece in pieces:
        sizes = rectangle_of(piece)
        if sizes:
            yield " ".join(_said(piece, sizes, manner))


def _said(piece: Piece, sizes: Rectangle, manner: Manner) -> Iterator[str]:
    on_fold = ".on_fold" if piece.spec.folds else ""
    values = {
        "piece": translate(piece.spec.title, manner),
        "how": cut_line(piece, manner),
        "long": sizes.long,
        "wide": sizes.wide,
    }
    yield say(f"print.as_size{on_fold}", values, manner)
    told = [
        say(f"print.notches_at.{side}", {"places": _listed(places, manner)}, manner)
        for side, places in sizes.notches.items()
    ]
    told += [say("print.line_along", {"place": at}, manner) for at in sizes.along]
    told += [say("print.line_across", {"place": at}, manner) for at in sizes.across]
    if told:
        yield say("print.grain_upright", {"told": "; ".join(told)}, manner)


def _listed(notches: Sequence[tuple[float, Notch]], manner: Manner) -> str:
    told = []
    for place, notch in notches:
        at = say("finished.length_shown", {"value": place}, manner)
        word = notch_word(notch, manner)
        told.append(f"{at} ({word})" if word else at)
    return ", ".join(told)
