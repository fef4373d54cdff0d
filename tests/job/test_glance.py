"""A glance while something is pulled: the skirt as it will be, the rest as it was."""

from __future__ import annotations

import pytest

from skirtwright.draft import styles
from skirtwright.job.job import new_job
from skirtwright.job.worktable import Worktable

MERMAID = new_job(styles.style("mermaid"))
SKIRT = ("front", "back", "zip_strip", "band")
LINING = ("front_lining", "back_lining")


@pytest.fixture
def table():
    return Worktable()


@pytest.mark.parametrize(
    ("amount", "value"),
    [("front_spread", 45.0), ("length", 930.0), ("hip_ease", 55.0), ("hem_drop", 12.0)],
)
def test_the_skirt_is_as_a_whole_look_would_draw_it(table, amount, value):
    before = table.look(MERMAID)
    glance = table.glance(before, {amount: value})
    whole = Worktable().look(MERMAID, {amount: value})
    assert glance.at_a_glance
    assert glance.drawn
    assert not whole.at_a_glance
    for name in SKIRT:
        assert glance.worked.values[name] == whole.worked.values[name], name
    assert glance.worked.stated.amounts[amount].value == value


def test_lining_pieces_and_findings_wait(table):
    before = table.look(MERMAID)
    glance = table.glance(before, {"length": 930.0})
    for name in LINING:
        assert glance.worked.values[name] is before.worked.values[name]
    assert glance.pieces is before.pieces
    assert glance.problems is before.problems


def test_after_many_glances_a_look_is_exact(table):
    before = table.look(MERMAID)
    for spread in range(31, 60):
        table.glance(before, {"front_spread": float(spread), "length": 900.0 + spread})
    settled = table.look(MERMAID, {"length": 941.5})
    fresh = Worktable().look(MERMAID, {"length": 941.5})
    assert settled.worked.values == fresh.worked.values
    assert settled.worked.made_by == fresh.worked.made_by
    assert settled.pieces == fresh.pieces
    assert settled.problems == fresh.problems
    assert table.look(MERMAID).pieces == before.pieces


def test_a_glance_that_cannot_be_drawn_says_so(table):
    before = table.look(MERMAID)
    assert not table.glance(before, {"knee_curve": 450.0}).drawn
    assert table.look(MERMAID).drawn
