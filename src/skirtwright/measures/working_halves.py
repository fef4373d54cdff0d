"""Texts that two halves of a skirt share but for the names in them.

A text is taken apart once, at the names of which each half has its own. What either
half has is put together from the parts; its tree is made only where it is asked for.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Self

from skirtwright.measures.measurements import SIDES
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
        marked: the names, each so that a text can be parted at it.
    """

    def __init__(self, names: Iterable[str]) -> None:
        known = list(names)
        self.own = [{name: f"{name}_{side}" for name in known} for side in SIDES]
        left, right = (own.values() for own in self.own)
        ways = ((right, left), (left, right))
        self.other = [dict(zip(*way, strict=True)) for way in ways]
        self.marked = {name: f"{_MARK}{name}{_MARK}" for name in known}


class SharedText:
    """A text as the style has it, with what either half makes of it.

    Args:
        tree: of the text.
        marked: the same with its names marked.
        names: those of which each half has its own.
    """

    def __init__(self, tree: Tree, marked: Tree, names: NamesOfHalves) -> None:
        self.tree = tree
        self.names = names
        parts = written(marked).split(_MARK)
        self._texts = [HalfText.of(self, parts, half) for half in range(len(SIDES))]

    def of(self, half: int) -> HalfText:
        """The text of the first or the second half."""
        return self._texts[half]


class HalfText(Written):
    """A text of one half."""

    __slots__ = ("half", "shared")

    shared: SharedText
    half: int

    @classmethod
    def of(cls, shared: SharedText, parts: list[str], half: int) -> Self:
        """The parts of a text, every second a name, with the names of a half."""
        own = shared.names.own[half]
        named = [own[part] if n % 2 else part for n, part in enumerate(parts)]
        made = cls("".join(named), lambda: as_written(renamed(shared.tree, own)))
        made.shared, made.half = shared, half
        return made

    @property
    def other(self) -> HalfText:
        """The other half's."""
        return self.shared.of(1 - self.half)

    @property
    def from_other(self) -> Mapping[str, str]:
        """What the other half's names are called in this."""
        return self.shared.names.other[self.half]


def shared_text(tree: Tree, names: NamesOfHalves) -> SharedText | None:
    """A text taken apart; None where both halves have it as it is."""
    marked = renamed(tree, names.marked)
    return None if marked is tree else SharedText(tree, marked, names)
