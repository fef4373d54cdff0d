"""What a place hangs on: the steps that draw it, back to the tape."""

from __future__ import annotations

from dataclasses import dataclass

from skirtwright.draft.names import GIVEN
from skirtwright.draft.step import Reads
from skirtwright.draft.working.recompute import Worked
from skirtwright.problems import SkirtwrightError


@dataclass(frozen=True)
class Trace:
    """What something hangs on.

    Attributes:
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
            leans = worked.bind(text, how).leans_on
        except SkirtwrightError as error:
            last = error
            continue
        _refuse_missing_part(worked, text, how)
        return leans
    raise last


def _refuse_missing_part(worked: Worked, text: str, how: Reads) -> None:
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
    """What a place, a working or a name hangs on as things stand.

    The conditions of the groups its steps stand in are among it, and so is what a
    number was found from.

    Raises:
        SkirtwrightError: it cannot be read.
    """
    ran = {*worked.numbers, *(path for path, *_ in worked.drawn)}
    paths, met = worked.bound.behind(names_in(worked, text), ran.__contains__)
    steps = sorted(paths.difference(worked.numbers), key=worked.order.__getitem__)
    names = dict.fromkeys(name.removeprefix(GIVEN) for name in met)
    known = worked.stated.values
    stated = (n for n in names if n in known and n not in worked.made_by)
    return Trace(tuple(steps), tuple(stated))
