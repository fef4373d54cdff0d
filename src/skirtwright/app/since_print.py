"""What changed since the last print, said, and its lines dotted on the table."""

from __future__ import annotations

from functools import partial
from typing import Any

from PySide6.QtCore import QObject, QTimer

from skirtwright.app.line import Ways
from skirtwright.app.printed_before import said_since
from skirtwright.app.side_work import SideWork
from skirtwright.app.window_frame import Frame
from skirtwright.job.worktable import Look
from skirtwright.words import say

_PRINTED = "printed"
"""What is told of the last print."""

_REST_MS = 150
"""How long the order must rest before what changed since is told anew, ms."""


class SincePrint(QObject):
    """Follows the order while what changed since its last print is shown."""

    def __init__(self, window: Frame) -> None:
        super().__init__(window)
        self._window = window
        self._rest = QTimer(self, singleShot=True, interval=_REST_MS)
        self._rest.timeout.connect(self._ask)
        self._work = SideWork(window)
        self._work.done.connect(self._tell)
        window.desk.looked.connect(self._looked)
        # What is dotted is of the order before.
        window.desk.begun.connect(lambda: window.table.show_before(None))

    def show(self, on: bool) -> None:
        """Say what changed since the last print, and dot the lines as they were."""
        window, desk = self._window, self._window.desk
        if on and not desk.job.prints:
            window.acts.by_name["since_print"].setChecked(False)
            words = say("changed.never", manner=desk.manner)
            window.line.tell(_PRINTED, words, {})
        elif on:
            self._ask()
        else:
            self._rest.stop()
            self._work.stop()
            window.table.show_before(None)
            window.line.done(_PRINTED)

    def _looked(self, look: Look) -> None:
        action = self._window.acts.by_name["since_print"]
        if action.isChecked() and look is self._window.desk.look:
            self._work.stop()
            self._rest.start()
            words = say("printing.comparing", manner=self._window.desk.manner)
            self._window.line.tell(_PRINTED, words, self._ways())

    def _ask(self) -> None:
        """What was printed is worked once more, beside the window."""
        desk = self._window.desk
        job, look, printed = desk.job, desk.look, desk.printed
        self._work.begin(lambda: printed.changed(job, look))

    def _tell(self, answers: Any) -> None:
        window, desk = self._window, self._window.desk
        action = window.acts.by_name["since_print"]
        changed = answers[0] if isinstance(answers, tuple) else None
        if changed is None:
            action.setChecked(False)
            return
        one, what = changed
        # It is known by now.
        window.table.show_before(desk.printed.look(desk.job, one))
        words = " ".join(said_since(one, what, desk.manner).splitlines())
        window.line.tell(_PRINTED, words, self._ways())

    def _ways(self) -> Ways:
        """To print again, and to be told no more."""
        actions = self._window.acts.by_name
        paper = partial(actions["paper"].setChecked, True)
        away = partial(actions["since_print"].setChecked, False)
        return {"changed.paper": paper, "changed.away": away}
