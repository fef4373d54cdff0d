"""Hostile input made by chance: the same tries each time; the bench has no end of them.

About 7 s of one core in all.
"""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))

import fuzzing

pytestmark = pytest.mark.usefixtures("elsewhere")

TRIES = {
    "order": 125,
    "style": 75,
    "card": 500,
    "printers": 500,
    "allowances": 50,
    "size": 150,
    "text": 750,
    "edit": 50,
    "draft": 20,
    "check": 30,
    "export": 10,
    "print": 4,
    "plot": 4,
    "worksheet": 8,
    "figure": 15,
    "quote": 5,
    "lay": 5,
    "fit": 10,
    "styles": 15,
}


@pytest.mark.parametrize("name", [*fuzzing.READERS, *fuzzing.VERBS])
def test_nothing_by_chance_ends_in_anything_but_a_sentence(name):
    taken = 0
    for seed in range(TRIES[name]):
        try:
            taken += fuzzing.tried(name, seed)
        except Exception as fault:  # noqa: BLE001 - told with how to repeat it
            pytest.fail(f"bench_fuzz.py --only {name} --seed {seed}: {fault!r}")
    assert taken > 0, "nothing by chance is ever taken"
