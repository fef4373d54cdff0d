"""The order in which a pen draws lines, so that it goes little lifted.

The nearest line is drawn next, from whichever end is nearer; then stretches of the
order are turned round as long as that saves way (2-opt, after Croes, 1958), only those
being tried that bring near ends together. A ring is begun where that costs least.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from skirtwright.budget import look_up
from skirtwright.geometry import Point

Run = tuple[Point, ...]
"""A line as points; a ring ends where it begins."""

_NEAR = 8
"""Ends looked at round each end."""

_TURNS = 30
_SAVES = 1e-6
_A_CELL = 3.0
"""About so many ends lie in a cell of the grid they are found by."""

End = tuple[int, int]
"""A line's number, and 0 for where it begins, 1 for where it ends."""


class _Grid:
    """Ends of lines in cells, so that near ones are found quickly."""

    def __init__(self, places: dict[End, Point]) -> None:
        self.places = places
        xs = [p.x for p in places.values()]
        ys = [p.y for p in places.values()]
        wide, high = max(xs) - min(xs), max(ys) - min(ys)
        self.size = max(math.sqrt(wide * high * _A_CELL / len(places)), 1.0)
        self.reach = math.ceil(max(wide, high) / self.size) + 1
        self.low = self._cell(Point(min(xs), min(ys)))
        self.left = set(places)
        self.cells: dict[tuple[int, int], set[End]] = {}
        for end, place in places.items():
            self.cells.setdefault(self._cell(place), set()).add(end)

    def _cell(self, place: Point) -> tuple[int, int]:
        return math.floor(place.x / self.size), math.floor(place.y / self.size)

    def drop(self, number: int) -> None:
        """Take both ends of a line out."""
        for end in ((number, 0), (number, 1)):
            self.left.discard(end)
            self.cells[self._cell(self.places[end])].discard(end)

    def nearest(self, place: Point, count: int, but: int = -1) -> list[End]:
        """The nearest ends of other lines, nearest first."""
        x, y = self._cell(place)
        found: list[tuple[float, End]] = []
        far = self.reach + max(abs(x - self.low[0]), abs(y - self.low[1]))
        for ring in range(far + 1):
            if 8 * ring > len(self.left):
                # There are more cells beyond than ends.
                found = self._away(place, self.left, but)
                break
            for cell in _round_about(x, y, ring):
                if cell in self.cells:
                    found += self._away(place, self.cells[cell], but)
            found.sort()
            # What lies in the cells beyond is further away than this.
            if len(found) >= count and found[count - 1][0] <= ring * self.size:
                break
        found.sort()
        return [end for _, end in found[:count]]

    def _away(self, place: Point, ends: set[End], but: int) -> list[tuple[float, End]]:
        return [(place.to(self.places[e]), e) for e in ends if e[0] != but]


def _round_about(x: int, y: int, ring: int) -> Iterator[tuple[int, int]]:
    if ring == 0:
        yield x, y
        return
    for step in range(-ring, ring + 1):
        yield x + step, y - ring
        yield x + step, y + ring
        if abs(step) != ring:
            yield x - ring, y + step
            yield x + ring, y + step


def pen_order(runs: Sequence[Run], start: Point) -> list[tuple[int, Run]]:
    """The lines in the order of drawing, each with its number and as it is drawn."""
    if not runs:
        return []
    tour = _Tour(runs, start)
    tour.shorten()
    drawn = [
        (number, runs[number][::-1] if side else runs[number])
        for number, side in tour.order
    ]
    return list(_rings_begun(drawn, start))


class _Tour:
    """Lines in an order, each from the end at which it is begun."""

    def __init__(self, runs: Sequence[Run], start: Point) -> None:
        self.start = start
        self.places = {
            (number, side): run[-side]
            for number, run in enumerate(runs)
            for side in (0, 1)
        }
        self.order = self._nearest_first(len(runs))
        self.at = {end[0]: place for place, end in enumerate(self.order)}

    def _nearest_first(self, count: int) -> list[End]:
        grid = _Grid(self.places)
        here, order = self.start, []
        for _ in range(count):
            look_up()
            ((number, side),) = grid.nearest(here, 1)
            grid.drop(number)
            order.append((number, side))
            here = self.places[number, 1 - side]
        return order

    def _begun(self, place: int) -> Point:
        return self.places[self.order[place]]

    def _ended(self, place: int) -> Point:
        if place < 0:
            return self.start
        number, side = self.order[place]
        return self.places[number, 1 - side]

    def shorten(self) -> None:
        """Turn stretches round as long as that saves way."""
        grid = _Grid(self.places)
        near = {
            end: grid.nearest(place, _NEAR, end[0])
            for end, place in self.places.items()
        }
        for _ in range(_TURNS):
            saved = False
            for number in range(len(self.order)):
                look_up()
                for side in (0, 1):
                    for other in near[number, side]:
                        saved |= self._joined((number, side), other)
            if not saved:
                break

    def _joined(self, end: End, other: End) -> bool:
        """Two near ends drawn one after the other, where that saves way."""
        first, second, one, two = end, other, self.at[end[0]], self.at[other[0]]
        if one > two:
            first, second, one, two = second, first, two, one
        if self.order[one] == first and self.order[two] == second:
            # Both are begun there: what lies from the one up to the other is turned.
            return self._turned(one, two - 1)
        if self.order[one] != first and self.order[two] != second:
            return self._turned(one + 1, two)
        return False

    def _turned(self, low: int, high: int) -> bool:
        """A stretch turned round, if that saves way."""
        if low > high:
            return False
        before = self._ended(low - 1)
        now = before.to(self._begun(low))
        then = before.to(self._ended(high))
        if high + 1 < len(self.order):
            after = self._begun(high + 1)
            now += self._ended(high).to(after)
            then += self._begun(low).to(after)
        if then >= now - _SAVES:
            return False
        part = [(n, 1 - side) for n, side in reversed(self.order[low : high + 1])]
        self.order[low : high + 1] = part
        for place, (number, _) in enumerate(part, low):
            self.at[number] = place
        return True


def _rings_begun(
    drawn: Sequence[tuple[int, Run]], start: Point
) -> Iterator[tuple[int, Run]]:
    """The same, a ring begun at the corner that costs least."""
    here = start
    following = [run[0] for _, run in drawn[1:]]
    for (number, run), after in zip(drawn, [*following, None], strict=True):
        ring = run[:-1]
        if len(ring) > 2 and run[0].is_at(run[-1]):
            costs = [here.to(p) + (after.to(p) if after else 0.0) for p in ring]
            first = costs.index(min(costs))
            run = (*ring[first:], *ring[:first], ring[first])  # noqa: PLW2901
        yield number, run
        here = run[-1]
