"""Where the cloths lie on the table, and what lies under a hand: without a window."""

from __future__ import annotations

from dataclasses import replace

import pytest
from PySide6.QtCore import QRect
from PySide6.QtGui import QPainterPath

from drafting import look_of
from skirtwright.app.canvas.cloth_painting import _ring, cloth_items
from skirtwright.app.canvas.drawing import Brushes
from skirtwright.app.canvas.fitting import Window
from skirtwright.app.canvas.laid_cloths import (
    LEFT,
    RIGHT,
    RULER,
    TITLE,
    Cloths,
    arranged,
    spread,
)
from skirtwright.app.look import LIGHT
from skirtwright.draft import styles
from skirtwright.geometry import Point
from skirtwright.job.job import new_job
from skirtwright.lay.all_cloths import lay_all, materials
from skirtwright.lay.cloth_to_cut import usual
from skirtwright.words import Manner

WINDOWS = [Window(1440, 850, 344), Window(1024, 650, 344), Window(1024, 650)]


@pytest.fixture(scope="module")
def lays():
    cut = look_of(new_job(styles.style("mermaid"))).report.to_cut
    cloths = [usual(name, "cm") for name in materials(cut)]
    return lay_all(cut, cloths, 5).lays


@pytest.mark.parametrize("window", WINDOWS)
@pytest.mark.parametrize("count", [1, 2, 3])
def test_cloths_lie_whole_in_the_window_and_beside_one_another(lays, window, count):
    spreads, view = arranged([spread(lay, "cm") for lay in lays[:count]], window)
    boxes = []
    for one in spreads:
        left, top = view.screen(Point(one.box.left, one.box.top))
        right, bottom = view.screen(Point(one.box.right, one.box.bottom))
        assert left >= LEFT - 0.01
        assert right <= window.free_width
        assert top >= TITLE
        assert bottom + RULER <= window.free_height
        boxes.append(one.box)
    assert not any(a.meets(b) for i, a in enumerate(boxes) for b in boxes[:i])
    # Nothing is gained by another sharing out: some way it fills the window.
    wider = replace(window, width=window.width * 1.3, height=window.height * 1.3)
    assert arranged(spreads, wider)[1].scale > view.scale


def test_a_place_of_the_table_is_the_place_of_the_cloth_that_lies_there(lays):
    spreads, _ = arranged([spread(lay, "cm") for lay in lays], WINDOWS[0])
    for one in spreads:
        place = Point(120.0, 340.0)
        there = one.home(place)
        assert one.on_cloth(there).to(place) < 1e-9
        # The length runs to the right, the far edge is fold or left selvedge.
        assert one.home(Point(0, 1)).x > one.home(Point(0, 0)).x
        assert one.home(Point(1, 0)).y < one.home(Point(0, 0)).y


def test_while_she_pulls_a_cloth_keeps_its_place(lays):
    first = Cloths().shown(lays, "cm", WINDOWS[0], afresh=True)
    longer = [replace(lay, asked=replace(lay.asked, on_hand=9000.0)) for lay in lays]
    kept = first.shown(longer, "cm", WINDOWS[0], afresh=False)
    corners = [[one.corner for one in each.spreads] for each in (first, kept)]
    assert corners[0] == corners[1]
    assert kept.view == first.view
    assert kept.spreads[0].long == 9000.0
    afresh = first.shown(longer, "cm", WINDOWS[0], afresh=True)
    assert afresh.view.scale < first.view.scale


def test_what_lies_under_the_hand_goes_with_it(lays):
    cloths = Cloths().shown(lays, "cm", WINDOWS[0], afresh=True)
    cloths = replace(cloths, sure=frozenset(lay.cloth.material for lay in lays))
    for key in cloths.pieces():
        one, placed = cloths.find(key)
        middle = one.home(placed.motion(placed.copy.piece.middle[0]))
        assert cloths.at(middle) == key
    assert cloths.at(Point(-500.0, 0.0)) is None
    key = ("shell", "back", 0)
    one, placed = cloths.find(key)
    middle = one.home(placed.motion(placed.copy.piece.middle[0]))
    held = cloths.taken(key, middle).dragged(middle + Point(200.0, 0.0))
    moved = next(p for p in held.in_hand.placed if p.key == placed.key)
    assert moved.motion.f - placed.motion.f == pytest.approx(200.0)
    assert moved.motion.e == pytest.approx(placed.motion.e)
    # The order's own lay is as it was; what is seen is where the hand is.
    assert held.spreads == cloths.spreads
    assert moved in held.seen()[0].lay.placed
    assert held.dragged(middle + Point(0.0, 900.0)).wrong_with(key)


@pytest.mark.parametrize("percent", [100, 200])
@pytest.mark.parametrize("window", [WINDOWS[0], WINDOWS[2]])
def test_names_on_a_cloth_are_of_one_size_and_within_their_pieces(
    lays, window, percent, qtbot
):
    """None is cut by a line or lies over its grain; a number has its key."""
    cloths = Cloths().shown(lays, "cm", window, afresh=True)
    brushes = Brushes(LIGHT, Manner(), percent=percent)
    numbers = {key[1]: n for n, key in enumerate(cloths.pieces(), 1)}
    room = QRect(0, 0, window.width, window.height)
    items = [*cloth_items(cloths, numbers, cloths.view, room, brushes)]
    by_cloth = {i.leans[0].spread.lay.cloth.material: i.leans[0] for i in items[::-1]}
    pieces = [i.leans[0] for i in items if i.key[0] == "laid"]
    for material, shown in by_cloth.items():
        own = [p for p in pieces if p.placed.copy.piece.spec.material == material]
        assert len({piece.written.size for piece in own}) == 1
        for piece in own:
            words, title = piece.written, piece.placed.copy.piece.spec.title
            assert words.words.replace("\n", " ") == title or words.numbered
            assert (f"{words.words} {title}" in shown.key) == words.numbered
            ring = QPainterPath()
            ring.addPolygon(_ring(piece.placed, piece.spread, cloths.view))
            area = words.area.translated(*cloths.view.screen(piece.spread.corner))
            assert ring.contains(area) or not ring.intersects(area)
            if words.numbered and percent == 100:
                # Only a strip lower than letters, with no bare cloth past its end.
                assert ring.boundingRect().height() < 20


def test_in_a_small_window_cloths_are_as_large_as_its_table_lets_them(lays):
    """They lie two in a row, with less said over them, rather than as thumbnails."""
    window = Window(1024, 650, 344)
    spreads, view = arranged([spread(lay, "cm") for lay in lays], window)
    used = sum(one.box.width * one.box.height for one in spreads) * view.scale**2
    assert used > 0.2 * window.free_width * window.free_height
    wide = max(view.screen(Point(one.box.right, 0.0))[0] for one in spreads)
    assert wide > 0.8 * window.free_width - RIGHT
