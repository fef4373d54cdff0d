"""One style on many clients: each skirt small beside the others, over the table.

Each is worked in a process beside the window, so that she can go on choosing; what has
something wrong is marked. They can be kept as orders in the book, and printed, each in
a folder of its own.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path

from PySide6.QtCore import (
    QModelIndex,
    QPersistentModelIndex,
    QSize,
    Qt,
    QTimer,
    Signal,
)
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QLineEdit,
    QListWidget,
    QListWidgetItem,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QWidget,
)

from skirtwright.app.beside import Beside
from skirtwright.app.bookkeeping import Bookkeeping
from skirtwright.app.desk import Desk
from skirtwright.app.fields import Choosing
from skirtwright.app.figure_view import Figure
from skirtwright.app.folder_printing import FolderPrinting
from skirtwright.app.guard import guarded
from skirtwright.app.layouts import in_column, in_row
from skirtwright.app.look import Colours, box_palette
from skirtwright.app.style_chooser import CARD, OverTable, StyleCard, figures_told
from skirtwright.draft import styles
from skirtwright.figure.drawn_figure import read_picture
from skirtwright.job import edits, file
from skirtwright.job.job import Job, new_job
from skirtwright.job.prints import today
from skirtwright.problems import Problem, SkirtwrightError
from skirtwright.words import in_one_sentence, say, says, translate
from skirtwright.workroom.batch import TABLE, Outcome, said
from skirtwright.workroom.beside_window import Seen, seen
from skirtwright.workroom.book import Book, Client
from skirtwright.workroom.one_person import Request
from skirtwright.workroom.people import RefusedRow

_LISTED = 200
"""Clients in the list at once; others are found by typing."""

_NUMBER = Qt.ItemDataRole.UserRole
_NARROWEST, _LOWEST = 170, 250
"""Of one card at ordinary text size, px."""

_CHOOSING = 300
"""Width of what is chosen from, px."""

_REST_MS = 250
"""How long the choice must rest before skirts are worked."""

_WORKERS = 2


@dataclass(frozen=True)
class Shown:
    """One client of those chosen.

    Attributes:
        client: her.
        job: her order; None where there is none, and `problem` says why.
        answer: what came of it; None while it is not worked.
        problem: what keeps her from having one.
    """

    client: Client
    job: Job | None = None
    answer: Seen | None = None
    problem: Problem | None = None

    @property
    def needs_a_look(self) -> Problem | None:
        """The gravest thing to say of it."""
        found = self.answer.problems if self.answer else ()
        return self.problem or next(iter(found), None)


class _Ticked(QStyledItemDelegate):
    """Boxes to tick on a list that has no ground of its own."""

    colours: Colours

    @guarded()
    def initStyleOption(
        self, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> None:
        super().initStyleOption(option, index)
        option.palette = box_palette(self.colours)


class ManyAtOnce(OverTable):
    """Clients and a style to choose, and the skirts.

    Attributes:
        shown: those chosen, by the number of the client in the book.

    Signals:
        told: how far it is.
        kept: so many orders are in the book now; and clients whom it has no more, for
            whom none was kept.
        left: what is to be said after she left while they were printed.
    """

    told = Signal(str)
    kept = Signal(int, list)
    left = Signal(str)

    def __init__(self, desk: Desk, book: Bookkeeping, parent: QWidget) -> None:
        super().__init__(desk, parent)
        self._book = book
        self._clients: dict[int, Client] = {}
        self.shown: dict[int, Shown] = {}
        self._round = 0
        manner = desk.manner
        self.style_box, self.sought = Choosing(), QLineEdit()
        self.style_box.addItem(say("many.as_on_table", manner=manner), "")
        for name in styles.names():
            self.style_box.addItem(translate(styles.style(name).title, manner), name)
        self.style_box.setAccessibleName(say("many.style", manner=manner))
        self.sought.setPlaceholderText(say("many.seek", manner=manner))
        self.sought.setAccessibleName(say("many.seek", manner=manner))
        self.sought.setClearButtonEnabled(True)
        self.clients = QListWidget()
        ticked = _Ticked(self)
        ticked.colours = self._cards.colours
        self.clients.setItemDelegate(ticked)
        self.clients.setAccessibleName(say("many.clients", manner=manner))
        self.skirts = QListWidget()
        self.skirts.setAccessibleName(say("many.skirts", manner=manner))
        self._show_cards(self.skirts)
        self._arrange()
        self._beside = Beside(self, _WORKERS)
        self._beside.answered.connect(self._answered)
        self._printing = FolderPrinting(self)
        self._printing.told.connect(self._printed_one)
        self._printing.ended.connect(self._printed)
        self._folder, self._printed_now = Path(), (0, 0)
        self._said = ""
        self._rest = QTimer(self, singleShot=True, interval=_REST_MS)
        self._rest.timeout.connect(self._work)
        self.sought.textChanged.connect(self._list)
        self.clients.itemChanged.connect(self._toggled)
        self.clients.itemActivated.connect(_turn)
        self.style_box.activated.connect(self._another_style)
        self.skirts.currentRowChanged.connect(lambda _: self._tell())
        self._list()

    def _arrange(self) -> None:
        chosen = QWidget()
        percent = self._desk.settings.text_size
        chosen.setFixedWidth(_CHOOSING * (50 + percent // 2) // 100)
        in_column(
            self.style_box, self.sought, self.clients, on=chosen, margins=(0, 0, 8, 0)
        )
        in_row(chosen, (self.skirts, 1), on=self, margins=(16, 12, 12, 8))

    # Choosing

    def _list(self) -> None:
        """Those chosen first, then those whose name is sought."""
        text = self.sought.text()
        found = self._book.book.clients(text, _LISTED)
        rest = [client for client in found if client.number not in self.shown]
        listed = [one.client for one in self.shown.values()] + rest
        self._clients = {client.number: client for client in listed}
        self.clients.blockSignals(True)
        self.clients.clear()
        for client in listed:
            item = QListWidgetItem(client.name)
            item.setData(_NUMBER, client.number)
            item.setFlags(item.flags() | Qt.ItemFlag.ItemIsUserCheckable)
            on = client.number in self.shown
            item.setCheckState(Qt.CheckState.Checked if on else Qt.CheckState.Unchecked)
            self.clients.addItem(item)
        self.clients.blockSignals(False)
        if listed:
            self.clients.setCurrentRow(0)

    def _toggled(self, item: QListWidgetItem) -> None:
        number = item.data(_NUMBER)
        if item.checkState() == Qt.CheckState.Checked:
            self.shown[number] = Shown(self._clients[number])
        else:
            self.shown.pop(number, None)
        self._rest.start()
        self._fill()

    def _another_style(self) -> None:
        self._beside.stop()
        self.shown = {n: Shown(one.client) for n, one in self.shown.items()}
        self._rest.start()
        self._fill()

    def _job(self, client: Client) -> Job:
        """Her order, in the style that is chosen, on her latest measurements.

        What was altered on the order on the table is altered for her it was altered on,
        while her card is that order's.

        Raises:
            SkirtwrightError: she was never measured, or her card cannot be read.
        """
        card = self._book.book.card_of(client.name)
        card = card.replace(name=client.name)
        name = self.style_box.currentData()
        job = new_job(styles.style(name)) if name else self._desk.job
        changes = {"prints": (), "title": ""}
        if job.card != card:
            changes["fitting"] = ()
        return edits.set_card(job.replace(**changes), card).job

    # Working

    def _work(self) -> None:
        """Ask for those that were not asked for yet."""
        self._round += 1
        self._beside.stop()
        for number, one in self.shown.items():
            if one.answer is None and one.problem is None:
                try:
                    job = self._job(one.client)
                except SkirtwrightError as refused:
                    self.shown[number] = replace(one, problem=refused.problem)
                    continue
                self.shown[number] = replace(one, job=job)
                self._beside.ask((self._round, number), seen, file.written(job))
        self._fill()

    def _answered(self, known_as: tuple[int, int], answer: Seen | Problem) -> None:
        of_round, number = known_as
        one = self.shown.get(number)
        if one is None or of_round != self._round:
            return
        if isinstance(answer, Problem):
            self.shown[number] = replace(one, problem=answer)
        else:
            self.shown[number] = replace(one, answer=answer)
        self._fill()

    @property
    def working(self) -> bool:
        """Whether some are still being worked or printed."""
        return self._beside.waiting > 0 or self._printing.busy

    @property
    def printing(self) -> bool:
        """Whether they are being printed."""
        return self._printing.busy

    @property
    def ready(self) -> bool:
        """Whether all are worked, and one of them can be kept or printed."""
        return not self.working and any(one.answer for one in self.shown.values())

    def stop(self) -> None:
        """What is not worked or printed yet is left."""
        self._beside.stop()
        self._printing.stop()
        self._tell()

    # Showing

    def _fill(self) -> None:
        """A card for each that was chosen."""
        held = self.skirts.currentRow()
        while self.skirts.count() > len(self.shown):
            self.skirts.takeItem(self.skirts.count() - 1)
        while self.skirts.count() < len(self.shown):
            self.skirts.addItem(QListWidgetItem())
        for row, one in enumerate(self.shown.values()):
            item = self.skirts.item(row)
            card = self._card(one)
            item.setData(CARD, card)
            item.setText(" ".join(filter(None, (card.title, card.look, card.told))))
            problem = one.needs_a_look
            says_it = in_one_sentence(problem, self._desk.manner) if problem else ""
            item.setToolTip(says_it)
        self.skirts.setCurrentRow(min(held, len(self.shown) - 1))
        self._tell()

    def _card(self, one: Shown) -> StyleCard:
        manner, problem = self._desk.manner, one.needs_a_look
        look = ""
        if problem is not None:
            grave = "wrong" if one.problem else problem.severity
            look = say(f"severity.{grave}", manner=manner)
        figure, told = None, ""
        if one.answer is not None:
            picture = read_picture(one.answer.picture)
            figure = Figure((picture,), self._cards.colours) if picture else None
            told = figures_told(one.answer.finished, manner)
        elif one.problem is not None:
            told = says(one.problem, manner)
        return StyleCard(one.client.name, told=told, figure=figure, look=look)

    def words(self) -> str:
        """How far it is, and what is to be said of the skirt in hand."""
        manner = self._desk.manner
        if self._said or not self.shown:
            return self._said or say("many.choose", manner=manner)
        done = [one for one in self.shown.values() if one.answer or one.problem]
        looks = sum(one.needs_a_look is not None for one in done)
        values = {"done": len(done), "all": len(self.shown), "looks": looks}
        words = say("many.so_far", values, manner)
        row = self.skirts.currentRow()
        held = [*self.shown.values()][row] if 0 <= row < len(self.shown) else None
        problem = held.needs_a_look if held else None
        if held is not None and problem is not None:
            why = in_one_sentence(problem, manner)
            values_held = {"name": held.client.name, "why": why}
            words += " " + say("batch.needs_a_look", values_held, manner)
        on_table = self._desk.job
        if on_table.fitting and any(
            one.job and one.client.name == on_table.card.name and not one.job.fitting
            for one in done
            if not self.style_box.currentData()
        ):
            name = {"name": on_table.card.name}
            words += " " + say("many.without_fitting", name, manner)
        return words

    def _tell(self, said: str = "") -> None:
        self._said = said
        self.told.emit(self.words())

    # Doing

    def keep(self) -> None:
        """Every skirt that could be worked becomes an order in the book."""
        made = [one for one in self.shown.values() if one.answer and one.job]

        def work(book: Book) -> list[str]:
            gone = []
            with book.transaction():
                for one in made:
                    if not book.has(one.client):
                        gone.append(one.client.name)
                    elif one.job is not None and one.answer is not None:
                        order = book.add_order(one.client, one.job)
                        if picture := read_picture(one.answer.picture):
                            book.set_picture(order.number, picture)
            return gone

        def done(gone: list[str]) -> None:
            self.reject()
            self.kept.emit(len(made) - len(gone), gone)

        self._book.aside(work, done, self._refused)

    def print_in(self, folder: Path, paper: str = "") -> None:
        """Pattern, making-up sheet and order of each, and a table of all.

        Args:
            folder: where.
            paper: the name of the sheets; else as is usual with her unit.
        """
        if not self.ready:
            return
        manner, self._folder = self._desk.manner, folder
        jobs = [one.job for one in self.shown.values() if one.job is not None]
        refused = [
            RefusedRow(len(jobs) + row, one.client.name, one.problem)
            for row, one in enumerate(self.shown.values(), 1)
            if one.job is None and one.problem is not None
        ]
        sheet = "letter" if manner.unit == "in" else "a4"
        wanted = Request(paper or sheet, sheet, today(), manner.language)
        self._printed_now = (0, len(jobs))
        self._printing.begin(jobs, refused, wanted, folder)
        self._lock()

    def _lock(self) -> None:
        """Who is printed is not chosen anew meanwhile."""
        for widget in (self.clients, self.style_box):
            widget.setEnabled(not self._printing.busy)
        values = {"folder": self._folder.name}
        printing = say("many.printing", values, self._desk.manner)
        self._tell(printing if self._printing.busy else "")

    def _printed_one(self, outcome: Outcome, done: int, whole: int) -> None:
        made, wanted = self._printed_now
        self._printed_now = (made + (not outcome.refused), wanted)
        self._tell(said(outcome, done, whole, self._desk.manner))

    def _stopped(self) -> str:
        made, wanted = self._printed_now
        values = {"made": made, "all": wanted, "folder": str(self._folder)}
        return say("many.print_stopped", values, self._desk.manner)

    def _printed(self, ended: tuple[Outcome, ...] | SkirtwrightError | None) -> None:
        manner = self._desk.manner
        self._lock()
        if ended is None:
            self._tell(self._stopped())
        elif isinstance(ended, SkirtwrightError):
            self._refused(ended)
        else:
            values = {
                "made": sum(not one.refused for one in ended),
                "all": len(ended),
                "looks": sum(bool(one.needs_a_look) for one in ended),
            }
            where = {"folder": str(self._folder), "file": TABLE}
            words = say("batch.ended", values, manner)
            self._tell(f"{words} {say('many.printed', where, manner)}")

    def _refused(self, trouble: SkirtwrightError) -> None:
        self.told.emit(in_one_sentence(trouble.problem, self._desk.manner))

    def reject(self) -> None:
        """Done here; nothing is kept."""
        self._rest.stop()
        self._beside.stop()
        self._printing.stop()
        super().reject()
        if self.printing:
            self.left.emit(self._stopped())

    @guarded()
    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        percent = self._cards.percent
        bar = self.skirts.verticalScrollBar().sizeHint().width()
        wide = max(self.width() - _CHOOSING - 60 - bar, _NARROWEST)
        across = max(1, wide * 100 // (_NARROWEST * percent))
        self._cards.size = QSize(wide // across - 1, _LOWEST * percent // 100)
        self.skirts.setGridSize(self._cards.size)


def _turn(item: QListWidgetItem) -> None:
    """Enter chooses a client, or lets her go again."""
    on = item.checkState() == Qt.CheckState.Checked
    item.setCheckState(Qt.CheckState.Unchecked if on else Qt.CheckState.Checked)
