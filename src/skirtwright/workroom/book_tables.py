"""The tables of the client book, of every version there was."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from functools import cache

APPLICATION = 0x536B7274
"""Which program's the file is, in its header: `Skrt` in ASCII."""

VERSION = 3
STAGES = ("measured", "drafted", "cut", "fitted", "finished")

_TABLES = f"""
CREATE TABLE IF NOT EXISTS client (
    id INTEGER PRIMARY KEY,
    name TEXT NOT NULL,
    sought TEXT NOT NULL,
    notes TEXT NOT NULL DEFAULT ''
) STRICT;
CREATE INDEX IF NOT EXISTS client_sought ON client (sought);
CREATE TABLE IF NOT EXISTS card (
    id INTEGER PRIMARY KEY,
    client INTEGER NOT NULL REFERENCES client ON DELETE CASCADE,
    taken TEXT NOT NULL,
    document TEXT NOT NULL
) STRICT;
CREATE INDEX IF NOT EXISTS card_client ON card (client, taken);
CREATE TABLE IF NOT EXISTS skirt (
    id INTEGER PRIMARY KEY,
    client INTEGER NOT NULL REFERENCES client ON DELETE CASCADE,
    title TEXT NOT NULL,
    style TEXT NOT NULL,
    stage TEXT NOT NULL CHECK (stage IN {STAGES}),
    due TEXT NOT NULL DEFAULT '',
    version INTEGER NOT NULL DEFAULT 1,
    document TEXT NOT NULL
) STRICT;
CREATE INDEX IF NOT EXISTS skirt_client ON skirt (client);
CREATE INDEX IF NOT EXISTS skirt_due ON skirt (due);
"""

_SINCE_2 = """
CREATE TABLE IF NOT EXISTS price (
    id INTEGER PRIMARY KEY REFERENCES skirt ON DELETE CASCADE,
    asked TEXT NOT NULL
) STRICT;
CREATE TABLE IF NOT EXISTS picture (
    id INTEGER PRIMARY KEY REFERENCES skirt ON DELETE CASCADE,
    lines TEXT NOT NULL
) STRICT;
CREATE INDEX IF NOT EXISTS skirt_listed
    ON skirt (client, stage, due, title, style, version);
"""
"""Prices and pictures, apart from the orders so that these are listed quickly."""


def tables_of(version: int) -> str:
    """The tables of a version; since 3, no number is ever given a second time."""
    made = _TABLES if version == 1 else _TABLES + _SINCE_2
    if version < _NUMBERED_SINCE:
        return made
    return made.replace("PRIMARY KEY,", "PRIMARY KEY AUTOINCREMENT,")


_NUMBERED_SINCE = 3

COLUMNS = {
    "client": ("id", "name", "sought", "notes"),
    "card": ("id", "client", "taken", "document"),
    "skirt": ("id", "client", "title", "style", "stage", "due", "version", "document"),
    "price": ("id", "asked"),
    "picture": ("id", "lines"),
}


def schema_in(open_file: sqlite3.Connection) -> set[tuple[str, str, str]]:
    """What is in an open book: kind, name and statement of each table and index."""
    asked = "SELECT type, name, sql FROM sqlite_schema WHERE sql IS NOT NULL"
    return set(open_file.execute(asked))


@cache
def schema_of(version: int) -> set[tuple[str, str, str]]:
    """The same of a new book of a version."""
    with closing(sqlite3.connect(":memory:")) as made:
        made.executescript(tables_of(version))
        return schema_in(made)
