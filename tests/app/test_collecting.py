"""Nothing is collected but in the window's own turn; no source is read."""

from __future__ import annotations

import gc
import inspect
import threading
import weakref

from PySide6.QtCore import QObject, QThread
from PySide6.QtWidgets import QWidget
from PySide6.support import feature

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


def test_no_source_is_read_of_what_is_loaded(monkeypatch):
    """As PySide does with every module that is loaded, unless it is told not to."""
    read: list[object] = []
    monkeypatch.setattr(inspect, "getsource", read.append)
    monkeypatch.delitem(feature.pyside_feature_dict, "colorsys", raising=False)
    import colorsys  # noqa: F401 - read here if anywhere

    assert feature.pyside_feature_dict["colorsys"] == 0
    assert read == []
