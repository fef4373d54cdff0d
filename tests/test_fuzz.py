"""Hostile input made by chance: the same tries each time; the bench has no end of them.

About 14 s of one core in all.
"""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))

import fuzzing

TRIES = {
    "order": 250,
    "style": 150,
    "card": 1_000,
    "printers": 1_000,
    "allowances": 100,
    "size": 300,
    "text": 1_500,
    "edit": 100,
    "draft": 40,
    "check": 60,
    "export": 20,
    "print": 7,
    "plot": 8,
    "worksheet": 15,
    "figure": 30,
    "quote": 10,
    "lay": 10,
    "fit": 20,
    "styles": 30,
}


@pytest.fixture(autouse=True)
def elsewhere(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    for name in ("XDG_CONFIG_HOME", "XDG_STATE_HOME"):
        monkeypatch.setenv(name, str(tmp_path / name))


@pytest.mark.parametrize("name", [*fuzzing.READERS, *fuzzing.VERBS])
def test_nothing_by_chance_ends_in_anything_but_a_sentence(name):
    taken = 0
    for seed in range(TRIES[name]):
        try:
            taken += fuzzing.tried(name, seed)
        except Exception as fault:  # noqa: BLE001 - told with how to repeat it
            pytest.fail(f"bench_fuzz.py --only {name} --seed {seed}: {fault!r}")
    assert taken > 0, "nothing by chance is ever taken"
