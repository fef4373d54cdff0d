"""Shapes laid one after another, each as low as it goes; the lay bettered by tries.

The order in which shapes are laid and the turn of each decide the length, and no rule
gives the best: a lay is changed a little, again and again, and kept when it is no
longer than before. Chance is seeded: the same tries give the same lay.

Shapes wider at one end than at the other, as gores are, lie closest head to tail in two
rows, the upper hanging down into the gaps of the lower. Small changes hardly ever come
to that from another lay, each piece by itself being higher so: it is tried as a whole.

For two turned shapes it is worked out once at which steps across and up the one would
lie on the other (their no-fit region, in cells); a free place is then found by looking
at the shapes laid before, not at every cell.
"""

from __future__ import annotations

import math
import random
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property

from skirtwright.budget import look_up
from skirtwright.geometry.tolerance import SAME
from skirtwright.lay.cells import Cells, Place, Shape, Steps

_SHUFFLE = 0.2
"""How far sizes are mixed up for an order: the spread of their logarithms."""

_AS_IT_COMES = 0.3
"""How often every shape may take any turn."""

_ANEW = 0.05
"""How often a search begins from nothing again."""

_ROUND = 2000
"""Tries after which a search begins anew: each of a few comes to another best lay."""

_RAISED = 0.5
"""How often a change of a plan is of how low a piece may lie."""

_TAPERS = 0.035
"""How far the middle of what tapers lies from mid-height, as a share of its height."""

_WEDGES = 3
"""How many must taper; fewer come head to tail by small changes."""

_SOON = 20
"""Tries up to which a lay is wanted soon: none is made head to tail."""

_ROW_BITS = 64
"""Bits of a row are a whole number of these: few widths of a roll need others."""

_LOWERED = 8
"""Rows by which all that hang are lowered at once, at the most."""


@dataclass(frozen=True)
class Plan:
    """How shapes are laid.

    Attributes:
        order: their numbers, the first laid first.
        turns: for each the numbers of the turns it may take.
        right: for each whether it goes as far right as it can, not left.
        feet: for some the row below which they may not lie, so that another laid
            later finds room under them.
    """

    order: tuple[int, ...]
    turns: tuple[tuple[int, ...], ...]
    right: tuple[bool, ...]
    feet: Mapping[int, int] = field(default_factory=dict)


Lying = tuple[int, int, Place]
"""The number of a shape, that of the turn it took, and where it lies."""


@dataclass(frozen=True)
class Laid:
    """Shapes laid by a plan.

    Attributes:
        plan: of theirs.
        room: across, mm.
        lying: where each lies, the first laid first.
        fixed: rows of cells that is taken up by what lay there before.
    """

    plan: Plan
    room: float
    lying: tuple[Lying, ...]
    fixed: int

    @cached_property
    def places(self) -> dict[int, Place]:
        """Where each lies, by its number."""
        return {number: place for number, _, place in self.lying}

    @cached_property
    def top(self) -> int:
        """Rows of cells used."""
        return max(self.fixed, *(place.top for place in self.places.values()))

    @cached_property
    def cost(self) -> tuple[int, int]:
        """Rows used, then how high the shapes reach, weighed by their size."""
        heights = (p.top * p.shape.area for p in self.places.values())
        return self.top, sum(heights)

    def kept(self, plan: Plan, room: float) -> Iterator[Lying]:
        """What another plan lays first just as it lies here."""
        was = self.plan
        if room != self.room:
            return
        for number, one in zip(plan.order, self.lying, strict=True):
            before, _, place = one
            like = number == before and plan.turns[number] == was.turns[number]
            like = like and plan.right[number] == was.right[number]
            # A foot is nothing new to what lies above it.
            foot = plan.feet.get(number, 0)
            if not (like and was.feet.get(number, 0) <= foot <= place.y):
                return
            yield one


class Floor:
    """Where shapes are laid; knows for two of them where they would overlap.

    Args:
        pieces: the shapes of each, one for each turn.
        fixed: shapes that lie there already and stay.

    Attributes:
        ways: the turns each may take: all, the upright ones, the lying ones, each
            alone.
        ends: the turns with the wide end down, and with it up; all of what has none or
            cannot be turned.
        tapering: whether there are enough with a wide end to be laid head to tail.
        most: rows all take, one above another.
        least: rows the highest takes.
        work: of one lay: each piece is held against all others, row by row.
    """

    def __init__(
        self,
        pieces: Sequence[Sequence[Shape]],
        cells: Cells,
        fixed: Sequence[Place] = (),
    ) -> None:
        self.pieces, self.cells = pieces, cells
        self._shapes = [*pieces, *([place.shape] for place in fixed)]
        self._fixed = [(n, 0, place) for n, place in enumerate(fixed, len(pieces))]
        self._fixed_top = max((place.top for place in fixed), default=0)
        self.ways = [self._ways(shapes) for shapes in pieces]
        self.ends = [_ends(shapes) for shapes in pieces]
        self.tapering = sum(down != up for down, up in self.ends) >= _WEDGES
        self.most = sum(
            max(
                len(s.rows) + s.levels.first + max(s.levels.apart - 1, 0)
                for s in shapes
            )
            for shapes in pieces
        )
        self.most += self._fixed_top
        self.least = max(min(len(s.rows) for s in shapes) for shapes in pieces)
        self.work = len(self._shapes) ** 2 * self.most
        kinds: dict[tuple[int, ...], int] = {}
        self._kinds = [
            [kinds.setdefault(shape.rows, len(kinds)) for shape in shapes]
            for shapes in self._shapes
        ]
        self._widest = max(s.width for shapes in self._shapes for s in shapes)
        self._row, self._room = 0, 0.0
        self._every_row: dict[tuple[int, Steps], int] = {}
        self._regions: dict[tuple[int, int], int] = {}
        self._everywhere: dict[tuple[int, int, int], int] = {}
        self._rules: tuple[Callable[[Shape], float], ...] = (
            lambda shape: shape.area,
            lambda shape: max(self._height(shape), shape.across),
            lambda shape: min(self._height(shape), shape.across),
        )

    def _height(self, shape: Shape) -> float:
        return len(shape.rows) * self.cells.height

    def _ways(self, shapes: Sequence[Shape]) -> list[tuple[int, ...]]:
        every = tuple(range(len(shapes)))
        upright = tuple(n for n in every if self._height(shapes[n]) >= shapes[n].across)
        lying = tuple(n for n in every if n not in upright)
        return [every, upright or every, lying or every, *((n,) for n in every)]

    def _order(self, chance: random.Random) -> list[int]:
        """The pieces, about the largest or longest first."""
        rule = chance.choice(self._rules)
        sizes = [
            rule(shapes[0]) * chance.lognormvariate(0, _SHUFFLE)
            for shapes in self.pieces
        ]
        return sorted(range(len(sizes)), key=lambda n: -sizes[n])

    def begun(self, chance: random.Random) -> Plan:
        """A plan from nothing: about the largest or longest first, some upright."""
        order = self._order(chance)
        upright = order[: chance.randrange(len(order) + 1)]
        turns = [ways[1 if n in upright else 2] for n, ways in enumerate(self.ways)]
        if chance.random() < _AS_IT_COMES:
            turns = [ways[0] for ways in self.ways]
        return Plan(tuple(order), tuple(turns), (False,) * len(order))

    def head_to_tail(self, top: int, chance: random.Random) -> Plan:
        """A plan from nothing: wide ends down and up by turns, the latter up to a row.

        Args:
            top: the row above the highest of these.
        """
        order, begins = self._order(chance), chance.randrange(2)
        hanging = order[begins::2]
        turns = tuple(ends[n in hanging] for n, ends in enumerate(self.ends))
        heights = {n: len(self.pieces[n][turns[n][0]].rows) for n in hanging}
        feet = {n: max(top - height, 0) for n, height in heights.items()}
        return Plan(tuple(order), turns, (False,) * len(order), feet)

    def lowered(self, plan: Plan, chance: random.Random) -> Plan:
        """A plan in which all that may not lie lower may lie a little lower."""
        step = chance.randrange(1, _LOWERED)
        feet = {number: max(foot - step, 0) for number, foot in plan.feet.items()}
        return replace(plan, feet=feet)

    def changed(self, plan: Plan, chance: random.Random) -> Plan:
        """A plan changed a little: two pieces swapped, one moved or turned."""
        order, turns, right = list(plan.order), list(plan.turns), list(plan.right)
        for _ in range(chance.choice((1, 1, 2, 3))):
            number, other = chance.randrange(len(order)), chance.randrange(len(order))
            deed = chance.randrange(4)
            if deed == 0:
                order[number], order[other] = order[other], order[number]
            elif deed == 1:
                order.insert(other, order.pop(number))
            elif deed == 2:
                right[number] = not right[number]
            else:
                turns[number] = chance.choice(self.ways[number])
        return replace(plan, order=tuple(order), turns=tuple(turns), right=tuple(right))

    def raised(self, plan: Plan, top: int, chance: random.Random) -> Plan:
        """A plan in which one piece may not lie as low as before, or lower again."""
        number = chance.randrange(len(plan.order))
        foot = chance.randrange(max(top, 1)) if chance.random() < 0.5 else 0
        return replace(plan, feet={**plan.feet, number: foot})

    def shortest(
        self,
        room: float,
        tries: int,
        chance: random.Random,
        better: Callable[[float], None] | None = None,
    ) -> list[Laid]:
        """The shortest lay found, and the still shorter of tries head to tail.

        Both, for of two lays of about as many rows the upper may yet be the shorter
        in millimetres. None at all where there was none, for want of room on a fold.

        Args:
            room: across, mm.
            tries: how many, and about as many again where shapes taper; none is wasted
                on a lay that cannot be bettered.
            better: told after each try what share of them is done.
        """
        first: Laid | None = None
        best: Laid | None = None
        current: Laid | None = None
        every = tries + max(tries - _SOON, 0) * self.tapering
        for number in range(every):
            if best and best.top <= self.least:
                break
            current = current if number % _ROUND else None
            if number < tries:
                plan = self._next(current, chance)
            else:
                plan = self._next_head_to_tail(current, chance)
            current = self._better_of(current, plan, room)
            if current and (best is None or current.cost <= best.cost):
                best = current
            if number < tries:
                first = best
            if better:
                better((number + 1) / every)
        return [lay for lay in (first, best if best is not first else None) if lay]

    def _next(self, best: Laid | None, chance: random.Random) -> Plan:
        if best is None or chance.random() < _ANEW:
            return self.begun(chance)
        if chance.random() < _RAISED:
            return self.raised(best.plan, best.top, chance)
        return self.changed(best.plan, chance)

    def _better_of(self, best: Laid | None, plan: Plan, room: float) -> Laid | None:
        """What a plan lays, where that is no longer than the best lay; else that."""
        lay = self.laid(plan, room, best)
        return lay if lay and (best is None or lay.cost <= best.cost) else best

    def _next_head_to_tail(self, best: Laid | None, chance: random.Random) -> Plan:
        if best is None or best.top <= self.least:
            return self._next(best, chance)
        deed = chance.randrange(5)
        if deed < 2:
            return self.head_to_tail(chance.randrange(self.least, best.top), chance)
        if deed == 2:
            return self.lowered(best.plan, chance)
        if deed == 3:
            return self.raised(best.plan, best.top, chance)
        return self.changed(best.plan, chance)

    def tried(
        self,
        number: int,
        room: float,
        best: Laid | None,
        begin: bool,
        chance: random.Random,
    ) -> Laid | None:
        """The better of the best lay so far and one more try.

        Args:
            number: of the try: one in three begins from nothing, one changes the best
                lay, one is of how low a piece lies, or head to tail.
            room: across, mm.
            begin: whether there is none of this room yet.
        """
        if best and begin:
            plan = best.plan
        elif best is None or number % 3 == 0:
            plan = self.begun(chance)
        elif number % 3 == 2:
            plan = self.changed(best.plan, chance)
        elif self.tapering:
            plan = self._next_head_to_tail(best, chance)
        else:
            plan = self.raised(best.plan, best.top, chance)
        return self._better_of(best, plan, room)

    def laid(self, plan: Plan, room: float, best: Laid | None) -> Laid | None:
        """Pieces laid by a plan, or None when they take more rows than the best lay."""
        limit = best.top if best else self.most
        fixed = [one for one in self._fixed if one[2].x < self._columns(room)]
        self._widen(room, fixed)
        lying = list(best.kept(plan, room)) if best else []
        for number in plan.order[len(lying) :]:
            look_up()
            found = self._lowest(number, plan, room, limit, [*fixed, *lying])
            if found is None:
                return None
            lying.append(found)
        return Laid(plan, room, tuple(lying), self._fixed_top)

    def _lowest(
        self,
        number: int,
        plan: Plan,
        room: float,
        limit: int,
        below: Sequence[Lying],
    ) -> Lying | None:
        """The lowest place, then the furthest to its side, at most `limit` high."""
        best: Lying | None = None
        for turn in plan.turns[number]:
            shape = self.pieces[number][turn]
            high, back = len(shape.rows) - 1, shape.width - 1
            foot = plan.feet.get(number, 0) * self._row
            free = self._floor_places(number, turn, limit - high) >> foot << foot
            for other, way, place in below:
                if not free:
                    break
                region = self._region(other, way, number, turn)
                up = (place.y - high) * self._row + place.x - back
                # Only as much of a region is looked at as is still free.
                if up >= 0:
                    free ^= (free >> up & region) << up
                else:
                    free ^= free & region >> -up
            if free:
                y = ((free & -free).bit_length() - 1) // self._row
                row = free >> y * self._row & (1 << self._row) - 1
                lowest = row if plan.right[number] else row & -row
                x = lowest.bit_length() - 1
                best = number, turn, Place(shape, x, y)
                limit = y + high
        return best

    def _floor_places(self, number: int, turn: int, rows: int) -> int:
        """A bit for each place in so many rows where a shape may lie on the bare floor.

        Of what would lie off to the left, a bit stands where the row before it has
        places off to the right: no row need be longer than the room.
        """
        key = number, turn, rows
        if key not in self._everywhere:
            shape = self.pieces[number][turn]
            wide = math.floor((self._room - shape.across + SAME) / self.cells.width) + 1
            # A factor of one bit a row stands the places of a row in all of them.
            firsts = self._firsts(shape.levels) & (1 << max(rows, 0) * self._row) - 1
            self._everywhere[key] = firsts * shape.columns.mask(wide)
        return self._everywhere[key]

    def _firsts(self, levels: Steps) -> int:
        """The first bit of each row where a shape may lie."""
        key = self._row, levels
        if key not in self._every_row:
            rows = levels.up_to(self.most)
            self._every_row[key] = sum(1 << y * self._row for y in rows)
        return self._every_row[key]

    def _widen(self, room: float, fixed: Iterable[Lying]) -> None:
        """Let a row have a bit for each cell of a room, and of what reaches off it."""
        if room != self._room:
            self._room = room
            self._everywhere.clear()
        reach = (place.x + place.shape.width for _, _, place in fixed)
        bits = max(self._columns(room), self._widest, *reach)
        if bits > self._row:
            self._row = math.ceil(bits / _ROW_BITS) * _ROW_BITS
            self._regions.clear()
            self._everywhere.clear()

    def _columns(self, room: float) -> int:
        return math.ceil(room / self.cells.width)

    def _region(self, other: int, way: int, number: int, turn: int) -> int:
        """Where a shape would lie on another; worked once for pieces alike."""
        key = self._kinds[other][way], self._kinds[number][turn]
        if key not in self._regions:
            lying, laid = self._shapes[other][way], self.pieces[number][turn]
            self._regions[key] = no_fit(lying, laid, self._row)
        return self._regions[key]


def _ends(shapes: Sequence[Shape]) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """The turns with the wide end down, and with it up; all where there is none."""
    leans = [shape.middle / len(shape.rows) - 0.5 for shape in shapes]
    down = tuple(n for n, lean in enumerate(leans) if lean < -_TAPERS)
    up = tuple(n for n, lean in enumerate(leans) if lean > _TAPERS)
    every = tuple(range(len(shapes)))
    return (down, up) if down and up else (every, every)


def no_fit(lying: Shape, laid: Shape, bits: int) -> int:
    """Where a shape would lie on another: a bit for each step across, row upon row.

    The first row is the step up by which it lies just under it, the first bit
    the step across by which it lies just left of it.

    All rows of the shape that lies stand in one long number, so that a run of the
    laid one is smeared over all of them at once.

    Args:
        bits: of a row, a whole number of bytes; what reaches past it goes on in the
            next one.
    """
    back = laid.width - 1
    whole = b"".join(row.to_bytes(bits // 8, "little") for row in lying.rows)
    smears = [int.from_bytes(whole, "little")]
    for power in range(laid.width.bit_length()):
        smears.append(smears[-1] | smears[-1] << (1 << power))
    region = 0
    for runs in laid.runs:
        region <<= bits
        for first, last in runs:
            # Two smears of a power of two, laid over each other, are one of any length.
            power = (last - first + 1).bit_length() - 1
            smear = smears[power]
            smear |= smear << (last - first + 1 - (1 << power))
            region |= smear << (back - last)
    return region
