"""Orders of the client book by a path: the book's own, and in it the order's number.

So that what is known by a path, such as what is kept of unsaved work and what was open
last, knows an order of the book as it knows a file.
"""

from __future__ import annotations

import os
from contextlib import closing
from pathlib import Path

from skirtwright.budget import LARGEST
from skirtwright.job.reading import load_bytes as file_bytes
from skirtwright.problems import FileTrouble

SUFFIX = ".book"
"""Of the name of a client book."""

_MOST_DIGITS = 18
"""SQLite numbers rows with 63 bits."""

_WAIT_SECONDS = 0.1


def path_of(book: Path, number: int) -> Path:
    """The path by which an order of a book is known."""
    return book / str(number)


def is_number(text: str) -> bool:
    """Whether a text can be the number of an order."""
    return text.isascii() and text.isdecimal() and len(text) <= _MOST_DIGITS


def in_book(path: Path) -> tuple[Path, int] | None:
    """The book and the number of an order in it; None for a path of a file.

    A book that was moved away is known by its name.
    """
    if not is_number(path.name):
        return None
    book = path.parent
    # Of a name that no file can have `Path` raises, `os.path` does not.
    moved = book.suffix == SUFFIX and not os.path.exists(book)  # noqa: PTH110
    is_file = os.path.isfile(book)  # noqa: PTH113
    return (book, int(path.name)) if is_file or moved else None


def is_there(path: Path) -> bool:
    """Whether there is a file, or a book in which the order may be."""
    known = in_book(path)
    return os.path.isfile(path if known is None else known[0])  # noqa: PTH113


def is_read_only(book: Path) -> bool:
    """Whether a book lies where nothing can be written: a disc, a closed folder."""
    return not all(os.access(place, os.W_OK) for place in (book, book.parent))


def to_read(book: Path) -> str:
    """Where SQLite only reads a book.

    Beside one it may write it makes files of its own; one that cannot be written it
    reads as it is, unless what was last kept lies beside it.
    """
    beside = book.with_name(f"{book.name}-wal")
    as_it_is = is_read_only(book) and not (beside.is_file() and beside.stat().st_size)
    return f"{book.resolve().as_uri()}?{'immutable=1' if as_it_is else 'mode=ro'}"


def load_bytes(path: Path) -> bytes:
    """The content of an order, from its file or from the book.

    Raises:
        FileTrouble: it cannot be read, or is in the book no more.
    """
    known = in_book(path)
    if known is None:
        return file_bytes(path)
    import sqlite3

    book, number = known
    values = {"file": book.name, "folder": str(book.parent)}
    if not os.path.exists(book):  # noqa: PTH110
        raise FileTrouble("book.moved", str(book), **values)
    asked = "SELECT document FROM skirt WHERE id = ?"
    try:
        opened = sqlite3.connect(to_read(book), uri=True, timeout=_WAIT_SECONDS)
        with closing(opened) as shut:
            shut.setlimit(sqlite3.SQLITE_LIMIT_LENGTH, LARGEST)
            found = shut.execute(asked, (number,)).fetchone()
    except (sqlite3.Error, UnicodeDecodeError) as trouble:
        reason = {**values, "reason": str(trouble)}
        raise FileTrouble("file.trouble", str(path), **reason) from trouble
    if found is None:
        raise FileTrouble("file.not_in_book", str(path), **values)
    return str(found[0]).encode()
