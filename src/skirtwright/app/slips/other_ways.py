"""How many sheets a print would take laid otherwise, counted while she rests.

It is worked in a thread of its own, so that the window waits for nothing, and stopped
where it is when she goes on.
"""

from __future__ import annotations

from threading import Event, Thread

from PySide6.QtCore import QObject, QTimer, Signal

from skirtwright.app.slips import printing_order
from skirtwright.app.slips.printing_order import Wanted
from skirtwright.budget import bounded
from skirtwright.job.worktable import Look
from skirtwright.problems import Refused
from skirtwright.words import Manner

REST_MS = 600
"""How long a count must stand before the other ways are counted, ms."""


class OtherWays(QObject):
    """Tells, a while after a count, what the other ways of laying would take.

    Signals:
        told: the sentences.
    """

    told = Signal(str)
    _counted = Signal(object, str)

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self._stop = Event()
        self._of: tuple[Wanted, Look, Manner] | None = None
        self._rest = QTimer(self)
        self._rest.setSingleShot(True)
        self._rest.setInterval(REST_MS)
        self._rest.timeout.connect(self._begin)
        self._counted.connect(self._take)

    def count(self, wanted: Wanted, look: Look, manner: Manner) -> None:
        """Count them unless something else is asked before."""
        self.stop()
        self._of = (wanted, look, manner)
        self._rest.start()

    def stop(self) -> None:
        """Count nothing more; what is being counted is dropped."""
        self._rest.stop()
        self._stop.set()

    def _begin(self) -> None:
        if self._of is not None:
            self._stop = Event()
            given = (*self._of, self._stop)
            Thread(target=self._work, args=given, daemon=True).start()

    def _work(self, wanted: Wanted, look: Look, manner: Manner, stop: Event) -> None:
        """In a thread of its own: nothing of the window is touched."""
        try:
            with bounded(stop.is_set):
                words = printing_order.otherwise(wanted, look, manner)
        except Refused:
            # Stopped; or laid that way it asks for more than may be counted.
            return
        if not stop.is_set():
            self._counted.emit(stop, words)

    def _take(self, stop: Event, words: str) -> None:
        if not stop.is_set():
            self.told.emit(words)
