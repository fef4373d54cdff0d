"""Slid pieces: as far as they go, and no further."""

from __future__ import annotations

import random

import pytest
from shapely import Polygon

from skirtwright.geometry import Point
from skirtwright.lay.settling import settled


def ring(*corners):
    return [Point(x, y) for x, y in corners]


def box(left, bottom, wide, high):
    return ring(
        (left, bottom),
        (left + wide, bottom),
        (left + wide, bottom + high),
        (left, bottom + high),
    )


def test_a_box_falls_on_another():
    rings = [box(0, 0, 10, 10), box(5, 50, 10, 10)]
    steps = settled(rings, [(False, True)] * 2, [(0, 0), (0, 50)])
    assert steps[0] == Point(0, 0)
    assert steps[1].y == pytest.approx(-40, abs=0.02)


def test_what_may_not_slide_stays():
    rings = [box(0, 20, 10, 10)]
    assert settled(rings, [(False, False)], [(0, 20)]) == [Point(0, 0)]


def test_a_peg_falls_into_a_notch():
    notch = ring((0, 0), (30, 0), (30, 20), (20, 20), (15, 5), (10, 20), (0, 20))
    peg = ring((15, 40), (16, 60), (14, 60))
    steps = settled([notch, peg], [(False, False), (False, True)], [(0, 0), (0, 40)])
    assert steps[1].y == pytest.approx(-35, abs=0.02)


def test_nothing_overlaps_after_sliding():
    chance = random.Random(3)
    for _ in range(30):
        rings, shapes = [], []
        while len(rings) < 6:
            x, y = chance.uniform(0, 80), chance.uniform(0, 80)
            made = [
                Point(x + chance.uniform(-20, 20), y + chance.uniform(-20, 20))
                for _ in range(4)
            ]
            shape = Polygon([(p.x, p.y) for p in made])
            if shape.is_valid and not any(shape.intersects(s) for s in shapes):
                rings.append(made)
                shapes.append(shape)
        room = [(min(p.x for p in r) + 20, min(p.y for p in r) + 20) for r in rings]
        steps = settled(rings, [(True, True)] * 6, room)
        moved = [
            Polygon([(p.x + s.x, p.y + s.y) for p in r])
            for r, s in zip(rings, steps, strict=True)
        ]
        for i, one in enumerate(moved):
            assert one.bounds[0] > -20.01
            assert one.bounds[1] > -20.01
            for other in moved[:i]:
                assert one.intersection(other).area < 1e-6
