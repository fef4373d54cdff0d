"""How much cloth the skirt takes, laid while the order rests.

Pieces are laid in a process of their own, first quickly, then in earnest; nothing of
the window waits. It is ended when the order changes; until the next lay is there the
last one's length is told as an estimate.
"""

from __future__ import annotations

import sys

from PySide6.QtCore import QObject, QProcess, QTimer, Signal

from skirtwright.app.desk import Desk
from skirtwright.export.lay_words import bought_words, material_name
from skirtwright.job import file
from skirtwright.job.laid_apart import laid_again
from skirtwright.job.worktable import Look
from skirtwright.lay.all_cloths import materials
from skirtwright.lay.lay import QUICK, TRIES, Lay
from skirtwright.words import say

REST_MS = 400
"""How long the order must rest before its pieces are laid, ms."""

CHILD = ("-m", "skirtwright.job.laid_apart")
"""What is run to lay an order."""


class ClothWork(QObject):
    """Knows what the order takes of each cloth, as it stands or stood last.

    Signals:
        told: it is another, or only an estimate now.
        laid: the order as it stands was laid.
    """

    told = Signal()
    laid = Signal()

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._desk = desk
        self._for: Look | None = None
        self._failed = False
        self.child: QProcess | None = None
        self._laying: Look | None = None
        self._rest = QTimer(self)
        self._rest.setSingleShot(True)
        self._rest.setInterval(REST_MS)
        self._rest.timeout.connect(self._begin)
        desk.looked.connect(self._looked)

    def lines(self) -> tuple[str, ...]:
        """What is told on the table; nothing before the first lay."""
        found = self._desk.laid
        if self._failed:
            return (say("table.cloth_failed", {}, self._desk.manner),)
        if found is None:
            return ()
        known = self._desk.look is self._for
        head = "table.cloth" if known else "table.cloth_about"
        lays = {lay.cloth.material: lay for lay in found.report.lays}
        names = materials(found.report.cut)
        lines = (self._line(name, lays.get(name), found) for name in names)
        return (say(head, {}, self._desk.manner), *lines)

    def wait(self) -> None:
        """Let nothing be laid any more."""
        self._rest.stop()
        if self.child is not None:
            self.child.kill()
            self.child.waitForFinished()

    def _line(self, material: str, lay: Lay | None, found: Look) -> str:
        manner = self._desk.manner
        values = {
            "cloth": material_name(material, manner),
            "width": found.job.cloth(material).width,
        }
        if lay is None:
            return say("table.cloth_narrow", values, manner)
        bought = bought_words(lay.bought, manner.unit)
        return say("table.cloth_line", {**values, "length": bought}, manner)

    def _looked(self, look: Look) -> None:
        if look is self._for:
            return
        if self.child is not None:
            self.child.kill()
        self._rest.start()
        self.told.emit()

    def _begin(self) -> None:
        look = self._desk.look
        if self._desk.waits is not None or not look.drawn:
            return
        if self.child is not None:
            self._rest.start()
            return
        child = self.child = QProcess(self)
        self._laying = look
        # Methods of its own: Qt forgets them once this is taken down with its window.
        child.readyReadStandardOutput.connect(self._read)
        child.finished.connect(self._ended)
        child.errorOccurred.connect(self._erred)
        child.start(sys.executable, [*CHILD, str(QUICK), str(TRIES)])
        child.write(file.written(look.job).encode())
        child.closeWriteChannel()

    def _read(self) -> None:
        child, look = self.child, self._laying
        while child and child.canReadLine() and look is self._desk.look:
            try:
                found = laid_again(look, bytes(child.readLine().data()))
            except ValueError:
                self._tell_failed(look)
                return
            self._failed = False
            self._desk.laid, self._for = found, look
            self.told.emit()
            self.laid.emit()

    def _ended(self, code: int, how: QProcess.ExitStatus) -> None:
        self._let_go()
        if code or how != QProcess.ExitStatus.NormalExit:
            self._tell_failed(self._laying)

    def _erred(self, what: QProcess.ProcessError) -> None:
        if what == QProcess.ProcessError.FailedToStart:
            self._let_go()
            self._tell_failed(self._laying)

    def _let_go(self) -> None:
        child, self.child = self.child, None
        if child is not None:
            child.deleteLater()

    def _tell_failed(self, look: Look | None) -> None:
        """It died, or wrote nothing of use; the order is as it was."""
        if look is self._desk.look and self._for is not look:
            self._failed = True
            self.told.emit()
