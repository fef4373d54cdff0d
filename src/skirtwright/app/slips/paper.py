"""The print strip: what goes on paper, how many sheets, and the file of it.

Sheets are counted beside the window as soon as her choices rest, a moment after the
last of them, and are shown on the table; nothing is written before she says where.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import Any

from PySide6.QtCore import QByteArray, Qt, QTimer, Signal
from PySide6.QtGui import (
    QHideEvent,
    QShowEvent,
)
from PySide6.QtWidgets import (
    QWidget,
)

from skirtwright.app.bookkeeping import Bookkeeping
from skirtwright.app.desk import Desk
from skirtwright.app.fields import (
    NumberLine,
    announce,
    role_label,
    sentence_label,
    tell,
)
from skirtwright.app.guard import guarded
from skirtwright.app.layouts import tab_as_read
from skirtwright.app.printed_before import said_since
from skirtwright.app.side_work import SideWork
from skirtwright.app.slips import printing_order
from skirtwright.app.slips.nesting_choice import SizesWorked
from skirtwright.app.slips.other_ways import OtherWays
from skirtwright.app.slips.printing_choices import Choices
from skirtwright.app.slips.printing_order import (
    SUFFIXES,
    Counted,
    Kind,
    Wanted,
    Written,
)
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
    """

    tiling_changed = Signal(object)

    def __init__(self, desk: Desk, book: Bookkeeping) -> None:
        super().__init__(desk)
        self._look: Look | None = None
        self._sizes = SizesWorked()
        self._manner: Manner | None = None
        self._counted: Counted | None = None
        self.choices = Choices(book)
        self.since = sentence_label()
        self.rows.addWidget(self.since)
        self.rows.addWidget(self.choices)
        self.rows.addStretch(1)
        self._timer = QTimer(self, singleShot=True, interval=REST_MS)
        self._timer.timeout.connect(self._begin)
        self._before, self._counting = SideWork(self), SideWork(self)
        self._before.done.connect(self._take_before)
        self._counting.done.connect(self._take_count)
        self._long = QTimer(self, singleShot=True, interval=_LONG_MS)
        self._asked = False
        self.count = role_label("title", wraps=True)
        self.more = sentence_label()
        self.progress = Progress(self.stop)
        self._long.timeout.connect(lambda: self.progress.show_share(None))
        self.writing_progress = Progress(self.stop_writing)
        self.make_foot(self.count, self.progress, self.more, self.writing_progress)
        self._ways = OtherWays(self)
        self._ways.told.connect(self._tell_ways)
        self.choices.changed.connect(self._keep)
        self.choices.changed.connect(self._recount)

    # What is shown

    def show_order(self, look: Look) -> None:
        """Count its sheets anew."""
        if self.since.isVisibleTo(self) and look is not self._look:
            # What is told next needs about as much room.
            self.since.setMinimumHeight(self.since.height())
            self.since.setText(say("printing.comparing", manner=self.desk.manner))
        self._look, pieces, manner = look, look.shown, self.desk.manner
        self.choices.show_pieces(
            [(piece.name, translate(piece.spec.title, manner)) for piece in pieces]
        )
        self.choices.nesting.show_edges([e.name for e in pieces[0].edges])
        tab_as_read(self)
        self._recount()

    def refresh(self) -> None:
        """Say everything again, in another manner."""
        manner = self.desk.manner
        if manner == self._manner:
            return
        fresh, self._manner = self._manner is None, manner
        kept = self.desk.settings.layout(_KEPT)
        self.head(say("printing.title", manner=manner))
        self.choices.say_again(manner)
        self.open_button.setText(say("printing.open", manner=manner))
        stop = say("cloth.stop", manner=manner)
        self.progress.say_again(say("printing.counting", manner=manner), stop)
        self.writing_progress.say_again(say("making.writing", manner=manner), stop)
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
        self._enable_saving(not self.is_writing())
        self._rest()
        if self.isVisible():
            self.count.setText(say("printing.counting", manner=self.desk.manner))
            self.count.show()
            tell(self.more, "")
            tell(self.trouble, "", "wrong")
            if not self.is_writing():
                self.say_done("")
            self._timer.start()
            self._long.start()

    def _rest(self) -> None:
        """Nothing is counted, and nothing waits for a count."""
        if self._asked:
            self.say_done("")
        self._asked = False
        for one in (self._timer, self._long, self._before, self._counting, self._ways):
            one.stop()
        self.progress.show_share(1.0)

    def stop(self) -> None:
        """Leave them uncounted; they are counted when they are to be saved."""
        self._rest()
        self.count.setText(say("printing.not_counted", manner=self.desk.manner))

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
        if look is None:
            return
        *sizes, last = self._ready(wanted, look)
        self._counting.begin(*sizes, lambda: printing_order.count(last(), look, manner))

    def _ready(self, wanted: Wanted, look: Look) -> list[Callable[[], Any]]:
        """What has to be worked before a print, each bounded by itself; last the print.

        Each size is a drawing of its own.
        """
        job, sizes, worked = look.job, wanted.sizes, self._sizes
        if sizes is None:
            return [lambda: wanted]
        parts = [partial(worked.look, job, card) for _, card in sizes.cards]
        return [*parts, lambda: wanted.nested(worked.nest(job, sizes))]

    def _tell_before(
        self, on_sheets: PrintBefore | None, changed: tuple[Print, Changed] | None
    ) -> None:
        """What changed since the last print, and whether that alone can be printed."""
        self.choices.show_before(on_sheets)
        self.since.setMinimumHeight(0)
        tell(self.since, said_since(*changed, self.desk.manner) if changed else "")

    def _take_count(self, answers: Any) -> None:
        asked = self._asked
        self._rest()
        if isinstance(answers, SkirtwrightError):
            self._tell_trouble(answers)
            self._show_count(None)
            self.tiling_changed.emit(None)
            return
        counted = answers[-1]
        self._counted = counted
        self.choices.mark("")
        tell(self.trouble, "", "wrong")
        self._show_count(counted)
        if not self.isVisible():
            return
        wanted = self._wanted
        self.tiling_changed.emit(None if wanted.sizes else counted.laid)
        if self._look and wanted.kind == "sheets" and wanted.sizes is None:
            self._ways.count(wanted, self._look, self.desk.manner)
        if asked:
            self.ask_save()

    def _tell_ways(self, words: str) -> None:
        """Beside how it lies, what it would take laid otherwise."""
        if self._counted is not None:
            tell(self.more, f"{self._counted.more} {words}")

    def _tell_trouble(self, refused: SkirtwrightError) -> None:
        announce(self.count, self.tell_problem(refused.problem))
        self.choices.mark(refused.problem.where)

    def _show_count(self, counted: Counted | None) -> None:
        self.count.setText(counted.said if counted else "")
        self.count.setVisible(counted is not None)
        tell(self.more, counted.more if counted else "")
        self._enable_saving(not self.is_writing())
        if counted and self.isVisible():
            announce(self.count, counted.said)

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
            self.say_done(say("printing.asked_then", manner=self.desk.manner))
        return self._counted is not None

    def named(self) -> tuple[str, ...]:
        """Whom it is for, and which style; of a part of the sheets, that it is one."""
        if self._look is None:
            return ()
        job, part = self._look.job, []
        if self.kind in ("roll", "projector"):
            part = [say(f"printing.named.{self.kind}", manner=self.desk.manner)]
        elif self._counted is not None and self._wanted.before is not None:
            part = [say("printing.changed_named", manner=self.desk.manner)]
        return (job.card.name, job.title or job.draft.title, *part)

    def save_to(self, path: Path) -> None:
        """Have the file written beside the window, as the command line writes it.

        `saved` tells when it is there; what failed is said in the strip.
        """
        look, manner, known = self._look, self.desk.manner, self._counted
        if look is None:
            return
        try:
            if self.desk.waits is not None:
                raise SkirtwrightError.of(self.desk.waits)
            wanted = self.choices.wanted()
        except SkirtwrightError as refused:
            self._tell_trouble(refused)
            return

        path = self.with_suffix(path)
        *sizes, last = self._ready(wanted, look)

        def work() -> Written:
            whole = last()
            counted = known or printing_order.count(whole, look, manner)
            data = printing_order.written(whole, look, manner, counted)
            return Written(path, whole, look, counted, data)

        self.write(*sizes, work)

    def show_writing(self, *, on: bool) -> None:
        """Something is being written, or no more."""
        super().show_writing(on=on)
        self._enable_saving(not on)
        self.writing_progress.show_share(None if on else 1.0)

    def _enable_saving(self, able: bool = True) -> None:
        """Save what is not counted yet, for that is asked then; but no sheet at all."""
        laid = self._counted.laid if self._counted else None
        self.enable_saving(able and not (isinstance(laid, Blocks) and laid.sheets == 0))

    def stop_writing(self) -> None:
        """Leave the file unwritten."""
        self.writing.stop()
        self.show_writing(on=False)

    def take_written(self, answers: Any) -> None:
        """Save what was made, and note it in the order."""
        self.show_writing(on=False)
        try:
            if isinstance(answers, SkirtwrightError):
                raise answers
            made: Written = answers[-1]
            save_whole(made.path, made.data)
        except SkirtwrightError as refused:
            self._tell_trouble(refused)
            return
        if self.same_order and made.wanted.sizes is None and not made.in_part:
            self._note(made)
        kind = made.wanted.kind
        if kind == "sheets":
            self.choices.printer.keep()
        said = f"printing.saved.{'part' if made.in_part else kind}"
        self.say_saved(said, made.path, "printing.saved_of")

    def _note(self, made: Written) -> None:
        """Keep in the order what was printed, and how it lay."""
        laid, how = None, made.wanted.printing
        blocks = made.counted.laid if isinstance(made.counted.laid, Blocks) else None
        if blocks is not None:
            before = made.wanted.before
            how = before.printed_so(how) if before else how
            laid = printing.laid_of(blocks.tilings[0], how)
        pieces = printing.pieces_printed(made.look.report, how, blocks)
        self.desk.note_print(made.look, made.wanted.kind, pieces, laid)
        printed, job = self.desk.printed, self.desk.job
        now = self._look or made.look
        self._tell_before(printed.on_sheets(job), printed.changed(job, now))
        if made.wanted.before is not None:
            # Against this print nothing differs any more: so many are left to print.
            self._recount()

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
