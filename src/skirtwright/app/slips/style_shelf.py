"""Styles chosen as they look on the client at hand, over the whole table."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt, QTimer, Signal
from PySide6.QtGui import QColor, QIcon, QKeyEvent, QPainter, QPixmap, QResizeEvent
from PySide6.QtWidgets import QFrame, QListWidget, QListWidgetItem, QVBoxLayout, QWidget

from skirtwright.app.desk import Desk
from skirtwright.app.fields import length_about
from skirtwright.app.figure_view import FigureView, paint
from skirtwright.app.guard import guarded
from skirtwright.app.look import Colours, colours_for
from skirtwright.draft import styles
from skirtwright.draft.draft import Draft
from skirtwright.job.edits import set_style
from skirtwright.job.worktable import Look, Worktable
from skirtwright.problems import SkirtwrightError
from skirtwright.words import in_one_sentence, say, translate

WIDE, TALL = 184, 270
"""Of one figure at ordinary text size, px."""

_MOST_ACROSS = 7
_NAME = Qt.ItemDataRole.UserRole


class StylesChooser(QFrame):
    """One figure for each style on the shelf; Enter or a double click takes it.

    Signals:
        pointed: another style is in hand: what is to be said of it.
        finished: a style was taken, or none.
    """

    pointed = Signal(str)
    finished = Signal()

    def __init__(self, desk: Desk, parent: QWidget) -> None:
        super().__init__(parent)
        self._desk = desk
        self.setProperty("linen", True)
        manner = desk.manner
        self.list = QListWidget()
        self.list.setAccessibleName(say("styles.title", manner=manner))
        self.list.setViewMode(QListWidget.ViewMode.IconMode)
        self.list.setIconSize(QSize(WIDE, TALL))
        self.list.setMovement(QListWidget.Movement.Static)
        self.list.setResizeMode(QListWidget.ResizeMode.Adjust)
        self.list.setVerticalScrollMode(QListWidget.ScrollMode.ScrollPerPixel)
        self.list.setFrameShape(QFrame.Shape.NoFrame)
        self.list.setWordWrap(True)
        column = QVBoxLayout(self)
        column.setContentsMargins(12, 12, 12, 0)
        column.addWidget(self.list)
        self.list.itemActivated.connect(lambda _: self.take())
        self.list.currentRowChanged.connect(lambda _: self.pointed.emit(self.words()))
        self._worktable = Worktable()
        self._waiting = list(styles.names())
        self._timer = QTimer(self)
        self._timer.timeout.connect(self.draw_next)
        self._timer.start(0)

    def draw_next(self) -> None:
        """Draw one more style; the list stays usable meanwhile."""
        if not self._waiting:
            self._timer.stop()
            return
        name = self._waiting.pop(0)
        draft, manner = styles.style(name), self._desk.manner
        item = QListWidgetItem(translate(draft.title, manner))
        item.setData(_NAME, name)
        item.setTextAlignment(Qt.AlignmentFlag.AlignHCenter)
        is_now = name == self._desk.job.draft.id
        if is_now:
            font = item.font()
            font.setBold(True)
            item.setFont(font)
        try:
            look = self._worktable.look(
                self._desk.whole(set_style(self._desk.job, draft).job)
            )
        except SkirtwrightError:
            item.setToolTip(say("styles.not_drawn", manner=manner))
        else:
            drawn = picture(
                look, colours_for(self._desk.settings.theme), self.devicePixelRatioF()
            )
            icon = QIcon(drawn)
            icon.addPixmap(drawn, QIcon.Mode.Selected)
            item.setIcon(icon)
            item.setText(f"{item.text()}\n{self._figures(look)}".strip())
        self.list.addItem(item)
        if is_now:
            self.list.setCurrentItem(item)

    def _figures(self, look: Look) -> str:
        """How long it is, and how wide at the hem."""
        manner, finished = self._desk.manner, look.report.finished
        told = {
            name: length_about(value, manner)
            for name in ("length", "sweep")
            if (value := finished.get(name)) is not None
        }
        return say("styles.figures", told, manner) if len(told) == 2 else ""

    def words(self) -> str:
        """What is to be said of the style in hand."""
        draft = self.in_hand()
        if draft is None:
            return ""
        manner = self._desk.manner
        title, help_text = translate(draft.title, manner), translate(draft.help, manner)
        return f"{title}: {help_text[:1].lower()}{help_text[1:]}"

    def in_hand(self) -> Draft | None:
        """The style in hand."""
        item = self.list.currentItem()
        return None if item is None else styles.style(item.data(_NAME))

    def take(self) -> None:
        """Draft this style for the client at hand; undo leads back."""
        draft = self.in_hand()
        if draft is not None and draft.id != self._desk.job.draft.id:
            try:
                self._desk.change(set_style(self._desk.job, draft))
            except SkirtwrightError as refused:
                words = in_one_sentence(refused.problem, self._desk.manner)
                self.pointed.emit(words)
                return
        self.reject()

    def reject(self) -> None:
        """Done, with the style that is on the table."""
        self._timer.stop()
        self.hide()
        self.finished.emit()

    @guarded()
    def resizeEvent(self, event: QResizeEvent) -> None:
        """As many beside one another as there is room for."""
        super().resizeEvent(event)
        percent = self._desk.settings.text_size
        room = self.width() - 24 - self.list.verticalScrollBar().sizeHint().width()
        across = max(1, min(_MOST_ACROSS, room // (WIDE + 8) * 100 // percent))
        tall = TALL + 24 + 4 * self.list.fontMetrics().lineSpacing()
        self.list.setGridSize(QSize(room // across, tall))

    @guarded()
    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Escape leaves the style as it is."""
        if event.key() == Qt.Key.Key_Escape:
            self.reject()
        else:
            super().keyPressEvent(event)


def picture(look: Look, colours: Colours, ratio: float = 1.0) -> QPixmap:
    """The skirt of a look on the client, from the front."""
    pixmap = QPixmap(round(WIDE * ratio), round(TALL * ratio))
    pixmap.setDevicePixelRatio(ratio)
    pixmap.fill(QColor(Qt.GlobalColor.transparent))
    view = FigureView()
    view.show(look.report)
    figure = view.figure(colours)
    if figure is not None:
        with QPainter(pixmap) as painter:
            paint(painter, QRectF(4, 4, WIDE - 8, TALL - 8), figure)
    return pixmap
