"""Figures on the drawing: what they say, where they stand, and that they can be set."""

from __future__ import annotations

from dataclasses import replace

import pytest
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QFontMetricsF
from PySide6.QtTest import QTest

from drafting import OneWorktable, look_of
from skirtwright.app.canvas.drawing import outline_of
from skirtwright.app.canvas.entries import (
    alike,
    amounts_for,
    entries,
    levels,
    setters,
)
from skirtwright.app.canvas.laying import ALL
from skirtwright.app.canvas.ledger import word_of, write
from skirtwright.app.canvas.lettering import sized
from skirtwright.app.canvas.scene import Scene
from skirtwright.app.canvas.view import View
from skirtwright.app.look import letters
from skirtwright.draft import styles
from skirtwright.draft.styles import style
from skirtwright.geometry.point import Point
from skirtwright.job.edits import set_choice
from skirtwright.job.job import new_job
from skirtwright.problems import BadInput
from skirtwright.words import Manner

WORKTABLE = OneWorktable()


def shown(name: str) -> Scene:
    scene = Scene()
    scene.show(look_of(new_job(style(name))))
    return scene


def entry_of(scene: Scene, name: str):
    found = entries(scene, setters(scene))
    return next(entry for entry in found if entry.name == name)


def written(bench, name: str):
    return next(w for w in bench.table.written() if w.entry.name == name)


def click_entry(bench, name: str):
    bench.click(written(bench, name).area.center())
    return bench.table.field


def test_they_say_what_the_report_says():
    """At most eight, in the order of drafting."""
    for name in styles.names():
        scene = shown(name)
        found = entries(scene, setters(scene))
        assert 3 <= len(found) <= 8
        for entry in found:
            if not entry.label:
                finished = scene.good.report.finished[entry.name]
                assert entry.value == finished, (name, entry.name)
            if entry.name == "knee":
                assert word_of(entry, Manner()) == "break", "it lies over her knee"
        told = [f.name for f in found if f.where in ("level", "hem")]
        order = ("waist", "hip", "knee", "sweep", "length")
        assert told == [each for each in order if each in told]


@pytest.mark.parametrize(
    ("name", "choices", "drawn_up"),
    [
        ("mermaid", {}, False),
        ("mermaid", {"waist_shape": "side_elastic"}, True),
        ("mermaid", {"waist_shape": "side_elastic", "closing": "none"}, True),
        ("wrap", {}, False),
    ],
)
def test_a_waist_that_elastic_draws_up_says_so(name, choices, drawn_up):
    """Its line is as wide as the hip, and the figure the waist as it is worn."""
    scene, job = Scene(), new_job(style(name))
    for choice, option in choices.items():
        job = set_choice(job, choice, option).job
    scene.show(look_of(job))
    waist = entry_of(scene, "waist")
    assert waist.drawn_up == drawn_up
    assert ("elastic" in word_of(waist, Manner())) == drawn_up


def test_level_lines_are_level_and_run_across_both_pieces():
    scene = shown("mermaid")
    found = {level.name: level for level in levels(scene)}
    assert list(found) == ["waist", "hip", "knee"]
    front, back = scene.layout.laid
    for name in ("hip", "knee"):
        for laid in (front, back):
            line = scene.panel_of(laid).level(name)
            assert laid.at(line.end).y == pytest.approx(found[name].height, abs=1.0)
        assert len(found[name].spans) == 2
    # With the faint other half of the front.
    hip = scene.panel_of(front).level("hip").length
    assert found["hip"].spans[0] == pytest.approx((-hip, hip))


@pytest.mark.parametrize("size", [(1440, 796), (1024, 596)])
@pytest.mark.parametrize("unit", ["cm", "in"])
def test_none_stands_on_a_piece_a_card_a_point_or_another(bench, size, unit):
    table = bench.table
    table.resize(*size)
    table.set_manner(Manner(unit, 16 if unit == "in" else 8))
    for name in ("mermaid", "half-circle-yoke", "straight"):
        bench.job = new_job(style(name))
        table.show_look(bench.look())
        table.fit_all()
        bench.settle()
        table.camera.view = table.camera.goal()
        found = table.written()
        wanted = entries(table.scene, setters(table.scene))
        assert len(found) >= len(wanted) - 1, name
        pieces = [outline_of(*each, table.view) for each in table.prepared()]
        for one in found:
            assert table.rect().contains(one.area.toRect()), (name, one.word)
            assert not any(piece.intersects(one.area) for piece in pieces), one.word
            assert not any(
                point.rect.adjusted(8, 8, -8, -8).intersects(one.area)
                for point in table.shown_points()
            ), one.word
            for other in found:
                assert one is other or not one.area.intersects(other.area)


def test_a_length_is_drawn_between_waist_and_hem(bench):
    entry = written(bench, "length").entry
    top, low = entry.ends
    laid = bench.table.scene.layout.find("piece", "back")
    side = bench.table.scene.panel_of(laid).edge("side").chain
    assert top.y == pytest.approx(laid.at(side.start).y)
    assert low.y == pytest.approx(laid.at(side.end).y)
    assert top.x == low.x == pytest.approx(laid.seen.right)


@pytest.mark.parametrize(
    ("name", "typed", "finished"),
    [
        ("waist", "76", 760.0),
        ("hip", "104 cm", 1040.0),
        ("length", "900mm", 900.0),
        ("sweep", "170", 1700.0),
        ("knee", "94", 940.0),
    ],
)
def test_a_click_makes_it_a_field_and_enter_takes_what_was_typed(
    bench, name, typed, finished
):
    field = click_entry(bench, name)
    assert field.isVisible()
    assert field.line.hasFocus()
    QTest.keyClicks(field.line, typed)
    QTest.keyClick(field.line, Qt.Key.Key_Return)
    bench.settle()
    assert not field.isVisible()
    assert len(bench.of("pulled")) == 1, "one step to undo"
    found = bench.table.scene.good.report.finished[name]
    assert found == pytest.approx(finished, abs=0.2)
    assert bench.table.hasFocus()


def test_a_number_of_pleats_never_goes_with_their_depth():
    """Of the corners at a hem only lengths, which lean the seam, go together."""
    scene = shown("box-pleat")
    corners = [p for p in scene.points if p.place.endswith("hem end")]
    assert {point.amount for point in corners} == {"boxes", "depth_share"}
    assert [alike(scene, point) for point in corners] == [{}, {}]


def test_the_hem_goes_with_front_and_back_alike(bench):
    field = click_entry(bench, "sweep")
    QTest.keyClicks(field.line, "168.7")
    QTest.keyClick(field.line, Qt.Key.Key_Return)
    (amounts,) = bench.of("pulled")
    assert set(amounts) == {"front_spread", "back_spread"}
    assert amounts["front_spread"] == amounts["back_spread"]


def test_a_corner_sets_its_own_amount_alone(bench):
    field = click_entry(bench, "front_spread")
    QTest.keyClicks(field.line, "4")
    QTest.keyClick(field.line, Qt.Key.Key_Return)
    assert bench.of("pulled") == [{"front_spread": 40.0}]


def test_escape_drops_it(bench):
    field = click_entry(bench, "length")
    QTest.keyClicks(field.line, "80")
    QTest.keyClick(field.line, Qt.Key.Key_Escape)
    assert not field.isVisible()
    assert bench.of("pulled") == []
    field = click_entry(bench, "length")
    QTest.keyClick(field.line, Qt.Key.Key_Escape)
    assert not field.isVisible()


def test_it_goes_when_she_is_elsewhere(bench):
    """It would lie over the pieces; a wrong entry stays hers to put right."""
    field = click_entry(bench, "waist")
    field.line.clearFocus()
    assert not field.isVisible()
    assert bench.of("pulled") == []
    field = click_entry(bench, "waist")
    QTest.keyClicks(field.line, "ninety")
    field.line.clearFocus()
    assert field.isVisible()
    assert field.line.wrong


@pytest.mark.parametrize(
    ("typed", "said"), [("ninety", "ninety"), ("400", "60 cm to 110 cm"), ("", "")]
)
def test_a_wrong_entry_stays_marked_with_its_sentence(bench, typed, said):
    field = click_entry(bench, "length")
    field.line.clear()
    field.line.setModified(True)
    QTest.keyClicks(field.line, typed)
    QTest.keyClick(field.line, Qt.Key.Key_Return)
    assert field.isVisible()
    assert field.line.wrong
    assert field.line.text() == typed
    assert said in field.said.text()
    assert field.said.text()
    assert bench.of("pulled") == []
    assert bench.table.rect().contains(field.geometry())
    QTest.keyClick(field.line, Qt.Key.Key_Escape)
    assert not field.isVisible()


def test_inches_are_written_and_read_in_her_fraction(bench):
    bench.table.set_manner(Manner("in", 16))
    one = written(bench, "waist")
    assert (one.whole, one.fraction) == ("28", "15/16")
    field = click_entry(bench, "length")
    QTest.keyClicks(field.line, "36 1/2")
    QTest.keyClick(field.line, Qt.Key.Key_Return)
    found = bench.table.scene.good.report.finished["length"]
    assert found == pytest.approx(36.5 * 25.4, abs=0.2)


def test_what_she_set_is_told_from_the_styles_own(bench):
    assert not written(bench, "length").entry.given
    bench.table.set_amounts({"length": 900.0})
    assert written(bench, "length").entry.given
    assert not written(bench, "waist").entry.given


def test_by_keys_alone(bench):
    bench.table.setFocus()
    while bench.table.entry_in_hand != "hip":
        bench.key(Qt.Key.Key_Tab)
    bench.key(Qt.Key.Key_Return)
    field = bench.table.field
    assert field.line.hasFocus()
    QTest.keyClicks(field.line, "103")
    QTest.keyClick(field.line, Qt.Key.Key_Return)
    found = bench.table.scene.good.report.finished["hip"]
    assert found == pytest.approx(1030.0)


def test_figures_follow_the_hand_in_the_accent(bench):
    at = bench.at("front.side end")
    bench.press(at)
    bench.move(at + QPointF(20, 0))
    assert written(bench, "sweep").hot
    assert not written(bench, "waist").hot
    bench.release(at + QPointF(20, 0))
    assert not written(bench, "sweep").hot


def test_there_are_none_on_a_card(bench):
    bench.table.bring(ALL)
    assert bench.table.written() == []
    assert bench.table.levels() == ()


def test_what_no_amount_reaches_is_refused_with_the_ends():
    scene = shown("mermaid")
    entry = entry_of(scene, "sweep")
    with pytest.raises(BadInput) as refused:
        amounts_for(scene, entry, 9000.0)
    values = refused.value.problem.values
    assert values["least"] < entry.value < values["most"] < 9000.0
    spread = {"front_spread": 60.0, "back_spread": 60.0}
    widest = WORKTABLE.look(new_job(style("mermaid")), spread)
    assert values["most"] == pytest.approx(widest.report.finished["sweep"], abs=0.1)


def test_a_point_of_the_table_is_shown_where_the_view_says(bench):
    one = written(bench, "hip")
    line = next(level for level in bench.table.levels() if level.name == "hip")
    y = bench.table.view.screen(Point(0.0, line.height))[1]
    assert 0 < y - one.area.bottom() < 6


@pytest.mark.parametrize("size", [(1440, 852), (1024, 652)])
@pytest.mark.parametrize("name", ["mermaid", "straight"])
def test_beside_a_slip_every_girth_and_the_length_are_still_written(bench, name, size):
    bench.job = new_job(style(name))
    if name == "straight":
        bench.job = set_choice(bench.job, "closing", "buttons_front").job
    bench.table.show_look(bench.look())
    bench.table.resize(*size)
    bench.table.set_covered(right=344, bottom=0)
    bench.table.fit_all()
    bench.settle()
    bench.table.camera.view = bench.table.camera.goal()
    bench.table.refresh()
    told = {one.entry.name for one in bench.table.written()}
    assert {"waist", "hip", "sweep", "length"} <= told


@pytest.mark.parametrize(("percent", "right"), [(150, 344), (150, 430), (200, 0)])
def test_large_letters_leave_no_girth_out(bench, percent, right):
    """At 1024 x 700, beside a slip too: in smaller ones, all alike, if need be."""
    bench.table.resize(1024, 560)
    bench.table.set_text_size(percent)
    bench.table.set_covered(right=right, bottom=80)
    bench.settle()
    bench.table.camera.view = bench.table.camera.goal()
    bench.table.refresh()
    made = bench.table.written()
    known = {one.entry.name for one in made}
    assert {"waist", "hip", "knee", "sweep"} <= known
    assert len({one.percent for one in made}) == 1


@pytest.mark.parametrize("name", ["circle", "handkerchief", "tiered", "yoke", "godet"])
def test_wide_and_round_skirts_have_their_figures_too(bench, name):
    """Arcs are told beside the arc; a length along what stands upright.

    Across bare table it would be drawn longer than it is: there it is text.
    """
    table = bench.table
    table.resize(1440, 852)
    bench.job = new_job(style(name))
    table.show_look(bench.look())
    table.fit_all()
    bench.settle()
    table.camera.view = table.camera.goal()
    told = {written.entry.name: written.entry for written in table.written()}
    assert {"waist", "sweep", "length"} <= set(told)
    ends, value = told["length"].ends, told["length"].value
    assert (ends is None) == (name in ("yoke", "tiered"))
    assert ends is None or value * 0.95 <= ends[0].y - ends[1].y <= value * 1.01
    for level in levels(table.scene):
        for laid in table.scene.layout.laid:
            line = table.scene.panel_of(laid).level(level.name)
            assert line is None or laid.at(line.start).y - level.height < 1


def test_the_arc_of_a_circle_is_no_level():
    scene = shown("circle")
    assert "waist" not in {level.name for level in levels(scene)}
    assert entry_of(scene, "waist").where == "edge"
    assert entry_of(scene, "sweep").where == "edge"


def test_no_figure_is_struck_through_by_the_line_of_another(bench):
    """Large letters, lines close together: each stands at its own line, or nowhere."""
    brushes = replace(bench.table.brushes, percent=150)
    girths = [entry_of(bench.table.scene, name) for name in ("waist", "hip")]
    for gap in range(24, 90, 3):
        close = [
            replace(entry, place=Point(0, -(28 + at * gap)))
            for at, entry in enumerate(girths)
        ]
        made = write(close, View(1, 0, 0), QRectF(0, 0, 600, 400), 24, [], [], brushes)
        for one in made:
            font = QFontMetricsF(letters(one.percent, sized(25), bold=True))
            foot = one.area.top() + font.ascent()
            for line in (28, 28 + gap):
                assert not foot - font.capHeight() <= line <= foot, (gap, line)
        if gap > 36:
            assert "waist" in {one.entry.name for one in made}


def test_a_waist_on_elastic_has_a_shorter_word_where_there_is_no_room(bench):
    waist = replace(entry_of(bench.table.scene, "waist"), drawn_up=True)
    waist = replace(waist, place=Point(0, -60))
    brushes, view = bench.table.brushes, View(1, 0, 0)
    words = [
        [w.word for w in write([waist], view, room, 24, [], [], brushes)]
        for room in (QRectF(0, 0, 600, 400), QRectF(0, 0, 170, 400))
    ]
    assert words == [["waist, on elastic"], ["waist"]]


def test_allowances_are_told_in_her_words_at_once(bench):
    table = bench.table
    table.show_allowances(True)
    assert "Centre back seam" in {entry.label for entry in table.entries()}
    table.set_manner(Manner("in", 16, "en_US"))
    assert "Center back seam" in {entry.label for entry in table.entries()}
