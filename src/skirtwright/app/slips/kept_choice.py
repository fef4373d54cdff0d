"""A choice of what she keeps under names: one for the order, the order's own kept."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QLabel, QLineEdit, QWidget

from skirtwright.app.desk import Desk
from skirtwright.app.fields import Choosing, link_button, sentence_label, tell
from skirtwright.app.guard import guarded
from skirtwright.app.layouts import in_column, in_row
from skirtwright.problems import SkirtwrightError
from skirtwright.words import in_one_sentence, say


class NameLine(QLineEdit):
    """A name that is being given.

    Signals:
        dropped: she thinks better of it.
    """

    dropped = Signal()

    @guarded()
    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.dropped.emit()
        else:
            super().keyPressEvent(event)


class KeptChoice(QWidget):
    """The choice, and what is done to hers.

    Args:
        desk: holds the order.
        words: ids of what the choice, its two ways and the name are called: `pick`,
            `keep`, `remove`, `name`.
        most: letters of a name.
    """

    def __init__(self, desk: Desk, words: dict[str, str], most: int) -> None:
        super().__init__()
        self.desk, self._words = desk, words
        self.label, self.box = QLabel(), Choosing()
        self.label.setBuddy(self.box)
        self.keep, self.remove = link_button(), link_button()
        self.name = NameLine()
        self.name.setMaxLength(most)
        self.naming = QWidget()
        self.said = sentence_label()
        self.box.activated.connect(self.choose)
        self.keep.clicked.connect(lambda: self.ask_name(""))
        self.remove.clicked.connect(self.take_away)
        self.name.returnPressed.connect(self.take_name)
        self.name.dropped.connect(self.drop)

    def arrange(self, *ways: QWidget, beside: tuple[QWidget, ...] = ()) -> None:
        """Lay out the choice, what is done to it, and the name with what is beside."""
        in_row((self.name, 1), *beside, on=self.naming, spacing=6)
        self.naming.hide()
        done = in_row(*ways, 1, spacing=4)
        parts = (self.label, self.box, done, self.naming, self.said)
        in_column(*parts, on=self, spacing=3, margins=(0, 0, 0, 4))

    def say_again(self) -> None:
        """Labels in her language."""
        said = {
            k: say(code, manner=self.desk.manner) for k, code in self._words.items()
        }
        self.label.setText(said["pick"])
        self.box.setAccessibleName(said["pick"])
        self.keep.setText(said["keep"])
        self.remove.setText(said["remove"])
        self.name.setPlaceholderText(said["name"])
        self.name.setAccessibleName(said["name"])

    def choose(self, index: int) -> None:
        """Give the order what stands at a place of the list."""
        raise NotImplementedError

    def take_name(self) -> None:
        """Keep what the order has under the name."""
        raise NotImplementedError

    def take_away(self) -> None:
        """Keep what is chosen no longer."""
        raise NotImplementedError

    def ask_name(self, before: str) -> None:
        """Have a name typed, in place of the one before."""
        self.name.setText(before)
        self.naming.show()
        tell(self.said, "")
        self.name.setFocus(Qt.FocusReason.OtherFocusReason)
        self.name.selectAll()

    def drop(self) -> None:
        """No name is given."""
        if self.naming.isVisible() and self.naming.isAncestorOf(self.focusWidget()):
            self.keep.setFocus(Qt.FocusReason.OtherFocusReason)
        self.naming.hide()
        tell(self.said, "")

    def refuse(self, refused: SkirtwrightError) -> None:
        """Say why something cannot be done."""
        tell(self.said, in_one_sentence(refused.problem, self.desk.manner), "wrong")

    def say_kept(self, words: str) -> None:
        """Say that it is kept, with the choice in hand."""
        tell(self.said, words)
        self.box.setFocus(Qt.FocusReason.OtherFocusReason)
