"""The band over the table: whose skirt it is, whether it is saved, and the slips."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QIcon,
    QMouseEvent,
    QPainter,
    QPainterPath,
    QPen,
    QPixmap,
)
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QMenu,
    QSizePolicy,
    QToolButton,
    QWidget,
)

from skirtwright.app.actions import MENUS, Actions
from skirtwright.app.desk import Desk
from skirtwright.app.fields import role_label
from skirtwright.app.guard import guarded
from skirtwright.app.keeping import Keeper
from skirtwright.app.layouts import in_column
from skirtwright.app.look import Colours, colours_for
from skirtwright.app.slip_holder import SLIPS
from skirtwright.words import say, translate

NARROW = 1300
"""Below this width the letters of the band are smaller and what is long is short."""

_FIRST_TO_GO, _NEXT_TO_GO = "orders", "steps"
"""The slip whose name is not in a narrow band of one row: it stands behind the sign.

While it is open its name is there, and the next one's is not.
"""

_SAVED, _UNSAVED = "\u2713", "\u25cf"
"""What says so where there is no room for words."""

_MARGINS = 60
"""Of the band and between what stands in it, px."""

_TALL = 48
_SIGN = 26


class Named(QToolButton):
    """A name that is shortened where there is no room, and is said whole."""

    def __init__(self) -> None:
        super().__init__()
        self._whole = ""
        policy = QSizePolicy.Policy
        self.setSizePolicy(policy.Maximum, policy.Expanding)
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)

    def name(self, text: str, does: str) -> None:
        """What it says, and what a click does."""
        self._whole = text
        self.setAccessibleName(f"{text}. {does}")
        self.setToolTip(does)
        self.updateGeometry()
        self._fit()

    def _fit(self) -> None:
        room = self.width() - 14
        elide = Qt.TextElideMode.ElideRight
        text = self.fontMetrics().elidedText(self._whole, elide, max(room, 40))
        self.setText(text.replace("&", "&&"))

    @guarded()
    def resizeEvent(self, event: object) -> None:
        """As much of the name as there is room for."""
        self._fit()

    @guarded(otherwise=lambda: QSize(120, 40))
    def sizeHint(self) -> QSize:
        """Room for the whole name."""
        metrics = self.fontMetrics()
        return QSize(metrics.horizontalAdvance(self._whole) + 16, metrics.height() + 6)

    @guarded(otherwise=lambda: QSize(60, 40))
    def minimumSizeHint(self) -> QSize:
        """A few letters."""
        metrics = self.fontMetrics()
        short = metrics.horizontalAdvance(self._whole[:4] + "…") + 16
        return QSize(min(short, self.sizeHint().width()), metrics.height() + 6)


class SlipName(QToolButton):
    """The name of a slip.

    Signals:
        clicked_by_mouse: not by the keyboard.
    """

    clicked_by_mouse = Signal()

    @guarded()
    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """What a click opens has no field in hand."""
        super().mouseReleaseEvent(event)
        self.clicked_by_mouse.emit()


class Band(QFrame):
    """Client and style at the left; then what was saved, undo, redo; then the slips.

    Signals:
        client_asked: a click on the client.
        style_asked: a click on the style.
        slip_clicked: a slip was opened or put away by the mouse.
    """

    client_asked = Signal()
    style_asked = Signal()
    slip_clicked = Signal()

    def __init__(
        self, desk: Desk, keeper: Keeper, actions: Actions, parent: QWidget
    ) -> None:
        super().__init__(parent)
        self._desk, self._keeper, self._actions = desk, keeper, actions
        self.setProperty("band", True)
        self.client, self.style_name = Named(), Named()
        self.client.setProperty("title", "client")
        self.style_name.setProperty("title", "style")
        self.state = role_label("quiet")
        self.undo, self.redo, self.menu = QToolButton(), QToolButton(), QToolButton()
        self.names = [SlipName() for _ in SLIPS]
        self._behind = ""
        self._arrange()
        self.client.clicked.connect(self.client_asked)
        self.style_name.clicked.connect(self.style_asked)
        desk.changed.connect(self.refresh)
        keeper.moved.connect(self.refresh)

    def _arrange(self) -> None:
        for button, name in ((self.undo, "undo"), (self.redo, "redo")):
            button.setDefaultAction(self._actions.by_name[name])
            button.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonIconOnly)
        self.menu.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        self.menu.setMenu(QMenu(self.menu))
        for button, name in zip(self.names, SLIPS, strict=True):
            button.setDefaultAction(self._actions.by_name[name])
            button.setProperty("name", True)
            button.clicked_by_mouse.connect(self.slip_clicked)
        for button in (self.undo, self.redo, self.menu, *self.names):
            button.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        for button in (self.undo, self.redo, self.menu):
            button.setProperty("sign", True)
        self._first, self._second = QHBoxLayout(), QHBoxLayout()
        column = in_column(on=self, spacing=0, margins=(17, 0, 12, 0))
        for row, spacing in ((self._first, 2), (self._second, 0)):
            row.setSpacing(spacing)
            column.addLayout(row)
        first = (self.client, self.style_name)
        for title in first:
            self._first.addWidget(title)
        self._first.addStretch(1)
        for widget in (self.state, self.undo, self.redo):
            self._first.addWidget(widget)
        self._first.addSpacing(12)
        for button in self.names:
            self._first.addWidget(button)
        self._first.addWidget(self.menu)

    def fill_menu(self) -> None:
        """All menus behind the one sign."""
        for name in MENUS:
            self.menu.menu().addMenu(self._actions.menus[name])

    # Room

    def tall(self, wide: int) -> int:
        """Its height at a width, px; the slips go under where there is no room."""
        percent = self._desk.settings.text_size
        narrow = wide < NARROW * percent / 100
        if bool(self.property("narrow")) != narrow:
            self.setProperty("narrow", narrow)
            for button in (self.client, self.style_name, *self.names):
                button.style().unpolish(button)
                button.style().polish(button)
            self.refresh()
        is_open = self._actions.by_name[_FIRST_TO_GO].isChecked()
        goes = _NEXT_TO_GO if is_open else _FIRST_TO_GO
        last = self.names[SLIPS.index(goes)]
        shown = [button for button in self.names if button is not last or not narrow]
        names = sum(button.sizeHint().width() + 2 for button in shown)
        least = self.client.minimumSizeHint().width() * 3
        signs = self.menu.sizeHint().width() * 3 + self.state.sizeHint().width()
        beside = names + least + signs + _MARGINS <= wide
        self._put_names(beside=beside)
        more = last.sizeHint().width() + 2
        is_behind = narrow and (beside or names + more + 29 > wide)
        self._hide_name(goes if is_behind else "")
        self._say_state(wide)
        # Large letters fill more of their row.
        row = _TALL * (30 + 70 * percent // 100) // 100
        return row if self._second.isEmpty() else 2 * row

    def _hide_name(self, behind: str) -> None:
        """The name there is no room for: behind the sign, or among the others."""
        if behind == self._behind:
            return
        menu, acts = self.menu.menu(), self._actions.by_name
        if self._behind:
            menu.removeAction(acts[self._behind])
        if behind:
            menu.insertAction(menu.actions()[0], acts[behind])
        self._behind = behind
        for name in (_FIRST_TO_GO, _NEXT_TO_GO):
            self.names[SLIPS.index(name)].setVisible(name != behind)

    def _put_names(self, *, beside: bool) -> None:
        if beside == self._second.isEmpty():
            return
        for number, button in enumerate(self.names):
            if beside:
                self._second.removeWidget(button)
                self._first.insertWidget(self._first.count() - 1, button)
            else:
                self._first.removeWidget(button)
                self._second.insertWidget(number, button)

    # Words

    def dress(self) -> None:
        """Signs in the colours of the theme and as large as the text."""
        colours = colours_for(self._desk.settings.theme)
        size = _SIGN * self._desk.settings.text_size // 100
        ratio = self.devicePixelRatioF()
        acts = self._actions.by_name
        acts["undo"].setIcon(_icon(_turned_back(), size, ratio, colours))
        acts["redo"].setIcon(_icon(_turned_forth(), size, ratio, colours))
        self.menu.setIcon(_icon(_three_lines(), size, ratio, colours))
        for button in (self.undo, self.redo, self.menu):
            button.setIconSize(QSize(size, size))

    def refresh(self) -> None:
        """Say whose skirt it is and whether it is saved."""
        desk, manner = self._desk, self._desk.manner
        if not hasattr(desk, "job"):
            return
        job = desk.job
        self.setAccessibleName(say("header.name", manner=manner))
        nobody = say("header.nobody", manner=manner)
        change = say("header.change_client", manner=manner)
        self.client.name(job.card.name or nobody, change)
        change = say("header.change_style", manner=manner)
        self.style_name.name(job.title or translate(job.draft.title, manner), change)
        path = self._keeper.path
        state = "saved" if desk.saved else "unsaved"
        if path is None:
            state = "untouched" if desk.saved else "unnamed"
        file = {"file": self._keeper.called}
        words = say(f"header.{state}", file, manner)
        self.state.setToolTip(words)
        self.state.setAccessibleName(words)
        self._say_state(self.width())
        menu = say("header.menu", manner=manner)
        self.menu.setAccessibleName(menu)
        self.menu.setToolTip(menu)
        for name in (*SLIPS, "undo", "redo"):
            short = say(f"short.{name}", manner=manner)
            self._actions.by_name[name].setIconText(short)

    def _say_state(self, wide: int) -> None:
        """Whether it is saved: in words where no title is cut for them."""
        desk, manner = self._desk, self._desk.manner
        if not hasattr(desk, "job"):
            return
        signs = {"unsaved": _UNSAVED, "saved": _SAVED, "untouched": ""}
        words = {name: say(f"header.short_{name}", manner=manner) for name in signs}
        beside = [self.client, self.style_name, self.undo, self.redo, self.menu]
        if self._second.isEmpty():
            beside += [button for button in self.names if not button.isHidden()]
        taken = sum(widget.sizeHint().width() + 2 for widget in beside)
        longest = max(map(self.state.fontMetrics().horizontalAdvance, words.values()))
        has_room = taken + longest + _MARGINS <= wide
        now = "saved" if desk.saved else "unsaved"
        if desk.saved and self._keeper.path is None:
            now = "untouched"
        self.state.setText((words if has_room else signs)[now])


def _turned_back() -> QPainterPath:
    """An arrow that turns back, in a box of 24 by 24."""
    path = QPainterPath(QPointF(8.5, 3.5))
    path.lineTo(4, 8)
    path.lineTo(8.5, 12.5)
    path.moveTo(4, 8)
    path.lineTo(14.5, 8)
    path.arcTo(QRectF(9, 8, 11, 11), 90, -180)
    path.lineTo(8, 19)
    return path


def _turned_forth() -> QPainterPath:
    """Its mirror image."""
    back, path = _turned_back(), QPainterPath()
    for number in range(back.elementCount()):
        element = back.elementAt(number)
        element.x = 24 - element.x
        back.setElementPositionAt(number, element.x, element.y)
    path.addPath(back)
    return path


def _three_lines() -> QPainterPath:
    path = QPainterPath()
    for y in (6.5, 12.0, 17.5):
        path.moveTo(4, y)
        path.lineTo(20, y)
    return path


def _icon(path: QPainterPath, size: int, ratio: float, colours: Colours) -> QIcon:
    """A sign in ink, and fainter where it cannot be used."""
    icon = QIcon()
    modes = (
        (QIcon.Mode.Normal, colours.ink),
        (QIcon.Mode.Disabled, colours.field_line),
    )
    for mode, colour in modes:
        pixmap = QPixmap(round(size * ratio), round(size * ratio))
        pixmap.setDevicePixelRatio(ratio)
        pixmap.fill(Qt.GlobalColor.transparent)
        with QPainter(pixmap) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.scale(size / 24, size / 24)
            pen = QPen(QColor(colour), 2.0)
            pen.setCapStyle(Qt.PenCapStyle.RoundCap)
            pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
            painter.setPen(pen)
            painter.drawPath(path)
        icon.addPixmap(pixmap, mode)
    return icon
