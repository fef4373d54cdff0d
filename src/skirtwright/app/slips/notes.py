"""Free notes, taken when she leaves them."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtGui import QFocusEvent
from PySide6.QtWidgets import QPlainTextEdit

from skirtwright.app.guard import guarded


class Notes(QPlainTextEdit):
    """Free notes, taken when she leaves them.

    Signals:
        left: with another text than they had.
    """

    left = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        self._rests_at = ""
        self.setTabChangesFocus(True)
        self.setMinimumHeight(5 * self.fontMetrics().lineSpacing())

    def rest_at(self, text: str) -> None:
        """The notes as they are kept."""
        if text != self._rests_at or not self.hasFocus():
            self._rests_at = text
            if text != self.toPlainText():
                self.setPlainText(text)

    @guarded()
    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        text = self.toPlainText()[:20_000]
        if text != self._rests_at:
            self.left.emit(text)
