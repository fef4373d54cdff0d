"""Remedies in the window: offered when idle, shown under the pointer, one step."""

from __future__ import annotations

import pytest
from places import slip
from PySide6.QtCore import QEvent, QPointF, Qt
from PySide6.QtGui import QEnterEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from skirtwright.job.edits import set_choice

pytestmark = pytest.mark.usefixtures("mends")


@pytest.fixture
def near_the_floor(window, qtbot):
    """A skirt that would catch under a heel, once its remedies are known."""
    window.desk.set_amounts({"length": "102"})
    (problem,) = window.to_look_at.problems
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
    (problem,) = window.to_look_at.problems
    (show,) = window.line.buttons
    QTest.qWait(1)
    at = show.mapTo(window, show.rect().center())
    qtbot.waitUntil(lambda: bool(window.mending.of(problem)), timeout=60000)
    QTest.qWait(1)
    assert len(window.line.buttons) == 2
    button = window.childAt(at)
    assert button is window.line.buttons[-1]
    QTest.mouseClick(button, Qt.MouseButton.LeftButton)
    assert window.slips.open_name == "check"
    assert window.desk.job.amounts == {"length": "102"}
