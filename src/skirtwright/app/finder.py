"""Everything she can do, in a list that is searched while she types."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from functools import partial
from typing import NamedTuple

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent, QKeySequence
from PySide6.QtWidgets import QDialog, QLabel, QLineEdit, QListWidget, QWidget

from skirtwright.app.actions import ROWS, Actions
from skirtwright.app.desk import Desk
from skirtwright.app.guard import guarded
from skirtwright.app.layouts import in_column
from skirtwright.draft import styles
from skirtwright.measures.measurements import measurements
from skirtwright.words import Manner, say, translate

_JOINING = re.compile(r"\b(an?|and|do|for|how|i|in|is|it|my|of|on|the|to)\b")
"""Words without which the same is looked for."""


class Entry(NamedTuple):
    """What can be found.

    Attributes:
        name: by which it is known.
        told: what more its line says.
        also: what people would type who look for it.
        does: what happens when it is chosen.
        is_action: it is shown before a word is typed, too.
    """

    name: str
    label: str
    told: str
    also: str
    does: Callable[[], object]
    is_action: bool = False


def entries_by_name(
    desk: Desk, bring: Mapping[str, Callable[[str], object]]
) -> list[Entry]:
    """Styles, measurements and amounts, each found by its own name.

    Args:
        bring: what brings a `style`, a `measurement` or an `amount` of that name.
    """
    manner, states = desk.manner, desk.look.worked.stated.amounts.values()
    amounts = (state.amount for state in states if state.applies)
    known = [
        *(("style", s.id, s.title, s.help) for s in map(styles.style, styles.names())),
        *(("measurement", m.name, m.label, m.taken) for m in measurements().values()),
        *(("amount", a.name, a.label, a.help) for a in amounts),
    ]
    return [
        Entry(
            name,
            translate(label, manner),
            translate(told, manner).partition(". ")[0],
            "",
            partial(bring[kind], name),
        )
        for kind, name, label, told in known
    ]


def _one(word: str) -> str:
    """What is typed of many, as of one."""
    return word[:-1] if len(word) > 3 and word.endswith("s") else word


class Finder(QDialog):
    """A list of actions, styles and fields, searched while she types.

    It has the keyboard from the moment it is asked for: what is typed before it is
    seen stands in its field.
    """

    def __init__(
        self, actions: Actions, more: Sequence[Entry], manner: Manner, parent: QWidget
    ) -> None:
        super().__init__(parent, Qt.WindowType.Popup)
        self._actions, self._over, self._manner = actions, parent, manner
        self._entries = (*self._doings(), *more)
        self._found: list[Entry] = []
        self.setWindowTitle(say("find.title", manner=manner))
        self.setProperty("over", True)
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
        self.line.setFocus()
        middle = parent.mapToGlobal(parent.rect().center())
        self.move(middle - self.rect().center())

    @property
    def names(self) -> list[str]:
        """Of what is found, first what is called so."""
        return [entry.name for entry in self._found]

    def search(self, text: str) -> None:
        """Show all that has a word begun like each one typed.

        First what is called so. Words that only join, and a plural's s, do not count.
        """
        typed = [
            part for part in text.casefold().split() if not _JOINING.fullmatch(part)
        ]
        wanted = [re.compile(rf"(?<!\w){re.escape(_one(part))}") for part in typed]

        def has_all(words: str) -> bool:
            return all(part.search(words.casefold()) for part in wanted)

        self._found = [
            entry
            for entry in self._entries
            if (wanted or entry.is_action)
            and has_all(f"{entry.label} {entry.told} {entry.also}")
        ]
        self._found.sort(key=lambda entry: not has_all(entry.label))
        self.list.clear()
        self.list.addItems([f"{each.label} — {each.told}" for each in self._found])
        # Nothing is chosen for her before she has typed a word or gone to a row.
        self.list.setCurrentRow(0 if wanted else -1)
        self.list.setVisible(bool(self._found))
        self.none.setVisible(not self._found)

    def _doings(self) -> list[Entry]:
        native = QKeySequence.SequenceFormat.NativeText
        made = []
        for row in ROWS:
            action = self._actions.by_name[row.name]
            keys = ", ".join(key.toString(native) for key in action.shortcuts())
            label = action.text().replace("&", "").rstrip("…")
            told = f"{action.statusTip()}  {keys}".rstrip()
            also = say(f"action.{row.name}.also", manner=self._manner)
            does = partial(self._do, row.name)
            if action.isEnabled():
                made.append(Entry(row.name, label, told, also, does, is_action=True))
        return made

    def _do(self, name: str) -> None:
        menu = self._actions.menus.get(name)
        if menu is not None:
            menu.popup(self._over.mapToGlobal(self._over.rect().center()))
        else:
            self._actions.by_name[name].trigger()

    @guarded()
    def keyPressEvent(self, event: QKeyEvent) -> None:
        moves = {Qt.Key.Key_Up: -1, Qt.Key.Key_Down: 1}
        if event.key() in moves and self.list.count():
            row = self.list.currentRow() + moves[Qt.Key(event.key())]
            self.list.setCurrentRow(max(0, min(row, self.list.count() - 1)))
        else:
            super().keyPressEvent(event)

    def run(self) -> None:
        """Do what is chosen, once the list is out of the way."""
        row = self.list.currentRow()
        if row >= 0:
            chosen = self._found[row]
            self.accept()
            chosen.does()
