"""Texts that two halves of a skirt share but for the names in them.

A text is taken apart once, at the names in it. What either half has is put together
from the parts; its tree is made only where it is asked for.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import lru_cache
from typing import Self

from skirtwright.budget import MOST
from skirtwright.measures.measurements import SIDES
from skirtwright.measures.working_parsing import PARSERS, How
from skirtwright.measures.working_renaming import renamed
from skirtwright.measures.working_trees import Tree, Written
from skirtwright.measures.working_writing import as_written, written

_MARK = "\0"
"""Round a name while a text is taken apart; no text that can be read has it."""


class NamesOfHalves:
    """Names of which each half has its own.

    Attributes:
        own: for each half, the names with what that half calls them.
        other: for each half, what the other half's are called in it.
    """

    def __init__(self, names: Iterable[str]) -> None:
        known = list(names)
        self.own = [{name: f"{name}_{side}" for name in known} for side in SIDES]
        left, right = (own.values() for own in self.own)
        ways = ((right, left), (left, right))
        self.other = [dict(zip(*way, strict=True)) for way in ways]


class SharedText:
    """A text as the style has it, with what either half makes of it.

    Args:
        how: as what it is read.
        parts: of the text, every second a name.
        names: those of which each half has its own.
    """

    __slots__ = ("_texts", "how", "names", "text")

    def __init__(
        self, text: str, how: How, parts: tuple[str, ...], names: NamesOfHalves
    ) -> None:
        self.text = text
        self.how = how
        self.names = names
        self._texts = (HalfText.of(self, parts, 0), HalfText.of(self, parts, 1))

    def of(self, half: int) -> HalfText:
        """The text of the first or the second half."""
        return self._texts[half]


class HalfText(Written):
    """A text of one half."""

    __slots__ = ("half", "shared")

    shared: SharedText
    half: int

    @classmethod
    def of(cls, shared: SharedText, parts: tuple[str, ...], half: int) -> Self:
        """The parts of a text, every second a name, with the names of a half."""
        own = shared.names.own[half]
        named = [own.get(part, part) if n % 2 else part for n, part in enumerate(parts)]
        made = cls("".join(named))
        made.shared, made.half = shared, half
        return made

    def made(self) -> Tree:
        """The tree with the names of this half."""
        shared = self.shared
        whole = PARSERS[shared.how](shared.text)
        return as_written(renamed(whole, shared.names.own[self.half]))

    @property
    def own(self) -> Mapping[str, str]:
        """What the names of the text it is made from are called in this half."""
        return self.shared.names.own[self.half]


def shared_text(text: str, how: How, names: NamesOfHalves) -> SharedText | None:
    """A text taken apart; None where both halves have it as it is.

    Raises:
        BadInput: it cannot be read.
    """
    parts = _parts(text, how)
    known = names.own[0]
    if not any(name in known for name in parts[1::2]):
        return None
    return SharedText(text, how, parts, names)


@lru_cache(MOST["steps"])
def _parts(text: str, how: How) -> tuple[str, ...]:
    """A text as it is written out, parted at its names: every second part is one."""
    return tuple(written(renamed(PARSERS[how](text), _Marked())).split(_MARK))


class _Marked(dict[str, "str | Tree"]):
    """Every name with marks round it."""

    def get(self, name: str, _: object = None) -> str:
        return f"{_MARK}{name}{_MARK}"
