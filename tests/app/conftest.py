"""What the tests of the window share: a home of their own, and windows put away."""

from __future__ import annotations

import gc
import sys
import threading
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import QEvent, QPoint, Qt
from PySide6.QtGui import QCursor
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget

from skirtwright.app import (
    cloth_work,
    desk,
    figure_view,
    keeping,
    many_at_once,
    mending,
    missing_pictures,
    side_work,
    since_print,
    style_chooser,
)
from skirtwright.app.canvas import tabletop
from skirtwright.app.canvas.camera import Camera
from skirtwright.app.canvas.pictures import Pictures
from skirtwright.app.canvas.tabletop import Tabletop
from skirtwright.app.collecting import collect_due_generations
from skirtwright.app.slips import other_ways, paper, sew
from skirtwright.figure.wearing import Wearing
from skirtwright.job.worktable import Worktable

sys.path.insert(0, str(Path(__file__).parent))

from places import settled

from drafting import LOOKS_KEPT, OneWorktable

WEARING, DRAWN = Wearing(), figure_view.FigureView._drawn
"""Of all windows: what one has put on her, the next need not."""

FIGURES: dict[tuple[int, bool], tuple[Any, Any, Any]] = {}


def drawn_once(view: figure_view.FigureView, *, large: bool) -> Any:
    """The figure in the skirt, and what is found on her, as another window has it."""
    key = id(view._report), large
    report, pictures, found = FIGURES.get(key, (None, (), ()))
    if report is None or report is not view._report:
        pictures = DRAWN(view, large=large)
        found = view._found[large]
        FIGURES[key] = view._report, pictures, found
        while len(FIGURES) > LOOKS_KEPT:
            FIGURES.pop(next(iter(FIGURES)))
    view._found[large] = found
    return pictures


OF_WINDOWS = (20_000, 20, 50)
"""Windows that are put away are collected sooner than drafts: they are large."""


@pytest.fixture(autouse=True)
def collected_in_turn() -> Iterator[None]:
    """As in the program, see `app/collecting.py`."""
    gc.disable()
    yield
    for thread in threading.enumerate():
        if thread.name == side_work.NAME:
            thread.join(20)
    known = gc.get_threshold()
    gc.set_threshold(*OF_WINDOWS)
    collect_due_generations()
    gc.set_threshold(*known)
    gc.enable()


AWAY = QPoint(9000, 9000)
"""Where the pointer lies when a test begins: on no window."""


@pytest.fixture(scope="session")
def painted() -> Pictures:
    """Of all tables: what lies on one as on another is painted once."""
    return Pictures()


@pytest.fixture(autouse=True)
def worked_once(painted: Pictures, monkeypatch: pytest.MonkeyPatch) -> None:
    """All only remember: `tests/job/test_walk.py` and `test_pictures.py` hold them."""
    for module in (desk, style_chooser):
        monkeypatch.setattr(module, "Worktable", OneWorktable)
    monkeypatch.setattr(tabletop, "Pictures", lambda: painted)
    monkeypatch.setattr(figure_view, "Wearing", lambda: WEARING)
    monkeypatch.setattr(figure_view.FigureView, "_drawn", drawn_once)


@pytest.fixture
def works_alone(worked_once: None, monkeypatch: pytest.MonkeyPatch) -> None:
    """What this test's windows work is worked by them, and kept by nothing else."""
    for module in (desk, style_chooser):
        monkeypatch.setattr(module, "Worktable", Worktable)
    monkeypatch.setattr(tabletop, "Pictures", Pictures)
    monkeypatch.setattr(figure_view, "Wearing", Wearing)
    monkeypatch.setattr(figure_view.FigureView, "_drawn", DRAWN)


REST_MS, LAYS_AFTER_MS = mending.REST_MS, cloth_work.REST_MS


@pytest.fixture(autouse=True)
def mends_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    """Remedies are tried, pieces laid, orders drawn, only where a test asks for it."""
    monkeypatch.setattr(mending, "REST_MS", 3_600_000)
    monkeypatch.setattr(missing_pictures, "REST_MS", 3_600_000)
    monkeypatch.setattr(cloth_work, "REST_MS", 3_600_000)
    monkeypatch.setattr(other_ways, "REST_MS", 3_600_000)


KEPT_AFTER_MS = keeping.AFTER_MS


@pytest.fixture(autouse=True)
def keeps_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    """Work is kept beside its file only where a test asks for it."""
    monkeypatch.setattr(keeping, "AFTER_MS", 3_600_000)


@pytest.fixture
def keeps(keeps_nothing: None, monkeypatch: pytest.MonkeyPatch) -> None:
    """Unsaved work is kept after a while, as it is for her."""
    monkeypatch.setattr(keeping, "AFTER_MS", KEPT_AFTER_MS)


TRIED = Worktable()
"""Of all windows: what remedies are tried on, beside the window."""

A_MOMENT_MS = 20
"""How long work beside the window waits for her hand in tests, who need no longer."""


@pytest.fixture(autouse=True)
def rests_a_moment(monkeypatch: pytest.MonkeyPatch) -> None:
    """What is counted and written once she rests begins sooner: less is waited for."""
    monkeypatch.setattr(paper, "REST_MS", A_MOMENT_MS)
    monkeypatch.setattr(sew, "REST_MS", A_MOMENT_MS)
    monkeypatch.setattr(since_print, "_REST_MS", A_MOMENT_MS)
    monkeypatch.setattr(many_at_once, "_REST_MS", A_MOMENT_MS)


ON_IDLE = Tabletop._on_idle


@pytest.fixture(autouse=True)
def learns_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    """How a point answers is worked when it is asked for, not for all at each rest."""
    monkeypatch.setattr(Tabletop, "_on_idle", lambda _: None)


@pytest.fixture
def learns(learns_nothing: None, monkeypatch: pytest.MonkeyPatch) -> None:
    """How each point answers is learnt while the hand rests, as for her."""
    monkeypatch.setattr(Tabletop, "_on_idle", ON_IDLE)


GO = Camera._go


@pytest.fixture(autouse=True)
def no_glides(monkeypatch: pytest.MonkeyPatch) -> None:
    """The table is seen from its new place at once, not after so many pictures."""
    monkeypatch.setattr(
        Camera, "_go", lambda camera, view, **_: GO(camera, view, glide=False)
    )


@pytest.fixture
def glides(no_glides: None, monkeypatch: pytest.MonkeyPatch) -> None:
    """The table glides from one view to another, as it does for her."""
    monkeypatch.setattr(Camera, "_go", GO)


@pytest.fixture
def mends(mends_nothing: None, monkeypatch: pytest.MonkeyPatch) -> None:
    """Remedies are tried while the order rests, as they are for her."""
    monkeypatch.setattr(mending, "Worktable", lambda: TRIED)
    monkeypatch.setattr(mending, "REST_MS", REST_MS)


@pytest.fixture
def counts_other_ways(mends_nothing: None, monkeypatch: pytest.MonkeyPatch) -> None:
    """What other ways to lay the paper would take is counted while she rests."""
    monkeypatch.setattr(other_ways, "REST_MS", 10 * A_MOMENT_MS)


@pytest.fixture
def draws(mends_nothing: None, monkeypatch: pytest.MonkeyPatch) -> None:
    """Orders without a picture are drawn when they are seen, as they are for her."""
    monkeypatch.setattr(missing_pictures, "REST_MS", A_MOMENT_MS)


@pytest.fixture
def lays(mends_nothing: None, monkeypatch: pytest.MonkeyPatch) -> None:
    """Pieces are laid while the order rests, as they are for her, with fewer tries."""
    monkeypatch.setattr(cloth_work, "REST_MS", LAYS_AFTER_MS)
    monkeypatch.setattr(cloth_work, "QUICK", 4)
    monkeypatch.setattr(cloth_work, "TRIES", 10)


@pytest.fixture(autouse=True)
def put_away() -> Iterator[None]:
    """Widgets of one test are gone before the next; the pointer is on none, and free.

    A button that a test leaves held is held for all that come after it.
    """
    if QApplication.instance() is not None:
        QCursor.setPos(AWAY)
    yield
    if QApplication.instance() is not None:
        for button in Qt.MouseButton:
            if button & QApplication.mouseButtons():
                QTest.mouseRelease(QWidget(), button)
    if QApplication.instance() is not None:
        QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Settings and kept work of this test alone."""
    place = tmp_path / "home"
    place.mkdir()
    for name in ("XDG_CONFIG_HOME", "XDG_STATE_HOME", "XDG_DATA_HOME", "HOME"):
        monkeypatch.setenv(name, str(place))
    return place


@pytest.fixture
def opened(qtbot) -> Iterator[Callable[[Path | None], QWidget]]:
    """Opens windows; those still open at the end are closed."""
    from skirtwright.app.main import open_window
    from skirtwright.app.settings import Settings

    settings = Settings()
    settings.welcome_done()
    settings.write_now()
    windows = []

    def open_one(path: Path | None = None, size: tuple[int, int] = (1440, 900)):
        window = open_window(path)
        windows.append(window)
        window.resize(*size)
        window.activateWindow()
        qtbot.waitExposed(window)
        settled(window)
        return window

    yield open_one
    for window in windows:
        # Nobody comes back to its work, so that it need not be written.
        window.keeper.let_go()
        window.files.loss_allowed = True
        window.close()
        window.deleteLater()


@pytest.fixture
def window(opened):
    """The window on the ready example."""
    return opened(None)


@pytest.fixture
def keys(qtbot) -> Callable[..., None]:
    """Presses keys where the keyboard is."""

    def press(*given: str | int, mods=Qt.KeyboardModifier.NoModifier) -> None:
        for each in given:
            target = QApplication.focusWidget() or QApplication.activeWindow()
            if isinstance(each, str):
                QTest.keyClicks(target, each)
            else:
                QTest.keyClick(target, each, mods)

    return press
