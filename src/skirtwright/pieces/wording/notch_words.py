"""What a balance mark is for: the seam it faces, and the legend of a piece.

A mark on a band, facing or channel faces a place where the other side goes over from
one piece to the next, or where it begins and ends; it is called after the seam there.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Final

from skirtwright.draft.runs import Side
from skirtwright.draft.shapes.panel import Panel
from skirtwright.pieces.piece import Piece
from skirtwright.pieces.spec import NotchSpec
from skirtwright.pieces.walked_seams import Seam, edge_met, length_of, place_on
from skirtwright.words import Manner, say, translate

_NEAR: Final = 1.0

_BRITISH: Final = Manner()

Titles = Mapping[str, str]
"""By name: of seams as the style titles them, or of pieces."""


def with_words(
    notches: Mapping[str, Sequence[NotchSpec]],
    seams: Sequence[Seam],
    panels: Mapping[str, Panel],
    titles: Titles,
    pieces: Titles,
    materials: Mapping[str, str],
) -> dict[str, list[NotchSpec]]:
    """The marks of every piece, those that face a seam or a centre called after it.

    Args:
        titles: of seams, as the style gives them.
        materials: of the pieces; the seams of a lining name nothing on the skirt.
    """
    named = {piece: list(marks) for piece, marks in notches.items()}
    for seam in seams:
        first, second = seam.sides
        if first == second or not _of_one_cloth(seam, materials):
            continue
        for side, other in ((first, second), (second, first)):
            if len({run.piece for run in other}) > 1:
                continue
            for share, word, of in _faced(side, seams, panels, titles, pieces):
                _name(named, other, share, word, of, panels)
    return named


def _faced(
    side: Side,
    seams: Sequence[Seam],
    panels: Mapping[str, Panel],
    titles: Titles,
    pieces: Titles,
) -> Iterator[tuple[float, str, str]]:
    """Shares of a side's length at which something is met, and what to call it."""
    whole = length_of(side, panels)
    walked = 0.0
    for index in range(len(side) + 1):
        at_end = index == len(side)
        run = side[-1] if at_end else side[index]
        met = edge_met(run, panels, at_end=at_end)
        title = _seam_of(met, seams, titles)
        if title:
            yield walked / whole, title, ""
        elif 0 < index < len(side):
            yield walked / whole, "mark.centre_of", pieces[run.piece]
        if not at_end:
            walked += panels[run.piece].edge(run.edge).chain.length


def _seam_of(key: tuple[str, str], seams: Sequence[Seam], titles: Titles) -> str:
    for seam in seams:
        for side in seam.sides:
            if any(run.key == key for run in side):
                return titles.get(seam.name, "")
    return ""


def _name(
    named: dict[str, list[NotchSpec]],
    side: Side,
    share: float,
    word: str,
    of: str,
    panels: Mapping[str, Panel],
) -> None:
    place = place_on(side, panels, share * length_of(side, panels))
    if place is None:
        return
    piece, edge, distance = place
    marks = named.get(piece, [])
    for index, mark in enumerate(marks):
        near = mark.edge == edge and abs(mark.distance - distance) <= _NEAR
        if near and not mark.word:
            marks[index] = replace(mark, word=word, of=of)


def notch_legend(
    piece: Piece,
    seams: Sequence[Seam],
    titles: Titles,
    materials: Mapping[str, str],
    manner: Manner = _BRITISH,
) -> tuple[str, ...]:
    """Which seams a piece's marks are for, such as `Notches:`, `side seam 1 and 2`.

    Args:
        titles: of seams, as the style gives them.

    Returns:
        A heading and the seams, each with its counts; nothing where there are none.
    """
    found: dict[str, set[int]] = {}
    for notch in piece.notches:
        if notch.dart:
            continue
        key = (piece.name, notch.edge)
        # A waist is sewn to its band and to its lining: the mark is for the band.
        own = [s for s in seams if _of_one_cloth(s, materials)]
        title = _seam_of(key, own, titles) or _seam_of(key, seams, titles)
        if title:
            found.setdefault(translate(title, manner), set()).add(notch.count)
    if not found:
        return ()
    listed = [
        say("label.notch", {"seam": seam, "counts": _counts(counts, manner)}, manner)
        for seam, counts in sorted(found.items())
    ]
    return (say("label.notches", {}, manner), *listed)


def _counts(counts: Collection[int], manner: Manner) -> str:
    """Counts as they are read, such as `1, 2 and 3`."""
    *first, last = (str(count) for count in sorted(counts))
    if not first:
        return last
    return say("label.notch_counts", {"first": ", ".join(first), "last": last}, manner)


def _of_one_cloth(seam: Seam, materials: Mapping[str, str]) -> bool:
    cloths = {materials.get(run.piece) for side in seam.sides for run in side}
    return len(cloths) == 1
