"""Checks of the skirt on her: each tripped on purpose, at each of its grades.

Limits: common practice, no source. The small skirt of `wrong_on_purpose` is 800 at the
waist and 920 at the hip; mm.
"""

from __future__ import annotations

import pytest
from wrong_drafts import aged, striding
from wrong_on_purpose import Point, checked, grades, quarter, side

from bodies import SAMPLE


@pytest.mark.parametrize(
    ("asked", "grade"),
    [("80", []), ("80.3", ["note"]), ("79.3", ["caution"]), ("78.5", ["wrong"])],
)
def test_waist_along_the_curve(asked, grade):
    assert grades(checked(says={"waist_asked": asked}), "waist_length") == grade


@pytest.mark.parametrize(("asked", "grade"), [("92.1", []), ("91.7", ["wrong"])])
def test_hip_girth_asked(asked, grade):
    found = checked(finished={"hip": 920.0}, says={"hip_asked": asked})
    assert grades(found, "hip_length") == grade


@pytest.mark.parametrize(
    ("ease", "code", "grade"),
    [
        (15, "waist_close", []),
        (15, "waist_roomy", []),
        (35, "waist_roomy", ["note"]),
        (5, "waist_close", ["note"]),
        (-5, "waist_under_body", ["caution"]),
        (-30, "waist_far_under_body", ["caution"]),
    ],
)
def test_waist_ease(ease, code, grade):
    assert grades(checked(finished={"waist": 785.0 + ease}), code) == grade


def test_elastic_draws_a_waist_in():
    found = checked(finished={"waist": 700.0}, says={"elastic": "1"})
    assert grades(found, "waist_far_under_body") == []


@pytest.mark.parametrize(
    ("ease", "code", "grade"),
    [
        (40, "hip_close", []),
        (25, "hip_close", ["note"]),
        (15, "hip_tight", ["caution"]),
        (-5, "hip_under_body", ["caution"]),
    ],
)
def test_hip_ease(ease, code, grade):
    assert grades(checked(finished={"hip": 880.0 + ease}), code) == grade


@pytest.mark.parametrize(
    ("thigh", "code", "grade"),
    [
        (540, "thigh", []),
        (550, "thigh", ["note"]),
        (570, "thigh", ["caution"]),
        (600, "thigh_under_body", ["caution"]),
    ],
)
def test_thighs_ten_below_the_hip_line(thigh, code, grade):
    """920 over 1.64 thighs: 1.04, 1.02, 0.98, 0.93 (L. Baldt, 1916)."""
    assert grades(checked(body={"thigh": float(thigh)}), code) == grade


def test_the_girth_below_the_hip_line_is_measured_where_it_is():
    """Sides that come in by 20 at 10 cm below: 840, so 1.07 of 1.64 x 480."""
    lower = side(hem=Point(210, -400), below=(Point(210, -100),))
    found = checked(quarter(side=lower), quarter("back", side=lower))
    assert grades(found, "thigh") == []
    found = checked(
        quarter(side=lower), quarter("back", side=lower), body={"thigh": 505.0}
    )
    (said,) = [p for p in found if p.code == "check.thigh"]
    assert said.values["girth"] == pytest.approx(840, abs=0.5)


def test_darts_are_shut_in_a_girth():
    """At 50 over the hip line a dart 20 wide and 105 long, from 95 up, is shut;
    at 147.5 it is open by half of its 20."""
    from skirtwright.checks.measured_outline import Paper

    legs = Point(90, 200), Point(110, 200), Point(100, 95)
    plain, darted = Paper(quarter()), Paper(quarter(darts=[legs]))
    assert darted.width_at(-50) == pytest.approx(plain.width_at(-50))
    taken = plain.width_at(-147.5) - darted.width_at(-147.5)
    assert taken == pytest.approx(10, abs=1e-6)


# Getting in


@pytest.mark.parametrize(
    ("hip", "grade"), [(900, []), (905, ["note"]), (912, ["caution"]), (925, ["wrong"])]
)
def test_opening_passes_the_hip(hip, grade):
    """The opening ends at the hip line, where the skirt is 920."""
    says = {"opening_depth at back.centre": "20"}
    assert grades(checked(body={"hip": float(hip)}, says=says), "opening") == grade


@pytest.mark.parametrize(
    ("depth", "grade"), [("18", []), ("17", ["note"]), ("14", ["caution"])]
)
def test_zip_length_against_hip_depth(depth, grade):
    """The centre is 20 cm long down to the hip line."""
    found = checked(says={"opening_depth at back.centre": depth})
    assert grades(found, "opening_short") == grade


@pytest.mark.parametrize(
    ("hip", "grade"), [(780, []), (785, ["note"]), (792, ["caution"]), (880, ["wrong"])]
)
def test_no_opening(hip, grade):
    """A waist of 800, stretched flat, must pass over the hip."""
    body = {"hip": float(hip), "waist": 700.0}
    found = checked(body=body, says={"opening_depth": "0"})
    assert grades(found, "no_opening") == grade


@pytest.mark.parametrize(
    ("elastic", "grade"),
    [("60", []), ("54", ["note"]), ("48", ["caution"]), ("44", ["wrong"])],
)
def test_elastic_stretch_needed(elastic, grade):
    """A hip of 88 and 2: 1.5, 1.67, 1.88, 2.05."""
    found = checked(says={"elastic_length": elastic})
    assert grades(found, "elastic_stretch") == grade


@pytest.mark.parametrize(
    ("band", "code", "grade"),
    [
        ("79.5", "band", []),
        ("78.5", "band", ["note"]),
        ("77", "band", ["caution"]),
        ("75.5", "band", ["wrong"]),
        ("80.2", "band_longer", ["note"]),
        ("80.5", "band_longer", ["wrong"]),
    ],
)
def test_band_against_the_waist(band, code, grade):
    """The skirt's edge is 80."""
    assert grades(checked(says={"band_length": band}), code) == grade


# Walking


def walking(step, **body):
    return checked(finished={"step_allowed": float(step)}, body=body)


@pytest.mark.parametrize(
    ("step", "code", "grade"),
    [
        (610, "step_less_than_free", []),
        (550, "step_less_than_free", ["note"]),
        (450, "step_short", ["caution"]),
        (350, "step_very_short", ["caution"]),
    ],
)
def test_step_allowed(step, code, grade):
    assert grades(walking(step), code) == grade


@pytest.mark.parametrize(
    ("step", "code"),
    [
        (670, None),
        (640, "step_less_than_free"),
        (530, "step_short"),
        (430, "step_very_short"),
    ],
)
def test_step_as_a_share_of_her_own(step, code):
    """1.80 m tall: a free step of 72 cm, 0.9 of it 64.8, 0.75 54, 0.6 43.2."""
    found = walking(step, height=1800.0)
    assert [p.code for p in found if "step" in p.code] == (
        [f"check.{code}"] if code else []
    )


@pytest.mark.parametrize(
    ("girth", "code", "grade"),
    [
        ("98", "stairs", []),
        ("92", "stairs", ["note"]),
        ("86", "stairs_tight", ["caution"]),
    ],
)
def test_stairs(girth, code, grade):
    """8 above the knee a step of 50 needs 87.5 (plain geometry); the hem is wide."""
    found = striding(girth)
    assert grades(found, code) == grade
    for p in found:
        if p.code == f"check.{code}":
            assert p.values["need"] == pytest.approx(875, abs=5)


def test_a_short_skirt_is_not_asked_about_stairs():
    found = checked(
        body=SAMPLE,
        finished={"step_allowed": 640.0, "length": 500.0},
        stride=[{"girth": "90", "below_waist": "50"}],
    )
    assert grades(found, "stairs_tight") == []


# The floor


@pytest.mark.parametrize(
    ("clear", "code", "grade"),
    [
        (25, "hem_low", []),
        (15, "hem_low", ["note"]),
        (5, "hem_near_floor", ["caution"]),
        (0, "hem_on_floor", ["caution"]),
        (-5, "hem_on_floor", ["caution"]),
    ],
)
def test_floor_clearance(clear, code, grade):
    body = {"waist_to_floor_side": 1000.0, "waist_to_floor_front": 1100.0}
    found = checked(finished={"length": 1000.0 - clear}, body=body)
    assert grades(found, code) == grade


def test_floor_clearance_in_front():
    body = {"waist_to_floor_side": 1100.0, "waist_to_floor_front": 1000.0}
    found = checked(says={"front_length": "99.5"}, body=body)
    (said,) = [p for p in found if p.code == "check.hem_near_floor"]
    assert said.values["way"] == "check.at_front"


# Measurements, and cautions of law


@pytest.mark.parametrize(
    ("waist", "hip", "grade"),
    [
        (785, 840, []),
        (785, 830, ["caution"]),
        (500, 875, ["caution"]),
    ],
)
def test_hip_less_waist(waist, hip, grade):
    found = checked(body={"waist": float(waist), "hip": float(hip)})
    assert grades(found, "hip_less_waist") == grade


@pytest.mark.parametrize(
    ("height", "grade"), [(1650, []), (1300, ["note"]), (2100, ["note"])]
)
def test_hip_depth_against_height(height, grade):
    """A depth of 200: 0.121, 0.154, 0.095."""
    assert grades(checked(body={"height": float(height)}), "depth_share") == grade


@pytest.mark.parametrize(
    ("height", "says", "grade"),
    [
        (1400, {"elastic": "1"}, ["caution"]),
        (1400, {"cords": "1"}, ["caution"]),
        (1400, {"train": "40"}, ["caution"]),
        (1400, {}, []),
        (1600, {"elastic": "1"}, []),
    ],
)
def test_a_child_with_cords_or_elastic(height, says, grade):
    found = checked(body={"height": float(height)}, says=says)
    assert grades(found, "child") == grade


@pytest.mark.parametrize(
    ("years", "said"), [(6, True), (13, True), (14, False), ("", False)]
)
def test_a_child_as_tall_as_her_mother_is_known_by_her_age(years, said):
    """Up to 14 (EN 14682, from memory); the sample is 165 cm tall."""
    codes = [problem.code for problem in aged(years)]
    assert ("check.child_age" in codes) is said
    assert ("check.child_sleeps" in codes) is said


def test_train_and_nightwear():
    assert grades(checked(says={"train": "40"}), "train") == ["caution"]
    assert grades(checked(says={"train": "0"}), "train") == []
    assert grades(checked(says={"nightwear": "1"}), "nightwear") == ["caution"]
