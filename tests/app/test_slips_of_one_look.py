"""No slip, nor the line below, tells of an order or a look before this one."""

from __future__ import annotations

from places import settled, slip
from PySide6.QtWidgets import (
    QAbstractButton,
    QComboBox,
    QLabel,
    QLineEdit,
    QTextEdit,
    QWidget,
)
from test_cloth_slip import lay_now

from skirtwright.app.slip_holder import SLIPS
from skirtwright.draft import styles
from skirtwright.export import printing
from skirtwright.job import edits
from skirtwright.job.edits import Edited

A_WIDTH = {"width": {"width": 1400.0, "bought": 1234.0, "fold": "lengthwise"}}


def read(window) -> set[str]:
    """All that is written in the slip and below the table."""
    found: list[str] = []
    places = (window.slips.now, window.line)
    for one in (each for place in places for each in place.findChildren(QWidget)):
        if not one.isVisible():
            continue
        match one:
            case QLabel() | QAbstractButton() | QLineEdit():
                found.append(one.text())
            case QComboBox():
                found.append(one.currentText())
            case QTextEdit():
                found += one.toPlainText().split("\n")
    return {text.strip() for text in found if text.strip()}


def worked(window, qtbot) -> set[str]:
    """What is read once all of it is worked."""
    lay_now(window)
    slips = window.slips.__dict__
    if window.slips.open_name == "paper":
        qtbot.waitUntil(lambda: slips["paper"].counted is not None, timeout=60000)
    if window.slips.open_name == "sew":
        qtbot.waitUntil(lambda: slips["sew"].making is not None, timeout=60000)
    settled(window)
    return read(window)


def test_what_is_worked_late_is_never_of_a_look_before(window, qtbot):
    """Each slip as one order, then shut over the change to another, then back in sight.

    What only the first has is not read of the second, not even until that is worked.
    """
    desk = window.desk
    desk.begin(edits.set_style(desk.job, styles.style("straight-block")).job)
    pieces = printing.pieces_printed(desk.look.report, printing.Printing(), None)
    desk.note_print(desk.look, "roll", pieces, None)
    desk.set_amounts({"length": "58"})
    first = desk.job
    second = edits.set_amount(first, "length", "66").job
    second = edits.set_measurement(second, "waist", "80").job
    for name in SLIPS:
        desk.change(Edited(first, "edit.on_hand", {}))
        slip(window, name)
        if name == "cloth":
            window.slips.cloth.others.unfold()
            window.slips.cloth.widths.stop()
            window.slips.cloth.widths.take(A_WIDTH)
        before = worked(window, qtbot)
        window.slips.put_away()
        desk.change(Edited(second, "edit.on_hand", {}))
        slip(window, name)
        seen = read(window)
        after = worked(window, qtbot)
        assert not seen & (before - after), name
        desk.change(Edited(first, "edit.on_hand", {}))
        seen = read(window)
        again = worked(window, qtbot)
        assert not seen & (after - again), name
        if name == "cloth":
            window.slips.cloth.wait()
        else:
            assert again == before, name
