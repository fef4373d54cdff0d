"""What a tape drawn tight round a level section lies on, and lines beside it.

The hull of one oval, or of two legs. A line beside a convex ring, everywhere at one
distance o outside it, is 2 pi o longer than the ring (J. Steiner 1840).
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

Place = tuple[float, float]

_WAYS: Final = tuple(
    (math.cos(i * math.pi / 8), math.sin(i * math.pi / 8)) for i in range(16)
)
_OUTSIDE: Final = 0.5
_MIXED: Final = 48


@dataclass(init=False)
class Hull:
    """A convex ring, from the middle of the front round by her left.

    Attributes:
        places: its corners, the first repeated at the end, mm.
        outwards: unit direction outwards at each.
        along: length up to each, mm.
        turned: how far outwards has turned up to each, radians.
    """

    places: Final[tuple[Place, ...]]
    outwards: Final[tuple[Place, ...]]
    along: Final[tuple[float, ...]]
    turned: Final[tuple[float, ...]]

    def __init__(
        self,
        places: tuple[Place, ...],
        outwards: tuple[Place, ...],
        along: tuple[float, ...],
        turned: tuple[float, ...],
    ) -> None:
        self.places = places
        self.outwards = outwards
        self.along = along
        self.turned = turned
        self._reaches: tuple[float, ...] = ()

    @property
    def girth(self) -> float:
        """Length all round, mm."""
        return self.along[-1]

    def scaled(self, share: float) -> Hull:
        """The same ring smaller (or larger), its middle where it was."""
        middle = sum(y for _, y in self.places[:-1]) / (len(self.places) - 1)
        places = tuple(
            (x * share, middle + (y - middle) * share) for x, y in self.places
        )
        along = tuple(length * share for length in self.along)
        return Hull(places, self.outwards, along, self.turned)

    @property
    def reaches(self) -> tuple[float, ...]:
        """How far it reaches each way round, mm."""
        if not self._reaches:
            found = (max(x * a + y * b for a, b in self.places) for x, y in _WAYS)
            self._reaches = tuple(found)
        return self._reaches

    def stands_out_of(self, other: Hull) -> bool:
        """True where some of it lies outside another."""
        pairs = zip(self.reaches, other.reaches, strict=True)
        return any(own > its + _OUTSIDE for own, its in pairs)

    def with_all_of(self, other: Hull) -> Hull:
        """The hull of both; itself where the other lies within."""
        if not other.stands_out_of(self):
            return self
        return hull_of([*self.places, *other.places])

    def towards(self, other: Hull, share: float) -> Hull:
        """A ring at a share of the way from this one to another."""
        one, two = self.beside(0.0), other.beside(0.0)
        places = []
        for i in range(_MIXED):
            (a, b), (c, d) = (ring.at(i / _MIXED)[0] for ring in (one, two))
            places.append((a + (c - a) * share, b + (d - b) * share))
        return hull_of(places)

    def beside(self, distance: float) -> HullOffset:
        """The line at a distance outside it, mm."""
        walked = [
            a + distance * t for a, t in zip(self.along, self.turned, strict=True)
        ]
        return HullOffset(self, distance, walked)


@dataclass(init=False)
class HullOffset:
    """A line at one distance outside a hull.

    Attributes:
        distance: mm.
        walked: its length up to each corner of the hull, mm.
    """

    hull: Final[Hull]
    distance: Final[float]
    walked: Final[list[float]]

    def __init__(self, hull: Hull, distance: float, walked: list[float]) -> None:
        self.hull = hull
        self.distance = distance
        self.walked = walked

    def at(self, share: float, further: float = 0.0) -> tuple[Place, Place]:
        """A place at a share of the way round, and the way outwards there.

        Args:
            share: 0 to 1 from the middle of the front round by her left.
            further: so much further out, mm.
        """
        hull, walked = self.hull, self.walked
        length = (share % 1.0) * walked[-1]
        i = min(bisect_right(walked, length), len(walked) - 1)
        step = walked[i] - walked[i - 1]
        t = (length - walked[i - 1]) / step if step > 0 else 0.0
        (a, b), (c, d) = hull.places[i - 1], hull.places[i]
        (p, q), (r, s) = hull.outwards[i - 1], hull.outwards[i]
        x, y = p + (r - p) * t, q + (s - q) * t
        out = self.distance + further
        return (a + (c - a) * t + out * x, b + (d - b) * t + out * y), (x, y)


def hull_of(places: Sequence[Place]) -> Hull:
    """The hull of places round the middle plane x = 0."""
    ring = _from_front(_convex(places))
    count = len(ring)
    ways = []
    for i in range(count):
        (a, b), (c, d) = ring[i], ring[(i + 1) % count]
        size = math.hypot(c - a, d - b)
        ways.append((-(d - b) / size, (c - a) / size))
    outwards, along, turned = [], [0.0], [0.0]
    for i in range(count):
        (p, q), (r, s) = ways[i - 1], ways[i]
        size = math.hypot(p + r, q + s)
        outwards.append(((p + r) / size, (q + s) / size))
    for i in range(count):
        along.append(along[-1] + math.dist(ring[i], ring[(i + 1) % count]))
        (p, q), (r, s) = outwards[i], outwards[(i + 1) % count]
        turned.append(turned[-1] + abs(math.atan2(p * s - q * r, p * r + q * s)))
    return Hull((*ring, ring[0]), (*outwards, outwards[0]), tuple(along), tuple(turned))


def _from_front(ring: Sequence[Place]) -> list[Place]:
    """A clockwise ring (seen from above) begun where it crosses x = 0 in front."""
    count = len(ring)
    for i in range(count):
        (a, b), (c, d) = ring[i], ring[(i + 1) % count]
        if a <= 0.0 < c:
            share = -a / (c - a)
            rest = [ring[(i + 1 + k) % count] for k in range(count)]
            first = (0.0, b + (d - b) * share)
            return [first, *(rest if math.dist(first, ring[i]) > 1e-9 else rest[:-1])]
    return list(ring)


def _convex(places: Sequence[Place]) -> list[Place]:
    """Convex hull, clockwise with y up (A. M. Andrew's monotone chain, 1979)."""
    ordered = sorted(set(places))
    upper = _half_hull(ordered)
    lower = _half_hull(ordered[::-1])
    return upper[:-1] + lower[:-1]


def _half_hull(places: Sequence[Place]) -> list[Place]:
    kept: list[Place] = []
    for x, y in places:
        while len(kept) > 1:
            (a, b), (c, d) = kept[-2], kept[-1]
            if (c - a) * (y - b) - (d - b) * (x - a) < -1e-9:
                break
            kept.pop()
        kept.append((x, y))
    return kept
