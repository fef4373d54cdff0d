"""The print strip by mouse and keys: sheets counted, refusals said, files written."""

from __future__ import annotations

import subprocess
import sys
import threading
from pathlib import Path
from threading import Event

import pymupdf
import pytest
from places import save
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QAccessible, QDesktopServices
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QCompleter, QFileDialog, QLineEdit, QWidget

from skirtwright import cli
from skirtwright.app.slips import printing_order
from skirtwright.budget import look_up
from skirtwright.cli import verbs
from skirtwright.draft import styles
from skirtwright.export.print_job import PrintJob
from skirtwright.export.printing import Printing
from skirtwright.job import edits, file, habits
from skirtwright.job.habits import PRINTERS

pytestmark = pytest.mark.usefixtures("packed_in_few_tries", "drafted_once")
CTRL = Qt.KeyboardModifier.ControlModifier


@pytest.fixture
def strip(window, keys, qtbot):
    """The strip, opened by its key and counted, for a skirt of two pieces."""
    job = edits.set_style(window.desk.job, styles.style("straight-block")).job
    window.keeper.begin_new(job)
    keys(Qt.Key.Key_P, mods=CTRL)
    strip = window.slips.paper
    qtbot.waitUntil(lambda: strip.counted is not None, timeout=30000)
    return strip


@pytest.fixture(autouse=True)
def one_day(monkeypatch):
    """The same date on every paper."""
    monkeypatch.setattr(verbs, "today", lambda: "2026-03-01")
    where = "skirtwright.app.slips.printing_order.today"
    monkeypatch.setattr(where, lambda: "2026-03-01")


def sheets(window, **how) -> int:
    """What the engine says the order takes."""
    look = window.desk.look
    wanted = Printing(**how)
    return (
        PrintJob(look.report, look.job.card.name, "", wanted, window.settings.manner)
        .blocks()
        .sheets
    )


def type_in(row, text: str) -> None:
    row.line.setFocus()
    row.line.selectAll()
    QTest.keyClicks(row.line, text)
    QTest.keyClick(row.line, Qt.Key.Key_Return)


def choose(row, key: str) -> None:
    """Choose by keys, down the list from its head."""
    row.box.setFocus()
    downs = row.box.findData(key)
    assert downs >= 0, f"{key} is not in the list"
    QTest.keyClick(row.box, Qt.Key.Key_Home)
    for _ in range(downs):
        QTest.keyClick(row.box, Qt.Key.Key_Down)
    assert row.key == key


def click(tick, strip) -> None:
    """On the little box itself."""
    strip.scrolled.ensureWidgetVisible(tick)
    at = QPoint(8, tick.height() // 2)
    QTest.mouseClick(tick, Qt.MouseButton.LeftButton, pos=at)


def counted(qtbot, strip):
    qtbot.waitUntil(lambda: strip.counted is not None, timeout=30000)
    return strip.counted


def test_sheets_are_counted_before_anything_is_written(window, strip, qtbot):
    """The count is the engine's, for the paper and the way that are chosen."""
    number = sheets(window)
    assert strip.count.text() == f"{number} sheets of A4"
    choose(strip.choices.paper, "a3")
    assert strip.count.text() == "Counting…"
    counted(qtbot, strip)
    larger = sheets(window, paper="a3")
    assert larger < number
    assert strip.count.text() == f"{larger} sheets of A3"
    choose(strip.choices.orientation, "landscape")
    counted(qtbot, strip)
    assert strip.counted.laid.tilings[0].landscape
    turned = sheets(window, paper="a3", orientation="landscape")
    assert strip.count.text() == f"{turned} sheets of A3"
    choose(strip.choices.scale, "fifth")
    counted(qtbot, strip)
    assert strip.count.text() == "1 sheet of A3"


def test_a_long_count_holds_nothing_up_and_can_be_stopped(
    window, strip, qtbot, monkeypatch
):
    """It is worked beside the window, with a sign; saving waits for it."""
    go_on, count = Event(), printing_order.count

    def slow(*given):
        go_on.wait(20)
        return count(*given)

    monkeypatch.setattr(printing_order, "count", slow)
    choose(strip.choices.paper, "a3")
    qtbot.waitUntil(strip.progress.isVisible, timeout=30000)
    # What is typed meanwhile is taken, and what was begun is dropped for it.
    choose(strip.choices.orientation, "landscape")
    assert strip.count.text() == "Counting…"
    qtbot.waitUntil(strip.progress.isVisible, timeout=30000)
    QTest.mouseClick(strip.progress.button, Qt.MouseButton.LeftButton)
    assert not strip.progress.isVisible()
    assert strip.count.text() == "Sheets not counted"
    strip.save_button.click()
    assert strip.dialog is None
    assert strip.count.text() == "Counting…"
    assert strip.done.text() == "Where to is asked as soon as they are counted."
    go_on.set()
    qtbot.waitUntil(lambda: strip.dialog is not None, timeout=20000)
    assert not strip.done.text()
    assert strip.counted.laid.tilings[0].landscape
    strip.dialog.reject()


def only(strip, name):
    """One piece ticked."""
    for piece, tick in strip.choices.ticks.items():
        if piece != name:
            click(tick, strip)


def test_one_piece_only_needs_fewer_sheets(window, strip, qtbot, tmp_path):
    """By the mouse; the file has as many pages as were counted, and the first."""
    number = strip.counted.laid.sheets
    only(strip, "front")
    one = counted(qtbot, strip).laid
    assert one.sheets < number
    assert [group.name for group in one.sheet.groups] == ["Front"]
    assert save(strip, qtbot, tmp_path / "one.pdf")
    with pymupdf.open(tmp_path / "one.pdf") as document:
        assert document.page_count == one.sheets + 1


def test_no_piece_is_nothing_to_print(window, strip, qtbot):
    for tick in strip.choices.ticks.values():
        click(tick, strip)
    qtbot.waitUntil(lambda: bool(strip.trouble.text()))
    assert strip.trouble.text() == (
        "There is nothing to print: no piece and no line is chosen. "
        "Choose at least one piece and one kind of line."
    )
    assert strip.counted is None
    assert not window.table.scene.on_paper


def test_margins_that_leave_nothing_are_refused(window, strip, qtbot):
    """The sentence stays, the field is marked, and the pieces lie on the table."""
    margin = strip.choices.margin
    type_in(margin, "9 cm")
    qtbot.waitUntil(lambda: bool(strip.trouble.text()))
    assert strip.trouble.text() == (
        "Margins of 9 cm with an overlap of 1 cm leave too little of A4 to print on. "
        "Make the margins 7.5 cm or less, or take larger paper."
    )
    assert strip.trouble.isVisible()
    assert margin.line.wrong
    assert margin.line.text() == "9 cm" or margin.line.text() == "9"
    assert not window.table.scene.on_paper
    type_in(margin, "1.5")
    assert counted(qtbot, strip).laid.tilings[0].margin == pytest.approx((15.0, 15.0))
    assert not margin.line.wrong
    assert not strip.trouble.isVisible()


def test_what_is_no_length_stays_and_nothing_is_saved(window, strip, qtbot):
    overlap = strip.choices.overlap
    type_in(overlap, "many")
    assert overlap.line.text() == "many"
    assert overlap.said.isVisible()
    assert "many" in overlap.said.text()
    counted(qtbot, strip)
    QTest.mouseClick(strip.save_button, Qt.MouseButton.LeftButton)
    assert strip.dialog is None
    assert overlap.line.hasFocus()


def by_command_line(window, tmp_path, verb: str, *words: str) -> bytes:
    order = tmp_path / "order.skirt"
    file.save(window.desk.job, order)
    made = tmp_path / ("cli.plt" if verb == "plot" else "cli.pdf")
    assert cli.main([verb, str(order), *words, "-o", str(made)]) in (0, 1)
    return made.read_bytes()


def test_the_file_is_the_command_line_s_own(window, strip, qtbot, tmp_path):
    """Byte for byte, with every choice another than the ordinary one."""
    choices = strip.choices
    choose(choices.paper, "letter")
    choose(choices.orientation, "landscape")
    type_in(choices.overlap, "0")
    type_in(choices.margin, "1/2 in")
    only(strip, "back")
    choose(choices.lines, "cutting")
    choose(choices.scale, "half")
    click(choices.toile, strip)
    click(choices.layers, strip)
    written: list[str] = []
    strip.saved.connect(written.append)
    assert save(strip, qtbot, tmp_path / "window")
    assert written == [str(tmp_path / "window.pdf")]
    words = "--paper letter --landscape --overlap 0mm --margin 12.7mm --only back "
    words += "--lines cutting --scale half --toile --flat"
    same = by_command_line(window, tmp_path, "print", *words.split())
    assert (tmp_path / "window.pdf").read_bytes() == same
    assert "100 %" in strip.done.text()
    assert strip.open_button.isVisible()


@pytest.mark.parametrize(
    ("kind", "verb", "words"),
    [
        ("roll", "print", ("--full-size",)),
        ("projector", "print", ("--projector",)),
        ("plotter", "plot", ()),
    ],
)
def test_each_kind_is_the_command_line_s_own(
    kind, verb, words, window, strip, qtbot, tmp_path
):
    only(strip, "front")
    choose(strip.choices.kind_row, kind)
    counted(qtbot, strip)
    place = tmp_path / ("w.plt" if verb == "plot" else "w.pdf")
    assert save(strip, qtbot, place)
    words = (*words, "--only", "front")
    assert place.read_bytes() == by_command_line(window, tmp_path, verb, *words)
    assert place.name in strip.done.text()


def test_a_roll_of_her_own_width(window, strip, qtbot, tmp_path):
    """Too narrow is refused with what would do; wide enough is counted."""
    only(strip, "front")
    choose(strip.choices.kind_row, "roll")
    choose(strip.choices.roll, "own")
    assert strip.choices.width_row.isVisible()
    type_in(strip.choices.width_row, "30 cm")
    qtbot.waitUntil(lambda: "needs" in strip.trouble.text())
    assert "Take a roll at least" in strip.trouble.text()
    type_in(strip.choices.width_row, "120 cm")
    assert counted(qtbot, strip).laid.roll.width == pytest.approx(1200)
    assert save(strip, qtbot, tmp_path / "roll.pdf")
    with pymupdf.open(tmp_path / "roll.pdf") as document:
        assert document[0].rect.width * 25.4 / 72 == pytest.approx(1200, abs=0.1)


def test_a_printer_is_put_right(window, strip, qtbot, tmp_path):
    """What she read is drawn larger by as much, said, and kept when saved."""
    only(strip, "front")
    part = strip.choices.printer
    part.name.setFocus()
    QTest.keyClicks(part.name, "attic")
    QTest.keyClick(part.name, Qt.Key.Key_Return)
    type_in(part.across, "99")
    assert "101 % across" in part.meaning.text().replace("101.0", "101")
    assert "attic" in part.meaning.text()
    right = counted(qtbot, strip).laid.tilings[0].correction
    assert right.across == pytest.approx(100 / 99)
    assert right.along == 1.0
    assert habits.kept(PRINTERS) == ""
    assert save(strip, qtbot, tmp_path / "w.pdf")
    assert '"attic"' in habits.kept(PRINTERS)
    assert part.across.line.text() == ""
    assert "put right" in part.meaning.text()
    # The readings are kept now, so the command line needs only the name.
    words = ("--printer", "attic", "--only", "front")
    same = by_command_line(window, tmp_path, "print", *words)
    assert (tmp_path / "w.pdf").read_bytes() == same
    assert part.forget_button.isVisible()
    QTest.mouseClick(part.forget_button, Qt.MouseButton.LeftButton)
    assert "attic" not in habits.kept(PRINTERS)
    assert counted(qtbot, strip).laid.tilings[0].correction.is_none


def test_a_reading_too_far_out_is_refused(window, strip, qtbot):
    type_in(strip.choices.printer.along, "85 mm")
    qtbot.waitUntil(lambda: "more than 10 %" in strip.trouble.text())
    assert strip.choices.printer.along.line.wrong
    assert strip.counted is None


def test_a_folder_that_is_gone_is_said(window, strip, qtbot, tmp_path):
    only(strip, "front")
    counted(qtbot, strip)
    assert not save(strip, qtbot, tmp_path / "gone" / "w.pdf")
    assert "gone" in strip.trouble.text()
    assert strip.trouble.isVisible()
    assert not strip.open_button.isVisible()
    assert list(tmp_path.glob("**/*.pdf")) == []
    # The count is still what it was; only the place was wrong.
    assert strip.counted is not None
    assert strip.count.isVisible()


def test_saved_by_keys_and_opened(window, strip, keys, qtbot, tmp_path, monkeypatch):
    """Where to is asked with a name ready; the machine is asked to open the file."""
    only(strip, "front")
    counted(qtbot, strip)
    strip.save_button.setFocus()
    keys(Qt.Key.Key_Space)
    dialog = strip.dialog
    assert isinstance(dialog, QFileDialog)
    dialog.activateWindow()
    qtbot.waitUntil(dialog.isActiveWindow)
    line = dialog.findChild(QLineEdit, "fileNameEdit")
    assert line.text() == "Orla Penhallow Straight skirt block.pdf"
    # Its list of names would be a window of its own, which offscreen cannot give keys.
    line.setCompleter(None)
    line.setFocus()
    line.selectAll()
    QTest.keyClicks(line, str(tmp_path / "mine.pdf"))
    QTest.keyClick(line, Qt.Key.Key_Return)
    qtbot.waitUntil((tmp_path / "mine.pdf").exists, timeout=60000)
    assert (tmp_path / "mine.pdf").exists()
    opened = []
    monkeypatch.setattr(
        QDesktopServices, "openUrl", lambda url: opened.append(url.toLocalFile())
    )
    # After the dialog no window is active offscreen: the key goes to the button.
    QTest.keyClick(strip.open_button, Qt.Key.Key_Space)
    assert opened == [str(tmp_path / "mine.pdf")]
    # Nothing opened it: said, and the file is not lost.
    assert "Nothing on this machine opens" in strip.trouble.text()


def test_another_girth_is_counted_anew(window, strip, qtbot):
    """What changes anywhere is counted again; nothing is written for it."""
    only(strip, "front")
    choose(strip.choices.kind_row, "roll")
    before = counted(qtbot, strip).laid.length
    desk = window.desk
    desk.change(edits.set_measurement(desk.job, "hip", "120"))
    assert strip.counted is None
    assert counted(qtbot, strip).laid.length > before


def test_an_order_not_measured_yet_is_not_printed(window, strip, keys, qtbot):
    """The sample's figures stand in on the table, never on paper."""
    window.commands.new_client()
    assert window.slips.open_name == "measure", "she is asked for what is missing"
    keys(Qt.Key.Key_P, mods=CTRL)
    qtbot.waitUntil(lambda: bool(strip.trouble.text()))
    assert "Waist" in strip.trouble.text()
    assert strip.counted is None
    assert not save(strip, qtbot, Path("never.pdf"))
    assert not Path("never.pdf").exists()


def test_in_her_unit(window, strip, qtbot):
    window.settings.choose("unit", "in")
    counted(qtbot, strip)
    assert strip.choices.overlap.unit.text() == "in"
    assert strip.choices.overlap.line.text() == "3/8"
    type_in(strip.choices.overlap, "1/2")
    assert counted(qtbot, strip).laid.tilings[0].overlap == pytest.approx(12.7)
    # The square is metric for everyone.
    assert strip.choices.printer.across.unit.text() == "mm"


def test_everything_has_a_name_and_a_place_in_the_order_of_keys(strip, keys):
    """Rule 25; and Tab goes through the strip in reading order."""
    for widget in strip.findChildren(QWidget):
        if widget.focusPolicy() & Qt.FocusPolicy.TabFocus and widget.isVisible():
            face = QAccessible.queryAccessibleInterface(widget)
            assert face.text(QAccessible.Text.Name), widget
    strip.choices.kind_row.box.setFocus()
    seen = []
    for _ in range(40):
        held = strip.focusWidget()
        if not strip.isAncestorOf(held) or held in seen:
            break
        seen.append(held)
        keys(Qt.Key.Key_Tab)
    assert strip.save_button in seen
    assert strip.choices.printer.along.line in seen
    assert seen[-1] is strip.save_button
    # Places on the body do not change as it scrolls under the keys.
    heights = [w.mapTo(strip.body, QPoint(0, 0)).y() for w in seen[:-1]]
    assert heights == sorted(heights)


def test_escape_folds_the_strip_away(window, strip, keys, qtbot):
    assert window.table.scene.on_paper
    keys(Qt.Key.Key_Escape)
    assert strip.isHidden()
    assert not window.table.scene.on_paper
    assert window.table.hasFocus()


@pytest.mark.usefixtures("counts_other_ways")
def test_other_ways_are_counted_once_she_rests_and_not_before(
    window, strip, qtbot, monkeypatch
):
    """A count lays the sheets one way; the other ways come after, in their own time."""
    laid = []
    laying = printing_order.otherwise
    monkeypatch.setattr(
        printing_order,
        "otherwise",
        lambda *given: laid.append(given) or laying(*given),
    )
    choose(strip.choices.paper, "a3")
    assert counted(qtbot, strip)
    assert not laid
    assert "would take" not in strip.more.text()
    qtbot.waitUntil(lambda: "would take" in strip.more.text(), timeout=20_000)
    alone = sheets(window, paper="a3", laying="piece")
    assert f"A piece at a time it would take {alone}." in strip.more.text()
    assert len(laid) == 1
    # What she goes on to do drops it, counted or not.
    choose(strip.choices.paper, "a4")
    counted(qtbot, strip)
    strip.hide()
    qtbot.wait(300)
    assert len(laid) == 1


def test_paper_and_printer_are_kept_and_the_order_s_own_is_not(
    window, strip, opened, keys, qtbot
):
    """A printer that was put right is put right the next day too."""
    choices = strip.choices
    choose(choices.paper, "a3")
    type_in(choices.overlap, "1.5 cm")
    click(choices.toile, strip)
    choices.printer.name.setFocus()
    keys("attic", Qt.Key.Key_Return)
    window.close()
    again = opened(None).slips.paper
    assert again.isVisible(), "it lay open the day before"
    laid = counted(qtbot, again).laid.tilings[0]
    assert laid.paper.key == "a3"
    assert laid.overlap == pytest.approx(15)
    assert again.choices.printer.printer == "attic"
    assert not again.choices.toile.isChecked()


def test_what_was_kept_may_be_nonsense(strip, qtbot):
    for kept in ("", "[]", '{"paper": 7, "overlap": "x"}', "{"):
        strip.choices.bring_back(kept)
        strip.choices.changed.emit()
        laid = counted(qtbot, strip).laid.tilings[0]
        assert laid.paper.key == "a4", kept
        assert laid.overlap == 10


def test_the_window_starts_without_what_prints():
    """The start figure: nothing of paper is loaded before it is asked for."""
    code = (
        "import sys, skirtwright.app.window\n"
        "print([n for n in sys.modules if 'skirtwright.export.t' in n "
        "or 'reportlab' in n or 'slips.printing' in n or 'slips.paper' in n])"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True
    )
    assert done.stdout.strip() == "[]"


def test_the_way_to_save_is_one_key_from_the_first_choice(window, strip, keys):
    strip.first_place().setFocus(Qt.FocusReason.ShortcutFocusReason)
    keys(Qt.Key.Key_F6)
    assert QApplication.focusWidget() is strip.save_button
    keys(Qt.Key.Key_F6)
    assert QApplication.focusWidget() is window.table


# Written beside the window


def test_what_was_counted_is_not_counted_again_to_be_written(
    window, strip, qtbot, tmp_path, monkeypatch
):
    """The window goes on meanwhile; the file is the command line's all the same."""
    only(strip, "front")
    counted(qtbot, strip)
    turns, before, real = [], threading.get_ident(), PrintJob.pdf

    def told(*given):
        turns.append(threading.get_ident())
        return real(*given)

    with monkeypatch.context() as patched:
        patched.setattr(printing_order, "count", None)
        patched.setattr(PrintJob, "blocks", None)
        patched.setattr(PrintJob, "pdf", told)
        strip.save_to(tmp_path / "w.pdf")
        assert not strip.save_button.isEnabled()
        assert strip.done.text() == "Writing…"
        assert strip.writing_progress.isVisible()
        assert not (tmp_path / "w.pdf").exists()
        qtbot.waitUntil(strip.save_button.isEnabled, timeout=60000)
    assert before not in turns
    assert not strip.writing_progress.isVisible()
    same = by_command_line(window, tmp_path, "print", "--only", "front")
    assert (tmp_path / "w.pdf").read_bytes() == same


@pytest.mark.parametrize("closing", [False, True])
def test_a_file_that_is_being_written_is_left_by_its_button(
    window, strip, qtbot, tmp_path, monkeypatch, closing
):
    going, stopped = Event(), Event()

    def slow(*given):
        going.set()
        try:
            while True:
                look_up()
        finally:
            stopped.set()

    monkeypatch.setattr(PrintJob, "pdf", slow)
    strip.save_to(tmp_path / "w.pdf")
    qtbot.waitUntil(going.is_set, timeout=20000)
    if closing:
        assert not window.close()
        window.line.buttons[0].click()
        qtbot.waitUntil(window.isHidden, timeout=20000)
    else:
        QTest.mouseClick(strip.writing_progress.button, Qt.MouseButton.LeftButton)
    assert strip.save_button.isEnabled()
    assert strip.done.text() == ""
    qtbot.waitUntil(stopped.is_set, timeout=20000)
    assert not (tmp_path / "w.pdf").exists()
    assert window.desk.job.prints == ()
    assert strip.counted is not None


def test_a_file_is_finished_before_the_window_goes(window, strip, qtbot, tmp_path):
    only(strip, "front")
    counted(qtbot, strip)
    strip.save_to(tmp_path / "w.pdf")
    assert not window.close()
    assert "being written" in window.line.words.text()
    assert [each.text() for each in window.line.buttons] == ["Stop"]
    qtbot.waitUntil(window.isHidden, timeout=60000)
    assert (tmp_path / "w.pdf").exists()


def test_changed_while_it_is_written_the_print_is_noted_as_it_was(
    window, strip, qtbot, tmp_path
):
    only(strip, "front")
    counted(qtbot, strip)
    was = window.desk.job.card.measurements["waist"]
    strip.save_to(tmp_path / "w.pdf")
    desk = window.desk
    desk.change(edits.set_measurement(desk.job, "waist", "75"))
    qtbot.waitUntil(strip.save_button.isEnabled, timeout=60000)
    (noted,) = desk.job.prints
    assert noted.card.measurements["waist"] == was
    assert desk.job.card.measurements["waist"] == "75"


def test_a_print_is_noted_in_its_order_before_that_is_left(
    window, strip, tmp_path, monkeypatch
):
    monkeypatch.setattr(PrintJob, "pdf", lambda *_, **__: b"%PDF-")
    window.files.save_as(tmp_path / "hers.skirt")
    strip.save_to(tmp_path / "w.pdf")
    window.keeper.begin_new(window.desk.job)
    assert (tmp_path / "w.pdf").exists()
    noted = file.load(tmp_path / "hers.skirt").prints
    assert [one.how for one in noted] == ["sheets"]


def test_finished_under_another_order_a_print_says_whose_it_is(
    window, strip, qtbot, tmp_path, monkeypatch
):
    monkeypatch.setattr(PrintJob, "pdf", lambda *_, **__: b"%PDF-")
    strip.save_to(tmp_path / "w.pdf")
    window.desk.begin(window.desk.job)
    qtbot.waitUntil(lambda: "w.pdf is saved." in strip.done.text(), timeout=60000)
    assert "It is for Orla Penhallow, Straight skirt block, which" in strip.done.text()
    assert "its record does not name this print" in strip.done.text()
    assert window.desk.job.prints == ()
    window.desk.begin(window.desk.job)
    assert strip.done.text() == ""
    assert strip.open_button.isHidden()


# Sizes


def test_sizes_over_one_another_as_the_command_line_draws_them(
    window, strip, qtbot, tmp_path
):
    """Of a chart and a range, meeting where she says; counted before."""
    nesting = strip.choices.nesting
    assert not nesting.sizes.isVisible()
    only(strip, "front")
    alone = counted(qtbot, strip).laid.sheets
    choose(nesting.which, "uk-women")
    type_in(nesting.sizes, "12-14")
    choose(nesting.on, "side end")
    nested = counted(qtbot, strip)
    assert nested.laid.sheet.sizes == ("12", "14")
    assert strip.count.text() == f"{nested.laid.sheets} sheets of A4"
    assert nested.laid.sheets >= alone
    assert not strip.choices.toile.isVisible()
    assert save(strip, qtbot, tmp_path / "w.pdf")
    words = ("--size", "uk-women:12-14", "--nest-on", "side end", "--only", "front")
    same = by_command_line(window, tmp_path, "print", *words)
    assert (tmp_path / "w.pdf").read_bytes() == same
    # It is no print of her order.
    assert window.desk.job.prints == ()


def test_sizes_of_clients_and_what_is_none(window, strip, qtbot):
    nesting, desk = strip.choices.nesting, window.desk
    choose(nesting.which, "uk-women")
    type_in(nesting.sizes, "12-99")
    qtbot.waitUntil(lambda: "no size 99" in strip.trouble.text())
    choose(nesting.which, "clients")
    type_in(nesting.clients, "Ada")
    qtbot.waitUntil(lambda: bool(strip.trouble.text()))
    book = window.bookkeeping.book
    bea = "Bea, of the mill"
    for name, waist in (("Ada", "70"), (bea, "78")):
        job = edits.set_measurement(desk.job, "waist", waist).job
        card = edits.set_client(job, name).job.card
        book.keep_card(book.add_client(name), card, "2026-03-01")
    line = nesting.clients.line
    offered = line.completer()
    # Nothing pops up, which no screen is there for.
    offered.setCompletionMode(QCompleter.CompletionMode.InlineCompletion)
    type_in(nesting.clients, "Ada")
    qtbot.waitUntil(lambda: "one size" in strip.trouble.text())
    line.setText("Ada, mil")
    line.textEdited.emit("Ada, mil")
    offered.setCompletionPrefix("Ada, mil")
    line.setText(offered.currentCompletion())
    assert line.text() == f"Ada, {bea}"
    line.editingFinished.emit()
    assert strip.trouble.text() == "", "it is counted"
    assert counted(qtbot, strip).laid.sheet.sizes == ("Ada", bea)
