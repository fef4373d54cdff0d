"""Pieces in the window: names, what is shown, allowances, sets of them, notches."""

from __future__ import annotations

from itertools import pairwise

import pytest
from places import settled
from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QAccessible, QColor, QMouseEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QComboBox, QLabel, QLineEdit, QWidget

from skirtwright.app.canvas.lettering import card_title
from skirtwright.app.slips.piece_picture import PiecePicture
from skirtwright.job import allowance_sets, habits
from skirtwright.job.edits import set_measurement

CTRL = Qt.KeyboardModifier.ControlModifier


@pytest.fixture
def strip(window):
    """The list of pieces, unfolded."""
    window.acts.by_name["cut"].trigger()
    settled(window)
    return window.slips.cut


def focus():
    return QApplication.focusWidget()


def width(window, piece, edge):
    found = next(p for p in window.desk.look.pieces if p.name == piece)
    return next(e for e in found.edges if e.name == edge).allowances


def marks(window, piece, edge):
    found = next(p for p in window.desk.look.pieces if p.name == piece)
    return {
        (round(n.distance), n.count)
        for n in found.notches
        if n.edge == edge and not n.dart
    }


def place_on(window, piece, edge, share=0.4) -> QPoint:
    table = window.table
    card = next(c for c in table.scene.layout.cards if ("piece", piece) in c.things)
    table.bring(card.key)
    laid = table.scene.layout.find("piece", piece)
    chain = table.scene.panel_of(laid).edge(edge).chain
    x, y = table.view.screen(laid.at(chain.at(chain.length * share)))
    return QPoint(round(x), round(y))


def click(window, piece, edge, share=0.4):
    at = place_on(window, piece, edge, share)
    QTest.mouseClick(window.table, Qt.MouseButton.LeftButton, pos=at)
    settled(window)


def seam(strip, piece, edge):
    """The row of the seam in which an edge lies."""
    return next(row for row in strip.seams.values() if (piece, edge) in row.keys)


def type_in(line, text):
    line.setFocus()
    line.selectAll()
    QTest.keyClicks(line, text)
    QTest.keyClick(line, Qt.Key.Key_Return)


# The list


def test_the_list_is_by_cloth_with_a_picture_and_how_each_is_cut(window, strip):
    assert [material for material, _ in strip.headings] == [
        "shell",
        "lining",
        "interfacing",
    ]
    assert set(strip.pieces) == {piece.name for piece in window.desk.look.pieces}
    row = strip.pieces["back_lining"]
    assert row.title.toPlainText() == "Back lining"
    assert row.cut.text().endswith("· Cut 1 pair, lining")
    heads = [heading.y() for _, heading in strip.headings]
    assert heads == sorted(heads)
    assert strip.headings[1][1].y() < row.y() < strip.headings[2][1].y()


def test_a_picture_is_drawn_once_for_as_long_as_its_piece_stays(window, strip):
    row = strip.pieces["front"]
    first = row.picture.picture()
    window.piecework.desk.set_allowance((("back", "hem"),), "4")
    assert row.picture.picture() is first, "the front is the same piece"
    window.desk.set_amounts({"front_spread": "4"})
    assert row.picture.picture() is not first
    assert strip.pieces["back_lining"].findChild(PiecePicture).size().height() > 40


def test_a_piece_is_renamed_where_it_stands(window, strip, keys):
    title = strip.pieces["front"].title
    title.setFocus(Qt.FocusReason.TabFocusReason)
    keys("Tail, front", Qt.Key.Key_Return)
    assert window.desk.job.piece("front").title == "Tail, front"
    assert title.toPlainText() == "Tail, front"
    assert window.desk.history.undoText() == "name of Front"
    keys(Qt.Key.Key_Z, mods=CTRL)
    assert window.desk.job.pieces == ()
    assert title.toPlainText() == "Front"
    title.selectAll()
    keys("Other", Qt.Key.Key_Escape)
    assert title.toPlainText() == "Front"
    assert window.desk.job.pieces == ()
    title.selectAll()
    keys("x" * 90, Qt.Key.Key_Return)
    assert "80 letters" in strip.pieces["front"].said.text()
    assert title.toPlainText() == "Front"


def test_a_piece_is_hidden_and_shown_and_nothing_else_moves(window, strip):
    check = strip.pieces["front"].check
    before = window.table.scene.layout
    QTest.keyClick(check, Qt.Key.Key_Space)
    assert window.table.scene.layout.find("piece", "front") is None
    assert window.table.scene.layout.find("piece", "back") == before.find(
        "piece", "back"
    )
    assert "still checked" in strip.pieces["front"].said.text()
    assert window.desk.history.undoText() == "hiding Front"
    window.acts.by_name["undo"].trigger()
    assert check.isChecked()
    assert window.table.scene.layout == before


def test_a_hidden_piece_is_not_offered_for_print(window, strip, qtbot):
    strip.pieces["band"].check.click()
    window.acts.by_name["paper"].trigger()
    boxes = window.slips.paper.choices
    shown = [piece.name for piece in window.desk.look.shown]
    assert "band" not in shown
    assert not strip.isVisible(), "there is room for one slip"
    qtbot.waitUntil(lambda: window.slips.paper.counted is not None, timeout=20000)
    assert boxes is not None


# Allowances


def test_an_allowance_is_typed_for_both_edges_of_a_seam_and_set_back(
    window, strip, keys
):
    row = seam(strip, "front", "side")
    assert row.title.text() == "Side seam"
    assert row.pieces.text() == "Front, Back"
    field = row.first_field()
    assert field.line.text() == "1.5"
    assert not field.button.isVisible()
    type_in(field.line, "2 1/4")
    assert width(window, "front", "side")[0][0] == pytest.approx(22.5)
    assert width(window, "back", "side")[0][0] == pytest.approx(22.5)
    assert window.desk.history.count() == 1, "one step"
    assert window.desk.history.undoText() == "allowance of side, Front"
    assert field.button.isVisible()
    field.button.click()
    assert width(window, "front", "side")[0][0] == 15
    type_in(field.line, "3")
    keys(Qt.Key.Key_Backspace, mods=CTRL)
    assert window.desk.job.pieces == ()
    keys(Qt.Key.Key_Up)
    assert width(window, "front", "side")[0][0] == pytest.approx(16)


def unlike(window):
    found = window.desk.look.report.problems
    return [p for p in found if p.code == "check.unlike_allowances"]


def test_one_edge_alone_is_set_on_purpose_and_a_check_says_so(window, strip):
    row = seam(strip, "front", "side")
    assert row.singles == {}
    type_in(row.first_field().line, "2")
    assert unlike(window) == []
    QTest.mouseClick(row.alone, Qt.MouseButton.LeftButton)
    assert [f.label.text() for f in row.singles.values()] == ["Front", "Back"]
    front = row.singles[(("front", "side"),)]
    type_in(front.line, "2.5")
    assert width(window, "front", "side")[0][0] == 25
    assert width(window, "back", "side")[0][0] == 20
    (said,) = unlike(window)
    assert said.where == "front.side"
    assert (said.values["first"], said.values["second"]) == (25, 20)
    row.alone.click()
    assert row.singles, "what differs stays in sight"
    type_in(row.first_field().line, "2")
    assert unlike(window) == []
    assert row.singles == {}


def test_where_the_style_has_unlike_allowances_nothing_is_said(window):
    from skirtwright.draft import styles
    from skirtwright.job.edits import set_style

    window.desk.change(set_style(window.desk.job, styles.style("yoke")))
    assert unlike(window) == []


@pytest.fixture
def apart(window):
    """The window with left and right of her apart."""
    from skirtwright.job.edits import part_sides, set_measurement

    window.desk.change(part_sides(window.desk.job, "waist_to_hip"))
    job = window.desk.job
    window.desk.change(set_measurement(job, "waist_to_hip_left", "22 cm"))
    return window


def test_left_and_right_are_set_at_once_while_halves_are_apart(apart, strip):
    row = seam(strip, "front_left", "side")
    assert row.pieces.text() == "Front, Back"
    type_in(row.first_field().line, "2.2")
    for piece in ("front_left", "front_right", "back_left", "back_right"):
        assert width(apart, piece, "side")[0][0] == pytest.approx(22)
    assert apart.desk.history.count() == 3, "two before, one for all four"
    QTest.mouseClick(row.title, Qt.MouseButton.LeftButton)
    row.alone.click()
    names = [field.label.text() for field in row.singles.values()]
    assert names == ["Front, left", "Front, right", "Back, left", "Back, right"]
    left = row.singles[(("front_left", "side"),)]
    type_in(left.line, "3")
    assert [p.where for p in unlike(apart)] == ["front_left.side"]


def test_names_in_the_list_are_not_cut_off_even_once_sides_are_parted(apart, strip):
    row = seam(strip, "front_left", "side")
    QTest.mouseClick(row.title, Qt.MouseButton.LeftButton)
    row.alone.click()
    row.add.click()
    settled(apart)
    labels = [w for w in strip.body.findChildren(QLabel) if w.isVisible() and w.text()]
    assert len(labels) > 30
    for label in labels:
        words = label.fontMetrics().boundingRect(
            label.contentsRect().adjusted(0, 0, 0, 1000),
            Qt.TextFlag.TextWordWrap.value,
            label.text(),
        )
        assert words.height() <= label.height() + 1, label.text()
        assert words.width() <= label.width() + 1, label.text()


def test_each_run_of_an_edge_has_its_field(window, strip):
    row = seam(strip, "back", "centre")
    fields = list(row.fields.values())
    assert [f.keys for f in fields] == [
        (("back", "centre[1]"),),
        (("back", "centre[2]"),),
    ]
    assert [f.line.text() for f in fields] == ["2.5", "2"]
    assert fields[0].label.text() == "first 21 cm"
    type_in(fields[0].line, "3")
    assert [w for w, _ in width(window, "back", "centre")] == [30, 20]


@pytest.mark.parametrize("text", ["wide", "-1", "4 m", "90"])
def test_an_allowance_that_cannot_be_stays_marked_with_its_sentence(
    window, strip, text
):
    field = seam(strip, "front", "side").first_field()
    before = window.desk.job
    type_in(field.line, text)
    assert field.line.wrong
    assert field.line.text() == text
    assert field.said.isVisible()
    assert field.said.text()
    assert window.desk.job is before
    assert {p.name for p in window.desk.look.pieces} == set(strip.pieces)


def test_a_bare_number_is_in_the_unit_she_sees(window, strip):
    window.settings.choose("unit", "in")
    field = seam(strip, "front", "hem").first_field()
    type_in(field.line, "1 1/2")
    assert width(window, "front", "hem")[0][0] == pytest.approx(38.1)
    window.settings.choose("unit", "cm")
    assert width(window, "front", "hem")[0][0] == pytest.approx(38.1)
    assert field.line.text() == "3.81"


def test_a_figure_on_the_table_is_the_allowance_of_its_seam(window, strip, keys):
    table = window.table
    written = {w.entry.name: w for w in table.written()}
    assert {"front.side", "front.waist", "front.hem", "back.hem"} <= set(written)
    assert not any(w.entry.name == "hip" for w in table.written())
    at = written["front.side"].area.center().toPoint()
    QTest.mouseClick(table, Qt.MouseButton.LeftButton, pos=at)
    assert focus() is table.field.line
    keys("wide", Qt.Key.Key_Return)
    assert table.field.line.wrong
    keys(Qt.Key.Key_Escape, Qt.Key.Key_Escape)
    # The same by keys: Tab walks the figures, Enter opens one.
    table.setFocus(Qt.FocusReason.TabFocusReason)
    while table.entry_in_hand != "front.side":
        keys(Qt.Key.Key_Tab)
    keys(Qt.Key.Key_Return, "2.4", Qt.Key.Key_Return)
    assert width(window, "front", "side")[0][0] == pytest.approx(24)
    assert width(window, "back", "side")[0][0] == pytest.approx(24)
    assert seam(strip, "back", "side").first_field().line.text() == "2.4"
    window.acts.by_name["cut"].trigger()
    assert any(w.entry.name == "hip" for w in table.written()), "the ledger again"


# Sets of allowances


def test_a_set_is_one_step_and_known_again(window, strip):
    box = strip.sets.box
    names = [box.itemText(i) for i in range(box.count())]
    assert names == [
        "The style’s own",
        "Home sewing, 1.5 cm (5/8 in) throughout",
        "School table",
    ]
    box.activated.emit(1)
    assert width(window, "front", "side")[0][0] == 15
    assert width(window, "front_lining", "waist")[0][0] == 15
    assert box.currentText().startswith("Home")
    assert "Home sewing" in window.desk.history.undoText()
    type_in(seam(strip, "front", "side").first_field().line, "4")
    assert box.currentText() == "As set here"
    window.acts.by_name["undo"].trigger()
    assert box.currentText().startswith("Home")
    window.acts.by_name["undo"].trigger()
    assert window.desk.job.pieces == ()
    assert box.currentIndex() == 0
    window.acts.by_name["redo"].trigger()
    box.activated.emit(0)
    assert window.desk.job.pieces == ()


def test_the_orders_allowances_are_kept_as_a_set_renamed_and_taken_away(
    window, strip, keys, opened
):
    type_in(seam(strip, "front", "side").first_field().line, "5/8 in")
    strip.sets.keep.click()
    assert focus() is strip.sets.name
    keys("Workroom", Qt.Key.Key_Return)
    (kept,) = allowance_sets.kept()
    assert kept.title == "Workroom"
    assert "Kept as “Workroom”" in strip.sets.said.text()
    index = strip.sets.box.findText("Workroom")
    strip.sets.box.activated.emit(index)
    assert strip.sets.box.currentText() == "Workroom"
    strip.sets.rename.click()
    keys("Fine wool", Qt.Key.Key_Return)
    assert [one.title for one in allowance_sets.kept()] == ["Fine wool"]
    assert strip.sets.box.currentText() == "Fine wool"
    strip.sets.remove.click()
    assert allowance_sets.kept() == ()
    assert "Fine wool" in window.line.words.text()
    assert strip.sets.box.currentText() == "As set here", "the order keeps them"
    window.line.buttons[0].click()
    assert [one.title for one in allowance_sets.kept()] == ["Fine wool"]
    assert strip.sets.box.currentText() == "Fine wool"


def test_a_set_cannot_have_no_name_or_the_name_of_another(window, strip, keys):
    strip.sets.keep.click()
    keys(Qt.Key.Key_Return)
    assert "no name" in strip.sets.said.text()
    keys("school table", Qt.Key.Key_Return)
    assert "already" in strip.sets.said.text()
    keys(Qt.Key.Key_Escape)
    assert not strip.sets.naming.isVisible()
    assert allowance_sets.kept() == ()


def test_a_damaged_file_of_sets_is_said_and_left(window, strip):
    habits.keep("allowances.json", "{")
    window.desk.again()
    window.slips.say_again()
    assert "allowances.json" in strip.sets.said.text()
    assert strip.sets.box.count() == 3
    strip.sets.keep.click()
    strip.sets.name.setText("Mine")
    strip.sets.take.click()
    assert habits.kept("allowances.json") == "{"


# Notches


def test_a_notch_is_put_on_both_edges_and_says_from_which_end_it_counts(window, strip):
    row = seam(strip, "back", "side")
    QTest.mouseClick(row.title, Qt.MouseButton.LeftButton)
    assert row.style_marks.text() == "Notches at 20, 50.1, 72.5, 95 cm from the waist"
    before = marks(window, "front", "side")
    row.add.click()
    (mark,) = row.marks
    assert focus() is mark.line
    assert mark.line.text() == "47.5"
    assert mark.label.text() == "from the waist"
    assert (475, 1) in marks(window, "front", "side") & marks(window, "back", "side")
    type_in(mark.line, "30")
    assert (300, 1) in marks(window, "front", "side") & marks(window, "back", "side")
    row.marks[0].count.activated.emit(2)
    assert (300, 3) in marks(window, "back", "side")
    type_in(row.marks[0].line, "300")
    assert row.marks[0].line.wrong
    assert (300, 3) in marks(window, "front", "side")
    row.marks[0].line.setFocus()
    row.marks[0].button.click()
    assert row.marks == []
    assert focus() is row.add
    assert marks(window, "front", "side") == before
    for _ in range(4):
        window.acts.by_name["undo"].trigger()
    assert window.desk.job.pieces == ()


def test_a_double_click_on_a_seam_edge_places_a_notch_there(window):
    at = place_on(window, "front", "side", 0.4)
    event = QMouseEvent(
        QEvent.Type.MouseButtonDblClick,
        QPointF(at),
        QPointF(window.table.mapToGlobal(at)),
        Qt.MouseButton.LeftButton,
        Qt.MouseButton.LeftButton,
        Qt.KeyboardModifier.NoModifier,
    )
    QApplication.sendEvent(window.table, event)
    (notch,) = window.desk.job.piece("front").notches
    assert notch.edge == "side"
    assert notch.at.endswith(" cm")
    length = window.table.scene.panels["front"].edge("side").chain.length
    near = 4 / window.table.view.scale
    placed = max(d for d, c in marks(window, "back", "side") if d != 501)
    assert (
        min(abs(d - 0.4 * length) for d, _ in marks(window, "back", "side")) <= near
    ), placed
    assert "notch on side of Front" in window.pointed.text()
    window.acts.by_name["undo"].trigger()
    assert window.desk.job.pieces == ()


def test_a_notch_by_key_needs_an_edge(window, keys):
    window.acts.by_name["notch"].trigger()
    assert "seam edge" in window.pointed.text()
    window.table.choose_piece("front", "side")
    window.acts.by_name["notch"].trigger()
    assert window.desk.job.piece("front").notches[0].at == "47.5 cm"
    window.acts.by_name["notch"].trigger()
    assert len(window.desk.job.piece("front").notches) == 1
    assert "already" in window.pointed.text()
    # It is seen: its seam is lit, with all its notches.
    assert {("front", "side"), ("back", "side")} <= window.table.edges_in_hand


def test_a_notch_by_key_goes_on_the_seam_in_hand(window, strip, keys):
    row = seam(strip, "back", "side")
    QTest.mouseClick(row.title, Qt.MouseButton.LeftButton)
    assert window.table.chosen is None
    keys(Qt.Key.Key_M, mods=Qt.KeyboardModifier.ControlModifier)
    (mark,) = row.marks
    assert focus() is mark.line
    assert (475, 1) in marks(window, "front", "side") & marks(window, "back", "side")
    # Its choice is as wide as its words, whether it is the first or not.
    keys(Qt.Key.Key_M, mods=Qt.KeyboardModifier.ControlModifier)
    assert "already" in row.said.text()
    type_in(mark.line, "30")
    row.add.click()
    QTest.qWait(1)
    first, second = row.marks
    assert first.count.width() == second.count.width()
    assert first.count.width() >= first.count.sizeHint().width()
    # Where she sees them: the whole turning is marked where a notch lies.
    colour = window.colours.accent.lower()
    piece = next(p for p in window.desk.look.pieces if p.name == "front")
    laid = window.table.scene.layout.find("piece", "front")
    notch = next(n for n in piece.notches if abs(n.distance - 300) < 0.5)
    snip = notch.snips[0]
    middle = snip.end + (snip.end - snip.start).unit() * (notch.clear / 2)
    x, y = window.table.view.screen(laid.at(middle))
    seen = window.table.grab().toImage()
    near = {seen.pixelColor(round(x) + i, round(y)).name() for i in (-1, 0, 1)}
    assert colour in near


# The table and the list


def test_a_click_on_an_edge_opens_its_field_beside_it(window, keys):
    click(window, "front_lining", "hem", 0.5)
    slip = window.piecework.slip
    assert slip.place == ("front_lining", "hem")
    assert slip.isVisible()
    assert slip.heading.text() == "Lining hem"
    assert window.table.rect().contains(slip.geometry())
    assert focus() is slip.row.first_field().line
    keys("3", Qt.Key.Key_Return)
    assert width(window, "front_lining", "hem")[0][0] == 30
    assert width(window, "back_lining", "hem")[0][0] == 30
    assert not slip.row.add.isVisible(), "nothing is sewn to a hem"
    slip.done()
    click(window, "front_lining", "side", 0.45)
    slip.row.add.click()
    settled(window)
    assert window.desk.job.piece("front_lining").notches
    assert window.table.rect().contains(slip.geometry())
    assert slip.height() >= slip.sizeHint().height()
    went = [slip.row.first_field().line]
    went[0].setFocus()
    while went[-1] is not slip.close_button and len(went) < 12:
        keys(Qt.Key.Key_Tab)
        went.append(focus())
    assert slip.row.add in went
    assert slip.row.marks[0].line in went
    before = slip.pos()
    window.table.pan_by(-120, 0)
    assert slip.x() < before.x(), "it goes along with its edge"
    slip.row.first_field().line.setFocus()
    keys(Qt.Key.Key_Escape)
    assert not slip.isVisible()
    assert window.table.hasFocus()


def test_the_slip_goes_when_something_else_is_clicked_or_its_piece_is_gone(window):
    click(window, "front_lining", "hem", 0.5)
    slip = window.piecework.slip
    assert slip.isVisible()
    click(window, "front", "centre", 0.4)
    assert not slip.isVisible(), "a fold has no allowance"
    click(window, "front_lining", "hem", 0.5)
    window.piecework.desk.show("front_lining", on=False)
    assert not slip.isVisible()


def test_with_the_list_open_the_click_leads_to_its_field(window, strip):
    click(window, "back_lining", "side")
    row = seam(strip, "back_lining", "side")
    assert row.in_hand
    assert focus() is row.first_field().line
    assert "slip" not in window.piecework.__dict__, "one field is enough"
    settled(window)
    shown = strip.scrolled.viewport().rect()
    place = row.mapTo(strip.scrolled.viewport(), QPoint(0, 0))
    assert shown.contains(place)


def test_a_row_in_hand_shows_its_piece_or_all_edges_of_its_seam(window, strip):
    QTest.mouseClick(strip.pieces["band"].picture, Qt.MouseButton.LeftButton)
    assert window.table.chosen.laid.name == "band"
    assert strip.pieces["band"].property("chosen")
    window.table.bring("skirt")
    row = seam(strip, "back", "hem")
    row.first_field().line.setFocus()
    assert window.table.edges_in_hand == {("front", "hem"), ("back", "hem")}
    assert window.table.chosen is None
    assert not strip.pieces["band"].property("chosen")
    assert row.in_hand
    colour = QColor(window.colours.accent)
    at = place_on(window, "back", "hem", 0.5)
    seen = window.table.grab().toImage()
    near = [seen.pixelColor(at.x(), at.y() + y) for y in range(-3, 4)]
    assert colour in near, "painted heavy"


def test_a_name_is_in_hand_after_one_gesture(window, strip, keys):
    row = strip.pieces["front"]
    strip.scrolled.ensureWidgetVisible(row)
    assert row.rename.text() == "Rename"
    QTest.mouseClick(row.rename, Qt.MouseButton.LeftButton)
    assert focus() is row.title
    keys("Panel", Qt.Key.Key_Return)
    assert window.desk.job.piece("front").title == "Panel"


# By keys, and for those who do not see it


def test_the_list_is_reached_by_keys_in_reading_order(window, keys):
    keys(Qt.Key.Key_F12)
    strip = window.slips.cut
    assert strip.isVisible()
    QTest.mouseClick(seam(strip, "front", "side").title, Qt.MouseButton.LeftButton)
    settled(window)
    strip.sets.box.setFocus()
    went, places = [focus()], [focus().mapTo(strip.body, QPoint(0, 0))]
    for _ in range(80):
        QTest.keyClick(focus(), Qt.Key.Key_Tab)
        if not strip.isAncestorOf(focus()):
            break
        settled(window)
        went.append(focus())
        places.append(focus().mapTo(strip.body, QPoint(0, 0)))
    assert len(went) > 15
    for one, other in pairwise(places):
        below, beside = other.y() > one.y() + 28, abs(other.y() - one.y()) <= 28
        assert below or (beside and other.x() > one.x()), (one, other, places)
    wanted = {
        w
        for kind in (QLineEdit, QComboBox)
        for w in strip.findChildren(kind)
        if w.isVisible()
    }
    assert wanted <= set(went)
    keys(Qt.Key.Key_F12)
    assert not strip.isVisible()


def test_everything_in_the_list_has_a_name(window, strip):
    QTest.mouseClick(seam(strip, "back", "side").title, Qt.MouseButton.LeftButton)
    seam(strip, "back", "side").add.click()
    QAccessible.setActive(True)
    for widget in strip.findChildren(QWidget):
        if widget.isVisible() and widget.focusPolicy() != Qt.FocusPolicy.NoFocus:
            interface = QAccessible.queryAccessibleInterface(widget)
            assert interface.text(QAccessible.Text.Name), widget
    line = seam(strip, "back", "side").first_field().line
    assert line.accessibleName() == "Seam allowance of Side seam, Front, centimetres"
    assert "1.5 cm" in line.accessibleDescription()


@pytest.mark.parametrize(("size", "text"), [((1024, 700), 100), ((1024, 700), 200)])
def test_nothing_is_cut_and_the_window_fits(opened, size, text):
    window = opened(None, size)
    window.settings.choose("text_size", text)
    window.acts.by_name["cut"].trigger()
    settled(window)
    strip = window.slips.cut
    QTest.mouseClick(seam(strip, "back", "side").title, Qt.MouseButton.LeftButton)
    seam(strip, "back", "side").add.click()
    settled(window)
    assert window.width() <= size[0]
    assert strip.body.width() <= strip.scrolled.viewport().width()
    for line in strip.findChildren(QLineEdit):
        if line.isVisible():
            right = line.mapTo(strip, line.rect().topRight()).x()
            assert right < strip.width()
            room = line.width() - 16
            assert line.fontMetrics().horizontalAdvance(line.text()) <= room


def test_the_strip_is_quiet_while_folded_away(window):
    window.desk.set_amounts({"front_spread": "4"})
    assert window.slips.made == [], "nothing is made before it is asked for"
    window.acts.by_name["cut"].trigger()
    strip = window.slips.cut
    assert strip.pieces
    window.acts.by_name["steps"].trigger()
    assert not strip.isVisible(), "there is room for one"


def part_hips(window) -> None:
    """The right hip lies lower than the left."""
    for side, text in (("left", "20"), ("right", "21.5")):
        name = f"waist_to_hip_{side}"
        window.desk.change(set_measurement(window.desk.job, name, text))


def test_no_sentence_lies_on_the_slip_beside_an_edge(opened):
    window = opened(None, (1024, 700))
    said, slip = window.pointed, window.piecework.slip
    click(window, "front", "side", 0.9)
    for words in ("front " * 30, "front " * 4):
        said.tell(words)
        assert slip.isVisible()
        card = slip.geometry().translated(window.table.pos())
        assert not said.geometry().intersects(card)
    # It was there before the slip lay down.
    slip.done()
    said.tell("front " * 30)
    click(window, "front", "side", 0.9)
    card = slip.geometry().translated(window.table.pos())
    assert not (said.text() and said.geometry().intersects(card))


def test_a_seam_tells_the_notches_of_each_side_where_they_differ(window, strip):
    part_hips(window)
    row = seam(strip, "front_right", "side")
    row.take_in_hand(True)
    left, right = row.style_marks.text().split("\n")
    assert left.startswith("Left: notches at 20, ")
    assert right.startswith("Right: notches at 21.5, ")
    centre = seam(strip, "back_right", "centre")
    centre.take_in_hand(True)
    assert centre.style_marks.text().startswith("Notches at 20, "), "both alike"


def test_a_piece_renamed_leaves_its_pair_its_name_on_the_card(window, strip):
    part_hips(window)

    def called(piece):
        cards = window.table.scene.layout.cards
        card = next(card for card in cards if ("piece", piece) in card.things)
        return card_title(card, window.settings.manner)

    assert called("back_lining_right") == "Back lining"
    window.piecework.desk.rename("back_lining_left", "Band stay, left")
    assert called("back_lining_right") == "Band stay, Back lining"
    window.piecework.desk.rename("back_lining_right", "Band stay, right")
    assert called("back_lining_right") == "Band stay"
