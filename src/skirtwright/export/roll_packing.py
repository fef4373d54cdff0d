"""Pieces laid on a roll so that little of it is used, never more on a wider one.

Pieces are laid one after another, each as low as it goes and then as far left. The
order and the turn of each piece decide the length, and no rule gives the best: a lay
is changed a little, again and again, and kept when it is no longer than before. This
is done at every round width up to the roll's own, in runs of neighbouring widths, each
beginning with the best lay of the one before. What is found at a width therefore never
depends on how much wider the roll is, and a wider roll never takes more paper. A run
is passed over when even the pieces' area would be longer at its widest.

For two turned pieces it is worked out once at which steps across and up the one would
lie on the other (their no-fit region, in cells); a free place is then found by looking
at the pieces laid before, not at every cell.

The more there is to lay, the fewer lays are tried at a width: so many that the work is
about the same. That count leans on the pieces alone, so the same lay is found every
time, and however wide the roll.
"""

from __future__ import annotations

import math
import random
from collections.abc import Callable, Iterator, Sequence
from contextlib import nullcontext
from dataclasses import dataclass, field, replace

from skirtwright.budget import look_up, own_search
from skirtwright.export.packing import Cells, Place, Shape, laid_at, shapes_of
from skirtwright.export.sheet import Sheet
from skirtwright.geometry.tolerance import SAME

_WIDTHS = 10.0
"""Widths tried are whole multiples of this, mm."""

_CELLS = Cells(4.0, 8.0)
"""How fine to look."""

_RUN = 12
"""Widths searched one after another, each beginning with the best lay so far."""

_TRIES = range(8, 81)
"""Lays tried at a width, at least and at most."""

_WORK = 4_000_000
"""Of the lays tried at a width, as `_Floor.work` reckons one."""

_OURS = 4_000_000
"""Work of one lay that more than any skirt takes: past it the clock is not ours."""

_SHUFFLE = 0.2
"""How far sizes are mixed up for an order: the spread of their logarithms."""

_AS_IT_COMES = 0.3
"""How often every piece may take any turn."""

_RULES: tuple[Callable[[Shape], float], ...] = (
    lambda shape: shape.area,
    lambda shape: max(_height(shape), shape.across),
    lambda shape: min(_height(shape), shape.across),
)


@dataclass(frozen=True)
class _Plan:
    """How pieces are laid.

    Attributes:
        order: their numbers, the first laid first.
        turns: for each piece the numbers of the turns it may take.
        right: for each piece whether it goes as far right as it can, not left.
    """

    order: tuple[int, ...]
    turns: tuple[tuple[int, ...], ...]
    right: tuple[bool, ...]


@dataclass
class _Lay:
    """Pieces laid by a plan, by their number."""

    plan: _Plan
    places: dict[int, Place] = field(default_factory=dict)

    @property
    def top(self) -> int:
        """Rows of cells used."""
        return max(place.top for place in self.places.values())

    @property
    def cost(self) -> tuple[int, int]:
        """Rows used, then how high the pieces reach, weighed by their size."""
        heights = (p.top * p.shape.area for p in self.places.values())
        return self.top, sum(heights)


def on_a_roll(sheet: Sheet, width: float, turns: Sequence[int]) -> Sheet | None:
    """The sheet laid within `width` mm as short as this way finds it.

    None when a piece is wider than the roll however it is turned.

    Args:
        sheet: the pieces, wherever they lie now.
        width: room across the roll, mm.
        turns: the angles a piece may be turned by, degrees.
    """
    pieces = [shapes_of(group, _CELLS, turns) for group in sheet.groups]
    least = max(min(shape.across for shape in shapes) for shapes in pieces)
    if least > width + SAME:
        return None
    floor = _Floor(pieces)
    with own_search() if floor.work <= _OURS else nullcontext():
        best = _shortest(floor, least, width).places
    groups = (g.moved(laid_at(best[n], _CELLS)) for n, g in enumerate(sheet.groups))
    return replace(sheet, groups=tuple(groups))


def _shortest(floor: _Floor, least: float, width: float) -> _Lay:
    """The shortest lay found at any width from the least to the given one, mm."""
    cells = sum(min(shape.area for shape in shapes) for shapes in floor.pieces)
    area = cells * _CELLS.width
    best: _Lay | None = None
    for rooms in _runs_of_widths(least, width):
        if best and area >= best.top * rooms[-1]:
            break
        lay = _searched(floor, rooms)
        if best is None or lay.cost < best.cost:
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


def _searched(floor: _Floor, rooms: Sequence[float]) -> _Lay:
    """The shortest lay found at some widths, narrowest first."""
    seed = random.Random(1)  # noqa: S311 -- the same tries every time
    best: _Lay | None = None
    for room in rooms:
        for number in range(floor.tries):
            if best and number == 0:
                plan = best.plan
            elif best and number % 3:
                plan = _changed(best.plan, floor.ways, seed)
            else:
                plan = _begun(floor, seed)
            lay = floor.laid(plan, room, best.top if best else None)
            if lay and (best is None or lay.cost <= best.cost):
                best = lay
    assert best is not None  # noqa: S101 -- with no limit every plan can be laid
    return best


def _begun(floor: _Floor, seed: random.Random) -> _Plan:
    """A plan from nothing: about the largest or longest first, some of them upright."""
    rule = seed.choice(_RULES)
    sizes = [
        rule(shapes[0]) * seed.lognormvariate(0, _SHUFFLE) for shapes in floor.pieces
    ]
    order = sorted(range(len(sizes)), key=lambda n: -sizes[n])
    upright = order[: seed.randrange(len(order) + 1)]
    turns = [ways[1 if n in upright else 2] for n, ways in enumerate(floor.ways)]
    if seed.random() < _AS_IT_COMES:
        turns = [ways[0] for ways in floor.ways]
    return _Plan(tuple(order), tuple(turns), (False,) * len(order))


def _height(shape: Shape) -> float:
    return len(shape.rows) * _CELLS.height


def _ways(shapes: Sequence[Shape]) -> list[tuple[int, ...]]:
    """The turns a piece may take: all, the upright ones, the lying ones, each alone."""
    every = tuple(range(len(shapes)))
    upright = tuple(n for n in every if _height(shapes[n]) >= shapes[n].across)
    lying = tuple(n for n in every if n not in upright)
    return [every, upright or every, lying or every, *((n,) for n in every)]


def _changed(
    plan: _Plan, ways: Sequence[Sequence[tuple[int, ...]]], seed: random.Random
) -> _Plan:
    """A plan changed a little: two pieces swapped, one moved or turned."""
    order, turns, right = list(plan.order), list(plan.turns), list(plan.right)
    for _ in range(seed.choice((1, 1, 2, 3))):
        number, other = seed.randrange(len(order)), seed.randrange(len(order))
        deed = seed.randrange(4)
        if deed == 0:
            order[number], order[other] = order[other], order[number]
        elif deed == 1:
            order.insert(other, order.pop(number))
        elif deed == 2:
            right[number] = not right[number]
        else:
            turns[number] = seed.choice(ways[number])
    return _Plan(tuple(order), tuple(turns), tuple(right))


class _Floor:
    """Where pieces are laid; knows for two shapes where they would overlap.

    Attributes:
        pieces: the shapes of each, one for each turn.
        ways: the turns each may take, see `_ways`.
        most: rows all take, one above another.
        work: of one lay: each piece is held against all others, row by row.
        tries: lays to try at a width.
    """

    def __init__(self, pieces: Sequence[Sequence[Shape]]) -> None:
        self.pieces = pieces
        self.ways = [_ways(shapes) for shapes in pieces]
        self.most = sum(max(len(s.rows) for s in shapes) for shapes in pieces)
        self.work = len(pieces) ** 2 * self.most
        self.tries = min(max(_WORK // self.work, _TRIES[0]), _TRIES[-1])
        self._regions: dict[tuple[int, int, int, int], list[int]] = {}

    def laid(self, plan: _Plan, room: float, limit: int | None) -> _Lay | None:
        """Pieces laid by a plan, or None when they take over `limit` rows."""
        limit = self.most if limit is None else limit
        lay = _Lay(plan)
        below: list[tuple[int, int, Place]] = []
        for number in plan.order:
            look_up()
            found = self._lowest(number, plan, room, limit, below)
            if found is None:
                return None
            below.append(found)
            lay.places[number] = found[2]
        return lay

    def _lowest(
        self,
        number: int,
        plan: _Plan,
        room: float,
        limit: int,
        below: Sequence[tuple[int, int, Place]],
    ) -> tuple[int, int, Place] | None:
        """The lowest place, then the furthest to its side, at most `limit` high."""
        best: tuple[int, int, Place] | None = None
        shapes = self.pieces[number]
        for turn in plan.turns[number]:
            shape = shapes[turn]
            places = math.floor((room - shape.across + SAME) / _CELLS.width) + 1
            if places <= 0:
                continue
            every, high, back = (1 << places) - 1, len(shape.rows) - 1, shape.width - 1
            laid = [
                (self._region(other, way, number, turn), p.x, high - p.y)
                for other, way, p in below
            ]
            for y in range(limit - high):
                taken = 0
                for region, x, up in laid:
                    row = y + up
                    if 0 <= row < len(region):
                        taken |= region[row] << x
                free = ~(taken >> back) & every
                if free:
                    lowest = free if plan.right[number] else free & -free
                    x = lowest.bit_length() - 1
                    best = number, turn, Place(shape, x, y)
                    limit = y + high
                    break
        return best

    def _region(self, other: int, way: int, number: int, turn: int) -> list[int]:
        """Where a shape would lie on another: a bit for each step across.

        The first row is the step up by which it lies just under it, the first bit
        the step across by which it lies just left of it.
        """
        key = (other, way, number, turn)
        if key not in self._regions:
            self._regions[key] = _no_fit(
                self.pieces[other][way], self.pieces[number][turn]
            )
        return self._regions[key]


def _no_fit(lying: Shape, laid: Shape) -> list[int]:
    """See `_Floor._region`.

    The rows of the shape that lies stand in one long number, so that a run of the
    laid one is smeared over all of them at once.
    """
    back, size = laid.width - 1, (lying.width + laid.width) // 8 + 1
    whole = b"".join(row.to_bytes(size, "little") for row in lying.rows)
    smears = [int.from_bytes(whole, "little")]
    for power in range(laid.width.bit_length()):
        smears.append(smears[-1] | smears[-1] << (1 << power))
    region = 0
    for runs in laid.runs:
        region <<= 8 * size
        for first, last in runs:
            # Two smears of a power of two, laid over each other, are one of any length.
            power = (last - first + 1).bit_length() - 1
            smear = smears[power]
            smear |= smear << (last - first + 1 - (1 << power))
            region |= smear << (back - last)
    count = len(lying.rows) + len(laid.rows) - 1
    found = region.to_bytes(count * size, "little")
    return [
        int.from_bytes(found[row * size : (row + 1) * size], "little")
        for row in range(count)
    ]
