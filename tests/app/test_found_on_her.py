"""A check about the body in the window: on the figure, and large when it is clicked."""

from __future__ import annotations

from places import slip
from PySide6.QtCore import Qt
from PySide6.QtGui import QColor
from PySide6.QtTest import QTest

from skirtwright.draft.styles import style
from skirtwright.job.edits import set_amount
from skirtwright.job.job import new_job


def coloured(window, colour):
    """How many pixels of the table are of a colour."""
    image, wanted = window.table.grab().toImage(), QColor(colour).rgb()
    return sum(
        image.pixel(x, y) == wanted
        for x in range(image.width())
        for y in range(0, image.height(), 2)
    )


def test_a_short_step_is_drawn_on_her_and_a_click_brings_her_large(window):
    caution = window.colours.caution
    job = set_amount(new_job(style("straight")), "length", "60").job
    window.desk.begin(job)
    before = coloured(window, caution)
    window.desk.change(set_amount(job, "length", "75"))
    (problem,) = window.finding_notices.problems
    assert problem.code == "check.step_short"
    assert coloured(window, caution) > before + 20
    slip(window, "check")
    (row,) = window.slips.check.found
    QTest.mouseClick(row, Qt.MouseButton.LeftButton)
    assert window.table.figure.is_large
    figure = window.table.figure.figure(window.colours, window.settings.manner)
    assert [len(marks) for marks in figure.found] == [1, 1, 1]
    assert coloured(window, caution) > before + 100
