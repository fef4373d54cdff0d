"""Pointing, choosing, asking why; signs of checks; walking a seam."""

from __future__ import annotations

import itertools
from dataclasses import replace

import pytest
from PySide6.QtCore import QEvent, QPointF, QRectF, Qt
from PySide6.QtGui import QContextMenuEvent
from PySide6.QtWidgets import QApplication

from drafting import look_of
from skirtwright.app.canvas.choosing import edge_of
from skirtwright.app.canvas.fitting import Area
from skirtwright.app.canvas.places import locate, place_of_measure
from skirtwright.app.canvas.pointing import find
from skirtwright.app.canvas.scene import Scene
from skirtwright.app.canvas.walking import Walk, rolled, stand
from skirtwright.draft import styles
from skirtwright.geometry.point import Point
from skirtwright.job.job import new_job, sample_card
from skirtwright.problems import Problem
from skirtwright.telling.sentences import why


def on_edge(bench, name, edge, share=0.4):
    """A pixel on an edge of a piece."""
    scene = bench.table.scene
    laid = scene.layout.find("piece", name)
    chain = scene.panel_of(laid).edge(edge).chain
    return QPointF(*bench.table.view.screen(laid.at(chain.at(chain.length * share))))


@pytest.mark.parametrize(
    ("edge", "said"),
    [("side", "seam allowance 1.5 cm."), ("centre", "placed on the fold.")],
)
def test_hovering_an_edge_says_its_sentence(bench, edge, said):
    bench.move(on_edge(bench, "front", edge), held=False)
    assert said in bench.of("pointed")[-1]
    assert bench.table.hovered.name == f"front.{edge}"
    bench.move(QPointF(60, 60), held=False)
    assert bench.of("pointed")[-1] == ""
    assert bench.table.hovered is None


def test_hovering_a_pull_point_says_what_it_does(bench):
    bench.move(bench.at("front.side end"), held=False)
    assert bench.of("pointed")[-1].startswith("Front flare at the break: 3 cm.")


def test_hovering_lines_darts_and_corners(bench):
    scene, view = bench.table.scene, bench.table.view
    laid, panel = scene.layout.find("piece", "back"), scene.panels["back"]
    hip = panel.mark("hip").shape
    bench.move(QPointF(*view.screen(laid.at(hip.at(120)))), held=False)
    assert bench.of("pointed")[-1] == "Back, hip line: 25.5 cm across."
    tip = panel.dart("dart[2]").tip
    bench.move(QPointF(*view.screen(laid.at(tip))), held=False)
    assert "Back, dart: 2.1 cm wide" in bench.of("pointed")[-1]
    corner = panel.edge("waist").chain.start
    bench.move(QPointF(*view.screen(laid.at(corner))), held=False)
    assert bench.table.hovered.kind == "corner"
    assert bench.of("pointed")[-1] != ""


def test_what_is_hovered_can_be_explained_from_the_tape(bench):
    """Every name that is handed out for "why" is understood by the draft."""
    scene, view = bench.table.scene, bench.table.view
    names = set()
    for laid in scene.layout.laid:
        left, top = view.screen(Point(laid.box.left, laid.box.top))
        right, bottom = view.screen(Point(laid.box.right, laid.box.bottom))
        for x in range(int(left), int(right), 9):
            for y in range(int(top), int(bottom), 9):
                found = find(scene, view, x, y)
                if found:
                    names.add(found.name)
    assert {"front.side", "back.hem", "front", "back.centre"} <= names
    for name in names:
        assert why(scene.good.worked, name), name


def test_a_click_chooses_and_what_is_chosen_stays(bench):
    at = on_edge(bench, "front", "side")
    bench.click(at)
    assert bench.table.chosen.name == "front.side"
    bench.move(QPointF(60, 60), held=False)
    assert bench.of("pointed")[-1].startswith("Front, side seam")
    bench.key(Qt.Key.Key_Escape)
    assert bench.table.chosen is None
    assert bench.of("pointed")[-1] == ""


def test_what_is_chosen_stays_chosen_through_a_change(bench):
    bench.click(on_edge(bench, "front", "side"))
    before = bench.table.chosen.shape
    bench.table.pull_by("length", 2, "page")
    assert bench.table.chosen.name == "front.side"
    assert bench.table.chosen.shape.length == pytest.approx(before.length + 20, abs=1)


def test_why_is_asked_by_double_click_by_menu_and_by_key(bench):
    scene, view = bench.table.scene, bench.table.view
    laid = scene.layout.find("piece", "front")
    inside = QPointF(*view.screen(laid.at(Point(80, -90))))
    bench.move(inside, held=False)
    bench.mouse(QEvent.Type.MouseButtonDblClick, inside)
    bench.release(inside)
    assert bench.of("why") == ["front"]
    at = on_edge(bench, "front", "side")
    bench.move(at, held=False)
    where = at.toPoint()
    event = QContextMenuEvent(
        QContextMenuEvent.Reason.Mouse, where, bench.table.mapToGlobal(where)
    )
    QApplication.sendEvent(bench.table, event)
    assert bench.of("why") == ["front", "front.side"]
    bench.focus("front.hip end")
    bench.key(Qt.Key.Key_Return)
    assert bench.of("why")[-1] == "front.hip end"


# Checks


def test_a_check_is_shown_at_its_place(bench, qtbot):
    laid = bench.table.scene.layout.find("piece", "front")
    problem = Problem("check.seam_uneven", "wrong", "side")
    before = bench.table.view
    bench.table.show_problem(problem)
    place = locate(bench.table.scene, problem)
    assert laid.box.grown(1).holds(place)
    assert bench.table.camera.goal() == before, "it is in sight"
    bench.table.camera.pan_by(5000, 0)
    bench.table.show_problem(problem)
    qtbot.waitUntil(lambda: bench.table.view == bench.table.camera.goal())
    x, y = bench.table.view.screen(place)
    assert abs(x - bench.table.width() / 2) < 1
    assert abs(y - bench.table.height() / 2) < 1
    assert bench.table.signs.shown == problem


@pytest.mark.parametrize(
    ("where", "name"),
    [
        ("front.side", "front"),
        ("hip_ease", "front"),
        ("back_side_trued", "back"),
        ("front_knee_side", "front"),
    ],
)
def test_places_of_checks(bench, where, name):
    place = locate(bench.table.scene, Problem("x", "wrong", where))
    assert bench.table.scene.layout.find("piece", name).box.grown(1).holds(place)


def test_a_step_that_shapes_an_edge_is_pinned_on_that_edge(bench):
    scene = bench.table.scene
    place = locate(scene, Problem("x", "wrong", "front_knee_eased"))
    assert place == locate(scene, Problem("x", "wrong", "front.side"))


def drawn(style, measurements=(), **amounts):
    """The scene of a style on its sample client."""
    draft = styles.style(style)
    card = sample_card(draft)
    taken = {**card.measurements, **dict(measurements)}
    job = new_job(draft, card.replace(measurements=taken))
    scene = Scene()
    scene.show(look_of(job.replace(amounts=amounts)))
    return scene


def told(scene, code):
    return next(p for p in scene.look.problems if p.code == f"check.{code}")


def test_a_step_held_by_the_hem_is_pinned_on_the_hem():
    scene = drawn("straight-block", length="95")
    hem = locate(scene, Problem("x", "wrong", "front.hem"))
    assert locate(scene, told(scene, "step_short")) == hem
    narrowed = drawn("mermaid")
    knee = place_of_measure(narrowed, "knee")
    assert locate(narrowed, Problem("x", "caution", "step_allowed")) == knee


def test_a_train_is_pinned_where_it_lies_on_the_floor():
    scene = drawn("train")
    place = locate(scene, told(scene, "train"))
    assert scene.layout.find("piece", "back").box.grown(1).holds(place)
    front = locate(scene, Problem("x", "caution", "front.hem"))
    assert place.y < front.y - 100, "beyond the hem in front"


def test_the_upper_hip_is_pinned_between_waist_and_hip():
    scene = drawn("mermaid", {"top_hip": "104"})
    place = locate(scene, told(scene, "top_hip_under_body"))
    waist, hip = (place_of_measure(scene, name) for name in ("waist", "hip"))
    assert hip.y < place.y < waist.y
    assert place.y == pytest.approx((hip.y + waist.y) / 2)


def test_a_check_about_nothing_drawn_moves_nothing(bench):
    view = bench.table.view
    bench.table.show_problem(Problem("x", "caution", "nowhere"))
    bench.settle()
    assert bench.table.view == view


def many_problems(bench):
    """An order with more checks than pins."""
    look = bench.look()
    where = ("front.side", "back.hem", "front.hem", "back.side", "back_lining.side")
    found = [Problem(f"check.{n}", "caution", w) for n, w in enumerate(where)]
    report = replace(look.report)
    # As if they were all that draft, pieces and checks had to say.
    vars(report)["problems"] = (Problem("x", "note", "front"), *found)
    bench.table.show_look(replace(look, report=report))
    bench.settle()
    return found


@pytest.mark.parametrize("size", [(1440, 796), (1024, 596)])
def test_at_most_three_numbered_pins_outside_the_pieces(bench, size):
    bench.table.resize(*size)
    found = many_problems(bench)
    pins = bench.table.pins()
    assert [(pin.number, pin.problem) for pin in pins] == list(
        zip((1, 2, 3), found[:3], strict=True)
    )
    for pin in pins:
        area = QRectF(pin.area.left, pin.area.top, pin.area.width, pin.area.height)
        assert area.width() == area.height() == 32
        assert not any(piece.intersects(area) for piece in bench.table.outlines())
        assert not any(one.area.intersects(area) for one in bench.table.written())
        for other in pins:
            shut = Area(*area.getRect())
            assert other is pin or not shut.holds(other.area.left, other.area.top)


def test_a_pin_is_clicked_and_one_asked_for_takes_the_place_of_the_least(bench):
    found = many_problems(bench)
    area = bench.table.pins()[1].area
    bench.click(QPointF(area.left + 16, area.top + 16))
    assert bench.table.signs.shown == found[1]
    bench.table.show_problem(found[3])
    numbers = [number for number, _, _ in bench.table.signs.places]
    assert numbers == [1, 2, 4]
    assert bench.table.signs.shown == found[3]


# Walking


def test_rolled_sides_touch_and_run_the_same_way(bench):
    scene = bench.table.scene
    panels = {piece.name: piece.panel for piece in scene.pieces}
    for seam in scene.good.report.cut.seams:
        for share in (0.0, 0.13, 0.5, 0.77, 1.0):
            now = rolled(seam, panels, share * min(seam.lengths))
            moved = now.motion(now.second.place)
            assert moved.to(now.first.place) < 1e-6
            ahead = now.motion(now.second.place + now.second.along) - moved
            assert ahead.to(now.first.along) < 1e-6


def test_the_second_piece_lies_on_the_other_side(bench):
    scene = bench.table.scene
    panels = {piece.name: piece.panel for piece in scene.pieces}
    for seam in scene.good.report.cut.seams:
        now = rolled(seam, panels, seam.lengths[0] / 3)
        along = now.first.along
        inwards = along.left() if now.first.inside_left else along.right()
        own = now.second
        theirs = own.along.left() if own.inside_left else own.along.right()
        turned = now.motion(own.place + theirs) - now.motion(own.place)
        assert turned.dot(inwards) == pytest.approx(-1)


def test_rolling_is_without_slip(bench):
    """Both have walked the same way: chords of both agree to second order."""
    scene = bench.table.scene
    panels = {piece.name: piece.panel for piece in scene.pieces}
    seam = scene.good.report.cut.seams[0]
    for side in seam.seam.sides:
        steps = [stand(side, panels, d).place for d in range(0, 900, 5)]
        for first, second in itertools.pairwise(steps):
            assert first.to(second) == pytest.approx(5, abs=0.02)


def test_walking_on_the_table(bench):
    walking = []
    bench.table.walking.connect(walking.append)
    bench.table.walk_seam("side")
    assert walking == [True]
    assert bench.table.walk_player.walk.seam.seam.name == "side"
    bench.table.walk_player.to(100)
    bench.key(Qt.Key.Key_Right)
    assert bench.table.walk_player.walk.distance == pytest.approx(110)
    bench.key(Qt.Key.Key_Down)
    assert bench.table.walk_player.walk.distance == pytest.approx(100)
    bench.table.grab()
    bench.table.walk_player.to(1e9)
    assert bench.table.walk_player.walk.done
    bench.key(Qt.Key.Key_Escape)
    assert walking == [True, False]
    assert bench.table.walk_player.walk is None


def test_the_end_of_a_walk_says_what_is_left_over(bench):
    from skirtwright.app.canvas.marking import walk_lines

    seam = bench.table.scene.good.report.cut.seams[0]
    panels = {piece.name: piece.panel for piece in bench.table.scene.pieces}
    brushes = bench.table.brushes
    met = Walk(seam, panels).at(1e9)
    assert walk_lines(met, "side seam", brushes)[-1] == "The two edges meet."
    longer = replace(seam, lengths=(seam.lengths[1] + 3, seam.lengths[1]))
    over = Walk(longer, panels).at(1e9)
    said = walk_lines(over, "side seam", brushes)[-1]
    assert said == "0.3 cm is left over on the first edge."


def test_a_seam_that_is_not_there_is_not_walked(bench):
    bench.table.walk_seam("nothing")
    assert bench.table.walk_player.walk is None


# Pieces chosen, and balance marks asked for


def test_a_click_on_a_seam_edge_of_a_piece_picks_it(bench):
    heard = []
    bench.table.picked.connect(lambda found, at: heard.append((found, at)))
    bench.table.bring("front_lining")
    at = on_edge(bench, "front_lining", "side")
    bench.click(at)
    ((found, where),) = heard
    assert edge_of(found) == ("front_lining", "side")
    assert where == (at.x(), at.y())
    bench.click(QPointF(30, 30))
    assert edge_of(heard[-1][0]) is None


def test_a_click_in_the_allowance_picks_the_edge_beside_it(bench):
    bench.table.zoom_by(8, (bench.table.width() / 2, bench.table.height() / 2))
    scene = bench.table.scene
    laid = scene.layout.find("piece", "back")
    piece = next(p for p in scene.pieces if p.name == "back")
    hem = piece.panel.edge("hem").chain
    # Half of the hem's 2.5 cm below its middle.
    below = laid.at(hem.at(hem.length / 2)) + Point(0, -12.5)
    bench.table.camera.view = bench.table.view.centred(below, 1100, 900)
    bench.click(QPointF(550, 450))
    assert edge_of(bench.table.chosen) == ("back", "hem")


def test_a_double_click_on_a_piece_asks_for_a_mark_at_the_place(bench):
    wanted = []
    bench.table.notch_wanted.connect(lambda *mark: wanted.append(mark))
    at = on_edge(bench, "front", "side", share=0.4)
    bench.mouse(QEvent.Type.MouseButtonDblClick, at)
    bench.release(at)
    length = bench.table.scene.panels["front"].edge("side").chain.length
    ((piece, edge, distance),) = wanted
    assert (piece, edge) == ("front", "side")
    assert distance == pytest.approx(0.4 * length, abs=3 / bench.table.view.scale)
    assert bench.of("why") == []


def test_a_key_asks_for_a_mark_where_she_points_or_in_the_middle(bench):
    wanted = []
    bench.table.notch_wanted.connect(lambda *mark: wanted.append(mark))
    at = on_edge(bench, "front", "side", share=0.4)
    bench.click(at)
    bench.table.setFocus()
    bench.key(Qt.Key.Key_N)
    length = bench.table.scene.panels["front"].edge("side").chain.length
    assert wanted[-1][2] == pytest.approx(0.4 * length, abs=3 / bench.table.view.scale)
    bench.move(QPointF(5, 5), held=False)
    bench.key(Qt.Key.Key_N)
    assert wanted[-1] == ("front", "side", pytest.approx(length / 2))
    bench.key(Qt.Key.Key_Escape)
    bench.key(Qt.Key.Key_N)
    assert len(wanted) == 2, "nothing is chosen"


def test_a_piece_is_chosen_from_elsewhere_and_drawn_heavier(bench):
    before = bench.table.grab().toImage()
    bench.table.choose_piece("back_lining")
    assert bench.table.chosen.laid.name == "back_lining"
    assert bench.table.grab().toImage() != before
    bench.table.choose_piece("back_lining", "side")
    assert edge_of(bench.table.chosen) == ("back_lining", "side")
    bench.table.choose_piece("nothing of the kind")
    assert bench.table.chosen is None


def test_a_check_on_a_lining_or_a_band_is_shown_on_it(bench):
    for where in ("front_lining.side", "band.joins", "band_interfacing"):
        problem = Problem("check.seam_uneven", "caution", where)
        bench.table.show_problem(problem)
        name = where.partition(".")[0]
        laid = bench.table.scene.layout.find("piece", name)
        place = locate(bench.table.scene, problem)
        assert laid.box.grown(1).holds(place), where
        assert bench.table.signs.shown is problem
