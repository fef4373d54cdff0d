"""Room to walk: the step a skirt allows (plain geometry).

Legs meet at hip-joint height h. At height z over the floor, with step S, they stand
s = S (h - z) / h apart, and a skirt needs girth 2 root(s^2 + b^2) + g there, with g
the leg's girth at z as the figure has it, and b how far apart the legs stand beside
each other: the greater of 71 mm (Murray 1970) and g / pi. Turned round, that gives the
step of a girth. Under the ankle g is the ankle's: no foot lies flat within a hem at
the floor, it is lifted as she steps.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from functools import cache

from skirtwright import shelf
from skirtwright.figure.body import Body


@cache
def rules() -> Mapping[str, float]:
    """The shares and lengths of resources/stride.json (lengths mm)."""
    read = shelf.read_json("stride.json")
    return {name: float(value) for name, value in read.items() if name != "sources"}


def girth_needed(step: float, height_over_floor: float, body: Body) -> float:
    """Girth a skirt needs at a height for a step, mm."""
    joint = rules()["hip_joint"] * body.stature
    leg = body.leg_girth(height_over_floor)
    spread = step * (joint - height_over_floor) / joint
    return 2 * math.hypot(spread, _apart(leg)) + leg


def step_allowed(girth: float, height_over_floor: float, body: Body) -> float | None:
    """The step a girth allows at a height over the floor, mm; 0 when none.

    None at or above the crotch, where legs do not part, and under the floor.
    """
    joint = rules()["hip_joint"] * body.stature
    if not 0 <= height_over_floor < min(body.crotch, joint * 0.98):
        return None
    leg = body.leg_girth(height_over_floor)
    half = (girth - leg) / 2
    apart = _apart(leg)
    if half <= apart:
        return 0.0
    spread = math.sqrt(half * half - apart * apart)
    return spread * joint / (joint - height_over_floor)


def free_step(stature: float) -> float:
    """A step that no skirt hinders, mm."""
    return rules()["free_step"] * stature


def _apart(leg: float) -> float:
    return max(rules()["apart"], leg / math.pi)
