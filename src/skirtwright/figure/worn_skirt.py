"""The skirt on her by levels, without physics: where it touches, stands off, waves.

At each level the cloth's girth is held against the body's hull. What the body does not
need stands off, as far as cloth that fans out so fast is taken to stand off; what is
more falls in waves. Where the cloth is shorter than the body it is marked as tight.

Three rules are common practice without a source: cloth that fans out by f (its radius
over its way down) stands off at 0.22 (1 - e^(-f / 0.22)); there are four waves, and one
more for every 180 mm that falls in waves, or as many as keep a wave within 60 mm of the
middle line, at the waist within 12, made up to fours so that one stands out at the
front, the back and each side; a wave is a sine.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from skirtwright.figure.body import Body
from skirtwright.figure.cloth import Cloth
from skirtwright.figure.hull import Hull, HullOffset
from skirtwright.figure.smooth import value_at

COARSE, FINE = 18, 72
"""Levels worked from waist to hem: to follow a hand, and to be looked at large."""

_STANDS_OFF: Final = 0.22
_WAVE_OF: Final = 180.0
_FEWEST, _MOST = 4, 40
_FURTHEST, _AT_WAIST = 60.0, 12.0

_STEADY: Final = 0.03
"""Cloth that is longer by less than this share stands off and does not wave."""

_CLOSE: Final = 0.06
"""Cloth longer than the body by less than this share takes the body's shape too."""

_SLIGHT: Final = 60.0
"""More than this, mm, is no matter of reckoning."""

_ALL_ROUND: Final = 8
"""More pleats than this are laid all round, and pressed shut down to the hip."""

_GATHERED, _SOFT = 0.8, 0.02
"""Share of the way to the hip down to which what is flat at the waist stays flat, and
share of the way round her in which gathers begin beside it."""

_SLIDES: Final = 6
"""How often a side seam's way is eased: cloth slides round her by some millimetres
before its seam hangs in a kink (no source)."""

_STEEPEST: Final = 0.25
"""Least share of a way down the cloth that goes downwards."""

TIGHT: Final = 1.0
"""Cloth shorter than the body by less than this, mm, is not called tight."""

Spot = tuple[float, float, float]
"""x to her left, y to her front, z up, mm."""


@dataclass(frozen=True)
class Level:
    """The cloth at one depth.

    Attributes:
        down: under the upper edge of the skirt along the cloth, mm.
        height: over the floor at her side, mm; 0 where it lies on the floor.
        girth: of the cloth, mm.
        body: of the body's hull there, mm.
        smooth: of the line that the waves go round, mm.
        wave: how far they go out and in, mm.
        walked: for each quarter, from its centre to each column, mm.
        beside: the smooth line.
        trail: how far the cloth lies out on the floor, mm.
    """

    down: float
    height: float
    girth: float
    body: float
    smooth: float
    wave: float
    walked: tuple[Sequence[float], ...]
    beside: HullOffset
    trail: float

    @property
    def tight(self) -> float:
        """By how much the cloth is shorter than the body, mm; 0 where it is not."""
        short = self.body - self.girth
        return short if short > TIGHT else 0.0


@dataclass(init=False)
class Worn:
    """The skirt on her.

    Attributes:
        levels: from the waist down, one step apart.
        step: between two levels along the cloth, mm.
        waves: how many there are all round.
        overlap: for the levels, by how much fronts lie over one another, mm.
        flat: how much of the waist is not gathered in front and behind, mm.
        over: the overlay that hangs upon it, if any.
    """

    body: Final[Body]
    cloth: Final[Cloth]
    levels: Final[tuple[Level, ...]]
    step: Final[float]
    waves: Final[int]
    overlap: Final[tuple[float, ...]]
    flat: Final[tuple[float, float]]
    over: Final[Worn | None]

    def __init__(
        self,
        body: Body,
        cloth: Cloth,
        levels: tuple[Level, ...],
        step: float,
        waves: int,
        overlap: tuple[float, ...],
        flat: tuple[float, float],
        over: Worn | None = None,
    ) -> None:
        self.body = body
        self.cloth = cloth
        self.levels = levels
        self.step = step
        self.waves = waves
        self.overlap = overlap
        self.flat = flat
        self.over = over
        self._ends = _hung_straight(levels, _quarters_end(levels, overlap))
        self._waist = _waist_of(body)

    def place(self, quarter: int, column: float, down: float) -> Spot:
        """Where a place of the cloth lies.

        Args:
            quarter: 0 to 3, from the middle of the front round by her left.
            column: 0 at its centre to 1 at the side seam.
            down: under the upper edge, mm.
        """
        return self._along(down, lambda row: self._spot_in_row(row, quarter, column))

    def spot_at(self, share: float, down: float) -> Spot:
        """A place at a share of the way round her and a depth, mm."""
        return self._along(down, lambda row: self.spot(self.levels[row], share))

    def _along(self, down: float, at: Callable[[int], Spot]) -> Spot:
        """Between the places on the two levels next to a depth."""
        row = min(max(down / self.step, 0.0), len(self.levels) - 1.0)
        i = min(int(row), len(self.levels) - 2)
        share = row - i
        (a, b, c), (x, y, z) = at(i), at(i + 1)
        return a + (x - a) * share, b + (y - b) * share, c + (z - c) * share

    def _spot_in_row(self, row: int, quarter: int, column: float) -> Spot:
        level = self.levels[row]
        share = self.round(row, quarter, column)
        return self.spot(level, share)

    def round(self, row: int, quarter: int, column: float) -> float:
        """The share of the way round her at which a column lies, at a level."""
        level = self.levels[row]
        walked = level.walked[quarter]
        at = value_at(walked, column)
        if quarter in (0, 3):
            at -= self.overlap[row] / 2
        ends = self._ends[row]
        wide = walked[-1] - (self.overlap[row] / 2 if quarter in (0, 3) else 0.0)
        begin, end = _FROM_CENTRE[quarter]
        share = at / wide if wide else 0.0
        length = ends[begin] + (ends[end] - ends[begin]) * share
        return length / (ends[4] or 1.0)

    def spot(self, level: Level, share: float) -> Spot:
        """A place of a level at a share of the way round her."""
        out = level.trail
        if level.wave:
            lies = out / (out + _FURTHEST)
            wave = math.cos(2 * math.pi * self.waves * share)
            out += level.wave * self.gathered(level, share) * (1 - lies) * wave
        (x, y), _ = level.beside.at(share, out)
        if level.trail:
            return x, y, 0.0
        # A height at the side is another elsewhere where her waist lies aslant.
        half, deep, aslant, before, behind = self._waist
        across, along = x / half, y / deep
        across = 1.0 if across > 1.0 else max(across, -1.0)
        along = -before * min(along, 1.0) if along > 0 else behind * max(along, -1.0)
        return x, y, level.height + aslant * across + along

    def gathered(self, level: Level, share: float) -> float:
        """How much of a level's wave there is at a share of the way round her.

        None down to the hip under what lies flat at the waist; all of it below.
        """
        if not any(self.flat):
            return 1.0
        below = level.down / max(self.body.waist_to_hip - self.cloth.begins, 1.0)
        hangs = min(max((below - _GATHERED) / (1 - _GATHERED), 0.0), 1.0)
        front, back = (flat / 2 / self.levels[0].smooth for flat in self.flat)
        from_front = min(share % 1.0, -share % 1.0)
        beyond = min(from_front - front, 0.5 - back - from_front) / _SOFT
        return hangs + (1 - hangs) * min(max(beyond, 0.0), 1.0)


_FROM_CENTRE: Final = ((0, 1), (2, 1), (2, 3), (4, 3))
"""Of the ends of the quarters those at the centre and at the side of each quarter."""

_Ends = tuple[float, float, float, float, float]


def _quarters_end(levels: Iterable[Level], overlaps: Iterable[float]) -> list[_Ends]:
    """Where the quarters begin and end on the way round, at each level, mm."""
    found = []
    for level, overlap in zip(levels, overlaps, strict=True):
        one, two, three, four = (walked[-1] for walked in level.walked)
        one, four = one - overlap / 2, four - overlap / 2
        behind = one + two
        found.append((0.0, one, behind, behind + three, behind + three + four))
    return found


def _hung_straight(levels: Sequence[Level], ends: Sequence[_Ends]) -> tuple[_Ends, ...]:
    """The same where her shape bends no side seam off the line it hangs in."""
    moved = []
    for side, back in ((1, -1), (3, 1)):
        ways = [
            level.beside.at(end[side] / (end[4] or 1.0))[0][1]
            for level, end in zip(levels, ends, strict=True)
        ]
        hung = _without_kinks(ways, max(len(ways) // COARSE, 1))
        moved.append([back * (b - a) for a, b in zip(ways, hung, strict=True)])
    return tuple(
        (first, left + by, middle, right + other, last)
        for (first, left, middle, right, last), by, other in zip(
            ends, *moved, strict=True
        )
    )


def _without_kinks(values: Sequence[float], apart: int) -> list[float]:
    """Values eased between those so many before and after; the ends stay."""
    known = list(values)
    last = len(known) - 1
    for far in (*[apart] * _SLIDES, *[1] * apart):
        reach = [min(i, last - i, far) for i in range(len(known))]
        known = [
            (known[i - by] + 2 * known[i] + known[i + by]) / 4
            for i, by in enumerate(reach)
        ]
    return known


def _waist_of(body: Body) -> tuple[float, float, float, float, float]:
    """Her waist's half breadth and depth, and how far its ends lie off level."""
    waist = body.section("waist")
    oval = waist.ovals[0]
    half = (oval.left + oval.right) / 2
    return half, oval.depth, (waist.left - waist.right) / 2, *body.pitch


def worn(
    body: Body,
    cloth: Cloth,
    finished: Mapping[str, float | None],
    stretch: float = 0.0,
    count: int = COARSE,
    flat: tuple[float, float] = (0.0, 0.0),
    over: Worn | None = None,
) -> Worn:
    """The skirt on her.

    Args:
        finished: waist, hip and sweep of the closed skirt on the body, mm.
        stretch: the share by which the cloth stretches round her.
        count: levels from waist to hem.
        flat: how much of the waist is not gathered in front and behind, mm.
        over: the overlay that hangs upon it, if any.
    """
    longest = max(max(quarter.lengths) for quarter in cloth.quarters)
    step = longest / count
    laps = _Laps(cloth, finished, body.waist_to_hip - cloth.begins)
    rows = [_row(cloth, i * step) for i in range(count + 1)]
    girths = []
    overlap = []
    for i, row in enumerate(rows):
        more = laps.at(i * step)
        girth = sum(walked[-1] for walked in row) - more + cloth.let_in(i * step)
        girths.append(max(girth, 1.0))
        overlap.append(more if laps.over else 0.0)
    falling = _Falling(body, cloth.begins, step, finished.get("waist"))
    found = [falling.next(girth) for girth in girths]
    hulls = [row.hull.girth for row in found]
    eased = _eased([row.smooth for row in found], girths, hulls, count // 8)
    smooth = [
        min(girth, line + _STEADY * girth)
        for girth, line in zip(girths, eased, strict=True)
    ]
    waves = _waves(girths, smooth)
    levels = tuple(
        Level(
            i * step,
            row.height,
            # It stretches only as far as she is wider.
            min(max(girths[i], row.hull.girth), girths[i] * (1 + stretch)),
            row.hull.girth,
            smooth[i],
            _amplitude(girths[i], smooth[i], waves),
            rows[i],
            row.beside(smooth[i]),
            row.trail,
        )
        for i, row in enumerate(found)
    )
    return Worn(body, cloth, levels, step, waves, tuple(overlap), flat, over)


def _row(cloth: Cloth, down: float) -> tuple[Sequence[float], ...]:
    """The quarters so far down; her right is her left where both are cut alike."""
    front, back = (quarter.walked_at(down) for quarter in cloth.left)
    if cloth.right == cloth.left:
        return front, back, back, front
    other, behind = (quarter.walked_at(down) for quarter in cloth.right)
    return front, back, behind, other


class _Laps:
    """What the cloth on paper has more, or less, than the closed skirt on the body.

    Known at waist, hip and hem, in between by its share of the way.
    """

    def __init__(
        self, cloth: Cloth, finished: Mapping[str, float | None], hip_down: float
    ) -> None:
        self.over = all(quarter.free() for quarter in (cloth.left[0], cloth.right[0]))
        lengths = [q.lengths for q in cloth.quarters]
        self._long = sum(sum(each) / len(each) for each in lengths) / len(lengths)
        self._hip = min(max(hip_down, 1.0), self._long - 1.0)
        feet = [s.widths[1] for q in cloth.quarters for s in q.tiers[-1].strips]
        paper = {
            "waist": sum(walked[-1] for walked in _row(cloth, 0.0)),
            "hip": sum(walked[-1] for walked in _row(cloth, self._hip)),
            "sweep": sum(feet) + cloth.let_in(math.inf),
        }
        more = {
            name: on_paper - wanted
            for name, on_paper in paper.items()
            if (wanted := finished.get(name)) is not None
        }
        # Without fronts that lap only the hip is put right: there pleats that run
        # aslant are not reckoned exactly.
        hip = more.get("hip", 0.0)
        top = more.get("waist", hip)
        strips = [s for q in cloth.quarters for t in q.tiers for s in t.strips]
        folds = (fold.kind for strip in strips for fold in strip.folds)
        self._pleated = sum(kind == "pleat" for kind in folds) > _ALL_ROUND
        self._more = (
            (top, more.get("hip", top), more.get("sweep", top))
            if self.over
            else (0.0, hip if abs(hip) < _SLIGHT or self._pleated else 0.0, 0.0)
        )
        self._cloth = cloth
        self._widest = max(paper["waist"] - self._more[0], paper["hip"] - hip)

    def at(self, down: float) -> float:
        """How much more there is at a depth, mm."""
        top, hip, foot = self._more
        if down < self._hip:
            share = down / self._hip
            if not self._pleated:
                return top + (hip - top) * share
            # Pleats are let out along a curve, which has the room at once, and which
            # is nowhere wider than the hip.
            on_paper = sum(walked[-1] for walked in _row(self._cloth, down))
            more = top + (hip - top) * share * share
            return max(more, on_paper - self._widest)
        share = min((down - self._hip) / (self._long - self._hip), 1.0)
        return hip + (foot - hip) * share


@dataclass(frozen=True)
class _Hanging:
    """A level while the way down is gone.

    Attributes:
        height: over the floor, mm.
        hull: the body's.
        smooth: girth of the line that the waves go round, mm.
        trail: how far the cloth lies out on the floor, mm.
        hangs_from: the body's hull where it was fullest so far.
    """

    height: float
    hull: Hull
    smooth: float
    trail: float
    hangs_from: Hull

    def beside(self, smooth: float) -> HullOffset:
        """The line of a girth: cloth keeps the shape it hangs from."""
        shape = self.hangs_from
        if smooth < shape.girth:
            loose = (smooth / self.hull.girth - 1) / _CLOSE
            shape = shape.scaled(smooth / shape.girth)
            if loose < 1:
                shape = self.hull.towards(shape, max(loose, 0.0))
        return shape.beside((smooth - shape.girth) / (2 * math.pi))


class _Falling:
    """Goes down the cloth level by level."""

    def __init__(
        self, body: Body, begins: float, step: float, waist: float | None
    ) -> None:
        self._body, self._step = body, step
        self._height = body.section("waist").height - begins * 0.97
        self._hull: Hull | None = None
        self._hangs_from: Hull | None = None
        self._smooth = self._girth = 0.0
        self._first = waist
        self._down = 1.0
        self._trail = 0.0

    def next(self, girth: float) -> _Hanging:
        """The next level."""
        before = self._hull
        if before is None:
            hull = self._body.hull(self._height)
            smooth = min(girth, max(hull.girth, self._first or girth))
        else:
            height = self._height - self._step * self._down
            hull = self._body.hull(max(height, 0.0))
            smooth = self._next_smooth(girth, before.girth, hull.girth)
            share = (smooth - self._smooth) / (2 * math.pi * self._step)
            self._down = max(math.sqrt(max(1 - share * share, 0.0)), _STEEPEST)
            height = self._height - self._step * self._down
            if height <= 0.0:
                self._trail += -height if self._height > 0 else self._step
                height = 0.0
            self._height = height
            hull = self._body.hull(height)
        smooth = max(smooth, hull.girth)
        self._hull, self._smooth, self._girth = hull, smooth, girth
        hangs_from = self._hangs_from or hull
        if hull.girth >= hangs_from.girth:
            hangs_from = hull.with_all_of(hangs_from)
        elif hull.stands_out_of(hangs_from):
            hangs_from = hangs_from.with_all_of(hull)
        self._hangs_from = hangs_from
        return _Hanging(self._height, hull, smooth, self._trail, hangs_from)

    def _next_smooth(self, girth: float, before: float, body: float) -> float:
        needed = max(body - before, 0.0)
        spare = (girth - self._girth - needed) / (2 * math.pi * self._step)
        if spare > 0:
            spare = _STANDS_OFF * (1 - math.exp(-spare / _STANDS_OFF))
        wanted = self._smooth + needed + 2 * math.pi * self._step * spare
        return min(girth, max(body, wanted))


def _eased(
    line: Sequence[float],
    most: Sequence[float],
    least: Sequence[float],
    times: int,
) -> list[float]:
    """Values without corners, none under what it must be or over what it may be."""
    known = list(line)
    for _ in range(times):
        middle = [
            (a + 2 * b + c) / 4
            for a, b, c in zip(known, known[1:], known[2:], strict=False)
        ]
        known = [
            max(min(value, high), min(low, high))
            for value, high, low in zip(
                [known[0], *middle, known[-1]], most, least, strict=True
            )
        ]
    return known


def _waves(girths: Sequence[float], smooth: Sequence[float]) -> int:
    """How many waves fall all round."""
    pairs = list(zip(girths, smooth, strict=True))
    count = _FEWEST + max(girth - line for girth, line in pairs) / _WAVE_OF
    for i, (girth, line) in enumerate(pairs):
        furthest = _FURTHEST if i else _AT_WAIST
        count = max(count, _amplitude(girth, line, 1) / furthest)
    return min(4 * math.ceil(count / 4 - 0.01), _MOST)


def _amplitude(girth: float, smooth: float, waves: int) -> float:
    """How far so many waves go out and in that take so much more cloth, mm."""
    if girth <= smooth:
        return 0.0
    return _steepness(round(girth / smooth, 3)) * smooth / (2 * math.pi * waves)


@lru_cache(maxsize=4000)
def _steepness(ratio: float) -> float:
    """The steepest slope of a sine that is so many times as long as its chord."""
    lengths = _lengths()
    i = min(bisect_right(lengths, ratio), len(lengths) - 1)
    low, high = lengths[i - 1], lengths[i]
    return _SLOPE_STEP * (i - 1 + min((ratio - low) / (high - low), 1.0))


_SLOPE_STEP: Final = 0.05


@lru_cache(maxsize=1)
def _lengths() -> list[float]:
    """Length of a sine over its chord for slopes 0, 0.05 ... 8, by Simpson's rule."""
    steps = 64
    found = []
    for i in range(161):
        slope = i * _SLOPE_STEP
        total = 0.0
        for k in range(steps + 1):
            weight = 1 if k in (0, steps) else 4 if k % 2 else 2
            cos = math.cos(k * math.pi / 2 / steps)
            total += weight * math.hypot(1.0, slope * cos)
        found.append(total / (3 * steps))
    return found
