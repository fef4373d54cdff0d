"""Balance marks of whole styles: told apart, and called after what they face."""

from __future__ import annotations

from itertools import pairwise

import pytest

from bodies import SAMPLE
from drafting import reported
from skirtwright.draft import styles

NEAR = 12.0
"""Marks nearer than this read as one, mm (common practice, no source)."""

LOOKED_AT = ("vent", "lining", "closing", "waist_shape", "pocket")


def ways(style):
    """A style as it comes, and with each option of what changes its marks."""
    yield {}
    for choice in styles.style(style).choices:
        if choice.name in LOOKED_AT:
            for option in choice.options:
                if option != choice.default:
                    yield {choice.name: option}


@pytest.mark.parametrize("style", styles.names())
def test_no_edge_has_two_counts_at_one_place_nor_shell_a_mark_of_the_lining(style):
    for chosen in ways(style):
        for piece in reported(style, SAMPLE, **chosen).cut.pieces:
            for edge in piece.edges:
                marks = sorted(
                    (notch.distance, notch.count)
                    for notch in piece.notches
                    if notch.edge == edge.name and not notch.dart
                )
                for (one, count), (two, other) in pairwise(marks):
                    told = count == other or two - one > NEAR
                    assert told, (chosen, piece.name, edge.name, one, two)
            if piece.spec.material == "shell":
                called = [n.word for n in piece.notches if "lining" in n.word]
                assert not called, chosen


@pytest.mark.parametrize("closing", ["zip_left_side", "placket_left_side"])
@pytest.mark.parametrize("half", ["front", "back"])
def test_a_yoke_and_its_facing_are_snipped_alike_along_the_opening(closing, half):
    """Sewn to each other there, they are matched by their marks."""
    cut = reported("yoke", SAMPLE, closing=closing).cut
    names = f"{half}_yoke", f"{half}_yoke_facing"
    yoke, facing = (
        [
            (round(mark.distance, 3), mark.count)
            for piece in cut.pieces
            if piece.name == name
            for mark in piece.notches
            if mark.edge == "side"
        ]
        for name in names
    )
    assert yoke
    assert yoke == facing


@pytest.mark.parametrize(
    "amounts",
    [{"dart_length_front": 150.0}, {"yoke_depth_front": 50.0}, {"waist_level": 80.0}],
    ids=str,
)
def test_a_mark_keeps_clear_of_a_small_dart_below_a_yoke(amounts):
    """It moves along the seam, on both sides of it."""
    report = reported("yoke", SAMPLE, **amounts)
    pieces = {piece.name: piece for piece in report.cut.pieces}
    marks = {
        name: sorted(n.distance for n in piece.notches if n.edge == "yoke_line")
        for name, piece in pieces.items()
        if name in ("front", "front_yoke")
    }
    darts = {n.distance for n in pieces["front"].notches if n.dart}
    own = [place for place in marks["front"] if place not in darts]
    assert darts
    assert own == pytest.approx(marks["front_yoke"])
    assert all(abs(place - dart) >= NEAR - 0.01 for place in own for dart in darts)
