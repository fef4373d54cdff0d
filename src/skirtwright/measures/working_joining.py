"""Workings and conditions joined into one.

What is joined keeps its tree: a text that comes of several may be longer than what
anyone may type.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import reduce

from skirtwright.measures.working_parsing import parse_condition, parse_working
from skirtwright.measures.working_trees import And, Compare, IfElse, Not, Or, Tree
from skirtwright.measures.working_writing import written


def all_of(conditions: Iterable[str | None]) -> str:
    """One condition that holds where every one does; None is no condition.

    Raises:
        BadInput: one cannot be read.
    """
    return _joined(And, [one for one in conditions if one is not None])


def any_of(conditions: Iterable[str]) -> str:
    """One condition that holds where one of several does.

    Raises:
        BadInput: one cannot be read.
    """
    return _joined(Or, list(conditions))


def opposite(condition: str) -> str:
    """A condition that holds where another does not.

    Raises:
        BadInput: it cannot be read.
    """
    return written(Not(parse_condition(condition)))


def no_more_than(working: str, other: str) -> str:
    """A condition that holds where one working comes out no more than another.

    Raises:
        BadInput: one cannot be read.
    """
    return written(Compare("<=", parse_working(working), parse_working(other)))


def either(working: str, when: str, otherwise: str) -> str:
    """One working where a condition holds, and another where it does not.

    Raises:
        BadInput: one cannot be read.
    """
    condition = parse_condition(when)
    return written(IfElse(parse_working(working), condition, parse_working(otherwise)))


def _joined(how: type[And | Or], conditions: list[str]) -> str:
    if len(conditions) == 1:
        return conditions[0]
    trees: list[Tree] = [parse_condition(one) for one in conditions]
    return written(reduce(how, trees))
