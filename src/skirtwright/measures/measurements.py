"""The measurements a skirt may ask for, from resources/measurements.json."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from functools import cache
from types import MappingProxyType
from typing import Literal

from skirtwright import shelf
from skirtwright.measures.units import Unit, read_length
from skirtwright.measures.working_binding import bind
from skirtwright.measures.working_kinds import LENGTH, Bound, BoundPlace, Kind, Values
from skirtwright.measures.working_parsing import parse_working
from skirtwright.problems import BadInput, NotFound, Problem, nearest

SIDES = ("left", "right")
"""What may follow a measurement that was taken on one side."""

SMALLEST = 1.0
LARGEST = 5000.0
"""mm; beyond these it is a slip of the pen, and geometry is not asked."""


@dataclass(frozen=True)
class Measurement:
    """One measurement of the body.

    Attributes:
        name: as in files and workings.
        label: as she reads it (British English; the catalogue translates).
        term: the ISO 8559-1 term where it has one, from memory; else "".
        least, most: ordinary range of adults, mm; outside it a caution, no refusal.
        estimate: the working used when it is not given, None when it must be given.
        figure: the drawing that shows the tape, a resource.
        sides: how it is taken where left and right differ: `each` side by itself, or
            as the `half` that goes round that side; None where it cannot be.
    """

    name: str
    label: str
    term: str
    taken: str
    least: float
    most: float
    estimate: str | None = None
    source: str = ""
    figure: str = ""
    sides: Literal["each", "half"] | None = None


@cache
def measurements() -> Mapping[str, Measurement]:
    """Every measurement by name, in the order she is asked for them."""
    found = {}
    for entry in shelf.read_json("measurements.json"):
        entry["least"] = read_length(entry["least"])
        entry["most"] = read_length(entry["most"])
        found[entry["name"]] = Measurement(**entry)
    return MappingProxyType(found)


def of_side(name: str) -> str:
    """The side of the body a name of a measurement speaks of, or nothing."""
    for side in SIDES:
        whole = measurements().get(name.removesuffix(f"_{side}"))
        if name.endswith(f"_{side}") and whole is not None and whole.sides:
            return side
    return ""


def known_measurement(name: str) -> Measurement:
    """The measurement of that name, or of one side of the body (`hip_left`).

    Raises:
        BadInput: naming the nearest known one.
    """
    known = measurements()
    if name in known:
        return known[name]
    side = of_side(name)
    if side:
        whole = known[name.removesuffix(f"_{side}")]
        share = 2 if whole.sides == "half" else 1
        return replace(
            whole,
            name=name,
            label=f"{whole.label}, {side}",
            least=whole.least / share,
            most=whole.most / share,
            estimate=None,
        )
    near = nearest(name, known, 0.5)
    if near:
        raise BadInput("measures.unknown_near", name, name=name, nearest=near)
    raise BadInput("measures.unknown", name, name=name, known=list(known))


def read_measurement(name: str, text: str, unit: Unit = "cm") -> float:
    """A measurement as typed, in mm.

    Raises:
        BadInput: an unknown name, not a length, or not between 1 mm and 5 m.
    """
    measurement = known_measurement(name)
    label = {"name": name, "label": measurement.label, "text": text[:40]}
    try:
        value = read_length(text, unit)
    except BadInput:
        raise BadInput("measures.not_a_length", name, **label) from None
    usual = {"least": measurement.least, "most": measurement.most}
    if value <= 0:
        raise BadInput("measures.not_positive", name, **label, **usual)
    if not SMALLEST <= value <= LARGEST:
        raise BadInput("measures.out_of_reach", name, **label, **usual)
    return value


def estimated(given: Mapping[str, float]) -> dict[str, float]:
    """What is not given but can be worked from what is, mm, by each estimate.

    A measurement without an estimate, or whose estimate leans on one that is missing,
    is left out.
    """
    known = dict(given)
    for name, bound in _estimates().items():
        if name not in known and all(needed in known for needed in bound.leans_on):
            known[name] = bound.work(known)
    return {name: value for name, value in known.items() if name not in given}


_FAR_APART = 50.0
_FAR_SHARE = 0.2
"""From so many mm, or so much of both, a slip; common practice, no source."""


def too_far_apart(left: float, right: float) -> bool:
    """Whether two sides of one woman are likelier a slip of the pen, each mm."""
    least = min(_FAR_APART, _FAR_SHARE * (left + right) / 2)
    return abs(left - right) > least


def unlikely(given: Mapping[str, float]) -> tuple[Problem, ...]:
    """Cautions about measurements outside the ordinary, or at odds with each other."""
    found = []
    for name, value in given.items():
        known = measurements()[name]
        if not known.least <= value <= known.most:
            values = {
                "label": known.label,
                "value": value,
                "least": known.least,
                "most": known.most,
            }
            found.append(Problem("measures.unusual", "caution", name, values))
    for smaller, larger in _IN_ORDER:
        if smaller in given and larger in given and given[smaller] >= given[larger]:
            labels = {
                "smaller": measurements()[smaller].label,
                "larger": measurements()[larger].label,
            }
            found.append(Problem("measures.at_odds", "caution", smaller, labels))
    return tuple(found)


_IN_ORDER = (
    ("waist", "hip"),
    ("waist_to_hip", "waist_to_knee"),
    ("waist_to_knee", "waist_to_floor_side"),
    ("waist_to_floor_side", "height"),
    ("knee", "thigh"),
)


def body_working(text: str) -> Bound:
    """A length worked from measurements alone.

    Raises:
        BadInput, NotFound: it cannot be read, or asks for anything else.
    """
    return bind(parse_working(text), _Body(), LENGTH)


@cache
def _estimates() -> Mapping[str, Bound]:
    return {
        name: body_working(known.estimate)
        for name, known in measurements().items()
        if known.estimate is not None
    }


class _Body:
    """What an estimate may see: measurements, nothing drawn, nothing chosen."""

    unit: Literal["cm"] = "cm"

    def called(self, word: str) -> str:
        return word

    def find(self, path: str) -> tuple[str, str]:
        return known_measurement(path).name, ""

    def kind_of(self, base: str) -> Kind:
        return LENGTH

    def index(self, name: str) -> int:
        raise NotFound("measures.estimate", name, name=name)

    def last(self, prefix: str) -> int:
        raise NotFound("measures.estimate", prefix, name=prefix)

    def options_of(self, choice: str) -> tuple[str, ...]:
        raise NotFound("measures.estimate", choice, name=choice)

    def drawn(self) -> tuple[str, ...]:
        return ()

    def measure(
        self,
        function: str,
        places: tuple[BoundPlace, ...],
    ) -> Callable[[Values], float]:
        raise NotFound("measures.estimate", function, name=function)

    def given(self, name: str) -> str:
        raise NotFound("measures.estimate", name, name=name)
