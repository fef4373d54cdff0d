"""Any body, any amounts: each draft is whole and sewable, or refused in words."""

from __future__ import annotations

import math

import pytest
from hypothesis import HealthCheck, example, given, settings

from bodies import amounts, bodies, choices
from drafting import reported
from skirtwright.geometry.ring import crossing
from skirtwright.problems import SkirtwrightError
from skirtwright.words import has_message, in_one_sentence, says

FEW = settings(
    max_examples=15,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)


def drafted(style, body, given_amounts, chosen):
    """The report; None when it was refused, in a sentence, before it was drawn."""
    try:
        return reported(style, body, **given_amounts, **chosen)
    except SkirtwrightError as error:
        must_be_said(error.problem)
        return None


def must_be_said(problem):
    assert problem.says or has_message(f"problem.{problem.code}"), problem
    text = says(problem)
    assert text
    assert "?" not in text, text
    assert "{" not in text
    if problem.stops:
        line = in_one_sentence(problem)
        assert "\n" not in line


def must_be_sewable(found):
    for problem in found.problems:
        must_be_said(problem)
    for piece in found.cut.pieces:
        ring = piece.panel.ring(0.5)
        assert all(math.isfinite(p.x) and math.isfinite(p.y) for p in ring)
        assert piece.panel.area > 0
        if crossing(ring) is not None:
            codes = {p.code for p in found.problems if p.severity == "wrong"}
            assert "check.outline_crosses" in codes
    if found.refusals:
        return
    assert {"front", "back"} <= {piece.name for piece in found.cut.pieces}
    for value in found.finished.values():
        assert value is None or (math.isfinite(value) and value >= 0)
    for seam in found.cut.seams:
        assert abs(seam.difference) < 0.1


@pytest.mark.parametrize("style", ["straight-block", "mermaid"])
@FEW
@given(body=bodies())
def test_any_body_with_the_defaults(style, body):
    found = drafted(style, body, {}, {})
    if found is not None:
        must_be_sewable(found)
        if not found.refusals:
            waist = found.finished["waist"]
            if body["hip"] + 40 > body["waist"] + 15:
                assert waist == pytest.approx(body["waist"] + 15, abs=0.1)
            hip = found.finished["hip"]
            assert hip == pytest.approx(body["hip"] + 40, abs=0.1)


@FEW
@given(body=bodies(), given_amounts=amounts(), chosen=choices())
@example(
    body={"waist": 720.0, "hip": 980.0, "waist_to_hip": 200.0, "waist_to_knee": 580.0},
    given_amounts={"knee_lift": 380.0},
    chosen={},
)
@example(
    body={"waist": 720.0, "hip": 980.0, "waist_to_hip": 200.0, "waist_to_knee": 580.0},
    given_amounts={"dart_intake_front": 0.0, "dart_intake_back": 0.0},
    chosen={},
)
@example(
    body={"waist": 720.0, "hip": 980.0, "waist_to_hip": 200.0, "waist_to_knee": 580.0},
    given_amounts={"hem_drop": 30.0, "front_spread": 0.0},
    chosen={"hem_shape": "even_from_knee"},
)
def test_any_body_with_any_amounts(body, given_amounts, chosen):
    found = drafted("mermaid", body, given_amounts, chosen)
    if found is not None:
        must_be_sewable(found)


@FEW
@given(
    body=bodies(
        waist=(60, 110),
        hip=(85, 130),
        waist_to_hip=(18, 25),
        waist_to_knee=(52, 66),
    )
)
def test_ordinary_bodies_are_never_wrong(body):
    # "With its defaults no style is `wrong` for a body in the ordinary ranges."
    if not 50 <= body["hip"] - body["waist"] <= 370:
        return
    found = drafted("mermaid", body, {}, {})
    assert found is not None
    assert not found.refusals, (body, found.refusals)
    assert not found.has_wrong, (body, found.problems)
