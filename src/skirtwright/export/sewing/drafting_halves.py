"""Left and right told in one sentence, where they differ by figures alone.

A draft with left and right apart is written out for both halves. A sentence of the left
half and its counterpart of the right become one, with both figures where they differ.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from skirtwright.measures.measurements import SIDES

_LEFT, _RIGHT = SIDES

_PARTS = re.compile(r"(\d[\d ]*/\d+|\d+(?: \d+/\d+)?(?:\.\d+)?|\w+|\s+|.)", re.DOTALL)
"""A figure, whole, mixed or decimal; a word; or what stands between."""

_TWICE = re.compile(rf"\b({_LEFT}|{_RIGHT}) \1\b")

_AHEAD = 40
"""So many sentences further on a counterpart is looked for."""


def both_halves(sentences: Sequence[str]) -> list[str]:
    """Sentences with each pair of left and right told as one, in their order."""
    left = list(sentences)
    told: list[str] = []
    while left:
        first = left.pop(0)
        for ahead, other in enumerate(left[:_AHEAD]):
            one = _as_one(first, other)
            if one is not None:
                first = one
                del left[ahead]
                break
        # A panel that is of one half by its own name is not said to be so twice.
        told.append(_TWICE.sub(r"\1", first))
    return told


def of_left_half(name: str) -> str:
    """The same panel's name in the left half; nothing for one of no right half.

    Names end so where the draft is written out for both halves.
    """
    stem = name.removesuffix(f"_{_RIGHT}")
    return f"{stem}_{_LEFT}" if stem != name else ""


def _as_one(first: str, second: str) -> str | None:
    """A sentence for both halves, or None where more than figures differ."""
    if _LEFT not in first or _RIGHT not in second:
        return None
    parts, others = _PARTS.findall(first), _PARTS.findall(second)
    if len(parts) != len(others):
        return None
    said: list[str] = []
    halves = False
    for part, other in zip(parts, others, strict=True):
        if part == other:
            said.append(part)
        elif (part, other) == (_LEFT, _RIGHT):
            halves = True
            if said and said[-1].isspace():
                said.pop()
        elif part[0].isdigit() and other[0].isdigit():
            said.append(f"{part} | {other}")
        else:
            return None
    return "".join(said) if halves else None
