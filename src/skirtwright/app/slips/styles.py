"""Styles chosen by their pictures, each on the client at hand."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt, QTimer
from PySide6.QtGui import QColor, QIcon, QPainter, QPixmap
from PySide6.QtWidgets import (
    QDialog,
    QDialogButtonBox,
    QLabel,
    QListWidget,
    QListWidgetItem,
    QVBoxLayout,
    QWidget,
)

from skirtwright.app.desk import Desk
from skirtwright.app.figure_view import FigureView, paint
from skirtwright.app.look import Colours
from skirtwright.draft import styles
from skirtwright.job.edits import set_style
from skirtwright.job.worktable import Look, Worktable
from skirtwright.problems import SkirtwrightError
from skirtwright.words import in_one_sentence, say, translate

WIDE, TALL = 210, 230
_MARGIN = 14.0


class StylesChooser(QDialog):
    """One picture for each style on the shelf; Enter or a click takes it."""

    def __init__(self, desk: Desk, colours: Colours, parent: QWidget) -> None:
        super().__init__(parent)
        self._desk, self._colours = desk, colours
        manner = desk.manner
        self.setWindowTitle(say("styles.title", manner=manner))
        self.resize(800, 640)
        heading = QLabel(
            say("styles.heading", {"client": desk.job.card.name or "—"}, manner)
        )
        heading.setWordWrap(True)
        self.list = QListWidget()
        self.list.setAccessibleName(say("styles.title", manner=manner))
        self.list.setViewMode(QListWidget.ViewMode.IconMode)
        self.list.setIconSize(QSize(WIDE, TALL))
        self.list.setMovement(QListWidget.Movement.Static)
        self.list.setResizeMode(QListWidget.ResizeMode.Adjust)
        self.list.setWordWrap(True)
        self.list.setSpacing(10)
        self.help = QLabel()
        self.help.setWordWrap(True)
        self.help.setMinimumHeight(self.fontMetrics().lineSpacing() * 3)
        self.help.setAlignment(Qt.AlignmentFlag.AlignTop)
        kinds = QDialogButtonBox.StandardButton
        self.buttons = QDialogButtonBox(kinds.Ok | kinds.Cancel)
        self.buttons.button(kinds.Ok).setText(say("styles.take", manner=manner))
        self.buttons.button(kinds.Cancel).setText(say("dialog.cancel", manner=manner))
        column = QVBoxLayout(self)
        column.setContentsMargins(20, 18, 20, 16)
        column.setSpacing(10)
        for widget in (heading, self.list, self.help, self.buttons):
            column.addWidget(widget)
        self.buttons.accepted.connect(self.take)
        self.buttons.rejected.connect(self.reject)
        self.list.itemActivated.connect(lambda _: self.take())
        self.list.currentRowChanged.connect(self._describe)
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
        draft = styles.style(name)
        item = QListWidgetItem(translate(draft.title, self._desk.manner))
        item.setData(Qt.ItemDataRole.UserRole, name)
        item.setSizeHint(QSize(WIDE + 16, TALL + 16 + 2 * self.fontMetrics().height()))
        item.setTextAlignment(Qt.AlignmentFlag.AlignHCenter)
        try:
            look = self._worktable.look(set_style(self._desk.job, draft).job)
            ratio = self.devicePixelRatioF()
            drawn = picture(look, self._colours, ratio)
            icon = QIcon(drawn)
            icon.addPixmap(drawn, QIcon.Mode.Selected)
            item.setIcon(icon)
        except SkirtwrightError:
            item.setToolTip(say("styles.not_drawn", manner=self._desk.manner))
        self.list.addItem(item)
        if name == self._desk.job.draft.id or self.list.count() == 1:
            self.list.setCurrentItem(item)

    def _describe(self, row: int) -> None:
        if 0 <= row < self.list.count():
            item = self.list.item(row)
            draft = styles.style(item.data(Qt.ItemDataRole.UserRole))
            self.help.setText(translate(draft.help, self._desk.manner))

    def take(self) -> None:
        """Draft this style for the client at hand; undo leads back."""
        if self.list.currentRow() < 0:
            return
        draft = styles.style(self.list.currentItem().data(Qt.ItemDataRole.UserRole))
        if draft.id != self._desk.job.draft.id:
            try:
                self._desk.change(set_style(self._desk.job, draft))
            except SkirtwrightError as refused:
                self.help.setText(in_one_sentence(refused.problem, self._desk.manner))
                return
        self.accept()


def picture(look: Look, colours: Colours, ratio: float = 1.0) -> QPixmap:
    """The skirt of a look on her, from the front."""
    pixmap = QPixmap(round(WIDE * ratio), round(TALL * ratio))
    pixmap.setDevicePixelRatio(ratio)
    pixmap.fill(QColor(colours.paper))
    view = FigureView()
    view.show(look.report)
    figure = view.figure(colours)
    if figure is not None:
        room = QRectF(0, 0, WIDE, TALL)
        with QPainter(pixmap) as painter:
            paint(painter, room.adjusted(_MARGIN, _MARGIN, -_MARGIN, -_MARGIN), figure)
    return pixmap
