"""The window against bare PySide6, and a drag against bare painting.

Run it: `python tests/bench/bench_window.py [share] [drag] [styles] [start] [memory]`.
Each figure is printed with its denominator, measured in the same run on the same
machine, and its target. Nothing here passes or fails.
"""

from __future__ import annotations

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
STYLE_TICKS = 40
PLACES = ("front.side end", "front.hem middle", "front.hip end", "front.hem start")
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
# A start on an order that stood on the table last: its kept picture, and then the
# order itself, worked. Closed at the end, as she does, so that the picture stays.
AGAIN = OURS.replace("QApplication.quit", "QApplication.closeAllWindows")
KEPT = (
    AGAIN.replace("canvas.table import Table", "first_picture import Cover")
    .replace("Table.", "Cover.")
    .replace("    if not self.scene.layout.laid:\n        return\n", "")
)
UNKEPT = (
    """
import os
from pathlib import Path
Path(os.environ["XDG_STATE_HOME"], "skirtwright", "first-picture").unlink()
"""
    + AGAIN
)
SAVED = """
import sys
from pathlib import Path
from skirtwright.draft.styles import first, style
from skirtwright.job import file, own_files
from skirtwright.job.job import new_job
file.save(new_job(style(first())), Path(sys.argv[1]))
# As the window does, so that it is known again.
own_files.note(Path(sys.argv[1]).read_bytes())
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


def home_with_an_order() -> str:
    """A home in which an order was saved, and the window closed on it."""
    home = tempfile.mkdtemp()
    order = str(Path(home) / "order.skirt")
    homes = dict.fromkeys(("XDG_STATE_HOME", "XDG_CONFIG_HOME"), home)
    environment = {**os.environ, **homes, "PYTHONPATH": str(SOURCE)}
    # In that home, where the order is known as saved here.
    subprocess.run([sys.executable, "-c", SAVED, order], env=environment, check=True)
    start_of(AGAIN.replace("main([])", f"main([{order!r}])"), home=home)
    return home


def start_of(program: str, wait_ms: int = 600, home: str = "") -> Start:
    """A program started, left alone for a while, and closed."""
    text = program.replace("{wait}", str(wait_ms)) + TAIL
    # A home of its own: what was left unsaved here would be opened instead.
    own = "" if home else tempfile.mkdtemp()
    home = home or own
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
        # A busy machine takes its time.
        timeout=600,
    )
    if own:
        shutil.rmtree(own)
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
    programs = {
        "bare window": BARE,
        "table only": TABLE_ONLY,
        "first ever": OURS,
        "kept picture": KEPT,
        "worked after": AGAIN,
        "without it": UNKEPT,
    }
    home = home_with_an_order()
    homes = {KEPT: home, AGAIN: home, UNKEPT: home}
    found: dict[str, list[Start]] = {name: [] for name in programs}
    for name, program in programs.items():
        try:
            start_of(program, home=homes.get(program, ""))  # warms the disk cache
        except SystemExit as trouble:
            print(f"{name}: does not start: {str(trouble).strip().splitlines()[-1]}")
            found.pop(name)
    for _ in range(STARTS):
        for name, runs in found.items():
            program = programs[name]
            runs.append(start_of(program, home=homes.get(program, "")))
    shutil.rmtree(home)

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
    for name in ("kept picture", "worked after", "without it"):
        # Closed before they are measured.
        found.pop(name, None)
    figure("idle memory (target 1.8 x)", "MB", lambda run: run.mb)


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


class Pulled:
    """The real window on one style, with hands that pull it."""

    def __init__(self, style_name: str) -> None:
        from PySide6.QtWidgets import QApplication

        from skirtwright.app.main import _settle, open_window
        from skirtwright.draft.styles import style
        from skirtwright.job.job import new_job

        self.window = open_window()
        self.app = QApplication.instance()
        self.table = self.window.table
        self.window.resize(*SIZE)
        self.window.acts.by_name["shape"].setChecked(True)
        self.window.keeper.begin_new(new_job(style(style_name)))
        for _ in range(60):
            self.app.processEvents()
            time.sleep(0.01)
        # As the program does once it stands.
        _settle()
        self._watch()

    def _watch(self) -> None:
        """Know what of the table is still to be painted."""
        from PySide6.QtGui import QRegion

        self.unpainted = QRegion()
        paint, update = self.table.paintEvent, self.table.update

        def painted(event) -> None:
            self.unpainted -= event.region()
            paint(event)

        def wanted(region) -> None:
            self.unpainted += region
            update(region)

        self.table.paintEvent, self.table.update = painted, wanted

    @property
    def is_done(self) -> bool:
        """Whether all that was moved is worked and painted."""
        table = self.table
        worked = not (table._tick.isActive() or table._stale)
        return worked and self.unpainted.isEmpty()

    def send(self, kind, x: float, y: float, *, held: bool) -> None:
        """A move of the mouse on the table, or a press or release of its button."""
        from PySide6.QtCore import QEvent, QPointF, Qt
        from PySide6.QtGui import QMouseEvent

        button, none = Qt.MouseButton.LeftButton, Qt.MouseButton.NoButton
        moving = kind == QEvent.Type.MouseMove
        at = QPointF(x, y)
        event = QMouseEvent(
            kind,
            at,
            self.table.mapToGlobal(at),
            none if moving else button,
            button if held else none,
            Qt.KeyboardModifier.NoModifier,
        )
        self.app.sendEvent(self.table, event)

    def ticks(
        self, place: str, count: int, moved: Callable[[bool], None] = bool
    ) -> list[Took]:
        """A point pulled; each move waited for until all of the window is painted.

        Args:
            place: the point.
            count: of moves; those that change nothing are not told.
            moved: told after each whether it changed anything.
        """
        from PySide6.QtCore import QEvent

        point = next(p for p in self.table.shown_points() if p.name == place)
        handle = self.table.scene.point_of(place)
        way, scale = self.table.points.way(handle), self.table.view.scale
        self.send(QEvent.Type.MouseButtonPress, point.x, point.y, held=True)
        # More than a click first.
        self.send(QEvent.Type.MouseMove, point.x + 4, point.y, held=True)
        took = []
        for number in range(count):
            # To and fro along its way, 15 mm to either side.
            aside = scale * 30 * (abs((number % 40) / 20 - 1) - 0.5)
            x, y = point.x + aside * way[0], point.y + aside * way[1]
            before, begun = self.table.scene.good, now()
            self.send(QEvent.Type.MouseMove, x, y, held=True)
            while not self.is_done:
                self.app.processEvents()
            self.app.processEvents()
            spent, changed = since(begun), self.table.scene.good is not before
            moved(changed)
            # An amount in whole millimetres does not change at every move.
            if changed:
                took.append(spent)
        return took

    def let_go(self) -> None:
        """The order as it was before the pull."""
        from PySide6.QtCore import Qt
        from PySide6.QtTest import QTest

        QTest.keyClick(self.table, Qt.Key.Key_Escape)
        self.app.processEvents()

    def close(self) -> None:
        """Closed, with nothing left for the next one."""
        self.window.close()
        self.window.deleteLater()
        self.app.processEvents()


def shares() -> None:
    """Of the window's pixels, those of the table that no other widget covers."""
    from PySide6.QtTest import QTest

    from skirtwright.app.main import open_window
    from skirtwright.app.slip_holder import SLIPS
    from skirtwright.job.edits import set_measurement

    for size, targets in (((1440, 900), (85, 60)), ((1024, 700), (82, 53))):
        window = open_window()
        window.resize(*size)
        window.line.done("welcome")
        told = set_measurement(window.desk.job, "hip", "108")
        window.desk.change(told)
        for name in ("", *SLIPS):
            if name:
                window.slips.show(name, on=True)
            QTest.qWait(300)
            target = targets[1] if name else targets[0]
            share = 100 * _share(window)
            print(
                f"{size[0]} x {size[1]}, {name or 'at rest'}: table {share:.1f} %",
                end="",
            )
            more = "" if name else f"; {_skirt_in(window.table)}"
            print(f" of the window (target {target}){more}")
        window.close()


def _skirt_in(table) -> str:
    """How large the skirt is drawn on the table."""
    box, scale = table.scene.layout.box(), table.view.scale
    tall, wide = box.height * scale, box.width * scale
    shares = 100 * tall / table.height(), 100 * wide / table.width()
    return f"skirt {tall:.0f} px tall: {shares[0]:.0f} % of it, {shares[1]:.0f} % wide"


def _share(window) -> float:
    table = window.table
    region = table.visibleRegion().translated(table.pos())
    for other in (window.band, window.line, window.pointed, window.slips.now):
        if other is not None and other.isVisible():
            region = region.subtracted(other.geometry())
    shown = sum(part.width() * part.height() for part in region)
    return shown / (window.width() * window.height())


def drags() -> None:
    """A tick: from the pointer's move until everything in the window is painted."""
    pulled = Pulled("mermaid")
    for place in PLACES:
        times = pulled.ticks(place, TICKS)
        bare = _bare_painting(pulled.table, pulled.app)
        own = _own_painting(pulled.table)
        pulled.let_go()
        print(f"{place}: ms, {len(times)} moves changed it")
        for clock, number in (("clock", 0), ("processor", 1)):
            each = sorted(took[number] for took in times)
            middle, late = statistics.median(each), each[int(0.99 * len(each))]
            print(
                f"  {clock:10} median {middle:5.1f}, best {each[0]:5.1f},"
                f" 99th {late:5.1f}, {middle / bare[number]:.2f} x bare painting"
                f" ({bare[number]:.1f}); painting alone {own[number]:.1f}"
            )
    pulled.close()


def styles() -> None:
    """The middle and the slowest pull point of every style, against the mermaid's."""
    from skirtwright.draft.styles import names

    found: dict[str, list[tuple[float, str]]] = {}
    for name in names():
        pulled = Pulled(name)
        rows = []
        for place in [point.name for point in pulled.table.shown_points()]:
            times = pulled.ticks(place, STYLE_TICKS)
            pulled.let_go()
            if times:
                rows.append((statistics.median(took[1] for took in times), place))
        found[name] = sorted(rows)
        pulled.close()
    mermaid = statistics.median(row[0] for row in found["mermaid"])
    print("\na tick of every style, processor ms (target 1.5 x the mermaid)")
    for name, rows in found.items():
        middle = statistics.median(row[0] for row in rows)
        print(
            f"  {name:16} {middle:5.1f} {middle / mermaid:4.2f} x"
            f"   slowest {rows[-1][0]:5.1f}, {rows[-1][1]}"
        )


def _own_painting(table: object) -> Took:
    """Median of painting the table as it stands."""
    times = []
    for _ in range(150):
        begun = now()
        table.repaint()
        times.append(since(begun))
    return _medians(times)


def _bare_painting(table, app) -> Took:
    """Median of plainly painting the same prepared paths with nothing round them.

    Tints filled, lines drawn with ordinary solid pens of their weights.
    """
    from PySide6.QtCore import Qt
    from PySide6.QtGui import QColor, QPainter, QPen
    from PySide6.QtWidgets import QWidget

    from skirtwright.app.canvas.drawing import STROKES, transform
    from skirtwright.app.canvas.paths import Prepared

    things = [(laid, Prepared(of)) for laid, of in table.scene.things()]
    view = table.view
    pens = {}
    for kind, stroke in STROKES.items():
        pens[kind] = QPen(QColor("black"), stroke.width)
        pens[kind].setCosmetic(True)
    times: list[Took] = []

    class Bare(QWidget):
        def paintEvent(self, event):
            with QPainter(self) as painter:
                painter.setRenderHint(QPainter.RenderHint.Antialiasing)
                painter.fillRect(self.rect(), Qt.GlobalColor.white)
                for laid, prepared in things:
                    painter.setTransform(transform(view, laid))
                    painter.fillPath(prepared.body, Qt.GlobalColor.lightGray)
                    for kind, path in prepared.lines.items():
                        painter.strokePath(path, pens[kind])

    bare = Bare()
    bare.resize(table.size())
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
    asked = sys.argv[1:] or ["share", "drag", "styles", "start"]
    sys.path.insert(0, str(SOURCE))
    platform = os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    print(f"platform {platform}, {SIZE[0]} x {SIZE[1]}, {TICKS} ticks")
    home = tempfile.mkdtemp()
    os.environ.update(dict.fromkeys(("XDG_STATE_HOME", "XDG_CONFIG_HOME"), home))
    if "share" in asked:
        shares()
    if "drag" in asked:
        drags()
    if "styles" in asked:
        styles()
    shutil.rmtree(home)
    if "start" in asked or "memory" in asked:
        starts_and_memory()
