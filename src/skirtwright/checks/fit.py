"""Checks of the skirt against her body: measurements, ease, getting in."""

from __future__ import annotations

import math
from collections.abc import Iterator

from skirtwright.checks.checked_skirt import Skirt
from skirtwright.checks.limits import finding, limits
from skirtwright.geometry.tolerance import OUTLINE
from skirtwright.problems import Problem


def fit_checks(skirt: Skirt) -> Iterator[Problem]:
    """What there is to say of the skirt as it sits on her."""
    yield from _measurements(skirt)
    yield from _waist(skirt)
    yield from _hip(skirt)
    yield from _sitting_hip(skirt)
    yield from _top_hip(skirt)
    yield from _thighs(skirt)
    yield from _openings(skirt)
    yield from _elastic(skirt)


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
    check = "waist_roomy_pleats" if skirt.stated("pleats") else "waist_roomy"
    codes = {"note": "waist_roomy"}
    yield from finding(check, ease, "waist", values, codes)
    if not skirt.stated("elastic"):
        codes = {"caution": "waist_under_body", "strong": "waist_far_under_body"}
        yield from finding("waist_close", ease, "waist", values, codes)


def _hip(skirt: Skirt) -> Iterator[Problem]:
    """Hip ease, or the stretch it asks of the cloth, and the hip that was asked for."""
    finished, body = skirt.finished.get("hip"), skirt.body("hip")
    if finished is None or body is None:
        return
    stretch = skirt.stated("stretch")
    if stretch:
        yield from _stretched(finished, body, stretch)
    else:
        codes = {"strong": "hip_under_body", "caution": "hip_tight"}
        values = {"ease": finished - body, "hip": finished}
        codes["note"] = "hip_close"
        yield from finding("ease_at_hip", finished - body, "hip", values, codes)
    asked = skirt.stated("hip_asked")
    if asked is not None:
        off = abs(finished - asked)
        values = {"hip": finished, "asked": asked, "off": off}
        yield from finding("hip_length", off, "hip", values)


def _stretched(hip: float, body: float, stretch: float) -> Iterator[Problem]:
    """What the hip asks of a cloth that stretches, as a share of what it can give."""
    need = max(body / hip - 1, 0.0)
    values = {"hip": hip, "need": need, "stretch": stretch, "body": body}
    codes = {"strong": "hip_past_stretch"}
    yield from finding("hip_stretch", need / stretch, "hip", values, codes)


def _sitting_hip(skirt: Skirt) -> Iterator[Problem]:
    """The hip against hers sitting, where that was taken."""
    seated, hip = skirt.taken("seated_hip"), skirt.finished.get("hip")
    if seated is not None and hip is not None:
        over = hip * _give(skirt) - seated
        values = {"hip": hip, "seated": seated, "lack": -over}
        yield from finding("seated_hip", over, "hip", values)


def _give(skirt: Skirt) -> float:
    """How many times its girth the skirt reaches: what its cloth gives with ease."""
    share: float = limits()["hip_stretch"]["over"]["note"]
    return 1 + share * (skirt.stated("stretch") or 0.0)


def _top_hip(skirt: Skirt) -> Iterator[Problem]:
    """The girth halfway between waist and hip over the body's, where it was taken."""
    body, depth = skirt.taken("top_hip"), skirt.body("waist_to_hip")
    girth = skirt.girth_at(-depth / 2) if body and depth else None
    if body is None or girth is None:
        return
    over = girth * _give(skirt) - body
    values = {"girth": girth, "body": body, "ease": over}
    codes = {"strong": "top_hip_under_body"}
    yield from finding("top_hip", over, "top_hip", values, codes)


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
    yield from finding("thigh", girth * _give(skirt) / need, "hip", values, codes)


# Getting in


def _openings(skirt: Skirt) -> Iterator[Problem]:
    hip = skirt.body("hip")
    openings = list(skirt.stated_at("opening_depth"))
    if hip is None or not openings:
        return
    opened = [(place, depth) for place, depth in openings if depth > 0]
    for place, depth in opened[:1]:
        # Both edges of a centre are told of where left and right differ.
        yield from _opening(skirt, place, depth, hip)
    if not opened and skirt.waist is not None:
        bands = (length for _, length in skirt.stated_at("band_length"))
        widest = min(skirt.waist, *bands, math.inf) * _give(skirt)
        values = {"waist": widest, "hip": hip, "over": widest - hip}
        # Walked along straight steps a waist comes out shorter, by no more than this.
        yield from finding("no_opening", widest - hip + OUTLINE, "waist", values)


def _elastic(skirt: Skirt) -> Iterator[Problem]:
    """How far the elastic must stretch to pass the hip.

    Not at all where an opening reaches the hip line; a shorter one is taken to spread
    as wide as it is deep, and what lies flat at the waist does not stretch.
    """
    hip, elastic = skirt.body("hip"), skirt.stated("elastic_length")
    if not (hip and elastic):
        return
    spread = _short_opening(skirt)
    if spread is not None:
        flat = sum(
            skirt.stated(f"waist_flat_{body}") or 0.0 for body in ("front", "back")
        )
        need = hip + limits()["elastic_stretch"]["over_hip"] - flat - spread
        values = {"elastic": elastic, "need": need, "ratio": need / elastic}
        yield from finding("elastic_stretch", need / elastic, "waist", values)


def _short_opening(skirt: Skirt) -> float | None:
    """Depth of an opening that ends over the hip, 0 for none; None of one that is long.

    One whose edge has no hip line is no matter of this check.
    """
    opened = [each for each in skirt.stated_at("opening_depth") if each[1] > 0]
    if not opened:
        return 0.0
    place, depth = opened[0]
    below = _below_hip(skirt, place, depth)
    short = limits()["opening_short"]["over"]["note"]
    return depth if below is not None and -below > short else None


def _below_hip(skirt: Skirt, place: str, depth: float) -> float | None:
    """How far a depth down an edge lies under the hip line; None without one."""
    piece, _, edge = place.partition(".")
    paper = skirt.papers.get(piece)
    if paper is None or paper.hip is None or edge not in paper.edges:
        return None
    return paper.hip.below(paper.edges[edge].at(depth))


def _opening(skirt: Skirt, place: str, depth: float, hip: float) -> Iterator[Problem]:
    """The foot of an opening, `depth` down an edge, against the body's hip."""
    below = _below_hip(skirt, place, depth)
    if below is None:
        return
    girth = skirt.girth_at(below)
    if girth is not None:
        girth *= _give(skirt)
        values = {"girth": girth, "hip": hip, "over": girth - hip, "depth": depth}
        yield from finding("opening", girth - hip, place, values)
    over = {"over": -below, "depth": depth, "would_do": depth - below}
    yield from finding("opening_short", -below, place, over)
