"""Pieces laid on a roll so that little of it is used, never more on a wider one.

The lay is bettered by tries (`lay.placing`) at every round width up to the roll's own,
in runs of neighbouring widths, each beginning with the best lay of the one before.
What is found at a width therefore never depends on how much wider the roll is, and a
wider roll never takes more paper. A run is passed over when even the pieces' area
would be longer at its widest.

The more there is to lay, the fewer lays are tried at a width: so many that the work is
about the same. That count leans on the pieces alone, so the same lay is found every
time, and however wide the roll.
"""

from __future__ import annotations

import math
import random
from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import lru_cache

from skirtwright.budget import own_search
from skirtwright.export.packing import shapes_of
from skirtwright.export.sheet import Mark, Sheet
from skirtwright.geometry import Motion
from skirtwright.geometry.tolerance import SAME
from skirtwright.lay.cells import Cells
from skirtwright.lay.placing import Floor, Laid

_WIDTHS = 10.0
"""Widths tried are whole multiples of this, mm."""

_CELLS = Cells(4.0, 8.0)
"""How fine to look."""

_RUN = 10
"""Widths searched one after another, each beginning with the best lay so far."""

_SEEDS = (1, 2)
"""Each run is searched so often: chance comes to another lay each time."""

_TRIES = range(8, 141)
"""Lays tried at a width, at least and at most."""

_WORK = 12_000_000
"""Of the lays tried at a width, as `Floor.work` reckons one."""

_OURS = 4_000_000
"""Work of one lay that more than any skirt takes: past it the clock is not ours."""


def on_a_roll(sheet: Sheet, width: float, turns: Sequence[int]) -> Sheet | None:
    """The sheet laid within `width` mm as short as this way finds it.

    None when a piece is wider than the roll however it is turned.

    Args:
        sheet: the pieces, wherever they lie now.
        width: room across the roll, mm.
        turns: the angles a piece may be turned by, degrees.
    """
    marks = tuple(group.marks for group in sheet.groups)
    motions = _motions(marks, width, tuple(turns))
    if motions is None:
        return None
    groups = (g.moved(m) for g, m in zip(sheet.groups, motions, strict=True))
    return replace(sheet, groups=tuple(groups))


@lru_cache(maxsize=4)
def _motions(
    pieces_marks: tuple[tuple[Mark, ...], ...], width: float, turns: tuple[int, ...]
) -> tuple[Motion, ...] | None:
    """What lays each piece; kept, since what was measured is then printed."""
    pieces = [shapes_of(marks, _CELLS, turns) for marks in pieces_marks]
    least = max(min(shape.across for shape in shapes) for shapes in pieces)
    if least > width + SAME:
        return None
    floor = Floor(pieces, _CELLS)
    with own_search(floor.work, _OURS):
        best = _shortest(floor, least, width).places
    return tuple(best[n].motion(_CELLS) for n in range(len(pieces)))


def _shortest(floor: Floor, least: float, width: float) -> Laid:
    """The shortest lay found at any width from the least to the given one, mm."""
    cells = sum(min(shape.area for shape in shapes) for shapes in floor.pieces)
    area = cells * _CELLS.width
    best: Laid | None = None
    for rooms in _runs_of_widths(least, width):
        if best and area >= best.top * rooms[-1]:
            break
        lay = _searched(floor, rooms)
        if best is None or _reach(lay) < _reach(best):
            best = lay
    assert best is not None  # noqa: S101 -- there is at least the least width
    return best


def _runs_of_widths(least: float, width: float) -> Iterator[list[float]]:
    """The round widths from the least to the given one, in runs, widest run first."""
    first, last = math.floor(least / _WIDTHS) + 1, math.floor(width / _WIDTHS)
    widths = [number * _WIDTHS for number in range(first, last + 1)]
    for run in range(last // _RUN, first // _RUN - 1, -1):
        inside = [w for w in widths if w // _WIDTHS // _RUN == run]
        if inside:
            yield inside
    yield [least]


def _searched(floor: Floor, rooms: Sequence[float]) -> Laid:
    """The shortest lay found at some widths, narrowest first.

    Of lays of as many rows of cells the next is tried from the last, and the shortest
    in millimetres is kept.
    """
    found: list[Laid] = []
    for seed in _SEEDS:
        chance = random.Random(seed)  # noqa: S311 -- the same tries every time
        best: Laid | None = None
        for room in rooms:
            for number in range(_tries(floor)):
                best = floor.tried(number, room, best, number == 0, chance)
            assert best is not None  # noqa: S101 -- with no limit any plan can be laid
            found.append(best)
    return min(found, key=_reach)


def _reach(lay: Laid) -> float:
    """How much of the roll a lay takes, mm."""
    tops = (p.y * _CELLS.height + p.shape.along for p in lay.places.values())
    return max(tops)


def _tries(floor: Floor) -> int:
    """Lays to try at a width."""
    return min(max(_WORK // floor.work, _TRIES[0]), _TRIES[-1])
