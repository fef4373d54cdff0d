"""One style for many people: a folder for each, and one table of them all.

A person done before is not done again unless her order, or what is wanted, is
another; the note of it lies in her folder. An order in it that is not as it was made
there, or was never made there, is somebody's work: it is told and left.
"""

from __future__ import annotations

import csv
import hashlib
import io
import json
import os
import re
from collections import deque
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from concurrent.futures import (
    Executor,
)
from contextlib import contextmanager, suppress
from dataclasses import asdict, dataclass, field
from pathlib import Path

from skirtwright import __version__
from skirtwright.job import file
from skirtwright.job.job import Job
from skirtwright.job.reading import load_bytes
from skirtwright.job.saving import save_whole, take_away, trouble_with
from skirtwright.measures.card import Card
from skirtwright.measures.measurements import SIDES
from skirtwright.measures.records import Record
from skirtwright.measures.strict_json import read_as, read_strict
from skirtwright.problems import BadInput, FileTrouble, Problem, SkirtwrightError
from skirtwright.words import Manner, in_one_sentence, plain, say
from skirtwright.workroom.one_person import (
    ORDER,
    PATTERN,
    SHEET,
    PersonFiles,
    Request,
)
from skirtwright.workroom.people import People
from skirtwright.workroom.processes import Task, pool_of, worked

NOTE, TABLE = ".made.json", "summary.csv"
_LETTERS = 50
"""Of a client's name in the name of her folder; four bytes each at most."""


@dataclass(frozen=True)
class Outcome:
    """How one row of the table ended.

    Attributes:
        folder: the name of her folder; empty where none was made.
        wrong, cautions: the sentences of the findings.
        finished: finished measures, mm.
        refused: why she has no pattern; empty when she has one.
        before: True when it was done by an earlier run.
    """

    name: str
    row: int
    folder: str = ""
    wrong: Sequence[str] = ()
    cautions: Sequence[str] = ()
    finished: Mapping[str, float | None] = field(default_factory=dict)
    refused: str = ""
    before: bool = False

    @property
    def called(self) -> str:
        """Her name; where she has none, the row she stands in."""
        return self.name or say("batch.row", {"row": self.row})

    @property
    def needs_a_look(self) -> str:
        """The gravest thing to say of it; empty when all is well."""
        return self.refused or next(iter((*self.wrong, *self.cautions)), "")


class _Note(Record):
    """What lies in a folder once everything else does.

    Attributes:
        key: of the order and of what was wanted.
        files: the check sum of each, by name.
        whole: False while the files are being written.
        wrong, cautions, finished, refused: see `PersonFiles`.
    """

    key: str
    files: dict[str, str]
    whole: bool = True
    wrong: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    finished: dict[str, float | None] = {}
    refused: str = ""


def dress(
    order: Callable[[Card], Job],
    people: People,
    wanted: Request,
    folder: Path,
    *,
    workers: int = 1,
    scheduler: str = "",
    told: Callable[[Outcome, int, int], None] = lambda _outcome, _done, _all: None,
) -> tuple[Outcome, ...]:
    """Make one style for everyone in a table.

    Args:
        folder: where; it is made when it is not there.
        workers: processes; 1 works in this one.
        scheduler: the address of a Dask scheduler whose workers do it instead.
        told: called after each, with how many are done of how many.

    Returns:
        How each row ended, in the order of the table.

    Raises:
        BadInput: no scheduler can be worked with at that address.
        FileTrouble: something cannot be written, or a process died; who was done is
            done.
    """
    _check_table(folder)
    whole = len(people.persons) + len(people.refused)
    ended: list[Outcome] = []
    alone = workers == 1 or len(people.persons) == 1
    with pool_of(0 if alone else workers, scheduler) as pool, _folder_made(folder):
        for outcome in _outcomes(order, people, wanted, folder, pool):
            ended.append(outcome)
            told(outcome, len(ended), whole)
    ended.sort(key=lambda outcome: outcome.row)
    save_whole(folder / TABLE, summary(ended))
    return tuple(ended)


def _check_table(folder: Path) -> None:
    """Refuse a folder whose table of all is another's.

    Raises:
        BadInput: there is one that was not written here.
    """
    there = folder / TABLE
    heading = summary(()).strip()
    if there.exists() and not load_bytes(there).startswith(heading):
        raise BadInput("batch.another_table", str(there), file=TABLE)


def _outcomes(
    order: Callable[[Card], Job],
    people: People,
    wanted: Request,
    folder: Path,
    pool: tuple[Executor, int] | None,
) -> Iterator[Outcome]:
    """How each row ends, as they come; no more orders are held than are worked."""
    for row in people.refused:
        yield _refused(row.row, row.name, row.problem)
    ended: deque[Outcome] = deque()
    tasks = _tasks(order, people, wanted, folder, ended)
    for task, made in worked(tasks, wanted, pool):
        while ended:
            yield ended.popleft()
        yield _kept(folder, task, made)
    yield from ended


def summary(ended: Iterable[Outcome]) -> bytes:
    """The table of all, as CSV: lengths in mm, one row a person."""
    written = io.StringIO()
    table = csv.writer(written)
    measures = ("waist", "hip", "length", "sweep")
    heading = ["row", "name", "folder", "state", "wrong", "cautions", "says"]
    table.writerow([*heading, *(f"{measure}_mm" for measure in measures)])
    for one in ended:
        finished = one.finished or {}
        values = [finished.get(measure) for measure in measures]
        shown = ["" if value is None else f"{value:.1f}" for value in values]
        counts = [len(one.wrong), len(one.cautions)]
        named = [_plain(text) for text in (one.name, one.folder)]
        row = [one.row, *named, state(one), *counts, _plain(one.needs_a_look)]
        table.writerow([*row, *shown])
    return written.getvalue().encode()


def _plain(text: str) -> str:
    """A text that no table reckoner takes for a formula.

    OWASP, CSV Injection: a cell that begins with one of these is worked out.
    """
    shown = plain(text)
    return f"'{shown}" if shown.startswith(("=", "+", "-", "@")) else shown


def state(one: Outcome) -> str:
    """How it ended, in one word of tables and reports."""
    if one.refused:
        return "refused"
    return "wrong" if one.wrong else "look" if one.cautions else "done"


def check_columns(needed: Iterable[str], people: People, what: str) -> None:
    """Refuse a table without a column that everyone's order needs.

    Args:
        needed: names of measurements, each of which may be taken left and right.

    Raises:
        BadInput: naming the first that lacks.
    """
    for name in needed:
        if not {name, *(f"{name}_{side}" for side in SIDES)} & people.measured:
            raise BadInput("people.no_column", what, what=what, column=name)


@contextmanager
def _folder_made(folder: Path) -> Iterator[None]:
    """A folder; one that was made for it goes again when work ends with it empty."""
    is_new = not os.path.lexists(folder)
    _make_folder(folder)
    try:
        yield
    finally:
        if is_new:
            with suppress(OSError):  # It holds what was made.
                folder.rmdir()


def _make_folder(folder: Path) -> None:
    try:
        folder.mkdir(exist_ok=True)
    except OSError as trouble:
        raise trouble_with(folder, trouble) from trouble


def _tasks(
    order: Callable[[Card], Job],
    people: People,
    wanted: Request,
    folder: Path,
    ended: deque[Outcome],
) -> Iterator[Task]:
    """The orders still to be worked; who need not be is put to those that ended."""
    taken: set[str] = set()
    for person in people.persons:
        name = person.card.name
        own = _folder_name(name, taken)
        taken.add(own.casefold())
        try:
            text = file.written(order(person.card))
            whole = json.dumps([__version__, asdict(wanted), text])
            key = hashlib.sha256(whole.encode()).hexdigest()
            task = Task(name, person.row, own, text, key)
            before = _done_before(folder, task)
        except SkirtwrightError as refused:
            ended.append(_refused(person.row, name, refused.problem))
            continue
        if before is None:
            yield task
        else:
            ended.append(before)


def _folder_name(name: str, taken: set[str]) -> str:
    """A client's name as a folder can have it, on every system in common use."""
    usable = re.sub(r'[\x00-\x1f\x7f<>:"/\\|?*]', " ", name)[:_LETTERS].strip(" .")
    usable = re.sub(r"\s+", " ", usable) or "client"
    if usable.casefold() == TABLE or re.fullmatch(_NOT_FOLDERS, usable, re.IGNORECASE):
        usable += " 1"
    number, free = 1, usable
    while free.casefold() in taken:
        number += 1
        free = f"{usable} {number}"
    return free


_NOT_FOLDERS = r"(con|prn|aux|nul|com\d|lpt\d)(\..*)?"
"""Names that Windows keeps for devices."""


def _refused(row: int, name: str, problem: Problem) -> Outcome:
    return Outcome(name, row, refused=in_one_sentence(problem))


def _kept(folder: Path, task: Task, made: PersonFiles) -> Outcome:
    """Save what was made, its note before as begun and after as whole."""
    own = folder / task.folder
    note = _Note(
        key=task.key,
        files={name: _mark(data) for name, data in made.files.items()},
        wrong=made.wrong,
        cautions=made.cautions,
        finished=dict(made.finished),
        refused=made.refused,
    )
    try:
        with _folder_made(own):
            _save_note(own, note.replace(whole=False))
            for name in {PATTERN, SHEET} - set(made.files):
                take_away(own / name)
            for name, data in made.files.items():
                save_whole(own / name, data)
            _save_note(own, note)
    except FileTrouble as trouble:
        return _refused(task.row, task.name, trouble.problem)
    return _outcome(task, note, before=False)


def _save_note(own: Path, note: _Note) -> None:
    save_whole(own / NOTE, json.dumps(note.model_dump(), indent=1).encode())


def _done_before(folder: Path, task: Task) -> Outcome | None:
    """How a task ended in an earlier run; None when it is to be done.

    Raises:
        BadInput: there is an order in her folder that was not made there, or that was
            changed since.
    """
    own = folder / task.folder
    note = _note_in(own)
    if os.path.lexists(own / ORDER) and not (note and _is_as_made(own, note)):
        values = {"file": ORDER, "folder": task.folder}
        raise BadInput("batch.order_changed", str(own), **values)
    if note is None or not note.whole or note.key != task.key:
        return None
    try:
        same = all(
            _mark(load_bytes(own / name)) == mark for name, mark in note.files.items()
        )
    except FileTrouble:  # One of them is gone: she is done again.
        return None
    return _outcome(task, note, before=True) if same else None


def _note_in(own: Path) -> _Note | None:
    """The note in a folder; None where there is none that can be read."""
    try:
        return read_as(_Note, read_strict(load_bytes(own / NOTE), NOTE), NOTE)
    except SkirtwrightError:
        return None


def _is_as_made(own: Path, note: _Note) -> bool:
    """Whether the order is the one made there, or was just being written."""
    return not note.whole or _mark(load_bytes(own / ORDER)) == note.files.get(ORDER)


def _mark(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()


def _outcome(task: Task, note: _Note, *, before: bool) -> Outcome:
    return Outcome(
        task.name,
        task.row,
        task.folder,
        note.wrong,
        note.cautions,
        note.finished,
        note.refused,
        before,
    )


def said(outcome: Outcome, done: int, whole: int, manner: Manner) -> str:
    """One line of how it goes."""
    values = {"done": done, "all": whole, "name": outcome.called}
    if outcome.refused:
        return say("batch.refused", values | {"why": outcome.refused}, manner)
    if outcome.needs_a_look:
        return say("batch.look", values | {"why": outcome.needs_a_look}, manner)
    return say("batch.before" if outcome.before else "batch.done", values, manner)
