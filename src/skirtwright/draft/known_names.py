"""The names a draft has: of what is given to it, and of what its steps draw."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from typing import Any

from skirtwright.budget import spend
from skirtwright.draft.draft import Draft, Group
from skirtwright.draft.step import Step
from skirtwright.measures.measurements import measurements

TURN = re.compile(r"\[[^\]]*\]")
SEVERAL = "[]"
"""What stands for the turn, or the number, of each of several."""

_LEARNT = 5
"""To learn of a step is as much work as to find so many points."""


class KnownNames:
    """Every name of a draft, whatever is chosen.

    Attributes:
        parts: for each panel, the edges and marks it may have.
    """

    def __init__(self, draft: Draft) -> None:
        choices = (choice.name for choice in draft.choices)
        amounts = (amount.name for amount in draft.amounts)
        self.names = dict.fromkeys((*measurements(), *choices, *amounts))
        self.parts: dict[str, dict[str, None]] = {}
        size = -1
        # A panel copied above may yet be marked below: until nothing more is learnt.
        while size != (size := self.size()):
            self._learn(draft.steps, ())

    def size(self) -> int:
        """How many there are, with all parts."""
        return len(self.names) + sum(map(len, self.parts.values()))

    def _learn(self, items: Iterable[Any], within: tuple[str, ...]) -> None:
        for item in items:
            spend("points", _LEARNT)
            if isinstance(item, Group):
                self._learn(item.steps, self.enter(item, within))
            else:
                self._learn_step(item, within)

    def enter(self, group: Group, within: tuple[str, ...]) -> tuple[str, ...]:
        """The prefixes inside a group; what its rule names is learnt."""
        if group.find is not None:
            self.names.setdefault(_prefix(within) + group.find.unknown)
        if group.repeat is None:
            return within
        inner = f"{_prefix(within)}{group.group}{SEVERAL}."
        for name, text in group.start.items():
            self.names.setdefault(inner + name)
            base, rest = self.find(plain_path(text), within)
            if base in self.parts and not rest:
                self.parts.setdefault(inner + name, {}).update(self.parts[base])
        return (inner, *within)

    def _learn_step(self, step: Step, within: tuple[str, ...]) -> None:
        above: Mapping[str, None] = {}
        panel = getattr(step, "panel", None)
        if isinstance(panel, str):
            above = self.parts.get(self.find(plain_path(panel), within)[0], {})
        made = step.parts(tuple(above))
        for number, name in enumerate(step.results()):
            full = _prefix(within) + name
            if step.rewrites and number == 0:
                full = self.find(plain_path(name), within)[0]
                if not full:
                    continue
            self.names.setdefault(full)
            if made is not None:
                parts = (TURN.sub(SEVERAL, part) for part in made)
                self.parts.setdefault(full, {}).update(dict.fromkeys(parts))

    def find(self, path: str, within: tuple[str, ...]) -> tuple[str, str]:
        """The base of a path and the rest; no base where nothing is called so."""
        words = path.split(".")
        for before in (*within, ""):
            for size in range(len(words), 0, -1):
                base = before + ".".join(words[:size])
                if base in self.names:
                    return base, ".".join(words[size:])
        return "", ""


def _prefix(within: tuple[str, ...]) -> str:
    """What stands before the names of the innermost group that repeats."""
    return within[0] if within else ""


def plain_path(path: str) -> str:
    """A path whose indexes are left open: `tier[2].cloth` is `tier[].cloth`."""
    return TURN.sub(SEVERAL, path)
