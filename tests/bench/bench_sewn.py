"""Every option and pair of options of every style: each edge sewn once, in order.

Run: python tests/bench/bench_sewn.py [STYLE...] [--draws N] [--seed N]
"""

from __future__ import annotations

import argparse
import random
import sys
from collections import defaultdict
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from sewn import ALIKE, APART, Sewn, faults, mark_faults, options, order_faults
from skirtwright.draft import styles


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("styles", nargs="*")
    parser.add_argument("--draws", type=int, help="so many of each style, by lot")
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    lot = random.Random(asked.seed)
    found = defaultdict(list)
    print(f"{'style':18}{'tried':>8}{'refused':>9}{'at fault':>10}")
    for style in asked.styles or styles.names():
        counts = [0, 0, 0]
        for body, measured in (("alike", ALIKE), ("apart", APART)):
            sewn = Sewn(style, measured)
            tried = list(options(styles.style(style)))
            if asked.draws is not None:
                tried = lot.sample(tried, min(asked.draws, len(tried)))
            for chosen in tried:
                report = sewn.report(chosen)
                said = (
                    []
                    if report is None
                    else [*faults(report), *mark_faults(report), *order_faults(report)]
                )
                for fault in said:
                    found[fault].append((style, body, chosen))
                counts[0] += 1
                counts[1] += report is None
                counts[2] += bool(said)
        print(f"{style:18}{counts[0]:8}{counts[1]:9}{counts[2]:10}", flush=True)
    for fault, where in sorted(found.items()):
        print(f"{fault}: {len(where)} times, first {where[0]}")


if __name__ == "__main__":
    main()
