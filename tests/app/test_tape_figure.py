"""The little figure beside a measurement shows where it is taken."""

from __future__ import annotations

import pytest
from PySide6.QtGui import QColor

from skirtwright.app.look import LIGHT
from skirtwright.app.slips.tape import TapeFigure
from skirtwright.measures.measurements import measurements


@pytest.mark.parametrize("name", measurements())
def test_each_measurement_has_its_tape(qtbot, name):
    figure = TapeFigure()
    qtbot.addWidget(figure)
    figure.resize(figure.sizeHint())
    figure.show_tape(name)
    image = figure.grab().toImage()
    accent = QColor(LIGHT.accent)
    assert any(
        image.pixelColor(x, y) == accent
        for x in range(image.width())
        for y in range(image.height())
    )
