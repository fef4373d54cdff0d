"""How a curve is made: from two places, the direction at each, and two reaches.

A *reach* is how far, in mm, a curve follows the direction at one of its ends before
it bends away: the length from that end to the nearest of a cubic's two inner points.
Every curve a draft holds is made here, and here its tightest bend is told.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Final

from skirtwright.geometry.chain import Chain
from skirtwright.geometry.point import Point, bend_deg
from skirtwright.geometry.segment import Cubic, Line
from skirtwright.geometry.tolerance import SAME_DEG

TIGHTEST: Final = 60.0
"""An edge bends no tighter than on this radius, mm, unless its style says so.

Scissors and a turned hem follow 6 cm without a clip; common practice, no source.
"""

_LOOKS: Final = 64
_LOOKED_AT: Final = tuple(
    (1 - math.cos(math.pi * number / _LOOKS)) / 2 for number in range(_LOOKS + 1)
)
"""Places along a cubic where its bend is read; closer together near its ends."""

_STEPS: Final = 12
"""Cubics in a smooth line through places."""


def reaching(
    start: Point,
    leaving: Point,
    end: Point,
    arriving: Point,
    first: float,
    last: float | None = None,
) -> Cubic:
    """The curve with two directions and two reaches.

    Args:
        leaving: its direction there, one long.
        arriving: its direction there, one long; it too points the way the curve runs.
        first: the reach at the start, mm.
        last: the reach at the end, mm; as at the start when left out.
    """
    last = first if last is None else last
    return Cubic(start, start + leaving * first, end - arriving * last, end)


def round_curve(start: Point, leaving: Point, end: Point, arriving: Point) -> Chain:
    """One curve between two directions: a circular arc where one fits.

    Each reach is 4/3 tan(bend/4) times the radius of the arc with this chord and this
    whole bend (plain geometry); a straight line where there is no bend.
    """
    if abs(bend_deg(leaving, arriving)) <= SAME_DEG:
        return Chain((Line(start, end),))
    return Chain((round_between(start, leaving, end, arriving),))


def round_between(start: Point, leaving: Point, end: Point, arriving: Point) -> Cubic:
    """The curve of `round_curve`; without a bend it leads aside, and back again."""
    chord = start.to(end)
    half = math.radians(abs(bend_deg(leaving, arriving))) / 2
    reach = chord / 3
    if half > 0:
        reach = chord / (2 * math.sin(half)) * 4 / 3 * math.tan(half / 2)
    return reaching(start, leaving.unit(), end, arriving.unit(), reach)


def round_curve_of_length(
    start: Point, leaving: Point, arriving: Point, length: float
) -> Chain:
    """The circular curve of a length, mm, between two directions; it ends where it may.

    A curve between two directions only grows with its chord: one try gives the share,
    the second has the length.
    """
    way = (leaving + arriving).unit()
    tried = round_curve(start, leaving, start + way * length, arriving)
    chord = length * length / tried.length
    return round_curve(start, leaving, start + way * chord, arriving)


def rounded(chain: Chain, here: float, run: float) -> Chain:
    """A line with a round curve for what lies within `run`, mm, of a walked distance.

    The curve begins and ends as the line runs there.
    """
    low, high = here - run, here + run
    head, tail = chain.split(low)[0], chain.split(high)[1]
    curve = round_curve(
        chain.at(low), chain.direction_at(low), chain.at(high), chain.direction_at(high)
    )
    return curve.and_then(tail) if head is None else head.and_then(curve, tail)


def smooth_through(place: Callable[[float], Point], steps: int = _STEPS) -> Chain:
    """A smooth line through places at shares 0 to 1, of `steps` cubics that follow."""
    small = 1e-5

    def speed(way: float) -> Point:
        low, high = max(way - small, 0.0), min(way + small, 1.0)
        return (place(high) - place(low)) * (1 / (high - low))

    shares = [number / steps for number in range(steps + 1)]
    points = [place(share) for share in shares]
    # Both inner points of a cubic lie a third of its speed from its ends.
    thirds = [speed(share) * (1 / (3 * steps)) for share in shares]
    return Chain(
        tuple(
            Cubic(start, start + leaving, end - arriving, end)
            for start, end, leaving, arriving in zip(
                points, points[1:], thirds, thirds[1:], strict=False
            )
        )
    )


def level_at_ends(share: float) -> float:
    """From 0 to 1 by 3u^2 - 2u^3: it begins and ends level."""
    return share * share * (3 - 2 * share)


# How tightly a line bends


def tightest_bend(chain: Chain, within: float = math.inf) -> float:
    """The least radius on which a line's curves bend, mm; endless where it is straight.

    What is taken up by darts and pleats is left out; so are corners between segments.
    Curves that cannot bend as tightly as `within` are passed over.
    """
    curved = (s for s in chain.segments if isinstance(s, Cubic) and not s.fold)
    return min(
        (_tightest(c) for c in curved if _least_radius(c) < within), default=math.inf
    )


def _least_radius(curve: Cubic) -> float:
    """A radius, mm, than which a cubic bends no tighter: quick, often far too small.

    Its speed is at least that along the chord of the slowest of its three legs; what
    turns it is a mean of the areas the legs span, the first and last half (plain
    geometry).
    """
    first = curve.control1 - curve.start
    middle = curve.control2 - curve.control1
    last = curve.end - curve.control2
    along = (curve.end - curve.start).unit()
    slowest = min(first.dot(along), middle.dot(along), last.dot(along))
    if slowest <= 0:
        return 0.0
    areas = first.cross(middle), first.cross(last) / 2, middle.cross(last)
    turning = max(abs(area) for area in areas)
    return 1.5 * slowest**3 / turning if turning > 0 else math.inf


def _tightest(curve: Cubic) -> float:
    """The least radius of a cubic: |x', y'|^3 / (x' y'' - y' x'') (plain calculus)."""
    # Written out in plain numbers: it runs for every curve drawn fair.
    p, q, r, s = curve.start, curve.control1, curve.control2, curve.end
    ax, bx, cx = q.x - p.x, r.x - q.x, s.x - r.x
    ay, by, cy = q.y - p.y, r.y - q.y, s.y - r.y
    least = math.inf
    for t in _LOOKED_AT:
        u = 1 - t
        e, f, g = u * u, 2 * u * t, t * t
        x, y = ax * e + bx * f + cx * g, ay * e + by * f + cy * g
        turning = (bx - ax) * u + (cx - bx) * t, (by - ay) * u + (cy - by) * t
        bend = abs(x * turning[1] - y * turning[0])
        speed = math.sqrt(x * x + y * y)
        if 1.5 * speed**3 < least * bend:
            least = 1.5 * speed**3 / bend
    return least


# Fuller and flatter curves


FLATTEST, ORDINARY, FULLEST = 0.45, 0.72, 1.1
"""Fullness: flatter, the ends of a curve curl; fuller, it turns back."""

_TRIES = 18
"""Fullnesses looked at for the fairest."""

_ROOM, _MOST_ROOM = 0.7, 0.4
"""Room to bend in, in roots of radius times chord times bend; at most of the chord.

A curve of ordinary fullness that turns all of a bend within 0.6 of that root of an end
bends there on that very radius (plain geometry); a little more is given.
"""

_MOST_WAY: Final = 2.0
"""The most way to the meeting, in chords: beyond it the directions hardly meet."""


def of_fullness(
    start: Point, leaving: Point, end: Point, arriving: Point, fullness: float
) -> Cubic:
    """The curve whose reaches are a share, its fullness, of the way to the meeting.

    That is how far from each end the two directions meet, so that a fullness of 1 or
    less bends one way only. Where they meet too close to one end to bend there, or not
    at all, that end is given room: the curve turns back a little rather than curl.
    """
    chord = start.to(end)
    bend = abs(leaving.cross(arriving))
    room = min(_ROOM * math.sqrt(TIGHTEST * chord * bend), _MOST_ROOM * chord)
    ways = _ways_to_meeting(leaving, (end - start).unit(), arriving)
    whole = min(sum(ways), _MOST_WAY) * chord
    first = min(max(ways[0] / sum(ways) * whole, room), whole - room)
    return reaching(
        start, leaving, end, arriving, first * fullness, (whole - first) * fullness
    )


def _ways_to_meeting(
    leaving: Point, chord: Point, arriving: Point
) -> tuple[float, float]:
    """How far from each end two directions meet, as shares of the chord.

    Where they do not meet between the ends, the chord is parted by how far each leans.
    """
    turns = leaving.cross(chord), chord.cross(arriving)
    together = leaving.cross(arriving)
    if together * turns[0] > 0 and together * turns[1] > 0:
        return turns[1] / together, turns[0] / together
    whole = abs(turns[0]) + abs(turns[1])
    share = abs(turns[1]) / whole if whole > 0 else 0.5
    return share, 1 - share


def fair_fullness(curve: Callable[[float], Cubic], wanted: float) -> float:
    """The fullness nearest to a wanted one at which no bend is tighter than allowed.

    It is looked for towards the fairest, which is taken where none is fair.
    """
    if _tightest(curve(wanted)) >= TIGHTEST:
        return wanted
    step = (FULLEST - FLATTEST) / _TRIES
    tries = [FLATTEST + step * number for number in range(_TRIES + 1)]
    fair = max(tries, key=lambda fullness: _tightest(curve(fullness)))
    if _tightest(curve(fair)) < TIGHTEST:
        return fair
    for _ in range(30):
        middle = (fair + wanted) / 2
        if _tightest(curve(middle)) < TIGHTEST:
            wanted = middle
        else:
            fair = middle
    return fair
