"""Every style for all 260 women of bdims and 2,000 sampled bodies; time per draft.

`python tests/bench/bench_styles.py [STYLE ...]`. Prints for each style the median and
the worst time of one draft (worked, cut, reported and checked, warm), how many bodies
came out right, and what was wrong with the others; then the median over all styles and
the slowest style. Denominator: the same for the straight block, in the same run.
"""

from __future__ import annotations

import random
import statistics
import sys
import time
from collections import Counter
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

import conftest
from skirtwright.draft import styles
from skirtwright.draft.inputs import Inputs
from skirtwright.draft.working.recompute import Reworking
from skirtwright.geometry.ring import crossing
from skirtwright.pieces.cutting import Cutting
from skirtwright.report import Report, report

SAMPLED = 2000
SEED = 5


def real_bodies() -> list[dict[str, float]]:
    """The women of bdims, with depths by common practice."""
    women = conftest.real_women.__wrapped__()
    return [
        {
            "waist": woman.waist,
            "hip": woman.hip,
            "waist_to_hip": 0.122 * woman.height,
            "waist_to_knee": 0.35 * woman.height,
        }
        for woman in women
    ]


def sampled_bodies(number: int) -> list[dict[str, float]]:
    """Bodies of the ordinary ranges: hip less waist 5.1 to 36.7 as in bdims."""
    chance = random.Random(SEED)
    made = []
    while len(made) < number:
        hip = chance.uniform(800, 1450)
        waist = hip - chance.uniform(51, 367)
        height = chance.uniform(1450, 1850)
        if 550 <= waist <= 1300 and 0.62 <= waist / hip <= 0.95:
            made.append(
                {
                    "waist": waist,
                    "hip": hip,
                    "waist_to_hip": chance.uniform(0.11, 0.135) * height,
                    "waist_to_knee": chance.uniform(0.33, 0.37) * height,
                }
            )
    return made


def faults(told: Report) -> set[str]:
    """What is not right with a draft."""
    values, body = told.worked.values, told.worked.stated.measurements
    found = {f"{p.code} {p.where}" for p in told.problems if p.severity == "wrong"}
    for name in ("waist", "hip"):
        measure = told.finished[name]
        if measure is None and name == "hip":
            continue
        wanted = body[name] + values[f"{name}_ease"]
        if measure is None or abs(measure - wanted) > 0.1:
            found.add(f"{name} is not as asked")
    for walked in told.cut.seams:
        if abs(walked.difference) > 0.1:
            found.add(f"seam {walked.seam.name}")
    for piece in told.cut.pieces:
        if crossing(piece.panel.ring(0.5)):
            found.add(f"outline {piece.name}")
    return found


def measure(style: str, bodies: list[dict[str, float]]) -> tuple[float, float]:
    """Works a style for all bodies and prints what came of it."""
    draft, reworking, cutting = styles.style(style), Reworking(), Cutting()
    times, wrong = [], Counter()
    right = 0
    for body in bodies:
        start = time.perf_counter()
        worked = reworking.work(draft, Inputs(body))
        told = report(worked, cutting.cut(worked, {}), style)
        times.append(1000 * (time.perf_counter() - start))
        found = faults(told)
        wrong.update(found)
        right += not found
    median = statistics.median(times)
    print(
        f"{style:18} {right:5} of {len(bodies)} right; median {median:6.1f} ms, "
        f"worst {max(times):6.1f} ms"
    )
    for what, often in wrong.most_common(5):
        print(f"    {often:5} x {what}")
    return median, max(times)


def main() -> None:
    """The figures of every style, or of those named."""
    bodies = [*real_bodies(), *sampled_bodies(SAMPLED)]
    asked = sys.argv[1:] or list(styles.names())
    block, _ = measure("straight-block", bodies)
    medians = {
        style: measure(style, bodies)[0] for style in asked if style != "straight-block"
    }
    slowest = max(medians, key=medians.__getitem__)
    print(f"median of the styles {statistics.median(medians.values()):.1f} ms")
    print(
        f"slowest {slowest}: {medians[slowest]:.1f} ms, "
        f"{medians[slowest] / block:.1f} times the straight block"
    )


if __name__ == "__main__":
    main()
