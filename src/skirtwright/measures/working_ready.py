"""Workings read beforehand: trees as plain data, and back.

Every working, condition and place of the shelf is read once when the program is built
(packaging/build_parts.py), so that nothing has to be read for the first drawing, nor
the parser be loaded. A text that is not among them is read as ever; the parser is the
referee in the tests.
"""

from __future__ import annotations

import json
from dataclasses import fields, is_dataclass
from functools import cache
from typing import Any

from skirtwright import shelf
from skirtwright.measures import working_trees
from skirtwright.measures.working_trees import Name, Tree

RESOURCE = "workings-read.txt"
"""A line each, in order: how it is read, the text, and behind a tab the tree."""

_KINDS: dict[str, Any] = {
    name: kind for name, kind in vars(working_trees).items() if is_dataclass(kind)
}


def ready(how: str, text: str) -> Tree | None:
    """The tree of a text that was read beforehand; None for any other.

    Args:
        how: `working`, `condition` or `place`.
    """
    lines, sought = all_ready(), f"{how} {text}\t".encode()
    low, high = 0, len(lines)
    while low < high:
        middle = (low + high) // 2
        begun = lines.rfind(b"\n", 0, middle) + 1
        ended = lines.find(b"\n", middle)
        line = lines[begun:ended]
        if line.startswith(sought):
            return from_text(line[len(sought) :])
        low, high = (ended + 1, high) if line < sought else (low, begun)
    return None


@cache
def all_ready() -> bytes:
    """The lines of all; texts and trees by themselves take three times the memory."""
    place = shelf.path(RESOURCE)
    return place.read_bytes() if place.is_file() else b""


def as_text(tree: Tree) -> str:
    """A tree as JSON: what it is, then its parts; tuples become lists.

    A name without indexes, which most are, is put down as it is written.
    """
    return json.dumps(_plain(tree), separators=(",", ":"))


def from_text(text: str | bytes) -> Tree:
    """The tree that was made text."""
    tree: Tree = _tree(json.loads(text))
    return tree


def _plain(part: Any) -> Any:
    if isinstance(part, Name) and not any(index for _, index in part.parts):
        return {"Name": ".".join(word for word, _ in part.parts)}
    if is_dataclass(part):
        parts = (getattr(part, field.name) for field in fields(part))
        return {type(part).__name__: [_plain(each) for each in parts]}
    return [_plain(each) for each in part] if isinstance(part, tuple) else part


def _tree(plain: Any) -> Any:
    if isinstance(plain, dict):
        ((name, parts),) = plain.items()
        if isinstance(parts, str):
            return Name(tuple((word, None) for word in parts.split(".")))
        return _KINDS[name](*map(_tree, parts))
    return tuple(map(_tree, plain)) if isinstance(plain, list) else plain
