"""The making-up sheet in the window: how long one working holds the window up.

    QT_QPA_PLATFORM=offscreen python tests/bench/bench_making.py

Limit: 100 ms, as for everything the window does in its own process.
"""

from __future__ import annotations

import statistics
import sys
import time

from PySide6.QtTest import QTest

from skirtwright.app.main import open_window

LIMIT_MS = 100
RUNS = 7


def main() -> int:
    """Print the median and the longest of several workings."""
    window = open_window(None)
    window.slips.show("sew", on=True)
    strip = window.slips.sew
    while strip.making is None:
        QTest.qWait(20)
    took = []
    for _ in range(RUNS):
        began = time.perf_counter()
        strip.work_now()
        took.append((time.perf_counter() - began) * 1000)
    print(
        f"one working: {statistics.median(took):.0f} ms, longest {max(took):.0f}"
        f" (limit {LIMIT_MS})"
    )
    return 0


if __name__ == "__main__":
    sys.exit(main())
