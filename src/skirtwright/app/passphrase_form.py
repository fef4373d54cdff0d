"""A passphrase: a new one typed twice, or the one that opens a file."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QLineEdit, QWidget

from skirtwright.app.fields import sentence_label, tell
from skirtwright.app.form import Form
from skirtwright.problems import Problem
from skirtwright.words import Manner, in_one_sentence

_LONGEST = 1_000


class PassphraseForm(Form):
    """Asks for a passphrase.

    Args:
        words: what it is for.
        new: typed twice; it may be left out.

    Signals:
        given: the passphrase; empty where she wants none.
    """

    given = Signal(str)

    def __init__(
        self, words: str, *, new: bool, manner: Manner, parent: QWidget
    ) -> None:
        super().__init__("passphrase.title", "passphrase.go_on", manner, parent)
        self._new = new
        told = sentence_label()
        self._rows.addRow(told)
        tell(told, words, "ink")
        names = ("field", "again") if new else ("field",)
        self.lines = [self.add_line(f"passphrase.{n}", _LONGEST) for n in names]
        for line in self.lines:
            line.setEchoMode(QLineEdit.EchoMode.Password)
        self.add_foot()
        self.on.clicked.connect(self._give)

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
