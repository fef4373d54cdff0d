"""What was done, in order: each step what it changed of an order."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any

from PySide6.QtGui import QUndoCommand, QUndoStack

from skirtwright.app.guard import guarded
from skirtwright.job.job import Job
from skirtwright.measures.records import Record, fields_of

Difference = tuple[tuple[Any, ...], ...]
"""Of each value in an order that differs: what it was and is, and the way there, by
fields of records, entries of dicts and places in tuples. One flat tuple each, for there
are some for every step."""

_FEW = 4
"""A field in which more than this differs is kept whole."""


def difference(before: Job, after: Job) -> Difference:
    """What differs between two orders, as little of it as there is."""
    found: list[tuple[Any, ...]] = []
    for name in fields_of(Job):
        old, new = getattr(before, name), getattr(after, name)
        within = list(_differing(old, new, (name,)))
        found += within if len(within) <= _FEW else [(old, new, name)]
    return tuple(found)


def _differing(
    old: Any, new: Any, way: tuple[str | int, ...]
) -> Iterator[tuple[Any, ...]]:
    if old is new:
        return
    ours, theirs = _parts(old), _parts(new)
    if type(old) is type(new) and ours and list(ours) == list(theirs):
        for part, value in ours.items():
            yield from _differing(value, theirs[part], (*way, part))
    elif ours or theirs or old != new:
        yield old, new, *way


def _parts(value: Any) -> Mapping[Any, Any]:
    """What a value is made of: the stated fields of a record, entries, members."""
    if isinstance(value, Record):
        return vars(value)
    if isinstance(value, tuple):
        return dict(enumerate(value))
    return value if isinstance(value, dict) else {}


def turned(job: Job, difference: Difference, *, back: bool) -> Job:
    """The order on the other side of a difference."""
    for old, new, *way in difference:
        job = _replaced_at(job, way, old if back else new)
    return job


def _replaced_at(held: Any, way: Sequence[str | int], value: Any) -> Any:
    """A value with another one at the end of the way into it."""
    if not way:
        return value
    part, *rest = way
    if isinstance(held, Record):
        return held.replace(
            **{str(part): _replaced_at(getattr(held, str(part)), rest, value)}
        )
    if isinstance(held, tuple):
        return tuple(
            _replaced_at(v, rest, value) if i == part else v for i, v in enumerate(held)
        )
    return {**held, part: _replaced_at(held[part], rest, value)}


class Change(QUndoCommand):
    """One step: it puts an order on the table, and can put the one before back."""

    def __init__(self, name: str, difference: Difference, history: History) -> None:
        super().__init__(name)
        self._difference, self._history = difference, history

    @guarded()
    def redo(self) -> None:
        self._history.go(self._difference, back=False)

    @guarded()
    def undo(self) -> None:
        self._history.go(self._difference, back=True)


class History(QUndoStack):
    """Undo and redo without limit; its clean place is what the file holds."""

    _job: Job
    _put: Callable[[Job], None]
    _next: Job | None = None

    def do(
        self, name: str, before: Job, after: Job, put: Callable[[Job], None]
    ) -> None:
        """Do a step and remember it; one that changes nothing is not a step."""
        if after == before:
            return
        # Before the first step, and for it alone: it puts the very order it was given.
        self._job, self._next, self._put = before, after, put
        self.push(Change(name, difference(before, after), self))

    def noted(self, job: Job) -> None:
        """The order with something that no step did and none undoes.

        The file does not hold it yet, whichever step it stands at.
        """
        self._job = job
        self.resetClean()

    def go(self, difference: Difference, *, back: bool) -> None:
        """Put the order on the other side of a difference on the table."""
        job = self._next or turned(self._job, difference, back=back)
        # Where it stands in the history, whether or not it can be put on the table.
        self._job, self._next = job, None
        self._put(job)
