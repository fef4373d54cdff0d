"""The draft as she would draw it by hand: its steps in sentences, under headings."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby

from skirtwright.draft.draft import Draft, Group
from skirtwright.draft.recompute import Worked
from skirtwright.draft.sentences import Said, plain, sentence
from skirtwright.draft.step import Reads
from skirtwright.draft.styles import origin
from skirtwright.problems import SkirtwrightError
from skirtwright.words import Manner, say, translate

_CASES_OR_BARE = re.compile(r" if |^[\d.]+( ?[a-z]+)?$")
"""A sum that weighs cases, or is only a number: what came of it says it all."""

_NOTHING = 0.02
"""A change of less than this, mm or degrees, is none that a pencil could draw."""

_BESIDES = ("ease", "run")
"""Over how long a change is made, which is none by itself."""


@dataclass(frozen=True)
class DraftPart:
    """Some steps under one heading.

    Attributes:
        heading: the outermost run of steps they belong to.
        sentences: each step, in order.
    """

    heading: str
    sentences: tuple[str, ...]


def drafting_text(worked: Worked, manner: Manner) -> tuple[DraftPart, ...]:
    """The steps that were drawn, grouped as the draft groups them."""
    headings = dict(_headings(worked.draft, manner))
    own = translate(worked.draft.title, manner)
    done = {path for paths in worked.made_by.values() for path in paths}
    drawn = [
        path for path in worked.order if path in done and _does_something(worked, path)
    ]
    return tuple(
        DraftPart(
            headings.get(first, own),
            tuple(_said(sentence(worked, path), manner) for path in paths),
        )
        for first, paths in groupby(drawn, key=lambda path: _first(path, headings))
    )


def _first(path: str, headings: dict[str, str]) -> str:
    """The outermost group of a step that has a heading, or nothing."""
    outer = path.partition("/")[0] if "/" in path else ""
    return outer if outer in headings else ""


def _does_something(worked: Worked, path: str) -> bool:
    """False for a step that leaves its panel as it is: by nought, or nought times."""
    bound = worked.reworking.bound(path)
    if bound is None or not type(bound.step).rewrites:
        return True
    values = sentence(worked, path).values
    if values.get("count") == 0:
        return False
    sizes = [
        values[field]
        for field, how in type(bound.step).reading().items()
        if how in (Reads.LENGTH, Reads.DEGREES) and field not in _BESIDES
    ]
    numbers = [abs(size) for size in sizes if isinstance(size, float)]
    return "by" not in values or max(numbers, default=1.0) >= _NOTHING


def _headings(draft: Draft, manner: Manner) -> Iterator[tuple[str, str]]:
    """The groups that take in another draft, with its title: the style's own stay."""
    for item in draft.steps:
        if isinstance(item, Group) and item.from_ is not None:
            try:
                yield item.group, translate(origin(item.from_).title, manner)
            except SkirtwrightError:
                # An old order may have grown from what is no longer on the shelf.
                yield item.group, plain(item.group).capitalize()


def _said(said: Said, manner: Manner) -> str:
    """A step's sentence; a sum that weighs cases is said by what came of it."""
    working = str(said.values.get("value_working", ""))
    if _CASES_OR_BARE.search(working) and said.message.startswith("step.number"):
        return say(f"making.{said.message}", said.values, manner)
    values = {**said.values, "value_working": working.replace("*", "×")}
    return say(said.message, values, manner)
