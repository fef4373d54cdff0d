"""The budget of work: what asks for too much is refused, and nothing else is."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from sampling import AT_LENGTH
from skirtwright import budget
from skirtwright.draft import styles
from skirtwright.job.job import new_job
from skirtwright.job.worktable import Worktable
from skirtwright.problems import Refused

BOMBS = Path(__file__).parent / "bombs.py"


def test_too_much_is_refused_and_what_came_before_is_left() -> None:
    def work() -> None:
        with budget.bounded():
            while True:
                budget.spend("steps")

    with pytest.raises(Refused) as caught:
        work()
    assert caught.value.problem.code == "budget.too_much"
    budget.spend("steps", 10**9)  # nothing is counted outside


def test_work_inside_bounded_work_counts_with_the_outer() -> None:
    with budget.bounded() as outer:
        with budget.bounded() as inner:
            budget.spend("points", 7)
        assert inner is outer
        assert outer.points == 7


def test_work_can_be_stopped_and_begun_again() -> None:
    table, asked = Worktable(), []

    def stopped() -> bool:
        asked.append(True)
        return True

    job = new_job(styles.style(styles.first()))
    with pytest.raises(Refused) as caught, budget.bounded(stopped):
        table.look(job)
    assert caught.value.problem.code == "budget.stopped"
    assert len(asked) == 1
    assert table.look(job).report.finished == Worktable().look(job).report.finished


def test_the_clock_is_the_last_bound(monkeypatch) -> None:
    monkeypatch.setattr(budget, "MOST_SECONDS", 0.0)

    def work() -> None:
        with budget.bounded():
            for _ in range(10_000):
                budget.spend("points")

    with pytest.raises(Refused) as caught:
        work()
    assert caught.value.problem.code == "budget.too_long"


HEAVY = ("half-circle-yoke", "mermaid-flounce", "train")
"""Of the styles that take the most steps; at length every one is looked at."""


@pytest.mark.sampled
@pytest.mark.parametrize("name", styles.names() if AT_LENGTH else HEAVY)
def test_no_style_comes_near_the_bounds(name) -> None:
    """Left and right apart, which is the most a style is asked for: a third."""
    job = new_job(styles.style(name))
    apart = {"waist_to_hip_left": "20", "waist_to_hip_right": "21.5"}
    measurements = {**job.card.measurements, **apart}
    card = job.card.replace(measurements=measurements)
    with budget.bounded() as spent:
        Worktable().look(job.replace(card=card))
    assert 0 < spent.steps < budget.MOST["steps"] / 3
    assert 0 < spent.points < budget.MOST["points"] / 3


DONE = {
    "amounts_in_bounds",
    "digits",
    "reach_30",
    "pieces_in_bounds",
    "pieces_of_copies",
    "places_in_bounds",
    "seams",
    "thin_rectangle",
    "wide_choices",
}
"""Bombs that are small enough to go off."""


@pytest.fixture(scope="module")
def lines() -> list[dict[str, Any]]:
    """How each bomb ends, in a child with 300 MB beyond the program (30 s in all)."""
    done = subprocess.run(
        [sys.executable, str(BOMBS)], capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr
    return [json.loads(line) for line in done.stdout.splitlines()]


@pytest.mark.slow
def test_no_bomb_takes_long(lines) -> None:
    """A second of an idle machine is meant; tests share theirs with others."""
    assert [line["name"] for line in lines if line["seconds"] > 2] == []


@pytest.mark.slow
def test_every_bomb_is_refused_before_it_costs_much(lines) -> None:
    ended = {line["name"]: line["ended"] for line in lines}
    refusals = (
        "budget.",
        "json.",
        "file.not_an_order",
        "draft.out_of_reach",
        "draft.nothing_called",
        "draft.not_whole",
    )
    assert len(ended) > 40
    for name, code in ended.items():
        if name in DONE:
            assert code == "done", name
        else:
            assert code.startswith(refusals), (name, code)
    assert {code for code in ended.values() if code.startswith("budget.")} == {
        "budget.too_much"
    }, "the clock is no bound that any of them needs"
