"""Hostile input made by chance: the same tries each time; the bench has no end of them.

About 5 s of one core in all.
"""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))

import fuzzing

pytestmark = pytest.mark.usefixtures(
    "elsewhere", "laid_in_few_tries", "packed_in_few_tries"
)

TRIES = {
    "order": 62,
    "style": 38,
    "card": 250,
    "printers": 250,
    "allowances": 25,
    "size": 75,
    "text": 375,
    "edit": 25,
    "draft": 10,
    "check": 15,
    "export": 5,
    "print": 4,
    "plot": 4,
    "worksheet": 5,
    "figure": 8,
    "quote": 5,
    "lay": 5,
    "fit": 5,
    "styles": 8,
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
