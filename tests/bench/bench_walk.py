"""Longer walks, with other seeds than the suite's: is all as on a fresh worktable?

Run: python tests/bench/bench_walk.py [SEED ...]
"""

from __future__ import annotations

import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from memory_walk import Walk

SEEDS = range(11, 17)


def main() -> int:
    """Print for each seed what was done; 1 where something had gone stale."""
    stale = 0
    for seed in map(int, sys.argv[1:] or SEEDS):
        walk, begun = Walk(seed, stay=10), time.process_time()
        try:
            walk.go()
            found = "all as fresh"
        except AssertionError as error:
            stale, found = 1, f"WENT STALE: {error}"
        took = time.process_time() - begun
        print(
            f"seed {seed}: {len(walk.done)} changes, {took:.0f} s: {found}", flush=True
        )
    return stale


if __name__ == "__main__":
    sys.exit(main())
