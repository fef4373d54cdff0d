"""The rework figures: ratios, both sides measured in the same run.

Run: python tests/bench/bench_rework.py
"""

from __future__ import annotations

import statistics
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from straight import Straight, same_panels

from bodies import HOUSE, SAMPLE
from drafting import small, unfinished
from skirtwright.draft import styles
from skirtwright.draft.halves.halving import Halving
from skirtwright.draft.inputs import Inputs
from skirtwright.draft.working.recompute import Reworking
from skirtwright.job.job import new_job
from skirtwright.job.worktable import Worktable
from skirtwright.measures.card import Card

TIMES = 60


def medians(*works, times=TIMES):
    """Median ms of each, turn about; of this process alone, for a busy machine."""
    took = [[] for _ in works]
    for _ in range(times):
        for number, work in enumerate(works):
            start = time.process_time()
            work()
            took[number].append(1000 * (time.process_time() - start))
    return [statistics.median(each) for each in took]


class Works:
    """A draft worked again and again: all of it, for one spread, for another hip."""

    def __init__(self, draft):
        self.draft = draft
        self.reworking = Reworking()
        self.first = self.reworking.work(draft, Inputs(SAMPLE))
        self.turn = 0

    def all(self):
        for _ in range(2):
            self.reworking._memory.next_round()
        self.reworking.work(self.draft, Inputs(SAMPLE))

    def one_spread(self):
        self.turn += 1
        spread = 30.0 + (self.turn % 7) / 10
        self.reworking.work(self.draft, Inputs(SAMPLE, {"front_spread": spread}))

    def new_hip(self):
        self.turn += 1
        self.reworking.work(
            self.draft, Inputs({**SAMPLE, "hip": 980.0 + (self.turn % 7)})
        )


def rework():
    """The shell against the straight function; the finished style beside it.

    The straight function draws the shell, which is what it was first measured for; of
    the finished style it is told how much dearer it is, and how dear a step of it is.
    """
    shell, finished = Works(unfinished("mermaid")), Works(styles.style("mermaid"))
    straight = Straight(shell.draft, SAMPLE)
    assert same_panels(straight, shell.first), "not the same drawing"
    took = medians(
        lambda: straight.call(SAMPLE),
        *(shell.all, shell.one_spread, shell.new_hip),
        *(finished.all, finished.one_spread, finished.new_hip),
    )
    steps = [len(work.first.reworked) for work in (shell, finished)]
    return took, steps


def growth():
    """ms a step for drafts of 10, 100 and 1,000 steps, all worked, turn about."""
    counts = (10, 100, 1000)
    took = medians(*(changing(count) for count in counts))
    return {count: ms / count for count, ms in zip(counts, took, strict=True)}


def changing(count):
    """Works a draft of so many steps, each time all of it."""
    steps = [{"step": "n0", "kind": "number", "value": "w"}]
    steps += [
        {"step": f"n{i}", "kind": "number", "value": f"n{i - 1} + 1 cm"}
        for i in range(1, count)
    ]
    draft = small(*steps, amounts=[("w", "3")])
    reworking = Reworking()
    turn = [0]

    def work():
        turn[0] += 1
        reworking.work(draft, Inputs(amounts={"w": float(turn[0])}))

    work()
    return work


APART = {**HOUSE, "waist_to_hip_left": 200.0, "waist_to_hip_right": 215.0}


def first_looks():
    """ms of a first look at the mermaid: alike, apart, and writing out its halves."""
    draft = styles.style("mermaid")

    def look(body):
        card = {name: f"{value} mm" for name, value in body.items()}
        return Worktable().look(new_job(draft, Card(name="", measurements=card)))

    return medians(
        lambda: look(HOUSE),
        lambda: look(APART),
        lambda: Halving().of(draft, Inputs(APART)),
        times=TIMES // 4,
    )


def main():
    (straight, *took), (few, many) = rework()
    per_step = growth()
    alike, apart, halving = first_looks()
    shell, finished = took[:3], took[3:]
    dearer = (finished[0] / many) / (shell[0] / few)
    rows = [
        ("full rework / straight function", 1.5, shell[0] / straight),
        ("one spread changed / straight function", 0.5, shell[1] / straight),
        ("a new hip measure / straight function", None, shell[2] / straight),
        ("1,000 steps / 10 steps, each", 1.2, per_step[1000] / per_step[10]),
        ("1,000 steps / 100 steps, each", 1.2, per_step[1000] / per_step[100]),
        ("finished, a step / shell, a step", None, dearer),
        ("finished, one spread / straight function", None, finished[1] / straight),
        ("first look, left and right apart / alike", 1.6, apart / alike),
        ("writing out both halves / first look alike", None, halving / alike),
    ]
    print(f"{'what':44}{'target':>8}{'measured':>10}")
    for what, target, measured in rows:
        shown = "" if target is None else f"{target:.2f}"
        print(f"{what:44}{shown:>8}{measured:>10.2f}")
    print(f"straight {straight:.2f} ms; all, one spread, another hip:")
    for name, steps, each in (("shell", few, shell), ("finished", many, finished)):
        times = ", ".join(f"{ms:.2f}" for ms in each)
        print(f"  {name:9}{steps:4} steps drawn: {times} ms")


if __name__ == "__main__":
    main()
