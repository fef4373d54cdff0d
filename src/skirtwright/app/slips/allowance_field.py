"""One seam allowance: a field, its unit, and the way back to the style's."""

from __future__ import annotations

import math
from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QLabel, QSizePolicy, QWidget

from skirtwright.app.fields import (
    NumberLine,
    link_button,
    sentence_label,
    shown,
    small_button,
    step_of,
    stepped_text,
    tell,
    unit_shown,
    unit_spoken,
)
from skirtwright.app.piece_desk import AllowanceState, PieceDesk
from skirtwright.problems import SkirtwrightError
from skirtwright.words import in_one_sentence, say


class LengthField(QWidget):
    """A length that is typed, with what stands before it and a button after it.

    Args:
        desk: for how she is spoken to.
        take: takes what was typed, None for the default; may refuse.
        button: what the button at its end shows.
    """

    def __init__(
        self, desk: PieceDesk, take: Callable[[str | None], None], button: str
    ) -> None:
        super().__init__()
        self._desk, self._take = desk, take
        self._value = 0.0
        self.label = QLabel()
        self.label.setWordWrap(True)
        self.line = NumberLine(longest="12 15/16")
        # No wider than it must be: what stands before it comes first.
        fixed = QSizePolicy.Policy.Fixed
        self.line.setSizePolicy(fixed, fixed)
        self.label.setBuddy(self.line)
        self.unit = QLabel()
        self.unit.setProperty("role", "faint")
        self.button = small_button(button, "")
        self.button.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        keep = self.button.sizePolicy()
        keep.setRetainSizeWhenHidden(True)
        self.button.setSizePolicy(keep)
        self.said = sentence_label()
        self.grid = QGridLayout(self)
        self.grid.setContentsMargins(0, 0, 0, 0)
        self.grid.setHorizontalSpacing(4)
        self.grid.setVerticalSpacing(2)
        self.grid.addWidget(self.label, 0, 0)
        self.grid.addWidget(self.line, 0, 2)
        self.grid.addWidget(self.unit, 0, 3)
        self.grid.addWidget(self.button, 0, 4)
        self.grid.addWidget(self.said, 1, 0, 1, 5)
        self.grid.setColumnStretch(0, 1)
        self.line.entered.connect(self._enter)
        self.line.restored.connect(lambda: tell(self.said, ""))
        self.line.stepped.connect(self.step)

    def show_length(self, value: float, typed: str) -> None:
        """Show a length, mm, and as she typed it where that is a sum."""
        self._value = value
        manner = self._desk.manner
        self.unit.setText(unit_shown("length", manner))
        is_sum = any(sign in typed for sign in "*()+")
        self.line.rest_at(shown("length", value, manner), typed if is_sum else "")
        if not self.line.wrong:
            tell(self.said, "")

    def name_line(self, name: str, described: str = "") -> None:
        """What assistive technology calls the field, with its unit."""
        unit = unit_spoken("length", self._desk.manner)
        words = say("field.name", {"label": name, "unit": unit}, self._desk.manner)
        self.line.setAccessibleName(words)
        self.line.setAccessibleDescription(described)
        self.line.setToolTip(described)

    def step(self, steps: int) -> None:
        """So many steps of her unit, never below nought."""
        step = step_of("length", self._desk.manner)
        marks = self._value / step
        near = round(marks)
        if abs(marks - near) > 1e-6:
            near = math.floor(marks) + (0 if steps > 0 else 1)
        value = max(near + steps, 0) * step
        if abs(value - self._value) > 1e-9:
            self.take(stepped_text("length", value, self._desk.manner))

    def _enter(self, text: str) -> None:
        self.take(text if text.strip() else None)

    def take(self, text: str | None) -> None:
        """Give on what was typed; what is refused stays, marked."""
        try:
            self._take(text)
        except SkirtwrightError as refused:
            self.line.refuse()
            words = in_one_sentence(refused.problem, self._desk.manner)
            tell(self.said, words, "wrong")
            self.line.setAccessibleDescription(words)


class AllowanceField(LengthField):
    """The allowance of an edge, or of one run of it."""

    def __init__(self, desk: PieceDesk, piece: str, key: str) -> None:
        def take(text: str | None) -> None:
            desk.set_allowance(piece, key, text, alone=self.alone.isChecked())

        super().__init__(desk, take, "↺")
        self.piece, self.key = piece, key
        self.both = QLabel()
        self.both.setProperty("role", "faint")
        self.alone = link_button()
        self.alone.setCheckable(True)
        self.alone.toggled.connect(lambda _: self._say_both())
        row = QHBoxLayout()
        row.addWidget(self.both)
        row.addWidget(self.alone)
        row.addStretch(1)
        self.grid.addLayout(row, 2, 0, 1, 5)
        self.line.set_back.connect(self.set_back)
        self.button.clicked.connect(self.set_back)

    def set_back(self) -> None:
        """The style's again."""
        self.take(None)

    def show_state(
        self, state: AllowanceState, edge: str, piece: str, walked: float
    ) -> None:
        """Show the allowance as it stands.

        Args:
            state: of the allowance.
            edge: what the edge is called.
            piece: what its piece is called.
            walked: length of the edge, mm.
        """
        manner = self._desk.manner
        if state.label:
            self.label.setText(state.label)
            self.label.setProperty("role", "faint")
        else:
            length = say("pieces.edge_length", {"length": walked}, manner)
            length = length.replace(" ", "\u00a0")
            self.label.setText(f"{edge[:1].upper()}{edge[1:]}  {length}")
        values = {"edge": edge, "piece": piece, "run": state.label}
        message = "pieces.allowance_run" if state.label else "pieces.allowance"
        default = f"{shown('length', state.default, manner)} {manner.unit}"
        self.name_line(
            say(message, values, manner),
            say("pieces.allowance_described", {"default": default}, manner),
        )
        back = say("pieces.allowance_back", values, manner)
        self.button.setAccessibleName(back)
        self.button.setToolTip(back)
        self.button.setVisible(bool(state.typed))
        self._say_both()
        self.show_length(state.width, state.typed)

    def _say_both(self) -> None:
        """That the edge it is sewn to goes with it, or stays."""
        manner = self._desk.manner
        partner = self._desk.partner(self.piece, self.key)
        pieces = {p.name: p for p in self._desk.desk.look.pieces}
        other = pieces.get(partner[0]) if partner else None
        self.both.setVisible(other is not None)
        self.alone.setVisible(other is not None)
        if other is None:
            return
        alone = self.alone.isChecked()
        title = {"piece": self._desk.title(other)}
        words = "pieces.not_with" if alone else "pieces.both_with"
        self.both.setText(say(words, title, manner))
        self.alone.setText(say("pieces.both" if alone else "pieces.alone", {}, manner))
