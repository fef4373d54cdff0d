"""Where the window begins: on a file, on what was not saved, or on the example."""

from __future__ import annotations

import gc
import linecache
import sys
import traceback
from pathlib import Path
from types import TracebackType

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication

from skirtwright.app.settings import Settings
from skirtwright.app.window import Window
from skirtwright.draft import styles
from skirtwright.job import autosave
from skirtwright.job.job import new_job
from skirtwright.words import say

_LOG = "trouble.log"
_SETTLED_MS = 300


def open_window(path: Path | None = None) -> Window:
    """The window, shown, with an order on its table.

    Args:
        path: the file to open; with None, work that was not saved comes back, and
            else the ready example.
    """
    _program()
    window = Window(Settings())
    left = autosave.left_behind() if path is None else ()
    opened = path is not None and window.files.open(path)
    if not (opened or any(window.files.resume(kept) for kept in left)):
        window.keeper.begin_new(new_job(styles.style(styles.first())))
    window.dress()
    window.show()
    if path is None and not left and not window.settings.welcomed:
        window.welcome.begin()
    return window


def run(path: Path | None = None) -> int:
    """The window, until it is closed.

    Returns:
        The exit code of the process.
    """
    program = _program()
    window = open_window(path)
    sys.excepthook = _Hook(window)
    QTimer.singleShot(_SETTLED_MS, _settle)
    return int(program.exec())


def _settle() -> None:
    """After the first picture: what stands now stays, and is not looked through again.

    The garbage collector was off until here (see `skirtwright.__main__`); a full look
    through all that is loaded would be felt in the middle of a pull. What PySide6
    read of our sources is let go.
    """
    linecache.clearcache()
    gc.collect()
    gc.freeze()
    gc.enable()


def _program() -> QApplication:
    """The one application of the process."""
    program = QApplication.instance()
    if isinstance(program, QApplication):
        return program
    QApplication.setApplicationName("Skirtwright")
    QApplication.setApplicationDisplayName("Skirtwright")
    QApplication.setDesktopFileName("skirtwright")
    made = QApplication(sys.argv[:1])
    made.setStyle("Fusion")
    return made


class _Hook:
    """A fault of the program: her work is kept, she is told, details are written."""

    def __init__(self, window: Window) -> None:
        self._window = window

    def __call__(
        self,
        kind: type[BaseException],
        trouble: BaseException,
        where: TracebackType | None,
    ) -> None:
        """Keep, write down, tell."""
        lines = traceback.format_exception(kind, trouble, where)
        sys.stderr.write("".join(lines))
        if issubclass(kind, KeyboardInterrupt):
            QApplication.quit()
            return
        window = self._window
        window.keeper.keep_now()
        place = autosave.state_folder() / _LOG
        try:
            place.parent.mkdir(parents=True, exist_ok=True)
            with place.open("a", encoding="utf-8") as log:
                log.writelines(lines)
        except OSError as second:
            sys.stderr.write(f"{second}\n")
        # Told once the fault is out of the way, never in the middle of painting.
        QTimer.singleShot(0, self._tell)

    def _tell(self) -> None:
        manner = self._window.settings.manner
        place = str(autosave.state_folder() / _LOG)
        words = say("window.fault", {"file": place}, manner)
        close = (say("notice.close", manner=manner), lambda: None)
        self._window.notice.tell("fault", words, [close])
