"""Her lower body from her card: nine sections and what lies between them.

x runs to her left, y to her front, z up from the floor, mm. A section whose girth was
taken is exactly as long as the tape; the others are guessed and say so. Heights come
from the tapes down the side, left and right apart where they were taken so: the hip
stands higher on the side on which the way to it is shorter, the waist on the side on
which the way to the floor is longer.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import cached_property, lru_cache

from skirtwright.draft.halves.halving import both_sides
from skirtwright.figure.hull import Hull, hull_of
from skirtwright.figure.oval import Oval, oval_of_girth, oval_of_halves
from skirtwright.figure.proportions import proportions
from skirtwright.figure.smooth import Smooth, Values, smooth, value_at
from skirtwright.measures.measurements import estimated

_MEASURED = {
    "waist": "waist",
    "upper_hip": "top_hip",
    "hip": "hip",
    "thigh": "thigh",
    "knee": "knee",
    "calf": "calf",
}
"""The measurement that a section's girth is."""

_SHORTEST = 60.0
"""Hip and knee, knee and floor are at least so far apart, mm, whatever is taken."""

_STEEPEST = 0.4
"""Least share of a tape down the side that goes downwards."""

_HULL_STEP = 2.0
"""Hulls are worked for every so many mm of height."""

_PARTING = 60.0
"""So far under the crotch a tape lies on her legs alone, mm (no source)."""

_LEG_PARTS = 32
"""A leg is measured at the ends of so many parts from ankle to thigh."""


@dataclass(frozen=True)
class Section:
    """A level section.

    Attributes:
        name: waist, upper_hip, hip, crotch, thigh, knee, calf, ankle or floor.
        left, right: height over the floor at her left and at her right, mm.
        guessed: True where the girth was not taken.
        ovals: one; or her left leg's and her right leg's.
    """

    name: str
    left: float
    right: float
    guessed: bool
    ovals: tuple[Oval, ...]

    @property
    def height(self) -> float:
        """Height of its middle over the floor, mm."""
        return (self.left + self.right) / 2

    @property
    def girth(self) -> float:
        """Girth, mm; of two legs the mean."""
        return sum(oval.girth for oval in self.ovals) / len(self.ovals)


@dataclass(frozen=True)
class Body:
    """Her lower body.

    Attributes:
        sections: from the waist down.
        stature: her height, mm.
        waist_to_hip: the tape down the side, mm.
        pitch: how much lower than at the side the waist lies at the front, and at the
            back, mm.
    """

    sections: tuple[Section, ...]
    stature: float
    waist_to_hip: float
    pitch: tuple[float, float]
    _hulls: dict[int, Hull] = field(default_factory=dict, compare=False, repr=False)

    def section(self, name: str) -> Section:
        """The section of that name."""
        return next(section for section in self.sections if section.name == name)

    @property
    def not_taken(self) -> tuple[str, ...]:
        """The girths that could have been taken and were not, as measurements."""
        guessed = {section.name for section in self.sections if section.guessed}
        return tuple(name for key, name in _MEASURED.items() if key in guessed)

    @property
    def crotch(self) -> float:
        """Height at which the legs part, mm."""
        return self.section("crotch").height

    @cached_property
    def _torso(self) -> Smooth:
        whole = [s for s in reversed(self.sections) if len(s.ovals) == 1]
        return smooth([s.height for s in whole], [_values(s.ovals[0]) for s in whole])

    @cached_property
    def _legs(self) -> tuple[Smooth, Smooth]:
        left, right = (self._leg(number) for number in (0, 1))
        return left, right

    def _leg(self, number: int) -> Smooth:
        parted = [s for s in reversed(self.sections) if len(s.ovals) > 1]
        rows = [((s.left, s.right)[number], *_values(s.ovals[number])) for s in parted]
        at = [s.name for s in parted].index("thigh")
        # Led softly into the knee alone, a thigh would be too thin over it.
        share = proportions()["full_over_knee"]
        knee_and_thigh = zip(rows[at - 1], rows[at], strict=True)
        rows.insert(at, tuple(a + share * (b - a) for a, b in knee_and_thigh))
        top = _leg_top(self.section("crotch").ovals[0], number)
        rows.append((self.crotch, *_values(top)))
        return smooth([row[0] for row in rows], [row[1:] for row in rows])

    def torso(self, height: float) -> Oval:
        """The body at a height over the crotch; at and above the waist as there."""
        return Oval(*self._torso.at(height))

    def legs(self, height: float) -> tuple[Oval, Oval]:
        """Her left and right leg at a height under the crotch."""
        left, right = (Oval(*leg.at(height)) for leg in self._legs)
        return left, right

    def leg_girth(self, height: float) -> float:
        """Girth of one leg at a height over the floor, of unlike legs the mean, mm.

        Above the thigh, where both have met, the thigh's; under the ankle the ankle's.
        """
        low, high = (self.section(name).height for name in ("ankle", "thigh"))
        return value_at(self._leg_girths, (height - low) / (high - low))

    @cached_property
    def _leg_girths(self) -> Values:
        low, high = (self.section(name).height for name in ("ankle", "thigh"))
        heights = (low + (high - low) * n / _LEG_PARTS for n in range(_LEG_PARTS + 1))
        return tuple(sum(leg.girth for leg in self.legs(at)) / 2 for at in heights)

    def hull(self, height: float) -> Hull:
        """What a tape drawn tight at a height would lie on, to 2 mm of height."""
        step = round(height / _HULL_STEP)
        if step not in self._hulls:
            at = step * _HULL_STEP
            self._hulls[step] = self._hull(at)
        return self._hulls[step]

    def _hull(self, height: float) -> Hull:
        if height >= self.crotch:
            return _hull_of(self.torso(height))
        legs = _hull_of(*self.legs(height))
        # Two legs fill what one oval leaves at its corners little by little.
        parted = (self.crotch - height) / _PARTING
        whole = _hull_of(self.torso(self.crotch))
        return legs if parted >= 1 else whole.towards(legs, parted)


def _hull_of(*ovals: Oval) -> Hull:
    return hull_of([place for oval in ovals for place in oval.ring()[::2]])


def _values(oval: Oval) -> Values:
    return oval.left, oval.right, oval.depth, oval.x, oval.y


def _leg_top(torso: Oval, number: int) -> Oval:
    """A leg where it begins: its half of the body there."""
    side, sign = ((torso.left, 1), (torso.right, -1))[number]
    return Oval(side / 2, side / 2, 0.97 * torso.depth, sign * side / 2, torso.y)


# From the card


_NEEDED = ("waist", "hip", "waist_to_hip", "waist_to_knee")


def body_of(taken: Mapping[str, float]) -> Body | None:
    """Her body from what was taken, mm; what was not is estimated.

    Args:
        taken: measurements by name, those of one side (`hip_left`) too.

    Returns:
        None where waist, hip, waist to hip or waist to knee is not known.
    """
    return _body_of(tuple(sorted(taken.items())))


@lru_cache(maxsize=8)
def _body_of(taken: tuple[tuple[str, float], ...]) -> Body | None:
    making = _Making(dict(taken))
    return making.body() if making.knows(_NEEDED) else None


class _Making:
    """Works the sections out one after another."""

    def __init__(self, taken: Mapping[str, float]) -> None:
        self._sides = both_sides(taken)
        means = {name: (a + b) / 2 for name, (a, b) in self._sides.items()}
        self._taken = {**taken, **means}
        known = {n: v for n, v in self._taken.items() if not n.endswith(_SIDED)}
        self._known = {**known, **estimated(known)}
        self._shares = proportions()

    def knows(self, names: Iterable[str]) -> bool:
        """True when all of them were taken or can be estimated."""
        return all(name in self._known for name in names)

    def body(self) -> Body:
        """Her body."""
        upper, torso = self._torso()
        hip = torso[-1]
        down = self._heights_below_hip(hip)
        thigh, knee = self._limb("thigh", down), self._limb("knee", down)
        stature = self._known["height"]
        crotch = self._crotch(hip, thigh, down["crotch"])
        pitch = tuple(
            min(max(self._known[f"waist_to_floor_{way}"] - self._floor(), -40.0), 40.0)
            for way in ("front", "back")
        )
        lower = (thigh, knee, self._limb("calf", down), *self._feet(down))
        sections = (*upper, *torso, crotch, *lower)
        tape = self._known["waist_to_hip"]
        return Body(sections, stature, tape, (-pitch[0], -pitch[1]))

    def _floor(self) -> float:
        return self._known["waist_to_floor_side"]

    def _left_and_right(self, name: str) -> tuple[float, float]:
        """A measurement of the left and of the right; alike unless taken apart."""
        return self._sides.get(name, (self._known[name],) * 2)

    def _oval(self, section: str) -> Oval:
        left, right = self._left_and_right(_MEASURED[section])
        ratio = self._shares["depth_to_breadth"][section]
        return oval_of_halves(left / 2, right / 2, ratio)

    def _guessed(self, section: str) -> bool:
        return _MEASURED[section] not in self._taken

    def _torso(self) -> tuple[tuple[Section, ...], tuple[Section, ...]]:
        """Waist and upper hip; hip."""
        waist, upper, hip = map(self._oval, ("waist", "upper_hip", "hip"))
        # A plumb line from the seat, or from the stomach, to the waist.
        seat, stomach = (
            self._known[name] for name in ("seat_behind_waist", "stomach_before_waist")
        )
        hip = hip.moved(0.0, hip.depth - waist.depth - seat)
        upper = upper.moved(0.0, waist.depth + stomach - upper.depth)
        heights = [self._side_heights(number, waist, upper, hip) for number in (0, 1)]
        made = [
            Section(name, left, right, self._guessed(name), (oval,))
            for name, oval, left, right in zip(
                ("waist", "upper_hip", "hip"),
                (waist, upper, hip),
                *heights,
                strict=True,
            )
        ]
        return tuple(made[:2]), tuple(made[2:])

    def _side_heights(
        self, number: int, waist: Oval, upper: Oval, hip: Oval
    ) -> tuple[float, float, float]:
        """Heights of waist, upper hip and hip on one side: the tape is followed."""
        tapes = self._left_and_right("waist_to_hip")
        tape, floor = tapes[number], self._left_and_right("waist_to_floor_side")[number]
        if "waist_to_floor_side" not in self._sides:
            # The hip is level: the waist stands higher where the tape is longer.
            floor += tape - sum(tapes) / 2
        at_hip = max(floor - tape, 2 * _SHORTEST)
        breadths = [(oval.left, oval.right)[number] for oval in (waist, upper, hip)]
        at_upper = at_hip + _upright(tape / 2, breadths[2] - breadths[1])
        return (
            at_upper + _upright(tape / 2, breadths[1] - breadths[0]),
            at_upper,
            at_hip,
        )

    def _heights_below_hip(self, hip: Section) -> dict[str, tuple[float, float]]:
        shares = self._shares
        found: dict[str, list[float]] = {}
        for number, at_hip in enumerate((hip.left, hip.right)):
            way = (
                self._left_and_right("waist_to_knee")[number]
                - self._left_and_right("waist_to_hip")[number]
            )
            way = min(max(way, _SHORTEST), at_hip - _SHORTEST)
            at_knee = at_hip - way
            for name, share in shares["between_hip_and_knee"].items():
                found.setdefault(name, []).append(at_hip - share * way)
            found.setdefault("knee", []).append(at_knee)
            for name, share in shares["between_knee_and_floor"].items():
                found.setdefault(name, []).append((1 - share) * at_knee)
        return {name: (left, right) for name, (left, right) in found.items()}

    def _limb(self, name: str, down: Mapping[str, tuple[float, float]]) -> Section:
        """Thigh, knee or calf of both legs."""
        ratio = self._shares["depth_to_breadth"][name]
        ovals = [
            oval_of_girth(girth, ratio)
            for girth in self._left_and_right(_MEASURED[name])
        ]
        return Section(
            name, *down[name], self._guessed(name), self._placed(name, ovals)
        )

    def _placed(self, name: str, ovals: list[Oval]) -> tuple[Oval, ...]:
        """Two legs beside each other, as far apart as they stand."""
        gap = self._shares["gap"].get(name, 0.0) / 2
        apart = self._shares["of_height"]["ankle_apart"] * self._known["height"]
        behind = -self._shares["behind"][name]
        made = []
        for oval, sign in zip(ovals, (1, -1), strict=True):
            least = oval.left + max(gap, 2.0)
            middle = least if gap else max(least, apart)
            made.append(oval.moved(sign * middle, behind))
        return tuple(made)

    def _crotch(
        self, hip: Section, thigh: Section, heights: tuple[float, float]
    ) -> Section:
        """Between hip and thighs: one ring, where they begin to part."""
        above, (left, right) = hip.ovals[0], thigh.ovals
        outer = left.x + left.left, right.right - right.x
        oval = Oval(
            (above.left + outer[0]) / 2,
            (above.right + outer[1]) / 2,
            (above.depth + (left.depth + right.depth) / 2) / 2,
            y=(above.y + left.y) / 2,
        )
        return Section("crotch", *heights, guessed=True, ovals=(oval,))

    def _feet(self, down: Mapping[str, tuple[float, float]]) -> tuple[Section, Section]:
        """Ankle and sole: nothing of them is taken."""
        shares, stature = self._shares["of_height"], self._known["height"]
        ratio = self._shares["depth_to_breadth"]["ankle"]
        ankle = oval_of_girth(shares["ankle"] * stature, ratio)
        ankles = self._placed("ankle", [ankle, ankle])
        half = shares["foot_breadth"] * stature / 2
        long = shares["foot_length"] * stature / 2
        ahead = shares["toes_before"] * stature
        soles = tuple(Oval(half, half, long, oval.x, oval.y + ahead) for oval in ankles)
        return (
            Section("ankle", *down["ankle"], guessed=True, ovals=ankles),
            Section("floor", 0.0, 0.0, guessed=True, ovals=soles),
        )


_SIDED = ("_left", "_right")


def _upright(tape: float, outwards: float) -> float:
    """How far down a tape of a length goes that also goes outwards, mm."""
    share = outwards / tape
    return tape * max(math.sqrt(max(1 - share * share, 0.0)), _STEEPEST)
