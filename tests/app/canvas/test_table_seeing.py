"""Looking: zoom, pan, fit, true size, scales; and views as mathematics."""

from __future__ import annotations

import itertools
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QFontMetricsF, QWheelEvent
from PySide6.QtWidgets import QApplication

from drafting import OneWorktable, look_of
from skirtwright.app.canvas.drawing import Brushes
from skirtwright.app.canvas.entries import levels
from skirtwright.app.canvas.fitting import Window, best_fit
from skirtwright.app.canvas.laying import ALL, LEAST_GAP, SKIRT, Layout, lay_out
from skirtwright.app.canvas.lettering import _wrapped, named_beside
from skirtwright.app.canvas.paths import body_of
from skirtwright.app.canvas.scene import Scene
from skirtwright.app.canvas.view import Margins, View, fitted
from skirtwright.app.look import LIGHT, letters
from skirtwright.draft import styles
from skirtwright.draft.styles import style
from skirtwright.geometry.box import Box
from skirtwright.geometry.point import Point
from skirtwright.job.edits import set_choice, set_measurement
from skirtwright.job.job import new_job
from skirtwright.job.piece_edits import show_piece
from skirtwright.problems import Problem
from skirtwright.words import Manner

places = st.builds(Point, st.floats(-5000, 5000), st.floats(-5000, 5000))
views = st.builds(
    View, st.floats(0.02, 60), st.floats(-5000, 5000), st.floats(-5000, 5000)
)
pixels = st.floats(-200, 3000)


@given(views, pixels, pixels)
def test_screen_and_table_are_inverse(view, x, y):
    back = view.screen(view.table(x, y))
    assert back == pytest.approx((x, y), abs=1e-6)


@given(views, pixels, pixels, st.floats(0.1, 10))
def test_zooming_keeps_the_place_under_the_pointer(view, x, y, factor):
    before, zoomed = view.table(x, y), view.zoomed(x, y, factor)
    assert zoomed.table(x, y).to(before) < 1e-6
    assert 0.02 <= zoomed.scale <= 60


@given(places, st.floats(1, 5000), st.floats(1, 5000))
def test_a_fitted_box_is_whole_within_its_margins(corner, width, height):
    box = Box(corner.x, corner.y, corner.x + width, corner.y + height)
    view = fitted(box, 1000, 700, Margins(30, 40, 10, 20))
    left, top = view.screen(Point(box.left, box.top))
    right, bottom = view.screen(Point(box.right, box.bottom))
    assert left >= 30 - 1e-6
    assert top >= 40 - 1e-6
    assert right <= 990 + 1e-6
    assert bottom <= 680 + 1e-6
    snug = math.isclose(right - left, 960) or math.isclose(bottom - top, 640)
    assert snug or view.scale in (0.02, 60)


def test_wheel_zooms_at_the_pointer(bench):
    at = bench.at("front.hip end")
    before, scale = bench.table.view.table(at.x(), at.y()), bench.table.view.scale
    wheel(bench, at, 120)
    assert bench.table.view.scale == pytest.approx(scale * 1.2)
    assert bench.table.view.table(at.x(), at.y()).to(before) < 1e-6
    wheel(bench, at, -120)
    assert bench.table.view.scale == pytest.approx(scale)


def wheel(bench, at, turned, keys=Qt.KeyboardModifier.NoModifier):
    event = QWheelEvent(
        at,
        bench.table.mapToGlobal(at),
        QPoint(),
        QPoint(0, turned),
        Qt.MouseButton.NoButton,
        keys,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
    QApplication.sendEvent(bench.table, event)
    bench.settle()


def test_shift_and_wheel_push_the_table_sideways(bench):
    before = bench.table.view
    wheel(bench, QPointF(400, 400), 120, Qt.KeyboardModifier.ShiftModifier)
    after = bench.table.view
    assert after.scale == before.scale
    assert after.left != before.left
    assert after.top == before.top


@pytest.mark.parametrize(
    "button", [Qt.MouseButton.LeftButton, Qt.MouseButton.MiddleButton]
)
def test_dragging_the_bare_table_pushes_it(bench, button):
    at = QPointF(60, 70)
    held = bench.table.view.table(at.x(), at.y())
    bench.press(at, button)
    bench.move(QPointF(160, 130), button=button)
    bench.release(QPointF(160, 130), button)
    assert bench.table.view.table(160, 130).to(held) < 1e-6
    assert bench.of("pulled") == []


@pytest.mark.parametrize(
    ("key", "x", "y"),
    [
        (Qt.Key.Key_Left, 1, 0),
        (Qt.Key.Key_Right, -1, 0),
        (Qt.Key.Key_Up, 0, 1),
        (Qt.Key.Key_Down, 0, -1),
    ],
)
def test_arrow_keys_walk_along_the_table(bench, key, x, y):
    bench.table.setFocus()
    before = bench.table.view.screen(Point(0, 0))
    bench.key(key)
    after = bench.table.view.screen(Point(0, 0))
    assert math.copysign(1, after[0] - before[0]) == x or x == 0
    assert math.copysign(1, after[1] - before[1]) == y or y == 0
    assert after != before


def test_plus_and_minus_zoom_when_no_point_has_the_keyboard(bench):
    bench.table.setFocus()
    scale = bench.table.view.scale
    bench.key(Qt.Key.Key_Plus)
    assert bench.table.view.scale > scale
    bench.key(Qt.Key.Key_Minus)
    assert bench.table.view.scale == pytest.approx(scale)


def test_the_view_glides_to_where_it_is_to_be(bench, qtbot, glides):
    table = bench.table
    table.zoom_by(3)
    before, seen = table.view, []
    table.camera.turned.connect(lambda: seen.append(table.view.scale))
    table.fit_all()
    goal = table.camera.goal()
    assert goal.scale < table.view.scale <= before.scale, "not yet there"
    qtbot.waitUntil(lambda: table.view == goal)
    assert seen == sorted(seen, reverse=True)
    assert seen[-1] == goal.scale


@pytest.mark.parametrize("brought", [SKIRT, ALL, "front_lining", "interfacing"])
def test_fitting(bench, qtbot, brought):
    bench.table.bring(brought)
    bench.table.zoom_by(3)
    bench.table.fit_all()
    assert bench.table.scene.brought == brought
    box = bench.table.scene.layout.box()
    qtbot.waitUntil(lambda: bench.table.view == bench.table.camera.goal())
    view = bench.table.view
    left, top = view.screen(Point(box.left, box.top))
    right, bottom = view.screen(Point(box.right, box.bottom))
    assert 0 < left < right < bench.table.width()
    assert 0 < top < bottom < bench.table.height()


def test_a_fitted_view_stays_fitted_when_the_window_changes(bench):
    bench.table.resize(700, 500)
    bench.settle()
    box = bench.table.scene.layout.box()
    assert bench.table.view.screen(Point(box.right, box.top))[0] < 700
    scale = bench.table.view.scale
    bench.table.zoom_by(2)
    bench.table.resize(900, 600)
    bench.settle()
    assert bench.table.view.scale == pytest.approx(2 * scale)


def test_true_size(bench, qtbot):
    bench.table.camera.true_scale = 3.75
    bench.table.true_size()
    qtbot.waitUntil(lambda: bench.table.view.scale == pytest.approx(3.75))
    bench.table.camera.true_scale = None
    bench.table.true_size()
    qtbot.waitUntil(
        lambda: (
            bench.table.view.scale == pytest.approx(bench.table.physicalDpiX() / 25.4)
        )
    )


@pytest.mark.parametrize("zoomed", [False, True])
def test_nothing_moves_by_itself_after_a_change(bench, zoomed):
    if zoomed:
        bench.table.zoom_by(1.1)
    view = bench.table.view
    # No larger than it was: what grows under a card is fitted again.
    bench.table.pull_by("length", -5, "page")
    bench.pull("front.side end", -10, 0)
    assert bench.table.view == view


def test_another_style_is_shown_whole(bench):
    bench.table.zoom_by(6, (300, 300))
    bench.job = new_job(style("straight"))
    bench.table.show_look(bench.look())
    box = bench.table.scene.layout.box()
    x, y = bench.table.view.screen(Point(box.right, box.bottom))
    assert x < bench.table.width()
    assert y < bench.table.height()


# Where things lie


def skirt(name: str, **amounts: float) -> Scene:
    scene = Scene()
    scene.show(WORKTABLE.look(new_job(style(name)), amounts or None))
    return scene


def test_a_draft_refused_before_its_first_panel_leaves_the_table_bare():
    lay = skirt("yoke").layout
    assert lay_out({}, (), lay.brought, lay) == Layout()


def test_the_front_is_opened_on_its_fold_and_the_back_faces_it():
    layout = skirt("mermaid").layout
    front, back = layout.laid
    assert (front.name, back.name) == ("front", "back")
    assert not front.turned
    assert back.turned
    panel = front.at(Point(0, 0))
    # The fold is in the middle of what is seen of the front.
    assert front.seen.middle.x == pytest.approx(panel.x, abs=0.5)
    hollow = back.seen.left - front.seen.right
    assert hollow == pytest.approx(0.16 * 964, abs=2)
    # Drafted at one height, the hip lines are level.
    assert front.at(Point(0, 0)).y == back.at(Point(0, 0)).y


def halves_apart(style_name="straight", right="19 cm"):
    job = new_job(style(style_name))
    for name, text in (("waist_to_hip_left", "20 cm"), ("waist_to_hip_right", right)):
        job = set_measurement(job, name, text).job
    return job


def test_halves_lie_joined_at_the_centre_without_a_step():
    scene = Scene()
    scene.show(look_of(halves_apart()))
    names = [laid.name for laid in sorted(scene.layout.laid, key=lambda o: o.seen.left)]
    assert names == ["front_right", "front_left", "back_left", "back_right"]
    for name in ("front", "back"):
        tops = []
        for half in ("left", "right"):
            laid = scene.layout.find("piece", f"{name}_{half}")
            chain = scene.panel_of(laid).edge("centre").chain
            tops.append(
                max(laid.at(chain.start), laid.at(chain.end), key=lambda p: p.y)
            )
        assert tops[0].y == pytest.approx(tops[1].y, abs=1e-6)
    left, right = (scene.layout.find("piece", f"front_{h}") for h in ("left", "right"))
    assert left.seen.left == pytest.approx(right.seen.right), "stitching line on line"
    levels = [
        scene.layout.find("piece", name).at(Point(0, 0)).y
        for name in ("front_left", "front_right")
    ]
    assert levels[0] == pytest.approx(levels[1], abs=0.1), "the hip line lies level"
    scene.show_cutting(True)
    left, right = (scene.layout.find("piece", f"front_{h}") for h in ("left", "right"))
    assert 0 < left.box.left - right.box.right < 20, "room for their allowances"


def test_halves_joined_stay_level_through_changes():
    scene = Scene()
    scene.show(look_of(halves_apart()))
    for right in ("24 cm", "21 cm"):
        scene.show(look_of(halves_apart(right=right)))
        fresh = Scene()
        fresh.show(look_of(halves_apart(right=right)))
        steps = []
        for each in (scene, fresh):
            one, other = (
                each.layout.find("piece", f"front_{h}") for h in ("left", "right")
            )
            steps.append(one.offset - other.offset)
        assert steps[0].to(steps[1]) < 1e-6


@pytest.mark.parametrize("right", [0.0, 344.0])
def test_halves_apart_are_all_seen_beside_a_slip_with_room_for_figures(right):
    scene = Scene()
    scene.show(look_of(halves_apart("mermaid")))
    window = Window(1024.0, 652.0, right, 0.0)
    view, box = best_fit(scene.layout, window).view, scene.layout.box()
    assert view.screen(box.corners[3])[0] > 130
    assert view.screen(box.corners[2])[0] < window.free_width


def test_wide_halves_lie_in_two_rows_where_that_makes_them_larger():
    """Backs under fronts, each row on its own level lines; a mermaid's beside."""
    for name, rows in (("circle", 2), ("mermaid", 1)):
        scene = Scene()
        scene.show(look_of(halves_apart(name)))
        tops = {round(laid.seen.top, -2) for laid in scene.layout.laid}
        assert len(tops) == rows
        waist = [level for level in levels(scene) if level.name == "hip"]
        assert len(waist) == rows * bool(waist)
        if rows == 2:
            window = Window(1440.0, 850.0, 344.0, 0.0)
            view = best_fit(scene.layout, window).view
            assert view.scale > 0.4, "0.25 in one row"
            right = view.screen(scene.layout.box().corners[2])[0]
            assert right + 60 < window.free_width, "its length stands beside it"


def test_taking_left_and_right_apart_is_seen_afresh():
    scene = Scene()
    scene.show(look_of(new_job(style("straight"))))
    assert scene.show(look_of(halves_apart()))
    assert not scene.show(look_of(halves_apart(right="21 cm")))


def test_one_pull_point_where_joined_halves_meet():
    scene = Scene()
    scene.show(look_of(halves_apart("mermaid")))
    at_centre = [h for h in scene.points if h.amount == "hem_drop"]
    assert len(at_centre) == 1
    corners = [h for h in scene.points if h.amount == "front_spread"]
    assert len(corners) == 2, "those at the sides stay"


def test_all_that_is_drawn_of_a_piece_on_the_fold_is_covered():
    laid = skirt("straight").layout.find("piece", "front")
    middle = laid.at(laid.fold[0]).x
    assert laid.covered.left == pytest.approx(2 * middle - laid.box.right)


def test_a_yoke_lies_above_what_hangs_from_it():
    layout = skirt("half-circle-yoke").layout
    for body in ("front", "back"):
        yoke = layout.find("piece", f"{body}_yoke")
        below = layout.find("piece", body)
        assert yoke.seen.bottom > below.seen.top
        assert yoke.turned == below.turned


def test_every_piece_lies_on_one_card_and_nothing_twice():
    for name in styles.names():
        scene = skirt(name)
        every = [thing for card in scene.layout.cards for thing in card.things]
        assert len(every) == len(set(every))
        pieces = {("piece", piece.name) for piece in scene.pieces}
        assert pieces <= set(every)
        drafted = {(laid.kind, laid.name) for laid in scene.layout.laid}
        assert drafted == set(scene.layout.cards[0].things)
        assert all(kind == "piece" for kind, _ in drafted)


def test_what_grows_keeps_its_place_and_pushes_only_what_it_would_cover(bench):
    before = bench.table.scene.layout.laid
    bench.table.set_amounts({"front_spread": 40.0})
    after = bench.table.scene.layout.laid
    assert after[0].offset == before[0].offset
    assert after[1].offset == before[1].offset
    bench.table.set_amounts({"front_spread": 60.0, "back_spread": 60.0})
    front, back = bench.table.scene.layout.laid
    assert front.offset == before[0].offset
    assert back.seen.left - front.seen.right >= LEAST_GAP - 1e-6


@pytest.mark.parametrize("held", ["front", "back"])
def test_what_is_held_stays_put(held):
    scene = skirt("mermaid")
    before = {laid.name: laid.offset for laid in scene.layout.laid}
    job = new_job(style("mermaid"))
    wide = {"front_spread": 60.0, "back_spread": 60.0}
    scene.show(WORKTABLE.look(job, wide), held)
    after = {laid.name: laid.offset for laid in scene.layout.laid}
    assert after[held] == before[held]
    boxes = [laid.seen for laid in scene.layout.laid]
    assert not boxes[0].meets(boxes[1])


def test_a_hidden_piece_leaves_its_place_and_nothing_moves(bench):
    before = bench.table.scene.layout
    bench.job = show_piece(bench.job, "front", on=False).job
    bench.table.show_look(bench.look())
    after = bench.table.scene.layout
    assert after.find("piece", "front") is None
    assert after.find("piece", "back") == before.find("piece", "back")
    bench.job = show_piece(bench.job, "front", on=True).job
    bench.table.show_look(bench.look())
    assert bench.table.scene.layout == before


TABLES = [(1440, 796), (1024, 596)]
"""The table in windows of 1440 x 900 and 1024 x 700."""


@pytest.mark.parametrize("size", TABLES)
def test_the_skirt_is_large(size):
    """70 % of the table's height, or 90 % of its width; 400 px in the small window."""
    for name in styles.names():
        layout = skirt(name).layout
        view = best_fit(layout, Window(*size)).view
        box = layout.box()
        tall, wide = box.height * view.scale, box.width * view.scale
        least = 0.69 * size[1] if size[0] > 1024 else 400
        assert tall >= least or wide >= 0.9 * size[0], (name, tall, wide)
        left, top = view.screen(Point(box.left, box.top))
        assert left > 0
        assert top > 0
        assert left + wide < size[0]
        assert top + tall < size[1] - 24


@pytest.mark.parametrize("size", TABLES)
def test_a_slip_moves_the_skirt_no_further_than_it_must(size):
    for name in ("mermaid", "straight", "half-circle-yoke", "circle", "gored"):
        layout = skirt(name).layout
        before = best_fit(layout, Window(*size)).view
        after = best_fit(layout, Window(*size, right=344)).view
        box, free = layout.box(), size[0] - 344
        right = after.screen(Point(box.right, box.top))[0]
        # A tenth smaller at most, unless some of it would then be under the slip.
        if 0.9 * box.width * before.scale <= free - 48:
            assert after.scale >= 0.9 * before.scale - 1e-9
        else:
            assert after.scale >= 0.6 * before.scale - 1e-9
            assert right <= free or after.scale == pytest.approx(0.6 * before.scale)
        here, there = (v.screen(Point(box.left, box.top)) for v in (before, after))
        assert there[1] == pytest.approx(here[1], abs=1e-6)
        assert 0 < there[0] <= here[0] + 1e-6


def test_the_table_is_fitted_after_a_choice_unless_she_has_moved_it(bench):
    bench.table.bring(SKIRT)
    choice = bench.job.draft.choices[0]
    other = next(name for name in choice.options if name != choice.default)
    before = bench.table.view
    bench.job = set_choice(bench.job, choice.name, other).job
    bench.table.show_look(bench.look())
    assert bench.table.view == bench.table.best_fit().view
    bench.table.pan_by(13, 7)
    moved = bench.table.view
    bench.job = new_job(style("mermaid"))
    bench.table.show_look(bench.look())
    assert bench.table.view == moved
    bench.table.fit_all()
    assert bench.table.camera.goal() == before


# The stack


def test_a_click_brings_a_card_and_the_skirt_goes_into_the_stack(bench):
    table = bench.table
    table.resize(1440, 796)
    stack = table.stack()
    top = stack[-1]
    assert top.drawn
    assert not any(one.drawn for one in stack[:-1])
    edge = stack[-2].edge
    bench.click(QPointF(edge.left + 20, edge.top + edge.height / 2))
    assert table.scene.brought == stack[-2].card.key
    assert SKIRT in [card.key for card in table.scene.layout.stack]
    drawn = {(laid.kind, laid.name) for laid in table.scene.layout.laid}
    assert drawn == set(stack[-2].card.things)
    bench.key(Qt.Key.Key_Escape)
    assert table.scene.brought == SKIRT


def test_keys_leaf_through_all_cards_and_lay_them_side_by_side(bench):
    table = bench.table
    table.setFocus()
    seen = []
    for _ in table.scene.layout.cards:
        seen.append(table.scene.brought)
        bench.key(Qt.Key.Key_C)
    assert seen == table.scene.card_order()
    assert table.scene.brought == SKIRT
    bench.key(Qt.Key.Key_C, Qt.KeyboardModifier.ShiftModifier)
    assert table.scene.brought == seen[-1]
    bench.key(Qt.Key.Key_A)
    assert table.scene.brought == ALL
    laid = {laid.name for laid in table.scene.layout.laid}
    assert laid == {piece.name for piece in table.scene.pieces}
    bench.key(Qt.Key.Key_A)
    assert table.scene.brought == SKIRT


def test_a_check_on_a_card_brings_it(bench):
    bench.table.show_problem(
        Problem("check.seam_uneven", "caution", "back_lining.side")
    )
    assert bench.table.scene.brought == "back_lining"


@pytest.mark.parametrize("unit", ["cm", "in"])
def test_true_scale_everywhere(bench, unit):
    bench.table.set_manner(Manner(unit))
    scene, view = bench.table.scene, bench.table.view
    for laid, of in scene.things():
        drawn = body_of(of).boundingRect().width() * view.scale
        shown = laid.seen.width * view.scale
        assert drawn * (2 if laid.fold else 1) == pytest.approx(shown, abs=1.0)


WORKTABLE = OneWorktable()


def test_another_style_is_laid_out_afresh():
    scene, fresh = Scene(), Scene()
    scene.show(look_of(new_job(style("mermaid"))))
    scene.show(look_of(new_job(style("inverted-pleat"))))
    fresh.show(look_of(new_job(style("inverted-pleat"))))
    assert scene.layout == fresh.layout


@pytest.mark.parametrize(
    ("name", "amounts"),
    [("yoke", {"length": 700.0, "yoke_depth": 150.0}), ("mermaid", {"length": 990.0})],
)
def test_what_is_laid_again_stays_where_it_lies(name, amounts):
    job = new_job(style(name))
    known = {amount.name for amount in job.draft.amounts}
    scene = Scene()
    scene.show(look_of(job))
    scene.show(
        WORKTABLE.look(job, {n: v for n, v in amounts.items() if n in known}), "front"
    )
    for waist in ("68 cm", "80 cm"):
        look = look_of(set_measurement(job, "waist", waist).job)
        scene.show(look)
        laid = scene.layout
        scene.show(look)
        assert scene.layout == laid


def test_a_skirt_that_grows_stays_beside_what_lies_over_the_edge(bench):
    """A view she has not moved makes room, and no other does."""
    table = bench.table
    table.resize(1440, 852)
    table.fit_draft()
    table.bring(SKIRT)
    table.set_covered(right=344, bottom=0)
    before = table.camera.goal()
    table.show_look(bench.look({"length": 960.0}))
    assert table.camera.goal() == before, "it fits: nothing moves"

    def right():
        box = table.scene.layout.box()
        return table.camera.goal().screen(Point(box.right, box.bottom))[0]

    table.show_look(bench.look({"front_spread": 70.0, "back_spread": 70.0}))
    assert right() <= table.width() - 344
    assert table.camera.goal().scale < before.scale
    table.pan_by(30, 0)
    moved = table.camera.goal()
    table.show_look(bench.look({"front_spread": 80.0, "back_spread": 80.0}))
    assert table.camera.goal() == moved, "the view is hers once she has moved it"


def test_a_skirt_that_grows_runs_under_no_card(bench):
    """Nor do the figures under its hem; grown so wide its cards lie in a row below."""
    table = bench.table
    table.resize(1440, 852)
    for spread in (20.0, 30.0, 45.0, 60.0):
        table.show_look(bench.look({"front_spread": spread, "back_spread": spread}))
        box = table.scene.layout.box()
        right, bottom = table.camera.goal().screen(Point(box.right, box.bottom))
        for card in (one.area for one in table.stack()):
            assert right < card.left or bottom + 30 < card.top, spread


def test_a_name_too_long_for_its_piece_stands_word_under_word(qapp):
    font = letters(100, 15, bold=True)
    wide = QFontMetricsF(font).horizontalAdvance
    name = "Centre front gore"
    assert _wrapped(name, font, wide("Centre front ") + 1) == ["Centre front", "gore"]
    assert _wrapped(name, font, wide("Centre ") + 1) == ["Centre", "front", "gore"]
    assert _wrapped(name, font, wide("Cen")) == []


def test_what_lies_over_the_edge_moves_the_drawing_no_further_than_it_must(bench):
    """Beside a slip it stays in sight, a tenth smaller at most, and comes back."""
    table = bench.table
    table.resize(1440, 852)
    table.fit_draft()
    before = table.camera.goal()
    table.set_covered(right=344, bottom=56)
    assert table.camera.goal().scale < before.scale
    assert table.camera.goal().scale >= 0.9 * before.scale - 1e-9
    table.set_covered(right=0, bottom=0)
    assert table.camera.goal() == before
    table.pan_by(30, 0)
    moved = table.camera.goal()
    table.set_covered(right=344, bottom=56)
    assert table.camera.goal() == moved, "the view is hers once she has moved it"


def test_over_sheets_nothing_can_be_pulled():
    scene = skirt("straight")
    known = scene.points
    assert known
    scene.show_on_paper(True)
    assert scene.points == ()
    scene.show_on_paper(False)
    assert scene.points == known


def test_a_band_is_named_beside_itself_and_a_skirt_piece_is_not():
    scene = skirt("straight")
    front = scene.layout.find("piece", "front")
    key = next(card.key for card in scene.layout.cards if card.key == "band")
    scene.bring(key)
    band = scene.layout.laid[0]
    brushes = Brushes(LIGHT, Manner(), cutting=True)
    assert named_beside(band, View(0.8), brushes)
    assert not named_beside(band, View(0.1), brushes), "there is no room from afar"
    assert not named_beside(front, View(0.8), brushes)


@pytest.mark.parametrize("name", sorted(styles.names()))
def test_what_hangs_below_lies_below_what_it_hangs_from(name):
    """Waists in the first row; yokes, tiers and flounces down from there in order."""
    scene = Scene()
    scene.show(look_of(new_job(style(name))))
    for body in ("front", "back"):
        laid = [one for one in scene.layout.laid if one.body == body]
        for one, other in itertools.combinations(laid, 2):
            a, b = one.seen, other.seen
            beside = a.right <= b.left or b.right <= a.left
            assert beside or a.top <= b.bottom or b.top <= a.bottom
        roles = {
            one.name: {edge.role for edge in scene.piece_of(one).edges} for one in laid
        }
        top = [one.seen.top for one in laid if "waist" in roles[one.name]]
        low = [one.seen.bottom for one in laid if "hem" in roles[one.name]]
        for one in laid:
            if "waist" not in roles[one.name]:
                assert one.seen.top < min(top)
            if "hem" not in roles[one.name]:
                assert one.seen.bottom > max(low)


@pytest.mark.parametrize("gores", [6, 8])
def test_gores_pulled_wider_lie_clear_of_one_another(gores):
    """The flare as it is pulled and let go; gores drafted apart are eight pieces."""
    job = halves_apart("gored")
    job = job.replace(amounts={"gores": str(gores)})
    scene, table = Scene(), WORKTABLE
    scene.show(table.look(job))
    by_hand = scene.layout.find("piece", "gore_2_left").seen.middle.x
    for flare, held in ((80.0, True), (122.0, True), (122.0, False)):
        panel = "gore_2_left" if held else None
        scene.show(table.look(job, {"gore_flare": flare}), panel)
        lying = [one.seen.grown(-1.0) for one in scene.layout.laid]
        assert not any(
            one.meets(other) for one, other in itertools.combinations(lying, 2)
        )
        now = scene.layout.find("piece", "gore_2_left").seen.middle.x
        assert not held or now == pytest.approx(by_hand, abs=0.1), "stays under it"
