"""Checks of room to walk: step, stairs, lining, vent, sitting, a wrap's overlap.

No skirt is ever called safe: what is said is the step it allows, and where care is
called for.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from skirtwright.checks.checked_skirt import Level, Skirt
from skirtwright.checks.limits import (
    finding,
    graded,
    graver,
    limits,
    severity_of,
)
from skirtwright.checks.measured_outline import HEM, Paper
from skirtwright.checks.striding import free_step, girth_needed, step_allowed
from skirtwright.draft.step import Reads
from skirtwright.problems import Problem, SkirtwrightError

_JUST_ABOVE = 1.0
"""How far above the end of a hem its girth is measured, mm."""

_LINING_CODES = {
    "strong": "lining_step_short",
    "caution": "lining_step_short",
    "note": "lining_step",
}
_STEP_CODES = {
    "strong": "step_very_short",
    "caution": "step_short",
    "note": "step_less_than_free",
}

_OVER = "overlay"
"""The cloth of a layer that hangs free over the skirt; it binds by itself."""

_LOOKS = (20.0, 5.0)
"""Where a skirt is narrowest is looked for at levels so far apart, ever finer, mm."""


def walking_checks(skirt: Skirt) -> Iterator[Problem]:
    """What there is to say of how she walks, climbs and sits in it."""
    yield from _step(skirt)
    yield from _linings(skirt)
    yield from _vent(skirt)
    yield from _sitting(skirt)
    yield from _overlaps(skirt)


def with_levels(skirt: Skirt) -> Skirt:
    """A skirt with the levels at which room to walk is looked at, and its step."""
    levels = _levels(skirt)
    finished = dict(skirt.finished)
    if finished.get("step_allowed") is None:
        steps = [
            step for level in levels if (step := _step_at(skirt, *level)) is not None
        ]
        finished["step_allowed"] = min(steps, default=None)
    return replace(skirt, finished=finished, levels=levels)


def _levels(skirt: Skirt) -> tuple[Level, ...]:
    """The levels at which the style says room to walk is to be looked at.

    With them those at which the skirt, as it is cut, lets her step least, and leaves
    least room over what a step on stairs needs. Of a draft that stopped, half of which
    is not there, none.
    """
    if skirt.worked.stopped:
        return ()
    found = []
    for level in skirt.worked.draft.stride:
        try:
            girth = skirt.worked.read(level.girth, Reads.LENGTH)
            depth = skirt.worked.read(level.below_waist, Reads.LENGTH)
        except SkirtwrightError:
            return ()
        found.append((depth, girth))
    return (*found, *_tightest(skirt)) if found else ()


def _step_at(skirt: Skirt, depth: float, girth: float) -> float | None:
    """The step of a girth at a depth below the waist, mm."""
    over_floor = skirt.worked.stated.measurements["waist_to_floor_side"] - depth
    return (
        step_allowed(girth, over_floor, skirt.lower_body) if skirt.lower_body else None
    )


def _needed(skirt: Skirt, check: str, depth: float) -> float:
    """The girth that the step of a check needs at a depth below the waist, mm."""
    over_floor = skirt.worked.stated.measurements["waist_to_floor_side"] - depth
    step: float = limits()[check]["step"]
    return girth_needed(step, over_floor, skirt.lower_body) if skirt.lower_body else 0.0


def _tightest(skirt: Skirt) -> Iterator[Level]:
    """The levels at which each layer she steps in allows least, as it is cut.

    A slit or vent opens the skirt alone, not what hangs free over it.
    """
    tops = [top for _, top in skirt.stated_at("vent_top") if top > 0]
    gives = 1.0 + (skirt.stated("stretch") or 0.0)
    over = [p for p in skirt.papers.values() if p.piece.spec.material == _OVER]
    yield from _tightest_of(skirt, skirt.shell, tops, gives)
    yield from _tightest_of(skirt, over, (), 1.0)


def _tightest_of(
    skirt: Skirt, layer: Sequence[Paper], tops: Sequence[float], gives: float
) -> Iterator[Level]:
    """The levels between hip and hem at which a layer as cut allows least.

    The one for a step comes first, the one for stairs after it.
    """
    hung = [paper for paper in layer if paper.hip and paper.lower]
    to_hip = skirt.body("waist_to_hip")
    if to_hip is None or not hung:
        return
    lowest = min(paper.closed_depth for paper in hung)
    lowest = min([lowest, *(top - to_hip for top in tops)]) - _JUST_ABOVE

    def between(first: float, last: float, apart: float) -> Iterator[Level]:
        fine = apart == _LOOKS[-1]
        for number in range(int((last - first) / apart) + 1):
            below = last - number * apart
            girth = gives * sum(p.times * p.width_at(below, fine=fine) for p in hung)
            if _step_at(skirt, to_hip + below, girth) is not None:
                yield to_hip + below, girth

    def step(level: Level) -> float:
        return _step_at(skirt, *level) or 0.0

    def room(level: Level) -> float:
        return level[1] - _needed(skirt, "stairs", level[0])

    apart, finer = _LOOKS
    coarse = list(between(0.0, lowest, apart))
    low = [level for level in coarse if _nears_knee(skirt, level[0])]
    for allows, levels in ((step, coarse), (room, low)):
        if not levels:
            continue
        tightest = min(levels, key=allows)
        middle = tightest[0] - to_hip
        ends = max(middle - apart, 0.0), min(middle + apart, lowest)
        # What is open from over the hip has the one level there, none round it.
        yield min(between(*ends, finer), key=allows, default=tightest)


def _nears_knee(skirt: Skirt, depth: float) -> bool:
    """Is a level nearer the knee than the hip?

    Above, thighs fill a skirt, on stairs or not, and no vent opens it.
    """
    hip, knee = skirt.body("waist_to_hip"), skirt.body("waist_to_knee")
    return hip is not None and knee is not None and depth >= (hip + knee) / 2


def _grade(skirt: Skirt, step: float) -> tuple[str, float]:
    """The grade of a step, and the free step it is held against, mm."""
    free: float = limits()["step"]["under"]["note"]
    grade = graded("step", step)
    if (stature := skirt.taken("height")) is not None:
        free = free_step(stature)
        grade = graver(grade, graded("step_share", step / free))
    return grade, free


def _step(skirt: Skirt) -> Iterator[Problem]:
    step = skirt.finished.get("step_allowed")
    if step is None:
        return
    grade, free = _grade(skirt, step)
    if grade:
        values = {"step": step, "free": free}
        code = f"check.{_STEP_CODES[grade]}"
        yield Problem(code, severity_of(grade), "step_allowed", values)
    if grade in ("", "note"):
        # A shorter step has said so already, with stairs.
        yield from _stairs(skirt)


def _stairs(skirt: Skirt) -> Iterator[Problem]:
    """Where it leaves least: room over what a plain step needs."""
    length, knee = skirt.finished.get("length"), skirt.body("waist_to_knee")
    if length is None or knee is None or length <= knee:
        return
    spare = []
    for depth, girth in skirt.levels:
        need = _needed(skirt, "stairs", depth)
        spare.append((girth - need, girth, need, depth))
    if spare:
        least, girth, need, depth = min(spare)
        values = {"spare": least, "girth": girth, "need": need, "below": depth}
        codes = {"caution": "stairs_tight"}
        yield from finding("stairs", least, "step_allowed", values, codes)


# Linings and underskirts


def _linings(skirt: Skirt) -> Iterator[Problem]:
    """The step of each skirt worn inside, where it is shorter than the skirt's own."""
    own = skirt.finished.get("step_allowed")
    if skirt.lower_body is None:
        return
    for material in limits()["lining_step"]["materials"]:
        inner = [p for p in skirt.papers.values() if p.piece.spec.material == material]
        hung = [paper for paper in inner if paper.hip is not None]
        steps = [
            step
            for depth in _inner_depths(skirt, hung)
            if (step := _step_in(skirt, hung, depth)) is not None
        ]
        if not steps or (own is not None and min(steps) >= own - _as_good()):
            continue
        grade, free = _grade(skirt, min(steps))
        if grade:
            cloth = f"label.material.{material}"
            values = {"step": min(steps), "free": free, "cloth": cloth}
            code = f"check.{_LINING_CODES[grade]}"
            where = ".".join((hung[0].name, *hung[0].of_role(HEM)[:1]))
            yield Problem(code, severity_of(grade), where, values)


def _as_good() -> float:
    least: float = limits()["lining_step"]["less_than_skirt"]
    return least


def _inner_depths(skirt: Skirt, hung: Sequence[Paper]) -> Iterator[float]:
    """Depths below the waist at which an inner skirt is measured: down to its hem."""
    depth = skirt.body("waist_to_hip")
    hems = [paper.hem_below for paper in hung if paper.hem_below is not None]
    if depth is None or not hems:
        return
    lowest = depth + min(hems) - _JUST_ABOVE
    # Below the top of a vent its edges part.
    vents = [top for _, top in skirt.stated_at("lining_vent_top") if top > 0]
    lowest = min(lowest, *vents) if vents else lowest
    yield from (level for level, _ in skirt.levels if level < lowest)
    yield lowest


def _step_in(skirt: Skirt, hung: Sequence[Paper], depth: float) -> float | None:
    below = depth - skirt.worked.stated.measurements["waist_to_hip"]
    return _step_at(
        skirt, depth, sum(paper.times * paper.width_at(below) for paper in hung)
    )


# Vent, sitting, wrap


def _vent(skirt: Skirt) -> Iterator[Problem]:
    """A vent that begins below the narrowest place gives no room where it is needed.

    Where a free step is allowed there, none is.
    """
    steps = [
        (step, depth)
        for depth, girth in skirt.levels
        if _nears_knee(skirt, depth)
        and (step := _step_at(skirt, depth, girth)) is not None
    ]
    if not steps or not _grade(skirt, min(steps)[0])[0]:
        return
    for place, top in skirt.stated_at("vent_top"):
        if top > min(steps)[1] > 0:
            values = {"top": top, "narrowest": min(steps)[1]}
            yield Problem("check.vent_top", "caution", place, values)


def _sitting(skirt: Skirt) -> Iterator[Problem]:
    """A hem just over the knee rises when she sits."""
    length, knee = skirt.finished.get("length"), skirt.body("waist_to_knee")
    if length is None or knee is None:
        return
    limit = limits()["sitting"]
    if 0 <= knee - length < limit["over_knee"]:
        least, most = limit["rises"]
        values = {"over": knee - length, "least": least, "most": most}
        yield Problem("check.sitting", "note", "length", values)


def _overlaps(skirt: Skirt) -> Iterator[Problem]:
    """How far a wrap's fronts lie over each other, standing and at a step."""
    places = ("waist", "hip", "hem")
    found = {place: skirt.stated(f"overlap_{place}") for place in places}
    for place, overlap in found.items():
        if overlap is not None:
            values = {"overlap": overlap, "line": place}
            codes = {"wrong": "overlap_none"}
            where = "sweep" if place == HEM else place
            yield from finding("overlap", overlap, where, values, codes)
    hem, sweep = found[HEM], skirt.finished.get("sweep")
    length = skirt.finished.get("length")
    if hem is None or sweep is None or length is None or skirt.lower_body is None:
        return
    left = hem - max(_needed(skirt, "overlap_step", length) - sweep, 0.0)
    values = {"left": max(left, 0.0), "step": limits()["overlap_step"]["step"]}
    codes = {"strong": "overlap_opens"}
    yield from finding("overlap_step", left, "sweep", values, codes)
