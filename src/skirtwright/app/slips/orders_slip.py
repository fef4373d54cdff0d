"""Her orders: due first, each with the skirt on the client; found as she types."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QAction, QHideEvent, QKeyEvent, QShowEvent
from PySide6.QtWidgets import (
    QLineEdit,
    QPushButton,
    QToolButton,
    QWidget,
)

from skirtwright.app.bookkeeping import DAMAGED, Bookkeeping, Found
from skirtwright.app.desk import Desk
from skirtwright.app.due_day import typed_day
from skirtwright.app.fields import sentence_label, tell
from skirtwright.app.figure_view import Figure
from skirtwright.app.guard import guarded
from skirtwright.app.layouts import in_column, in_row
from skirtwright.app.missing_pictures import MissingPictures
from skirtwright.app.slips.order_row import OrderRow
from skirtwright.app.slips.slip import Slip
from skirtwright.job.prints import today
from skirtwright.problems import SkirtwrightError
from skirtwright.words import in_one_sentence, in_two_sentences, say
from skirtwright.workroom.book import Book, Client, KeptOrder

_AT_ONCE = 12
"""Rows; what is more is asked for, or found by typing."""

_LOOKS_MS = 1500
"""How often the book is asked whether another window wrote in it."""


@dataclass(frozen=True)
class OnTable:
    """What lies on the table, as far as the list of orders shows it.

    Attributes:
        number: of the order in the book; None for one that is not in it.
        to_keep: whose it is, if it is not in the book yet; else nothing.
    """

    number: int | None = None
    to_keep: str = ""


class SearchField(QLineEdit):
    """Where she types what she seeks."""

    down = Signal()

    @guarded()
    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Down goes on to what was found; Escape first empties the line."""
        if event.key() == Qt.Key.Key_Down:
            self.down.emit()
        elif event.key() == Qt.Key.Key_Escape and self.text():
            self.clear()
        else:
            super().keyPressEvent(event)


class OrdersSlip(Slip):
    """What is to be made, and for whom.

    Attributes:
        in_hand: the row the keyboard was in last; None for none.
        on_table: asks what lies on the table.
        of_row: what a row's own menu offers.
        of_order_only: that of these which a client without an order has no use for.

    Signals:
        order_wanted: an order is to come on the table.
        client_wanted: a new order for this client.
        new_client: someone who is not in the book.
        keep_wanted: the order on the table goes into the book.
        mend_wanted: the book is damaged, and what can be read of it is to be saved.
    """

    order_wanted = Signal(object)
    client_wanted = Signal(object)
    new_client = Signal()
    keep_wanted = Signal()
    mend_wanted = Signal()

    def __init__(self, desk: Desk, book: Bookkeeping) -> None:
        super().__init__(desk)
        self._book = book
        self._missing = MissingPictures(self, book)
        self._most = _AT_ONCE
        self.in_hand: OrderRow | None = None
        self.on_table: Callable[[], OnTable] = OnTable
        self.of_row: Sequence[QAction] = ()
        self.of_order_only: QAction | None = None
        self.sought = SearchField()
        self.sought.setClearButtonEnabled(True)
        self.keep = QPushButton()
        self.new = QPushButton()
        self.more = QToolButton()
        self.more.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        self.more.setProperty("small", True)
        self.more.setText("⋯")
        self.said = sentence_label()
        self.mend = QPushButton()
        self.others = QPushButton()
        self._listed = in_column(spacing=6)
        self.order_rows: list[OrderRow] = []
        top = in_row((self.new, 1), self.more)
        self.rows.addWidget(self.keep)
        self.rows.addWidget(self.sought)
        self.rows.addLayout(top)
        self.rows.addWidget(self.said)
        self.rows.addWidget(self.mend)
        self.rows.addLayout(self._listed)
        self.rows.addWidget(self.others)
        self.rows.addStretch(1)
        self._watch = QTimer(self, interval=_LOOKS_MS)
        self._watch.timeout.connect(book.look_again)
        book.changed.connect(self._changed)
        self.sought.textChanged.connect(self._seek)
        self.sought.down.connect(partial(self._go, 0))
        self.sought.returnPressed.connect(self._open_first)
        self.new.clicked.connect(self.new_client)
        self.keep.clicked.connect(self.keep_wanted)
        self.mend.clicked.connect(self.mend_wanted)
        self.others.clicked.connect(self._show_more)

    def first_place(self) -> QWidget:
        """Where she types what she seeks."""
        return self.sought

    def client_in_hand(self) -> Client | None:
        """Whose row is in hand."""
        row = self.in_hand
        return row.client if row is not None and row.isVisible() else None

    def order_in_hand(self) -> KeptOrder | None:
        """The order whose row is in hand."""
        row = self.in_hand
        return row.order if row is not None and row.isVisible() else None

    # Showing

    def refresh(self) -> None:
        """Say everything again, and ask the book."""
        manner = self.desk.manner
        self.head(say("orders.title", manner=manner))
        self.sought.setPlaceholderText(say("orders.seek", manner=manner))
        self.sought.setAccessibleName(say("orders.seek", manner=manner))
        self.new.setText(say("orders.new", manner=manner))
        self.more.setAccessibleName(say("orders.more", manner=manner))
        self.more.setToolTip(say("orders.more", manner=manner))
        self.others.setText(say("orders.others", manner=manner))
        self.mend.setText(say("orders.mend", manner=manner))
        self.show_found()

    def show_on_table(self) -> None:
        """Mark the order on the table; one that is not in the book can be kept."""
        here = self.on_table()
        values = {"name": here.to_keep}
        self.keep.setText(say("orders.keep", values, self.desk.manner))
        self.keep.setVisible(bool(here.to_keep))
        for row in self.order_rows:
            number = row.order.number if row.order is not None else None
            row.mark(on_table=number is not None and number == here.number)

    def _changed(self) -> None:
        if self.isVisible():
            self.show_found()

    def _seek(self) -> None:
        self._most = _AT_ONCE
        self.show_found()

    def _show_more(self) -> None:
        at = self._most
        self._most += _AT_ONCE
        self.show_found()
        self._go(at)

    def show_found(self) -> None:
        """What the book has of what is sought."""
        manner = self.desk.manner
        try:
            found = self._book.found(self.sought.text(), self._most)
        except SkirtwrightError as trouble:
            self._show_rows(Found())
            problem = trouble.problem
            tell(self.said, in_two_sentences(problem, manner), "wrong")
            self.mend.setVisible(problem.code in DAMAGED)
            return
        self.mend.hide()
        none = not (found.orders or found.clients)
        code = "orders.not_found" if self.sought.text() else "orders.none_yet"
        code = code if none else "book.read_only" if found.read_only else ""
        tell(self.said, say(code, manner=manner) if code else "", "ink")
        self._show_rows(found)

    def _show_rows(self, found: Found) -> None:
        manner = self.desk.manner
        wanted = len(found.orders) + len(found.clients)
        while len(self.order_rows) < wanted:
            self.order_rows.append(self._made())
        without = []
        called = Counter((one.client.number, one.title) for one in found.orders)
        for row, order in zip(self.order_rows, found.orders, strict=False):
            figure = self._figure(order)
            has_twin = called[order.client.number, order.title] > 1
            row.show_order(order, figure, manner, has_twin=has_twin)
            self._offer(row, self.of_row)
            if figure is None:
                without.append(order)
        self._missing.want(without)
        clients = self.order_rows[len(found.orders) :]
        for row, client in zip(clients, found.clients, strict=False):
            row.show_client(client, manner)
            self._offer(row, [a for a in self.of_row if a is not self.of_order_only])
        for number, row in enumerate(self.order_rows):
            row.setVisible(number < wanted)
        self.others.setVisible(found.more)
        self.show_on_table()

    def _offer(self, row: OrderRow, what: Sequence[QAction]) -> None:
        """The menu of a row."""
        for action in row.actions():
            row.removeAction(action)
        row.addActions(what)

    def _made(self) -> OrderRow:
        row = OrderRow()
        row.opened.connect(self._open)
        row.staged.connect(self._stage)
        row.priced.connect(self._price)
        row.came.connect(self._came)
        number = len(self.order_rows)
        row.moved.connect(lambda way: self._go(number + way))
        self._listed.addWidget(row)
        return row

    def _figure(self, order: KeptOrder) -> Figure | None:
        picture = self._book.picture(order.number)
        return Figure((picture,), self.colours) if picture else None

    # Doing

    def _came(self, row: OrderRow) -> None:
        self.in_hand = row
        self.scrolled.ensureWidgetVisible(row)

    def _go(self, number: int) -> None:
        """The keyboard to a row, or back to where she types."""
        seen = [row for row in self.order_rows if row.isVisible()]
        if number < 0 or not seen:
            self.sought.setFocus(Qt.FocusReason.OtherFocusReason)
        else:
            row = seen[min(number, len(seen) - 1)]
            row.setFocus(Qt.FocusReason.OtherFocusReason)

    def _open_first(self) -> None:
        if self.order_rows and self.order_rows[0].isVisible():
            self._open(self.order_rows[0])

    def _open(self, row: OrderRow) -> None:
        self.in_hand = row
        if row.order is not None:
            self.order_wanted.emit(row.order)
        elif row.client is not None:
            self.client_wanted.emit(row.client)

    def _stage(self, row: OrderRow, stage: str, due: str) -> None:
        order, manner = row.order, self.desk.manner
        if order is None:
            return
        try:
            day = typed_day(due, manner.language, today())
        except SkirtwrightError as refused:
            row.refuse(in_one_sentence(refused.problem, manner))
            return
        self._write(row, lambda book: book.set_stage(order, stage, day))

    def _price(self, row: OrderRow, price: str) -> None:
        order = row.order
        if order is not None:
            self._write(row, lambda book: book.set_price(order, price.strip()))

    def _write(self, row: OrderRow, work: Callable[[Book], object]) -> None:
        try:
            self._book.write(work)
        except SkirtwrightError as refused:
            row.refuse(in_one_sentence(refused.problem, self.desk.manner))

    # In sight or not

    @guarded()
    def showEvent(self, event: QShowEvent) -> None:
        """While it is in sight it hears what other windows write."""
        super().showEvent(event)
        self._watch.start()

    @guarded()
    def hideEvent(self, event: QHideEvent) -> None:
        """Out of sight it costs nothing."""
        super().hideEvent(event)
        self._watch.stop()
        self._missing.stop()
