"""The window against bare PySide6, and a drag against bare painting.

Run it: `python tests/bench/bench_window.py [drag] [start] [memory]`. Each figure is
printed with its denominator, measured in the same run on the same machine, and the
target of figures.md. Nothing here passes or fails.
"""

from __future__ import annotations

import gc
import os
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

SOURCE = Path(__file__).resolve().parents[2] / "src"
SIZE = (1600, 1000)
TICKS = 300
PLACES = ("front.side end", "front.hem middle", "front.hip end")
STARTS = 9

SHOWN = """
from PySide6.QtCore import QTimer
QTimer.singleShot({wait}, app.quit)
app.exec()
"""
BARE = (
    """
import sys, time
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QApplication, QWidget
class Bare(QWidget):
    def paintEvent(self, event):
        with QPainter(self) as painter:
            painter.fillRect(self.rect(), "white")
        print("painted", time.time(), time.process_time(), flush=True)
app = QApplication([])
window = Bare()
window.resize(1600, 1000)
window.show()
"""
    + SHOWN
)
# Through the same door as `skirtwright` itself.
OURS = """
import sys, time
from skirtwright import __main__ as program
program.load_window()
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication
from skirtwright.app.canvas.table import Table
painted = Table.paintEvent
def paint(self, event):
    painted(self, event)
    if not self.scene.layout.laid:
        return
    print("painted", time.time(), time.process_time(), flush=True)
    if Table.paintEvent is paint:
        Table.paintEvent = painted
        QTimer.singleShot({wait}, QApplication.quit)
Table.paintEvent = paint
program.main([])
"""
TABLE_ONLY = (
    """
import sys, time
from PySide6.QtWidgets import QApplication
app = QApplication([])
from skirtwright.app.canvas.table import Table
from skirtwright.app.look import LIGHT
from skirtwright.draft.styles import first, style
from skirtwright.job.job import new_job
from skirtwright.job.worktable import Worktable
painted = Table.paintEvent
def paint(self, event):
    painted(self, event)
    if self.scene.layout.laid:
        print("painted", time.time(), time.process_time(), flush=True)
Table.paintEvent = paint
window = Table(LIGHT)
window.resize(1600, 1000)
window.show_look(Worktable().look(new_job(style(first()))))
window.show()
"""
    + SHOWN
)
TAIL = """
def memory():
    for line in open("/proc/self/status"):
        if line.startswith("VmRSS"):
            return int(line.split()[1]) / 1024
print("memory", memory())
heavy = ("numpy", "shapely", "reportlab", "pikepdf", "pydantic")
print("loaded", [name for name in heavy if name in sys.modules])
"""


@dataclass(frozen=True)
class Start:
    """One start: ms and processor ms to the first painted skirt, MB at rest."""

    ms: float
    processor_ms: float
    mb: float
    loaded: str


def start_of(program: str, wait_ms: int = 600) -> Start:
    """A program started, left alone for a while, and closed."""
    text = program.replace("{wait}", str(wait_ms)) + TAIL
    # A home of its own: what was left unsaved here would be opened instead.
    home = tempfile.mkdtemp()
    homes = dict.fromkeys(("XDG_STATE_HOME", "XDG_CONFIG_HOME"), home)
    environment = {**os.environ, **homes, "PYTHONPATH": str(SOURCE)}
    # Her machine keeps compiled modules; this workplace says not to.
    environment.pop("PYTHONDONTWRITEBYTECODE", None)
    begun = time.time()
    done = subprocess.run(
        [sys.executable, "-c", text],
        env=environment,
        capture_output=True,
        text=True,
        check=False,
        timeout=60,
    )
    shutil.rmtree(home)
    lines = dict(line.split(" ", 1) for line in reversed(done.stdout.splitlines()))
    if "painted" not in lines or "memory" not in lines:
        raise SystemExit(done.stderr)
    painted, processor = map(float, lines["painted"].split())
    return Start(
        1000 * (painted - begun),
        1000 * processor,
        float(lines["memory"]),
        lines["loaded"],
    )


def starts_and_memory() -> None:
    programs = {"bare window": BARE, "table only": TABLE_ONLY, "whole window": OURS}
    found: dict[str, list[Start]] = {name: [] for name in programs}
    for name, program in programs.items():
        try:
            start_of(program)  # warms the disk cache
        except SystemExit as trouble:
            print(f"{name}: does not start: {str(trouble).strip().splitlines()[-1]}")
            found.pop(name)
    for _ in range(STARTS):
        for name, runs in found.items():
            runs.append(start_of(programs[name]))

    def figure(what: str, unit: str, of: Callable[[Start], float]) -> None:
        """The middle and the best of all runs, each against that of the bare window."""
        print(what)
        bare = [of(run) for run in found["bare window"]]
        for name, runs in found.items():
            own = [of(run) for run in runs]
            middle, best = statistics.median(own), min(own)
            usual = middle / statistics.median(bare)
            print(
                f"  {name:14} {middle:6.1f} {unit} {usual:5.2f} x"
                f"   best {best:6.1f} {best / min(bare):5.2f} x   {runs[-1].loaded}"
            )

    print(f"\n{STARTS} starts, warm, turn about")
    figure("start to first drawn skirt (target 2.5 x)", "ms", lambda run: run.ms)
    figure("the same in processor time", "ms", lambda run: run.processor_ms)
    figure("idle memory (target 2 x)", "MB", lambda run: run.mb)


def drags() -> None:
    """Pull points moved, each move waited for until it is painted.

    Told apart: the skirt in the new shape, which follows at once; the picture with the
    pieces, lining and findings of that shape, which comes a moment later; and what
    both take together.
    """
    from PySide6.QtCore import QEvent, QPointF, Qt
    from PySide6.QtGui import QMouseEvent, QPainter
    from PySide6.QtWidgets import QApplication, QWidget

    from skirtwright.app.canvas.table import Table
    from skirtwright.app.desk import Desk
    from skirtwright.app.look import LIGHT
    from skirtwright.app.settings import Settings
    from skirtwright.draft.styles import style
    from skirtwright.job.job import new_job

    app = QApplication.instance() or QApplication([])
    painted: list[float] = []

    class Timed(Table):
        def paintEvent(self, event):
            super().paintEvent(event)
            painted.append(time.perf_counter())

    table, desk = Timed(LIGHT), Desk(Settings())
    table.resize(*SIZE)
    desk.looked.connect(table.show_look)
    table.pulling.connect(desk.pull)
    table.dropped.connect(desk.drop)
    desk.begin(new_job(style("mermaid")))
    # What follows is asked for below, when its time is taken.
    desk._following.timeout.disconnect()
    table.show()
    for _ in range(60):
        app.processEvents()
        time.sleep(0.01)
    gc.collect()
    gc.freeze()

    def send(kind: QEvent.Type, x: float, y: float, held: bool) -> None:
        button = Qt.MouseButton.LeftButton
        buttons = button if held else Qt.MouseButton.NoButton
        moving = kind == QEvent.Type.MouseMove
        event = QMouseEvent(
            kind,
            QPointF(x, y),
            table.mapToGlobal(QPointF(x, y)),
            Qt.MouseButton.NoButton if moving else button,
            buttons,
            Qt.KeyboardModifier.NoModifier,
        )
        app.sendEvent(table, event)

    def wait() -> None:
        """Until there is a new picture."""
        while not painted:
            app.processEvents()

    for name in PLACES:
        point = next(p for p in table.shown_points() if p.name == name)
        send(QEvent.Type.MouseButtonPress, point.x, point.y, True)
        ticks: list[Took] = []
        wholes: list[Took] = []
        for number in range(TICKS):
            x = point.x + 4 + 20 * abs((number % 40) / 20 - 1)
            y = point.y + 4 + 20 * abs((number % 40) / 20 - 1)
            painted.clear()
            begun = now()
            send(QEvent.Type.MouseMove, x, y, True)
            wait()
            tick = since(begun)
            if not table.scene.good.at_a_glance:
                continue  # the amount, in whole millimetres, did not change
            ticks.append(tick)
            painted.clear()
            begun = now()
            desk._follow()
            wait()
            rest = since(begun)
            wholes.append((tick[0] + rest[0], tick[1] + rest[1]))
        bare = _bare_painting(table, app, QWidget, QPainter)
        own = _own_painting(table)
        send(QEvent.Type.MouseButtonRelease, point.x, point.y, False)
        desk.drop()
        print(f"{name}: ms (targets 8 and 16.7), {len(ticks)} moves changed it")
        for what, each in (("skirt", ticks), ("all of it", wholes)):
            for clock, number in (("", 0), (" processor", 1)):
                times = sorted(took[number] for took in each)
                middle, late = statistics.median(times), times[int(0.99 * len(times))]
                print(
                    f"  {what + clock:20} median {middle:5.1f}, best {times[0]:5.1f},"
                    f" 99th {late:5.1f}, {middle / bare[number]:.2f} x bare painting"
                )
        print(
            f"  own painting {own[0]:.1f} (processor {own[1]:.1f}),"
            f" bare {bare[0]:.1f} ({bare[1]:.1f}); target 1.8 x"
        )


Took = tuple[float, float]
"""Time gone by, and the processor's, of this process alone; ms."""


def now() -> Took:
    """Both clocks."""
    return 1000 * time.perf_counter(), 1000 * time.process_time()


def since(begun: Took) -> Took:
    """What has gone by on both clocks."""
    ended = now()
    return ended[0] - begun[0], ended[1] - begun[1]


def _medians(times: list[Took]) -> Took:
    return (
        statistics.median(took[0] for took in times),
        statistics.median(took[1] for took in times),
    )


def _own_painting(table: object) -> Took:
    """Median of painting the table as it stands."""
    times = []
    for _ in range(150):
        begun = now()
        table.repaint()
        times.append(since(begun))
    return _medians(times)


def _bare_painting(table, app, widget, painter_of) -> Took:
    """Median of plainly painting the same prepared paths with nothing round them.

    Tints filled, lines drawn with ordinary solid pens of their weights.
    """
    from PySide6.QtCore import Qt
    from PySide6.QtGui import QColor, QPen

    from skirtwright.app.canvas.drawing import STROKES, transform

    things = list(table.scene.prepared())
    view = table.view
    pens = {}
    for kind, stroke in STROKES.items():
        pens[kind] = QPen(QColor("black"), stroke.width)
        pens[kind].setCosmetic(True)
    times: list[Took] = []

    class Bare(widget):
        def paintEvent(self, event):
            with painter_of(self) as painter:
                painter.setRenderHint(painter_of.RenderHint.Antialiasing)
                painter.fillRect(self.rect(), Qt.GlobalColor.white)
                for laid, prepared in things:
                    painter.setTransform(transform(view, laid.offset))
                    painter.fillPath(prepared.body, Qt.GlobalColor.lightGray)
                    for kind, path in prepared.lines.items():
                        painter.strokePath(path, pens[kind])

    bare = Bare()
    bare.resize(*SIZE)
    bare.show()
    for _ in range(20):
        app.processEvents()
    for _ in range(150):
        begun = now()
        bare.repaint()
        times.append(since(begun))
    bare.close()
    return _medians(times)


if __name__ == "__main__":
    asked = sys.argv[1:] or ["drag", "start"]
    sys.path.insert(0, str(SOURCE))
    platform = os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    print(f"platform {platform}, {SIZE[0]} x {SIZE[1]}, {TICKS} ticks")
    if "drag" in asked:
        drags()
    if "start" in asked or "memory" in asked:
        starts_and_memory()
