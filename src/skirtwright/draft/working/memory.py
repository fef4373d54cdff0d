"""What is remembered between passes, so that only what changed is worked again."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from operator import is_
from typing import Any

from skirtwright.draft.draft import Draft, Group
from skirtwright.draft.fields import BoundStep, read_text
from skirtwright.draft.names import Names, Standing, StandingScope
from skirtwright.draft.step import Read, Reads, Step
from skirtwright.measures.units import Unit
from skirtwright.measures.working_kinds import Kind
from skirtwright.problems import Problem

ABSENT = object()
"""Stands for a name that has no value."""

Counts = tuple[tuple[str, int], ...]

Ran = tuple[str, tuple[str, ...]]
"""The path of a step that drew something, and the names it gave a value."""


@dataclass
class Memo:
    """A step with what it leaned on when it was last worked, and what it drew."""

    step: Step
    leans: tuple[Any, ...]
    result: Any

    def holds_for(self, step: Step, leans: tuple[Any, ...]) -> bool:
        """True when nothing the step leans on is another value than last time."""
        if self.step is not step and self.step != step:
            return False
        return len(self.leans) == len(leans) and all(map(is_, self.leans, leans))


@dataclass
class FindMemo:
    """A search with what it leaned on, and everything its run made."""

    group: Group
    leans: Mapping[str, Any]
    made: Mapping[str, Any]
    problems: tuple[Problem, ...]
    stopped: frozenset[str]
    ran: tuple[Ran, ...]


@dataclass
class Memory:
    """Everything kept from one pass to the next.

    Attributes:
        names: the names of the draft, in its order.
        bound: steps bound to what stands above, by path, with
            the counts of repeats they are bound for.
        texts: workings read, by text, way of reading, standing and counts.
        memos: what each step last drew, by path.
        finds: what each search last found, by path and part of the draft worked.
        stated: numbers that were stated where a search was not wanted.
        found_from: for each number that is found, the names it hangs on.
        order: each step's path with its place in the draft.
        counts: how often each repeated group runs, as part of a key.
    """

    draft: Draft | None = None
    names: Names = field(default_factory=Names)
    bound: dict[str, tuple[Counts, BoundStep]] = field(default_factory=dict)
    texts: dict[Any, tuple[Read, Kind | None]] = field(default_factory=dict)
    memos: dict[str, Memo] = field(default_factory=dict)
    finds: dict[tuple[str, frozenset[str] | None], FindMemo] = field(
        default_factory=dict
    )
    stated: dict[str, float] = field(default_factory=dict)
    found_from: dict[str, tuple[str, ...]] = field(default_factory=dict)
    order: dict[str, int] = field(default_factory=dict)
    counts: Counts = ()

    def open(self, draft: Draft) -> None:
        """Forget what was bound when another draft is worked; results are kept.

        What a search found is forgotten: taking it over would leave the steps of its
        run unbound and without a place in the order.
        """
        if draft is self.draft:
            return
        self.draft = draft
        self.names, self.counts = Names(), ()
        self.bound, self.texts, self.finds = {}, {}, {}
        self.found_from, self.order = {}, {}

    def count(self, group: str, turns: int) -> None:
        """A repeated group runs so often from here on."""
        if self.names.counts.get(group) != turns:
            self.names.counts[group] = turns
            self.counts = tuple(sorted(self.names.counts.items()))

    def scope(self, standing: Standing, unit: Unit | None = None) -> StandingScope:
        """What a working sees where it stands; its unit is the draft's unless given."""
        own = self.draft.unit if self.draft else "cm"
        return StandingScope(self.names, unit or own, standing)

    def text(
        self, text: str, how: Reads, standing: Standing, unit: Unit | None = None
    ) -> tuple[Read, Kind | None]:
        """A text read where it stands; its unit is the draft's unless given.

        Raises:
            SkirtwrightError: it cannot be read there.
        """
        key = (text, how, standing.prefixes, self.counts, unit)
        known = self.texts.get(key)
        if known is None:
            known = read_text(text, how, self.scope(standing, unit))
            self.texts[key] = known
        return known
