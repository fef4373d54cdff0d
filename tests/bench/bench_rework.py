"""The rework figures of figures.md: ratios, both sides measured in the same run.

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

from bodies import SAMPLE
from drafting import small
from skirtwright.draft import styles
from skirtwright.draft.inputs import Inputs
from skirtwright.draft.recompute import Reworking

TIMES = 60


def medians(*works):
    """Median ms of each, turn about; of this process alone, for a busy machine."""
    took = [[] for _ in works]
    for _ in range(TIMES):
        for number, work in enumerate(works):
            start = time.process_time()
            work()
            took[number].append(1000 * (time.process_time() - start))
    return [statistics.median(each) for each in took]


def rework():
    draft = styles.style("mermaid")
    straight = Straight(draft, SAMPLE)
    reworking = Reworking()
    plain = Inputs(SAMPLE)
    assert same_panels(straight, reworking.work(draft, plain)), "not the same drawing"
    turn = [0.0]

    def everything():
        reworking._memory.memos.clear()
        reworking._memory.finds.clear()
        reworking.work(draft, plain)

    def one_spread():
        turn[0] += 1
        spread = 30.0 + (turn[0] % 7) / 10
        reworking.work(draft, Inputs(SAMPLE, {"front_spread": spread}))

    def new_hip():
        turn[0] += 1
        body = {**SAMPLE, "hip": 980.0 + (turn[0] % 7)}
        reworking.work(draft, Inputs(body))

    return medians(lambda: straight.call(SAMPLE), everything, one_spread, new_hip)


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


def main():
    straight, everything, one, hip = rework()
    per_step = growth()
    rows = [
        ("full rework / straight function", 1.5, everything / straight),
        ("one spread changed / straight function", 0.5, one / straight),
        ("a new hip measure / straight function", None, hip / straight),
        ("1,000 steps / 10 steps, each", 1.2, per_step[1000] / per_step[10]),
        ("1,000 steps / 100 steps, each", 1.2, per_step[1000] / per_step[100]),
    ]
    print(f"{'what':44}{'target':>8}{'measured':>10}")
    for what, target, measured in rows:
        shown = "" if target is None else f"{target:.2f}"
        print(f"{what:44}{shown:>8}{measured:>10.2f}")
    print(
        f"straight {straight:.2f} ms, full {everything:.2f} ms, one spread {one:.2f} ms"
    )


if __name__ == "__main__":
    main()
