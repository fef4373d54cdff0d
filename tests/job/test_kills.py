"""A few kills of those that the bench does by the thousand; 2 seconds."""

from __future__ import annotations

import pytest
from kills import KINDS, Killing, naive

KILLS = 24


@pytest.fixture
def killing(tmp_path, monkeypatch, repository):
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    old = repository / "tests" / "golden" / "orders" / "format-1.skirt"
    return Killing(tmp_path, old, seed=10)


def test_killed_at_any_moment_nothing_is_lost_or_unlisted(killing):
    tally = killing.kill(KILLS)
    assert tally.faults == []
    for kind in KINDS:
        assert tally.happened[f"killed while {kind}"] == KILLS // len(KINDS)
    assert tally.happened["begin save"] > 5
    assert tally.happened["begin keep"] > 5


def test_a_way_of_saving_that_loses_is_seen(killing):
    killing.save = naive
    assert killing.kill(15).faults
