"""What the left and the right half say alike is said once."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace

from skirtwright.problems import Problem
from skirtwright.words import Composed

_HALF = re.compile(r"_(left|right)\b")


def said_once(problems: Iterable[Problem]) -> tuple[Problem, ...]:
    """The problems of a draft with both halves; what both say alike names no half."""
    found: dict[str, Problem] = {}
    for problem in problems:
        plain = _of_no_half(problem)
        first = found.setdefault(repr(plain), problem)
        if first.where != problem.where:
            # It leads to the step of the left half, which is there.
            found[repr(plain)] = replace(plain, where=first.where)
    return tuple(found.values())


def _of_no_half(problem: Problem) -> Problem:
    says = problem.says
    if isinstance(says, Composed) and says.is_of("half.says_left", "half.says_right"):
        says = says.phrase.values["says"]
    return replace(
        problem,
        code=_HALF.sub("", problem.code),
        where=_HALF.sub("", problem.where),
        says=says,
        values={
            name: _HALF.sub("", value) if type(value) is str else value
            for name, value in problem.values.items()
        },
    )
