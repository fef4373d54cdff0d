"""Looking: zoom, pan, fit, true size, scales; and views as mathematics."""

from __future__ import annotations

import itertools
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtWidgets import QApplication

from skirtwright.app.canvas.laying import GAP, LEAST_GAP, lay_out
from skirtwright.app.canvas.paths import body_of
from skirtwright.app.canvas.rulers import ticks
from skirtwright.app.canvas.scene import Scene
from skirtwright.app.canvas.view import Margins, View, fitted
from skirtwright.draft import styles
from skirtwright.draft.shapes.panel import panel_of
from skirtwright.draft.styles import style
from skirtwright.geometry.box import Box
from skirtwright.geometry.chain import straight
from skirtwright.geometry.point import Point
from skirtwright.job.edits import set_measurement
from skirtwright.job.job import new_job
from skirtwright.job.piece_edits import show_piece
from skirtwright.job.worktable import Worktable
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


@pytest.mark.parametrize(
    ("fit", "kind"),
    [("fit_all", None), ("fit_draft", "draft"), ("fit_pieces", "piece")],
)
def test_fitting(bench, qtbot, fit, kind):
    bench.table.zoom_by(3)
    getattr(bench.table, fit)()
    box = bench.table.scene.layout.box(kind)
    qtbot.waitUntil(lambda: bench.table.view == bench.table.eyes.goal())
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
    bench.table.eyes.true_scale = 3.75
    bench.table.true_size()
    qtbot.waitUntil(lambda: bench.table.view.scale == pytest.approx(3.75))
    bench.table.eyes.true_scale = None
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
    bench.table.pull_by("length", 5, "page")
    bench.pull("front.side end", 30, 0)
    assert bench.table.view == view


def test_another_style_is_shown_whole(bench):
    bench.table.zoom_by(6, (300, 300))
    bench.job = new_job(style("straight"))
    bench.table.show_look(bench.look())
    box = bench.table.scene.layout.box()
    x, y = bench.table.view.screen(Point(box.right, box.bottom))
    assert x < bench.table.width()
    assert y < bench.table.height()


# The scales


@pytest.mark.parametrize("unit", ["cm", "mm", "in"])
@pytest.mark.parametrize("scale", [0.05, 0.3, 0.7, 2.0, 3.78, 12.0, 55.0])
def test_ticks_stand_where_their_numbers_say(unit, scale):
    one = {"cm": 10.0, "mm": 1.0, "in": 25.4}[unit]
    found = ticks(-100.0, 900.0 / scale, scale, unit)
    numbered = [t for t in found if t.number is not None]
    assert len(numbered) >= 2
    for tick in numbered:
        assert tick.at == pytest.approx(float(tick.number) * one)
    gaps = {round(b.at - a.at, 6) for a, b in itertools.pairwise(found)}
    assert len(gaps) == 1
    between = (numbered[1].at - numbered[0].at) * scale
    assert between >= 40
    assert gaps.pop() * scale >= 3


# Where things lie


def square(side: float):
    corners = [Point(0, 0), Point(side, 0), Point(side, 100), Point(0, 100)]
    names = ["hem", "side", "waist", "centre"]
    return panel_of(
        [
            (name, straight(corners[i], corners[(i + 1) % 4]))
            for i, name in enumerate(names)
        ]
    )


def test_first_laid_apart_and_level():
    layout = lay_out({"front": square(200), "back": square(300)}, [])
    front, back = layout.laid
    assert back.box.left - front.box.right == pytest.approx(GAP)
    assert front.box.top == back.box.top
    assert layout.sheet.left < front.box.left
    assert layout.sheet.right > back.box.right


def test_what_grows_keeps_its_place_and_pushes_only_what_it_would_cover():
    before = lay_out({"front": square(200), "back": square(300)}, [])
    little = lay_out({"front": square(220), "back": square(300)}, [], before)
    assert [laid.offset for laid in little.laid] == [
        laid.offset for laid in before.laid
    ]
    much = lay_out({"front": square(400), "back": square(300)}, [], little)
    assert much.laid[0].offset == before.laid[0].offset
    gap = much.laid[1].box.left - much.laid[0].box.right
    assert gap == pytest.approx(LEAST_GAP)
    # And back again: nothing jumps.
    back = lay_out({"front": square(200), "back": square(300)}, [], much)
    assert [laid.offset for laid in back.laid] == [laid.offset for laid in much.laid]


def test_what_is_held_and_what_lies_left_of_it_stay_put():
    before = lay_out({"front": square(200), "back": square(300)}, [])
    pulled = lay_out({"front": square(900), "back": square(300)}, [], before, "back")
    assert [laid.offset for laid in pulled.laid] == [
        laid.offset for laid in before.laid
    ]


def test_draft_left_and_pieces_right_of_it(bench):
    layout = bench.table.scene.layout
    assert layout.sheet.right < layout.box("piece").left
    kinds = [laid.kind for laid in layout.laid]
    assert kinds == sorted(kinds)
    assert set(kinds) == {"draft", "piece"}


def test_pieces_lie_together_by_cloth(bench):
    heaps = bench.table.scene.layout.heaps()
    assert {heap.material for heap in heaps} == {"shell", "lining", "interfacing"}
    for one in heaps:
        for other in heaps:
            assert one is other or not one.box.meets(other.box), (one, other)


def test_a_hidden_piece_leaves_its_place_and_nothing_moves(bench):
    before = bench.table.scene.layout
    bench.job = show_piece(bench.job, "front_lining", on=False).job
    bench.table.show_look(bench.look())
    after = bench.table.scene.layout
    assert after.find("piece", "front_lining") is None
    for laid in after.laid:
        assert laid == before.find(laid.kind, laid.name)
    bench.job = show_piece(bench.job, "front_lining", on=True).job
    bench.table.show_look(bench.look())
    assert bench.table.scene.layout == before


def test_a_longer_skirt_pushes_what_lies_below_it_and_leaves_the_rest(bench):
    before = bench.table.scene.layout
    bench.table.pull_by("length", 20, "page")
    layout = bench.table.scene.layout
    pieces = [laid for laid in layout.laid if laid.kind == "piece"]
    for one in pieces:
        for other in pieces:
            assert one is other or not one.box.meets(other.box), (one, other)
    for name in ("front", "back"):
        here, was = (each.find("piece", name) for each in (layout, before))
        assert here.offset.y == was.offset.y


@pytest.mark.parametrize("unit", ["cm", "in"])
def test_true_scale_everywhere(bench, unit):
    bench.table.set_manner(Manner(unit))
    scene, view = bench.table.scene, bench.table.view
    for laid, of in scene.things():
        drawn = body_of(of).boundingRect()
        shown = laid.box.width * view.scale
        assert drawn.width() * view.scale == pytest.approx(shown, abs=1.0)


WORKTABLE = Worktable()


@pytest.mark.parametrize("name", styles.names())
def test_every_style_lies_clear_and_near_and_stays_where_it_is(name):
    look = WORKTABLE.look(new_job(style(name)))
    scene = Scene()
    scene.show(look)
    first = scene.layout
    for one in first.laid:
        for other in first.laid:
            assert one is other or not one.box.meets(other.box), (one, other)
        if one.kind == "piece":
            assert one.box.left > first.sheet.right
    whole = first.box()
    assert whole.width / whole.height < 4, "no longer than a screen can show"
    scene.show(WORKTABLE.look(new_job(style(name))))
    assert scene.layout == first


def test_another_style_is_laid_out_afresh():
    scene, fresh = Scene(), Scene()
    scene.show(WORKTABLE.look(new_job(style("mermaid"))))
    scene.show(WORKTABLE.look(new_job(style("inverted-pleat"))))
    fresh.show(WORKTABLE.look(new_job(style("inverted-pleat"))))
    assert scene.layout == fresh.layout


@pytest.mark.parametrize(
    ("name", "amounts"),
    [("yoke", {"length": 700.0, "yoke_depth": 150.0}), ("mermaid", {"length": 990.0})],
)
def test_what_is_laid_again_stays_where_it_lies(name, amounts):
    job = new_job(style(name))
    known = {amount.name for amount in job.draft.amounts}
    scene = Scene()
    scene.show(WORKTABLE.look(job))
    scene.show(
        WORKTABLE.look(job, {n: v for n, v in amounts.items() if n in known}), "front"
    )
    for waist in ("68 cm", "80 cm"):
        look = WORKTABLE.look(set_measurement(job, "waist", waist).job)
        scene.show(look)
        laid = scene.layout
        scene.show(look)
        assert scene.layout == laid


def test_what_lies_over_the_edge_moves_the_drawing_no_further_than_it_must(bench):
    """Beside a slip it stays in sight, a tenth smaller at most, and comes back."""
    table = bench.table
    table.resize(1440, 852)
    table.fit_draft()
    before = table.eyes.goal()
    table.set_covered(right=344, bottom=56)
    assert table.eyes.goal().scale < before.scale
    assert table.eyes.goal().scale >= 0.9 * before.scale - 1e-9
    table.set_covered(right=0, bottom=0)
    assert table.eyes.goal() == before
    table.pan_by(30, 0)
    moved = table.eyes.goal()
    table.set_covered(right=344, bottom=56)
    assert table.eyes.goal() == moved, "the view is hers once she has moved it"
