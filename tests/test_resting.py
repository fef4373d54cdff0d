"""The collector rests while much is made, and only then."""

from __future__ import annotations

import gc

import pytest

from skirtwright.draft import styles
from skirtwright.job import worktable
from skirtwright.job.job import new_job
from skirtwright.resting import collector_resting


@pytest.fixture(autouse=True)
def collector_on():
    """As each test here begins, whatever a window before it left."""
    gc.enable()


def test_nothing_is_collected_within_and_all_is_as_it_was_after():
    assert gc.isenabled()
    with collector_resting():
        assert not gc.isenabled()
        with collector_resting():
            assert not gc.isenabled()
        assert not gc.isenabled()
    assert gc.isenabled()
    with pytest.raises(KeyError), collector_resting():
        raise KeyError
    assert gc.isenabled()


def test_where_it_was_off_it_stays_off():
    gc.disable()
    try:
        with collector_resting():
            pass
        assert not gc.isenabled()
    finally:
        gc.enable()


def test_a_look_is_worked_without_it(monkeypatch):
    seen = []
    table = worktable.Worktable()
    monkeypatch.setattr(table, "_checking", _Watching(table._checking, seen))
    table.look(new_job(styles.style(styles.first())))
    assert seen == [False]
    assert gc.isenabled()


class _Watching:
    """Checks as given, and notes whether the collector was on."""

    def __init__(self, of, seen):
        self._of, self._seen = of, seen

    def __getattr__(self, name):
        self._seen.append(gc.isenabled())
        return getattr(self._of, name)
