"""A new client's table: her own figures on paper, and nothing of another woman."""

from __future__ import annotations

import pytest
from places import settled
from PySide6.QtCore import Qt
from PySide6.QtGui import QColor

from skirtwright.app.canvas.first_paper import FirstLine, first_lines
from skirtwright.app.slip_holder import SLIPS
from skirtwright.job.edits import set_measurement
from skirtwright.measures.card import Card, values_of
from skirtwright.measures.guessed import with_guesses

CTRL = Qt.KeyboardModifier.ControlModifier


def take(window, **texts):
    for name, text in texts.items():
        window.desk.change(set_measurement(window.desk.job, name, text))


@pytest.fixture
def fresh(window, keys):
    """The window on a client of whom nothing is measured."""
    keys(Qt.Key.Key_N, mods=CTRL)
    assert window.desk.waits is not None
    return window


def test_nothing_of_the_sample_is_on_the_table(fresh, keys):
    table = fresh.table
    assert table.first_paper == ()
    assert table.written() == []
    assert table.levels() == ()
    assert table.stack() == []
    assert table.figure_area() is None
    assert list(table.scene.things()) == []
    assert table.shown_points() == []
    paper = QColor(fresh.colours.paper)
    seen = table.grab().toImage()
    room = table.room().center().toPoint()
    assert seen.pixelColor(room) == paper, "a sheet lies there"
    table.setFocus(Qt.FocusReason.TabFocusReason)
    keys(Qt.Key.Key_C, Qt.Key.Key_A, Qt.Key.Key_W, Qt.Key.Key_N, Qt.Key.Key_Escape)
    assert list(table.scene.things()) == []


def test_what_is_measured_is_drawn_and_the_skirt_once_all_is(fresh):
    table = fresh.table
    take(fresh, waist="74", waist_to_hip="21")
    assert table.first_paper == (
        FirstLine("waist", 0.0, 740.0),
        FirstLine("hip", 210.0, None),
    )
    take(fresh, hip="102")
    assert table.first_paper[1] == FirstLine("hip", 210.0, 1020.0)
    assert list(table.scene.things()) == []
    take(fresh, waist_to_knee="59")
    assert table.first_paper is None
    assert {entry.entry.name for entry in table.written()} >= {"waist", "hip"}
    hip = next(w.entry for w in table.written() if w.entry.name == "hip")
    ease = fresh.desk.state("hip_ease").value
    assert hip.value == pytest.approx(1020 + ease, abs=0.5), "hers, with the ease"
    fresh.acts.by_name["undo"].trigger()
    assert table.first_paper is not None
    assert list(table.scene.things()) == []


def test_every_slip_opens_while_there_is_only_paper(fresh):
    for name in SLIPS:
        fresh.slips.put_away()
        fresh.acts.by_name[name].setChecked(True)
        settled(fresh)
        assert fresh.slips.open_name == name
        assert list(fresh.table.scene.things()) == []
    fresh.acts.by_name["figure"].trigger()
    assert fresh.table.figure_area() is None
    fresh.commands.fill_walk()
    (none,) = fresh.acts.menus["walk"].actions()
    assert not none.isEnabled()


@pytest.mark.parametrize("known", [{}, {"waist": "70", "hip": "99"}])
def test_each_style_is_shown_on_what_is_known_the_rest_guessed(fresh, qtbot, known):
    take(fresh, **known)
    fresh.acts.by_name["styles"].trigger()
    chooser = fresh.commands.chooser
    now = chooser.list.currentItem()
    held = Qt.ItemDataRole.UserRole + 1
    qtbot.waitUntil(lambda: now.data(held).told != "")
    figure = now.data(held).figure
    assert figure is not None
    assert figure.guessed, "dashed"
    assert now.data(held).told.startswith("about ")
    assert fresh.desk.waits is not None, "nothing of it is taken for hers"
    assert set(fresh.desk.job.card.measurements) == set(known)


def test_what_she_was_measured_for_is_never_guessed():
    card = Card(name="", measurements={"waist": "91", "height": "170"})
    whole = values_of(with_guesses(card))
    assert whole["waist"] == 910
    assert whole["height"] == 1700
    # As the size nearest to her: waist 81.8 to hip 108.
    assert whole["hip"] == pytest.approx(910 / 818 * 1080, abs=0.5)
    assert with_guesses(card.replace(measurements={})).measurements["hip"] == "960 mm"


def test_a_length_below_the_waist_alone_is_a_level():
    assert first_lines({"waist_to_knee": 590.0}) == (FirstLine("knee", 590.0, None),)
    assert first_lines({"hip": 1000.0}) == ()


def test_another_client_begins_whole_whatever_was_taken_apart_before(window, keys):
    slip = window.slips
    slip.show("measure", on=True)
    settled(window)
    rows = window.slips.measure.rows_by_name
    for name in ("waist_to_hip", "waist_to_floor_side"):
        rows[name].sign.click()
    assert rows["waist_to_hip"].apart
    assert "a seam down its middle" in rows["waist_to_hip"].said.text()
    keys(Qt.Key.Key_N, mods=CTRL)
    assert [name for name, row in rows.items() if row.apart] == []
    assert rows["waist_to_hip"].line.isVisible()


def test_enter_goes_from_her_name_through_every_figure(fresh, keys):
    rows = fresh.slips.measure.rows_by_name
    keys("Odile Marchetti", Qt.Key.Key_Return, "71", Qt.Key.Key_Return)
    assert fresh.desk.job.card.name == "Odile Marchetti"
    assert fresh.desk.job.card.measurements == {"waist": "71"}
    needed = [row for row in rows.values() if row.is_needed]
    for row in needed[1:]:
        assert row.line.hasFocus()
        keys(str({"hip": 99, "waist_to_hip": 20.5}.get(row.known.name, 59)))
        keys(Qt.Key.Key_Return)
    held = fresh.focusWidget()
    rest = [row.line for row in rows.values() if row not in needed]
    assert held in rest, "past the links, in the next figure"
