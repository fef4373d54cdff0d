"""Ease and style measures, and style details: what she may change of a style."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QLabel,
    QVBoxLayout,
    QWidget,
)

from skirtwright.app.desk import Desk
from skirtwright.app.fields import role_label, small_button
from skirtwright.app.layouts import in_column, in_row
from skirtwright.app.shown_figures import shown, unbroken, unit_shown
from skirtwright.app.slips.rows import AmountRow, ChoiceRow
from skirtwright.app.slips.slip import Fold, Slip, clear
from skirtwright.draft import styles
from skirtwright.draft.draft import Amount, Choice, Draft
from skirtwright.draft.inputs import AmountState
from skirtwright.job.worktable import Look
from skirtwright.words import Manner, say, translate

DETAILS = "details"
GROUPS = ("ease", "length", "flare", "waist", "finishing")


class ShapeSlip(Slip):
    """Six measures and the style details at first; the rest one fold away."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._draft: Draft | None = None
        self.amounts: dict[str, AmountRow] = {}
        self.choices: dict[str, ChoiceRow] = {}
        self.folds: dict[str, Fold] = {}
        self._more, self._details = QLabel(), QLabel()
        self.rows.setSpacing(2)
        # The scroll bar beside it is part of the margin: the names have room.
        self.rows.setContentsMargins(24, 18, 14, 18)
        self.changed = ChangedList(desk)
        self.changed.gone.connect(self.bring)

    def show_look(self, look: Look) -> None:
        """Show a look; one that is only being pulled moves what is pulled."""
        draft = look.job.draft
        if draft is not self._draft:
            self._lay_out(draft)
        settled = look is self.desk.look
        for name, row in self.amounts.items():
            state = look.worked.stated.amounts.get(name)
            if state is not None:
                row.show_state(state, settled=settled)
        if settled:
            for choice_row in self.choices.values():
                choice_row.show_look(look)
            self._show_folds(look)
            self.changed.show_look(look)

    def refresh(self) -> None:
        """Say everything again, in another manner."""
        manner = self.desk.manner
        self.head(say("amounts.title", manner=manner))
        self._details.setText(say("amounts.details", manner=manner))
        self._more.setText(say("amounts.more_amounts", manner=manner))
        for name, fold in self.folds.items():
            fold.button.setText(say(f"amounts.group.{name}", manner=manner))
        for row in self.amounts.values():
            row.say_again()
        for choice_row in self.choices.values():
            choice_row.say_again()

    def first_place(self) -> QWidget:
        """The first amount."""
        return next((row.line for row in self.amounts.values()), self)

    def bring_in_sight(self, names: Sequence[str]) -> None:
        """Have the rows of amounts in sight."""
        for name in names:
            if name in self.amounts:
                self.scrolled.ensureWidgetVisible(self.amounts[name])

    def row_of(self, name: str) -> AmountRow | None:
        """The row of a measure; its fold is opened for it."""
        amount = self._draft.amount(name) if self._draft else None
        if amount is None:
            return None
        if name not in self.amounts and amount.group in self.folds:
            self.folds[amount.group].unfold()
        return self.amounts.get(name)

    def bring(self, name: str) -> None:
        """Put the measure of that name in hand."""
        row = self.row_of(name)
        if row is not None and not row.isHidden():
            row.line.setFocus(Qt.FocusReason.ShortcutFocusReason)
            self.scrolled.ensureWidgetVisible(row)

    def row_in_hand(self) -> AmountRow | None:
        """The row that has the keyboard, or None."""
        for row in self.amounts.values():
            if row.line.hasFocus():
                return row
        return None

    def _lay_out(self, draft: Draft) -> None:
        self._draft = draft
        self.rows.removeWidget(self.changed)
        self.changed.setParent(None)
        clear(self.rows)
        self.amounts, self.choices, self.folds = {}, {}, {}
        for name in draft.first:
            amount = draft.amount(name)
            if amount is not None:
                self._add(self.rows, amount)
        self._more, self._details = role_label("subheading"), role_label("subheading")
        self._lay_out_choices(draft)
        self.rows.addWidget(self._more)
        for group in GROUPS:
            rest = [
                amount
                for amount in draft.amounts
                if amount.group == group and amount.name not in draft.first
            ]
            if rest:
                self._add_fold(group, rest)
        self.rows.addWidget(self.changed)
        self.rows.addStretch(1)
        self.refresh()

    def _lay_out_choices(self, draft: Draft) -> None:
        """How the skirt is made up stands in sight; how it is drafted, a fold away."""
        self.rows.addWidget(self._details)
        self._details.setVisible(bool(draft.choices))
        further = _further(draft)
        for choice in draft.choices:
            if choice not in further:
                self._add_choice(self.rows, choice)
        self._add_details(further)

    def _add(self, rows: QVBoxLayout, amount: Amount) -> None:
        row = AmountRow(self.desk, amount)
        self.amounts[amount.name] = row
        rows.addWidget(row)
        state = self.desk.state(amount.name)
        if state is not None:
            row.show_state(state, settled=True)

    def _add_choice(self, rows: QVBoxLayout, choice: Choice) -> None:
        row = ChoiceRow(self.desk, choice)
        self.choices[choice.name] = row
        rows.addWidget(row)
        row.show_look(self.desk.look)

    def _add_details(self, choices: list[Choice]) -> None:
        def fill(rows: QVBoxLayout) -> None:
            for choice in choices:
                self._add_choice(rows, choice)

        self.folds[DETAILS] = Fold("", fill, self.body)
        self.rows.addWidget(self.folds[DETAILS])

    def _add_fold(self, group: str, amounts: list[Amount]) -> None:
        def fill(rows: QVBoxLayout) -> None:
            for amount in amounts:
                self._add(rows, amount)

        fold = Fold("", fill, self.body)
        self.folds[group] = fold
        self.rows.addWidget(fold)

    def _show_folds(self, look: Look) -> None:
        """A fold with nothing to show in it is not shown."""
        applies = any(map(look.worked.applies, _further(look.job.draft)))
        self.folds[DETAILS].setVisible(applies)
        for group in GROUPS:
            fold = self.folds.get(group)
            if fold is None:
                continue
            applying = [
                name
                for name, state in look.worked.stated.amounts.items()
                if state.applies
                and state.amount.group == group
                and name not in look.job.draft.first
            ]
            fold.setVisible(bool(applying))
            manner, count = self.desk.manner, {"count": len(applying)}
            name = say(f"amounts.group.{group}", manner=manner)
            fold.button.setText(f"{name}  {say('amounts.how_many', count, manner)}")


def _further(draft: Draft) -> list[Choice]:
    """Details that depend on another detail, and are of the drafting alone."""
    made_up = styles.finishing_choices()
    return [c for c in draft.choices if c.when is not None and c.name not in made_up]


class ChangedList(QWidget):
    """What was changed for this client, each with a way back.

    Signals:
        gone: a measure was set back; its name.
    """

    gone = Signal(str)

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk = desk
        self._shown: tuple[object, ...] = ()
        self._rows = in_column(on=self, spacing=4, margins=(0, 6, 0, 0))
        self.names: list[str] = []

    def show_look(self, look: Look) -> None:
        """List the measures that are off their defaults, and the details."""
        manner = self._desk.manner
        states = [s for s in look.worked.stated.amounts.values() if s.given]
        shown_now = (
            manner,
            self._desk.job.card.name,
            tuple((s.amount.name, s.value, s.default) for s in states),
        )
        if shown_now == self._shown:
            return
        self._shown = shown_now
        self.names = [state.amount.name for state in states]
        clear(self._rows)
        if not states:
            return
        client = self._desk.job.card.name
        message = "amounts.changed_for" if client else "amounts.changed"
        heading = QLabel(say(message, {"client": client}, manner))
        heading.setProperty("role", "subheading")
        heading.setWordWrap(True)
        self._rows.addWidget(heading)
        for state in states:
            self._rows.addWidget(self._entry(state, manner))

    def _entry(self, state: AmountState, manner: Manner) -> QWidget:
        entry = QWidget()
        row = in_row(on=entry)
        amount = state.amount
        told, (value, default) = amount.told(state.value, state.default)
        label = translate(told, manner)
        unit = unit_shown(amount.kind, manner)

        def seen(value: float) -> str:
            return f"{shown(amount.kind, value, manner)} {unit}".strip()

        words = say(
            "amounts.changed_entry",
            {
                "label": label,
                "value": seen(value),
                "default": seen(default),
            },
            manner,
        )
        said = QLabel(unbroken(words), wordWrap=True)
        button = small_button("↺", say("amounts.set_back", {"label": label}, manner))
        button.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        button.clicked.connect(lambda: self._back(amount.name))
        row.addWidget(said, 1)
        row.addWidget(button)
        return entry

    def _back(self, name: str) -> None:
        self._desk.set_amounts({name: None})
        self.gone.emit(name)
