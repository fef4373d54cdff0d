"""The making-up sheet in the window: its strip, made when it is first asked for."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Qt
from PySide6.QtWidgets import QWidget

from skirtwright.app.window_frame import RIGHT, SIDES, Frame
from skirtwright.job.worktable import Look

if TYPE_CHECKING:
    from skirtwright.app.panels.making import MakingStrip

_WIDE = 1.45
"""A sheet that is read wants more room than a strip of fields."""


_NAME = "making"


class MakingUp(QObject):
    """Opens and closes the making-up sheet, and tells it of the order.

    Attributes:
        strip: its strip; None until it is first asked for.
    """

    def __init__(self, window: Frame) -> None:
        super().__init__(window)
        self._window = window
        self.strip: MakingStrip | None = None
        self._folded: list[str] = []
        window.fitted.connect(self.fit)
        window.right_taken.connect(self._make_room)

    def show(self, on: bool) -> None:
        """Unfold the sheet and give it the keyboard, or fold it away."""
        if on:
            self._open()
        elif self.is_open:
            self._close()

    def close(self) -> None:
        """Fold the sheet away."""
        self._window.acts.by_name["making"].setChecked(False)

    def _make_room(self, name: str) -> None:
        if name != _NAME:
            self.close()

    def _open(self) -> None:
        window = self._window
        window.take_typed()
        window.right_taken.emit(_NAME)
        if self.strip is None:
            self.strip = self._made()
        self._tell(self.strip)
        acts, beside = window.acts.by_name, SIDES if window.is_narrow else RIGHT
        self._folded = [name for name in beside if acts[name].isChecked()]
        for name in self._folded:
            acts[name].setChecked(False)
        self.strip.show()
        window.fit_strips()
        self.strip.browser.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def _made(self) -> MakingStrip:
        # What lays out the sheet is loaded now and not when the window starts.
        from skirtwright.app.panels.making import MakingStrip

        strip = MakingStrip(self._window.colours)
        strip.hide()
        self._window.across.addWidget(strip)
        strip.closed.connect(self.close)
        return strip

    def _close(self) -> None:
        if self.strip is None:
            return
        self.strip.hide()
        folded, self._folded = self._folded, []
        for name in folded:
            self._window.acts.by_name[name].setChecked(True)
        self._window.fit_strips()
        self._window.table.setFocus(Qt.FocusReason.OtherFocusReason)

    def fit(self, wide: int) -> None:
        """Wider than the other strips, px."""
        if self.strip is not None:
            self.strip.setMinimumWidth(round(_WIDE * wide))

    @property
    def is_open(self) -> bool:
        """True while the sheet is in sight."""
        return self.strip is not None and not self.strip.isHidden()

    @property
    def place(self) -> QWidget | None:
        """What takes the keyboard in the strip; None while it is folded away."""
        return self.strip.browser if self.strip is not None and self.is_open else None

    def show_look(self, look: Look) -> None:
        """Pass an order on, once nothing is pulled."""
        if self.strip is not None and self.is_open and look is self._window.desk.look:
            self._tell(self.strip)

    def dress(self) -> None:
        """In the colours of the window."""
        if self.strip is not None:
            self.strip.set_colours(self._window.colours)

    def wait(self) -> None:
        """Let nothing be half written when the window closes."""
        if self.strip is not None:
            self.strip.wait()

    def _tell(self, strip: MakingStrip) -> None:
        desk = self._window.desk
        strip.show_look(desk.look, desk.manner, desk.waits)
