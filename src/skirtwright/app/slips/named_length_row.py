"""Where a length ends on her, by name: the knee, the ankle, the floor."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from skirtwright.app.desk import Desk
from skirtwright.app.fields import Choosing, role_label
from skirtwright.app.layouts import in_row
from skirtwright.app.offered_lengths import named_beyond, names_for
from skirtwright.draft.inputs import AmountState
from skirtwright.words import say, translate

_SAME = 0.5
"""mm within which a length is one that has a name."""


class NamedLengthRow(QWidget):
    """The name of an amount's length, and the others she may choose.

    Signals:
        chosen: what the amount is worked from now.
    """

    chosen = Signal(str)

    def __init__(self, desk: Desk, label: str) -> None:
        super().__init__()
        self._desk, self._label = desk, label
        self._shown: tuple[object, ...] = ()
        self.name = role_label("faint")
        self.box = Choosing(at_right=True)
        self.box.setProperty("flat", True)
        self.name.setBuddy(self.box)
        in_row(self.name, (self.box, 1), on=self)
        self.box.activated.connect(self._choose)

    def show_state(self, state: AmountState) -> None:
        """What can be chosen on her, and which of it the length is."""
        manner = self._desk.manner
        offered = names_for(self._desk, state)
        beyond = named_beyond(self._desk, state)
        shown = (manner, state.value, beyond, *offered)
        if shown == self._shown:
            return
        self._shown = shown
        self.setVisible(bool(offered or beyond))
        self.name.setText(say("lengths.by_name", manner=manner))
        label = translate(self._label, manner)
        self.box.setAccessibleName(say("lengths.of", {"label": label}, manner))
        self.box.clear()
        now = [each for each in offered if abs(each.value - state.value) < _SAME]
        if beyond or not now:
            now = []
            self.box.addItem(beyond or say("lengths.none", manner=manner), "")
        for each in offered:
            self.box.addItem(each.told, each.working)
        self.box.setCurrentIndex(offered.index(now[0]) if now else 0)

    def _choose(self, index: int) -> None:
        working = self.box.itemData(index)
        if working:
            self.chosen.emit(working)
