"""The skirt on the figure as polylines in mm: front, side, back."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Final, TypeVar

from skirtwright.figure.bare_views import figure
from skirtwright.figure.cloth import Quarter
from skirtwright.figure.drawn_figure import (
    FROM_ABOVE,
    WAYS,
    Kind,
    Line,
    Picture,
    Place,
    View,
)
from skirtwright.figure.smooth import smooth, value_at
from skirtwright.figure.worn_skirt import COARSE, Level, Spot, Worn

_WAVE_SHOWS: Final = 4.0
"""A wave that goes less far out, mm, is not drawn."""

_PLEAT_SHOWS: Final = 0.35
"""Share of a pleat that hangs free over which it is drawn as a line."""

_COLUMNS: Final = 12
_CURVED: Final = 8

_EDGE_ON: Final = 0.08
"""Cloth that looks less than this towards whoever looks, by its cosine, is not seen."""

_TURNED: Final = 0.1
"""Share of half a level's width at each side over which it is drawn as one stroke."""

_LEVEL: Final = 50.0
"""A line further off an oval than this, mm, is no level's: a hem with points, say."""

_INNER: Final = 0.6
"""Share of it in the middle from which the oval of the stroke is taken."""

_MIDDLE: Final[dict[Place, float]] = {
    # The share of the way round that faces a side; a wave stands out at each.
    (0.0, 1.0): 0.0,
    (1.0, 0.0): 0.25,
    (0.0, -1.0): 0.5,
    (-1.0, 0.0): 0.75,
}

_BESIDE: Final = (-0.045, -0.02, 0.0, 0.02, 0.045)
"""Shares on from that one among which the furthest to a side is looked for."""

T = TypeVar("T")


def dressed(skirt: Worn, view: View) -> Picture:
    """The figure with the skirt on, and upon it the overlay's edges and waves."""
    over = _Dressed(skirt.over, view).upon() if skirt.over else ()
    return (*_Dressed(skirt, view).lines(), *over)


def near_half(skirt: Worn, level: Level, view: View) -> list[Place]:
    """The near half of a level of the skirt, left to right on the picture."""
    return _spread(_Dressed(skirt, view).near_of(level))


@dataclass(frozen=True)
class _Hem:
    """A place of the hem: its share of the way round, depth, and where it lies."""

    share: float
    down: float
    spot: Spot


class _Dressed:
    """Draws one skirt from one side."""

    def __init__(self, skirt: Worn, view: View) -> None:
        self._skirt = skirt
        self._view = view
        self._right, self._near = WAYS[view]
        self._hem = list(self._hem_round())
        across = [self._across(hem.spot) for hem in self._hem]
        self._first = across.index(min(across))
        self._last = across.index(max(across))

    def upon(self) -> Iterator[Line]:
        """What is seen of a thin cloth through which all that lies under it shows."""
        hem, _ = self._hems()
        left, right = self._sides()
        yield Line("edge", (*left, *hem, *reversed(right)))
        yield from self._wave_lines()

    def lines(self) -> Iterator[Line]:
        """All of her and of the skirt."""
        skirt = self._skirt
        hem, behind = self._hems()
        near, _ = self._hem_halves()
        bare = list(figure(skirt.body, self._view, min(h.spot[2] for h in near)))
        yield bare[0]
        yield Line("inside", (*hem, *reversed(behind)))
        yield Line("behind", tuple(behind))
        yield from bare[1:]
        waist = _one_stroke(_spread(self.near_of(skirt.levels[0])), 1.0)
        left, right = self._sides()
        outline = (*left, *hem, *reversed(right))
        yield Line("skirt", (*reversed(waist), *outline))
        yield from self._inner()
        yield Line("outline", tuple(waist))
        yield Line("outline", outline)
        yield from self._tight(left, right)

    def _across(self, spot: Spot) -> float:
        return spot[0] * self._right[0] + spot[1] * self._right[1]

    def _towards(self, spot: Spot) -> float:
        return spot[0] * self._near[0] + spot[1] * self._near[1]

    def _flat(self, spot: Spot) -> Place:
        return self._across(spot), spot[2] - FROM_ABOVE * self._towards(spot)

    def _hem_round(self) -> Iterator[_Hem]:
        """The hem, from the middle of the front round by her left."""
        skirt = self._skirt
        finer = 2 if len(skirt.levels) > 2 * COARSE else 1
        steps = finer * max(_COLUMNS, math.ceil(2.5 * skirt.waves))
        for number, quarter in enumerate(skirt.cloth.quarters):
            lengths = quarter.lengths
            for i in range(steps):
                column = i / steps if number in (0, 2) else 1 - i / steps
                down = value_at(lengths, column)
                share = self._share(number, column, down)
                if 0.0 <= share <= 1.0:
                    yield _Hem(share, down, skirt.place(number, column, down))

    def _share(self, quarter: int, column: float, down: float) -> float:
        row = min(round(down / self._skirt.step), len(self._skirt.levels) - 1)
        return self._skirt.round(row, quarter, column)

    def _hem_halves(self) -> tuple[list[_Hem], list[_Hem]]:
        """The near half and the far one, both from left to right on the picture."""
        one = _cyclic(self._hem, self._first, self._last)
        other = _cyclic(self._hem, self._last, self._first)
        if _mean(map(self._towards, _spots(one))) > _mean(
            map(self._towards, _spots(other))
        ):
            return one, other[::-1]
        return other[::-1], one

    def _hems(self) -> list[list[Place]]:
        """The near half of the hem and the far one, as they are drawn."""
        halves = [_spread(map(self._flat, _spots(h))) for h in self._hem_halves()]
        # A train lies out sideways: its ends are no cloth that turns away.
        if any(level.trail for level in self._skirt.levels):
            return halves
        # A hem that rises from its sides would run into them, were it upright.
        ends = halves[0][0][1] + halves[0][-1][1]
        bend = 1.0 if 2 * _mean(y for _, y in halves[0]) > ends else 0.5
        return [_one_stroke(half, bend) for half in halves]

    def near_of(self, level: Level) -> list[Place]:
        """The near half of a level, left to right on the picture."""
        steps = 48
        spots = [self._skirt.spot(level, i / steps) for i in range(steps)]
        across = [self._across(spot) for spot in spots]
        low, high = across.index(min(across)), across.index(max(across))
        one, other = _cyclic(spots, low, high), _cyclic(spots, high, low)[::-1]
        nearer = _mean(map(self._towards, one)) > _mean(map(self._towards, other))
        return [self._flat(spot) for spot in (one if nearer else other)]

    def _sides(self) -> tuple[list[Place], list[Place]]:
        """The skirt's two sides on the picture, each from the waist to the hem."""
        both = []
        for sign, index in ((-1.0, self._first), (1.0, self._last)):
            hem = self._hem[index]
            side = [
                self._furthest(level, sign)
                for level in self._skirt.levels
                if level.down < hem.down - self._skirt.step / 2 and not level.trail
            ]
            both.append([*side, self._flat(hem.spot)])
        return both[0], both[1]

    def _furthest(self, level: Level, sign: float) -> Place:
        """The place of a level that lies furthest to one side of the picture."""
        skirt = self._skirt
        way = (sign * self._right[0], sign * self._right[1])
        middle = _MIDDLE[way]
        shares = [middle + beside for beside in _BESIDE]
        if level.wave:
            shares += [middle - 1 / skirt.waves, middle + 1 / skirt.waves]
        spots = [skirt.spot(level, share) for share in shares]
        return self._flat(max(spots, key=lambda spot: sign * self._across(spot)))

    # What is drawn on it

    def _inner(self) -> Iterator[Line]:
        yield from self._wave_lines()
        for number, quarter in enumerate(self._skirt.cloth.quarters):
            yield from self._folds(number, quarter)
        for number, quarter in enumerate(self._skirt.cloth.quarters):
            yield from self._seams(number, quarter)
        yield from self._lapped_edge()

    def _wave_lines(self) -> Iterator[Line]:
        skirt = self._skirt
        deepest = max(level.wave for level in skirt.levels)
        for number in range(skirt.waves):
            share = (number + 0.5) / skirt.waves
            hem = min(self._hem, key=lambda h: _apart(h.share, share))
            # Every other one begins lower, alike to both sides of her.
            lower = min(number, skirt.waves - 1 - number) % 2
            shows = max(_WAVE_SHOWS, deepest * (0.45 if lower else 0.2))
            spots = [
                self._flat(skirt.spot(level, share))
                if level.wave * skirt.gathered(level, share) > shows
                else None
                for level in skirt.levels
                if level.down < hem.down - skirt.step / 2
            ]
            if spots and spots[-1]:
                spots.append(self._flat(skirt.spot_at(share, hem.down)))
            if self._faces(share, hem.down):
                yield from self._runs("wave", spots)

    def _faces(self, share: float, down: float) -> bool:
        """True when the cloth there looks towards whoever looks at it."""
        row = min(round(down / self._skirt.step), len(self._skirt.levels) - 1)
        _, (x, y) = self._skirt.levels[row].beside.at(share)
        return x * self._near[0] + y * self._near[1] > 0.2

    def _folds(self, number: int, quarter: Quarter) -> Iterator[Line]:
        for tier, starts in zip(quarter.tiers, quarter.starts, strict=True):
            cells = len(starts) - 1
            for place, fold in tier.folds():
                column = place / cells
                start = value_at(starts, column)
                long = fold.depth
                if fold.kind != "dart" and not fold.open:
                    long *= _PLEAT_SHOWS
                kind: Kind = "dart" if fold.kind == "dart" else "pleat"
                yield from self._line_down(kind, number, column, start, start + long)

    def _seams(self, number: int, quarter: Quarter) -> Iterator[Line]:
        lengths = quarter.lengths
        yield from self._line_down("seam", number, 1.0, 0.0, lengths[-1])
        for tier, starts in zip(quarter.tiers, quarter.starts, strict=True):
            cells = len(starts) - 1
            ends = tier.ends
            for column in tier.seams:
                yield from self._line_down(
                    "seam",
                    number,
                    column / cells,
                    starts[column],
                    starts[column] + ends[column],
                )
            strip = tier.strips[0]
            if strip.sewn and number in (0, 1):
                slit = ends[0] if strip.slit is None else strip.slit
                yield from self._line_down(
                    "seam", number, 0.0, starts[0], starts[0] + slit
                )
                if strip.slit is not None:
                    end = starts[0] + ends[0]
                    yield from self._line_down(
                        "edge", number, 0.0, starts[0] + slit, end
                    )
            for line in tier.lines_on_it():
                spots = [
                    self._visible(number, share, value_at(starts, share) + down)
                    for share, down in line
                ]
                yield from self._runs("seam", spots)
        for starts in quarter.starts[1:]:
            spots = [
                self._visible(number, i / _COLUMNS, value_at(starts, i / _COLUMNS))
                for i in range(_COLUMNS + 1)
            ]
            yield from self._runs("seam", spots)

    def _lapped_edge(self) -> Iterator[Line]:
        """The edge of the front that lies on top."""
        skirt = self._skirt
        if max(skirt.overlap) > 0:
            cloth = skirt.cloth
            half, quarter = (cloth.left, 0) if cloth.left_on_top else (cloth.right, 3)
            end = half[0].lengths[0]
            yield from self._line_down("edge", quarter, 0.0, 0.0, end)

    def _line_down(
        self, kind: Kind, number: int, column: float, start: float, end: float
    ) -> Iterator[Line]:
        """A line down the cloth, as much of it as can be seen."""
        steps = max(round((end - start) / self._skirt.step), 2)
        spots = [
            self._visible(number, column, start + (end - start) * i / steps)
            for i in range(steps + 1)
        ]
        yield from self._runs(kind, spots)

    def _visible(self, number: int, column: float, down: float) -> Place | None:
        """A place of the cloth on the picture, if nothing lies before it."""
        share = self._share(number, column, down)
        row = min(round(down / self._skirt.step), len(self._skirt.levels) - 1)
        level = self._skirt.levels[row]
        _, (x, y) = level.beside.at(share)
        faces = x * self._near[0] + y * self._near[1] > _EDGE_ON
        if not faces or self._covered(number, row, share):
            return None
        return self._flat(self._skirt.place(number, column, down))

    def _covered(self, number: int, row: int, share: float) -> bool:
        """True under the front that laps over."""
        over = self._skirt.overlap[row]
        reach = over / 2 / max(self._skirt.levels[row].girth, 1.0)
        if self._skirt.cloth.left_on_top:
            return number == 3 and share > 1 - reach
        return number == 0 and share < reach

    @staticmethod
    def _runs(kind: Kind, spots: Sequence[Place | None]) -> Iterator[Line]:
        for seen, run in groupby(spots, lambda spot: spot is not None):
            points = tuple(spot for spot in run if spot is not None)
            if seen and len(points) > 1:
                yield Line(kind, points)

    def _tight(self, left: list[Place], right: list[Place]) -> Iterator[Line]:
        levels = self._skirt.levels
        rows = [i for i, level in enumerate(levels) if level.tight]
        for side in (left, right):
            marked = [side[i] if i in rows else None for i in range(len(side) - 1)]
            yield from self._runs("tight", marked)
        if rows:
            worst = max(rows, key=lambda i: levels[i].tight)
            yield Line("tight", tuple(self.near_of(levels[worst])))


def _spots(hem: Sequence[_Hem]) -> list[Spot]:
    return [each.spot for each in hem]


def _spread(points: Iterable[Place]) -> list[Place]:
    """Points of a line that goes right, without those hidden where it turns back."""
    known = list(points)
    first, last = known[0][0], known[-1][0]
    middle = min(range(len(known)), key=lambda i: abs(known[i][0] - (first + last) / 2))
    right = [known[middle]]
    for point in known[middle + 1 : -1]:
        if right[-1][0] < point[0] < last:
            right.append(point)
    left = [known[middle]]
    for point in known[middle - 1 : 0 : -1]:
        if first < point[0] < left[-1][0]:
            left.append(point)
    return [known[0], *reversed(left[1:]), *right, known[-1]]


def _one_stroke(points: Sequence[Place], bend: float) -> list[Place]:
    """A line that goes right, smooth, round at its two sides like the oval it lies on.

    There cloth that hangs in waves turns away, and would be drawn as teeth. A `bend`
    of 1/2 is an oval's, which ends upright; of 1 a flatter one's, with corners.
    """
    (first, begins), (last, ends) = points[0], points[-1]
    middle, half = (first + last) / 2, (last - first) / 2

    def chord(x: float) -> float:
        return begins + (ends - begins) * (x - first) / (last - first)

    def share(x: float) -> float:
        return min(abs(x - middle) / half, 1.0)

    kept = [point for point in points if share(point[0]) < 1 - _TURNED]
    within = [p for p in kept if share(p[0]) < _INNER] or kept
    rises = [(y - chord(x)) / math.pow(1 - share(x) ** 2, bend) for x, y in within]
    drop, level = sum(rises) / max(len(rises), 1), 2

    def oval(x: float) -> float:
        return chord(x) + drop * math.pow(1 - share(x) ** 2, bend)

    if max((abs(y - oval(x)) for x, y in kept), default=0.0) > _LEVEL:
        drop, level = 0.0, 0
    off = [((y - oval(x)) * (1 - share(x) ** 2) ** level,) for x, y in kept]
    line = smooth([first, *(x for x, _ in kept), last], [(0.0,), *off, (0.0,)])
    steps = _CURVED * (len(kept) + 1)
    across = [middle - half * math.cos(math.pi * i / steps) for i in range(steps + 1)]
    return [
        points[0],
        *((x, oval(x) + line.at(x)[0]) for x in across[1:-1]),
        points[-1],
    ]


def _cyclic(items: Sequence[T], first: int, last: int) -> list[T]:
    """From one to another round the end, both held."""
    if first <= last:
        return list(items[first : last + 1])
    return [*items[first:], *items[: last + 1]]


def _mean(values: Iterator[float]) -> float:
    known = list(values)
    return sum(known) / len(known)


def _apart(one: float, other: float) -> float:
    """How far two shares of a way round lie apart."""
    gap = abs(one - other) % 1.0
    return min(gap, 1.0 - gap)
