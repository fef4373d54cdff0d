"""The measurement sheet: whom the skirt is for, and what the tape said."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QVBoxLayout,
    QWidget,
)

from skirtwright.app.desk import Desk
from skirtwright.app.fields import (
    sentence_label,
    tell,
)
from skirtwright.app.slips.measurement import MeasurementRow
from skirtwright.app.slips.notes import Notes
from skirtwright.app.slips.slip import Fold, Slip
from skirtwright.app.slips.tape import TapeFigure
from skirtwright.draft.draft import Draft
from skirtwright.job.edits import (
    Edited,
    set_card,
    set_client,
    set_title,
)
from skirtwright.job.worktable import Look
from skirtwright.measures.measurements import (
    Measurement,
    measurements,
)
from skirtwright.words import say, translate


class MeasureSlip(Slip):
    """The measurement sheet."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._desk = desk
        self._draft: Draft | None = None
        self.rows_by_name: dict[str, MeasurementRow] = {}
        self._in_hand = "waist"
        self.client = QLineEdit()
        self.client.setMaxLength(200)
        self.client_label = QLabel()
        self.client_label.setBuddy(self.client)
        self.client.editingFinished.connect(self._name)
        self.sample = sentence_label()
        self.order = QLineEdit()
        self.order.setMaxLength(200)
        self.order_label = QLabel()
        self.order_label.setBuddy(self.order)
        self.order.editingFinished.connect(self._title)
        self.notes = Notes()
        self.notes.left.connect(self._note)
        self.notes_fold: Fold | None = None
        self.more: Fold | None = None
        self.figure = TapeFigure()
        self.taken = QLabel()
        self.taken.setWordWrap(True)
        self.taken.setAlignment(Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft)
        self.tape = self._tape_box()
        self.outer.addWidget(self.tape)

    def _tape_box(self) -> QWidget:
        box = QFrame()
        box.setProperty("tape", True)
        row = QHBoxLayout(box)
        row.setContentsMargins(14, 10, 14, 10)
        row.setSpacing(10)
        row.addWidget(self.figure)
        row.addWidget(self.taken, 1)
        return box

    def first_place(self) -> QWidget:
        """Her name while it is not known, else the first measurement."""
        if not self._desk.job.card.name or not self.rows_by_name:
            return self.client
        return next(iter(self.rows_by_name.values())).line

    def bring_in_sight(self, names: Sequence[str]) -> None:
        """Have the rows of measurements in sight."""
        for name in names:
            if name in self.rows_by_name:
                self.scrolled.ensureWidgetVisible(self.rows_by_name[name])

    def show_look(self, look: Look) -> None:
        """Show the card of the order in hand."""
        job = self._desk.job
        if look is not self._desk.look:
            return
        if self._draft is None or job.draft.measurements != self._draft.measurements:
            self._lay_out(job.draft)
        self._draft = job.draft
        self.refresh()

    def refresh(self) -> None:
        """Show every field as the card has it now."""
        if self._draft is None:
            self._draft = self._desk.job.draft
            self._lay_out(self._draft)
        self.figure.set_colours(self.colours)
        manner = self._desk.manner
        self.head(say("card.title", manner=manner))
        self.client_label.setText(say("card.client", manner=manner))
        if not self.client.isModified():
            self.client.setText(self._desk.job.card.name)
        sample = say("card.sample", manner=manner) if self._desk.job.sample else ""
        tell(self.sample, sample)
        if self.more is not None:
            self.more.button.setText(say("card.more", manner=manner))
        if self.notes_fold is not None:
            self.notes_fold.button.setText(say("card.notes", manner=manner))
        self._refresh_notes()
        for row in self.rows_by_name.values():
            row.refresh()
        self._show_tape(self._in_hand)

    def _refresh_notes(self) -> None:
        job, manner = self._desk.job, self._desk.manner
        self.order_label.setText(say("card.order", manner=manner))
        self.order.setPlaceholderText(translate(job.draft.title, manner))
        if not self.order.isModified():
            self.order.setText(job.title)
        self.notes.setAccessibleName(say("card.notes_on_client", manner=manner))
        self.notes.setPlaceholderText(say("card.notes_on_client", manner=manner))
        self.notes.rest_at(job.card.notes)

    def _lay_out(self, draft: Draft) -> None:
        if self.rows_by_name:
            needed = set(draft.measurements) - set(self.rows_by_name)
            for name in needed:
                self._add(self.rows, measurements()[name], needed=True)
            return
        self.rows.addWidget(self.client_label)
        self.rows.addWidget(self.client)
        self.rows.addWidget(self.sample)
        for name in draft.measurements:
            self._add(self.rows, measurements()[name], needed=True)
        others = [m for m in measurements().values() if m.name not in self.rows_by_name]

        def fill(rows: QVBoxLayout) -> None:
            for known in others:
                self._add(rows, known, needed=False)

        self.more = Fold(say("card.more", manner=self._desk.manner), fill, self.body)
        self.rows.addWidget(self.more)

        def fill_notes(rows: QVBoxLayout) -> None:
            for widget in (self.order_label, self.order, self.notes):
                rows.addWidget(widget)

        name = say("card.notes", manner=self._desk.manner)
        self.notes_fold = Fold(name, fill_notes, self.body)
        self.rows.addWidget(self.notes_fold)
        self.rows.addStretch(1)

    def _add(self, rows: QVBoxLayout, known: Measurement, *, needed: bool) -> None:
        row = MeasurementRow(self._desk, known, needed)
        row.line.came.connect(lambda: self._show_tape(known.name))
        rows.addWidget(row)
        self.rows_by_name[known.name] = row
        row.refresh()

    def _show_tape(self, name: str) -> None:
        self._in_hand = name
        self.figure.show_tape(name)
        self.taken.setText(translate(measurements()[name].taken, self._desk.manner))

    def _name(self) -> None:
        """Another client's name; a card is always somebody's."""
        name = self.client.text().strip()
        self.client.setModified(False)
        if name == self._desk.job.card.name:
            self.client.setText(name)
            return
        self._desk.change(set_client(self._desk.job, name))

    def _title(self) -> None:
        """What she calls the order."""
        title = self.order.text().strip()
        self.order.setModified(False)
        if title != self._desk.job.title:
            self._desk.change(set_title(self._desk.job, title))

    def _note(self, text: str) -> None:
        """Her notes on the client."""
        job = self._desk.job
        noted = set_card(job, job.card.model_copy(update={"notes": text})).job
        noted = noted.model_copy(update={"sample": job.sample})
        self._desk.change(Edited(noted, "edit.notes", {}))
