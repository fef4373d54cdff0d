"""A pattern, a making-up sheet and an order for each of many, into one folder.

The same as `skirtwright batch` does, from the window: in a thread that hands the skirts
to other processes, so that it holds up nothing and can be stopped. Who was done before
is not done again.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import partial
from pathlib import Path
from threading import Event, Thread

from PySide6.QtCore import QObject, Signal
from shiboken6 import isValid

from skirtwright.app.guard import report
from skirtwright.app.side_work import NAME
from skirtwright.job.job import Job
from skirtwright.measures.card import Card
from skirtwright.problems import SkirtwrightError
from skirtwright.workroom.batch import Outcome, dress
from skirtwright.workroom.one_person import Request
from skirtwright.workroom.people import People, Person, RefusedRow

_WORKERS = 2


class _Stopped(Exception):
    """She wants no more of it."""


class FolderPrinting(QObject):
    """One printing at a time.

    Attributes:
        busy: something is being printed.

    Signals:
        told: how one of them ended, how many have, and of how many.
        ended: all have, each with how; or what kept it from going on, a
            `SkirtwrightError`; or None where it was stopped.
    """

    told = Signal(object, int, int)
    ended = Signal(object)
    _came = Signal(object, object)

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self.busy, self._stop = False, Event()
        self._came.connect(self._take)

    def begin(
        self,
        jobs: Sequence[Job],
        refused: Sequence[RefusedRow],
        wanted: Request,
        folder: Path,
    ) -> None:
        """Print these orders, each for a client of another name.

        Args:
            refused: who can have none, and why.
            wanted: what each gets.
            folder: where; it is made when it is not there.
        """
        self.busy, self._stop = True, Event()
        persons = tuple(Person(row, job.card) for row, job in enumerate(jobs, 1))
        people = People(frozenset(), persons, tuple(refused))
        orders = {job.card.name: job for job in jobs}
        work = partial(self._work, self._stop, orders, people, wanted, folder)
        Thread(target=work, name=NAME, daemon=True).start()

    def stop(self) -> None:
        """Begin no more of them; what is done stays, and need not be done again."""
        self._stop.set()

    def _work(
        self,
        stop: Event,
        orders: Mapping[str, Job],
        people: People,
        wanted: Request,
        folder: Path,
    ) -> None:

        def order(card: Card) -> Job:
            if stop.is_set():
                raise _Stopped
            return orders[card.name]

        def tell(outcome: Outcome, done: int, whole: int) -> None:
            if stop.is_set():
                raise _Stopped
            self.told.emit(outcome, done, whole)

        answer: object
        try:
            answer = dress(order, people, wanted, folder, workers=_WORKERS, told=tell)
        except _Stopped:
            answer = None
        except Exception as trouble:  # noqa: BLE001 - it is told in the window's turn
            answer = trouble
        if isValid(self):
            self._came.emit(stop, answer)

    def _take(self, stop: Event, answer: object) -> None:
        if stop is not self._stop:
            return
        self.busy = False
        if isinstance(answer, Exception) and not isinstance(answer, SkirtwrightError):
            report(answer)
            answer = None
        self.ended.emit(answer)
