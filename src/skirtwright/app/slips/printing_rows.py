"""Rows of the print strip: a choice, a length, a tick."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QCheckBox, QLabel, QLineEdit, QWidget

from skirtwright.app.fields import (
    Choosing,
    NumberLine,
    role_label,
    sentence_label,
    tell,
)
from skirtwright.app.layouts import in_column, in_grid
from skirtwright.app.shown_figures import shown, step_of, stepped_text
from skirtwright.measures.units import Unit, read_length
from skirtwright.problems import BadInput
from skirtwright.words import Manner, in_two_sentences, say


class OptionRow(QWidget):
    """A choice among a few; the names are said anew in every manner.

    Signals:
        changed: she chose another.
    """

    changed = Signal()

    def __init__(self, name: str) -> None:
        super().__init__()
        self._name = name
        self.label = QLabel(wordWrap=True)
        self.box = Choosing()
        self.label.setBuddy(self.box)
        in_column(self.label, self.box, on=self, spacing=2)
        self.box.activated.connect(lambda _: self.changed.emit())

    def fill(self, options: Sequence[tuple[str, str]], manner: Manner) -> None:
        """Say the options, each a key and its name; what is chosen stays chosen."""
        before = self.key
        label = say(f"printing.{self._name}", manner=manner)
        self.label.setText(label)
        self.box.setAccessibleName(label)
        self.box.clear()
        for key, name in options:
            self.box.addItem(name, key)
        self.choose(before)

    @property
    def key(self) -> str:
        """The key of what is chosen; empty before there are options."""
        return str(self.box.currentData() or "")

    def choose(self, key: str) -> None:
        """Choose without telling; an unknown key is passed over."""
        index = self.box.findData(key)
        if index >= 0:
            self.box.setCurrentIndex(index)
        self.box.fit()


class TickRow(QCheckBox):
    """Something that is so or is not.

    Signals:
        changed: it is so now, or no more.
    """

    changed = Signal()

    def __init__(self, name: str) -> None:
        super().__init__()
        self._name = name
        self.toggled.connect(self.changed)

    def say_again(self, manner: Manner) -> None:
        """In her language."""
        self.setText(say(f"printing.{self._name}", manner=manner))
        self.setToolTip(say(f"printing.{self._name}.help", manner=manner))


class TextRow(QWidget):
    """A line of text that may be left empty.

    Signals:
        changed: there is another text.
    """

    changed = Signal()

    def __init__(self, name: str) -> None:
        super().__init__()
        self._name = name
        self.label = QLabel()
        self.line = QLineEdit()
        self.line.setMaxLength(80)
        self.label.setBuddy(self.line)
        in_column(self.label, self.line, on=self, spacing=2)
        self.line.editingFinished.connect(self.changed.emit)

    @property
    def text(self) -> str:
        """What stands in it."""
        return self.line.text().strip()

    def say_again(self, manner: Manner) -> None:
        """In her language."""
        label = say(f"printing.{self._name}", manner=manner)
        self.label.setText(label)
        self.line.setAccessibleName(label)
        example = say(f"printing.{self._name}_example", manner=manner)
        self.line.setPlaceholderText(example)

    def mark(self, *, wrong: bool) -> None:
        """Mark the line as what keeps the order from being printed, or no longer."""
        self.line.setProperty("wrong", wrong)
        self.line.style().polish(self.line)


class LengthRow(QWidget):
    """A length in her unit, or in a unit of the row's own; it may be left empty.

    Attributes:
        value: mm, or None while it is left empty.

    Signals:
        changed: there is another value.
    """

    changed = Signal()

    def __init__(self, name: str, unit: Unit | None = None) -> None:
        super().__init__()
        self._name, self._own = name, unit
        self._manner = Manner()
        self.value: float | None = None
        self._otherwise: float | None = None
        self.label = QLabel(wordWrap=True)
        self.line = NumberLine()
        self.label.setBuddy(self.line)
        self.unit = role_label("faint")
        self.said = sentence_label("wrong")
        grid = in_grid(self, (0, 0, 0, 0), across=6, down=2)
        grid.setColumnStretch(0, 1)
        grid.addWidget(self.label, 0, 0)
        grid.addWidget(self.line, 0, 1)
        grid.addWidget(self.unit, 0, 2)
        grid.addWidget(self.said, 1, 0, 1, 3)
        self.line.entered.connect(self._enter)
        self.line.restored.connect(lambda: tell(self.said, ""))
        self.line.stepped.connect(self._step)
        self.line.set_back.connect(lambda: self.put(None, told=True))

    @property
    def unread(self) -> bool:
        """True while what stands in the line is no length."""
        return bool(self.said.text())

    def say_again(self, manner: Manner) -> None:
        """In her unit and language."""
        self._manner = (
            Manner(self._own, language=manner.language) if self._own else (manner)
        )
        manner = self._manner
        label = say(f"printing.{self._name}", manner=manner)
        spoken = say(f"unit.{manner.unit}", manner=manner)
        self.label.setText(label)
        self.unit.setText(manner.unit)
        self.line.setAccessibleName(
            say("field.name", {"label": label, "unit": spoken}, manner)
        )
        self._show()

    def otherwise(self, value: float | None) -> None:
        """What holds while the line is left empty, mm."""
        self._otherwise = value
        self._show()

    def put(self, value: float | None, *, told: bool = False) -> None:
        """Another value.

        Args:
            value: mm, or None to leave it empty.
            told: tell whoever listens.
        """
        self.value = value
        tell(self.said, "")
        self.line.restore()
        self._show()
        if told:
            self.changed.emit()

    def mark(self, *, wrong: bool) -> None:
        """Mark the line as what keeps the order from being printed, or no longer."""
        if wrong:
            self.line.refuse()
        elif self.line.wrong and not self.unread:
            self.line.restore()

    def _show(self) -> None:
        value = self._otherwise if self.value is None else self.value
        self.line.rest_at("" if value is None else shown("length", value, self._manner))

    def _enter(self, text: str) -> None:
        if not text.strip():
            self.put(None, told=True)
            return
        try:
            value = read_length(text, self._manner.unit)
        except BadInput as refused:
            self.line.refuse()
            words = in_two_sentences(refused.problem, self._manner)
            tell(self.said, words, "wrong")
            self.changed.emit()
            return
        self.put(value, told=True)

    def _step(self, steps: int) -> None:
        value = self._otherwise if self.value is None else self.value
        step = step_of("length", self._manner)
        stepped = max((value or 0.0) + steps * step, 0.0)
        self._enter(stepped_text("length", stepped, self._manner))
