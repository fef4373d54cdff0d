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


class KeptChild(QObject):
    """A process that stays, warm, and does one thing after another.

    What is asked last is done; what was asked before is left.
    """

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self._process: QProcess | None = None
        self._task: Task | None = None
        self._number = 0

    def ask(self, asked: Sequence[str], job: Job) -> Task:
        """Have something done with an order."""
        if self._process is None:
            process = self._process = QProcess(self)
            process.readyReadStandardOutput.connect(self._read)
            process.finished.connect(self._gone)
            process.finished.connect(process.deleteLater)
            process.errorOccurred.connect(self._gone)
            process.start(sys.executable, CHILD)
        self._number += 1
        self._task = Task(self)
        self._write(list(asked), file.written(job))
        return self._task

    def leave(self, task: Task) -> None:
        """What is done of a task is wanted no more."""
        if task is self._task:
            self._task = None
            self._write([], "")

    def close(self, *, wait: bool = False) -> None:
        """End the process."""
        process, self._process, self._task = self._process, None, None
        if process is not None:
            process.kill()
            if wait:
                process.waitForFinished()

    def _write(self, asked: list[str], order: str) -> None:
        if self._process is not None:
            request = {"number": self._number, "asked": asked, "order": order}
            self._process.write(json.dumps(request).encode() + b"\n")

    def _read(self) -> None:
        while self._process is not None and self._process.canReadLine():
            try:
                news = json.loads(bytes(self._process.readLine().data()))
                number = news.pop("number")
            except (ValueError, AttributeError, KeyError):
                self._discard_process()
                return
            task = self._task
            if task is None or number != self._number:
                continue
            if news.get("done"):
                self._task = None
                task.end(well=True)
            else:
                task.told.emit(news)

    def _gone(self, *_: object) -> None:
        if self.sender() is self._process:
            self._discard_process()

    def _discard_process(self) -> None:
        """It died, or tells what is of no use; the next thing asked starts another."""
        task = self._task
        self.close()
        if task is not None:
            task.end(well=False)


class Task(QObject):
    """One thing that a kept process does.

    Signals:
        told: a line of its news.
        ended: it is over; True when nothing went wrong.
    """

    told = Signal(object)
    ended = Signal(bool)

    def __init__(self, kept: KeptChild) -> None:
        super().__init__(kept)
        self._kept = kept

    def end(self, *, well: bool) -> None:
        """It is over."""
        self.ended.emit(well)
        self.deleteLater()

    def stop(self) -> None:
        """Leave it; nothing more is heard of it."""
        self.blockSignals(True)
        self._kept.leave(self)
        self.deleteLater()

    def fail(self) -> None:
        """What it tells is of no use."""
        self.ended.emit(False)
        self.stop()
