"""A draft that is joined to other panels than those it names.

An addition is written for a front and a back. A style that cuts these apart says which
of its panels are meant.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from skirtwright.draft.draft import Draft
from skirtwright.draft.runs import Run
from skirtwright.measures.records import Record
from skirtwright.problems import BadInput

_WHOLE = frozenset({"panel", "lines"})
"""Fields that name a panel, or list by panels."""

_OF_PIECES = frozenset({"checks", "sewing"})
"""Fields that list by the pieces of the style."""


def on_panels(draft: Draft, panels: Mapping[str, str], at: str) -> Draft:
    """The draft with other panels wherever it names one of these.

    Args:
        draft: a finishing or an addition, as it is written.
        panels: panels that it does not make itself, each with the one that is meant.
        at: the place that says so.

    Raises:
        BadInput: it names no such panel.
    """
    if not panels:
        return draft
    meaning = _Meaning(panels)
    meant: Draft = meaning.of(draft, "")
    for name in sorted(set(panels) - meaning.met):
        raise BadInput("draft.panel_not_named", at, name=name, what=draft.id)
    return meant


class _Meaning:
    """Which panels are meant.

    Attributes:
        met: those of them that were named.
    """

    def __init__(self, panels: Mapping[str, str]) -> None:
        self.met: set[str] = set()
        self._panels = panels
        named = "|".join(map(re.escape, panels))
        # A part of it is named behind a dot; the end of a sentence has nothing there.
        self._part = re.compile(rf"(?<![\w.])({named})(?=\.\w)")

    def of(self, item: Any, field: str) -> Any:
        """What stands in a field, and all within it."""
        if isinstance(item, str):
            if field in _WHOLE and item in self._panels:
                return self._meant(item)
            return self._part.sub(lambda found: self._meant(found[0]), item)
        if isinstance(item, Run):
            named = item.piece in self._panels
            return replace(item, piece=self._meant(item.piece)) if named else item
        if isinstance(item, Record):
            new = {name: self.of(value, name) for name, value in vars(item).items()}
            return item.replace(**new)
        if isinstance(item, tuple):
            return tuple(self.of(each, field) for each in item)
        if isinstance(item, Mapping):
            by_pieces = field in _OF_PIECES
            return {
                key if by_pieces else self.of(key, field): self.of(value, "")
                for key, value in item.items()
            }
        return item

    def _meant(self, panel: str) -> str:
        self.met.add(panel)
        return self._panels[panel]
