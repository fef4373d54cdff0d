"""The Cloth slip and the pieces on the cloths, by mouse and by keys."""

from __future__ import annotations

import json
from dataclasses import asdict, replace

import pytest
from places import slip
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest

from skirtwright.app import child, cloth_work
from skirtwright.app.slips import cloth_answers
from skirtwright.app.slips.cloth_answers import offers
from skirtwright.export.lay_words import lay_title
from skirtwright.geometry.box import box_of
from skirtwright.job import cloth_shelf, file
from skirtwright.job.cloth_edits import set_cloth, set_hand_lay
from skirtwright.job.cloths import ChosenCloth
from skirtwright.job.joining import Offer
from skirtwright.job.joining import offers as offers_for
from skirtwright.job.laid_apart import recorded
from skirtwright.job.piece_edits import set_allowance, set_joins
from skirtwright.lay.all_cloths import lay_all, materials, partial_lay
from skirtwright.lay.by_hand import hand_lay

KEY = Qt.Key
PLAIN = Qt.KeyboardModifier.NoModifier
SHIFT = Qt.KeyboardModifier.ShiftModifier
LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def cloth(window):
    """The window with the slip open and every cloth laid, here and with few tries."""
    slip(window, "cloth")
    lay_now(window)
    yield window
    window.slips.cloth.wait()


LAID = {}
"""What was laid of an order by then; the same order is laid alike."""


def lay_now(window, names=()):
    """What has to be laid, laid as the child lays it."""
    look, work = window.desk.look, window.cloth_work
    every = materials(look.report.to_cut)
    names = names or [name for name in every if not work.is_known(name)]
    key = (file.written(look.job), *names)
    if key not in LAID:
        cloths = [look.job.cloth(name) for name in names]
        LAID[key] = recorded(lay_all(look.report.to_cut, cloths, 10))
    work.take(LAID[key])
    work.told.emit()


def typed(field, text):
    field.line.setFocus()
    field.line.selectAll()
    QTest.keyClicks(field.line, text)
    QTest.keyClick(field.line, KEY.Key_Return)


def piece(window, name, material="shell"):
    """A piece on its cloth: where it lies, and where its middle is seen."""
    cloths, view = window.table.cloths, window.table.view
    one, placed = cloths.find((material, name, 0))
    middle = placed.motion(placed.copy.piece.middle[0])
    return placed, QPoint(*(round(at) for at in view.screen(one.home(middle))))


def corner(window, name):
    return box_of(piece(window, name)[0].outline)


# The slip


def test_each_figure_is_one_step_and_stands_in_her_unit(cloth, qtbot):
    made = cloth.slips.cloth
    assert made.material == "shell"
    assert made.fields["width"].line.text() == "150"
    count = cloth.desk.history.count()
    typed(made.fields["width"], "140")
    typed(made.fields["on_hand"], "2.3 m")
    typed(made.fields["price"], "18,50")
    made.more.unfold()
    typed(made.fields["shrinks_along"], "5")
    typed(made.fields["repeat_along"], "12")
    assert cloth.desk.history.count() == count + 5
    held = cloth.desk.job.cloth("shell")
    assert (held.width, held.on_hand, held.price) == (1400.0, 2300.0, 18.5)
    assert (held.shrinks_along, held.repeat_along) == (0.05, 120.0)
    cloth.settings.choose("unit", "in")
    assert made.fields["width"].line.text() == "55 1/8"
    assert made.fields["width"].unit.text() == "in"
    typed(made.fields["width"], "45")
    assert cloth.desk.job.cloth("shell").width == pytest.approx(45 * 25.4)
    for _ in range(6):
        cloth.desk.history.undo()
    assert cloth.desk.job.cloths == ()
    assert made.fields["on_hand"].line.text() == ""


def test_what_the_lay_lacks_is_among_the_checks_and_a_click_shows_its_cloth(cloth):
    typed(cloth.slips.cloth.fields["on_hand"], "105")
    slip(cloth, "check")
    (row,) = cloth.slips.check.found
    assert "14.4" in row.words.text()
    assert not cloth.slips.check.none.text()
    QTest.keyClick(row, KEY.Key_Return)
    assert cloth.slips.open_name == "cloth"


def test_all_is_well_only_once_it_is_known_that_the_cloth_is_enough(cloth):
    typed(cloth.slips.cloth.fields["on_hand"], "3 m")
    slip(cloth, "check")
    none = cloth.slips.check.none
    assert none.text() == "All is well"
    cloth.desk.set_amounts({"length": "84"})
    assert none.text().startswith("All is well with the skirt; whether the cloth")
    lay_now(cloth)
    assert none.text() == "All is well"


def test_folds_and_nap_by_keys(cloth, qtbot):
    made = cloth.slips.cloth
    button = made.fold.buttons["single"]
    button.setFocus()
    QTest.keyClick(button, KEY.Key_Space)
    assert cloth.desk.job.cloth("shell").fold == "single"
    lay_now(cloth)
    made.nap.setFocus()
    QTest.keyClick(made.nap, KEY.Key_Space)
    assert cloth.desk.job.cloth("shell").one_way
    # A nap and a cloth folded end to end do not go together.
    QTest.mouseClick(made.fold.buttons["crosswise"], LEFT)
    assert cloth.desk.job.cloth("shell").fold == "single"
    assert made.fold.buttons["single"].isChecked()
    assert "runs down on one layer" in made.fold.said.text()


def test_shrunk_first_or_the_pieces_cut_larger(cloth):
    made, before = cloth.slips.cloth, corner(cloth, "back")
    made.more.unfold()
    typed(made.fields["shrinks_along"], "10")
    lay_now(cloth)
    assert corner(cloth, "back").height == pytest.approx(before.height)
    assert laid(cloth).bought == pytest.approx(laid(cloth).length / 0.9)
    made.shrunk.setCurrentIndex(1)
    made.shrunk.activated.emit(1)
    lay_now(cloth)
    assert corner(cloth, "back").height == pytest.approx(before.height / 0.9, rel=0.01)
    assert laid(cloth).bought == laid(cloth).length
    assert made.fields["shrinks_along"].line.text() == "10"
    cloth.desk.history.undo()
    cloth.desk.history.undo()
    assert cloth.desk.job.cloths == ()


NO_CLOTH = [
    ("width", "0", "no cloth to cut from"),
    ("width", "3", "leave nothing of cloth"),
    ("on_hand", "0", "nothing to cut from"),
    ("shrinks_along", "100", "leaves nothing to cut a skirt from"),
    ("repeat_along", "90", "does not go on the cloth"),
    ("gap", "wide", "is not a length"),
]


def test_what_is_no_cloth_is_one_sentence_and_the_order_stays(cloth):
    made, job = cloth.slips.cloth, cloth.desk.job
    made.more.unfold()
    for name, text, said in NO_CLOTH:
        field = made.fields[name]
        typed(field, text)
        assert cloth.desk.job is job
        assert said in field.said.text()
        assert field.line.text() == text
        QTest.keyClick(field.line, KEY.Key_Escape)
        assert field.said.text() == ""


def test_what_is_no_cloth_in_a_file_is_told_and_can_be_put_right(window):
    job = window.desk.job
    wrong = ChosenCloth(material="shell", width="0", shrinks_along="100")
    job = job.replace(cloths=(wrong,))
    window.keeper.begin_new(job)
    slip(window, "cloth")
    made = window.slips.cloth
    lay_now(window, ["lining", "interfacing"])
    assert "no cloth to cut from" in made.trouble.text()
    assert window.table.cloth_lines[0] == "Cloth to buy"
    made.more.unfold()
    assert made.fields["shrinks_along"].line.text() == "100"
    wrong = wrong.replace(shrinks_along="")
    window.keeper.begin_new(job.replace(cloths=(wrong,)))
    typed(made.fields["width"], "150")
    assert window.desk.job.cloth("shell").width == 1500.0


def test_narrower_than_a_piece_is_told_with_what_would_do(cloth, qtbot):
    made = cloth.slips.cloth
    typed(made.fields["width"], "30")
    lay_now(cloth)
    assert "across the grain, and the cloth gives 27 cm" in made.trouble.text()
    assert "wide or wider would do" in made.trouble.text()


def test_nothing_moves_under_the_hand_as_results_arrive(cloth, qtbot):
    """Fields and buttons stay where they are, whatever is told; the slip goes on it."""
    desk, made = cloth.desk, cloth.slips.cloth
    hands = (*made.fold.buttons.values(), made.given.button, made.given.box)
    lines = [made.fields[name].line for name in ("width", "on_hand")]

    def places():
        qtbot.wait(1)
        return [one.mapTo(made, QPoint()).y() for one in (*lines, *hands)]

    typed(made.fields["on_hand"], "105")
    lay_now(cloth)
    before = places()
    desk.change(set_cloth(desk.job, "shell", width="45 cm", on_hand="105 cm"))
    assert places() == before
    lay_now(cloth)
    found = offers_for(desk.look, desk.job.cloth("shell"))
    cloth.cloth_work._news({"would": [*map(asdict, found)]})
    assert made.trouble.isVisible()
    assert made.ways.buttons
    made.given.progress.show_share(0.3)
    assert places() == before
    made.given.take({"said": ["The cloth is too narrow for a piece. " * 3]})
    assert places() == before
    assert made.given.said.isVisible()
    seen = made.given.said.visibleRegion().boundingRect()
    assert seen.height() == made.given.said.height()
    assert made.minimumSizeHint().width() <= made.width()
    assert made.needs() <= made.width()


def test_what_goes_on_a_cloth_too_narrow_for_a_piece_is_seen(cloth):
    desk, table = cloth.desk, cloth.table
    desk.change(set_cloth(desk.job, "shell", width="45 cm"))
    cut, narrow = desk.look.report.to_cut, desk.job.cloth("shell")
    lays = lay_all(cut, [narrow], 10)
    assert not lays.lays
    partial = partial_lay(cut, narrow, 10)
    told = recorded(replace(lays, partial=(partial,)))
    cloth.cloth_work.take(json.loads(json.dumps(told)))
    cloth.cloth_work.told.emit()
    (shown,) = [o for o in table.cloths.spreads if o.lay.cloth.material == "shell"]
    laid_on = {placed.copy.piece.name for placed in shown.lay.placed}
    left_off = {piece.name for piece in shown.lay.left_off}
    assert "band" in laid_on
    assert "front" in left_off
    whole = {piece.name for piece in cut.shown if piece.spec.material == "shell"}
    assert laid_on | left_off == whole
    title = lay_title(shown.lay, cloth.settings.manner, sure=True)[1]
    assert title.startswith("too wide: Front")
    assert "across the grain" in cloth.slips.cloth.trouble.text()
    assert cloth.slips.cloth.fold.buttons[shown.lay.cloth.fold].isChecked()
    # It is nothing to buy by, and nothing to be told in the report.
    assert "shell" not in {one.cloth.material for one in desk.laid.report.lays}


def test_other_widths_with_what_they_cost(cloth, qtbot, monkeypatch):
    monkeypatch.setattr(cloth_answers, "TRIES", 10)
    made = cloth.slips.cloth
    typed(made.fields["price"], "10")
    made.others.unfold()
    qtbot.waitUntil(lambda: len(made.widths.told) == 4, timeout=60000)
    told = [row[0] for row in made.widths.told]
    assert told == ["90 cm", "115 cm", "140 cm", "150 cm"]
    for row in made.widths.told:
        bought = float(row[1].removesuffix(" cm"))
        assert bought % 10 == 0
        assert float(row[3]) == pytest.approx(bought / 10)


def test_a_shelf_of_her_own(cloth, qtbot):
    made = cloth.slips.cloth
    typed(made.fields["width"], "115")
    QTest.mouseClick(made.shelf.keep, LEFT)
    QTest.keyClicks(made.shelf.name, "F")
    QTest.keyClick(made.shelf.name, KEY.Key_Return)
    fields = {name for name, _ in ChosenCloth(material="shell")}
    assert set(dict(cloth_shelf.kept()[0])) == fields - {"material", "laid"} | {"title"}
    (kept,) = cloth_shelf.kept()
    assert (kept.title, kept.width) == ("F", "115 cm")
    typed(made.fields["width"], "140")
    assert made.shelf.box.currentIndex() == 0
    made.shelf.box.setCurrentIndex(1)
    made.shelf.box.activated.emit(1)
    assert cloth.desk.job.cloth("shell").width == 1150.0
    QTest.mouseClick(made.shelf.remove, LEFT)
    assert cloth_shelf.kept() == ()
    QTest.mouseClick(made.shelf.keep, LEFT)
    QTest.keyClick(made.shelf.name, KEY.Key_Return)
    assert "needs a name" in made.shelf.said.text()


# The pieces


def test_the_cloths_are_seen_while_the_slip_is_open_and_by_a_key(cloth):
    table = cloth.table
    assert table.on_cloths
    names = [one.lay.cloth.material for one in table.cloths.spreads]
    assert names == ["shell", "lining", "interfacing"]
    within = table.room()
    for one in table.cloths.spreads:
        for place in one.box.corners:
            x, y = table.view.screen(place)
            assert within.contains(x, y)
    cloth.slips.put_away()
    assert not table.on_cloths
    cloth.acts.by_name["lay"].trigger()
    assert table.on_cloths
    table.setFocus()
    QTest.keyClick(table, KEY.Key_Escape)
    assert not table.on_cloths


def test_a_piece_is_moved_by_the_mouse(cloth, qtbot):
    table, before = cloth.table, corner(cloth, "back")
    count = cloth.desk.history.count()
    _, at = piece(cloth, "back")
    QTest.mousePress(table, LEFT, PLAIN, at)
    QTest.mouseMove(table, at + QPoint(30, 5))
    QTest.mouseMove(table, at + QPoint(60, 10))
    # In hand it lies elsewhere already; the order does not know.
    qtbot.waitUntil(lambda: table.cloths.held is not None)
    assert cloth.desk.history.count() == count
    QTest.mouseRelease(table, LEFT, PLAIN, at + QPoint(60, 10))
    scale = table.view.scale
    after = corner(cloth, "back")
    assert after.bottom - before.bottom == pytest.approx(60 / scale, abs=2 / scale)
    assert after.left - before.left == pytest.approx(10 / scale, abs=2 / scale)
    assert cloth.desk.history.count() == count + 1
    assert cloth.desk.history.undoText() == "moving a piece on the main cloth"
    assert piece(cloth, "back")[0].locked
    # The lay is hers: nothing is searched for it again.
    assert cloth.cloth_work.is_known("shell")
    cloth.desk.history.undo()
    # It lies where it lay, and nothing is laid anew for that.
    assert cloth.cloth_work.is_known("shell")
    assert corner(cloth, "back") == before
    assert cloth.desk.job.cloths == ()


def test_cloth_that_has_to_lie_open_is_shown_so(cloth):
    """What is lit is how it lies, where a piece does not go on it folded."""
    made = cloth.slips.cloth
    assert made.fold.buttons["lengthwise"].isChecked()
    typed(made.fields["width"], "80")
    lay_now(cloth, ["shell"])
    assert (laid(cloth).asked.fold, laid(cloth).cloth.fold) == ("lengthwise", "single")
    assert made.fold.buttons["single"].isChecked()
    typed(made.fields["width"], "150")
    lay_now(cloth, ["shell"])
    assert made.fold.buttons["lengthwise"].isChecked()


def test_what_is_undone_is_not_laid_anew(cloth):
    before = cloth.cloth_work.lays.lays
    cloth.desk.set_amounts({"length": "80"})
    assert not cloth.cloth_work.is_known("shell")
    lay_now(cloth)
    cloth.desk.history.undo()
    assert cloth.cloth_work.lays.lays == before
    assert cloth.table.cloth_lines[0] == "Cloth to buy"


def test_escape_drops_what_is_in_hand(cloth, qtbot):
    table, before = cloth.table, corner(cloth, "back")
    _, at = piece(cloth, "back")
    QTest.mousePress(table, LEFT, PLAIN, at)
    QTest.mouseMove(table, at + QPoint(60, 10))
    qtbot.waitUntil(lambda: table.cloths.held is not None)
    QTest.keyClick(table, KEY.Key_Escape)
    QTest.mouseRelease(table, LEFT, PLAIN, at + QPoint(60, 10))
    assert corner(cloth, "back") == before
    assert cloth.desk.job.cloths == ()


def test_by_keys_alone(cloth, qtbot):
    """Tab to a piece; arrows move it, R turns it, L locks it, each one step."""
    table = cloth.table
    table.setFocus()
    while table.cloths.chosen != ("shell", "back", 0):
        QTest.keyClick(table, KEY.Key_Tab)
    count, before = cloth.desk.history.count(), corner(cloth, "back")
    QTest.keyClick(table, KEY.Key_Right)
    QTest.keyClick(table, KEY.Key_Right)
    QTest.keyClick(table, KEY.Key_Down, SHIFT)
    after = corner(cloth, "back")
    assert after.bottom - before.bottom == pytest.approx(20, abs=0.02)
    assert after.left - before.left == pytest.approx(1, abs=0.02)
    down = piece(cloth, "back")[0].way
    QTest.keyClick(table, KEY.Key_R)
    assert abs(piece(cloth, "back")[0].way.rotation_deg - down.rotation_deg) == 180
    QTest.keyClick(table, KEY.Key_L)
    assert not piece(cloth, "back")[0].locked
    assert cloth.desk.history.count() == count + 5
    assert "Arrow keys move it" in table._said
    for _ in range(5):
        cloth.desk.history.undo()
    assert cloth.desk.job.cloths == ()
    # Nothing is chosen: the arrows push the table, and the keyboard can leave it.
    QTest.keyClick(table, KEY.Key_Escape)
    assert table.cloths.chosen is None
    left = table.view.left
    QTest.keyClick(table, KEY.Key_Right)
    assert table.view.left != left


def test_what_lies_wrong_is_told_and_marked(cloth, qtbot):
    table, made = cloth.table, cloth.slips.cloth
    table.setFocus()
    while table.cloths.chosen != ("shell", "band", 0):
        QTest.keyClick(table, KEY.Key_Tab)
    for _ in range(12):
        QTest.keyClick(table, KEY.Key_Up)
    said = made.trouble.text()
    assert "lies over" in said
    # Neither that it is enough nor what to buy is told of what cannot be cut.
    assert made.taken.text() == "Cannot be cut as it lies"
    assert "cannot be cut" in cloth.cloth_work.lines()[1]
    table._renew()
    pieces = [i.leans[0] for i in table.frame.items if i.key[0] == "laid"]
    wrong = {piece.placed.copy.piece.name for piece in pieces if piece.wrong}
    assert "band" in wrong
    assert len(wrong) > 1
    for _ in range(60):
        QTest.keyClick(table, KEY.Key_Up)
        if "off the cloth" in made.trouble.text():
            break
    else:
        pytest.fail("it lies off the cloth and nothing is said")


def test_a_lay_by_hand_is_kept_until_a_piece_changes_then_offered(cloth, qtbot):
    made, table = cloth.slips.cloth, cloth.table
    table.setFocus()
    QTest.keyClick(table, KEY.Key_Tab)
    QTest.keyClick(table, KEY.Key_Right)
    name = table.cloths.chosen[1]
    hers = corner(cloth, name)
    assert made.hand.isVisible()
    assert made.hand.said.text() == "Laid by hand."
    cloth.desk.set_amounts({"length": "80"})
    lay_now(cloth)
    assert "not what they were" in made.hand.said.text()
    assert made.hand.again.isVisible()
    QTest.mouseClick(made.hand.again, LEFT)
    assert made.hand.said.text() == "Laid by hand."
    again = corner(cloth, name)
    assert (again.left, again.bottom) == pytest.approx((hers.left, hers.bottom), abs=1)
    QTest.mouseClick(made.hand.anew, LEFT)
    lay_now(cloth)
    assert not made.hand.isVisible()
    assert cloth.desk.job.cloths == ()


def test_the_rest_is_laid_round_what_is_locked(cloth, qtbot):
    made, table = cloth.slips.cloth, cloth.table
    table.setFocus()
    while table.cloths.chosen != ("shell", "band", 0):
        QTest.keyClick(table, KEY.Key_Tab)
    for _ in range(20):
        QTest.keyClick(table, KEY.Key_Right)
    held, count = corner(cloth, "band"), cloth.desk.history.count()
    QTest.mouseClick(made.hand.rest, LEFT)
    qtbot.waitUntil(lambda: cloth.desk.history.count() > count, timeout=60000)
    assert cloth.desk.history.count() == count + 1
    after = corner(cloth, "band")
    assert (after.left, after.bottom) == pytest.approx(
        (held.left, held.bottom), abs=0.02
    )
    assert made.trouble.text() == ""
    assert [placed.locked for placed in laid(cloth).placed].count(True) == 1


def laid(window):
    return window.table.cloths.spreads[0].lay


def test_nap_keeps_a_piece_from_being_turned(cloth, qtbot):
    cloth.slips.cloth.nap.click()
    lay_now(cloth)
    table, job = cloth.table, cloth.desk.job
    table.setFocus()
    while table.cloths.chosen != ("shell", "back", 0):
        QTest.keyClick(table, KEY.Key_Tab)
    QTest.keyClick(table, KEY.Key_R)
    assert cloth.desk.job is job
    assert "nap or repeat run one way" in cloth.pointed.text()


# While she pulls, and while it is laid


def test_pulled_the_pieces_follow_and_the_length_is_an_estimate(cloth, qtbot):
    made, before = cloth.slips.cloth, laid(cloth).length
    at = corner(cloth, "front")
    cloth.desk.pull({"front_spread": 55.0})
    qtbot.waitUntil(lambda: made.taken.text().startswith("About "), timeout=60000)
    qtbot.waitUntil(lambda: "shell" not in cloth.table.cloths.sure, timeout=60000)
    there = corner(cloth, "front")
    assert (there.left, there.bottom) == pytest.approx((at.left, at.bottom))
    assert there.width > at.width + 10
    cloth.desk.drop()
    assert made.taken.text().startswith("Buy ")
    assert laid(cloth).length == pytest.approx(before)


@pytest.mark.usefixtures("lays")
def test_a_laying_can_be_stopped_and_what_is_found_stands(cloth, qtbot, monkeypatch):
    monkeypatch.setattr(cloth_work, "TRIES", 100_000)
    made, work = cloth.slips.cloth, cloth.cloth_work
    cloth.desk.set_amounts({"length": "85"})
    qtbot.waitUntil(lambda: 0 < work.share < 1, timeout=60000)
    qtbot.waitUntil(lambda: work.is_known("shell"), timeout=60000)
    assert made.progress.isVisible()
    QTest.mouseClick(made.progress.button, LEFT)
    assert work.child is None
    assert not made.progress.isVisible()
    assert made.taken.text().startswith("Buy ")


# What the cloth gives


def test_as_much_as_the_cloth_gives(cloth, qtbot, monkeypatch):
    made, given = cloth.slips.cloth, cloth.slips.cloth.given
    assert not given.button.isEnabled()
    typed(made.fields["on_hand"], "105")
    lay_now(cloth)
    names = [given.box.itemData(n) for n in range(given.box.count())]
    assert names == [*offers(cloth.desk.look)]
    assert ("front_spread", "back_spread") in names
    count = cloth.desk.history.count()
    given.box.setCurrentIndex(names.index(("length",)))
    monkeypatch.setattr(child, "CHILD", ("-c", QUICKER))
    QTest.mouseClick(given.button, LEFT)
    assert given.progress.isVisible()
    qtbot.waitUntil(lambda: given.child is None, timeout=120000)
    assert cloth.desk.history.count() == count + 1
    assert cloth.desk.history.undoText() == "as much as the cloth gives"
    assert "The cloth gives" in given.said.text()
    assert given.said.text().endswith("The skirt is changed so.")
    # The proof lies on the table, and goes on what she has.
    assert cloth.cloth_work.is_known("shell")
    assert laid(cloth).bought <= 1050.0
    assert made.trouble.text() == ""
    job = cloth.desk.job
    assert given.back.isVisible()
    given.back.click()
    assert cloth.desk.history.count() == count + 1
    assert cloth.desk.job.amounts.get("length") != job.amounts.get("length")
    assert not given.back.isVisible()
    assert given.said.text() == ""


QUICKER = """
import sys
from skirtwright.job import laid_apart, on_hand
on_hand.TRIES, on_hand.QUICK, laid_apart.QUICK = 10, 4, 4
sys.exit(laid_apart.main())
"""
"""The same child as she has, with fewer tries."""


def test_nothing_goes_and_what_would_is_told(cloth, qtbot, monkeypatch):
    made, given = cloth.slips.cloth, cloth.slips.cloth.given
    typed(made.fields["on_hand"], "40")
    lay_now(cloth)
    job = cloth.desk.job
    monkeypatch.setattr(child, "CHILD", ("-c", QUICKER))
    given.button.click()
    qtbot.waitUntil(lambda: given.child is None, timeout=120000)
    assert cloth.desk.job is job
    assert "there is 40 cm" in given.said.text()


def test_a_search_is_stopped_by_its_button_and_by_another_order(cloth, qtbot):
    made, given = cloth.slips.cloth, cloth.slips.cloth.given
    typed(made.fields["on_hand"], "105")
    job = cloth.desk.job
    given.button.click()
    QTest.mouseClick(given.progress.button, LEFT)
    assert given.child is None
    assert not given.progress.isVisible()
    given.button.click()
    cloth.desk.set_amounts({"length": "80"})
    assert given.child is None
    cloth.desk.history.undo()
    assert cloth.desk.job == job


def test_a_search_that_dies_is_a_sentence(cloth, qtbot, monkeypatch):
    made, given = cloth.slips.cloth, cloth.slips.cloth.given
    typed(made.fields["on_hand"], "105")
    job = cloth.desk.job
    monkeypatch.setattr(child, "CHILD", ("-c", "raise SystemExit(3)"))
    given.button.click()
    qtbot.waitUntil(lambda: given.child is None, timeout=60000)
    assert "could not be worked out" in given.said.text()
    assert cloth.desk.job is job


# What would do


def test_a_piece_too_wide_is_joined_by_one_click_and_that_is_one_step(cloth):
    desk, made = cloth.desk, cloth.slips.cloth
    desk.change(set_cloth(desk.job, "shell", width="45 cm"))
    lay_now(cloth)
    # As the child tells it.
    found = offers_for(desk.look, desk.job.cloth("shell"))
    cloth.cloth_work._news({"would": [*map(asdict, found)]})
    assert made.trouble.text()
    words = [button.accessibleName() for button in made.ways.buttons]
    assert words[0].startswith("Join Front at ")
    assert "from its fold" in words[0]
    count = desk.history.count()
    made.ways.buttons[0].click()
    assert desk.history.count() == count + 1
    assert "front_part_2" in {piece.name for piece in desk.look.pieces}
    lay_now(cloth)
    assert not made.trouble.text()
    (back,) = made.ways.buttons
    assert back.accessibleName() == "Cut Front, Back in one piece again"
    back.click()
    assert "front" in {piece.name for piece in desk.look.pieces}
    desk.history.undo()
    assert "front_part_1" in {piece.name for piece in desk.look.pieces}


def test_a_lay_by_hand_opened_on_cloth_too_narrow_asks_what_would_do(cloth):
    desk, work = cloth.desk, cloth.cloth_work
    desk.change(set_cloth(desk.job, "shell", width="45 cm"))
    cut, narrow = desk.look.report.to_cut, desk.job.cloth("shell")
    partial = partial_lay(cut, narrow, 10)
    told = recorded(replace(lay_all(cut, [narrow], 10), partial=(partial,)))
    hers = hand_lay(partial, cut)
    desk.change(set_hand_lay(desk.job, "shell", hers, "edit.rest_laid"))
    work._begun()
    assert work.is_by_hand("shell")
    assert work._not_offered() == ["shell"]
    assert work._rest.isActive()
    work._news(json.loads(json.dumps(told)))
    found = offers_for(desk.look, narrow)
    work._news({"would": [*map(asdict, found)]})
    assert work.is_by_hand("shell")
    assert work.would("shell") == tuple(found)
    assert not work._not_offered()
    names = [button.accessibleName() for button in cloth.slips.cloth.ways.buttons]
    assert names[0].startswith("Join Front at ")


def test_what_less_cloth_would_do_is_offered_with_its_length(cloth):
    desk, made = cloth.desk, cloth.slips.cloth
    offer = Offer("shell", "opened", {}, length=1312.0)
    cloth.cloth_work._news({"would": [asdict(offer)]})
    (button,) = made.ways.buttons
    assert button.accessibleName() == "Lay it open, in a single layer: 140 cm do"
    button.click()
    assert desk.job.cloth("shell").fold == "single"
    assert not made.ways.buttons  # It is laid anew: nothing more is known to do.


def test_parts_are_shown_in_every_slip_and_given_allowances_of_their_own(cloth):
    desk = cloth.desk
    desk.change(set_joins(desk.job, {"front": ("21",)}))
    for name in ("cut", "paper", "check", "measure"):
        slip(cloth, name)
    desk.change(set_allowance(desk.job, "front_part_2", "join", "2"))
    found = {(p.name, e.name): e.allowance for p in desk.look.pieces for e in p.edges}
    assert (found["front_part_1", "join"], found["front_part_2", "join"]) == (15, 20)
