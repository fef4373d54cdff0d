"""The order of sewing for 100,000 skirts whose facts are drawn by lot.

No skirt is drafted: any facts may meet here, more than any style can bring together.
Counts circles, steps the wrong way about, and places closed before they are filled.

Run: python tests/bench/bench_sewing.py [--draws N] [--seed N]
"""

from __future__ import annotations

import argparse
import random
import sys
import time
from collections import Counter
from graphlib import CycleError
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from sewn import step_faults
from skirtwright.export.sewing.sewing_facts import Facts, add_reckoned, kinds, table
from skirtwright.export.sewing.sewing_order import sewing_rows

FIGURES = {"number": (0.0, 0.03, 1.0, 2.0), "length": (0.0, 3.0, 40.0, 700.0)}
FIGURES["angle"] = (0.0, 20.0, 45.0)


def drawn(lot):
    """Facts of one skirt by lot."""
    values = {}
    for name, kind in kinds().items():
        if isinstance(kind, tuple):
            values[name] = lot.choice(kind)
        elif kind == "list":
            values[name] = ()
        else:
            values[name] = lot.choice(FIGURES[kind])
    inches = lot.random() < 0.5
    add_reckoned(values, inches=inches)
    return Facts(values, {}, {}, inches)


def main():
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--draws", type=int, default=100_000)
    options.add_argument("--seed", type=int, default=1)
    asked = options.parse_args()
    lot, found, spoken = random.Random(asked.seed), Counter(), Counter()
    began = time.process_time()
    for _ in range(asked.draws):
        try:
            rows = sewing_rows(drawn(lot))
        except CycleError as circle:
            found[f"circle: {circle.args[1]}"] += 1
            continue
        spoken.update({row.says[0].message for row in rows})
        found.update(step_faults(rows))
    silent = {rule["says"] for rule in table()["rows"]} - set(spoken)
    print(f"{asked.draws} draws in {time.process_time() - began:.0f} s; target: none")
    print(f"faults: {sum(found.values())}; rows that never spoke: {sorted(silent)}")
    for fault, times in found.most_common(20):
        print(f"  {fault}: {times} times")


if __name__ == "__main__":
    main()
