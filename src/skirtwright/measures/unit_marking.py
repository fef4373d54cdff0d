"""Numbers of a typed length given their unit, so that it means the same in another.

Only numbers that stand for lengths are marked: an addend, or what a factor is taken
of. `hip / 4 + 1` becomes `hip / 4 + 1 cm`, `2 * (3 + 1)` becomes `2 * (3 cm + 1 cm)`.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from typing import Any

from skirtwright.measures.units import Unit, read_number
from skirtwright.measures.working_parsing import parse_working
from skirtwright.measures.working_trees import Binary, Call, IfElse, Negative, Number
from skirtwright.problems import BadInput

_UNIT = r"""(?= *(?:(?:mm|cm|in|deg)\b|["°]))"""
_NUMBER = re.compile(
    r"[0-9]+ +[0-9]+/[0-9]+|[0-9]* *[½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞]"
    rf"|[0-9]+/[0-9]+{_UNIT}|[0-9]+(?:,[0-9]+|\.[0-9]*)?|\.[0-9]+"
)
"""As the grammar reads a number, and as people write one."""

_SKIPPED = re.compile(r"\[[^\]]*\]|[A-Za-z_][A-Za-z0-9_]*")
_ALIKE = frozenset({"least", "greatest", "round_up", "round_down"})
"""Functions whose arguments are of the kind of their result."""


def with_units(text: str, unit: Unit) -> str:
    """A length as typed, its bare numbers marked with the unit they were typed in.

    A text that cannot be read is left as it is.
    """
    marked, done = [], 0
    for number, match, is_length in numbers_in(text):
        if is_length and number.unit is None:
            marked += [text[done : match.end()], f" {unit}"]
            done = match.end()
    return "".join([*marked, text[done:]])


def numbers_in(text: str) -> Iterator[tuple[Number, re.Match[str], bool]]:
    """The numbers of a typed length, where they stand, and if they are lengths too.

    Nothing of a text that cannot be read.
    """
    try:
        tree = parse_working(text)
    except BadInput:
        return
    numbers, places = list(_numbers(tree)), list(_in_text(text))
    if len(numbers) == len(places):
        lengths = {id(number) for number in _lengths(tree)}
        for number, match in zip(numbers, places, strict=True):
            yield number, match, id(number) in lengths


def _in_text(text: str) -> Iterator[re.Match[str]]:
    """The numbers of a text from left to right, without those in names and indexes."""
    place = 0
    while place < len(text):
        skipped = _SKIPPED.match(text, place)
        found = _NUMBER.match(text, place)
        if found and found.end() > place and not skipped:
            yield found
            place = found.end()
        else:
            place = skipped.end() if skipped else place + 1


def _numbers(tree: Any) -> Iterator[Number]:
    """Every number of a tree, in the order they are written."""
    if isinstance(tree, Number):
        yield tree
    elif isinstance(tree, tuple):
        for part in tree:
            yield from _numbers(part)
    elif is_dataclass(tree):
        for field in fields(tree):
            yield from _numbers(getattr(tree, field.name))


def _lengths(tree: Any) -> Iterator[Number]:
    """The numbers of a tree that is a length which are lengths themselves."""
    if isinstance(tree, Number):
        yield tree
    elif isinstance(tree, Negative):
        yield from _lengths(tree.of)
    elif isinstance(tree, Binary):
        yield from _of_two(tree)
    elif isinstance(tree, Call) and tree.function in _ALIKE:
        for part in tree.arguments:
            yield from _lengths(part)
    elif isinstance(tree, IfElse):
        yield from _lengths(tree.then)
        yield from _lengths(tree.otherwise)


def _of_two(tree: Binary) -> Iterator[Number]:
    if tree.operator in "+-":
        yield from _lengths(tree.left)
        yield from _lengths(tree.right)
    elif _is_bare(tree.right):
        yield from _lengths(tree.left)
    elif tree.operator == "*" and _is_bare(tree.left):
        yield from _lengths(tree.right)


def _is_bare(tree: Any) -> bool:
    """Whether a part is made of numbers without units only: a factor."""
    if isinstance(tree, Number):
        return tree.unit is None
    if isinstance(tree, Negative):
        return _is_bare(tree.of)
    return isinstance(tree, Binary) and _is_bare(tree.left) and _is_bare(tree.right)


def length_with_unit(text: str, unit: Unit) -> str:
    """One length as typed, not a working, given a unit where it has none."""
    try:
        read_number(text)
    except BadInput:  # It has a unit, is empty, or is refused where it is read.
        return text
    return f"{text.strip()} {unit}"
