"""A draft gone through once more, step by step, to see what each read and drew.

What `Worked` holds is how everything stands at the end. A sentence wants the numbers
and the panel as they stood at its own step: a panel is drawn anew many times, and a
finishing may give a number of the block another value further down.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from skirtwright.draft.fields import BoundStep
from skirtwright.draft.step import Step
from skirtwright.draft.working.recompute import Worked
from skirtwright.problems import SkirtwrightError


@dataclass(frozen=True)
class Moment:
    """One step as it was worked.

    Attributes:
        path: of the step.
        bound: the step, bound to what stands above it.
        seen: everything it leaned on, by name.
        reads: which step had last drawn each of those; stated ones are left out.
        before: its first result as it stood before, or None.
        after: its first result.
    """

    path: str
    bound: BoundStep
    seen: Mapping[str, Any]
    reads: Mapping[str, str]
    before: Any
    after: Any

    @cached_property
    def fields(self) -> Mapping[str, Any]:
        """What each read field came to, lengths in mm."""
        return {name: work(self.seen) for name, work in self.bound.fields.items()}

    @property
    def step(self) -> Step:
        """The step itself."""
        return self.bound.step


Replay = Mapping[str, Moment]
"""The steps that drew something, by path, in order of the draft."""

_latest: list[tuple[Worked, Replay]] = []
"""The last one asked for: sentences are asked for one by one."""


def replay(worked: Worked) -> Replay:
    """Every step that drew something, as it was worked."""
    if not _latest or _latest[0][0] is not worked:
        _latest[:] = [(worked, dict(_moments(worked)))]
    return _latest[0][1]


def _moments(worked: Worked) -> dict[str, Moment]:
    values = {
        name: value
        for name, value in worked.values.items()
        if name not in worked.made_by
    }
    values.update(worked.stated.values)
    done = {path for paths in worked.made_by.values() for path in paths}
    last: dict[str, str] = {}
    moments: dict[str, Moment] = {}
    for path in sorted(done, key=worked.order.__getitem__):
        bound = worked.reworking.bound(path)
        if bound is None:
            continue
        seen = {name: values[name] for name in bound.leans_on if name in values}
        try:
            drawn = _drawn(worked, path, bound, seen)
        except (KeyError, SkirtwrightError):
            # It was worked with other numbers since: it is told without them.
            continue
        first = bound.results[0]
        reads = {name: last[name] for name in bound.leans_on if name in last}
        before = values.get(first)
        values.update(drawn)
        last.update(dict.fromkeys(bound.results, path))
        moments[path] = Moment(path, bound, seen, reads, before, values[first])
    return moments


def _drawn(
    worked: Worked, path: str, bound: BoundStep, seen: Mapping[str, Any]
) -> Mapping[str, Any]:
    """What a step drew: as it stands at the end, or else drawn once more."""
    if all(worked.made_by.get(name, ("",))[-1] == path for name in bound.results):
        return {name: worked.values[name] for name in bound.results}
    result: Any = worked.reworking.drew(path, seen)
    if result is None:
        fields = {name: work(seen) for name, work in bound.fields.items()}
        result = bound.step.draw(**fields)
    drawn = result if isinstance(result, Mapping) else {"": result}
    return dict(zip(bound.results, drawn.values(), strict=True))
