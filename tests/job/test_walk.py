"""All that is looked at after random changes is as on a fresh worktable."""

from __future__ import annotations

from memory_walk import Walk


def test_whatever_is_done_all_is_as_fresh():
    # Some 35 s. Other seeds, and faults put into what is remembered: tests/bench.
    Walk(1, stay=4).go()
