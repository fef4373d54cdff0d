"""The sets of allowances a workroom keeps: one chosen, one kept from the order."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QPushButton

from skirtwright.app.desk import Desk
from skirtwright.app.fields import link_button, tell
from skirtwright.app.slips.kept_choice import KeptChoice
from skirtwright.job import allowance_sets, piece_edits
from skirtwright.job.allowance_sets import AllowanceSet
from skirtwright.job.worktable import Look
from skirtwright.problems import SkirtwrightError
from skirtwright.words import say, translate

_WORDS = {
    "pick": "pieces.sets",
    "keep": "pieces.set_keep",
    "remove": "pieces.set_remove",
    "name": "pieces.set_name",
}


class SetsRow(KeptChoice):
    """The choice of a set, and what is done to hers.

    Signals:
        gone: a set of hers was taken away; it.
    """

    gone = Signal(object)

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk, _WORDS, allowance_sets.MOST_TITLE)
        self._look: Look | None = None
        self._sets: tuple[AllowanceSet, ...] = ()
        self._used: AllowanceSet | None = None
        self._renames = ""
        self.rename, self.take = link_button(), QPushButton()
        self.arrange(self.keep, self.rename, self.remove, beside=(self.take,))
        self.rename.clicked.connect(self._ask_rename)
        self.take.clicked.connect(self.take_name)

    def say_again(self) -> None:
        """Labels in her language."""
        super().say_again()
        self.rename.setText(say("pieces.set_rename", manner=self.desk.manner))
        self.take.setText(say("pieces.set_save", manner=self.desk.manner))

    def show_look(self, look: Look) -> None:
        """Show which set the order has."""
        self._look = look
        manner = self.desk.manner
        try:
            self._sets = (*allowance_sets.shipped(), *allowance_sets.kept())
        except SkirtwrightError as trouble:
            self._sets = allowance_sets.shipped()
            self.refuse(trouble)
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

    def choose(self, index: int) -> None:
        """Give the order the allowances of a set, or the style's own."""
        self.drop()
        if index > len(self._sets):
            return
        desk, edited = self.desk, piece_edits.without_allowances(self.desk.job)
        try:
            if index:
                edited = allowance_sets.applied(desk.look, self._sets[index - 1])
            desk.change(edited)
        except SkirtwrightError as refused:
            self.refuse(refused)

    def ask_name(self, before: str) -> None:
        """Have a name typed: for a new set, or another one's."""
        self._renames = before
        super().ask_name(before)

    def _ask_rename(self) -> None:
        if self._used is not None:
            self.ask_name(self._used.title)

    def take_name(self) -> None:
        """Keep the order's allowances under the name, or give the set that name."""
        text, desk = self.name.text(), self.desk
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
            self.refuse(refused)
            return
        self.drop()
        if self._look is not None:
            self.show_look(self._look)
        self.say_kept(say("pieces.set_kept", {"title": title}, desk.manner))

    def take_away(self) -> None:
        """Keep a set of hers no longer."""
        known = self._used
        if known is None:
            return
        try:
            kept = allowance_sets.kept()
            allowance_sets.keep(allowance_sets.without(kept, known.title))
        except SkirtwrightError as refused:
            self.refuse(refused)
            return
        self.again()
        self.box.setFocus(Qt.FocusReason.OtherFocusReason)
        self.gone.emit(known)

    def again(self) -> None:
        """Her sets are others than before."""
        tell(self.said, "")
        if self._look is not None:
            self.show_look(self._look)
