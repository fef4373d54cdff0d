"""A little more of any amount, under any option, moves no named point far."""

from __future__ import annotations

import random

import pytest

from bodies import SAMPLE
from sampling import some_of
from skirtwright.draft import styles
from small_steps import cases, jumps

SOME = 3
"""Amounts and options tried for each style; `bench_at_length.py` tries all."""


@pytest.mark.sampled
@pytest.mark.parametrize("style", some_of(styles.names(), 1, each=2))
def test_a_little_more_moves_no_point_far(style, at_length):
    # 21 styles in about 12 s on one quiet core.
    every = cases(style)
    chosen = every if at_length else random.Random(7).sample(every, SOME)
    raised = [case for case in every if case == ({}, "waist_level")]
    for options, amount in [*raised, *chosen]:
        assert not list(jumps(style, SAMPLE, options, amount)), (options, amount)
