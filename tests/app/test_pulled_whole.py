"""What is pulled is shown whole at once: pieces, lining and findings with the skirt."""

from __future__ import annotations

import gc

import pytest

from skirtwright.app import main
from skirtwright.job.worktable import Worktable


@pytest.mark.parametrize(
    ("amount", "value"),
    [("front_spread", 50.0), ("length", 930.0), ("hip_ease", 55.0), ("hem_drop", 12.0)],
)
def test_a_tick_is_one_whole_look(window, amount, value):
    desk, looks = window.desk, []
    desk.looked.connect(looks.append)
    desk.pull({amount: value})
    fresh = Worktable().look(desk.job, {amount: value})
    (shown,) = looks
    assert shown.worked.values == fresh.worked.values
    assert shown.report.finished == fresh.report.finished
    assert shown.pieces == fresh.pieces
    assert shown.problems == fresh.problems
    assert window.table.scene.pieces == fresh.shown
    desk.drop()
    assert looks[1:] == [desk.look]
    assert desk.look.worked.stated.amounts[amount].value != value


def test_what_cannot_be_drawn_leaves_the_last_good_drawing(window):
    desk, looks = window.desk, []
    desk.looked.connect(looks.append)
    desk.pull({"knee_curve": 450.0})
    assert looks == []


@pytest.fixture
def collections():
    """The generations that are collected from here on."""
    found, known = [], gc.get_threshold()

    def told(phase, info):
        if phase == "start":
            found.append(info["generation"])

    gc.callbacks.append(told)
    yield found
    gc.callbacks.remove(told)
    gc.set_threshold(*known)
    gc.unfreeze()


def test_no_move_of_a_hand_waits_for_the_collector(window, collections):
    gc.enable()
    main._settle()
    window.desk.pull({"length": 900.0})
    collections.clear()
    for length in range(901, 905):
        window.desk.pull({"length": float(length)})
    assert not collections
    window.desk.drop()
