"""Room to walk: the step a skirt allows (plain geometry).

Legs meet at hip-joint height h. At height z over the floor, with step S, they stand
s = S (h - z) / h apart, and a skirt needs girth 2 root(s^2 + b^2) + g there, with g
the leg's girth at z and b how far apart the legs stand beside each other: the greater
of 71 mm (Murray 1970) and g / pi. Turned round, that gives the step of a girth.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from functools import cache
from itertools import pairwise

from skirtwright import shelf


@cache
def rules() -> Mapping[str, float]:
    """The shares and lengths of resources/stride.json (lengths mm)."""
    read = shelf.read_json("stride.json")
    return {name: float(value) for name, value in read.items() if name != "sources"}


def leg_girth(height_over_floor: float, body: Mapping[str, float]) -> float:
    """Girth of one leg at a height over the floor, mm.

    Straight between ankle, calf, knee and thigh (the thigh at hip-joint height).

    Args:
        height_over_floor: mm.
        body: measurements, mm: height, waist_to_floor_side, waist_to_knee, thigh,
            knee, calf.
    """
    share = rules()
    stature = body["height"]
    known = sorted(
        (
            (share["ankle_height"] * stature, share["ankle"] * stature),
            (share["calf_height"] * stature, body["calf"]),
            (body["waist_to_floor_side"] - body["waist_to_knee"], body["knee"]),
            (share["hip_joint"] * stature, body["thigh"]),
        )
    )
    if height_over_floor <= known[0][0]:
        return known[0][1]
    for (low, low_girth), (high, high_girth) in pairwise(known):
        if height_over_floor <= high:
            part = (height_over_floor - low) / (high - low) if high > low else 1.0
            return low_girth + (high_girth - low_girth) * part
    return known[-1][1]


def girth_needed(
    step: float, height_over_floor: float, body: Mapping[str, float]
) -> float:
    """Girth a skirt needs at a height for a step, mm."""
    joint = rules()["hip_joint"] * body["height"]
    leg = leg_girth(height_over_floor, body)
    spread = step * (joint - height_over_floor) / joint
    return 2 * math.hypot(spread, _apart(leg)) + leg


def step_allowed(
    girth: float, height_over_floor: float, body: Mapping[str, float]
) -> float | None:
    """The step a girth allows at a height over the floor, mm; 0 when none.

    None at or above the hip joint, where legs do not part, and under the floor.
    """
    joint = rules()["hip_joint"] * body["height"]
    if not 0 <= height_over_floor < joint * 0.98:
        return None
    leg = leg_girth(height_over_floor, body)
    half = (girth - leg) / 2
    apart = _apart(leg)
    if half <= apart:
        return 0.0
    spread = math.sqrt(half * half - apart * apart)
    return spread * joint / (joint - height_over_floor)


def free_step(body: Mapping[str, float]) -> float:
    """A step that no skirt hinders, mm."""
    return rules()["free_step"] * body["height"]


def _apart(leg: float) -> float:
    return max(rules()["apart"], leg / math.pi)
