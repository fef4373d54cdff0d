"""What the pins say at a fitting: what was altered, and what is to be."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import partial

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QLabel,
    QPushButton,
    QToolButton,
    QWidget,
)

from skirtwright.app.desk import Desk, with_unit
from skirtwright.app.fields import (
    Choosing,
    NumberLine,
    link_button,
    role_label,
    sentence_label,
    tell,
)
from skirtwright.app.layouts import in_column, in_grid, in_row, tab_as_read
from skirtwright.app.shown_figures import unbroken, unit_shown, unit_spoken
from skirtwright.app.slips.slip import Slip, clear
from skirtwright.draft.alterations import (
    AROUND,
    PLACES,
    Alterable,
    Alteration,
    typed_alteration,
)
from skirtwright.job import fitting_edits
from skirtwright.job.prints import today
from skirtwright.job.worktable import Look
from skirtwright.problems import SkirtwrightError
from skirtwright.words import in_one_sentence, say, says, translate

_SIDES = ("", "left", "right")


class FittingSlip(Slip):
    """What was altered, each with a way back; under it what is to be altered next."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._offered: tuple[Alterable, ...] = ()
        self._told: tuple[str, ...] = ()
        self.none = sentence_label()
        self._done = in_column(spacing=8)
        self.back: list[QToolButton] = []
        self.heading = role_label("subheading")
        self.what = Choosing()
        self.help = sentence_label()
        self.by, self.unit = NumberLine(longest="37 3/8"), QLabel()
        self.around_unit = QLabel()
        for label in (self.unit, self.around_unit):
            label.setProperty("role", "faint")
        self.way, self.side = Choosing(), Choosing()
        self.first, self.last = Choosing(), Choosing()
        for choice in (self.first, self.last):
            choice.setEditable(True)
        self.readings = {place: NumberLine(longest="37 3/8") for place in AROUND}
        self.labels = {
            name: QLabel() for name in ("way", "by", "side", "first", "last", *AROUND)
        }
        self.asked = QWidget()
        self.around = QWidget()
        self.do = QPushButton()
        self.said = sentence_label()
        self._arrange()
        self.what.activated.connect(self._show_what)
        self.do.clicked.connect(self._alter)
        for line in (self.by, *self.readings.values()):
            line.taken.connect(self.focusNextChild)
            line.entered.connect(partial(_keep, line))

    def _arrange(self) -> None:
        grid = in_grid(self.asked, (0, 0, 0, 0))
        grid.setColumnStretch(1, 1)
        fields = self._fields()
        for row, name in enumerate(("way", "by", "side", "first", "last")):
            grid.addWidget(self.labels[name], row, 0)
            self.labels[name].setBuddy(fields[name])
            if name == "by":
                grid.addLayout(in_row(self.by, self.unit, 1), row, 1)
            else:
                grid.addWidget(fields[name], row, 1)
        tab_as_read(self.asked)
        around = in_grid(self.around, (0, 0, 0, 0))
        # Along the rows, as they are read, not round her: so Tab goes too.
        for (row, column), place in sorted(zip(_ROUND, AROUND, strict=True)):
            cell = in_column(self.labels[place], self.readings[place], spacing=1)
            self.labels[place].setBuddy(self.readings[place])
            around.addLayout(cell, row, column)
        around.addWidget(self.around_unit, 1, 1, Qt.AlignmentFlag.AlignCenter)
        self.rows.addWidget(self.none)
        self.rows.addLayout(self._done)
        below = (self.heading, self.what, self.help, self.asked, self.around, self.do)
        for shown in (*below, self.said):
            self.rows.addWidget(shown)
        self.rows.addStretch(1)

    def first_place(self) -> QWidget:
        """What is to be altered."""
        return self.what

    # Showing

    def refresh(self) -> None:
        """Say everything again."""
        manner = self.desk.manner
        self.head(say("fit.title", manner=manner))
        self.heading.setText(say("fit.next", manner=manner))
        self.do.setText(say("fit.do", manner=manner))
        for label in (self.unit, self.around_unit):
            label.setText(unit_shown("length", manner))
        for name, label in self.labels.items():
            label.setText(say(_message(name), manner=manner))
        for name, widget in self._fields().items():
            called = say(_message(name), manner=manner)
            if name in AROUND:
                values = {"label": called, "unit": unit_spoken("length", manner)}
                called = say("field.name", values, manner)
            widget.setAccessibleName(called)
            line = widget.lineEdit() if isinstance(widget, Choosing) else None
            if line is not None:
                line.setAccessibleName(widget.accessibleName())
        self.what.setAccessibleName(say("fit.next", manner=manner))
        self.side.fill([say(f"fit.side_{s or 'both'}", manner=manner) for s in _SIDES])
        for field in (self.first, self.last):
            field.fill([say(f"fitting.at_{place}", manner=manner) for place in PLACES])
        self._offered, self._told = (), ()

    def _fields(self) -> Mapping[str, QWidget]:
        return {
            "way": self.way,
            "by": self.by,
            "side": self.side,
            "first": self.first,
            "last": self.last,
            **self.readings,
        }

    def show_order(self, look: Look) -> None:
        """Show what was altered, and offer what can be."""
        manner = self.desk.manner
        told = tuple(self._lines(look))
        if told != self._told:
            self._told = told
            self._show_done()
        tell(self.none, "" if told else say("fit.none", manner=manner), "ink")
        offered = fitting_edits.offered(look.worked.stated)
        if offered != self._offered:
            held = self.known
            self._offered = offered
            self.what.fill([translate(known.label, manner) for known in offered])
            if held in offered:
                self.what.setCurrentIndex(offered.index(held))
            self._show_what()

    def _lines(self, look: Look) -> Iterator[str]:
        """A line for each alteration, those that are left out with why."""
        manner = self.desk.manner
        why = {one: says(problem, manner) for one, problem in look.left_out}
        lines = fitting_edits.told(look.job)
        for alteration, line in zip(look.job.fitting, lines, strict=True):
            said = line.said(manner)
            if alteration in why:
                values = {"line": said, "why": why[alteration]}
                said = say("fit.left_out", values, manner)
            yield said

    def _show_done(self) -> None:
        """A line for each, the number of which is its place in the order."""
        clear(self._done)
        self.back = []
        for number, line in enumerate(self._told):
            row = QWidget()
            across = in_row(on=row)
            words = sentence_label("ink")
            back = link_button()
            back.setText(say("fit.back", manner=self.desk.manner))
            back.setAccessibleName(f"{back.text()}: {line}")
            back.clicked.connect(partial(self._take_back, number))
            across.addWidget(words, 1)
            across.addWidget(back, 0, Qt.AlignmentFlag.AlignTop)
            self._done.addWidget(row)
            # Not before: what lies in nothing yet is shown as a window of its own.
            tell(words, unbroken(line), "ink")
            self.back.append(back)
        self.measure_again()

    @property
    def known(self) -> Alterable | None:
        """What is chosen to be altered."""
        index = self.what.currentIndex()
        return self._offered[index] if 0 <= index < len(self._offered) else None

    def _show_what(self) -> None:
        """The fields that what is chosen asks for."""
        known = self.known
        if known is None:
            return
        tell(self.help, translate(known.help, self.desk.manner))
        tell(self.said, "")
        self.asked.setVisible(not known.reads)
        self.around.setVisible(known.reads)
        ways = ("let_out", "take_in") if known.seam else known.ways
        self.way.fill([say(f"fit.{way}", manner=self.desk.manner) for way in ways])
        sided = known.by_side or known.one_side
        for name, on in (("side", sided), ("first", known.seam), ("last", known.seam)):
            self.labels[name].setVisible(bool(on))
            self._fields()[name].setVisible(bool(on))
        for field, place in ((self.first, known.first), (self.last, known.last)):
            if place in PLACES:
                field.setCurrentIndex(PLACES.index(place))
        if known.one_side and self.side.currentIndex() == 0:
            self.side.setCurrentIndex(1)

    # Doing

    def _alter(self) -> None:
        known = self.known
        if known is None:
            return
        try:
            made = self._made(known)
            stated = self.desk.look.worked.stated
            self.desk.change_drawn(fitting_edits.alter(self.desk.job, made, stated))
        except SkirtwrightError as refused:
            words = in_one_sentence(refused.problem, self.desk.manner)
            tell(self.said, words, "wrong")
            self._bring(refused.problem.where)
            return
        tell(self.said, "")
        for line in (self.by, *self.readings.values()):
            line.rest_at("")
        self.what.setFocus(Qt.FocusReason.OtherFocusReason)

    def _bring(self, where: str) -> None:
        """What cannot be used is marked and in hand."""
        line = self._fields().get(where)
        if isinstance(line, NumberLine):
            line.refuse()
            line.setFocus(Qt.FocusReason.OtherFocusReason)
            self.scrolled.ensureWidgetVisible(line)

    def _made(self, known: Alterable) -> Alteration:
        if known.reads:
            texts = tuple(self._length(line.text()) for line in self.readings.values())
            return typed_alteration(what=known.id, readings=texts, on=today())
        has_side = known.by_side or known.one_side
        side = _SIDES[self.side.currentIndex()] if has_side else ""
        first = self._place(self.first) if known.seam else ""
        last = self._place(self.last) if known.seam else ""
        return typed_alteration(
            what=known.id,
            by=self._signed(self._length(self.by.text())),
            side=side,
            first=first,
            last=last,
            on=today(),
        )

    def _signed(self, text: str) -> str:
        """A length with a minus where it is taken in or less."""
        if self.way.currentIndex() == 0:
            return text
        return text[1:] if text.startswith(("-", "−")) else f"-{text}"

    def _length(self, text: str) -> str:
        return with_unit(text, self.desk.manner.unit, self.desk.job.unit)

    def _place(self, field: Choosing) -> str:
        """A place that is named, or a length from the waist down."""
        index = field.findText(field.currentText(), Qt.MatchFlag.MatchFixedString)
        return PLACES[index] if index >= 0 else self._length(field.currentText())

    def _take_back(self, number: int) -> None:
        try:
            stated = self.desk.look.worked.stated
            self.desk.change_drawn(fitting_edits.without(self.desk.job, number, stated))
        except SkirtwrightError as refused:
            words = in_one_sentence(refused.problem, self.desk.manner)
            tell(self.said, words, "wrong")
            return
        self.what.setFocus(Qt.FocusReason.OtherFocusReason)


_ROUND = ((2, 1), (2, 2), (1, 2), (0, 2), (0, 1), (0, 0), (1, 0), (2, 0))
"""Where the readings stand for who is before her, as on the table: her left at the
right, her front nearest."""


def _message(name: str) -> str:
    return f"fit.at.{name}" if name in AROUND else f"fit.{name}"


def _keep(line: NumberLine, text: str) -> None:
    """What was typed stands in the line until it is used."""
    line.rest_at(text)
