"""Workings that name what they have in common: each name stands for a working."""

from __future__ import annotations

from dataclasses import fields, is_dataclass
from functools import lru_cache
from typing import Any

from skirtwright.measures.working_parsing import MOST_PARTS, parse_working
from skirtwright.measures.working_renaming import renamed
from skirtwright.measures.working_trees import Tree
from skirtwright.measures.working_writing import written
from skirtwright.problems import BadInput


@lru_cache(maxsize=1024)
def written_in(text: str, named: tuple[tuple[str, str], ...]) -> str:
    """A working with the workings it names written in.

    Args:
        named: names with the workings they stand for, each seeing those before it.

    Raises:
        BadInput: one cannot be read, or has too many parts once written out.
    """
    trees: dict[str, str | Tree] = {}
    for name, working in named:
        trees[name] = _whole(working, trees)
    return written(_whole(text, trees))


def _whole(text: str, trees: dict[str, str | Tree]) -> Tree:
    whole = renamed(parse_working(text), trees)
    if _too_many(whole):
        raise BadInput("workings.too_many_parts", column=1, most=MOST_PARTS)
    return whole


def _too_many(tree: Tree) -> bool:
    """Whether a tree has too many parts; names of names may make very many."""
    waiting: list[Any] = [tree]
    met = 0
    while waiting and met <= MOST_PARTS:
        part = waiting.pop()
        met += 1
        values = [getattr(part, field.name) for field in fields(part)]
        for value in values:
            inner = value if isinstance(value, tuple) else (value,)
            waiting.extend(each for each in inner if is_dataclass(each))
    return met > MOST_PARTS
