"""A draft bound: each of its texts read where it stands, and what hangs on what.

Nothing here is worked. A draft is bound once for the measurements that are known and
for how often its groups repeat; whether a group's condition holds is all the same. What
each step makes is known at once; its texts are read when it is first worked or asked
for, since of most drafts more than half is not worked just now.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import partial
from typing import Any, Final, NamedTuple

from skirtwright.budget import spend
from skirtwright.draft.draft import KINDS, Draft, Find, Group
from skirtwright.draft.every_name import told_workings, unknown_facts
from skirtwright.draft.inputs import READS
from skirtwright.draft.names import Names, Standing, StandingScope
from skirtwright.draft.step import LaterStep, Read, Reads, Step
from skirtwright.draft.step_fields import (
    BoundStep,
    bind_step,
    read_text,
)
from skirtwright.measures.working_kinds import ANGLE, LENGTH, NUMBER, Kind
from skirtwright.problems import (
    BadInput,
    NotFound,
    Problem,
    SkirtwrightError,
    told_of,
)

SOUGHT, STATED = "?", "="
"""After a group's path: its number as it is looked for, or stated instead."""

_READS_OF: Final = {LENGTH: Reads.LENGTH, ANGLE: Reads.DEGREES}


class Node(NamedTuple):
    """What gives names a value: a step, or the number a group finds or begins with.

    Attributes:
        leans_on: the names it is worked from.
        conditions: the names that say whether it is.
        before: it reads what stands before this place in the draft.
    """

    leans_on: tuple[str, ...]
    conditions: tuple[str, ...]
    before: int


class Waiting(NamedTuple):
    """A step whose texts have not been read.

    Attributes:
        results: the full names it gives a value to.
    """

    step: Step | LaterStep
    standing: Standing
    conditions: tuple[str, ...]
    results: tuple[str, ...]


@dataclass(frozen=True)
class BoundGroup:
    """A group's own workings.

    Attributes:
        name: of the number it finds, or what its turns are counted under.
        reads: each working by its field, or why it cannot be read; those of the turn
            before the first by the full name.
    """

    name: str
    reads: Mapping[str, Read | Problem]


@dataclass(frozen=True, eq=False)
class BoundDraft:
    """A draft with all its texts bound.

    Attributes:
        given: the names of what is given to it.
        counts: how often each repeated group runs, by path; others do not.
        runs: the steps and groups that stand under a path, each with its own.
        steps: by path, each that was asked for bound, or why it cannot be.
        waiting: by path, the steps whose texts have not been read yet.
        groups: by path, those with workings of their own.
        nodes: by path, what gives names a value and was asked for.
        makers: for each name, the paths of what gives it one, in order.
        order: each path with its place in the draft.
        of_halves: the paths of steps of halves, by the step's identity.
    """

    draft: Draft
    given: Names
    names: Names
    counts: Mapping[str, int]
    runs: dict[str, tuple[tuple[Any, str], ...]] = field(default_factory=dict)
    steps: dict[str, BoundStep | Problem] = field(default_factory=dict)
    waiting: dict[str, Waiting] = field(default_factory=dict)
    groups: dict[str, BoundGroup] = field(default_factory=dict)
    nodes: dict[str, Node] = field(default_factory=dict)
    makers: dict[str, list[str]] = field(default_factory=dict)
    order: dict[str, int] = field(default_factory=dict)
    of_halves: dict[int, str] = field(default_factory=dict)
    _unread: list[tuple[Problem, ...]] = field(default_factory=list)

    def step(self, path: str) -> BoundStep | Problem | None:
        """The step at a path, bound where it stands, or why it cannot be."""
        one = self.waiting.pop(path, None)
        if one is not None:
            scope = StandingScope(
                self.names, self.draft.unit, one.standing, self.order[path]
            )
            try:
                bound = bind_step(one.step, scope, one.results, self._first(one))
            except SkirtwrightError as error:
                self.steps[path] = error.problem
            else:
                self.steps[path] = bound
                self.nodes[path] = Node(
                    bound.leans_on, one.conditions, self.order[path]
                )
        return self.steps.get(path)

    def _first(self, one: Waiting) -> tuple[str, BoundStep] | None:
        """The same step of the first half, where it stands in no turn of a group."""
        first = one.step.first if isinstance(one.step, LaterStep) else None
        if first is None or one.standing.prefixes:
            return None
        path = self.of_halves[id(first)]
        bound = self.step(path)
        return (path, bound) if isinstance(bound, BoundStep) else None

    def kind_of_first(self, name: str) -> Kind | None:
        """The kind of a number, of the first step that gives it one."""
        for path in self.makers[name]:
            bound = self.step(path)
            if isinstance(bound, BoundStep):
                return bound.kind
        return None

    def behind(
        self,
        names: Iterable[str],
        among: Callable[[str], bool],
    ) -> tuple[set[str], dict[str, None]]:
        """What some names hang on: the paths, and every name met on the way.

        Args:
            names: as they stand at the end.
            among: which paths are followed.
        """
        paths: set[str] = set()
        met: dict[str, None] = {}
        waiting = [(name, float("inf")) for name in names]
        while waiting:
            name, limit = waiting.pop()
            met[name] = None
            for path in self.makers.get(name, ()):
                if path in paths or self.order[path] >= limit or not among(path):
                    continue
                self.step(path)
                node = self.nodes.get(path)
                if node is None:
                    continue  # It cannot be read.
                paths.add(path)
                waiting += [(n, node.before) for n in node.conditions + node.leans_on]
        return paths, met

    @property
    def unread(self) -> tuple[Problem, ...]:
        """Why what the draft says of the finished skirt cannot be read, by its place.

        Nothing is drawn from that, so nobody would miss it.
        """
        if not self._unread:
            self._unread.append(tuple(self._find_unread()))
        return self._unread[0]

    def _find_unread(self) -> Iterator[Problem]:
        for unknown in unknown_facts(self.draft):
            yield replace(unknown.problem, stops=False)
        scope = StandingScope(self.names, self.draft.unit)
        for place, text, how in told_workings(self.draft):
            try:
                read_text(text, how, scope)
            except BadInput as error:
                problem = told_of(error, place).problem
                yield replace(problem, where=place, stops=False)
            except NotFound:
                continue  # It leans on what is not drawn, and that has been said.


def bind_draft(draft: Draft, names: Names, counts: Mapping[str, int]) -> BoundDraft:
    """A draft bound.

    Args:
        names: of what is given to it.
    """
    binding = _Binding(BoundDraft(draft, names, names.copy(), counts))
    binding.items(draft.steps, Standing(), "", ())
    return binding.made


class _Binding:
    """Goes down a draft once."""

    def __init__(self, made: BoundDraft) -> None:
        self.made = made

    def items(
        self,
        items: Iterable[Any],
        standing: Standing,
        above: str,
        conditions: tuple[str, ...],
    ) -> None:
        """Bind a run of steps and groups.

        Args:
            above: the path of the group it is in.
        """
        run = self.made.runs[above] = tuple(_with_paths(items, above))
        for item, path in run:
            spend("steps")
            if isinstance(item, Group):
                self._group(item, standing, path, conditions)
            else:
                self._step(item, standing, path, conditions)

    def _step(
        self,
        step: Step | LaterStep,
        standing: Standing,
        path: str,
        conditions: tuple[str, ...],
    ) -> None:
        made, before = self.made, standing.prefix
        results = step.results()
        if before:
            results = tuple([before + name for name in results])
        if step.rewrites:
            try:
                panel = self._scope(standing).find(step.results()[0])[0]
            except SkirtwrightError as error:
                made.steps[path] = error.problem
                return
            results = (panel, *results[1:])
        else:
            self._name(results, step.gives_number)
        if isinstance(step, LaterStep):
            made.of_halves[id(step)] = path
        made.waiting[path] = Waiting(step, standing, conditions, results)
        self._gives(path, results, None)

    def _name(self, results: tuple[str, ...], is_number: bool) -> None:
        """Names that a step makes are known from here on."""
        names = self.made.names
        for name in results:
            if name in names.kinds:
                continue
            names.since[name] = self._position
            names.kinds[name] = NUMBER if is_number else None
            if is_number:
                names.unread[name] = partial(self.made.kind_of_first, name)

    def _group(
        self, group: Group, standing: Standing, path: str, conditions: tuple[str, ...]
    ) -> None:
        if group.when is not None:
            reads = {"when": self._read(group.when, Reads.WHETHER, standing)}
            self.made.groups[path] = BoundGroup("", reads)
            conditions += leans_of(*reads.values())
            self.items(group.steps, standing, path, conditions)
        elif group.repeat is not None:
            self._repeat(group, group.repeat, standing, path, conditions)
        elif group.find is not None:
            self._find(group, group.find, standing, path, conditions)
        else:
            self.items(group.steps, standing, path, conditions)

    def _repeat(
        self,
        group: Group,
        turns: str,
        standing: Standing,
        path: str,
        conditions: tuple[str, ...],
    ) -> None:
        made, base = self.made, standing.prefix + group.group
        count = made.names.counts[base] = made.counts.get(path, 0)
        reads = {"repeat": self._read(turns, Reads.RATIO, standing)}
        conditions += leans_of(*reads.values())
        for short, text in group.start.items():
            name = f"{base}[0].{short}"
            read = reads[name] = self._start(name, text, standing)
            node = Node(leans_of(read), conditions, self._position)
            self._gives(f"{path}0/{short}", (name,), node)
        made.groups[path] = BoundGroup(base, reads)
        for turn in range(1, max(count, 1) + 1):
            inner = Standing((f"{base}[{turn}].", *standing.prefixes), turn)
            self.items(group.steps, inner, f"{path}{turn}/", conditions)

    def _start(self, name: str, text: str, standing: Standing) -> Read | Problem:
        """What stands for the turn before the first: something drawn, or a number."""
        for how in (Reads.FIGURE, Reads.SHAPE):
            try:
                read, kind = read_text(text, how, self._scope(standing))
            except SkirtwrightError as error:
                problem = error.problem
                continue
            self._know(name, kind)
            return read
        return problem

    def _find(
        self,
        group: Group,
        rule: Find,
        standing: Standing,
        path: str,
        conditions: tuple[str, ...],
    ) -> None:
        how = READS[rule.kind]
        unknown = standing.prefix + rule.unknown
        self._know(unknown, KINDS[rule.kind])
        reads = {
            name: self._read(text, how, standing)
            for name in ("otherwise", "least", "most")
            if (text := getattr(rule, name)) is not None
        }
        ends, wanted = leans_of(*reads.values()), conditions
        if rule.wanted is not None:
            reads["wanted"] = self._read(rule.wanted, Reads.WHETHER, standing)
            wanted += leans_of(reads["wanted"])
        if "otherwise" in reads:
            node = Node(leans_of(reads["otherwise"]), wanted, self._position)
            self._gives(path + STATED, (unknown,), node)
        self._gives(path + SOUGHT, (unknown,), Node((), wanted, self._position))
        self.items(group.steps, standing, path, conditions)
        alike = self._alike(rule, standing)
        reads["match"] = self._read(rule.match, alike, standing)
        reads["to"] = self._read(rule.to, alike, standing)
        leans = ends + leans_of(reads["match"], reads["to"])
        # It reads what its own run draws.
        self.made.nodes[path + SOUGHT] = Node(leans, wanted, self._position)
        self.made.groups[path] = BoundGroup(unknown, reads)

    def _alike(self, rule: Find, standing: Standing) -> Reads:
        """How both workings are read: a bare number is of the other's kind."""
        for text in (rule.match, rule.to):
            try:
                _, kind = read_text(text, Reads.FIGURE, self._scope(standing))
            except SkirtwrightError:
                continue
            if kind in _READS_OF:
                return _READS_OF[kind]
        return Reads.FIGURE

    # One text, one node

    @property
    def _position(self) -> int:
        return len(self.made.order)

    def _scope(self, standing: Standing) -> StandingScope:
        names, unit = self.made.names, self.made.draft.unit
        return StandingScope(names, unit, standing, self._position)

    def _read(self, text: str, how: Reads, standing: Standing) -> Read | Problem:
        try:
            return read_text(text, how, self._scope(standing))[0]
        except SkirtwrightError as error:
            return error.problem

    def _know(self, name: str, kind: Kind | None) -> None:
        """A group gives a name a value of this kind, whatever it was before."""
        names = self.made.names
        if name not in names.kinds:
            names.since[name] = self._position - 1
        names.kinds[name] = kind
        names.unread.pop(name, None)

    def _gives(self, path: str, names: tuple[str, ...], node: Node | None) -> None:
        self.made.order[path] = self._position
        if node is not None:
            self.made.nodes[path] = node
        for name in names:
            self.made.makers.setdefault(name, []).append(path)


def _with_paths(items: Iterable[Any], above: str) -> Iterator[tuple[Any, str]]:
    """Steps and groups with their paths; of two with one name the later is counted."""
    met = Counter[str]()
    for item in items:
        name, end = (item.group, "/") if isinstance(item, Group) else (item.step, "")
        met[name + end] += 1
        number = f"~{met[name + end]}" if met[name + end] > 1 else ""
        yield item, f"{above}{name}{number}{end}"


def leans_of(*reads: Read | Problem) -> tuple[str, ...]:
    """The names that some workings lean on, as far as they could be read."""
    return tuple(
        name for read in reads if isinstance(read, Read) for name in read.leans_on
    )
