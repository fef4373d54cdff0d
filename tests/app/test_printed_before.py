"""The record of prints in the window: kept through undo, told, dotted, printed from."""

from __future__ import annotations

import re

import pymupdf
import pytest
from places import save
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest

from skirtwright.draft import styles
from skirtwright.job import edits, file

CTRL = Qt.KeyboardModifier.ControlModifier


@pytest.fixture
def strip(window, keys, qtbot):
    """The strip, opened by its key and counted, for a skirt of two pieces."""
    job = edits.set_style(window.desk.job, styles.style("straight-block")).job
    window.keeper.begin_new(job)
    keys(Qt.Key.Key_P, mods=CTRL)
    strip = window.slips.paper
    counted(strip, qtbot)
    return strip


def counted(strip, qtbot):
    """What was counted, once it is."""
    qtbot.waitUntil(lambda: strip.counted is not None, timeout=20000)
    return strip.counted


def widen(window, text):
    desk = window.desk
    desk.change(edits.set_measurement(desk.job, "waist", text))


def told(window):
    return window.line.now.words if window.line.now else ""


def dotted(window):
    """The things on the table whose old lines are in its picture."""
    window.table.grab()
    keys = [item.key for item in window.table.frame.items]
    return [key[1] for key in keys if isinstance(key, tuple) and key[0] == "before"]


def test_a_print_is_noted_and_no_undo_takes_it_away(window, strip, qtbot, tmp_path):
    desk = window.desk
    widen(window, "74")
    window.keeper.save_as(tmp_path / "o.skirt")
    assert desk.saved
    counted(strip, qtbot)
    assert save(strip, qtbot, tmp_path / "a.pdf")
    (one,) = desk.job.prints
    assert one.card.measurements["waist"] == "74"
    assert set(one.drawn) == {piece.name for piece in desk.look.shown}
    assert one.laid.paper == "a4"
    # Some of the sheets are no print of all pieces.
    strip.choices.range.line.setText("1-2")
    strip.choices.range.line.editingFinished.emit()
    qtbot.waitUntil(lambda: strip.count.text().startswith("2 "), timeout=20000)
    assert save(strip, qtbot, tmp_path / "b.pdf")
    assert "this one is not in it" in strip.done.text()
    assert desk.job.prints == (one,)
    # It was saved, and is so still, with the record of the print.
    assert desk.saved
    desk.history.undo()
    assert desk.job.prints == (one,)
    assert desk.job.card.measurements["waist"] != "74"
    assert not desk.saved
    desk.history.redo()
    assert desk.job.prints == (one,)
    assert desk.saved
    assert file.load(tmp_path / "o.skirt").prints == (one,)
    assert desk.saved


def test_a_change_thought_of_before_the_print_leaves_the_record(
    window, strip, qtbot, tmp_path
):
    desk = window.desk
    thought_of = edits.set_measurement(desk.job, "waist", "75")
    assert save(strip, qtbot, tmp_path / "a.pdf")
    desk.change(thought_of)
    assert len(desk.job.prints) == 1
    assert desk.job.card.measurements["waist"] == "75"


def test_other_files_are_noted_too(window, strip, qtbot, tmp_path):
    for name, tick in strip.choices.ticks.items():
        tick.setChecked(name == "front")
    strip.choices.kind_row.choose("plotter")
    strip.choices.changed.emit()
    counted(strip, qtbot)
    assert save(strip, qtbot, tmp_path / "a.plt")
    assert window.files.export(tmp_path / "a.svg")
    hows = [one.how for one in window.desk.job.prints]
    assert hows == ["plotter", "drawing"]
    assert [one.laid for one in window.desk.job.prints] == [None, None]


@pytest.mark.usefixtures("counts_other_ways")
def test_what_changed_is_told_and_printed_alone(window, strip, qtbot, tmp_path):
    tick = strip.choices.changed_only
    assert not tick.isVisible()
    assert save(strip, qtbot, tmp_path / "a.pdf")
    assert strip.since.text().endswith("No piece differs.")
    widen(window, "74")
    counted(strip, qtbot)
    assert "Waist: 72 cm is now 74 cm." in strip.since.text()
    assert tick.isVisible()
    every = strip.counted.laid.sheets
    strip.scrolled.ensureWidgetVisible(tick)
    at = QPoint(8, tick.height() // 2)
    QTest.mouseClick(tick, Qt.MouseButton.LeftButton, pos=at)
    counted(strip, qtbot)
    laid = counted(strip, qtbot).laid
    assert 0 < laid.sheets < every
    # The whole print is not written over.
    assert strip.suggested().endswith(" changed sheets.pdf")
    total = laid.sheets + len(laid.tilings[0].kept)
    assert strip.count.text() == f"{laid.sheets} of {total} sheets"
    anew = f"printed anew, without this tick, would take {every}."
    qtbot.waitUntil(lambda: anew in strip.more.text(), timeout=20_000)
    # Paper, lines and scale are as they were.
    assert not strip.choices.paper.isVisible()
    assert not strip.choices.scale.isVisible()
    assert save(strip, qtbot, tmp_path / "b.pdf")
    with pymupdf.open(tmp_path / "b.pdf") as document:
        footers = re.compile(r"sheet \d+ of \d+")
        pages = [page for page in document if footers.search(page.get_text())]
        assert len(pages) == laid.sheets
    assert [one.how for one in window.desk.job.prints] == ["sheets", "sheets"]
    # Of what lies on her table now nothing differs.
    strip.choices.changed.emit()
    assert counted(strip, qtbot).laid.sheets == 0
    assert not strip.save_button.isEnabled()
    assert not save(strip, qtbot, tmp_path / "c.pdf")
    assert "still good" in strip.trouble.text()


def test_the_lines_as_they_were_are_dotted_when_asked(window, strip, qtbot, tmp_path):
    assert save(strip, qtbot, tmp_path / "a.pdf")
    window.slips.show("paper", on=False)
    widen(window, "76")
    action = window.acts.by_name["since_print"]
    action.trigger()
    qtbot.waitUntil(lambda: told(window).startswith("Since the print of "))
    assert "Waist: 72 cm is now 76 cm." in window.line.now.words
    assert len(dotted(window)) == 2
    # Somewhat outside of the waist as it is now.
    assert all(one.runs for one in window.table.lines_before())
    window.desk.history.undo()
    qtbot.waitUntil(lambda: "No piece differs." in window.line.now.words)
    assert dotted(window) == []
    window.desk.history.redo()
    qtbot.waitUntil(lambda: "is now 76 cm" in window.line.now.words)
    assert len(dotted(window)) == 2
    action.trigger()
    assert not window.line.now.words.startswith("Since")
    assert dotted(window) == []


def test_an_order_never_printed_says_so(window):
    action = window.acts.by_name["since_print"]
    action.trigger()
    assert not action.isChecked()
    assert "no record of a print" in window.line.now.words
