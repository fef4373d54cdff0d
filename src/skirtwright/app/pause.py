"""What waits until a hand is still."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject, QTimer


class Pause(QTimer):
    """Calls for something once a hand has been still for a while.

    A tick may take longer than the while: when it ends the time is up, and moves wait.
    So what is due lets in first all that waits, and any move puts it off.
    """

    def __init__(self, parent: QObject, ms: int, then: Callable[[], object]) -> None:
        super().__init__(parent, singleShot=True)
        self._ms, self._then = ms, then
        self.timeout.connect(self._due)

    def begin(self) -> None:
        """Wait for a pause from now on."""
        self.start(self._ms)

    def put_off(self) -> None:
        """The hand moves: where a pause is waited for, begin anew."""
        if self.isActive():
            self.begin()

    def _due(self) -> None:
        if self.interval():
            # A timer of no time comes after all events that wait.
            self.start(0)
        else:
            self._then()
