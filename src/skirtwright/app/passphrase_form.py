"""A passphrase: a new one typed twice, or the one that opens a file."""

from __future__ import annotations

from PySide6.QtCore import QTimer, Signal
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import (
    QDialog,
    QFormLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QWidget,
)

from skirtwright.app.fields import sentence_label, tell
from skirtwright.app.guard import guarded
from skirtwright.problems import Problem
from skirtwright.words import Manner, in_one_sentence, say

_LONGEST = 1_000


class PassphraseForm(QDialog):
    """Asks for a passphrase.

    Args:
        words: what it is for.
        new: typed twice; it may be left out.
        manner: her unit and language.
        parent: the window.

    Signals:
        given: the passphrase; empty where she wants none.
    """

    given = Signal(str)

    def __init__(
        self, words: str, *, new: bool, manner: Manner, parent: QWidget
    ) -> None:
        super().__init__(parent)
        self._new, self._manner = new, manner
        self.setWindowTitle(say("passphrase.title", manner=manner))
        form = QFormLayout(self)
        form.setContentsMargins(20, 20, 20, 16)
        form.setVerticalSpacing(12)
        told = sentence_label()
        told.setMinimumWidth(360)
        tell(told, words, "ink")
        form.addRow(told)
        self.lines: list[QLineEdit] = []
        for name in ("field", "again") if new else ("field",):
            line = QLineEdit()
            line.setEchoMode(QLineEdit.EchoMode.Password)
            line.setMaxLength(_LONGEST)
            label = QLabel(say(f"passphrase.{name}", manner=manner))
            label.setBuddy(line)
            line.setAccessibleName(label.text().replace("&", ""))
            form.addRow(label, line)
            self.lines.append(line)
        self.said = sentence_label()
        self.on = QPushButton(say("passphrase.go_on", manner=manner))
        self.on.setProperty("main", True)
        self.on.setDefault(True)
        self.away = QPushButton(say("notice.close", manner=manner))
        buttons = QHBoxLayout()
        buttons.setSpacing(8)
        buttons.addWidget(self.on)
        buttons.addWidget(self.away)
        form.addRow(self.said)
        form.addRow(buttons)
        self.on.clicked.connect(self._give)
        self.away.clicked.connect(self.reject)

    def _give(self) -> None:
        typed = {line.text() for line in self.lines}
        if len(typed) > 1:
            self._refuse("sealed.unlike")
        elif not (self._new or all(typed)):
            self._refuse("sealed.no_passphrase")
        else:
            self.accept()
            self.given.emit(*typed)

    def _refuse(self, code: str) -> None:
        words = in_one_sentence(Problem(code, "wrong"), self._manner)
        tell(self.said, words, "wrong")

    @guarded()
    def showEvent(self, event: QShowEvent) -> None:
        """Never smaller than its text."""
        super().showEvent(event)
        QTimer.singleShot(0, self, self.adjustSize)
