"""Working a draft: one pass down the list, reworking only what a change reaches.

A step is worked again when something it leans on is another value than last time;
when what it draws comes out equal, the old value is kept, so that nothing below
notices. Values are compared exactly: a drag of a hundredth is a change.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

from skirtwright.draft.draft import Choice, Draft, PieceOf, Seam
from skirtwright.draft.fields import BoundStep
from skirtwright.draft.inputs import Inputs, Stated, Stating
from skirtwright.draft.names import Standing
from skirtwright.draft.step import Read, Reads
from skirtwright.draft.working.memory import ABSENT, Memory, Ran
from skirtwright.draft.working.one_pass import OnePass, Part, Reworked
from skirtwright.draft.working.turns import Turns
from skirtwright.measures.units import Unit
from skirtwright.problems import BadInput, Problem, SkirtwrightError


@dataclass(frozen=True)
class Worked:
    """A draft worked out.

    Attributes:
        values: every name with its value: mm, degrees, points, lines, panels.
        stated: the amounts, choices and measurements it was worked from.
        problems: what steps had to say, in order of the draft.
        reworked: the steps that had to be worked this time.
        ran: the steps that drew something, in order, with the names they gave a value.
        found_from: for each number that was found, the names it was found from.
        order: each step's path with its place in the draft.
    """

    draft: Draft
    inputs: Inputs
    values: Mapping[str, Any]
    stated: Stated
    problems: tuple[Problem, ...]
    reworked: tuple[Reworked, ...]
    ran: tuple[Ran, ...]
    found_from: Mapping[str, tuple[str, ...]]
    order: Mapping[str, int]
    worked_by: Reworking = field(repr=False, compare=False)

    @property
    def reworking(self) -> Reworking:
        """What worked it; it knows this draft's names, whatever it worked since."""
        self.worked_by.turn_to(self)
        return self.worked_by

    @cached_property
    def pieces(self) -> tuple[PieceOf, ...]:
        """The draft's pieces, those of repeated groups once for each turn."""
        return self.reworking.turns.pieces(self)

    @cached_property
    def seams(self) -> tuple[Seam, ...]:
        """The draft's seams, those of repeated groups once for each turn."""
        return self.reworking.turns.seams(self)

    @cached_property
    def made_by(self) -> Mapping[str, tuple[str, ...]]:
        """For each name, the paths of the steps that drew it, in order."""
        found: dict[str, tuple[str, ...]] = {}
        for path, names in self.ran:
            for name in names:
                found[name] = (*found.get(name, ()), path)
        return found

    @property
    def stopped(self) -> bool:
        """True when something could not be worked."""
        return any(problem.stops for problem in self.problems)

    def read(self, text: str, how: Reads) -> Any:
        """A working, condition, place or name, worked at the end of the draft.

        Raises:
            SkirtwrightError: it cannot be read or worked, or leans on what is absent.
        """
        return self.reworking.read_at_end(text, how, self.values)

    def read_hers(self, text: str) -> float:
        """A length she typed, mm: bare numbers are in the order's unit.

        Raises:
            SkirtwrightError: it cannot be read or worked, or leans on what is absent.
        """
        read = self.reworking.bound_at_end(text, Reads.LENGTH, self.inputs.unit)
        return float(_done(read, self.values))

    def applies(self, choice: Choice) -> bool:
        """Whether a choice has a meaning as things stand; in doubt it has."""
        try:
            return choice.when is None or bool(self.read(choice.when, Reads.WHETHER))
        except SkirtwrightError:
            return True

    def leans_on(self, text: str, how: Reads) -> tuple[str, ...]:
        """The names such a text leans on.

        Raises:
            SkirtwrightError: it cannot be read.
        """
        return self.reworking.bound_at_end(text, how).leans_on


class Reworking:
    """Works drafts one after another, remembering what need not be done again."""

    def __init__(self) -> None:
        self._stating = Stating()
        self._memory = Memory()
        self.turns = Turns()

    def work(self, draft: Draft, inputs: Inputs, part: Part | None = None) -> Worked:
        """The draft worked with these inputs.

        Args:
            draft: the draft.
            inputs: what it is worked from.
            part: the steps to work, for a quick look at some places; None works all.
                The draft must have been worked whole before.

        Raises:
            BadInput: a measurement or amount cannot be read or used, or a needed
                measurement is missing.
            NotFound: a name that neither the body nor the draft knows.
        """
        memory = self._memory
        memory.open(draft)
        stated = self._stating.state(draft, inputs, memory.names)
        done = OnePass(memory, stated, part)
        done.items(draft.steps, Standing(), "", on=True)
        return Worked(
            draft,
            inputs,
            done.values,
            stated,
            (*stated.problems, *done.problems),
            tuple(done.reworked),
            tuple(done.ran),
            memory.found_from,
            memory.order,
            self,
        )

    def turn_to(self, worked: Worked) -> None:
        """Know the names of a draft worked before, when another was worked since."""
        if self._memory.draft is not worked.draft:
            self.work(worked.draft, worked.inputs)

    def bound(self, path: str) -> BoundStep | None:
        """The step last worked at a path, bound to what stands above it."""
        return self._memory.bound.get(path, (None, None))[1]

    def drew(self, path: str, values: Mapping[str, Any]) -> Any:
        """What the step at a path last drew; None when it was not from these values."""
        memo, bound = self._memory.memos.get(path), self.bound(path)
        if memo is None or bound is None:
            return None
        leans = tuple(values.get(name, ABSENT) for name in bound.leans_on)
        return memo.result if memo.holds_for(bound.step, leans) else None

    def bound_at_end(self, text: str, how: Reads, unit: Unit | None = None) -> Read:
        """A text bound with the whole draft above it.

        Args:
            text: as written.
            how: as what it is read.
            unit: of its bare numbers; None for the draft's.

        Raises:
            SkirtwrightError: it cannot be read.
        """
        return self._memory.text(text, how, Standing(), unit)[0]

    def read_at_end(self, text: str, how: Reads, values: Mapping[str, Any]) -> Any:
        """A text worked with the whole draft above it.

        Raises:
            SkirtwrightError: it cannot be read or worked, or leans on what is absent.
        """
        return _done(self.bound_at_end(text, how), values)


def _done(read: Read, values: Mapping[str, Any]) -> Any:
    try:
        return read.work(values)
    except KeyError as missing:
        name = str(missing.args[0])
        raise BadInput("draft.leans_on_absent", name, name=name) from missing


__all__ = ["Part", "Reworked", "Reworking", "Worked"]
