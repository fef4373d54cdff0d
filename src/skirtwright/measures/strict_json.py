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
from typing import TYPE_CHECKING, Any, TypeVar

from skirtwright.budget import (
    DEEPEST,
    LARGEST,
    LONGEST_NAME,
    LONGEST_TEXT,
    MOST_VALUES,
)
from skirtwright.measures.letters import check_letters
from skirtwright.measures.records import Record
from skirtwright.problems import BadInput, SkirtwrightError, told_of

MOST_DIGITS = 15
"""Of a whole number: what a float holds exactly."""

# A text that is never closed runs to the end, and nothing is gone over twice.
_SIGN_OR_TEXT = re.compile(
    r'"(?P<text>[^"\\]*+(?:\\.[^"\\]*+)*+)"?+|(?P<sign>[\[\]{},])', re.DOTALL
)
if TYPE_CHECKING:
    from pydantic import ValidationError

_Model = TypeVar("_Model", bound=Record)


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
    _check_extent(document, what)
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
    from pydantic import ValidationError

    try:
        return model.model_validate(data)
    except ValidationError as error:
        raise _first_trouble(error, what) from None


_WANTED = {
    "string": "json.text",
    "int": "json.whole_number",
    "float": "json.number",
    "bool": "json.yes_or_no",
    "dict": "json.object",
    "model": "json.object",
    "tuple": "json.list",
    "list": "json.list",
}
"""What was wanted, by the first word of pydantic's name for the trouble."""

_BEYOND = {"le": "number_above", "ge": "number_below"}

_TAG = re.compile(r"(str|int|tuple|function-\w+|[A-Z]\w*)(\[.*\])?")
"""What pydantic adds to a place to say which of several kinds it tried."""


def _first_trouble(error: ValidationError, what: str) -> SkirtwrightError:
    first = error.errors(include_url=False)[0]
    ctx = first.get("ctx", {})
    steps = [str(step) for step in first["loc"]]
    place = ".".join(step for step in steps if not _TAG.fullmatch(step))
    own = ctx.get("error")
    if isinstance(own, SkirtwrightError):
        return told_of(own, f"{what}, {place}" if place else what)
    values = {"what": what, "place": place or "/"}
    sort = first["type"]
    if sort == "extra_forbidden":
        return BadInput("json.unknown_key", place, **values)
    if sort == "missing":
        return BadInput("json.missing_key", place, **values)
    if "max_length" in ctx:
        return BadInput("json.too_many", place, **values, most=ctx["max_length"])
    for bound in ("le", "ge"):
        if bound in ctx:
            beyond = {"number": first["input"], "bound": ctx[bound]}
            return BadInput(f"json.{_BEYOND[bound]}", place, **values, **beyond)
    if sort == "literal_error":
        return BadInput("json.no_option", place, **values, known=ctx["expected"])
    wanted = _WANTED.get(sort.partition("_")[0], "json.other")
    return BadInput("json.wrong_value", place, **values, wanted=wanted)


def _decoded(text: str | bytes, what: str) -> str:
    data = text.encode("utf-8", "surrogatepass") if isinstance(text, str) else text
    if len(data) > LARGEST:
        # Of a file no more is read than tells that it is too large.
        raise BadInput("json.too_large", what, what=what, most=LARGEST / 1e6)
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise BadInput("json.not_text", what, what=what) from None


def _check_extent(document: str, what: str) -> None:
    """Refuse what is too deep, too long or too much, before any of it is made."""
    depth = values = texts = 0
    for match in _SIGN_OR_TEXT.finditer(document):
        sign = match["sign"]
        if sign is None:
            if match.end("text") - match.start("text") > LONGEST_TEXT:
                raise _too_long(match["text"], what, LONGEST_TEXT)
            texts += 1
        elif sign == ",":
            values += 1
        else:
            depth += 1 if sign in "[{" else -1
        if depth > DEEPEST:
            raise BadInput("json.too_deep", what, what=what, most=DEEPEST)
        # A key and a value to each entry.
        if max(values, texts / 2) > MOST_VALUES:
            raise BadInput("json.too_much", what, what=what, most=MOST_VALUES)


def _too_long(text: str, what: str, most: int) -> BadInput:
    return BadInput("json.text_too_long", what, what=what, text=text, most=most)


def _object(pairs: list[tuple[str, Any]], what: str) -> Mapping[str, Any]:
    made: dict[str, Any] = {}
    for key, value in pairs:
        if key in made:
            raise BadInput("json.twice", key, what=what, key=key)
        if len(key) > LONGEST_NAME:
            raise _too_long(key, what, LONGEST_NAME)
        made[key] = value
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
