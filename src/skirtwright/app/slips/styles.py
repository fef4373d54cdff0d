"""Styles chosen by their pictures, each drawn for the client at hand."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QSize, Qt, QTimer
from PySide6.QtGui import (
    QColor,
    QIcon,
    QPainter,
    QPainterPath,
    QPen,
    QPixmap,
    QTransform,
)
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
from skirtwright.app.look import Colours
from skirtwright.draft import styles
from skirtwright.draft.shapes.panel import Panel
from skirtwright.geometry import Chain, Cubic
from skirtwright.geometry.point import reflect
from skirtwright.job.edits import set_style
from skirtwright.job.worktable import Look, Worktable
from skirtwright.problems import SkirtwrightError
from skirtwright.words import in_one_sentence, say, translate

WIDE, TALL = 210, 230
_MARGIN = 14.0
_GAP = 40.0


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
    """The main cloth of a look, small; what lies on a fold is shown whole."""
    pixmap = QPixmap(round(WIDE * ratio), round(TALL * ratio))
    pixmap.setDevicePixelRatio(ratio)
    pixmap.fill(QColor(colours.paper))
    folds = {p.spec.panel: p.spec.folds for p in look.pieces}
    cloths = {p.spec.panel: p.spec.material for p in reversed(look.pieces)}
    shapes = [
        _whole(value, folds.get(name, ()))
        for name, value in look.worked.values.items()
        if isinstance(value, Panel) and cloths.get(name, "shell") == "shell"
    ]
    if not shapes:
        return pixmap
    with QPainter(pixmap) as painter:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        _paint(painter, shapes, colours)
    return pixmap


def _paint(painter: QPainter, shapes: list[QPainterPath], colours: Colours) -> None:
    boxes = [shape.boundingRect() for shape in shapes]
    wide = sum(box.width() for box in boxes) + _GAP * (len(boxes) - 1)
    tall = max(box.height() for box in boxes)
    scale = min((WIDE - 2 * _MARGIN) / wide, (TALL - 2 * _MARGIN) / tall)
    pen = QPen(QColor(colours.stitching), 1.6)
    pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    painter.setPen(pen)
    painter.setBrush(QColor(colours.front))
    left = (WIDE - wide * scale) / 2
    for shape, box in zip(shapes, boxes, strict=True):
        move = QTransform()
        move.translate(left, (TALL - tall * scale) / 2)
        move.scale(scale, -scale)
        move.translate(-box.left(), -box.bottom())
        painter.drawPath(move.map(shape))
        left += (box.width() + _GAP) * scale


def _whole(panel: Panel, folds: tuple[str, ...]) -> QPainterPath:
    half = _path(panel.outline)
    for name in folds:
        chain = panel.edge(name).chain
        mirrored = panel.outline.moved(reflect(chain.start, chain.end))
        half = half.united(_path(mirrored)).simplified()
    return half


def _path(chain: Chain) -> QPainterPath:
    path = QPainterPath(QPointF(chain.start.x, chain.start.y))
    for segment in chain.segments:
        end = QPointF(segment.end.x, segment.end.y)
        if isinstance(segment, Cubic):
            path.cubicTo(
                QPointF(segment.control1.x, segment.control1.y),
                QPointF(segment.control2.x, segment.control2.y),
                end,
            )
        else:
            path.lineTo(end)
    path.closeSubpath()
    return path
