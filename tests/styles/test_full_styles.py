"""What only the full skirts have: circles, gathers, pleats, gores, godets, flounces.

Where no work is named the figures are plain geometry.
"""

from __future__ import annotations

import math

import pytest

from bodies import FIVE, SAMPLE
from drafting import reported, work
from skirtwright.draft.shapes.panel import Panel

INCH = 25.4


def panel(told, name) -> Panel:
    found = told.worked.values[name]
    assert isinstance(found, Panel)
    return found


def edge(told, name):
    part, of = name.split(".")
    return panel(told, part).edge(of).chain


def seam(told, name):
    return next(w for w in told.cut.seams if w.seam.name == name)


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
