"""Remedies in the window: offered when idle, shown under the pointer, one step."""

from __future__ import annotations

import logging
from itertools import groupby
from threading import Event, get_ident
from time import thread_time

import pytest
from places import settled, slip
from PySide6.QtCore import QEvent, QPointF, Qt
from PySide6.QtGui import QEnterEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from drafting import look_of
from skirtwright.app import mending
from skirtwright.app.slips.check import _preview
from skirtwright.draft.styles import style
from skirtwright.job.edits import set_amount, set_choice, set_client
from skirtwright.job.job import new_job
from skirtwright.job.remedies import Remedy

pytestmark = pytest.mark.usefixtures("mends")


@pytest.fixture
def near_the_floor(window, qtbot):
    """A skirt that would catch under a heel, once its remedies are known."""
    window.desk.set_amounts({"length": "102"})
    (problem,) = window.finding_notices.problems
    qtbot.waitUntil(lambda: bool(window.mending.of(problem)), timeout=60000)
    return problem


def test_the_button_says_what_it_does_and_does_it_in_one_step(window, near_the_floor):
    button = window.line.buttons[0]
    assert button.text() == "Length 101.5 cm instead of 102"
    steps = window.desk.history.count()
    QTest.mouseClick(button, Qt.MouseButton.LeftButton)
    assert window.desk.history.count() == steps + 1
    assert window.desk.state("length").value == pytest.approx(1015)
    assert not window.line.isVisible(), "all is well"
    window.acts.by_name["undo"].trigger()
    assert window.desk.state("length").value == pytest.approx(1020)
    assert window.line.isVisible()


def test_a_change_offered_of_a_skirt_that_is_cut_says_so(window, near_the_floor):
    window.desk.change(set_client(window.desk.job, "Clara Winterbourne"))
    assert window.files.keep_in_book()
    (order,) = window.bookkeeping.book.orders()
    check = slip(window, "check")
    assert not check.cut.isVisible()
    assert "cut" not in window.line.words.text()
    window.bookkeeping.write(lambda book: book.set_stage(order, "cut", ""))
    QTest.keyClick(window, Qt.Key.Key_Escape)
    slip(window, "check")
    assert check.cut.text() == "The cloth is cut: this changes the pattern alone."
    assert check.cut.isVisible()


def test_it_is_shown_while_it_is_pointed_at_and_changes_nothing(window, near_the_floor):
    slip(window, "check")
    (row,) = window.slips.check.found
    button, looks = row.buttons[0], []
    window.desk.looked.connect(looks.append)
    at = QPointF(button.rect().center())
    QApplication.sendEvent(button, QEnterEvent(at, at, at))
    assert looks[-1].worked.stated.amounts["length"].value == pytest.approx(1015)
    assert window.slips.check.found == [row], "nothing goes from under the pointer"
    QApplication.sendEvent(button, QEvent(QEvent.Type.Leave))
    assert looks[-1] is window.desk.look
    assert window.desk.job.amounts == {"length": "102"}
    button.setFocus()
    QTest.keyClick(button, Qt.Key.Key_Space)
    assert window.desk.state("length").value == pytest.approx(1015)


def test_remedies_come_once_they_are_settled_and_then_stand_still(window, qtbot):
    """One found early would go again for a lesser change, under her hand.

    Two of them move nothing: what lies below the row keeps its place.
    """
    check, seen, told = slip(window, "check"), [], []
    window.desk.set_amounts({"length": "102"})
    settled(window)
    lay = check.heading.pos()

    def look():
        seen.append([button.accessibleName() for button in check.found[0].buttons])
        told.append([button.text() for button in window.line.buttons])

    window.mending.found.connect(look)
    (problem,) = window.finding_notices.problems
    qtbot.waitUntil(lambda: bool(window.mending.of(problem)), timeout=60000)
    assert [names for names, _ in groupby(filter(None, seen))] == [seen[-1]]
    assert len(seen[-1]) == 2
    assert {len(names): names[0] for names in told}.get(2) == told[-1][0]
    settled(window)
    assert check.heading.pos() == lay
    (row,) = check.found
    button = row.buttons[0]
    button.setFocus()
    window.mending.found.emit()
    assert row.buttons[0] is button
    assert button.hasFocus()
    # A click meant for what lay there a moment ago is none; then it is one.
    button._shown.restart()
    QTest.mouseClick(button, Qt.MouseButton.LeftButton)
    assert window.desk.job.amounts == {"length": "102"}
    qtbot.waitUntil(lambda: button._shown.hasExpired(500))
    QTest.mouseClick(button, Qt.MouseButton.LeftButton)
    assert window.desk.state("length").value < 1020


def test_a_remedy_taken_goes_from_under_the_pointer_and_tells_nobody(window, qtbot):
    """Told that the pointer had left, the slip was shown again while half laid out."""
    check = slip(window, "check")
    window.desk.set_amounts({"length": "102", "hip_ease": "-3"})
    before = len(check.found)
    qtbot.waitUntil(lambda: bool(check.found[0].buttons), timeout=60000)
    settled(window)
    button = check.found[0].buttons[0]
    QTest.mouseMove(button)
    qtbot.waitUntil(button.underMouse)
    qtbot.waitUntil(lambda: button._shown.hasExpired(500))
    QTest.mouseClick(button, Qt.MouseButton.LeftButton)
    left = [p for p in window.desk.look.problems if p.severity != "note"]
    assert [row.problem for row in check.found] == left
    assert len(left) < before


def test_an_answer_for_an_order_that_changed_is_dropped(window, near_the_floor):
    found = window.mending.of(near_the_floor)
    look = window.desk.look
    window.desk.set_amounts({"length": "103"})
    window.mending._ended.emit(look, near_the_floor, found)
    assert window.mending.of(near_the_floor) == ()


def test_a_measurement_of_no_use_as_things_stand_says_so(window, qtbot):
    """With elastic the floor in front is of no use here; in its row and in Check."""
    elastic = set_choice(window.desk.job, "waist_shape", "side_elastic")
    window.desk.change(elastic)
    slip(window, "measure")
    row = window.slips.measure.rows_by_name["top_hip"]
    qtbot.waitUntil(lambda: bool(row.said.text()), timeout=60000)
    assert row.said.text() == "Not used with this style as it stands."
    slip(window, "check")
    assert "Upper hip" in window.slips.check.unused.text()
    window.desk.history.undo()
    slip(window, "measure")
    qtbot.waitUntil(lambda: not row.said.text(), timeout=60000)


def test_a_click_meant_to_look_never_changes_a_length(window, qtbot):
    """The remedy comes beside the button that shows where, which keeps its place."""
    window.desk.set_amounts({"length": "102"})
    (problem,) = window.finding_notices.problems
    (show,) = window.line.buttons
    settled(window)
    at = show.mapTo(window, show.rect().center())
    qtbot.waitUntil(lambda: bool(window.mending.of(problem)), timeout=60000)
    settled(window)
    assert len(window.line.buttons) == 2
    button = window.childAt(at)
    assert button is window.line.buttons[-1]
    QTest.mouseClick(button, Qt.MouseButton.LeftButton)
    assert window.slips.open_name == "check"
    assert window.desk.job.amounts == {"length": "102"}


def test_a_choice_pointed_at_is_dotted_and_the_table_lies_as_it_lay(window):
    """A vent that would give room to walk is drawn beside the back as it is."""
    desk, table = window.desk, window.table
    desk.begin(set_amount(new_job(style("straight")), "length", "75").job)
    vent = desk.job.draft.choice("vent")
    edited = set_choice(desk.job, "vent", "vent")
    look = look_of(edited.job)
    found = Remedy(vent, "none", "vent", edited, look, 0.5)

    def dotted():
        table.grab()
        keys = [item.key for item in table.frame.items]
        return [key[1] for key in keys if isinstance(key, tuple) and "to_come" in key]

    before, things = table.view, list(table.scene.things())
    assert dotted() == []
    _preview(desk, found, on=True)
    assert dotted() == ["back"]
    assert table.view == before
    assert list(table.scene.things()) == things
    _preview(desk, found, on=False)
    assert dotted() == []


def test_a_search_is_worked_in_slices_of_one_look_beside_the_window(
    window, qtbot, monkeypatch
):
    """No turn of the window works a look of it, and between two looks it rests."""
    told, times, look = [], [], window.mending._table.look

    def counted(*asked):
        begun = thread_time()
        try:
            return look(*asked)
        finally:
            times.append(thread_time() - begun)
            told.append(get_ident())

    class Resting(Event):
        def wait(self, timeout=None):
            told.append("rest")
            return super().wait(timeout)

    monkeypatch.setattr(window.mending._table, "look", counted)
    monkeypatch.setattr(mending, "Event", Resting)
    window.desk.set_amounts({"length": "102"})
    (problem,) = window.finding_notices.problems
    qtbot.waitUntil(lambda: bool(window.mending.of(problem)), timeout=60000)
    window.mending.wait()
    looks = [each for each in told if each != "rest"]
    assert looks
    assert get_ident() not in looks
    runs = [list(run) for kind, run in groupby(told, type) if kind is int]
    assert max(map(len, runs)) == 1
    longest = f"longest slice {1000 * max(times):.0f} ms of the processor"
    logging.getLogger(__name__).info(longest)
