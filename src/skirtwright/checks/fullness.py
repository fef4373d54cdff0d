"""Checks of cloth that is drawn in or laid in: gathers, pleats, the circle's share."""

from __future__ import annotations

import math
from collections.abc import Iterator

from skirtwright.checks.checked_skirt import Skirt
from skirtwright.checks.limits import finding, graded, limits, severity_of
from skirtwright.checks.measured_outline import WAIST
from skirtwright.problems import Problem


def fullness_checks(skirt: Skirt) -> Iterator[Problem]:
    """What there is to say of gathers, pleats and a part of a circle."""
    yield from _gathers(skirt)
    yield from _pleats(skirt)
    yield from _circle(skirt)


def _gathers(skirt: Skirt) -> Iterator[Problem]:
    heavy = bool(skirt.stated("heavy"))
    for seam, ratio in skirt.stated_at("gathers"):
        values = {"ratio": ratio}
        found = list(finding("gathers", ratio, seam, values))
        if heavy and all(problem.severity == "note" for problem in found):
            found = list(finding("gathers_heavy", ratio, seam, values)) or found
        yield from found


def _pleats(skirt: Skirt) -> Iterator[Problem]:
    """Whole pleats fill the waist, and waist and what lies under them the cloth."""
    count, shows = skirt.stated("pleats"), skirt.stated("pleat_shows")
    under = skirt.stated("pleat_under")
    if not count or shows is None or under is None:
        return
    values = {"count": count, "shows": shows, "under": under, "lack": -under}
    if abs(count - round(count)) > limits()["pleat_count"]["over"]["wrong"]:
        yield Problem("check.pleat_count", "wrong", "waist", values)
        return
    if under < 0:
        yield Problem("check.pleat_negative", "wrong", "waist", values)
        return
    folded, cloth = _along_waist(skirt)
    if folded:
        for found, asked in ((folded, count * shows), (cloth, count * (shows + under))):
            off = abs(found - asked)
            said = values | {"found": found, "asked": asked, "off": off}
            yield from finding("pleat_sum", off, "waist", said)
    depth = skirt.stated("pleat_depth")
    if depth is not None:
        said = values | {"depth": depth}
        yield from finding("pleat_layers", depth - shows, "waist", said)


def _along_waist(skirt: Skirt) -> tuple[float, float]:
    """The waist on paper with its pleats folded, and the cloth along it, mm."""
    folded = cloth = 0.0
    for paper in skirt.shell:
        for name in paper.of_role(WAIST):
            edge = paper.edges[name]
            folded += paper.times * edge.length
            cloth += paper.times * edge.open_length
    return folded, cloth


def _circle(skirt: Skirt) -> Iterator[Problem]:
    """The part of a circle against the least one that still goes round her hip."""
    share = skirt.stated("circle_share")
    waist, hip, depth = (skirt.body(n) for n in ("waist", "hip", "waist_to_hip"))
    if not share or not (waist and hip and depth):
        return
    limit = limits()["circle_share"]
    # What drops from a waist of W to a hip of H over D spreads by 2 pi of the share.
    least, eased = (
        (hip + more - waist) / (2 * math.pi * depth)
        for more in (limit["least_over_hip"], limit["over_hip"])
    )
    grade = "strong" if share < least else graded("circle_share", share / eased)
    if grade:
        codes = {"strong": "circle_under_hip", "caution": "circle_tight"}
        values = {"share": share, "least": eased, "hip": hip}
        code = f"check.{codes.get(grade, 'circle_share')}"
        yield Problem(code, severity_of(grade), "hip", values)
