"""Working a draft: one pass down the list, reworking only what a change reaches.

A step is worked again when something it leans on is another value than last time;
when what it draws comes out equal, the old value is kept, so that nothing below
notices. Values are compared exactly: a drag of a hundredth is a change.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from skirtwright.draft.draft import KINDS, Draft, Find, Group
from skirtwright.draft.fields import BoundStep, bind_step, read_text
from skirtwright.draft.inputs import READS, Inputs, Stated, Stating
from skirtwright.draft.names import GIVEN, Names, Standing, StandingScope
from skirtwright.draft.panel import Panel
from skirtwright.draft.solving import find
from skirtwright.draft.step import Reads, Step
from skirtwright.problems import BadInput, Problem, SkirtwrightError

ABSENT = object()
"""Stands for a name that has no value."""

MOST_TURNS = 100
"""A group repeats at most this often."""


@dataclass(frozen=True)
class Reworked:
    """One step that was worked in a pass, and which names had changed for it."""

    path: str
    because: tuple[str, ...]


@dataclass(frozen=True)
class Worked:
    """A draft worked out.

    Attributes:
        values: every name with its value: mm, degrees, points, lines, panels.
        stated: the amounts, choices and measurements it was worked from.
        problems: what steps had to say, in order of the draft.
        reworked: the steps that had to be worked this time.
        made_by: for each name, the paths of the steps that drew it, in order.
        found_from: for each number that was found, the names it was found from.
        order: each step's path with its place in the draft.
    """

    draft: Draft
    inputs: Inputs
    values: Mapping[str, Any]
    stated: Stated
    problems: tuple[Problem, ...]
    reworked: tuple[Reworked, ...]
    made_by: Mapping[str, tuple[str, ...]]
    found_from: Mapping[str, tuple[str, ...]]
    order: Mapping[str, int]
    reworking: Reworking = field(repr=False, compare=False)

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

    def leans_on(self, text: str, how: Reads) -> tuple[str, ...]:
        """The names such a text leans on."""
        return self.reworking.bound_at_end(text, how).leans_on


@dataclass
class _Memo:
    step: Step
    leans: tuple[Any, ...]
    result: Any


@dataclass
class _FindMemo:
    group: Group
    leans: Mapping[str, Any]
    made: Mapping[str, Any]
    problems: tuple[Problem, ...]
    stopped: frozenset[str]
    made_by: Mapping[str, tuple[str, ...]]


class Reworking:
    """Works drafts one after another, remembering what need not be done again."""

    def __init__(self) -> None:
        self._draft: Draft | None = None
        self._names = Names()
        self._stating = Stating()
        self._bound: dict[tuple[str, tuple[tuple[str, int], ...]], BoundStep] = {}
        self._texts: dict[tuple[Any, ...], Any] = {}
        self._memos: dict[str, _Memo] = {}
        self._finds: dict[tuple[str, frozenset[str] | None], _FindMemo] = {}
        self._stated: dict[str, float] = {}
        self._found_from: dict[str, tuple[str, ...]] = {}
        self._order: dict[str, int] = {}

    def work(
        self, draft: Draft, inputs: Inputs, only: frozenset[str] | None = None
    ) -> Worked:
        """The draft worked with these inputs.

        Args:
            draft: the draft.
            inputs: what it is worked from.
            only: the paths of the steps to work, for a quick look at one place; None
                works all. The draft must have been worked whole before.

        Raises:
            BadInput: a measurement or amount cannot be read or used, or a needed
                measurement is missing.
        """
        if draft is not self._draft:
            self._draft = draft
            self._names = Names()
            self._bound, self._texts = {}, {}
            self._found_from, self._order = {}, {}
        stated = self._stating.state(draft, inputs, self._names)
        one_pass = _Pass(self, draft, stated, only)
        one_pass.items(draft.steps, Standing(), "", on=True)
        return Worked(
            draft,
            inputs,
            one_pass.values,
            stated,
            tuple(stated.problems) + tuple(one_pass.problems),
            tuple(one_pass.reworked),
            {name: tuple(paths) for name, paths in one_pass.made_by.items()},
            self._found_from,
            self._order,
            self,
        )

    def bound(self, path: str) -> BoundStep | None:
        """The step last worked at a path, bound to what stands above it."""
        found = None
        for (bound_path, _), bound in self._bound.items():
            if bound_path == path:
                found = bound
        return found

    def bound_at_end(self, text: str, how: Reads) -> Any:
        """A text bound with the whole draft above it."""
        return self._text(text, how, Standing())[0]

    def read_at_end(self, text: str, how: Reads, values: Mapping[str, Any]) -> Any:
        """A text worked with the whole draft above it."""
        read = self.bound_at_end(text, how)
        try:
            return read.work(values)
        except KeyError as missing:
            name = str(missing.args[0])
            raise BadInput("draft.leans_on_absent", name, name=name) from missing

    def _text(self, text: str, how: Reads, standing: Standing) -> tuple[Any, Any]:
        counts = tuple(sorted(self._names.counts.items()))
        key = (text, how, standing, counts)
        if key not in self._texts:
            assert self._draft is not None
            scope = StandingScope(self._names, self._draft.unit, standing)
            self._texts[key] = read_text(text, how, scope)
        found: tuple[Any, Any] = self._texts[key]
        return found


class _Pass:
    """One pass down a draft."""

    def __init__(
        self,
        reworking: Reworking,
        draft: Draft,
        stated: Stated,
        only: frozenset[str] | None,
    ) -> None:
        self.owner = reworking
        self.only = only
        self.names = reworking._names  # noqa: SLF001 - the two are one machine
        self.draft = draft
        self.values: dict[str, Any] = dict(stated.values)
        self.problems: list[Problem] = []
        self.stopped: set[str] = set()
        self.reworked: list[Reworked] = []
        self.made_by: dict[str, list[str]] = {}
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

    # Groups

    def _group(self, group: Group, standing: Standing, path: str, *, on: bool) -> None:
        if group.when is not None:
            holds = self._figure(group.when, Reads.WHETHER, standing, path, on=on)
            self.items(group.steps, standing, path, on=on and holds is True)
        elif group.repeat is not None:
            self._repeat(group, standing, path, on=on)
        elif group.find is not None:
            self._find(group, standing, path, on=on)
        else:
            self.items(group.steps, standing, path, on=on)

    def _figure(
        self, text: str, how: Reads, standing: Standing, path: str, *, on: bool
    ) -> Any:
        """A group's own working; None when it cannot be worked."""
        try:
            read, _ = self.owner._text(text, how, standing)  # noqa: SLF001
            self.leaned.update(read.leans_on)
            return read.work(self.values) if on else None
        except KeyError as missing:
            self._lean_fails(path, (str(missing.args[0]),))
        except SkirtwrightError as error:
            self._say(error.problem, path)
        return None

    def _repeat(self, group: Group, standing: Standing, path: str, *, on: bool) -> None:
        assert group.repeat is not None
        turns = self._figure(group.repeat, Reads.RATIO, standing, path, on=on)
        count = 0
        if turns is not None:
            count = round(turns)
            if abs(turns - count) > 1e-9 or not 0 <= count <= MOST_TURNS:
                problem = Problem(
                    "draft.not_a_count", values={"count": turns}, stops=True
                )
                self._say(problem, path)
                count = 0
        base = standing.prefix + group.group
        self.names.counts[base] = count
        for name, shape in group.start.items():
            self._start(f"{base}[0].{name}", shape, standing, path, on=on)
        for turn in range(1, max(count, 1) + 1):
            inner = Standing((f"{base}[{turn}].", *standing.prefixes), turn)
            runs = on and turn <= count
            self.items(group.steps, inner, f"{path}{turn}/", on=runs)

    def _start(
        self, name: str, text: str, standing: Standing, path: str, *, on: bool
    ) -> None:
        """A name that stands for the turn before the first."""
        owner = self.owner
        try:
            read, kind = owner._text(text, Reads.SHAPE, standing)  # noqa: SLF001
        except SkirtwrightError:
            read, kind = owner._text(text, Reads.FIGURE, standing)  # noqa: SLF001
        self.names.kinds[name] = kind
        if on:
            try:
                self.values[name] = read.work(self.values)
            except (KeyError, SkirtwrightError):
                self._lean_fails(path, read.leans_on)

    def _find(self, group: Group, standing: Standing, path: str, *, on: bool) -> None:
        assert group.find is not None
        rule = group.find
        unknown = standing.prefix + rule.unknown
        self.names.kinds[unknown] = KINDS[rule.kind]
        if not on:
            self.items(group.steps, standing, path, on=False)
            return
        if self.only is not None and not any(p.startswith(path) for p in self.only):
            return
        if self._found_before(group, path) or self._stated(group, standing, path):
            return
        outer, self.leaned = self.leaned, set()
        before = dict(self.values)
        problems, stopped = len(self.problems), set(self.stopped)
        made_before = {name: list(paths) for name, paths in self.made_by.items()}

        def reset() -> None:
            self.values = dict(before)
            del self.problems[problems:]
            self.stopped = set(stopped)
            self.made_by = {name: list(paths) for name, paths in made_before.items()}

        def difference(value: float) -> float | None:
            reset()
            self.values[unknown] = value
            self.items(group.steps, standing, path, on=True)
            if any(problem.stops for problem in self.problems[problems:]):
                return None
            first = self._figure(rule.match, Reads.FIGURE, standing, path, on=True)
            second = self._figure(rule.to, Reads.FIGURE, standing, path, on=True)
            return None if first is None or second is None else first - second

        how = READS[rule.kind]
        least = self._figure(rule.least, how, standing, path, on=True)
        most = self._figure(rule.most, how, standing, path, on=True)
        if least is not None and most is not None:
            self._settle(difference, least, most, path)
            self._remember(group, path, before, problems)
        leans = self._rule_leans(rule, standing)
        self.owner._found_from[unknown] = leans  # noqa: SLF001
        self.leaned |= outer

    def _rule_leans(
        self, rule: Find, standing: Standing, *, stated: bool = False
    ) -> tuple[str, ...]:
        """The names a found number hangs on, as far as they can be read by now."""
        texts = [rule.match, rule.to, rule.least, rule.most]
        if stated:
            texts = [rule.otherwise or "0"]
        leans: list[str] = []
        for text in texts:
            try:
                read, _ = self.owner._text(text, Reads.FIGURE, standing)  # noqa: SLF001
            except SkirtwrightError:
                continue
            leans.extend(read.leans_on)
        return tuple(dict.fromkeys(leans))

    def _stated(self, group: Group, standing: Standing, path: str) -> bool:
        """Work the run with a stated number where none is to be looked for."""
        rule = group.find
        if rule is None or rule.wanted is None or rule.otherwise is None:
            return False
        wanted = self._figure(rule.wanted, Reads.WHETHER, standing, path, on=True)
        if wanted is True:
            return False
        value = self._figure(
            rule.otherwise, READS[rule.kind], standing, path, on=True
        )
        if value is not None:
            name = standing.prefix + rule.unknown
            kept = self.owner._stated.get(name)  # noqa: SLF001
            if kept != value:
                self.owner._stated[name] = kept = value  # noqa: SLF001
            self.values[name] = kept
            self.owner._found_from[name] = self._rule_leans(  # noqa: SLF001
                rule, standing, stated=True
            )
        self.items(group.steps, standing, path, on=True)
        return True

    def _settle(self, difference: Any, least: float, most: float, path: str) -> None:
        """Search, leave the pass worked at the number found, and say a failure."""
        found = find(difference, least, most) if least <= most else None
        if found is None:
            if not any(problem.stops for problem in self.problems):
                problem = Problem(
                    "draft.cannot_be_found",
                    values={"least": least, "most": most},
                    stops=True,
                )
                self._say(problem, path)
            return
        difference(found.value)
        if not found.agrees:
            at_limit = "least" if found.value - least < most - found.value else "most"
            problem = Problem(
                "draft.cannot_agree",
                values={"miss": abs(found.miss), "limit": found.value, "end": at_limit},
                stops=True,
            )
            self._say(problem, path)

    def _remember(
        self, group: Group, path: str, before: dict[str, Any], problems: int
    ) -> None:
        made = {
            name: value
            for name, value in self.values.items()
            if before.get(name, ABSENT) is not value
        }
        self.owner._finds[path, self.only] = _FindMemo(  # noqa: SLF001
            group,
            {name: before.get(name, ABSENT) for name in self.leaned},
            made,
            tuple(self.problems[problems:]),
            frozenset(self.stopped),
            {
                name: tuple(p for p in paths if p.startswith(path))
                for name, paths in self.made_by.items()
            },
        )

    def _found_before(self, group: Group, path: str) -> bool:
        """Take over what was found last time, when nothing it leans on changed."""
        memo = self.owner._finds.get((path, self.only))  # noqa: SLF001
        if memo is None or memo.group is not group:
            return False
        if any(self.values.get(n, ABSENT) is not v for n, v in memo.leans.items()):
            return False
        self.leaned.update(memo.leans)
        self.values.update(memo.made)
        self.problems.extend(memo.problems)
        self.stopped.update(memo.stopped)
        for name in memo.stopped:
            self.values.pop(name, None)
        for name, paths in memo.made_by.items():
            self.made_by.setdefault(name, []).extend(paths)
        return True

    # Steps

    def _step(self, step: Step, standing: Standing, path: str, *, on: bool) -> None:
        if self.only is not None and path not in self.only:
            return
        try:
            bound = self._bound_step(step, standing, path)
        except SkirtwrightError as error:
            if on:
                self._say(error.problem, path)
            return
        if not on:
            return
        self.leaned.update(bound.leans_on, bound.results)
        leans = tuple(self.values.get(name, ABSENT) for name in bound.leans_on)
        memos = self.owner._memos  # noqa: SLF001
        memo = memos.get(path)
        if memo is None or not _alike(memo, step, leans):
            changed = _changed(memo, bound.leans_on, leans)
            self.reworked.append(Reworked(path, changed))
            result = self._draw(bound)
            if memo is not None and _equal(memo.result, result):
                result = memo.result
            memo = memos[path] = _Memo(step, leans, result)
        self._place(bound, memo.result, path)

    def _bound_step(self, step: Step, standing: Standing, path: str) -> BoundStep:
        key = (path, tuple(sorted(self.names.counts.items())))
        self.owner._order.setdefault(path, len(self.owner._order))  # noqa: SLF001
        bound = self.owner._bound.get(key)  # noqa: SLF001
        if bound is None or bound.step is not step:
            scope = StandingScope(self.names, self.draft.unit, standing)
            bound = bind_step(step, scope)
            self.owner._bound[key] = bound  # noqa: SLF001
        for name in bound.results:
            if not step.rewrites:
                self.names.kinds.setdefault(name, bound.kind)
        return bound

    def _draw(self, bound: BoundStep) -> Any:
        """What the step draws; a Problem when it cannot; ABSENT names as KeyError."""
        try:
            fields = {name: work(self.values) for name, work in bound.fields.items()}
            return bound.step.draw(**fields)
        except KeyError as missing:
            return _Missing(str(missing.args[0]))
        except SkirtwrightError as error:
            return error.problem

    def _place(self, bound: BoundStep, result: Any, path: str) -> None:
        """Give the step's names their values, or say why they have none."""
        if isinstance(result, _Missing):
            self._lean_fails(path, (result.name,), bound.results)
        elif isinstance(result, Problem):
            is_check = result.code.startswith("style.")
            self._say(result, path)
            if not is_check:
                self._lose(bound.results)
        elif result is not None:
            drawn = result if isinstance(result, dict) else {bound.results[0]: result}
            for name, value in zip(bound.results, drawn.values(), strict=True):
                self.values[name] = value
                self.made_by.setdefault(name, []).append(path)
                if isinstance(value, Panel):
                    self.names.panels.setdefault(name)

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
            problem = Problem(
                "draft.leans_on_absent", values={"name": missing[0]}, stops=True
            )
            self._say(problem, path)
        self._lose(results)

    def _say(self, problem: Problem, path: str) -> None:
        said = Problem(
            problem.code,
            problem.severity,
            path,
            problem.values,
            problem.says,
            problem.remedy,
            problem.stops,
        )
        self.problems.append(said)


@dataclass(frozen=True)
class _Missing:
    name: str


def _alike(memo: _Memo, step: Step, leans: tuple[Any, ...]) -> bool:
    if memo.step is not step and memo.step != step:
        return False
    return len(memo.leans) == len(leans) and all(
        old is new for old, new in zip(memo.leans, leans, strict=True)
    )


def _changed(
    memo: _Memo | None, names: tuple[str, ...], leans: tuple[Any, ...]
) -> tuple[str, ...]:
    if memo is None or len(memo.leans) != len(leans):
        return names
    return tuple(
        name
        for name, old, new in zip(names, memo.leans, leans, strict=True)
        if old is not new
    )


def _equal(old: Any, new: Any) -> bool:
    return type(old) is type(new) and bool(old == new)


__all__ = ["ABSENT", "GIVEN", "Reworked", "Reworking", "Worked"]
