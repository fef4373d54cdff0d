"""Lengths that the program chooses, for a workroom that measures in inches.

Beside each number of centimetres stands one of eighths of an inch (resources/
inches.json); a length that is not listed stays as it is.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache

from skirtwright import shelf
from skirtwright.measures.unit_marking import numbers_in

_CENTIMETRES = re.compile(r" *cm\b")


@cache
def inch_column() -> Mapping[float, str]:
    """What is used in inches, by the number of centimetres used elsewhere."""
    columns: Mapping[str, str] = shelf.read_json("inches.json")["columns"]
    return {float(metric): inches for metric, inches in columns.items()}


def with_inches(text: str, *, is_length: bool) -> str:
    """A working in centimetres, its listed lengths in inches.

    Changed are numbers that say their centimetres, and bare ones that stand for
    lengths, as `marking.with_units` knows them: not a factor, nor what a condition
    compares. A text that cannot be read is left as it is.

    Args:
        is_length: whether it is known to be a length, so that its bare numbers are
            centimetres; else only those that say so are changed.
    """
    column = inch_column()
    parts, done = [], 0
    for number, match, stands_for_length in numbers_in(text):
        bare = number.unit is None and stands_for_length and is_length
        inches = column.get(number.value)
        if inches is not None and (bare or number.unit == "cm"):
            unit = _CENTIMETRES.match(text, match.end())
            parts += [text[done : match.start()], f"{inches} in"]
            done = unit.end() if unit else match.end()
    return "".join([*parts, text[done:]])
