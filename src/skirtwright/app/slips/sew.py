"""The making-up sheet beside the table: read on screen, saved as a PDF.

It is worked out a moment after the order comes to rest, and only while it is in sight.
The file is written beside the window's own work, so that nothing stands still.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

from PySide6.QtCore import QTimer, QUrl
from PySide6.QtGui import (
    QFontInfo,
    QResizeEvent,
    QShowEvent,
    QTextDocument,
    QTextOption,
)
from PySide6.QtWidgets import (
    QFrame,
    QTextBrowser,
    QWidget,
)

from skirtwright.app.desk import Desk
from skirtwright.app.fields import tell
from skirtwright.app.guard import guarded
from skirtwright.app.slips.making_page import PICTURE, page, step_name
from skirtwright.app.slips.making_picture import painted, step_painted
from skirtwright.app.slips.printing_rows import OptionRow
from skirtwright.app.slips.saving_slip import SavingSlip
from skirtwright.export.print_media import paper_named
from skirtwright.export.printed_letters import width_of
from skirtwright.export.sewing.drafting_text import drafting_text
from skirtwright.export.sewing.making_up_sheet import Making, making_of
from skirtwright.job.prints import today
from skirtwright.job.saving import save_whole
from skirtwright.job.worktable import Look
from skirtwright.problems import Problem, SkirtwrightError
from skirtwright.words import say

REST_MS = 150
"""How long the order must rest before the sheet is worked, ms."""

_PAPERS = ("a4", "letter")


def _load_letters() -> None:
    """Have the widths of letters at hand: what reads them is slow to load."""
    for bold in (False, True):
        width_of("", 1.0, bold=bold)


class SewSlip(SavingSlip):
    """The sheet as it is read, over the way to save it."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._look: Look | None = None
        self.making: Making | None = None
        self._at = 0
        self.scrolled.hide()
        self.browser = QTextBrowser()
        self.browser.setFrameShape(QFrame.Shape.NoFrame)
        self.browser.setOpenLinks(False)
        # No figure of a table is broken within itself: its column is as wide.
        self.browser.setWordWrapMode(QTextOption.WrapMode.WordWrap)
        self.browser.document().setDocumentMargin(16)
        self.outer.addWidget(self.browser, 1)
        self.paper = OptionRow("paper")
        self.make_foot(self.paper)
        self._timer = QTimer(self, singleShot=True, interval=REST_MS)
        self._timer.timeout.connect(self._begin)
        self._soon = QTimer(self, singleShot=True)
        self._soon.timeout.connect(self.work_now)
        self._letters = QTimer(self, singleShot=True)
        self._letters.timeout.connect(_load_letters)

    # What is shown

    def show_order(self, look: Look) -> None:
        """Have its sheet worked out once it rests."""
        if self._look is not look:
            # No line of another look is read or saved meanwhile.
            self._at = self._at or self.browser.verticalScrollBar().value()
            self.browser.setPlainText(say("making.working", manner=self.desk.manner))
        self._look, self.making = look, None
        self.enable_saving(False)
        self._timer.start()

    def first_place(self) -> QWidget:
        """The sheet itself."""
        return self.browser

    def refresh(self) -> None:
        """Say everything again, in another manner."""
        manner = self.desk.manner
        self.head(say("making.title", manner=manner))
        self.browser.setAccessibleName(say("making.title", manner=manner))
        self.save_button.setText(say("making.save", manner=manner))
        self.open_button.setText(say("printing.open", manner=manner))
        names = [(key, paper_named(key).name) for key in _PAPERS]
        fresh = self.paper.box.count() == 0
        self.paper.fill(names, manner)
        if fresh:
            self.paper.choose("letter" if manner.unit == "in" else "a4")

    def _begin(self) -> None:
        """The draft in sentences first, by itself; the rest when the window is free.

        What is worked for the sentences is kept with the order, so that the two turns
        together cost no more than one long one.
        """
        if self._look is not None and not self._stops(self._look):
            drafting_text(self._look.worked, self.desk.manner)
        self._soon.start(0)

    def work_now(self) -> bool:
        """Work the sheet out and show it.

        Returns:
            True when there is one; what keeps it from being made is said.
        """
        self._timer.stop()
        self._soon.stop()
        if self._look is None:
            return False
        try:
            self.making = self._made(self._look)
            self._show(self.making)
        except SkirtwrightError as refused:
            self.making = None
            self.browser.clear()
            self.tell_problem(refused.problem)
        else:
            tell(self.trouble, "", "wrong")
        self.enable_saving(self.making is not None and not self.is_writing())
        return self.making is not None

    def _made(self, look: Look) -> Making:
        stops = self._stops(look)
        if stops is not None:
            raise SkirtwrightError.of(stops)
        laid = self.desk.laid
        report = laid.report if laid and laid.worked is look.worked else look.report
        return making_of(report, look.job.card.name, today(), self.desk.manner)

    def _stops(self, look: Look) -> Problem | None:
        """What keeps the sheet from being made."""
        return next((p for p in (self.desk.waits, *look.report.refusals) if p), None)

    def _show(self, making: Making) -> None:
        bar = self.browser.verticalScrollBar()
        was, document = self._at or bar.value(), self.browser.document()
        self._at = 0
        margins = 2 * document.documentMargin() + bar.sizeHint().width()
        wide = max(round(self.browser.width() - margins), 120)
        font = self.browser.font()
        font.setPixelSize(QFontInfo(font).pixelSize())
        size = (wide, self.devicePixelRatioF())
        picture = painted(making.pieces, size, font, self.colours, self.desk.manner)
        self.browser.setHtml("")
        kind = QTextDocument.ResourceType.ImageResource
        document.addResource(kind, QUrl(PICTURE), picture)
        steps = {
            number: drawn
            for number, step in enumerate(making.order)
            if (drawn := step_painted(step, making.sewn, size, font, self.colours))
        }
        for number, drawn in steps.items():
            document.addResource(kind, QUrl(step_name(number)), drawn)
        self.browser.setHtml(page(making, self.desk.manner, self.colours, steps))
        bar.setValue(was)

    # Saving

    def is_ready(self) -> bool:
        """Whether there is a sheet."""
        return self.making is not None or self.work_now()

    def named(self) -> tuple[str, ...]:
        """Whom it is for, which style, and what it is."""
        if self._look is None:
            return ()
        job = self._look.job
        what = say("making.title", manner=self.desk.manner)
        return (job.card.name, job.title or job.draft.title, what)

    def save_to(self, path: Path) -> None:
        """Write the file whole, beside the window's own work, and say so when done."""
        making, manner, paper = self.making, self.desk.manner, self.paper.key
        if self.is_writing() or making is None:
            return
        path = self.with_suffix(path)

        def work() -> Path:
            # What writes PDFs is slow to load, and is loaded here.
            from skirtwright.export.sewing.worksheet import write_worksheet

            save_whole(path, write_worksheet(making, paper_named(paper), manner))
            return path

        self.write(work)

    def show_writing(self, *, on: bool) -> None:
        """Something is being written, or no more."""
        super().show_writing(on=on)
        self.enable_saving(not on and self.making is not None)

    def take_written(self, answers: Any) -> None:
        """Say what came of it."""
        self.show_writing(on=False)
        if isinstance(answers, SkirtwrightError):
            self.tell_problem(answers.problem)
        else:
            self.say_saved("making.saved", answers[0], "making.saved_of")

    # What Qt calls

    @guarded()
    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._letters.start(0)

    @guarded()
    def resizeEvent(self, event: QResizeEvent) -> None:
        """The picture is as wide as the strip."""
        super().resizeEvent(event)
        if self.isVisible():
            self._timer.start()
