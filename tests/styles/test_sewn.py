"""Every edge with an allowance is sewn, once; every seam is in the order, once.

Over a sample of the options of every style, alike and with left and right apart; the
bench of the same name tries every option and every pair of options.
"""

from __future__ import annotations

import random

import pytest

from sewn import ALIKE, APART, Sewn, faults, options, order_faults
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
            assert not [*faults(report), *order_faults(report)], chosen
