"""What a draft is worked from: measurements, amounts and choices, stated as values."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import Any, Final

from skirtwright.budget import spend
from skirtwright.draft.draft import (
    KINDS,
    WORKINGS,
    Amount,
    Draft,
    all_groups,
    all_steps,
)
from skirtwright.draft.names import GIVEN, Names, StandingScope
from skirtwright.draft.step import LaterStep, Read, Reads, Step
from skirtwright.draft.step_fields import read_text
from skirtwright.measures.measurements import estimated, measurements
from skirtwright.measures.units import Unit
from skirtwright.measures.working_kinds import LENGTH
from skirtwright.problems import (
    BadInput,
    NotFound,
    Problem,
    SkirtwrightError,
    nearest,
    told_of,
)
from skirtwright.remembered import Remembered

_WORD: Final = re.compile(r"\w+")

READS: Final = {
    "length": Reads.LENGTH,
    "ratio": Reads.RATIO,
    "count": Reads.RATIO,
    "angle": Reads.DEGREES,
}


MOST = {"length": 5000.0, "ratio": 1000.0, "count": 1000.0, "angle": 3600.0}
"""mm, plain or degrees; beyond these it is a slip, and geometry is not asked."""


@dataclass(frozen=True)
class Inputs:
    """What a person gives.

    Attributes:
        measurements: each in mm.
        amounts: as typed, a working; or a number in mm, degrees or plain.
        choices: the option of each choice that was made.
        unit: the unit of a bare number in a typed amount.
    """

    measurements: Mapping[str, float] = field(default_factory=dict)
    amounts: Mapping[str, str | float] = field(default_factory=dict)
    choices: Mapping[str, str] = field(default_factory=dict)
    unit: Unit = "cm"


@dataclass(frozen=True)
class AmountState:
    """An amount as it stands: mm, degrees or a plain number.

    Attributes:
        applies: False when its `when` does not hold; it is then not shown.
        given: she set it herself and it applies.
    """

    amount: Amount
    value: float
    default: float
    least: float
    most: float
    applies: bool
    given: bool


def looked_at(draft: Draft) -> tuple[str, ...]:
    """The measurements a draft works with, needed or not, in the order of the card."""
    # All at once: it is looked through whole for every draft that is first worked.
    words = set(_WORD.findall(" ".join(_workings(draft))))
    later = [step for step in all_steps(draft.steps) if isinstance(step, LaterStep)]
    like = {id(step.like): step.like for step in later}
    texts = (text for step in like.values() for text in step.texts())
    other = set(_WORD.findall(" ".join(texts)))
    words |= other.difference(*(step.own for step in later[:1]))
    needed = set(draft.measurements)
    return tuple(name for name in measurements() if name in words | needed)


def _workings(draft: Draft) -> Iterator[str]:
    for amount in draft.amounts:
        workings = (amount.default, amount.least, amount.most, amount.when or "")
        yield from (*amount.where.values(), *workings)
    for _, group in all_groups(draft.steps):
        yield from (group.when or "", group.repeat or "")
        if group.find is not None:
            yield from (str(text) for _, text in group.find)
    for step in all_steps(draft.steps):
        if isinstance(step, Step):
            yield from step.texts()


@dataclass(frozen=True, eq=False)
class BoundAmount:
    """An amount whose workings are bound to the names above it.

    Attributes:
        leans_on: every name its workings need, each once.
        above: the names a working typed for it may use.
        below: the labels of the amounts that it may not use, it among them.
    """

    amount: Amount
    default: Read
    least: Read
    most: Read
    when: Read | None
    leans_on: tuple[str, ...]
    above: Names
    below: Mapping[str, str]


@dataclass(frozen=True, eq=False)
class BoundInputs:
    """What may be given to a draft, bound.

    Attributes:
        names: of measurements, choices and amounts.
        asked: the measurements the draft works with.
    """

    names: Names
    amounts: tuple[BoundAmount, ...]
    asked: frozenset[str]


@dataclass(frozen=True)
class Stated:
    """Everything a draft is worked from, as values of names."""

    values: Mapping[str, Any]
    amounts: Mapping[str, AmountState]
    choices: Mapping[str, str]
    measurements: Mapping[str, float]
    estimated: tuple[str, ...]
    unused: tuple[str, ...]
    problems: tuple[Problem, ...]
    names: Names


class Stating:
    """States inputs as values."""

    def __init__(self) -> None:
        self._bound = Remembered(_bind)
        self._typed = Remembered(_read_typed)
        self._amounts = Remembered(_amount)

    def state(self, draft: Draft, inputs: Inputs) -> Stated:
        """The values of measurements, choices and amounts.

        Raises:
            BadInput, NotFound: an unknown name, a value that cannot be read, or a
                needed measurement that is missing.
        """
        for kept in (self._bound, self._typed, self._amounts):
            kept.next_round()
        _check_names(draft, inputs)
        given = {name: float(value) for name, value in inputs.measurements.items()}
        guessed = _estimated(draft, given)
        body, choices = {**given, **guessed}, _choices(draft, inputs)
        bound = self._bound.of("", draft, tuple(body))
        values: dict[str, Any] = {**body, **choices}
        values |= {GIVEN + name: name in given for name in body}
        amounts = {}
        problems: list[Problem] = []
        for each in bound.amounts:
            name = each.amount.name
            state, said = self._amount(each, inputs, values)
            amounts[name] = state
            values[name], values[GIVEN + name] = state.value, state.given
            problems.extend(said)
        used = {n: v for n, v in values.items() if n in measurements()}
        unused = tuple(name for name in given if name not in bound.asked)
        return Stated(
            values,
            amounts,
            choices,
            used,
            tuple(guessed),
            unused,
            tuple(problems),
            bound.names,
        )

    def _amount(
        self, bound: BoundAmount, inputs: Inputs, values: Mapping[str, Any]
    ) -> tuple[AmountState, tuple[Problem, ...]]:
        spend("steps")
        name = bound.amount.name
        typed: Any = inputs.amounts.get(name)
        leans_on = bound.leans_on
        if isinstance(typed, str):
            typed = self._typed.of(name, bound, typed, inputs.unit)
            leans_on += typed.leans_on if isinstance(typed, Read) else ()
        return self._amounts.of(name, bound, typed, *map(values.get, leans_on))


def _check_names(draft: Draft, inputs: Inputs) -> None:
    for kind, given, known in (
        ("measurement", inputs.measurements, list(measurements())),
        ("amount", inputs.amounts, [a.name for a in draft.amounts]),
        ("choice", inputs.choices, [c.name for c in draft.choices]),
    ):
        for name in given:
            if name not in known:
                values = {"name": name, "nearest": nearest(name, known)}
                raise NotFound(f"draft.no_{kind}", name, **values)


def _estimated(draft: Draft, given: Mapping[str, float]) -> dict[str, float]:
    """What can be guessed of what was not taken; all that is needed must be there."""
    guessed = estimated(given)
    for name in draft.measurements:
        if name not in given and name not in guessed:
            known = measurements().get(name)
            label = known.label if known else name
            raise BadInput("draft.measurement_missing", name, label=label, name=name)
    return guessed


def _choices(draft: Draft, inputs: Inputs) -> dict[str, str]:
    made: dict[str, str] = {}
    for choice in draft.choices:
        option = inputs.choices.get(choice.name, choice.default)
        if option not in choice.options:
            raise NotFound(
                "draft.no_option",
                choice.name,
                choice=choice.label,
                option=option,
                known=", ".join(choice.options),
            )
        made[choice.name] = option
    return made


def _bind(draft: Draft, measured: tuple[str, ...]) -> BoundInputs:
    """The amounts of a draft for someone of whom so much is known."""
    names = Names(dict.fromkeys(measured, LENGTH))
    for choice in draft.choices:
        names.kinds[choice.name] = None
        names.choices[choice.name] = tuple(choice.options)
    amounts = []
    below = {amount.name: amount.label for amount in draft.amounts}
    for amount in draft.amounts:
        scope = StandingScope(names.copy(), draft.unit)
        amounts.append(_bind_amount(amount, scope, dict(below)))
        del below[amount.name]
        names.kinds[amount.name] = KINDS[amount.kind]
    return BoundInputs(names, tuple(amounts), frozenset(looked_at(draft)))


def _bind_amount(
    amount: Amount, scope: StandingScope, below: Mapping[str, str]
) -> BoundAmount:
    how = READS[amount.kind]
    default, least, most = (
        read_text(text, how, scope)[0]
        for text in (amount.working(which) for which in WORKINGS)
    )
    when = read_text(amount.when, Reads.WHETHER, scope)[0] if amount.when else None
    reads = (default, least, most, *((when,) if when else ()))
    leans_on = tuple(dict.fromkeys(name for read in reads for name in read.leans_on))
    reads = (default, least, most, when)
    return BoundAmount(amount, *reads, leans_on, scope.names, below)


def _read_typed(bound: BoundAmount, text: str, unit: Unit) -> Read | Problem:
    """A working typed for an amount; or why it cannot be read."""
    scope = StandingScope(bound.above, unit)
    try:
        return read_text(text, READS[bound.amount.kind], scope)[0]
    except SkirtwrightError as error:
        if error.problem.code == "draft.no_name":
            label = bound.below.get(error.problem.values["name"])
            if label is not None:
                return Problem("draft.amount_below", values={"below": label})
        return error.problem


def _amount(
    bound: BoundAmount, typed: Read | Problem | float | None, *leans: Any
) -> tuple[AmountState, tuple[Problem, ...]]:
    """An amount as it stands, and what is to be said of it.

    Args:
        typed: what was given for it, if anything.
        leans: the values of the names that it, then `typed`, leans on.
    """
    amount = bound.amount
    names = bound.leans_on + (typed.leans_on if isinstance(typed, Read) else ())
    values = dict(zip(names, leans, strict=True))
    default, least, most = (
        float(read.work(values)) for read in (bound.default, bound.least, bound.most)
    )
    applies = bound.when is None or bool(bound.when.work(values))
    given = typed is not None and applies
    value = default if typed is None or not applies else _given(amount, typed, values)
    problems: list[Problem] = []
    if given and not least - 1e-9 <= value <= most + 1e-9:
        problems.append(_out_of_range(amount, value, least, most))
    elif typed is not None and not applies:
        label = {"label": amount.label}
        problems.append(Problem("draft.amount_not_used", "note", amount.name, label))
    state = AmountState(amount, value, default, least, most, applies, given)
    return state, tuple(problems)


def _given(
    amount: Amount, typed: Read | Problem | float, values: Mapping[str, Any]
) -> float:
    """The value of an amount that was given.

    Raises:
        SkirtwrightError: it cannot be read, or no skirt has it.
    """
    try:
        if isinstance(typed, Problem):
            raise BadInput.of(typed)
        value = float(typed.work(values) if isinstance(typed, Read) else typed)
    except SkirtwrightError as error:
        problem = told_of(error, amount.label).problem
        named = replace(problem, where=amount.name, stops=True)
        raise BadInput.of(named) from error
    if abs(value) > MOST[amount.kind]:
        most = MOST[amount.kind]
        code = f"draft.{_shown(amount)}_out_of_reach"
        raise BadInput(code, amount.name, label=amount.label, most=most)
    if value < 0 and (amount.kind == "count" or amount.group == "length"):
        raise BadInput("draft.amount_negative", amount.name, label=amount.label)
    if amount.kind == "count" and abs(value - round(value)) > 1e-9:
        raise BadInput(
            "draft.amount_not_whole", amount.name, label=amount.label, value=value
        )
    return value


def _shown(amount: Amount) -> str:
    """How its sentences show an amount."""
    return amount.kind if amount.kind in ("length", "angle") else "number"


def _out_of_range(amount: Amount, value: float, least: float, most: float) -> Problem:
    return Problem(
        f"draft.{_shown(amount)}_out_of_range",
        "note",
        amount.name,
        {"label": amount.label, "value": value, "least": least, "most": most},
    )
