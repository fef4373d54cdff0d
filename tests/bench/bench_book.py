"""A book of 10,000 clients and 50,000 cards: opened, sought in, beside an empty one.

Run it: `python tests/bench/bench_book.py`.
"""

from __future__ import annotations

import tempfile
import time
from pathlib import Path

CLIENTS, CARDS, TRIES = 10_000, 5, 20
SEARCH_MS, START = 50, 1.1


def main() -> None:
    """Print both figures beside their targets."""
    from skirtwright.measures.card import Card
    from skirtwright.workroom.book import Book

    measured = {"waist": "72", "hip": "98", "waist_to_hip": "20", "waist_to_knee": "58"}
    with tempfile.TemporaryDirectory() as folder:
        empty, full = Path(folder, "empty.book"), Path(folder, "full.book")
        Book(empty).close()
        with Book(full) as book, book.transaction():
            for number in range(CLIENTS):
                client = book.add_client(f"Client {number:05} of the parish")
                for year in range(CARDS):
                    card = Card(name=client.name, measurements=measured)
                    book.add_card(client, card, f"202{year}-01-01")
        opened = {
            path: least(lambda path=path: Book(path).close()) for path in (empty, full)
        }
        with Book(full) as book:
            sought = least(lambda: book.clients("99"))
            named = least(lambda: book.card_of("Client 09999 of the parish"))
    print(f"{CLIENTS} clients, {CLIENTS * CARDS} cards")
    print(f"sought: {1000 * sought:.1f} ms (target {SEARCH_MS})")
    print(f"her latest card by name: {1000 * named:.1f} ms")
    ratio = opened[full] / opened[empty]
    print(f"opened: {ratio:.2f} x an empty one (target {START})")


def least(work: object) -> float:
    """The least of several times, s."""
    taken = []
    for _ in range(TRIES):
        begun = time.perf_counter()
        work()
        taken.append(time.perf_counter() - begun)
    return min(taken)


if __name__ == "__main__":
    main()
