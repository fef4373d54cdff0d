"""The garbage collector, in the window's own turn.

Python collects in whatever thread just makes something. A widget found there would be
taken away outside the window's thread, and the program with it; so while the window
stands nothing is collected but here.
"""

from __future__ import annotations

import gc

from PySide6.QtCore import QObject, QTimer

EACH_MS = 1_000


class Collector(QTimer):
    """Collects each second what is due; Python itself no more."""

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        gc.disable()
        self.timeout.connect(collect_due_generations)
        self.start(EACH_MS)


def collect_due_generations() -> None:
    """The oldest generation over its threshold, with all that are younger."""
    made, thresholds = gc.get_count(), gc.get_threshold()
    for generation in (2, 1, 0):
        if made[generation] > thresholds[generation] > 0:
            gc.collect(generation)
            return
