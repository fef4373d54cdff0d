"""One row of the ease and style measures: a field, a range to pull, the way back."""

from __future__ import annotations

import math

from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QLabel, QVBoxLayout, QWidget

from skirtwright.app.desk import Desk
from skirtwright.app.fields import (
    Choosing,
    NumberLine,
    Range,
    sentence_label,
    shown,
    small_button,
    step_of,
    stepped_text,
    tell,
    unit_shown,
    unit_spoken,
)
from skirtwright.draft.draft import Amount, Choice
from skirtwright.draft.inputs import AmountState
from skirtwright.job.edits import set_choice
from skirtwright.job.worktable import Look
from skirtwright.problems import SkirtwrightError
from skirtwright.words import in_one_sentence, remedy, say, says, translate


class AmountRow(QWidget):
    """One measure of the style."""

    def __init__(self, desk: Desk, amount: Amount) -> None:
        super().__init__()
        self.amount, self._desk = amount, desk
        self._state: AmountState | None = None
        self._telling = False
        self.name = QLabel()
        self.name.setWordWrap(True)
        self.back = small_button("↺", "")
        self.range = Range()
        self.less = small_button("−", "")
        self.more = small_button("+", "")
        self.line = NumberLine()
        self.name.setBuddy(self.line)
        self.unit = QLabel()
        self.unit.setProperty("role", "faint")
        self.said = sentence_label()
        self._arrange()
        self.line.entered.connect(self._enter)
        self.line.restored.connect(self._restored)
        self.line.stepped.connect(self.step)
        self.line.set_back.connect(self.set_back)
        self.back.clicked.connect(self.set_back)
        self.less.clicked.connect(lambda: self.step(-1))
        self.more.clicked.connect(lambda: self.step(1))
        self.range.valueChanged.connect(self._pulled)
        self.range.sliderReleased.connect(self._released)
        self.range.dropped.connect(self._dropped)
        self.say_again()

    def _arrange(self) -> None:
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(4)
        grid.setVerticalSpacing(2)
        grid.addWidget(self.name, 0, 0, 1, 3)
        grid.addWidget(self.line, 0, 3)
        grid.addWidget(self.unit, 0, 4)
        pulling = QHBoxLayout()
        pulling.setSpacing(6)
        pulling.addWidget(self.less)
        pulling.addWidget(self.range, 1)
        pulling.addWidget(self.more)
        pulling.addWidget(self.back)
        grid.addLayout(pulling, 1, 0, 1, 5)
        grid.addWidget(self.said, 2, 0, 1, 5)
        grid.setColumnStretch(2, 1)
        keep = self.back.sizePolicy()
        keep.setRetainSizeWhenHidden(True)
        self.back.setSizePolicy(keep)
        self.back.hide()

    # Showing

    def say_again(self) -> None:
        """Labels and names in her manner."""
        amount, manner = self.amount, self._desk.manner
        label = translate(amount.label, manner)
        unit = unit_spoken(amount.kind, manner)
        message = "field.name" if unit else "field.name_plain"
        self.name.setText(label)
        self.unit.setText(unit_shown(amount.kind, manner))
        self.line.setAccessibleName(
            say(message, {"label": label, "unit": unit}, manner)
        )
        self.range.setAccessibleName(label)
        for button, words in (
            (self.back, "amounts.set_back"),
            (self.less, "amounts.less"),
            (self.more, "amounts.more"),
        ):
            text = say(words, {"label": label}, manner)
            button.setAccessibleName(text)
            button.setToolTip(text)
        help_text = translate(amount.help, manner)
        for widget in (self.name, self.line, self.range):
            widget.setToolTip(help_text)
        if self._state is not None:
            self.show_state(self._state, settled=True)

    def show_state(self, state: AmountState, *, settled: bool) -> None:
        """Show the measure as it stands; not settled while something is pulled."""
        if not settled and state == self._state:
            return
        self._state = state
        self.setVisible(state.applies)
        manner, kind = self._desk.manner, self.amount.kind
        seen = shown(kind, state.value, manner)
        self._show_range(state)
        if not settled:
            if not self.line.hasFocus():
                self.line.setText(seen)
            return
        typed = self._desk.job.amounts.get(self.amount.name, "")
        self.line.rest_at(seen, typed if _is_sum(typed) else "")
        self._mark(state)

    def _show_range(self, state: AmountState) -> None:
        step = step_of(self.amount.kind, self._desk.manner)
        unit = unit_shown(self.amount.kind, self._desk.manner)
        seen = shown(self.amount.kind, state.value, self._desk.manner)
        self._telling = True
        try:
            least = math.ceil(state.least / step - 1e-6)
            most = math.floor(state.most / step + 1e-6)
            self.range.setRange(least, max(least, most))
            if not self.range.isSliderDown():
                self.range.setValue(round(state.value / step))
        finally:
            self._telling = False
        self.range.setAccessibleDescription(f"{seen} {unit}".strip())

    def _mark(self, state: AmountState) -> None:
        """Off its default: said by a mark, by the weight of the name and in words."""
        manner = self._desk.manner
        hers = state.given
        self.back.setVisible(hers)
        label = translate(self.amount.label, manner)
        self.name.setText(f"• {label}" if hers else label)
        if self.name.property("hers") != hers:
            self.name.setProperty("hers", hers)
            self.name.style().unpolish(self.name)
            self.name.style().polish(self.name)
        if self.line.wrong:
            return
        tell(self.said, "")
        self.line.setAccessibleDescription(self._described(state))

    def _described(self, state: AmountState) -> str:
        manner, kind = self._desk.manner, self.amount.kind
        unit = unit_shown(kind, manner)
        seen = {
            key: f"{shown(kind, value, manner)} {unit}".strip()
            for key, value in (
                ("default", state.default),
                ("least", state.least),
                ("most", state.most),
            )
        }
        words = say("field.described", seen, manner)
        return f"{translate(self.amount.help, manner)} {words}".strip()

    # Doing

    def _enter(self, text: str) -> None:
        self._set(text if text.strip() else None)

    def _restored(self) -> None:
        tell(self.said, "")
        self.say_again()

    def set_back(self) -> None:
        """The default again."""
        self._set(None)

    def step(self, steps: int) -> None:
        """So many steps up or down, within the range."""
        state = self._state
        if state is None:
            return
        kind, manner = self.amount.kind, self._desk.manner
        step = step_of(kind, manner)
        marks = state.value / step
        near = round(marks)
        if abs(marks - near) > 1e-6:
            near = math.floor(marks) + (0 if steps > 0 else 1)
        value = min(max((near + steps) * step, state.least), state.most)
        if abs(value - state.value) > 1e-9:
            self._set(stepped_text(kind, value, manner))

    def _set(self, text: str | None) -> None:
        desk = self._desk
        try:
            desk.set_amounts({self.amount.name: text})
        except SkirtwrightError as refused:
            self.line.refuse()
            problem, manner = refused.problem, desk.manner
            both = (says(problem, manner), remedy(problem, manner))
            words = " ".join(part for part in both if part)
            tell(self.said, words, "wrong")
            self.line.setAccessibleDescription(words)
            return
        state = desk.state(self.amount.name)
        if state is not None:
            self.show_state(state, settled=True)

    def _at_range(self) -> float:
        return self.range.value() * step_of(self.amount.kind, self._desk.manner)

    def _pulled(self) -> None:
        if self._telling or self._state is None:
            return
        if self.range.isSliderDown():
            self._desk.pull({self.amount.name: self._at_range()})
        else:
            self._take_range()

    def _take_range(self) -> None:
        text = stepped_text(self.amount.kind, self._at_range(), self._desk.manner)
        self._set(text)

    def _released(self) -> None:
        if self._telling:
            return
        state = self._desk.state(self.amount.name)
        step = step_of(self.amount.kind, self._desk.manner)
        if state is None or round(state.value / step) == self.range.value():
            self._desk.drop()
        else:
            self._take_range()

    def _dropped(self) -> None:
        state = self._desk.state(self.amount.name)
        self._telling = True
        self.range.setSliderDown(False)
        self._telling = False
        if state is not None:
            self._show_range(state)
        self._desk.drop()


def _is_sum(text: str) -> bool:
    """Whether an entry is a sum rather than one number with its unit."""
    return any(sign in text for sign in "*()+") or any(
        word.isidentifier() and len(word) > 3 for word in text.replace("/", " ").split()
    )


class ChoiceRow(QWidget):
    """One detail of the style."""

    def __init__(self, desk: Desk, choice: Choice) -> None:
        super().__init__()
        self.choice, self._desk = choice, desk
        self.name = QLabel()
        self.box = Choosing()
        self.name.setBuddy(self.box)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        column.addWidget(self.name)
        column.addWidget(self.box)
        self.said = sentence_label()
        column.addWidget(self.said)
        for option in choice.options:
            self.box.addItem("", option)
        self.box.activated.connect(self._choose)
        self.say_again()

    def say_again(self) -> None:
        """Names in her language."""
        manner = self._desk.manner
        label = translate(self.choice.label, manner)
        self.name.setText(label)
        self.box.setAccessibleName(label)
        self.box.setToolTip(translate(self.choice.help, manner))
        for index, words in enumerate(self.choice.options.values()):
            self.box.setItemText(index, translate(words, manner))

    def show_look(self, look: Look) -> None:
        """Show what is chosen; hidden where the detail has no meaning."""
        option = look.worked.stated.choices[self.choice.name]
        self.box.setCurrentIndex(list(self.choice.options).index(option))
        self.setVisible(look.worked.applies(self.choice))

    def _choose(self, index: int) -> None:
        desk, option = self._desk, list(self.choice.options)[index]
        try:
            desk.change(set_choice(desk.job, self.choice.name, option))
        except SkirtwrightError as refused:
            self.show_look(desk.look)
            tell(self.said, in_one_sentence(refused.problem, desk.manner), "wrong")
            return
        tell(self.said, "")
