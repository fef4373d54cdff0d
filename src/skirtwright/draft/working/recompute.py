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
from skirtwright.draft.inputs import Inputs, Stated, Stating
from skirtwright.draft.names import StandingScope
from skirtwright.draft.step import Read, Reads
from skirtwright.draft.step_fields import BoundStep, read_text
from skirtwright.draft.working.binding import BoundDraft
from skirtwright.draft.working.one_pass import (
    Drawn,
    Memory,
    OnePass,
    Part,
    Reworked,
)
from skirtwright.draft.working.replay import Replay, replayed
from skirtwright.draft.working.turns import Repeated, turns_of, written_out
from skirtwright.measures.units import Unit
from skirtwright.problems import BadInput, Problem, SkirtwrightError
from skirtwright.remembered import Remembered

_Text = tuple[str, Reads, Unit | None]
"""A text, as what it is read, and the unit of its bare numbers."""


@dataclass(frozen=True, eq=False)
class Worked:
    """A draft worked out.

    Attributes:
        bound: the draft with its texts bound, for the turns its groups took.
        values: every name with its value: mm, degrees, points, lines, panels.
        stated: the amounts, choices and measurements it was worked from.
        reworked: the steps that had to be worked this time.
        drawn: the steps that drew something, in order.
        numbers: the paths of the numbers that groups found, stated or began with.
        worked_by: what worked it, for trials; nothing here is read from it but what
            it has read before.
        texts: what has been read of it: a width or an ease stands in many places.
    """

    draft: Draft
    inputs: Inputs
    bound: BoundDraft
    values: Mapping[str, Any]
    stated: Stated
    problems: tuple[Problem, ...]
    reworked: tuple[Reworked, ...]
    drawn: tuple[Drawn, ...]
    numbers: tuple[str, ...]
    worked_by: Reworking = field(repr=False)
    texts: dict[_Text, tuple[Read, Any]] = field(repr=False)

    @cached_property
    def pieces(self) -> tuple[PieceOf, ...]:
        """The draft's pieces, those of repeated groups once for each turn."""
        return self.worked_by.written_out(self.draft.pieces, self)

    @cached_property
    def seams(self) -> tuple[Seam, ...]:
        """The draft's seams, those of repeated groups once for each turn."""
        return self.worked_by.written_out(self.draft.seams, self)

    @cached_property
    def made_by(self) -> Mapping[str, tuple[str, ...]]:
        """For each name, the paths of the steps that drew it, in order."""
        found: dict[str, tuple[str, ...]] = {}
        for path, bound, *_ in self.drawn:
            for name in bound.results:
                found[name] = (*found.get(name, ()), path)
        return found

    def found_from(self, name: str) -> tuple[str, ...]:
        """The names that a number which a group gives was found or stated from."""
        made = self.bound.makers.get(name, ())
        path = next((path for path in made if path in self.numbers), None)
        return self.bound.nodes[path].leans_on if path else ()

    @cached_property
    def replay(self) -> Replay:
        """The steps that drew something, by path, each as it was worked."""
        return replayed(self.drawn, self.stated.values)

    @property
    def order(self) -> Mapping[str, int]:
        """Each step's path with its place in the draft."""
        return self.bound.order

    @property
    def stopped(self) -> bool:
        """True when something could not be worked."""
        return any(problem.stops for problem in self.problems)

    def step(self, path: str) -> BoundStep | None:
        """The step at a path, bound to what stands above it; None where none can be."""
        bound = self.bound.step(path)
        return bound if isinstance(bound, BoundStep) else None

    def bind(self, text: str, how: Reads, unit: Unit | None = None) -> Read:
        """A text bound with the whole draft above it.

        Args:
            unit: of its bare numbers; None for the draft's.

        Raises:
            SkirtwrightError: it cannot be read.
        """
        key = (text, how, unit)
        return self.worked_by.bound_texts.of(key, self.bound, text, how, unit)

    def read(self, text: str, how: Reads, unit: Unit | None = None) -> Any:
        """A working, condition, place or name, worked at the end of the draft.

        Args:
            unit: of its bare numbers; None for the draft's.

        Raises:
            SkirtwrightError: it cannot be read or worked, or leans on what is absent.
        """
        key = (text, how, unit)
        if key not in self.texts:
            read = self.bind(text, how, unit)
            leans = map(self.values.get, read.leans_on)
            self.texts[key] = read, self.worked_by.texts.of(key, read, *leans)
        return self.texts[key][1]

    def read_typed(self, text: str) -> float:
        """A length she typed, mm: bare numbers are in the order's unit.

        Raises:
            SkirtwrightError: it cannot be read or worked, or leans on what is absent.
        """
        return float(self.read(text, Reads.LENGTH, self.inputs.unit))

    def applies(self, choice: Choice) -> bool:
        """Whether a choice has a meaning as things stand; in doubt it has."""
        try:
            return choice.when is None or bool(self.read(choice.when, Reads.WHETHER))
        except SkirtwrightError:
            return True


class Reworking:
    """Works drafts one after another, remembering what need not be done again."""

    def __init__(self) -> None:
        self._stated = Remembered(Stating().state)
        self._memory = Memory()
        self.bound_texts = Remembered(_bound_text)
        self.texts = Remembered(_worked_text)
        self._last: Worked | None = None
        # It keeps what it binds here too; else it leans on what it is handed alone.
        self._written = Remembered(self._write_out)

    def state(self, draft: Draft, inputs: Inputs) -> Stated:
        """What a draft is to be worked from, before anything of it is.

        Raises:
            BadInput, NotFound: as `work`.
        """
        return self._stated.of("", draft, inputs)

    def work(self, draft: Draft, inputs: Inputs) -> Worked:
        """The draft worked with these inputs.

        Raises:
            BadInput: a measurement or amount cannot be read or used, or a needed
                measurement is missing.
            NotFound: a name that neither the body nor the draft knows.
        """
        stated = self.state(draft, inputs)
        texts = self.bound_texts, self.texts
        for kept in (self._memory, *texts, self._written):
            kept.next_round()
        bound = self._memory.bind(draft, stated.names)
        done = OnePass(self._memory, bound, stated.values, None, self._memory.passed)
        done.items("")
        self._memory.passed = done.passed()
        self._last = Worked(
            draft,
            inputs,
            done.bound,
            done.values,
            stated,
            (*stated.problems, *done.problems),
            tuple(self._memory.reworked),
            tuple(drawn for drawn in done.steps.values() if drawn[3]),
            tuple(done.numbers),
            self,
            self._still_read(done),
        )
        return self._last

    def _still_read(self, done: OnePass) -> dict[_Text, tuple[Read, Any]]:
        """The texts that were read of the last draft and come to the same in this."""
        if self._last is None or self._last.bound is not done.bound:
            return {}
        last, now = self._last.values, done.values
        changed = {name for name, value in now.items() if last.get(name) is not value}
        changed.update(last.keys() - now.keys())
        texts = tuple(self._last.texts.items())  # A thread may still read of it.
        same = {key: of for key, of in texts if changed.isdisjoint(of[0].leans_on)}
        for key in same:
            self.bound_texts.keep(key)
            self.texts.keep(key)
        return same

    def written_out(
        self, items: tuple[Repeated, ...], worked: Worked
    ) -> tuple[Repeated, ...]:
        """Pieces or seams of a draft, those of repeated groups once for each turn."""
        key, counts = tuple(map(type, items[:1])), turns_of(items, worked)
        found: tuple[Repeated, ...]
        found = self._written.of(key, items, worked.bound, counts)
        return found

    def _write_out(
        self, items: tuple[Any, ...], bound: BoundDraft, counts: tuple[int, ...]
    ) -> tuple[Any, ...]:
        def bind(text: str, how: Reads) -> Read:
            return self.bound_texts.of((text, how, None), bound, text, how, None)

        return tuple(written_out(items, counts, bind))

    def read(self, draft: Draft, inputs: Inputs, text: str, how: Reads) -> Any:
        """A text as the end of a draft would have it, working only what it hangs on.

        Raises:
            SkirtwrightError: it cannot be read or worked, or leans on what is absent.
        """
        stated = self.state(draft, inputs)

        def part(bound: BoundDraft) -> Part:
            read = self.bound_texts.of((text, how, None), bound, text, how, None)
            return self._memory.part(bound, read.leans_on)

        bound = self._memory.bind(draft, stated.names)
        before = self._memory.passed
        done = OnePass(self._memory, bound, stated.values, part, before)
        done.items("")
        read = self.bound_texts.of((text, how, None), done.bound, text, how, None)
        return _worked_text(read, *map(done.values.get, read.leans_on))


def _bound_text(bound: BoundDraft, text: str, how: Reads, unit: Unit | None) -> Read:
    """A text bound with the whole draft above it."""
    return read_text(text, how, StandingScope(bound.names, unit or bound.draft.unit))[0]


def _worked_text(read: Read, *leans: Any) -> Any:
    """A text worked from the values it leans on; None is a name without one."""
    pairs = zip(read.leans_on, leans, strict=True)
    try:
        return read.work({name: value for name, value in pairs if value is not None})
    except KeyError as missing:
        name = str(missing.args[0])
        raise BadInput("draft.leans_on_absent", name, name=name) from missing
