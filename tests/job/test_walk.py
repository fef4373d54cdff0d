"""All that is looked at after random changes is as on a fresh worktable."""

from __future__ import annotations

import pytest

from memory_walk import Walk


@pytest.mark.slow
def test_whatever_is_done_all_is_as_fresh():
    # Some 17 s. Other seeds, and faults put into what is remembered: tests/bench.
    Walk(1, stay=3).go()
