"""Prints every figure that has a bench: `python tests/bench/run.py`."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

HERE = Path(__file__).parent


def main() -> int:
    """Run each bench of this folder in a process of its own."""
    worst = 0
    for bench in sorted(HERE.glob("bench_*.py")):
        print(f"\n--- {bench.stem.removeprefix('bench_')} ---", flush=True)
        worst = max(worst, subprocess.call([sys.executable, str(bench)]))
    return worst


if __name__ == "__main__":
    sys.exit(main())
