"""Prints every figure that has a bench: `python tests/bench/run.py [SECONDS]`.

With seconds, each bench is stopped after so many: to see that none has died.
"""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

HERE = Path(__file__).parent


def run(bench: Path, seconds: float | None) -> int:
    """A bench in a process of its own: its exit code; 0 where it was stopped."""
    print(f"\n--- {bench.stem.removeprefix('bench_')} ---", flush=True)
    try:
        command = [sys.executable, str(bench)]
        return subprocess.run(command, timeout=seconds, check=False).returncode
    except subprocess.TimeoutExpired:
        print(f"(stopped after {seconds:g} s)", flush=True)
        return 0


def main() -> int:
    """Run each bench of this folder; the worst of their exit codes."""
    seconds = float(sys.argv[1]) if sys.argv[1:] else None
    codes = {b.stem: run(b, seconds) for b in sorted(HERE.glob("bench_*.py"))}
    failed = [name for name, code in codes.items() if code]
    print(f"\n{len(codes)} benches, failed: {', '.join(failed) or 'none'}")
    return max(codes.values(), key=abs)


if __name__ == "__main__":
    sys.exit(main())
