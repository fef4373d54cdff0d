"""One measurement of the sheet, and what hangs on it."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from PySide6.QtWidgets import (
    QGridLayout,
    QLabel,
    QWidget,
)

from skirtwright.app.desk import Desk, with_unit
from skirtwright.app.fields import (
    NumberLine,
    sentence_label,
    shown,
    step_of,
    stepped_text,
    tell,
    unit_shown,
    unit_spoken,
)
from skirtwright.draft.draft import Draft
from skirtwright.job.edits import (
    set_measurement,
)
from skirtwright.measures.measurements import (
    Measurement,
    estimated,
    read_measurement,
)
from skirtwright.problems import BadInput, SkirtwrightError
from skirtwright.words import in_one_sentence, remedy, say, says, translate

_WALKING = ("height", "waist_to_floor_side", "thigh", "knee", "calf")
"""What the room to walk is worked from, beside what every style needs."""


class MeasurementRow(QWidget):
    """One measurement: its name, what the tape said, and what there is to say of it."""

    def __init__(self, desk: Desk, known: Measurement, needed: bool) -> None:
        super().__init__()
        self.known, self._desk, self._needed = known, desk, needed
        self._hangs: tuple[Draft, Hanging] | None = None
        self.name = QLabel()
        self.name.setWordWrap(True)
        self.line = NumberLine()
        self.name.setBuddy(self.line)
        self.unit = QLabel()
        self.unit.setProperty("role", "faint")
        self.said = sentence_label()
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(6)
        grid.setVerticalSpacing(2)
        grid.addWidget(self.name, 0, 0)
        grid.addWidget(self.line, 0, 1)
        grid.addWidget(self.unit, 0, 2)
        grid.addWidget(self.said, 1, 0, 1, 3)
        grid.setColumnStretch(0, 1)
        self.line.entered.connect(self._enter)
        self.line.restored.connect(self.refresh)
        self.line.set_back.connect(lambda: self._set(None))
        self.line.stepped.connect(self._step)

    @property
    def text(self) -> str | None:
        """What stands on the card, as typed."""
        return self._desk.job.card.measurements.get(self.known.name)

    def refresh(self) -> None:
        """Show what the card says now."""
        manner = self._desk.manner
        label = translate(self.known.label, manner)
        unit = unit_spoken("length", manner)
        self.name.setText(label)
        self.unit.setText(unit_shown("length", manner))
        self.line.setAccessibleName(
            say("field.name", {"label": label, "unit": unit}, manner)
        )
        self.line.setToolTip(translate(self.known.taken, manner))
        text = self.text
        if text is None:
            self._show_missing()
            return
        value = self._value(text)
        self.line.setPlaceholderText("")
        self.line.rest_at(text if value is None else shown("length", value, manner))
        if not self.line.wrong:
            tell(self.said, "")
            self._describe(translate(self.known.taken, manner))

    def _show_missing(self) -> None:
        """Not measured: grey, what it is taken to be, and what hangs on it."""
        desk, manner = self._desk, self._desk.manner
        self.line.rest_at("")
        guess = _estimates(desk.job.card.measurements, desk.job.card.unit).get(
            self.known.name
        )
        seen = "" if guess is None else shown("length", guess, manner)
        self.line.setPlaceholderText(seen)
        if self.line.wrong:
            return
        if self._needed:
            words = say("card.needed", manner=manner)
        else:
            hangs = self._hangs_on(desk.job.draft)
            said = [translate(label, manner) for label in hangs.labels]
            said += [say(f"card.{each}", manner=manner) for each in hangs.others]
            message = "card.estimated_hangs" if said else "card.estimated"
            words = say(message, {"hanging": said}, manner)
        tell(self.said, words)
        self._describe(words)

    def _hangs_on(self, draft: Draft) -> Hanging:
        if self._hangs is None or self._hangs[0] is not draft:
            self._hangs = (draft, hangs_on(draft, self.known.name))
        return self._hangs[1]

    def _describe(self, words: str) -> None:
        self.line.setAccessibleDescription(words)

    def _value(self, text: str) -> float | None:
        try:
            return read_measurement(self.known.name, text, self._desk.job.card.unit)
        except BadInput:
            return None

    def _enter(self, text: str) -> None:
        self._set(text if text.strip() else None)

    def _set(self, text: str | None) -> None:
        desk = self._desk
        if text is not None:
            text = with_unit(text, desk.manner.unit, desk.job.card.unit)
        try:
            desk.change(set_measurement(desk.job, self.known.name, text))
        except SkirtwrightError as refused:
            self.line.refuse()
            words = in_one_sentence(refused.problem, desk.manner)
            tell(self.said, _two(refused, self._desk), "wrong")
            self._describe(words)
            return
        self.refresh()

    def _step(self, steps: int) -> None:
        text = self.text
        value = self._value(text) if text is not None else None
        if value is None:
            return
        stepped = next_step(value, steps, "length", self._desk)
        self._set(stepped_text("length", stepped, self._desk.manner))


def _two(refused: SkirtwrightError, desk: Desk) -> str:
    """What is wrong and what would do, one after the other."""
    problem = refused.problem
    both = (says(problem, desk.manner), remedy(problem, desk.manner))
    return " ".join(words for words in both if words)


def next_step(value: float, steps: int, kind: str, desk: Desk) -> float:
    """The value so many steps on, on the marks of her tape."""
    step = step_of(kind, desk.manner)
    marks = value / step
    near = round(marks)
    if abs(marks - near) > 1e-6:
        near = int(marks // 1) + (0 if steps > 0 else 1)
    return (near + steps) * step


@dataclass(frozen=True)
class Hanging:
    """What hangs on a measurement: labels of amounts, and other things by word."""

    labels: tuple[str, ...]
    others: tuple[str, ...]


def hangs_on(draft: Draft, name: str) -> Hanging:
    """What of a draft leans on a measurement."""
    word = re.compile(rf"\b{re.escape(name)}\b")
    labels = tuple(
        amount.label
        for amount in draft.amounts
        if any(word.search(t) for t in (amount.default, amount.least, amount.most))
    )
    others = []
    if any(word.search(str(item.model_dump())) for item in draft.steps):
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
    return estimated(given)
