"""How much cloth: told beside the stack from a true lay, else as about so much."""

from __future__ import annotations

import pytest
from places import slip

from skirtwright.app import child
from skirtwright.app.cloth_work import REST_MS
from skirtwright.export.lay_words import bought_words

pytestmark = pytest.mark.usefixtures("lays")


FAILED = ("The cloth could not be worked out; any change tries again",)


@pytest.fixture
def laid(window, qtbot):
    """The window once its first order was laid in earnest."""
    work = window.cloth_work
    qtbot.waitUntil(lambda: bool(window.table.cloth_lines), timeout=60000)
    qtbot.waitUntil(lambda: work.child is None, timeout=60000)
    yield window
    work.wait()


def test_the_table_says_what_the_lays_take(laid, qtbot):
    lays = laid.desk.laid.report.lays
    assert [lay.cloth.material for lay in lays] == ["shell", "lining", "interfacing"]
    head, *lines = laid.table.cloth_lines
    assert head == "Cloth to buy"
    for line, lay in zip(lines, lays, strict=True):
        assert line.endswith(f" cm: {bought_words(lay.bought, 'cm')}")
    told = laid.table.cloth_told()
    assert all(not told.area.intersects(each.area) for each in laid.table.written())
    assert any(item.key == "cloth" for item in laid.table.frame.items)
    # The making-up sheet says the same.
    slip(laid, "sew")
    qtbot.waitUntil(lambda: laid.slips.sew.making is not None, timeout=60000)
    bought = bought_words(lays[0].bought, "cm")
    needs = laid.slips.sew.making.cut[0].needs
    assert needs.startswith(f"Main cloth: {bought} of cloth 150 cm wide")


def test_until_it_is_laid_anew_the_last_length_is_an_estimate(laid, qtbot):
    before, work = laid.desk.laid, laid.cloth_work
    laid.desk.set_amounts({"length": "80"})
    assert laid.table.cloth_lines[0] == "Cloth to buy, about"
    assert laid.desk.laid is before
    qtbot.waitUntil(lambda: work.child is not None, timeout=60000)
    first = work.child
    laid.desk.set_amounts({"length": "82"})
    qtbot.waitUntil(lambda: work.child is not first, timeout=60000)
    assert laid.table.cloth_lines[0] == "Cloth to buy, about"
    qtbot.waitUntil(lambda: laid.table.cloth_lines[0] == "Cloth to buy", timeout=60000)
    assert work.child is None, "what a first, quick lay takes is an estimate"
    assert laid.desk.laid.worked is laid.desk.look.worked
    assert laid.desk.laid.report.lays[0].length != before.report.lays[0].length


def test_while_a_point_is_pulled_the_estimate_follows(laid, qtbot):
    told = laid.table.cloth_lines
    laid.desk.pull({"length": 1100.0})
    qtbot.waitUntil(lambda: laid.table.cloth_lines != told, timeout=60000)
    assert laid.table.cloth_lines[0] == "Cloth to buy, about"
    laid.desk.drop()
    assert laid.table.cloth_lines == told


def test_a_laying_that_dies_is_told_and_tried_again(laid, qtbot, monkeypatch):
    job = laid.desk.job
    for run in (("-c", "print(7)"), ("-c", "raise SystemExit(3)"), ("-c", "(")):
        with monkeypatch.context() as patch:
            patch.setattr(child, "CHILD", run)
            laid.cloth_work.kept.close()
            laid.desk.set_amounts({"length": "80"})
            qtbot.waitUntil(lambda: laid.table.cloth_lines == FAILED, timeout=60000)
            laid.desk.history.undo()
    assert laid.desk.job == job
    qtbot.waitUntil(lambda: laid.table.cloth_lines[0] == "Cloth to buy", timeout=60000)


def test_once_the_window_is_closed_nothing_more_is_laid(laid, qtbot):
    laid.cloth_work.wait()
    laid.desk.set_amounts({"length": "84"})
    qtbot.wait(REST_MS + 200)
    assert laid.cloth_work.child is None


def test_what_to_buy_is_not_written_over_a_piece(window):
    """Where there is no room over the stack the slip of the cloth alone says it."""
    table = window.table
    table.tell_cloth(("Cloth to buy",))
    assert table.cloth_told() is not None
    table.tell_cloth(("Cloth to buy", *("w" * 40,) * 12))
    assert table.cloth_told() is None
