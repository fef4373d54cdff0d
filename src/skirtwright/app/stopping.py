"""A way to stop what takes long in the window's own turn.

The order on the table is worked where the window is, by one worktable. So the work
itself lets the window hear, now and then, and over the window lies a small sheet that
takes all she types and clicks meanwhile: nothing else can be begun.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import Context

from PySide6.QtCore import QCoreApplication, QObject, Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QDialog, QPushButton, QWidget

from skirtwright.app.fields import sentence_label, tell
from skirtwright.app.layouts import in_column
from skirtwright.budget import STOPPED, stoppable
from skirtwright.problems import Refused
from skirtwright.words import Manner, say

AFTER_SECONDS = 0.5
"""Of the processor; what is done sooner shows nothing."""

_EACH_SECONDS = 0.05
"""The window hears so often."""


class Sheet(QDialog):
    """That something takes long, and a button to stop it; Escape does too.

    Attributes:
        button: stops it.
        stopped: she did.
    """

    def __init__(self, manner: Manner, parent: QWidget | None) -> None:
        super().__init__(parent)
        self.setWindowModality(Qt.WindowModality.ApplicationModal)
        words = say("stopping.words", manner=manner)
        self.setWindowTitle(say("stopping.title", manner=manner))
        self.setAccessibleName(words)
        label = sentence_label()
        tell(label, words, "ink")
        self.button = QPushButton(say("stopping.stop", manner=manner))
        # Return may be meant for what she was typing when this came.
        self.button.setAutoDefault(False)
        self.stopped = False
        at_left = (self.button, 0, Qt.AlignmentFlag.AlignLeft)
        in_column(label, at_left, on=self, spacing=12, margins=(20, 20, 20, 16))
        self.button.clicked.connect(self.reject)
        self.rejected.connect(self._stop)

    def _stop(self) -> None:
        self.stopped = True


class Stopping:
    """Offers a stop while something is worked that takes long.

    Args:
        parent: the window the sheet lies over.

    Attributes:
        sheet: what lies over the window, or None.
        asks: the window hears just now, in the middle of the work.
    """

    def __init__(self, manner: Callable[[], Manner], parent: QObject | None) -> None:
        self._manner = manner
        self._parent = parent if isinstance(parent, QWidget) else None
        self.sheet: Sheet | None = None
        self.asks = False
        self._from = self._heard = 0.0

    @contextmanager
    def offered(self) -> Iterator[None]:
        """What is worked inside can be stopped; it then ends in a `Refused`.

        Raises:
            Refused: it was asked for in the middle of other work, or was stopped.
        """
        if self.asks:
            raise Refused(STOPPED)
        self._from = time.thread_time() + AFTER_SECONDS
        try:
            with stoppable(self._is_stopped):
                yield
        finally:
            self._put_away()

    def _is_stopped(self) -> bool:
        """Let the window hear, and tell whether she wants no more of it."""
        now = time.monotonic()
        if time.thread_time() < self._from or now < self._heard + _EACH_SECONDS:
            return False
        if self.sheet is None:
            self._show()
        self.asks = True
        try:
            # In a context of its own: nothing in it counts with what is worked.
            Context().run(QCoreApplication.processEvents)
        finally:
            self.asks = False
            self._heard = time.monotonic()
        return self.sheet is not None and self.sheet.stopped

    def _show(self) -> None:
        self.sheet = Sheet(self._manner(), self._parent)
        if QGuiApplication.overrideCursor() is not None:
            QGuiApplication.changeOverrideCursor(Qt.CursorShape.BusyCursor)
        self.sheet.show()

    def _put_away(self) -> None:
        if self.sheet is not None:
            self.sheet.hide()
            self.sheet.deleteLater()
            self.sheet = None
