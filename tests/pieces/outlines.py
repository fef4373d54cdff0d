"""Outlines for the tests: random ones, and a skirt front of usual size."""

from __future__ import annotations

import math
from dataclasses import replace

from hypothesis import assume
from hypothesis import strategies as st

from skirtwright.draft.shapes.panel import Dart, Panel, panel_of
from skirtwright.geometry import (
    Chain,
    Cubic,
    Point,
    bend_deg,
    curve,
    heading,
    join,
    straight,
)
from skirtwright.geometry.ring import crossing
from skirtwright.pieces.outline.hollows import RADIUS


def polygon(*corners, names="abcdefgh"):
    """A panel of straight edges named a, b, c and so on."""
    points = [Point(x, y) for x, y in corners]
    ends = points[1:] + points[:1]
    sides = zip(points, ends, strict=True)
    return panel_of(
        [(name, straight(*side)) for name, side in zip(names, sides, strict=False)]
    )


def bowed(start, end, bulge, skew):
    """A curved side; `bulge` is to the right of the way, in shares of its length."""
    along = end - start
    out = along.right()
    return Chain(
        (
            Cubic(
                start,
                start + along * (1 / 3 + skew) + out * bulge[0],
                start + along * (2 / 3 + skew) + out * bulge[1],
                end,
            ),
        )
    )


@st.composite
def random_panels(draw, least=3, most=6, tightest=RADIUS):
    """Panels of 3 to 6 edges, 30 to 70 cm across, most sides curved both ways."""
    count = draw(st.integers(least, most))
    share = st.floats(-0.25, 0.25).map(lambda v: round(v, 3))
    corners = []
    for number in range(count):
        angle = 360 * (number + draw(st.floats(-0.25, 0.25))) / count
        radius = draw(st.floats(150, 350))
        corners.append(heading(angle) * radius)
    sides = []
    for start, end in zip(corners, corners[1:] + corners[:1], strict=True):
        kind = draw(st.sampled_from(["straight", "bowed", "two"]))
        side = straight(start, end)
        if kind == "bowed":
            side = bowed(start, end, (draw(share), draw(share)), draw(share) / 2)
        elif kind == "two":
            middle = start.between(end, 0.5)
            one, two = draw(share), draw(share)
            # Two curves that meet with one direction, as after a slash is eased.
            along = end - start
            lean = along * 0.2 + along.right() * one
            side = join(
                [
                    curve([start, start.between(middle, 0.4), middle - lean, middle]),
                    curve([middle, middle + lean * 0.8, end + along.left() * two, end]),
                ]
            )
        sides.append(("abcdef"[len(sides)], side))
    panel = panel_of(sides)
    ring = panel.ring(0.001)
    assume(crossing(ring) is None)
    assume(all(_corner_deg(panel, i) > 15 for i in range(count)))
    # Tighter hollows take less allowance on purpose: they have tests of their own.
    assume(tightest_hollow(panel) > tightest)
    return panel


def tightest_hollow(panel):
    """The least radius of what is hollow in an outline, mm, looked at closely."""
    radii = (
        _hollow_radius(segment, i / 120)
        for segment in panel.outline.segments
        if isinstance(segment, Cubic)
        for i in range(121)
    )
    return min(radii, default=math.inf)


def _hollow_radius(cubic, t):
    """Speed cubed by the turning, from the curve as a sum of powers (school form)."""
    p, q, r, s = cubic.start, cubic.control1, cubic.control2, cubic.end
    speed, turning = [], []
    for a, b, c, d in ((p.x, q.x, r.x, s.x), (p.y, q.y, r.y, s.y)):
        three, two, one = d - 3 * c + 3 * b - a, 3 * (c - 2 * b + a), 3 * (b - a)
        speed.append(3 * three * t * t + 2 * two * t + one)
        turning.append(6 * three * t + 2 * two)
    hollow = turning[0] * speed[1] - turning[1] * speed[0]
    size = math.hypot(*speed)
    return size**3 / hollow if hollow > 1e-9 and size > 1e-6 else math.inf


def _corner_deg(panel, index):
    """The angle between two edges at a corner, on the narrower side."""
    before, after = panel.edges[index - 1].ringwise, panel.edges[index].ringwise
    return 180 - abs(bend_deg(before.end_direction, after.start_direction))


def skirt_front() -> Panel:
    """Half a skirt front: 24 cm wide, 95 long, flared below the knee, one dart."""
    tip = Point(88, -95)
    left, right, cap = Point(80, 2), Point(94, 3), Point(86.5, 6.5)
    waist = join(
        [
            curve([Point(0, 0), Point(25, 0), Point(55, 0.8), left]),
            straight(left, cap, right).taken_up("dart[1]"),
            curve([right, Point(120, 5), Point(150, 9), Point(185, 15)]),
        ]
    )
    side = join(
        [
            curve(
                [Point(185, 15), Point(205, -60), Point(240, -120), Point(240, -200)]
            ),
            curve(
                [Point(240, -200), Point(240, -330), Point(222, -450), Point(222, -520)]
            ),
            curve(
                [Point(222, -520), Point(222, -560), Point(235, -600), Point(250, -650)]
            ),
            straight(Point(250, -650), Point(334, -930)),
        ]
    )
    hem = curve([Point(0, -965), Point(150, -965), Point(270, -949), Point(334, -930)])
    fold = straight(Point(0, 0), Point(0, -965))
    edges = [
        ("waist", waist),
        ("side", side),
        ("hem", hem),
        ("centre_front", fold),
    ]
    panel = panel_of(edges).with_mark(
        "hip", straight(Point(0, -200), Point(240, -200)), "hip"
    )
    return replace(panel, darts=(Dart("dart[1]", "waist", tip),))
