"""For those who do not see the table, or use no mouse."""

from __future__ import annotations

import gc
import itertools
import weakref

import pytest
import shiboken6
from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import (
    QAccessible,
    QAccessibleActionInterface,
    QAccessibleValueInterface,
)
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit, QVBoxLayout, QWidget

from skirtwright.app.canvas.table import Table
from skirtwright.app.look import LIGHT
from skirtwright.draft.styles import style
from skirtwright.job.job import new_job
from skirtwright.job.worktable import Worktable
from skirtwright.words import Manner


@pytest.fixture
def tree(bench):
    QAccessible.setActive(True)
    return QAccessible.queryAccessibleInterface(bench.table)


def child(tree, name):
    for number in range(tree.childCount()):
        found = tree.child(number)
        if found.text(QAccessible.Text.Name) == name:
            return found
    raise AssertionError(name)


def test_the_table_is_a_named_canvas(tree):
    assert tree.role() == QAccessible.Role.Canvas
    assert tree.text(QAccessible.Text.Name) == "Table"


def test_each_pull_point_is_a_slider_with_name_and_unit(bench, tree):
    assert tree.childCount() == len(bench.table.points.names()) == 10
    for number in range(tree.childCount()):
        point = tree.child(number)
        assert point.role() == QAccessible.Role.Slider
        assert point.text(QAccessible.Text.Name)
        assert "cm" in point.text(QAccessible.Text.Value)
        assert point.text(QAccessible.Text.Description)
        assert point.state().focusable
        assert tree.indexOfChild(point) == number
        assert point.rect().width() >= 24
        assert point.rect().height() >= 24
        middle = point.rect().center()
        assert tree.childAt(middle.x(), middle.y()) is not None


def test_value_range_and_step(tree):
    value = child(tree, "Front flare at the break").valueInterface()
    assert value.currentValue() == 30
    assert (value.minimumValue(), value.maximumValue()) == (0, 60)
    assert value.minimumStepSize() == 1


def test_ten_steps_and_a_set_value(bench, tree):
    point = child(tree, "Front flare at the break")
    actions = point.actionInterface()
    more, less = actions.increaseAction(), actions.decreaseAction()
    assert {more, less} <= set(actions.actionNames())
    for _ in range(10):
        actions.doAction(more)
    assert bench.value("front_spread") == 40
    actions.doAction(less)
    assert bench.value("front_spread") == 39
    assert len(bench.of("pulled")) == 11
    point.valueInterface().setCurrentValue(51.24)
    assert bench.value("front_spread") == pytest.approx(51.2)
    assert point.text(QAccessible.Text.Value) == "5.12 cm"
    point.valueInterface().setCurrentValue(5000)
    assert bench.value("front_spread") == 60


def test_her_unit_is_read(bench, tree):
    bench.table.set_manner(Manner("in", 8))
    assert child(tree, "Length").text(QAccessible.Text.Value) == "37 3/8 in"


def test_interfaces_are_each_an_object_of_its_own(bench, tree):
    """Qt takes the address it is given for the interface it asked for.

    An object of several bases would be taken at the address of its first.
    """
    point = child(tree, "Front flare at the break")
    for found, kind in (
        (point.valueInterface(), QAccessibleValueInterface),
        (point.actionInterface(), QAccessibleActionInterface),
    ):
        assert isinstance(found, kind)
        assert len(shiboken6.getCppPointer(found)) == 1


def test_focus_is_told(bench, tree):
    point = child(tree, "Length")
    actions = point.actionInterface()
    actions.doAction(actions.setFocusAction())
    assert bench.table.points.focused == "front.hem middle"
    assert point.state().focused
    assert tree.focusChild().text(QAccessible.Text.Name) == "Length"


def test_many_questions_and_an_end(bench, tree, qtbot):
    gc.freeze()  # what other tests hold is not looked through as well
    for _ in range(200):
        for number in range(tree.childCount()):
            point = tree.child(number)
            point.text(QAccessible.Text.Value)
            point.valueInterface().currentValue()
    bench.job = new_job(style("straight-block"))
    bench.table.show_look(bench.look())
    bench.settle()
    gc.collect()
    known = {
        tree.child(n).text(QAccessible.Text.Name) for n in range(tree.childCount())
    }
    assert len(known) == len({h.label for h in bench.table.scene.points})
    assert tree.child(999) is None


def test_a_table_that_was_read_leaves_nothing_behind(qapp):
    """What PySide keeps of its interfaces for ever holds no table and no drawing."""
    gc.freeze()
    table = Table(LIGHT)
    table.show_look(Worktable().look(new_job(style("straight-block"))))
    QAccessible.setActive(True)
    read = QAccessible.queryAccessibleInterface(table)
    assert [read.child(n).state() for n in range(read.childCount())]
    held = [weakref.ref(each) for each in (table, table.scene, table.scene.good)]
    del read
    table.deleteLater()
    QApplication.sendPostedEvents(table, QEvent.Type.DeferredDelete.value)
    del table
    gc.collect()
    assert [ref() for ref in held] == [None] * 3


# Tab


def test_tab_goes_from_point_to_point_in_reading_order_and_on(qtbot, bench):
    window = QWidget()
    qtbot.addWidget(window)
    before, after = QLineEdit(), QLineEdit()
    column = QVBoxLayout(window)
    for each in (before, bench.table, after):
        column.addWidget(each)
    window.resize(1000, 800)
    window.show()
    with qtbot.waitActive(window):
        window.activateWindow()
    before.setFocus()
    table = bench.table
    entries = list(dict.fromkeys(w.entry.name for w in table.written()))
    assert len(entries) >= 5
    names = [*entries, *table.points.names()]
    seen = []
    for _ in names:
        QTest.keyClick(window.focusWidget(), Qt.Key.Key_Tab)
        assert window.focusWidget() is bench.table
        seen.append(table.entry_in_hand or table.points.focused)
    assert seen == names
    QTest.keyClick(window.focusWidget(), Qt.Key.Key_Tab)
    assert window.focusWidget() is after
    QTest.keyClick(after, Qt.Key.Key_Backtab)
    assert bench.table.points.focused == names[-1]
    for _ in names:
        QTest.keyClick(window.focusWidget(), Qt.Key.Key_Backtab)
    assert window.focusWidget() is before
    # Each is put away by itself.
    bench.table.setParent(None)


def test_reading_order_is_panel_by_panel_from_top_to_bottom(bench):
    scene = bench.table.scene
    panels = [handle.panel for handle in scene.points]
    assert panels == sorted(panels, key=list(scene.panels).index)
    for name in scene.panels:
        heights = [h.point.y for h in scene.points if h.panel == name]
        assert all(a >= b - 10 for a, b in itertools.pairwise(heights))


def test_a_point_with_the_keyboard_comes_into_sight(bench, qtbot):
    bench.table.zoom_by(8, (30, 30))
    name = "back.side end"
    assert not bench.table.point_in_sight(name)
    bench.table.focus_point(name)
    qtbot.waitUntil(lambda: bench.table.view == bench.table.camera.goal())
    assert bench.table.point_in_sight(name)
    at = bench.at(name)
    assert bench.table.rect().contains(at.toPoint())


def test_the_whole_by_keys_alone(bench):
    bench.table.setFocus(Qt.FocusReason.TabFocusReason)
    while bench.table.points.focused != "front.side end":
        bench.key(Qt.Key.Key_Tab)
    for _ in range(10):
        bench.key(Qt.Key.Key_Right)
    assert bench.value("front_spread") == 40
    bench.key(Qt.Key.Key_Return)
    assert bench.of("why") == ["front.side end"]
    bench.key(Qt.Key.Key_Escape)
    assert bench.table.points.focused == ""
    assert isinstance(bench.table, Table)
