"""The edges of sheets across the pieces on the table: where they lie."""

from __future__ import annotations

import pytest
from places import settled
from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QColor

from skirtwright.app.canvas.drawing import outline_of
from skirtwright.app.canvas.paths import Prepared
from skirtwright.draft import styles
from skirtwright.export.sheet import Stroke
from skirtwright.job.job import new_job

CTRL = Qt.KeyboardModifier.ControlModifier


@pytest.fixture
def strip(window, keys, qtbot):
    keys(Qt.Key.Key_P, mods=CTRL)
    strip = window.slips.paper
    qtbot.waitUntil(lambda: bool(window.table.sheets), timeout=20000)
    return strip


def names_over(window, piece):
    return {sheet.name for sheet in window.table.sheets[piece]}


def test_each_piece_has_the_sheets_it_lies_on_in_print(window, strip):
    """Told from the drawing that is printed: windows that any of its lines enters."""
    (tiling,) = strip.counted.laid.tilings
    assert set(window.table.sheets) == {p.name for p in window.desk.look.shown}
    for piece in window.desk.look.shown:
        group = next(g for g in tiling.sheet.groups if g.name == piece.spec.title)
        (line,) = (
            mark
            for mark in group.marks
            if isinstance(mark, Stroke) and mark.layer == "cutting" and mark.closed
        )
        entered = {
            tile.name
            for tile in tiling.printed
            for point in line.points(1.0)
            if tile.window.left < point.x < tile.window.right
            and tile.window.bottom < point.y < tile.window.top
        }
        # What lies in a shared strip alone is shown by the neighbour.
        assert names_over(window, piece.name) <= {t.name for t in tiling.printed}
        assert len(entered - names_over(window, piece.name)) <= 2, piece.name
        assert names_over(window, piece.name) & entered


def test_an_edge_lies_on_the_table_where_it_lies_in_print(window, strip):
    """The corner of a window is as far from a corner of the piece, here and there."""
    (tiling,) = strip.counted.laid.tilings
    piece = next(p for p in window.desk.look.shown if p.name == "back")
    group = next(g for g in tiling.sheet.groups if g.name == "Back")
    line = next(m for m in group.marks if getattr(m, "closed", False))
    there, here = line.path[0].start, piece.cut[0]
    tile = next(t for t in tiling.printed if t.name in names_over(window, "back"))
    over = next(s for s in window.table.sheets["back"] if s.name == tile.name)
    inner = tiling.overlap / 2
    found = sorted(here.to(corner) for corner in over.corners)
    wanted = sorted(there.to(corner) for corner in tile.window.corners)
    for one, other in zip(found, wanted, strict=True):
        assert one == pytest.approx(other, abs=2 * inner)
    wide = over.corners[0].to(over.corners[1])
    assert wide == pytest.approx(tile.window.width, abs=2 * inner + 0.01)


def test_the_table_stays_as_it_is_and_nothing_is_pulled(window, keys, qtbot):
    before = window.table.scene.layout
    points = window.table.scene.points
    keys(Qt.Key.Key_P, mods=CTRL)
    qtbot.waitUntil(lambda: bool(window.table.sheets), timeout=20000)
    assert window.table.scene.layout == before
    assert window.table.scene.points == ()
    assert window.table.written() == []
    assert window.table.figure_area() is not None
    keys(Qt.Key.Key_Escape)
    assert window.table.scene.layout == before
    assert window.table.scene.points == points
    assert window.table.sheets == {}


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_edges_are_painted_over_the_pieces_and_beyond(theme, window, strip):
    window.settings.choose("theme", theme)
    settled(window)
    table = window.table
    ink = QColor(window.colours.faint).name()
    laid = table.scene.layout.find("piece", "front")
    (of,) = (of for one, of in table.scene.things() if one is laid)
    covered = outline_of(laid, Prepared(of), table.view, cutting=True, mirrored=False)
    corners = [
        QPointF(*table.view.screen(laid.at(corner)))
        for sheet in table.sheets["front"]
        for corner in sheet.corners
    ]
    inside = [at for at in corners if covered.contains(at)]
    assert inside, "some sheets meet on the front"
    seen = table.grab().toImage()
    found = [
        ink == seen.pixelColor(round(at.x()) + x, round(at.y()) + y).name()
        for at in inside
        for x in (-2, -1, 0, 1, 2)
        for y in (-2, -1, 0, 1, 2)
    ]
    assert any(found), inside


def test_a_seam_is_walked_on_the_table(window, strip):
    """Walking puts the sheets away first."""
    name = window.desk.drawing.report.cut.seams[0].seam.name
    window.table.walk_seam(name)
    assert strip.isHidden()
    assert window.table.sheets == {}
    window.table.stop_walking()


@pytest.mark.parametrize("kind", ["roll", "projector", "plotter"])
def test_every_kind_is_shown(kind, window, strip, qtbot):
    """Pages of a roll, frames of a plotter; a page to throw has no edges on pieces."""
    window.keeper.begin_new(new_job(styles.style("straight-block")))
    strip.choices.kind_row.choose(kind)
    strip.choices.kind_row.changed.emit()
    qtbot.waitUntil(lambda: strip.counted is not None, timeout=20000)
    sheets = window.table.sheets
    assert set(sheets) == {p.name for p in window.desk.look.shown}
    assert all(sheets.values()) == (kind != "projector")
