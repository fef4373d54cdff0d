"""The order in which a pen draws lines, so that it goes little lifted.

The nearest line is drawn next, from whichever end is nearer; then stretches of the
order are turned round, and short ones moved, as long as that saves way (2-opt, after
Croes, 1958, and moves from memory), only those being tried that bring near ends
together. A ring is begun where that costs least.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from skirtwright.budget import look_up, own_search
from skirtwright.geometry import Point

Run = tuple[Point, ...]
"""A line as points; a ring ends where it begins."""

_NEAR = 8
"""Ends looked at round each end."""

_STRETCHES = (1, 2, 4, 8)
"""Of so many lines a stretch is moved."""

_OURS = 30_000
"""More lines than any skirt is drawn with: past it the clock is not ours."""

_TURNS = 30
_SAVES = 1e-6
_A_CELL = 3.0
"""About so many ends lie in a cell of the grid they are found by."""

End = int
"""Twice a line's number, and one more where it ends; `end ^ 1` is its other end."""


class _Grid:
    """Ends of lines in cells, so that near ones are found quickly."""

    def __init__(self, places: Sequence[Point]) -> None:
        self.places = places
        xs, ys = [p.x for p in places], [p.y for p in places]
        wide, high = max(xs) - min(xs), max(ys) - min(ys)
        self.size = max(math.sqrt(wide * high * _A_CELL / len(places)), 1.0)
        self.reach = math.ceil(max(wide, high) / self.size) + 1
        self.low = self._cell(Point(min(xs), min(ys)))
        self.left = dict(enumerate(places))
        self.cells: dict[tuple[int, int], dict[End, Point]] = {}
        for end, place in enumerate(places):
            self.cells.setdefault(self._cell(place), {})[end] = place

    def _cell(self, place: Point) -> tuple[int, int]:
        return math.floor(place.x / self.size), math.floor(place.y / self.size)

    def drop(self, number: int) -> None:
        """Take both ends of a line out."""
        for end in (2 * number, 2 * number + 1):
            del self.left[end]
            del self.cells[self._cell(self.places[end])][end]

    def nearest(self, place: Point, count: int, but: int = -1) -> list[End]:
        """The nearest ends of other lines, nearest first."""
        x, y = self._cell(place)
        found: list[tuple[float, End]] = []
        far = self.reach + max(abs(x - self.low[0]), abs(y - self.low[1]))
        for ring in range(far + 1):
            if 8 * ring > len(self.left):
                # There are more cells beyond than ends.
                found = _distances_to_ends(place, self.left, but)
                break
            for cell in _round_about(x, y, ring):
                if self.cells.get(cell):
                    found += _distances_to_ends(place, self.cells[cell], but)
            found.sort()
            # What lies in the cells beyond is further away than this.
            if len(found) >= count and found[count - 1][0] <= ring * self.size:
                break
        found.sort()
        return [end for _, end in found[:count]]


def _distances_to_ends(
    place: Point, ends: dict[End, Point], but: int
) -> list[tuple[float, End]]:
    return [(place.to(there), end) for end, there in ends.items() if end >> 1 != but]


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
    with own_search(len(runs), _OURS):
        tour = _Tour(runs, start)
        tour.shorten()
    drawn = [
        (end >> 1, runs[end >> 1][::-1] if end & 1 else runs[end >> 1])
        for end in tour.order
    ]
    return list(_rings_begun(drawn, start))


class _Tour:
    """Lines in an order, each from the end at which it is begun."""

    def __init__(self, runs: Sequence[Run], start: Point) -> None:
        self.start = start
        self.places = [run[place] for run in runs for place in (0, -1)]
        self.order = self._nearest_first(len(runs))
        self.at = [0] * len(runs)
        self.changed: set[int] = set()
        for place, end in enumerate(self.order):
            self.at[end >> 1] = place

    def _nearest_first(self, count: int) -> list[End]:
        grid = _Grid(self.places)
        here, order = self.start, []
        for _ in range(count):
            look_up()
            (end,) = grid.nearest(here, 1)
            grid.drop(end >> 1)
            order.append(end)
            here = self.places[end ^ 1]
        return order

    def shorten(self) -> None:
        """Turn stretches round and move short ones as long as that saves way.

        Only lines that got another neighbour are looked at once more.
        """
        grid = _Grid(self.places)
        near = [
            grid.nearest(place, _NEAR, end >> 1)
            for end, place in enumerate(self.places)
        ]
        looked_at = list(range(len(self.order)))
        for _ in range(_TURNS):
            self.changed.clear()
            for number in looked_at:
                look_up()
                for end in (2 * number, 2 * number + 1):
                    for other in near[end]:
                        if not self._joined(end, other):
                            any(self._moved(end, other, n) for n in _STRETCHES)
            looked_at = sorted(self.changed)

    def _joined(self, end: End, other: End) -> bool:
        """Two near ends drawn one after the other, where that saves way."""
        order = self.order
        one, two = self.at[end >> 1], self.at[other >> 1]
        if one > two:
            end, other, one, two = other, end, two, one
        begun = order[one] == end
        if begun != (order[two] == other):
            return False
        # Where both are begun, what lies from the one up to the other is turned.
        low, high = (one, two - 1) if begun else (one + 1, two)
        return low <= high and self._turned(low, high)

    def _moved(self, end: End, other: End, count: int) -> bool:
        """A stretch that has an end put right beside another's, where that saves.

        The stretch is of so many lines, and begins or ends with the end.
        """
        order, place = self.order, self.at[end >> 1]
        ahead = order[place] == end
        first = place if ahead else place - count + 1
        past = first + count
        begun = order[self.at[other >> 1]] == other
        slot = self.at[other >> 1] + (not begun)
        if first < 0 or past > len(order) or first <= slot <= past:
            return False
        stretch = order[first:past]
        way = [end ^ 1 for end in reversed(stretch)] if ahead == begun else stretch
        saves = self._through(first, stretch, past)
        if self._through(slot, way, slot) >= saves - _SAVES:
            return False
        del order[first:past]
        place = slot - count if slot > first else slot
        order[place:place] = way
        for number in range(min(first, place), max(past, place + count)):
            self.at[order[number] >> 1] = number
        self._joined_anew(first if slot > first else past, place, place + count)
        return True

    def _through(self, before: int, stretch: Sequence[End], after: int) -> float:
        """How much further it is by a stretch between two places of the order."""
        places, order = self.places, self.order
        here = places[order[before - 1] ^ 1] if before else self.start
        further = here.to(places[stretch[0]])
        if after < len(order):
            there = places[order[after]]
            further += places[stretch[-1] ^ 1].to(there) - here.to(there)
        return further

    def _turned(self, low: int, high: int) -> bool:
        """A stretch turned round, if that saves way."""
        order, places = self.order, self.places
        before = places[order[low - 1] ^ 1] if low else self.start
        first, last = places[order[low]], places[order[high] ^ 1]
        now, then = before.to(first), before.to(last)
        if high + 1 < len(order):
            after = places[order[high + 1]]
            now += last.to(after)
            then += first.to(after)
        if then >= now - _SAVES:
            return False
        part = [end ^ 1 for end in reversed(order[low : high + 1])]
        order[low : high + 1] = part
        for place, end in enumerate(part, low):
            self.at[end >> 1] = place
        self._joined_anew(low, high + 1)
        return True

    def _joined_anew(self, *places: int) -> None:
        """Note the lines on either side of places of the order."""
        for place in places:
            both = self.order[max(place - 1, 0) : place + 1]
            self.changed.update(end >> 1 for end in both)


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
