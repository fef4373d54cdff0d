"""Left and right in one sentence: only where nothing but figures tells them apart."""

from __future__ import annotations

import pytest

from drafting import look_of
from skirtwright.export.sewing.drafting_halves import both_halves
from skirtwright.export.sewing.making_up_sheet import making_of
from skirtwright.job import edits, opening
from skirtwright.words import Manner

pytestmark = pytest.mark.usefixtures("no_figure")


def test_figures_that_differ_stand_together_and_the_half_is_not_named():
    told = both_halves(
        [
            "Mark hip left, 21 cm to the right and 19 1/2 in up.",
            "Mark hip right, 21 cm to the right and 20 in up.",
        ]
    )
    assert told == ["Mark hip, 21 cm to the right and 19 1/2 | 20 in up."]


def test_directions_are_no_halves():
    told = ["Go 3 cm to the left.", "Go 3 cm to the right.", "Go on left."]
    assert both_halves(told[1:]) == told[1:]
    assert both_halves(["Draw a left.", "Draw b right."]) == [
        "Draw a left.",
        "Draw b right.",
    ]


def test_a_counterpart_is_found_further_on_and_taken_once():
    told = both_halves(["a left 1", "b left 2", "a right 3", "b right 2", "c"])
    assert told == ["a 1 | 3", "b 2", "c"]


def test_a_skirt_unlike_left_and_right_is_told_nearly_as_shortly_as_one_alike():
    """120 sentences were told of a straight skirt with a vent; alike it is 59."""

    def told(**measures):
        job = opening.open_source("straight")
        job = edits.set_choice(job, "vent", "vent").job
        for name, text in measures.items():
            job = edits.set_measurement(job, name, text).job
        making = making_of(look_of(job).report, "", "", Manner())
        return making, [words for part in making.drafting for words in part.sentences]

    making, alike = told()
    assert not making.halved
    assert not any(" | " in words for words in alike)
    making, apart = told(waist_to_hip_left="20cm", waist_to_hip_right="21.5cm")
    assert making.halved
    assert len(apart) < 1.2 * len(alike)
    assert any("20 | 21.5 cm" in words for words in apart)
    said = [step.words for step in making.order] + apart
    assert not any("left left" in words or "right right" in words for words in said)


def test_darts_of_both_sides_are_told_together():
    job = opening.open_source("straight")
    for name, text in (("waist_to_hip_left", "20cm"), ("waist_to_hip_right", "21cm")):
        job = edits.set_measurement(job, name, text).job
    making = making_of(look_of(job).report, "", "", Manner())
    darts = next(step.words for step in making.order if step.step == "darts")
    # Half of the 20 and of the 21 cm from waist to hip.
    assert "Front: 2, each 3 cm wide and 10 cm | 10.5 cm long" in darts
    assert darts.count("Front") == 1
