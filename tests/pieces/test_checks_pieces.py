"""Checks of one piece: each tripped on purpose, at each of its grades.

Limits: common practice, no source. Figures beside them are plain geometry on the small
skirt of `wrong_on_purpose`.
"""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from outlines import polygon
from wrong_drafts import dart
from wrong_on_purpose import HIP, WAIST, checked, grades, quarter, side

from bodies import SAMPLE
from drafting import reported
from skirtwright.checks.hem_line import tightest
from skirtwright.checks.measured_outline import Paper
from skirtwright.checks.scissors import crosses, near_sides, outline_checks
from skirtwright.geometry import Line, Point, curve, heading, straight
from skirtwright.geometry.arc import arc
from skirtwright.pieces.marks.notches import Notch
from skirtwright.pieces.piece_making import make_piece
from skirtwright.pieces.spec import AllowanceRun, PieceSpec


def plain(*corners):
    """A piece with straight sides and nothing else."""
    return make_piece(polygon(*corners), PieceSpec("shape", "Shape", "shape"))


def of_outline(piece, code):
    return grades(list(outline_checks(Paper(piece))), code)


def test_a_skirt_that_is_right_is_silent():
    assert checked() == ()


# Outline


@pytest.mark.parametrize(
    ("angle", "grade"), [(35, []), (25, ["note"]), (10, ["caution"])]
)
def test_needle(angle, grade):
    tip = heading(angle) * 400
    assert of_outline(plain((0, 0), (400, 0), (tip.x, tip.y)), "needle") == grade


@pytest.mark.parametrize(("width", "grade"), [(8, []), (3, ["caution"])])
def test_neck(width, grade):
    """Two squares joined by a strip 100 long."""
    w = width / 2
    piece = plain(
        (0, -100), (100, -100), (100, -w), (200, -w), (200, -100), (300, -100),
        (300, w), (0, w),
    )  # fmt: skip
    assert of_outline(piece, "neck") == grade


def test_neck_between_a_point_and_a_long_side():
    piece = plain((0, 0), (300, 0), (300, 200), (150, 3), (0, 200))
    assert of_outline(piece, "neck") == ["caution"]


def test_a_slot_between_two_parts_is_no_neck():
    """3 mm of nothing between two legs: no paper is narrow."""
    piece = plain(
        (0, 0), (200, 0), (200, 300), (101.5, 300), (101.5, 100), (98.5, 100),
        (98.5, 300), (0, 300),
    )  # fmt: skip
    assert of_outline(piece, "neck") == []


def test_outline_crosses():
    piece = quarter()
    crossed = polygon((0, 0), (200, 0), (200, 200), (90, -20), (0, 200))
    wrong = replace(piece, panel=crossed, spec=replace(piece.spec, folds=()))
    wrong = replace(wrong, notches=(), darts=())
    assert of_outline(wrong, "outline_crosses") == ["wrong"]


def test_sides_on_one_line_do_not_cross():
    """Rounding puts the places of a straight edge a hair to either side of it."""
    hair = 3e-14
    above = [(200 - 2 * n, 40 + hair * (-1) ** (n // 2)) for n in range(101)]
    ring = [(0, 0), (200, 0), *above]
    assert not crosses(ring, list(near_sides(ring, 50)))
    ring[50] = (ring[50][0], -1)
    assert crosses(ring, list(near_sides(ring, 50)))


@pytest.mark.parametrize(
    ("bend", "grade"), [(5, []), (12, ["note"]), (30, ["caution"])]
)
def test_corner_in_a_seam_edge(bend, grade):
    """At the hip the side turns out by `bend` degrees."""
    out = Point(230 + 100 * math.tan(math.radians(bend)), -100)
    front = quarter(side=side(hem=Point(out.x, -400), below=(out,)))
    assert grades(checked(front), "seam_corner") == grade


@pytest.mark.parametrize(
    ("drop", "grade"), [(2, []), (6, ["note"]), (12, ["caution"]), (30, ["wrong"])]
)
def test_angle_at_a_fold(drop, grade):
    """The hem slopes: 2 over 230 is 0.5 degrees, 6 is 1.5, 12 is 3, 30 is 7.4."""
    front = quarter(side=side(hem=Point(230, -400 + drop)))
    assert grades(checked(front), "fold_angle") == grade


@pytest.mark.parametrize(
    ("clear", "grade"), [(3, []), (2.5, ["note"]), (1.5, ["caution"]), (0, ["wrong"])]
)
def test_notch_clear_of_the_stitching(clear, grade):
    snip = Line(Point(245, -100), Point(230 + clear, -100))
    notch = Notch(
        "side", Paper(quarter()).edges["side"].length - 300, 1, (snip,), clear
    )
    piece = replace(quarter(), notches=(notch,))
    assert of_outline(piece, "notch_clear") == grade


def test_a_tab_outside_a_narrow_allowance_cuts_nothing():
    narrow = {"side": (AllowanceRun(None, 2.0),)}
    assert of_outline(quarter(allowances=narrow), "notch_clear") == []


@pytest.mark.parametrize(
    ("share", "code", "grade"),
    [
        (15 / 105, "drill_mark", []),
        (8 / 105, "drill_mark", ["note"]),
        (-0.1, "drill_outside", ["wrong"]),
    ],
)
def test_drill_mark(share, code, grade):
    piece = quarter(darts=[dart()])
    mark = piece.darts[0].tip.between(Point(100, 200), share)
    moved = replace(piece, darts=(replace(piece.darts[0], drill=mark),))
    assert of_outline(moved, code) == grade


# Darts


@pytest.mark.parametrize(
    ("longer", "grade"),
    [(0, []), (1, ["note"]), (2, ["caution"]), (4, ["wrong"])],
)
def test_dart_legs_equal(longer, grade):
    assert grades(checked(quarter(darts=[dart(longer=longer)])), "dart_legs") == grade


@pytest.mark.parametrize(
    ("width", "code", "grade"),
    [
        (20, "dart_wide", []),
        (32, "dart_wide", ["note"]),
        (37, "dart_wide", ["caution"]),
        (6.1, "dart_narrow", []),
        (5, "dart_narrow", ["note"]),
        (-4, "dart_negative", ["wrong"]),
    ],
)
def test_dart_width(width, code, grade):
    found = checked(quarter(darts=[dart(width)]))
    assert grades(found, code) == grade


def test_of_darts_too_wide_the_widest_of_a_piece_is_told_alone():
    report = reported("bias-slip", {**SAMPLE, "hip": 1200.0})
    told = [p for p in report.problems if p.code == "check.dart_wide"]
    of = [problem.where.partition(".")[0] for problem in told]
    assert of, "it has several in each half"
    assert len(of) == len(set(of))


@pytest.mark.parametrize(
    ("piece", "up", "code", "grade"),
    [
        ("front", 95, "dart_tip", []),
        ("front", 50, "dart_tip", ["note"]),
        ("front", 130, "dart_tip", ["note"]),
        ("back", 50, "dart_tip", []),
        ("back", 95, "dart_tip", ["note"]),
        ("back", -10, "dart_below_hip", ["caution"]),
    ],
)
def test_dart_tip_over_the_hip_line(piece, up, code, grade):
    """Shares of a hip depth of 200: front 0.30 to 0.60, back 0.10 to 0.40."""
    assert grades(checked(quarter(piece, darts=[dart(up=up)])), code) == grade


@pytest.mark.parametrize(
    ("second", "code", "grade"),
    [
        (155, "dart_near", []),
        (135, "dart_near", ["note"]),
        (125, "dart_near", ["caution"]),
        (170, "dart_near_side", ["note"]),
        (178, "dart_near_side", ["caution"]),
    ],
)
def test_darts_near_each_other_or_the_side(second, code, grade):
    """Each 10 wide, one at 100: between 100 and 135 lie 25 of finished waist."""
    found = checked(quarter(darts=[dart(10), dart(10, at=second)]))
    assert grades(found, code) == grade


def test_darts_that_cross():
    first, second = dart(), dart(at=140)
    leaning = (*first[:2], Point(150, 95)), (*second[:2], Point(90, 95))
    assert grades(checked(quarter(darts=leaning)), "darts_cross") == ["wrong"]


# Sides and waist


@pytest.mark.parametrize(
    ("intake", "grade"), [(30, []), (46, ["note"]), (52, ["caution"]), (64, ["wrong"])]
)
def test_side_intake(intake, grade):
    """Over a depth of 200: 0.15, 0.23, 0.26, 0.32."""
    found = checked(quarter(side=side(Point(230 - intake, 200))))
    assert grades(found, "intake_at_side") == grade


def test_the_gravest_side_speaks_for_all():
    """0.23 in front, 0.26 behind."""
    front, back = side(Point(184, 200)), side(Point(178, 200))
    found = checked(quarter(side=front), quarter("back", side=back))
    (said,) = [p for p in found if p.code == "check.intake_at_side"]
    assert (said.severity, said.where) == ("caution", "back.side")


@pytest.mark.parametrize(
    ("lean", "grade"), [(15, []), (23, ["note"]), (28, ["caution"]), (40, ["wrong"])]
)
def test_side_lean(lean, grade):
    out = 70 * math.tan(math.radians(lean))
    assert grades(checked(quarter(side=side(lean=out))), "side_lean") == grade


def test_side_outside_the_hip_line():
    bulging = curve([WAIST, Point(240, 150), Point(250, 60), HIP])
    wrong = bulging.and_then(straight(HIP, Point(230, -400)))
    assert grades(checked(quarter(side=wrong)), "side_outside") == ["wrong"]


def test_side_a_hair_outside_the_hip_line():
    """2 mm at most: where a rotated side does not quite meet its hip line square."""
    full = curve([WAIST, Point(214, 150), Point(239, 80), HIP])
    slight = full.and_then(straight(HIP, Point(230, -400)))
    assert grades(checked(quarter(side=slight)), "side_outside") == ["note"]


def test_a_pleated_waist_is_not_judged_by_its_edge():
    wavy = curve([Point(0, 200), Point(70, 240), Point(130, 160), Point(180, 200)])
    folded = straight(Point(180, 200), Point(190, 200)).taken_up("pleat[1]")
    pleated = wavy.and_then(folded, straight(Point(190, 200), WAIST))
    assert grades(checked(quarter(waist=pleated)), "waist_turns") == []


def test_side_that_turns_back_up():
    curled = curve([WAIST, Point(200, -60), Point(228, 260), HIP])
    wrong = curled.and_then(straight(HIP, Point(230, -400)))
    assert grades(checked(quarter(side=wrong)), "side_outside") == ["wrong"]


@pytest.mark.parametrize(
    ("depth", "grade"), [(200, []), (195, ["note"]), (180, ["caution"])]
)
def test_hip_line_against_her_tape(depth, grade):
    found = checked(body={"waist_to_hip": float(depth)})
    # Both sides are off: said once.
    assert grades(found, "hip_level") == grade


@pytest.mark.parametrize(("rise", "grade"), [(0, []), (20, ["caution"])])
def test_waist_that_bends_both_ways(rise, grade):
    wavy = curve([Point(0, 200), Point(70, 200 + rise), Point(130, 200 - rise), WAIST])
    assert grades(checked(quarter(waist=wavy)), "waist_turns") == grade


def test_a_waist_bent_only_across_an_open_dart_is_one_curve():
    """Straight stretches that a dart opens by its own angle are one line when shut."""
    left, right, tip = dart()
    angle = 2 * math.degrees(math.atan(10 / 105))
    turned = heading(angle)
    end = right + turned * 90
    lower = side(end)
    waist = straight(Point(0, 200), left).and_then(
        straight(left, right).taken_up("dart[1]"), straight(right, end)
    )
    piece = quarter(side=lower, waist=waist)
    panel = replace(piece.panel, darts=(*_found(tip),))
    shut = make_piece(panel, piece.spec)
    assert grades(checked(shut), "waist_turns") == []


def _found(tip):
    from skirtwright.draft.shapes.panel import Dart

    yield Dart("dart[1]", "waist", tip)


# Hem depth against flare


def hem_of(radius, depth, spread=20.0):
    """A hem on a circle, turned up by `depth`."""
    hem = arc(Point(0, radius - 400), Point(0, -400), spread)
    lower = side(hem=hem.end)
    return quarter(
        side=lower,
        hem=hem,
        allowances={"hem": (AllowanceRun(None, depth),)},
    )


@pytest.mark.parametrize(
    ("radius", "depth", "share"),
    # Full circle 1.8 %, half circle 3 to 4.8 %, A-line 2 %,
    # mermaid 3 %; mm.
    [
        (710, 13, 0.018),
        (830, 25, 0.03),
        (830, 40, 0.048),
        (2200, 44, 0.02),
        (820, 25, 0.03),
    ],
)
def test_the_published_table_of_hem_depths(radius, depth, share):
    points = [(p.x, p.y) for p in arc(Point(0, 0), Point(radius, 0), 60).flattened(0.5)]
    assert depth * tightest(points, 60) == pytest.approx(share, abs=0.0006)


@pytest.mark.parametrize(
    ("share", "code", "grade"),
    [
        (0.018, "hem_depth", []),
        (0.03, "hem_depth", ["note"]),
        (0.05, "hem_too_deep", ["caution"]),
        (0.07, "hem_will_not_turn", ["wrong"]),
    ],
)
def test_hem_depth_against_flare(share, code, grade):
    radius = 600.0
    found = checked(hem_of(radius, share * radius))
    assert grades(found, code) == grade
    if grade:
        (said,) = [p for p in found if p.code == f"check.{code}"]
        assert said.where == "front.hem"
        assert said.values["would_do"] == pytest.approx(0.04 * radius, rel=0.01)


def test_a_hem_that_is_not_turned_up_may_be_as_deep_as_it_likes():
    flat = hem_of(600, 60)
    faced = make_piece(flat.panel, replace(flat.spec, corners={}, turned_up=()))
    assert grades(checked(faced), "hem_will_not_turn") == []


@pytest.mark.parametrize(
    ("style", "shape"),
    [("straight", "side_elastic"), ("a-line", "darted"), ("gored", "darted")],
)
@pytest.mark.parametrize("level", [20.0, -40.0])
def test_a_waist_moved_on_purpose_is_no_fault_of_the_side(style, shape, level):
    told = reported(style, SAMPLE, waist_shape=shape, waist_level=level)
    assert "check.hip_level" not in {problem.code for problem in told.problems}
