"""What she asks for a skirt, and the quote it is written on."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QLineEdit, QPushButton, QWidget

from skirtwright.app.beside import Beside
from skirtwright.app.desk import Desk
from skirtwright.app.due_day import shown_day
from skirtwright.app.fields import sentence_label, tell
from skirtwright.app.files import Files
from skirtwright.app.form import Form
from skirtwright.export.lay_words import material_name
from skirtwright.export.quote import Needed, Quote, Terms, quote_of
from skirtwright.job import file
from skirtwright.job.cloth_edits import set_cloth
from skirtwright.job.cloths import price_with_measure, read_price
from skirtwright.job.prints import today
from skirtwright.job.saving import save_whole
from skirtwright.lay.all_cloths import materials
from skirtwright.measures.units import read_number
from skirtwright.problems import Problem, SkirtwrightError
from skirtwright.words import in_one_sentence, say
from skirtwright.workroom.beside_window import needs, quoted

_AMOUNTS = ("hours", "rate", "notions")
_FIELDS = (*_AMOUNTS, "currency")
_KEPT = ("rate", "currency")
"""What is the same for the next skirt."""

_LONGEST = 12


class QuoteForm(Form):
    """Cloth prices, hours, rate, notions: each may stay open. It adds up as she types.

    Attributes:
        fields: by name; `prices`: by material.
        listed: what is paid for, cloth by cloth.
        total, missing: what it comes to so far, and what has no price.
        ask: makes the sum the price of the order.

    Signals:
        written: the quote is in a file; its path.
        asked: the sum is to be the price of the order.
    """

    written = Signal(object)
    asked = Signal(str)

    def __init__(
        self, desk: Desk, files: Files, parent: QWidget, *, in_book: bool
    ) -> None:
        super().__init__("quote.title", "quote.save", desk.manner, parent)
        self._desk, self._files, self._in_book = desk, files, in_book
        self._needs: Needed | None = None
        self._beside = Beside(self)
        self._beside.answered.connect(self._answered)
        self.prices = {
            material: self._add_price(material)
            for material in materials(desk.look.report.to_cut)
        }
        self.fields = {n: self.add_line(f"quote.field.{n}", _LONGEST) for n in _FIELDS}
        for name in _KEPT:
            self.fields[name].setText(desk.settings.kept_text(f"quote_{name}"))
        self.listed, self.missing = sentence_label("ink"), sentence_label()
        self.total = sentence_label("strong")
        lines = len(self.prices) + 2
        self.add_told({self.listed: lines, self.total: 1, self.missing: 2})
        self.ask = QPushButton(say("quote.ask", manner=desk.manner))
        self.ask.clicked.connect(self._make_price)
        keep = self.ask.sizePolicy()
        keep.setRetainSizeWhenHidden(in_book)
        self.ask.setSizePolicy(keep)
        self.ask.hide()
        self.add_foot(self.ask)
        for line in (*self.prices.values(), *self.fields.values()):
            line.textChanged.connect(self._add_up)
        self.on.clicked.connect(self._save)
        self.finished.connect(self._beside.stop)
        self._lay()

    def _add_price(self, material: str) -> QLineEdit:
        """A line for what a cloth costs, a metre or a yard as she measures now."""
        job, manner = self._desk.job, self._desk.manner
        values = {"cloth": material_name(material, manner)}
        line = self.add_line(f"quote.field.price_{manner.unit}", _LONGEST, values)
        price = job.chosen_cloth(material).price
        if manner.unit != job.unit:
            price = price_with_measure(price, job.unit)
        line.setText(price)
        return line

    def _lay(self) -> None:
        """Have the pieces laid, for how much cloth there is to pay."""
        desk = self._desk
        stops = desk.waits or next(iter(desk.look.report.refusals), None)
        if stops is not None:
            self.on.setEnabled(False)
            self._refuse(SkirtwrightError.of(stops))
            return
        tell(self.total, say("quote.working", manner=desk.manner))
        self._beside.ask(None, needs, file.written(desk.job), desk.manner)

    # What it comes to

    def terms(self) -> Terms:
        """What she typed.

        Raises:
            BadInput: an amount is no number.
        """
        texts = {name: self.fields[name].text().strip() for name in _FIELDS}
        read = {n: read_number(texts[n]) if texts[n] else None for n in _AMOUNTS}
        return Terms(**read, currency=texts["currency"])

    def quote(self) -> Quote | None:
        """What is asked, as far as it is typed; None until the pieces are laid.

        Raises:
            BadInput: an amount is no number.
        """
        if self._needs is None:
            return None
        unit = self._desk.manner.unit
        texts = {
            material: line.text().strip() for material, line in self.prices.items()
        }
        prices = {
            m: read_price(text, unit) if text else None for m, text in texts.items()
        }
        return quote_of(self._needs.at_prices(prices), self.terms(), self._desk.manner)

    def _add_up(self) -> None:
        listed: list[str] = []
        total = missing = ""
        try:
            quote = self.quote()
            if quote is None:
                return
            told = self.terms(), self._desk.manner
            listed = quote.listed(*told)
            total, missing = quote.summed_up(*told)
        except SkirtwrightError as refused:
            self._refuse(refused)
        else:
            tell(self.said, "")
        tell(self.listed, "\n".join(listed), "ink")
        tell(self.total, total, "strong")
        tell(self.missing, missing)
        self.ask.setVisible(self._in_book and bool(total))

    def _make_price(self) -> None:
        quote = self.quote()
        if quote is not None and quote.total is not None:
            self._keep_typed()
            self.asked.emit(self.terms().money(quote.total))

    def _refuse(self, refused: SkirtwrightError) -> None:
        tell(self.said, in_one_sentence(refused.problem, self._desk.manner), "wrong")

    # The page

    def _save(self) -> None:
        """Where to, once what she typed can be read."""
        manner, job = self._desk.manner, self._desk.job
        try:
            self.terms()
            self.quote()
        except SkirtwrightError as refused:
            self._refuse(refused)
            return
        title = say("quote.title", manner=manner)
        called = f"{job.card.name} {job.title or job.draft.title} {title}"
        self._files.ask("quote.save_as", ".pdf", self.write, save=True, called=called)

    def write(self, path: Path) -> None:
        """Work the quote in a process, and write it to a file."""
        terms, manner = self.terms(), self._desk.manner
        self._keep_typed()
        tell(self.said, say("quote.working", manner=manner), "ink")
        self.on.setEnabled(False)
        text = file.written(self._desk.job)
        day = shown_day(today(), manner.language)
        self._beside.ask(path, quoted, text, day, terms, manner)

    def _keep_typed(self) -> None:
        """Her rate for the next quote; in the order what cloths cost, a step each."""
        for name in _KEPT:
            text = self.fields[name].text().strip()
            self._desk.settings.keep_text(f"quote_{name}", text)
        for material, line in self.prices.items():
            price = line.text().strip()
            if self._desk.manner.unit != self._desk.job.unit:
                price = price_with_measure(price, self._desk.manner.unit)
            if price != self._desk.job.chosen_cloth(material).price:
                self._desk.change(set_cloth(self._desk.job, material, price=price))

    def _answered(self, path: Path | None, answer: Needed | bytes | Problem) -> None:
        self.on.setEnabled(True)
        try:
            if isinstance(answer, Problem):
                raise SkirtwrightError.of(answer)
            if isinstance(answer, Needed):
                self._needs = answer
                self._add_up()
            elif path is not None:
                save_whole(path, answer)
                self.accept()
                self.written.emit(path)
        except SkirtwrightError as refused:
            self._refuse(refused)
