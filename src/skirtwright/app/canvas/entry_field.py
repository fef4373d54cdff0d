"""An entry on the drawing as a field in its place."""

from __future__ import annotations

from PySide6.QtCore import QRectF, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QFrame, QWidget

from skirtwright.app.canvas.entries import Entry
from skirtwright.app.canvas.ledger import number_of, word_of
from skirtwright.app.canvas.lettering import sized
from skirtwright.app.desk import with_unit
from skirtwright.app.fields import NumberLine, sentence_label, tell
from skirtwright.app.guard import guarded
from skirtwright.app.layouts import in_column
from skirtwright.app.look import letters
from skirtwright.draft.step import Reads
from skirtwright.job.worktable import Look
from skirtwright.problems import Problem
from skirtwright.words import Manner, in_one_sentence

_WIDE = 116
_TALL = 48


class EntryField(QFrame):
    """One at a time, over the entry it stands for.

    Signals:
        typed: what she typed, once she is done.
        left: she is elsewhere, or has let go of it.
    """

    typed = Signal(str)
    left = Signal()

    def __init__(self, table: QWidget) -> None:
        super().__init__(table)
        self._table = table
        self.entry: Entry | None = None
        self.line = NumberLine(self)
        self.said = sentence_label("wrong")
        in_column(self.line, self.said, on=self, spacing=2)
        self.setFocusProxy(self.line)
        self.line.entered.connect(self.typed)
        self.line.restored.connect(self.done)
        self.line.left.connect(self._leave)
        self.hide()

    def open(self, entry: Entry, area: QRectF, manner: Manner, percent: int) -> None:
        """Stand over an entry, with it in hand."""
        self.entry, self._manner = entry, manner
        self.line.setFont(letters(percent, sized(25), bold=True))
        self.line.setAccessibleName(word_of(entry, manner))
        self.said.setMaximumWidth(3 * _WIDE)
        tell(self.said, "")
        self.line.rest_at(" ".join(part for part in number_of(entry, manner) if part))
        self.line.restore()
        wide = max(_WIDE, round(area.width()) + 24) * percent // 100
        self.line.setFixedSize(wide, _TALL * percent // 100)
        self._place(area)
        self.show()
        self.raise_()
        self.line.setFocus(Qt.FocusReason.OtherFocusReason)
        self.line.selectAll()

    def _place(self, area: QRectF) -> None:
        """Within the table, over the entry."""
        self.adjustSize()
        room = self._table.rect()
        left = min(max(round(area.left()) - 8, 0), room.width() - self.width())
        top = min(max(round(area.top()) - 8, 0), room.height() - self.height())
        self.move(left, top)

    def refuse(self, problem: Problem) -> None:
        """What she typed cannot be used: it stays, marked, and is told why."""
        self.line.refuse()
        tell(self.said, in_one_sentence(problem, self._manner), "wrong")
        self.said.setFixedWidth(3 * _WIDE)
        self._place(QRectF(self.geometry()).adjusted(8, 8, 0, 0))
        self.raise_()

    def done(self) -> None:
        """Let go of it."""
        if self.entry is None:
            return
        self.entry = None
        held = self.line.hasFocus()
        self.hide()
        if held:
            self._table.setFocus(Qt.FocusReason.OtherFocusReason)
        self.left.emit()

    def _leave(self) -> None:
        """It would lie over the pieces; what is wrong is hers to put right."""
        if not self.line.wrong:
            self.done()

    @guarded()
    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Escape drops; Enter on what was not changed lets go of it, too."""
        enter = (Qt.Key.Key_Return, Qt.Key.Key_Enter)
        if event.key() == Qt.Key.Key_Escape or event.key() in enter:
            self.done()
        else:
            super().keyPressEvent(event)


def read_entry(good: Look, entry: Entry, text: str, manner: Manner) -> float:
    """What was typed for an entry: mm, degrees or plain.

    Raises:
        SkirtwrightError: it cannot be read.
    """
    if entry.kind != "length":
        how = Reads.DEGREES if entry.kind == "angle" else Reads.RATIO
        value: float = good.worked.read(text, how)
        return value
    return good.worked.read_typed(with_unit(text, manner.unit, good.job.unit))
