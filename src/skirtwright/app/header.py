"""The bar over the table: whose skirt it is, whether it is saved, and the strips."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QBoxLayout,
    QFrame,
    QHBoxLayout,
    QLabel,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from skirtwright.app.actions import Actions
from skirtwright.app.desk import Desk
from skirtwright.app.guard import guarded
from skirtwright.app.keeping import Keeper
from skirtwright.words import say, translate

_STRIPS = ("card", "measures", "checks", "parts", "steps")
_SHOWN = ("undo", "redo", "", *_STRIPS, "", "find")


class Header(QFrame):
    """Title and state at the left, what is wanted most at the right.

    Where there is no room beside the title the buttons of the strips go under it, and
    the others are left out: the menus have them all.
    """

    def __init__(self, desk: Desk, keeper: Keeper, actions: Actions) -> None:
        super().__init__()
        self._desk, self._keeper, self._actions = desk, keeper, actions
        self.setProperty("header", True)
        self.title = QLabel()
        self.title.setProperty("role", "title")
        self.state = QLabel()
        names = QVBoxLayout()
        names.setSpacing(0)
        for label in (self.title, self.state):
            label.setTextFormat(Qt.TextFormat.PlainText)
            label.setWordWrap(True)
            names.addWidget(label)
        self.buttons = QWidget()
        self.lesser: list[QToolButton] = []
        row = QHBoxLayout(self.buttons)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(6)
        for name in _SHOWN:
            if not name:
                row.addSpacing(14)
                continue
            button = QToolButton()
            button.setDefaultAction(actions.by_name[name])
            button.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextOnly)
            # Keys have their own way: the strips come first when she tabs.
            button.setFocusPolicy(Qt.FocusPolicy.NoFocus)
            row.addWidget(button)
            if not actions.by_name[name].isCheckable():
                self.lesser.append(button)
        row.addStretch(1)
        self.outer = QBoxLayout(QBoxLayout.Direction.LeftToRight, self)
        self.outer.setContentsMargins(16, 6, 16, 8)
        self.outer.addLayout(names, 1)
        self.outer.addWidget(self.buttons)
        desk.changed.connect(self.refresh)
        keeper.moved.connect(self.refresh)

    @guarded()
    def resizeEvent(self, event: QResizeEvent) -> None:
        """The title comes before the buttons."""
        super().resizeEvent(event)
        self._fit()

    def _wide(self) -> int:
        """What all the buttons need, shown or not."""
        found = self.findChildren(QToolButton)
        return sum(button.sizeHint().width() + 6 for button in found) + 40

    def _fit(self) -> None:
        """Beside the title, else under it, and there without what menus have too."""
        wide = self._wide()
        beside = wide + self.fontMetrics().averageCharWidth() * 30 <= self.width()
        for button in self.lesser:
            button.setVisible(beside)
        way = QBoxLayout.Direction
        self.outer.setDirection(way.LeftToRight if beside else way.TopToBottom)

    def refresh(self) -> None:
        """Say whose skirt it is and whether it is saved."""
        desk, manner = self._desk, self._desk.manner
        job = desk.job
        self.setAccessibleName(say("header.name", manner=manner))
        values = {
            "style": job.title or translate(job.draft.title, manner),
            "client": job.card.name,
        }
        message = "header.title" if job.card.name else "header.title_nobody"
        self.title.setText(say(message, values, manner))
        path = self._keeper.path
        state = "header.saved" if desk.saved else "header.unsaved"
        if path is None:
            state = "header.untouched" if desk.saved else "header.unnamed"
        words = say(state, {"file": path.name if path else ""}, manner)
        self.state.setText(words)
        role = "faint" if desk.saved else "unsaved"
        if self.state.property("role") != role:
            self.state.setProperty("role", role)
            self.state.style().unpolish(self.state)
            self.state.style().polish(self.state)
        for name in _SHOWN:
            if name:
                short = say(f"short.{name}", manner=manner)
                self._actions.by_name[name].setIconText(short)
        self._fit()
