"""One pass down a draft: steps worked in order, what stays the same passed over."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from itertools import zip_longest
from typing import Any, NamedTuple

from skirtwright.budget import REACH, spend
from skirtwright.draft.counting import whole_number
from skirtwright.draft.draft import Draft, Group
from skirtwright.draft.names import Names
from skirtwright.draft.shapes.panel import lies_within
from skirtwright.draft.solving import SearchEnd, find
from skirtwright.draft.step import Step
from skirtwright.draft.step_fields import BoundStep
from skirtwright.draft.working.binding import (
    SOUGHT,
    STATED,
    BoundDraft,
    bind_draft,
    leans_of,
)
from skirtwright.problems import Problem, SkirtwrightError
from skirtwright.remembered import Remembered

Drawn = tuple[str, BoundStep, tuple[Any, ...], tuple[Any, ...]]
"""A step as it was worked: its path, and the step bound to what stands above it; the
values of the names it leans on, None where one has none; and what it drew, in the order
of the step's results. A plain tuple: one is made for every step of every pass."""


class Reworked(NamedTuple):
    """One step that was worked in a pass.

    Attributes:
        before: the values they had when it was worked before, if it was.
    """

    path: str
    leans_on: tuple[str, ...]
    before: tuple[Any, ...]
    now: tuple[Any, ...]

    @property
    def because(self) -> tuple[str, ...]:
        """The names that had changed for it; all of them where none had."""
        pairs = zip_longest(self.leans_on, self.before, self.now)
        changed = tuple(name for name, was, value in pairs if was != value)
        return changed or self.leans_on


class Part(NamedTuple):
    """Some of a draft's steps.

    Attributes:
        paths: theirs, and those of the groups round them.
        leans_on: the names they and their groups lean on.
    """

    paths: frozenset[str]
    leans_on: tuple[str, ...]


class Passed(NamedTuple):
    """A pass down the whole of a draft, for the next one to go by.

    Attributes:
        steps: by path, what was worked, checks that had nothing to say too.
        numbers: by path, the numbers groups found, stated or began with.
        held: the paths of the groups whose condition held.
    """

    bound: BoundDraft
    given: Mapping[str, Any]
    steps: Mapping[str, Drawn]
    numbers: Mapping[str, Any]
    held: frozenset[str]


class Memory:
    """Everything kept from one pass to the next; it changes no answer.

    Attributes:
        passed: the last pass down the whole of a draft. A step of which no name has
            changed since is as it was there: to be asked of each step what it leans on
            takes longer than all that a pull changes.
        reworked: the steps worked since the round began.
    """

    def __init__(self) -> None:
        self.bound = Remembered(bind_draft)
        self.parts = Remembered(_part)
        self.drawn = Remembered(_draw, self._note)
        # It keeps what it draws here too; else it leans on what it is handed alone.
        self.found = Remembered(self._seek)
        self.passed: Passed | None = None
        self.reworked: list[Reworked] = []

    def next_round(self) -> None:
        """Begin a pass down the whole of a draft."""
        for kept in (self.parts, self.drawn, self.found):
            kept.next_round()
        self.reworked = []

    def bind(self, draft: Draft, names: Names) -> BoundDraft:
        """A draft bound, its groups repeated as they last were."""
        last = self.bound.last("")
        counts = last[1].counts if last and last[0][0] is draft else {}
        return self.bound.of("", draft, names, counts)

    def part(self, bound: BoundDraft, names: tuple[str, ...], group: str = "") -> Part:
        """What some names hang on, in the whole draft or inside a group."""
        return self.parts.of((names, group), bound, names, group)

    def draw(self, path: str, bound: BoundStep, leans: tuple[Any, ...]) -> Any:
        """What a step draws: from the same values what the first half drew."""
        if bound.first is not None:
            first, like = bound.first
            last = self.drawn.last(first)
            if last and isinstance(last[1], tuple) and last[0] == (like, *leans):
                return last[1]
        return self.drawn.of(path, bound, *leans)

    def _note(self, path: str, before: tuple[Any, ...], now: tuple[Any, ...]) -> None:
        names = now[0].leans_on
        self.reworked.append(Reworked(path, names, before[1 : len(now)], now[1:]))

    def _seek(
        self,
        bound: BoundDraft,
        path: str,
        limits: tuple[float, float, float | None],
        *leans: Any,
    ) -> tuple[float, SearchEnd | None]:
        """Where a search ended and what it found there, if anything could be worked.

        Args:
            bound: the draft.
            limits: the least, the most, and a number likely to be near.
            leans: the values of the names that its two workings hang on, where the
                group begins.
        """
        group = bound.groups[path]
        pairs = zip(_trial(self, bound, path).leans_on, leans, strict=True)
        start = {name: value for name, value in pairs if value is not None}
        least, most, first = limits
        tried = least

        def difference(value: float) -> float | None:
            nonlocal tried
            spend("steps")
            tried = value
            values = {**start, group.name: value}
            trial = OnePass(self, bound, values, lambda now: _trial(self, now, path))
            trial.items(path)
            if any(problem.stops for problem in trial.problems):
                return None
            match, to = trial.figure(path, "match"), trial.figure(path, "to")
            return None if match is None or to is None else float(match - to)

        found = find(difference, least, most, first) if least <= most else None
        return (tried if found is None else found.value), found


def _trial(memory: Memory, bound: BoundDraft, path: str) -> Part:
    """What the two workings that must agree hang on, inside their group."""
    reads = bound.groups[path].reads
    return memory.part(bound, leans_of(reads["match"], reads["to"]), path)


def _part(bound: BoundDraft, names: tuple[str, ...], group: str) -> Part:
    """What some names hang on: in the whole draft, or inside a group that seeks."""
    own = (group + SOUGHT, group + STATED)

    def inside(path: str) -> bool:
        return path.startswith(group) and path not in own

    paths, met = bound.behind(names, inside)
    paths |= {path[: at + 1] for path in paths for at, c in enumerate(path) if c == "/"}
    return Part(frozenset(paths), tuple(met))


def _draw(bound: BoundStep, *leans: Any) -> Any:
    """What a step draws, a tuple; a Problem, or _Missing, when it cannot."""
    drawn = _drawn_by(bound, leans)
    if isinstance(drawn, tuple) or isinstance(bound.source, Step):
        return drawn
    # What is told of it names its own half.
    own = bound.own()
    values = dict(zip(bound.leans_on, leans, strict=True))
    return _drawn_by(own, tuple(map(values.get, own.leans_on)))


def _drawn_by(bound: BoundStep, leans: tuple[Any, ...]) -> Any:
    try:
        # A name that has no value is None here, which no value is.
        result = bound.draw(leans)
    except KeyError as missing:
        return _Missing(str(missing.args[0]))
    except SkirtwrightError as error:
        name = _valueless(error)
        return error.problem if name is None else _Missing(name)
    except (ValueError, ArithmeticError) as trouble:
        # Geometry met numbers no skirt has; she is told at which step.
        reason = {"reason": str(trouble)}
        return Problem("draft.cannot_be_drawn", values=reason, stops=True)
    if result is None or isinstance(result, Problem):
        return result or ()
    drawn = tuple(result.values()) if isinstance(result, Mapping) else (result,)
    if all(lies_within(value, REACH) for value in drawn):
        return drawn
    return Problem("draft.out_of_reach", values={"most": REACH}, stops=True)


class OnePass:
    """The state of one pass; see `skirtwright.draft.working.recompute.Worked`.

    Args:
        part: gives the steps to work, when not all of them.
        before: an earlier pass to go by.
    """

    def __init__(
        self,
        memory: Memory,
        bound: BoundDraft,
        values: Mapping[str, Any],
        part: Callable[[BoundDraft], Part] | None = None,
        before: Passed | None = None,
    ) -> None:
        self.memory = memory
        self.values = dict(values)
        self.problems: list[Problem] = []
        self.steps: dict[str, Drawn] = {}
        self.numbers: dict[str, Any] = {}
        self._given = values
        self._held: set[str] = set()
        self._stopped: set[str] = set()
        self._part = part
        self._before = before
        # The names that may have another value here than the earlier pass had here.
        self._changed = _changed(before.given, values) if before else set[str]()
        self._first = bound
        self._turn_to(bound)

    def passed(self) -> Passed | None:
        """The pass, for the next to go by; None where groups came to other turns."""
        if self.bound is not self._first:
            return None
        held = frozenset(self._held)
        return Passed(self.bound, self._given, self.steps, self.numbers, held)

    def items(self, above: str) -> None:
        """Work the run of steps and groups that stands under a path."""
        for item, path in self.bound.runs[above]:
            if isinstance(item, Group):
                self._group(item, path)
            else:
                self._step(path)

    def figure(self, path: str, name: str) -> Any:
        """A group's own working; None, and said, when it cannot be worked."""
        read = self.bound.groups[path].reads[name]
        if isinstance(read, Problem):
            self._say(read, path)
            return None
        try:
            return read.work(self.values)
        except KeyError as missing:
            self._lean_fails(path, (str(missing.args[0]),))
        except SkirtwrightError as error:
            lost = _valueless(error)
            if lost is None:
                self._say(error.problem, path)
            else:
                self._lean_fails(path, (lost,))
        return None

    def _turn_to(self, bound: BoundDraft) -> None:
        self.bound = bound
        self._only = self._part(bound).paths if self._part else None
        if self._before is not None and self._before.bound is not bound:
            self._before = None

    def _is_left_out(self, path: str) -> bool:
        return self._only is not None and path not in self._only

    def _say(self, problem: Problem, path: str) -> None:
        """Keep a problem, with the place it came up at."""
        self.problems.append(replace(problem, where=path))

    # Groups

    def _group(self, group: Group, path: str) -> None:
        if self._is_left_out(path):
            return
        spend("steps")
        if group.when is not None:
            if self.figure(path, "when") is True:
                self._held.add(path)
                self.items(path)
            else:
                if self._before is not None and path in self._before.held:
                    # Nothing is known of the names it gave a value to there.
                    self._before = None
                self._repeats_not(path)
        elif group.repeat is not None:
            self._repeat(group, path)
        elif group.find is not None:
            self._find(path)
        else:
            self.items(path)

    def _repeat(self, group: Group, path: str) -> None:
        count = self._turns(path)
        self._count({path: count})
        base = self.bound.groups[path].name
        for short in group.start:
            start, name = f"{path}0/{short}", f"{base}[0].{short}"
            if not self._is_left_out(start):
                self._number(start, name, self.figure(path, name))
        for turn in range(1, count + 1):
            self.items(f"{path}{turn}/")

    def _turns(self, path: str) -> int:
        turns = self.figure(path, "repeat")
        if turns is None:
            return 0
        count = whole_number(turns)
        if count is None:
            values = {"count": turns}
            self._say(Problem("draft.not_a_count", values=values, stops=True), path)
            return 0
        return count

    def _repeats_not(self, path: str) -> None:
        """What would repeat in a group that is not worked does not."""
        inside = [known for known in self.bound.counts if known.startswith(path)]
        self._count(dict.fromkeys(inside, 0))

    def _count(self, turns: Mapping[str, int]) -> None:
        """Groups run so often from here on; what is bound is bound for that."""
        bound = self.bound
        counts = {path: n for path, n in {**bound.counts, **turns}.items() if n}
        if counts != bound.counts:
            spend("steps", len(bound.order))
            names = bound.given
            self._turn_to(self.memory.bound.of("", bound.draft, names, counts))

    def _number(self, path: str, name: str, value: Any) -> None:
        """A number that a group gives, or that it has none."""
        if value is None:
            self._lose((name,))
        else:
            self.numbers[path] = self.values[name] = value
            was = self._before.numbers.get(path) if self._before else None
            self._note(name, value, was)

    # Numbers that are found

    def _find(self, path: str) -> None:
        if self._is_left_out(path + SOUGHT):
            # Nothing that is worked here hangs on the number.
            self.items(path)
            return
        reads, name = self.bound.groups[path].reads, self.bound.groups[path].name
        may_be_stated = "wanted" in reads and "otherwise" in reads
        if may_be_stated and self.figure(path, "wanted") is not True:
            self._number(path + STATED, name, self.figure(path, "otherwise"))
            self.items(path)
        else:
            self._seek(path, name)

    def _seek(self, path: str, name: str) -> None:
        """Work a group at the number it finds, and say a failure."""
        said = len(self.problems)
        limits = tuple(
            self.figure(path, n)
            for n in ("least", "most", "otherwise")
            if n in self.bound.groups[path].reads
        )
        least, most, first = (*limits, None)[:3]
        if least is None or most is None:
            self._lose((name,))
            self.items(path)
            return
        leans_on = _trial(self.memory, self.bound, path).leans_on
        leans = map(self.values.get, leans_on)
        search = (self.bound, path, (least, most, first))
        value, found = self.memory.found.of(path, *search, *leans)
        self._number(path + SOUGHT, name, value)
        self.items(path)
        values: dict[str, Any] = {"least": least, "most": most}
        if found is None:
            self.figure(path, "match")
            self.figure(path, "to")
            if not any(problem.stops for problem in self.problems[said:]):
                failure = Problem("draft.cannot_be_found", values=values, stops=True)
                self._say(failure, path)
        elif not found.agrees:
            end = "least" if value - least < most - value else "most"
            values = {"miss": abs(found.miss), "limit": value, "end": end}
            self._say(Problem("draft.cannot_agree", values=values, stops=True), path)

    # Steps

    def _step(self, path: str) -> None:
        if self._is_left_out(path):
            return
        spend("steps")
        was = self._before.steps.get(path) if self._before is not None else None
        if was is not None and self._changed.isdisjoint(was[1].leans_on):
            self.memory.drawn.keep(path)
            self._take(path, was, was)
            return
        bound = self.bound.step(path)
        if not isinstance(bound, BoundStep):
            if bound is not None:
                self._say(bound, path)
            return
        leans = tuple(map(self.values.get, bound.leans_on))
        result = self.memory.draw(path, bound, leans)
        if isinstance(result, tuple):
            self._take(path, (path, bound, leans, result), was)
        elif isinstance(result, _Missing):
            self._lean_fails(path, (result.name,), bound.results)
        else:
            self._say(result, path)
            # A check that speaks draws nothing, so nothing leans on it.
            if result.says is None:
                self._lose(bound.results)

    def _take(self, path: str, drawn: Drawn, was: Drawn | None) -> None:
        """Take what a step drew; a check that has nothing to say draws nothing."""
        self.steps[path] = drawn
        before = was[3] if was is not None else ()
        for number, name in enumerate(drawn[1].results if drawn[3] else ()):
            self.values[name] = drawn[3][number]
            self._note(name, drawn[3][number], before[number] if before else None)

    def _note(self, name: str, value: Any, was: Any) -> None:
        if value is was or (isinstance(value, float) and value == was):
            self._changed.discard(name)
        else:
            self._changed.add(name)

    def _lose(self, names: tuple[str, ...]) -> None:
        for name in names:
            self.values.pop(name, None)
            self._stopped.add(name)
            self._changed.add(name)

    def _lean_fails(
        self, path: str, names: tuple[str, ...], results: tuple[str, ...] = ()
    ) -> None:
        """A step leans on what has no value; say so unless that was said already."""
        missing = [name for name in names if name not in self.values]
        if missing and not any(name in self._stopped for name in missing):
            values = {"name": missing[0]}
            self._say(Problem("draft.leans_on_absent", values=values, stops=True), path)
        self._lose(results)


def _changed(before: Mapping[str, Any], now: Mapping[str, Any]) -> set[str]:
    """The names whose values are not what they were."""
    changed = {name for name in before if name not in now}
    changed.update(name for name in now if before.get(name) != now[name])
    return changed


@dataclass(frozen=True)
class _Missing:
    """A name that had no value when a step was drawn."""

    name: str


def _valueless(error: SkirtwrightError) -> str | None:
    """The name that had no value when a working was worked; None for other troubles."""
    if error.problem.code != "workings.no_value":
        return None
    return str(error.problem.values["name"])
