"""The figure and the skirt on her as polylines in mm: front, side, back.

Seen from a little above, so that level rings show as flat curves. x runs right on the
picture, y up from the floor. Lines lie over one another in the order they come.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import groupby, pairwise
from typing import Literal, TypeVar, get_args

from skirtwright.figure.body import Body, Section
from skirtwright.figure.cloth import Quarter
from skirtwright.figure.oval import Oval
from skirtwright.figure.proportions import proportions
from skirtwright.figure.worn_skirt import COARSE, Level, Spot, Worn

View = Literal["front", "side", "back"]
VIEWS: tuple[View, ...] = get_args(View)
"""The side is her left."""

Kind = Literal[
    "floor",
    "inside",
    "behind",
    "body",
    "taped",
    "guessed",
    "skirt",
    "wave",
    "dart",
    "pleat",
    "seam",
    "edge",
    "outline",
    "tight",
]
"""Floor: the line she stands on. Inside, body, skirt: filled. Behind:
the hem on the far side. Taped, guessed: where a
girth of the body was measured or not. Wave: where cloth lies deepest. Edge: an edge
that lies open. Outline: of the skirt. Tight: where it is shorter than the body."""

FILLED: frozenset[Kind] = frozenset({"inside", "body", "skirt"})

Place = tuple[float, float]

_FROM_ABOVE = 0.16
"""What lies 1 mm nearer is drawn so many mm lower (no source)."""

_STEP = 14.0
"""Heights at which the body's outline is drawn, mm apart."""

_WAVE_SHOWS = 4.0
"""A wave that goes less far out, mm, is not drawn."""

_PLEAT_SHOWS = 0.35
"""Share of a pleat that hangs free over which it is drawn as a line."""

_COLUMNS = 12
_CURVED = 8

_EDGE_ON = 0.08
"""Cloth that looks less than this towards whoever looks, by its cosine, is not seen."""

_MIDDLE: dict[Place, float] = {
    # The share of the way round that faces a side; a wave stands out at each.
    (0.0, 1.0): 0.0,
    (1.0, 0.0): 0.25,
    (0.0, -1.0): 0.5,
    (-1.0, 0.0): 0.75,
}

_BESIDE = (-0.045, -0.02, 0.0, 0.02, 0.045)
"""Shares on from that one among which the furthest to a side is looked for."""

_WAYS: dict[View, tuple[Place, Place]] = {
    # The way right on the picture, and the way towards whoever looks.
    "front": ((1.0, 0.0), (0.0, 1.0)),
    "back": ((-1.0, 0.0), (0.0, -1.0)),
    "side": ((0.0, -1.0), (1.0, 0.0)),
}


@dataclass(frozen=True)
class Line:
    """A polyline, mm; filled where its kind is, and closed then."""

    kind: Kind
    points: tuple[Place, ...]


Picture = tuple[Line, ...]

T = TypeVar("T")


def bare(body: Body, view: View) -> Picture:
    """The figure without a skirt, with the sections that lie open."""
    return tuple(_figure(body, view, math.inf))


def dressed(skirt: Worn, view: View) -> Picture:
    """The figure with the skirt on."""
    return tuple(_Dressed(skirt, view).lines())


# The body


def _figure(body: Body, view: View, below: float) -> Iterator[Line]:
    """Floor, body, and those of its sections that lie under a height."""
    half = 0.18 * body.stature
    yield Line("floor", ((-half, 0.0), (half, 0.0)))
    yield Line("body", _silhouette(body, view))
    for section in body.sections:
        if section.name not in ("crotch", "floor") and section.height < below:
            yield from _section(section, view)


def _section(section: Section, view: View) -> Iterator[Line]:
    """The near half of a section's rings."""
    (right_x, right_y), (near_x, near_y) = _WAYS[view]
    heights = (
        [section.height] if len(section.ovals) == 1 else [section.left, section.right]
    )
    kind: Kind = "guessed" if section.guessed else "taped"
    for oval, height in zip(section.ovals, heights, strict=True):
        if view == "side" and oval is not section.ovals[0]:
            continue
        aslant = (
            (section.left - section.right) / (oval.left + oval.right)
            if len(section.ovals) == 1
            else 0.0
        )
        near = [
            (
                x * right_x + y * right_y,
                height
                + aslant * (x - oval.x)
                - _FROM_ABOVE * (x * near_x + y * near_y),
            )
            for x, y in oval.ring()[::2]
            if (x - oval.x) * near_x + (y - oval.y) * near_y > -1e-6
        ]
        yield Line(kind, tuple(sorted(near)))


@lru_cache(maxsize=16)
def _silhouette(body: Body, view: View) -> tuple[Place, ...]:
    """The outline of the whole body, clockwise from the neck."""
    first = list(_torso_profile(body, view, 1.0))
    second = list(_torso_profile(body, view, -1.0))
    crotch = body.crotch
    steps = max(round(crotch / _STEP), 2)
    heights = [crotch * (1 - i / steps) for i in range(steps + 1)]
    legs = [(height, body.legs(height)) for height in heights]
    if view == "side":
        out = [(max(_reach(o, view, 1.0) for o in two), z) for z, two in legs]
        back = [(-max(_reach(o, view, -1.0) for o in two), z) for z, two in legs]
        return (*first, *out, *reversed(back), *reversed(second))
    one, other = (0, 1) if view == "front" else (1, 0)
    outer = [(_reach(two[one], view, 1.0), z) for z, two in legs]
    inner = [(-_reach(two[one], view, -1.0), z) for z, two in legs[1:]]
    within = [(_reach(two[other], view, 1.0), z) for z, two in legs[1:]]
    beyond = [(-_reach(two[other], view, -1.0), z) for z, two in legs]
    top = ((inner[0][0] + within[0][0]) / 2, crotch)
    return (
        *first,
        *outer,
        *reversed(inner),
        top,
        *within,
        *reversed(beyond),
        *reversed(second),
    )


def _reach(oval: Oval, view: View, sign: float) -> float:
    """How far an oval reaches to the right of the picture, or to the left, mm."""
    (x, y), _ = _WAYS[view]
    middle = sign * (oval.x * x + oval.y * y)
    if view == "side":
        return middle + oval.depth
    return middle + (oval.left if sign * x > 0 else oval.right)


def _torso_profile(body: Body, view: View, sign: float) -> Iterator[Place]:
    """From the neck down to where the legs part, on one side of the picture."""
    waist = body.section("waist")
    for x, up in _above(body, view, sign):
        yield x, waist.height + up + _aslant(waist, view, sign, up / body.stature * 4)
    span = waist.height - body.crotch
    steps = max(round(span / _STEP), 2)
    for i in range(1, steps):
        height = waist.height - i / steps * span
        oval = body.torso(height)
        yield sign * _reach(oval, view, sign), _on_side(body, view, sign, height)


def _on_side(body: Body, view: View, sign: float, height: float) -> float:
    """A height over the crotch as it is on her left, or on her right."""
    if view == "side":
        return height
    left = (sign > 0) == (view == "front")
    whole = body.sections[:4]
    for above, below in pairwise(whole):
        if height >= below.height:
            share = (height - below.height) / (above.height - below.height)
            high, low = (each.left if left else each.right for each in (above, below))
            return low + (high - low) * share
    return height


def _aslant(waist: Section, view: View, sign: float, away: float) -> float:
    """How much higher a side of the picture lies for a waist that lies aslant."""
    if view == "side":
        return 0.0
    left = sign if view == "front" else -sign
    return left * (waist.left - waist.right) / 2 * max(1 - away, 0.0)


def _above(body: Body, view: View, sign: float) -> list[Place]:
    """From the neck to the waist, on one side of the picture: for the eye alone."""
    oval = body.section("waist").ovals[0]
    stature = body.stature
    way = "half" if view != "side" else "front" if sign < 0 else "back"
    first = oval.depth if view == "side" else (oval.left + oval.right) / 2
    # A wider waist goes on upwards for a while.
    wide = max((oval.left + oval.right) / 2 / (0.078 * stature), 1.0)
    points = [(sign * first, 0.0)]
    for row in proportions()["above"]:
        broad = wide if row["up"] < 0.2 else 1.0
        points.append((sign * row[way] * stature * broad, row["up"] * stature))
    return _curved(points)[::-1]


def _curved(points: Sequence[Place]) -> list[Place]:
    """A smooth line through points (E. Catmull and R. Rom, 1974)."""
    known = [points[0], *points, points[-1]]
    found = []
    for before, start, end, after in zip(
        known, known[1:], known[2:], known[3:], strict=False
    ):
        for i in range(_CURVED):
            t = i / _CURVED
            found.append(
                tuple(
                    b
                    + (c - a) * t / 2
                    + (2 * a - 5 * b + 4 * c - d) * t * t / 2
                    + (3 * b - a - 3 * c + d) * t**3 / 2
                    for a, b, c, d in zip(before, start, end, after, strict=True)
                )
            )
    return [*((x, y) for x, y in found), points[-1]]


# The skirt


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
        self._right, self._near = _WAYS[view]
        self._hem = list(self._hem_round())
        across = [self._across(hem.spot) for hem in self._hem]
        self._first = across.index(min(across))
        self._last = across.index(max(across))

    def lines(self) -> Iterator[Line]:
        skirt = self._skirt
        near, far = self._hem_halves()
        hem, behind = (_spread(map(self._flat, _spots(half))) for half in (near, far))
        figure = list(_figure(skirt.body, self._view, min(h.spot[2] for h in near)))
        yield figure[0]
        yield Line("inside", (*hem, *reversed(behind)))
        yield Line("behind", tuple(behind))
        yield from figure[1:]
        waist = self._near_of(skirt.levels[0])
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
        return self._across(spot), spot[2] - _FROM_ABOVE * self._towards(spot)

    def _hem_round(self) -> Iterator[_Hem]:
        """The hem, from the middle of the front round by her left."""
        skirt = self._skirt
        finer = 2 if len(skirt.levels) > 2 * COARSE else 1
        steps = finer * max(_COLUMNS, math.ceil(2.5 * skirt.waves))
        for number, quarter in enumerate(skirt.cloth.quarters):
            lengths = quarter.lengths
            for i in range(steps):
                column = i / steps if number in (0, 2) else 1 - i / steps
                down = _between(lengths, column)
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

    def _near_of(self, level: Level) -> list[Place]:
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
                skirt.spot(level, share)
                for level in skirt.levels
                if level.wave > shows and level.down < hem.down - skirt.step / 2
            ]
            end = skirt.spot_at(share, hem.down)
            if spots and self._faces(share, hem.down):
                yield Line("wave", tuple(map(self._flat, [*spots, end])))

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
                start = _between(starts, column)
                long = fold.depth
                if fold.kind != "dart" and not fold.open:
                    long *= _PLEAT_SHOWS
                kind: Kind = "dart" if fold.kind == "dart" else "pleat"
                yield from self._down(kind, number, column, start, start + long)

    def _seams(self, number: int, quarter: Quarter) -> Iterator[Line]:
        lengths = quarter.lengths
        yield from self._down("seam", number, 1.0, 0.0, lengths[-1])
        for tier, starts in zip(quarter.tiers, quarter.starts, strict=True):
            cells = len(starts) - 1
            ends = tier.ends
            for column in tier.seams:
                yield from self._down(
                    "seam",
                    number,
                    column / cells,
                    starts[column],
                    starts[column] + ends[column],
                )
            strip = tier.strips[0]
            if strip.sewn and number in (0, 1):
                slit = ends[0] if strip.slit is None else strip.slit
                yield from self._down("seam", number, 0.0, starts[0], starts[0] + slit)
                if strip.slit is not None:
                    end = starts[0] + ends[0]
                    yield from self._down("edge", number, 0.0, starts[0] + slit, end)
        for starts in quarter.starts[1:]:
            spots = [
                self._visible(number, i / _COLUMNS, _between(starts, i / _COLUMNS))
                for i in range(_COLUMNS + 1)
            ]
            yield from self._runs("seam", spots)

    def _lapped_edge(self) -> Iterator[Line]:
        """The edge of the front that lies on top: the right, as women's close."""
        skirt = self._skirt
        if max(skirt.overlap) > 0:
            end = skirt.cloth.right[0].lengths[0]
            yield from self._down("edge", 3, 0.0, 0.0, end)

    def _down(
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
        """True under the front that laps over: its right one lies on top."""
        over = self._skirt.overlap[row]
        reach = over / 2 / max(self._skirt.levels[row].girth, 1.0)
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
            yield Line("tight", tuple(self._near_of(levels[worst])))


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


def _between(values: Sequence[float], share: float) -> float:
    place = min(max(share, 0.0), 1.0) * (len(values) - 1)
    i = min(int(place), len(values) - 2)
    return values[i] + (values[i + 1] - values[i]) * (place - i)
