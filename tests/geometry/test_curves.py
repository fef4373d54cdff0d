"""Length, area and offset of random cubics, to 1e-6.

The referees are scipy (quadrature), fontTools (areas and lengths of outlines) and
shapely (distances); none of them is used by the program for this.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from fontTools.misc.bezierTools import calcCubicArcLength
from fontTools.pens.areaPen import AreaPen
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.integrate import quad

from skirtwright.geometry import Cubic, Line, Point, bend_deg, reflect, shift, turn
from skirtwright.geometry.chain import Chain
from skirtwright.geometry.curves import tightest_bend
from skirtwright.geometry.ring import area_of_chain
from skirtwright.geometry.segment import _NODES

PLACE = st.floats(-500, 500).map(lambda v: round(v, 4))
POINT = st.builds(Point, PLACE, PLACE)
CUBIC = st.builds(Cubic, POINT, POINT, POINT, POINT)


def step(cubic, t):
    p, q, r, s = cubic.start, cubic.control1, cubic.control2, cubic.end
    u = 1 - t
    return (q - p) * (3 * u * u) + (r - q) * (6 * u * t) + (s - r) * (3 * t * t)


def speed(cubic, t):
    return step(cubic, t).size()


def slowest(cubic):
    """The least speed and all slow places: where a curve nearly stops, told to scipy.

    Quadrature would step over them.
    """
    points = (cubic.start, cubic.control1, cubic.control2, cubic.end)
    p, q, r, e = (np.array([v.x, v.y]) for v in points)
    terms = np.array([e - 3 * r + 3 * q - p, 3 * (r - 2 * q + p), 3 * (q - p)])
    xs, ys = np.polyder([*terms[:, 0], 0.0]), np.polyder([*terms[:, 1], 0.0])
    squared = np.polyadd(np.polymul(xs, xs), np.polymul(ys, ys))
    found = np.roots(np.polyder(squared))
    slow = [float(t.real) for t in found if abs(t.imag) < 1e-9 and 0 < t.real < 1]
    return min(speed(cubic, t) for t in [0, *slow, 1]), sorted(slow)


def whole_length(cubic, high=1.0):
    _, slow = slowest(cubic)
    points = [t for t in slow if 0 < t < high] or None
    found, _ = quad(
        lambda t: speed(cubic, t),
        0,
        high,
        epsabs=1e-9,
        epsrel=1e-12,
        limit=400,
        points=points,
    )
    return found


@given(CUBIC)
def test_length_against_scipy(cubic):
    assume(slowest(cubic)[0] > 1)
    assert cubic.length == pytest.approx(whole_length(cubic), rel=1e-6)


@settings(max_examples=30)
@given(CUBIC)
def test_length_against_fonttools(cubic):
    assume(slowest(cubic)[0] > 1)
    points = [
        (p.x, p.y) for p in (cubic.start, cubic.control1, cubic.control2, cubic.end)
    ]
    theirs = calcCubicArcLength(*points, tolerance=1e-7)
    assert cubic.length == pytest.approx(theirs, rel=1e-6)


@given(st.lists(CUBIC, min_size=1, max_size=5))
def test_area_against_fonttools(cubics):
    """Closed by straight lines; fontTools works the same integral its own way."""
    pen = AreaPen()
    segments = []
    pen.moveTo((cubics[0].start.x, cubics[0].start.y))
    for number, cubic in enumerate(cubics):
        if number:
            segments.append(Line(segments[-1].end, cubic.start))
            pen.lineTo((cubic.start.x, cubic.start.y))
        segments.append(cubic)
        pen.curveTo(*((p.x, p.y) for p in (cubic.control1, cubic.control2, cubic.end)))
    segments.append(Line(segments[-1].end, cubics[0].start))
    pen.closePath()
    ours = area_of_chain(Chain(tuple(segments)))
    assert ours == pytest.approx(pen.value, rel=1e-6, abs=1e-3)


@given(CUBIC, st.floats(0.02, 0.98), st.floats(0.1, 60))
def test_offset_places_against_shapely(cubic, share, width):
    """A place offset along the normal is no further from the curve than the width.

    And exactly that where the curve bends too gently to be nearer elsewhere.
    """
    assume(slowest(cubic)[0] > 1)
    seam = cubic.at(cubic.length * share)
    out = cubic.direction_at(cubic.length * share).right()
    place = seam + out * width
    line = shapely.LineString(
        [(p.x, p.y) for p in [cubic.start, *cubic.flattened(1e-4)]]
    )
    gap = line.distance(shapely.Point(place.x, place.y))
    assert gap <= width + 2e-4
    nearest = cubic.point_at_parameter(cubic.nearest_parameter(place))
    assert nearest.to(place) == pytest.approx(gap, abs=2e-3)


@given(CUBIC, st.sampled_from([0.5, 0.05, 0.02, 0.001]))
def test_flattening_keeps_its_bound(cubic, tolerance):
    points = [cubic.start, *cubic.flattened(tolerance)]
    line = shapely.LineString([(p.x, p.y) for p in points])
    gaps = shapely.distance(
        line,
        shapely.points(
            [
                (p.x, p.y)
                for p in (cubic.point_at_parameter(i / 300) for i in range(301))
            ]
        ),
    )
    assert max(gaps) <= tolerance + 1e-9


@given(CUBIC, st.floats(0.01, 0.99))
def test_split_keeps_length_and_line(cubic, share):
    assume(slowest(cubic)[0] > 1)
    distance = cubic.length * share
    first, second = cubic.split(distance)
    assert first.length == pytest.approx(distance, abs=1e-6)
    assert first.length + second.length == pytest.approx(cubic.length, abs=1e-6)
    assert first.end.is_at(second.start)
    assert abs(bend_deg(first.end_direction, second.start_direction)) < 1e-4


@given(CUBIC, st.floats(0.001, 1))
def test_parameter_at_answers_length(cubic, share):
    assume(slowest(cubic)[0] > 1)
    t = cubic.parameter_at(cubic.length * share)
    walked = whole_length(cubic, t)
    assert walked == pytest.approx(cubic.length * share, abs=1e-5)
    way = cubic.direction_at(cubic.length * share)
    assert abs(bend_deg(way, step(cubic, t).unit())) < 1e-5


@pytest.mark.parametrize("degree", range(16))
def test_lengths_are_summed_exactly_to_degree_fifteen(degree):
    """As eight places of Gauss and Legendre do: else curves are halved for long."""
    summed = sum(weight * node**degree for node, weight in _NODES)
    assert summed == pytest.approx(1 / (degree + 1), rel=1e-14)


@given(CUBIC, POINT, st.floats(-180, 180))
def test_motions_keep_lengths(cubic, about, angle):
    moved = cubic.moved(turn(about, angle))
    assert moved.length == pytest.approx(cubic.length, abs=1e-6)
    assert turn(about, angle)(about).is_at(about)
    assert shift(about)(cubic.end).is_at(cubic.end + about)
    assume(about.to(Point(0, 0)) > 1)
    over = reflect(Point(0, 0), about)
    assert over.turns_over()
    twice = cubic.moved(over).moved(over)
    assert twice.control1.to(cubic.control1) < 1e-6


@pytest.mark.parametrize(
    "cubic",
    [
        Cubic(Point(0, 0), Point(0, 0), Point(100, 0), Point(100, 0)),
        Cubic(Point(0, 0), Point(100, 0), Point(0, 0), Point(100, 0)),
        Cubic(Point(0, 0), Point(0, 0), Point(0, 100), Point(100, 100)),
    ],
)
def test_odd_handles(cubic):
    """Handles of no length, and a line that goes back along itself."""
    found, _ = quad(
        lambda t: speed(cubic, t), 0, 1, points=[1 / 3, 0.5, 2 / 3], limit=200
    )
    assert cubic.length == pytest.approx(found, rel=1e-6)
    assert cubic.start_direction.size() == pytest.approx(1)
    assert math.isfinite(cubic.nearest_parameter(Point(50, 20)))


@pytest.mark.parametrize("is_bent_first", [True, False])
@pytest.mark.parametrize("bend", [(12, 16), (16, 12)])
def test_flattening_takes_the_steps_its_bound_asks_for_and_no_more(bend, is_bent_first):
    """Root of 6 x 20 / (8 x 0.15) = 10: one second difference is 20 mm, one none."""
    even = [Point(100 + 10 * n, 70 + 5 * n) for n in range(3)]
    cubic = Cubic(*even, even[2] + Point(10, 5) + Point(*bend))
    way = cubic.reversed() if is_bent_first else cubic
    assert len(way.flattened(0.15)) == 10


@pytest.mark.parametrize(
    ("places", "radius"),
    [
        ([(3, -2), (74, -14), (80, -15)], 1.5 * 13**1.5 / 106),
        ([(6, 1), (77, 13), (80, 15)], 1.5 * 13**1.5 / 106),
        ([(72, -2), (77, -2), (82, 0)], 13.809),
    ],
)
def test_a_tight_bend_is_found_wherever_it_is(places, radius):
    """At the ends 3/2 of a leg cubed by what both span; between by small steps."""
    cubic = Cubic(Point(0, 0), *(Point(*place) for place in places))
    found = tightest_bend(Chain((cubic,)), within=radius * 1.01)
    assert found == pytest.approx(radius, rel=2e-3)
