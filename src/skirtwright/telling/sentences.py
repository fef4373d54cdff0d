"""The draft in sentences: each step as she would say it, and the chain to the tape."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from skirtwright.draft.kinds.numbers import Number
from skirtwright.draft.step import Reads
from skirtwright.draft.working.recompute import Worked
from skirtwright.draft.working.replay import Moment
from skirtwright.draft.working.tracing import trace
from skirtwright.measures import working_trees as trees
from skirtwright.measures.measurements import measurements
from skirtwright.measures.records import fields_of
from skirtwright.measures.working_kinds import ANGLE, LENGTH
from skirtwright.telling.names_in_words import (
    SMALLEST,
    edge_words,
    line_words,
    place_words,
    plain,
)
from skirtwright.telling.sums import Summing
from skirtwright.telling.tellers import TELLERS, changed

_SHOWN = {LENGTH: "_length", ANGLE: "_angle"}
_EDGES = frozenset({"edge", "to", "across", "fold", "stays", "holds"})
_FIGURES = frozenset({Reads.LENGTH, Reads.RATIO, Reads.DEGREES, Reads.FIGURE})


@dataclass(frozen=True)
class Sentence:
    """One sentence: a message id and the values it names.

    Attributes:
        path: the step it says, or the name of a measurement or amount.
    """

    path: str
    message: str
    values: Mapping[str, Any]

    @property
    def has_effect(self) -> bool:
        """False for a number that is nothing here, and for what changes no line."""
        is_nothing = abs(self.values.get("result", 1.0)) < SMALLEST
        return not is_nothing and self.message != "step.nothing"


def steps_told(worked: Worked) -> tuple[Sentence, ...]:
    """What is drawn, in order, and of the numbers those that a drawn step takes."""
    moments = worked.replay
    waiting = [
        path
        for path, moment in moments.items()
        if not isinstance(moment.after, float) and changed(moment)
    ]
    told = set(waiting)
    while waiting:
        for path in moments[waiting.pop()].reads.values():
            if path not in told and isinstance(moments[path].after, float):
                told.add(path)
                waiting.append(path)
    said = (sentence(worked, path) for path in moments if path in told)
    return tuple(one for one in said if one.has_effect)


def sentence(worked: Worked, path: str) -> Sentence:
    """The sentence of the step at a path, with its numbers as they stood there."""
    moment = worked.replay.get(path)
    if moment is None:
        return _not_drawn(worked, path)
    step = moment.step
    values = _fields(moment)
    message = f"step.{step.kind}"
    if isinstance(moment.after, float):
        return _figure(worked, moment, values)
    if not changed(moment):
        return Sentence(path, "step.nothing", values)
    if step.kind in TELLERS:
        more, told = TELLERS[step.kind](moment)
        values.update(told)
        message += more
    return Sentence(path, message, values)


def _not_drawn(worked: Worked, path: str) -> Sentence:
    """A check, or a step that is not drawn at these numbers."""
    bound = worked.step(path)
    name = plain(path.rpartition("/")[2])
    kind = bound.step.kind if bound is not None else ""
    message = "step.check" if kind == "check" else "step.unknown"
    return Sentence(path, message, {"name": name})


def _fields(moment: Moment) -> dict[str, Any]:
    """The fields of a step: figures as numbers, names as a person reads them."""
    step = moment.step
    values: dict[str, Any] = {"name": plain(step.step)}
    reading = type(step).reading()
    for field in fields_of(type(step)):
        if field in ("step", "kind"):
            continue
        raw = getattr(step, field)
        values[f"{field}_working"] = values[field] = _text(raw)
        if field in _EDGES and isinstance(raw, str):
            values[field] = edge_words(raw)
        if reading.get(field) in _FIGURES and isinstance(raw, str):
            values[field] = moment.fields[field]
    return values


def _figure(worked: Worked, moment: Moment, values: dict[str, Any]) -> Sentence:
    """A number: its sum as it comes out here, and the number itself."""
    values["result"] = moment.after
    kind = moment.bound.kind
    shown = _SHOWN.get(kind, "_number") if kind is not None else "_length"
    message = f"step.{moment.step.kind}"
    if isinstance(moment.step, Number):
        summing = Summing(worked, worked.replay)
        tree = summing.short(moment.step.value, moment)
        if isinstance(tree, trees.Number):
            return Sentence(moment.path, f"making.{message}{shown}", values)
        values["value_working"] = summing.said(tree, moment)
    else:
        values.update(_read_off(moment))
    return Sentence(moment.path, message + (shown if kind is not None else ""), values)


def _read_off(moment: Moment) -> dict[str, Any]:
    """What a number that is read off the paper is read from."""
    told: dict[str, Any] = {}
    for field, how in type(moment.step).reading().items():
        text = getattr(moment.step, field)
        if how is Reads.PLACE:
            told[field] = place_words(text, moment.seen, moment.fields.get(field))
        elif how is Reads.LINE:
            told[field] = line_words(text, moment.seen)
    return told


def _text(raw: Any) -> str:
    if isinstance(raw, dict):
        return ", ".join(f"{plain(key)}: {_text(item)}" for key, item in raw.items())
    if isinstance(raw, list | tuple):
        return ", ".join(_text(item) for item in raw)
    return plain(str(raw))


def why(worked: Worked, text: str) -> tuple[Sentence, ...]:
    """The chain behind a place, a line or a number: from the tape down to it.

    Raises:
        SkirtwrightError: nothing in the draft has that name.
    """
    chain = trace(worked, text)
    said = [_stated(worked, name) for name in chain.stated]
    said.extend(sentence(worked, path) for path in chain.paths)
    return tuple(said)


def _stated(worked: Worked, name: str) -> Sentence:
    state = worked.stated.amounts.get(name)
    if state is not None:
        message = "why.amount_given" if state.given else "why.amount_default"
        kind = state.amount.kind
        suffix = kind if kind in ("length", "angle") else "number"
        label, (value,) = state.amount.told(state.value)
        values = {
            "label": label,
            "value": value,
            "working": state.amount.working("default"),
        }
        return Sentence(name, f"{message}_{suffix}", values)
    if name in worked.stated.choices:
        choice = worked.draft.choice(name)
        option = worked.stated.choices[name]
        label, chosen = (choice.label, choice.options[option]) if choice else (name, "")
        return Sentence(name, "why.choice", {"label": label, "chosen": chosen})
    known = measurements().get(name)
    label = known.label if known else name
    guessed = name in worked.stated.estimated
    message = "why.measurement_estimated" if guessed else "why.measurement"
    return Sentence(name, message, {"label": label, "value": worked.values.get(name)})
