"""Chains: walked distances, splitting, nearest places, arcs, meeting points."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from hypothesis import assume, given
from hypothesis import strategies as st

from skirtwright.geometry import (
    Chain,
    Cubic,
    Line,
    Point,
    bend_deg,
    curve,
    join,
    straight,
)
from skirtwright.geometry.apart import Lines
from skirtwright.geometry.arc import arc
from skirtwright.geometry.curves import (
    FULLEST,
    TIGHTEST,
    _tightest,
    fair_fullness,
    round_curve,
)
from skirtwright.geometry.meeting import line_meets, lines_meet, ray_meets
from skirtwright.geometry.roots import Quintic, cubic_roots

PLACE = st.floats(-300, 300).map(lambda v: round(v, 3))
POINT = st.builds(Point, PLACE, PLACE)


@st.composite
def chains(draw):
    """Three to six segments, some of them taken up by a dart."""
    here = draw(POINT)
    parts = []
    for number in range(draw(st.integers(3, 6))):
        there = draw(POINT)
        assume(here.to(there) > 5)
        if draw(st.booleans()):
            part = straight(here, there)
        else:
            part = curve([here, draw(POINT), draw(POINT), there])
        if number % 2 and draw(st.booleans()):
            part = part.taken_up("dart[1]")
        parts.append(part)
        here = there
    return join(parts)


@given(chains(), st.floats(0.01, 0.99))
def test_split_shares_the_walked_length(chain, share):
    distance = chain.length * share
    first, second = chain.split(distance)
    assert first.length == pytest.approx(distance, abs=1e-5)
    assert first.length + second.length == pytest.approx(chain.length, abs=1e-5)
    whole = first.paper_length + second.paper_length
    assert whole == pytest.approx(chain.paper_length, abs=1e-5)
    assert first.end.is_at(second.start)


@given(chains(), st.floats(0, 0.45), st.floats(0.55, 1))
def test_part_has_the_length_between(chain, low, high):
    part = chain.part(chain.length * low, chain.length * high)
    assert part.length == pytest.approx(chain.length * (high - low), abs=1e-5)
    assert part.start.to(chain.at(chain.length * low)) < 1e-4 or low == 0


@given(chains(), st.floats(0, 1))
def test_walked_the_other_way(chain, share):
    back = chain.reversed()
    assert back.length == pytest.approx(chain.length)
    assert back.reversed() == chain
    there = chain.at(chain.length * share)
    behind = back.at(back.length * (1 - share))
    folds = any(s.fold for s in chain.segments)
    # At a dart the two ways come to its two legs.
    assert folds or there.to(behind) < 1e-4


@given(chains(), POINT)
def test_nearest_against_shapely(chain, point):
    line = shapely.LineString([(p.x, p.y) for p in chain.flattened(1e-3)])
    gap = line.distance(shapely.Point(point.x, point.y))
    distance, found = chain.nearest(point)
    assert found == pytest.approx(gap, abs=5e-3)
    if not any(s.fold for s in chain.segments):
        assert chain.at(distance).to(point) == pytest.approx(found, abs=1e-5)


def test_a_dart_is_walked_shut():
    chain = join(
        [
            straight(Point(0, 0), Point(50, 0)),
            straight(Point(50, 0), Point(60, 5), Point(70, 0)).taken_up("dart[1]"),
            straight(Point(70, 0), Point(120, 0)),
        ]
    )
    assert chain.length == 100
    assert chain.at(60) == Point(80, 0)
    assert chain.nearest(Point(80, -3)) == (60, 3)
    first, second = chain.split(50)
    assert first.end == Point(50, 0)
    assert second.length == 50


@pytest.mark.parametrize("distance", [0, 100])
def test_splitting_at_an_end_leaves_nothing_there(distance):
    first, second = straight(Point(0, 0), Point(100, 0)).split(distance)
    assert (first is None) == (distance == 0)
    assert (second is None) == (distance == 100)


def test_chains_must_join():
    with pytest.raises(ValueError):
        join([straight(Point(0, 0), Point(1, 0)), straight(Point(2, 0), Point(3, 0))])
    with pytest.raises(ValueError):
        join([])
    with pytest.raises(ValueError):
        straight(Point(0, 0), Point(10, 0)).part(4, 4)


@pytest.mark.parametrize("sweep_deg", [1, 30, 30.5, 90, -135, 270, 360])
@pytest.mark.parametrize("radius", [5, 80, 900])
def test_arcs_are_round(sweep_deg, radius):
    centre = Point(12, -7)
    made = arc(centre, centre + Point(radius, 0), sweep_deg)
    assert made.length == pytest.approx(radius * math.radians(abs(sweep_deg)), rel=1e-6)
    for i in range(51):
        place = made.at(made.length * i / 50)
        assert place.to(centre) == pytest.approx(radius, rel=4e-7)
    angle = math.radians(sweep_deg)
    end = centre + Point(math.cos(angle), math.sin(angle)) * radius
    assert made.end.to(end) < 1e-9 * radius + 1e-9


def test_fair_curve_is_an_arc_where_one_fits():
    made = round_curve(Point(100, 0), Point(0, 1), Point(0, 100), Point(-1, 0))
    for i in range(11):
        place = made.at(made.length * i / 10)
        assert place.size() == pytest.approx(100, rel=3e-4)
    level = round_curve(Point(0, 0), Point(1, 0), Point(50, 0), Point(1, 0))
    assert level == Chain((Line(Point(0, 0), Point(50, 0)),))
    assert bend_deg(made.start_direction, Point(0, 1)) == pytest.approx(0)


@given(chains(), POINT, POINT)
def test_meeting_places_against_shapely(chain, first, second):
    assume(first.to(second) > 20)
    line = shapely.LineString([(p.x, p.y) for p in chain.flattened(1e-3)])
    cut = shapely.LineString([(first.x, first.y), (second.x, second.y)])
    found = line_meets(first, second, chain)
    for place in found:
        there = shapely.Point(place.x, place.y)
        assert line.distance(there) < 2e-3
        assert cut.distance(there) < 1e-6
    # One that shapely sees well within both is found.
    for there in getattr(line.intersection(cut), "geoms", ()):
        ends = shapely.MultiPoint([*line.coords[:1], *line.coords[-1:], *cut.coords])
        if there.geom_type == "Point" and ends.distance(there) > 0.1:
            near = [p for p in found if p.to(Point(there.x, there.y)) < 2]
            grazing = line.intersection(cut.buffer(0.01)).length > 0.2
            assert near or grazing


@pytest.mark.parametrize("roots", [(0.2, 0.5, 0.9), (-3.0, 0.0, 40.0), (1.0, 2.0, 3.0)])
def test_a_cubic_has_the_three_roots_it_is_made_of(roots):
    assert sorted(cubic_roots(*np.poly(roots))) == pytest.approx(roots, abs=1e-9)


def test_what_lies_apart_of_a_line_is_found_from_where_it_leaves_another():
    """0.25 mm is seen; a line of 300 that turns off by 40 mm at its middle."""
    lines = Lines([[Point(-150, 7), Point(150, 7)]])
    assert list(lines.apart([Point(-150, 7.2), Point(150, 7.2)])) == []
    (run,) = lines.apart([Point(-150, 7), Point(0, 7), Point(150, 47)])
    assert run[0].x == pytest.approx(0, abs=3)
    assert run[-1].is_at(Point(150, 47))


def test_the_fullness_that_is_fair_is_the_nearest_to_the_wanted():
    """A quarter turn of 100 mm, fuller than a circle: its middle bends ever tighter."""

    def turn(fullness):
        reach = 100 * fullness
        return Cubic(
            Point(0, 0), Point(0, reach), Point(100 - reach, 100), Point(100, 100)
        )

    found = fair_fullness(turn, FULLEST)
    assert _tightest(turn(found)) == pytest.approx(TIGHTEST, abs=0.01)


def test_rays_and_lines():
    box = straight(Point(0, 0), Point(10, 0), Point(10, 10), Point(0, 10))
    assert ray_meets(Point(5, 5), Point(0, 1), box) == [Point(5, 10)]
    assert ray_meets(Point(5, 5), Point(-1, 0), box) == []
    # Where one ends they meet, and not a ten thousandth of a millimetre beyond.
    rod = straight(Point(0, 0), Point(400, 0))
    assert ray_meets(Point(400, -5), Point(0, 1), rod) == [Point(400, 0)]
    assert ray_meets(Point(400.0001, -5), Point(0, 1), rod) == []
    assert line_meets(Point(5, -5), Point(5, 0), rod) == [Point(5, 0)]
    assert line_meets(Point(5, -5), Point(5, -0.0001), rod) == []
    assert line_meets(Point(5, -0.0001), Point(5, -5), rod) == []
    meet = lines_meet(Point(0, 0), Point(1, 1), Point(10, 0), Point(-1, 1))
    assert meet == Point(5, 5)
    assert lines_meet(Point(0, 0), Point(1, 1), Point(1, 0), Point(2, 2)) is None


@given(st.lists(st.floats(-5, 5).map(lambda v: round(v, 3)), min_size=2, max_size=6))
def test_the_roots_of_a_quintic_are_roots(terms):
    """Against numpy, which the program does not use at run time."""
    value = max(abs(term) for term in terms)
    assume(abs(terms[0]) > 0.01)
    found = Quintic(*[0.0] * (6 - len(terms)), *terms).roots_within()
    for root in found:
        assert 0 <= root <= 1
        assert abs(np.polyval(terms, root)) < 1e-6 * max(value, 1)
    for root in np.roots(terms):
        # A simple root well inside is found.
        if abs(root.imag) < 1e-12 and 0.01 < root.real < 0.99:
            steep = abs(np.polyval(np.polyder(terms), root.real))
            assert steep < 1e-2 or min(abs(t - root.real) for t in found) < 1e-6
