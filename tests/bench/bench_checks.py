"""The checks' figure: processor time of all of them on each tick of a drag, in ms.

Run: python tests/bench/bench_checks.py [STYLE AMOUNT]

Target: 2.5 ms in the median for the mermaid with its lining and its band. Its front
spread is dragged, which redraws front and back, so that nothing of them can be kept.
Beside it, the same look again at pieces that stayed the same, and which pieces each
tick looked at anew.
"""

from __future__ import annotations

import statistics
import sys
import time
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from bodies import SAMPLE
from skirtwright.checks import all_checks as of_pieces
from skirtwright.checks.all_checks import Checking
from skirtwright.draft import styles
from skirtwright.draft.inputs import Inputs
from skirtwright.draft.working.recompute import Reworking
from skirtwright.pieces.cutting import Cutting
from skirtwright.problems import Problem
from skirtwright.report import finished_measures

TICKS = 150
TARGET = 2.5


def names_looked_at(again: list[str]) -> None:
    """From now on every piece that is looked at anew is noted by its name."""
    look = of_pieces._piece_checks

    def noted(paper: Any, depth: float | None) -> Iterator[Problem]:
        again.append(paper.name)
        return look(paper, depth)

    of_pieces._piece_checks = noted


def drag(style: str, amount: str) -> dict[str, float]:
    """Medians over a drag, ms; and how many findings there were at its end."""
    draft = styles.style(style)
    reworking, cutting, checking = Reworking(), Cutting(), Checking()
    first = reworking.work(draft, Inputs(SAMPLE, {}, {}, draft.unit))
    state = first.stated.amounts[amount]
    took: dict[str, list[float]] = {"checks": [], "again": [], "tick": []}
    found = 0
    for tick in range(TICKS):
        share = (tick % 50) / 50
        value = state.default + (state.most - state.default) * share * 0.8
        begun = time.process_time()
        worked = reworking.work(draft, Inputs(SAMPLE, {amount: value}, {}, draft.unit))
        cut = cutting.cut(worked, {})
        finished = finished_measures(worked)
        before = time.process_time()
        found = len(checking.of(worked, cut, finished).problems)
        after = time.process_time()
        _ = checking.of(worked, cut, finished).problems
        took["again"].append(time.process_time() - after)
        took["checks"].append(after - before)
        took["tick"].append(after - begun)
    return {name: 1000 * statistics.median(times) for name, times in took.items()} | {
        "worst": 1000 * sorted(took["checks"])[int(0.95 * TICKS)],
        "findings": found,
        "pieces": len(cut.pieces),
    }


def main() -> None:
    """Print the figures beside the target."""
    style, amount = sys.argv[1:3] if len(sys.argv) > 2 else ("mermaid", "front_spread")
    again: list[str] = []
    names_looked_at(again)
    found = drag(style, amount)
    met = "met" if found["checks"] <= TARGET else "MISSED"
    print(f"{style}, {amount} dragged: {found['pieces']} pieces")
    print(f"all checks, each tick: {found['checks']:.2f} ms (target {TARGET}): {met}")
    print(f"  19 ticks of 20 within {found['worst']:.2f} ms")
    print(f"  again, with nothing changed: {found['again']:.2f} ms")
    print(f"  draft, pieces and checks together: {found['tick']:.2f} ms")
    print(f"  findings at the end: {found['findings']}")
    for name, times in Counter(again).most_common():
        print(f"  looked at anew in {times} of {TICKS} ticks: {name}")


if __name__ == "__main__":
    main()
