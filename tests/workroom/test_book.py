"""The client book: real SQLite files, two windows, what is deleted, what is damaged."""

from __future__ import annotations

import json
import os
import random
import sqlite3
import stat
import subprocess
import sys
import textwrap
import time
from contextlib import closing
from functools import partial

import pytest

from skirtwright.draft import styles
from skirtwright.job import autosave, edits, file
from skirtwright.job.folders import client_book
from skirtwright.job.in_book import load_bytes, path_of
from skirtwright.job.job import new_job
from skirtwright.measures.card import Card
from skirtwright.problems import FileTrouble, NotFound, SkirtwrightError
from skirtwright.words import in_one_sentence
from skirtwright.workroom import book_tables
from skirtwright.workroom.book import Book
from skirtwright.workroom.book_entries import (
    add_file,
    differences,
    entry_of,
    keep_order,
)
from skirtwright.workroom.book_file import Salvaged
from skirtwright.workroom.forgetting import deleted_order, forget

NAME = client_book().name
ENDLESS = """
PRAGMA application_id = 1399550580;
PRAGMA user_version = 1;
CREATE VIEW client AS
WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n)
SELECT i AS id, '' AS name, '' AS sought, '' AS notes FROM n;
"""
TAKEN = {"waist": "72", "hip": "98", "waist_to_hip": "20", "waist_to_knee": "58"}
DAY = "2026-03-01"


def card(name, **changed):
    return Card(name=name, measurements={**TAKEN, **changed})


def order(name):
    return edits.set_card(new_job(styles.style("straight-block")), card(name)).job


@pytest.fixture
def place(tmp_path):
    return tmp_path / "folder" / NAME


@pytest.fixture
def book(place):
    with Book(place) as opened:
        yield opened


def refused(work):
    with pytest.raises(SkirtwrightError) as told:
        work()
    return in_one_sentence(told.value.problem)


def test_a_book_on_a_medium_that_is_only_read_is_read(place, monkeypatch):
    """Beside one in write-ahead mode SQLite makes files, where it may."""
    with Book(place) as opened:
        number = keep_order(opened, order("Ilse Farrow"), None, None, DAY).number
    before = place.read_bytes()
    may = os.access
    monkeypatch.setattr(os, "access", lambda at, how: how != os.W_OK and may(at, how))
    place.parent.chmod(0o500)
    with Book(place) as opened:
        assert opened.read_only
        (client,) = opened.clients()
        assert refused(lambda: forget(opened, client)) == (
            f"{NAME} lies where things can only be read; choose another place."
        )
        assert file.read(load_bytes(path_of(place, number)), NAME).card == card(
            "Ilse Farrow"
        )
        assert [each.name for each in place.parent.iterdir()] == [NAME]
        assert opened.clients() == (client,)
    place.parent.chmod(0o700)
    assert place.read_bytes() == before


def test_a_new_book_is_hers_alone(book, place):
    assert book.clients() == ()
    assert stat.S_IMODE(place.stat().st_mode) == 0o600
    assert stat.S_IMODE(place.parent.stat().st_mode) == 0o700


def test_cards_by_date_and_two_of_them_compared(book):
    ida = book.add_client("Ida Åberg", "likes it long")
    book.add_card(ida, card("Ida Åberg"), "2025-01-01")
    book.add_card(ida, card("Ida Åberg", waist="74,5", knee="37"), DAY)
    assert [one.taken for one in book.cards(ida)] == [DAY, "2025-01-01"]
    assert book.card_of("ida åberg").measurements["waist"] == "74,5"
    new, old = (one.card for one in book.cards(ida))
    assert differences(old, new) == [("waist", 720, 745), ("knee", None, 370)]


def test_clients_are_found_by_any_part_of_their_name(book):
    for name in ("Maud Pell", "Ottoline Brack", "maude lind"):
        book.add_client(name)
    assert [one.name for one in book.clients("MAUD")] == ["Maud Pell", "maude lind"]
    assert [one.name for one in book.clients("%")] == []
    assert book.client_named("maud pell").name == "Maud Pell"
    assert "Maud Pell" in refused(lambda: book.client_named("Maud Pel"))
    assert "already" in refused(lambda: book.add_client("MAUD PELL"))
    assert "no measurements" in refused(lambda: book.card_of("Maud Pell"))


def test_orders_due_first_and_the_same_file_as_outside(book):
    ida = book.add_client("Ida")
    late = book.add_order(ida, order("Ida"), due="2026-05-01")
    soon = book.add_order(ida, order("Ida"), due="2026-04-01")
    done = book.add_order(ida, order("Ida"))
    book.set_stage(done, "finished", "2026-01-01")
    some = book.add_order(ida, order("Ida"))
    listed = [one.number for one in book.orders()]
    assert listed == [one.number for one in (soon, late, some, done)]
    assert book.orders(ida) == book.orders()
    kept, job = book.order(late.number)
    assert kept == late
    assert file.written(job) == file.written(order("Ida"))
    assert "stage" in refused(lambda: book.set_stage(late, "lost", ""))
    with pytest.raises(NotFound):
        book.order(99)


def test_two_windows_on_one_order_do_not_overwrite_each_other(book, place):
    first = book.add_order(book.add_client("Ida"), order("Ida"))
    wide = edits.set_amount(order("Ida"), "hip_ease", "6").job
    long = edits.set_amount(order("Ida"), "length", "70").job
    with Book(place) as other:
        mine, theirs = book.order(first.number)[0], other.order(first.number)[0]
        other.save_order(theirs, long)
        kept = book.save_order(mine, wide)
    assert kept.number != first.number
    assert book.order(first.number)[1].amounts == {"length": "70"}
    assert book.order(kept.number)[1].amounts == {"hip_ease": "6"}
    again = book.save_order(kept, long)
    assert (again.number, again.version) == (kept.number, kept.version + 1)


def test_all_of_a_table_or_nothing(book, tmp_path):
    book.add_client("Zoe")
    bad = tmp_path / "bad.json"
    order_text = json.loads(file.written(order("Ida")))
    order_text["amounts"] = 3
    entry = {
        "client": "Ida",
        "cards": [{"taken": DAY, "card": card("Ida").model_dump()}],
        "orders": [{"stage": "cut", "order": order_text}],
    }
    bad.write_text(json.dumps(entry), encoding="utf-8")
    refused(lambda: add_file(book, bad, DAY))
    assert [one.name for one in book.clients()] == ["Zoe"]


def test_what_comes_out_of_one_client_goes_in_again(book, tmp_path):
    ida = book.add_client("Ida", "two\nlines")
    book.add_card(ida, card("Ida"), "2025-01-01")
    book.add_card(ida, card("Ida", waist="73"), DAY)
    kept = book.add_order(ida, order("Ida"), due="2026-05-01")
    book.set_stage(kept, "cut", "2026-05-01")
    out = tmp_path / "ida.json"
    out.write_text(entry_of(book, ida), encoding="utf-8")
    with Book(tmp_path / "other.book") as other:
        ((again,), none) = add_file(other, out, DAY)
        assert none == ()
        assert entry_of(other, again) == entry_of(book, ida)


def test_nothing_of_a_client_outlives_her(book, place):
    """Looked for in the bytes of everything in the folder."""
    secret = "Wilhelmina Quill"
    kept = book.add_client("Ida")
    book.add_card(kept, card("Ida"), DAY)
    gone = book.add_client(secret, f"{secret} pays in eggs")
    for number in range(40):
        book.add_card(gone, card(secret, waist=f"7{number % 10}"), DAY)
    book.add_order(gone, order(secret))
    book.restore(_copy_of(book, place.with_name("copy.book")))
    place.with_name("copy.book").unlink()
    assert secret.encode() in _bytes_in(place.parent)
    book.forget(gone)
    assert secret.encode() not in _bytes_in(place.parent)
    assert secret.casefold().encode() not in _bytes_in(place.parent)
    assert [one.name for one in book.clients()] == ["Ida"]
    assert len(book.cards(kept)) == 1


def _copy_of(book, path):
    book.back_up(path)
    return path


def _bytes_in(folder):
    return b"".join(path.read_bytes() for path in sorted(folder.iterdir()))


def test_back_up_and_restore(book, tmp_path):
    book.add_client("Ida")
    copy = _copy_of(book, tmp_path / "copy.book")
    assert stat.S_IMODE(copy.stat().st_mode) == 0o600
    book.add_client("Zoe")
    book.restore(copy)
    assert [one.name for one in book.clients()] == ["Ida"]
    before = book.path.with_name(f".{NAME}.before")
    with Book(before) as kept:
        assert len(kept.clients()) == 2
    (tmp_path / "no.book").write_bytes(b"no database at all, but long enough" * 40)
    assert "no client book" in refused(lambda: book.restore(tmp_path / "no.book"))
    assert [one.name for one in book.clients()] == ["Ida"]


@pytest.mark.parametrize("version", [1, 2])
def test_a_backup_of_an_earlier_version_stays_as_it_is(book, tmp_path, version):
    """A copy of it is brought up to date; nothing of that is left beside either."""
    place = tmp_path / "old.book"
    with closing(sqlite3.connect(place)) as old:
        old.executescript(
            f"{book_tables.tables_of(version)}PRAGMA user_version = {version};"
            f"PRAGMA application_id = {book_tables.APPLICATION};"
            "INSERT INTO client VALUES (3, 'Ida Lark', 'ida lark', '');"
        )
    data = place.read_bytes()
    book.add_client("Zoe")
    book.restore(place)
    assert [one.name for one in book.clients()] == ["Ida Lark"]
    assert book.add_client("Nan").number == 4
    assert place.read_bytes() == data
    assert {each.name for each in tmp_path.iterdir()} == {"old.book", "folder"}
    left = [each.name for each in book.path.parent.iterdir() if "restored" in each.name]
    assert left == []
    book.restore(book.path.with_name(f".{NAME}.before"))
    assert [one.name for one in book.clients()] == ["Zoe"], "and back"


@pytest.mark.parametrize(
    ("made", "said"),
    [
        (b"no database" * 100, "no client book"),
        ("CREATE TABLE x (a)", "no client book"),
        ("PRAGMA application_id = 1399550580; PRAGMA user_version = 99", "newer"),
        (
            ENDLESS,
            "no client book",
        ),
    ],
)
def test_a_file_that_is_no_book(place, made, said):
    place.parent.mkdir()
    if isinstance(made, bytes):
        place.write_bytes(made)
    else:
        other = sqlite3.connect(place)
        other.executescript(made)
        other.close()
    before = place.read_bytes()
    assert said in refused(lambda: Book(place))
    assert place.read_bytes() == before


@pytest.mark.parametrize("seed", range(8))
def test_a_damaged_book_gives_what_can_be_read(place, tmp_path, seed):
    with Book(place) as whole:
        for number in range(60):
            one = whole.add_client(f"Client {number}", "notes " * 60)
            whole.add_card(one, card(one.name), DAY)
    data = bytearray(place.read_bytes())
    chance = random.Random(seed)
    page = chance.randrange(1, len(data) // 4096) * 4096
    data[page : page + 4096] = chance.randbytes(4096)
    place.write_bytes(data)
    with Book(tmp_path / "new.book") as saved:
        taken = saved.salvage(place)
        assert (taken.clients, taken.cards) == (len(saved.clients()), _count(saved))
        assert taken.clients + taken.cards == 120 or not taken.whole
        for client in saved.clients():
            assert client.notes == "notes " * 60
            assert all(c.card == card(client.name) for c in saved.cards(client))
    assert place.read_bytes() == bytes(data)


def _count(book):
    return sum(len(book.cards(client)) for client in book.clients())


def test_salvage_goes_beyond_a_gap_and_into_an_empty_book_alone(book, tmp_path):
    for number in range(5):
        book.add_client(f"Client {number}")
    book._file.execute("UPDATE client SET id = 9000 WHERE id = 5")
    with Book(tmp_path / "new.book") as saved:
        assert saved.salvage(book.path) == Salvaged(5, 0, 0, whole=True)
        assert "of its own" in refused(lambda: saved.salvage(book.path))
        assert len(saved.clients()) == 5


def test_while_another_reads_what_is_deleted_is_told_to_be_there_still(book, place):
    gone = book.add_client("Ida")
    book._file.execute("PRAGMA busy_timeout = 50")
    with Book(place) as other:
        other._file.execute("BEGIN")
        other.clients()
        assert "another window" in refused(lambda: book.forget(gone))
        other._file.execute("ROLLBACK")
    assert book.clients() == ()


def test_days_are_kept_in_one_way_of_writing(book, tmp_path):
    cards = [
        {"taken": "20260101", "card": card("Else", waist="60").model_dump()},
        {"taken": "2026-11-01", "card": card("Else", waist="80").model_dump()},
    ]
    place = tmp_path / "ida.json"
    place.write_text(json.dumps({"client": "Ida", "cards": cards}), encoding="utf-8")
    add_file(book, place, DAY)
    latest = book.card_of("Ida")
    assert (latest.name, latest.measurements["waist"]) == ("Ida", "80")


def test_a_damaged_book_is_told_and_left(place):
    with Book(place) as whole:
        for number in range(60):
            whole.add_client(f"Client {number}", "notes " * 60)
    data = bytearray(place.read_bytes())
    data[4096:] = b"\xff" * (len(data) - 4096)
    place.write_bytes(data)
    with Book(place) as opened:
        assert "damaged" in refused(opened.clients)
    assert place.read_bytes() == bytes(data)


def test_a_book_whose_damage_is_no_text_is_told_too(place):
    """SQLite quotes the damaged words as they stand, in bytes that are no letters."""
    with Book(place) as whole:
        whole.add_client("Ida")
    data = place.read_bytes().replace(b"CREATE TABLE client", b"CREATE \xefABLE client")
    place.write_bytes(data)
    assert "damaged" in refused(lambda: Book(place))
    with pytest.raises(FileTrouble):
        load_bytes(path_of(place, 1))
    assert place.read_bytes() == data


def test_a_book_another_holds(book, place, monkeypatch):
    monkeypatch.setattr("skirtwright.workroom.book_file._WAIT_SECONDS", 0.05)
    other = sqlite3.connect(place, isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    with Book(place) as waiting:
        assert waiting.clients() == ()  # It can be read meanwhile.
        assert "another window" in refused(lambda: waiting.add_client("Ida"))
    other.execute("ROLLBACK")
    other.close()
    assert book.add_client("Ida")


def test_a_book_another_holds_is_not_restored_nor_waited_for_without_end(
    book, place, tmp_path
):
    copy = _copy_of(book, tmp_path / "copy.book")
    book.add_client("Zoe")
    with closing(sqlite3.connect(place, isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        with Book(place, wait=0.05) as waiting:
            assert "another window" in refused(lambda: waiting.restore(copy))
        begun = time.monotonic()
        with Book(place, wait=20) as reading:
            assert len(reading.clients()) == 1
        assert time.monotonic() - begun < 10, "to read takes no waiting"
        other.execute("ROLLBACK")
    book.restore(copy)
    assert book.clients() == ()


def test_what_a_held_book_does_not_let_go_is_kept_beside_it_too(
    book, place, tmp_path, monkeypatch
):
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path))
    kept = book.add_order(book.add_client("Ida"), order("Ida"))
    session = autosave.Session(path_of(place, kept.number))
    unsaved = session.keep(order("Ida"))
    session.close()
    with closing(sqlite3.connect(place, isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        with Book(place, wait=0.05) as waiting:
            assert "another" in refused(lambda: forget(waiting, kept.client))
            deleting = partial(deleted_order, waiting, kept)
            assert "another" in refused(deleting)
        other.execute("ROLLBACK")
    assert unsaved.exists()
    with Book(place) as reading:
        book._file.execute("PRAGMA busy_timeout = 50")
        reading._file.execute("BEGIN")
        reading.clients()
        assert "old bytes" in refused(lambda: forget(book, kept.client))
        reading._file.execute("ROLLBACK")
    assert not unsaved.exists()


def test_of_a_damaged_book_no_backup_is_made(place, tmp_path):
    with Book(place) as whole:
        for number in range(60):
            whole.add_client(f"Client {number}", "notes " * 60)
    data = bytearray(place.read_bytes())
    data[-8192:-4096] = b"\xff" * 4096
    place.write_bytes(data)
    copy = tmp_path / "copy.book"
    with Book(place) as opened:
        assert "clients.book is damaged" in refused(lambda: opened.back_up(copy))
    assert list(tmp_path.glob("*copy*")) == []


@pytest.mark.skipif(sys.platform == "win32", reason="no such limit there")
def test_a_full_disk_keeps_the_book_as_it_was(place, tmp_path):
    """A page more than it has is refused, as on a disk that is full."""
    with Book(place) as book:
        book.add_client("Ida")
        (pages,) = book._file.execute("PRAGMA page_count").fetchone()
        book._file.execute(f"PRAGMA max_page_count = {pages}")
        assert "no room left" in refused(lambda: _fill(book))
    with Book(place) as book:
        assert "Ida" in [one.name for one in book.clients()]


def _fill(book):
    for number in range(400):
        book.add_client(f"Client {number}", "x" * 400)


KILLED = """
    import sys
    from pathlib import Path
    from skirtwright.workroom.book import Book
    with Book(Path(sys.argv[1])) as book:
        print("open", flush=True)
        for number in range(100_000):
            one = book.add_client(f"Client {sys.argv[2]} {number}")
            print(one.name, flush=True)
            if number % 3 == 2:
                book.forget(one)
                print(f"-{one.name}", flush=True)
"""


def test_killed_at_any_moment_it_holds_all_it_said_it_held(place):
    """Whatever was told as kept is kept, whatever as deleted is deleted."""
    held = set()
    for turn in range(4):
        child = subprocess.Popen(
            [sys.executable, "-c", textwrap.dedent(KILLED), str(place), str(turn)],
            stdout=subprocess.PIPE,
            text=True,
        )
        child.stdout.readline()
        time.sleep(0.02 + 0.11 * turn)
        child.kill()
        said = [line.strip() for line in child.communicate()[0].splitlines()]
        for line in said:
            (held.discard if line.startswith("-") else held.add)(line.lstrip("-"))
        with Book(place) as book:
            found = {one.name for one in book.clients()}
        assert len(found ^ held) <= 1  # The one it was at.
        held = found


def test_many_clients_are_sought_quickly(tmp_path):
    """That it is quick is printed by bench_book; here, that it asks one question."""
    with Book(tmp_path / NAME) as book:
        asked = []
        book._file.set_trace_callback(asked.append)
        book.clients("ida")
        assert len(asked) == 1


def test_what_another_put_under_an_orders_number_stays_as_it_is(book, tmp_path):
    """Forgotten and another's begun, or a backup of other orders taken over."""
    kept = book.add_order(book.add_client("Bea"), order("Bea"))
    read = book.order_text(kept.number)[1]
    copy = _copy_of(book, tmp_path / "empty.book")
    with Book(copy) as other:
        other.forget(other.client_named("Bea"))
        assert other.add_order(other.add_client("Cleo"), order("Cleo")).number == 2
        other._file.execute("UPDATE skirt SET id = ?", (kept.number,))
    book.restore(copy)
    changed = edits.set_amount(order("Bea"), "length", "51").job
    again = keep_order(book, changed, kept.number, read, DAY)
    assert book.order(kept.number)[1].card.name == "Cleo"
    assert [one.client.name for one in book.orders()] == ["Bea", "Cleo"]
    assert book.order(again.number)[1].amounts == {"length": "51"}
    book.forget(again.client)
    new = keep_order(book, changed, again.number, file.written(changed), DAY)
    assert new.number > again.number
    assert new.client.number > again.client.number
    assert [one.client.name for one in book.orders()] == ["Bea", "Cleo"]


def test_no_number_is_given_twice_after_a_backup_is_taken_over(book, tmp_path):
    copy = _copy_of(book, tmp_path / "empty.book")
    gone = book.add_order(book.add_client("Bea"), order("Bea"))
    book.restore(copy)
    client = book.add_client("Cleo")
    assert client.number > gone.client.number
    assert book.add_order(client, order("Cleo")).number > gone.number
    assert not book.has(gone.client)
