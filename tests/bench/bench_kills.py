"""Kills in the middle of saving, keeping and upgrading: none lost, none unlisted.

Run it: `python tests/bench/bench_kills.py [kills] [seed]`. A way of saving that is
known to be wrong is killed as well, so that it shows that damage would be seen.
"""

from __future__ import annotations

import os
import sys
import tempfile
import time
from pathlib import Path

HERE = Path(__file__).resolve().parent
KILLS, SEED, CONTROL = 1000, 20_260_101, 100


def main(kills: int, seed: int) -> int:
    """Print what was found; 1 when anything was lost."""
    from kills import Killing, naive

    old = HERE.parent / "golden" / "orders" / "format-1.skirt"
    begun = time.perf_counter()
    with tempfile.TemporaryDirectory() as folder:
        os.environ["XDG_STATE_HOME"] = folder
        tally = Killing(Path(folder), old, seed).kill(kills)
    print(f"seed {seed}, {kills} kills in {time.perf_counter() - begun:.0f} s")
    for what, number in sorted(tally.happened.items()):
        print(f"  {what}: {number}")
    print(f"  lost, missing or unlisted: {len(tally.faults)} (target 0)")
    for fault in tally.faults[:20]:
        print(f"    {fault}")
    with tempfile.TemporaryDirectory() as folder:
        os.environ["XDG_STATE_HOME"] = folder
        control = Killing(Path(folder), old, seed)
        control.save = naive
        found = control.kill(CONTROL).faults
    print(f"  written plainly, {CONTROL} kills: {len(found)} faults (must be some)")
    return int(bool(tally.faults) or not found)


if __name__ == "__main__":
    sys.path[:0] = [str(HERE.parents[1] / "src"), str(HERE.parent / "job")]
    given = [int(text) for text in sys.argv[1:]]
    sys.exit(main(*(given + [KILLS, SEED][len(given) :])))
