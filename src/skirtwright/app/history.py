"""What was done, in order: each step what it changed of an order."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from PySide6.QtGui import QUndoCommand, QUndoStack

from skirtwright.app.guard import guarded
from skirtwright.job.job import Job
from skirtwright.measures.records import fields_of

Difference = tuple[tuple[str, str | None, Any, Any], ...]
"""Each field of an order that differs, the entry of it, and what it was and is."""


def difference(before: Job, after: Job) -> Difference:
    """What differs between two orders: small, for there is one for every step.

    Of a field that holds entries only those that differ, as long as they are the same
    entries in the same order.
    """
    found: list[tuple[str, str | None, Any, Any]] = []
    for name in fields_of(Job):
        old, new = getattr(before, name), getattr(after, name)
        if old is new:
            continue
        if isinstance(old, dict) and list(old) == list(new):
            found += [(name, k, old[k], new[k]) for k in old if old[k] != new[k]]
        else:
            found.append((name, None, old, new))
    return tuple(found)


def turned(job: Job, difference: Difference, *, back: bool) -> Job:
    """The order on the other side of a difference."""
    changes: dict[str, Any] = {}
    for name, entry, old, new in difference:
        value = old if back else new
        if entry is None:
            changes[name] = value
        else:
            held = changes.get(name, getattr(job, name))
            changes[name] = {**held, entry: value}
    return job.model_copy(update=changes)


class Change(QUndoCommand):
    """One step: it puts an order on the table, and can put the one before back."""

    def __init__(
        self, name: str, difference: Difference, go: Callable[[Difference, bool], None]
    ) -> None:
        super().__init__(name)
        self._difference, self._go = difference, go

    @guarded()
    def redo(self) -> None:
        """Put the order after the change on the table."""
        self._go(self._difference, False)

    @guarded()
    def undo(self) -> None:
        """Put the order before the change back."""
        self._go(self._difference, True)


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
        self.push(Change(name, difference(before, after), self._go))

    def noted(self, job: Job) -> None:
        """The order with something that no step did and none undoes.

        The file does not hold it yet, whichever step it stands at.
        """
        self._job = job
        self.resetClean()

    def _go(self, difference: Difference, back: bool) -> None:
        job = self._next or turned(self._job, difference, back=back)
        # Where it stands in the history, whether or not it can be put on the table.
        self._job, self._next = job, None
        self._put(job)
