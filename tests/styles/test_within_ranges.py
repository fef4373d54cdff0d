"""Amounts at the ends of the ranges they offer: drafted, sewable, told plainly."""

from __future__ import annotations

import re

import pytest

from bodies import CLIENTS, FIVE, HOUSE, SAMPLE
from drafting import reported, work
from options import wrong_of
from orders import Orders, body_of
from sampling import some_of
from skirtwright.draft import styles
from skirtwright.draft.shapes.panel import Panel
from skirtwright.draft.step import Reads
from skirtwright.pieces.cutting import Cutting
from skirtwright.report import report
from skirtwright.shelf import read_json
from skirtwright.words import remedy, says

TOGETHER = 4
"""Random orders for each style; tests/bench/bench_ranges.py tries many more."""

SCRIPT_NAME = re.compile(r"[a-z]_[a-z]")
NOTHING_OR_LESS = re.compile(r"(?<![\d.,/])(-\d[\d./ ]*|0) (cm|mm|in)\b")

NO_DIFFERENCE = ("step", "darts_rule_the_side", "_out_of_range")
"""Parts of codes that tell a step, or what she set herself: it may well be nothing."""


def must_be_drafted(worked):
    stopped = [problem for problem in worked.problems if problem.stops]
    assert not stopped, (worked.inputs, says(stopped[0]))
    for name in worked.inputs.amounts:
        state = worked.stated.amounts[name]
        assert state.least - 1e-6 <= state.value <= state.most + 1e-6, name


def must_have_equal_legs(worked):
    for name, panel in worked.values.items():
        if isinstance(panel, Panel):
            for dart in panel.darts:
                left, right = panel.legs(dart)
                off = abs(dart.tip.to(left) - dart.tip.to(right))
                assert off < 0.1, (name, dart.name, off, worked.inputs)


def must_be_as_long_as_asked(worked):
    """The side by the length, from the natural waist; a hem let down by its ends."""
    stated = worked.stated
    if "length_back" in stated.amounts:
        to_hip = stated.measurements["waist_to_hip"]
        if stated.choices.get("depth_taken") == "centre":
            # The lengths are reckoned from the side waist, whose way to the hip line
            # is then another than was taken.
            to_hip = worked.values["back_side_curve"].length
        for name in ("front", "back"):
            below_hip = -worked.values[name].edge("hem").chain.start.y
            asked = stated.amounts[f"length_{name}"].value - to_hip
            assert below_hip == pytest.approx(asked, abs=0.01), worked.inputs
        return
    asked = stated.amounts["length"].value
    if "waist_level" in stated.amounts:
        asked += stated.amounts["waist_level"].value
    side = worked.read(worked.draft.finished["length"], Reads.LENGTH)
    assert side == pytest.approx(asked, abs=0.01), (side - asked, worked.inputs)


def must_be_told_plainly(told):
    for problem in told.problems:
        for sentence in (says(problem), remedy(problem)):
            assert not SCRIPT_NAME.search(sentence), sentence
            if not any(part in problem.code for part in NO_DIFFERENCE):
                assert not NOTHING_OR_LESS.search(sentence), (problem.code, sentence)


def drawn_below(style):
    """Amounts, each with the end at which it is drawn, cut and told below."""
    names = {amount.name for amount in styles.style(style).amounts}
    return {(name, end_of(style, name)) for name in names - tried_elsewhere(style)}


def end_of(style, amount):
    """0 for the least or 1 for the most, by the letters."""
    return 1 - sum(map(ord, style + amount)) % 2


@pytest.mark.sampled
@pytest.mark.parametrize("style", some_of(styles.names(), each=2))
def test_what_is_offered_is_drafted(style, real_women):
    women = [body_of(woman) for woman in real_women]
    orders, cutting = Orders(style, women, seed=3), Cutting()
    alone = list(orders.alone(orders.own_amounts(), drawn_below(style)))
    together = list(orders.together(TOGETHER))
    assert len(alone) + TOGETHER > len(orders.draft.first)
    for worked in (*alone, *together):
        must_be_drafted(worked)
        must_have_equal_legs(worked)
        must_be_as_long_as_asked(worked)
    for worked in together[::2]:
        must_be_told_plainly(report(worked, cutting.cut(worked, {}), style))


AS_THE_BLOCK = ("straight", "trumpet", "inverted-pleat", "high-low", "mermaid", "train")
AS_THE_BLOCK += ("flounce", "mermaid-flounce")
"""Styles that leave what the block draws above the hip line as it is."""
FINISHED_ALIKE = ("a-line", "trumpet", "pegged", "inverted-pleat", "yoke")
FINISHED_ALIKE += ("half-circle-yoke", "high-low", "flounce")
"""Styles with the finishings of the straight skirt."""


SAID = {
    "hip_ease": {"check.opening"},
    "dart_intake_back": {"check.intake_at_side"},
    "dart_width": {"check.seam_ease"},
}
"""What is drawn at an amount's least, and said to be wrong, as it is: woven cloth
under the hip's girth cannot be got into; without a dart the side takes all, or a bias
waist is eased in by more than a tenth."""


def tried_elsewhere(style):
    """Amounts that do in a style what they do in the block or the straight skirt."""
    own = {a["name"] for a in read_json(f"styles/{style}.json").get("amounts", ())}
    block = {a.name for a in styles.style("straight-block").amounts}
    finishing = {a.name for a in styles.style("straight").amounts} - block
    known = block if style in AS_THE_BLOCK else set()
    return (known | finishing if style in FINISHED_ALIKE else known) - own


@pytest.mark.sampled
@pytest.mark.parametrize("style", some_of(styles.names(), first=1, each=2))
def test_every_amount_is_drawn_at_an_end_of_its_range(style):
    """On the most curved body or the straightest, by the letters of its name.

    The other end of each amount is drafted above, on a measured woman.
    """
    body = FIVE[("83/88.1", "60/97")[sum(map(ord, style)) % 2]]
    body = {**body, "waist_to_knee": 580.0}
    amounts = work(style, body).stated.amounts
    known = tried_elsewhere(style)
    for amount, state in amounts.items():
        if amount in known or not state.applies:
            continue
        number = end_of(style, amount)
        end = (state.least, state.most)[number]
        told = reported(style, body, **{amount: end})
        must_be_drafted(told.worked)
        must_have_equal_legs(told.worked)
        must_be_as_long_as_asked(told.worked)
        must_be_told_plainly(told)
        said = set() if number else SAID.get(amount, set())
        assert {p.code for p in wrong_of(told)} <= said, (amount, end)


@pytest.mark.parametrize("level", [-20.0, 80.0])
def test_a_lining_hangs_by_its_amount_over_the_hem_wherever_the_waist_is(level):
    worked = work("half-circle-yoke", SAMPLE, waist_level=level)
    skirt = worked.read(worked.draft.finished["length"], Reads.LENGTH)
    lining = worked.values["front_lining"].edge("side").chain.length
    shorter = worked.stated.amounts["lining_shorter"].value
    assert skirt - lining == pytest.approx(shorter, abs=2)


NARROWEST = 6.0
"""A dart narrower than this is eased, not sewn, mm (common practice, no source)."""


@pytest.mark.parametrize("style", ["straight-block", "trumpet", "train"])
@pytest.mark.parametrize(
    "body", [HOUSE, CLIENTS["straight"]], ids=["house", "straight"]
)
def test_no_more_darts_are_offered_than_are_wide_enough_to_sew(style, body):
    stated = work(style, body).stated.amounts
    most = {name: stated[name].most for name in ("dart_count_front", "dart_count_back")}
    told = reported(style, body, **most)
    intakes = [dart.intake for piece in told.cut.pieces for dart in piece.darts]
    assert intakes
    assert min(intakes) >= NARROWEST


FULL_HIP = {**HOUSE, "waist": 969.0, "hip": 1253.0}
"""So much between waist and hip that the side comes to take all it can."""


@pytest.mark.parametrize("style", ["straight-block", "high-low"])
@pytest.mark.parametrize("body", [HOUSE, FULL_HIP], ids=["house", "full hip"])
def test_intakes_at_the_ends_of_what_is_offered_are_not_wrong(style, body):
    stated = work(style, body).stated.amounts
    for name in ("dart_intake_back", "dart_intake_front", "side_intake"):
        for value in (stated[name].least, stated[name].most):
            told = reported(style, body, **{name: value})
            wrong = [p.code for p in told.problems if p.severity == "wrong" or p.stops]
            assert not wrong, (name, value)


def test_a_zip_that_ends_in_a_deep_yoke_opens_the_waist():
    """The shortest zip made is 15 cm, the deepest yoke on her 15.9."""
    body = {**HOUSE, "waist": 616.0, "hip": 899.0, "waist_to_hip": 190.0}
    most = work("yoke", body).stated.amounts["yoke_depth_back"].most
    told = reported("yoke", body, yoke_depth_back=most)
    assert not [p.code for p in told.problems if p.severity == "wrong" or p.stops]


def test_a_lining_cut_round_a_side_that_takes_least_crosses_nothing():
    """Areas joined leave a spike of 4 thousandths of a millimetre at its waist."""
    body = {"waist": 650.0, "hip": 849.0, "waist_to_hip": 193.004}
    body["waist_to_knee"] = 553.6999999999999
    told = reported("yoke", body, side_part=0.2)
    assert not [p.code for p in told.problems if p.severity == "wrong" or p.stops]


def test_a_bias_slip_is_not_offered_more_ease_than_its_waist_takes():
    """Of a waist of 64.8 on a hip of 92 what no dart takes is eased in: a tenth."""
    body = {"waist": 648.0, "hip": 920.0, "waist_to_hip": 196.0, "waist_to_knee": 564.0}
    least = work("bias-slip", body).stated.amounts["dart_width"].least
    for inside in ("facing", "tape"):
        told = reported("bias-slip", body, dart_width=least, waist_inside=inside)
        assert not [p.code for p in told.problems if p.severity == "wrong"]
