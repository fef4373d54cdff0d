"""Every edge with an allowance is sewn, once; every seam is in the order, once.

Over a sample of the options of every style, alike and with left and right apart; the
bench of the same name tries every option and every pair of options.
"""

from __future__ import annotations

import random

import pytest

from sewn import ALIKE, APART, Sewn, faults, mark_faults, options, order_faults
from skirtwright.draft import styles

PAIRS = 5
"""Tried of each style and body beside its defaults: about 15 s in all."""


@pytest.mark.parametrize("body", [ALIKE, APART], ids=["alike", "apart"])
@pytest.mark.parametrize("style", styles.names())
def test_every_edge_is_sewn_once_and_every_seam_is_in_the_order_once(style, body):
    pairs = [chosen for chosen in options(styles.style(style)) if len(chosen) == 2]
    drawn = random.Random(f"{style} {sorted(body)}").sample(
        pairs, min(PAIRS, len(pairs))
    )
    sewn = Sewn(style, body)
    assert sewn.report({}) is not None
    for chosen in ({}, *drawn):
        report = sewn.report(chosen)
        if report is not None:
            assert not [*faults(report), *mark_faults(report), *order_faults(report)], (
                chosen
            )


LEFT_SIDE = {"closing": "zip_left_side"}


@pytest.mark.parametrize(
    ("style", "chosen", "body"),
    [
        ("half-circle-yoke", LEFT_SIDE, APART),
        ("half-circle-yoke", {**LEFT_SIDE, "depth_taken": "centre"}, APART),
        ("yoke", {"pocket": "in_side_seams", "pocket_cloth": "shell"}, ALIKE),
        ("yoke", {"pocket": "in_side_seams", "pocket_cloth": "shell"}, APART),
        ("train", {}, APART),
        ("straight", {**LEFT_SIDE, "back_cut": "fold"}, APART),
        ("inverted-pleat", {**LEFT_SIDE, "place": "centre_back"}, APART),
    ],
)
def test_balance_marks_are_one_or_apart_and_tell_edges_apart(style, chosen, body):
    assert not list(mark_faults(Sewn(style, body).report(chosen)))
