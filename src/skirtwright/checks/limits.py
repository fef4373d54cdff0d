"""Thresholds of the checks, kept as data (resources/checks.json), and findings."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from functools import cache
from typing import Any, Final

from skirtwright import shelf
from skirtwright.geometry.tolerance import SAME
from skirtwright.problems import Problem, Severity

_GRAVEST_FIRST: Final[tuple[tuple[str, Severity], ...]] = (
    ("wrong", "wrong"),
    ("strong", "caution"),
    ("caution", "caution"),
    ("note", "note"),
)
"""Grades as the data names them; `strong` is a caution in stronger words."""


@cache
def limits() -> Mapping[str, Any]:
    """Every check by name: its limits (mm, degrees, shares) and their source."""
    found: Mapping[str, Any] = shelf.read_json("checks.json")
    return found


def graded(check: str, value: float) -> str:
    """The gravest grade a value earns, or nothing when it is fine."""
    for grade, over, under in _steps(check):
        if value > over or value < under:
            return grade
    return ""


@cache
def _steps(check: str) -> tuple[tuple[str, float, float], ...]:
    """The limits of a check, the gravest first: over and under which it is reached."""
    over, under = (limits()[check].get(way, {}) for way in ("over", "under"))
    return tuple(
        (grade, over.get(grade, math.inf) + SAME, under.get(grade, -math.inf) - SAME)
        for grade, _ in _GRAVEST_FIRST
        if grade in over or grade in under
    )


def finding(
    check: str,
    value: float,
    where: str,
    values: Mapping[str, Any],
    codes: Mapping[str, str] | None = None,
) -> Iterator[Problem]:
    """The finding of a value, if it is not fine.

    Args:
        where: seam, `piece.edge`, piece or finished measure.
        codes: the sentence for each grade, where they differ; else `check.<check>`.
    """
    grade = graded(check, value)
    if grade:
        code = (codes or {}).get(grade, check)
        mended_by = limits()[check].get("mended_by", "")
        yield Problem(
            f"check.{code}", severity_of(grade), where, values, mended_by=mended_by
        )


def severity_of(grade: str) -> Severity:
    """How grave a grade of the data is."""
    return dict(_GRAVEST_FIRST)[grade]


def graver(first: str, second: str) -> str:
    """The graver of two grades."""
    order = [grade for grade, _ in _GRAVEST_FIRST] + [""]
    return min(first, second, key=order.index)
