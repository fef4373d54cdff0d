"""What the left and the right half both say is said once."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import Any, Final

from skirtwright.measures.measurements import SIDES
from skirtwright.problems import Problem
from skirtwright.words import BothSides, Composed

Values = Mapping[str, Any]

_HALF: Final = re.compile(r"_(left|right)\b")

_OF_A_HALF: Final = {
    **{f"half.{side}": "title" for side in SIDES},
    **{f"half.says_{side}": "says" for side in SIDES},
}
"""Messages that name a half, and the value that is said without it."""


def merged_problems(problems: Iterable[Problem]) -> tuple[Problem, ...]:
    """The problems of a draft with both halves; what both say names no half.

    Where their figures are unlike, its sentence gives that of the left and the right.
    """
    found: dict[tuple[str | int, ...], Problem] = {}
    said: Counter[tuple[str, ...]] = Counter()
    for problem in problems:
        plain = _without_half(problem)
        key = (plain.code, plain.severity, plain.where, plain.says or "")
        # What is said of one place more than once is as many findings.
        times = said[(*key, problem.where)]
        said[(*key, problem.where)] += 1
        if times and problem in found.values():
            continue
        first = found.setdefault((*key, times), problem)
        if first.where == problem.where:
            continue
        before = _without_half(first).values
        if _only_figures_differ(before, plain.values):
            # It leads to the place in the half it was said of first.
            found[*key, times] = replace(
                plain,
                where=first.where,
                values={
                    n: _both(before[n], value) for n, value in plain.values.items()
                },
            )
        else:
            found[*key, problem.where, times] = problem
    return tuple(found.values())


def _only_figures_differ(left: Values, right: Values) -> bool:
    return left.keys() == right.keys() and all(
        left[name] == right[name]
        or (
            isinstance(left[name], int | float) and isinstance(right[name], int | float)
        )
        for name in left
    )


def _without_half(problem: Problem) -> Problem:
    return replace(
        problem,
        code=_HALF.sub("", problem.code),
        where=_HALF.sub("", problem.where),
        says=_whole(problem.says),
        values={name: _whole(value) for name, value in problem.values.items()},
    )


def _whole(value: Any) -> Any:
    """A text without the half it is of; any other value as it is."""
    if isinstance(value, Composed):
        holds = _OF_A_HALF.get(value.phrase.message)
        return value.phrase.values[holds] if holds else value
    return _HALF.sub("", value) if isinstance(value, str) else value


def _both(left: Any, right: Any) -> Any:
    return left if left == right else BothSides(left, right)
