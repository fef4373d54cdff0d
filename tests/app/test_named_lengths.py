"""Lengths by name: chosen in the slip of shape, typed, and found among the actions."""

from __future__ import annotations

import pytest
from places import amount, settled
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from skirtwright.draft import styles
from skirtwright.job.edits import set_measurement, set_style


def measured(window, floor="104 cm"):
    window.desk.change(set_measurement(window.desk.job, "waist_to_floor_side", floor))


def options(row):
    return [row.named.box.itemText(n) for n in range(row.named.box.count())]


def length(window):
    return window.desk.state("length").value


def test_a_length_is_chosen_by_name_and_follows_her_measurements(window):
    """The ankle 10 cm over the floor: common practice, no source; the rest is sums."""
    measured(window)
    row = amount(window, "length")
    row.named.box.setFocus()
    QTest.keyClicks(row.named.box, "ankle")
    assert length(window) == pytest.approx(940)
    assert row.named.box.currentText().replace("\N{NO-BREAK SPACE}", " ") == (
        "ankle, 94 cm"
    )
    assert row.line.text() == "94"
    assert window.desk.look.report.finished["length"] == pytest.approx(940, abs=0.5)
    measured(window, "100 cm")
    assert length(window) == pytest.approx(900), "it is hers, not a number"
    row.line.setFocus()
    assert row.line.text() == "90", "never the name of a measurement"
    window.desk.history.undo()
    window.desk.history.undo()
    assert row.named.box.currentIndex() == 0
    assert row.named.box.currentText() == "choose"


@pytest.mark.parametrize(
    ("working", "told"),
    [
        ("waist_to_floor_side - 2 cm", "floor, 102 cm: more than this style takes"),
        ("waist_to_floor_side - 28 cm", "mid-calf, 76 cm"),
        ("102 cm", "choose"),
    ],
)
def test_a_name_the_style_does_not_take_is_told_by_it(window, working, told):
    measured(window)
    job = set_style(window.desk.job, styles.style("straight")).job
    window.desk.begin(job.replace(amounts={"length": working}))
    now = amount(window, "length").named.box.currentText()
    assert now.replace("\N{NO-BREAK SPACE}", " ") == told
    codes = [problem.code for problem in window.desk.look.report.problems]
    assert ("draft.length_out_of_range" in codes) == ("102" in told + working)


def test_a_name_worked_from_a_guess_says_about(window):
    """The floor is not taken, the knee is."""
    measured(window, None)
    row = amount(window, "length")
    told = {each.partition(",")[0]: each for each in options(row)}
    assert "about" in told["ankle"]
    assert "about" in told["mid-calf"]
    window.desk.change(set_style(window.desk.job, styles.style("straight")))
    told = {each.partition(",")[0]: each for each in options(amount(window, "length"))}
    assert "knee" in told
    assert "about" not in told["knee"]
    assert "floor" not in told, "no straight skirt is so long"


def test_a_name_is_typed_where_the_length_stands(window):
    measured(window)
    row = amount(window, "length")
    row.line.setFocus()
    row.line.selectAll()
    QTest.keyClicks(row.line, "mid-calf")
    QTest.keyClick(row.line, Qt.Key.Key_Return)
    assert length(window) == pytest.approx(1040 - 280)
    table = window.table
    table.open_entry("length")
    QTest.keyClicks(table.field.line, "Ankle")
    QTest.keyClick(table.field.line, Qt.Key.Key_Return)
    assert table.field.entry is None
    assert length(window) == pytest.approx(1040 - 100)
    measured(window, "100 cm")
    assert length(window) == pytest.approx(1000 - 100), "it is hers, not a number"


def test_a_length_is_found_by_its_name(window):
    measured(window)
    window.acts.by_name["find"].trigger()
    finder = window.commands.finder
    QTest.keyClicks(finder.line, "ankle")
    finder.list.setCurrentRow(finder.names.index("length"))
    QTest.keyClick(finder.line, Qt.Key.Key_Return)
    menu = window.acts.menus["length"]
    assert menu.isVisible()
    entry = next(e for e in menu.actions() if "ankle" in e.text())
    assert "Length: ankle, 94" in entry.text()
    settled(window)
    QTest.mouseClick(
        menu, Qt.MouseButton.LeftButton, pos=menu.actionGeometry(entry).center()
    )
    assert length(window) == pytest.approx(940)
