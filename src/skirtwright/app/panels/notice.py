"""A sentence across the top of the table with what can be done about it.

Never in the way: the table below stays usable, and nothing waits for an answer.
"""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton, QWidget


class Notice(QFrame):
    """One thing to tell, with its buttons; hidden when there is nothing."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("notice", True)
        self.setAccessibleName("")
        self.code = ""
        self._row = QHBoxLayout(self)
        self._row.setContentsMargins(16, 8, 12, 8)
        self._row.setSpacing(8)
        self.words = QLabel()
        self.words.setWordWrap(True)
        self.words.setTextFormat(Qt.TextFormat.PlainText)
        self._row.addWidget(self.words, 1)
        self.buttons: list[QPushButton] = []
        self.hide()

    def tell(
        self, code: str, words: str, ways: list[tuple[str, Callable[[], object]]]
    ) -> None:
        """Tell something.

        Args:
            code: what kind of thing it is; another of the kind takes its place.
            words: the sentences.
            ways: buttons and what each does; each also ends the notice.
        """
        self._clear()
        self.code = code
        self.words.setText(words)
        self.setAccessibleName(words)
        for name, does in ways:
            button = QPushButton(name)
            button.clicked.connect(self._doing(code, does))
            self._row.addWidget(button, 0, Qt.AlignmentFlag.AlignTop)
            self.buttons.append(button)
        self.show()

    def _doing(self, code: str, does: Callable[[], object]) -> Callable[[], None]:
        def run() -> None:
            self.done(code)
            does()

        return run

    def done(self, code: str = "") -> None:
        """Nothing of that kind is left to tell."""
        if code and code != self.code:
            return
        self.code = ""
        self._clear()
        self.hide()

    def _clear(self) -> None:
        for button in self.buttons:
            self._row.removeWidget(button)
            button.hide()
            button.deleteLater()
        self.buttons = []
