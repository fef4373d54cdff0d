"""The desk: the order in hand, what was worked out of it, and what was done to it.

Panels and table ask the desk for changes and hear from it what came of them. Nothing
else holds an order.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

from PySide6.QtCore import QObject, Signal

from skirtwright.app.history import History
from skirtwright.app.printed_before import PrintedBefore
from skirtwright.app.settings import Settings
from skirtwright.app.stopping import Stopping
from skirtwright.draft.alterations import Alteration
from skirtwright.draft.inputs import AmountState
from skirtwright.job.edits import Edited, amount_text, begun_in, set_amount
from skirtwright.job.job import Job, sample_card
from skirtwright.job.prints import How, today, with_print
from skirtwright.job.worktable import Look, Worktable
from skirtwright.measures.unit_marking import with_units
from skirtwright.measures.units import Unit, read_length
from skirtwright.pieces.piece import Piece
from skirtwright.pieces.sheets_laid import SheetsLaid
from skirtwright.problems import BadInput, Problem, SkirtwrightError
from skirtwright.words import Manner, say, translate

_MISSING = "draft.measurement_missing"

_NAMED = 2
"""Amounts set in one step that are called by their names; more are counted."""

_Ready = tuple[Job, Look, Problem | None]


class Desk(QObject):
    """The order in hand.

    Attributes:
        drawing: the last look that was drawn whole; the table keeps showing it.
        waits: what the order still needs before it can be drafted, or None.
        unused: measurements that change nothing as the order stands, as far as known.
        printed: what was printed of the order, worked once more.
        stopping: offers a stop where a first look takes long.

    Signals:
        begun: another order lies on the table.
        looked: there is another look; also while something is being pulled.
        changed: the order, its history or how she is spoken to changed.
        noted: a print was noted in the order; whether it was saved until then.
    """

    begun = Signal()
    looked = Signal(object)
    changed = Signal()
    noted = Signal(bool)

    def __init__(self, settings: Settings, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.settings = settings
        self.history = History(self)
        self.stopping = Stopping(lambda: self.manner, parent)
        self._worktable = Worktable()
        self._ready: _Ready | None = None
        self._checked: _Ready | None = None
        self.history.indexChanged.connect(self._moved)
        self.history.cleanChanged.connect(self._moved)
        settings.changed.connect(self._preferred)
        self.job: Job
        self.look: Look
        self.drawing: Look
        self.waits: Problem | None = None
        self.unused: frozenset[str] = frozenset()
        self.printed = PrintedBefore()
        self.laid: Look | None = None

    @property
    def manner(self) -> Manner:
        """How she is spoken to."""
        return self.settings.manner

    @property
    def saved(self) -> bool:
        """True when the file holds the order as it stands."""
        return self.history.isClean()

    def begin(self, job: Job, *, may_stop: bool = False) -> None:
        """Lay another order on the table; what was done to the last is forgotten.

        It is told in its own unit, which it was begun in.

        Args:
            may_stop: she may stop it where it takes long.

        Raises:
            SkirtwrightError: it cannot be worked at all, or was stopped.
        """
        ready = self._first(job) if may_stop else self._worked(job)
        self.drawing = ready[1]
        self._ready = ready
        self._put(job)
        self.settings.show_unit(job.unit)
        self.history.clear()
        self.begun.emit()
        self.changed.emit()

    def _preferred(self, name: str) -> None:
        """Until a figure is typed, the unit she chooses is the one the order begins in.

        No step of the history did it, and none undoes it.
        """
        if name != "unit" or not hasattr(self, "job"):
            return
        job, unit = self.job, self.manner.unit
        if job.unit != unit and not (job.card.measurements or job.amounts):
            card = job.card.replace(unit=unit)
            self._put(begun_in(job.replace(card=card), unit))
            self.history.noted(self.job)

    def check(self, job: Job) -> None:
        """Refuse an order that cannot be laid on the table.

        It is not worked again when it is the next that is done to the one there.

        Raises:
            SkirtwrightError: it cannot be worked at all, or was stopped.
        """
        self._checked = self._first(job)

    def note_print(
        self,
        look: Look,
        how: How,
        pieces: Iterable[Piece],
        laid: SheetsLaid | None = None,
    ) -> None:
        """Note in the order that it was printed, or saved as a file, as it stood."""
        was_saved = self.saved
        made = look.job.printed(today(), how, pieces, laid).prints[-1]
        prints = with_print(self.job.prints, made)
        self.job = self.job.replace(prints=prints)
        self.history.noted(self.job)
        self.printed.note_printed(self.job, look)
        self.noted.emit(was_saved)
        self.changed.emit()

    def change(self, edited: Edited, *, leaving_out: bool = False) -> None:
        """Do something to the order: one step of its history.

        Args:
            edited: the order as it is to be.
            leaving_out: even where an alteration that is drawn has no place then.

        Raises:
            SkirtwrightError: what was typed cannot be read or used, or was stopped;
                all stays.
        """
        edited = self._with_prints(edited)
        self._refuse_beyond(edited.job)
        ready = self._first(edited.job)
        if not leaving_out:
            self._refuse_left_out(ready)
        self._do(edited, ready)

    def leaves_out(self, job: Job) -> tuple[Alteration, ...]:
        """Alterations of an order that its style has no place for.

        Raises:
            SkirtwrightError: it cannot be worked at all.
        """
        return tuple(one for one, _ in self._first(job)[1].left_out)

    def _refuse_left_out(self, ready: _Ready) -> None:
        """An alteration has a place, unless it had none before.

        Raises:
            BadInput: it has none; the problem says why.
        """
        for one, problem in ready[1].left_out:
            if (one, problem) not in self.look.left_out:
                raise BadInput.of(problem)

    def change_piece(self, edited: Edited, *pieces: str) -> None:
        """Do something to pieces, unless one of them could not be cut any more.

        Raises:
            SkirtwrightError: what was typed cannot be read or used; all stays.
        """
        edited = self._with_prints(edited)
        ready = self._first(edited.job)
        before = self.look.report.cut.problems
        for problem in ready[1].report.cut.problems:
            own = problem.where.partition(".")[0] in pieces
            is_off = problem.code == "pieces.notch_off_edge"
            if own and problem not in before and (problem.stops or is_off):
                raise SkirtwrightError.of(problem)
        self._do(edited, ready)

    def change_drawn(self, edited: Edited) -> None:
        """Do something to the order, unless its draft would stop then.

        Raises:
            SkirtwrightError: what stops it, or what was typed cannot be read.
        """
        edited = self._with_prints(edited)
        ready = self._first(edited.job)
        stops = ready[1].report.refusals
        if stops and self.look.drawn:
            raise SkirtwrightError.of(stops[0])
        self._refuse_left_out(ready)
        self._do(edited, ready)

    def _do(self, edited: Edited, ready: _Ready) -> None:
        """Put a change that was worked already on the table, as a step of history."""
        self._ready, self._checked = ready, None
        name = say(edited.name, edited.values, self.manner)
        self.history.do(name, self.job, edited.job, self._put)

    def _with_prints(self, edited: Edited) -> Edited:
        """What was printed since a change was thought of stays noted."""
        prints = self.job.prints
        if edited.job.prints is prints:
            return edited
        return replace(edited, job=edited.job.replace(prints=prints))

    def set_amounts(self, texts: Mapping[str, str | None]) -> None:
        """Set amounts as typed, None for the default: one step.

        Raises:
            SkirtwrightError: one cannot be read or used; all stays.
        """
        edited = self._with_amounts(texts)
        if edited is not None:
            self.change(edited)

    def accepts_amount(self, name: str, text: str) -> bool:
        """Whether an amount as typed could be set as the order stands."""
        try:
            edited = self._with_amounts({name: text})
            if edited is not None:
                self._refuse_beyond(edited.job)
                self._worked(edited.job)
        except SkirtwrightError:
            return False
        return True

    def _with_amounts(self, texts: Mapping[str, str | None]) -> Edited | None:
        job, last, draft = self.job, None, self.job.draft
        for name, text in texts.items():
            last = set_amount(job, name, self._with_unit(job, name, text))
            job = last.job
        if last is None or len(texts) == 1:
            return last
        if len(texts) > _NAMED:
            return Edited(job, "edit.amounts", {"count": len(texts)})
        labels = [
            translate(a.label, self.manner) for a in draft.amounts if a.name in texts
        ]
        return Edited(job, "edit.amounts_named", {"labels": labels})

    def _with_unit(self, job: Job, name: str, text: str | None) -> str | None:
        amount = job.draft.amount(name)
        if text is None or amount is None or amount.kind != "length":
            return text
        return with_unit(text, self.manner.unit, job.unit)

    def pull(self, amounts: dict[str, float]) -> None:
        """Show the order with amounts as they are being pulled; nothing is set."""
        if self.stopping.asks:
            return
        try:
            look = self._worktable.look(self.look.job, amounts)
        except SkirtwrightError:
            return
        if look.drawn:
            self.looked.emit(look)

    def drop(self) -> None:
        """Let go of what was being pulled; the order is as it was."""
        self.looked.emit(self.look)

    def settle(self, amounts: Mapping[str, float]) -> None:
        """Set amounts that were pulled: one step."""
        draft = self.job.draft
        texts: dict[str, str | None] = {}
        for name, value in amounts.items():
            amount = draft.amount(name)
            if amount is not None:
                texts[name] = amount_text(amount, value)
        try:
            self.set_amounts(texts)
        except SkirtwrightError:
            self.drop()

    def state(self, name: str) -> AmountState | None:
        """An amount as it stands, or None."""
        return self.look.worked.stated.amounts.get(name)

    @property
    def skirt_problems(self) -> tuple[Problem, ...]:
        """What the checks found, the gravest first, or what the order waits for."""
        # What the sample has to be told of is nothing to her.
        return self.look.problems if self.waits is None else (self.waits,)

    @property
    def problems(self) -> tuple[Problem, ...]:
        """The same, and last what the lay lacks: it moves nothing above it."""
        lacking = self.lay_problems if self.waits is None else ()
        return (*self.skirt_problems, *lacking)

    @property
    def lay_problems(self) -> tuple[Problem, ...]:
        """What the lay of the order as it stands lacks, as far as it is known."""
        laid = self._laid_now
        return () if laid is None else laid.report.laid.problems

    @property
    def waits_for_lay(self) -> bool:
        """Whether it is not known yet if the cloth she has suffices."""
        return self._laid_now is None and any(c.on_hand for c in self.job.cloths)

    @property
    def _laid_now(self) -> Look | None:
        """The order as it stands, laid; None where it is not laid yet."""
        laid = self.laid
        return laid if laid is not None and laid.job is self.look.job else None

    def again(self) -> None:
        """Show everything again, in another manner."""
        self.looked.emit(self.look)
        self.changed.emit()

    def _moved(self) -> None:
        self.changed.emit()

    def close(self) -> None:
        """Nothing more is heard from a desk that is cleared away."""
        self.history.blockSignals(True)

    def _put(self, job: Job) -> None:
        """An order on the table, worked; called by every step of the history."""
        ready = self._ready
        if ready is None or ready[0] != job:
            ready = self._worked(job)
        self._ready = None
        _, self.look, self.waits = ready
        self.job = job
        if self.look.drawn or not hasattr(self, "drawing"):
            self.drawing = self.look
        self.looked.emit(self.look)

    def _refuse_beyond(self, job: Job) -> None:
        """An amount just typed must lie within its range: the last drawing is kept.

        Asked before anything is drawn, since what is far beyond may take for ever.

        Raises:
            BadInput: it does not; the problem says what does.
        """
        before = self.job.amounts if job.draft is self.job.draft else job.amounts
        fresh = {n for n, text in job.amounts.items() if before.get(n) != text}
        if not fresh:
            return
        try:
            stated = self._worktable.stated(job)
        except BadInput as refused:
            if refused.problem.code != _MISSING:
                raise
            stated = self._worktable.stated(self.on_sample(job))
        for problem in stated.problems:
            if problem.where in fresh and problem.code.endswith("out_of_range"):
                kind = problem.code.removeprefix("draft.").removesuffix("_out_of_range")
                raise BadInput(_BEYOND[kind], problem.where, **problem.values)

    def on_sample(self, job: Job) -> Job:
        """The order for the sample client alone: never a mixture of two women."""
        return job.replace(card=sample_card(job.draft))

    def _first(self, job: Job) -> _Ready:
        """An order worked that was not worked so before: it may take long.

        Raises:
            SkirtwrightError: it cannot be worked, or was stopped.
        """
        if self._checked is not None and self._checked[0] == job:
            return self._checked
        with self.stopping.offered():
            return self._worked(job)

    def _worked(self, job: Job) -> _Ready:
        """An order with its look, and with what it waits for.

        While measurements are missing the sample client stands in, so that there is
        always a look at the style in hand; `waits` says so, and the table shows none of
        it.
        """
        try:
            return (job, self._worktable.look(job), None)
        except BadInput as refused:
            if refused.problem.code != _MISSING:
                raise
            waits = replace(refused.problem, severity="note")
        return (job, self._worktable.look(self.on_sample(job)), waits)


_BEYOND = {
    "length": "field.beyond_length",
    "angle": "field.beyond_angle",
    "number": "field.beyond_number",
}


def _is_sum(text: str) -> bool:
    """Whether what was typed is more than one number."""
    try:
        read_length(text)
    except BadInput:
        return True
    return False


def with_unit(text: str, seen: Unit, kept: Unit) -> str:
    """Numbers typed without a unit, given the one she sees beside the field."""
    text = text.strip()
    if seen == kept or not text:
        return text
    if _is_sum(text):
        return with_units(text, seen)
    return f"{text} {seen}" if text[-1] in _ENDS_BARE else text


_ENDS_BARE = frozenset("0123456789.,½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞")
