"""Every edge of every style is fair: no bend too tight, no corner, no turn undrafted.

A bend of 60 mm is the tightest that scissors and a turned hem follow without a clip
(common practice, no source). The meter is the tests' own (`fairness.py`); a second one
reads nothing but the outlines of the report.
"""

from __future__ import annotations

import pytest

from bodies import SAMPLE
from drafting import angle_at, as_read, work
from fairness import drawn_edges, fairness

HOOKED = ("108.6/117.5/23.3/63.4", "87.2/99.6/21.4/58.9", "83.4/92.8/19.8/63.9")
HOOKED += ("81.7/87.8/22.1/53.1",)
"""Waist, hip, waist to hip and waist to knee, cm, of bodies with little to shut."""


def body(text):
    names = ("waist", "hip", "waist_to_hip", "waist_to_knee")
    cm = map(float, text.split("/"))
    return {name: 10 * value for name, value in zip(names, cm, strict=True)}


@pytest.mark.parametrize("text", HOOKED)
@pytest.mark.parametrize("style", ["yoke", "half-circle-yoke"])
def test_a_yoke_line_is_fair_on_a_straight_body(style, text):
    worked = work(style, body(text))
    for name in ("front_yoke", "back_yoke"):
        for edge, chain in drawn_edges(worked.values[name]):
            found = fairness(chain)
            assert found.radius >= 60, (name, edge)
            assert found.turns <= 1, (name, edge)


@pytest.mark.parametrize("text", HOOKED)
def test_a_yoke_still_fits_what_hangs_from_it(text):
    told = as_read("yoke", body(text))
    for seam in told["seams"]:
        assert abs(seam["difference"]) < 0.1, seam["name"]


def test_a_hem_facing_is_square_to_its_fold():
    # At the fold the hem runs level, and so must the facing's other edge.
    worked = work("high-low", SAMPLE, hem_inside="faced")
    facing = worked.values["front_hem_facing"]
    outer, fold = (facing.edge(name).chain for name in ("outer", "start"))
    assert angle_at(outer.start_direction, fold.end_direction) == pytest.approx(
        90, abs=0.05
    )


def test_a_facing_does_not_cross_itself_in_a_hollow_narrower_than_it():
    worked = work("train", SAMPLE, back_spread=0.0)
    facing = worked.values["back_hem_facing"]
    joins, outer = (fairness(facing.edge(n).chain) for n in ("joins", "outer"))
    assert outer.radius >= min(joins.radius, 60)
    assert outer.turns <= joins.turns
