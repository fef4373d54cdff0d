"""Checks of cutting, fullness, linings, wraps and the floor, at each of their grades.

Limits: common practice, no source. The small skirt of `wrong_on_purpose` is 800 at the
waist, 863.5 halfway down to the hip line and 920 there; mm.
"""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from wrong_drafts import (
    hung,
    lined,
    measured,
    pleated,
    ring_moved,
    striding,
    walking,
    wrapped,
)
from wrong_on_purpose import checked, grades, quarter

from bodies import SAMPLE
from skirtwright.geometry import Chain, Line, Point, straight
from skirtwright.pieces.spec import AllowanceRun, NotchSpec

# The cutting line


def test_a_cutting_line_that_is_right_is_silent():
    found = checked()
    assert grades(found, "allowance_off") == []
    assert grades(found, "allowance_crosses") == []


@pytest.mark.parametrize(("off", "grade"), [(0.04, []), (0.06, ["wrong"])])
def test_allowance_off_by_a_hair(off, grade):
    """The side's cutting line brought in by so much below the hip."""

    def moved(point):
        return Point(point.x - off, point.y) if point.x > 244.9 else point

    found = checked(ring_moved(moved))
    assert grades(found, "allowance_off") == grade
    if grade:
        (said,) = [p for p in found if p.code == "check.allowance_off"]
        assert said.where == "front.side"
        assert said.values["width"] == 15
        assert said.values["found"] == pytest.approx(15 - off, abs=1e-3)


def test_an_allowance_over_a_dart_and_of_two_widths_is_measured_beside_them():
    legs = Point(90, 200), Point(110, 200), Point(100, 95)
    runs = {
        "waist": (AllowanceRun(None, 12.0),),
        "side": (AllowanceRun(250.0, 30.0), AllowanceRun(None, 15.0)),
    }
    found = checked(quarter(darts=[legs], allowances=runs))
    assert grades(found, "allowance_off") == []


def test_the_cutting_line_may_lie_on_a_fold():
    """Where there is no allowance there is nothing to be off."""
    found = checked(quarter(allowances={}))
    assert grades(found, "allowance_off") == []


@pytest.mark.parametrize(
    ("width", "grade"), [(720, []), (725, ["caution"]), (800, ["caution"])]
)
def test_a_piece_wider_than_the_widest_cloth(width, grade):
    """Two halves and two allowances of 15 in 1500 less 30 of selvedges: 720 each."""
    wide = straight(Point(width, 200), Point(width, -400))
    found = checked(quarter(side=wide, notches=[]))
    assert grades(found, "cloth_width") == grade


def test_how_long_a_piece_is_along_its_grain_is_no_matter():
    tall = straight(Point(230, 200), Point(230, -2400))
    found = checked(quarter(side=tall, hem=straight(Point(0, -2400), tall.end)))
    assert grades(found, "cloth_width") == []


def test_a_cloth_of_no_known_width_is_not_asked_about():
    wide = straight(Point(800, 200), Point(800, -400))
    piece = quarter(side=wide, notches=[])
    stiff = replace(piece, spec=replace(piece.spec, material="interfacing"))
    assert grades(checked(stiff), "cloth_width") == []


@pytest.mark.parametrize(("count", "grade"), [(2, []), (4, []), (3, ["wrong"])])
def test_a_pair_is_two(count, grade):
    back = quarter("back")
    found = checked(replace(back, spec=replace(back.spec, count=count)))
    assert grades(found, "pair_odd") == grade


# Fullness


def test_pleats_that_add_up():
    """20 that show 40: the waist of 800; nothing lies under them."""
    assert not [p for p in pleated() if p.code.startswith("check.pleat")]


@pytest.mark.parametrize(
    ("shows", "grade"), [("4.0002", []), ("4.002", ["wrong", "wrong"])]
)
def test_pleat_sums(shows, grade):
    """20 times 0.02 is 0.4 off, along the waist and along the cloth alike."""
    assert grades(pleated(pleat_shows=shows), "pleat_sum") == grade


@pytest.mark.parametrize(("depth", "grade"), [("4", []), ("4.1", ["caution"])])
def test_layers_of_pleats(depth, grade):
    assert grades(pleated(pleat_depth=depth), "pleat_layers") == grade


def test_pleats_are_measured_folded_and_open():
    """Ten pleats of 20 in each front quarter: 200 folded, 400 of cloth."""
    parts = []
    for number in range(10):
        at = 40 * number
        parts += [
            Line(Point(at, 200), Point(at + 20, 200)),
            Line(Point(at + 20, 200), Point(at + 40, 200), f"pleat[{number + 1}]"),
        ]
    waist = Chain(tuple(parts))
    lower = straight(Point(400, 200), Point(400, -400))
    pieces = [
        quarter(name, waist=waist, side=lower, notches=[]) for name in ("front", "back")
    ]
    says = {"pleats": "40", "pleat_shows": "2", "pleat_under": "2"}
    assert grades(checked(*pieces, says=says), "pleat_sum") == []
    says["pleat_under"] = "2.1"
    assert grades(checked(*pieces, says=says), "pleat_sum") == ["wrong"]


@pytest.mark.parametrize(
    ("ratio", "heavy", "code", "grade"),
    [
        ("2.2", "0", "gathers_heavy", []),
        ("2.2", "1", "gathers_heavy", ["caution"]),
        ("3.2", "1", "gathers", ["caution"]),
        ("3.2", "1", "gathers_heavy", []),
    ],
)
def test_gathers_in_heavy_cloth(ratio, heavy, code, grade):
    found = checked(says={"gathers at side": ratio, "heavy": heavy})
    assert grades(found, code) == grade


@pytest.mark.parametrize(
    ("over", "code", "grade"),
    [
        (1.06, "circle_share", []),
        (1.03, "circle_share", ["note"]),
        (0.95, "circle_tight", ["caution"]),
    ],
)
def test_share_of_a_circle(over, code, grade):
    """A waist of 785 and a hip of 880 over 200: (880 + 40 - 785) / 400 pi."""
    least = (880 + 40 - 785) / (2 * math.pi * 200)
    found = checked(says={"circle_share": f"{least * over}"})
    assert grades(found, code) == grade


def test_a_circle_that_does_not_go_round_the_hip():
    least = (880 + 20 - 785) / (2 * math.pi * 200)
    found = checked(says={"circle_share": f"{least * 0.99}"})
    assert grades(found, "circle_under_hip") == ["caution"]


def test_heavy_cloth_halves_the_depth_of_a_hem():
    from wrong_drafts import hem_of

    plain = checked(hem_of(600, 15))
    heavy = checked(hem_of(600, 15), says={"heavy": "1"})
    assert grades(plain, "hem_depth") == ["note"]
    assert grades(heavy, "hem_too_deep") == ["caution"]
    (said,) = [p for p in heavy if p.code == "check.hem_too_deep"]
    assert said.values["would_do"] == pytest.approx(12, abs=0.2)


# Fit


@pytest.mark.parametrize(
    ("hip", "code", "grade"),
    [
        (825, "hip_stretch", []),
        (815, "hip_stretch", ["note"]),
        (805, "hip_stretch", ["caution"]),
        (795, "hip_past_stretch", ["caution"]),
    ],
)
def test_stretch_the_hip_asks_for(hip, code, grade):
    """A body of 880 in cloth that gives a tenth: 0.67, 0.80, 0.93, 1.07 of it."""
    found = measured(says={"stretch": "0.1"}, hip=float(hip))
    assert grades(found, code) == grade
    assert grades(found, "hip_under_body") == []


@pytest.mark.parametrize(
    ("top_hip", "code", "grade"),
    [
        (840, "top_hip", []),
        (850, "top_hip", ["note"]),
        (858, "top_hip", ["caution"]),
        (870, "top_hip_under_body", ["caution"]),
    ],
)
def test_girth_halfway_down_to_the_hip_line(top_hip, code, grade):
    assert grades(measured({"top_hip": float(top_hip)}), code) == grade


def test_pleats_may_have_more_waist_ease():
    """Up to 60; they are tacked down."""
    assert grades(measured(waist=840.0), "waist_roomy") == ["note"]
    says = {"pleats": "20"}
    assert grades(measured(says=says, waist=840.0), "waist_roomy") == []
    assert grades(measured(says=says, waist=850.0), "waist_roomy") == ["note"]


def test_a_band_is_measured_on_its_paper():
    """What it is told to be does not help it: its edge is 30 too short."""
    band = quarter("band", notches=[])
    short = straight(Point(0, 200), Point(770, 200))
    lower = straight(short.end, Point(770, -400))
    band = quarter("band", waist=short, side=lower, notches=[], marks=False)
    band = replace(band, spec=replace(band.spec, material="other"))
    found = checked(band, says={"band_length at band.waist": "79.5"})
    assert grades(found, "band") == ["caution"]


# Walking


@pytest.mark.parametrize(
    ("hem", "code", "grade"),
    [
        (260, "lining_step", []),
        (240, "lining_step", ["note"]),
        (220, "lining_step_short", ["caution"]),
        (190, "lining_step_short", ["caution"]),
    ],
)
def test_step_of_a_lining(hem, code, grade):
    assert grades(lined(hem), code) == grade


def test_a_lining_as_roomy_as_the_skirt_is_not_said_twice():
    found = lined(220)
    (said,) = [p for p in found if p.code == "check.lining_step_short"]
    assert said.where == "front_lining.hem"
    assert said.values["step"] == pytest.approx(482, abs=3)


@pytest.mark.parametrize(
    ("girth", "top", "grade"),
    [("90", "40", []), ("90", "60", ["caution"]), ("120", "60", [])],
)
def test_top_of_a_vent(girth, top, grade):
    """The narrowest place lies 50 cm below the waist; 120 allow a free step there."""
    found = striding(girth, says={"vent_top at back.centre": top})
    assert grades(found, "vent_top") == grade


@pytest.mark.parametrize("top", ["22.2", "23.2", "23.8", "24.4"])
def test_a_vent_open_from_over_a_low_hip(top):
    """The way up to its top is all over the hip; the rest is judged as ever."""
    body = {**SAMPLE, "waist_to_hip": 240.0}
    found = striding("90", body=body, says={"vent_top at back.centre": top})
    assert grades(found, "vent_top") == []
    assert "check.stairs" in {problem.code for problem in found}


@pytest.mark.parametrize(
    ("length", "grade"), [(590, []), (580, ["note"]), (540, ["note"]), (520, [])]
)
def test_sitting(length, grade):
    """The knee lies 580 below the waist: a hem at it, 4 and 6 above it."""
    found = measured({"waist_to_knee": 580.0}, length=float(length))
    assert grades(found, "sitting") == grade


@pytest.mark.parametrize("place", ["waist", "hip", "hem"])
@pytest.mark.parametrize(
    ("overlap", "code", "grade"),
    [
        ("16", "overlap", []),
        ("12", "overlap", ["note"]),
        ("9", "overlap", ["caution"]),
        ("0", "overlap_none", ["wrong"]),
    ],
)
def test_overlap_of_a_wrap(place, overlap, code, grade):
    found = checked(says={f"overlap_{place}": overlap})
    assert grades(found, code) == grade


@pytest.mark.parametrize(
    ("overlap", "sweep", "code", "grade"),
    [
        ("16", 2000.0, "overlap_step", []),
        ("12", 2000.0, "overlap_step", ["note"]),
        ("9", 2000.0, "overlap_step", ["caution"]),
        ("16", 600.0, "overlap_opens", ["caution"]),
    ],
)
def test_overlap_with_a_step_of_forty(overlap, sweep, code, grade):
    """A wide hem keeps what it has; a narrow one is drawn apart by the step."""
    assert grades(wrapped(overlap, sweep), code) == grade


def test_how_far_a_step_draws_a_wrap_apart():
    """What the step needs at the hem over its closed girth is taken from it."""
    from skirtwright.checks.striding import girth_needed
    from skirtwright.figure.body import body_of

    body = body_of({**SAMPLE, "waist_to_floor_side": 1040.0})
    need = girth_needed(400.0, 140.0, body)
    found = wrapped("12", sweep=need - 40)
    (said,) = [p for p in found if p.code == "check.overlap_step"]
    assert said.values["left"] == pytest.approx(80, abs=1e-6)


# The floor and the wearer


@pytest.mark.parametrize(
    ("clear", "code", "grade"),
    [
        (60, "point_clearance", []),
        (30, "point_clearance", ["note"]),
        (5, "point_near_floor", ["caution"]),
        (-5, "point_on_floor", ["caution"]),
    ],
)
@pytest.mark.parametrize("measure", ["point_length", "back_length"])
def test_points_and_low_backs(measure, clear, code, grade):
    assert grades(hung(clear, measure), code) == grade


def test_a_train_is_no_low_back():
    body = {"waist_to_floor_side": 1000.0, "waist_to_floor_back": 1000.0}
    found = measured(body, {"back_length": "120", "train": "20"})
    assert grades(found, "point_on_floor") == []
    assert grades(found, "train") == ["caution"]


@pytest.mark.parametrize(
    ("front", "length", "grade"),
    [
        (980.0, 950.0, []),
        (960.0, 950.0, ["note"]),
        (945.0, 950.0, ["caution"]),
        (945.0, 700.0, []),
    ],
)
def test_lengths_to_the_floor(front, length, grade):
    """Asked of long skirts only."""
    body = {"waist_to_floor_front": front, "waist_to_floor_side": 1000.0}
    assert grades(measured(body, length=length), "floor_lengths") == grade


@pytest.mark.parametrize(("clear", "grade"), [(70, []), (40, ["caution"]), (15, [])])
def test_a_floor_length_hem(clear, grade):
    """Nearer than 2 the hem says it is low instead."""
    body = {"waist_to_floor_side": 1000.0, "waist_to_floor_front": 1100.0}
    found = measured(body, length=1000.0 - clear)
    assert grades(found, "floor_length") == grade


@pytest.mark.parametrize(("sweep", "grade"), [(3900.0, []), (4100.0, ["note"])])
def test_very_full(sweep, grade):
    assert grades(measured(sweep=sweep), "flame") == grade


def test_shoes_are_asked_about_where_the_floor_was_worked_out():
    assert grades(measured(SAMPLE, length=1000.0), "shoes") == []
    taken = {"height": 1650.0}
    assert grades(measured(taken, length=1000.0), "shoes") == ["note"]
    assert grades(measured(taken, length=600.0), "shoes") == []


def test_a_seated_wearer():
    assert grades(checked(says={"seated": "0"}), "seated") == []
    assert grades(walking(610), "seated") == []


@pytest.mark.parametrize(
    ("hip", "stretch", "grade"),
    [(1020.0, "0", ["caution"]), (1080.0, "0", []), (1020.0, "0.1", [])],
)
def test_a_hip_measured_sitting(hip, stretch, grade):
    found = measured({"seated_hip": 1070.0}, {"stretch": stretch}, hip=hip)
    assert grades(found, "seated_hip") == grade


@pytest.mark.parametrize(
    ("body", "grade"),
    [
        ({"waist_to_knee": 410.0}, ["caution"]),
        ({"waist_to_knee": 500.0}, []),
        ({"waist_to_knee": 410.0, "height": 1500.0}, []),
    ],
)
def test_a_child_without_her_height(body, grade):
    """Known by the way to the knee; a height that was taken rules."""
    assert grades(checked(body=body, says={"elastic": "1"}), "child") == grade


# Left and right


def test_left_and_right_are_no_look_alikes():
    """The same piece drawn for each half, told apart by right side up."""
    pieces = [
        replace(
            quarter("front", notches=[NotchSpec("side", 200)]),
            spec=replace(
                quarter("front").spec, name=f"front_{half}", half=half, whole="front"
            ),
        )
        for half in ("left", "right")
    ]
    found = checked(*pieces)
    told = {p.where for p in found if p.code == "check.notches_alike"}
    assert not {place for place in told if place.startswith("front_")}


# The check and the drawing, apart from one another

WIDTHS = st.floats(0, 60).map(lambda width: round(width, 1))


@settings(max_examples=60, deadline=None)
@given(waist=WIDTHS, sides=WIDTHS, lower=WIDTHS, hem=WIDTHS, below=st.floats(50, 500))
def test_what_is_drawn_is_found_right_by_the_check(waist, sides, lower, hem, below):
    """Any widths of any edge, a side of two widths and a dart: what is off is short."""
    legs = Point(90, 200), Point(110, 200), Point(100, 95)
    runs = {
        "waist": (AllowanceRun(None, waist),),
        "side": (AllowanceRun(below, sides), AllowanceRun(None, lower)),
        "hem": (AllowanceRun(None, hem),),
    }
    piece = quarter(darts=[legs], allowances=runs)
    short = {p.where for p in piece.problems}
    found = [p for p in checked(piece) if p.code.startswith("check.allowance")]
    assert not [p for p in found if p.where not in short]
