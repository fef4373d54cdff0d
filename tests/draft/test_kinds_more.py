"""Tables of the kinds the styles brought: darts shut, panels cut, pleats, swung edges.

Expected figures are plain geometry, worked by hand. The panel is 200 by 300 mm, its
dart 20 wide and 100 long in the middle of the top; lengths in steps are cm.
"""

from __future__ import annotations

import math
from itertools import pairwise

import pytest

from drafting import angle_at, point, square_panel, worked_of
from fairness import drawn_edges, fairness
from skirtwright.draft.shapes.panel import Panel
from skirtwright.draft.step import Reads
from skirtwright.geometry.chain import Chain
from skirtwright.geometry.point import Point
from skirtwright.geometry.ring import crossing

KINDS_TESTED = (
    "slant",
    "dart_gives",
    "shut_dart",
    "tips_to_line",
    "shut_darts",
    "cut_apart",
    "unfold",
    "add_extension",
    "add_pleats",
    "lay_pleats",
    "swing_edge",
    "redraw_to_length",
    "graded_hem",
    "mark_row",
)

DART = {
    "step": "darted",
    "kind": "insert_darts",
    "panel": "panel",
    "edge": "top",
    "count": "1",
    "at": ["9"],
    "width": "2",
    "lengths": ["10"],
}
TWO_DARTS = {**DART, "count": "2", "at": ["5", "11"], "lengths": ["10", "10"]}
HALF_ANGLE = math.degrees(math.atan(1 / 10))


def step(kind, **fields):
    return {"step": "made", "kind": kind, **fields}


def join(name, *through):
    return {"step": name, "kind": "join", "through": list(through)}


def drawn(*steps, of="panel"):
    """The panel after the steps, which must all have been worked."""
    worked = worked_of(*square_panel(), *steps)
    assert not worked.stopped, worked.problems
    found = worked.values[of]
    assert isinstance(found, Panel)
    assert found.outline.start.to(found.outline.end) < 1e-6
    assert found.area > 0
    assert crossing(found.ring(0.5)) is None
    return found


def refusal(*steps):
    worked = worked_of(*square_panel(), *steps)
    stops = [problem for problem in worked.problems if problem.stops]
    assert len(stops) == 1
    return stops[0]


def walked(panel, edge):
    return panel.edge(edge).chain.length


# Numbers read off


@pytest.mark.parametrize(
    ("line", "at", "less", "angle"),
    [
        ("panel.top", "panel.top middle", "0 deg", 0.0),
        ("panel.left", "panel.left start", "0 deg", 270.0),
        ("panel.left", "panel.left start", "270 deg", 0.0),
        ("L", "L middle", "0 deg", math.degrees(math.atan2(4, 3))),
    ],
)
def test_slant(line, at, less, angle):
    above = [point("A", 0, 0), point("B", 3, 4), join("L", "A", "B")]
    worked = worked_of(
        *square_panel(), *above, step("slant", line=line, at=at, less=less)
    )
    assert worked.read("made", Reads.DEGREES) == pytest.approx(angle, abs=1e-9)


# Darts shut


@pytest.mark.parametrize(
    ("darts", "asked", "gives"),
    [
        ([], "5 cm", 0.0),
        ([DART], "1 cm", 10.0),
        # 20 wide and 100 long, shut: the hem 200 below the tip opens by
        # 2 x 200 sin(atan(10/100)), the straight gap.
        ([DART], "9 cm", 400 * math.sin(math.radians(HALF_ANGLE))),
    ],
)
def test_dart_gives(darts, asked, gives):
    asks = step("dart_gives", panel="panel", edge="top", to="bottom", asked=asked)
    worked = worked_of(*square_panel(), *darts, asks)
    assert worked.read("made", Reads.LENGTH) == pytest.approx(gives, abs=1e-6)


def test_outside_check_21_a_dart_shut_opens_the_hem_by_9_95():
    # Plain geometry: 2 wide, 10 along its axis, 50 below the
    # tip. The straight gap is 100 sin(2 atan(1/10) / 2) = 9.9504.
    tall = [
        point("low_a", 0, -30),
        point("low_b", 20, -30),
        join("hem", "low_a", "low_b"),
        join("down", "panel_c", "low_b"),
        join("centre", "panel_d", "low_a"),
        {
            "step": "skirt",
            "kind": "outline",
            "edges": {
                "hem": "hem",
                "side": "down",
                "waist": "panel_top_line",
                "centre": "centre",
            },
        },
        {**DART, "panel": "skirt", "edge": "waist"},
        step("dart_gives", panel="skirt", edge="waist", to="hem", asked="20 cm"),
    ]
    worked = worked_of(*square_panel(), *tall)
    assert worked.read("made", Reads.LENGTH) == pytest.approx(99.504, abs=0.01)


@pytest.mark.parametrize("opening", [0.0, 5.0, 20.0, 38.0])
def test_shut_dart_opens_the_hem_and_keeps_the_waist(opening):
    shut = step(
        "shut_dart", panel="panel", edge="top", to="bottom", opening=f"{opening} mm"
    )
    before, after = drawn(DART), drawn(DART, shut)
    assert walked(after, "top") == pytest.approx(walked(before, "top"), abs=1e-6)
    assert walked(after, "bottom") == pytest.approx(200 + opening, abs=1e-6)
    assert walked(after, "right") == pytest.approx(300, abs=1e-9)
    assert walked(after, "left") == pytest.approx(300, abs=1e-9)
    # What is left of the dart: its angle less the turn of the slash, 200 long.
    turned = 2 * math.degrees(math.asin(opening / 400))
    near, far = after.legs(after.dart("dart[1]"))
    tip = after.dart("dart[1]").tip
    assert angle_at(near - tip, far - tip) == pytest.approx(
        2 * HALF_ANGLE - turned, abs=1e-6
    )
    assert near.to(tip) == pytest.approx(far.to(tip), abs=1e-6)


def test_shut_dart_wholly_leaves_no_dart_and_no_sliver():
    all_of_it = 400 * math.sin(math.radians(HALF_ANGLE))
    for opening in (all_of_it, all_of_it - 0.5):
        shut = step(
            "shut_dart", panel="panel", edge="top", to="bottom", opening=f"{opening} mm"
        )
        after = drawn(DART, shut)
        assert after.darts == ()
        assert not any(s.fold for s in after.edge("top").chain.segments)
        assert walked(after, "top") == pytest.approx(180, abs=1e-6)
        assert walked(after, "bottom") == pytest.approx(200 + all_of_it, abs=1e-6)


@pytest.mark.parametrize("eased", [0.5, 2.0])
def test_what_shut_dart_leaves_too_narrow_is_eased(eased):
    """A dart of 2 cm with 1.1 cm left, or so: the edge is longer by what is left."""
    shut = step("shut_dart", **SHUT_BY_2, eased=str(eased))
    before = drawn(DART, step("shut_dart", **SHUT_BY_2))
    after = drawn(DART, shut)
    near, far = before.legs(before.dart("dart[1]"))
    assert 5 < near.to(far) < 20
    dropped = near.to(far) if near.to(far) < 10 * eased else 0.0
    assert len(after.darts) == (0 if dropped else 1)
    assert walked(after, "top") == pytest.approx(180 + dropped, abs=1e-6)
    assert walked(after, "bottom") == pytest.approx(walked(before, "bottom"), abs=1e-9)


SHUT_BY_2 = {"panel": "panel", "edge": "top", "to": "bottom", "opening": "2"}


def test_shut_dart_takes_the_last_of_several_and_none_of_none():
    shut = step("shut_dart", panel="panel", edge="top", to="bottom", opening="1")
    after = drawn(TWO_DARTS, shut)
    first, second = after.darts
    legs = [after.legs(dart) for dart in (first, second)]
    assert legs[0][0].to(legs[0][1]) == pytest.approx(20, abs=1e-6)
    assert legs[1][0].to(legs[1][1]) < 18
    assert drawn(shut) == drawn()


def test_shut_dart_refuses_more_than_there_is():
    shut = step("shut_dart", panel="panel", edge="top", to="bottom", opening="5")
    problem = refusal(DART, shut)
    assert problem.code == "draft.dart_gives_less"
    assert problem.values["largest"] == pytest.approx(39.8015, abs=1e-3)


LEVEL = [point("P", 0, 18), point("Q", 20, 18), join("line", "P", "Q")]


@pytest.mark.parametrize(
    ("up", "within", "tip"),
    [
        (18.0, "0", 180.0),  # ends short of the line: lengthened
        (22.0, "2.5", 220.0),  # ends 2 beyond it: shortened
        (24.0, "2.5", 210.0),  # ends 4 beyond it: stands over it by twice 4 less 2.5
        (25.5, "2.5", 200.0),  # ends more than twice 2.5 beyond it: left alone
        (24.0, "0", 200.0),
    ],
)
def test_tips_to_line(up, within, tip):
    line = [point("P", 0, up), point("Q", 20, up), join("line", "P", "Q")]
    moved = step("tips_to_line", panel="panel", edge="top", line="line", within=within)
    after = drawn(DART, *line, moved)
    assert after.dart("dart[1]").tip.y == pytest.approx(tip, abs=1e-9)
    assert walked(after, "top") == pytest.approx(180, abs=1e-6)


def test_no_tip_jumps_where_its_line_lies_a_little_elsewhere():
    ups = [18 + 0.25 * number for number in range(36)]
    tips = []
    for up in ups:
        line = [point("P", 0, up), point("Q", 20, up), join("line", "P", "Q")]
        moved = step("tips_to_line", panel="panel", edge="top", line="line")
        tips.append(drawn(DART, *line, moved).dart("dart[1]").tip.y)
    # The line moves by 2.5 mm at a time, and what ends over it by twice as much.
    assert max(abs(b - a) for a, b in pairwise(tips)) <= 2.5 + 1e-9


CUT = step(
    "cut_apart",
    panel="panel",
    line="line",
    first="yoke",
    second="skirt",
    holds="top",
    edge="seam",
)


def test_cut_apart_shares_the_panel_out():
    whole = drawn(DART, *LEVEL)
    yoke, skirt = (drawn(DART, *LEVEL, CUT, of=part) for part in ("yoke", "skirt"))
    assert yoke.area + skirt.area == pytest.approx(whole.area, rel=1e-9)
    assert {e.name for e in yoke.edges} == {"right", "top", "left", "seam"}
    assert {e.name for e in skirt.edges} == {"right", "bottom", "left", "seam"}
    # Each part keeps its share of an edge, in the edge's own direction.
    assert yoke.edge("left").chain.start == whole.edge("left").chain.start
    assert skirt.edge("left").chain.end == whole.edge("left").chain.end
    for edge in ("left", "right"):
        assert walked(yoke, edge) + walked(skirt, edge) == pytest.approx(300)
    for part in (yoke, skirt):
        assert part.edge("seam").chain.start.is_at(Point(0, 180))
        assert part.edge("seam").chain.end.is_at(Point(200, 180))
    assert [d.name for d in yoke.darts] == ["dart[1]"]
    assert skirt.darts == ()


def test_a_dart_that_crosses_the_cut_leaves_its_rest_below():
    line = [point("P", 0, 25), point("Q", 20, 25), join("line", "P", "Q")]
    yoke, skirt = (drawn(DART, *line, CUT, of=part) for part in ("yoke", "skirt"))
    # Half way down the dart is half as wide; both sides of the seam are walked
    # without it, the one below trued across it.
    assert walked(yoke, "seam") == pytest.approx(190, abs=1e-6)
    assert walked(skirt, "seam") == pytest.approx(190, abs=0.3)
    ((_, seam),) = (e for e in drawn_edges(skirt) if e[0] == "seam")
    assert fairness(seam).corner_deg < 0.01
    (stub,) = skirt.darts
    assert stub.edge == "seam"
    assert stub.tip.is_at(Point(100, 200))


def test_marks_go_with_the_part_they_lie_on():
    marks = [
        {
            "step": f"m{n}",
            "kind": "mark",
            "panel": "panel",
            "name": n,
            "through": [f"{n}1", f"{n}2"],
        }
        for n in ("low", "tall")
    ]
    places = [
        point("low1", 0, 5),
        point("low2", 20, 5),
        point("tall1", 10, 2),
        point("tall2", 10, 25),
    ]
    above = [*places, *marks, *LEVEL, CUT]
    yoke, skirt = (drawn(*above, of=part) for part in ("yoke", "skirt"))
    assert yoke.mark("low") is None
    assert isinstance(skirt.mark("low").shape, Chain)
    assert yoke.mark("tall").shape.length == pytest.approx(70)
    assert skirt.mark("tall").shape.length == pytest.approx(160)


@pytest.mark.parametrize(
    ("places", "changed", "code"),
    [
        (((0, 18), (20, 18)), {"edge": "top"}, "draft.edge_there"),
        (((0, 18), (20, 18)), {"holds": "left"}, "draft.cut_does_not_part"),
        (((5, 30), (15, 30)), {}, "draft.slash_leaves_panel"),
        (((0, 18), (15, 18)), {}, "draft.slash_off_edge"),
    ],
)
def test_cut_apart_refuses(places, changed, code):
    (a, b), (c, d) = places
    line = [point("P", a, b), point("Q", c, d), join("line", "P", "Q")]
    worked = worked_of(*square_panel(), *line, {**CUT, **changed})
    codes = [p.code for p in worked.problems if p.stops]
    assert codes == [code] or (
        code == "draft.slash_leaves_panel" and codes == ["draft.cut_on_one_edge"]
    )


def test_shut_darts_closes_a_yoke_right_across():
    line = [point("P", 0, 20), point("Q", 20, 20), join("line", "P", "Q")]
    shut = step("shut_darts", panel="yoke", edge="top", across="seam")
    before = drawn(DART, *line, CUT, of="yoke")
    after = drawn(DART, *line, CUT, shut, of="yoke")
    assert after.darts == ()
    assert walked(after, "top") == pytest.approx(walked(before, "top"), abs=1e-9)
    assert walked(after, "seam") == pytest.approx(200, abs=1e-9)
    # The wedge is gone; what lies beyond the dart has turned by its angle.
    assert before.area - after.area == pytest.approx(20 * 100 / 2, abs=1e-6)
    turned = angle_at(
        before.edge("right").chain.start_direction,
        after.edge("right").chain.start_direction,
    )
    assert turned == pytest.approx(2 * HALF_ANGLE, abs=1e-9)


def test_shut_darts_refuses_one_that_ends_inside():
    line = [point("P", 0, 15), point("Q", 20, 15), join("line", "P", "Q")]
    shut = step("shut_darts", panel="yoke", edge="top", across="seam")
    assert refusal(DART, *line, CUT, shut).code == "draft.dart_misses_edge"


# Opened out, extended


def test_unfold_is_both_halves_in_one():
    half = drawn(DART)
    other = {"right": "far_right"}
    whole = drawn(
        DART, step("unfold", panel="panel", fold="left", others=other), of="made"
    )
    assert whole.area == pytest.approx(2 * half.area, rel=1e-12)
    assert {e.name for e in whole.edges} == {"bottom", "right", "top", "far_right"}
    for edge in ("top", "bottom"):
        assert walked(whole, edge) == pytest.approx(2 * walked(half, edge), abs=1e-9)
        assert whole.edge(edge).chain.start.x == pytest.approx(-200)
        assert whole.edge(edge).chain.end.x == pytest.approx(200)
    assert walked(whole, "far_right") == pytest.approx(300)
    # Both run from the hem up, as the edge does.
    assert whole.edge("far_right").chain.start.y == pytest.approx(0)
    assert [d.name for d in whole.darts] == ["dart[1]", "dart[2]"]
    assert whole.dart("dart[2]").tip.is_at(Point(-100, 200))
    assert whole.mark("left").shape.length == pytest.approx(300)


def test_unfold_refuses():
    bent = {
        "step": "way",
        "kind": "join",
        "through": ["panel.left middle", "inside", "panel_a"],
    }
    led = {
        "step": "led",
        "kind": "lead_along",
        "panel": "panel",
        "edge": "left",
        "at": "panel.left middle",
        "lines": ["way"],
    }
    unfolded = step("unfold", panel="panel", fold="left", others={"right": "far_right"})
    problem = refusal(point("inside", 2, 10), bent, led, unfolded)
    assert problem.code == "draft.fold_not_straight"
    unnamed = step("unfold", panel="panel", fold="left", others={})
    assert refusal(unnamed).code == "draft.mirrored_unnamed"


def test_add_extension_slopes_out_and_runs_down():
    vent = step(
        "add_extension",
        panel="panel",
        edge="left",
        at="panel.left at 18",
        width="5",
        name="vent",
    )
    after = drawn(vent)
    run = after.edge("vent").chain
    assert run.start.is_at(Point(0, 120))
    # Sloped at 45 degrees: as far down as out.
    assert run.segments[0].end.is_at(Point(-50, 70))
    assert run.end.is_at(Point(-50, 0))
    assert walked(after, "left") == pytest.approx(180)
    assert walked(after, "bottom") == pytest.approx(250)
    assert after.area == pytest.approx(200 * 300 + 50 * 70 + 50 * 50 / 2)


@pytest.mark.parametrize(
    ("fields", "code"),
    [
        ({"width": "0"}, "draft.width_not_positive"),
        ({"slope": "0"}, "draft.width_not_positive"),
        ({"at": "panel.left at 25"}, "draft.no_room_for_extension"),
        ({"name": "top"}, "draft.edge_there"),
    ],
)
def test_add_extension_refuses(fields, code):
    vent = {
        "panel": "panel",
        "edge": "left",
        "at": "panel.left at 18",
        "width": "5",
        "name": "vent",
        **fields,
    }
    assert refusal(step("add_extension", **vent)).code == code


# Pleats


def pleats(**fields):
    return step(
        "add_pleats",
        **{
            "panel": "panel",
            "edge": "top",
            "to": "bottom",
            "count": "2",
            "at": ["panel.top at 5", "panel.top at 12"],
            "feet": ["panel.bottom at 5", "panel.bottom at 12"],
            "top": "4",
            "bottom": "4",
            "stays": "left",
            **fields,
        },
    )


@pytest.mark.parametrize("laid", ["to_start", "to_end"])
@pytest.mark.parametrize(("count", "stays"), [(0, "left"), (1, "left"), (2, "right")])
def test_add_pleats_parallel(count, stays, laid):
    after = drawn(pleats(count=str(count), stays=stays, laid=laid))
    # The folded edge keeps its length, the foot lies open (pleats knife: visible +
    # take-up), and each pleat adds a strip 40 wide.
    assert walked(after, "top") == pytest.approx(200, abs=1e-6)
    assert walked(after, "bottom") == pytest.approx(200 + 40 * count, abs=1e-6)
    assert after.area == pytest.approx((200 + 40 * count) * 300, rel=1e-9)
    folds = {s.fold for s in after.edge("top").chain.segments if s.fold}
    assert folds == {f"pleat[{n + 1}]" for n in range(count)}
    names = {m.name for m in after.marks}
    for n in range(count):
        assert {f"pleat[{n + 1}].{x}" for x in ("fold", "middle", "meets")} <= names


def test_add_pleats_hinged_at_the_foot_keep_the_foot():
    after = drawn(pleats(bottom="0"))
    assert walked(after, "top") == pytest.approx(200, abs=1e-6)
    assert walked(after, "bottom") == pytest.approx(200, abs=1e-6)
    assert walked(after, "right") == pytest.approx(300, abs=1e-9)
    # The side has turned by two wedges 40 wide and 300 long.
    turned = angle_at(Point(0, 1), after.edge("right").chain.start_direction)
    assert turned == pytest.approx(4 * math.degrees(math.asin(20 / 300)), abs=1e-6)


def test_add_pleats_wider_at_the_foot():
    after = drawn(pleats(count="1", top="4", bottom="8"))
    assert walked(after, "top") == pytest.approx(200, abs=1e-6)
    assert walked(after, "bottom") == pytest.approx(280, abs=1e-6)


def test_an_inverted_pleat_at_the_centre_lets_the_centre_out():
    after = drawn(
        pleats(
            count="1",
            at=["panel.top start"],
            feet=["panel.bottom start"],
            top="14",
            bottom="14",
            stays="right",
            lap="0.3",
        )
    )
    assert after.edge("left").chain.start.is_at(Point(-140, 300))
    assert walked(after, "top") == pytest.approx(200, abs=1e-6)
    fold = after.mark("pleat[1].fold").shape
    assert fold.start.x == pytest.approx(-3)
    assert after.mark("pleat[1].middle").shape.start.x == pytest.approx(-70)


def test_a_mark_across_a_pleat_is_folded_with_it():
    places = [point("h1", 0, 15), point("h2", 20, 15)]
    mark = {
        "step": "hip",
        "kind": "mark",
        "panel": "panel",
        "name": "hip",
        "through": ["h1", "h2"],
    }
    after = drawn(*places, mark, pleats())
    assert after.mark("hip").shape.length == pytest.approx(200, abs=1e-6)
    assert after.mark("hip").shape.paper_length == pytest.approx(280, abs=1e-6)


@pytest.mark.parametrize(
    ("fields", "code"),
    [
        ({"count": "3"}, "draft.too_few_places"),
        ({"top": "0"}, "draft.pleat_not_positive"),
        ({"lap": "2"}, "draft.pleat_not_positive"),
        ({"stays": "top"}, "draft.pleat_does_not_part"),
    ],
)
def test_add_pleats_refuses(fields, code):
    assert refusal(pleats(**fields)).code == code


def laid(**fields):
    return step(
        "lay_pleats",
        **{
            "panel": "panel",
            "edge": "top",
            "to": "bottom",
            "apart": "10",
            "under": "6",
            "under_low": "5",
            "down": "8",
            **fields,
        },
    )


@pytest.mark.parametrize(
    ("way", "folds"), [("to_end", 3), ("to_start", 3), ("both", 4)]
)
def test_lay_pleats_takes_cloth_up_and_leaves_the_paper_as_it_is(way, folds):
    level = [
        {"step": "a8", "kind": "place", "at": "panel.left at 8"},
        {"step": "b8", "kind": "place", "at": "panel.right at 22"},
    ]
    line = {"step": "line", "kind": "mark", "panel": "panel", "name": "level"}
    after = drawn(*level, {**line, "through": ["a8", "b8"]}, laid(laid=way))
    # Twice 10 between the middles of three, of which 6 lies under, at `down` 5.
    assert walked(after, "top") == pytest.approx(200 - 2 * 60, abs=1e-6)
    assert walked(after, "bottom") == pytest.approx(200, abs=1e-6)
    assert after.area == pytest.approx(200 * 300, rel=1e-9)
    across = after.mark("level").shape.segments
    shown = sum(s.length for s in across if not s.fold)
    assert shown == pytest.approx(200 - 2 * 50, abs=1e-6)
    names = {s.fold for s in after.edge("top").chain.segments if s.fold}
    assert names == {f"pleat[{n + 1}]" for n in range(folds)}
    fold = after.mark("pleat[1].fold").shape
    ends = [(s.start.x, s.start.y) for s in fold.segments]
    assert ends == [pytest.approx((30, 300)), pytest.approx((25, 220))]
    assert (fold.end.x, fold.end.y) == pytest.approx((25, 0))
    # Half way down a quarter of the slant is left: a parabola.
    place = fold.nearest(Point(26.25, 260))
    assert place[1] < 0.01


def test_lay_pleats_may_begin_in_what_is_shown():
    after = drawn(laid(begins="shown", apart="8"))
    shown = [s.length for s in after.edge("top").chain.segments if not s.fold]
    assert shown == pytest.approx([10, 20, 20])


@pytest.mark.parametrize(
    ("fields", "code"),
    [
        ({"under": "0"}, "draft.pleat_not_positive"),
        ({"under": "10"}, "draft.pleat_not_positive"),
        ({"apart": "9"}, "draft.pleats_do_not_fill"),
        ({"begins": "shown"}, "draft.pleats_do_not_fill"),
        ({"begins": "shown", "apart": "60"}, "draft.pleats_do_not_fill"),
    ],
)
def test_lay_pleats_refuses(fields, code):
    assert refusal(laid(**fields)).code == code


# Edges swung and made fair


@pytest.mark.parametrize("ease", ["0", "5"])
@pytest.mark.parametrize("angle", [-5, 10, 40])
def test_swing_edge_keeps_its_length(angle, ease):
    swung = step(
        "swing_edge",
        panel="panel",
        edge="left",
        at="panel.left at 10",
        by=str(angle),
        ease=ease,
    )
    after = drawn(swung)
    chain = after.edge("left").chain
    assert chain.length == pytest.approx(300, abs=1e-6)
    # It turns away from the panel for a positive angle, whichever side it is on.
    assert chain.end_direction.x == pytest.approx(-math.sin(math.radians(angle)))
    if ease == "0":
        assert chain.end.x == pytest.approx(-200 * math.sin(math.radians(angle)))
        assert chain.end.y == pytest.approx(200 - 200 * math.cos(math.radians(angle)))
    else:
        joints = zip(chain.segments, chain.segments[1:], strict=False)
        assert all(
            angle_at(a.end_direction, b.start_direction) < 1e-6 for a, b in joints
        )
    assert after.edge("bottom").chain.start.is_at(chain.end)


@pytest.mark.parametrize(
    ("fields", "code"),
    [
        ({"by": "90"}, "draft.turns_too_far"),
        ({"ease": "25"}, "draft.run_too_long"),
        ({"at": "panel_b"}, "draft.not_on_edge"),
    ],
)
def test_swing_edge_refuses(fields, code):
    swung = {
        "panel": "panel",
        "edge": "left",
        "at": "panel.left at 10",
        "by": "5",
        **fields,
    }
    assert refusal(step("swing_edge", **swung)).code == code


@pytest.mark.parametrize("length", [303.5, 304.5, 306.0])
def test_redraw_to_length(length):
    leaned = {
        "step": "leaned",
        "kind": "swing_edge",
        "panel": "panel",
        "edge": "left",
        "at": "panel.left start",
        "by": "20",
    }
    after = drawn(
        leaned,
        step("redraw_to_length", panel="panel", edge="bottom", length=f"{length} mm"),
    )
    chain = after.edge("bottom").chain
    assert chain.length == pytest.approx(length, abs=1e-3)
    assert angle_at(
        chain.start_direction, after.edge("left").chain.end_direction
    ) == pytest.approx(90, abs=1e-6)
    # One curve that bends one way.
    (only,) = chain.segments
    first, second = only.control1 - only.start, only.end - only.control2
    middle = only.control2 - only.control1
    assert first.cross(middle) * middle.cross(second) > 0


def test_redraw_to_length_draws_with_the_darts_shut():
    redrawn = step("redraw_to_length", panel="panel", edge="top", length="18.01")
    after = drawn(DART, redrawn)
    assert walked(after, "top") == pytest.approx(180.1, abs=1e-3)
    near, far = after.legs(after.dart("dart[1]"))
    tip = after.dart("dart[1]").tip
    assert near.to(tip) == pytest.approx(far.to(tip), abs=1e-6)


def test_redraw_to_length_refuses_a_pleated_edge():
    redrawn = {
        "step": "again",
        "kind": "redraw_to_length",
        "panel": "panel",
        "edge": "top",
        "length": "20",
    }
    assert refusal(pleats(), redrawn).code == "draft.edge_has_folds"


@pytest.mark.parametrize("late", [1, 2])
@pytest.mark.parametrize(("first", "last"), [(0.0, 10.0), (-5.0, 0.0), (2.0, 7.0)])
def test_graded_hem(first, last, late):
    graded = step(
        "graded_hem",
        panel="panel",
        edge="bottom",
        first=str(first),
        last=str(last),
        late=str(late),
    )
    after = drawn(graded)
    chain = after.edge("bottom").chain
    assert chain.start.is_at(Point(0, -10 * first))
    assert chain.end.is_at(Point(200, -10 * last))
    # Level where it begins and ends; half way the rule 3u^2 - 2u^3 gives a half.
    assert abs(chain.start_direction.y) < 1e-3
    assert abs(chain.end_direction.y) < 1e-3
    half = min(chain.flattened(0.01), key=lambda p: abs(p.x - 100))
    share = 0.5**late
    rule = 3 * share**2 - 2 * share**3
    assert half.y == pytest.approx(-10 * (first + (last - first) * rule), abs=1.0)
    assert walked(after, "left") == pytest.approx(300 + 10 * first)
    assert walked(after, "right") == pytest.approx(300 + 10 * last)


def test_graded_hem_runs_on_through_a_seam():
    # Two panels share one way: the first takes its first half, the other the rest,
    # drawn from its own centre; where they meet both lean alike.
    halves = []
    for start, end in (("0", "1/2"), ("1", "1/2")):
        graded = step(
            "graded_hem",
            panel="panel",
            edge="bottom",
            first="0",
            last="10",
            start_share=start,
            end_share=end,
        )
        halves.append(drawn(graded).edge("bottom").chain)
    front, back = halves
    assert front.end.y == pytest.approx(back.end.y, abs=1e-9)
    assert front.end_direction.y == pytest.approx(-back.end_direction.y, abs=1e-4)


def test_graded_hem_ends_as_if_further_on():
    # Its panel ends at 0.45 of the way and is to be let down there as at a half.
    graded = step(
        "graded_hem",
        panel="panel",
        edge="bottom",
        first="0",
        last="10",
        end_share="0.45",
        ahead="0.05",
    )
    chain = drawn(graded).edge("bottom").chain
    assert chain.end.y == pytest.approx(-50, abs=1e-9)
    # On by 0.05, where u^2 (1 - u)^2 has the slope 2u (1 - u) (1 - 2u).
    slope = 1 + 0.05 * 2 * (1 - 2 * 0.45) / (0.45 * 0.55)
    steep = 100 * 6 * 0.5 * 0.5 * slope * 0.45 / 200
    assert -chain.end_direction.y / chain.end_direction.x == pytest.approx(
        steep, abs=0.01
    )


@pytest.mark.parametrize(
    "fields",
    [
        {"late": "0.5"},
        {"start_share": "-1"},
        {"start_share": "1"},
        {"end_share": "2"},
        {"end_share": "0.5", "ahead": "0.4"},
        {"ahead": "0.1"},
    ],
)
def test_graded_hem_refuses(fields):
    graded = {"panel": "panel", "edge": "bottom", "first": "0", "last": "5", **fields}
    assert refusal(step("graded_hem", **graded)).code == "draft.shares_do_not_fit"


@pytest.mark.parametrize("by", ["0.000001", "0.00005", "0.01", "5"])
def test_lengthening_a_straight_adds_no_stretch_of_its_own(by):
    # A stretch of a millionth of a millimetre has no direction to be square to.
    after = drawn(step("lengthen", panel="panel", edge="left", by=f"{by} mm"))
    (only,) = after.edge("left").chain.segments
    assert only.length == pytest.approx(300 + float(by), abs=2e-6)


@pytest.mark.parametrize(
    ("count", "more", "heights"),
    [
        ("4", {}, [250, 200, 150, 100]),
        ("1", {"before": "1", "after": "2"}, [250]),
        ("2", {"before": "1", "after": "2", "direction": "270"}, [250, 100]),
        ("0", {}, []),
    ],
)
def test_mark_row_is_even_from_its_start_to_its_end(count, more, heights):
    ends = [point("high", 5, 25), point("low", 5, 10)]
    row = {"start": "high", "end": "low", "count": count, **more}
    step = {"step": "row", "kind": "mark_row", "panel": "panel", "name": "m", **row}
    marks = worked_of(*square_panel(), *ends, step).values["panel"].marks
    assert [mark.name for mark in marks] == [f"m[{n + 1}]" for n in range(len(heights))]
    for mark, high in zip(marks, heights, strict=True):
        if not more:
            assert mark.shape == Point(50, high)
            continue
        ways = {"direction": (0, -1)}.get(next(reversed(more)), (1, 0))
        for at, by in ((mark.shape.start, -10), (mark.shape.end, 20)):
            assert at.to(Point(50 + by * ways[0], high + by * ways[1])) < 1e-9


def test_mark_row_counts_whole_marks():
    row = {"start": "panel.top start", "end": "panel.bottom start", "count": "1.5"}
    step = {"step": "row", "kind": "mark_row", "panel": "panel", "name": "m", **row}
    worked = worked_of(*square_panel(), step)
    assert [problem.code for problem in worked.problems] == ["draft.not_whole"]
