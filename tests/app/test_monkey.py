"""A short walk of random actions; the bench does thousands. About 8 s."""

from __future__ import annotations

import gc
import weakref

import pytest
from monkey import Monkey, afresh, clear_away, differences, shown
from PySide6.QtCore import QObject

from skirtwright.job import file
from skirtwright.job.edits import set_amount

ACTIONS, EACH = 20, 10


@pytest.mark.slow
@pytest.mark.usefixtures("mends")
@pytest.mark.parametrize("seed", [3])
def test_the_window_shows_what_a_fresh_table_makes_of_the_order(window, tmp_path, seed):
    monkey = Monkey(window, seed, tmp_path)
    for number in range(1, ACTIONS + 1):
        name = monkey.act()
        if number % EACH == 0:
            assert differences(window.desk.look) == [], f"after {number}: {name}"
    assert sum(monkey.done.values()) == ACTIONS
    assert monkey.refused < ACTIONS / 3


def test_a_look_of_its_own_is_seen(window):
    """What the walk leans on: a stale report differs from the fresh one."""
    look = window.desk.look
    other = afresh(window.desk.look)
    assert shown(look) == shown(other)
    job = set_amount(look.job, "length", "61.5").job
    window.desk.look = type(look)(job, look.worked, look.report)
    assert differences(window.desk.look)
    window.desk.look = look


@pytest.mark.usefixtures("works_alone")
def test_orders_that_are_put_away_leave_nothing_behind(window, tmp_path):
    """No widget, no drawing and no order of those that were opened before."""
    paths = tmp_path / "order.skirt", tmp_path / "other.skirt"
    for path in paths:
        file.save(window.desk.job, path)

    def opened(number):
        # The order on the table is not opened anew, so the two take turns.
        assert window.files.open(paths[number % 2])
        window.desk.set_amounts({"length": f"{60 + number}"})
        window.files.save()
        clear_away()
        gc.collect()
        look = window.desk.look
        return weakref.ref(look), weakref.ref(look.worked), weakref.ref(look.job)

    # What other tests hold is not looked through as well.
    gc.freeze()
    opened(0)
    before = len(window.findChildren(QObject))
    gone = [ref for number in (1, 2, 3) for ref in opened(number)]
    assert len(window.findChildren(QObject)) == before
    assert [ref() for ref in gone[:-3]] == [None] * (len(gone) - 3)
