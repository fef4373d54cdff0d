"""What only the full skirts have: circles, gathers, pleats, gores, godets, flounces.

Where no work is named the figures are plain geometry.
"""

from __future__ import annotations

import math

import pytest

from bodies import FIVE, HOUSE, SAMPLE
from drafting import reported, seam, work
from skirtwright.draft.shapes.panel import Panel
from skirtwright.export.sewing.sewing_facts import facts_of
from skirtwright.export.sewing.sewing_order import sewing_rows
from skirtwright.words import say

INCH = 25.4


def panel(told, name) -> Panel:
    found = told.worked.values[name]
    assert isinstance(found, Panel)
    return found


def edge(told, name):
    part, of = name.split(".")
    return panel(told, part).edge(of).chain


# Circle


def plain_circle(waist, share, length=600.0, **more):
    """Without ease, and the arc not drawn smaller."""
    body = {**SAMPLE, "waist": waist}
    amounts = {"waist_ease": 0.0, "waist_take": 0.0, "circle_share": share}
    return reported("circle", body, **amounts, length=length, **more)


@pytest.mark.parametrize(
    ("waist", "share", "radius"),
    [
        # Printed on teaching pages as 4.13 in and 17.52 cm.
        (26 * INCH, 1.0, 4.138 * INCH),
        (26 * INCH, 0.5, 8.276 * INCH),
        (26 * INCH, 1 / 3, 12.414 * INCH),
        (26 * INCH, 0.25, 16.552 * INCH),
        (1100.0, 1.0, 175.1),
        # Two seam edges of 1 cm within the arc; less 1 cm of waist seam: 34.65.
        (1120.0, 0.5, 356.5),
        (720.0, 1.0, 114.6),
        (720.0, 0.5, 229.2),
    ],
)
def test_circle_radius_is_the_waist_over_two_pi(waist, share, radius):
    told = plain_circle(waist, share)
    assert told.worked.values["radius"] == pytest.approx(radius, abs=0.2)
    arc = 2 * (edge(told, "front.waist").length + edge(told, "back.waist").length)
    assert arc == pytest.approx(waist, abs=0.01)


@pytest.mark.parametrize(
    ("waist", "share", "hem"),
    [
        (700.0, 1.0, 4469.9),
        (700.0, 0.5, 2585.0),
        (700.0, 0.25, 1642.5),
        (720.0, 0.75, 3550.0),
        (720.0, 1 / 3, 1980.0),
        (720.0, 1.0, 4490.0),
    ],
)
def test_circle_hem_is_longer_than_its_waist_by_two_pi_lengths(waist, share, hem):
    told = plain_circle(waist, share)
    exact = waist + 2 * math.pi * share * 600
    assert told.finished["sweep"] == pytest.approx(exact, abs=0.1)
    assert exact == pytest.approx(hem, abs=5)


def test_circle_is_everywhere_as_long_and_its_centres_lie_on_one_grain():
    told = reported("circle", SAMPLE)
    reach = told.worked.values["radius"] + 600
    for point in edge(told, "front.hem").flattened(0.1):
        assert point.size() == pytest.approx(reach, abs=0.01)
    for name in ("front", "back"):
        centre = edge(told, f"{name}.centre")
        assert centre.start.x == centre.end.x == 0
    assert {p.grain_deg for p in told.cut.pieces if p.name in ("front", "back")} == {90}


def test_circle_s_arc_is_drawn_smaller_and_stretched_to_the_band():
    told = reported("circle", SAMPLE, waist_take=20.0)
    waistband = seam(told, "waistband")
    assert waistband.lengths[0] == pytest.approx(720 + 15 - 20, abs=0.1)
    assert waistband.lengths[1] == pytest.approx(720 + 15 - 5, abs=0.1)
    assert told.finished["waist"] == pytest.approx(735)
    assert not [p for p in told.problems if "band" in p.code]


@pytest.mark.parametrize(("name", "least"), [("72/98", 0.22), ("60/97", 0.30)])
def test_circle_offers_no_less_than_passes_the_hip(name, least):
    body = {**FIVE[name], "waist_to_knee": 580.0}
    state = work("circle", body).stated.amounts["circle_share"]
    assert state.least == pytest.approx(least, abs=0.005)
    tight = reported("circle", body, circle_share=least - 0.03)
    assert "check.circle_under_hip" in {p.code for p in tight.problems}


@pytest.mark.parametrize("share", [0.5, 1.0, 2.0])
def test_circle_is_shortened_on_the_bias_alone(share):
    """By drop x sin^2 of twice the angle from the grain."""
    told = reported("circle", SAMPLE, bias_drop=30.0, circle_share=share)
    reach = told.worked.values["radius"] + 600
    seen = 0
    for point in edge(told, "front.hem").flattened(0.05):
        turned = 2 * math.atan2(point.x, -point.y)
        off = 30 * math.sin(turned) ** 2
        assert point.size() == pytest.approx(reach - off, abs=0.05)
        seen += off > 29
    assert seen


def test_more_than_a_circle_and_a_half_is_cut_in_quarters():
    """Two rings, each of half the share; closed fronts would meet themselves."""
    for share, folds in ((1.6, {"centre"}), (1.7, set())):
        told = reported("circle", SAMPLE, circle_share=share)
        front = next(p for p in told.cut.pieces if p.name == "front")
        assert set(front.spec.folds) == folds
        assert not [p for p in told.problems if p.severity == "wrong"]


# Dirndl


@pytest.mark.parametrize(
    ("waist", "hip", "ratio", "round_"),
    [(720.0, 980.0, 2.0, 1470.0), (600.0, 970.0, 1.5, 1070.0)],
)
def test_dirndl_is_wide_for_its_gathers_and_for_the_hip(waist, hip, ratio, round_):
    """72: 147; 60 at 1.5 would be 92 and is raised to 10 cm over the hip."""
    told = reported("dirndl", {**SAMPLE, "waist": waist, "hip": hip}, ratio=ratio)
    assert told.finished["sweep"] == pytest.approx(round_, abs=0.1)
    waistband = seam(told, "waistband")
    assert waistband.lengths[0] == pytest.approx(round_, abs=5)
    assert waistband.lengths[1] == pytest.approx(waist + 15 - 5, abs=0.1)


def test_dirndl_s_gathers_are_marked_in_quarters_on_both_edges():
    """The sides where the waist has them: here the front has more of it."""
    told = reported("dirndl", {**SAMPLE, "front_waist": 400.0})
    front = edge(told, "front.waist").length
    whole = front + edge(told, "back.waist").length
    assert front / whole == pytest.approx(400 / 720, abs=2e-3)
    band = next(p for p in told.cut.pieces if p.name == "band")
    length = next(e for e in band.edges if e.name == "joins").length
    marks = sorted(n.distance / length for n in band.notches if n.edge == "joins")
    for share in (0.0, 160 / 720, 0.5, 1 - 160 / 720, 1.0):
        assert min(abs(share - mark) for mark in marks) < 2e-3
    assert told.worked.values["drawn_in"] > 700


@pytest.mark.parametrize(
    ("usable", "strips", "front"), [(140.0, 2, 1), (100.0, 2, 1), (70.0, 4, 2)]
)
def test_dirndl_counts_its_strips_by_the_width_of_the_cloth(usable, strips, front):
    told = reported("dirndl", SAMPLE, usable_width=10 * usable)
    (said,) = [p for p in told.problems if p.code == "style.widths"]
    assert said.values["strips"] == strips
    piece = next(p for p in told.cut.pieces if p.name == "front")
    assert piece.spec.count == front


@pytest.mark.parametrize(
    ("floor", "chosen", "front", "back"),
    [
        (1030.0, {}, 10, 0),
        # Over a full stomach the way to the floor is the longer one in front.
        (1060.0, {}, -20, 0),
        (1040.0, {"wearer": "seated"}, 20, -20),
        (None, {"wearer": "expecting"}, -40, 8),
    ],
)
def test_dirndl_hem_is_straight_and_its_top_as_her_waist_lies(
    floor, chosen, front, back
):
    """The waist turns one way, in one line over the sides where it slopes."""
    floors = {f"waist_to_floor_{n}": floor and 1040.0 for n in ("side", "back")}
    body = {**SAMPLE, **floors, "waist_to_floor_front": floor}
    body = {name: value for name, value in body.items() if value is not None}
    told = reported("dirndl", body, **chosen)
    for name, lower in (("front", front), ("back", back)):
        assert edge(told, f"{name}.centre").length == pytest.approx(650 - lower)
        assert {p.y for p in edge(told, f"{name}.hem").flattened(1.0)} == {-650}
    assert "check.waist_turns" not in {problem.code for problem in told.problems}
    told_of = {"seated": "check.seated", "expecting": "style.fitted_while_expecting"}
    codes = {problem.code for problem in told.problems} & {*told_of.values()}
    assert codes == {told_of[who] for who in chosen.values()}


@pytest.mark.parametrize("style", ["circle", "tiered", "knife-pleat", "box-pleat"])
def test_what_an_edge_alike_all_round_does_not_follow_is_told(style):
    """How much longer to cut is by how much her waist lies above its side."""
    floors = {"waist_to_floor_side": 1040.0, "waist_to_floor_back": 1055.0}
    cases = (
        (SAMPLE, "standing", {}),
        (SAMPLE, "seated", {"front_lower": 25, "back_higher": 20}),
        ({}, "expecting", {"front_higher": 40}),
        (
            {**floors, "waist_to_floor_front": 1020.0},
            "standing",
            {"front_lower": 20, "back_higher": 15},
        ),
    )
    for more, wearer, lies in cases:
        told = reported(style, {**HOUSE, **more}, wearer=wearer)
        codes = {p.code: p.values for p in told.problems}
        said = {
            code.removeprefix("style.").removesuffix("_than_cut"): values["by"]
            for code, values in codes.items()
            if code.endswith("_than_cut")
        }
        assert said == pytest.approx(lies)
        fitted = "style.fitted_while_expecting" in codes
        assert fitted is (wearer == "expecting")


# Flounce


@pytest.mark.parametrize(
    ("fullness", "radius", "turn"), [(1.5, 500, 110), (2.0, 250, 220), (2.5, 167, 330)]
)
def test_flounce_is_a_ring_as_deep_as_asked(fullness, radius, turn):
    """L. Baldt (1916): inner edge t, depth d, hem b: radius t d / (b - t)."""
    body = {**SAMPLE, "hip": 920.0}
    told = reported("flounce", body, fullness=fullness)
    assert told.worked.values["line_girth"] == pytest.approx(960, abs=0.1)
    assert told.worked.values["radius"] == pytest.approx(radius, abs=1)
    whole = 2 * sum(told.worked.values[f"{n}_turn"] for n in ("front", "back"))
    assert whole == pytest.approx(turn, abs=1)
    assert told.finished["sweep"] == pytest.approx(960 * fullness, abs=0.1)
    for name in ("flounce_front", "flounce_back"):
        assert seam(told, name).difference == pytest.approx(0, abs=1e-3)
        assert seam(told, name).seam.ease == pytest.approx(0, abs=1e-3)


def test_the_flounce_that_baldt_prints():
    """12 in deep, 72 wide at the top, 112 below: a radius of 21.6 (Baldt, 1916)."""
    told = reported("flounce", SAMPLE, fullness=112 / 72, flounce_depth=12 * INCH)
    values = told.worked.values
    # The line of this skirt is another; a ring as deep has its radius by the share.
    assert values["radius"] / (12 * INCH) == pytest.approx(21.6 / 12)
    assert told.finished["sweep"] / values["line_girth"] == pytest.approx(112 / 72)


def test_a_gathered_flounce_is_longer_than_its_line_by_its_ratio():
    told = reported("flounce", SAMPLE, gather=1.4)
    for name in ("flounce_front", "flounce_back"):
        first, second = seam(told, name).lengths
        assert first / second == pytest.approx(1.4, abs=1e-6)


def test_a_flounce_does_not_free_the_step_at_its_line():
    """The straight skirt to the same line allows as much.

    That one is looked at over its hem too, where her knee takes 1 mm of a step more.
    """
    told = reported("flounce", SAMPLE, length=1000.0, flounce_depth=150.0)
    base = reported("straight", SAMPLE, length=850.0, hem_taper=0.0)
    step = told.finished["step_allowed"]
    assert step == pytest.approx(base.finished["step_allowed"], abs=2)


def test_a_flounce_of_more_than_three_quarters_of_a_turn_is_cut_in_quarters():
    for fullness, folds in ((2.0, {"centre"}), (2.8, set())):
        told = reported("flounce", SAMPLE, fullness=fullness, flounce_depth=120.0)
        piece = next(p for p in told.cut.pieces if p.name == "front_flounce")
        assert set(piece.spec.folds) == folds


# Tiered


def widths_of_tiers(told, count):
    names = ["", *(f"_{k}" for k in range(2, count + 1))]
    return [
        2 * sum(edge(told, f"{body}{name}.foot").length for body in ("front", "back"))
        for name in names
    ]


def depths_of_tiers(told, count):
    names = ["", *(f"_{k}" for k in range(2, count + 1))]
    return [edge(told, f"front{name}.side").length for name in names]


def test_tiers_widen_by_their_ratio():
    """House client: 110, 165, 248 cm round."""
    told = reported("tiered", SAMPLE)
    found = widths_of_tiers(told, 3)
    assert found == pytest.approx([1102.5, 1653.75, 2480.6], abs=0.1)
    assert told.finished["sweep"] == pytest.approx(found[-1], abs=0.1)


def test_tiers_of_a_child_s_case():
    """Printed on a sewing page: 23 in x 1.5 + 1.5 in is 36 in, then 54 in."""
    body = {**SAMPLE, "waist": 24 * INCH, "hip": 26 * INCH}
    told = reported("tiered", body, waist_ease=0.0, tiers=2.0)
    assert widths_of_tiers(told, 2) == pytest.approx([36 * INCH, 54 * INCH], abs=0.1)


@pytest.mark.parametrize(
    ("depths", "tiers", "cm"),
    [
        ("even", 3, [30.0, 30.0, 30.0]),
        ("golden", 3, [17.2, 27.8, 45.0]),
        # A taught proportion: 0.75 : 1 : 1.5.
        ("given", 3, [20.8, 27.7, 41.5]),
        ("even", 6, [15.0] * 6),
        ("golden", 4, [9.5, 15.4, 24.9, 40.2]),
    ],
)
def test_depths_of_tiers_come_to_the_length(depths, tiers, cm):
    told = reported("tiered", SAMPLE, depths=depths, tiers=float(tiers))
    found = depths_of_tiers(told, tiers)
    assert found == pytest.approx([10 * each for each in cm], abs=0.6)
    assert sum(found) == pytest.approx(900, abs=0.01)
    (side,) = {w.lengths for w in told.cut.seams if w.seam.name == "side"}
    assert side == pytest.approx((900, 900), abs=0.01)


def test_each_tier_is_gathered_to_the_one_above_with_quarters_on_both_edges():
    told = reported("tiered", SAMPLE, tiers=4.0, tier_ratio=1.8)
    joins = [w for w in told.cut.seams if w.seam.name.startswith("tier_")]
    assert len(joins) == 6
    for walked in joins:
        assert walked.lengths[0] / walked.lengths[1] == pytest.approx(1.8)
        for run in (walked.seam.sides[0][0], walked.seam.sides[1][0]):
            piece = next(p for p in told.cut.pieces if p.name == run.piece)
            length = next(e for e in piece.edges if e.name == run.edge).length
            marks = [n.distance / length for n in piece.notches if n.edge == run.edge]
            assert min(abs(mark - 0.5) for mark in marks) < 1e-3


def test_the_first_tier_passes_the_hip():
    told = reported("tiered", {**SAMPLE, "waist": 600.0}, top_ratio=1.2)
    assert widths_of_tiers(told, 2)[0] == pytest.approx(980 + 100, abs=0.1)


# Handkerchief


@pytest.mark.parametrize(
    ("length", "side", "point"), [(450, 1130, 685), (550, 1330, 826), (600, 1430, 897)]
)
def test_handkerchief_square_and_its_four_points(length, side, point):
    """W + 1 cm round the hole; square 2 (r + L), points root 2 (r + L) - r."""
    told = reported("handkerchief", SAMPLE, length=float(length))
    radius = 730 / (2 * math.pi)
    for name in ("front", "back"):
        corner = edge(told, f"{name}.hem").end
        assert corner == edge(told, f"{name}.side_hem").start
        assert 2 * corner.x == pytest.approx(side, abs=3)
        assert corner.x == pytest.approx(-corner.y, abs=0.01)
        assert corner.size() - radius == pytest.approx(point, abs=2)
    (said,) = [p for p in told.problems if p.code == "style.square"]
    assert said.values["point"] == pytest.approx(point, abs=2)
    assert told.finished["length"] == pytest.approx(length, abs=0.1)


def test_handkerchief_points_are_mitred_or_cut_off():
    told = reported("handkerchief", SAMPLE, point_trim=50.0)
    corner = edge(told, "front.point")
    whole = told.worked.values["reach"]
    middle = corner.at(corner.length / 2)
    assert middle.size() == pytest.approx(math.sqrt(2) * whole - 50, abs=0.01)
    drawn = sum(
        2 * edge(told, f"{body}.{name}").length
        for body in ("front", "back")
        for name in ("hem", "point", "side_hem")
    )
    assert told.finished["sweep"] == pytest.approx(drawn, abs=0.1)


@pytest.mark.parametrize(
    ("chosen", "longer"),
    [
        ({"hole_back": 40.0}, 40),
        ({"wearer": "expecting"}, 20),
        ({"wearer": "seated"}, -20),
    ],
)
def test_handkerchief_hole_moved_back_makes_the_front_longer(chosen, longer):
    told = reported("handkerchief", SAMPLE, **chosen)
    assert edge(told, "front.centre").length == pytest.approx(550 + longer)
    assert edge(told, "back.centre").length == pytest.approx(550 - longer)
    assert seam(told, "side").lengths == pytest.approx((550, 550))
    ends = [edge(told, f"{name}.hem").end.size() for name in ("front", "back")]
    (said,) = [p for p in told.problems if p.code == "style.square"]
    assert said.values["point"] == pytest.approx(
        max(ends) - told.worked.values["radius"]
    )


def test_handkerchief_points_are_told_over_the_floor():
    long = reported("handkerchief", SAMPLE, length=700.0)
    assert {"check.point_near_floor", "check.point_on_floor"} & {
        p.code for p in long.problems
    }


# Pleats


def taken_up(told, name):
    """What each pleat of an edge takes up, mm, in order from its start."""
    found = {}
    for segment in edge(told, name).segments:
        if segment.fold:
            found[segment.fold] = found.get(segment.fold, 0.0) + segment.length
    return list(found.values())


def test_knife_pleats_of_the_house_client():
    """24 pleats: they show 4.33 and 3.08 and take up 8.67 and 9.92 of 312 of cloth."""
    told = reported("knife-pleat", SAMPLE, waist_ease=20.0)
    values = told.worked.values
    assert values["shows_hip"] == pytest.approx(43.3, abs=0.1)
    assert values["shows_waist"] == pytest.approx(30.8, abs=0.1)
    assert values["under_hip"] == pytest.approx(86.7, abs=0.1)
    assert values["under_waist"] == pytest.approx(99.2, abs=0.1)
    assert values["cloth"] == pytest.approx(3120, abs=0.1)
    assert told.finished["waist"] == pytest.approx(740, abs=0.01)
    assert told.finished["hip"] == pytest.approx(1040, abs=0.01)
    (sewn,) = [row for row in sewing_rows(facts_of(told)) if row.step == "pleats"]
    assert "each shows 3.08" in " ".join(say(s.message, s.values) for s in sewn.says)


def test_pleats_take_up_what_conover_prints():
    """44 in of cloth on the half, waist 14, hip 20: 30 and 24 go into eight pleats.

    Conover, 1922, pages 63 to 69; equal pleats are 3 3/4 and 3 in deep.
    """
    body = {**SAMPLE, "waist": 28 * INCH - 20, "hip": 40 * INCH - 60}
    told = reported(
        "knife-pleat", body, waist_ease=20.0, pleats_half=8.0, depth_share=0.6
    )
    values = told.worked.values
    assert values["cloth"] == pytest.approx(2 * 44 * INCH)
    for level, taken in (("waist", 30), ("hip", 24)):
        assert 8 * values[f"under_{level}"] == pytest.approx(taken * INCH)
    for name, pleats in (("front", "front_pleats_half"), ("back", "back_pleats_half")):
        folded = sum(taken_up(told, f"{name}.waist"))
        assert folded == pytest.approx(values[pleats] * 3.75 * INCH, abs=0.1)


def test_box_pleats_of_the_house_client():
    """12 boxes: they show 8.67 and 6.17; a fold is 4.33 deep, 4.96 at the waist."""
    told = reported("box-pleat", SAMPLE, waist_ease=20.0)
    values = told.worked.values
    assert values["shows_hip"] == pytest.approx(86.7, abs=0.1)
    assert values["shows_waist"] == pytest.approx(61.7, abs=0.1)
    assert values["under_hip"] / 4 == pytest.approx(43.3, abs=0.1)
    assert values["under_waist"] / 4 == pytest.approx(49.6, abs=0.1)
    grows = (values["shows_hip"] - values["shows_waist"]) / 4
    assert values["under_waist"] / 4 - values["under_hip"] / 4 == pytest.approx(grows)
    assert told.finished["sweep"] == pytest.approx(3120, abs=0.1)


@pytest.mark.parametrize("style", ["knife-pleat", "box-pleat"])
def test_full_pleats_take_three_times_the_hip(style):
    """34 in of hip take 102 in of cloth (three to one; printed on a sewing page)."""
    body = {**SAMPLE, "hip": 34 * INCH - 40, "waist": 25 * INCH}
    told = reported(style, body, hip_ease=40.0)
    assert told.finished["sweep"] == pytest.approx(102 * INCH, abs=0.1)
    (said,) = [p for p in told.problems if p.code == "style.widths"]
    panels = [p for p in told.cut.pieces if p.spec.body]
    assert said.values["panels"] == sum(piece.spec.count for piece in panels)


@pytest.mark.parametrize(
    ("style", "count"),
    [("knife-pleat", {"pleats_half": float(n)}) for n in (4, 7, 12, 30)]
    + [("box-pleat", {"boxes": float(n)}) for n in (6, 7, 9, 12, 24)],
)
def test_pleats_fill_waist_hip_and_cloth_and_seams_lie_under_them(style, count):
    told = reported(style, SAMPLE, **count)
    values = told.worked.values
    number = values["number_of_pleats"]
    for name, level in (("waist", "waist"), ("hip", "hip")):
        assert told.finished[name] == pytest.approx(
            number * values[f"shows_{level}"], abs=0.01
        )
    under = sum(sum(taken_up(told, f"{n}.waist")) for n in ("front", "back"))
    assert 2 * under == pytest.approx(number * values["under_waist"], abs=0.01)
    for name in ("front", "back"):
        halves = taken_up(told, f"{name}.waist")
        assert halves[-1] == pytest.approx(values["under_waist"] / 2, abs=0.01)
        segments = edge(told, f"{name}.waist").segments
        assert segments[-1].fold
        begins_shown = style == "box-pleat" and number % 2 and name == "front"
        assert bool(segments[0].fold) != bool(begins_shown)
    assert not [p for p in told.problems if p.severity == "wrong"]


@pytest.mark.parametrize("style", ["knife-pleat", "box-pleat"])
def test_pleats_run_along_the_grain_from_the_hip_down(style):
    told = reported(style, SAMPLE)
    lines = [m for m in panel(told, "front").marks if m.name.startswith("pleat")]
    assert len(lines) > 8
    for mark in lines:
        above, below = mark.shape.segments[0], mark.shape.segments[-1]
        assert below.start.x == pytest.approx(below.end.x, abs=1e-9)
        assert below.start.y == pytest.approx(-200, abs=1e-6)
        if not mark.name.endswith("middle"):
            drawn = abs(above.start.x - above.end.x)
            values = told.worked.values
            assert drawn == pytest.approx(
                (values["under_waist"] - values["under_hip"]) / 2, abs=0.01
            )


def test_knife_pleats_face_the_centre_back():
    told = reported("knife-pleat", SAMPLE)
    for name, way in (("front", 1), ("back", -1)):
        marks = {m.name: m.shape for m in panel(told, name).marks}
        for number in (2, 3, 4, 5):
            fold = marks[f"pleat[{number}].fold"].start.x
            meets = marks[f"pleat[{number}].meets"].start.x
            assert (meets - fold) * way > 0


def test_pleats_are_mirrored_about_the_centre_front():
    for boxes in (12.0, 13.0):
        told = reported("box-pleat", SAMPLE, boxes=boxes)
        first = edge(told, "front.waist").segments[0]
        values = told.worked.values
        # Half a box, as wide as the others are; or half of what lies under.
        half = values["under_waist" if boxes == 12.0 else "shows_waist"] / 2
        assert first.length == pytest.approx(half, abs=0.01)


def test_a_tier_as_deep_as_a_placket_is_told_apart_from_it():
    told = reported("tiered", SAMPLE, depths="given", closing="placket_centre_back")
    assert not [p for p in told.problems if p.severity == "wrong"]
    marks = next(p.notches for p in told.cut.pieces if p.name == "back")
    assert 3 in {n.count for n in marks if n.edge == "centre"}
