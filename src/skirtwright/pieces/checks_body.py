"""Checks of the skirt on her: ease, getting in, walking, the floor."""

from __future__ import annotations

from collections.abc import Iterator

from skirtwright.draft.step import Reads
from skirtwright.pieces.checks_limits import (
    finding,
    graded,
    graver,
    limits,
    severity_of,
)
from skirtwright.pieces.checks_skirt import Skirt
from skirtwright.pieces.striding import free_step, girth_needed
from skirtwright.problems import Problem, SkirtwrightError


def body_checks(skirt: Skirt) -> Iterator[Problem]:
    """What there is to say of the skirt as it is worn."""
    yield from _measurements(skirt)
    yield from _waist(skirt)
    yield from _hip(skirt)
    yield from _thighs(skirt)
    yield from _openings(skirt)
    yield from _elastic(skirt)
    yield from _walking(skirt)
    yield from _floor(skirt)
    yield from _wearer(skirt)


def _measurements(skirt: Skirt) -> Iterator[Problem]:
    waist, hip = skirt.taken("waist"), skirt.taken("hip")
    if waist and hip and hip > waist:
        values = {"difference": hip - waist}
        yield from finding("hip_less_waist", hip - waist, "waist", values)
    height, depth = skirt.taken("height"), skirt.taken("waist_to_hip")
    if height and depth:
        values = {"depth": depth, "height": height}
        yield from finding("depth_share", depth / height, "waist_to_hip", values)


# Ease


def _waist(skirt: Skirt) -> Iterator[Problem]:
    finished, body = skirt.finished.get("waist"), skirt.body("waist")
    if finished is None or body is None:
        return
    ease = finished - body
    values = {"ease": ease, "under": -ease, "waist": finished}
    yield from finding("waist_roomy", ease, "waist", values)
    if not skirt.stated("elastic"):
        codes = {"caution": "waist_under_body", "strong": "waist_far_under_body"}
        yield from finding("waist_close", ease, "waist", values, codes)


def _hip(skirt: Skirt) -> Iterator[Problem]:
    """Hip ease in woven cloth on the straight, and the hip that was asked for."""
    finished, body = skirt.finished.get("hip"), skirt.body("hip")
    if finished is None or body is None:
        return
    codes = {"strong": "hip_under_body", "caution": "hip_tight", "note": "hip_close"}
    values = {"ease": finished - body, "hip": finished}
    yield from finding("ease_at_hip", finished - body, "hip", values, codes)
    asked = skirt.stated("hip_asked")
    if asked is not None:
        off = abs(finished - asked)
        values = {"hip": finished, "asked": asked, "off": off}
        yield from finding("hip_length", off, "hip", values)


def _thighs(skirt: Skirt) -> Iterator[Problem]:
    """Both thighs together, a little below the hip line."""
    limit = limits()["thigh"]
    thigh = skirt.body("thigh")
    girth = skirt.girth_at(limit["below"]) if thigh else None
    if thigh is None or girth is None:
        return
    need = limit["share"] * thigh
    values = {"girth": girth, "need": need, "below": limit["below"], "thigh": thigh}
    codes = {"strong": "thigh_under_body"}
    yield from finding("thigh", girth / need, "hip", values, codes)


# Getting in


def _openings(skirt: Skirt) -> Iterator[Problem]:
    hip = skirt.body("hip")
    openings = list(skirt.stated_at("opening_depth"))
    if hip is None or not openings:
        return
    opened = [(place, depth) for place, depth in openings if depth > 0]
    for place, depth in opened:
        yield from _opening(skirt, place, depth, hip)
    if not opened and skirt.waist is not None:
        values = {"waist": skirt.waist, "hip": hip, "over": skirt.waist - hip}
        yield from finding("no_opening", skirt.waist - hip, "waist", values)


def _elastic(skirt: Skirt) -> Iterator[Problem]:
    """How far the elastic must stretch to pass the hip."""
    hip, elastic = skirt.body("hip"), skirt.stated("elastic_length")
    if hip and elastic:
        need = hip + limits()["elastic_stretch"]["over_hip"]
        values = {"elastic": elastic, "need": need, "ratio": need / elastic}
        yield from finding("elastic_stretch", need / elastic, "waist", values)


def _opening(skirt: Skirt, place: str, depth: float, hip: float) -> Iterator[Problem]:
    """The foot of an opening, `depth` down an edge, against the body's hip."""
    piece, _, edge = place.partition(".")
    paper = skirt.papers.get(piece)
    if paper is None or paper.hip is None or edge not in paper.edges:
        return
    below = paper.hip.below(paper.edges[edge].at(depth))
    girth = skirt.girth_at(below)
    if girth is not None:
        values = {"girth": girth, "hip": hip, "over": girth - hip, "depth": depth}
        yield from finding("opening", girth - hip, place, values)
    over = {"over": -below, "depth": depth, "would_do": depth - below}
    yield from finding("opening_short", -below, place, over)


# Walking


def _walking(skirt: Skirt) -> Iterator[Problem]:
    step = skirt.finished.get("step_allowed")
    if step is None:
        return
    height = skirt.taken("height")
    free = limits()["step"]["under"]["note"]
    grade = graded("step", step)
    if height:
        free = free_step(skirt.worked.stated.measurements)
        grade = graver(grade, graded("step_share", step / free))
    codes = {
        "strong": "step_very_short",
        "caution": "step_short",
        "note": "step_less_than_free",
    }
    if grade:
        values = {"step": step, "free": free}
        code = f"check.{codes[grade]}"
        yield Problem(code, severity_of(grade), "step_allowed", values)
    if grade in ("", "note"):
        # A shorter step has said so already, with stairs.
        yield from _stairs(skirt)


def _stairs(skirt: Skirt) -> Iterator[Problem]:
    """Where the skirt is narrowest: room over what a plain step needs."""
    body = skirt.worked.stated.measurements
    length, knee = skirt.finished.get("length"), body.get("waist_to_knee")
    if length is None or knee is None or length <= knee:
        return
    spare = []
    for level in skirt.worked.draft.stride:
        try:
            girth = skirt.worked.read(level.girth, Reads.LENGTH)
            depth = skirt.worked.read(level.below_waist, Reads.LENGTH)
        except SkirtwrightError:
            return
        over_floor = body["waist_to_floor_side"] - depth
        need = girth_needed(limits()["stairs"]["step"], over_floor, body)
        spare.append((girth - need, girth, need))
    if spare:
        least, girth, need = min(spare)
        values = {"spare": least, "girth": girth, "need": need}
        codes = {"caution": "stairs_tight"}
        yield from finding("stairs", least, "step_allowed", values, codes)


# The floor


def _floor(skirt: Skirt) -> Iterator[Problem]:
    """How far the hem clears the floor at the side and in front, in the shoes worn."""
    ways = [
        ("side", skirt.finished.get("length"), skirt.body("waist_to_floor_side")),
        ("front", skirt.stated("front_length"), skirt.body("waist_to_floor_front")),
    ]
    clear = [
        (floor - length, way)
        for way, length, floor in ways
        if length is not None and floor is not None
    ]
    if not clear:
        return
    least, way = min(clear)
    codes = {"strong": "hem_on_floor", "caution": "hem_near_floor", "note": "hem_low"}
    grade = "strong" if least <= 0 else graded("clearance", least)
    if grade:
        values = {
            "clear": max(least, 0.0),
            "over": max(-least, 0.0),
            "way": f"check.at_{way}",
        }
        code = f"check.{codes[grade]}"
        yield Problem(code, severity_of(grade), "length", values)


def _wearer(skirt: Skirt) -> Iterator[Problem]:
    """Cautions of law and of bitter experience, when the data can tell."""
    train = skirt.stated("train")
    if train:
        yield Problem("check.train", "caution", "length", {"train": train})
    height = skirt.taken("height")
    if height and (skirt.stated("elastic") or skirt.stated("cords")):
        yield from finding("child", height, "waist", {"height": height})
    if skirt.stated("nightwear"):
        yield Problem("check.nightwear", "caution", "length", {})
