"""The client book by the command line, and orders drafted for a client of it."""

from __future__ import annotations

import io
import json
import sqlite3
import sys
from pathlib import Path

import pytest

from command_line import run
from skirtwright.job import file

PEOPLE = """\
name,waist,hip,waist_to_hip,waist_to_knee,unit
Ottoline Brack,72,98,20,58,
Maud Pell,29 1/8,39 1/2,8,23,in
,72,98,20,58,
"""


@pytest.fixture(autouse=True)
def with_people(elsewhere):
    Path("people.csv").write_text(PEOPLE, encoding="utf-8")


def test_clients_of_a_table_are_taken_in_and_the_rest_told(capsys):
    code, out, _ = run(capsys, "book", "add", "people.csv")
    assert code == 1
    assert "clients: 2" in out
    assert "row 4" in out
    assert Path("XDG_DATA_HOME", "skirtwright", "clients.book").is_file()
    code, out, _ = run(capsys, "book", "list", "maud", "--report", "r.json")
    assert code == 0
    assert "Maud Pell" in out
    assert "Brack" not in out
    (one,) = json.loads(Path("r.json").read_text("utf-8"))["clients"]
    assert (one["name"], one["cards"]) == ("Maud Pell", 1)


def test_an_order_for_a_client_is_drafted_from_her_latest_card(capsys):
    run(capsys, "book", "add", "people.csv")
    asked = ("draft", "straight-block", "--client", "maud pell", "-o", "m.skirt")
    code, out, _ = run(capsys, *asked)
    assert code == 0
    order = file.load(Path("m.skirt"))
    assert (order.card.name, order.unit) == ("Maud Pell", "in")
    assert " in\n" in out
    changed = PEOPLE.replace("29 1/8", "30 1/8")
    Path("people.csv").write_text(changed, encoding="utf-8")
    run(capsys, "book", "add", "people.csv")
    run(capsys, "book", "add", "m.skirt")
    _, out, _ = run(capsys, "book", "list", "--unit", "in")
    assert "29 1/8 in, now 30 1/8 in" in out or "30 1/8 in, now 29 1/8 in" in out
    assert "Straight skirt block" in out
    code, _, err = run(capsys, "check", "straight-block", "--client", "Mod Pell")
    assert code == 2
    assert "Maud Pell" in err


def test_figures_that_return_are_her_latest(capsys):
    for waist in ("29 1/8", "30 1/8", "29 1/8"):
        changed = PEOPLE.replace("29 1/8", waist)
        Path("people.csv").write_text(changed, encoding="utf-8")
        run(capsys, "book", "add", "people.csv")
    run(capsys, "book", "export", "Maud Pell", "-o", "m.json")
    cards = json.loads(Path("m.json").read_text("utf-8"))["cards"]
    taken = [one["card"]["measurements"]["waist"] for one in cards]
    assert taken == ["29 1/8", "30 1/8", "29 1/8"]


def test_one_damaged_card_does_not_shut_the_list(capsys):
    run(capsys, "book", "add", "people.csv")
    place = Path("XDG_DATA_HOME", "skirtwright", "clients.book")
    with sqlite3.connect(place) as book:
        book.execute("UPDATE card SET document = '{' WHERE client = 1")
    book.close()
    code, out, _ = run(capsys, "book", "list")
    assert code == 0
    assert "Ottoline Brack: cannot be read" in out
    assert "Maud Pell: measured" in out


def test_export_forget_and_take_in_again(capsys):
    run(capsys, "book", "add", "people.csv")
    assert run(capsys, "book", "export", "Maud Pell", "-o", "m.json")[0] == 0
    assert run(capsys, "book", "forget", "Maud Pell")[0] == 0
    everything = b"".join(
        path.read_bytes() for path in Path("XDG_DATA_HOME").rglob("*") if path.is_file()
    )
    assert b"Maud" not in everything
    assert b"Brack" in everything
    assert run(capsys, "book", "add", "m.json")[0] == 0
    assert "Maud Pell" in run(capsys, "book", "list")[1]


def test_one_order_is_deleted_by_its_number(capsys):
    run(capsys, "book", "add", "people.csv")
    for name in ("one", "two"):
        asked = ("draft", "straight-block", "--client", "Maud Pell", "-o")
        run(capsys, *asked, f"{name}.skirt")
        run(capsys, "book", "add", f"{name}.skirt")
    assert "block, order 2, Drafted" in run(capsys, "book", "list")[1]
    code, out, _ = run(capsys, "book", "forget-order", "1")
    assert (code, "is deleted" in out) == (0, True)
    listed = run(capsys, "book", "list")[1]
    assert "order 1" not in listed
    assert "order 2" in listed


def test_back_up_restore_and_salvage(capsys):
    run(capsys, "book", "add", "people.csv")
    assert run(capsys, "book", "backup", "copy.book")[0] == 0
    run(capsys, "book", "forget", "Maud Pell")
    code, out, _ = run(capsys, "book", "restore", "copy.book")
    assert code == 0
    assert "clients: 2" in out
    asked = ("book", "salvage", "copy.book", "--book", "new.book")
    code, out, _ = run(capsys, *asked)
    assert (code, "in: clients 2, cards 2" in out) == (0, True)
    listed = run(capsys, "book", "list", "--book", "new.book")[1]
    assert listed == run(capsys, "book", "list")[1]


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        (("add",), "FILE"),
        (("add", "nothing.csv"), "nothing.csv"),
        (("export", "Ida", "-o", "i.json"), "no client"),
        (("export", "Ottoline Brack"), "-o"),
        (("restore", "nothing.book"), "nothing.book"),
        (("restore", "people.csv"), "no client book"),
        (("restore", "empty"), "no client book"),
        (("backup", "people.csv"), "there already"),
        (("list", "--book", "none.book"), "no client book none.book yet"),
        (("salvage", "people.csv"), "clients of its own"),
        (("forget", "Maud Pell", "-o", "x.json"), "-o"),
        (
            ("export", "Maud Pell", "-o", "XDG_DATA_HOME/skirtwright/clients.book"),
            "read",
        ),
        (("list", "--report", "XDG_DATA_HOME/skirtwright/clients.book"), "read"),
        (("add", "people.csv", "--report", "people.csv"), "read"),
        (("backup", "no/where.book"), "The folder no is not there"),
        (("add", "empty", "--book", "new.book"), "empty"),
        (("burn", "it"), "list, add"),
        (("forget-order", "seven"), "seven"),
        (("forget-order", "7"), "Order 7"),
        (("forget-order", "9" * 30), "no number"),
        (("forget-order",), "NUMBER"),
        (("list", "--book", "people.csv"), "no client book"),
    ],
)
def test_what_cannot_be_done_is_said(capsys, asked, said):
    run(capsys, "book", "add", "people.csv")
    Path("empty").touch()
    before = {p: p.read_bytes() for p in Path().rglob("*") if p.is_file()}
    code, _, err = run(capsys, "book", *asked)
    assert code == 2
    assert said in err
    assert err.count("\n") == 1
    assert {p: p.read_bytes() for p in Path().rglob("*") if p.is_file()} == before


class Screen(io.StringIO):
    """Stands in for a terminal."""

    def isatty(self):
        return True


def test_a_client_is_given_out_and_taken_in_with_a_passphrase(capsys, monkeypatch):
    def piped(text, *arguments):
        monkeypatch.setattr(sys, "stdin", io.StringIO(text))
        return run(capsys, "book", *arguments, "--passphrase")

    run(capsys, "book", "add", "people.csv")
    code, _, err = piped("four plain words\n", "export", "Maud Pell", "-o", "m.json")
    assert (code, Path("m.json").exists()) == (2, False)
    assert ".age" in err
    code, _, _ = piped("four plain words\n", "export", "Maud Pell", "-o", "m.age")
    assert code == 0
    sealed = Path("m.age").read_bytes()
    assert sealed.startswith(b"age-encryption.org/v1\n"), "the published format"
    assert b"Maud" not in sealed
    new = ("--book", "new.book")
    code, _, err = run(capsys, "book", "add", "m.age", *new)
    assert code == 2
    assert "m.age opens with its passphrase only" in err
    code, _, err = piped("four plain word\n", "add", "m.age", *new)
    assert code == 2
    assert "This passphrase does not open m.age" in err
    code, out, _ = piped("four plain words\n", "add", "m.age", *new)
    assert code == 0
    assert "clients: 1" in out
    _, out, _ = run(capsys, "book", "list", *new)
    assert "Maud Pell" in out
    code, _, err = piped("\n", "add", "m.age", *new)
    assert code == 2
    assert "There is no passphrase" in err
    code, _, err = piped("four plain words\n", "list")
    assert code == 2
    assert "--passphrase" in err


def test_a_new_passphrase_is_typed_twice_alike(capsys, monkeypatch):
    run(capsys, "book", "add", "people.csv")
    typed = iter(("four plain words", "four plain worms"))
    monkeypatch.setattr(sys, "stdin", Screen())
    monkeypatch.setattr("getpass.getpass", lambda _: next(typed))
    asked = ("export", "Maud Pell", "-o", "m.age", "--passphrase")
    code, _, err = run(capsys, "book", *asked)
    assert (code, Path("m.age").exists()) == (2, False)
    assert "not the same both times" in err
