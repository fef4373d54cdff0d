"""The quote in the window, and one style on many clients at once."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from concurrent.futures import Future

import pypdfium2
import pytest
import shiboken6
from places import settled
from PySide6.QtCore import QObject, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from drafting import look_of
from skirtwright.app import folder_printing
from skirtwright.app.beside import Beside
from skirtwright.draft import styles
from skirtwright.draft.alterations import typed_alteration
from skirtwright.job import edits, file
from skirtwright.job.fitting_edits import alter
from skirtwright.job.folders import client_book
from skirtwright.job.in_book import path_of
from skirtwright.job.job import new_job
from skirtwright.measures.card import Card
from skirtwright.workroom import beside_window, one_person, processes
from skirtwright.workroom.beside_window import Seen
from skirtwright.workroom.book import Book

KEY = Qt.Key
TAKEN = {"waist": "72", "hip": "98", "waist_to_hip": "20", "waist_to_knee": "58"}


@pytest.fixture
def at_once(monkeypatch):
    """What is worked in another process is worked here."""

    def ask(self, known_as, work, *values):
        self.answered.emit(known_as, work(*values))

    monkeypatch.setattr(Beside, "ask", ask)


def words_of(data):
    document = pypdfium2.PdfDocument(data)
    assert len(document) == 1
    return document[0].get_textpage().get_text_bounded()


KILLED = """
import os, signal
from PySide6.QtCore import QCoreApplication, QObject
from skirtwright.app.beside import Beside
app, window = QCoreApplication([]), QObject()
beside = Beside(window)
def killed(_, answer):
    print(answer, flush=True)
    os.kill(os.getpid(), signal.SIGKILL)
beside.answered.connect(killed)
beside.ask("who", os.getpid)
app.exec()
"""


def test_processes_beside_a_window_that_is_killed_end_too():
    # They hold its outputs open: the call comes back when the last of them has ended.
    said = subprocess.run(
        [sys.executable, "-c", KILLED], capture_output=True, check=False, timeout=60
    )
    assert int(said.stdout)


@pytest.mark.usefixtures("laid_in_few_tries")
def test_a_quote_is_written_by_keys(window, home, keys, qtbot, at_once):
    window.acts.by_name["quote"].trigger()
    form = window.commands.clients.form
    qtbot.waitUntil(form.isVisible)
    assert not form.ask.isVisible(), "it is in no book"
    shell = form.prices["shell"]
    assert form.missing.text().startswith("Without a price: Main cloth")
    cloth = form.listed.text().splitlines()[0]
    assert re.fullmatch(r"Main cloth: [\d.]+ cm, 150 cm wide", cloth), "how much of it"
    settled(window)
    foot = form.on.pos(), form.away.pos()
    shell.setFocus()
    QTest.keyClicks(shell, "18")
    for name, text in {"hours": "6", "rate": "25", "currency": "£"}.items():
        form.fields[name].setFocus()
        QTest.keyClicks(form.fields[name], text)
    settled(window)
    assert (form.on.pos(), form.away.pos()) == foot, "no button jumps as she types"
    QTest.keyClick(form.fields["hours"], KEY.Key_Return)
    dialog = window.files.dialog
    assert dialog.selectedFiles()[0].endswith("Quote.pdf")
    dialog.reject()
    form.write(home / "q.pdf")
    words = words_of((home / "q.pdf").read_bytes())
    assert "£150.00" not in words
    assert form.total.text() in {f"Sum: £{n / 100:.2f}" for n in range(15000, 30000)}
    assert form.total.text().removeprefix("Sum: ") in words
    assert window.desk.job.chosen_cloth("shell").price == "18"
    assert "Without a price" not in words
    assert "6 h at 25.00 an hour" in words
    assert "is in q.pdf" in window.line.words.text()
    window.acts.by_name["quote"].trigger()
    again = window.commands.clients.form
    assert again.fields["rate"].text() == "25"
    assert again.fields["hours"].text() == ""
    again.fields["hours"].setText("many")
    again.on.click()
    assert again.said.isVisible()

    def whole():
        return again.said.height() >= again.said.heightForWidth(again.said.width())

    qtbot.waitUntil(whole)
    assert again.away.x() > again.on.geometry().right() + 1, "they do not touch"
    again.reject()


def test_the_sum_is_made_the_price_of_the_order(people, opened, qtbot, at_once):
    with Book(client_book()) as book:
        card = Card(name="Ann Bird", measurements=TAKEN)
        job = edits.set_card(new_job(styles.style("straight-block")), card).job
        kept = book.add_order(book.client_named("Ann Bird"), job)
    window = opened(path_of(client_book(), kept.number))
    window.acts.by_name["quote"].trigger()
    form = window.commands.clients.form
    for name, text in (("hours", "8"), ("rate", "26.5"), ("currency", "EUR")):
        form.fields[name].setText(text)
    assert form.total.text() == "Sum: EUR 212.00"
    form.ask.click()
    assert "EUR 212.00" in form.said.text()
    with Book(client_book()) as book:
        assert book.orders()[0].price == "EUR 212.00"
    form.reject()
    window.settings.show_unit("in")
    window.acts.by_name["quote"].trigger()
    form, rate = window.commands.clients.form, "16.50"
    assert "yd" in form.listed.text()
    assert "for a yard" in form.prices["shell"].accessibleName()
    form.prices["shell"].setText(rate)
    form._keep_typed()
    assert window.desk.job.chosen_cloth("shell").price == f"{rate}/yd"
    form.prices["shell"].setText("dear")
    assert form.said.property("role") == "wrong"
    assert not form.ask.isVisible()
    form.reject()


def test_work_is_done_in_a_process_of_its_own(qtbot):
    parent = QObject()
    beside = Beside(parent)
    with qtbot.waitSignal(beside.answered, timeout=60_000) as told:
        beside.ask("a name", os.getpid)
    name, number = told.args
    assert name == "a name"
    assert number != os.getpid()
    with qtbot.waitSignal(beside.answered, timeout=60_000) as told:
        beside.ask("one that dies", os._exit, 1)
    assert told.args[1].code == "beside.died"
    assert beside.waiting == 0


def test_what_answers_after_the_window_has_gone_is_not_heard(qtbot):
    parent, done = QObject(), Future()
    gone = Beside(parent)
    gone._pool = pool = object()
    done.set_result(1)
    shiboken6.delete(parent)
    gone._come(pool, "a name", done)


@pytest.fixture
def people(home):
    """Two who can have any skirt, one never measured, one with a misread figure."""
    with Book(client_book()) as book:
        for name, taken in (
            ("Ann Bird", TAKEN),
            ("Bea Crow", {**TAKEN, "hip": "110"}),
            ("Cis Dove", {**TAKEN, "waist": "30"}),
            ("Dot Finch", None),
        ):
            client = book.add_client(name)
            if taken:
                book.add_card(client, Card(name=name, measurements=taken), "2026-10-01")
    return home


def many(window):
    window.acts.by_name["many"].trigger()
    over = window.commands.clients.over
    over._rest.setInterval(0)
    return over


def test_many_are_chosen_seen_marked_and_kept(window, people, keys, qtbot, at_once):
    over = many(window)
    assert "Choose the clients" in window.line.words.text()
    over.clients.setFocus()
    for _ in range(8):
        keys(KEY.Key_Tab)
        assert QApplication.focusWidget() is not window.table
    over.clients.setFocus()
    for _ in range(4):
        keys(KEY.Key_Space, KEY.Key_Down)
    qtbot.waitUntil(lambda: len(over.shown) == 4 and over.ready)
    seen = list(over.shown.values())
    assert [one.client.name for one in seen] == [
        "Ann Bird",
        "Bea Crow",
        "Cis Dove",
        "Dot Finch",
    ]
    assert isinstance(seen[0].answer, Seen)
    assert seen[0].answer.picture
    assert seen[3].problem.code == "book.not_measured"
    texts = [over.skirts.item(row).text() for row in range(4)]
    assert "no measurements" in texts[3]
    assert over.skirts.item(3).data(Qt.ItemDataRole.UserRole + 1).look
    over.skirts.setCurrentRow(3)
    assert "Dot Finch" in window.line.words.text()
    assert "4 of 4 worked" in window.line.words.text()
    made = sum(one.answer is not None for one in seen)
    window.line.buttons[0].click()
    qtbot.waitUntil(lambda: "kept in the book" in window.line.words.text())
    assert window.over is None
    with Book(client_book()) as book:
        orders = book.orders()
        assert len(orders) == made >= 2
        assert all(book.picture(order.number) for order in orders)


def test_many_are_printed_into_a_folder_and_gone_on_with(
    window, people, qtbot, at_once, monkeypatch
):
    files = dict.fromkeys((one_person.PATTERN, one_person.SHEET), b"paper")

    def made(text, wanted):
        return one_person.PersonFiles({one_person.ORDER: text.encode(), **files})

    monkeypatch.setattr(processes, "make", made)
    monkeypatch.setattr(folder_printing, "_WORKERS", 1)
    over, place = many(window), people / "all of them"
    for row in (0, 1, 3):
        over.clients.item(row).setCheckState(Qt.CheckState.Checked)
    over.style_box.setCurrentIndex(over.style_box.findData("straight-block"))
    over.style_box.activated.emit(over.style_box.currentIndex())
    qtbot.waitUntil(lambda: over.ready)
    window.line.buttons[1].click()
    dialog = window.files.dialog
    assert dialog.testOption(dialog.Option.ShowDirsOnly)
    dialog.reject()
    over.print_in(place)
    assert over.working
    assert not over.clients.isEnabled()
    over.stop()
    qtbot.waitUntil(lambda: "Stopped" in window.line.words.text(), timeout=30_000)
    over.print_in(place)
    assert not window.close(), "she is told first how to go on"
    left = window.line.words.text()
    assert re.match(r"Stopped: \d of 2 are in .+all of them\. Print into", left)
    over = many(window)
    for row in (0, 1, 3):
        over.clients.item(row).setCheckState(Qt.CheckState.Checked)
    over.style_box.setCurrentIndex(over.style_box.findData("straight-block"))
    over.style_box.activated.emit(over.style_box.currentIndex())
    qtbot.waitUntil(lambda: over.ready)
    said = []
    over.told.connect(said.append)
    over.print_in(place)
    qtbot.waitUntil(lambda: "2 of 3 have" in window.line.words.text(), timeout=30_000)
    assert any("Dot Finch: no pattern" in words for words in said)
    for name in ("Ann Bird", "Bea Crow"):
        made = {each.name for each in (place / name).iterdir()}
        assert made >= {"pattern.pdf", "making-up.pdf", "order.skirt"}
    assert len((place / "summary.csv").read_text().splitlines()) == 4
    said.clear()
    over.print_in(place)
    qtbot.waitUntil(lambda: not over.working, timeout=30_000)
    assert any("Ann Bird: done before" in words for words in said)
    over.reject()


def test_a_client_deleted_meanwhile_keeps_no_other_out(window, people, qtbot, at_once):
    over = many(window)
    for row in (0, 1):
        over.clients.item(row).setCheckState(Qt.CheckState.Checked)
    qtbot.waitUntil(lambda: len(over.shown) == 2 and over.ready)
    with Book(client_book()) as book:
        for client in book.clients():
            if client.name != "Bea Crow":
                book.forget(client)
        book.add_client("Eve Grebe")
    over.keep()
    qtbot.waitUntil(lambda: "without an order: Ann Bird" in window.line.words.text())
    with Book(client_book()) as book:
        assert [one.client.name for one in book.orders()] == ["Bea Crow"]


def test_another_style_is_worked_for_those_chosen(window, people, qtbot, at_once):
    over = many(window)
    QTest.mouseClick(over.clients.viewport(), Qt.MouseButton.LeftButton)
    over.clients.item(0).setCheckState(Qt.CheckState.Checked)
    qtbot.waitUntil(lambda: over.ready)
    over.style_box.setCurrentIndex(over.style_box.findData("straight-block"))
    over.style_box.activated.emit(over.style_box.currentIndex())
    qtbot.waitUntil(lambda: over.ready)
    (one,) = over.shown.values()
    assert one.job.draft.id == "straight-block"
    QTest.keyClick(over.clients, KEY.Key_Escape)
    assert window.over is None


def test_what_was_altered_on_her_is_seen_on_her_alone(window, people, qtbot, at_once):
    card = Card(name="Ann Bird", measurements=TAKEN)
    job = edits.set_card(new_job(styles.style("straight-block")), card).job
    taken_in = typed_alteration(what="side_seams", by="-1", first="waist", last="hip")
    job = alter(job, taken_in, look_of(job).worked.stated).job
    window.desk.begin(job)
    over = many(window)
    for row in (0, 1):
        over.clients.item(row).setCheckState(Qt.CheckState.Checked)
    qtbot.waitUntil(lambda: len(over.shown) == 2 and over.ready)
    ann, bea = over.shown.values()
    assert (ann.job.fitting, bea.job.fitting) == (job.fitting, ())
    hips = window.desk.look.report.finished["hip"]
    assert ann.answer.finished["hip"] == pytest.approx(hips), "as on the table"
    assert "without" not in over.words()
    newer = Card(name="Ann Bird", measurements={**TAKEN, "hip": "99"})
    window.desk.begin(edits.set_card(job, newer).job)
    over._another_style()
    qtbot.waitUntil(lambda: over.ready)
    assert "without what was altered at the" in over.words()
    over.reject()


def test_work_beside_the_window_can_be_stopped(window, people, qtbot):
    over = many(window)
    over.clients.item(0).setCheckState(Qt.CheckState.Checked)
    qtbot.waitUntil(lambda: over.working)
    window.line.buttons[2].click()
    assert not over.working
    assert next(iter(over.shown.values())).answer is None
    over.reject()


def test_what_is_seen_of_an_order():
    card = Card(name="Ann Bird", measurements=TAKEN)
    job = edits.set_card(new_job(styles.style("straight-block")), card).job
    seen = beside_window.seen(file.written(job))
    assert seen.finished["length"] > 0
    assert len(seen.picture) < 20_000
