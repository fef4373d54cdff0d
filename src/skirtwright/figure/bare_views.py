"""The figure without a skirt as polylines in mm: front, side, back.

Seen from a little above, so that level rings show as flat curves. x runs right on the
picture, y up from the floor. Lines lie over one another in the order they come.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from functools import lru_cache
from itertools import pairwise

from skirtwright.figure.body import Body, Section
from skirtwright.figure.drawn_figure import (
    FROM_ABOVE,
    WAYS,
    Kind,
    Line,
    Picture,
    Place,
    View,
)
from skirtwright.figure.oval import Oval
from skirtwright.figure.proportions import proportions

_STEP = 14.0
"""Heights at which the body's outline is drawn, mm apart."""

_CURVED = 8


def bare(body: Body, view: View) -> Picture:
    """The figure without a skirt, with the sections that lie open."""
    return tuple(figure(body, view, math.inf))


def figure(body: Body, view: View, below: float) -> Iterator[Line]:
    """Floor, body, and those of its sections that lie under a height."""
    half = 0.18 * body.stature
    yield Line("floor", ((-half, 0.0), (half, 0.0)))
    yield Line("body", _silhouette(body, view))
    for section in body.sections:
        if section.name not in ("crotch", "floor") and section.height < below:
            yield from _section(section, view)


def _section(section: Section, view: View) -> Iterator[Line]:
    """The near half of a section's rings."""
    (right_x, right_y), (near_x, near_y) = WAYS[view]
    heights = (
        [section.height] if len(section.ovals) == 1 else [section.left, section.right]
    )
    kind: Kind = "guessed" if section.guessed else "taped"
    for oval, height in zip(section.ovals, heights, strict=True):
        if view == "side" and oval is not section.ovals[0]:
            continue
        aslant = (
            (section.left - section.right) / (oval.left + oval.right)
            if len(section.ovals) == 1
            else 0.0
        )
        near = [
            (
                x * right_x + y * right_y,
                height + aslant * (x - oval.x) - FROM_ABOVE * (x * near_x + y * near_y),
            )
            for x, y in oval.ring()[::2]
            if (x - oval.x) * near_x + (y - oval.y) * near_y > -1e-6
        ]
        yield Line(kind, tuple(sorted(near)))


@lru_cache(maxsize=16)
def _silhouette(body: Body, view: View) -> tuple[Place, ...]:
    """The outline of the whole body, clockwise from the neck."""
    first = list(_torso_profile(body, view, 1.0))
    second = list(_torso_profile(body, view, -1.0))
    crotch = body.crotch
    steps = max(round(crotch / _STEP), 2)
    heights = [crotch * (1 - i / steps) for i in range(steps + 1)]
    legs = [(height, body.legs(height)) for height in heights]
    if view == "side":
        out = [(max(_reach(o, view, 1.0) for o in two), z) for z, two in legs]
        back = [(-max(_reach(o, view, -1.0) for o in two), z) for z, two in legs]
        return (*first, *out, *reversed(back), *reversed(second))
    one, other = (0, 1) if view == "front" else (1, 0)
    outer = [(_reach(two[one], view, 1.0), z) for z, two in legs]
    inner = [(-_reach(two[one], view, -1.0), z) for z, two in legs[1:]]
    within = [(_reach(two[other], view, 1.0), z) for z, two in legs[1:]]
    beyond = [(-_reach(two[other], view, -1.0), z) for z, two in legs]
    top = ((inner[0][0] + within[0][0]) / 2, crotch)
    return (
        *first,
        *outer,
        *reversed(inner),
        top,
        *within,
        *reversed(beyond),
        *reversed(second),
    )


def _reach(oval: Oval, view: View, sign: float) -> float:
    """How far an oval reaches to the right of the picture, or to the left, mm."""
    (x, y), _ = WAYS[view]
    middle = sign * (oval.x * x + oval.y * y)
    if view == "side":
        return middle + oval.depth
    return middle + (oval.left if sign * x > 0 else oval.right)


def _torso_profile(body: Body, view: View, sign: float) -> Iterator[Place]:
    """From the neck down to where the legs part, on one side of the picture."""
    waist = body.section("waist")
    for x, up in _above(body, view, sign):
        yield x, waist.height + up + _aslant(waist, view, sign, up / body.stature * 4)
    span = waist.height - body.crotch
    steps = max(round(span / _STEP), 2)
    for i in range(1, steps):
        height = waist.height - i / steps * span
        oval = body.torso(height)
        yield sign * _reach(oval, view, sign), _on_side(body, view, sign, height)


def _on_side(body: Body, view: View, sign: float, height: float) -> float:
    """A height over the crotch as it is on her left, or on her right."""
    if view == "side":
        return height
    left = (sign > 0) == (view == "front")
    whole = body.sections[:4]
    for above, below in pairwise(whole):
        if height >= below.height:
            share = (height - below.height) / (above.height - below.height)
            high, low = (each.left if left else each.right for each in (above, below))
            return low + (high - low) * share
    return height


def _aslant(waist: Section, view: View, sign: float, away: float) -> float:
    """How much higher a side of the picture lies for a waist that lies aslant."""
    if view == "side":
        return 0.0
    left = sign if view == "front" else -sign
    return left * (waist.left - waist.right) / 2 * max(1 - away, 0.0)


def _above(body: Body, view: View, sign: float) -> list[Place]:
    """From the neck to the waist, on one side of the picture: for the eye alone."""
    oval = body.section("waist").ovals[0]
    stature = body.stature
    way = "half" if view != "side" else "front" if sign < 0 else "back"
    first = oval.depth if view == "side" else (oval.left + oval.right) / 2
    # A wider waist goes on upwards for a while.
    wide = max((oval.left + oval.right) / 2 / (0.078 * stature), 1.0)
    points = [(sign * first, 0.0)]
    for row in proportions()["above"]:
        broad = wide if row["up"] < 0.2 else 1.0
        points.append((sign * row[way] * stature * broad, row["up"] * stature))
    return _curved(points)[::-1]


def _curved(points: Sequence[Place]) -> list[Place]:
    """A smooth line through points (E. Catmull and R. Rom, 1974)."""
    known = [points[0], *points, points[-1]]
    found = []
    for before, start, end, after in zip(
        known, known[1:], known[2:], known[3:], strict=False
    ):
        for i in range(_CURVED):
            t = i / _CURVED
            found.append(
                tuple(
                    b
                    + (c - a) * t / 2
                    + (2 * a - 5 * b + 4 * c - d) * t * t / 2
                    + (3 * b - a - 3 * c + d) * t**3 / 2
                    for a, b, c, d in zip(before, start, end, after, strict=True)
                )
            )
    return [*((x, y) for x, y in found), points[-1]]
