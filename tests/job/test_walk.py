"""All that is looked at after random changes is as on a fresh worktable."""

from __future__ import annotations

import pytest

from memory_walk import Walk
from sampling import some_of
from skirtwright.draft import styles


@pytest.mark.slow
@pytest.mark.sampled
def test_whatever_is_done_all_is_as_fresh():
    """On a third of the styles: each lean stands in the drafts made for the walk."""
    # Some 6 s. Other seeds, and faults put into what is remembered: tests/bench.
    Walk(1, stay=2, shelf=some_of(styles.names(), first=1)).go()
