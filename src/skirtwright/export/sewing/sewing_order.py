"""The order of sewing, its cautions and its notions, by rules kept as data.

A rule speaks when its condition holds of the skirt, with its numbers filled in. It
states the steps that are done `after` which it can be, the places it `fills` and those
it `closes`; the order is sorted from these. Nothing here knows a style.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from graphlib import TopologicalSorter
from typing import Any, TypeVar

from skirtwright.export.sewing.sewing_facts import Facts, table
from skirtwright.export.sewing.sewing_seams import Sewn
from skirtwright.export.sewing.sewing_words import Listed, Saying
from skirtwright.pieces.piece import Piece

Rule = Mapping[str, Any]
_Kept = TypeVar("_Kept")


@dataclass(frozen=True)
class SewingRow:
    """One thing to do.

    Attributes:
        step: what is done; several rows may be of one.
        title: what it is called, as a message.
        says: how, in one or more sentences.
        seams: what is sewn by it.
        pieces: what is used by it beside the pieces of those seams.
        shown: what else its drawing shows.
    """

    step: str
    title: str
    says: Listed
    seams: tuple[Sewn, ...] = ()
    pieces: tuple[Piece, ...] = ()
    shown: tuple[Piece, ...] = ()


def sewing_rows(facts: Facts) -> tuple[SewingRow, ...]:
    """What is to be done to sew a skirt, in order."""
    rules = [rule for rule in table()["rows"] if _holds(rule, facts)]
    return tuple(
        SewingRow(
            rule["step"],
            rule.get("title", f"sew.step.{rule['step']}"),
            tuple(_sayings(rule, facts)),
            tuple(_of_groups(rule.get("sews", ()), facts.seams)),
            tuple(_of_groups(rule.get("uses", ()), facts.pieces)),
            tuple(_of_groups(rule.get("shows", ()), facts.pieces)),
        )
        for rule in in_order(rules)
    )


def in_order(rules: Sequence[Rule]) -> Iterator[Rule]:
    """Rules so that each stands after what it needs, else as they were.

    Raises:
        CycleError: they need one another in a circle.
    """
    waits = [
        {before for before, other in enumerate(rules) if _comes_before(other, rule)}
        for rule in rules
    ]
    sorter = TopologicalSorter(dict(enumerate(waits)))
    sorter.prepare()
    ready: list[int] = []
    while sorter.is_active():
        ready = sorted([*ready, *sorter.get_ready()])
        first = ready.pop(0)
        sorter.done(first)
        yield rules[first]


def _comes_before(other: Rule, rule: Rule) -> bool:
    """Whether one rule has to be done before another can be."""
    if other["step"] in rule.get("after", ()):
        return True
    return bool(set(other.get("fills", ())) & set(rule.get("closes", ())))


def cautions(facts: Facts, found: Collection[str] = ()) -> Listed:
    """What to warn of.

    Args:
        found: codes of what the checks have said: it is not said again.
    """
    return _steps_that_hold("cautions", facts, found)


def notions(facts: Facts) -> Listed:
    """What to buy beside cloth."""
    return _steps_that_hold("notions", facts)


def _steps_that_hold(group: str, facts: Facts, found: Collection[str] = ()) -> Listed:
    return tuple(
        _saying(rule, facts)
        for rule in table()[group]
        if not set(found) & set(rule.get("unless", ())) and _holds(rule, facts)
    )


def _holds(rule: Rule, facts: Facts) -> bool:
    return "when" not in rule or facts.holds(rule["when"])


def _sayings(rule: Rule, facts: Facts) -> Iterator[Saying]:
    yield _saying(rule, facts)
    for more in rule.get("also", ()):
        if _holds(more, facts):
            yield _saying(more, facts)


def _of_groups(
    groups: Sequence[str], held: Mapping[str, tuple[_Kept, ...]]
) -> Iterator[_Kept]:
    for group in groups:
        yield from held.get(group, ())


def _saying(rule: Rule, facts: Facts) -> Saying:
    values = rule.get("values", {})
    return Saying(rule["says"], {n: facts.worked(text) for n, text in values.items()})
