"""Texts of one half of a skirt, which are a style's but for the names in them.

A text is taken apart once, at its names, and put together with those of the half; its
tree is made only where it is asked for.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache

from skirtwright.budget import MOST
from skirtwright.measures.working_parsing import PARSERS, How
from skirtwright.measures.working_renaming import renamed
from skirtwright.measures.working_trees import Tree, Written
from skirtwright.measures.working_writing import as_written, written

_MARK = "\0"
"""Round a name while a text is taken apart; no text that can be read has it."""


class HalfText(Written):
    """A text of one half.

    Attributes:
        whole: the text as the style has it.
        how: as what it is read.
    """

    __slots__ = ("how", "own", "whole")

    whole: str
    how: How
    own: Mapping[str, str]

    def made(self) -> Tree:
        """The tree with the names of this half."""
        return as_written(renamed(PARSERS[self.how](self.whole), self.own))


def half_text(text: str, how: How, own: Mapping[str, str]) -> str:
    """A text with the names of a half; it itself where it has none that differ.

    Raises:
        BadInput: it cannot be read.
    """
    parts = _parts(text, how)
    if own.keys().isdisjoint(parts[1::2]):
        return text
    named = [own.get(part, part) if n % 2 else part for n, part in enumerate(parts)]
    made = HalfText("".join(named))
    made.whole, made.how, made.own = text, how, own
    return made


@lru_cache(MOST["steps"])
def _parts(text: str, how: How) -> tuple[str, ...]:
    """A text as it is written out, parted at its names: every second part is one."""
    return tuple(written(renamed(PARSERS[how](text), _Marked())).split(_MARK))


class _Marked(dict[str, "str | Tree"]):
    """Every name with marks round it."""

    def get(self, name: str, _: object = None) -> str:
        return f"{_MARK}{name}{_MARK}"
