"""Her printer: its name, what she read on the square, and what that means."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QLabel, QLineEdit, QWidget

from skirtwright.app.fields import sentence_label, small_button, tell
from skirtwright.app.layouts import in_column, in_row
from skirtwright.app.slips.printing_rows import LengthRow
from skirtwright.export.correction import (
    AS_IT_IS,
    Correction,
    correction_for,
    put_right,
    with_correction,
)
from skirtwright.job import habits
from skirtwright.job.habits import PRINTERS
from skirtwright.problems import SkirtwrightError
from skirtwright.words import Manner, in_one_sentence, say


class PrinterPart(QWidget):
    """What puts a printer right; kept by its name when something is saved.

    Signals:
        changed: another printer, or another reading.
    """

    changed = Signal()

    def __init__(self) -> None:
        super().__init__()
        self._manner = Manner()
        self._named = ""
        self.label = QLabel()
        self.name = QLineEdit()
        self.name.setMaxLength(80)
        self.label.setBuddy(self.name)
        self.forget_button = small_button("↺", "")
        self.forget_button.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.across = LengthRow("read_across", "mm")
        self.along = LengthRow("read_along", "mm")
        self.meaning = sentence_label()
        named = in_row((self.name, 1), self.forget_button, spacing=6)
        in_column(
            self.label, named, self.across, self.along, self.meaning, on=self, spacing=8
        )
        self.name.editingFinished.connect(self._rename)
        self.forget_button.clicked.connect(self.forget)
        for row in (self.across, self.along):
            row.changed.connect(self._changed)

    @property
    def printer(self) -> str:
        """The printer's name as she calls it; may be empty."""
        return self.name.text().strip()

    def say_again(self, manner: Manner) -> None:
        """In her language; the square is metric for everyone."""
        self._manner = manner
        name = say("printing.printer", manner=manner)
        self.label.setText(name)
        self.name.setAccessibleName(name)
        self.name.setPlaceholderText(say("printing.printer_example", manner=manner))
        for row in (self.across, self.along):
            row.say_again(manner)
        self.tell()

    def correction(self) -> Correction:
        """What the next print is drawn by.

        Raises:
            SkirtwrightError: a reading too far out; the file cannot be read.
        """
        return self._put_right()[0]

    def _put_right(self) -> tuple[Correction, str]:
        readings = (self.across.value, self.along.value)
        if not self.printer and readings == (None, None):
            return AS_IT_IS, ""
        return put_right(habits.kept(PRINTERS), self.printer, *readings)

    def keep(self) -> None:
        """Keep what was read for this printer; the fields are empty after that.

        Raises:
            SkirtwrightError: it cannot be kept.
        """
        if not self.printer or (self.across.value, self.along.value) == (None, None):
            return
        habits.keep(PRINTERS, self._put_right()[1])
        self.across.put(None)
        self.along.put(None)
        self.tell()

    def forget(self) -> None:
        """Print as the printer does by itself."""
        try:
            kept = with_correction(habits.kept(PRINTERS), self.printer, AS_IT_IS)
            habits.keep(PRINTERS, kept)
        except SkirtwrightError as trouble:
            tell(self.meaning, in_one_sentence(trouble.problem, self._manner), "wrong")
            return
        self.across.put(None)
        self.along.put(None)
        self.name.setFocus(Qt.FocusReason.OtherFocusReason)
        self._changed()

    def tell(self) -> None:
        """What name and readings mean for the next print, in one sentence."""
        try:
            correction = self.correction()
            before = correction_for(habits.kept(PRINTERS), self.printer)
        except SkirtwrightError as trouble:
            tell(self.meaning, in_one_sentence(trouble.problem, self._manner), "wrong")
            self.forget_button.hide()
            return
        tell(self.meaning, self._means(correction, before))
        words = {"printer": self.printer}
        name = say("printing.forget", words, self._manner)
        self.forget_button.setAccessibleName(name)
        self.forget_button.setToolTip(name)
        self.forget_button.setVisible(bool(self.printer) and not before.is_none)

    def _means(self, correction: Correction, before: Correction) -> str:
        read = (self.across.value, self.along.value) != (None, None)
        values = {
            "across": correction.across,
            "along": correction.along,
            "printer": self.printer,
        }
        if correction.is_none:
            known = "true" if read or self.printer else "measure"
            return say(f"printing.{known}", values, self._manner)
        if not read:
            return say("printing.put_right", values, self._manner)
        kept = "kept" if self.printer else "not_kept"
        return say(f"printing.put_right_{kept}", values, self._manner)

    def call(self, name: str) -> None:
        """The printer she used last, by its name."""
        self.name.setText(name)
        self._named = self.printer
        self.tell()

    def take_typed(self) -> None:
        """Take a name that is half typed."""
        self._rename()

    def _rename(self) -> None:
        if self.printer != self._named:
            self._named = self.printer
            self._changed()

    def _changed(self) -> None:
        self.tell()
        self.changed.emit()
