"""Cutting lines as wholes, with shapely as the referee."""

from __future__ import annotations

import math

import pytest
import shapely
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from outlines import polygon, random_panels, skirt_front
from referee import body, judge, xy

from skirtwright.draft.shapes.panel import panel_of
from skirtwright.geometry import Point, area, curve, heading, join, straight
from skirtwright.geometry.arc import arc
from skirtwright.geometry.ring import crossing
from skirtwright.geometry.tolerance import FLAT, OUTLINE
from skirtwright.pieces.outline.allowance import cutting_line, runs_of
from skirtwright.pieces.outline.hollows import LEAST, RADIUS, SHARE
from skirtwright.pieces.spec import AllowanceRun
from skirtwright.problems import BadInput

WIDTH = st.one_of(st.floats(0, 60), st.sampled_from([0.0, 10.0, 15.0, 40.0]))


def even(width):
    return (AllowanceRun(None, width),)


@settings(
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much],
)
@given(random_panels(), st.lists(WIDTH, min_size=6, max_size=6))
def test_every_edge_has_its_allowance(panel, chosen):
    """Simple, holds the stitching line, and each edge its distance."""
    widths = {e.name: w for e, w in zip(panel.edges, chosen, strict=False)}
    line = cutting_line(panel, {name: even(w) for name, w in widths.items()})
    assert judge(panel, widths, line) == []
    assert crossing(line.ring) is None


@settings(
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much],
)
@given(random_panels(tightest=0.0), st.lists(WIDTH, min_size=6, max_size=6))
def test_tight_hollows_keep_the_line_whole(panel, chosen):
    """Simple, holds the stitching line, and never wider than was asked."""
    widths = {e.name: w for e, w in zip(panel.edges, chosen, strict=False)}
    line = cutting_line(panel, {name: even(w) for name, w in widths.items()})
    cut = shapely.Polygon(xy(line.ring))
    assert cut.is_valid
    assert body(panel).difference(cut.buffer(FLAT + 0.001)).is_empty
    for name, hollow in line.hollows.items():
        assert hollow.radius < RADIUS
        assert hollow.width < widths[name]
        assert hollow.width >= min(widths[name], max(SHARE * hollow.radius, LEAST))


@settings(
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much],
)
@given(
    random_panels(),
    st.lists(WIDTH, min_size=6, max_size=6),
    st.lists(WIDTH, min_size=6, max_size=6),
    st.floats(0.1, 0.9),
    st.sampled_from(["mirror", "mitre", "square", "bevel"]),
)
def test_steps_and_corner_rules_keep_the_line_whole(panel, one, two, share, rule):
    runs = {
        edge.name: (AllowanceRun(edge.chain.length * share, w), AllowanceRun(None, v))
        for edge, w, v in zip(panel.edges, one, two, strict=False)
    }
    corners = {("a", "end"): rule, ("c", "start"): rule}
    cut = shapely.Polygon(xy(cutting_line(panel, runs, (), corners).ring))
    assert cut.is_valid
    assert body(panel).difference(cut.buffer(FLAT + 0.001)).is_empty


@pytest.mark.parametrize("width", [6.0, 15.0, 40.0])
def test_even_allowance_is_the_mitred_buffer(width):
    """shapely's own mitred buffer of the finely flattened outline, same area."""
    panel = skirt_front()
    line = cutting_line(panel, {e.name: even(width) for e in panel.edges})
    ours = shapely.Polygon(xy(line.ring))
    theirs = body(panel).buffer(width, join_style="mitre", mitre_limit=2.5)
    assert ours.area == pytest.approx(theirs.area, abs=ours.length * FLAT)
    # shapely leaves out hollow points nearer than a hundredth of the width.
    assert ours.symmetric_difference(theirs).buffer(-0.06).is_empty


def test_skirt_front_is_exact():
    widths = {"waist": 12.0, "side": 15.0, "hem": 25.0, "centre_front": 0.0}
    line = cutting_line(skirt_front(), {k: even(w) for k, w in widths.items()})
    assert judge(skirt_front(), widths, line) == []
    assert line.short == {}


def hollow(radius):
    """A square with a half circle cut into its upper side."""
    left, right = Point(150 - radius, 300), Point(150 + radius, 300)
    top = join(
        [
            straight(Point(300, 300), right),
            arc(Point(150, 300), right, -180),
            straight(left, Point(0, 300)),
        ]
    )
    return panel_of(
        [
            ("a", straight(Point(0, 0), Point(300, 0))),
            ("b", straight(Point(300, 0), Point(300, 300))),
            ("c", top),
            ("d", straight(Point(0, 300), Point(0, 0))),
        ]
    )


def test_allowance_wider_than_a_hollow():
    """Radius 20, allowance 30: the hollow closes; the short place is named."""
    panel = hollow(20)
    line = cutting_line(panel, {"c": even(30)})
    # Of an arc in cubics the radius is true to a thousandth.
    assert line.hollows["c"].radius == pytest.approx(20, rel=1e-3)
    assert line.hollows["c"].width == pytest.approx(0.8 * 20, rel=1e-3)
    cut = shapely.Polygon(xy(line.ring))
    assert cut.is_valid
    assert cut.contains(body(panel).buffer(-FLAT))
    assert max(p.y for p in line.ring) == pytest.approx(330, abs=1e-6)
    # With a hollow of 90 and 30 there is room for all of it.
    wide = cutting_line(hollow(90), {"c": even(30)})
    assert wide.short == {}
    theirs = body(hollow(90)).buffer(30, join_style="mitre", mitre_limit=2.5)
    box = shapely.box(100, 215, 200, 325)
    ours = shapely.Polygon(xy(wide.ring)).intersection(box)
    assert ours.area == pytest.approx(theirs.intersection(box).area, abs=3)


def test_both_sides_of_a_narrow_slot():
    """20 wide, 15 wanted on both sides: the line stays whole, and it is said."""
    panel = polygon(
        (0, 0), (300, 0), (300, 400), (160, 400), (160, 100), (140, 100), (140, 400),
        (0, 400),
    )  # fmt: skip
    line = cutting_line(panel, {"d": even(15), "f": even(15)})
    cut = shapely.Polygon(xy(line.ring))
    assert cut.is_valid
    assert cut.contains(body(panel).buffer(-FLAT))
    assert set(line.short) == {"d", "f"}
    # 10 each fill the slot; 4 each leave 12 of it open.
    clear = cutting_line(panel, {"d": even(4), "f": even(4)})
    assert clear.short == {}
    assert shapely.Polygon(xy(clear.ring)).area == pytest.approx(
        panel.area + 2 * 4 * 300, abs=1e-6
    )


def test_runs_are_walked_with_darts_shut():
    chain = skirt_front().edge("waist").chain
    runs = runs_of(chain, (AllowanceRun(100.0, 12), AllowanceRun(None, 20)))
    assert [width for _, width in runs] == [12, 20]
    assert runs[0][0].length == pytest.approx(100, abs=1e-6)
    assert runs[0][0].paper_length > 110


@pytest.mark.parametrize("runs", [(), (AllowanceRun(5000, 12),)])
def test_runs_may_be_missing_or_too_long(runs):
    parts = runs_of(skirt_front().edge("hem").chain, runs)
    assert [w for _, w in parts] == ([12] if runs else [0.0])


@pytest.mark.parametrize("width", [-1.0, math.nan, math.inf])
def test_widths_that_are_none(width):
    with pytest.raises(BadInput) as caught:
        cutting_line(skirt_front(), {"hem": even(width)})
    assert caught.value.problem.code == "pieces.bad_allowance"
    assert caught.value.problem.where == "hem"


def test_no_allowance_at_all_is_the_outline():
    panel = skirt_front()
    line = cutting_line(panel, {})
    assert shapely.Polygon(xy(line.ring)).symmetric_difference(body(panel)).area < 40
    assert judge(panel, dict.fromkeys(("waist", "side", "hem"), 0.0), line) == []


def rounded(corners, lower):
    """A six-sided panel whose fifth edge is two curves in one direction."""
    points = [Point(x, y) for x, y in corners]
    sides = [straight(points[i], points[(i + 1) % 6]) for i in range(6)]
    sides[4] = join([curve([Point(x, y) for x, y in part]) for part in lower])
    return panel_of(list(zip("abcdef", sides, strict=True)))


def test_no_strip_is_lost_when_areas_are_joined():
    """Found by hypothesis: rounding left a crack, and a whole strip fell off."""
    low, end = (21.74999999999997, -190.9586015344687), (132.0, -228.63070659909178)
    start = (-88.50000000000009, -153.2864964698456)
    panel = rounded(
        [
            (150, 0),
            (75.00000000000001, 129.9038105676658),
            (-153.24999999999994, 265.43678625993044),
            (-296.1640625, 0),
            start,
            end,
        ],
        [
            [start, (-44.4, -168.355338495695), (-22.35, -175.889759508619), low],
            [low, (57.03, -203.013675155148), (113.163947467688, -283.755706599), end],
        ],
    )
    widths = dict(zip("abcdef", [0.0, 0.0, 31.0, 0.0, 56.0, 0.0], strict=True))
    line = cutting_line(panel, {name: even(w) for name, w in widths.items()})
    assert judge(panel, widths, line) == []
    assert line.short == {}


def test_no_spike_is_left_where_areas_touch():
    """Found by hypothesis: a crack of 2e-14 mm between a strip and its corner."""
    y = -129.90381056766577
    panel = rounded(
        [(150, 0), (75, -y), (-75, -y), (-285, 0), (-75, y), (75, y)],
        [
            [(-75, y), (-45, y), (-30, y), (0, y)],
            [(0, y), (24, y), (75, y + 37.5), (75, y)],
        ],
    )
    widths = dict(zip("abcdef", [0.0, 0.0, 0.0, 1.0, 11.0, 0.0], strict=True))
    line = cutting_line(panel, {name: even(w) for name, w in widths.items()})
    assert crossing(line.ring) is None
    assert judge(panel, widths, line) == []


@pytest.mark.parametrize("bow", [-1.0, 1.0], ids=["hollow", "full"])
@pytest.mark.parametrize("turn_deg", [-0.015, -0.04, -0.09])
def test_curves_that_turn_in_by_a_hair_need_no_areas(turn_deg, bow, monkeypatch):
    """At a dart's cap: both lines are cut back to where they cross, on both of them."""

    def refuse(_):
        raise AssertionError("the line crosses itself")

    monkeypatch.setattr(area, "union_ring", refuse)

    def away(out, bow):
        reaches = ((0, 0), (30, 0), (60, bow), (90, 3 * bow))
        return [out * along + out.left() * aside for along, aside in reaches]

    first, second = away(heading(180), -bow), away(heading(turn_deg), bow)
    low = curve(first[::-1]).and_then(curve(second))
    rest = straight(low.end, Point(90, 200), Point(-90, 200), low.start)
    panel = panel_of([("low", low), ("rest", rest)])
    ring = cutting_line(panel, {"low": (AllowanceRun(None, 12),)}).ring
    # Both curves are all but level here: 12 mm below the corner.
    assert min(p.to(Point(0, -12)) for p in ring) < OUTLINE
