"""A number typed in one unit that only makes sense in the other."""

from __future__ import annotations

import re

from skirtwright.measures.units import VULGAR, Unit, read_length
from skirtwright.problems import BadInput

_BARE = re.compile(rf"[-+\s\d.,/\u2044{VULGAR}\u2010\u2011]+")
_FRACTION = re.compile(rf"[/\u2044{VULGAR}]")


def meant_otherwise(text: str, seen: Unit, least: float, most: float) -> float | None:
    """What a bare number is in the other unit, mm, where that is likelier.

    It is where the number lies in the range in the other unit alone, and where a
    fraction, which belongs to inches, was typed as centimetres and lies in it too.

    Args:
        seen: the unit beside the field; between centimetres and inches alone is asked.
        least: of the ordinary range, mm.
        most: of it, mm.
    """
    if seen not in ("cm", "in") or not _BARE.fullmatch(text):
        return None
    other: Unit = "in" if seen == "cm" else "cm"
    try:
        here, there = read_length(text, seen), read_length(text, other)
    except BadInput:
        return None
    if not least <= there <= most:
        return None
    if not least <= here <= most:
        return there
    # Both are ordinary: only a fraction in centimetres tells.
    return there if other == "in" and _FRACTION.search(text) else None
