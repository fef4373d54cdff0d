"""Hostile input to every reader and verb: `python tests/bench/bench_fuzz.py`.

    --seconds N   how long in all; 60 unless said, `inf` without end
    --only NAME   one reader or verb
    --seed N      one try, with its traceback

Prints what was tried, and how each failure is repeated.
"""

from __future__ import annotations

import argparse
import itertools
import os
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

import fuzzing


def main() -> int:
    """Try until the time is over; 1 when something failed."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--seconds", type=float, default=60.0)
    parser.add_argument("--only", choices=(*fuzzing.READERS, *fuzzing.VERBS))
    parser.add_argument("--seed", type=int)
    parser.add_argument("--from", dest="start", type=int, default=1_000_000)
    options = parser.parse_args()
    names = [options.only] if options.only else [*fuzzing.READERS, *fuzzing.VERBS]
    with tempfile.TemporaryDirectory() as folder:
        os.chdir(folder)
        for name in ("XDG_CONFIG_HOME", "XDG_STATE_HOME"):
            os.environ[name] = str(Path(folder) / name)
        if options.seed is not None:
            print(fuzzing.tried(names[0], options.seed))
            return 0
        return _without_end(names, options.seconds, options.start)


def _without_end(names: list[str], seconds: float, start: int) -> int:
    tried: Counter[str] = Counter()
    read: Counter[str] = Counter()
    slowest: dict[str, tuple[float, int]] = dict.fromkeys(names, (0.0, 0))
    failed: Counter[str] = Counter()
    begun = time.monotonic()
    for seed, name in (
        (seed, name) for seed in itertools.count(start) for name in names
    ):
        if time.monotonic() - begun > seconds:
            break
        tried[name] += 1
        at = time.process_time()
        try:
            read[name] += fuzzing.tried(name, seed)
        except Exception as fault:  # noqa: BLE001 - told, and the search goes on
            _tell(name, seed, fault, failed)
        slowest[name] = max(slowest[name], (time.process_time() - at, seed))
    for name in names:
        slow, seed = slowest[name]
        print(
            f"{name:<12} {tried[name]:>8} tried, {read[name]:>8} taken, "
            f"slowest {slow:.2f} s (seed {seed})"
        )
    print(f"{sum(tried.values())} tried, {sum(failed.values())} failed")
    return min(len(failed), 1)


def _tell(name: str, seed: int, fault: Exception, failed: Counter[str]) -> None:
    where = fault.__traceback__
    while where is not None and where.tb_next is not None:
        where = where.tb_next
    place = f"{where.tb_frame.f_code.co_filename}:{where.tb_lineno}" if where else "?"
    key = f"{type(fault).__name__} at {place}"
    failed[key] += 1
    if failed[key] == 1:
        said = str(fault)[:200]
        print(f"FAILED {key}: {said}\n  --only {name} --seed {seed}", flush=True)


if __name__ == "__main__":
    sys.exit(main())
