"""The file of the client book: its tables and versions, backups, what is salvaged.

One SQLite file, in write-ahead mode, synced at every commit. What is kept in it, and
what is asked of it, stands in `book.py`.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager, suppress
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any, Self, TypeVar

from skirtwright.job.in_book import is_read_only, to_read
from skirtwright.job.saving import (
    companion,
    free,
    is_file_there,
    take_away,
    trouble_with,
)
from skirtwright.problems import BadInput, FileTrouble
from skirtwright.words import Manner, say
from skirtwright.workroom.book_tables import (
    APPLICATION,
    COLUMNS,
    VERSION,
    schema_in,
    schema_of,
    tables_of,
)
from skirtwright.workroom.people import name_key

Unreadable = sqlite3.Error | UnicodeDecodeError
UNREADABLE = (sqlite3.Error, UnicodeDecodeError)
"""What SQLite raises of a file; of one that is damaged it may say why in odd bytes."""

_WAIT_SECONDS = 5.0
_LONGEST = 5_000_000
"""Bytes of one value, in the book of a stranger too."""


@dataclass(frozen=True)
class Salvaged:
    """What was taken in of a damaged book.

    Attributes:
        whole: that was all of it.
    """

    clients: int
    cards: int
    orders: int
    whole: bool

    def said(self, manner: Manner) -> str:
        """A sentence of it."""
        code = "book.salvaged" if self.whole else "book.salvaged_in_part"
        return say(code, vars(self), manner)


_Answer = TypeVar("_Answer")


class BookFile:
    """An open book; closed by `close`, or as a context.

    Attributes:
        read_only: it lies where nothing can be written: what is to be kept is refused.

    Args:
        make: make it, for this user alone, when it is not there or empty.
        wait: how long another that writes is waited for, seconds; 5 for None.

    Raises:
        FileTrouble: it cannot be opened, or another holds it.
        BadInput: it is no client book, damaged, of a newer version, or not there.
    """

    def __init__(
        self, path: Path, *, make: bool = True, wait: float | None = None
    ) -> None:
        self.path = path
        new = not is_file_there(path)
        self.read_only = not new and is_read_only(path)
        if not make and (new or not path.stat().st_size):
            code = "book.none_yet" if new else "book.not_one"
            raise BadInput(code, str(path), what=path.name)
        try:
            if new:
                path.parent.mkdir(0o700, parents=True, exist_ok=True)
                path.touch(0o600)
            wait = _WAIT_SECONDS if wait is None else wait
            self._file = sqlite3.connect(
                to_read(path) if self.read_only else path.absolute().as_uri(),
                timeout=wait,
                isolation_level=None,
                uri=True,
            )
        except OSError as trouble:
            raise trouble_with(path, trouble) from trouble
        except UNREADABLE as trouble:
            raise self._trouble(trouble) from trouble
        try:
            self._told(self._prepare)
        except BaseException:
            self._file.close()
            if new:
                take_away(path)
            raise

    def __enter__(self) -> Self:
        """It, open."""
        return self

    def __exit__(self, *_: object) -> None:
        """Close it."""
        self.close()

    def close(self) -> None:
        """Close it; what is kept is in the one file then."""
        with suppress(*UNREADABLE):  # Another has it open, and will do it.
            self._file.execute("PRAGMA busy_timeout = 0")
            self._file.execute("PRAGMA wal_checkpoint(TRUNCATE)")
        self._file.close()

    def _leave_no_bytes(self, name: str) -> None:
        """Clear the file and what lies beside it of what was deleted."""
        take_away(companion(self.path, "before"))
        try:
            self._file.execute("VACUUM")
            ((held, *_),) = self._file.execute("PRAGMA wal_checkpoint(TRUNCATE)")
        except sqlite3.OperationalError as trouble:
            told = self._trouble(trouble)
            if told.problem.code != "book.locked":
                raise told from trouble
            held = True
        if held:
            raise FileTrouble("book.still_read", str(self.path), name=name)

    # The whole

    def changes(self) -> int:
        """Another number once another window has written in the book."""
        ((number,),) = self._rows("PRAGMA data_version")
        return int(number)

    @contextmanager
    def transaction(self) -> Iterator[None]:
        """All that is changed within is kept, or nothing of it where it ends badly."""
        self._told(lambda: self._file.execute("BEGIN IMMEDIATE"))
        try:
            yield
        except BaseException:
            self._file.execute("ROLLBACK")
            raise
        self._told(lambda: self._file.execute("COMMIT"))

    def back_up(self, path: Path, *, checked: bool = True) -> None:
        """Copy the book, as it stands at one moment, to a file.

        Args:
            checked: refuse to copy a damaged book, since nobody could restore that.

        Raises:
            FileTrouble: it cannot be written; nothing half-written stays.
            BadInput: it is damaged.
        """
        part = companion(path, "part")
        take_away(part)
        try:
            part.touch(0o600)
            with closing(sqlite3.connect(part)) as copy:
                _copy(self._file, copy)
                copy.execute("PRAGMA journal_mode = DELETE")
                if checked and [*copy.execute("PRAGMA quick_check(1)")] != [("ok",)]:
                    raise BadInput("book.damaged", str(self.path), what=self.path.name)
            part.replace(path)
        except OSError as trouble:
            raise trouble_with(path, trouble) from trouble
        except UNREADABLE as trouble:
            told = _told_of(path, trouble)
            of_book = told.problem.code in ("book.damaged", "book.locked")
            raise (self._trouble(trouble) if of_book else told) from trouble
        finally:
            take_away(part)

    def restore(self, path: Path) -> None:
        """Take over all of another book; what was here is kept beside, `.NAME.before`.

        The other stays as it is, of whatever version: a copy of it is brought up to
        date.

        Raises:
            FileTrouble: one of them cannot be read or written.
            BadInput: the other is no client book, damaged, or of a newer version.
        """
        fresh = companion(self.path, "restored")
        with _copied(path, fresh), BookFile(fresh, make=False) as other:
            self.back_up(companion(self.path, "before"), checked=False)
            given: list[tuple[Any, ...]] = []
            with suppress(BadInput):  # A damaged book may be restored too.
                given = self._rows("SELECT name, seq FROM sqlite_sequence")
            self._told(lambda: _copy(other._file, self._file))
            self._continue_numbers(given)

    def _continue_numbers(self, given: list[tuple[Any, ...]]) -> None:
        """Give no number again that was given before all was taken over."""
        taken = dict(self._rows("SELECT name, seq FROM sqlite_sequence"))
        for table, last in given:
            self._change("DELETE FROM sqlite_sequence WHERE name = ?", table)
            highest = max(last, taken.get(table, 0))
            self._change("INSERT INTO sqlite_sequence VALUES (?, ?)", table, highest)

    def salvage(self, path: Path) -> Salvaged:
        """Take in what can be read of a damaged book, which is left as it is.

        Each row is asked for by its number, so that one that cannot be read does not
        keep those after it from being read.

        Raises:
            FileTrouble, BadInput: nothing of it can be read, or this one is not empty.
        """
        if self._rows("SELECT 1 FROM client LIMIT 1"):
            raise BadInput("book.salvage_into", str(self.path), what=self.path.name)
        taken, whole = dict.fromkeys(COLUMNS, 0), True
        try:
            with closing(sqlite3.connect(to_read(path), uri=True)) as old:
                listed = old.execute("SELECT name FROM sqlite_schema").fetchall()
                for table, columns in COLUMNS.items():
                    if (table,) not in listed:  # Of an older book.
                        continue
                    for row in _salvaged(old, table, ", ".join(columns)):
                        kept = row is not None and self._take_in(table, columns, row)
                        taken[table] += kept
                        whole &= kept
        except UNREADABLE as trouble:
            raise _told_of(path, trouble) from trouble
        return Salvaged(taken["client"], taken["card"], taken["skirt"], whole)

    def _take_in(self, table: str, columns: tuple[str, ...], row: tuple[Any]) -> bool:
        """A row of another book; one whose client was lost cannot be taken in."""
        listed, marks = ", ".join(columns), ", ".join("?" * len(columns))
        keep = f"INSERT INTO {table} ({listed}) VALUES ({marks})"  # noqa: S608 - ours
        try:
            self._file.execute(keep, row)
        except sqlite3.IntegrityError:
            return False
        return True

    # Shared

    def _prepare(self) -> None:
        """Make it ready: settings, and tables in a new one; refuse a stranger's."""
        run = self._file.execute
        self._file.setlimit(sqlite3.SQLITE_LIMIT_LENGTH, _LONGEST)
        run("PRAGMA trusted_schema = OFF")
        run("PRAGMA secure_delete = ON")
        run("PRAGMA foreign_keys = ON")
        run("PRAGMA synchronous = FULL")
        self._file.create_function("plain", 1, _plain, deterministic=True)
        (application,) = run("PRAGMA application_id").fetchone()
        (version,) = run("PRAGMA user_version").fetchone()
        (tables,) = run("SELECT count(*) FROM sqlite_schema").fetchone()
        what = self.path.name
        if not (application or version or tables):
            run("PRAGMA journal_mode = WAL")
            self._make_tables()
        elif application != APPLICATION:
            raise BadInput("book.not_one", what, what=what)
        elif version > VERSION:
            raise BadInput("book.newer", what, what=what)
        elif schema_in(self._file) != schema_of(version):
            raise BadInput("book.not_one", what, what=what)
        elif version < VERSION:
            self.back_up(companion(self.path, "before"), checked=False)
            self._upgrade()

    def _make_tables(self) -> None:
        """In one step: another that opens it at the same moment finds none or all."""
        self._file.executescript(
            "BEGIN IMMEDIATE;"
            f"{tables_of(VERSION)}"
            f"PRAGMA application_id = {APPLICATION};"
            f"PRAGMA user_version = {VERSION};"
            "COMMIT;"
        )

    def _upgrade(self) -> None:
        """Put all there is into tables of this version, in one step."""
        run = self._file.execute
        run("PRAGMA temp_store = MEMORY")
        run("PRAGMA foreign_keys = OFF")
        with self.transaction():
            ((version,),) = run("PRAGMA user_version")
            if version < VERSION:  # Another may have done it meanwhile.
                there = {name for kind, name, _ in schema_in(self._file)}
                kept = [name for name in COLUMNS if name in there]
                for name in kept:
                    run(f"CREATE TEMP TABLE old_{name} AS SELECT * FROM {name}")  # noqa: S608 - ours
                for name in reversed(kept):
                    run(f"DROP TABLE {name}")
                for statement in tables_of(VERSION).split(";"):
                    run(statement)
                for name in kept:
                    run(f"INSERT INTO {name} SELECT * FROM old_{name}")  # noqa: S608 - ours
                    run(f"DROP TABLE old_{name}")
                run(f"PRAGMA user_version = {VERSION}")
        run("PRAGMA foreign_keys = ON")

    def _rows(self, asked: str, *values: Any) -> list[tuple[Any, ...]]:
        return self._told(lambda: self._file.execute(asked, values).fetchall())

    def _change(self, asked: str, *values: Any) -> int:
        """The number of the row that was added, if one was."""
        changed = self._told(lambda: self._file.execute(asked, values))
        return changed.lastrowid or 0

    def _told(self, work: Callable[[], _Answer]) -> _Answer:
        """What it gives; what SQLite refuses is told in a sentence."""
        try:
            return work()
        except UNREADABLE as trouble:
            raise self._trouble(trouble) from trouble

    def _trouble(self, trouble: Unreadable) -> FileTrouble | BadInput:
        return _told_of(self.path, trouble)


@lru_cache(maxsize=4096)
def _plain(text: str) -> str:
    """A text as it is sought: few titles are many orders'."""
    return name_key(text)


def put_aside(path: Path, day: str) -> Path:
    """Give a book that cannot be used another name, so that a new one can begin.

    Args:
        day: stands in its new name.

    Returns:
        Where it lies now, with what was not yet written into it.

    Raises:
        FileTrouble: it cannot be moved; all stays.
    """
    aside = free(path.with_stem(f"{path.stem}{ASIDE}{day}"))
    try:
        path.rename(aside)
        for ending in _BESIDE:
            log = path.with_name(path.name + ending)
            if log.exists():
                log.rename(aside.with_name(aside.name + ending))
    except OSError as trouble:
        raise trouble_with(path, trouble) from trouble
    return aside


ASIDE = " damaged "
"""In the name of a book put aside, before the day."""

_BESIDE = ("-wal", "-shm")
"""What SQLite keeps beside a book that is open."""


@contextmanager
def _copied(path: Path, place: Path) -> Iterator[None]:
    """A copy of a book in another place for a while; what is told of it names the book.

    Raises:
        FileTrouble, BadInput: it cannot be read or copied, or is no client book.
    """
    beside = (place.with_name(place.name + ending) for ending in _BESIDE)
    ours = (place, companion(place, "before"), *beside)
    for old in ours:
        take_away(old)
    try:
        _copy_to(path, place)
        yield
    except BadInput as refused:
        if refused.problem.values.get("what") != place.name:
            raise
        code = refused.problem.code
        raise BadInput(code, str(path), what=path.name, file=path.name) from refused
    finally:
        for old in ours:
            take_away(old)


def _copy_to(path: Path, place: Path) -> None:
    """A book, as it stands at one moment, into another file; it is only read."""
    try:
        place.touch(0o600)
        with (
            closing(sqlite3.connect(to_read(path), uri=True)) as source,
            closing(sqlite3.connect(place)) as copy,
        ):
            _copy(source, copy)
            is_empty = not schema_in(copy)
    except OSError as trouble:
        raise trouble_with(place, trouble) from trouble
    except UNREADABLE as trouble:
        raise _told_of(path, trouble) from trouble
    if is_empty:
        raise BadInput("book.not_one", str(path), what=path.name)


def _copy(source: sqlite3.Connection, target: sqlite3.Connection) -> None:
    """Copy all of a database; refused where another holds one of the two."""

    def stop_where_held(status: int, *_: int) -> None:
        # The library has waited as long as the connection says; else it never ends.
        if status in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED):
            held = sqlite3.OperationalError("database is locked")
            held.sqlite_errorcode = status
            raise held

    source.backup(target, progress=stop_where_held)


def _salvaged(
    old: sqlite3.Connection, table: str, listed: str
) -> Iterator[tuple[Any] | None]:
    """Each row of a damaged table by its number; None where one cannot be read."""
    asked = f"SELECT {listed} FROM {table} WHERE id = ?"  # noqa: S608 - ours
    number = missed = 0
    try:
        (last,) = old.execute(f"SELECT max(id) FROM {table}").fetchone()  # noqa: S608 - ours
    except UNREADABLE:
        last = None
    while number < (last or 0) or missed < _MOST_MISSED:
        number += 1
        missed += 1
        try:
            row = old.execute(asked, (number,)).fetchone()
        except UNREADABLE:
            yield None
            continue
        if row is not None:
            missed = 0
            yield row


_MOST_MISSED = 2_000
"""Numbers on end without a row, after which no more are looked for."""


def _told_of(path: Path, trouble: Unreadable) -> FileTrouble | BadInput:
    code = getattr(trouble, "sqlite_errorcode", None)
    primary = None if code is None else code & 0xFF
    values = {"what": path.name, "file": path.name, "folder": str(path.parent)}
    if primary in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED):
        return FileTrouble("book.locked", str(path), **values)
    if primary == sqlite3.SQLITE_FULL:
        return FileTrouble("file.disk_full", str(path), **values)
    if primary == sqlite3.SQLITE_NOTADB:
        return BadInput("book.not_one", str(path), **values)
    if primary == sqlite3.SQLITE_CORRUPT or isinstance(trouble, UnicodeDecodeError):
        return BadInput("book.damaged", str(path), **values)
    if primary == sqlite3.SQLITE_READONLY:
        return FileTrouble("file.read_only", str(path), **values)
    return FileTrouble("file.trouble", str(path), **values, reason=str(trouble))
