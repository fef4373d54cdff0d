"""One seam allowance: a field, its unit, and the way back to the style's."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QSizePolicy, QWidget

from skirtwright.app.fields import (
    NumberLine,
    role_label,
    sentence_label,
    small_button,
    tell,
)
from skirtwright.app.layouts import in_grid
from skirtwright.app.piece_desk import PieceDesk
from skirtwright.app.seams import SeamAllowance
from skirtwright.app.shown_figures import (
    shown,
    step_of,
    stepped_text,
    unit_shown,
    unit_spoken,
)
from skirtwright.measures.units import next_mark
from skirtwright.pieces.joined_edges import Key
from skirtwright.problems import SkirtwrightError
from skirtwright.words import in_one_sentence, say


class LengthField(QWidget):
    """A length that is typed, with what stands before it and a button after it.

    Args:
        take: takes what was typed, None for the default; may refuse.
        button: what the button at its end shows.
        longest: of the figures it has room for.
    """

    def __init__(
        self,
        desk: PieceDesk,
        take: Callable[[str | None], None],
        button: str,
        *,
        longest: str = "12 15/16",
    ) -> None:
        super().__init__()
        self._desk, self._take = desk, take
        self._value = 0.0
        self.label = QLabel(wordWrap=True)
        self.line = NumberLine(longest=longest, rim=13)
        self.line.setProperty("flat", True)
        # No wider than it must be: what stands before it comes first.
        fixed = QSizePolicy.Policy.Fixed
        self.line.setSizePolicy(fixed, fixed)
        self.label.setBuddy(self.line)
        self.unit = role_label("faint")
        self.button = small_button(button, "")
        self.button.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.said = sentence_label()
        self.grid = in_grid(self, (0, 0, 0, 0), across=2, down=2)
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
        value = max(next_mark(self._value, step, steps), 0.0)
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
    """An allowance: of all edges of a seam, of one run of them, or of one edge."""

    def __init__(self, desk: PieceDesk, keys: tuple[Key, ...]) -> None:
        def take(text: str | None) -> None:
            desk.set_allowance(keys, text)

        super().__init__(desk, take, "↺", longest="1 15/16")
        self.keys = keys
        # Before the figure, where it takes no room until there is a way back: names
        # keep their line, and figures stand one under another.
        self.grid.addWidget(self.button, 0, 1)
        self.line.set_back.connect(self.set_back)
        self.button.clicked.connect(self.set_back)

    def set_back(self) -> None:
        """The style's again."""
        self.take(None)

    def show_allowance(self, now: SeamAllowance, seam: str, label: str) -> None:
        """Show an allowance as it stands."""
        manner, part = self._desk.manner, now.parts[0]
        self.label.setText(label)
        self.label.setVisible(bool(label))
        values = {"edge": seam, "piece": label or part.title, "run": now.label}
        default = f"{shown('length', part.default, manner)} {manner.unit}"
        self.name_line(
            say("pieces.allowance", values, manner),
            say("pieces.allowance_described", {"default": default}, manner),
        )
        back = say("pieces.allowance_back", values, manner)
        self.button.setAccessibleName(back)
        self.button.setToolTip(back)
        self.button.setVisible(any(each.typed for each in now.parts))
        self.show_length(part.width, part.typed)
