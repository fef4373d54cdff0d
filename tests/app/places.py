"""Where things stand in the window: slips opened as she opens them, and their rows."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtTest import QTest
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from skirtwright.app.slips.measurement import MeasurementRow
from skirtwright.app.slips.paper import PaperSlip
from skirtwright.app.slips.rows import AmountRow, ChoiceRow
from skirtwright.app.slips.slip import Slip
from skirtwright.app.window import Window


def settled(window: QWidget) -> None:
    """Wait until everything has found its place, however busy the machine."""
    before = None
    while before != (now := [w.geometry() for w in window.findChildren(QWidget)]):
        before = now
        QTest.qWait(1)


def slip(window: Window, name: str) -> Slip:
    """A slip, laid over the table by its action."""
    if window.slips.open_name != name:
        window.acts.by_name[name].trigger()
        settled(window)
    return window.slips[name]


def save(strip: PaperSlip, qtbot: QtBot, path: Path) -> bool:
    """Have the Paper slip write a file, and wait for it; whether it was written."""
    strip.save_to(path)
    qtbot.waitUntil(lambda: not strip.is_writing(), timeout=60000)
    return not strip.trouble.text()


def measurement(window: Window, name: str) -> MeasurementRow:
    """A row of the slip of measurements, which is opened for it."""
    slip(window, "measure")
    return window.slips.measure.rows_by_name[name]


def amount(window: Window, name: str) -> AmountRow:
    """A row of the slip of shape, which is opened for it."""
    slip(window, "shape")
    row = window.slips.shape.row_of(name)
    assert row is not None
    return row


def choice(window: Window, name: str) -> ChoiceRow:
    """A style detail of the slip of shape, which is opened for it."""
    slip(window, "shape")
    return window.slips.shape.choices[name]


def share_of_table(window: Window) -> float:
    """Of the window's pixels, those of the table that no other widget covers."""
    table = window.table
    region = table.visibleRegion().translated(table.pos())
    for other in (window.band, window.line, window.pointed, window.slips.now):
        if other is not None and other.isVisible():
            region = region.subtracted(other.geometry())
    shown = sum(part.width() * part.height() for part in region)
    return shown / (window.width() * window.height())
