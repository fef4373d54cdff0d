"""The checks' figure: all of them on each tick of a drag that widens the flare, in ms.

Run: python tests/bench/bench_checks.py [STYLE AMOUNT]

Target: 1 ms in the median. The mermaid's front spread is dragged, which redraws both
of its pieces, so that nothing of them can be kept. Beside it, the same look again at
pieces that stayed the same.
"""

from __future__ import annotations

import statistics
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from bodies import SAMPLE
from skirtwright.draft import styles
from skirtwright.draft.inputs import Inputs
from skirtwright.draft.recompute import Reworking
from skirtwright.pieces.checks import checks
from skirtwright.pieces.cutting import Cutting
from skirtwright.report import finished_measures

TICKS = 150
TARGET = 1.0


def drag(style: str, amount: str) -> dict[str, float]:
    """Medians over a drag, ms; and how many findings there were at its end."""
    draft = styles.style(style)
    reworking, cutting = Reworking(), Cutting()
    first = reworking.work(draft, Inputs(SAMPLE, {}, {}, draft.unit))
    state = first.stated.amounts[amount]
    took: dict[str, list[float]] = {"checks": [], "again": [], "tick": []}
    found = 0
    for tick in range(TICKS):
        share = (tick % 50) / 50
        value = state.default + (state.most - state.default) * share * 0.8
        begun = time.perf_counter()
        worked = reworking.work(draft, Inputs(SAMPLE, {amount: value}, {}, draft.unit))
        cut = cutting.cut(worked, {})
        finished = finished_measures(worked)
        before = time.perf_counter()
        found = len(checks(worked, cut, finished))
        after = time.perf_counter()
        checks(worked, cut, finished)
        took["again"].append(time.perf_counter() - after)
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
    found = drag(style, amount)
    met = "met" if found["checks"] <= TARGET else "MISSED"
    print(f"{style}, {amount} dragged: {found['pieces']} pieces")
    print(f"all checks, each tick: {found['checks']:.2f} ms (target {TARGET}): {met}")
    print(f"  19 ticks of 20 within {found['worst']:.2f} ms")
    print(f"  again, with nothing changed: {found['again']:.2f} ms")
    print(f"  draft, pieces and checks together: {found['tick']:.2f} ms")
    print(f"  findings at the end: {found['findings']}")


if __name__ == "__main__":
    main()
