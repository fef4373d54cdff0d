"""The skirt on her in the table's corner: it follows the hand, and grows by a click."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRect, Qt

from skirtwright.app.canvas import painting
from skirtwright.app.look import DARK, LIGHT
from skirtwright.job.edits import set_amount
from skirtwright.words import Manner

SIDE = "front.side end"


def corner(table) -> QRect:
    area = table.figure_area()
    return QRect(
        round(area.left), round(area.top), round(area.width), round(area.height)
    )


def seen(table, area=None):
    return table.grab(area or corner(table)).toImage()


def colours(image):
    return {
        image.pixelColor(x, y).name()
        for x in range(0, image.width(), 2)
        for y in range(0, image.height(), 2)
    }


def test_it_is_painted_once_however_the_table_is_pushed(bench, monkeypatch):
    table = bench.table
    before = seen(table)
    painted = []
    paint = painting.paint_figure
    monkeypatch.setattr(
        painting, "paint_figure", lambda *of: (painted.append(of), paint(*of))
    )
    table.pan_by(31.5, -12.25)
    seen(table)
    table.zoom_by(1.5)
    bench.settle()
    bench.move(middle(table), held=False)
    seen(table)
    assert not painted
    table.set_colours(DARK)
    assert seen(table) != before
    assert len(painted) == 1


def middle(table) -> QPointF:
    return QPointF(corner(table).center())


def test_body_and_cloth_stand_in_the_lower_left_corner(bench):
    area = corner(bench.table)
    assert area.left() < 40
    assert area.bottom() > bench.table.height() - 60
    assert {LIGHT.body.lower(), LIGHT.cloth.lower()} <= colours(seen(bench.table))


def test_what_is_found_on_her_is_read_from_its_beginning(bench):
    """Words wider than she is small would begin beyond the edge of the window."""
    table = bench.table
    table.resize(1024, 700)
    low = int(table.figure_area().top) + 60
    beside = QRect(0, low, int(table.figure_area().left) - 1, table.height() - low)
    bare = table.grab().copy(beside).toImage()
    bench.job = set_amount(bench.job, "length", "102").job
    table.show_look(bench.look())
    bench.settle()
    assert any(table.figure.figure(LIGHT, Manner()).found)
    assert table.grab().copy(beside).toImage() == bare


def test_it_follows_the_hand_and_comes_back_when_it_is_dropped(bench, qtbot):
    table, at = bench.table, bench.at(SIDE)
    before = seen(table)
    bench.press(at)
    bench.move(at + QPointF(40, 0))
    qtbot.waitUntil(lambda: seen(table) != before)
    pulled = seen(table)
    bench.release(at + QPointF(40, 0))
    assert seen(table) == pulled, "as it is drawn at rest"


def test_it_comes_back_when_a_pull_is_dropped(bench, qtbot):
    table, at = bench.table, bench.at(SIDE)
    before = seen(table)
    bench.press(at)
    bench.move(at + QPointF(40, 0))
    qtbot.waitUntil(lambda: seen(table) != before)
    bench.key(Qt.Key.Key_Escape)
    assert seen(table) == before


def test_a_click_shows_it_large_from_three_sides_and_leads_back(bench):
    table = bench.table
    before = seen(table)
    bench.move(middle(table), held=False)
    assert table.cursor().shape() == Qt.CursorShape.PointingHandCursor
    assert "a click shows it large" in bench.of("pointed")[-1]
    bench.click(middle(table))
    assert table.figure.is_large
    large = seen(table, table.rect())
    thirds = table.width() // 3
    for number in range(3):
        third = large.copy(number * thirds, 0, thirds, table.height())
        assert {LIGHT.body.lower(), LIGHT.cloth.lower()} <= colours(third)
    bench.click(QPointF(table.rect().center()))
    bench.move(QPointF(5, 5), held=False)
    assert not table.figure.is_large
    assert seen(table) == before


def test_escape_leads_back_and_nothing_is_pulled_under_it(bench):
    table, at = bench.table, bench.at(SIDE)
    table.show_figure()
    bench.settle()
    bench.move(at, held=False)
    assert not table.points.hovered
    bench.key(Qt.Key.Key_Escape)
    assert not table.figure.is_large
    assert not bench.of("pulling")
    bench.move(at, held=False)
    assert table.points.hovered == SIDE


def test_what_lies_over_it_is_taken_first(bench):
    table = bench.table
    table.zoom_by(4.0)
    bench.settle()
    over = middle(table)
    table.pan_by(over.x() - bench.at(SIDE).x(), over.y() - bench.at(SIDE).y())
    bench.settle()
    bench.click(middle(table))
    assert not table.figure.is_large
    assert table.points.chosen == SIDE
