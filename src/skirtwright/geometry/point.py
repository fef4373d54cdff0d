"""Points, directions and rigid motions (mm, x right, y up, angles anticlockwise)."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from skirtwright.geometry.tolerance import SAME


@dataclass(init=False, slots=True)
class Point:
    """A place on the paper, or a step from one place to another, in mm."""

    x: Final[float]
    y: Final[float]

    def __init__(self, x: float, y: float) -> None:
        self.x = x
        self.y = y

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Point) and self.x == other.x and self.y == other.y

    def __hash__(self) -> int:
        return hash((self.x, self.y))

    def __add__(self, other: Point) -> Point:
        return Point(self.x + other.x, self.y + other.y)

    def __sub__(self, other: Point) -> Point:
        return Point(self.x - other.x, self.y - other.y)

    def __mul__(self, factor: float) -> Point:
        return Point(self.x * factor, self.y * factor)

    def __neg__(self) -> Point:
        return Point(-self.x, -self.y)

    def dot(self, other: Point) -> float:
        """Scalar product, mm2."""
        return self.x * other.x + self.y * other.y

    def cross(self, other: Point) -> float:
        """Signed area spanned, mm2; positive when `other` lies to the left."""
        return self.x * other.y - self.y * other.x

    def size(self) -> float:
        """Distance from the origin, mm."""
        return math.sqrt(self.x * self.x + self.y * self.y)

    def to(self, other: Point) -> float:
        """Straight distance to another point, mm."""
        # Several times as quick as a hypotenuse where it is compiled.
        x, y = other.x - self.x, other.y - self.y
        return math.sqrt(x * x + y * y)

    def unit(self) -> Point:
        """The same direction, one long. The zero step stays zero."""
        size = self.size()
        return Point(self.x / size, self.y / size) if size > 0 else self

    def left(self) -> Point:
        """The same step turned a quarter anticlockwise."""
        return Point(-self.y, self.x)

    def right(self) -> Point:
        """The same step turned a quarter clockwise."""
        return Point(self.y, -self.x)

    def between(self, other: Point, share: float) -> Point:
        """The point at `share` of the straight way to `other`."""
        return Point(
            self.x + (other.x - self.x) * share, self.y + (other.y - self.y) * share
        )

    def is_at(self, other: Point) -> bool:
        """True when the two cannot be told apart."""
        return self.to(other) <= SAME

    def heading_deg(self) -> float:
        """Direction from the x axis, degrees, -180 to 180."""
        return math.degrees(math.atan2(self.y, self.x))


_QUARTERS: Final = Point(1.0, 0.0), Point(0.0, 1.0), Point(-1.0, 0.0), Point(0.0, -1.0)


def heading(angle_deg: float) -> Point:
    """The unit step in a direction, degrees anticlockwise from the x axis."""
    quarter, rest = divmod(angle_deg, 90.0)
    if rest == 0.0:
        return _QUARTERS[int(quarter) % 4]
    angle = math.radians(angle_deg)
    return Point(math.cos(angle), math.sin(angle))


def bend_deg(before: Point, after: Point) -> float:
    """How far a path turns from direction `before` to `after`, degrees, left > 0."""
    return math.degrees(math.atan2(before.cross(after), before.dot(after)))


@dataclass(init=False, slots=True, unsafe_hash=True)
class Motion:
    """A rigid motion or reflection: x' = a x + c y + e, y' = b x + d y + f."""

    a: Final[float]
    b: Final[float]
    c: Final[float]
    d: Final[float]
    e: Final[float]
    f: Final[float]

    def __init__(
        self,
        a: float = 1.0,
        b: float = 0.0,
        c: float = 0.0,
        d: float = 1.0,
        e: float = 0.0,
        f: float = 0.0,
    ) -> None:
        self.a = a
        self.b = b
        self.c = c
        self.d = d
        self.e = e
        self.f = f

    def __call__(self, p: Point) -> Point:
        """Where a point comes to lie."""
        return Point(
            self.a * p.x + self.c * p.y + self.e, self.b * p.x + self.d * p.y + self.f
        )

    def turns_over(self) -> bool:
        """True for a reflection."""
        return self.a * self.d - self.b * self.c < 0

    def then(self, after: Motion) -> Motion:
        """This motion followed by another."""
        return Motion(
            after.a * self.a + after.c * self.b,
            after.b * self.a + after.d * self.b,
            after.a * self.c + after.c * self.d,
            after.b * self.c + after.d * self.d,
            after.a * self.e + after.c * self.f + after.e,
            after.b * self.e + after.d * self.f + after.f,
        )


def turn(about: Point, angle_deg: float) -> Motion:
    """Turn about a point, degrees anticlockwise."""
    unit = heading(angle_deg)
    cos, sin = unit.x, unit.y
    return Motion(
        cos,
        sin,
        -sin,
        cos,
        about.x - cos * about.x + sin * about.y,
        about.y - sin * about.x - cos * about.y,
    )


def shift(step: Point) -> Motion:
    """Move without turning."""
    return Motion(e=step.x, f=step.y)


def reflect(first: Point, second: Point) -> Motion:
    """Fold the paper over along the line through two points."""
    along = (second - first).unit()
    a = along.x * along.x - along.y * along.y
    b = 2 * along.x * along.y
    return Motion(
        a,
        b,
        b,
        -a,
        first.x - a * first.x - b * first.y,
        first.y - b * first.x + a * first.y,
    )
