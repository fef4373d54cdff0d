"""Sheets on the table: where they lie, and that they are painted."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QColor
from PySide6.QtTest import QTest

from skirtwright.geometry.point import Point

CTRL = Qt.KeyboardModifier.ControlModifier


@pytest.fixture
def strip(window, keys, qtbot):
    keys(Qt.Key.Key_P, mods=CTRL)
    strip = window.slips.paper
    qtbot.waitUntil(lambda: window.table.scene.sheets is not None)
    QTest.qWait(300)  # the glide to the sheets
    return strip


def corner(table) -> Point:
    printed = table.scene.layout.printed
    return Point(printed.left, printed.top)


def colours_in(table, box) -> set[str]:
    """Every colour painted in a box of the table."""
    picture = table.grab().toImage()
    ratio = picture.devicePixelRatio()
    left, top = table.view.screen(Point(box.left, box.top) + corner(table))
    right, bottom = table.view.screen(Point(box.right, box.bottom) + corner(table))
    found = set()
    for x in range(int(left) + 9, int(right) - 9):
        for y in range(int(top) + 9, int(bottom) - 9):
            at = picture.pixelColor(int(x * ratio), int(y * ratio))
            found.add(at.name().upper())
    return found


def test_each_window_of_the_tiling_is_a_sheet(window, strip):
    """As many, with the same names and sizes, in the same rows and columns."""
    tiling, sheets = strip.counted.laid, window.table.scene.sheets
    assert [f.name for f in sheets.frames] == [t.name for t in tiling.tiles]
    assert [f.blank for f in sheets.frames] == [t.blank for t in tiling.tiles]
    first = tiling.tiles[0].window
    for frame, tile in zip(sheets.frames, tiling.tiles, strict=True):
        assert frame.box.left == pytest.approx(tile.window.left - first.left)
        assert frame.box.top == pytest.approx(tile.window.top - first.top)
        assert frame.box.width == pytest.approx(tile.window.width)
        assert frame.box.height == pytest.approx(tile.window.height)


def test_pieces_lie_on_the_sheets_and_not_on_the_table(window, strip, keys):
    """Nothing is there twice, and all comes back when the strip is closed."""
    layout = window.table.scene.layout
    assert layout.laid == ()
    names = {piece.name for piece in window.table.scene.sheets.pieces}
    assert names == {piece.spec.title for piece in window.desk.look.shown}
    keys(Qt.Key.Key_Escape)
    layout = window.table.scene.layout
    assert {laid.name for laid in layout.laid} == {"front", "back"}
    assert layout.printed is None


def test_pieces_keep_the_place_they_had_before(window, keys, qtbot):
    before = window.table.scene.layout
    keys(Qt.Key.Key_P, mods=CTRL)
    qtbot.waitUntil(lambda: window.table.scene.sheets is not None)
    pieces = before.box()
    assert corner(window.table).is_at(Point(pieces.left, pieces.top))
    keys(Qt.Key.Key_Escape)
    assert window.table.scene.layout == before


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_sheets_are_painted_and_empty_ones_are_hatched(theme, window, strip):
    """Paper and lines on what is printed; no paper, but hatching, on what is not."""
    window.settings.choose("theme", theme)
    QTest.qWait(300)
    table, colours = window.table, window.colours
    sheets = table.scene.sheets
    blank = [frame for frame in sheets.frames if frame.blank]
    full = [frame for frame in sheets.frames if not frame.blank]
    assert blank, "the ready example leaves a corner empty on A4"
    assert full
    paper = QColor(colours.paper).name().upper()
    empty = colours_in(table, blank[0].box)
    assert paper not in empty
    assert len(empty) > 1
    seen = set().union(*(colours_in(table, frame.box) for frame in full))
    assert paper in seen
    assert QColor(colours.cutting).name().upper() in seen
    assert QColor(colours.stitching).name().upper() in seen


def test_the_sheets_come_into_view(window, strip):
    """She asked for them: all of them can be seen."""
    table = window.table
    printed = table.scene.layout.printed
    left, top = table.view.screen(Point(printed.left, printed.top))
    right, bottom = table.view.screen(Point(printed.right, printed.bottom))
    assert 0 < left < right < table.width()
    assert 0 < top < bottom < table.height()


def test_a_seam_is_walked_on_the_table(window, strip):
    """Walking puts the sheets away first."""
    name = window.desk.drawing.report.cut.seams[0].seam.name
    window.table.walk_seam(name)
    assert strip.isHidden()
    assert window.table.scene.sheets is None
    window.table.stop_walking()


@pytest.mark.parametrize("kind", ["roll", "projector", "plotter"])
def test_every_kind_is_shown(kind, window, strip, qtbot):
    """A roll, a page to throw, frames of a plotter: with the pieces on them."""
    strip.choices.kind_row.choose(kind)
    strip.choices.kind_row.changed.emit()
    qtbot.waitUntil(lambda: strip.counted is not None)
    sheets = window.table.scene.sheets
    assert len(sheets.frames) >= 1
    assert {"Front", "Back"} <= {piece.name for piece in sheets.pieces}
    for frame in sheets.frames:
        assert frame.box.width > 100
