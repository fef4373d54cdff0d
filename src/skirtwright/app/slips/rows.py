"""One row of the shape: an amount with its minus and plus, or a detail to choose."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QLabel, QToolButton, QWidget

from skirtwright.app.desk import Desk
from skirtwright.app.fields import (
    Choosing,
    NumberLine,
    dress,
    role_label,
    sentence_label,
    small_button,
    tell,
)
from skirtwright.app.guard import guarded
from skirtwright.app.layouts import in_grid
from skirtwright.app.offered_lengths import working_named
from skirtwright.app.shown_figures import (
    shown,
    step_of,
    stepped_text,
    unit_shown,
    unit_spoken,
)
from skirtwright.app.slips.named_length_row import NamedLengthRow
from skirtwright.app.slips.question import Question
from skirtwright.draft.draft import Amount, Choice
from skirtwright.draft.inputs import AmountState
from skirtwright.job.edits import set_choice
from skirtwright.job.job import Job
from skirtwright.job.worktable import Look
from skirtwright.measures.named_lengths import is_named, lengths_with_names
from skirtwright.measures.units import next_mark
from skirtwright.problems import SkirtwrightError
from skirtwright.words import in_one_sentence, in_two_sentences, say, translate

_BESIDE = 6
"""Between a detail and what is chosen, px."""


class AmountRow(QWidget):
    """One amount of the style."""

    def __init__(self, desk: Desk, amount: Amount) -> None:
        super().__init__()
        self.amount, self._desk = amount, desk
        self._state: AmountState | None = None
        self._held: float | None = None
        self._refused_for: Job | None = None
        self.name = QLabel(wordWrap=True)
        self.less, self.more = small_button("−", ""), small_button("+", "")
        self.line = NumberLine(longest="37 3/8", rim=13)
        self.line.setProperty("flat", True)
        self.name.setBuddy(self.line)
        self.unit = role_label("faint")
        self.unit.setMinimumWidth(22)
        self.said = sentence_label()
        self.question = Question(desk, self.line)
        self.named: NamedLengthRow | None = None
        if amount.name in lengths_with_names():
            self.named = NamedLengthRow(desk, amount.label)
            self.named.chosen.connect(self._set)
        self._arrange()
        self.line.entered.connect(self._enter)
        self.line.restored.connect(self._restored)
        self.line.stepped.connect(self.step)
        self.line.set_back.connect(self.set_back)
        for there in (self.line.came, self.line.left):
            there.connect(self._say_which_way)
        self.question.answered.connect(lambda _, text: self._set(text))
        for button, way in ((self.less, -1), (self.more, 1)):
            button.setAutoRepeat(True)
            button.clicked.connect(partial(self._press, button, way))
        self.say_again()

    def _arrange(self) -> None:
        grid = in_grid(self, (0, 4, 0, 4), across=0, down=2)
        for column, widget in enumerate(
            (self.name, self.less, self.line, self.unit, self.more)
        ):
            grid.addWidget(widget, 0, column, Qt.AlignmentFlag.AlignVCenter)
        for row, below in enumerate((self.named, self.question, self.said), 1):
            if below is not None:
                grid.addWidget(below, row, 0, 1, 5)
        grid.setColumnStretch(0, 1)

    # Showing

    def say_again(self) -> None:
        """Labels and names in her manner."""
        amount, manner = self.amount, self._desk.manner
        label = translate(amount.label, manner)
        unit = unit_spoken(amount.kind, manner)
        self._say_which_way()
        self.unit.setText(unit_shown(amount.kind, manner))
        name = "field.name" if unit else "field.name_plain"
        self.line.setAccessibleName(say(name, {"label": label, "unit": unit}, manner))
        for button, words in ((self.less, "less"), (self.more, "more")):
            said = say(f"amounts.{words}", {"label": label}, manner)
            button.setToolTip(said)
            button.setAccessibleName(said)
        help_text = translate(amount.help, manner)
        for widget in (self.name, self.line):
            widget.setToolTip(help_text)
        if self._state is not None:
            self.show_state(self._state, settled=True)

    def _say_which_way(self) -> None:
        """Its name: what lowers by less than nothing raises, but is typed signed."""
        value = self._state.value if self._state and not self.line.hasFocus() else 0.0
        label, _ = self.amount.told(value)
        self.name.setText(translate(label, self._desk.manner))

    def show_state(self, state: AmountState, *, settled: bool) -> None:
        """Show the amount as it stands; not settled while something is pulled."""
        if not settled and state == self._state:
            return
        before, self._state = self._state, state
        self.setVisible(state.applies)
        manner, kind = self._desk.manner, self.amount.kind
        _, (told,) = self.amount.told(state.value)
        self._say_which_way()
        seen = shown(kind, told, manner)
        moved = not settled and before is not None and before.value != state.value
        self._mark("moving", moved)
        if not settled:
            if not self.line.hasFocus() or self._held is not None:
                value = state.value if self.line.hasFocus() else told
                self.line.setText(shown(kind, value, manner))
            return
        typed = self._desk.job.amounts.get(self.amount.name, "")
        by_name = self.named is not None and is_named(typed)
        signed = shown(kind, state.value, manner) if told != state.value else ""
        self.line.rest_at(seen, typed if _is_sum(typed) and not by_name else signed)
        if self.named is not None:
            self.named.show_state(state)
        if self.line.wrong and self._desk.job is not self._refused_for:
            self._refused_for = self._desk.job
            if self._desk.accepts_amount(
                self.amount.name, self._read(self.line.text())
            ):
                self.line.restore()
        self._mark("stated", state.given)
        if not self.line.wrong and not self.line.asking:
            tell(self.said, "")
            self.line.setAccessibleDescription(self._described(state))

    def _mark(self, what: str, on: bool) -> None:
        """Set by her: bold. Following the hand: the accent."""
        for widget in (self.line, self.name):
            dress(widget, what, on)

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
        state = self._state
        if self.named is not None:
            text = working_named(text, self._desk.manner) or text
        if self.amount.kind == "length" and state is not None:
            # From nothing on: what is small in one unit is not large in the other.
            least = max(state.least, 0.0)
            if self.question.asks_unit(self.line, text, least, state.most):
                return
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
        if state is not None:
            self._take(self._stepped(state, state.value, steps))

    def _stepped(self, state: AmountState, value: float, steps: int) -> float:
        step = step_of(self.amount.kind, self._desk.manner)
        return min(max(next_mark(value, step, steps), state.least), state.most)

    def _take(self, value: float) -> None:
        state = self._desk.state(self.amount.name)
        if state is not None and abs(value - state.value) > 1e-9:
            self._set(stepped_text(self.amount.kind, value, self._desk.manner))

    def _press(self, button: QToolButton, way: int) -> None:
        """A click is a step; held down the skirt follows, and it is one step too."""
        state = self._desk.state(self.amount.name)
        if state is None:
            return
        before = state.value if self._held is None else self._held
        self._held = self._stepped(state, before, way)
        if button.isDown():
            self._desk.pull({self.amount.name: self._held})
            return
        value, self._held = self._held, None
        self._take(value)

    def _read(self, text: str) -> str:
        return _share(text) if self.amount.kind == "ratio" else text

    def _set(self, text: str | None) -> None:
        desk = self._desk
        if text is not None:
            text = self._read(text)
        try:
            desk.set_amounts({self.amount.name: text})
        except SkirtwrightError as refused:
            self.line.refuse()
            self._refused_for = desk.job
            problem, manner = refused.problem, desk.manner
            words = in_two_sentences(problem, manner)
            tell(self.said, words, "wrong")
            self.line.setAccessibleDescription(words)
            return
        state = desk.state(self.amount.name)
        if state is not None:
            self.show_state(state, settled=True)


def _share(text: str) -> str:
    """Per cent as the share it is; a share up to 1 as she wrote it."""
    bare = text.strip().removesuffix("%").strip()
    try:
        value = float(bare.replace(",", "."))
    except ValueError:
        return text
    is_share = "%" not in text and value <= 1
    return bare if is_share else f"{value / 100:g}"


def _is_sum(text: str) -> bool:
    """Whether an entry is a sum rather than one number with its unit."""
    return any(sign in text for sign in "*()+") or any(
        word.isidentifier() and len(word) > 3 for word in text.replace("/", " ").split()
    )


class ChoiceRow(QWidget):
    """One detail of the style: its name, and what is chosen."""

    def __init__(self, desk: Desk, choice: Choice) -> None:
        super().__init__()
        self.choice, self._desk = choice, desk
        self.name = QLabel(wordWrap=True)
        self.box = Choosing(at_right=True)
        self.box.setProperty("flat", True)
        self.name.setBuddy(self.box)
        self.said = sentence_label()
        grid = in_grid(self, (0, 3, 0, 3), across=_BESIDE, down=0)
        grid.addWidget(self.name, 0, 0)
        grid.addWidget(self.box, 0, 1)
        grid.addWidget(self.said, 1, 0, 1, 2)
        # The name takes what it needs, the option what is left, up to the same edge.
        grid.setColumnStretch(1, 1)
        self.box.activated.connect(self._choose)
        self.say_again()

    def say_again(self) -> None:
        """Names in her language."""
        manner = self._desk.manner
        label = translate(self.choice.label, manner)
        self.name.setText(label)
        self.box.setAccessibleName(label)
        self.box.setToolTip(translate(self.choice.help, manner))
        options = self.choice.options
        self.box.fill([translate(words, manner) for words in options.values()], options)

    def show_look(self, look: Look) -> None:
        """Show what is chosen; hidden where the detail has no meaning."""
        option = look.worked.stated.choices[self.choice.name]
        self.box.setCurrentIndex(list(self.choice.options).index(option))
        self.setVisible(look.worked.applies(self.choice))
        self._share()

    def _share(self) -> None:
        """Both on one line where they have room there, else the name on two."""
        wide = self.name.fontMetrics().horizontalAdvance(self.name.text()) + 2
        room = max(self.width() - self.box.wanted() - _BESIDE, self.width() * 2 // 5)
        self.name.setMinimumWidth(wide if wide <= room else 0)
        self.name.setMaximumWidth(room)

    @guarded()
    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._share()

    def _choose(self, index: int) -> None:
        desk, option = self._desk, list(self.choice.options)[index]
        try:
            desk.change(set_choice(desk.job, self.choice.name, option))
        except SkirtwrightError as refused:
            self.show_look(desk.look)
            tell(self.said, in_one_sentence(refused.problem, desk.manner), "wrong")
            return
        tell(self.said, "")
