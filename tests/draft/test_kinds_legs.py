"""Curved legs of darts: full or hollow, with ends, lengths and caps kept.

Common practice, no source: hollow 0.3 for a rounded stomach, 0.3 full for a hollow
back, ends and lengths kept. Other figures are plain geometry. Lengths in mm; in steps
cm.
"""

from __future__ import annotations

import pytest

from bodies import FIVE, HOUSE, SAMPLE
from drafting import reported, square_panel, work, worked_of
from skirtwright.geometry.point import reflect

KINDS_TESTED = ("bow_legs",)
"""Kinds whose tables stand here (see test_kinds.py)."""

DART = {
    "step": "darted",
    "kind": "insert_darts",
    "panel": "panel",
    "edge": "top",
    "count": "1",
    "at": ["9"],
    "width": "2",
    "lengths": ["10"],
}


def bowed(by, *more):
    """The panel of 200 by 300 with one dart, 20 wide and 100 long, curved."""
    step = {"step": "legs", "kind": "bow_legs", "panel": "panel", "edge": "top"}
    worked = worked_of(*square_panel(), DART, {**step, "by": by}, *more)
    assert not worked.stopped, worked.problems
    return worked


@pytest.mark.parametrize(
    ("by", "gap"),
    [
        # Half way down the straight legs are 10 apart; a leg leans by 1 in 10.
        ("0", 10.0),
        ("0.3", 16.0),
        ("-0.3", 4.0),
        # Never past 0.8 of the way to the fold, nor as far out.
        ("-2", 2.0),
        ("2", 18.0),
    ],
)
def test_legs_are_curved_half_way_down(by, gap):
    panel = bowed(by).values["panel"]
    left, right = panel.leg_lines(panel.darts[0])
    middles = [leg.at(leg.length / 2) for leg in (left, right)]
    assert middles[0].to(middles[1]) == pytest.approx(gap, abs=0.05)


@pytest.mark.parametrize("by", ["0.3", "-0.3"])
def test_legs_stay_mirror_images_and_leave_as_the_straight_ones(by):
    panel = bowed(by).values["panel"]
    dart = panel.darts[0]
    left, right = panel.leg_lines(dart)
    near, far = panel.legs(dart)
    assert (left.start, right.start) == (near, far)
    assert left.end.is_at(dart.tip)
    assert right.end.is_at(dart.tip)
    over = reflect(near.between(far, 0.5), dart.tip)
    for share in (0.2, 0.5, 0.8):
        mirrored = over(left.at(left.length * share))
        assert mirrored.to(right.at(right.length * share)) < 1e-6
    assert left.length == pytest.approx(right.length, abs=1e-9)
    for leg, end in ((left, near), (right, far)):
        straight = (dart.tip - end).unit()
        assert leg.start_direction.dot(straight) == pytest.approx(1)
        assert leg.end_direction.dot(straight) == pytest.approx(1)


def test_an_unfolded_panel_has_both_darts_curved():
    whole = {"step": "whole", "kind": "unfold", "panel": "panel", "fold": "left"}
    panel = bowed("0.3", {**whole, "others": {"right": "far"}}).values["whole"]
    assert [dart.bow for dart in panel.darts] == [3.0, 3.0]


def test_the_width_across_the_darts_follows_them():
    level = {"step": "wide", "kind": "width_at", "panel": "panel", "up": "25 cm"}
    widths = [bowed(by, level).values["wide"] for by in ("0", "0.3", "-0.3")]
    assert widths == pytest.approx([190.0, 184.0, 196.0], abs=0.1)


@pytest.mark.parametrize("body", [SAMPLE, *({**HOUSE, **b} for b in FIVE.values())])
@pytest.mark.parametrize(("front", "back"), [("hollow", "full"), ("full", "hollow")])
def test_a_skirt_with_curved_legs_is_cut_as_one_with_straight_ones(body, front, back):
    plain = reported("straight", body)
    curved = reported("straight", body, dart_legs_front=front, dart_legs_back=back)
    assert not [p for p in curved.problems if p.severity == "wrong"]
    if "top_hip" in body:
        # The upper hip was taken, and the darts give way to it as they must.
        return
    for before, after in zip(plain.cut.pieces, curved.cut.pieces, strict=True):
        assert before.cut == after.cut
        assert [dart.legs for dart in before.darts] == [d.legs for d in after.darts]
    signs = {"hollow": -1, "full": 1}
    for name, legs in (("front", front), ("back", back)):
        for dart in curved.worked.values[name].darts:
            assert dart.bow == signs[legs] * 3


def test_lining_tucks_stay_straight():
    tucked = work("straight", SAMPLE, dart_legs_back="full").values["back_lining"]
    assert tucked.mark("tuck[1].left").shape.length == pytest.approx(50)
    assert len(tucked.mark("tuck[1].left").shape.segments) == 1
