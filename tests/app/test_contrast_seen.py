"""Contrast and targets measured from the painted window, not from its colours."""

from __future__ import annotations

import numpy as np
import pytest
from contrast import contrast
from places import settled, slip
from PySide6.QtCore import QPoint, QRect
from PySide6.QtGui import QImage
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QLabel, QLineEdit

from skirtwright.app.fields import Choosing

TEXT = 4.5
"""WCAG 2.2, success criterion 1.4.3."""

TARGET = 24
"""px, WCAG 2.2, success criterion 2.5.8."""


def contrast_in(picture: QImage, area: QRect) -> float:
    """Of the ground, which is most of an area, with what stands out from it most.

    Letters are smoothed: their full colour is what lies furthest from the ground.
    """
    part = picture.copy(area & picture.rect()).convertToFormat(QImage.Format_RGB32)
    seen, often = np.unique(
        np.frombuffer(part.constBits(), np.uint32), return_counts=True
    )
    ground = int(seen[often.argmax()])
    return max(contrast(ground, int(one)) for one in seen)


def words_of(widget) -> str:
    return widget.text().replace("\u00a0", " ").strip()


def texts(window):
    """What is read in the window, with its place in it, px."""
    for kind in (QLabel, QAbstractButton, QLineEdit):
        for widget in window.findChildren(kind):
            region = widget.visibleRegion().boundingRect()
            whole = region.height() >= widget.height() and widget.isEnabled()
            if widget.isVisible() and whole and words_of(widget):
                place = widget.mapTo(window, QPoint(0, 0))
                yield words_of(widget), QRect(place, widget.size())


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_what_is_read_stands_out_from_its_ground(window, theme):
    """In each slip, and the figures on the linen beside it."""
    window.settings.choose("theme", theme)
    figures_stand_out(window.table, theme)
    for name in ("measure", "cut", "check", "paper"):
        slip(window, name)
        settled(window)
        picture = window.grab().toImage()
        found = list(texts(window))
        assert len(found) > 12
        for words, area in found:
            assert contrast_in(picture, area) >= TEXT, (words, theme, name)
        if name == "cut":
            figures_stand_out(window.table, theme)


def figures_stand_out(table, theme):
    picture = table.grab().toImage()
    assert len(table.written()) >= 5
    for written in table.written():
        area = written.area.toAlignedRect()
        assert contrast_in(picture, area) >= TEXT, (written.word, theme)


def test_targets_are_large_enough_to_hit(window):
    for name in ("measure", "cut", "check", "paper"):
        slip(window, name)
        settled(window)
        for widget in window.findChildren(QAbstractButton):
            if widget.isVisible() and widget.isEnabled():
                size = widget.size()
                told = (name, widget.accessibleName() or widget.text(), size)
                assert size.height() >= TARGET or size.width() >= 4 * TARGET, told
    window.slips.put_away()
    settled(window)
    for point in window.table.shown_points():
        target = window.table.points.target(point.name, window.table.view)
        assert min(target.width(), target.height()) >= 32, point.name


@pytest.mark.parametrize(("theme", "name"), [("light", "shape"), ("dark", "paper")])
def test_the_option_pointed_at_in_a_list_is_read_whole(window, theme, name):
    window.settings.choose("theme", theme)
    slip(window, name)
    boxes = [box for box in window.findChildren(Choosing) if box.isVisible()]
    assert len(boxes) >= 2
    for box in boxes:
        box.showPopup()
        view, last = box.view(), box.model().index(box.count() - 1, 0)
        view.setCurrentIndex(last)
        QTest.qWait(1)
        seen, area = view.viewport().grab().toImage(), view.visualRect(last)
        assert contrast_in(seen, area) >= TEXT, (last.data(), theme)
        assert seen.width() >= view.sizeHintForColumn(0), last.data()
        box.hidePopup()
