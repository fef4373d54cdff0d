"""Nothing is collected but in the window's own turn; no source is kept."""

from __future__ import annotations

import gc
import inspect
import linecache
import threading
import weakref

from PySide6.QtCore import QObject, QThread
from PySide6.QtWidgets import QWidget

from skirtwright.app.collecting import Collector


def _widget_in_a_circle(gone: list[QThread]) -> weakref.ref[QWidget]:
    widget = QWidget()
    widget.itself = widget
    weakref.finalize(widget, lambda: gone.append(QThread.currentThread()))
    return weakref.ref(widget)


def test_a_widget_let_go_of_goes_in_the_window_s_thread(qtbot, monkeypatch):
    gc.enable()
    here, parent, gone = QThread.currentThread(), QObject(), []
    collector = Collector(parent)
    left = _widget_in_a_circle(gone)
    known = gc.get_threshold()
    gc.set_threshold(500, 1, 1)
    try:
        made: list[list[int]] = []
        busy = threading.Thread(target=lambda: made.extend([n] for n in range(50_000)))
        busy.start()
        busy.join()
        assert left() is not None
        qtbot.waitUntil(lambda: left() is None)
    finally:
        gc.set_threshold(*known)
        collector.stop()
    assert gone == [here]


def test_the_source_of_what_was_loaded_is_not_kept(qtbot):
    parent = QObject()
    collector = Collector(parent)
    collector.setInterval(1)
    try:
        # As PySide does with every module that is loaded.
        inspect.getsource(threading)
        assert threading.__file__ in linecache.cache
        qtbot.waitUntil(lambda: threading.__file__ not in linecache.cache)
    finally:
        collector.stop()
