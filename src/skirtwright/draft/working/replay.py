"""A draft gone through once more, step by step, to see what each read and drew.

What `Worked` holds is how everything stands at the end. A sentence wants the numbers
and the panel as they stood at its own step: a panel is drawn anew many times, and a
finishing may give a number of the block another value further down.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from skirtwright.draft.step import Step
from skirtwright.draft.step_fields import BoundStep
from skirtwright.draft.working.one_pass import Drawn


@dataclass(frozen=True)
class Moment:
    """One step as it was worked.

    Attributes:
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


def replayed(drawn: Iterable[Drawn], stated: Mapping[str, Any]) -> Replay:
    """Every step that drew something, as it was worked.

    Args:
        stated: the values they began with.
    """
    values = dict(stated)
    last: dict[str, str] = {}
    moments: dict[str, Moment] = {}
    for path, bound, leans, results in drawn:
        pairs = zip(bound.leans_on, leans, strict=True)
        seen = {name: value for name, value in pairs if value is not None}
        reads = {name: last[name] for name in bound.leans_on if name in last}
        before = values.get(bound.results[0])
        moments[path] = Moment(path, bound, seen, reads, before, results[0])
        values.update(zip(bound.results, results, strict=True))
        last.update(dict.fromkeys(bound.results, path))
    return moments
