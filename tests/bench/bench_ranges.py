"""Amounts at the ends of the ranges they offer, for all 260 women of bdims.

`python tests/bench/bench_ranges.py [STYLE ...]`. For each style every amount alone at
both ends for ten bodies, then as many random orders as there are women (see
tests/orders.py): how many were tried, how many refused or with unequal dart legs, and
the first of each sort.
"""

from __future__ import annotations

import sys
import time
from collections import defaultdict
from itertools import chain
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

import conftest
from orders import Orders, body_of
from skirtwright.draft import styles
from skirtwright.draft.shapes.panel import Panel
from skirtwright.draft.working.recompute import Worked
from skirtwright.words import says

SEED = 1
ALONE = 10


def faults(worked: Worked) -> list[str]:
    """Why an order is not drafted as it should be."""
    found = [f"{p.code} {p.where}" for p in worked.problems if p.stops]
    for name, panel in worked.values.items():
        if isinstance(panel, Panel):
            for dart in panel.darts:
                left, right = panel.legs(dart)
                if abs(dart.tip.to(left) - dart.tip.to(right)) >= 0.1:
                    found.append(f"unequal legs {name} {dart.name}")
    return found[:1]


def measure(style: str, women: list[dict[str, float]]) -> None:
    """Works a style's orders and prints what came of them."""
    orders = Orders(style, women, SEED)
    names = [amount.name for amount in orders.draft.amounts]
    alone = chain.from_iterable(orders.alone(names) for _ in range(ALONE))
    found, tried, start = defaultdict(list), 0, time.perf_counter()
    for worked in chain(alone, orders.together(len(women))):
        tried += 1
        for fault in faults(worked):
            found[fault].append(worked)
    wrong = sum(map(len, found.values()))
    took = time.perf_counter() - start
    print(f"{style:18} {tried:5} orders, {wrong} not drafted; {took:.0f} s")
    for fault, several in sorted(found.items(), key=lambda item: -len(item[1])):
        inputs = several[0].inputs
        said = [says(p) for p in several[0].problems if p.stops][:1]
        print(f"    {len(several):4} x {fault}: {inputs} {said}")


def main() -> None:
    """The figures of every style, or of those named."""
    women = [body_of(woman) for woman in conftest.real_women.__wrapped__()]
    for style in sys.argv[1:] or styles.names():
        measure(style, women)


if __name__ == "__main__":
    main()
