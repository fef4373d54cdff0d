"""How many sheets a print would take laid otherwise, counted while she rests."""

from __future__ import annotations

from PySide6.QtCore import QObject, QTimer, Signal

from skirtwright.app.side_work import SideWork
from skirtwright.app.slips import printing_order
from skirtwright.app.slips.printing_order import Wanted
from skirtwright.job.worktable import Look
from skirtwright.words import Manner

REST_MS = 600
"""How long a count must stand before the other ways are counted, ms."""


class OtherWays(QObject):
    """Tells, a while after a count, what the other ways of laying would take.

    Signals:
        told: the sentences.
    """

    told = Signal(str)

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self._of: tuple[Wanted, Look, Manner] | None = None
        self._rest = QTimer(self, singleShot=True, interval=REST_MS)
        self._rest.timeout.connect(self._begin)
        self._work = SideWork(self)
        self._work.done.connect(self._take)

    def count(self, wanted: Wanted, look: Look, manner: Manner) -> None:
        """Count them unless something else is asked before."""
        self.stop()
        self._of = (wanted, look, manner)
        self._rest.start()

    def stop(self) -> None:
        """Count nothing more; what is being counted is dropped."""
        self._rest.stop()
        self._work.stop()

    def _begin(self) -> None:
        if self._of is not None:
            given = self._of
            self._work.begin(lambda: printing_order.otherwise(*given))

    def _take(self, answers: object) -> None:
        # Laid that way it may ask for more than may be counted.
        if isinstance(answers, tuple):
            self.told.emit(answers[0])
