"""A piece of work in a process of its own: it holds up nothing, and can be stopped."""

from __future__ import annotations

import json
import sys
from collections.abc import Sequence

from PySide6.QtCore import QObject, QProcess, Signal

from skirtwright.job import file
from skirtwright.job.job import Job

CHILD = ("-m", "skirtwright.job.laid_apart")
"""What is run; what it does is said there."""


class Child(QObject):
    """One process, started at once with an order.

    Args:
        parent: what it belongs to.
        asked: what it is to do.
        job: the order.

    Signals:
        told: a line of its news.
        ended: it is over; True when nothing went wrong.
    """

    told = Signal(object)
    ended = Signal(bool)

    def __init__(self, parent: QObject, asked: Sequence[str], job: Job) -> None:
        super().__init__(parent)
        process = self._process = QProcess(self)
        # Methods of its own: Qt forgets them once this is taken down with its window.
        process.readyReadStandardOutput.connect(self._read)
        process.finished.connect(self._finished)
        process.errorOccurred.connect(self._erred)
        process.start(sys.executable, [*CHILD, *asked])
        process.write(file.written(job).encode())
        process.closeWriteChannel()

    def stop(self, *, wait: bool = False) -> None:
        """End it; nothing more is heard of it.

        Args:
            wait: until it is gone.
        """
        self.blockSignals(True)
        self._process.kill()
        if wait:
            self._process.waitForFinished()

    def _read(self) -> None:
        while self._process.canReadLine() and not self.signalsBlocked():
            try:
                news = json.loads(bytes(self._process.readLine().data()))
            except ValueError:
                news = None
            if isinstance(news, dict):
                self.told.emit(news)
            else:
                self.fail()

    def fail(self) -> None:
        """What it tells is of no use."""
        self.ended.emit(False)
        self.stop()

    def _finished(self, code: int, how: QProcess.ExitStatus) -> None:
        self._read()
        self.ended.emit(code == 0 and how == QProcess.ExitStatus.NormalExit)
        self.deleteLater()

    def _erred(self, what: QProcess.ProcessError) -> None:
        if what == QProcess.ProcessError.FailedToStart:
            self.ended.emit(False)
            self.deleteLater()
