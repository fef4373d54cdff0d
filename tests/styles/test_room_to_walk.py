"""The step that is told is that of the narrowest level a leg passes."""

from __future__ import annotations

from itertools import repeat

import pytest

from bodies import SAMPLE
from drafting import reported
from skirtwright.checks.limits import limits
from skirtwright.checks.striding import girth_needed, step_allowed
from skirtwright.draft import styles
from skirtwright.pieces.piece import Piece

APART = 5
"""Between the levels looked at, mm."""

NOBODY_STEPS_SO_FAR = 1200.0
"""At more, mm, nothing is hindered (common practice, no source)."""

PARTS = ("opening", "godet")
"""Roles of edges at which the skirt comes apart as she steps."""


def ring(piece: Piece) -> list[tuple[float, float]]:
    points = [
        point
        for edge in piece.panel.edges
        for point in edge.chain.flattened(0.05)[:: 1 if edge.forward else -1]
    ]
    return [(point.x, point.y) for point in points]


def width(points: list[tuple[float, float]], level: float) -> float:
    met = sorted(
        x + (u - x) * (level - y) / (v - y)
        for (x, y), (u, v) in zip(points, [*points[1:], points[0]], strict=True)
        if (y < level) != (v < level)
    )
    return sum(b - a for a, b in zip(met[::2], met[1::2], strict=True))


def hangs_shut_to(piece: Piece) -> float:
    """How far down a piece hangs shut: to its hem, or where it comes apart."""
    roles = piece.spec.roles
    hem, tops = [], []
    for edge in piece.panel.edges:
        if ends_below(edge, roles):
            hem += [point.y for point in edge.chain.flattened(0.05)]
        elif roles.get(edge.name) in PARTS and edge.chain.start.y < 0:
            tops.append(edge.chain.start.y)
    return max([*hem, *tops])


def ends_below(edge, roles) -> bool:
    """Whether an edge is the hem, or was before something was hung on it."""
    return roles.get(edge.name) == "hem" or edge.name == "hem"


def girths(report) -> list[tuple[float, float]]:
    """Height over the floor and girth from hip to hem, anew; the hip is at y = 0."""
    body = report.worked.stated.measurements
    hung = [
        piece
        for piece in report.cut.whole.pieces
        if piece.spec.material == "shell"
        and any(map(ends_below, piece.panel.edges, repeat(piece.spec.roles)))
        and piece.panel.mark("hip") is not None
    ]
    rings = [(ring(p), p.spec.count * (2 if p.spec.folds else 1)) for p in hung]
    hip = body["waist_to_floor_side"] - body["waist_to_hip"]
    lowest = int(max(map(hangs_shut_to, hung), default=0.0))
    return [
        (hip + level, sum(times * width(points, level) for points, times in rings))
        for level in range(-1, lowest, -APART)
    ]


def least_step(report) -> float | None:
    steps = [
        step_allowed(girth, at, report.skirt.lower_body) for at, girth in girths(report)
    ]
    return min((step for step in steps if step is not None), default=None)


SHAPED = (
    ("trumpet", {"break_shaping": 25.0}),
    ("trumpet", {"at_hem": "godets"}),
    ("trumpet", {"at_hem": "flounce", "break_shaping": 25.0, "break_below_hip": 300.0}),
    ("mermaid", {"knee_shaping": 40.0}),
)


@pytest.mark.parametrize(
    ("style", "shaped"), [*((name, {}) for name in styles.names()), *SHAPED], ids=str
)
def test_no_level_allows_less_than_is_told(style: str, shaped):
    """The girth is measured on the outlines of all pieces that hang from the hip."""
    report = reported(style, SAMPLE, **shaped)
    told, least = report.finished["step_allowed"], least_step(report)
    assert least is None or told <= least + 1.0 or least > NOBODY_STEPS_SO_FAR


@pytest.mark.parametrize("start", ["side_seam", "side_back"])
def test_a_train_lets_her_step_as_its_narrowest_level_does(start: str):
    """At the floor its girth is that along the hem, bowed as it is cut."""
    report = reported("a-line", SAMPLE, at_hem="train", start_at=start)
    told = report.finished["step_allowed"]
    assert told == pytest.approx(least_step(report), abs=20)


@pytest.mark.parametrize(
    ("style", "shaped"),
    [
        ("mermaid-gored", {}),
        ("mermaid-gored", {"break_taken_in": 10.0, "break_below_hip": 340.0}),
        ("mermaid", {"knee_shaping": 25.0}),
    ],
    ids=str,
)
def test_no_level_leaves_less_room_for_stairs_than_is_told(style: str, shaped):
    report = reported(style, SAMPLE, **shaped)
    body, step = report.worked.stated.measurements, limits()["stairs"]["step"]
    (told,) = [p for p in report.problems if p.code.startswith("check.stairs")]
    spare = min(
        girth - girth_needed(step, at, report.skirt.lower_body)
        for at, girth in girths(report)
        if body["waist_to_floor_side"] - at
        > (body["waist_to_hip"] + body["waist_to_knee"]) / 2
    )
    assert told.values["spare"] <= spare + 1.0
