"""One measurement of the client, whole or left and right apart."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen, QResizeEvent
from PySide6.QtWidgets import (
    QLabel,
    QToolButton,
    QWidget,
)

from skirtwright.app.desk import Desk, with_unit
from skirtwright.app.fields import NumberLine, dress, sentence_label, tell
from skirtwright.app.guard import guarded
from skirtwright.app.layouts import in_grid, in_row
from skirtwright.app.look import colours_for
from skirtwright.app.shown_figures import (
    length_about,
    shown,
    step_of,
    stepped_text,
    unit_spoken,
)
from skirtwright.app.slips.question import Question
from skirtwright.draft.draft import Draft
from skirtwright.draft.halves.halving import both_sides
from skirtwright.job.edits import Edited, join_sides, part_sides, set_measurement
from skirtwright.measures.measurements import (
    SIDES,
    Measurement,
    estimated,
    known_measurement,
    read_measurement,
    too_far_apart,
)
from skirtwright.measures.units import next_mark
from skirtwright.problems import BadInput, SkirtwrightError
from skirtwright.remembered import Remembered
from skirtwright.words import Manner, in_two_sentences, say, translate

_WALKING = ("height", "waist_to_floor_side", "thigh", "knee", "calf")
"""What the room to walk is worked from, beside what every style needs."""

_LONGEST = "38 15/16"


class ApartSign(QToolButton):
    """Two half moons: apart when checked."""

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk = desk
        self.setCheckable(True)
        self.setProperty("moons", True)
        # Tab goes from figure to figure; keys have an action for this.
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setFixedSize(QSize(28, 32))

    @guarded()
    def paintEvent(self, event: QPaintEvent) -> None:
        colours = colours_for(self._desk.settings.theme)
        apart = self.isChecked()
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            held = apart or self.underMouse()
            colour = QColor(colours.accent if held else colours.field_line)
            painter.setPen(QPen(colour, 1.6))
            if apart:
                painter.setBrush(colour)
            gap, middle = (2.0 if apart else 1.0), QPointF(self.rect().center())
            for side in (-1, 1):
                x = middle.x() + side * gap
                box = QRectF(x - 8, middle.y() - 8, 16, 16)
                painter.drawChord(box, (90 if side < 0 else -90) * 16, 180 * 16)


class SideLine(NumberLine):
    """A line for one side of the body, its name inside it."""

    def __init__(self) -> None:
        super().__init__(longest="20 15/16")
        self.side = QLabel(self)
        self.side.setProperty("role", "faint")
        self.side.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)

    def say_side(self, words: str) -> None:
        """Left or right."""
        if words != self.side.text():
            self.side.setText(words)
            self._put_side()
            self.updateGeometry()

    def _put_side(self) -> None:
        """Its name at its start, where no figure comes."""
        self.side.resize(self.side.sizeHint())
        self.side.move(8, (self.height() - self.side.height()) // 2)
        self.setTextMargins(self.side.width(), 0, 0, 0)

    @guarded()
    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._put_side()

    @guarded(otherwise=lambda: QSize(88, 36))
    def sizeHint(self) -> QSize:
        hint = super().sizeHint()
        return QSize(hint.width() + self.side.sizeHint().width(), hint.height())


@dataclass(frozen=True)
class _Part:
    """A line, and the name of the measurement it is for."""

    name: str
    line: NumberLine


class MeasurementRow(QWidget):
    """One measurement: its name, what the tape said, and what there is to say of it."""

    def __init__(self, desk: Desk, known: Measurement) -> None:
        super().__init__()
        self.known, self._desk = known, desk
        self._hangs: tuple[Draft, Hanging] | None = None
        self._explained = False
        self.sign = ApartSign(desk)
        if known.sides is None:
            self.sign.hide()
        self.name = QLabel(wordWrap=True)
        self.line = NumberLine(longest=_LONGEST)
        self.left, self.right = SideLine(), SideLine()
        self.left.hide()
        self.right.hide()
        self.said = sentence_label()
        self.question = Question(desk, self.line, self.left, self.right)
        self._arrange()
        self._parts: tuple[_Part, ...] = (_Part(known.name, self.line),)
        sides = zip(SIDES, (self.left, self.right), strict=True)
        if known.sides is not None:
            self._parts += tuple(_Part(f"{known.name}_{s}", line) for s, line in sides)
        for part in self._parts:
            self._connect(part)
        self.sign.clicked.connect(self._part)
        self.question.answered.connect(self._answered)

    def _arrange(self) -> None:
        grid = in_grid(self, (0, 3, 0, 3), across=6, down=2)
        keep = self.sign.sizePolicy()
        keep.setRetainSizeWhenHidden(True)
        self.sign.setSizePolicy(keep)
        grid.addWidget(self.sign, 0, 0)
        grid.addWidget(self.name, 0, 1)
        grid.addWidget(self.line, 0, 2, Qt.AlignmentFlag.AlignRight)
        # Two figures have a line of their own, under the name.
        sides = in_row(1, self.left, self.right, spacing=6)
        grid.addLayout(sides, 1, 0, 1, 3)
        grid.addWidget(self.question, 2, 0, 1, 3)
        grid.addWidget(self.said, 3, 1, 1, 2)
        grid.setColumnStretch(1, 1)
        grid.setRowMinimumHeight(0, 38)
        self.name.setBuddy(self.line)

    def _connect(self, part: _Part) -> None:
        part.line.entered.connect(lambda text: self._enter(part, text))
        part.line.restored.connect(self.refresh)
        part.line.set_back.connect(lambda: self._set(part, None))
        part.line.stepped.connect(lambda steps: self._step(part, steps))

    # Showing

    @property
    def apart(self) -> bool:
        """True while left and right are taken apart."""
        return self.sign.isChecked()

    @property
    def lines(self) -> tuple[NumberLine, ...]:
        """The lines in sight."""
        return (self.left, self.right) if self.apart else (self.line,)

    @property
    def is_measured(self) -> bool:
        """True when the card has it, whole or a side of it."""
        card = self._desk.job.card.measurements
        return any(part.name in card for part in self._parts)

    @property
    def is_needed(self) -> bool:
        """True when the style cannot be drafted without it."""
        return self.known.name in self._desk.job.draft.measurements

    @property
    def is_used(self) -> bool:
        """False when nothing of the style leans on it."""
        hangs = self._hangs_on(self._desk.job.draft)
        return self.is_needed or bool(hangs.labels or hangs.others)

    def explain(self, on: bool) -> None:
        """Say under it what depends on it, while it is not measured."""
        self._explained = on
        self.refresh()
        tell(self.said, self.said.text(), self.said.property("role"))

    def _tell(self, words: str) -> None:
        """What there is to say; where it goes its room stays while she looks.

        No row moves while she types down the slip; the room goes with the slip.
        """
        is_wrong = self.said.property("role") == "wrong"
        if not words and self.said.isVisible() and not is_wrong:
            self.said.setMinimumHeight(self.said.height())
            self.said.clear()
            return
        self.said.setMinimumHeight(0)
        tell(self.said, words)

    def begin(self) -> None:
        """Another order: whole again, unless its card has the sides."""
        self.sign.setChecked(False)
        for part in self._parts:
            part.line.restore()
        self.refresh()

    def refresh(self) -> None:
        """Show what the card says now."""
        manner, card = self._desk.manner, self._desk.job.card.measurements
        if not any(part.line.isModified() for part in self._parts):
            sides = any(part.name in card for part in self._parts[1:])
            # Once parted it stays so until she joins it, though nothing is typed yet.
            self.sign.setChecked(sides or (self.apart and self.known.name not in card))
        pencil = not (self.is_measured or self.is_needed)
        self._look(pencil=pencil)
        label = translate(self.known.label, manner)
        self.name.setText(label)
        words = "card.together" if self.apart else "card.apart"
        self.sign.setAccessibleName(say(words, {"label": label}, manner))
        self.sign.setToolTip(self.sign.accessibleName())
        for side, line in zip(SIDES, (self.left, self.right), strict=True):
            line.say_side(say(f"card.{side}", manner=manner))
        for part in self._parts:
            part.line.setVisible(part.line in self.lines)
            self._show(part, manner, pencil=pencil)
        if not any(line.wrong or line.asking for line in self.lines):
            self._tell(self._sentence(manner))

    def _look(self, *, pencil: bool) -> None:
        dress(self.name, "role", "pencil" if pencil else "ink")
        for part in self._parts:
            dress(part.line, "guess", pencil)

    def _show(self, part: _Part, manner: Manner, *, pencil: bool) -> None:
        known, line = known_measurement(part.name), part.line
        unit = unit_spoken("length", manner)
        name = {"label": translate(known.label, manner), "unit": unit}
        line.setAccessibleName(say("field.name", name, manner))
        line.setToolTip(translate(known.taken, manner))
        text = self._desk.job.card.measurements.get(part.name)
        value = None if text is None else self._value(part.name, text)
        guess = self._guess(manner) if pencil else ""
        if line.placeholderText() != guess:
            line.setPlaceholderText(guess)
            line.updateGeometry()
        if text is None:
            line.rest_at("")
        else:
            line.rest_at(text if value is None else shown("length", value, manner))
        if not line.wrong and not line.asking:
            line.setAccessibleDescription(
                self._sentence(manner) or translate(known.taken, manner)
            )

    def _guess(self, manner: Manner) -> str:
        """What it is taken to be: whole centimetres, half inches."""
        card = self._desk.job.card
        guess = _estimates(card.measurements, card.unit).get(self.known.name)
        if guess is None:
            return ""
        step = 12.7 if manner.unit == "in" else 10.0
        figure = shown("length", round(guess / step) * step, manner)
        # Beside "left" and "right" there is no room for more than the figure.
        return figure if self.apart else say("card.about", {"figure": figure}, manner)

    def _sentence(self, manner: Manner) -> str:
        """What is to be said of it as things stand; mostly nothing."""
        if not self.is_measured:
            if self.is_needed:
                return say("card.needed", manner=manner)
            return self._depends(manner) if self._explained else ""
        desk = self._desk
        is_unused = self.known.name in (*desk.look.report.unused, *desk.unused)
        if self.apart:
            return say("card.sides_differ", manner=manner)
        if not desk.waits and is_unused:
            return say("card.unused", manner=manner)
        return ""

    def _depends(self, manner: Manner) -> str:
        hangs = self._hangs_on(self._desk.job.draft)
        said = [translate(label, manner) for label in hangs.labels]
        said += [say(f"card.{each}", manner=manner) for each in hangs.others]
        if not said:
            return say("card.decides_nothing", manner=manner)
        return say("card.decides", {"hanging": said}, manner)

    def _hangs_on(self, draft: Draft) -> Hanging:
        if self._hangs is None or self._hangs[0] is not draft:
            self._hangs = (draft, hangs_on(draft, self.known.name))
        return self._hangs[1]

    def _value(self, name: str, text: str) -> float | None:
        try:
            return read_measurement(name, text, self._desk.job.card.unit)
        except BadInput:
            return None

    # Doing

    def _part(self) -> None:
        """Taken for left and right, or as one again."""
        self.question.take_back()
        desk, name = self._desk, self.known.name
        parted = self.sign.isChecked()
        if parted or self.is_measured:
            change = part_sides if parted else join_sides
            self._change(change(desk.job, name))
        self.refresh()
        first = self.lines[0]
        first.setFocus(Qt.FocusReason.OtherFocusReason)
        first.selectAll()

    def _change(self, edited: Edited) -> None:
        try:
            self._desk.change(edited)
        except SkirtwrightError as refused:
            tell(
                self.said, in_two_sentences(refused.problem, self._desk.manner), "wrong"
            )

    def _enter(self, part: _Part, text: str) -> None:
        known, asked = known_measurement(part.name), self.question
        if asked.asks_unit(part.line, text, known.least, known.most):
            if self.said.property("role") == "wrong":
                tell(self.said, "")
            return
        odd = self._odd(part, text)
        if odd:
            asked.ask_again(part.line, text, odd)
        else:
            self._set(part, text if text.strip() else None)

    def _answered(self, line: NumberLine, text: str) -> None:
        self._set(next(part for part in self._parts if part.line is line), text)

    def _odd(self, part: _Part, text: str) -> str:
        """What to ask of a side that is far from the other; mostly nothing."""
        job, manner = self._desk.job, self._desk.manner
        others = [p.name for p in self._parts[1:] if p is not part]
        typed = with_unit(text, manner.unit, job.card.unit)
        here = self._value(part.name, typed)
        there = job.card.measurements.get(others[0]) if len(others) == 1 else None
        other = self._value(others[0], there) if there is not None else None
        if here is None or other is None or not too_far_apart(here, other):
            return ""
        figure = f"{length_about(abs(here - other), manner)} {manner.unit}"
        label = translate(self.known.label, manner)
        return say("card.far_apart", {"label": label, "figure": figure}, manner)

    def _set(self, part: _Part, text: str | None) -> None:
        desk = self._desk
        if text is not None:
            text = with_unit(text, desk.manner.unit, desk.job.card.unit)
        try:
            desk.change(set_measurement(desk.job, part.name, text))
        except SkirtwrightError as refused:
            part.line.refuse()
            words = in_two_sentences(refused.problem, desk.manner)
            tell(self.said, words, "wrong")
            part.line.setAccessibleDescription(words)
            return
        self.refresh()

    def _step(self, part: _Part, steps: int) -> None:
        text = self._desk.job.card.measurements.get(part.name)
        value = self._value(part.name, text) if text is not None else None
        if value is not None:
            step = step_of("length", self._desk.manner)
            stepped = next_mark(value, step, steps)
            self._set(part, stepped_text("length", stepped, self._desk.manner))


@dataclass(frozen=True)
class Hanging:
    """What depends on a measurement: labels of amounts, and other things by word."""

    labels: tuple[str, ...]
    others: tuple[str, ...]


def _words_of_steps(draft: Draft) -> frozenset[str]:
    written = " ".join(str(item.model_dump()) for item in draft.steps)
    return frozenset(re.findall(r"\w+", written))


_STEPS = Remembered(_words_of_steps)
"""One draft is asked for by every row of the slip."""


def hangs_on(draft: Draft, name: str) -> Hanging:
    """What of a draft leans on a measurement."""
    word = re.compile(rf"\b{re.escape(name)}\b")
    labels = tuple(
        amount.label
        for amount in draft.amounts
        if any(word.search(t) for t in (amount.default, amount.least, amount.most))
    )
    others = []
    if name in _STEPS.of("", draft):
        others.append("hangs_drawing")
    if draft.stride and name in _WALKING:
        others.append("hangs_walking")
    return Hanging(labels[:3], tuple(others))


def _estimates(typed: Mapping[str, str], unit: str) -> dict[str, float]:
    given = {}
    for name, text in typed.items():
        try:
            given[name] = read_measurement(name, text, "in" if unit == "in" else "cm")
        except BadInput:
            continue
    # What leans on a measurement of two sides leans on the middle of both.
    sides = both_sides(given).items()
    return estimated(given | {name: sum(both) / 2 for name, both in sides})
