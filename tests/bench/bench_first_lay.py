"""From letting go of a pull until the cloth is told: `bench_first_lay.py [STYLE...]`.

The real window, with its real process beside it. A point is pulled and let go three
times; from each release it is timed until the first lay stands, until the settled one
does, all tries made, and how long the window was ever busy with one thing, told by a
timer of 5 ms. The processor time is that of the thread the window lives in and of the
process beside it together; on a busy machine it says more than the clock, whose figure
holds only idle.
"""

from __future__ import annotations

import os
import shutil
import sys
import tempfile
import time
from dataclasses import dataclass, field
from pathlib import Path

from bench_window import SOURCE, Pulled

STYLES = {
    "a-line": "front.hem middle",
    "mermaid": "front.side end",
    "train": "front.side end",
    "gored": "gore_1.hem middle",
    "mermaid-gored": "gore_1.hem middle",
    "circle": "front.hem middle",
}
MOVES, LONGEST = (4, 7, 18), 120.0
"""Moves of each pull, so that each ends elsewhere; s."""

FIRST_S, SETTLED_S, HELD_MS = 1.0, 5.0, 50.0


def child_seconds(pid: int) -> float:
    """Processor time of a process, as Linux tells it."""
    fields = Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


@dataclass
class Gaps:
    """How long the window was busy between two ticks of a timer of 5 ms."""

    last: tuple[float, float] = (0.0, 0.0)
    wall: list[float] = field(default_factory=list)
    own: list[float] = field(default_factory=list)

    def tick(self) -> None:
        """Another one."""
        now = time.perf_counter(), time.thread_time()
        if self.last[0]:
            self.wall.append(1000 * (now[0] - self.last[0]))
            self.own.append(1000 * (now[1] - self.last[1]))
        self.last = now


def after_release(pulled: Pulled, place: str, moves: int) -> tuple[list[float], Gaps]:
    """Seconds to the first and the settled lay: by the clock, and of the processors."""
    from PySide6.QtCore import QEvent, QTimer

    table, work, app = pulled.table, pulled.window.cloth_work, pulled.app
    pulled.ticks(place, moves)
    point = next(p for p in table.shown_points() if p.name == place)
    gaps, timer = Gaps(), QTimer(interval=5)
    timer.timeout.connect(gaps.tick)
    came: list[tuple[float, float]] = []

    def spent() -> tuple[float, float]:
        process = work.kept._process
        beside = child_seconds(process.processId()) if process else 0.0
        return time.perf_counter(), time.thread_time() + beside

    work.laid.connect(lambda: came.append(spent()))
    begun = spent()
    timer.start()
    pulled.send(QEvent.Type.MouseButtonRelease, point.x, point.y, held=False)
    while time.perf_counter() - begun[0] < LONGEST:
        app.processEvents()
        time.sleep(0.001)
        if came and work.child is None and not work._rest.isActive():
            break
    timer.stop()
    work.laid.disconnect()
    ends = came[0], spent()
    return [end[n] - begun[n] for end in ends for n in (0, 1)], gaps


def settle(pulled: Pulled) -> None:
    """Until nothing is being laid."""
    work, until = pulled.window.cloth_work, time.perf_counter() + LONGEST
    while time.perf_counter() < until:
        pulled.app.processEvents()
        time.sleep(0.001)
        if work.child is None and not work._rest.isActive():
            return


def main(names: list[str]) -> None:
    """Print a line for each style."""
    for name in names or STYLES:
        pulled = Pulled(name)
        settle(pulled)
        runs = [after_release(pulled, STYLES[name], moves) for moves in MOVES]
        first, first_cpu, whole, whole_cpu = (
            max(col) for col in zip(*(r[0] for r in runs), strict=True)
        )
        wall = max(max(gaps.wall) for _, gaps in runs)
        own = max(max(gaps.own) for _, gaps in runs)
        print(
            f"{name}: first lay {first:.2f} s, {first_cpu:.2f} of the processor"
            f" ({FIRST_S:g}); settled {whole:.2f} s, {whole_cpu:.2f} of the processor"
            f" ({SETTLED_S:g}); window busy at most {wall:.0f} ms, {own:.0f} of the"
            f" processor ({HELD_MS:g}); the worst of {len(MOVES)}",
            flush=True,
        )
        pulled.close()


if __name__ == "__main__":
    sys.path.insert(0, str(SOURCE))
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    home = tempfile.mkdtemp()
    os.environ.update(dict.fromkeys(("XDG_STATE_HOME", "XDG_CONFIG_HOME"), home))
    main(sys.argv[1:])
    shutil.rmtree(home)
