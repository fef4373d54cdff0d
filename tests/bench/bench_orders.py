"""The window beside a book of 10,000 clients and beside one with a single order.

Run it: `python tests/bench/bench_orders.py`. Starts are taken turn about, in processor
time, on a day's first start, so that the slip of orders is filled; and what is sought
in the slip is timed as she types.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path

CLIENTS, CARDS, ORDERS, STARTS = 10_000, 5, 10_000, 7
SEARCH_MS, START = 50, 1.1

START_PROGRAM = """
import time
from PySide6.QtTest import QTest
from skirtwright.app.main import open_window
from skirtwright.app.settings import Settings

settings = Settings()
settings.welcome_done()
settings._kept.remove("opened_on")
settings.write_now()
window = open_window()
QTest.qWaitForWindowExposed(window)
shown = time.process_time()
while window.slips.open_name != "orders":
    QTest.qWait(1)
QTest.qWait(1)
print(shown, time.process_time())
window.close()
"""


def fill(path: Path, clients: int, cards: int, orders: int) -> None:
    """A book with so many in it."""
    from skirtwright.draft import styles
    from skirtwright.job import edits
    from skirtwright.job.job import new_job
    from skirtwright.measures.card import Card
    from skirtwright.workroom.book import Book

    measured = {"waist": "72", "hip": "98", "waist_to_hip": "20", "waist_to_knee": "58"}
    job = new_job(styles.style("straight-block"))
    with Book(path) as book, book.transaction():
        for number in range(clients):
            client = book.add_client(f"Client {number:05} of the parish")
            card = Card(name=client.name, measurements=measured)
            for year in range(cards):
                book.add_card(client, card, f"202{year}-01-01")
            if number < orders:
                day = f"2027-{1 + number % 12:02}-{1 + number % 28:02}"
                book.add_order(client, edits.set_card(job, card).job, day)


def started(home: Path) -> tuple[float, float]:
    """Processor seconds to the window, and until its slip of orders is filled."""
    names = ("XDG_CONFIG_HOME", "XDG_STATE_HOME", "XDG_DATA_HOME")
    env = os.environ | dict.fromkeys(names, str(home))
    env["QT_QPA_PLATFORM"] = "offscreen"
    asked = [sys.executable, "-c", START_PROGRAM]
    done = subprocess.run(asked, env=env, capture_output=True, text=True, check=True)
    shown, filled = map(float, done.stdout.split()[-2:])
    return shown, filled


def main() -> None:
    """Print both figures beside their targets."""
    from skirtwright.workroom.book import Book

    with tempfile.TemporaryDirectory() as folder:
        homes = [Path(folder, name) for name in ("one", "full")]
        books = [home / "skirtwright" / "clients.book" for home in homes]
        fill(books[0], 1, 1, 1)
        fill(books[1], CLIENTS, CARDS, ORDERS)
        taken: dict[Path, list[tuple[float, float]]] = {home: [] for home in homes}
        for _ in range(STARTS):
            for home in homes:
                taken[home].append(started(home))
        with Book(books[1]) as book:
            for text in ("", "9", "99", "parish 99", "straight", "nobody at all"):
                begun = time.process_time()
                book.found_orders(text, 21)
                book.without_orders(text, 21)
                ms = 1000 * (time.process_time() - begun)
                print(f"sought {text!r}: {ms:.1f} ms (target {SEARCH_MS})")
        size = books[1].stat().st_size / 1e6
    print(f"{CLIENTS} clients, {CLIENTS * CARDS} cards, {ORDERS} orders, {size:.0f} MB")
    for number, what in enumerate(("start", "start with the slip filled")):
        one, full = (min(each[number] for each in taken[home]) for home in homes)
        told = f"{full:.3f} s against {one:.3f} s"
        print(f"{what}: {full / one:.3f} x that with one order ({START}); {told}")


if __name__ == "__main__":
    main()
