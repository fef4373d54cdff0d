"""A slip beside a seam edge on the table: the seam's allowance and its notches."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QFrame, QWidget

from skirtwright.app.fields import role_label, small_button
from skirtwright.app.guard import guarded
from skirtwright.app.layouts import in_column, in_row, reading_order
from skirtwright.app.piece_desk import PieceDesk
from skirtwright.app.slips.seam_row import SeamRow
from skirtwright.job.worktable import Look
from skirtwright.words import say

_AWAY = 22
"""From the place that was clicked to the slip, px."""

_EDGE = 8


class EdgeSlip(QFrame):
    """One seam; it lies over the table until she is done with it.

    Signals:
        closed: she is done.
        settled: it lies where it stays.
    """

    closed = Signal()
    settled = Signal()

    def __init__(self, desk: PieceDesk, table: QWidget) -> None:
        super().__init__(table)
        self._desk, self._table = desk, table
        self._where: Callable[[], tuple[float, float]] = lambda: (0.0, 0.0)
        self.row: SeamRow | None = None
        self._edge = ("", "")
        self.setProperty("beside", True)
        self.heading = role_label("heading")
        self.heading.setTextFormat(Qt.TextFormat.PlainText)
        self.close_button = small_button("×", "")
        self.close_button.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.close_button.clicked.connect(self.done)
        head = in_row((self.heading, 1), self.close_button)
        self.column = in_column(head, on=self, spacing=6, margins=(14, 10, 12, 12))
        self.hide()

    @property
    def place(self) -> tuple[str, str] | None:
        """The piece and the edge that was clicked; None while it is away."""
        return self._edge if self.row is not None else None

    def open(
        self, piece: str, edge: str, where: Callable[[], tuple[float, float]]
    ) -> None:
        """Lay it beside a place and put its field in hand.

        Args:
            where: the place is on the table now, px.
        """
        if self.place != (piece, edge):
            self._take_row()
            self._edge = (piece, edge)
            self.row = SeamRow(self._desk, self._edge)
            self.row.take_in_hand(True)
            # New rows have a size once they are shown.
            self.row.grown.connect(lambda: QTimer.singleShot(0, self, self.settle))
            self.column.addWidget(self.row)
        self._where = where
        self.show()
        self.show_look(self._desk.desk.look)
        field = self.row.first_field() if self.row is not None else None
        if field is not None:
            field.line.setFocus(Qt.FocusReason.OtherFocusReason)

    def show_look(self, look: Look) -> None:
        """Follow the order; away with it when the edge is gone."""
        if self.row is None or look is not self._desk.desk.look:
            return
        name, edge = self._edge
        shown = any(piece.name == name for piece in look.shown)
        state = self._desk.seam_of(name, edge, look) if shown else None
        if state is None:
            self.done()
            return
        manner = self._desk.manner
        self.heading.setText(state.title)
        self.setAccessibleName(say("pieces.slip", manner=manner))
        close = say("pieces.slip_close", manner=manner)
        self.close_button.setAccessibleName(close)
        self.close_button.setToolTip(close)
        self.row.show_state(state)
        self.row.title.hide()
        self.settle()

    def done(self) -> None:
        """Take it away."""
        if self.row is None:
            return
        self._take_row()
        self.hide()
        self.closed.emit()

    def _take_row(self) -> None:
        row, self.row = self.row, None
        if row is not None:
            self.column.removeWidget(row)
            row.hide()
            row.deleteLater()

    def settle(self) -> None:
        """Beside the place, wherever that is now, and inside the table."""
        if self.row is None:
            return
        self.adjustSize()
        table, (across, down) = self._table, self._where()
        x, y = round(across) + _AWAY, round(down) + _AWAY
        if x + self.width() > table.width() - _EDGE:
            x = round(across) - _AWAY - self.width()
        if y + self.height() > table.height() - _EDGE:
            y = table.height() - _EDGE - self.height()
        most = table.width() - _EDGE - self.width()
        self.move(max(min(x, most), _EDGE), max(y, _EDGE))
        self.settled.emit()

    @guarded(otherwise=False)
    def focusNextPrevChild(self, next: bool) -> bool:  # noqa: A002 - Qt's name
        """Tab goes round in the slip: the table under it has an order of its own."""
        row = reading_order(self.row.layout() if self.row is not None else None)
        order = [*(w for w in row if w.isVisible()), self.close_button]
        held = self.window().focusWidget()
        here = order.index(held) if held in order else -1
        after = order[(here + (1 if next else -1)) % len(order)]
        forward, back = Qt.FocusReason.TabFocusReason, Qt.FocusReason.BacktabFocusReason
        after.setFocus(forward if next else back)
        return True

    @guarded()
    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.done()
        else:
            super().keyPressEvent(event)
