"""One order of the book, or one client without any, as a row of the slip of orders."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter
from PySide6.QtWidgets import QFrame, QLabel, QLineEdit, QWidget

from skirtwright.app.due_day import shown_day
from skirtwright.app.fields import Choosing, sentence_label, tell
from skirtwright.app.figure_view import Figure, paint
from skirtwright.app.guard import guarded
from skirtwright.app.layouts import in_grid
from skirtwright.job.prints import today
from skirtwright.words import Manner, say
from skirtwright.workroom.book import Client, KeptOrder
from skirtwright.workroom.book_tables import STAGES

_PICTURE = QSize(60, 88)
_INDENT = 5
"""Of words, so that they stand over those of the fields, px."""

_WAYS = {Qt.Key.Key_Down: 1, Qt.Key.Key_Up: -1}


class Worn(QWidget):
    """The skirt on her, small."""

    def __init__(self) -> None:
        super().__init__()
        self.setFixedSize(_PICTURE)
        self._figure: Figure | None = None

    def show_figure(self, figure: Figure | None) -> None:
        """Another; None leaves the place empty."""
        self._figure = figure
        self.update()

    @guarded()
    def paintEvent(self, _: object) -> None:
        if self._figure is not None:
            with QPainter(self) as painter:
                area = QRectF(self.rect()).adjusted(1, 2, -1, -2)
                paint(painter, area, self._figure)


class Entry(QLineEdit):
    """A short text changed where it stands; Escape brings back what was there.

    Signals:
        entered: another text was typed.
    """

    entered = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        self.setProperty("flat", True)
        self.setProperty("lesser", True)
        self._rests_at = ""
        self.editingFinished.connect(self._done)

    def rest_at(self, text: str) -> None:
        """The text as it is kept; never under her fingers."""
        self._rests_at = text
        if not self.isModified():
            self.setText(text)
            self.setCursorPosition(0)

    def _done(self) -> None:
        if self.isModified() and self.text() != self._rests_at:
            self.entered.emit(self.text())
        self.setModified(False)

    @guarded()
    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape and self.isModified():
            self.setText(self._rests_at)
        else:
            super().keyPressEvent(event)


class OrderRow(QFrame):
    """An order: a click or Enter opens it; its stage, day and price change in place.

    Signals:
        opened: she wants it on the table.
        staged: another stage, or another day as typed.
        priced: another price as typed.
        moved: up or down from this row.
        came: it is the row in hand now.
    """

    opened = Signal(object)
    staged = Signal(object, str, str)
    priced = Signal(object, str)
    moved = Signal(int)
    came = Signal(object)

    def __init__(self) -> None:
        super().__init__()
        self.order: KeptOrder | None = None
        self.client: Client | None = None
        self._manner = Manner()
        self._called = ""
        self.setProperty("check", True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setContextMenuPolicy(Qt.ContextMenuPolicy.ActionsContextMenu)
        self.worn = Worn()
        self.name, self.title = QLabel(), QLabel()
        self.name.setProperty("role", "strong")
        self.title.setProperty("role", "faint")
        for label in (self.name, self.title):
            label.setTextFormat(Qt.TextFormat.PlainText)
            label.setWordWrap(True)
            label.setIndent(_INDENT)
        self.stage = Choosing()
        self.stage.setProperty("flat", True)
        self.due, self.price = Entry(), Entry()
        self.price.setMaxLength(20)
        self.late = sentence_label("wrong")
        self.here = sentence_label("strong")
        for label in (self.late, self.here):
            label.setIndent(_INDENT)
        grid = in_grid(self, (2, 4, 2, 4), across=8, down=0)
        grid.addWidget(self.worn, 0, 0, 4, 1, Qt.AlignmentFlag.AlignTop)
        grid.addWidget(self.name, 0, 1, 1, 2)
        grid.addWidget(self.title, 1, 1, 1, 2)
        grid.addWidget(self.stage, 2, 1, 1, 2)
        grid.addWidget(self.due, 3, 1)
        grid.addWidget(self.price, 3, 2)
        grid.addWidget(self.late, 4, 1, 1, 2)
        grid.addWidget(self.here, 5, 1, 1, 2)
        grid.setColumnStretch(1, 1)
        grid.setColumnStretch(2, 1)
        self.stage.activated.connect(self._stage)
        self.due.entered.connect(self._due)
        self.price.entered.connect(self._price)

    def show_order(
        self,
        order: KeptOrder,
        figure: Figure | None,
        manner: Manner,
        *,
        has_twin: bool = False,
    ) -> None:
        """Show an order; by its number, too, where another is called the same."""
        self.order, self.client, self._manner = order, order.client, manner
        self.name.setText(order.client.name)
        title = order.title
        if has_twin:
            values = {"title": title, "number": order.number}
            title = say("orders.numbered", values, manner)
        self.title.setText(title)
        self.worn.show_figure(figure)
        names = [say(f"stage.{stage}", manner=manner) for stage in STAGES]
        self.stage.fill(names)
        self.stage.setCurrentIndex(STAGES.index(order.stage))
        due = shown_day(order.due, manner.language)
        self.due.rest_at(due)
        self.price.rest_at(order.price)
        is_late = bool(order.due) and order.due < today() and order.stage != STAGES[-1]
        tell(self.late, say("orders.late", manner=manner) if is_late else "", "wrong")
        for widget in (self.stage, self.due, self.price):
            widget.setVisible(True)
        self._name_fields()
        values = {
            "client": order.client.name,
            "title": title,
            "stage": names[STAGES.index(order.stage)],
        }
        told = "orders.row_due" if due else "orders.row"
        self._called = say(told, {**values, "due": due}, manner)
        self.setAccessibleName(self._called)

    def show_client(self, client: Client, manner: Manner) -> None:
        """Show a client without orders."""
        self.order, self.client, self._manner = None, client, manner
        self.name.setText(client.name)
        self.title.setText(say("orders.none_of_hers", manner=manner))
        self.worn.show_figure(None)
        tell(self.late, "")
        for widget in (self.stage, self.due, self.price):
            widget.setVisible(False)
        self._called = f"{client.name}: {self.title.text()}"
        self.setAccessibleName(self._called)

    def mark(self, *, on_table: bool) -> None:
        """Say that this is the order on the table, or that it is not."""
        words = say("orders.on_table", manner=self._manner) if on_table else ""
        tell(self.here, words, "strong")
        self.setAccessibleName(", ".join(filter(None, (self._called, words))))

    def _name_fields(self) -> None:
        manner = self._manner
        for name, widget in (
            ("stage", self.stage),
            ("due", self.due),
            ("price", self.price),
        ):
            widget.setAccessibleName(say(f"orders.{name}", manner=manner))
            widget.setToolTip(say(f"orders.{name}.help", manner=manner))
        self.due.setPlaceholderText(say("orders.due", manner=manner))
        self.price.setPlaceholderText(say("orders.price", manner=manner))

    def refuse(self, words: str) -> None:
        """What was typed as a day is none."""
        tell(self.late, words, "wrong")

    def _stage(self, index: int) -> None:
        order = self.order
        if order is not None and STAGES[index] != order.stage:
            due = shown_day(order.due, self._manner.language)
            self.staged.emit(self, STAGES[index], due)

    def _due(self, text: str) -> None:
        if self.order is not None:
            self.staged.emit(self, self.order.stage, text)

    def _price(self, text: str) -> None:
        if self.order is not None:
            self.priced.emit(self, text)

    # Keys and clicks

    @guarded()
    def focusInEvent(self, event: object) -> None:
        super().focusInEvent(event)  # type: ignore[arg-type]
        self.came.emit(self)

    @guarded()
    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        inside = self.rect().contains(event.position().toPoint())
        if event.button() == Qt.MouseButton.LeftButton and inside:
            self.opened.emit(self)

    @guarded()
    def keyPressEvent(self, event: QKeyEvent) -> None:
        key = Qt.Key(event.key())
        if not self.hasFocus():
            event.ignore()
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.opened.emit(self)
        elif key in _WAYS:
            self.moved.emit(_WAYS[key])
        else:
            super().keyPressEvent(event)
