"""Everything she can do, as one table: menus and the searchable list are made of it.

Words: `action.<name>` is the label with its mnemonic, `action.<name>.help` a sentence,
`action.<name>.also` what people would type who look for it.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from PySide6.QtCore import QObject, Qt
from PySide6.QtGui import QAction, QKeyEvent, QKeySequence
from PySide6.QtWidgets import (
    QDialog,
    QLabel,
    QLineEdit,
    QListWidget,
    QListWidgetItem,
    QMenu,
    QWidget,
)

from skirtwright.app.guard import guarded
from skirtwright.app.layouts import in_column
from skirtwright.words import Manner, say


@dataclass(frozen=True)
class Row:
    """One thing she can do.

    Attributes:
        name: of its words and of what does it.
        menu: where it stands.
        keys: its shortcuts, the first one shown.
        checkable: it is on or off.
        line: a line stands above it in its menu.
        opens: it opens a menu of its own, filled when shown.
    """

    name: str
    menu: str
    keys: tuple[str, ...] = ()
    checkable: bool = False
    line: bool = False
    opens: bool = False


MENUS = ("file", "edit", "view", "skirt", "clients", "help")

ROWS = (
    Row("new_client", "file", ("Ctrl+N",)),
    Row("open", "file", ("Ctrl+O",)),
    Row("recent", "file", opens=True),
    Row("unsaved", "file", opens=True),
    Row("save", "file", ("Ctrl+S",), line=True),
    Row("save_as", "file", ("Ctrl+Shift+S",)),
    Row("back_to_saved", "file"),
    Row("paper", "file", ("Ctrl+P",), checkable=True, line=True),
    Row("export", "file", ("Ctrl+E",)),
    Row("close", "file", ("Ctrl+Q",), line=True),
    Row("undo", "edit", ("Ctrl+Z",)),
    Row("redo", "edit", ("Ctrl+Shift+Z", "Ctrl+Y")),
    Row("set_back", "edit", ("Ctrl+Backspace",), line=True),
    Row("set_back_all", "edit"),
    Row("settings", "edit", ("Ctrl+,",), line=True),
    Row("everything", "view", ("Ctrl+0",)),
    Row("draft", "view", ("Ctrl+1",)),
    Row("pieces", "view", ("Ctrl+2",)),
    Row("true_size", "view", ("Ctrl+3",)),
    Row("figure", "view", ("Ctrl+4",)),
    Row("lay", "view", ("Ctrl+5",)),
    Row("bank_card", "view"),
    Row("since_print", "view", checkable=True),
    Row("nearer", "view", ("Ctrl++", "Ctrl+="), line=True),
    Row("farther", "view", ("Ctrl+-",)),
    Row("measure", "view", ("F2",), checkable=True, line=True),
    Row("shape", "view", ("F3",), checkable=True),
    Row("check", "view", ("F4",), checkable=True),
    Row("cut", "view", ("F12",), checkable=True),
    Row("cloth", "view", ("F10",), checkable=True),
    Row("sew", "view", ("F7",), checkable=True),
    Row("fit", "view", ("Shift+F2",), checkable=True),
    Row("steps", "view", ("F5",), checkable=True),
    Row("table_only", "view", ("F11",), checkable=True),
    Row("next_place", "view", ("F6",), line=True),
    Row("last_place", "view", ("Shift+F6",)),
    Row("styles", "skirt", ("Ctrl+T",)),
    Row("own_style", "skirt"),
    Row("keep_style", "skirt"),
    Row("apart", "skirt", ("Ctrl+L",)),
    Row("length", "skirt", opens=True),
    Row("next_check", "skirt", ("F8",), line=True),
    Row("walk", "skirt", opens=True, line=True),
    Row("notch", "skirt", ("Ctrl+M",)),
    Row("why", "skirt", ("F9",)),
    Row("orders", "clients", ("Ctrl+B",), checkable=True),
    Row("new_order", "clients", ("Ctrl+Shift+N",)),
    Row("keep_in_book", "clients", ("Ctrl+Shift+B",)),
    Row("quote", "clients", line=True),
    Row("many", "clients"),
    Row("take_in", "clients", line=True),
    Row("export_client", "clients"),
    Row("forget_order", "clients"),
    Row("forget_client", "clients"),
    Row("back_up", "clients", line=True),
    Row("restore", "clients"),
    Row("find", "help", ("Ctrl+K", "F1")),
    Row("welcome", "help"),
    Row("about", "help", line=True),
)


class Actions(QObject):
    """The table made into actions.

    Attributes:
        by_name: each action.
        menus: the menu bar's menus, and the menus rows open.
    """

    def __init__(
        self, parent: QWidget, does: Mapping[str, Callable[..., object]]
    ) -> None:
        super().__init__(parent)
        self._window = parent
        self.by_name: dict[str, QAction] = {}
        self.menus: dict[str, QMenu] = {}
        for row in ROWS:
            if row.opens:
                self.menus[row.name] = QMenu(parent)
                action = self.menus[row.name].menuAction()
                self.menus[row.name].aboutToShow.connect(does[row.name])
            else:
                action = QAction(parent)
                action.setCheckable(row.checkable)
                run = action.toggled if row.checkable else action.triggered
                run.connect(does[row.name])
                action.setShortcuts([QKeySequence(key) for key in row.keys])
            action.setObjectName(row.name)
            # Its keys work though its menu stands behind one sign.
            parent.addAction(action)
            action.setMenuRole(QAction.MenuRole.NoRole)
            self.by_name[row.name] = action

    def fill(self) -> None:
        """Make the menus."""
        for name in MENUS:
            self.menus[name] = QMenu(self._window)
            for row in ROWS:
                if row.menu != name:
                    continue
                if row.line:
                    self.menus[name].addSeparator()
                self.menus[name].addAction(self.by_name[row.name])

    def say_again(self, manner: Manner) -> None:
        """Labels, sentences and keys in her language."""
        for name in MENUS:
            self.menus[name].setTitle(say(f"menu.{name}", manner=manner))
        for row in ROWS:
            action = self.by_name[row.name]
            action.setText(say(f"action.{row.name}", manner=manner))
            words = say(f"action.{row.name}.help", manner=manner)
            action.setStatusTip(words)
            keys = action.shortcut().toString(QKeySequence.SequenceFormat.NativeText)
            action.setToolTip(f"{words} ({keys})" if keys else words)


_JOINING = frozenset(
    (
        "a",
        "an",
        "and",
        "do",
        "for",
        "how",
        "i",
        "in",
        "is",
        "my",
        "of",
        "on",
        "the",
        "to",
    )
)
"""Words without which the same is looked for."""


def _one(word: str) -> str:
    """What is typed of many, as of one."""
    return word[:-1] if len(word) > 3 and word.endswith("s") else word


class Finder(QDialog):
    """All actions in a list that is searched while she types."""

    def __init__(self, actions: Actions, manner: Manner, parent: QWidget) -> None:
        super().__init__(parent)
        self._actions, self._over, self._manner = actions, parent, manner
        self.setWindowTitle(say("find.title", manner=manner))
        self.resize(620, 460)
        self.line = QLineEdit()
        self.line.setPlaceholderText(say("find.type", manner=manner))
        self.line.setAccessibleName(say("find.type", manner=manner))
        self.line.setClearButtonEnabled(True)
        self.list = QListWidget()
        self.list.setAccessibleName(say("find.title", manner=manner))
        self.list.setWordWrap(True)
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.none = QLabel(say("find.none", manner=manner), wordWrap=True)
        in_column(
            self.line,
            self.list,
            self.none,
            on=self,
            spacing=10,
            margins=(16, 16, 16, 16),
        )
        self.line.textChanged.connect(self.search)
        self.line.returnPressed.connect(self.run)
        self.list.itemActivated.connect(lambda _: self.run())
        self.list.itemClicked.connect(lambda _: self.run())
        self.search("")

    def search(self, text: str) -> None:
        """Show the actions that have a word begun like each one typed.

        First those called so. Words that only join, and a plural's s, do not count.
        """
        typed = [part for part in text.casefold().split() if part not in _JOINING]
        wanted = [re.compile(rf"(?<!\w){re.escape(_one(part))}") for part in typed]
        self.list.clear()
        called = 0
        for row in ROWS:
            action = self._actions.by_name[row.name]
            label = action.text().replace("&", "").rstrip("…")
            keys = ", ".join(
                key.toString(QKeySequence.SequenceFormat.NativeText)
                for key in action.shortcuts()
            )
            words = f"{label} — {action.statusTip()}"
            also = say(f"action.{row.name}.also", manner=self._manner)
            told = f"{words} {keys} {also}".casefold()
            if not action.isEnabled() or not all(part.search(told) for part in wanted):
                continue
            item = QListWidgetItem(f"{words}  {keys}".rstrip())
            item.setData(Qt.ItemDataRole.UserRole, row.name)
            is_called = all(part.search(label.casefold()) for part in wanted)
            self.list.insertItem(called if is_called else self.list.count(), item)
            called += is_called
        self.list.setCurrentRow(0)
        self.list.setVisible(self.list.count() > 0)
        self.none.setVisible(self.list.count() == 0)

    @guarded()
    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Up and down move in the list while she types."""
        moves = {Qt.Key.Key_Up: -1, Qt.Key.Key_Down: 1}
        if event.key() in moves and self.list.count():
            row = self.list.currentRow() + moves[Qt.Key(event.key())]
            self.list.setCurrentRow(max(0, min(row, self.list.count() - 1)))
        else:
            super().keyPressEvent(event)

    def run(self) -> None:
        """Do what is chosen, once the list is out of the way."""
        if self.list.currentRow() < 0:
            return
        name = self.list.currentItem().data(Qt.ItemDataRole.UserRole)
        action = self._actions.by_name[name]
        self.accept()
        menu = self._actions.menus.get(action.objectName())
        if menu is not None:
            menu.popup(self._over.mapToGlobal(self._over.rect().center()))
        else:
            action.trigger()
