"""PullTrials by mouse and by keyboard: every way there is to do it."""

from __future__ import annotations

import random

import pytest
from PySide6.QtCore import QEvent, QPoint, QPointF, QRectF, Qt
from PySide6.QtGui import QFocusEvent, QPainterPath
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from honest_points import Hand, orders
from skirtwright.app.canvas import in_hand as in_hand_module
from skirtwright.app.canvas.free_places import held_within, place_for
from skirtwright.app.canvas.handles import AWAY, TARGET, Shown, cursor_for, hit_point
from skirtwright.app.canvas.in_hand import held, lens_for
from skirtwright.geometry.point import Point
from skirtwright.words import Manner

SIDE = "front.side end"
OTHER = "front.hem middle"
LEFT = Qt.MouseButton.LeftButton
SHIFT = Qt.KeyboardModifier.ShiftModifier
CONTROL = Qt.KeyboardModifier.ControlModifier


def both(value):
    """The flare of front and back goes together."""
    return {"front_spread": value, "back_spread": value}


def test_a_pull_changes_amount_and_drawing_and_is_one_change(bench):
    hem = bench.table.scene.good.report.finished["sweep"]
    bench.pull(SIDE, 30, 0)
    assert len(bench.of("pulled")) == 1
    assert len(bench.of("pulling")) >= 3
    assert bench.of("pulled")[0] == bench.of("pulling")[-1]
    assert bench.value("front_spread") > 30
    assert bench.table.scene.good.report.finished["sweep"] > hem


def test_the_place_follows_the_pointer(bench):
    at = bench.at(SIDE)
    bench.press(at)
    # Along the way it goes: right, and a quarter of that up.
    bench.move(at + QPointF(20, -5.3))
    # To the nearest millimetre of the amount, of which the place moves nearly four.
    away = bench.at(SIDE) - (at + QPointF(20, -5.3))
    assert away.manhattanLength() < 4 * bench.table.view.scale + 1
    bench.release(at + QPointF(20, -5.3))


def test_amounts_come_in_whole_millimetres_and_with_shift_in_tenths(bench):
    at = bench.at(SIDE)
    bench.press(at)
    bench.move(at + QPointF(11, 0))
    plain = bench.of("pulling")[-1]["front_spread"]
    assert plain == pytest.approx(round(plain), abs=1e-9)
    bench.move(at + QPointF(13, 0), keys=SHIFT)
    fine = bench.of("pulling")[-1]["front_spread"]
    assert fine * 10 == pytest.approx(round(fine * 10), abs=1e-6)
    bench.release(at + QPointF(13, 0))


def test_shift_takes_a_tenth_of_the_way(bench):
    at = bench.at(SIDE)
    bench.press(at)
    bench.move(at + QPointF(30, 0), keys=SHIFT)
    fine = bench.of("pulling")[-1]["front_spread"] - 30
    bench.key(Qt.Key.Key_Escape)
    bench.press(at)
    bench.move(at + QPointF(30, 0))
    plain = bench.of("pulling")[-1]["front_spread"] - 30
    bench.key(Qt.Key.Key_Escape)
    assert fine == pytest.approx(plain / 10, abs=0.6)


def test_inches_come_in_her_fraction(bench):
    bench.table.set_manner(Manner("in", 8))
    bench.pull(SIDE, 17, 0)
    eighths = bench.of("pulled")[0]["front_spread"] / 25.4 * 8
    assert eighths == pytest.approx(round(eighths), abs=1e-5)


def test_escape_drops_and_all_is_as_at_the_press(bench):
    before = bench.table.scene.good.report.finished
    at = bench.at(SIDE)
    bench.press(at)
    bench.move(at + QPointF(40, 0))
    assert bench.table.scene.good.report.finished != before
    bench.key(Qt.Key.Key_Escape)
    assert bench.of("dropped") == [None]
    assert bench.of("pulled") == []
    assert bench.table.scene.good.report.finished == before
    bench.release(at + QPointF(40, 0))
    assert bench.of("pulled") == []


def test_the_table_lies_as_it_lay_after_escape_and_after_going_back(bench):
    # A back pulled wide pushes the front aside and the view out.
    def lies():
        laid, goal = bench.table.scene.layout.laid, bench.table.camera.goal()
        return [(one.key, one.offset) for one in laid], goal

    def lies_again(job):
        bench.job = job
        bench.table.show_look(bench.look())
        bench.settle()
        return lies()

    before, first, at = lies(), bench.job, bench.at("back.side end")
    across, down = bench.table.points.way(bench.table.scene.point_of("back.side end"))
    wide = at + 120 * QPointF(across, down)
    bench.press(at)
    bench.move(wide)
    assert lies() != before
    bench.key(Qt.Key.Key_Escape)
    bench.release(wide)
    assert lies() == before
    bench.press(at)
    bench.move(wide)
    bench.release(wide)
    then, second = lies(), bench.job
    assert then != before
    assert lies_again(first) == before
    assert lies_again(second)[0] == then[0]
    assert lies_again(first) == before


def test_a_pull_that_leaves_the_window_goes_on_and_stops_at_the_range(bench):
    at = bench.at(SIDE)
    bench.press(at)
    bench.move(at + QPointF(4000, 200))
    assert bench.of("pulling")[-1]["front_spread"] == 60
    bench.move(at + QPointF(-9000, -3000))
    assert bench.of("pulling")[-1]["front_spread"] == 0
    bench.release(at + QPointF(-9000, -3000))
    assert bench.of("pulled") == [{"front_spread": 0, "back_spread": 0}]


def test_a_flood_of_moves_is_worked_once_a_round(bench):
    at = bench.at(SIDE)
    bench.press(at)
    for step in range(500):
        bench.mouse(QEvent.Type.MouseMove, at + QPointF(step / 20, 0))
    assert bench.of("pulling") == []
    bench.settle()
    assert len(bench.of("pulling")) == 1
    bench.release(at + QPointF(25, 0))


def test_the_last_moves_count_though_no_tick_came_between(bench):
    at = bench.at(SIDE)
    bench.press(at)
    bench.mouse(QEvent.Type.MouseMove, at + QPointF(30, 0))
    bench.mouse(QEvent.Type.MouseButtonRelease, at + QPointF(30, 0), held=False)
    assert bench.of("pulled")[0]["front_spread"] > 35


def test_pulling_back_to_where_it_was_is_no_change(bench):
    at = bench.at(SIDE)
    bench.press(at)
    bench.move(at + QPointF(20, 0))
    bench.move(at)
    bench.release(at)
    assert bench.of("pulled") == []
    assert bench.of("dropped") == [None]


def test_a_point_for_two_amounts_moves_both_ways(bench):
    bench.pull("front.dart[1].tip", 8, 12)
    pulled = bench.of("pulled")[0]
    assert set(pulled) == {"dart_place_front", "dart_above_hip_front"}
    assert pulled["dart_place_front"] > 95
    assert pulled["dart_above_hip_front"] < 95


# Without dragging (WCAG 2.5.7)


@pytest.mark.parametrize(("side", "change"), [(1, 1.0), (-1, -1.0)])
def test_click_for_a_plus_and_a_minus_and_click_those(bench, side, change):
    bench.click(bench.at(SIDE))
    assert bench.of("pulled") == []
    shown = next(p for p in bench.table.shown_points() if p.chosen)
    bench.click(shown.sign(side > 0))
    assert bench.of("pulled") == [both(30 + change)]
    # Still chosen, so that the next click needs no search.
    assert next(p for p in bench.table.shown_points() if p.chosen).name == SIDE


@pytest.mark.parametrize(
    ("key", "keys", "change"),
    [
        (Qt.Key.Key_Right, Qt.KeyboardModifier.NoModifier, 1),
        (Qt.Key.Key_Left, Qt.KeyboardModifier.NoModifier, -1),
        (Qt.Key.Key_Up, Qt.KeyboardModifier.NoModifier, 1),
        (Qt.Key.Key_Down, Qt.KeyboardModifier.NoModifier, -1),
        (Qt.Key.Key_Right, SHIFT, 0.1),
        (Qt.Key.Key_Left, SHIFT, -0.1),
        (Qt.Key.Key_PageUp, Qt.KeyboardModifier.NoModifier, 10),
        (Qt.Key.Key_PageDown, Qt.KeyboardModifier.NoModifier, -10),
        (Qt.Key.Key_Plus, Qt.KeyboardModifier.NoModifier, 1),
        (Qt.Key.Key_Minus, Qt.KeyboardModifier.NoModifier, -1),
    ],
)
def test_keys(bench, key, keys, change):
    bench.focus(SIDE)
    bench.key(key, keys)
    assert bench.of("pulled") == [both(pytest.approx(30 + change))]


def test_down_makes_the_skirt_longer_for_that_is_where_the_hem_goes(bench):
    bench.focus("front.hem middle")
    bench.key(Qt.Key.Key_Down)
    assert bench.of("pulled") == [{"length": 951}]


def test_keys_across_move_the_second_amount(bench):
    bench.focus("front.dart[1].tip")
    bench.key(Qt.Key.Key_Up)
    bench.key(Qt.Key.Key_Right)
    assert bench.of("pulled") == [
        {"dart_above_hip_front": 96},
        {"dart_place_front": pytest.approx(96, abs=0.6)},
    ]


def test_keys_stop_at_the_range(bench):
    bench.focus(SIDE)
    for _ in range(5):
        bench.key(Qt.Key.Key_PageUp)
    assert bench.value("front_spread") == 60
    assert len(bench.of("pulled")) == 3


def test_pull_by(bench):
    bench.table.pull_by("front_spread", 3)
    bench.table.pull_by("length", -2, "page")
    assert bench.of("pulled") == [both(33), {"length": 930}]


# Targets


@pytest.mark.parametrize("factor", [0.25, 1.0, 6.0])
def test_targets_are_24_px_however_near_the_table_is(bench, factor):
    assert TARGET >= 24
    bench.table.zoom_by(factor, (bench.at(SIDE).x(), bench.at(SIDE).y()))
    bench.settle()
    at = bench.at(SIDE)
    alone = [p for p in bench.table.shown_points() if p.name == SIDE]
    for x, y in ((0, 0), (11.9, 0), (-11.9, 0), (0, 11.9), (0, -11.9), (8.4, 8.4)):
        found = hit_point(alone, at.x() + x, at.y() + y)
        assert found is not None
        assert found.name == SIDE
    assert hit_point(alone, at.x() + TARGET, at.y()) is None
    # And in earnest: pressed 11 px beside the dot, it comes along.
    bench.press(at + QPointF(11, 0))
    bench.move(at + QPointF(41, 0))
    assert bench.table.points.held == SIDE
    bench.release(at + QPointF(41, 0))


def test_minus_point_and_plus_do_not_overlap():
    assert AWAY >= 24 / 2 + TARGET / 2


@pytest.mark.parametrize(
    ("way", "shape"),
    [
        ((1, 0), Qt.CursorShape.SizeHorCursor),
        ((-1, 0.1), Qt.CursorShape.SizeHorCursor),
        ((0, -1), Qt.CursorShape.SizeVerCursor),
        ((1, 1), Qt.CursorShape.SizeFDiagCursor),
        ((1, -1), Qt.CursorShape.SizeBDiagCursor),
    ],
)
def test_the_cursor_tells_the_way(way, shape):
    assert cursor_for(way, both=False, dim=False) == shape


def test_cursors_over_the_table(bench):
    for name, shape in (
        ("front.side end", Qt.CursorShape.SizeHorCursor),
        ("front.hem middle", Qt.CursorShape.SizeVerCursor),
        ("front.dart[1].tip", Qt.CursorShape.SizeAllCursor),
    ):
        bench.move(bench.at(name), held=False)
        assert bench.table.cursor().shape() == shape
    bench.move(QPointF(60, 60), held=False)
    assert bench.table.cursor().shape() == Qt.CursorShape.ArrowCursor


def test_neighbours_stay_put_while_a_panel_is_pulled_and_give_way(bench):
    layout = bench.table.scene.layout
    front = layout.find("piece", "front")
    bench.pull(SIDE, 60, 0)
    after = bench.table.scene.layout
    assert after.find("piece", "front").offset == front.offset
    assert after.find("piece", "back").box.left > after.find("piece", "front").box.right


def test_a_hopeless_point_is_dim_and_says_what_does_more(bench, monkeypatch):
    from skirtwright.draft.pulls import Response
    from skirtwright.geometry.point import Point

    scene = bench.table.scene
    handle = scene.point_of(SIDE)
    scene._responses[SIDE, handle.amount] = Response(Point(0.001, 0))
    assert next(p for p in bench.table.shown_points() if p.name == SIDE).dim
    said = bench.table.points.sentence(SIDE, Manner())
    assert "Front flare at the break hardly moves" in said
    tried, worked = scene.trials, scene.good.worked
    others = {h.amount for h in scene.handles} - set(handle.amounts)
    reaches = {name: tried.response(worked, handle, name).reach for name in others}
    assert scene.state(max(reaches, key=reaches.get)).amount.label in said
    for name in others:
        scene._responses[SIDE, name] = Response(Point(0.001, 0))
    assert scene.stronger_amount(handle) is None


def test_the_value_stands_beside_the_pointer_with_its_unit(bench):
    from skirtwright.app.canvas.painting import value_lines

    at = bench.at(SIDE)
    bench.press(at)
    bench.move(at + QPointF(12, 0))
    handle = bench.table.points.active()
    value = bench.of("pulling")[-1]["front_spread"]
    shown = f"{value / 10:g} cm"
    assert value_lines(bench.table, handle) == ("Front flare at the break", shown)
    bench.move(at + QPointF(900, 0))
    most = ("Front flare at the break, at its most", "6 cm")
    assert value_lines(bench.table, handle) == most
    bench.release(at + QPointF(900, 0))
    bench.table.set_manner(Manner("in", 8))
    assert value_lines(bench.table, handle)[1] == "2 3/8 in"


def outline(x, y, wide, tall):
    path = QPainterPath()
    path.addRect(QRectF(x, y, wide, tall))
    return path


ROOM = QRectF(0, 0, 800, 600)
PIECES = [outline(180, 40, 120, 500), outline(440, 40, 120, 500)]


@pytest.mark.parametrize("way", [(1, 0), (0, 1), (0.7, 0.7), (-0.7, 0.7)])
@pytest.mark.parametrize("x", [20, 200, 780])
@pytest.mark.parametrize("y", [20, 300, 580])
def test_the_value_covers_nothing_she_needs(way, x, y):
    """Its point, minus and plus, figures, pins, cards; a piece only within one."""
    shown = Shown("p", x, y, way=way, chosen=True)
    figure, pin = QRectF(x + 30, y - 60, 90, 40), QRectF(x - 70, y + 30, 32, 32)
    signs = [shown.sign_rect(True), shown.sign_rect(False)]
    clear = [shown.rect, *signs, figure, pin]
    area = place_for((x, y), (150, 52), ROOM, PIECES, clear, reach=140)
    assert ROOM.contains(area)
    assert not any(area.intersects(each) for each in clear)
    assert x == 200 or not any(piece.intersects(area) for piece in PIECES)


def test_what_stands_beside_the_hand_stands_still_while_it_is_free():
    first = place_for((310, 300), (100, 52), ROOM, PIECES, [])
    corner = first.topLeft()
    before = corner, held_within((310, 300), first)
    for more in range(0, 40, 8):
        hand = (310 + more, 300)
        again = place_for(hand, (104, 52), ROOM, PIECES, [], before=before)
        nearest = place_for(hand, (104, 52), ROOM, PIECES, [])
        assert again.topLeft() in (corner, nearest.topLeft())
    held = place_for((314, 300), (104, 52), ROOM, PIECES, [], before=before)
    assert held.topLeft() == corner
    taken = [QRectF(corner.x(), corner.y(), 10, 10)]
    gone = place_for((314, 300), (104, 52), ROOM, PIECES, taken, before=before)
    assert gone.topLeft() != corner


def test_a_lens_lies_over_bare_cloth_where_there_is_any_and_stands_still():
    lens = lens_for((570, 500), Point(0, 0), 370, QRectF(0, 0, 860, 600), PIECES, [])
    assert not any(piece.intersects(lens.area) for piece in PIECES)
    assert not lens.area.contains(570, 500)
    gone_on = held(lens, (564, 490), Point(1, 1))
    assert gone_on.middle == lens.middle
    assert held(lens, lens.middle, Point(1, 1)) is None
    # Where there is none it stands in the hollow.
    narrow = QRectF(0, 0, 700, 600)
    assert lens_for((450, 500), Point(0, 0), 370, narrow, PIECES, []).middle[0] == 370


def test_the_sentence_says_the_value_as_it_is_pulled(bench):
    at = bench.at(SIDE)
    bench.press(at)
    said = []
    for share in (10, 20, 30):
        bench.move(at + QPointF(share, 0))
        said.append(bench.of("pointed")[-1])
        value = bench.of("pulling")[-1]["front_spread"] / 10
        assert f"{value:g} cm" in said[-1]
    assert len(set(said)) == 3
    bench.key(Qt.Key.Key_Escape)
    bench.release(at)
    assert bench.value("front_spread") == 30


# Front and back together


@pytest.mark.parametrize("name", ["front.side end", "back.side end"])
def test_the_flare_goes_together_from_either_point(bench, name):
    bench.pull(name, 12 if name == SIDE else -12, 0)
    (amounts,) = bench.of("pulled")
    assert amounts["front_spread"] == amounts["back_spread"] > 30


def test_it_goes_by_as_much_where_it_was_unlike(bench):
    bench.table.set_amounts({"back_spread": 20.0})
    bench.heard.clear()
    bench.pull(SIDE, 12, 0)
    (amounts,) = bench.of("pulled")
    more = amounts["front_spread"] - 30
    assert amounts["back_spread"] == pytest.approx(20 + more)


def test_one_alone_with_a_key(bench):
    at = bench.at(SIDE)
    bench.press(at)
    bench.move(at + QPointF(12, 0), keys=CONTROL)
    assert set(bench.of("pulling")[-1]) == {"front_spread"}
    bench.release(at + QPointF(12, 0))
    assert set(bench.of("pulled")[0]) == {"front_spread"}
    bench.heard.clear()
    bench.focus(SIDE)
    bench.key(Qt.Key.Key_Right, CONTROL)
    assert set(bench.of("pulled")[0]) == {"front_spread"}


# What is drawn while it is pulled


def in_hand(bench, name, x, y):
    at = bench.at(name)
    bench.press(at)
    bench.move(at + QPointF(x / 2, y / 2))
    bench.move(at + QPointF(x, y))
    items = {item.key: item for item in bench.table.frame.items}
    return at + QPointF(x, y), items


@pytest.mark.parametrize(
    ("name", "x", "y"),
    [(SIDE, 14, 0), ("front.hem middle", 0, 30), ("back.dart[1].tip", 0, -15)],
)
def test_the_value_stands_beside_the_hand_and_on_no_piece(bench, name, x, y):
    bench.table.resize(1440, 796)
    bench.settle()
    at, items = in_hand(bench, name, x, y)
    told, area, _ = items["told"].leans
    assert told.number
    assert told.change[0] in "+\u2212"
    assert bench.table.rect().contains(area.toRect())
    assert not any(piece.intersects(area) for piece in bench.table.outlines())
    assert not area.contains(at)
    assert not area.intersects(bench.table.lens().area)
    bench.release(at)
    assert "told" not in {item.key for item in bench.table.frame.items}


def test_the_label_says_the_hem_and_how_much_more(bench):
    before = bench.table.scene.good.report.finished["sweep"]
    at, items = in_hand(bench, SIDE, 14, 0)
    told = items["told"].leans[0]
    after = bench.table.scene.good.report.finished["sweep"]
    assert (told.word, told.number) == ("hem", f"{after / 10:.1f}".removesuffix(".0"))
    assert float(told.change) == pytest.approx((after - before) / 10, abs=0.06)
    assert told.below.endswith("front and back alike")
    bench.release(at)


def test_edges_that_follow_are_marked_and_their_old_line_kept(bench):
    at, items = in_hand(bench, SIDE, 14, 0)
    for name in ("front", "back"):
        (one, _) = items["moved", name].leans
        assert one.now
        assert one.before
        panel = bench.table.scene.panels[name]
        every = {s for edge in panel.edges for s in edge.chain.segments}
        assert set(one.now) <= every
        assert not set(one.before) & every
        # Above the knee nothing follows.
        waist = panel.edge("waist").chain.segments
        assert not set(one.now) & set(waist)
    bench.release(at)
    assert bench.table.moved() == ()


def test_a_lens_in_the_hollow_shows_the_hand_four_times_nearer(bench):
    at, items = in_hand(bench, SIDE, 14, 0)
    lens = items["lens"].leans[0]
    assert lens.area.width() == 220
    assert not lens.area.contains(at)
    front, back = bench.table.scene.layout.laid
    middle = (front.seen.right + back.seen.left) / 2
    assert lens.middle[0] == pytest.approx(
        bench.table.view.screen(Point(middle, 0))[0], abs=6
    )
    assert lens.place.to(bench.table.scene.at(bench.table.points.active())) < 1e-6
    bench.release(at)
    bench.table.zoom_by(8, (at.x(), at.y()))
    at, items = in_hand(bench, SIDE, 14, 0)
    assert "lens" not in items, "near enough already"
    bench.release(at)


def test_the_lens_leaves_out_nothing_that_is_to_be_seen_in_it(bench, monkeypatch):
    """Lines and pieces that do not reach into it are not painted at all.

    A line of which more is handed over may be rounded otherwise, by one of 255.
    """
    all_over = QRectF(-1e6, -1e6, 2e6, 2e6)
    for place in (SIDE, "front.hem middle", "back.dart[1].tip"):
        at, _ = in_hand(bench, place, 14, 9)
        area = bench.table.lens().area.toAlignedRect()
        quick = bench.table.grab(area).toImage()
        with monkeypatch.context() as patch:
            patch.setattr(in_hand_module, "_within", lambda what, *_: what)
            patch.setattr(in_hand_module, "screen_rect", lambda *_: all_over)
            whole = bench.table.grab(area).toImage()
        bits = zip(quick.constBits(), whole.constBits(), strict=True)
        assert max(abs(one - other) for one, other in bits) <= 1
        bench.release(at)


# Points never lie


def test_each_point_does_what_it_shows(qtbot):
    """A seeded sample of styles and options; `bench_points.py` tries all of them."""
    hand = Hand()
    qtbot.addWidget(hand.table)
    chance = random.Random(29)
    for name, job in chance.sample(list(orders()), 2):
        assert list(hand.lies(job)) == [], name


def test_the_arrows_move_the_point_that_was_pulled_last(bench):
    bench.click(bench.at(OTHER))
    assert bench.table.points.focused == OTHER
    bench.pull(SIDE, 30, 0)
    assert bench.table.points.focused == SIDE
    before = bench.value("front_spread")
    bench.key(Qt.Key.Key_Right)
    assert bench.value("front_spread") == pytest.approx(before + 1)


def test_the_arrows_move_the_point_that_was_pulled_and_not_the_figure_before(bench):
    bench.table.entry_in_hand = bench.table.written()[0].entry.name
    bench.pull(SIDE, 30, 0)
    assert (bench.table.entry_in_hand, bench.table.points.focused) == ("", SIDE)


def test_a_point_is_let_go_of_when_the_hand_goes_to_something_else(window):
    table, name = window.table, window.table.points.names()[0]
    for reason, kept in (
        (Qt.FocusReason.ActiveWindowFocusReason, name),
        (Qt.FocusReason.OtherFocusReason, ""),
    ):
        table.points.chosen = table.points.focused = name
        QApplication.sendEvent(table, QFocusEvent(QEvent.Type.FocusOut, reason))
        assert (table.points.chosen, table.points.focused) == (kept, kept)


def test_a_pull_is_let_go_of_with_the_next_thing_she_does(window, qtbot):
    """The button of undo takes no keyboard; the value must not stay over the table."""
    table = window.table
    at = table.points.target("front.side end", table.view).center()
    QTest.mousePress(table, LEFT, pos=at)
    for step in (4, 8, 12):
        QTest.mouseMove(table, at + QPoint(step, 0))
        QApplication.processEvents()
    QTest.mouseRelease(table, LEFT, pos=at + QPoint(12, 0))
    QTest.qWait(1)
    assert table.points.chosen == "front.side end"
    assert "bubble" in [item.key for item in table.frame.items]
    QTest.mouseClick(window.band.undo, LEFT)
    QTest.mouseMove(table, QPoint(3, 3))
    QTest.qWait(1)
    assert (table.points.chosen, table.points.focused) == ("", "")
    qtbot.waitUntil(lambda: all(i.key != "bubble" for i in table.frame.items))


def test_a_plus_pressed_keeps_its_point_in_hand(bench):
    bench.click(bench.at(SIDE))
    bench.table.pull_by("front_spread", 1)
    bench.settle()
    assert bench.table.points.chosen == SIDE
