"""The slip of orders: found, opened, changed in place, kept, and a client deleted."""

from __future__ import annotations

import os
import sqlite3
from contextlib import closing

import pyrage
import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from skirtwright.app.beside import Beside
from skirtwright.app.due_day import shown_day, typed_day
from skirtwright.app.main import _lay_slip
from skirtwright.app.settings import Settings
from skirtwright.draft import styles
from skirtwright.draft.alterations import typed_alteration
from skirtwright.job import autosave, edits, file, fitting_edits
from skirtwright.job.folders import client_book
from skirtwright.job.in_book import path_of
from skirtwright.job.job import new_job
from skirtwright.job.prints import today
from skirtwright.measures.card import Card
from skirtwright.problems import BadInput
from skirtwright.workroom import book_file, book_tables
from skirtwright.workroom.book import Book

KEY, CTRL = Qt.Key, Qt.KeyboardModifier.ControlModifier
TAKEN = {"waist": "72", "hip": "98", "waist_to_hip": "20", "waist_to_knee": "58"}
DUE = {"Clara Finch": "2026-12-12", "Ida Lark": "2026-11-01", "Maud Pell": ""}


def order(name, style="straight-block", **changed):
    card = Card(name=name, measurements={**TAKEN, **changed})
    return edits.set_card(new_job(styles.style(style)), card).job


@pytest.fixture
def kept(home):
    """Three clients with an order each, and one without; not the day's first start."""
    settings = Settings()
    settings.is_first_today(today())
    settings.write_now()
    fill()
    return home


def fill():
    with Book(client_book()) as book:
        for name, due in DUE.items():
            client = book.add_client(name, "likes it long" if due else "")
            book.add_card(client, order(name).card, "2026-10-01")
            book.add_order(client, order(name), due)
        book.add_client("Winifred Snow")


def rows(window):
    return [row for row in window.slips.orders.order_rows if row.isVisible()]


def names(window):
    return [row.name.text() for row in rows(window)]


def orders_slip(window, keys):
    keys(KEY.Key_B, mods=CTRL)
    assert window.slips.open_name == "orders"
    return window.slips.orders


def in_book(name):
    with Book(client_book()) as book:
        client = book.client_named(name)
        return [(one, book.order(one.number)[1]) for one in book.orders(client)]


def test_orders_are_found_as_she_types_and_opened_by_enter(kept, window, keys, qtbot):
    orders_slip(window, keys)
    assert names(window) == ["Ida Lark", "Clara Finch", "Maud Pell", "Winifred Snow"]
    assert rows(window)[0].late.text() == "Past its day"
    keys("lon", "g cla")
    assert names(window) == ["Clara Finch"]
    keys(KEY.Key_Return)
    assert window.desk.job.card.name == "Clara Finch"
    assert window.slips.open_name == ""
    assert window.band.state.accessibleName() == "Saved in the client book"
    orders_slip(window, keys)
    keys(KEY.Key_Escape)
    assert len(rows(window)) == 4, "Escape first empties the line"
    keys("nobody here")
    assert rows(window) == []
    assert "another word" in window.slips.orders.said.text()


def test_a_book_that_can_only_be_read_is_listed_and_said(kept, opened, monkeypatch):
    may = os.access
    monkeypatch.setattr(
        os,
        "access",
        lambda at, how: (how != os.W_OK or "book" not in str(at)) and may(at, how),
    )
    window = opened()
    window.acts.by_name["orders"].trigger()
    assert len(rows(window)) == len(DUE) + 1
    assert "nothing can be kept" in window.slips.orders.said.text()
    window.commands.clients.open_order(rows(window)[0].order)
    assert window.desk.job.card.name == "Ida Lark"
    window.desk.set_amounts({"length": "60"})
    assert not window.files.save()
    assert "can only be read" in window.line.now.words


def test_the_order_on_the_table_stays_with_all_that_can_be_undone(kept, window, keys):
    orders_slip(window, keys)
    order = rows(window)[0].order
    window.commands.clients.open_order(order)
    window.desk.set_amounts({"length": "60"})
    assert window.files.save()
    window.commands.clients.open_order(order)
    assert window.desk.history.canUndo()
    assert window.slips.open_name == ""


def test_a_click_opens_and_the_arrows_walk(kept, window, keys):
    slip = orders_slip(window, keys)
    keys(KEY.Key_Down, KEY.Key_Down)
    assert QApplication.focusWidget() is rows(window)[1]
    keys(KEY.Key_Up, KEY.Key_Up)
    assert QApplication.focusWidget() is slip.sought
    row = rows(window)[2]
    QTest.mousePress(row, Qt.MouseButton.RightButton)
    assert slip.order_in_hand() is row.order
    assert row.contextMenuPolicy() is Qt.ContextMenuPolicy.ActionsContextMenu
    assert "forget_order" in [action.objectName() for action in row.actions()]
    client = next(row for row in window.slips.orders.order_rows if row.order is None)
    offered = [action.objectName() for action in client.actions()]
    assert "forget_order" not in offered
    assert "forget_client" in offered
    QTest.mouseClick(row.name, Qt.MouseButton.LeftButton)
    assert window.desk.job.card.name == "Maud Pell"


def test_stage_day_and_price_change_in_place(kept, window, keys):
    orders_slip(window, keys)
    row = rows(window)[1]
    row.stage.setFocus()
    QTest.keyClick(row.stage, KEY.Key_C)
    row.stage.activated.emit(row.stage.currentIndex())
    ((one, _),) = in_book("Clara Finch")
    assert one.stage == "cut"
    for line, text in ((row.due, "3 Jan 2027"), (row.price, "GBP 268.40")):
        line.setFocus()
        line.selectAll()
        QTest.keyClicks(line, text)
        QTest.keyClick(line, KEY.Key_Return)
    ((one, _),) = in_book("Clara Finch")
    assert (one.due, one.price, one.stage) == ("2027-01-03", "GBP 268.40", "cut")
    assert row.due.text() == "3 Jan 2027"
    for line in (row.due, row.price):
        wide = line.fontMetrics().horizontalAdvance(line.text())
        assert wide + 8 <= line.width(), line.text()
    row.due.selectAll()
    QTest.keyClicks(row.due, "soon")
    QTest.keyClick(row.due, KEY.Key_Return)
    assert "is no day" in row.late.text()
    assert in_book("Clara Finch")[0][0].due == "2027-01-03", "the last day stands"


@pytest.mark.parametrize(
    ("text", "language", "day"),
    [
        ("12 Dec", "en_GB", "2026-12-12"),
        ("12 december 2027", "en_GB", "2027-12-12"),
        ("3/4/27", "en_GB", "2027-04-03"),
        ("3/4/27", "en_US", "2027-03-04"),
        ("Dec 12, 2026", "en_US", "2026-12-12"),
        ("1.2.", "en_GB", "2027-02-01"),
        ("2026-12-12", "en_US", "2026-12-12"),
        (" ", "en_GB", ""),
    ],
)
def test_days_as_people_type_them(text, language, day):
    assert typed_day(text, language, "2026-11-29") == day
    assert typed_day(shown_day(day, language), language, "2026-11-29") == day


@pytest.mark.parametrize("text", ["soon", "31.2.2027", "12", "13/13/27"])
def test_what_is_no_day_is_refused(text):
    with pytest.raises(BadInput) as refused:
        typed_day(text, "en_GB", "2026-11-29")
    assert refused.value.problem.code == "field.not_a_day"


def test_a_new_client_is_saved_into_the_book(window, keys, qtbot):
    keys(KEY.Key_N, mods=CTRL)
    keys("Clara Finch", KEY.Key_Return)
    for name, text in TAKEN.items():
        window.desk.change(edits.set_measurement(window.desk.job, name, text))
    keys(KEY.Key_S, mods=CTRL)
    assert window.desk.saved
    ((one, job),) = in_book("Clara Finch")
    assert job == window.desk.job
    assert window.keeper.path == path_of(client_book(), one.number)
    window.desk.change(edits.set_measurement(window.desk.job, "waist", "75"))
    keys(KEY.Key_S, mods=CTRL)
    with Book(client_book()) as book:
        (client,) = book.clients()
        (card,) = book.cards(client)
        assert card.card.measurements["waist"] == "75", "one card a day"
        assert book.picture(one.number), "the skirt on her"
    orders_slip(window, keys)
    assert names(window) == ["Clara Finch"]
    assert rows(window)[0].worn._figure is not None


def test_an_order_of_the_book_is_kept_while_it_is_worked_on(kept, opened, keys):
    path = path_of(client_book(), 1)
    window = opened(path)
    window.desk.set_amounts({"length": "50"})
    assert window.keeper.keep_now()
    window.close()
    again = opened(None)
    assert again.keeper.path == path
    assert again.desk.job.amounts == {"length": "50"}
    assert again.band.state.accessibleName() == "Not saved in the client book yet"
    assert again.line.code == "recovered"
    again.desk.set_amounts({"length": "51"})
    assert again.line.code != "recovered", "it has been read: she works on"
    again.files.save()
    assert in_book("Clara Finch")[0][1].amounts == {"length": "51"}
    again.close()
    assert autosave.left_behind() == ()
    assert opened(None).keeper.path == path, "where she left off"


def left_behind(opened, length="50"):
    """Work on the first order, kept when its window ended; and what it is called by."""
    path = path_of(client_book(), 1)
    window = opened(path)
    window.desk.set_amounts({"length": length})
    window.close()
    return path


def another_saves(length="45"):
    with Book(client_book()) as book:
        theirs, job = book.order(1)
        book.save_order(theirs, edits.set_amount(job, "length", length).job)


def lengths_in_book():
    found = (job.amounts.get("length") for _, job in in_book("Clara Finch"))
    return sorted(filter(None, found))


def test_work_brought_back_over_a_newer_order_leaves_both(kept, opened):
    path = left_behind(opened)
    another_saves()
    again = opened(path)
    assert "it is newer" in again.line.words.text()
    assert "clients.book" not in again.line.words.text()
    assert again.desk.job.amounts["length"] == "50"
    again.desk.set_amounts({"length": "51"})
    again.close()
    third = opened(path)
    assert "it is newer" in third.line.words.text(), "not only the first time"
    assert third.files.save()
    assert lengths_in_book() == ["45", "51"]
    assert third.keeper.path != path
    assert autosave.left_behind() == ()


def test_back_at_what_the_book_holds_it_is_saved_there(kept, opened):
    path = left_behind(opened)
    another_saves()
    window = opened(path)
    window.line.buttons[1].click()
    assert window.desk.job.amounts["length"] == "45"
    window.desk.history.redo()
    assert window.desk.job.amounts["length"] == "50"
    assert window.files.save()
    assert lengths_in_book() == ["45", "50"], "redone, it is an order of its own again"
    path = left_behind(opened, "60")
    another_saves("46")
    window = opened(path)
    window.line.buttons[1].click()
    window.desk.set_amounts({"length": "47"})
    assert window.files.save()
    assert lengths_in_book() == ["47", "50"]
    assert window.keeper.path == path


@pytest.mark.parametrize("book", ["there", "away"])
def test_work_on_an_order_that_is_gone_is_brought_back_once(kept, opened, book):
    left_behind(opened)
    if book == "away":
        client_book().rename(kept / "away.book")
    else:
        with sqlite3.connect(client_book()) as other:
            other.execute("DELETE FROM skirt WHERE id = 1")
        other.close()
    window = opened(None)
    words = {"there": "has the order no more", "away": "is not in its place"}
    assert words[book] in window.line.words.text()
    assert window.desk.job.amounts["length"] == "50"
    assert autosave.left_behind() == ()
    window.close()
    (work,) = autosave.left_behind()
    assert work.source is None


def test_a_print_of_what_another_changed_makes_no_order(kept, opened):
    """It is noted on the table, and Save tells why it is not in the book."""
    window = opened(path_of(client_book(), 1))
    another_saves()
    window.desk.note_print(window.desk.look, "drawing", window.desk.look.shown)
    assert lengths_in_book() == ["45"]
    assert len(in_book("Clara Finch")) == 1
    assert not window.desk.saved
    assert window.files.save()
    assert "changed or deleted elsewhere" in window.line.words.text()
    assert len(in_book("Clara Finch")) == 2


def test_a_print_noted_by_another_is_newer_too(kept, opened):
    path = left_behind(opened)
    with Book(client_book()) as book:
        theirs, job = book.order(1)
        book.save_order(theirs, job.printed("2026-11-29", "drawing", ()))
    assert "it is newer" in opened(path).line.words.text()


def test_two_windows_on_one_order_keep_both(kept, opened):
    path = path_of(client_book(), 1)
    first, second = opened(path), opened(path)
    assert "another window" in second.line.words.text()
    first.desk.set_amounts({"length": "50"})
    second.desk.set_amounts({"length": "60"})
    assert first.files.save()
    assert second.files.save()
    lengths = {job.amounts["length"] for _, job in in_book("Clara Finch")}
    assert lengths == {"50", "60"}
    assert first.keeper.path != second.keeper.path


def test_what_another_program_wrote_meanwhile_is_kept_too(kept, opened):
    window = opened(path_of(client_book(), 1))
    with Book(client_book()) as book:
        theirs, job = book.order(1)
        book.save_order(theirs, edits.set_amount(job, "length", "45").job)
    window.desk.set_amounts({"length": "50"})
    assert window.files.save()
    assert "changed or deleted elsewhere" in window.line.words.text()
    lengths = sorted(job.amounts["length"] for _, job in in_book("Clara Finch"))
    assert lengths == ["45", "50"]


def test_an_order_another_deleted_is_kept_as_a_new_one(kept, opened):
    window = opened(path_of(client_book(), 1))
    window.desk.set_amounts({"length": "50"})
    with Book(client_book()) as book:
        book.forget(book.client_named("Clara Finch"))
        other = book.add_order(book.add_client("Zelda Marsh"), order("Zelda Marsh"))
    assert window.files.save()
    assert "changed or deleted elsewhere" in window.line.words.text()
    ((mine, job),) = in_book("Clara Finch")
    assert job.amounts["length"] == "50"
    assert window.keeper.path == path_of(client_book(), mine.number)
    assert [one.number for one, _ in in_book("Zelda Marsh")] == [other.number]


def test_a_book_moved_away_is_named_and_no_empty_one_made(kept, opened):
    path, away = path_of(client_book(), 1), client_book().with_name("away.book")
    window = opened(path)
    window.desk.set_amounts({"length": "50"})
    window.bookkeeping.close()
    client_book().rename(away)
    assert not window.files.save()
    assert "clients.book is no longer in" in window.line.words.text()
    window.acts.by_name["forget_order"].trigger()
    window.acts.by_name["export_client"].trigger()
    window.commands.fill_recent()
    window.commands.fill_unsaved()
    assert not client_book().exists()
    away.rename(client_book())
    assert window.files.save()
    assert in_book("Clara Finch")[0][1].amounts["length"] == "50"


def test_what_another_window_writes_is_seen(kept, window, keys, qtbot):
    orders_slip(window, keys)
    with Book(client_book()) as book:
        book.add_client("Zelda Marsh")
    window.bookkeeping.look_again()
    assert "Zelda Marsh" in names(window)


def test_a_client_without_orders_gets_one(kept, window, keys):
    orders_slip(window, keys)
    keys("winifred", KEY.Key_Return)
    assert window.desk.job.card.name == "Winifred Snow"
    assert window.slips.open_name == "measure"
    assert window.keeper.path is None


def test_former_alterations_are_offered_and_never_done_unasked(kept, window, keys):
    narrower = typed_alteration(
        what="side_seams", by="-8 mm", first="waist", last="hip", on="2026-10-02"
    )
    level = typed_alteration(
        what="level_hem",
        readings=("30", "30", "31", "31", "30", "30", "29", "29"),
        on=today(),
    )
    with Book(client_book()) as book:
        client = book.client_named("Clara Finch")
        made = (narrower, level)
        fitted = order("Clara Finch").replace(fitting=made)
        book.add_order(client, fitted)
    style = styles.style("straight-block")
    window.desk.change(edits.set_style(window.desk.job, style))
    orders_slip(window, keys)
    keys("clara", KEY.Key_Down)
    window.acts.by_name["new_order"].trigger()
    assert window.desk.job.card.name == "Clara Finch"
    assert window.desk.job.fitting == ()
    assert window.line.code == "former"
    assert "evel" not in window.line.words.text(), "a hem is read on its own skirt"
    window.line.buttons[0].click()
    (done,) = window.desk.job.fitting
    assert (done.what, done.by) == (narrower.what, narrower.by)
    assert window.desk.look.drawn
    window.desk.history.undo()
    assert window.desk.job.fitting == ()


def test_what_a_fitting_changed_on_the_card_is_offered_and_not_kept_unasked(
    kept, opened
):
    window = opened(path_of(client_book(), 1))
    made = typed_alteration(what="hip_fuller", by="8 mm", side="left", on="2026-10-02")
    stated = window.desk.look.worked.stated
    window.desk.change_drawn(fitting_edits.alter(window.desk.job, made, stated))

    def cards():
        with Book(client_book()) as book:
            return book.cards(book.client_named("Clara Finch"))

    assert window.files.save()
    assert [one.taken for one in cards()] == ["2026-10-01"], "not unasked"
    assert "at the fitting" in window.line.words.text()
    window.line.buttons[0].click()
    assert [one.taken for one in cards()] == [today(), "2026-10-01"]
    assert cards()[0].card == window.desk.job.card
    window.line.done("learn")
    assert window.files.save()
    assert window.line.code != "learn", "asked once"


def test_a_deleted_client_is_gone_from_every_byte(kept, opened, keys, qtbot):
    """Book, log, unsaved work, pictures, what was open lately, and her table."""
    window = opened(path_of(client_book(), 1))
    window.files.keep_picture()
    window.desk.set_amounts({"length": "50"})
    assert window.keeper.keep_now()
    nameless = autosave.Session()
    nameless.keep(order("clara finch"))
    nameless.close()
    mine = kept / "hers.skirt"
    file.save(order("Clara Finch"), mine)
    folder = kept / "Clara Finch"
    folder.mkdir()
    file.save(order("Clara Finch"), folder / "one.skirt")
    file.save(order("Clarissa"), kept / "clarissa.skirt")
    others = [mine, folder / "one.skirt", kept / "clarissa.skirt"]
    for other in (*others, path_of(client_book(), 1)):
        assert window.files.open(other)
    unread = autosave.state_folder() / "one not saved 2026-11-01 10.00.skirt"
    unread.write_text('{"format": 99, "card": {"name": "Clara Finch"}}', "utf-8")
    aside = client_book().with_name("clients damaged 2026-11-02.book")
    aside.write_bytes(b"Clara Finch")
    window.desk.set_amounts({"length": "51"})
    assert window.keeper.keep_now()
    keys(KEY.Key_B, mods=CTRL)
    keys("clara", KEY.Key_Down)
    window.acts.by_name["forget_client"].trigger()
    assert "Nothing can bring her back" in window.line.words.text()
    window.line.buttons[1].click()
    qtbot.waitUntil(lambda: "is deleted" in window.line.words.text())
    assert "damaged 2026-11-02.book, put aside" in window.line.words.text()
    aside.unlink()
    assert window.desk.job.card.name != "Clara Finch"
    window.line.done("book")
    assert names(window) == [], "nothing else has the word sought"
    window.close()
    holding = [
        place
        for place in kept.rglob("*")
        if place.is_file() and b"clara finch" in place.read_bytes().lower()
    ]
    assert sorted(holding) == sorted(others[:2]), "her own files stay"
    assert Settings().recent() == [others[2]], "who is called nearly so stays"
    with Book(client_book()) as book:
        assert [c.name for c in book.clients()] == [
            "Ida Lark",
            "Maud Pell",
            "Winifred Snow",
        ]


def test_a_client_a_held_book_keeps_loses_nothing(kept, opened, qtbot, monkeypatch):
    monkeypatch.setattr(book_file, "_WAIT_SECONDS", 0.05)
    window = opened(path_of(client_book(), 1))
    window.desk.set_amounts({"length": "50"})
    ((mine, _),) = in_book("Clara Finch")
    held = "held by another window"
    with closing(sqlite3.connect(client_book(), isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        for delete, what in (
            (window.commands.clients.of_book.forget, mine.client),
            (window.commands.clients.of_book.forget_order, mine),
        ):
            delete(what)
            qtbot.waitUntil(lambda: held in window.line.words.text())
            window.line.done("book")
        other.execute("ROLLBACK")
    assert window.keeper.path == path_of(client_book(), 1)
    assert window.desk.job.amounts["length"] == "50"
    assert window.files.save()
    assert in_book("Clara Finch")[0][1].amounts["length"] == "50"


def test_unsaved_work_on_a_file_of_her_own_outlives_a_client(kept, opened, qtbot):
    mine = kept / "hers.skirt"
    file.save(order("Clara Finch"), mine)
    window = opened(mine)
    window.desk.set_amounts({"length": "47"})
    assert window.keeper.keep_now()
    ((hers, _),) = in_book("Clara Finch")
    window.commands.clients.of_book.forget(hers.client)
    qtbot.waitUntil(lambda: "is deleted" in window.line.words.text())
    assert (window.keeper.path, window.desk.job.amounts["length"]) == (mine, "47")
    assert autosave.beside(mine).exists()


def test_a_deleted_order_is_gone_from_every_byte_and_its_client_stays(
    kept, opened, keys, qtbot
):
    kept_of_it = b"heather hem"
    with Book(client_book()) as book:
        client = book.client_named("Clara Finch")
        titled = order("Clara Finch").replace(title="Heather hem")
        added = book.add_order(client, titled, "2026-12-24")
        book.set_price(added, "85")
    window = opened(path_of(client_book(), added.number))
    window.files.keep_picture()
    window.desk.set_amounts({"length": "50"})
    assert window.keeper.keep_now()
    window.acts.by_name["forget_order"].trigger()
    assert "Heather hem of Clara Finch goes" in window.line.words.text()
    window.line.buttons[0].click()
    assert len(in_book("Clara Finch")) == 2, "kept"
    keys(KEY.Key_B, mods=CTRL)
    window.acts.by_name["forget_order"].trigger()
    assert window.line.code != "book", "which one is asked first"
    keys("heather", KEY.Key_Down)
    window.acts.by_name["forget_order"].trigger()
    window.line.buttons[1].click()
    qtbot.waitUntil(lambda: "is deleted" in window.line.words.text())
    assert window.keeper.path is None
    window.line.done("book")
    window.close()
    holding = [
        place
        for place in kept.rglob("*")
        if place.is_file() and kept_of_it in place.read_bytes().lower()
    ]
    assert holding == []
    ((left, _),) = in_book("Clara Finch")
    assert left.title != "Heather hem"
    with Book(client_book()) as book:
        assert len(book.cards(book.client_named("Clara Finch"))) == 1


def test_an_order_that_came_without_a_picture_gets_one(
    kept, draws, window, keys, qtbot, monkeypatch
):
    """As by the command line; drawn once, not again where nothing can be drawn."""
    asked = []

    def ask(self, known_as, work, *values):
        asked.append(known_as)
        self.answered.emit(known_as, work(*values))

    monkeypatch.setattr(Beside, "ask", ask)
    with Book(client_book()) as book:
        flat = order("Ida Lark", waist="")
        book.save_order(book.order(2)[0], flat)
    orders_slip(window, keys)
    assert rows(window)[1].worn._figure is None
    qtbot.waitUntil(lambda: rows(window)[1].worn._figure is not None, timeout=30_000)
    qtbot.waitUntil(lambda: len(asked) == 3)
    assert rows(window)[0].worn._figure is None, "she has no waist"
    with Book(client_book()) as book:
        assert book.picture(1)
    window.slips.orders.show_found()
    qtbot.wait(100)
    assert len(asked) == 3


@pytest.fixture
def quick_seal(monkeypatch):
    """Sealed in no time, and by nobody's library; for real in test_cli_book.py."""

    def encrypt(data, passphrase):
        return b"age-encryption.org/v1\n" + passphrase.encode() + data[::-1]

    def decrypt(sealed, passphrase):
        begins = encrypt(b"", passphrase)
        if not sealed.startswith(begins):
            raise pyrage.DecryptError
        return sealed.removeprefix(begins)[::-1]

    monkeypatch.setattr(pyrage.passphrase, "encrypt", encrypt)
    monkeypatch.setattr(pyrage.passphrase, "decrypt", decrypt)


@pytest.mark.usefixtures("quick_seal")
def test_a_client_is_given_out_and_taken_in_with_a_passphrase(
    kept, window, keys, qtbot
):
    commands = window.commands.clients.of_book
    orders_slip(window, keys)
    keys("clara", KEY.Key_Down)
    window.acts.by_name["export_client"].trigger()
    form = commands.passphrase
    qtbot.waitUntil(form.isVisible)
    for line, text in zip(form.lines, ("plain words", "plain worms"), strict=True):
        QTest.keyClicks(line, text)
    form.on.click()
    assert "not the same both times" in form.said.text()
    form.lines[1].setText("plain words")
    form.on.click()
    assert window.files.dialog.selectedFiles()[0].endswith("Clara Finch.age")
    window.files.dialog.reject()
    place = kept / "clara.age"
    commands.export(window.slips.orders.client_in_hand(), place, "plain words")
    qtbot.waitUntil(lambda: "is in clara.age" in window.line.words.text())
    assert b"Clara" not in place.read_bytes()
    with Book(client_book()) as book:
        book.forget(book.client_named("Clara Finch"))
    commands.take_in(place)
    qtbot.waitUntil(lambda: commands.passphrase is not form, timeout=20_000)
    shut = commands.passphrase
    shut.on.click()
    assert "There is no passphrase" in shut.said.text()
    shut.lines[0].setText("plain worms")
    shut.on.click()
    qtbot.waitUntil(lambda: commands.passphrase is not shut, timeout=20_000)
    commands.passphrase.lines[0].setText("plain words")
    commands.passphrase.on.click()
    taken = lambda: "clients: 1" in window.line.words.text()  # noqa: E731
    qtbot.waitUntil(taken, timeout=20_000)
    assert len(in_book("Clara Finch")) == 1


def test_a_table_of_people_is_taken_in_and_a_client_given_out(
    kept, window, keys, qtbot
):
    table = kept / "people.csv"
    table.write_text(
        "name,waist,hip,waist_to_hip,waist_to_knee\n"
        "Ann Bird,72,98,20,58\nBea Crow,seven,98,20,58\n",
        encoding="utf-8",
    )
    window.commands.clients.of_book.take_in(table)
    qtbot.waitUntil(lambda: window.slips.open_name == "orders")
    assert "row 3 is not taken in" in window.line.words.text()
    keys("ann bird", KEY.Key_Down)
    client = window.slips.orders.client_in_hand()
    window.commands.clients.of_book.export(client, kept / "ann.json")
    qtbot.waitUntil(lambda: "is in ann.json" in window.line.words.text())
    assert "Ann Bird" in (kept / "ann.json").read_text(encoding="utf-8")


def test_a_backup_is_made_and_restored(kept, window, keys, qtbot):
    commands = window.commands.clients.of_book
    commands.back_up(kept / "b.book")
    qtbot.waitUntil(lambda: "is in b.book" in window.line.words.text())
    with Book(client_book()) as book:
        book.add_client("Zelda Marsh")
    commands.restore(kept / "b.book")
    qtbot.waitUntil(lambda: "again; clients: 4" in window.line.words.text())
    orders_slip(window, keys)
    assert "Zelda Marsh" not in names(window)


@pytest.mark.parametrize("broken", ["no book", "newer", "locked"])
def test_a_book_that_cannot_be_used_is_told_and_left(kept, window, keys, broken):
    place = client_book()
    holder = sqlite3.connect(place, isolation_level=None)
    if broken == "newer":
        holder.execute(f"PRAGMA user_version = {book_tables.VERSION + 1}")
    with closing(holder):
        if broken == "locked":
            holder.execute("BEGIN EXCLUSIVE")
        elif broken == "no book":
            holder.close()
            place.write_bytes(b"not a book at all" * 100)
        before = place.read_bytes()
        slip = orders_slip(window, keys)
        if broken != "locked":  # Who only reads need not wait.
            assert slip.said.isVisible()
            assert slip.said.text().count(".") >= 2
        window.desk.change(edits.set_client(window.desk.job, "Nan Moth"))
        assert not window.files.save()
        assert "Your work is still here" in window.line.words.text()
        assert place.read_bytes() == before


def test_what_can_be_read_of_a_damaged_book_is_saved(kept, window, keys, qtbot):
    place = client_book()
    with closing(sqlite3.connect(place)) as opened:
        asked = "SELECT rootpage FROM sqlite_schema WHERE name = 'card'"
        ((page,),) = opened.execute(asked)
        ((size,),) = opened.execute("PRAGMA page_size")
    data = bytearray(place.read_bytes())
    data[(page - 1) * size : page * size] = b"!" * size
    place.write_bytes(data)
    orders_slip(window, keys)
    keys("clara", KEY.Key_Down)
    window.acts.by_name["new_order"].trigger()
    assert "is damaged" in window.line.words.text()
    window.line.buttons[0].click()
    qtbot.waitUntil(lambda: "kept as" in window.line.words.text(), timeout=20_000)
    assert "some could not be read" in window.line.words.text()
    (aside,) = place.parent.glob("clients damaged *.book")
    assert aside.read_bytes() == data
    window.slips.orders.sought.clear()
    assert names(window) == ["Ida Lark", "Clara Finch", "Maud Pell", "Winifred Snow"]


@pytest.mark.parametrize("version", [1, 2])
def test_a_damaged_book_of_an_earlier_version_is_mended_from_the_window(
    home, window, keys, qtbot, version
):
    place = client_book()
    place.parent.mkdir(parents=True, exist_ok=True)
    text = file.written(order("Ida Lark"))
    with closing(sqlite3.connect(place, isolation_level=None)) as old:
        old.executescript(
            f"{book_tables.tables_of(version)}PRAGMA user_version = {version};"
            f"PRAGMA application_id = {book_tables.APPLICATION};"
        )
        for number in range(1, 31):
            name = f"Client {number}"
            row = (number, name, name.lower(), "x" * 900)
            old.execute("INSERT INTO client VALUES (?, ?, ?, ?)", row)
        asked = "INSERT INTO skirt VALUES (1, 2, 'Hers', 's', 'cut', '', 1, ?)"
        old.execute(asked, (text,))
        ((size,),) = old.execute("PRAGMA page_size")
        asked = "SELECT rootpage FROM sqlite_schema WHERE name = 'client_sought'"
        ((page,),) = old.execute(asked)
    data = bytearray(place.read_bytes())
    data[(page - 1) * size : page * size] = b"!" * size
    place.write_bytes(data)
    window.desk.change(edits.set_client(window.desk.job, "Nan Moth"))
    assert not window.files.save()
    assert "is damaged" in window.line.words.text()
    window.line.buttons[0].click()
    qtbot.waitUntil(lambda: "Taken in: clients 30" in window.line.words.text())
    (aside,) = place.parent.glob("clients damaged *.book")
    assert aside.read_bytes() == data
    assert window.files.save()
    orders_slip(window, keys)
    assert {"Client 2", "Nan Moth"} <= set(names(window))


def test_no_book_at_all_is_put_aside_and_a_new_one_begun(kept, window, keys, qtbot):
    client_book().write_bytes(b"not a book at all" * 100)
    slip = orders_slip(window, keys)
    slip.mend.click()
    qtbot.waitUntil(lambda: window.line.code == "book")
    assert "no client book" in window.line.words.text()
    assert list(client_book().parent.glob("clients damaged *.book"))
    assert "No order is in the book" in slip.said.text()


@pytest.mark.parametrize("version", [1, 2])
def test_an_older_book_is_brought_up_to_date_with_a_copy_kept(home, version):
    place = client_book()
    place.parent.mkdir(parents=True)
    text = file.written(order("Ida Lark"))
    with closing(sqlite3.connect(place, isolation_level=None)) as old:
        old.executescript(
            f"PRAGMA journal_mode = WAL; {book_tables.tables_of(version)}"
            f"PRAGMA application_id = {book_tables.APPLICATION};"
            f"PRAGMA user_version = {version};"
            "INSERT INTO client VALUES (3, 'Ida Lark', 'ida lark', 'tall');"
        )
        asked = "INSERT INTO skirt VALUES (7, 3, 'Her skirt', 's', 'cut', '', 4, ?)"
        old.execute(asked, (text,))
        if version > 1:
            old.execute("INSERT INTO price VALUES (7, '85')")
    with Book(place) as book:
        (client,) = book.clients()
        assert (client.number, client.notes) == (3, "tall")
        (kept,) = book.orders()
        assert (kept.number, kept.stage, kept.version) == (7, "cut", 4)
        assert kept.price == ("85" if version > 1 else "")
        assert book.order_text(7)[1] == text
        book.set_price(kept, "90")
        assert book.orders()[0].price == "90"
        book.forget(client)
        assert book.orders() == ()
        assert book.add_client("Zoe").number == 4
    assert b"Ida" not in place.read_bytes()


def test_of_an_older_book_a_copy_is_kept(home):
    place = client_book()
    place.parent.mkdir(parents=True)
    with closing(sqlite3.connect(place)) as old:
        old.executescript(
            f"{book_tables.tables_of(2)}PRAGMA user_version = 2;"
            f"PRAGMA application_id = {book_tables.APPLICATION};"
            "INSERT INTO client VALUES (1, 'Ida Lark', 'ida lark', '');"
        )
    Book(place).close()
    Book(place).close()
    copy = place.with_name(f".{place.name}.before")
    with closing(sqlite3.connect(copy)) as before:
        assert before.execute("PRAGMA user_version").fetchone() == (2,)
        assert before.execute("SELECT name FROM client").fetchall() == [("Ida Lark",)]


def test_on_a_days_first_start_her_orders_lie_over_the_last(opened, qtbot):
    fill()
    window = opened(None)
    qtbot.waitUntil(lambda: window.slips.open_name == "orders")
    _lay_slip(window)
    assert window.slips.open_name == "orders", "what she opened herself stays"
    window.slips.show("shape", on=True)
    window.close()
    second = opened(None)
    qtbot.waitUntil(lambda: second.slips.open_name == "shape")
    second.slips.put_away()
    second.close()
    third = opened(None)
    qtbot.wait(20)
    assert third.slips.open_name == "", "her orders once a day, and what lay open then"


def test_not_with_an_empty_book(opened, qtbot):
    window = opened(None)
    qtbot.wait(20)
    assert window.slips.open_name == ""


def test_not_over_the_example_of_a_first_start(opened, qtbot):
    fill()
    settings = Settings()
    settings._kept.remove("welcomed")
    settings.write_now()
    window = opened(None)
    qtbot.wait(20)
    assert window.slips.open_name == ""
    assert window.welcome.step == 1


def test_everything_in_view_where_there_is_no_drawing_yet(window, keys):
    keys(KEY.Key_N, mods=CTRL)
    assert window.desk.waits is not None
    keys(KEY.Key_0, mods=CTRL)
    assert window.table.scene.layout.laid == ()


def test_the_order_on_the_table_is_marked_and_its_like_told_apart(kept, opened, keys):
    with Book(client_book()) as book:
        book.add_order(book.client_named("Ida Lark"), order("Ida Lark"))
    window = opened(path_of(client_book(), 2))
    orders_slip(window, keys)
    marked = [row for row in rows(window) if row.here.isVisible()]
    assert [row.order.number for row in marked] == [2]
    assert marked[0].accessibleName().endswith(", On the table")
    titles = [row.title.text() for row in rows(window) if row.name.text() == "Ida Lark"]
    assert [title.rpartition(", ")[2] for title in titles] == ["order 2", "order 4"]
    others = [row.title.text() for row in rows(window) if row not in marked]
    assert sum("order" in title for title in others[:-1]) == 1, "numbers only for twins"


def test_whose_order_lies_on_the_table_can_be_kept_and_gets_another(window, keys):
    card = Card(name="Odile Marchetti", measurements=TAKEN)
    window.desk.change(edits.set_card(window.desk.job, card))
    slip = orders_slip(window, keys)
    assert slip.keep.isVisible()
    assert slip.keep.text() == "Keep Odile Marchetti"
    keys(KEY.Key_N, mods=CTRL | Qt.KeyboardModifier.ShiftModifier)
    assert window.desk.job.card.measurements == TAKEN, "hers, though not in the book"
    assert window.slips.open_name == ""
    slip = orders_slip(window, keys)
    slip.keep.click()
    assert not slip.keep.isVisible()
    assert names(window) == ["Odile Marchetti"]
    assert rows(window)[0].here.isVisible()
    keys(KEY.Key_N, mods=CTRL | Qt.KeyboardModifier.ShiftModifier)
    assert window.desk.job.card.name == "Odile Marchetti"
    assert window.keeper.path is None


def test_work_left_by_opening_another_is_told_and_called_what_it_is(kept, opened, keys):
    window = opened(path_of(client_book(), 1))
    style = styles.style("mermaid")
    window.desk.change(edits.set_style(window.desk.job, style))
    orders_slip(window, keys)
    wanted = next(row for row in rows(window) if row.name.text() == "Maud Pell")
    QTest.mouseClick(wanted.name, Qt.MouseButton.LeftButton)
    assert window.desk.job.card.name == "Maud Pell"
    assert window.line.code == "kept"
    window.acts.menus["unsaved"].aboutToShow.emit()
    (entry,) = window.acts.menus["unsaved"].actions()
    assert "Clara Finch, Mermaid skirt  —" in entry.text()
    window.files.save()
    assert window.line.code != "kept"
