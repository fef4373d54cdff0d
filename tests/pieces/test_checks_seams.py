"""Checks of what is sewn together: each tripped on purpose, at each of its grades.

Limits: common practice, no source. Figures beside them are plain geometry on the small
skirt of `wrong_on_purpose`.
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from wrong_drafts import flared, longer_back, sloping
from wrong_on_purpose import CENTRE_BACK, SIDE, checked, grades, quarter, side

from skirtwright.checks.checked_skirt import edge_words
from skirtwright.checks.measured_outline import Paper
from skirtwright.draft.runs import Run
from skirtwright.geometry import Point, straight
from skirtwright.pieces.spec import NotchSpec
from skirtwright.words import Manner


@pytest.mark.parametrize(
    ("by", "grade"), [(0, []), (0.05, []), (0.2, ["wrong"]), (5, ["wrong"])]
)
def test_seam_edges_equal(by, grade):
    found = checked(longer_back(by))
    assert grades(found, "seam_uneven") == grade
    if grade:
        (said,) = [p for p in found if p.code == "check.seam_uneven"]
        assert said.where == "side"
        assert said.values["difference"] == pytest.approx(by, abs=1e-6)


def test_the_walk_is_along_the_outline_and_not_the_number_that_is_kept():
    """A piece whose chain gives a false length of itself is found out."""
    back = quarter("back")
    chain = back.panel.edge("side").chain
    chain._length = chain.length + 5
    assert back.panel.edge("side").chain.length == chain._length
    assert grades(checked(back), "seam_uneven") == []
    back = longer_back(5)
    back.panel.edge("side").chain._length = chain.length - 5
    assert grades(checked(back), "seam_uneven") == ["wrong"]


def test_walked_lengths_agree_with_the_true_ones_on_curves():
    for edge in quarter().panel.edges:
        drawn = Paper(quarter()).edges[edge.name]
        assert drawn.length == pytest.approx(edge.chain.length, abs=0.02)


@pytest.mark.parametrize(
    ("share", "grade"),
    [(0.005, []), (0.02, ["note"]), (0.04, ["caution"]), (0.06, ["wrong"])],
)
def test_stated_ease(share, grade):
    length = quarter().panel.edge("side").chain.length
    seam = replace(SIDE, ease=-share * length)
    found = checked(longer_back(share * length), seams=[seam])
    assert grades(found, "seam_uneven") == []
    assert grades(found, "seam_ease") == grade


def test_gathers_are_no_ease():
    length = quarter().panel.edge("side").chain.length
    seam = replace(SIDE, ease=-0.5 * length)
    back = longer_back(0.5 * length)
    found = checked(back, seams=[seam], says={"gathers at side": "1.5"})
    assert grades(found, "seam_ease") == []


@pytest.mark.parametrize(
    ("ratio", "grade"),
    [("1.5", []), ("2.7", ["note"]), ("3.2", ["caution"]), ("0.9", ["wrong"])],
)
def test_gathers(ratio, grade):
    assert grades(checked(says={"gathers at side": ratio}), "gathers") == grade


# Angles


@pytest.mark.parametrize(
    ("rise", "grade"), [(1, []), (4, ["note"]), (12, ["caution"]), (20, ["wrong"])]
)
def test_angles_across_a_seam_at_the_hem(rise, grade):
    """Both corners together: 4 over 230 is 2 degrees off, 12 is 6, 20 is 10."""
    found = [p for p in checked(*sloping(rise)) if p.where == "front.side end"]
    assert grades(found, "seam_angle") == grade


def test_angles_across_a_seam_at_the_waist():
    """A side waist 20 higher than level: twice 5.7 degrees."""
    lower = side(Point(200, 220))
    found = checked(quarter(side=lower), quarter("back", side=lower))
    said = [p for p in found if p.code == "check.seam_angle"]
    assert "wrong" in [p.severity for p in said]
    assert {p.values["line"] for p in said} == {"waist"}
    assert "front.side start" in {p.where for p in said}, "where the two meet"


def test_one_corner_may_lend_the_other_what_it_lacks():
    """84 and 96 degrees: together straight, but neither square."""
    up = side(hem=Point(230, -400 + 24))
    down = side(hem=Point(230, -400 - 24))
    found = checked(quarter(side=up), quarter("back", side=down))
    at_side = [p for p in found if p.where.startswith("front.side")]
    assert grades(at_side, "seam_angle") == []
    assert grades(found, "hem_corner").count("note") >= 2


@pytest.mark.parametrize(
    ("rise", "grade"), [(8, []), (16, ["note"]), (28, ["caution"])]
)
def test_each_corner_at_the_hem(rise, grade):
    """16 over 230 is 4 degrees, 28 is 7."""
    found = [p for p in checked(*sloping(rise)) if p.where == "front.side end"]
    assert grades(found, "hem_corner") == grade


# Flare


@pytest.mark.parametrize(
    ("degrees", "grade"), [(2, []), (4, ["note"]), (6, ["caution"])]
)
def test_front_and_back_lean_alike(degrees, grade):
    assert grades(checked(flared(degrees)), "seam_lean") == grade


def test_a_style_may_mean_its_seam_to_lean():
    found = checked(flared(6), says={"seam_lean_meant at side": "5"})
    assert grades(found, "seam_lean") == []


@pytest.mark.parametrize(
    ("degrees", "grade"),
    [(14, []), (17, ["note"]), (22, ["caution"]), (50, ["wrong"])],
)
def test_edge_off_the_grain(degrees, grade):
    found = checked(flared(degrees), flared(degrees, "back"))
    assert grades(found, "off_grain") == grade


def test_a_straight_edge_on_the_bias_is_no_shaped_seam():
    lean = straight(Point(200, 200), Point(900, -400))
    found = checked(quarter(side=lean, marks=False), quarter("back", side=lean))
    assert grades(found, "off_grain") == ["caution"]


def test_a_style_may_mean_its_edges_to_run_off_the_grain():
    pieces = flared(50), flared(50, "back")
    found = checked(*pieces, says={"off_grain_meant": "90"})
    assert grades(found, "off_grain") == []


@pytest.mark.parametrize(
    ("angle", "grade"), [(24, []), (27, ["note"]), (32, ["caution"]), (46, ["wrong"])]
)
def test_swing_of_a_corner(angle, grade):
    found = checked(says={"swing at front.side": str(angle)})
    assert grades(found, "swing") == grade
    assert all(p.where == "front.side" for p in found if p.code == "check.swing")


# The hem as a whole


@pytest.mark.parametrize(
    ("rise", "grade"), [(8, []), (15, ["note"]), (25, ["caution"]), (45, ["wrong"])]
)
def test_hem_even(rise, grade):
    found = checked(*sloping(rise))
    assert grades(found, "hem_spread") == grade


def test_a_hem_lowered_on_purpose_is_not_uneven_by_that():
    """Both centres lie 45 mm lower than the sides: 40 of them meant, 5 are left."""
    meant = {f"hem_lowered at {name}.centre": "4 cm" for name in ("front", "back")}
    found = checked(*sloping(45), says=meant)
    assert grades(found, "hem_spread") == []


def test_a_hem_meant_to_run_off():
    found = checked(*sloping(45), says={"hem_spread_meant": "4.5 cm"})
    assert grades(found, "hem_spread") == []
    assert grades(found, "hem_corner") == []
    assert "wrong" in grades(found, "seam_angle")


# Balance marks


def test_marks_on_one_side_only():
    found = checked(quarter(notches=[]))
    assert grades(found, "notches_unlike") == ["wrong"]


@pytest.mark.parametrize(("off", "grade"), [(0.5, []), (2, ["wrong"])])
def test_marks_that_miss_each_other(off, grade):
    front = quarter(notches=[NotchSpec("side", 200 + off)])
    assert grades(checked(front), "notch_pair") == grade


def test_a_seam_walked_backwards_has_its_marks_at_the_same_places():
    length = quarter().panel.edge("side").chain.length
    front = quarter(notches=[NotchSpec("side", length - 200)])
    seam = replace(SIDE, sides=((Run.of("-front.side"),), SIDE.sides[1]))
    assert grades(checked(front, seams=[seam]), "notch_pair") == []


def alike(centre_mark, count=1):
    """A back whose centre is as long as its side, with marks as given."""
    lower = side()
    length = lower.length
    marks = [NotchSpec("side", 200), NotchSpec("centre", centre_mark, count)]
    return quarter(
        "back",
        waist=straight(Point(0, length - 400), Point(200, 200)),
        notches=marks,
    )


@pytest.mark.parametrize(
    ("mark", "count", "code", "grade"),
    [
        (200, 1, "notches_alike", {"wrong"}),
        (209, 1, "notches_alike", {"wrong"}),
        # A centimetre, less than the flattening of curves may leave of it.
        (209.99, 1, "notches_alike", set()),
        (212, 1, "notches_near", {"note"}),
        (230, 1, "notches_near", set()),
        (230, 1, "notches_alike", set()),
        (200, 2, "notches_alike", set()),
        # Head to tail: as far from the hem as the other from the waist.
        (403.4, 1, "notches_alike", {"wrong"}),
    ],
)
def test_no_two_seams_can_be_mistaken(mark, count, code, grade):
    found = checked(alike(mark, count))
    assert set(grades(found, code)) == grade


def test_pieces_of_another_cloth_are_not_mistaken():
    lining = replace(quarter("front"), spec=replace(quarter().spec, name="lining"))
    lining = replace(lining, spec=replace(lining.spec, material="lining"))
    assert grades(checked(lining, seams=[SIDE, CENTRE_BACK]), "notches_near") == []


def test_a_piece_that_no_seam_joins_is_not_mistaken():
    """A placket as long as the centre is put on by a step of its own."""
    strip = quarter("front")
    strip = replace(strip, spec=replace(strip.spec, name="strip"))
    found = checked(strip, seams=[SIDE, CENTRE_BACK])
    assert grades(found, "notches_alike") == []
    assert grades(found, "notches_near") == []


@pytest.mark.parametrize(
    ("name", "called"),
    [
        ("side_left", "left side"),
        ("yoke_front_right", "right yoke front"),
        ("centre_back", "centre back"),
        ("left", "left side"),
        ("joins", "joining edge"),
        ("caught_left", "left upper edge"),
    ],
)
def test_an_edge_is_called_as_she_says_it_and_of_one_half_as_of_a_hand(name, called):
    assert edge_words(name).said(Manner()) == called
