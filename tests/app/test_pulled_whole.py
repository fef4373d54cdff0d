"""What is pulled is shown whole at once: pieces, lining and findings with the skirt."""

from __future__ import annotations

import gc

import pytest
from PySide6.QtCore import QEvent, QPointF, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QApplication

from skirtwright.app import main
from skirtwright.app.pause import Pause
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


def test_nothing_that_follows_a_pull_is_worked_while_moves_wait(window, monkeypatch):
    """A tick is longer than any pause here: at its end each is over, and a move waits.

    The clock has no part in it: that the time is up is told by hand.
    """
    table, none = window.table, Qt.KeyboardModifier.NoModifier
    point = next(p for p in table.shown_points() if p.name == "front.side end")
    worked = []
    for pause in window.findChildren(Pause):
        then = pause._then
        monkeypatch.setattr(pause, "_ms", 10**6)
        pause.put_off()
        monkeypatch.setattr(pause, "_then", lambda t=then: (worked.append(t), t()))

    def send(kind, aside):
        at, left = QPointF(point.x + aside, point.y), Qt.MouseButton.LeftButton
        whole = table.mapToGlobal(at)
        event = QMouseEvent(kind, at, whole, left, left, none)
        QApplication.postEvent(table, event)

    send(QEvent.Type.MouseButtonPress, 0)
    for aside in range(8, 20):
        send(QEvent.Type.MouseMove, aside)
        QApplication.processEvents()
        QApplication.processEvents()
        worked.clear()
        send(QEvent.Type.MouseMove, aside + 0.25)
        waiting = [p for p in window.findChildren(Pause) if p.isActive()]
        for pause in waiting:
            pause.timeout.emit()
        QApplication.processEvents()
        assert not worked
    assert {table._dressing, window.cloth_work.follow} <= set(waiting)
    for pause in waiting:
        pause.timeout.emit()
    QApplication.processEvents()
    QApplication.processEvents()
    assert len(worked) >= len(waiting)
    table.dropped.emit()
