"""Work in a thread of its own, so that the window waits for nothing."""

from __future__ import annotations

from collections.abc import Callable
from threading import Event, Thread

from PySide6.QtCore import QCoreApplication, QObject, Signal

from skirtwright.app.guard import report
from skirtwright.budget import bounded
from skirtwright.problems import SkirtwrightError

Work = Callable[[], object]

NAME = "side work"
"""What its threads are called."""


class SideWork(QObject):
    """One piece of work at a time; only what was asked last is heard of.

    Work touches nothing of the window. It is bounded, and stopped where it is when it
    is no longer wanted.

    Signals:
        done: the answers, one for each part; or what kept them away, a
            `SkirtwrightError`. It comes in the window's own turn.
    """

    done = Signal(object)
    _ended = Signal(object, object)

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self.busy, self._stop = False, Event()
        self._ended.connect(self._take)

    def begin(self, *parts: Work) -> None:
        """Work these, one after another and each bounded by itself."""
        self.stop()
        self.busy, self._stop = True, Event()
        given = (parts, self._stop)
        self._thread = Thread(target=self._work, args=given, name=NAME, daemon=True)
        self._thread.start()

    def stop(self) -> None:
        """Want nothing more."""
        self._stop.set()
        self.busy = False

    def finish(self) -> None:
        """Have what is wanted come to its end, and be told, before anything else."""
        if self.busy:
            self._thread.join()
            QCoreApplication.sendPostedEvents(self)

    def _work(self, parts: tuple[Work, ...], stop: Event) -> None:
        answers: object
        try:
            answers = tuple(_bounded(part, stop) for part in parts)
        except Exception as trouble:  # noqa: BLE001 - it is told in the window's turn
            answers = trouble
        if not stop.is_set():
            self._ended.emit(stop, answers)

    def _take(self, stop: Event, answers: object) -> None:
        if stop.is_set():
            return
        self.busy = False
        if isinstance(answers, Exception) and not isinstance(answers, SkirtwrightError):
            report(answers)
        else:
            self.done.emit(answers)


def _bounded(part: Work, stop: Event) -> object:
    with bounded(stop.is_set):
        return part()
