"""The two things a pattern is drawn with: straight lines and cubic curves.

A segment may be *taken up*: it belongs to the cap of a dart or the underside of a
pleat and is not there when the garment is sewn. Its `fold` then names the dart or
pleat; walking an edge passes over such segments.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from skirtwright.budget import spend
from skirtwright.geometry.point import Motion, Point
from skirtwright.geometry.roots import Quintic, cubic_roots_within

# Gauss-Legendre nodes and weights of order 8 on (0, 1); Abramowitz and Stegun, 25.4.
_HALF: Final = (
    (0.1834346424956498, 0.3626837833783620),
    (0.5255324099163290, 0.3137066458778873),
    (0.7966664774136267, 0.2223810344533745),
    (0.9602898564975363, 0.1012285362903763),
)
_NODES: Final = tuple(
    ((1 + sign * node) / 2, weight / 2) for node, weight in _HALF for sign in (-1, 1)
)
_LENGTH_AGREES: Final = 1e-9
_DEEPEST: Final = 24
_NEARLY: Final = 0.05

_UNKNOWN: Final = -1.0
"""A length not worked out yet; kept by hand, for compiled classes take no
cached_property."""


class _Hodograph:
    """The derivative of a cubic: its velocity by the parameter, and so its length."""

    def __init__(self, p: Point, q: Point, r: Point, s: Point) -> None:
        self.ax: Final = 3 * (q.x - p.x)
        self.ay: Final = 3 * (q.y - p.y)
        self.bx: Final = 6 * (r.x - 2 * q.x + p.x)
        self.by: Final = 6 * (r.y - 2 * q.y + p.y)
        self.cx: Final = 3 * (s.x - 3 * r.x + 3 * q.x - p.x)
        self.cy: Final = 3 * (s.y - 3 * r.y + 3 * q.y - p.y)
        self._halting: tuple[float, ...] | None = None

    def speed(self, t: float) -> float:
        """How far it goes for one more of the parameter, mm."""
        x = self.ax + t * (self.bx + t * self.cx)
        y = self.ay + t * (self.by + t * self.cy)
        return math.sqrt(x * x + y * y)

    def length_between(self, low: float, high: float) -> float:
        """Arc length by Gauss-Legendre, halved until two halves agree to 1e-9 mm.

        Begun at the places where the curve nearly stops, which nodes would miss.
        """
        total = 0.0
        for halt in reversed(self._halts):
            if low < halt < high:
                total = self._added(total, halt, high, self._gauss(halt, high), 0)
                high = halt
        return self._added(total, low, high, self._gauss(low, high), 0)

    @property
    def _halts(self) -> tuple[float, ...]:
        """Parameters where the way nearly stops, so that the speed has a kink."""
        if self._halting is None:
            self._halting = self._find_halts()
        return self._halting

    def _find_halts(self) -> tuple[float, ...]:
        ax, ay, bx, by = self.ax, self.ay, self.bx, self.by
        cx, cy = self.cx, self.cy
        # Where the squared speed no longer falls or rises.
        turns = cubic_roots_within(
            4 * (cx * cx + cy * cy),
            6 * (bx * cx + by * cy),
            2 * (bx * bx + by * by) + 4 * (ax * cx + ay * cy),
            2 * (ax * bx + ay * by),
        )
        slow = _NEARLY * (self.speed(0.0) + self.speed(0.5) + self.speed(1.0))
        return tuple([t for t in turns if self.speed(t) < slow])

    def _added(
        self, total: float, low: float, high: float, whole: float, depth: int
    ) -> float:
        """The total with the length of a stretch, of which `whole` is an estimate."""
        spend("points", 3)
        middle = (low + high) / 2
        left, right = self._gauss(low, middle), self._gauss(middle, high)
        if abs(left + right - whole) <= _LENGTH_AGREES or depth >= _DEEPEST:
            return total + (left + right)
        total = self._added(total, middle, high, right, depth + 1)
        return self._added(total, low, middle, left, depth + 1)

    def _gauss(self, low: float, high: float) -> float:
        span = high - low
        total = 0.0
        for node, weight in _NODES:
            total += weight * self.speed(low + span * node)
        return total * span


@dataclass(init=False)
class Line:
    """A straight line from `start` to `end`."""

    start: Final[Point]
    end: Final[Point]
    fold: Final[str]

    def __init__(self, start: Point, end: Point, fold: str = "") -> None:
        self.start = start
        self.end = end
        self.fold = fold
        self._length = _UNKNOWN

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, Line):
            return False
        return self.points == other.points and self.fold == other.fold

    def __hash__(self) -> int:
        return hash((self.start, self.end, self.fold))

    @property
    def points(self) -> tuple[Point, ...]:
        """The points it is drawn from."""
        return self.start, self.end

    @property
    def length(self) -> float:
        """Length, mm."""
        if self._length < 0:
            self._length = self.start.to(self.end)
        return self._length

    @property
    def start_direction(self) -> Point:
        """Unit direction of leaving."""
        return (self.end - self.start).unit()

    @property
    def end_direction(self) -> Point:
        """Unit direction of arriving."""
        return (self.end - self.start).unit()

    def at(self, distance: float) -> Point:
        """The point `distance` mm along."""
        share = distance / self.length if self.length else 0.0
        return self.start.between(self.end, share)

    def direction_at(self, distance: float) -> Point:
        """Unit direction `distance` mm along."""
        del distance
        return self.start_direction

    def split(self, distance: float) -> tuple[Line, Line]:
        """The parts before and after the point `distance` mm along."""
        middle = self.at(distance)
        return Line(self.start, middle, self.fold), Line(middle, self.end, self.fold)

    def reversed(self) -> Line:
        """The same line walked the other way."""
        return Line(self.end, self.start, self.fold)

    def moved(self, motion: Motion) -> Line:
        """The same line after a motion."""
        return Line(motion(self.start), motion(self.end), self.fold)

    def taken_up(self, fold: str) -> Line:
        """The same line as part of a dart or pleat."""
        return Line(self.start, self.end, fold)

    def flattened(self, tolerance: float) -> list[Point]:
        """Points after the start, mm."""
        del tolerance
        return [self.end]

    def point_at_parameter(self, t: float) -> Point:
        """The point at parameter t, 0 to 1."""
        return self.start.between(self.end, t)

    def nearest_parameter(self, point: Point) -> float:
        """Parameter of the place nearest to a point."""
        along = self.end - self.start
        size = along.dot(along)
        if size == 0:
            return 0.0
        return min(max((point - self.start).dot(along) / size, 0.0), 1.0)

    def distance_at(self, t: float) -> float:
        """Distance along, mm, of the place at parameter t."""
        return t * self.length


@dataclass(init=False)
class Cubic:
    """A cubic Bezier curve."""

    start: Final[Point]
    control1: Final[Point]
    control2: Final[Point]
    end: Final[Point]
    fold: Final[str]

    def __init__(
        self, start: Point, control1: Point, control2: Point, end: Point, fold: str = ""
    ) -> None:
        self.start = start
        self.control1 = control1
        self.control2 = control2
        self.end = end
        self.fold = fold
        self._length = _UNKNOWN
        self._derived: _Hodograph | None = None

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, Cubic):
            return False
        return self.points == other.points and self.fold == other.fold

    def __hash__(self) -> int:
        return hash((self.start, self.end, self.control1, self.control2, self.fold))

    @property
    def points(self) -> tuple[Point, ...]:
        """The points it is drawn from."""
        return self.start, self.control1, self.control2, self.end

    @property
    def _hodograph(self) -> _Hodograph:
        if self._derived is None:
            self._derived = _Hodograph(
                self.start, self.control1, self.control2, self.end
            )
        return self._derived

    @property
    def length(self) -> float:
        """Length along the curve, mm."""
        if self._length < 0:
            self._length = self._hodograph.length_between(0.0, 1.0)
        return self._length

    @property
    def start_direction(self) -> Point:
        """Unit direction of leaving."""
        for other in (self.control1, self.control2, self.end):
            if not self.start.is_at(other):
                return (other - self.start).unit()
        return Point(0.0, 0.0)

    @property
    def end_direction(self) -> Point:
        """Unit direction of arriving."""
        for other in (self.control2, self.control1, self.start):
            if not self.end.is_at(other):
                return (self.end - other).unit()
        return Point(0.0, 0.0)

    def point_at_parameter(self, t: float) -> Point:
        """The point at parameter t, 0 to 1."""
        p, q, r, s = self.start, self.control1, self.control2, self.end
        u = 1 - t
        a, b, c, d = u * u * u, 3 * u * u * t, 3 * u * t * t, t * t * t
        return Point(
            a * p.x + b * q.x + c * r.x + d * s.x, a * p.y + b * q.y + c * r.y + d * s.y
        )

    def parameter_at(self, distance: float) -> float:
        """The parameter `distance` mm along; Newton on the arc length."""
        total = self.length
        if distance <= 0 or total == 0:
            return 0.0
        if distance >= total:
            return 1.0
        pace = self._hodograph
        low, high, t = 0.0, 1.0, distance / total
        for _ in range(60):
            miss = pace.length_between(0.0, t) - distance
            if abs(miss) <= _LENGTH_AGREES:
                break
            low, high = (low, t) if miss > 0 else (t, high)
            speed = pace.speed(t)
            t = t - miss / speed if speed > 0 else -1.0
            if not low < t < high:
                t = (low + high) / 2
        return t

    def at(self, distance: float) -> Point:
        """The point `distance` mm along."""
        return self.point_at_parameter(self.parameter_at(distance))

    def direction_at_parameter(self, t: float) -> Point:
        """Unit direction at parameter t."""
        if t <= 0:
            return self.start_direction
        if t >= 1:
            return self.end_direction
        d = self._hodograph
        return Point(d.ax + t * (d.bx + t * d.cx), d.ay + t * (d.by + t * d.cy)).unit()

    def direction_at(self, distance: float) -> Point:
        """Unit direction `distance` mm along."""
        return self.direction_at_parameter(self.parameter_at(distance))

    def split_at_parameter(self, t: float) -> tuple[Cubic, Cubic]:
        """De Casteljau: the parts before and after parameter t."""
        p, q, r, s = self.start, self.control1, self.control2, self.end
        pq, qr, rs = p.between(q, t), q.between(r, t), r.between(s, t)
        left, right = pq.between(qr, t), qr.between(rs, t)
        middle = left.between(right, t)
        return (
            Cubic(p, pq, left, middle, self.fold),
            Cubic(middle, right, rs, s, self.fold),
        )

    def split(self, distance: float) -> tuple[Cubic, Cubic]:
        """The parts before and after the point `distance` mm along."""
        return self.split_at_parameter(self.parameter_at(distance))

    def reversed(self) -> Cubic:
        """The same curve walked the other way."""
        return Cubic(self.end, self.control2, self.control1, self.start, self.fold)

    def moved(self, motion: Motion) -> Cubic:
        """The same curve after a motion."""
        return Cubic(
            motion(self.start),
            motion(self.control1),
            motion(self.control2),
            motion(self.end),
            self.fold,
        )

    def taken_up(self, fold: str) -> Cubic:
        """The same curve as part of a dart or pleat."""
        return Cubic(self.start, self.control1, self.control2, self.end, fold)

    def flattened(self, tolerance: float) -> list[Point]:
        """Points after the start; even steps that stay within `tolerance` mm.

        The number of steps is the root of 6 dd / (8 tolerance), dd the larger
        second difference of the four points: a bound, not an estimate.
        """
        p, q, r, s = self.start, self.control1, self.control2, self.end
        bend = max(
            math.hypot(p.x - 2 * q.x + r.x, p.y - 2 * q.y + r.y),
            math.hypot(q.x - 2 * r.x + s.x, q.y - 2 * r.y + s.y),
        )
        steps = max(1, math.ceil(math.sqrt(6 * bend / (8 * tolerance))))
        spend("points", steps)
        points = [self.point_at_parameter(i / steps) for i in range(1, steps)]
        points.append(self.end)
        return points

    def is_beyond(self, point: Point, gap: float) -> bool:
        """True when the box round its four points lies no nearer than `gap`, mm."""
        p, q, r, s = self.start, self.control1, self.control2, self.end
        x, y = point.x, point.y
        across = _outside(x, p.x, q.x, r.x, s.x)
        up = _outside(y, p.y, q.y, r.y, s.y)
        return gap <= math.sqrt(across * across + up * up)

    def nearest_parameter(self, point: Point) -> float:
        """Parameter of the place nearest to a point.

        One of the ends, or where the way to the point is square to the curve: the
        roots of a polynomial of degree five.
        """
        spend("points", 20)
        px, py = self.start.x - point.x, self.start.y - point.y
        if px == 0 and py == 0:
            return 0.0
        if self.end.x == point.x and self.end.y == point.y:
            return 1.0
        d = self._hodograph
        ax, ay, bx, by, cx, cy = d.ax, d.ay, d.bx, d.by, d.cx, d.cy
        # (p + a t + b t^2 / 2 + c t^3 / 3) . (a + b t + c t^2)
        square = Quintic(
            (cx * cx + cy * cy) / 3,
            5 * (bx * cx + by * cy) / 6,
            4 * (ax * cx + ay * cy) / 3 + (bx * bx + by * by) / 2,
            px * cx + py * cy + 3 * (ax * bx + ay * by) / 2,
            px * bx + py * by + ax * ax + ay * ay,
            px * ax + py * ay,
        )
        found, least = 0.0, self.start.to(point)
        for t in (*square.roots_within(), 1.0):
            away = self.point_at_parameter(t).to(point)
            if away < least:
                found, least = t, away
        return found

    def distance_at(self, t: float) -> float:
        """Distance along, mm, of the place at parameter t."""
        if t <= 0:
            return 0.0
        return self.length if t >= 1 else self._hodograph.length_between(0.0, t)


def _outside(x: float, a: float, b: float, c: float, d: float) -> float:
    """How far a number lies outside of what four others span."""
    # Of two at a time, which is quick where it is compiled.
    low, high = min(a, b), max(a, b)
    low, high = min(low, c), max(high, c)
    low, high = min(low, d), max(high, d)
    return low - x if x < low else max(x - high, 0.0)


Segment = Line | Cubic
