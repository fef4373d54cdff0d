"""Pictures of things are kept; the table looks as if all of it were painted anew."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPointF
from PySide6.QtGui import QImage

from skirtwright.app.canvas import pictures
from skirtwright.app.canvas.pictures import Pictures

SIDE = "front.side end"


def picture(table) -> QImage:
    return table.grab().toImage()


def fresh(table) -> QImage:
    """The same table with no picture kept."""
    kept, table.pictures = table.pictures, Pictures()
    found = picture(table)
    table.pictures = kept
    return found


@pytest.mark.parametrize("place", [SIDE, "front.hem middle", "back.side end"])
def test_the_picture_is_the_one_painted_anew(bench, place):
    table, at = bench.table, bench.at(place)
    bench.press(at)
    for step in range(1, 5):
        bench.move(at + QPointF(3 * step, 2 * step))
        assert picture(table) == fresh(table)
    bench.release(at + QPointF(12, 8))
    assert picture(table) == fresh(table)


def test_pushed_and_nearer_it_is_the_one_painted_anew(bench):
    table = bench.table
    picture(table)
    for x, y in ((7, 3), (-250, 40), (0.5, 0.25)):
        table.pan_by(x, y)
        assert picture(table) == fresh(table)
    for factor in (1.3, 4.0, 8.0):
        table.zoom_by(factor)
        bench.settle()
        assert picture(table) == fresh(table)


def test_only_what_changed_is_painted_again(bench, monkeypatch):
    table, at = bench.table, bench.at(SIDE)
    painted: list[str] = []
    paint = pictures._painted

    def counted(*given):
        painted.append("once more")
        return paint(*given)

    bench.press(at)
    bench.move(at + QPointF(5, 0))
    picture(table)
    monkeypatch.setattr(pictures, "_painted", counted)
    before = {id(of) for _, of in table.scene.things()}
    bench.move(at + QPointF(9, 0))
    picture(table)
    changed = [laid for laid, of in table.scene.things() if id(of) not in before]
    assert 0 < len(painted) == len(changed) < len(before)
    painted.clear()
    table.pan_by(3, 2)
    picture(table)
    assert painted == ["once more"]  # the ground
    bench.release(at + QPointF(9, 0))


def test_no_picture_is_larger_than_the_table(bench):
    bench.table.zoom_by(40.0)
    bench.settle()
    picture(bench.table)
    for _, kept in bench.table.pictures._kept.values():
        assert kept.width() <= bench.table.width()
        assert kept.height() <= bench.table.height()
