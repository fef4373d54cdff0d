"""Where the window begins: on a file, on what was not saved, or on the example."""

from __future__ import annotations

import gc
import sys
import traceback
from functools import partial
from pathlib import Path
from types import TracebackType

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication

from skirtwright.app.collecting import Collector
from skirtwright.app.first_picture import kept_picture
from skirtwright.app.settings import Settings
from skirtwright.app.window import Window
from skirtwright.job.faults import note_fault
from skirtwright.job.in_book import is_there
from skirtwright.words import Phrase, say

_SETTLED_MS = 300

_YOUNG = 30_000
"""So many more things than before are made before what is young is looked through."""


def open_window(path: Path | None = None) -> Window:
    """The window, shown, with an order on its table.

    Args:
        path: the file to open; with None, work that was not saved comes back, else
            the order that was in hand last, else the ready example.
    """
    _program()
    settings = Settings()
    last = next((each for each in settings.recent() if is_there(each)), None)
    window = Window(settings, kept_picture(path or last, settings))
    # Loaded only now: the picture kept of the order is on the screen.
    from skirtwright.draft import styles
    from skirtwright.job import autosave
    from skirtwright.job.edits import begun_in
    from skirtwright.job.job import new_job

    left = autosave.left_behind() if path is None else ()
    opened = path is not None and window.files.open(path)
    opened = opened or any(window.files.resume(kept) for kept in left)
    if not opened and path is None:
        opened = last is not None and window.files.open(last)
    if not opened:
        job = new_job(styles.style(styles.first()))
        unit = window.settings.manner.unit
        window.keeper.begin_new(begun_in(job, unit))
    window.arrange()
    window.show()
    window.uncover()
    if path is None and not left and not window.settings.welcomed:
        window.welcome.begin()
    window.files.tell_places()
    if path is None:
        # Once the window is on the screen: it is not held up by a long list.
        QTimer.singleShot(0, window, partial(_lay_slip, window))
    return window


def _lay_slip(window: Window) -> None:
    """The slip that lay over the table last; on a day's first start her orders."""
    from skirtwright.app.slip_holder import SLIPS
    from skirtwright.job.prints import today

    first = window.settings.is_first_today(today())
    if not window.settings.welcomed or window.slips.open_name:
        return
    if first and window.bookkeeping.has_orders():
        window.slips.show("orders", on=True)
    elif window.settings.open_slip in SLIPS:
        window.slips.show(window.settings.open_slip, on=True)


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
    through all that is loaded would be felt in the middle of a pull.

    A look makes some 14,000 things in place of as many that go by themselves: they are
    not looked through at every move of a hand, and never in another thread.
    """
    from skirtwright.measures.working_ready import all_ready

    # What the style in hand needs of them is read; another reads the file anew.
    all_ready.cache_clear()
    gc.collect()
    gc.freeze()
    gc.set_threshold(_YOUNG)
    Collector(_program())


def _program() -> QApplication:
    """The one application of the process."""
    program = QApplication.instance()
    if isinstance(program, QApplication):
        return program
    QApplication.setApplicationName("Skirtwright")
    QApplication.setApplicationDisplayName("Skirtwright")
    QApplication.setDesktopFileName("skirtwright")
    # Set by hand it would be given back, and all that can be asked of a style loaded.
    return QApplication([*(sys.argv[:1] or [""]), "-style", "Fusion"])


class _Hook:
    """A fault of the program: her work is kept, she is told, details are written."""

    def __init__(self, window: Window) -> None:
        self._window = window
        self._known: set[str] = set()

    def __call__(
        self,
        kind: type[BaseException],
        trouble: BaseException,
        where: TracebackType | None,
    ) -> None:
        """Keep, write down, tell; whatever fails of that, the rest is done."""
        try:
            self._deal_with(kind, trouble, where)
        except Exception as second:  # noqa: BLE001 - the last place that can say it
            for each in (trouble, second):
                sys.__excepthook__(type(each), each, each.__traceback__)

    def _deal_with(
        self,
        kind: type[BaseException],
        trouble: BaseException,
        where: TracebackType | None,
    ) -> None:
        if issubclass(kind, KeyboardInterrupt):
            QApplication.quit()
            return
        text = "".join(traceback.format_exception(kind, trouble, where))
        is_kept = self._window.keeper.keep_now()
        if text in self._known:
            # A fault in painting comes with every picture: it is told once.
            return
        self._known.add(text)
        _write_in_terminal(text)
        note = note_fault(trouble)
        # Told once the fault is out of the way, never in the middle of painting.
        QTimer.singleShot(0, partial(self._tell, is_kept, note))

    def _tell(self, is_kept: bool, note: Path | None) -> None:
        from skirtwright.app.line import CLOSE

        manner = self._window.settings.manner
        kept = Phrase("window.fault_kept" if is_kept else "window.fault_not_kept")
        details = Phrase("window.fault_details", {"file": str(note)}) if note else ""
        words = say("window.fault", {"kept": kept, "details": details}, manner)
        elsewhere = {"files.elsewhere": self._window.files.ask_save_as}
        ways = CLOSE if is_kept else {**elsewhere, **CLOSE}
        self._window.line.tell("fault", words.strip(), ways)


def _write_in_terminal(text: str) -> None:
    """For whoever started it from one."""
    try:
        if sys.stderr is not None:
            sys.stderr.write(text)
    except (OSError, ValueError):
        # A terminal that was closed: the note has it.
        sys.stderr = None
