"""The Fitting slip: altered by mouse and by keys, told, undone and taken back."""

from __future__ import annotations

import pytest
from places import settled
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QLabel

from skirtwright.app.shown_figures import unbroken
from skirtwright.draft.alterations import typed_alteration
from skirtwright.job.fitting_edits import alter

READ = ("30", "30.2", "29.6", "30", "30.1", "30.5", "30.1", "30")
"""Heights off the floor, from the front round by the left."""


@pytest.fixture
def slip(window, qtbot):
    window.acts.by_name["fit"].setChecked(True)
    yield window.slips.fit
    window.acts.by_name["fit"].setChecked(False)


def choose(slip, name: str) -> None:
    known = [one.id for one in slip._offered]
    slip.what.setCurrentIndex(known.index(name))
    slip.what.activated.emit(slip.what.currentIndex())


def waist(window) -> float:
    return window.desk.look.report.finished["waist"]


def test_a_side_seam_is_taken_in_undone_and_taken_back(window, slip, qtbot):
    before = waist(window)
    choose(slip, "side_seams")
    slip.way.setCurrentIndex(1)
    qtbot.keyClicks(slip.by, "0.5")
    slip.side.setCurrentIndex(1)
    qtbot.mouseClick(slip.do, Qt.MouseButton.LeftButton)
    assert waist(window) == pytest.approx(before - 10.0, abs=0.1)
    assert len(slip.back) == 1
    window.desk.history.undo()
    assert waist(window) == pytest.approx(before, abs=0.01)
    assert slip.back == []
    window.desk.history.redo()
    qtbot.mouseClick(slip.back[0], Qt.MouseButton.LeftButton)
    assert waist(window) == pytest.approx(before, abs=0.01)
    assert window.desk.job.fitting == ()


def test_by_keys_alone(window, slip, qtbot):
    before = waist(window)
    choose(slip, "centre_back_seam")
    assert slip.what.isVisible()
    slip.what.setFocus()
    qtbot.keyClick(slip.what, Qt.Key.Key_Tab)
    assert window.focusWidget() is slip.way, "as it stands in the form"
    qtbot.keyClick(slip.way, Qt.Key.Key_Down)
    qtbot.keyClick(slip.way, Qt.Key.Key_Tab)
    qtbot.keyClicks(slip.by, "0.3")
    slip.do.setFocus()
    qtbot.keyClick(slip.do, Qt.Key.Key_Space)
    assert waist(window) == pytest.approx(before - 6.0, abs=0.1)
    assert QApplication.activeWindow() is window, "no other was shown for a moment"


def test_what_cannot_be_altered_is_said_and_all_stays(window, slip, qtbot):
    job = window.desk.job
    choose(slip, "side_seams")
    slip.by.setText("30")
    qtbot.mouseClick(slip.do, Qt.MouseButton.LeftButton)
    assert slip.said.isVisible()
    assert slip.said.text().startswith("Side seams")
    assert window.desk.job is job


def test_the_hem_is_read_at_eight_places(window, slip, qtbot):
    choose(slip, "level_hem")
    assert slip.around.isVisible()
    assert not slip.asked.isVisible()
    for line, text in zip(slip.readings.values(), READ, strict=True):
        line.setText(text)
    qtbot.mouseClick(slip.do, Qt.MouseButton.LeftButton)
    assert slip.said.text() == ""
    assert "0.9" in window.desk.look.report.altered[0].said(window.desk.manner)


def test_readings_are_typed_along_the_rows_and_the_unit_is_seen(window, slip, qtbot):
    choose(slip, "level_hem")
    assert slip.around_unit.isVisible()
    assert slip.around_unit.text() == "cm"
    lines = slip.readings
    assert lines["front"].accessibleName().endswith("centimetres")
    lines["back_right"].setFocus()
    typed = []
    for _ in lines:
        held = window.focusWidget()
        typed.append(next(p for p, line in lines.items() if line is held))
        qtbot.keyClick(held, Qt.Key.Key_Tab)
    # As they lie for who is before her: her left at the right, as on the table.
    assert typed == [
        "back_right",
        "back",
        "back_left",
        "side_right",
        "side_left",
        "front_right",
        "front",
        "front_left",
    ]


def test_an_empty_reading_is_named_and_in_hand_and_what_was_read_is_told(
    window, slip, qtbot
):
    choose(slip, "level_hem")
    lines = list(slip.readings.values())
    for line, text in zip(lines, READ, strict=True):
        line.setText(text)
    lines[5].setText("")
    qtbot.mouseClick(slip.do, Qt.MouseButton.LeftButton)
    assert slip.said.text() == (
        "The hem is not read yet at the place “back right”; "
        "measure there from the floor up to the hem."
    )
    assert window.focusWidget() is lines[5]
    assert lines[5].wrong
    assert window.desk.job.fitting == ()
    qtbot.keyClicks(lines[5], READ[5])
    qtbot.mouseClick(slip.do, Qt.MouseButton.LeftButton)
    assert slip.said.text() == ""
    told = slip._told[0]
    assert "front left 30.2 cm" in told
    assert "back right 30.5 cm" in told
    shown = [label.text() for label in slip.findChildren(QLabel)]
    assert unbroken(told) in shown


def test_a_way_is_called_as_she_says_it_and_inches_are_kept(window, slip, qtbot):
    window.settings.choose("unit", "in")
    choose(slip, "waist_back")
    assert [slip.way.itemText(n) for n in range(2)] == ["lower it", "raise it"]
    slip.way.setCurrentIndex(1)
    qtbot.keyClicks(slip.by, "0.8 cm")
    qtbot.mouseClick(slip.do, Qt.MouseButton.LeftButton)
    assert slip.said.text() == ""
    # 0.8 cm are 0.315 in: 5/16, where eighths would say 3/8.
    assert slip._told == ("Waist at the centre back: raised by 5/16 in.",)


def test_a_long_line_is_whole_and_presses_nothing_flat(window, slip, qtbot):
    """In the small window the slip scrolls; words and fields keep their height."""
    window.resize(1024, 700)
    settled(window)
    choose(slip, "level_hem")
    high = slip.readings["front"].height()
    for line, text in zip(slip.readings.values(), READ, strict=True):
        line.setText(text)
    qtbot.mouseClick(slip.do, Qt.MouseButton.LeftButton)
    settled(window)
    row = slip.back[0].parentWidget()
    words = row.findChild(QLabel)
    assert words.height() >= words.heightForWidth(words.width())
    assert slip.readings["front"].height() == high


def test_a_style_without_a_place_for_an_alteration_is_taken_without_it(window, slip):
    desk = window.desk
    taken_in = typed_alteration(what="side_seams", by="-0.5", first="waist", last="hip")
    desk.change_drawn(alter(desk.job, taken_in, desk.look.worked.stated))
    before = desk.job
    window.acts.by_name["styles"].trigger()
    chooser = window.commands.chooser
    for row in range(chooser.list.count()):
        if chooser.list.item(row).text().startswith("Gored"):
            chooser.list.setCurrentRow(row)
    chooser.take()
    assert "has no place for this" in window.line.words.text()
    assert "Side seams: taken in by 0.5 cm" in window.line.words.text()
    assert desk.job is before
    window.line.buttons[0].click()
    assert "gored" in desk.job.draft.id
    assert desk.job.fitting == before.fitting
    (row,) = slip._told
    assert row.endswith("kept with the order, and not drawn.")
    desk.history.undo()
    assert desk.job == before
    desk.history.redo()
    slip.back[0].click()
    assert desk.job.fitting == ()
    assert desk.look.left_out == ()
