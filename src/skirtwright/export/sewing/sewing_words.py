"""Sayings: message ids with their values, which may be sayings themselves."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from skirtwright.pieces.wording.labels import whole_title
from skirtwright.words import Manner, Sayable, has_message, say


@dataclass(frozen=True)
class Saying:
    """One sentence, or part of one, not yet in anybody's language or unit."""

    message: str
    values: Mapping[str, Any] = field(default_factory=dict)


@dataclass(frozen=True)
class LengthOfHalves:
    """A length of either half, mm; said once where they are or read alike."""

    left: float
    right: float


_CHALKED = 0.5
"""What differs by less, mm, nobody chalks apart."""

Listed = tuple[Saying, ...]
"""Several, to be said one after the other."""


def named(title: str | Sayable) -> Saying:
    """A name out of a style's own data."""
    return Saying("sew.named", {"name": title})


def cloth(material: str) -> Saying:
    """What a cloth is called."""
    known = f"label.material.{material}"
    return Saying(known) if has_message(known) else named(material)


def is_other_half(title: str, other: str) -> bool:
    """Whether two titles are of the left and the right of one piece."""
    return title != other and whole_title(title) == whole_title(other)


def without_repeats(sayings: Iterable[Saying]) -> Listed:
    """Each only once, in the order met."""
    kept: list[Saying] = []
    for saying in sayings:
        if saying not in kept:
            kept.append(saying)
    return tuple(kept)


def phrase(saying: Saying, manner: Manner) -> str:
    """A saying in her language and unit."""
    values = {name: _said(value, manner) for name, value in saying.values.items()}
    return say(saying.message, values, manner)


def _said(value: Any, manner: Manner) -> Any:
    if isinstance(value, Saying):
        return phrase(value, manner)
    if isinstance(value, LengthOfHalves):
        left, right = (
            say("finished.length_shown", {"value": length}, manner)
            for length in (value.left, value.right)
        )
        if left == right or abs(value.left - value.right) < _CHALKED:
            return left
        return say("sew.both", {"left": left, "right": right}, manner)
    if isinstance(value, tuple):
        parts = [str(_said(part, manner)) for part in value]
        return ("; " if any("," in part for part in parts) else ", ").join(parts)
    return value
