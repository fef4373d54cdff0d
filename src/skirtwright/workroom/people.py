"""People from a table: one client a row, a measurement a column.

The table is CSV as RFC 4180 has it, parted by commas, or by
semicolons or tabs where the heading is. Each row is taken or refused by itself.
"""

from __future__ import annotations

import csv
import io
import re
import unicodedata
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import get_args

from skirtwright.budget import LARGEST
from skirtwright.measures.card import Card, read_age
from skirtwright.measures.letters import check_letters
from skirtwright.measures.measurements import known_measurement, read_measurement
from skirtwright.measures.units import Unit
from skirtwright.problems import BadInput, Problem, SkirtwrightError

NAME, UNIT, NOTES, AGE = "name", "unit", "notes", "age"
MOST_PEOPLE = 20_000
"""Rows of one table; more are parted into several."""

_PARTINGS = ",;\t"
_LONGEST_NAME = 200


@dataclass(frozen=True)
class Person:
    """One row that can be used.

    Attributes:
        row: its number in the file, the heading being 1.
        card: the measurements, as typed.
    """

    row: int
    card: Card


@dataclass(frozen=True)
class RefusedRow:
    """One row that cannot be used.

    Attributes:
        row: its number in the file, the heading being 1.
        name: whose it is, as far as that can be read.
    """

    row: int
    name: str
    problem: Problem


@dataclass(frozen=True)
class People:
    """A table as read: every row of it is in one of the two.

    Attributes:
        measured: the names of the measurements there is a column for.
        refused: rows that cannot be used, in the order of the table.
    """

    measured: frozenset[str]
    persons: tuple[Person, ...]
    refused: tuple[RefusedRow, ...]


def read_people(data: bytes, what: str, unit: Unit = "cm") -> People:
    """The people of a table.

    Args:
        what: its name, for refusals.
        unit: of numbers in rows that state none.

    Raises:
        BadInput: it is empty, too large or no text, or its heading cannot be read.
    """
    rows = _rows(_text(data, what), what)
    first = next(rows, None)
    if first is None:
        raise BadInput("people.empty", what, what=what)
    columns = _columns(first[1], what)
    reading = _Reading(columns, unit)
    for row, cells in rows:
        if len(reading.persons) + len(reading.refused) == MOST_PEOPLE:
            raise BadInput("people.too_many", what, what=what, most=MOST_PEOPLE)
        reading.take(row, cells)
    if not (reading.persons or reading.refused):
        raise BadInput("people.nobody", what, what=what)
    measured = frozenset(columns) - {NAME, UNIT, NOTES, AGE}
    return People(measured, tuple(reading.persons), tuple(reading.refused))


def _text(data: bytes, what: str) -> str:
    if len(data) > LARGEST:
        values = {"what": what, "most": LARGEST / 1e6}
        raise BadInput("people.too_large", what, **values)
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as trouble:
        row = data[: trouble.start].count(b"\n") + 1
        raise BadInput("people.no_text", what, what=what, row=row) from trouble
    if "\0" in text:
        row = text[: text.index("\0")].count("\n") + 1
        raise BadInput("people.no_text", what, what=what, row=row)
    return text


def _rows(text: str, what: str) -> Iterator[tuple[int, list[str]]]:
    """Each row that holds anything, with its number."""
    heading = text.split("\n", 1)[0]
    parting = max(_PARTINGS, key=heading.count)
    lines = io.StringIO(text, newline="")
    reader = csv.reader(lines, delimiter=parting, strict=True)
    row = 1
    try:
        for cells in reader:
            trimmed = [cell.strip() for cell in cells]
            if any(trimmed):
                yield row, trimmed
            row = reader.line_num + 1
    except csv.Error as trouble:
        raise BadInput("people.quotes", what, what=what, row=row) from trouble


def _columns(heading: Sequence[str], what: str) -> tuple[str, ...]:
    """What stands in each column.

    Raises:
        BadInput: one is of nothing known, stands twice, or there is none for names.
    """
    columns = tuple(_column(cell, what) for cell in heading)
    for number, name in enumerate(columns):
        if name in columns[:number]:
            raise BadInput("people.column_twice", what, what=what, column=name)
    if NAME not in columns:
        raise BadInput("people.no_names", what, what=what)
    return columns


def _column(cell: str, what: str) -> str:
    name = check_letters(cell, what).casefold().replace(" ", "_")
    if name in (NAME, UNIT, NOTES, AGE):
        return name
    try:
        return known_measurement(name).name
    except BadInput as refused:
        values = {"what": what, "column": cell or " "}
        near = refused.problem.values.get("nearest", "")
        raise BadInput("people.column", what, **values, nearest=near) from refused


@dataclass
class _Reading:
    """The rows of one table, read one after another."""

    columns: Sequence[str]
    unit: Unit
    persons: list[Person] = field(default_factory=list)
    refused: list[RefusedRow] = field(default_factory=list)
    _met: dict[str, int] = field(default_factory=dict)

    def take(self, row: int, cells: Sequence[str]) -> None:
        """Take a row, or refuse it."""
        held = dict(zip(self.columns, cells, strict=False))
        name = held.get(NAME, "")
        try:
            card = self._card(row, cells, held)
        except SkirtwrightError as refused:
            self.refused.append(RefusedRow(row, name[:_LONGEST_NAME], refused.problem))
            return
        self._met[name_key(card.name)] = row
        self.persons.append(Person(row, card))

    def _card(self, row: int, cells: Sequence[str], held: dict[str, str]) -> Card:
        """The card of a row.

        Raises:
            SkirtwrightError: it has too many cells, no name or one met before, or a
                cell that cannot be read.
        """
        if len(cells) > len(self.columns):
            values = {"found": len(cells), "wanted": len(self.columns)}
            raise BadInput("people.too_many_cells", str(row), **values)
        name = check_letters(held.pop(NAME, ""), NAME)
        if not name or len(name) > _LONGEST_NAME:
            raise BadInput("people.no_name", str(row), most=_LONGEST_NAME)
        if name_key(name) in self._met:
            before = self._met[name_key(name)]
            raise BadInput("people.twice", name, name=name, row=before)
        unit = _unit(held.pop(UNIT, ""), self.unit)
        notes = check_letters(held.pop(NOTES, ""), NOTES)
        age = read_age(held.pop(AGE, ""))
        taken = {measured: text for measured, text in held.items() if text}
        for measured, text in taken.items():
            read_measurement(measured, text, unit)
        return Card(name=name, measurements=taken, unit=unit, notes=notes, age=age)


def name_key(name: str) -> str:
    """What two ways of writing one name have in common (Unicode, form NFC)."""
    return unicodedata.normalize("NFC", name.strip()).casefold()


def holds_name(text: str, name: str) -> bool:
    """Whether a name stands in a text as a whole, in whatever capitals."""
    wanted = re.escape(name_key(name))
    return bool(wanted and re.search(rf"(?<!\w){wanted}(?!\w)", name_key(text)))


def path_holds_name(path: Path, name: str) -> bool:
    """Whether a file, or a folder of hers it lies in, has a name; not her own home."""
    inner = path.relative_to(Path.home()) if path.is_relative_to(Path.home()) else path
    return holds_name(str(inner), name)


def _unit(text: str, otherwise: Unit) -> Unit:
    known: tuple[Unit, ...] = get_args(Unit)
    if not text:
        return otherwise
    for unit in known:
        if unit == text.casefold():
            return unit
    raise BadInput("people.unit", text, text=text, known=list(known))
