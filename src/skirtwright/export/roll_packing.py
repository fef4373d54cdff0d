"""Pieces laid on a roll so that little of it is used, never more on a wider one.

The lay is bettered by tries (`lay.placing`) at every round width up to the roll's own,
in runs of neighbouring widths, each beginning with the best lay of the one before.
Lays found are slid together until pieces touch (`lay.settling`), and the one that is
then shortest is taken. What is found at a width, and whether it is slid, leans on the
narrower widths of its run alone: a wider roll is offered all that a narrower one is,
and never takes more paper. A run is passed over when even the pieces' area would be
longer at its widest.

The more there is to lay, the fewer lays are tried at a width: so many that the work is
about the same. That count leans on the pieces alone, so the same lay is found every
time, and however wide the roll.
"""

from __future__ import annotations

import math
import random
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from functools import lru_cache

from skirtwright.budget import own_search
from skirtwright.export.packing import CLEAR, shapes_of
from skirtwright.export.sheet import Sheet, Stroke
from skirtwright.geometry import Motion, Point, shift, straight
from skirtwright.geometry.area import grown_ring
from skirtwright.geometry.box import Box, box_of
from skirtwright.geometry.ring import area_of_points
from skirtwright.geometry.tolerance import SAME
from skirtwright.lay.cells import Cells
from skirtwright.lay.placing import Floor, Laid

Outlined = tuple[tuple[Stroke, ...], Box]
"""The lines round a piece, and the room it takes."""

_WIDTHS = 10.0
"""Widths tried are whole multiples of this, mm."""

_CELLS = Cells(4.0, 8.0)
"""How fine to look."""

_RUN = 10
"""Widths searched one after another, each beginning with the best lay so far."""

_SEEDS = (1, 2, 3)
"""Each run is searched so often: chance comes to another lay each time."""

_TRIES = range(8, 141)
"""Lays tried at a width, at least and at most."""

_WORK = 6_740_000
"""Of the lays tried at a width, as `Floor.work` reckons one."""

_OURS = 4_000_000
"""Work of one lay that more than any skirt takes: past it the clock is not ours."""

_SETTLES = 0.98
"""A lay longer than the best of its run is slid where so much of it would be shorter.

Hardly one becomes shorter than that.
"""

_ROUGH, _SIMPLER = 0.2, 0.6
"""How far a flattened outline may lie off a piece, and a simpler one round what is
kept clear of it from nearest to furthest, mm."""


def on_a_roll(sheet: Sheet, width: float, turns: Sequence[int]) -> Sheet | None:
    """The sheet laid within `width` mm as short as this way finds it.

    None when a piece is wider than the roll however it is turned.

    Args:
        width: room across the roll, mm.
        turns: the angles a piece may be turned by, degrees.
    """
    outlines = tuple((group.outlines, group.outline_box) for group in sheet.groups)
    motions = _motions(outlines, width, tuple(turns))
    if motions is None:
        return None
    groups = (g.moved(m) for g, m in zip(sheet.groups, motions, strict=True))
    return replace(sheet, groups=tuple(groups))


@lru_cache(maxsize=4)
def _motions(
    outlines: tuple[Outlined, ...], width: float, turns: tuple[int, ...]
) -> tuple[Motion, ...] | None:
    """What lays each piece; kept, since what was measured is then printed."""
    rings = [_ring(*outlined) for outlined in outlines]
    # What is slid must not overlap before: cells are taken of the same rings.
    paths = [straight(*ring, ring[0]).segments for ring in rings]
    marks = [(Stroke(path, "frame", closed=True),) for path in paths]
    pieces = [shapes_of(mark, _CELLS, turns, clear=0.0) for mark in marks]
    least = max(min(shape.across for shape in shapes) for shapes in pieces)
    if least > width + SAME:
        return None
    floor = Floor(pieces, _CELLS)
    with own_search(floor.work, _OURS):
        return _shortest(floor, _runs_of_widths(least, width), outlines, rings)


def _ring(strokes: Sequence[Stroke], room: Box) -> list[Point]:
    """A simpler outline round a piece and what is kept clear, no wider than both.

    Args:
        strokes: the lines round it.
        room: what it takes with all that is drawn of it; where that reaches past its
            lines, all of that is kept clear.
    """
    outlines = [stroke.points(_ROUGH) for stroke in strokes]
    whole = list(room.corners)
    outline = max(outlines, key=lambda ps: abs(area_of_points(ps)), default=whole)
    inside = box_of(outline)
    if max(room.width - inside.width, room.height - inside.height) > _ROUGH:
        outline = whole
    low, _, high, _ = room.corners
    return [
        Point(
            min(max(p.x, low.x - CLEAR), high.x + CLEAR),
            min(max(p.y, low.y - CLEAR), high.y + CLEAR),
        )
        for p in grown_ring(outline, CLEAR - _SIMPLER / 2, _SIMPLER)
    ]


def _shortest(
    floor: Floor,
    runs: Iterable[Sequence[float]],
    outlines: Sequence[Outlined],
    rings: Sequence[Sequence[Point]],
) -> tuple[Motion, ...]:
    """What lays each piece so that all take the least, once they are slid together."""
    area = sum(abs(area_of_points(ring)) for ring in rings)
    best, shortest = math.inf, tuple[Motion, ...]()
    for rooms in runs:
        if area >= (best + 2 * CLEAR) * rooms[-1]:
            break
        best_here = math.inf
        for lay in _searched(floor, rooms):
            # Held against its own run only: wider rolls then slide it too.
            if _reach(lay) * _SETTLES < best_here:
                motions = _slid(lay, rings)
                length = _length(motions, outlines)
                best_here = min(best_here, length)
                if length < best:
                    best, shortest = length, motions
    return shortest


def _length(motions: Sequence[Motion], outlines: Sequence[Outlined]) -> float:
    """How much of the roll pieces take, mm."""
    moved = zip(motions, outlines, strict=True)
    return box_of([m(p) for m, (_, room) in moved for p in room.corners]).height


def _slid(lay: Laid, rings: Sequence[Sequence[Point]]) -> tuple[Motion, ...]:
    """What lays each piece, slid down and to the left until it touches another."""
    from skirtwright.lay.settling import settled

    motions = [lay.places[n].motion(_CELLS) for n in range(len(rings))]
    lying = [[*map(m, ring)] for m, ring in zip(motions, rings, strict=True)]
    boxes = [box_of(ring) for ring in lying]
    free = [(max(box.left, 0.0), max(box.bottom, 0.0)) for box in boxes]
    steps = settled(lying, [(True, True)] * len(rings), free)
    return tuple(m.then(shift(step)) for m, step in zip(motions, steps, strict=True))


def _runs_of_widths(least: float, width: float) -> Iterator[list[float]]:
    """The round widths from the least to the given one, in runs, widest run first."""
    first, last = math.floor(least / _WIDTHS) + 1, math.floor(width / _WIDTHS)
    widths = [number * _WIDTHS for number in range(first, last + 1)]
    for run in range(last // _RUN, first // _RUN - 1, -1):
        inside = [w for w in widths if w // _WIDTHS // _RUN == run]
        if inside:
            yield inside
    yield [least]


def _searched(floor: Floor, rooms: Sequence[float]) -> Iterator[Laid]:
    """The shortest lays found at each of some widths, narrowest first, each once.

    Of lays of as many rows of cells the next is tried from the last.
    """
    chances = [random.Random(seed) for seed in _SEEDS]  # noqa: S311 -- the same tries
    best: list[Laid | None] = [None] * len(chances)
    tries = min(max(_WORK // floor.work, _TRIES[0]), _TRIES[-1])
    for room in rooms:
        for way, chance in enumerate(chances):
            before = lay = best[way]
            number = 0
            # Too wide as it is turned, a piece lies nowhere: chance comes to another.
            while lay is None or number < tries:
                lay = floor.tried(number, room, lay, number == 0, chance)
                number += 1
            best[way] = lay
            if before is None or lay.lying != before.lying:
                yield lay


def _reach(lay: Laid) -> float:
    """How much of the roll a lay takes, mm."""
    tops = (p.y * _CELLS.height + p.shape.along for p in lay.places.values())
    return max(tops)
