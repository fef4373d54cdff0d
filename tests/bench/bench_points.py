"""Whether each pull point does what it shows: every style, option and alteration.

`python tests/bench/bench_points.py [MOST]` tries all orders by mouse, or so many of
them in a seeded order, and prints each point that lies.
"""

from __future__ import annotations

import os
import random
import sys
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
sys.path.insert(0, str(Path(__file__).parents[1]))

from PySide6.QtWidgets import QApplication

from honest_points import Hand, altered, orders


def main(most: str = "1000") -> None:
    """Print what lies, and how many were tried."""
    application = QApplication([])
    hand, todo = Hand(), [*orders(), *altered()]
    random.Random(1).shuffle(todo)
    found = 0
    for name, job in todo[: int(most)]:
        for lie in hand.lies(job):
            found += 1
            print(f"{name}: {lie}", flush=True)
    print(f"{min(len(todo), int(most))} orders tried, {found} points lie")
    hand.table.close()
    application.quit()


if __name__ == "__main__":
    main(*sys.argv[1:])
