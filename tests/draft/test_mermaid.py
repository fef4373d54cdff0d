"""The mermaid: every rule of it, with its figures.

Source of figures without another note: plain
geometry worked apart from this program, for the house client. Given in cm there.
"""

from __future__ import annotations

import math
from itertools import pairwise

import pytest

from bodies import HOUSE, SAMPLE
from drafting import angle_at, as_read, length_of, look_of, reported, work
from skirtwright.checks.striding import girth_needed, rules, step_allowed
from skirtwright.draft import styles
from skirtwright.figure.body import body_of
from skirtwright.geometry.point import Point
from skirtwright.job import edits, opening

DOWN = Point(0, -1)


def mermaid(**amounts):
    return work("mermaid", SAMPLE, **amounts)


def finished(**amounts):
    return reported("mermaid", SAMPLE, **amounts).finished


# Defaults


DEFAULTS = {
    # name: default, least, most, in cm (common practice, no source)
    "length": (95, 60, 110),
    "waist_ease": (1.5, 0, 4),
    "hip_ease": (4, -6, 10),
    "back_share": (0, -2, 2),
    "knee_lift": (8, 0, 15),
    "knee_shaping": (2, 0, 4),
    "knee_curve": (5, 0, 10),
    "front_spread": (3, 0, 6),
    "back_spread": (3, 0, 6),
    "hem_drop": (1.5, 0, 3),
    "dart_intake_front": (2.85, 0, 5),
    "dart_intake_back": (4.275, 0.6, 7),
    "dart_above_hip_front": (9.5, 7, 12),
    "dart_above_hip_back": (5, 2, 8),
    "side_rise": (1.2825, 0, 2.5),
    # By the lengths to the floor, 0.5 and 0 less at front and back than at the side.
    "waist_drop_front": (-0.7825, -1.7825, 1.5),
    "waist_drop_back": (-1.2825, -2.2825, 2),
    "zip_allowance": (2.5, 1.5, 3),
    "zip_length": (18, 15, 30),
}


@pytest.mark.parametrize("name", DEFAULTS)
def test_defaults_and_ranges(name):
    state = mermaid().stated.amounts[name]
    found = (state.value / 10, state.least / 10, state.most / 10)
    assert found == pytest.approx(DEFAULTS[name], abs=1e-6)
    assert state.applies
    assert not state.given


def test_its_names_are_those_scripts_use():
    draft = styles.style("mermaid")
    known = {a.name for a in draft.amounts}
    assert {*DEFAULTS, "dart_place_front", "dart_place_back"} <= known
    wanted = {
        "waist_shape": ["darted", "side_elastic"],
        "closing": [
            "zip_centre_back",
            "zip_left_side",
            "placket_centre_back",
            "placket_left_side",
            "none",
        ],
        "hem_shape": ["one_curve", "even_from_knee"],
    }
    found = {c.name: list(c.options) for c in draft.choices}
    assert {name: found[name] for name in wanted} == wanted
    assert set(draft.measurements) == set(HOUSE)


def test_expected_for_the_house_client():
    found = finished()
    assert found["waist"] / 10 == pytest.approx(73.5, abs=0.001)
    assert found["hip"] / 10 == pytest.approx(102, abs=1e-6)
    assert found["knee"] / 10 == pytest.approx(96.3, abs=0.05)
    assert found["sweep"] / 10 == pytest.approx(164, rel=0.02)
    assert found["step_allowed"] / 10 == pytest.approx(60.5, abs=0.5)
    assert finished(knee_curve=0)["knee"] / 10 == pytest.approx(94, abs=1e-3)


def test_nothing_is_wrong_with_its_defaults():
    for body in (SAMPLE, HOUSE):
        found = reported("mermaid", body)
        assert not found.refusals
        assert not found.has_wrong


@pytest.mark.parametrize(
    ("spread", "sweep"),
    [(0, 94), (1, 117), (2, 140), (3, 164), (4, 188), (5, 212), (6, 236), (8, 285)],
)
def test_sweep_by_spread(spread, sweep):
    found = finished(front_spread=spread * 10, back_spread=spread * 10, hem_drop=10)
    assert found["sweep"] / 10 == pytest.approx(sweep, rel=0.02)


@pytest.mark.parametrize(
    ("hip", "shaping", "spread", "knee", "sweep"),
    [(84, 2, 2.5, 80, 148), (112, 2.5, 3.5, 106, 179), (128, 3, 4, 120, 193)],
)
def test_other_hips(hip, shaping, spread, knee, sweep):
    body = {**SAMPLE, "hip": hip * 10, "waist": hip * 10 - 260, "thigh": hip * 5.8}
    amounts = {"knee_shaping": shaping * 10, "hem_drop": 10, "knee_curve": 0}
    spreads = {"front_spread": spread * 10, "back_spread": spread * 10}
    found = reported("mermaid", body, **amounts, **spreads).finished
    assert found["knee"] / 10 == pytest.approx(knee, abs=0.01)
    assert found["sweep"] / 10 == pytest.approx(sweep, rel=0.02)


STEPS = {
    1: (64.9, 66.7, 68.1),
    2: (59.4, 60.5, 61.3),
    3: (53.7, 54.2, 54.3),
    4: (48.0, 47.6, 47.0),
    5: (42.0, 40.6, 39.2),
}
"""By the rule of room to walk, her leg straight from knee to thigh (plain geometry)."""


@pytest.mark.parametrize("shaping", STEPS)
@pytest.mark.parametrize(("column", "lift"), [(0, 5), (1, 8), (2, 10)])
def test_step_allowed_at_the_knee_line(shaping, column, lift):
    found = finished(knee_shaping=shaping * 10, knee_lift=lift * 10)
    assert found["step_allowed"] / 10 == pytest.approx(STEPS[shaping][column], abs=0.5)


# Rule 1: heights


@pytest.mark.parametrize(("lift", "length"), [(80, 950), (50, 900), (120, 1010)])
def test_knee_line_and_hem_hang_from_the_side_waist(lift, length):
    worked = mermaid(knee_lift=lift, length=length, knee_curve=0)
    depth = 580 - lift - 200
    knee = worked.values["front"].mark("knee").shape
    assert knee.start.y == pytest.approx(-depth)
    assert knee.end.y == pytest.approx(-depth)
    assert worked.values["below_knee"] == pytest.approx(length - 200 - depth)
    assert length_of(worked, "walk(front.side)") == pytest.approx(length, abs=1e-6)
    below = length_of(worked, "walk(front.side)") - _walked(worked, "front", "knee")
    assert below == pytest.approx(length - 200 - thigh_of(worked), abs=1e-6)


def thigh_of(worked):
    """Hip to knee along the front side: taken in, it is longer than it is deep."""
    thigh = length_of(worked, "walk(front_thigh)")
    assert 0 < thigh - worked.values["knee_depth"] < 1
    return thigh


def _walked(worked, panel, mark, edge="side"):
    chain = worked.values[panel].edge(edge).chain
    shape = worked.values[panel].mark(mark).shape
    return min(
        (chain.nearest(p) for p in (shape.start, shape.end)), key=lambda n: n[1]
    )[0]


# Rule 2: elastic at the sides


def test_side_elastic_has_no_darts_rise_or_drops():
    worked = work("mermaid", HOUSE, waist_shape="side_elastic")
    off = {n for n, s in worked.stated.amounts.items() if not s.applies}
    assert off >= {
        "dart_intake_front",
        "dart_intake_back",
        "dart_place_front",
        "dart_place_back",
        "dart_above_hip_front",
        "dart_above_hip_back",
        "side_rise",
        "waist_drop_front",
        "waist_drop_back",
    }
    for name in ("front", "back"):
        panel = worked.values[name]
        assert panel.darts == ()
        waist = panel.edge("waist").chain
        assert {round(p.y, 9) for p in waist.flattened(0.01)} == {200.0}
        hip = panel.mark("hip").shape
        assert waist.length == pytest.approx(hip.length, abs=1e-9)
        side = panel.edge("side").chain
        assert {round(side.at(d).x, 6) for d in (0, 50, 100, 150, 199)} == {255.0}
    assert length_of(worked, "2*(walk(front.waist)+walk(back.waist))") == pytest.approx(
        1020
    )
    report = as_read("mermaid", SAMPLE, waist_shape="side_elastic")
    assert not off & set(report["amounts"])


def test_amounts_that_do_not_apply_are_kept_and_said():
    worked = mermaid(waist_shape="side_elastic", side_rise=20.0)
    (said,) = [p for p in worked.problems if p.code == "draft.amount_not_used"]
    assert said.where == "side_rise"
    assert said.severity == "note"


# Rule 3: hip to knee


@pytest.mark.parametrize("shaping", [0, 5, 20, 40])
@pytest.mark.parametrize("panel", ["front", "back"])
def test_the_side_passes_the_hip_upright_and_never_cuts_inside_the_line(shaping, panel):
    worked = mermaid(knee_shaping=shaping, knee_curve=0, front_spread=0, back_spread=0)
    edge = worked.values[panel].edge("side").chain
    hip, knee = _walked(worked, panel, "hip"), _walked(worked, panel, "knee")
    assert hip == pytest.approx(200, abs=1e-3)
    for place in (hip - 0.01, hip + 0.01):
        assert angle_at(edge.direction_at(place), DOWN) < 0.05
    assert max(p.x for p in edge.flattened(0.01)) <= 255 + 1e-6
    top, bottom = edge.at(hip), edge.at(knee)
    chord = (bottom - top).unit()
    outside = [
        (edge.at(hip + (knee - hip) * share / 20) - top).cross(chord)
        for share in range(21)
    ]
    # Left of the way down is outside (larger x); never inside the straight line.
    assert min(-o for o in outside) >= -1e-6
    taken = shaping if panel == "front" else shaping / 2
    assert top.x - bottom.x == pytest.approx(taken, abs=1e-6)
    assert angle_at(edge.direction_at(knee - 0.001), chord) < 0.05
    # Straight down below.
    assert angle_at(edge.direction_at(knee + 1), DOWN) == pytest.approx(0, abs=1e-6)


@pytest.mark.parametrize("shaping", [0, 10, 20, 35])
@pytest.mark.parametrize("hip_ease", [0, 40, 80])
def test_knee_girth_before_easing_and_spreading(shaping, hip_ease):
    found = finished(
        knee_shaping=shaping,
        hip_ease=hip_ease,
        knee_curve=0,
        front_spread=0,
        back_spread=0,
    )
    assert found["knee"] == pytest.approx(980 + hip_ease - 4 * shaping, abs=0.05)
    assert found["hip"] == pytest.approx(980 + hip_ease, abs=1e-6)


def test_the_back_is_taken_in_half_at_the_side_and_half_at_the_centre():
    worked = mermaid(knee_shaping=30, knee_curve=0)
    knee = worked.values["back"].mark("knee").shape
    assert knee.start.x == pytest.approx(15)
    assert knee.end.x == pytest.approx(255 - 15)
    front = worked.values["front"].mark("knee").shape
    assert (front.start.x, front.end.x) == pytest.approx((0, 225))
    # Both panels are equally wide there.
    assert knee.length == pytest.approx(front.length, abs=0.01)


# Rule 4: truing


@pytest.mark.parametrize("shaping", [0, 20, 40])
@pytest.mark.parametrize("curve", [0, 50, 100])
def test_the_side_seam_is_trued_from_the_hip_down(shaping, curve):
    worked = mermaid(knee_shaping=shaping, knee_curve=curve)
    # Eased, the front's sharper corner loses a little more than the back's on the way
    # to the knee; the seam's notches (below) stand at one distance on both.
    for mark, off in (("hip", 0.001), ("knee", 0.01 if curve == 0 else 1.0)):
        assert _walked(worked, "front", mark) == pytest.approx(
            _walked(worked, "back", mark), abs=off
        )
    assert length_of(worked, "walk(front.side)-walk(back.side)") == pytest.approx(
        0, abs=1e-6
    )
    # Never at the waist: waist to hip is the same curve on both.
    front, back = (worked.values[f"{n}_side_curve"] for n in ("front", "back"))
    assert front.length == pytest.approx(back.length, abs=1e-9)
    moved = worked.values["back_knee_depth"] - worked.values["knee_depth"]
    assert -1e-9 <= moved < 2.5
    if shaping == 20:
        # "about half a millimetre": front slant 30.07, back 30.02.
        assert moved == pytest.approx(0.5, abs=0.2)


@pytest.mark.parametrize(
    "amounts", [{}, {"knee_shaping": 40, "front_spread": 50, "back_spread": 20}]
)
def test_notches_stand_at_equal_walked_distances(amounts):
    report = as_read("mermaid", SAMPLE, **amounts)
    notches = {
        piece["name"]: [
            (round(n["distance"], 2), n["count"])
            for n in piece["notches"]
            if n["edge"] == "side"
        ]
        for piece in report["pieces"]
    }
    assert len(notches["front"]) >= 3
    assert notches["front"] == notches["back"]
    # The centre back can be told from the side: other counts, and other distances from
    # the hem end (at the knee 2 cm lower than the side's).
    (back,) = [p for p in report["pieces"] if p["name"] == "back"]
    long = {e["name"]: e["length"] for e in back["edges"]}
    # Single snips besides are the balance marks of a long seam.
    up = {
        edge: [
            long[edge] - n["distance"]
            for n in back["notches"]
            if (n["edge"], n["count"]) == (edge, count)
        ]
        for edge, count in (("centre", 2), ("side", 1))
    }
    assert len(up["centre"]) == 2
    assert up["side"][1] - up["centre"][1] == pytest.approx(20, abs=3)


# Rule 5: spreading


@pytest.mark.parametrize("spread", [0, 10, 30, 60])
def test_the_swing_is_twice_the_arc_sine_of_gap_over_width(spread):
    worked = mermaid(front_spread=spread, back_spread=spread, knee_curve=0)
    swing = math.degrees(2 * math.asin(spread / (2 * 117.5)))
    for panel, edge in (("front", "side"), ("back", "side"), ("back", "centre")):
        chain = worked.values[panel].edge(edge).chain
        found = angle_at(chain.end_direction, DOWN)
        # The back's knee line lies half a millimetre off level.
        assert found == pytest.approx(swing, abs=0.05)
    if spread == 30:
        assert swing == pytest.approx(14.7, abs=0.05)
    if spread == 60:
        assert swing == pytest.approx(29.6, abs=0.05)


def test_edges_below_the_knee_keep_their_length():
    for spread in (0, 30, 60):
        worked = mermaid(front_spread=spread, back_spread=spread, knee_curve=0)
        long = length_of(worked, "walk(front.side)") - _walked(worked, "front", "knee")
        assert long == pytest.approx(750 - thigh_of(worked), abs=1e-6)
        assert length_of(worked, "walk(back.side)-walk(front.side)") == pytest.approx(
            0, abs=1e-6
        )


def test_each_edge_adds_its_length_times_swing_to_the_hem():
    # "Each edge adds (length below the knee) x swing to the hem": in all six edges
    # swing, two of the front and four of the back.
    base = finished(front_spread=0, back_spread=0, knee_curve=0, hem_drop=0)["sweep"]
    spread = finished(front_spread=20, back_spread=20, knee_curve=0, hem_drop=0)
    swing = 2 * math.asin(20 / (2 * 117.5))
    assert spread["sweep"] - base == pytest.approx(6 * 450 * swing, rel=0.03)


def test_the_two_spreads_of_the_back_commute():
    draft = styles.style("mermaid")

    def reversed_slashes(items):
        for item in items:
            if getattr(item, "kind", "") == "slash_and_spread":
                yield item.replace(slashes=list(reversed(item.slashes)))
            else:
                yield item

    other = draft.replace(steps=tuple(reversed_slashes(draft.steps)))
    first, second = work(draft, SAMPLE), work(other, SAMPLE)
    for edge in ("waist", "side", "hem", "centre"):
        one = first.values["back"].edge(edge).chain
        two = second.values["back"].edge(edge).chain
        for share in range(11):
            a = one.at(one.length * share / 10)
            b = two.at(two.length * share / 10)
            assert a.to(b) < 1e-6


def test_a_spread_beyond_its_bound_is_refused_with_the_largest():
    worked = mermaid(front_spread=170)
    (refused,) = [p for p in worked.problems if p.code == "draft.turns_too_far"]
    assert refused.values["largest"] == pytest.approx(117.5 * math.sqrt(2), abs=0.01)
    assert refused.stops
    assert "front" not in worked.values
    # What the back does to be as long as the front leans on it; the front not on the
    # back.
    worked = mermaid(back_spread=170)
    assert "back" not in worked.values
    assert worked.values["front"].area > 0
    assert [p.where for p in worked.problems if p.stops] == ["back_spread_out"]


# Rule 6: hem and corner


@pytest.mark.parametrize("shape", ["one_curve", "even_from_knee"])
@pytest.mark.parametrize("spread", [0, 10, 30, 60])
@pytest.mark.parametrize("drop", [0, 15, 30])
def test_each_end_of_the_hem_is_square(shape, spread, drop):
    worked = mermaid(
        hem_shape=shape, front_spread=spread, back_spread=spread, hem_drop=drop
    )
    assert not worked.stopped
    for name in ("front", "back"):
        panel = worked.values[name]
        hem = panel.edge("hem").chain
        for edge, along in (
            ("centre", hem.start_direction),
            ("side", -hem.end_direction),
        ):
            seam = panel.edge(edge).chain
            assert angle_at(-seam.end_direction, along) == pytest.approx(90, abs=0.05)


def test_hem_drop_lengthens_the_fold_edge():
    plain, lowered = mermaid(hem_drop=0), mermaid(hem_drop=25)
    for worked, drop in ((plain, 0), (lowered, 25)):
        fold = worked.values["front"].edge("centre").chain
        assert fold.end.y == pytest.approx(-750 - drop)
        assert fold.end.x == pytest.approx(0)
    assert plain.values["back"].edge("hem") == lowered.values["back"].edge("hem")
    # "CF 96.5 with the drop" counts from the side waist: 95 + 1.5.
    fold = mermaid().values["front"].edge("centre").chain
    assert mermaid().values["side_height"] - fold.end.y == pytest.approx(965, abs=4)


@pytest.mark.parametrize(
    ("spread", "low"), [(1, 0.6), (2, 1.1), (3, 1.7), (4, 2.3), (5, 2.8), (6, 3.2)]
)
def test_one_curve_bellies_in_the_middle_of_the_back(spread, low):
    worked = mermaid(back_spread=spread * 10, front_spread=spread * 10, knee_curve=0)
    hem = worked.values["back"].edge("hem").chain
    lowest = min(p.y for p in hem.flattened(0.01))
    assert (-750 - lowest) / 10 == pytest.approx(low, abs=0.15)


@pytest.mark.parametrize("spread", [10, 30, 50])
def test_even_from_the_knee_line_is_even(spread):
    worked = mermaid(
        hem_shape="even_from_knee",
        back_spread=spread,
        front_spread=spread,
        knee_curve=0,
        hem_drop=0,
    )
    for name in ("front", "back"):
        line = worked.values[f"{name}_knee_line"]
        hem = worked.values[name].edge("hem").chain
        away = [line.nearest(p)[1] for p in hem.flattened(0.1)]
        # At the side seam it gives what the thigh is longer than it is deep.
        assert min(away) == pytest.approx(750 - thigh_of(worked), abs=1e-3)
        assert max(away) == pytest.approx(450, abs=1e-3)


@pytest.mark.parametrize("curve", [20, 50, 100])
def test_the_knee_corner_is_eased_alike_on_both_edges(curve):
    sharp, eased = mermaid(knee_curve=0), mermaid(knee_curve=curve)
    for panel, edge in (("front", "side"), ("back", "side"), ("back", "centre")):
        chain = eased.values[panel].edge(edge).chain
        turns = [
            angle_at(a.end_direction, b.start_direction)
            for a, b in zip(chain.segments, chain.segments[1:], strict=False)
        ]
        # No corner left at the knee (the hip is the smooth point it was).
        assert max(turns) < 0.05
        # The curve is the shorter way; what it saves the side gets at its end.
        corner = sharp.values[panel].edge(edge).chain
        if edge == "side":
            assert chain.length == pytest.approx(corner.length, abs=1e-6)
            assert 0 < chain.end.to(corner.end) < 5
        else:
            assert 0 < corner.length - chain.length < 5
    assert length_of(eased, "walk(front.side)-walk(back.side)") == pytest.approx(
        0, abs=1e-6
    )


def test_the_eased_corner_adds_its_rule_to_the_knee():
    # run x tan(bend / 4) at the knee per edge: 0.4 here, 2.3 on the girth.
    sharp, eased = finished(knee_curve=0), finished(knee_curve=50)
    assert (eased["knee"] - sharp["knee"]) / 10 == pytest.approx(2.3, abs=0.05)


def test_a_knee_curve_longer_than_the_edge_is_refused():
    worked = mermaid(knee_curve=450)
    refused = [p for p in worked.problems if p.stops]
    assert refused
    assert refused[0].code == "draft.run_too_long"
    assert refused[0].values["largest"] < 450


# Rule 7: the centre back


def _centre(**amounts):
    report = as_read("mermaid", SAMPLE, **amounts)
    (back,) = [p for p in report["pieces"] if p["name"] == "back"]
    (edge,) = [e for e in back["edges"] if e["name"] == "centre"]
    return edge


def test_the_zip_allowance_ends_3_cm_below_the_zip():
    edge = _centre()
    assert [run["width"] for run in edge["allowances"]] == pytest.approx([25, 20])
    assert edge["allowances"][0]["length"] == pytest.approx(180 + 30)
    total = sum(run["length"] for run in edge["allowances"])
    assert total == pytest.approx(edge["length"], abs=1e-6)
    edge = _centre(zip_length=220, zip_allowance=30)
    assert edge["allowances"][0] == pytest.approx({"width": 30, "length": 250})


def test_without_a_closing_the_seam_has_its_own_allowance():
    edge = _centre(closing="none")
    assert [run["width"] for run in edge["allowances"]] == pytest.approx([20])
    worked = mermaid(closing="none")
    assert not worked.stated.amounts["zip_length"].applies


@pytest.mark.parametrize(
    ("depth", "zip_length"), [(160, 15), (200, 18), (225, 20), (245, 22), (270, 25)]
)
def test_default_zip_is_the_next_sold_length(depth, zip_length):
    # The centre back depth less 2 cm, up to a length that is sold.
    worked = work("mermaid", {**HOUSE, "waist_to_hip": depth})
    rise = worked.stated.amounts["side_rise"].value + 7
    assert depth - 20 - rise <= zip_length * 10
    assert worked.stated.amounts["zip_length"].value == zip_length * 10


# Refusals


@pytest.mark.parametrize(
    ("amounts", "code"),
    [
        ({"knee_lift": 390}, "style.knee_below_hip"),
        ({"length": 480}, "style.hem_below_knee"),
        ({"knee_shaping": 130}, "style.knee_shaping_fits"),
        ({"knee_shaping": -10}, "style.knee_shaping_fits"),
        ({"length": 190}, "style.length_over_hip"),
    ],
)
def test_refusals_say_what_would_do(amounts, code):
    refused = list(reported("mermaid", SAMPLE, **amounts).refusals)
    assert code in {p.code for p in refused}
    first = next(p for p in refused if p.code == code)
    assert first.says
    assert first.remedy


# The stride, and measured women


@pytest.mark.parametrize(
    ("height", "girth", "needed"), [(44.9, 35.3, 97.2), (30, 35, 120.2)]
)
def test_walking_girth(height, girth, needed):
    # Murray, Kory and Sepic (1970); plain geometry: 2 S (h - z) / h + g, in cm.
    # The program's fuller term adds how far apart the legs stand: root(s^2 + b^2).
    joint, step = 84.5, 66.0
    card = {
        **SAMPLE,
        "height": joint * 10 / rules()["hip_joint"],
        "waist_to_floor_side": 1040.0,
        "waist_to_knee": 1040.0 - height * 10,
        "knee": girth * 10,
        "thigh": 570.0,
        "calf": girth * 10 if height < 31 else 355.0,
    }
    if height < 31:
        # At calf height the calf itself is what the skirt goes round.
        card["waist_to_knee"] = 580.0
        card["calf"] = girth * 10
    body = body_of(card)
    leg = body.leg_girth(height * 10)
    found = girth_needed(step * 10, height * 10, body)
    apart = max(71.0, leg / math.pi)
    plain = 2 * math.sqrt(((found - leg) / 2) ** 2 - apart**2) + leg
    assert leg / 10 == pytest.approx(girth, abs=0.2)
    assert (plain - leg) / 10 + girth == pytest.approx(needed, abs=0.2)
    assert found > plain
    assert step_allowed(found, height * 10, body) == pytest.approx(step * 10)


@pytest.mark.parametrize(
    ("z", "needed"),
    [(300, (124, 117, 104)), (460, (102, 97, 88)), (540, (97.5, 93.7, 87.5))],
)
@pytest.mark.parametrize(("column", "step"), [(0, 660), (1, 600), (2, 500)])
def test_girth_the_house_client_needs(z, needed, column, step):
    # Plain geometry: mid-calf, knee, 8 above. There the leg is straight between 36 at
    # the knee, 46 over the floor, and 57 at the thigh, 0.76 of the way up to the hip.
    found = girth_needed(step, z, body_of(SAMPLE))
    assert found / 10 == pytest.approx(needed[column], abs=0.5 if z == 540 else 1)


def test_the_leg_she_steps_with_is_that_of_her_figure():
    """Its girth is measured on the rings the figure is drawn from."""
    report = reported("trumpet", SAMPLE)
    body = report.body
    for z in (150, 330, 460, 520, 600, 660, 740):
        rings = [(*leg.ring(), leg.ring()[0]) for leg in body.legs(z)]
        long = sum(math.dist(a, b) for r in rings for a, b in pairwise(r)) / 2
        assert report.skirt.lower_body.leg_girth(z) == pytest.approx(long, abs=1), z
    ankle = body.section("ankle").height
    assert body.leg_girth(0.0) == body.leg_girth(ankle), "no foot lies flat in a hem"
    thigh = body.section("thigh")
    assert report.skirt.lower_body.leg_girth(thigh.height + 60) == pytest.approx(
        570, abs=0.1
    )
    # Half way up from the knee it is no thinner than half way between the two.
    assert body.leg_girth((460 + thigh.height) / 2) > (360 + 570) / 2 - 4


@pytest.mark.parametrize("style", ["mermaid", "train"])
@pytest.mark.parametrize("spread", ["0", "3", "6"])
@pytest.mark.parametrize("hem", ["one_curve", "even_from_knee"])
def test_the_side_is_as_long_as_asked_however_much_is_spread(style, spread, hem):
    """Taking in at the knee and easing the corner there change the seam's length."""
    job = edits.set_amount(opening.open_source(style), "front_spread", spread).job
    report = look_of(edits.set_choice(job, "hem_shape", hem).job).report
    asked = report.worked.stated.amounts["length"].value
    assert report.finished["length"] == pytest.approx(asked, abs=1e-3)
