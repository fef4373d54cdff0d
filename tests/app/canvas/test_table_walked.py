"""One table walked over many orders shows what a fresh one shows of each."""

from __future__ import annotations

import pytest

from table_walk import Walk, told

STEPS = 9


@pytest.mark.parametrize("seed", [1, 2])
def test_after_every_step_the_table_is_as_a_fresh_one(qtbot, seed):
    walk = Walk(qtbot, seed)
    for number in range(STEPS):
        walk.step()
        fresh = walk.fresh()
        assert told(walk.stand) == told(fresh), walk.done
        if number % 2:
            assert walk.stand.picture() == fresh.picture(), walk.done
