"""Checks about the body are shown on the figure, each at its place with its figure."""

from __future__ import annotations

import pytest

from drafting import look_of
from skirtwright.draft.styles import style
from skirtwright.figure.drawn_figure import VIEWS
from skirtwright.figure.found_on_her import ABOUT_THE_BODY, found_on_her
from skirtwright.figure.views import dressed
from skirtwright.job.edits import set_amount
from skirtwright.job.job import new_job
from skirtwright.problems import Problem
from skirtwright.words import Manner


@pytest.fixture(scope="module")
def worn():
    """A narrow skirt below the knee, in which a step is short."""
    job = set_amount(new_job(style("straight")), "length", "75").job
    report = look_of(job).report
    return report, report.worn()


def marks(worn, view):
    report, skirt = worn
    return found_on_her(report.problems, skirt, view)


@pytest.mark.parametrize("view", VIEWS)
def test_a_short_step_is_shown_at_the_narrowest_level(worn, view):
    (mark,) = marks(worn, view)
    assert (mark.code, mark.severity) == ("check.step_short", "caution")
    assert mark.says.said(Manner()) == "step 45.9 cm"
    # It is narrowest at the hem: the ring lies within 5 cm of the foot of the cloth.
    cloth = [
        p
        for line in dressed(worn[1], view)
        if line.kind == "skirt"
        for p in line.points
    ]
    foot = min(y for _, y in cloth)
    assert all(abs(y - foot) < 50 for _, y in mark.lines[0])
    # It goes from side to side of the cloth there.
    wide = max(x for x, _ in cloth) - min(x for x, _ in cloth)
    ring = [x for x, _ in mark.lines[0]]
    assert 0.8 * wide < max(ring) - min(ring) <= 1.05 * wide


def test_from_the_side_the_stride_is_as_long_as_it_says(worn):
    (mark,) = marks(worn, "side")
    step = next(p for p in worn[0].problems if p.code == mark.code).values["step"]
    legs = [line for line in mark.lines if line[0][1] == worn[1].body.crotch]
    ends = sorted(line[1][0] for line in legs)
    assert ends[1] - ends[0] == pytest.approx(step)
    assert len(marks(worn, "front")[0].lines) == 1


@pytest.mark.parametrize(
    ("code", "values", "told"),
    [
        ("check.stairs", {"girth": 940.0, "need": 853.0}, "94 cm round"),
        ("check.opening", {"girth": 900.0, "over": -80.0}, "opens to 90 cm"),
        ("check.opening_short", {"depth": 150.0, "over": 50.0}, "opening 15 cm"),
        ("check.hem_near_floor", {"clear": 12.0}, "1.2 cm to the floor"),
        ("check.hem_on_floor", {"clear": -12.0}, "on the floor"),
    ],
)
def test_each_has_its_figure_and_lies_on_her(worn, code, values, told):
    assert code in ABOUT_THE_BODY
    problem = Problem(code, "caution", "length", values)
    stature = worn[1].body.stature
    for view in VIEWS:
        (mark,) = found_on_her([problem], worn[1], view)
        assert mark.says.said(Manner()) == told
        for line in mark.lines:
            for x, y in line:
                assert abs(x) < stature / 2
                assert -20 < y < 0.7 * stature


def test_what_is_not_about_the_body_is_not_drawn_on_it(worn):
    problem = Problem("check.dart_wide", "wrong", "front.dart[1]", {})
    assert found_on_her([problem], worn[1], "front") == ()
