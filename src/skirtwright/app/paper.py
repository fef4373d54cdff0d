"""Printing in the window: the print strip beside the table, made when asked for."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import QByteArray, QObject, Qt
from PySide6.QtWidgets import QWidget

from skirtwright.app.window_frame import RIGHT, SIDES, Frame
from skirtwright.job.worktable import Look

if TYPE_CHECKING:
    from skirtwright.app.panels.printing import PrintStrip

_NAME = "print"
"""The strip, and under what name her paper and printer are kept."""


class Paper(QObject):
    """Opens and closes the print strip, and tells table and strip of each other.

    Attributes:
        strip: the print strip; None until it is first asked for.
    """

    def __init__(self, window: Frame) -> None:
        super().__init__(window)
        self._window = window
        self.strip: PrintStrip | None = None
        self._folded: list[str] = []
        window.fitted.connect(self.fit)
        window.right_taken.connect(self._make_room)

    def open(self) -> None:
        """Open the strip and give it the keyboard."""
        window = self._window
        window.take_typed()
        strip, fresh = self.strip or self._made(), self.strip is None
        self.strip = strip
        window.table.stop_walking()
        window.right_taken.emit(_NAME)
        self._tell(strip)
        kept = window.settings.layout(_NAME)
        if fresh and kept is not None:
            strip.choices.bring_back(bytes(kept.data()).decode("utf-8", "replace"))
        self._fold_others(SIDES if window.is_narrow else RIGHT)
        strip.show()
        window.fit_strips()
        strip.choices.kind_row.box.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def _made(self) -> PrintStrip:
        # What prints is loaded now and not when the window starts.
        from skirtwright.app.panels.printing import PrintStrip

        window = self._window
        strip = PrintStrip()
        strip.hide()
        window.across.addWidget(strip)
        strip.tiling_changed.connect(window.table.show_sheets)
        strip.closed.connect(self.close)
        window.table.walking.connect(self._walking)
        return strip

    def _fold_others(self, names: Sequence[str]) -> None:
        """Where there is no room for all, the sheets are what she wants to see."""
        acts = self._window.acts.by_name
        folded = [name for name in names if acts[name].isChecked()]
        for name in folded:
            acts[name].setChecked(False)
        self._folded += folded

    def fit(self, wide: int) -> None:
        """As wide as the other strips at least, px."""
        if self.strip is not None:
            self.strip.setMinimumWidth(max(wide, self.strip.needs()))

    def close(self) -> None:
        """Fold the strip away; the pieces lie on the table again."""
        if self.strip is None or self.strip.isHidden():
            return
        self.strip.hide()
        kept = QByteArray(self.strip.choices.kept().encode())
        self._window.settings.keep_layout(_NAME, kept)
        for name in self._folded:
            self._window.acts.by_name[name].setChecked(True)
        self._folded = []
        self._window.fit_strips()
        self._window.table.setFocus(Qt.FocusReason.OtherFocusReason)

    def _make_room(self, name: str) -> None:
        if name != _NAME:
            self.close()

    def _walking(self, begins: bool) -> None:
        """Seams are walked on the table, not on sheets."""
        if begins:
            self.close()

    @property
    def is_open(self) -> bool:
        """True while the strip is in sight."""
        return self.strip is not None and not self.strip.isHidden()

    @property
    def place(self) -> QWidget | None:
        """What takes the keyboard in the strip; None while it is folded away."""
        if self.strip is None or self.strip.isHidden():
            return None
        return self.strip.choices.kind_row.box

    def show_look(self, look: Look) -> None:
        """Pass an order on, once nothing is pulled."""
        if self.strip is not None and self.is_open and look is self._window.desk.look:
            self._tell(self.strip)

    def _tell(self, strip: PrintStrip) -> None:
        desk = self._window.desk
        strip.show_look(desk.look, desk.manner, desk.waits)
