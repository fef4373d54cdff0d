"""Each corner rule by numbers worked out on paper from plain geometry."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
import shapely
from outlines import polygon, skirt_front
from referee import xy

from skirtwright.draft.shapes.panel import panel_of
from skirtwright.geometry import Line, Point, heading, join, reflect, straight, turn
from skirtwright.geometry.arc import arc
from skirtwright.pieces.outline.allowance import cutting_line
from skirtwright.pieces.outline.hollows import _spots
from skirtwright.pieces.spec import AllowanceRun


def cut(panel, widths, folds=(), corners=None):
    runs = {name: (AllowanceRun(None, width),) for name, width in widths.items()}
    return cutting_line(panel, runs, folds, corners).ring


def has(ring, x, y, within=1e-6):
    return any(p.to(Point(x, y)) <= within for p in ring)


def corner_panel(turn_deg, one=200.0, two=200.0):
    """Edges a and b meet at the origin; b leaves turned left by `turn_deg`.

    a runs along x to the origin. The outline is closed far away, on the left.
    """
    end = heading(turn_deg) * two
    if turn_deg > 0:
        return polygon(
            (-one, 0), (0, 0), (end.x, end.y), (end.x - one - 50, end.y + 300)
        )
    low = end.y - 50
    return polygon(
        (-one, 0), (0, 0), (end.x, end.y), (end.x, low), (500, low), (500, 300),
        (-one, 300),
    )  # fmt: skip


def test_square_with_four_widths():
    ring = cut(
        polygon((0, 0), (100, 0), (100, 200), (0, 200)),
        {"a": 40, "b": 15, "c": 12, "d": 0},
    )
    assert {(round(p.x, 9), round(p.y, 9)) for p in ring} >= {
        (0, -40),
        (115, -40),
        (115, 212),
        (0, 212),
    }
    assert shapely.Polygon(xy(ring)).area == pytest.approx(115 * 252, abs=1e-9)


@pytest.mark.parametrize("turn_deg", [20.001, 45, 60, 90, 119.9])
def test_equal_widths_are_mitred(turn_deg):
    """The corner stands at width / cos(turn / 2): two widths at 120 degrees."""
    ring = cut(corner_panel(turn_deg), {"a": 10, "b": 10})
    tip = heading(-90 + turn_deg / 2) * (10 / math.cos(math.radians(turn_deg / 2)))
    assert has(ring, tip.x, tip.y)


@pytest.mark.parametrize("turn_deg", [121, 134, 150, 165])
def test_a_point_under_60_degrees_is_cut_off_beyond_the_stitching(turn_deg):
    """Square to the point, 6 mm beyond it."""
    ring = cut(corner_panel(turn_deg, 400, 400), {"a": 15, "b": 15})
    out = heading(turn_deg / 2 - 90)
    near = [p for p in ring if p.size() < 50]
    assert max(p.dot(out) for p in near) == pytest.approx(6, abs=1e-9)
    ends = [p for p in near if abs(p.dot(out) - 6) < 1e-9]
    assert len(ends) == 2
    # Each end lies on its own edge's line, 15 from the edge drawn on.
    half = math.radians((180 - turn_deg) / 2)
    for end in ends:
        assert abs(out.cross(end)) == pytest.approx(
            (15 - 6 * math.sin(half)) / math.cos(half)
        )


def test_a_narrow_point_is_left_whole():
    """At 59 degrees and 2.5 mm the corner ends 5.1 mm beyond the point: nothing off."""
    ring = cut(corner_panel(121), {"a": 2.5, "b": 2.5})
    tip = heading(-90 + 60.5) * (2.5 / math.cos(math.radians(60.5)))
    assert has(ring, tip.x, tip.y)


@pytest.mark.parametrize(("one", "two"), [(10, 30), (30, 10), (0, 25), (25, 0)])
@pytest.mark.parametrize("turn_deg", [0.5, 8, 15, 19.9])
def test_two_widths_at_a_slight_turn_make_a_square_step(one, two, turn_deg):
    ring = cut(corner_panel(turn_deg), {"a": one, "b": two})
    # Square to the seam of the wider one, from its own line to the narrower one's.
    square = Point(0, -1) if one > two else heading(turn_deg).right()
    low = min(one, two) / math.cos(math.radians(turn_deg))
    for height in (max(one, two), low):
        place = square * height
        assert has(ring, place.x, place.y)


def test_step_where_the_seam_turns_slightly_inwards():
    ring = cut(corner_panel(-10), {"a": 10, "b": 30})
    square = heading(-10).right()
    # The narrow line is cut where the wide end comes down to it.
    low = square * (10 / math.cos(math.radians(10)))
    assert has(ring, square.x * 30, square.y * 30)
    assert has(ring, low.x, low.y)


@pytest.mark.parametrize("turn_deg", [5, 15])
def test_equal_widths_at_a_slight_turn_are_joined_plainly(turn_deg):
    ring = cut(corner_panel(turn_deg), {"a": 12, "b": 12})
    tip = heading(-90 + turn_deg / 2) * (12 / math.cos(math.radians(turn_deg / 2)))
    assert has(ring, tip.x, tip.y)
    assert len([p for p in ring if p.size() < 20]) == 1


@pytest.mark.parametrize("turn_deg", [-5, -20, -45, -90, -120])
def test_inward_corners_are_trimmed_where_the_lines_cross(turn_deg):
    ring = cut(corner_panel(turn_deg, 400, 300), {"a": 15, "b": 15})
    half = turn_deg / 2
    meet = heading(-90 + half) * (15 / math.cos(math.radians(half)))
    assert has(ring, meet.x, meet.y, 1e-5)
    assert not has(ring, 0, -15, 0.1)


@pytest.mark.parametrize("turn_deg", [-30, -45, -60])
@pytest.mark.parametrize(("one", "two"), [(20, 10), (10, 20), (25, 5)])
def test_at_a_hollow_corner_the_wider_line_runs_on_to_the_narrower(turn_deg, one, two):
    """The top of a vent: where the lines y = -one and two outside b meet (geometry)."""
    ring = cut(corner_panel(turn_deg, 400, 300), {"a": one, "b": two})
    away, out = heading(turn_deg), heading(turn_deg).right()
    along = (-one - out.y * two) / away.y
    meet = out * two + away * along
    assert has(ring, meet.x, meet.y, 1e-5)
    assert len([p for p in ring if p.size() < 60]) == 1


def test_mitre_of_two_widths():
    """At 60 degrees: the lines y = -10 and 20 mm outside the second edge meet."""
    ring = cut(corner_panel(60), {"a": 10, "b": 20})
    # (x, -10) with (x, -10) . right of 60 degrees (0.866, -0.5) = 20.
    assert has(ring, (20 - 5) / math.cos(math.radians(30)), -10)


@pytest.mark.parametrize("lean_deg", [-12, -3, 0, 3, 12])
def test_neighbours_run_square_to_a_fold(lean_deg):
    """The fold stands on x = 0; the hem leaves it leaning up or down."""
    far = turn(Point(0, 0), lean_deg)(Point(300, 0))
    panel = panel_of(
        [
            ("fold", straight(Point(0, 400), Point(0, 0))),
            ("hem", straight(Point(0, 0), far)),
            ("side", straight(far, Point(300, 400))),
            ("waist", straight(Point(300, 400), Point(0, 400))),
        ]
    )
    ring = cut(panel, {"hem": 40, "side": 15, "waist": 12}, ["fold"])
    assert min(p.x for p in ring) == pytest.approx(0, abs=1e-9)
    assert has(ring, 0, 412)
    lean = math.radians(lean_deg)
    if lean_deg >= 0:
        # The end of the hem's line, square across to the fold.
        assert has(ring, 0, -40 * math.cos(lean))
    else:
        assert has(ring, 0, -40 / math.cos(lean))


def test_a_fold_between_two_allowances_is_drawn_on_straight():
    ring = cut(skirt_front(), {"waist": 12, "hem": 25, "side": 15}, ["centre_front"])
    assert has(ring, 0, 12)
    assert has(ring, 0, -990)


def flared(inner_deg, hem_deg=0.0):
    """A side seam that meets a hem at the lower right with an angle inside."""
    corner = Point(200, 0)
    up = corner + heading(180 - inner_deg + hem_deg) * 300
    left = corner + heading(180 + hem_deg) * 200
    return panel_of(
        [
            ("hem", straight(left, corner)),
            ("side", straight(up, corner)),
            ("waist", straight(left + Point(0, 250), up)),
            ("centre", straight(left + Point(0, 250), left)),
        ]
    )


@pytest.mark.parametrize("inner_deg", [60, 75, 90, 105, 120])
@pytest.mark.parametrize("hem_deg", [0.0, 13.0])
def test_turned_up_hem_lies_on_the_piece(inner_deg, hem_deg):
    """Folded up over the hem line, the hem's end lies on the seam's cutting line."""
    panel = flared(inner_deg, hem_deg)
    widths = {"hem": 40, "side": 15, "waist": 12, "centre": 10}
    ring = cut(panel, widths, corners={("hem", "end"): "mirror"})
    hem = panel.edge("hem").chain
    over = reflect(hem.start, hem.end)
    out = hem.end_direction.right()
    folded = [
        over(p)
        for p in ring
        if out.dot(p - hem.end) > 1e-6 and p.to(hem.end) < 100 and p.x > 150
    ]
    assert folded
    line = shapely.LinearRing(xy(ring))
    side = panel.edge("side").chain
    for place in folded:
        assert line.distance(shapely.Point(place.x, place.y)) < 1e-6
        assert side.nearest(place)[1] == pytest.approx(15, abs=1e-6)
    assert shapely.Polygon(xy(ring)).is_valid


def test_turned_up_curved_hem_and_curved_side():
    """Mirrored over the hem's tangent at the corner, within a flattened curve."""
    panel = skirt_front()
    widths = {"waist": 12, "side": 15, "hem": 25}
    ring = cut(panel, widths, ["centre_front"], {("hem", "end"): "mirror"})
    hem = panel.edge("hem").chain
    corner, along = hem.end, hem.end_direction
    over = reflect(corner, corner + along)
    below = [p for p in ring if along.right().dot(p - corner) > 1 and p.to(corner) < 45]
    assert below
    line = shapely.LinearRing(xy(ring))
    last = min(below, key=lambda p: -along.dot(p - corner))
    folded = over(last)
    assert line.distance(shapely.Point(folded.x, folded.y)) < 0.02
    assert hem.nearest(last)[1] >= 25 - 0.02


def test_zip_allowance_is_the_mirror_of_the_waist():
    """A slanted centre back: the allowance folded over it follows the waist's line."""
    slant = [Point(0, 0), Point(12, 220)]
    panel = panel_of(
        [
            ("centre_back", straight(slant[1], slant[0])),
            ("hem", straight(slant[0], Point(240, 0))),
            ("side", straight(Point(240, 0), Point(240, 235))),
            ("waist", straight(slant[1], Point(240, 235))),
        ]
    )
    widths = {"centre_back": 25, "waist": 12, "side": 15, "hem": 40}
    ring = cut(panel, widths, corners={("centre_back", "start"): "mirror"})
    over = reflect(*slant)
    top = max((p for p in ring if p.x < 0), key=lambda p: p.y)
    folded = over(top)
    assert panel.edge("waist").chain.nearest(folded)[1] == pytest.approx(12)
    assert panel.edge("centre_back").chain.nearest(folded)[1] > 24


def test_square_and_bevelled_corners():
    panel = polygon((0, 0), (100, 0), (220, 100), (0, 100))
    widths = {"a": 20, "b": 10, "c": 10, "d": 10}
    ring = cut(panel, widths, corners={("a", "end"): "square"})
    assert has(ring, 100, -20)
    assert has(ring, 100, -10 / Point(120, 100).unit().x)
    ring = cut(panel, widths, corners={("a", "end"): "bevel"})
    out = Point(120, 100).unit().right() * 10
    assert has(ring, 100, -20)
    assert has(ring, 100 + out.x, out.y)


def test_a_step_in_mid_edge_slants_by_45_degrees():
    """From 25 to 20 within the narrower run, 5 along for 5 across."""
    panel = polygon((0, 0), (0, -400), (200, -400), (200, 0))
    runs = {"a": (AllowanceRun(210, 25), AllowanceRun(None, 20))}
    ring = cutting_line(panel, runs).ring
    assert has(ring, -25, -210)
    assert has(ring, -20, -215)
    # The edge runs from the top: the wide run is above.
    assert has(ring, -25, 0)
    assert has(ring, -20, -400)


def test_dart_cap_folds_onto_the_waist():
    """Folded on its leg, the cap's cutting line lies on the waist's cutting line."""
    tip, left = Point(100, -90), Point(94, 0)
    right = reflect(tip, Point(100, 0))(left)
    # The cap is the waist folded over each leg as far as the dart's middle.
    waist_left = straight(Point(0, 0), left)
    cap = reflect(tip, left)(Point(80, 0))
    middle = left + (cap - left).unit() * ((100 - left.x) / (cap - left).unit().x)
    waist = join(
        [
            waist_left,
            straight(left, middle, right).taken_up("dart[1]"),
            straight(right, Point(200, 0)),
        ]
    )
    panel = panel_of(
        [
            ("waist", waist),
            ("side", straight(Point(200, 0), Point(200, -200))),
            ("hem", straight(Point(0, -200), Point(200, -200))),
            ("centre", straight(Point(0, 0), Point(0, -200))),
        ]
    )
    ring = cut(panel, {"waist": 12, "side": 15, "hem": 20})
    over = reflect(tip, left)
    peak = max(ring, key=lambda p: p.y)
    assert over(peak).y == pytest.approx(12, abs=1e-9)
    on_leg = [p for p in ring if abs((left - tip).unit().cross(p - tip)) < 1e-9]
    assert [p.y for p in on_leg if p.y > 0] == [pytest.approx(12)]


def turned_corner(inner_deg, facing, hem):
    """A hem along x that meets a facing's edge at the origin, and its cutting line."""
    up = heading(180 - inner_deg) * 400
    panel = panel_of(
        [
            ("hem", straight(Point(-300, 0), Point(0, 0))),
            ("facing", straight(up, Point(0, 0))),
            ("top", straight(Point(-300, up.y), up)),
            ("centre", straight(Point(-300, up.y), Point(-300, 0))),
        ]
    )
    widths = {"hem": hem, "facing": facing, "top": 12, "centre": 0}
    return panel, cut(panel, widths, corners={("hem", "end"): "mitre"})


@pytest.mark.parametrize("inner_deg", [80, 90, 104])
@pytest.mark.parametrize(("facing", "hem"), [(40, 40), (70, 30), (30, 55)])
def test_a_mitre_meets_along_one_line_when_both_are_turned_in(inner_deg, facing, hem):
    """Folded in over its own edge, each side of the mitre is the same line, 6 off.

    The line runs from the corner to where the two turned-in edges cross.
    """
    panel, ring = turned_corner(inner_deg, facing, hem)
    up = heading(180 - inner_deg)
    inner = Point(0, hem)
    # The facing's turned-in edge lies `facing` inside its fold.
    inner = inner + Point(-(facing + inner.dot(up.right())) / up.right().x, 0)
    seam = inner.unit()
    for fold, side in ((Point(1, 0), Point(0, -1)), (up, up.right())):
        over = reflect(Point(0, 0), fold)
        width = hem if side.y == -1 else facing
        ends = [p for p in ring if abs(p.dot(side) - width) < 1e-6 and p.size() < 150]
        (end,) = ends
        folded = over(end)
        assert abs(seam.cross(folded)) == pytest.approx(6, abs=1e-6)
    assert shapely.Polygon(xy(ring)).is_valid
    assert (
        shapely.Polygon(xy(ring))
        .buffer(1e-6)
        .contains(shapely.Polygon(xy(panel.ring())))
    )


def test_two_narrow_turnings_are_not_mitred():
    _, ring = turned_corner(90, 6, 6)
    assert has(ring, 6, -6)


def hollow_seam(radius, width):
    """The cutting line of an L whose inner corner is rounded."""
    middle = Point(300 + radius, 300 + radius)
    bend = arc(middle, Point(middle.x, 300), -90)
    inner = join(
        [
            straight(Point(600, 300), bend.start),
            bend,
            straight(bend.end, Point(300, 600)),
        ]
    )
    panel = panel_of(
        [
            ("a", straight(Point(0, 0), Point(600, 0), Point(600, 300))),
            ("b", inner),
            ("c", straight(Point(300, 600), Point(0, 600), Point(0, 0))),
        ]
    )
    return cutting_line(panel, {"b": (AllowanceRun(None, width),)})


@pytest.mark.parametrize(
    ("radius", "width", "left"),
    [(20, 15, 15), (20, 25, 16), (15, 25, 12), (29, 60, 23.2)],
)
def test_a_tight_hollow_takes_less(radius, width, left):
    """At most 0.8 of the radius, no less than an enclosed edge."""
    line = hollow_seam(radius, width)
    at_45 = Point(300 + radius, 300 + radius) - heading(45) * radius
    ring = shapely.LinearRing(xy(line.ring))
    assert ring.distance(shapely.Point(at_45.x, at_45.y)) == pytest.approx(
        left, abs=0.02
    )
    if left == width:
        assert line.hollows == {}
    else:
        assert line.hollows["b"].width == pytest.approx(left, abs=0.01)
        assert line.hollows["b"].radius == pytest.approx(radius, rel=2e-3)
    # Away from the hollow the allowance is whole again.
    assert has(line.ring, 300 + width, 600, 1e-3)


def test_the_tightest_hollow_takes_what_an_enclosed_edge_has():
    line = hollow_seam(5, 20)
    assert line.hollows["b"].width == 6
    assert shapely.Polygon(xy(line.ring)).is_valid
    # Beside it the seam has its 6 mm, where the plain line would stand 15 off.
    assert has(line.ring, 320, 600, 1e-3)
    ring = shapely.LinearRing(xy(line.ring))
    assert ring.distance(shapely.Point(305, 305)) < 8.5


def test_a_hollow_of_more_than_30_mm_keeps_its_allowance():
    assert hollow_seam(31, 25).hollows == {}


def test_a_hollow_is_looked_at_each_millimetre():
    """Along a straight seam beside it too, where the allowance widens again."""
    along = [spot.along for spot in _spots([Line(Point(0, 0), Point(40, 0))], 25)]
    assert max(b - a for a, b in pairwise(along)) == pytest.approx(1)
