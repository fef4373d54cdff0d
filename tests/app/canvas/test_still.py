"""What lies still while something is pulled is painted once, and looks the same."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPointF
from PySide6.QtGui import QImage

from skirtwright.app.canvas.still import Still

SIDE = "front.side end"


class Plain(Still):
    """Everything painted anew in its order, nothing kept."""

    def paint(self, painter, widget, things, seen, paint):
        paint(painter, things)
        return []


def picture(table) -> QImage:
    return table.grab().toImage()


@pytest.mark.parametrize("place", [SIDE, "front.hem middle", "back.side end"])
def test_the_picture_is_the_one_painted_anew(bench, place):
    table, at = bench.table, bench.at(place)
    bench.press(at)
    for step in range(1, 5):
        bench.move(at + QPointF(3 * step, 2 * step))
        kept = picture(table)
        still, table.still = table.still, Plain()
        assert picture(table) == kept
        table.still = still
    bench.release(at + QPointF(12, 8))


def test_nothing_is_kept_once_the_hand_lets_go(bench):
    table, at = bench.table, bench.at(SIDE)
    bench.press(at)
    bench.move(at + QPointF(9, 0))
    picture(table)
    assert table.still._kept is not None
    bench.release(at + QPointF(9, 0))
    picture(table)
    assert table.still._kept is None
