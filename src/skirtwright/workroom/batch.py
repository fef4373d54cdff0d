"""One style for many people: a folder for each, and one table of them all.

A person done before is not done again unless her order, or what is wanted, is
another; the note of it lies in her folder and is written last.
"""

from __future__ import annotations

import csv
import hashlib
import io
import json
import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from concurrent.futures import Future, ProcessPoolExecutor, as_completed
from concurrent.futures.process import BrokenProcessPool
from dataclasses import asdict, dataclass, field
from multiprocessing import get_context
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
from skirtwright.words import Manner, in_one_sentence, say
from skirtwright.workroom.one_person import Made, Wanted, make
from skirtwright.workroom.people import People

NOTE, TABLE = ".made.json", "summary.csv"
_LETTERS = 50
"""Of a client's name in the name of her folder; four bytes each at most."""


@dataclass(frozen=True)
class Outcome:
    """How one row of the table ended.

    Attributes:
        name: whose it is.
        row: its number in the table of people.
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
        wrong, cautions, finished, refused: see `Made`.
    """

    key: str
    files: dict[str, str]
    wrong: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    finished: dict[str, float | None] = {}
    refused: str = ""


@dataclass(frozen=True)
class _Task:
    """One person's order, and where it goes."""

    name: str
    row: int
    folder: str
    text: str
    key: str


def dress(
    order: Callable[[Card], Job],
    people: People,
    wanted: Wanted,
    folder: Path,
    *,
    workers: int = 1,
    told: Callable[[Outcome, int, int], None] = lambda _outcome, _done, _all: None,
) -> tuple[Outcome, ...]:
    """Make one style for everyone in a table.

    Args:
        order: the order of one card.
        people: whom it is made for.
        wanted: what each gets.
        folder: where; it is made when it is not there.
        workers: processes; 1 works in this one.
        told: called after each, with how many are done of how many.

    Returns:
        How each row ended, in the order of the table.

    Raises:
        FileTrouble: something cannot be written, or a process died; who was done is
            done.
    """
    _make_folder(folder)
    whole = len(people.persons) + len(people.refused)
    ended: list[Outcome] = []

    def end(outcome: Outcome) -> None:
        ended.append(outcome)
        told(outcome, len(ended), whole)

    for row in people.refused:
        end(_refused(row.row, row.name, row.problem))
    fresh = []
    for task in _tasks(order, people, wanted, end):
        before = _done_before(folder, task)
        if before is None:
            fresh.append(task)
        else:
            end(before)
    for task, made in _worked(fresh, wanted, workers):
        end(_kept(folder, task, made))
    ended.sort(key=lambda outcome: outcome.row)
    save_whole(folder / TABLE, summary(ended))
    return tuple(ended)


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
        plain = [_plain(text) for text in (one.name, one.folder)]
        row = [one.row, *plain, state(one), *counts, _plain(one.needs_a_look)]
        table.writerow([*row, *shown])
    return written.getvalue().encode()


def _plain(text: str) -> str:
    """A text that no table reckoner takes for a formula.

    OWASP, CSV Injection: a cell that begins with one of these is worked out.
    """
    return f"'{text}" if text.startswith(("=", "+", "-", "@", "\t")) else text


def state(one: Outcome) -> str:
    """How it ended, in one word of tables and reports."""
    if one.refused:
        return "refused"
    return "wrong" if one.wrong else "look" if one.cautions else "done"


def check_columns(needed: Iterable[str], people: People, what: str) -> None:
    """Refuse a table without a column that everyone's order needs.

    Args:
        needed: names of measurements, each of which may be taken left and right.
        people: the table.
        what: its name.

    Raises:
        BadInput: naming the first that lacks.
    """
    for name in needed:
        if not {name, *(f"{name}_{side}" for side in SIDES)} & people.measured:
            raise BadInput("people.no_column", what, what=what, column=name)


def _make_folder(folder: Path) -> None:
    try:
        folder.mkdir(exist_ok=True)
    except OSError as trouble:
        raise trouble_with(folder, trouble) from trouble


def _tasks(
    order: Callable[[Card], Job],
    people: People,
    wanted: Wanted,
    refuse: Callable[[Outcome], None],
) -> Iterator[_Task]:
    """What is to be done for each; who cannot have an order is refused."""
    taken: set[str] = set()
    for person in people.persons:
        name = person.card.name
        try:
            text = file.written(order(person.card))
        except SkirtwrightError as refused:
            refuse(_refused(person.row, name, refused.problem))
            continue
        folder = _folder_name(name, taken)
        taken.add(folder.casefold())
        whole = json.dumps([__version__, asdict(wanted), text])
        key = hashlib.sha256(whole.encode()).hexdigest()
        yield _Task(name, person.row, folder, text, key)


def _folder_name(name: str, taken: set[str]) -> str:
    """A client's name as a folder can have it, on every system in common use."""
    plain = re.sub(r'[\x00-\x1f\x7f<>:"/\\|?*]', " ", name)[:_LETTERS].strip(" .")
    plain = re.sub(r"\s+", " ", plain) or "client"
    if plain.casefold() == TABLE or re.fullmatch(_NOT_FOLDERS, plain, re.IGNORECASE):
        plain += " 1"
    number, free = 1, plain
    while free.casefold() in taken:
        number += 1
        free = f"{plain} {number}"
    return free


_NOT_FOLDERS = r"(con|prn|aux|nul|com\d|lpt\d)(\..*)?"
"""Names that Windows keeps for devices."""


def _worked(
    tasks: Sequence[_Task], wanted: Wanted, workers: int
) -> Iterator[tuple[_Task, Made]]:
    """Each task with what came of it, as they come."""
    if workers == 1 or len(tasks) < 2:
        for task in tasks:
            yield task, make(task.text, wanted)
        return
    context = get_context("spawn")
    count = min(workers, len(tasks))
    with ProcessPoolExecutor(count, context, initializer=_heed_no_stop) as pool:
        waiting = {pool.submit(make, task.text, wanted): task for task in tasks}
        try:
            yield from _finished(waiting)
        finally:
            pool.shutdown(wait=False, cancel_futures=True)


def _finished(waiting: dict[Future[Made], _Task]) -> Iterator[tuple[_Task, Made]]:
    for future in as_completed(list(waiting)):
        task = waiting.pop(future)
        try:
            yield task, future.result()
        except BrokenProcessPool as died:
            raise FileTrouble("people.process_died", task.name) from died


def _heed_no_stop() -> None:
    """A stop from the keyboard is for the process that began the others."""
    import signal

    signal.signal(signal.SIGINT, signal.SIG_IGN)


def _refused(row: int, name: str, problem: Problem) -> Outcome:
    return Outcome(name, row, refused=in_one_sentence(problem))


def _kept(folder: Path, task: _Task, made: Made) -> Outcome:
    """Save what was made, its note last."""
    own = folder / task.folder
    _make_folder(own)
    take_away(own / NOTE)
    for name, data in made.files.items():
        save_whole(own / name, data)
    note = _Note(
        key=task.key,
        files={name: _mark(data) for name, data in made.files.items()},
        wrong=made.wrong,
        cautions=made.cautions,
        finished=dict(made.finished),
        refused=made.refused,
    )
    save_whole(own / NOTE, json.dumps(note.model_dump(), indent=1).encode())
    return _outcome(task, note, before=False)


def _done_before(folder: Path, task: _Task) -> Outcome | None:
    """How a task ended in an earlier run; None when it is to be done."""
    own = folder / task.folder
    try:
        note = read_as(_Note, read_strict(load_bytes(own / NOTE), NOTE), NOTE)
        same = all(
            _mark(load_bytes(own / name)) == mark for name, mark in note.files.items()
        )
    except SkirtwrightError:
        # No note yet, or a damaged one: she is done again.
        return None
    whole = same and note.key == task.key
    return _outcome(task, note, before=True) if whole else None


def _mark(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()


def _outcome(task: _Task, note: _Note, *, before: bool) -> Outcome:
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
