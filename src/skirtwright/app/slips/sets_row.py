"""The sets of allowances a workroom keeps: one chosen, one kept from the order."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QLabel,
    QLineEdit,
    QPushButton,
    QWidget,
)

from skirtwright.app.desk import Desk
from skirtwright.app.fields import Choosing, link_button, sentence_label, tell
from skirtwright.app.guard import guarded
from skirtwright.app.layouts import in_column, in_row
from skirtwright.job import allowance_sets, piece_edits
from skirtwright.job.allowance_sets import AllowanceSet
from skirtwright.job.worktable import Look
from skirtwright.problems import SkirtwrightError
from skirtwright.words import in_one_sentence, say, translate


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


class SetsRow(QWidget):
    """The choice of a set, and what is done to hers.

    Signals:
        gone: a set of hers was taken away; it.
    """

    gone = Signal(object)

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk = desk
        self._look: Look | None = None
        self._sets: tuple[AllowanceSet, ...] = ()
        self._used: AllowanceSet | None = None
        self._renames = ""
        self.label = QLabel()
        self.box = Choosing()
        self.label.setBuddy(self.box)
        self.keep = link_button()
        self.rename = link_button()
        self.remove = link_button()
        self.name = NameLine()
        self.name.setMaxLength(allowance_sets.MOST_TITLE)
        self.take = QPushButton()
        self.naming = QWidget()
        self.said = sentence_label()
        self._arrange()
        self.box.activated.connect(self._choose)
        self.keep.clicked.connect(lambda: self._ask_name(""))
        self.rename.clicked.connect(self._ask_rename)
        self.remove.clicked.connect(self._remove)
        self.name.returnPressed.connect(self._named)
        self.name.dropped.connect(self._drop)
        self.take.clicked.connect(self._named)

    def _arrange(self) -> None:
        ways = in_row(self.keep, self.rename, self.remove, 1, spacing=4)
        in_row((self.name, 1), self.take, on=self.naming, spacing=6)
        self.naming.hide()
        in_column(
            self.label,
            self.box,
            ways,
            self.naming,
            self.said,
            on=self,
            spacing=3,
            margins=(0, 0, 0, 4),
        )

    # Showing

    def say_again(self) -> None:
        """Labels in her language."""
        manner = self._desk.manner
        self.label.setText(say("pieces.sets", manner=manner))
        self.box.setAccessibleName(say("pieces.sets", manner=manner))
        self.keep.setText(say("pieces.set_keep", manner=manner))
        self.rename.setText(say("pieces.set_rename", manner=manner))
        self.remove.setText(say("pieces.set_remove", manner=manner))
        self.take.setText(say("pieces.set_save", manner=manner))
        self.name.setPlaceholderText(say("pieces.set_name", manner=manner))
        self.name.setAccessibleName(say("pieces.set_name", manner=manner))

    def show_look(self, look: Look) -> None:
        """Show which set the order has."""
        self._look = look
        manner = self._desk.manner
        try:
            self._sets = (*allowance_sets.shipped(), *allowance_sets.kept())
        except SkirtwrightError as trouble:
            self._sets = allowance_sets.shipped()
            tell(self.said, in_one_sentence(trouble.problem, manner), "wrong")
        own = any(piece.allowances for piece in look.job.pieces)
        # Hers before the program's, where two have the same widths.
        newest_first = self._sets[::-1]
        self._used = allowance_sets.in_use(look, newest_first) if own else None
        names = [say("pieces.set_style", manner=manner)]
        names += [translate(known.title, manner) for known in self._sets]
        mixed = own and self._used is None
        if mixed:
            names.append(say("pieces.set_mixed", manner=manner))
        self.box.fill(names)
        place = self._sets.index(self._used) + 1 if self._used else 0
        self.box.setCurrentIndex(len(names) - 1 if mixed else place)
        is_hers = self._used is not None and self._used not in allowance_sets.shipped()
        self.rename.setVisible(is_hers)
        self.remove.setVisible(is_hers)
        self.keep.setVisible(not is_hers)

    # Doing

    def _choose(self, index: int) -> None:
        self._drop()
        if index > len(self._sets):
            return
        desk, edited = self._desk, piece_edits.without_allowances(self._desk.job)
        try:
            if index:
                edited = allowance_sets.applied(desk.look, self._sets[index - 1])
            desk.change(edited)
        except SkirtwrightError as refused:
            self._refuse(refused)

    def _ask_name(self, before: str) -> None:
        self._renames = before
        self.name.setText(before)
        self.naming.show()
        tell(self.said, "")
        self.name.setFocus(Qt.FocusReason.OtherFocusReason)
        self.name.selectAll()

    def _ask_rename(self) -> None:
        if self._used is not None:
            self._ask_name(self._used.title)

    def _named(self) -> None:
        """Keep the order's allowances under the name, or give the set that name."""
        text, desk = self.name.text(), self._desk
        try:
            kept = allowance_sets.kept()
            if self._renames:
                title = allowance_sets.named(text)
                kept = allowance_sets.renamed(kept, self._renames, text)
            else:
                made = allowance_sets.taken(desk.look, text)
                title, kept = made.title, allowance_sets.with_set(kept, made)
            allowance_sets.keep(kept)
        except SkirtwrightError as refused:
            self._refuse(refused)
            return
        self._drop()
        if self._look is not None:
            self.show_look(self._look)
        tell(self.said, say("pieces.set_kept", {"title": title}, desk.manner))
        self.box.setFocus(Qt.FocusReason.OtherFocusReason)

    def _remove(self) -> None:
        known = self._used
        if known is None:
            return
        try:
            kept = allowance_sets.kept()
            allowance_sets.keep(allowance_sets.without(kept, known.title))
        except SkirtwrightError as refused:
            self._refuse(refused)
            return
        self.again()
        self.box.setFocus(Qt.FocusReason.OtherFocusReason)
        self.gone.emit(known)

    def again(self) -> None:
        """Her sets are others than before."""
        tell(self.said, "")
        if self._look is not None:
            self.show_look(self._look)

    def _drop(self) -> None:
        if self.naming.isVisible() and self.naming.isAncestorOf(self.focusWidget()):
            self.keep.setFocus(Qt.FocusReason.OtherFocusReason)
        self.naming.hide()
        tell(self.said, "")

    def _refuse(self, refused: SkirtwrightError) -> None:
        tell(self.said, in_one_sentence(refused.problem, self._desk.manner), "wrong")
