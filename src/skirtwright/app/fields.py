"""Fields in which numbers are typed as people write them.

A line tells only when it is done: a half-typed number is nobody's business. What
cannot be read stays in the line, marked, with the sentence under it.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import zip_longest
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QPoint, QRect, QSize, Qt, Signal
from PySide6.QtGui import (
    QAccessible,
    QAccessibleAnnouncementEvent,
    QFocusEvent,
    QKeyEvent,
    QKeySequence,
    QPainter,
    QPaintEvent,
    QPalette,
    QPen,
    QResizeEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import (
    QComboBox,
    QLabel,
    QLineEdit,
    QSizePolicy,
    QSlider,
    QStyledItemDelegate,
    QToolButton,
    QWidget,
)

from skirtwright.app.guard import guarded

if TYPE_CHECKING:
    from PySide6.QtWidgets import QStyleOptionComboBox

_STEPS = {
    Qt.Key.Key_Up: 1,
    Qt.Key.Key_Down: -1,
    Qt.Key.Key_PageUp: 10,
    Qt.Key.Key_PageDown: -10,
}


class NumberLine(QLineEdit):
    """A line for one number or sum.

    Args:
        longest: the figure it must be wide enough for.
        rim: what stands round it, px.

    Signals:
        entered: she is done; the text. The owner answers with `rest_at` or `refuse`.
        stepped: up or down by so many steps.
        set_back: back to the default.
        restored: she took back what she had typed.
        came: she is in the line now.
        left: she is not any more.
        agreed: Enter, while she is asked about what she typed.
        taken: Enter, and nothing is left to put right or to answer.
    """

    entered = Signal(str)
    restored = Signal()
    stepped = Signal(int)
    set_back = Signal()
    came = Signal()
    left = Signal()
    agreed = Signal()
    taken = Signal()

    def __init__(
        self,
        parent: QWidget | None = None,
        longest: str = "124 15/16",
        *,
        rim: int = 26,
    ) -> None:
        super().__init__(parent)
        self._longest, self._rim = longest, rim
        self._rests_at = ""
        self._written = ""
        self._refused: str | None = None
        self._asked: str | None = None
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAlignment(Qt.AlignmentFlag.AlignRight)
        self.setMaxLength(200)

    @property
    def wrong(self) -> bool:
        """True while what stands in the line cannot be used."""
        return self._refused is not None

    def rest_at(self, shown: str, written: str = "") -> None:
        """The good value: how it is shown, and as she wrote it where that is a sum."""
        same = (shown, written) == (self._rests_at, self._written)
        self._rests_at, self._written = shown, written
        if same and self._refused is not None:
            # The wrong entry is still hers to put right.
            return
        if self.asking:
            return
        if self.hasFocus() and self.isModified() and self._refused is None:
            # Never under her fingers: what she is typing stays.
            return
        self._mark(None)
        self._show(written if self.hasFocus() and written else shown)

    def refuse(self) -> None:
        """What stands in the line cannot be used: it stays, marked."""
        self._mark(self.text())

    @property
    def asking(self) -> bool:
        """True while she is asked about what stands in the line."""
        return self._asked is not None and self._asked == self.text()

    def ask(self) -> None:
        """What stands in the line is asked about; Enter agrees, typing goes on."""
        self._asked = self.text()

    def answer(self, text: str) -> None:
        """What was asked about is settled: this is what she meant."""
        self._asked = None
        self.setText(text)
        self.setModified(False)

    def _show(self, text: str) -> None:
        if text != self.text():
            self.setText(text)
        self.setModified(False)
        if not self.hasFocus():
            self.setCursorPosition(0)

    def _mark(self, refused: str | None) -> None:
        self._refused = refused
        dress(self, "wrong", self.wrong)

    def done(self) -> None:
        """Take what stands in the line, if it is new."""
        text = self.text()
        if text == self._refused or self.asking:
            return
        if not self.isModified() and self._refused is None:
            return
        if text.strip() == (self._written or self._rests_at):
            self.restore()
            self.restored.emit()
            return
        self.setModified(False)
        self._mark(None)
        self.entered.emit(text)

    def restore(self) -> None:
        """The last good value again."""
        self._mark(None)
        self._asked = None
        self._show((self._written if self.hasFocus() else "") or self._rests_at)

    @guarded(otherwise=False)
    def event(self, event: QEvent) -> bool:
        """Undo and redo are the order's own, unless she is in the middle of typing."""
        # What she has just undone of her typing is hers to redo.
        is_typing = self.isModified() or self.isRedoAvailable()
        if not is_typing and is_undo_query(event):
            event.ignore()
            return False
        return bool(super().event(event))

    @guarded()
    def keyPressEvent(self, event: QKeyEvent) -> None:
        key, mods = event.key(), event.modifiers()
        if key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            if self.asking:
                self.agreed.emit()
            else:
                self.done()
            self.selectAll()
            if not self.wrong and not self.asking:
                self.taken.emit()
        elif key == Qt.Key.Key_Escape and (
            self.isModified() or self.wrong or self.asking
        ):
            self.restore()
            self.restored.emit()
            self.selectAll()
        elif key in _STEPS and not mods & Qt.KeyboardModifier.ControlModifier:
            self.done()
            if not self.wrong and not self.asking:
                self.stepped.emit(_STEPS[Qt.Key(key)])
                self.selectAll()
        elif key == Qt.Key.Key_Backspace and mods & Qt.KeyboardModifier.ControlModifier:
            self.restore()
            self.set_back.emit()
            self.selectAll()
        else:
            super().keyPressEvent(event)

    @guarded()
    def focusInEvent(self, event: QFocusEvent) -> None:
        """A sum shows as she wrote it while she is in the line."""
        super().focusInEvent(event)
        if self._written and not self.wrong:
            self._show(self._written)
        if event.reason() != Qt.FocusReason.MouseFocusReason:
            self.selectAll()
        self.came.emit()

    @guarded()
    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Leaving the line takes what was typed."""
        super().focusOutEvent(event)
        if event.reason() == Qt.FocusReason.PopupFocusReason:
            return
        self.done()
        if not self.wrong and not self.asking and not self.isModified():
            self._show(self._rests_at)
        self.left.emit()

    @guarded()
    def wheelEvent(self, event: QWheelEvent) -> None:
        """The wheel does nothing in a line that is not in hand."""
        if not self.hasFocus() or not event.angleDelta().y():
            event.ignore()
            return
        self.stepped.emit(1 if event.angleDelta().y() > 0 else -1)
        event.accept()

    @guarded(otherwise=lambda: QSize(96, 30))
    def sizeHint(self) -> QSize:
        hint = super().sizeHint()
        metrics = self.fontMetrics()
        told = (self._longest, self.placeholderText())
        wide = max(map(metrics.horizontalAdvance, told)) + self._rim
        return QSize(wide, max(hint.height(), 28))

    @guarded(otherwise=lambda: QSize(60, 28))
    def minimumSizeHint(self) -> QSize:
        return self.sizeHint()


class Range(QSlider):
    """A range to pull: nothing happens when the wheel passes over it."""

    def __init__(self) -> None:
        super().__init__(Qt.Orientation.Horizontal)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setPageStep(10)

    @guarded()
    def wheelEvent(self, event: QWheelEvent) -> None:
        """Only a range in hand follows the wheel."""
        if self.hasFocus():
            super().wheelEvent(event)
        else:
            event.ignore()


_SEEN_AT_ONCE = 24
"""Options that are seen without scrolling, as far as the screen has room."""


class Choosing(QComboBox):
    """A list of options, written on two lines where one is too short.

    Nothing happens when the wheel passes over it.

    Args:
        at_right: what is chosen ends at the right edge, below figures that do.
    """

    def __init__(self, *, at_right: bool = False) -> None:
        super().__init__()
        flag = Qt.AlignmentFlag
        across = flag.AlignRight if at_right else flag.AlignLeft
        self._written = (across | flag.AlignVCenter).value | Qt.TextFlag.TextWordWrap
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMaxVisibleItems(_SEEN_AT_ONCE)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setSizeAdjustPolicy(
            QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon
        )
        # Beside a name it gives way; by itself it has room for a word.
        self.setMinimumContentsLength(1 if at_right else 8)
        # The style's own for lists of options takes its ground from the field, and
        # that of a flat field is nothing.
        self.setItemDelegate(QStyledItemDelegate(self))
        self.currentTextChanged.connect(lambda _: self.fit())

    def fill(self, names: Sequence[str], data: Iterable[object] = ()) -> None:
        """Other options, each with what it stands for; the same stay as they are.

        What is chosen stays so by its place.
        """
        if list(names) == [self.itemText(index) for index in range(self.count())]:
            return
        held = max(self.currentIndex(), 0)
        self.clear()
        for name, stands_for in zip_longest(names, data):
            self.addItem(name, stands_for)
        self.setCurrentIndex(min(held, len(names) - 1))

    def _room(self, option: QStyleOptionComboBox) -> QRect:
        from PySide6.QtWidgets import QStyle

        part = QStyle.SubControl.SC_ComboBoxEditField
        kind = QStyle.ComplexControl.CC_ComboBox
        return self.style().subControlRect(kind, option, part, self)

    @guarded(otherwise=lambda: QSize(96, 30))
    def sizeHint(self) -> QSize:
        """With the room its text keeps on both sides, where it is to fit."""
        hint = super().sizeHint()
        fits = self.sizeAdjustPolicy() == self.SizeAdjustPolicy.AdjustToContents
        return hint + QSize(12 if fits else 0, 0)

    @guarded(otherwise=lambda: QSize(60, 30))
    def minimumSizeHint(self) -> QSize:
        fits = self.sizeAdjustPolicy() == self.SizeAdjustPolicy.AdjustToContents
        return self.sizeHint() if fits else super().minimumSizeHint()

    def wanted(self) -> int:
        """How wide it is on one line, px."""
        beside = self.width() - self._room(self._option()).width()
        return self.fontMetrics().horizontalAdvance(self.currentText()) + beside + 8

    def _option(self) -> QStyleOptionComboBox:
        from PySide6.QtWidgets import QStyleOptionComboBox

        option = QStyleOptionComboBox()
        self.initStyleOption(option)
        return option

    def fit(self) -> None:
        """As tall as the text needs at this width."""
        room = self._room(self._option()).adjusted(4, 0, -2, 1000)
        needed = self.fontMetrics().boundingRect(
            room, Qt.TextFlag.TextWordWrap.value, self.currentText()
        )
        self.setMinimumHeight(
            max(self.fontMetrics().height() + 12, needed.height() + 12)
        )

    @guarded()
    def resizeEvent(self, event: QResizeEvent) -> None:
        """Another width may need another line."""
        super().resizeEvent(event)
        self.fit()

    @guarded()
    def changeEvent(self, event: QEvent) -> None:
        """Other letters, another height."""
        super().changeEvent(event)
        if event.type() in (QEvent.Type.FontChange, QEvent.Type.StyleChange):
            self.fit()

    @guarded()
    def paintEvent(self, event: QPaintEvent) -> None:
        """As the style has it, but never cut."""
        from PySide6.QtWidgets import QStyle

        option = self._option()
        text, option.currentText = option.currentText, ""
        if self.isEditable():
            # It has a line of its own, which shows the text.
            text = ""
        with QPainter(self) as painter:
            style, kind = self.style(), QStyle.ComplexControl.CC_ComboBox
            style.drawComplexControl(kind, option, painter, self)
            style.drawItemText(
                painter,
                self._room(option).adjusted(4, 0, -2, 0),
                self._written,
                option.palette,
                self.isEnabled(),
                text,
                QPalette.ColorRole.ButtonText,
            )
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setPen(QPen(option.palette.buttonText(), 1.4))
            part = QStyle.SubControl.SC_ComboBoxArrow
            middle = style.subControlRect(kind, option, part, self).center()
            sides = [middle + QPoint(x, y) for x, y in ((-4, -2), (0, 2), (4, -2))]
            painter.drawPolyline(sides)

    @guarded()
    def showPopup(self) -> None:
        """As wide as the longest entry, below the field: what it is for is in sight."""
        self.view().setMinimumWidth(self.view().sizeHintForColumn(0))
        super().showPopup()
        popup, foot = self.view().window(), self.mapToGlobal(self.rect().bottomRight())
        room = self.screen().availableGeometry()
        left = min(max(foot.x() - popup.width(), room.left()), room.right())
        if foot.y() + popup.height() < room.bottom():
            popup.move(left, foot.y() + 1)

    @guarded()
    def wheelEvent(self, event: QWheelEvent) -> None:
        """The wheel goes on past a list: what stands below it is being looked for."""
        event.ignore()


def is_undo_query(event: QEvent) -> bool:
    """Whether a field is asked if it wants the keys of undo or redo for itself."""
    if event.type() != QEvent.Type.ShortcutOverride:
        return False
    assert isinstance(event, QKeyEvent)  # noqa: S101 - for the type checker
    undo, redo = QKeySequence.StandardKey.Undo, QKeySequence.StandardKey.Redo
    return event.matches(undo) or event.matches(redo)


def sentence_label(role: str = "faint") -> QLabel:
    """A label for a sentence under a field, hidden until there is one."""
    label = QLabel(wordWrap=True, textFormat=Qt.TextFormat.PlainText)
    label.setProperty("role", role)
    label.hide()
    return label


def role_label(role: str, *, wraps: bool = False) -> QLabel:
    """A label that looks as the theme has it for a role."""
    label = QLabel(wordWrap=wraps)
    label.setProperty("role", role)
    return label


def dress(widget: QWidget, name: str, value: str | bool) -> None:
    """Have it look as the theme has it where a property is this; none is False."""
    if (widget.property(name) or False) != value:
        widget.setProperty(name, value)
        widget.style().unpolish(widget)
        widget.style().polish(widget)


def tell(label: QLabel, text: str, role: str = "faint") -> None:
    """Put a sentence under a field, or take it away."""
    dress(label, "role", role)
    if label.text() != text:
        label.setText(text)
    label.setVisible(bool(text))


def announce(widget: QWidget, words: str) -> None:
    """Say what came of something to whoever does not see it."""
    if words and QAccessible.isActive():
        QAccessible.updateAccessibility(QAccessibleAnnouncementEvent(widget, words))


def small_button(text: str, name: str) -> QToolButton:
    """A small button that is reached by mouse; keys have their own way."""
    button = QToolButton()
    button.setText(text)
    button.setToolTip(name)
    button.setAccessibleName(name)
    button.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    button.setProperty("small", True)
    return button


class _Words(QToolButton):
    """As wide as its words: they begin where the words of the rows beside them do."""

    @guarded(otherwise=lambda: QSize(40, 24))
    def sizeHint(self) -> QSize:
        """Without the spaces that Qt leaves on both sides."""
        spaces = self.fontMetrics().horizontalAdvance("  ")
        return super().sizeHint() - QSize(spaces, 0)


def link_button() -> QToolButton:
    """Words that can be clicked, reached by Tab too."""
    button = _Words()
    button.setProperty("link", True)
    button.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
    return button
