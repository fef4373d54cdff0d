"""How large a millimetre is on this screen, measured with a bank card."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import (
    QDialog,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QWidget,
)

from skirtwright.app.fields import Range, small_button
from skirtwright.app.guard import guarded
from skirtwright.app.layouts import in_column
from skirtwright.app.look import Colours
from skirtwright.words import Manner, say

WIDE, TALL, ROUND = 85.6, 53.98, 3.18
"""A bank card, mm: ISO/IEC 7810, size ID-1."""

LEAST, MOST = 2.0, 14.0
"""Pixels to a millimetre of the screens there are."""

_PARTS = 200
"""Parts of a pixel to a millimetre that the range counts in."""


class CardOutline(QWidget):
    """The outline of a bank card, as large as it is thought to be."""

    def __init__(self, pixels_per_mm: float, colours: Colours) -> None:
        super().__init__()
        self._scale, self._colours = pixels_per_mm, colours

    def set_scale(self, pixels_per_mm: float) -> None:
        """Draw it larger or smaller."""
        self._scale = pixels_per_mm
        self.updateGeometry()
        self.update()

    @guarded(otherwise=lambda: QSize(400, 280))
    def sizeHint(self) -> QSize:
        return QSize(round(WIDE * self._scale) + 40, round(TALL * self._scale) + 40)

    @guarded(otherwise=lambda: QSize(400, 280))
    def minimumSizeHint(self) -> QSize:
        return self.sizeHint()

    @guarded()
    def paintEvent(self, event: QPaintEvent) -> None:
        """The rim only: she lays the card on it."""
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setPen(QPen(QColor(self._colours.accent), 2.0))
            painter.setBrush(QColor(self._colours.field))
            radius = ROUND * self._scale
            size = (WIDE * self._scale, TALL * self._scale)
            painter.drawRoundedRect(QRectF(20, 20, *size), radius, radius)


class BankCard(QDialog):
    """She makes the outline as large as the card in her hand.

    Signals:
        measured: pixels to a millimetre; while the range moves.
    """

    measured = Signal(float)

    def __init__(
        self, now: float, colours: Colours, manner: Manner, parent: QWidget
    ) -> None:
        super().__init__(parent)
        self.setWindowTitle(say("bank_card.title", manner=manner))
        told = QLabel(say("bank_card.how", manner=manner), wordWrap=True)
        self.outline = CardOutline(now, colours)
        self.range = Range()
        self.range.setRange(round(LEAST * _PARTS), round(MOST * _PARTS))
        self.range.setValue(round(now * _PARTS))
        self.range.setAccessibleName(say("bank_card.size", manner=manner))
        less = small_button("−", say("bank_card.smaller", manner=manner))
        more = small_button("+", say("bank_card.larger", manner=manner))
        less.clicked.connect(lambda: self.range.setValue(self.range.value() - 1))
        more.clicked.connect(lambda: self.range.setValue(self.range.value() + 1))
        self.range.valueChanged.connect(self._changed)
        row = QHBoxLayout()
        for widget, stretch in ((less, 0), (self.range, 1), (more, 0)):
            row.addWidget(widget, stretch)
        buttons = QPushButton(say("notice.close", manner=manner))
        buttons.clicked.connect(self.reject)
        in_column(
            told,
            (self.outline, 0, Qt.AlignmentFlag.AlignHCenter),
            row,
            buttons,
            on=self,
            spacing=12,
            margins=(20, 18, 20, 16),
        )

    def _changed(self, value: int) -> None:
        self.outline.set_scale(value / _PARTS)
        self.measured.emit(value / _PARTS)
