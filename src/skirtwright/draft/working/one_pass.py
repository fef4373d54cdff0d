"""One pass down a draft: steps worked in order, what stays the same passed over."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Any

from skirtwright.budget import MOST_TURNS, REACH, spend
from skirtwright.draft.draft import Group
from skirtwright.draft.fields import BoundStep, bind_step
from skirtwright.draft.inputs import Stated
from skirtwright.draft.names import Standing
from skirtwright.draft.shapes.panel import Panel, lies_within
from skirtwright.draft.step import Reads, Step
from skirtwright.draft.working.memory import Memo, Memory, Ran
from skirtwright.draft.working.searching import search
from skirtwright.problems import Problem, SkirtwrightError


@dataclass(frozen=True)
class Reworked:
    """One step that was worked in a pass, and which names had changed for it."""

    path: str
    because: tuple[str, ...]


@dataclass(frozen=True)
class Part:
    """Some of a draft's steps.

    Attributes:
        only: their paths.
        rest: the values of names that none of them makes, from the whole draft.
    """

    only: frozenset[str]
    rest: Mapping[str, Any]


@lru_cache(maxsize=100)
def _groups_round(paths: frozenset[str]) -> frozenset[str]:
    """The paths of the groups, the outer ones too, that steps stand in."""
    return frozenset(
        path[: at + 1] for path in paths for at, sign in enumerate(path) if sign == "/"
    )


class OnePass:
    """The state of one pass; see `skirtwright.draft.working.recompute.Worked`.

    Args:
        memory: what is remembered from earlier passes.
        stated: the values it starts from.
        part: the steps to work, when not all of them.
    """

    def __init__(self, memory: Memory, stated: Stated, part: Part | None) -> None:
        self.memory = memory
        self.only = part.only if part else None
        self._inside = _groups_round(part.only) if part else None
        self.values: dict[str, Any] = {**(part.rest if part else {}), **stated.values}
        self.problems: list[Problem] = []
        self.stopped: set[str] = set()
        self.reworked: list[Reworked] = []
        self.ran: list[Ran] = []
        self.leaned: set[str] = set()

    def items(
        self, items: tuple[Any, ...], standing: Standing, above: str, *, on: bool
    ) -> None:
        """Work a run of steps and groups; when not `on`, only learn their names."""
        for item in items:
            if isinstance(item, Group):
                self._group(item, standing, f"{above}{item.group}/", on=on)
            else:
                self._step(item, standing, above + item.step, on=on)

    def figure(self, text: str, how: Reads, standing: Standing, path: str) -> Any:
        """A group's own working; None, and said, when it cannot be worked."""
        try:
            read, _ = self.memory.text(text, how, standing)
            self.leaned.update(read.leans_on)
            return read.work(self.values)
        except KeyError as missing:
            self._lean_fails(path, (str(missing.args[0]),))
        except SkirtwrightError as error:
            name = _valueless(error)
            if name is None:
                self.say(error.problem, path)
            else:
                self._lean_fails(path, (name,))
        return None

    def say(self, problem: Problem, path: str) -> None:
        """Keep a problem, with the place it came up at."""
        self.problems.append(replace(problem, where=path))

    # Groups

    def _group(self, group: Group, standing: Standing, path: str, *, on: bool) -> None:
        if self._inside is not None and path not in self._inside:
            return
        spend("steps")
        if group.when is not None:
            holds = on and self.figure(group.when, Reads.WHETHER, standing, path)
            self.items(group.steps, standing, path, on=holds is True)
        elif group.repeat is not None:
            self._repeat(group, group.repeat, standing, path, on=on)
        elif group.find is not None:
            search(self, group, group.find, standing, path, on=on)
        else:
            self.items(group.steps, standing, path, on=on)

    def _repeat(
        self, group: Group, turns: str, standing: Standing, path: str, *, on: bool
    ) -> None:
        count = self._turns(turns, standing, path) if on else 0
        base = standing.prefix + group.group
        self.memory.count(base, count)
        # Whatever is bound is bound for the counts of all groups.
        spend("steps", len(self.memory.counts))
        for name, shape in group.start.items():
            self._start(f"{base}[0].{name}", shape, standing, path, on=on)
        for turn in range(1, max(count, 1) + 1):
            inner = Standing((f"{base}[{turn}].", *standing.prefixes), turn)
            runs = on and turn <= count
            self.items(group.steps, inner, f"{path}{turn}/", on=runs)

    def _turns(self, text: str, standing: Standing, path: str) -> int:
        turns = self.figure(text, Reads.RATIO, standing, path)
        if turns is None:
            return 0
        count: int = round(turns)
        if abs(turns - count) > 1e-9 or not 0 <= count <= MOST_TURNS:
            values = {"count": turns}
            self.say(Problem("draft.not_a_count", values=values, stops=True), path)
            return 0
        return count

    def _start(
        self, name: str, text: str, standing: Standing, path: str, *, on: bool
    ) -> None:
        """A name that stands for the turn before the first."""
        try:
            read, kind = self.memory.text(text, Reads.FIGURE, standing)
        except SkirtwrightError:
            read, kind = self.memory.text(text, Reads.SHAPE, standing)
        self.memory.names.kinds[name] = kind
        self.leaned.update(read.leans_on)
        if on:
            try:
                self.values[name] = read.work(self.values)
            except (KeyError, SkirtwrightError):
                self._lean_fails(path, read.leans_on)

    # Steps

    def _step(self, step: Step, standing: Standing, path: str, *, on: bool) -> None:
        if self.only is not None and path not in self.only:
            return
        spend("steps")
        try:
            bound = self._bound_step(step, standing, path)
        except SkirtwrightError as error:
            if on:
                self.say(error.problem, path)
            return
        if not on:
            return
        self.leaned.update(bound.leans_on, bound.results)
        # A name that has no value is None here, which no value is.
        leans = tuple(map(self.values.get, bound.leans_on))
        memo = self.memory.memos.get(path)
        if memo is None or not memo.holds_for(step, leans):
            self.reworked.append(Reworked(path, _changed(memo, bound, leans)))
            result = _in_reach(self._draw(bound))
            if memo is not None and _equal(memo.result, result):
                result = memo.result
            memo = self.memory.memos[path] = Memo(step, leans, result)
        self._place(bound, memo.result, path)

    def _bound_step(self, step: Step, standing: Standing, path: str) -> BoundStep:
        memory = self.memory
        known = memory.bound.get(path)
        if known and known[0] == memory.counts and known[1].step is step:
            return known[1]
        memory.order.setdefault(path, len(memory.order))
        bound = bind_step(step, memory.scope(standing))
        memory.bound[path] = (memory.counts, bound)
        if not step.rewrites:
            for name in bound.results:
                memory.names.kinds.setdefault(name, bound.kind)
        return bound

    def _draw(self, bound: BoundStep) -> Any:
        """What the step draws; a Problem, or _Missing, when it cannot."""
        try:
            fields = {name: work(self.values) for name, work in bound.fields.items()}
            return bound.step.draw(**fields)
        except KeyError as missing:
            return _Missing(str(missing.args[0]))
        except SkirtwrightError as error:
            name = _valueless(error)
            return error.problem if name is None else _Missing(name)
        except (ValueError, ArithmeticError) as trouble:
            # Geometry met numbers no skirt has; she is told at which step.
            values = {"reason": str(trouble)}
            return Problem("draft.cannot_be_drawn", values=values, stops=True)

    def _place(self, bound: BoundStep, result: Any, path: str) -> None:
        """Give the step's names their values, or say why they have none."""
        if isinstance(result, _Missing):
            self._lean_fails(path, (result.name,), bound.results)
        elif isinstance(result, Problem):
            self.say(result, path)
            # A check that speaks draws nothing, so nothing leans on it.
            if result.says is None:
                self._lose(bound.results)
        elif result is not None:
            drawn = result.values() if isinstance(result, Mapping) else (result,)
            self.ran.append((path, bound.results))
            for name, value in zip(bound.results, drawn, strict=True):
                self.values[name] = value
                if isinstance(value, Panel):
                    self.memory.names.panels.setdefault(name)

    def _lose(self, names: tuple[str, ...]) -> None:
        for name in names:
            self.values.pop(name, None)
            self.stopped.add(name)

    def _lean_fails(
        self, path: str, names: tuple[str, ...], results: tuple[str, ...] = ()
    ) -> None:
        """A step leans on what has no value; say so unless that was said already."""
        missing = [name for name in names if name not in self.values]
        if missing and not any(name in self.stopped for name in missing):
            values = {"name": missing[0]}
            self.say(Problem("draft.leans_on_absent", values=values, stops=True), path)
        self._lose(results)


@dataclass(frozen=True)
class _Missing:
    """A name that had no value when a step was drawn."""

    name: str


def _in_reach(result: Any) -> Any:
    """What was drawn; a Problem where it lies further off than any skirt reaches."""
    drawn = result.values() if isinstance(result, Mapping) else (result,)
    if all(lies_within(value, REACH) for value in drawn):
        return result
    return Problem("draft.out_of_reach", values={"most": REACH}, stops=True)


def _valueless(error: SkirtwrightError) -> str | None:
    """The name that had no value when a working was worked; None for other troubles."""
    if error.problem.code != "workings.no_value":
        return None
    return str(error.problem.values["name"])


def _changed(
    memo: Memo | None, bound: BoundStep, leans: tuple[Any, ...]
) -> tuple[str, ...]:
    if memo is None or len(memo.leans) != len(leans):
        return bound.leans_on
    return tuple(
        name
        for name, old, new in zip(bound.leans_on, memo.leans, leans, strict=True)
        if old is not new
    )


def _equal(old: Any, new: Any) -> bool:
    return type(old) is type(new) and bool(old == new)
