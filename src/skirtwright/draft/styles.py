"""Styles on the shelf, and drafts read from text."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from typing import Any

from skirtwright import shelf
from skirtwright.draft.draft import Amount, Choice, Draft, Group
from skirtwright.draft.inputs import nearest
from skirtwright.measures.strict_json import read_as, read_strict
from skirtwright.problems import BadInput, NotFound

_FOLDER = "styles"
FORMAT = 1
"""The newest format of a draft this program writes and reads."""


def names() -> tuple[str, ...]:
    """The ids of the styles on the shelf, in the order of its list."""
    listed = shelf.read_json(f"{_FOLDER}/shelf.json")
    return tuple(listed["order"])


def first() -> str:
    """The id of the style that a new order opens with."""
    return str(shelf.read_json(f"{_FOLDER}/shelf.json")["first"])


@cache
def style(name: str) -> Draft:
    """A style by its id, with the drafts it grows from copied in.

    Raises:
        NotFound: there is none; the nearest is named.
        BadInput: its file cannot be used.
    """
    known = names()
    if name not in known:
        raise NotFound("draft.no_style", name, name=name, nearest=nearest(name, known))
    with shelf.open_text(f"{_FOLDER}/{name}.json") as text:
        return read_draft(text.read(), name)


def read_draft(text: str, what: str) -> Draft:
    """A draft from the text of a style file.

    Raises:
        BadInput: it is not JSON, of a newer format, or not a draft.
    """
    return draft_of(read_strict(text, what), what)


def draft_of(raw: Any, what: str) -> Draft:
    """A draft from read JSON, with the drafts it grows from copied in.

    Raises:
        BadInput: it is of a newer format, or not a draft.
    """
    if not isinstance(raw, dict):
        raise BadInput("draft.not_a_draft", what, what=what)
    number = raw.get("format")
    if isinstance(number, int) and number > FORMAT:
        raise BadInput("file.newer", what, what=what, format=number, known=FORMAT)
    return with_origins(read_as(Draft, raw, what), style)


def with_origins(draft: Draft, find: Callable[[str], Draft]) -> Draft:
    """The draft with every `from` group filled, and its origins' amounts brought in.

    An amount or choice the draft lists itself stands where the origin had it.
    """
    origins = [find(name) for name in _from_names(draft.steps)]
    if not origins:
        return draft
    steps = tuple(_filled(item, find) for item in draft.steps)
    choices: tuple[Choice, ...] = draft.choices
    amounts: tuple[Amount, ...] = draft.amounts
    measurements = list(draft.measurements)
    for origin in reversed(origins):
        choices = _merged(origin.choices, choices)
        amounts = _merged(origin.amounts, amounts)
        measurements.extend(m for m in origin.measurements if m not in measurements)
    return draft.model_copy(
        update={
            "steps": steps,
            "choices": choices,
            "amounts": amounts,
            "measurements": tuple(measurements),
        }
    )


def _from_names(items: tuple[Any, ...]) -> list[str]:
    found: list[str] = []
    for item in items:
        if isinstance(item, Group):
            if item.from_ is not None and not item.steps:
                found.append(item.from_)
            found.extend(_from_names(item.steps))
    return found


def _filled(item: Any, find: Callable[[str], Draft]) -> Any:
    if not isinstance(item, Group):
        return item
    if item.from_ is not None and not item.steps:
        return item.model_copy(update={"steps": find(item.from_).steps})
    steps = tuple(_filled(inner, find) for inner in item.steps)
    return item.model_copy(update={"steps": steps})


def _merged(origin: tuple[Any, ...], own: tuple[Any, ...]) -> tuple[Any, ...]:
    mine = {item.name: item for item in own}
    taken = tuple(mine.pop(item.name, item) for item in origin)
    return taken + tuple(mine.values())
