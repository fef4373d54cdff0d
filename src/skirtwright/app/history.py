"""What was done, in order: each step the order before and the order after."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtGui import QUndoCommand, QUndoStack

from skirtwright.app.guard import guarded
from skirtwright.job.job import Job


class Change(QUndoCommand):
    """One step: it puts an order on the table, and can put the one before back."""

    def __init__(
        self, name: str, before: Job, after: Job, put: Callable[[Job], None]
    ) -> None:
        super().__init__(name)
        self._before, self._after, self._put = before, after, put

    @guarded()
    def redo(self) -> None:
        """Put the order after the change on the table."""
        self._put(self._after)

    @guarded()
    def undo(self) -> None:
        """Put the order before the change back."""
        self._put(self._before)


class History(QUndoStack):
    """Undo and redo without limit; its clean place is what the file holds."""

    def do(
        self, name: str, before: Job, after: Job, put: Callable[[Job], None]
    ) -> None:
        """Do a step and remember it; one that changes nothing is not a step."""
        if after != before:
            self.push(Change(name, before, after, put))
