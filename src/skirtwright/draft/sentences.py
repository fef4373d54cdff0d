"""The draft in sentences: each step as she would say it, and the chain to the tape."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from skirtwright.draft.recompute import Worked
from skirtwright.draft.step import Reads, Step
from skirtwright.draft.tracing import trace
from skirtwright.geometry.chain import Chain
from skirtwright.measures.measurements import measurements
from skirtwright.measures.working_kinds import ANGLE, LENGTH
from skirtwright.problems import SkirtwrightError
from skirtwright.words import has_message

_SHOWN = {LENGTH: "_length", ANGLE: "_angle"}
_FIGURES = frozenset({Reads.LENGTH, Reads.RATIO, Reads.DEGREES, Reads.FIGURE})


@dataclass(frozen=True)
class Said:
    """One sentence: a message id and the values it names.

    Attributes:
        path: the step it says, or the name of a measurement or amount.
    """

    path: str
    message: str
    values: Mapping[str, Any]


def sentence(worked: Worked, path: str) -> Said:
    """The sentence of the step at a path, with its numbers."""
    bound = worked.reworking.bound(path)
    if bound is None:
        name = plain(path.rpartition("/")[2])
        return Said(path, "step.unknown", {"name": name})
    step = bound.step
    values: dict[str, Any] = {"name": plain(step.step)}
    reading = type(step).reading()
    for field in type(step).model_fields:
        if field in ("step", "kind"):
            continue
        raw = getattr(step, field)
        values[f"{field}_working"] = _text(raw)
        values[field] = _text(raw)
        if reading.get(field) in _FIGURES:
            try:
                values[field] = bound.fields[field](worked.values)
            except (KeyError, SkirtwrightError):
                continue
    values.update(_outcome(worked, step, bound.results))
    message = f"step.{step.kind}"
    up = values.get("up")
    if isinstance(up, float) and up < 0 and has_message(f"{message}_down"):
        message, values["down"] = f"{message}_down", -up
    by = values.get("by")
    if isinstance(by, float) and by < 0 and has_message(f"{message}_less"):
        message, values["by"] = f"{message}_less", -by
    if bound.kind is not None and "result" in values:
        message += _SHOWN.get(bound.kind, "_number")
    return Said(path, message, values)


def _outcome(worked: Worked, step: Step, results: tuple[str, ...]) -> dict[str, Any]:
    """What came of a step: the length of a line, or a number of its kind."""
    del step
    drawn = worked.values.get(results[0]) if results else None
    if isinstance(drawn, Chain):
        return {"result": drawn.length}
    return {"result": drawn} if isinstance(drawn, float) else {}


def _text(raw: Any) -> str:
    if isinstance(raw, dict):
        return ", ".join(f"{plain(key)}: {_text(item)}" for key, item in raw.items())
    if isinstance(raw, list | tuple):
        return ", ".join(_text(item) for item in raw)
    return plain(str(raw))


def plain(name: str) -> str:
    """A name as a person reads it: `front.side end` is `front side end`."""
    spaced = name.replace("_", " ")
    return re.sub(r"(?<=[a-z\]])\.(?=[a-z])", " ", spaced)


def why(worked: Worked, text: str) -> tuple[Said, ...]:
    """The chain behind a place, a line or a number: from the tape down to it.

    Raises:
        SkirtwrightError: nothing in the draft has that name.
    """
    chain = trace(worked, text)
    said = [_stated(worked, name) for name in chain.stated]
    said.extend(sentence(worked, path) for path in chain.paths)
    return tuple(said)


def _stated(worked: Worked, name: str) -> Said:
    state = worked.stated.amounts.get(name)
    if state is not None:
        message = "why.amount_given" if state.given else "why.amount_default"
        kind = state.amount.kind
        suffix = kind if kind in ("length", "angle") else "number"
        values = {
            "label": state.amount.label,
            "value": state.value,
            "working": state.amount.default,
        }
        return Said(name, f"{message}_{suffix}", values)
    if name in worked.stated.choices:
        choice = worked.draft.choice(name)
        option = worked.stated.choices[name]
        label, chosen = (choice.label, choice.options[option]) if choice else (name, "")
        return Said(name, "why.choice", {"label": label, "chosen": chosen})
    known = measurements().get(name)
    label = known.label if known else name
    guessed = name in worked.stated.estimated
    message = "why.measurement_estimated" if guessed else "why.measurement"
    return Said(name, message, {"label": label, "value": worked.values.get(name)})
