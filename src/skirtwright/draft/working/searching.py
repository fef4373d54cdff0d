"""Groups that find a number: their run is worked again until two workings agree."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from skirtwright.budget import spend
from skirtwright.draft.draft import KINDS, Find, Group
from skirtwright.draft.inputs import READS
from skirtwright.draft.names import Standing
from skirtwright.draft.step import Reads
from skirtwright.draft.working.memory import ABSENT, FindMemo
from skirtwright.draft.working.solving import find
from skirtwright.measures.working_kinds import ANGLE, LENGTH
from skirtwright.problems import Problem, SkirtwrightError

if TYPE_CHECKING:
    from skirtwright.draft.working.one_pass import OnePass

_READS_OF = {LENGTH: Reads.LENGTH, ANGLE: Reads.DEGREES}


def search(
    work: OnePass,
    group: Group,
    rule: Find,
    standing: Standing,
    path: str,
    *,
    on: bool,
) -> None:
    """Work a group at the number it finds; when not `on`, only learn its names."""
    unknown = standing.prefix + rule.unknown
    work.memory.names.kinds[unknown] = KINDS[rule.kind]
    if not on:
        work.items(group.steps, standing, path, on=False)
        return
    # What is stated comes first: what was found before does not lean on whether a
    # number is wanted.
    if _stated(work, group, rule, standing, path) or _found_before(work, group, path):
        return
    outer, work.leaned = work.leaned, set()
    before, said, ran = dict(work.values), len(work.problems), len(work.ran)
    least = work.figure(rule.least, READS[rule.kind], standing, path)
    most = work.figure(rule.most, READS[rule.kind], standing, path)
    if least is not None and most is not None:
        difference = _difference(work, group, rule, standing, path)
        first = None
        if rule.otherwise is not None:
            first = work.figure(rule.otherwise, READS[rule.kind], standing, path)
        tried = _Trials(difference, least, most, first)
        _settle(work, tried, unknown, said, path)
        _remember(work, group, path, before, said, ran)
    texts = (rule.match, rule.to, rule.least, rule.most)
    work.memory.found_from[unknown] = _leans(work, texts, standing)
    work.leaned |= outer


def _difference(
    work: OnePass, group: Group, rule: Find, standing: Standing, path: str
) -> Callable[[float], float | None]:
    """The difference of the two workings for a trial number, from one same start."""
    unknown = standing.prefix + rule.unknown
    before, stopped = dict(work.values), set(work.stopped)
    said, ran = len(work.problems), len(work.ran)

    def difference(value: float) -> float | None:
        spend("steps")
        work.values = {**before, unknown: value}
        del work.problems[said:]
        work.stopped = set(stopped)
        del work.ran[ran:]
        work.items(group.steps, standing, path, on=True)
        if any(problem.stops for problem in work.problems[said:]):
            return None
        alike = _alike(work, rule, standing)
        first = work.figure(rule.match, alike, standing, path)
        second = work.figure(rule.to, alike, standing, path)
        return None if first is None or second is None else float(first - second)

    return difference


def _alike(work: OnePass, rule: Find, standing: Standing) -> Reads:
    """How both workings are read: a bare number is of the other's kind."""
    for text in (rule.match, rule.to):
        try:
            _, kind = work.memory.text(text, Reads.FIGURE, standing)
        except SkirtwrightError:
            continue
        if kind is not None and kind in _READS_OF:
            return _READS_OF[kind]
    return Reads.FIGURE


@dataclass(frozen=True)
class _Trials:
    """What a search tries, and where it looks."""

    difference: Callable[[float], float | None]
    least: float
    most: float
    first: float | None


def _settle(work: OnePass, trials: _Trials, unknown: str, said: int, path: str) -> None:
    """Search, leave the pass worked at the number found, and say a failure."""
    least, most = trials.least, trials.most
    found = None
    if least <= most:
        found = find(trials.difference, least, most, trials.first)
    if found is None:
        if not any(problem.stops for problem in work.problems[said:]):
            values: dict[str, Any] = {"least": least, "most": most}
            work.say(Problem("draft.cannot_be_found", values=values, stops=True), path)
        return
    if work.values.get(unknown) != found.value:
        trials.difference(found.value)
    if not found.agrees:
        end = "least" if found.value - least < most - found.value else "most"
        values = {"miss": abs(found.miss), "limit": found.value, "end": end}
        work.say(Problem("draft.cannot_agree", values=values, stops=True), path)


def _stated(
    work: OnePass, group: Group, rule: Find, standing: Standing, path: str
) -> bool:
    """Work the run with a stated number where none is to be looked for."""
    if rule.wanted is None or rule.otherwise is None:
        return False
    if work.figure(rule.wanted, Reads.WHETHER, standing, path) is True:
        return False
    value = work.figure(rule.otherwise, READS[rule.kind], standing, path)
    if value is not None:
        unknown = standing.prefix + rule.unknown
        # A number that stays equal stays the same object: nothing below notices.
        if work.memory.stated.get(unknown) != value:
            work.memory.stated[unknown] = value
        work.values[unknown] = work.memory.stated[unknown]
        leans = _leans(work, (rule.otherwise,), standing)
        work.memory.found_from[unknown] = leans
    work.items(group.steps, standing, path, on=True)
    return True


def _leans(
    work: OnePass, texts: tuple[str, ...], standing: Standing
) -> tuple[str, ...]:
    """The names some texts hang on, as far as they can be read by now."""
    leans: list[str] = []
    for text in texts:
        try:
            read, _ = work.memory.text(text, Reads.FIGURE, standing)
        except SkirtwrightError:
            continue
        leans.extend(read.leans_on)
    return tuple(dict.fromkeys(leans))


def _remember(
    work: OnePass, group: Group, path: str, before: dict[str, Any], said: int, ran: int
) -> None:
    made = {
        name: value
        for name, value in work.values.items()
        if before.get(name, ABSENT) is not value
    }
    work.memory.finds[path, work.only] = FindMemo(
        group,
        {name: before.get(name, ABSENT) for name in work.leaned},
        made,
        tuple(work.problems[said:]),
        frozenset(work.stopped),
        tuple(work.ran[ran:]),
    )


def _found_before(work: OnePass, group: Group, path: str) -> bool:
    """Take over what was found last time, when nothing it leans on changed."""
    memo = work.memory.finds.get((path, work.only))
    if memo is None or memo.group is not group:
        return False
    if any(work.values.get(n, ABSENT) is not v for n, v in memo.leans.items()):
        return False
    work.leaned.update(memo.leans)
    work.values.update(memo.made)
    work.problems.extend(memo.problems)
    work.stopped.update(memo.stopped)
    for name in memo.stopped:
        work.values.pop(name, None)
    work.ran.extend(memo.ran)
    return True
