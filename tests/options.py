"""Every option of a style drawn on a body, and what is wrong that need not be.

Shared by the suite, which shares the options out among five bodies and what many styles
offer among the styles, and by
`tests/bench/bench_options.py`, which tries every option on each.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cache
from typing import Any

from drafting import reported
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
        for option in choice.offered
        if option != choice.default
    ]
    refused = "side_elastic" if style in NEEDS_DARTS else None
    return [chosen for chosen in made if refused not in chosen.values()]


FEW = 6
"""An option that more styles offer is drawn in every second of them."""


@cache
def _offering() -> dict[str, list[str]]:
    """The styles that offer an option, by the option."""
    found: dict[str, list[str]] = {}
    for style in styles.names():
        for chosen in every_option(style):
            found.setdefault(str(chosen), []).append(style)
    return found


def shared_out(style: str) -> list[Chosen]:
    """The options of a style that it draws in the suite, where styles share them."""
    made = []
    for number, chosen in enumerate(every_option(style)):
        offering = _offering()[str(chosen)]
        if len(offering) <= FEW or (offering.index(style) + number) % 2 == 0:
            made.append(chosen)
    return made


def wrong_of(told: Report) -> list[Problem]:
    """What is wrong with a skirt, or keeps it from being drawn."""
    return [p for p in told.problems if p.severity == "wrong" or p.stops]


def unexpected(
    style: str, body: dict[str, float], options: Sequence[Chosen]
) -> Iterator[tuple[Chosen, list[Problem]]]:
    """What is wrong with each, but what must be.

    That is a fitted waist that cannot be opened.
    """
    for chosen in options:
        shut = {"check.no_opening"} if chosen == {"closing": "none"} else set()
        found = [
            p for p in wrong_of(reported(style, body, **chosen)) if p.code not in shut
        ]
        if found:
            yield chosen, found


CLOSINGS = (
    "zip_centre_back",
    "zip_left_side",
    "placket_centre_back",
    "placket_left_side",
)

TOGETHER: list[tuple[str, dict[str, Any]]] = [
    *((style, {"closing": c}) for style in ("straight", "yoke") for c in CLOSINGS),
    *(
        (style, {"pocket": "in_side_seams", "closing": c, "pocket_below": below})
        for style in ("straight", "a-line", "pegged", "inverted-pleat", "yoke")
        for c, below in (("zip_centre_back", 60.0), ("zip_left_side", 180.0))
        if style != "yoke" or below > 150
    ),
    *(
        (style, {"vent": vent, "length": length})
        for style in ("straight", "pegged")
        for vent in ("vent", "kick_pleat", "slit")
        for length in (600.0, 850.0)
    ),
    ("wrap", {"pocket": "in_side_seams", "wrap_closing": "ties"}),
    (
        "straight",
        {
            "vent": "vent",
            "pocket": "in_side_seams",
            "closing": "placket_left_side",
            "finish": "facing",
            "dart_legs_front": "hollow",
            "dart_legs_back": "full",
        },
    ),
]
"""Openings, pockets and vents together with what bears on them, by style."""


def unsewable(told: Report) -> Iterator[str]:
    """What is wrong, a seam off by over 0.1 mm, a piece without an outline."""
    yield from (problem.code for problem in wrong_of(told))
    for walked in told.cut.seams:
        if abs(walked.difference) >= 0.1:
            yield f"{walked.seam.name} is off by {walked.difference:.2f}"
    names = [piece.name for piece in told.cut.pieces]
    yield from (f"{name} is there twice" for name in names if names.count(name) > 1)
    yield from (f"{p.name} has no area" for p in told.cut.pieces if p.cut_area <= 0)
