"""The order of sewing, its cautions and its notions, by rules kept as data.

Rules run in order of their numbers; one speaks when its condition holds of the skirt,
with its numbers filled in. Nothing here knows a style.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from skirtwright.export.sewing.sewing_facts import Facts, table
from skirtwright.export.sewing.sewing_seams import Sewn
from skirtwright.export.sewing.sewing_words import Listed, Saying


@dataclass(frozen=True)
class SewingRow:
    """One thing to do.

    Attributes:
        number: of its rule; several rules may share one.
        says: what to do, in one or more sentences.
        seams: what is sewn by it.
    """

    number: int
    says: Listed
    seams: tuple[Sewn, ...] = ()


def sewing_rows(facts: Facts) -> tuple[SewingRow, ...]:
    """What is to be done to sew a skirt, in order."""
    rules = sorted(table()["rows"], key=lambda rule: int(rule["no"]))
    return tuple(
        SewingRow(int(rule["no"]), tuple(_sayings(rule, facts)), _sewn(rule, facts))
        for rule in rules
        if _holds(rule, facts)
    )


def cautions(facts: Facts) -> Listed:
    """What to warn of."""
    return _those_that_hold("cautions", facts)


def notions(facts: Facts) -> Listed:
    """What to buy beside cloth."""
    return _those_that_hold("notions", facts)


def _those_that_hold(group: str, facts: Facts) -> Listed:
    rules = table()[group]
    return tuple(_saying(rule, facts) for rule in rules if _holds(rule, facts))


def _holds(rule: Mapping[str, Any], facts: Facts) -> bool:
    return "when" not in rule or facts.holds(rule["when"])


def _sayings(rule: Mapping[str, Any], facts: Facts) -> Iterator[Saying]:
    yield _saying(rule, facts)
    for more in rule.get("also", ()):
        if _holds(more, facts):
            yield _saying(more, facts)


def _sewn(rule: Mapping[str, Any], facts: Facts) -> tuple[Sewn, ...]:
    groups = rule.get("sews", ())
    return tuple(sewn for group in groups for sewn in facts.seams.get(group, ()))


def _saying(rule: Mapping[str, Any], facts: Facts) -> Saying:
    values = rule.get("values", {})
    return Saying(rule["says"], {n: facts.worked(text) for n, text in values.items()})
