"""What a place hangs on: the steps that draw it, back to the tape."""

from __future__ import annotations

from dataclasses import dataclass

from skirtwright.draft.step import Reads
from skirtwright.draft.working.recompute import Worked
from skirtwright.problems import SkirtwrightError


@dataclass(frozen=True)
class Trace:
    """What something hangs on.

    Attributes:
        paths: the steps, in the order of the draft.
        stated: the measurements, amounts and choices, in the order they are met.
    """

    paths: tuple[str, ...]
    stated: tuple[str, ...]


def names_in(worked: Worked, text: str) -> tuple[str, ...]:
    """The names a place, a working or a name leans on.

    Raises:
        SkirtwrightError: it cannot be read.
    """
    for how in (Reads.SHAPE, Reads.PLACE, Reads.FIGURE):
        try:
            leans = worked.leans_on(text, how)
        except SkirtwrightError as error:
            last = error
            continue
        _must_be_there(worked, text, how)
        return leans
    raise last


def _must_be_there(worked: Worked, text: str, how: Reads) -> None:
    """Refuse a part that its panel has not; what is only not drawn now may be asked."""
    try:
        worked.read(text, how)
    except SkirtwrightError as error:
        if error.problem.code in _NOT_THERE:
            raise


_NOT_THERE = frozenset(
    {"draft.no_part", "draft.no_dart", "draft.no_mark", "draft.beyond_the_edge"}
)


def trace(worked: Worked, text: str) -> Trace:
    """What a place, a working or a name hangs on.

    Raises:
        SkirtwrightError: it cannot be read.
    """
    waiting = list(names_in(worked, text))
    seen: set[str] = set()
    paths: set[str] = set()
    stated: dict[str, None] = {}
    while waiting:
        name = waiting.pop()
        if name in seen:
            continue
        seen.add(name)
        made_by = worked.made_by.get(name, ())
        if not made_by and name in worked.stated.values:
            stated[name] = None
        for path in made_by:
            if path in paths:
                continue
            paths.add(path)
            bound = worked.reworking.bound(path)
            if bound is not None:
                waiting.extend(bound.leans_on)
        waiting.extend(worked.found_from.get(name, ()))
    order = worked.order
    return Trace(tuple(sorted(paths, key=order.__getitem__)), tuple(stated))
