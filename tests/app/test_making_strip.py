"""The making-up sheet, the slip called Sew: opened, read, kept up to date, saved."""

from __future__ import annotations

import subprocess
import sys

import pymupdf
import pytest
from places import settled
from PySide6.QtCore import Qt, QUrl
from PySide6.QtGui import QAccessible, QColor, QDesktopServices, QTextDocument
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QFileDialog

from skirtwright.app.actions import ROWS
from skirtwright.app.slips.making_page import step_name
from skirtwright.export.sewing import worksheet
from skirtwright.job.edits import set_choice


@pytest.fixture(autouse=True)
def one_day(monkeypatch):
    """The same date on every sheet."""
    monkeypatch.setattr("skirtwright.app.slips.sew.today", lambda: "2026-03-01")


@pytest.fixture
def strip(window, keys, qtbot):
    """The strip, opened by its key and worked."""
    keys(Qt.Key.Key_F7)
    strip = window.slips.sew
    qtbot.waitUntil(lambda: strip.making is not None)
    return strip


def said(strip) -> str:
    return strip.browser.toPlainText()


@pytest.fixture
def quick_sheet(monkeypatch):
    """No sheet is set where only its place and name are tried."""
    monkeypatch.setattr(worksheet, "write_worksheet", lambda *_: b"a sheet")


def save(strip, qtbot, path):
    strip.save_to(path)
    qtbot.waitUntil(lambda: not strip.is_writing(), timeout=20000)
    qtbot.waitUntil(strip.save_button.isEnabled)


def test_the_sheet_stands_in_the_list_of_all_actions_with_its_key():
    row = next(row for row in ROWS if row.name == "sew")
    assert (row.menu, row.keys, row.checkable) == ("view", ("F7",), True)


def test_nothing_of_it_is_loaded_before_it_is_asked_for(window):
    assert window.slips.made == []
    code = (
        "import sys, skirtwright.app.window\n"
        "assert not [m for m in sys.modules if 'reportlab' in m or 'worksheet' in m]\n"
        "assert 'skirtwright.app.slips.sew' not in sys.modules"
    )
    subprocess.run([sys.executable, "-c", code], check=True)


def test_the_same_contents_as_on_paper_are_read(strip, window):
    words = said(strip)
    for section in ("Cut list", "Notions", "Finished measures", "Pieces", "Order of"):
        assert section in words
    for step in strip.making.order:
        assert step.words in words
    for part in strip.making.drafting:
        assert part.sentences[0] in words
    assert "Waistband" in words
    assert window.slips.open_name == "sew"


def test_it_has_a_name_a_picture_and_the_keyboard(strip, window):
    assert strip.browser.accessibleName() == "Making-up sheet"
    role = QAccessible.queryAccessibleInterface(strip.browser).role()
    assert role == QAccessible.Role.EditableText or role is not None
    assert window.focusWidget() is strip.browser
    picture = strip.browser.document().resource(2, "pieces")
    assert picture.width() > 200
    assert picture.height() > 200


def test_no_figure_of_its_tables_is_broken(strip, window, qtbot):
    """At 1024 px a column was narrower than its head, and "Finished" was two lines."""
    window.resize(1024, 700)
    settled(window)
    block, broken = strip.browser.document().begin(), []
    while block.isValid():
        lines = block.layout().lineCount()
        if lines > 1 and not set(block.text()) & set(" -"):
            broken.append(block.text())
        block = block.next()
    assert not broken
    assert strip.browser.horizontalScrollBar().maximum() == 0


def test_key_folds_it_away_and_escape_too(strip, window, keys):
    keys(Qt.Key.Key_F7)
    assert not strip.isVisible()
    assert window.table.hasFocus()
    keys(Qt.Key.Key_F7)
    assert strip.isVisible()
    QTest.keyClick(strip.browser, Qt.Key.Key_Escape)
    assert not strip.isVisible()
    assert not window.acts.by_name["sew"].isChecked()


def test_it_follows_the_order(strip, window, qtbot):
    assert "lapped zip" in said(strip)
    window.desk.change(set_choice(window.desk.job, "zip_kind", "invisible"))
    qtbot.waitUntil(lambda: "invisible zip" in said(strip))
    window.desk.history.undo()
    qtbot.waitUntil(lambda: "lapped zip" in said(strip))


def test_it_is_not_worked_while_something_is_pulled_or_it_is_folded_away(
    strip, window, qtbot, monkeypatch
):
    worked = []
    monkeypatch.setattr(strip, "work_now", lambda: worked.append(1))
    strip._timer.timeout.disconnect()
    strip._timer.timeout.connect(lambda: worked.append(1))
    for millimetres in range(3):
        window.desk.pull({"length": 950.0 + millimetres})
    QTest.qWait(60)
    assert not worked
    window.desk.settle({"length": 960.0})
    qtbot.waitUntil(lambda: len(worked) == 1)
    window.acts.by_name["sew"].trigger()
    window.desk.settle({"length": 970.0})
    QTest.qWait(60)
    assert len(worked) == 1


def test_no_line_of_another_order_is_read_or_saved(strip, window, qtbot):
    """Until the sheet is of the order on the table, none is there."""
    window.slips.show("sew", on=False)
    window.desk.settle({"length": 955.0})
    window.slips.show("sew", on=True)
    assert said(strip) == "The sheet is being written…"
    assert not strip.save_button.isEnabled()
    qtbot.waitUntil(strip.save_button.isEnabled)
    assert "95.5 cm" in said(strip)


def test_the_place_she_reads_is_kept(strip, window, qtbot):
    bar = strip.browser.verticalScrollBar()
    bar.setValue(900)
    window.desk.settle({"length": 955.0})
    qtbot.waitUntil(lambda: "95.5 cm" in said(strip))
    assert abs(bar.value() - 900) < 60


def test_it_is_saved_beside_the_windows_own_work(strip, qtbot, tmp_path):
    path = tmp_path / "sheet.pdf"
    with qtbot.waitSignal(strip.saved, timeout=20000):
        strip.save_to(path)
        assert not path.exists()
    qtbot.waitUntil(strip.save_button.isEnabled)
    assert strip.done.text() == "sheet.pdf is saved."
    assert not strip.open_button.isHidden()
    with pymupdf.open(path) as document:
        words = " ".join("".join(p.get_text() for p in document).split())
    assert "Order of sewing" in words
    assert "2026-03-01" in words


@pytest.mark.usefixtures("quick_sheet")
def test_a_name_without_an_ending_is_given_one(strip, qtbot, tmp_path):
    save(strip, qtbot, tmp_path / "sheet.v2")
    assert (tmp_path / "sheet.v2.pdf").is_file()


@pytest.mark.usefixtures("quick_sheet")
def test_what_was_saved_is_said_of_its_own_order(strip, window, qtbot, tmp_path):
    """It goes with the order; finished under another, it says whose it is."""
    save(strip, qtbot, tmp_path / "sheet.pdf")
    job = window.desk.job
    with qtbot.waitSignal(strip.saved, timeout=20000):
        strip.save_to(tmp_path / "late.pdf")
        window.desk.begin(job)
        assert strip.done.text() == "Writing…"
    qtbot.waitUntil(lambda: "late.pdf" in strip.done.text())
    assert strip.done.text() == (
        "late.pdf is saved. "
        "It is for Orla Penhallow, Mermaid skirt, which is no longer on the table."
    )
    window.desk.begin(job)
    assert strip.done.text() == ""
    assert strip.open_button.isHidden()


def test_paper_is_chosen_there(strip, qtbot, tmp_path):
    assert strip.paper.key == "a4"
    strip.paper.choose("letter")
    save(strip, qtbot, tmp_path / "us.pdf")
    with pymupdf.open(tmp_path / "us.pdf") as document:
        assert document[0].rect.width == pytest.approx(612)


@pytest.mark.usefixtures("quick_sheet")
def test_what_cannot_be_written_is_said_and_leaves_nothing(strip, qtbot, tmp_path):
    save(strip, qtbot, tmp_path / "nowhere" / "sheet.pdf")
    assert "nowhere" in strip.trouble.text()
    assert not strip.done.text()
    assert not list(tmp_path.glob("**/*.pdf"))


@pytest.mark.usefixtures("quick_sheet")
def test_it_is_asked_where_to_and_the_name_is_suggested(strip, qtbot, tmp_path):
    assert strip.suggested() == "Orla Penhallow Mermaid skirt Making-up sheet.pdf"
    strip.ask_save()
    dialog = strip.dialog
    assert isinstance(dialog, QFileDialog)
    with qtbot.waitSignal(strip.saved, timeout=20000):
        dialog.fileSelected.emit(str(tmp_path / "asked.pdf"))
    dialog.close()
    assert (tmp_path / "asked.pdf").is_file()


@pytest.mark.usefixtures("quick_sheet")
def test_the_saved_sheet_is_opened_on_request(strip, qtbot, tmp_path, monkeypatch):
    opened = []
    monkeypatch.setattr(QDesktopServices, "openUrl", opened.append)
    save(strip, qtbot, tmp_path / "sheet.pdf")
    strip.open_button.click()
    assert opened[0].toLocalFile() == str(tmp_path / "sheet.pdf")
    assert "sheet.pdf" in strip.trouble.text()


def test_inches_are_said_at_once_and_letter_is_offered(window, keys, qtbot):
    window.settings.choose("unit", "in")
    keys(Qt.Key.Key_F7)
    strip = window.slips.sew
    qtbot.waitUntil(lambda: strip.making is not None)
    assert "28 15/16 in" in said(strip)
    assert strip.paper.key == "letter"
    window.settings.choose("unit", "cm")
    qtbot.waitUntil(lambda: "73.5 cm" in said(strip))


def test_paper_and_sheet_make_room_for_one_another(strip, window, keys):
    keys(Qt.Key.Key_P, mods=Qt.KeyboardModifier.ControlModifier)
    assert window.slips.paper.isVisible()
    assert not strip.isVisible()
    keys(Qt.Key.Key_F7)
    assert strip.isVisible()
    assert not window.slips.paper.isVisible()


def test_a_new_client_is_asked_for_what_is_missing(strip, window, qtbot):
    window.commands.new_client()
    window.acts.by_name["sew"].trigger()
    qtbot.waitUntil(lambda: bool(strip.trouble.text()))
    assert not strip.save_button.isEnabled()
    assert not said(strip)


def test_round_the_strips_comes_by_the_sheet(strip, window):
    window.table.setFocus()
    seen = []
    for _ in range(6):
        window.commands.cycle_focus(1)
        seen.append(window.focusWidget())
    assert strip.browser in seen


def test_theme_is_followed(strip, window, qtbot):
    light = strip.browser.document().resource(2, "pieces")
    window.settings.choose("theme", "dark")
    qtbot.waitUntil(
        lambda: (
            strip.browser.document().resource(2, "pieces") is not None
            and strip.colours.dark
            and strip.browser.document().resource(2, "pieces") != light
        )
    )


def test_closing_while_a_file_is_written_lets_it_come_to_its_end(
    strip, window, tmp_path
):
    strip.save_to(tmp_path / "last.pdf")
    window.close()
    with pymupdf.open(tmp_path / "last.pdf") as document:
        assert len(document) > 3


def test_a_step_that_joins_pieces_shows_them_lit(strip):
    assert strip.work_now()
    document = strip.browser.document()
    kind = QTextDocument.ResourceType.ImageResource
    drawn = [
        picture
        for number in range(len(strip.making.order))
        if (picture := document.resource(kind, QUrl(step_name(number)))) is not None
    ]
    assert len(drawn) >= 5
    lit = QColor(strip.colours.accent_tint).name()
    for picture in drawn:
        seen = {
            picture.pixelColor(x, y).name()
            for x in range(0, picture.width(), 3)
            for y in range(0, picture.height(), 3)
        }
        assert lit in seen
        assert picture.deviceIndependentSize().width() < strip.width()
