"""What a draft is worked from: measurements, amounts and choices, stated as values."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from skirtwright.budget import spend
from skirtwright.draft.draft import KINDS, Amount, Draft, Group
from skirtwright.draft.fields import read_text
from skirtwright.draft.names import GIVEN, Names, StandingScope
from skirtwright.draft.step import Read, Reads
from skirtwright.measures.measurements import estimated, measurements
from skirtwright.measures.units import Unit
from skirtwright.measures.working_kinds import LENGTH
from skirtwright.problems import BadInput, NotFound, Problem, SkirtwrightError, nearest

_WORD = re.compile(r"\w+")

READS = {
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


def looked_at(draft: Draft) -> tuple[str, ...]:
    """The measurements a draft works with, needed or not, in the order of the card."""
    words = {word for text in _workings(draft) for word in _WORD.findall(text)}
    needed = set(draft.measurements)
    return tuple(name for name in measurements() if name in words | needed)


def _workings(draft: Draft) -> Iterator[str]:
    for amount in draft.amounts:
        yield from (amount.default, amount.least, amount.most, amount.when or "")
    yield from _step_workings(draft.steps)


def _step_workings(items: Iterable[Any]) -> Iterator[str]:
    for item in items:
        if isinstance(item, Group):
            yield from (item.when or "", item.repeat or "")
            if item.find is not None:
                yield from (str(text) for _, text in item.find)
            yield from _step_workings(item.steps)
        else:
            yield from (repr(getattr(item, field)) for field in item.reading())


@dataclass(frozen=True)
class _Worked:
    """An amount with what it was worked from.

    Attributes:
        typed: what she gave, if anything, in `unit`.
        leans: the names its workings lean on, each with its value then.
        value: the object that stands for it; the same for as long as it is equal.
        problems: what there was to say.
    """

    typed: str | float | None
    unit: Unit
    leans: Mapping[str, Any]
    state: AmountState
    value: float
    problems: tuple[Problem, ...]

    def holds_for(
        self, typed: str | float | None, unit: Unit, values: Mapping[str, Any]
    ) -> bool:
        """True when it would come out the same."""
        return (
            typed == self.typed
            and unit == self.unit
            and all(values.get(name) is value for name, value in self.leans.items())
        )


class Stating:
    """States inputs as values; a value that stays equal stays the same object."""

    def __init__(self) -> None:
        self._kept: dict[str, tuple[Any, bool]] = {}
        self._draft: Draft | None = None
        self._read: dict[tuple[str, str, Reads, Unit], Read] = {}
        self._looked_at: tuple[str, ...] | None = None
        self._amounts: dict[str, _Worked] = {}

    def state(self, draft: Draft, inputs: Inputs, names: Names) -> Stated:
        """The values of measurements, choices and amounts.

        Raises:
            BadInput, NotFound: an unknown name, a value that cannot be read, or a
                needed measurement that is missing.
        """
        if draft is not self._draft:
            self._draft, self._read, self._looked_at = draft, {}, None
            self._amounts = {}
        values: dict[str, Any] = {}
        problems: list[Problem] = []
        self._check_names(draft, inputs)
        estimated = self._measurements(draft, inputs, names, values)
        choices = self._choices(draft, inputs, names, values)
        scope = StandingScope(names, draft.unit)
        amounts = {}
        for amount in draft.amounts:
            done = self._amount(amount, inputs, scope, values)
            amounts[amount.name] = done.state
            problems.extend(done.problems)
        known = set(self._asked(draft))
        used = {n: v for n, v in values.items() if n in measurements()}
        unused = tuple(name for name in inputs.measurements if name not in known)
        return Stated(
            values, amounts, choices, used, estimated, unused, tuple(problems)
        )

    def _asked(self, draft: Draft) -> tuple[str, ...]:
        if self._looked_at is None:
            self._looked_at = looked_at(draft)
        return self._looked_at

    def _keep(self, name: str, value: Any, given: bool = False) -> Any:
        old = self._kept.get(name)
        if old is not None and old == (value, given):
            return old[0]
        # A fresh object tells whatever leans on it that something changed.
        fresh = float(str(value)) if isinstance(value, float) else value
        self._kept[name] = (fresh, given)
        return fresh

    def _check_names(self, draft: Draft, inputs: Inputs) -> None:
        for kind, given, known in (
            ("measurement", inputs.measurements, list(measurements())),
            ("amount", inputs.amounts, [a.name for a in draft.amounts]),
            ("choice", inputs.choices, [c.name for c in draft.choices]),
        ):
            for name in given:
                if name not in known:
                    raise NotFound(
                        f"draft.no_{kind}",
                        name,
                        name=name,
                        nearest=nearest(name, known),
                    )

    def _measurements(
        self, draft: Draft, inputs: Inputs, names: Names, values: dict[str, Any]
    ) -> tuple[str, ...]:
        given = {name: float(value) for name, value in inputs.measurements.items()}
        guessed = estimated(given)
        for name in draft.measurements:
            if name not in given and name not in guessed:
                known = measurements().get(name)
                label = known.label if known else name
                raise BadInput(
                    "draft.measurement_missing", name, label=label, name=name
                )
        for name, value in {**given, **guessed}.items():
            taken = name in given
            values[name] = self._keep(name, value, taken)
            values[GIVEN + name] = taken
            names.kinds[name] = LENGTH
        return tuple(guessed)

    def _choices(
        self, draft: Draft, inputs: Inputs, names: Names, values: dict[str, Any]
    ) -> dict[str, str]:
        made: dict[str, str] = {}
        for choice in draft.choices:
            option = inputs.choices.get(choice.name, choice.default)
            if option not in choice.options:
                raise NotFound(
                    "draft.no_option",
                    choice.name,
                    choice=choice.name,
                    option=option,
                    known=", ".join(choice.options),
                )
            names.kinds[choice.name] = None
            names.choices[choice.name] = tuple(choice.options)
            values[choice.name] = made[choice.name] = self._keep(choice.name, option)
        return made

    def _amount(
        self,
        amount: Amount,
        inputs: Inputs,
        scope: StandingScope,
        values: dict[str, Any],
    ) -> _Worked:
        """An amount as it stands; as it stood, where nothing it leans on changed."""
        spend("steps")
        name, typed = amount.name, inputs.amounts.get(amount.name)
        done = self._amounts.get(name)
        if done is None or not done.holds_for(typed, inputs.unit, values):
            problems: list[Problem] = []
            state = self._worked(amount, inputs, scope, values, problems)
            leans = {
                lean: values.get(lean)
                for key, read in self._read.items()
                if key[0] == name
                for lean in read.leans_on
            }
            value = self._keep(name, state.value, state.given)
            done = _Worked(typed, inputs.unit, leans, state, value, tuple(problems))
            self._amounts[name] = done
            scope.names.kinds[name] = KINDS[amount.kind]
        values[name] = done.value
        values[GIVEN + name] = done.state.given
        return done

    def _worked(
        self,
        amount: Amount,
        inputs: Inputs,
        scope: StandingScope,
        values: dict[str, Any],
        problems: list[Problem],
    ) -> AmountState:
        how = READS[amount.kind]

        def figure(text: str, how: Reads = how) -> float:
            return float(self._reading(amount.name, text, how, scope).work(values))

        default, least, most = map(figure, (amount.default, amount.least, amount.most))
        applies = amount.when is None or bool(figure(amount.when, Reads.WHETHER))
        typed = inputs.amounts.get(amount.name)
        value = default
        if typed is not None and applies:
            value = self._typed(amount, typed, inputs, scope, values)
            if not least - 1e-9 <= value <= most + 1e-9:
                problems.append(_out_of_range(amount, value, least, most))
        elif typed is not None:
            problems.append(
                Problem(
                    "draft.amount_not_used",
                    "note",
                    amount.name,
                    {"label": amount.label},
                )
            )
        given = typed is not None and applies
        return AmountState(amount, value, default, least, most, applies, given)

    def _reading(self, name: str, text: str, how: Reads, scope: StandingScope) -> Read:
        key = (name, text, how, scope.unit)
        if key not in self._read:
            self._read[key] = read_text(text, how, scope)[0]
        return self._read[key]

    def _typed(
        self,
        amount: Amount,
        typed: str | float,
        inputs: Inputs,
        scope: StandingScope,
        values: Mapping[str, Any],
    ) -> float:
        if isinstance(typed, str):
            here = StandingScope(scope.names, inputs.unit, scope.standing)
            try:
                read = self._reading(amount.name, typed, READS[amount.kind], here)
                value = float(read.work(values))
            except SkirtwrightError as error:
                error.problem = Problem(
                    error.problem.code,
                    "wrong",
                    amount.name,
                    {**error.problem.values, "label": amount.label},
                    stops=True,
                )
                raise
        else:
            value = float(typed)
        if abs(value) > MOST[amount.kind]:
            raise BadInput(
                f"draft.{_shown(amount)}_out_of_reach",
                amount.name,
                label=amount.label,
                most=MOST[amount.kind],
            )
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
