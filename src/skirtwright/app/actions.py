"""Everything she can do, as one table: menus and the searchable list are made of it.

Words: `action.<name>` is the label with its mnemonic, `action.<name>.help` a sentence,
`action.<name>.also` what people would type who look for it.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from PySide6.QtCore import QObject
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QMenu, QWidget

from skirtwright.words import Manner, say


@dataclass(frozen=True)
class Row:
    """One thing she can do.

    Attributes:
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
