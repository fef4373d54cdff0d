"""A name that is changed where it stands, on as many lines as it needs."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QSize, Qt, Signal
from PySide6.QtGui import (
    QFocusEvent,
    QKeyEvent,
    QResizeEvent,
    QTextLayout,
    QTextOption,
)
from PySide6.QtWidgets import QFrame, QPlainTextEdit, QSizePolicy

from skirtwright.app.fields import is_undo_query
from skirtwright.app.guard import guarded

_FRAME = 10
"""Rim and padding at both sides before it is shown, px."""


class TitleLine(QPlainTextEdit):
    """A name; Enter takes what was typed, Escape what was there.

    Signals:
        entered: another name was typed.
    """

    entered = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        self._rests_at = ""
        self.setProperty("quiet", True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setTabChangesFocus(True)
        self.setWordWrapMode(QTextOption.WrapMode.WrapAtWordBoundaryOrAnywhere)
        off = Qt.ScrollBarPolicy.ScrollBarAlwaysOff
        self.setVerticalScrollBarPolicy(off)
        self.setHorizontalScrollBarPolicy(off)
        policy = QSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Minimum)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)
        self.document().setDocumentMargin(2)
        self.document().setModified(False)
        self.textChanged.connect(self.updateGeometry)
        self.verticalScrollBar().valueChanged.connect(self._read_from_first)

    def rest_at(self, text: str) -> None:
        """The name as it is kept; never under her fingers."""
        changed, self._rests_at = text != self._rests_at, text
        if changed and not self.document().isModified():
            self.restore()

    def restore(self) -> None:
        """The name that is kept again."""
        self.setPlainText(self._rests_at)
        self.document().setModified(False)

    def _lines(self, wide: int) -> int:
        """Lines the name takes; the document itself only knows once it is painted."""
        frame = self.width() - self.viewport().width() if self.isVisible() else _FRAME
        room = wide - frame - 2 * self.document().documentMargin()
        option = QTextOption()
        option.setWrapMode(self.wordWrapMode())
        layout = QTextLayout(self.toPlainText(), self.font())
        layout.setTextOption(option)
        layout.beginLayout()
        count = 0
        while (line := layout.createLine()).isValid():
            line.setLineWidth(max(room, 1.0))
            count += 1
        layout.endLayout()
        return max(count, 1)

    @guarded(otherwise=True)
    def hasHeightForWidth(self) -> bool:
        return True

    @guarded(otherwise=32)
    def heightForWidth(self, wide: int) -> int:
        return self._lines(wide) * self.fontMetrics().lineSpacing() + 12

    @guarded(otherwise=lambda: QSize(120, 32))
    def sizeHint(self) -> QSize:
        return QSize(120, self.fontMetrics().lineSpacing() + 12)

    @guarded(otherwise=lambda: QSize(70, 32))
    def minimumSizeHint(self) -> QSize:
        wide = self.fontMetrics().averageCharWidth() * 9
        return QSize(wide, self.fontMetrics().lineSpacing() + 12)

    def _read_from_first(self) -> None:
        """A field that shows all its lines shows the first one first."""
        bar = self.verticalScrollBar()
        if bar.value() and self.height() >= self.heightForWidth(self.width()):
            bar.setValue(0)

    @guarded()
    def resizeEvent(self, event: QResizeEvent) -> None:
        """In a field that was too low it had moved up."""
        super().resizeEvent(event)
        self._read_from_first()

    def done(self) -> None:
        """Take what stands there, if it is new."""
        text = " ".join(self.toPlainText().split())
        self.document().setModified(False)
        if text != self._rests_at:
            self.entered.emit(text)
        # What came of it is shown by the owner; a refused name is put back.
        self.restore()

    @guarded(otherwise=False)
    def event(self, event: QEvent) -> bool:
        """Undo is the order's own, unless she is in the middle of typing."""
        if not self.document().isModified() and is_undo_query(event):
            event.ignore()
            return False
        return bool(super().event(event))

    @guarded()
    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.done()
        elif event.key() == Qt.Key.Key_Escape and self.document().isModified():
            self.restore()
        else:
            super().keyPressEvent(event)

    @guarded()
    def focusInEvent(self, event: QFocusEvent) -> None:
        """All of it is chosen when she comes by keys."""
        super().focusInEvent(event)
        if event.reason() != Qt.FocusReason.MouseFocusReason:
            self.selectAll()

    @guarded()
    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Leaving takes what was typed."""
        super().focusOutEvent(event)
        if event.reason() != Qt.FocusReason.PopupFocusReason:
            self.done()
