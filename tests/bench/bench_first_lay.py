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
ASIDE, MOVES, A_MOVE_S, LONGEST = (8.0, -12.0, 16.0), 8, 0.1, 120.0
"""How far each pull takes its point, mm; moves of one, and how long each takes, s."""

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


def pull(pulled: Pulled, place: str, aside: float) -> tuple[float, float]:
    """A point pulled and held: where the hand is then."""
    from PySide6.QtCore import QEvent

    table, move = pulled.table, QEvent.Type.MouseMove
    point = next(p for p in table.shown_points() if p.name == place)
    way = table.points.way(table.scene.point_of(place))
    pulled.send(QEvent.Type.MouseButtonPress, point.x, point.y, held=True)
    pulled.send(move, point.x + 4, point.y, held=True)
    for number in range(1, MOVES + 1):
        far = table.view.scale * aside * number / MOVES
        x, y = point.x + far * way[0], point.y + far * way[1]
        pulled.send(move, x, y, held=True)
        until = time.perf_counter() + A_MOVE_S
        while time.perf_counter() < until:
            pulled.app.processEvents()
    return x, y


def after_release(pulled: Pulled, place: str, aside: float) -> tuple[list[float], Gaps]:
    """Seconds to the first and the settled lay: by the clock, and of the processors."""
    from PySide6.QtCore import QEvent, QTimer

    work, app = pulled.window.cloth_work, pulled.app
    x, y = pull(pulled, place, aside)
    gaps, timer = Gaps(), QTimer(interval=5)
    timer.timeout.connect(gaps.tick)
    before = pulled.window.desk.job
    came: list[tuple[float, float]] = []

    def spent() -> tuple[float, float]:
        process = work.kept._process
        beside = child_seconds(process.processId()) if process else 0.0
        return time.perf_counter(), time.thread_time() + beside

    work.laid.connect(lambda: came.append(spent()))
    begun = spent()
    timer.start()
    pulled.send(QEvent.Type.MouseButtonRelease, x, y, held=False)
    if pulled.window.desk.job == before:
        raise SystemExit(f"nothing was pulled at {place}")
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
        runs = [after_release(pulled, STYLES[name], aside) for aside in ASIDE]
        first, first_cpu, whole, whole_cpu = (
            max(col) for col in zip(*(r[0] for r in runs), strict=True)
        )
        wall = max(max(gaps.wall) for _, gaps in runs)
        own = max(max(gaps.own) for _, gaps in runs)
        print(
            f"{name}: first lay {first:.2f} s, {first_cpu:.2f} of the processor"
            f" ({FIRST_S:g}); settled {whole:.2f} s, {whole_cpu:.2f} of the processor"
            f" ({SETTLED_S:g}); window busy at most {wall:.0f} ms, {own:.0f} of the"
            f" processor ({HELD_MS:g}); the worst of {len(ASIDE)}",
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
