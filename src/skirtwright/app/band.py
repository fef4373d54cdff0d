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
from skirtwright.app.look import Colours, clear_pixmap, colours_for
from skirtwright.app.slip_holder import SLIPS
from skirtwright.words import has_message, say, translate

NARROW = 1300
"""Below this width the letters of the band are smaller and what is long is short."""

_TO_GO = ("orders", "steps", "fit", "cloth", "sew", "paper")
"""The slips whose names stand behind the sign where there is no room, the first first.

The name of the one that is open is not among them.
"""

_SAVED, _UNSAVED = "\u2713", "\u25cf"
"""What says so where there is no room for words."""

_MARGINS = 52
"""Of the band and between what stands in it, px."""

_WAYS = (
    (False, False, 0),
    (True, False, 0),
    *((True, True, behind) for behind in range(len(_TO_GO))),
)
"""Ways to find room, the best first: names of slips closer, a short name, names behind.

In narrow letters the first is not tried.
"""

_TALL = 48
_SIGN = 26


class Named(QToolButton):
    """A name that is shortened where there is no room, and is said whole."""

    def __init__(self) -> None:
        super().__init__()
        self.whole = ""
        policy = QSizePolicy.Policy
        self.setSizePolicy(policy.Maximum, policy.Expanding)
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)

    def name(self, text: str, does: str) -> None:
        """What it says, and what a click does."""
        self.whole = text
        self.setAccessibleName(f"{text}. {does}")
        self.setToolTip(does)
        self.updateGeometry()
        self._fit()

    def _fit(self) -> None:
        room = self.width() - 14
        elide = Qt.TextElideMode.ElideRight
        text = self.fontMetrics().elidedText(self.whole, elide, max(room, 40))
        self.setText(text.replace("&", "&&"))

    @guarded()
    def resizeEvent(self, event: object) -> None:
        self._fit()

    @guarded(otherwise=lambda: QSize(120, 40))
    def sizeHint(self) -> QSize:
        metrics = self.fontMetrics()
        return QSize(metrics.horizontalAdvance(self.whole) + 16, metrics.height() + 6)

    @guarded(otherwise=lambda: QSize(60, 40))
    def minimumSizeHint(self) -> QSize:
        metrics = self.fontMetrics()
        short = metrics.horizontalAdvance(self.whole[:4] + "…") + 16
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
        self._behind: tuple[str, ...] = ()
        self._fitted_to: object = None
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
        """Its height at a width, px, once all that stands in it has its room.

        First the names of the slips give way: they stand closer, then the style has its
        short name, then some are behind the sign, at the last under the titles. Whose
        skirt it is is never cut.
        """
        percent = self._desk.settings.text_size
        said = (self.client.whole, self._style_said(short=False), self._desk.manner)
        leans = (wide, percent, said, self._closed())
        if leans != self._fitted_to:
            self._fitted_to = leans
            self._fit(wide, narrow=wide < NARROW * percent / 100)
        self._say_state(wide)
        # Large letters fill more of their row.
        row = _TALL * (30 + 70 * percent // 100) // 100
        return row if self._second.isEmpty() else 2 * row

    def _fit(self, wide: int, *, narrow: bool) -> None:
        self._put_names(beside=True)
        for close, short, behind in _WAYS[narrow:]:
            self._dress_as(narrow=narrow, close=close)
            self.style_name.name(*self._style_said(short=short))
            self._hide_names(behind)
            if self._taken() <= wide:
                return
        self._put_names(beside=False)
        self.style_name.name(*self._style_said(short=False))
        for behind in range(len(_TO_GO)):
            self._hide_names(behind)
            if self._names_wide() + _MARGINS / 2 <= wide:
                return

    def _dress_as(self, **how: bool) -> None:
        """Titles in smaller letters, names of slips in smaller ones closer together."""
        if any(bool(self.property(name)) != on for name, on in how.items()):
            for name, on in how.items():
                self.setProperty(name, on)
            for button in (self.client, self.style_name, *self.names):
                button.style().unpolish(button)
                button.style().polish(button)

    def _closed(self) -> tuple[str, ...]:
        acts = self._actions.by_name
        return tuple(name for name in _TO_GO if not acts[name].isChecked())

    def _names_wide(self) -> int:
        named = zip(SLIPS, self.names, strict=True)
        shown = [button for name, button in named if name not in self._behind]
        return sum(button.sizeHint().width() + 2 for button in shown)

    def _taken(self) -> int:
        """What all of it takes in one row, whether it is saved told by a sign, px."""
        signs = (self.undo, self.redo, self.menu)
        titles = (self.client, self.style_name)
        taken = sum(each.sizeHint().width() + 2 for each in (*titles, *signs))
        return taken + self._names_wide() + _MARGINS

    def _hide_names(self, many: int) -> None:
        """The names there is no room for: behind the sign, or among the others."""
        menu, acts = self.menu.menu(), self._actions.by_name
        behind = tuple(sorted(self._closed()[:many], key=SLIPS.index))
        if behind == self._behind:
            return
        for name in self._behind:
            menu.removeAction(acts[name])
        menu.insertActions(menu.actions()[0], [acts[name] for name in behind])
        self._behind = behind
        for name in _TO_GO:
            self.names[SLIPS.index(name)].setVisible(name not in behind)

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
        path = self._keeper.path
        state = "saved" if desk.saved else "unsaved"
        if path is None:
            state = "untouched" if desk.saved else "unnamed"
        file = {"file": self._keeper.called}
        words = say(f"header.{state}", file, manner)
        self.state.setToolTip(words)
        self.state.setAccessibleName(words)
        self.tall(self.width())
        menu = say("header.menu", manner=manner)
        self.menu.setAccessibleName(menu)
        self.menu.setToolTip(menu)
        for name in (*SLIPS, "undo", "redo"):
            short = say(f"short.{name}", manner=manner)
            self._actions.by_name[name].setIconText(short)

    def _style_said(self, *, short: bool) -> tuple[str, str]:
        """What the skirt is called, or for short, and what a click does."""
        manner = self._desk.manner
        job = getattr(self._desk, "job", None)
        if job is None:
            return "", ""
        title = job.title or translate(job.draft.title, manner)
        named = f"header.style.{job.draft.id}"
        if short and not job.title and has_message(named):
            title = say(named, manner=manner)
        return title, say("header.change_style", manner=manner)

    def _say_state(self, wide: int) -> None:
        """Whether it is saved: in words where no title is cut for them."""
        desk, manner = self._desk, self._desk.manner
        if not hasattr(desk, "job"):
            return
        signs = {"unsaved": _UNSAVED, "saved": _SAVED, "untouched": ""}
        words = {name: say(f"header.short_{name}", manner=manner) for name in signs}
        taken = self._taken()
        if not self._second.isEmpty():
            taken -= self._names_wide()
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
        pixmap = clear_pixmap(QSize(size, size), ratio)
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
