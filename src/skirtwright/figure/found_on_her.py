"""Where checks about the body lie on the figure: what is drawn there, and its figure.

A step is shown at the narrowest level of the skirt, from the side also as a stride, or
as a stair before her; an opening at the hip that must pass; a low hem as what is left
to the floor.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass

from skirtwright.figure.drawn_figure import Place, View
from skirtwright.figure.views import near_half
from skirtwright.figure.worn_skirt import Level, Worn
from skirtwright.problems import Problem, Severity
from skirtwright.words import Phrase

_TICK = 14.0
"""Half of the stroke at the end of a dimension, mm on her."""

_RISE, _TREAD = 170.0, 290.0
"""Of the stair that is drawn, mm (common practice, no source)."""

_BELOW_HIP = 50.0
_BESIDE = 40.0


@dataclass(frozen=True)
class Mark:
    """A finding on one picture of the figure.

    Attributes:
        code: of the finding.
        lines: polylines, mm.
        at: the middle of the foot of its words.
        says: its figure.
    """

    code: str
    severity: Severity
    lines: tuple[tuple[Place, ...], ...]
    at: Place
    says: Phrase


_Drawn = tuple[tuple[tuple[Place, ...], ...], Place, Phrase]
_Draws = Callable[[Problem, Worn, View], _Drawn]


def found_on_her(
    problems: Iterable[Problem], skirt: Worn, view: View
) -> tuple[Mark, ...]:
    """Those findings that are about the body, on a picture of it."""
    marks = []
    for problem in problems:
        draws = _BY_CODE.get(problem.code)
        if draws is not None:
            marks.append(
                Mark(problem.code, problem.severity, *draws(problem, skirt, view))
            )
    return tuple(marks)


def _narrowest(skirt: Worn) -> Level:
    """Where she strides against the cloth: its least girth under the hip."""
    hip = _hip_down(skirt)
    under = [
        level
        for level in skirt.levels
        if level.down > hip + _BELOW_HIP and not level.trail
    ]
    return min(under or skirt.levels[-1:], key=lambda level: level.girth)


def _hip_down(skirt: Worn) -> float:
    body = skirt.body
    return body.section("waist").height - body.section("hip").height


def _ring(skirt: Worn, level: Level, view: View) -> tuple[tuple[Place, ...], Place]:
    """The near half of a level, and a place over its middle."""
    ring = tuple(near_half(skirt, level, view))
    middle = ring[len(ring) // 2]
    return ring, (middle[0], middle[1] + _TICK)


def _step(problem: Problem, skirt: Worn, view: View) -> _Drawn:
    ring, at = _ring(skirt, _narrowest(skirt), view)
    step = float(problem.values["step"])
    lines = [ring]
    if view == "side":
        half, crotch = step / 2, skirt.body.crotch
        lines += [((0.0, crotch), (sign * half, 0.0)) for sign in (-1.0, 1.0)]
        lines += _dimension((-half, 0.0), (half, 0.0))
    return tuple(lines), at, Phrase("figure.found.step", {"step": step})


def _stairs(problem: Problem, skirt: Worn, view: View) -> _Drawn:
    ring, at = _ring(skirt, _narrowest(skirt), view)
    lines = [ring]
    if view == "side":
        # Her front is at the left of this picture.
        foot = -0.1 * skirt.body.stature
        lines.append(((foot, 0.0), (foot, _RISE), (foot - _TREAD, _RISE)))
    girth = float(problem.values["girth"])
    return tuple(lines), at, Phrase("figure.found.narrowest", {"girth": girth})


def _opening(problem: Problem, skirt: Worn, view: View) -> _Drawn:
    hip = _hip_down(skirt)
    level = min(skirt.levels, key=lambda level: abs(level.down - hip))
    ring, at = _ring(skirt, level, view)
    name = "girth" if "girth" in problem.values else "depth"
    value = float(problem.values[name])
    return (ring,), at, Phrase(f"figure.found.opening_{name}", {name: value})


def _floor(problem: Problem, skirt: Worn, view: View) -> _Drawn:
    ring, at = _ring(skirt, skirt.levels[-1], view)
    right, low = ring[-1]
    x = right + _BESIDE
    # Its words stand over the hem, clear of the next picture.
    lines = tuple(_dimension((x, 0.0), (x, max(low, 0.0))))
    clear = float(problem.values["clear"])
    says = "clear" if clear > 0 else "on_floor"
    return lines, at, Phrase(f"figure.found.{says}", {"clear": clear})


def _dimension(start: Place, end: Place) -> Iterator[tuple[Place, ...]]:
    """A dimension between two places, level or upright, with a stroke at each end."""
    yield start, end
    level = start[1] == end[1]
    x, y = (0.0, _TICK) if level else (_TICK, 0.0)
    for place in (start, end):
        yield (place[0] - x, place[1] - y), (place[0] + x, place[1] + y)


_BY_CODE: Mapping[str, _Draws] = {
    "check.step_very_short": _step,
    "check.step_short": _step,
    "check.step_less_than_free": _step,
    "check.stairs": _stairs,
    "check.stairs_tight": _stairs,
    "check.opening": _opening,
    "check.opening_short": _opening,
    "check.hem_on_floor": _floor,
    "check.hem_near_floor": _floor,
    "check.hem_low": _floor,
    "check.floor_length": _floor,
}

ABOUT_THE_BODY = frozenset(_BY_CODE)
"""Codes of the findings that are shown on the figure."""
