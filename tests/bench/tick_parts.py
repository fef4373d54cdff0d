"""What each part of a tick costs: `python tests/bench/tick_parts.py [STYLE] [PLACE]`.

A pull point is pulled in the real window; the parts are timed by the processor's clock,
which other work on the machine disturbs less than the wall's.
"""

from __future__ import annotations

import functools
import importlib
import os
import shutil
import statistics
import sys
import tempfile
import time
from collections import defaultdict

from bench_window import SOURCE, Pulled

PARTS = (
    ("finding the amount", "app.canvas.pulling", "Pull.tick"),
    ("look", "job.worktable", "Worktable.look"),
    ("  draft", "draft.working.recompute", "Reworking.work"),
    ("  cutting", "pieces.cutting", "Cutting.cut"),
    ("  report", "job.worktable", "report"),
    ("pieces finished", "pieces.piece_making", "_finished"),
    ("laid on the table", "app.canvas.scene", "Scene.show"),
    ("measures shown", "app.slips.shape", "ShapeSlip.show_look"),
    ("checks shown", "app.slips.check", "CheckSlip.show_look"),
    ("frame", "app.canvas.tabletop", "frame_of"),
    ("painting", "app.canvas.tabletop", "Tabletop.paintEvent"),
    ("  pictures painted", "app.canvas.pictures", "_painted"),
)
TICKS = 120


def watch(took: dict[str, float]) -> None:
    """Have each part add its processor time, ms, under its name."""
    for name, module, path in PARTS:
        owner = importlib.import_module(f"skirtwright.{module}")
        *kind, last = path.split(".")
        for part in kind:
            owner = getattr(owner, part)
        setattr(owner, last, _timed(getattr(owner, last), name, took))


def _timed(work, name, took):
    @functools.wraps(work)
    def timed(*given, **named):
        begun = time.process_time()
        try:
            return work(*given, **named)
        finally:
            took[name] += 1000 * (time.process_time() - begun)

    return timed


def main(style: str = "mermaid", place: str = "front.side end") -> None:
    """Print the parts of a tick, and what is left over."""
    home = tempfile.mkdtemp()
    os.environ.update(dict.fromkeys(("XDG_STATE_HOME", "XDG_CONFIG_HOME"), home))
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    took: dict[str, float] = defaultdict(float)
    all_took: dict[str, float] = defaultdict(float)

    def moved(changed: bool) -> None:
        """What moves took that changed nothing is no part of a tick."""
        for name, ms in took.items():
            all_took[name] += ms if changed else 0.0
        took.clear()

    watch(took)
    pulled = Pulled(style)
    pulled.ticks(place, 20)
    took.clear()
    ticks = pulled.ticks(place, TICKS, moved)
    whole = sum(tick[1] for tick in ticks)
    middle = statistics.median(tick[1] for tick in ticks)
    print(f"{style}, {place}: {len(ticks)} ticks, median {middle:.1f} ms of processor")
    for name, _, _ in PARTS:
        each, share = all_took[name] / len(ticks), all_took[name] / whole
        print(f"  {name:20} {each:6.2f} ms {share:4.0%}")
    shutil.rmtree(home)


if __name__ == "__main__":
    sys.path.insert(0, str(SOURCE))
    main(*sys.argv[1:])
