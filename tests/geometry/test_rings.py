"""Rings: area, what lies inside, crossings, and areas joined; shapely as referee."""

from __future__ import annotations

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from skirtwright.geometry import Point, heading
from skirtwright.geometry.area import gaps, union_ring
from skirtwright.geometry.ring import (
    area_of_points,
    crossed_at,
    crossing,
    holds,
    lie_apart,
    lies_on,
    without_repeats,
    without_spikes,
    without_straights,
)

PLACE = st.floats(-100, 100).map(lambda v: round(v, 1))
POINTS = st.lists(st.builds(Point, PLACE, PLACE), min_size=3, max_size=12)


def ring(*places):
    return [Point(x, y) for x, y in places]


def polygon(points):
    return shapely.Polygon([(p.x, p.y) for p in points])


@settings(max_examples=50)
@given(POINTS)
def test_crossing_agrees_with_shapely(points):
    points = without_repeats(points)
    if len(points) < 3:
        return
    simple = shapely.LinearRing([(p.x, p.y) for p in points]).is_simple
    place = crossing(points)
    assert (place is None) == simple
    if place:
        line = shapely.LinearRing([(p.x, p.y) for p in points])
        assert line.distance(shapely.Point(place.x, place.y)) < 1e-6


@pytest.mark.parametrize(
    "points",
    [
        ring((0, 0), (10, 10), (10, 0), (0, 10)),
        # A corner that lies on another side.
        ring((0, 0), (10, 0), (10, 10), (5, 0), (0, 10)),
        # A side passes exactly through a corner.
        ring((0, 0), (20, 0), (20, 20), (10, 10), (0, 20), (-5, 10), (15, 10), (-9, 5)),
        # A side doubles back on the one before.
        ring((0, 0), (10, 0), (10, 10), (10, 5), (0, 10)),
    ],
)
def test_rings_that_are_not_simple(points):
    assert crossing(points) is not None


@pytest.mark.parametrize(
    ("other", "apart"),
    [
        # In the mouth of the hook, and through its back; then within it, and round it.
        (ring((3, 3), (9, 3), (9, 7), (3, 7)), True),
        (ring((1, 3), (9, 3), (9, 7), (1, 7)), False),
        (ring((0.5, 0.5), (1.5, 0.5), (1.5, 1.5)), False),
        (ring((-5, -5), (15, -5), (15, 15), (-5, 15)), False),
        (
            ring((0, 0), (10, 0), (10, 2), (2, 2), (2, 8), (10, 8), (10, 10), (0, 10)),
            False,
        ),
    ],
)
def test_rings_that_have_no_place_in_common(other, apart):
    """Plain geometry: what else lies by a hook of 10 mm that is 2 mm wide."""
    hook = ring((0, 0), (10, 0), (10, 2), (2, 2), (2, 8), (10, 8), (10, 10), (0, 10))
    assert lie_apart(hook, other) == lie_apart(other, hook) == apart


def test_a_long_simple_ring():
    points = [heading(i) * (100 + 20 * (i % 2)) for i in range(360)]
    assert crossing(points) is None
    assert area_of_points(points) == pytest.approx(polygon(points).area)


@given(POINTS, st.builds(Point, PLACE, PLACE))
def test_holds_agrees_with_shapely(points, place):
    area = polygon(points)
    if (
        not area.is_valid
        or area.boundary.distance(shapely.Point(place.x, place.y)) < 1e-6
    ):
        return
    assert holds(points, place) == area.contains(shapely.Point(place.x, place.y))


def test_repeats_and_straights_are_left_out():
    points = ring((0, 0), (0, 1e-8), (5, 0), (10, 0), (10, 10), (0, 10), (0, 5), (0, 0))
    assert without_straights(without_repeats(points)) == ring(
        (0, 0), (10, 0), (10, 10), (0, 10)
    )


def test_a_gentle_curve_keeps_its_points():
    points = [heading(i / 10) * 5000 for i in range(100)] + [Point(0, 0)]
    assert len(without_straights(points)) == len(points)


def test_points_that_hardly_differ_do_not_take_a_corner_away():
    crowd = [Point(100 + i * 2e-7, i * 1e-6) for i in range(12)]
    points = [*crowd, Point(90, 50), Point(0, 0), Point(90, -50)]
    kept = without_straights(points)
    assert area_of_points(kept) == pytest.approx(area_of_points(points), rel=1e-6)


def test_areas_joined():
    joined = union_ring(
        [
            ring((0, 0), (10, 0), (10, 10), (0, 10)),
            ring((10, 10), (10, 0), (20, 0), (20, 10)),
            ring((3, 3), (3, 3), (4, 4)),
        ]
    )
    assert area_of_points(joined) == pytest.approx(200)
    # A part that crosses itself counts as what it covers.
    crossed = union_ring([ring((0, 0), (10, 10), (10, 0), (0, 10))])
    assert area_of_points(crossed) == pytest.approx(25)
    with pytest.raises(ValueError):
        union_ring([])


def test_gaps():
    square = ring((0, 0), (10, 0), (10, 10), (0, 10))
    assert gaps(square, [Point(5, 5), Point(5, 12), Point(0, 5)]) == [5, 2, 0]


@given(POINTS, st.builds(Point, PLACE, PLACE))
def test_on_a_ring_is_where_shapely_measures_no_gap(points, place):
    (gap,) = gaps(points, [place])
    if abs(gap - 2.0) > 1e-6:
        assert lies_on(points, place, 2.0) == (gap <= 2.0)


@pytest.mark.parametrize("tall", [1, 3])
def test_a_needle_that_pierces_one_side_is_found(tall):
    """The side runs from 100 back to 44, after one from 40; the needle stands at 75."""
    lower = [(40, -20), (100, -20), (44, 0), (45, 40)]
    needle = [(74, 40), (75, -15), (76, 40)]
    around = [(140, 40), (140, -40), (40, -40)]
    points = ring(*((x, tall * y) for x, y in (*lower, *needle, *around)))
    assert crossing(points) is not None
    points[5] = Point(75, tall * 35)
    assert crossing(points) is None


def test_a_way_out_and_straight_back_is_left_out():
    square = [Point(0, 0), Point(10, 0), Point(10, 10), Point(0, 10)]
    spiked = [*square[:3], Point(10.004, 10), Point(10.002, 10), Point(10.004, 10)]
    assert without_spikes(square) == square
    assert without_spikes([*square[:3], Point(10.004, 10), *square[2:]]) == square
    assert without_spikes([*spiked, *square[2:]]) == square


def test_crossings_of_a_level_line_tell_inside_as_holds_does():
    star = [Point(0, 0), Point(9, 7), Point(4, 7), Point(12, -3), Point(2, 10)]
    for height in (-3.0, -1.0, 0.0, 3.3, 7.0, 9.9, 10.0):
        xs = crossed_at(star, height)
        assert xs == sorted(xs)
        for n in range(-4, 54):
            right = sum(x > n / 4 for x in xs)
            assert holds(star, Point(n / 4, height)) == bool(right % 2)
