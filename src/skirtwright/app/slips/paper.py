"""The print strip: what goes on paper, how many sheets, and the file of it.

Sheets are counted beside the window as soon as her choices rest, a moment after the
last of them, and are shown on the table; nothing is written before she says where.
"""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path
from typing import Any

from PySide6.QtCore import QByteArray, Qt, QTimer, Signal
from PySide6.QtGui import (
    QAccessible,
    QAccessibleAnnouncementEvent,
    QGuiApplication,
    QHideEvent,
    QShowEvent,
)
from PySide6.QtWidgets import (
    QLabel,
    QWidget,
)

from skirtwright.app.desk import Desk
from skirtwright.app.fields import NumberLine, sentence_label, tell
from skirtwright.app.guard import guarded
from skirtwright.app.printed_before import said_since
from skirtwright.app.side_work import SideWork
from skirtwright.app.slips import printing_order
from skirtwright.app.slips.other_ways import OtherWays
from skirtwright.app.slips.printing_choices import Choices
from skirtwright.app.slips.printing_order import SUFFIXES, Counted, Kind, Wanted
from skirtwright.app.slips.progress import Progress
from skirtwright.app.slips.saving_slip import SavingSlip
from skirtwright.export import printing
from skirtwright.export.printing import PrintBefore
from skirtwright.export.tiles import Blocks
from skirtwright.job.changed import Changed
from skirtwright.job.prints import Print
from skirtwright.job.saving import save_whole
from skirtwright.job.worktable import Look
from skirtwright.problems import SkirtwrightError
from skirtwright.words import Manner, say, translate

_KEPT = "print"
"""Under what name her paper and printer are kept."""

REST_MS = 120
"""How long her choices must rest before sheets are counted, ms."""

_LONG_MS = 600
"""What takes longer than this shows that it goes on, and can be stopped, ms."""


class PaperSlip(SavingSlip):
    """Choices above; below them, always in sight, the count and the way to save.

    Signals:
        tiling_changed: the pieces as they lie on paper, or None: for the table.
        saved: a file was written; its path.
    """

    tiling_changed = Signal(object)
    saved = Signal(str)

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._look: Look | None = None
        self._manner: Manner | None = None
        self._counted: Counted | None = None
        self.choices = Choices()
        self.since = sentence_label()
        self.rows.addWidget(self.since)
        self.rows.addWidget(self.choices)
        self.rows.addStretch(1)
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(REST_MS)
        self._timer.timeout.connect(self._begin)
        self._before, self._counting = SideWork(self), SideWork(self)
        self._before.done.connect(self._take_before)
        self._counting.done.connect(self._take_count)
        self._long = QTimer(self)
        self._long.setSingleShot(True)
        self._long.setInterval(_LONG_MS)
        self._long.timeout.connect(self._show_long)
        self._asked = False
        self.count = QLabel()
        self.count.setProperty("role", "title")
        self.count.setWordWrap(True)
        self.more = sentence_label()
        self.progress = Progress(self.stop)
        self.make_foot(self.count, self.progress, self.more)
        self._ways = OtherWays(self)
        self._ways.told.connect(self._tell_ways)
        self.choices.changed.connect(self._keep)
        self.choices.changed.connect(self._recount)

    # What is shown

    def show_look(self, look: Look) -> None:
        """Follow the order while nothing is pulled."""
        if look is not self.desk.look:
            return
        self._look, pieces, manner = look, look.shown, self.desk.manner
        self.choices.show_pieces(
            [(piece.name, translate(piece.spec.title, manner)) for piece in pieces]
        )
        self._order_keys()
        self._recount()

    def _order_keys(self) -> None:
        """Tab goes as she reads, whatever was made last."""
        foot = [self.open_button, self.save_button]
        for one, other in pairwise([*self.choices.in_reading_order(), *foot]):
            QWidget.setTabOrder(one, other)

    def refresh(self) -> None:
        """Say everything again, in another manner."""
        manner = self.desk.manner
        if manner == self._manner:
            return
        fresh, self._manner = self._manner is None, manner
        kept = self.desk.settings.layout(_KEPT)
        self.head(say("printing.title", manner=manner))
        self.choices.say_again(manner)
        self.foot.say_again(manner)
        stop = say("cloth.stop", manner=manner)
        self.progress.say_again(say("printing.counting", manner=manner), stop)
        self._name_save()
        if fresh and kept is not None:
            self.choices.bring_back(bytes(kept.data()).decode("utf-8", "replace"))

    def first_place(self) -> QWidget:
        """On what."""
        return self.choices.kind_row.box

    def _name_save(self) -> None:
        machine = self.choices.kind == "plotter"
        words = "printing.save_plotter" if machine else "printing.save_pdf"
        self.save_button.setText(say(words, manner=self.desk.manner))

    @property
    def counted(self) -> Counted | None:
        """What the order takes; None while it is counted, or cannot be printed."""
        return self._counted

    def _keep(self) -> None:
        """Her choices, as soon as she makes them."""
        if self._manner is not None:
            kept = QByteArray(self.choices.kept().encode())
            self.desk.settings.keep_layout(_KEPT, kept)

    # Counting

    def _recount(self) -> None:
        self._name_save()
        self._counted = None
        self._rest()
        if self.isVisible():
            self.count.setText(say("printing.counting", manner=self.desk.manner))
            self.count.show()
            tell(self.more, "")
            self.say_done("")
            self._timer.start()
            self._long.start()

    def _rest(self) -> None:
        """Nothing is counted, and nothing waits for a count."""
        self._asked = False
        for one in (self._timer, self._long, self._before, self._counting, self._ways):
            one.stop()
        self.progress.show_share(1.0)

    def stop(self) -> None:
        """Leave them uncounted; they are counted when they are to be saved."""
        self._rest()
        self.count.setText(say("printing.not_counted", manner=self.desk.manner))

    def _show_long(self) -> None:
        self.progress.show_share(None)

    def _begin(self) -> None:
        """What was printed before is worked first: it decides what can be chosen."""
        job, look, printed = self.desk.job, self._look, self.desk.printed
        if look is None:
            return
        if job.prints:
            self._before.begin(
                lambda: printed.on_sheets(job), lambda: printed.changed(job, look)
            )
        else:
            self._take_before((None, None))

    def _take_before(self, answers: Any) -> None:
        look, manner = self._look, self.desk.manner
        # Of a print that cannot be worked any more nothing is told.
        self._tell_before(*(answers if isinstance(answers, tuple) else (None, None)))
        try:
            if self.desk.waits is not None:
                raise SkirtwrightError.of(self.desk.waits)
            wanted = self._wanted = self.choices.wanted()
        except SkirtwrightError as refused:
            self._take_count(refused)
            return
        if look is not None:
            self._counting.begin(lambda: printing_order.count(wanted, look, manner))

    def _tell_before(
        self, on_sheets: PrintBefore | None, changed: tuple[Print, Changed] | None
    ) -> None:
        """What changed since the last print, and whether that alone can be printed."""
        self.choices.show_before(on_sheets)
        tell(self.since, said_since(*changed, self.desk.manner) if changed else "")

    def _take_count(self, answers: Any) -> None:
        asked = self._asked
        self._rest()
        if isinstance(answers, SkirtwrightError):
            self._tell_trouble(answers)
            self._show_count(None)
            self.tiling_changed.emit(None)
            return
        (counted,) = answers
        self._counted = counted
        self.choices.mark("")
        tell(self.trouble, "", "wrong")
        self._show_count(counted)
        if not self.isVisible():
            return
        self.tiling_changed.emit(counted.laid)
        wanted = self._wanted
        if self._look and wanted.kind == "sheets" and wanted.before is None:
            self._ways.count(wanted, self._look, self.desk.manner)
        if asked:
            self.ask_save()

    def _tell_ways(self, words: str) -> None:
        """Beside how it lies, what it would take laid otherwise."""
        if self._counted is not None:
            tell(self.more, f"{self._counted.more} {words}")

    def _tell_trouble(self, refused: SkirtwrightError) -> None:
        self._announce(self.tell_problem(refused.problem))
        self.choices.mark(refused.problem.where)

    def _announce(self, words: str) -> None:
        """Say what came of a choice to whoever does not see it."""
        if words and QAccessible.isActive():
            event = QAccessibleAnnouncementEvent(self.count, words)
            QAccessible.updateAccessibility(event)

    def _show_count(self, counted: Counted | None) -> None:
        self.count.setText(counted.said if counted else "")
        self.count.setVisible(counted is not None)
        tell(self.more, counted.more if counted else "")
        if counted and self.isVisible():
            self._announce(counted.said)

    # Saving

    @property
    def kind(self) -> Kind:
        """On what she wants it."""
        return self.choices.kind

    @property
    def suffix(self) -> str:
        """Of the kind of file that is chosen."""
        return SUFFIXES[self.kind]

    def is_ready(self) -> bool:
        """Whether all that was typed can be read, and printed."""
        self._take_typed()
        unread = self.choices.unread()
        if unread is not None:
            unread.line.setFocus(Qt.FocusReason.OtherFocusReason)
            self.scrolled.ensureWidgetVisible(unread)
            return False
        if self._counted is None:
            if not (self._timer.isActive() or self._before.busy or self._counting.busy):
                self._recount()
            # Where to is asked once they are counted.
            self._asked = True
        return self._counted is not None

    def named(self) -> tuple[str, ...]:
        """Whom it is for, and which style."""
        if self._look is None:
            return ()
        job = self._look.job
        return (job.card.name, job.title or job.draft.title)

    def save_to(self, path: Path) -> bool:
        """Write the file whole, as the command line does, and say how to print it.

        Returns:
            True when it is written; what failed is said in the strip.
        """
        if self._look is None:
            return False
        path = self.with_suffix(path)
        QGuiApplication.setOverrideCursor(Qt.CursorShape.WaitCursor)
        try:
            if self.desk.waits is not None:
                raise SkirtwrightError.of(self.desk.waits)
            wanted = self.choices.wanted()
            data = printing_order.written(wanted, self._look, self.desk.manner)
            save_whole(path, data)
            self._note(wanted)
            if self.kind == "sheets":
                self.choices.printer.keep()
        except SkirtwrightError as refused:
            self.say_done("")
            self._tell_trouble(refused)
            return False
        finally:
            QGuiApplication.restoreOverrideCursor()
        tell(self.trouble, "", "wrong")
        values = {"file": path.name}
        words = say(f"printing.saved.{self.kind}", values, self.desk.manner)
        self.say_done(words, path)
        self.saved.emit(str(path))
        return True

    def _note(self, wanted: Wanted) -> None:
        """Keep in the order what was printed, and how it lay."""
        if self._look is None:
            return
        laid, how = None, wanted.printing
        counted = self._counted.laid if self._counted else None
        blocks = counted if isinstance(counted, Blocks) else None
        if blocks is not None:
            how = wanted.before.printed_so(how) if wanted.before else how
            laid = printing.laid_of(blocks.tilings[0], how)
        pieces = printing.pieces_printed(self._look.report, how, blocks)
        self.desk.note_print(wanted.kind, pieces, laid)
        printed, job = self.desk.printed, self.desk.job
        self._tell_before(printed.on_sheets(job), printed.changed(job, self._look))

    def _take_typed(self) -> None:
        held = self.focusWidget()
        if isinstance(held, NumberLine):
            held.done()
        self.choices.printer.take_typed()

    # What Qt calls

    @guarded()
    def showEvent(self, event: QShowEvent) -> None:
        """Sheets are counted, and shown on the table, while the slip is open."""
        super().showEvent(event)
        self._recount()

    @guarded()
    def hideEvent(self, event: QHideEvent) -> None:
        """The table is cleared of sheets."""
        super().hideEvent(event)
        self._rest()
        self.tiling_changed.emit(None)
