"""Every option of a style drawn on a body, and what is wrong that need not be.

Shared by the suite, which shares the options out among five bodies, and by
`tests/bench/bench_options.py`, which tries every option on each.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from drafting import Options
from skirtwright.draft import styles
from skirtwright.problems import Problem
from skirtwright.report import Report

Chosen = dict[str, str]

NEEDS_DARTS = ("pegged", "inverted-pleat", "wrap", "yoke", "half-circle-yoke")
"""Styles that refuse elastic at the sides."""

NEEDED = {"elastic_kind": {"waist_shape": "side_elastic"}}
"""What must be chosen for a choice to matter."""


def every_option(style: str) -> list[Chosen]:
    """Each option of a style but its defaults, with what it needs."""
    made = [
        {**NEEDED.get(choice.name, {}), choice.name: option}
        for choice in styles.style(style).choices
        for option in choice.options
        if option != choice.default
    ]
    refused = "side_elastic" if style in NEEDS_DARTS else None
    return [chosen for chosen in made if refused not in chosen.values()]


def wrong_of(told: Report) -> list[Problem]:
    """What is wrong with a skirt, or keeps it from being drawn."""
    return [p for p in told.problems if p.severity == "wrong" or p.stops]


def unexpected(
    style: str, body: dict[str, float], options: Sequence[Chosen]
) -> Iterator[tuple[Chosen, list[Problem]]]:
    """What is wrong with each: only a fitted waist that cannot be opened must be."""
    drawn = Options(style, body)
    for chosen in options:
        shut = {"check.no_opening"} if chosen == {"closing": "none"} else set()
        found = [p for p in wrong_of(drawn.reported(**chosen)) if p.code not in shut]
        if found:
            yield chosen, found
