"""JSON from outside, read strictly: bounded, finite, no key twice, none unknown.

Everything a person or another program hands us goes through here: cards, work,
styles. Measured reasons stand in the rules for hostile input: plain `json` takes NaN,
makes infinity of 1e999, and lets the last of two equal keys win in silence.
"""

from __future__ import annotations

import json
import math
import re
from collections.abc import Mapping
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError

from skirtwright.measures.letters import check_letters
from skirtwright.problems import BadInput, SkirtwrightError

LARGEST = 5_000_000
"""Bytes."""

DEEPEST = 20
MOST_DIGITS = 15
"""Of a whole number: what a float holds exactly."""

_BRACKET_OR_STRING = re.compile(r'"(?:[^"\\]|\\.)*"|[\[\]{}]', re.DOTALL)
_Model = TypeVar("_Model", bound=BaseModel)


def read_strict(text: str | bytes, what: str) -> Any:
    """The JSON value of a text.

    Args:
        text: the document; bytes are UTF-8.
        what: what it is to her, for the refusal: a file's name.

    Raises:
        BadInput: too large, too deep, cut short, not JSON, a key twice, a number that
            is not finite, half a letter; the problem says where.
    """
    document = _decoded(text, what)
    _check_depth(document, what)
    try:
        value = json.loads(
            document,
            object_pairs_hook=lambda pairs: _object(pairs, what),
            parse_constant=lambda word: _not_finite(word, what),
            parse_float=lambda digits: _float(digits, what),
            parse_int=lambda digits: _int(digits, what),
        )
    except json.JSONDecodeError as trouble:
        if trouble.pos >= len(document.rstrip()) or "Unterminated" in trouble.msg:
            raise BadInput("json.cut_short", what, what=what) from None
        place = {"line": trouble.lineno, "column": trouble.colno}
        raise BadInput("json.not_json", what, what=what, **place) from None
    if "\\u" in document:
        check_letters(json.dumps(value, ensure_ascii=False), what)
    return value


def read_as(model: type[_Model], data: Any, what: str) -> _Model:
    """The data as a model, or a refusal that says which entry is wrong.

    Raises:
        BadInput: an unknown key, a missing one, or a value of the wrong kind. An
            error of our own family raised by the model's checks comes out as it is.
    """
    try:
        return model.model_validate(data)
    except ValidationError as error:
        raise _first_trouble(error, what) from None


def _first_trouble(error: ValidationError, what: str) -> SkirtwrightError:
    first = error.errors()[0]
    own = first.get("ctx", {}).get("error")
    if isinstance(own, SkirtwrightError):
        return own
    place = ".".join(str(step) for step in first["loc"])
    values = {"what": what, "place": place}
    if first["type"] == "extra_forbidden":
        return BadInput("json.unknown_key", place, **values)
    if first["type"] == "missing":
        return BadInput("json.missing_key", place, **values)
    return BadInput("json.wrong_value", place, **values, wanted=first["msg"])


def _decoded(text: str | bytes, what: str) -> str:
    data = text.encode("utf-8", "surrogatepass") if isinstance(text, str) else text
    if len(data) > LARGEST:
        raise BadInput(
            "json.too_large", what, what=what, found=len(data) / 1e6, most=LARGEST / 1e6
        )
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise BadInput("json.not_text", what, what=what) from None


def _check_depth(document: str, what: str) -> None:
    depth = 0
    for match in _BRACKET_OR_STRING.finditer(document):
        if match[0] in "[{":
            depth += 1
        elif match[0] in "]}":
            depth -= 1
        if depth > DEEPEST:
            raise BadInput("json.too_deep", what, what=what, most=DEEPEST)


def _object(pairs: list[tuple[str, Any]], what: str) -> Mapping[str, Any]:
    made = dict(pairs)
    if len(made) < len(pairs):
        keys = [key for key, _ in pairs]
        twice = next(key for key in keys if keys.count(key) > 1)
        raise BadInput("json.twice", twice, what=what, key=twice)
    return made


def _not_finite(word: str, what: str) -> float:
    raise BadInput("json.not_finite", what, what=what, number=word[:20])


def _float(digits: str, what: str) -> float:
    value = float(digits)
    return value if math.isfinite(value) else _not_finite(digits, what)


def _int(digits: str, what: str) -> int:
    if len(digits.lstrip("-")) > MOST_DIGITS:
        raise BadInput("json.too_many_digits", what, what=what, number=digits[:20])
    return int(digits)
