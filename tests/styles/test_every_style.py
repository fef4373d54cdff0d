"""Every style for real women: whole, sewable, and as wide as asked.

The women are those of bdims (see tests/conftest.py); waist to hip 0.122 and waist to
knee 0.35 of the height, as styles.md S.2 and outside check 18 take them.
"""

from __future__ import annotations

import pytest

from bodies import FIVE, SAMPLE
from drafting import reported
from skirtwright.draft import styles
from skirtwright.draft.draft import Group
from skirtwright.draft.handles import handles
from skirtwright.draft.inputs import Inputs
from skirtwright.draft.panel import Panel
from skirtwright.draft.recompute import Reworking
from skirtwright.geometry.ring import crossing
from skirtwright.pieces.cutting import Cutting
from skirtwright.report import report

STYLES = (
    "straight",
    "a-line",
    "pegged",
    "trumpet",
    "yoke",
    "half-circle-yoke",
    "wrap",
    "inverted-pleat",
    "high-low",
    "train",
    "bias-slip",
)
ORIGINS = {"train": "mermaid", "bias-slip": None}
"""What a style grows from, where that is not the straight block."""


def sixty(real_women):
    """60 of the women, the ends of the range of hip less waist among them."""
    ordered = sorted(real_women, key=lambda w: w.hip - w.waist)
    return [ordered[round(i * (len(ordered) - 1) / 59)] for i in range(60)]


def body_of(woman):
    return {
        "waist": woman.waist,
        "hip": woman.hip,
        "waist_to_hip": 0.122 * woman.height,
        "waist_to_knee": 0.35 * woman.height,
        "knee": woman.knee_girth,
        "height": woman.height,
    }


def must_be_right(told):
    """What must hold of any style for any ordinary body."""
    worked = told.worked
    wrong = [p for p in told.problems if p.severity == "wrong" or p.stops]
    assert wrong == []
    body, values = worked.stated.measurements, worked.values
    waist = body["waist"] + values["waist_ease"]
    assert told.finished["waist"] == pytest.approx(waist, abs=0.1)
    if told.finished["hip"] is not None:
        hip = body["hip"] + values["hip_ease"]
        assert told.finished["hip"] == pytest.approx(hip, abs=0.1)
    assert len(told.cut.pieces) >= 2
    for piece in told.cut.pieces:
        assert crossing(piece.panel.ring(0.5)) is None
        assert crossing(list(piece.cut)) is None
        for dart in piece.darts:
            assert dart.intake > 0
    for walked in told.cut.seams:
        assert walked.difference == pytest.approx(0, abs=0.1)


@pytest.mark.parametrize("style", STYLES)
def test_sixty_women(style, real_women):
    draft, reworking, cutting = styles.style(style), Reworking(), Cutting()
    for woman in sixty(real_women):
        worked = reworking.work(draft, Inputs(body_of(woman)))
        must_be_right(report(worked, cutting.cut(worked, {}), style))


@pytest.mark.parametrize("style", STYLES)
@pytest.mark.parametrize("name", FIVE)
def test_five_bodies(style, name):
    worked = Reworking().work(
        styles.style(style), Inputs({**FIVE[name], "waist_to_knee": 580.0})
    )
    must_be_right(report(worked, Cutting().cut(worked, {}), style))


def steps_of(items, *, own):
    """Steps in a run; with `own`, without those of the draft it grows from."""
    total = 0
    for item in items:
        if isinstance(item, Group):
            if not (own and item.from_):
                total += steps_of(item.steps, own=own)
        else:
            total += 1
    return total


@pytest.mark.parametrize("style", STYLES)
def test_each_stays_small(style):
    assert steps_of(styles.style(style).steps, own=True) < 60


@pytest.mark.parametrize("style", STYLES)
def test_each_explains_itself(style):
    draft = styles.style(style)
    assert len(draft.help) > 80
    assert draft.title
    assert draft.first
    for name in draft.first:
        assert draft.amount(name) is not None
    for item in (*draft.amounts, *draft.choices):
        assert item.help, item.name
        assert item.label, item.name


@pytest.mark.parametrize("style", STYLES)
def test_each_handle_is_on_a_piece_and_pulls(style):
    worked = Reworking().work(
        styles.style(style), Inputs({**FIVE["72/98"], "waist_to_knee": 580.0})
    )
    draft = styles.style(style)
    cut = {piece.panel for piece in draft.pieces}
    found = handles(worked)
    assert len(found) >= 5
    for handle in found:
        panel = worked.values[handle.panel]
        assert isinstance(panel, Panel)
        assert handle.panel in cut, handle.place


@pytest.mark.parametrize("style", STYLES)
def test_defaults_stand_within_their_ranges(style):
    worked = Reworking().work(
        styles.style(style), Inputs({**FIVE["72/98"], "waist_to_knee": 580.0})
    )
    for state in worked.stated.amounts.values():
        if state.applies:
            assert state.least - 1e-9 <= state.value <= state.most + 1e-9, state


@pytest.mark.parametrize(
    "style", ["pegged", "inverted-pleat", "wrap", "yoke", "half-circle-yoke"]
)
def test_elastic_is_refused_in_words_where_darts_are_needed(style):
    told = reported(style, SAMPLE, waist_shape="side_elastic")
    (refused,) = told.refusals
    assert refused.code == "style.needs_darts"
    assert refused.remedy


@pytest.mark.parametrize("style", STYLES)
def test_short_and_long_are_drawn(style):
    amount = "length_back" if style == "high-low" else "length"
    draft = styles.style(style)
    for end in (draft.amount(amount).least, draft.amount(amount).most):
        if end == "length_front":
            continue
        told = reported(style, SAMPLE, **{amount: f"{end} cm"})
        assert not told.refusals
        assert not [p for p in told.problems if p.severity == "wrong"]
