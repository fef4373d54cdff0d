"""What she asks for a skirt, and the quote it is written on."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from skirtwright.app.beside import Beside
from skirtwright.app.desk import Desk
from skirtwright.app.fields import tell
from skirtwright.app.files import Files
from skirtwright.app.form import Form
from skirtwright.export.quote import Terms
from skirtwright.job import file
from skirtwright.job.prints import today
from skirtwright.job.saving import save_whole
from skirtwright.measures.units import read_number
from skirtwright.problems import Problem, SkirtwrightError
from skirtwright.words import in_one_sentence, say
from skirtwright.workroom.beside_window import quoted

_AMOUNTS = ("hours", "rate", "notions")
_FIELDS = (*_AMOUNTS, "currency")
_KEPT = ("rate", "currency")
"""What is the same for the next skirt."""

_LONGEST = 12


class QuoteForm(Form):
    """Hours, rate, notions: each may stay open.

    Signals:
        written: the quote is in a file; its path.
    """

    written = Signal(object)

    def __init__(self, desk: Desk, files: Files, parent: QWidget) -> None:
        super().__init__("quote.title", "quote.save", desk.manner, parent)
        self._desk, self._files = desk, files
        self._beside = Beside(self)
        self._beside.answered.connect(self._answered)
        self.fields = {n: self.add_line(f"quote.field.{n}", _LONGEST) for n in _FIELDS}
        for name in _KEPT:
            self.fields[name].setText(desk.settings.kept_text(f"quote_{name}"))
        self.add_foot()
        self.on.clicked.connect(self._ask)
        self.finished.connect(self._beside.stop)

    def terms(self) -> Terms:
        """What she typed.

        Raises:
            BadInput: an amount is no number.
        """
        texts = {name: self.fields[name].text().strip() for name in _FIELDS}
        read = {n: read_number(texts[n]) if texts[n] else None for n in _AMOUNTS}
        return Terms(**read, currency=texts["currency"])

    def _ask(self) -> None:
        """Where to, once what she typed can be read."""
        manner, desk = self._desk.manner, self._desk
        stops = desk.waits or next(iter(desk.look.report.refusals), None)
        try:
            self.terms()
            if stops is not None:
                raise SkirtwrightError.of(stops)
        except SkirtwrightError as refused:
            tell(self.said, in_one_sentence(refused.problem, manner), "wrong")
            return
        tell(self.said, "")
        job = desk.job
        title = say("quote.title", manner=manner)
        called = f"{job.card.name} {job.title or job.draft.title} {title}"
        self._files.ask("quote.save_as", ".pdf", self.write, called=called)

    def write(self, path: Path) -> None:
        """Work the quote in a process, and write it to a file."""
        terms = self.terms()
        for name in _KEPT:
            text = self.fields[name].text().strip()
            self._desk.settings.keep_text(f"quote_{name}", text)
        tell(self.said, say("quote.working", manner=self._desk.manner), "ink")
        self.on.setEnabled(False)
        text = file.written(self._desk.job)
        self._beside.ask(path, quoted, text, today(), terms, self._desk.manner)

    def _answered(self, path: Path, answer: bytes | Problem) -> None:
        self.on.setEnabled(True)
        manner = self._desk.manner
        try:
            if isinstance(answer, Problem):
                raise SkirtwrightError.of(answer)
            save_whole(path, answer)
        except SkirtwrightError as refused:
            tell(self.said, in_one_sentence(refused.problem, manner), "wrong")
            return
        self.accept()
        self.written.emit(path)
