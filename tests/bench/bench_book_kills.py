"""The client book killed at random moments: nothing it said it kept is lost.

Orders kept, saved anew, priced and deleted, unsaved work kept beside it, and books of
both earlier versions brought up to date. Run it:
`python tests/bench/bench_book_kills.py [kills] [seed]`.
"""

from __future__ import annotations

import json
import os
import random
import sqlite3
import subprocess
import sys
import tempfile
import time
from collections import Counter
from contextlib import closing
from pathlib import Path

HERE = Path(__file__).resolve().parent
KILLS, SEED = 300, 20_261_129
LONGEST = 0.8
"""From when the child is ready to its end, s."""

WORKED = """
import json, random, sys
from pathlib import Path
from skirtwright.draft import styles
from skirtwright.job import autosave, edits, file
from skirtwright.job.in_book import path_of
from skirtwright.job.job import new_job
from skirtwright.measures.card import Card
from skirtwright.workroom.book import Book
from skirtwright.workroom.book_entries import keep_order
from skirtwright.workroom.forgetting import deleted_order, forget

place, seed = Path(sys.argv[1]), int(sys.argv[2])
choose, serial = random.Random(seed), 0
style = styles.style("straight-block")
TAKEN = {"waist": "72", "hip": "98", "waist_to_hip": "20", "waist_to_knee": "58"}

def told(step, *what):
    print(json.dumps([step, *what]), flush=True)

def job_of(name, length):
    card = Card(name=name, measurements=TAKEN)
    job = edits.set_card(new_job(style), card).job
    return edits.set_amount(job, "length", str(length)).job

file.read(file.written(job_of("Warm", 50)), "x")
told("ready")
with Book(place) as book:
    told("open")
    while True:
        serial += 1
        orders = book.orders()
        act = choose.choice(("new", "new", "save", "price", "delete", "forget", "work"))
        if act == "new" or not orders:
            name, length = f"Client {seed}-{serial}.", choose.randint(40, 60)
            job = job_of(name, length)
            told("begin", "new", name, length)
            kept = keep_order(book, job, None, None, "2026-11-29")
            told("done", "new", kept.number, name, length)
            continue
        one = choose.choice(orders)
        text = book.order_text(one.number)[1]
        if act == "save":
            length = choose.randint(40, 60)
            job = edits.set_amount(file.read(text, "x"), "length", str(length)).job
            told("begin", "save", one.number, length)
            kept = keep_order(book, job, one.number, text, "2026-11-29")
            told("done", "save", one.number, length)
            assert kept.number == one.number
        elif act == "price":
            told("begin", "price", one.number, str(serial))
            book.set_price(one, str(serial))
            told("done", "price", one.number, str(serial))
        elif act == "work":
            session = autosave.Session(path_of(place, one.number))
            told("begin", "work", one.number)
            session.keep(file.read(text, "x"), autosave.sum_of(text.encode()))
            told("done", "work", one.number)
            session.close()
        elif act == "delete":
            told("begin", "delete", one.number, one.client.name)
            deleted_order(book, one)()
            told("done", "delete", one.number, one.client.name)
        else:
            told("begin", "forget", one.number, one.client.name)
            forget(book, one.client)
            told("done", "forget", one.number, one.client.name)
"""


class Killing:
    """A book, what it is known to hold, and what was found amiss.

    Attributes:
        held: of each order by its number, its client, its length and its price.
    """

    def __init__(self, folder: Path, seed: int) -> None:
        self.place = folder / "skirtwright" / "clients.book"
        self.state = folder / "skirtwright"
        self.choose = random.Random(seed)
        self.held: dict[int, tuple[str, str, str]] = {}
        self.happened: Counter[str] = Counter()
        self.faults: list[str] = []

    def kill(self, kills: int) -> None:
        """So often."""
        for turn in range(kills):
            if turn % 10 == 9:
                self._grow_old(1 + turn // 10 % 2)
            told = self._run(turn)
            begun = told[-1] if told and told[-1][0] == "begin" else None
            for step, *what in told:
                if step == "done":
                    self._note(what)
            self.happened[f"in {begun[1]}" if begun else f"after {told[-1][0]}"] += 1
            self._look(turn, begun)

    def _run(self, turn: int) -> list[list[object]]:
        asked = [sys.executable, "-c", WORKED, str(self.place), str(turn)]
        child = subprocess.Popen(asked, stdout=subprocess.PIPE, text=True)
        assert child.stdout is not None
        first = child.stdout.readline()
        time.sleep(self.choose.random() * LONGEST)
        child.kill()
        rest = child.communicate()[0].splitlines(keepends=True)
        whole = [line for line in (first, *rest) if line.endswith("\n")]
        return [json.loads(line) for line in whole]

    def _note(self, what: list[object]) -> None:
        act, number, *more = what
        if act == "new":
            self.held[number] = (str(more[0]), str(more[1]), "")
        elif act == "save":
            name, _, price = self.held[number]
            self.held[number] = (name, str(more[0]), price)
        elif act == "price":
            name, length, _ = self.held[number]
            self.held[number] = (name, length, str(more[0]))
        elif act in ("delete", "forget"):
            self.held.pop(number)
            if act == "forget":
                self._must_be_gone(str(more[0]))

    def _must_be_gone(self, name: str) -> None:
        """No byte of what was told as forgotten is left."""
        for path in self.state.rglob("*"):
            if path.is_file() and name.encode() in path.read_bytes():
                self.faults.append(f"{name} is in {path.name} still")

    def _grow_old(self, version: int) -> None:
        """The same book as an earlier version had it."""
        from skirtwright.workroom import book_tables

        if not self.place.exists():
            return
        with closing(sqlite3.connect(self.place, isolation_level=None)) as book:
            book.execute("PRAGMA wal_checkpoint(TRUNCATE)")
            kept = {
                n: [*book.execute(f"SELECT * FROM {n}")] for n in book_tables.COLUMNS
            }
        for path in self.place.parent.glob("*clients.book*"):
            path.unlink()
        with closing(sqlite3.connect(self.place, isolation_level=None)) as old:
            old.executescript(
                f"PRAGMA journal_mode = WAL; {book_tables.tables_of(version)}"
                f"PRAGMA application_id = {book_tables.APPLICATION};"
                f"PRAGMA user_version = {version};"
            )
            for name, rows in kept.items():
                if version == 1 and name in ("price", "picture"):
                    continue
                for row in rows:
                    marks = ", ".join("?" * len(row))
                    old.execute(f"INSERT INTO {name} VALUES ({marks})", row)
        if version == 1:
            self.held = {n: (*one[:2], "") for n, one in self.held.items()}

    def _look(self, turn: int, begun: list[object] | None) -> None:
        """What the book holds is what it said, save for what it was at."""
        from skirtwright.job import autosave, file
        from skirtwright.problems import SkirtwrightError
        from skirtwright.workroom.book import Book

        found: dict[int, tuple[str, str, str]] = {}
        try:
            with Book(self.place) as book:
                for one in book.orders():
                    text = book.order_text(one.number)[1]
                    length = file.read(text, "x").amounts["length"]
                    found[one.number] = (one.client.name, length, one.price)
                damage = [*book._file.execute("PRAGMA integrity_check")]
            for work in autosave.left_behind():
                work.job()
        except (SkirtwrightError, sqlite3.Error) as trouble:
            self.faults.append(f"{turn}: {trouble}")
            return
        if damage != [("ok",)]:
            self.faults.append(f"{turn}: {damage[:3]}")
        may_differ = set()
        if begun is not None:
            act, *what = begun[1:]
            named = [n for n, one in found.items() if one[0] == what[0]]
            may_differ = set(named) if act == "new" else {what[0]}
        differ = {
            number
            for number in {*found, *self.held}
            if found.get(number) != self.held.get(number)
        }
        if differ - may_differ:
            self.faults.append(f"{turn}: at {begun}: {sorted(differ - may_differ)[:5]}")
        self.held = found
        left = [p.name for p in self.place.parent.iterdir() if "part" in p.name]
        if left:
            self.happened["half a file was left, to be swept"] += 1


def main(kills: int, seed: int) -> int:
    """Print what was found; 1 when anything was lost."""
    begun = time.perf_counter()
    with tempfile.TemporaryDirectory() as folder:
        for name in ("XDG_STATE_HOME", "XDG_DATA_HOME", "XDG_CONFIG_HOME"):
            os.environ[name] = folder
        killing = Killing(Path(folder), seed)
        killing.kill(kills)
        held = len(killing.held)
    print(f"seed {seed}, {kills} kills in {time.perf_counter() - begun:.0f} s")
    for what, number in sorted(killing.happened.items()):
        print(f"  {what}: {number}")
    print(f"  orders in the end: {held}")
    print(f"  lost, damaged or untold: {len(killing.faults)} (target 0)")
    for fault in killing.faults[:20]:
        print(f"    {fault}")
    return int(bool(killing.faults))


if __name__ == "__main__":
    sys.path[:0] = [str(HERE.parents[1] / "src")]
    given = [int(text) for text in sys.argv[1:]]
    sys.exit(main(*(given + [KILLS, SEED][len(given) :])))
