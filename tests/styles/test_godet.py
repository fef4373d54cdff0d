"""What only a skirt with godets has; plain geometry unless said. All mm."""

from __future__ import annotations

import math

import pytest

from bodies import SAMPLE
from drafting import reported


@pytest.mark.parametrize(("angle", "adds"), [(45, 236), (60, 314), (90, 471)])
def test_each_godet_adds_its_arc_to_the_hem(angle, adds):
    """30 high: 23.6 of 45 degrees, 31.4 of 60, 47.1 of 90."""
    told = reported("godet", SAMPLE, godet_height=300.0, godet_angle=float(angle))
    assert told.finished["sweep"] == pytest.approx(1020 + 3 * adds, abs=2)
    exact = 1020 + 3 * 300 * math.radians(angle)
    assert told.finished["sweep"] == pytest.approx(exact, abs=0.1)


@pytest.mark.parametrize("where", ["sides", "sides_and_back"])
def test_edges_of_a_godet_are_those_of_its_opening(where, some_women):
    for woman in some_women:
        body = {"waist": woman.waist, "hip": woman.hip}
        body |= {"waist_to_hip": 0.122 * woman.height}
        body |= {"waist_to_knee": 0.35 * woman.height}
        told = reported("godet", body, godets_in=where)
        assert not [p for p in told.problems if p.severity == "wrong"]
        seams = {walked.seam.name: walked for walked in told.cut.seams}
        for name in ("godet_front", "godet_back"):
            assert seams[name].lengths == pytest.approx((300, 300), abs=0.1)
        assert ("godet_behind" in seams) == (where == "sides_and_back")
        # The seam over it stops at its point, 300 over the hem.
        assert seams["side"].lengths[0] == pytest.approx(450, abs=0.1)
        assert told.finished["waist"] == pytest.approx(woman.waist + 15, abs=0.1)
        assert told.finished["hip"] == pytest.approx(woman.hip + 40, abs=0.1)
        assert told.finished["length"] == pytest.approx(750, abs=0.1)


def test_base_and_godet_are_square_to_their_seam_at_the_hem():
    """The two angles make 180, so that the hem runs on."""
    told = reported("godet", SAMPLE)
    codes = {problem.code for problem in told.problems}
    assert not codes & {"check.seam_angle", "check.hem_corner"}
    assert "style.high_points" not in codes


def test_points_near_the_hip_line_are_told():
    told = reported("godet", SAMPLE, length=600.0, godet_height=320.0)
    assert "style.high_points" in {problem.code for problem in told.problems}


def test_a_panel_between_godets_is_a_quarter_of_the_hip_and_its_ease():
    """Threads: a quarter of the hip and 3 in; of a hip of 38 in 10.25 in."""
    body = {**SAMPLE, "hip": 38 * 25.4}
    told = reported("godet", body, hip_ease=3 * 25.4)
    for name in ("front", "back"):
        width = told.worked.values[name].mark("hip").shape.length
        assert width == pytest.approx(10.25 * 25.4, abs=0.1)
