"""Work in processes beside the window: it holds up nothing, and can be stopped."""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from multiprocessing import get_context
from typing import Any

from PySide6.QtCore import QObject, Signal
from shiboken6 import isValid

from skirtwright.app.guard import report
from skirtwright.problems import Problem
from skirtwright.workroom.processes import end_with_parent


class Beside(QObject):
    """Functions of this program, each called with plain values in another process.

    Attributes:
        waiting: how many have not answered yet.

    Signals:
        answered: one did: by what it was known, and what it gave; a Problem where the
            process died.
    """

    answered = Signal(object, object)
    _came = Signal(object, object, object)

    def __init__(self, parent: QObject, workers: int = 1) -> None:
        super().__init__(parent)
        self._workers = workers
        self._pool: ProcessPoolExecutor | None = None
        self.waiting = 0
        # From the thread that hears of the processes into the window's own.
        self._came.connect(self._take)

    def ask(self, known_as: object, work: Callable[..., Any], *values: Any) -> None:
        """Have a function called; it answers by `answered`."""
        if self._pool is None:
            context = get_context("spawn")
            self._pool = ProcessPoolExecutor(self._workers, context, end_with_parent)
        self.waiting += 1
        pool = self._pool
        future = pool.submit(work, *values)
        future.add_done_callback(lambda done: self._come(pool, known_as, done))

    def _come(
        self, pool: ProcessPoolExecutor, known_as: object, done: Future[Any]
    ) -> None:
        # In the pool's thread; the window may have gone while a process worked on.
        if pool is self._pool and isValid(self) and not done.cancelled():
            self._came.emit(pool, known_as, done)

    def _take(self, pool: object, known_as: object, done: Future[Any]) -> None:
        if pool is not self._pool:
            return  # Stopped meanwhile.
        self.waiting -= 1
        trouble = done.exception()
        if trouble is None:
            self.answered.emit(known_as, done.result())
            return
        if not isinstance(trouble, BrokenProcessPool):
            report(trouble)
        self.stop()
        self.answered.emit(known_as, Problem("beside.died", "wrong"))

    def stop(self) -> None:
        """Nothing more is begun, and nothing more is heard."""
        pool, self._pool = self._pool, None
        self.waiting = 0
        if pool is not None:
            pool.shutdown(wait=False, cancel_futures=True)
