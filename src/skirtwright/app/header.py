"""The bar over the table: whose skirt it is, whether it is saved, and the strips."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QSizePolicy, QToolBar, QVBoxLayout, QWidget

from skirtwright.app.actions import Actions
from skirtwright.app.desk import Desk
from skirtwright.app.keeping import Keeper
from skirtwright.app.look import letters
from skirtwright.words import say, translate

_SHOWN = ("undo", "redo", "", "card", "measures", "checks", "steps", "", "find")


class Header(QToolBar):
    """Title and state at the left, what is wanted most at the right."""

    def __init__(self, desk: Desk, keeper: Keeper, actions: Actions) -> None:
        super().__init__()
        self._desk, self._keeper, self._actions = desk, keeper, actions
        self.setMovable(False)
        self.setFloatable(False)
        self.setContextMenuPolicy(Qt.ContextMenuPolicy.PreventContextMenu)
        self.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextOnly)
        self.title = QLabel()
        self.title.setTextFormat(Qt.TextFormat.PlainText)
        self.state = QLabel()
        self.state.setTextFormat(Qt.TextFormat.PlainText)
        names = QWidget()
        names.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        column = QVBoxLayout(names)
        column.setContentsMargins(4, 0, 12, 0)
        column.setSpacing(0)
        for label in (self.title, self.state):
            label.setSizePolicy(
                QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred
            )
            label.setWordWrap(True)
            column.addWidget(label)
        self.addWidget(names)
        for name in _SHOWN:
            if name:
                self.addAction(actions.by_name[name])
            else:
                self.addSeparator()
        desk.changed.connect(self.refresh)
        keeper.moved.connect(self.refresh)

    def refresh(self) -> None:
        """Say whose skirt it is and whether it is saved."""
        desk, manner = self._desk, self._desk.manner
        job = desk.job
        self.setAccessibleName(say("header.name", manner=manner))
        self.title.setFont(letters(desk.settings.text_size, 3.0, bold=True))
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
