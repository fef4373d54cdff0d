"""Number fields: what is typed, stepped and shown, and setting back."""

from __future__ import annotations

import math

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from places import amount, choice, measurement, settled, slip
from PySide6.QtCore import QLocale, QPoint, QPointF, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QApplication, QComboBox

from skirtwright.app.fields import Choosing, NumberLine
from skirtwright.app.shown_figures import shown, unbroken
from skirtwright.draft import styles
from skirtwright.job.edits import set_style
from skirtwright.measures.units import read_length
from skirtwright.words import Manner

# Written as people write them; mm by arithmetic (an inch is 25.4 mm).
SPELLINGS = [
    ("74", 740),
    ("74.5", 745),
    ("74,5", 745),
    ("74 cm", 740),
    ("74cm", 740),
    ("740mm", 740),
    ("740 mm", 740),
    ("0.74 m", 740),
    ("0,74m", 740),
    ("29 1/8 in", 739.775),
    ("29-1/8 in", 739.775),
    ('29 1/8"', 739.775),
    ('29-1/8"', 739.775),
    ("29.125 in", 739.775),
    ('29,125"', 739.775),
    ("29 1/8in", 739.775),
    ("29⅛ in", 739.775),
    ("29 ⅛ in", 739.775),
    ('29⅛"', 739.775),
    ("29 inches", 736.6),
    ("29 inch", 736.6),
    ("29 in", 736.6),
    ("29″", 736.6),
    ("29”", 736.6),
    ("24 3/8 in", 619.125),
    ("24⅜in", 619.125),
    ("24 1/2 in", 622.3),
    ("24½ in", 622.3),
    ("24 3/4 in", 628.65),
    ("28 15/16 in", 735.0125),
    ("  74  ", 740),
    ("74 CM", 740),
    ("74.0", 740),
    ("74.", 740),
    ("74,", 740),
    ("74 1/2", 745),
    ("74-1/2", 745),
    ("74½", 745),
    ("74 ½ cm", 745),
    ("745 mm", 745),
    ("74.50 cm", 745),
    ("60.0", 600),
    ("0.8 yd", 731.52),
    ("1 m", 1000),
]
REFUSED = ["abc", "1/0", "74 76", "1e3", "74 kg", "1,234,5", "--74", "٧٤", "nan"]


def wheel(widget) -> QWheelEvent:
    at = QPointF(5, 5)
    return QWheelEvent(
        at,
        widget.mapToGlobal(at),
        QPoint(0, 0),
        QPoint(0, 120),
        Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )


def put(line: NumberLine, text: str) -> None:
    """As typed; keyClicks would abort at a character beyond ASCII."""
    line.setFocus()
    line.setText(text)
    line.setModified(True)


def enter(line: NumberLine, text: str) -> None:
    put(line, text)
    QTest.keyClick(line, Qt.Key.Key_Return)


def test_spellings_in_any_locale(window):
    """Rule 1: at least 40 spellings in two locales, none misread.

    Every third is typed into the field and drawn; all are read as the field reads.
    """
    assert len(SPELLINGS) >= 40
    before = QLocale()
    try:
        for first, locale in enumerate(("de_DE", "en_US")):
            QLocale.setDefault(QLocale(locale))
            for text, mm in SPELLINGS:
                assert read_length(text, "cm") == pytest.approx(mm, abs=1e-9), text
            row = measurement(window, "waist")
            for text, mm in SPELLINGS[first::6]:
                enter(row.line, text)
                got = window.desk.look.worked.stated.measurements["waist"]
                assert got == pytest.approx(mm, abs=1e-9), text
                assert not row.line.wrong, text
    finally:
        QLocale.setDefault(before)


def test_what_cannot_be_read_stays_marked_with_its_sentence(window):
    row = measurement(window, "hip")
    look = window.desk.look
    for text in REFUSED:
        enter(row.line, text)
        assert row.line.text() == text
        assert row.line.wrong, text
        assert row.said.isVisible()
        assert text[:40] in row.said.text()
        assert window.desk.look is look, "the drawing is as it was"
        QTest.keyClick(row.line, Qt.Key.Key_Escape)
        assert row.line.text() == "98"
        assert not row.line.wrong
        assert not row.said.isVisible()


def test_a_wrong_entry_waits_while_other_work_goes_on(window):
    row = measurement(window, "hip")
    enter(row.line, "wide")
    enter(measurement(window, "waist").line, "70")
    assert row.line.text() == "wide"
    assert row.line.wrong
    enter(row.line, "98")
    assert not row.line.wrong
    assert not row.said.isVisible()


def test_the_unit_is_seen_and_spoken(window):
    """Rule 2."""
    row = amount(window, "front_spread")
    assert row.unit.text() == "cm"
    assert row.line.accessibleName() == "Front flare at the break, centimetres"
    window.settings.choose("unit", "in")
    assert row.unit.text() == "in"
    assert row.line.accessibleName() == "Front flare at the break, inches"
    assert measurement(window, "hip").line.accessibleName() == "Hip, inches"


def test_half_typed_draws_nothing(window, keys):
    """Rule 3: only Enter or leaving the field takes it; Escape restores."""
    line = amount(window, "length").line
    looks = []
    window.desk.looked.connect(looks.append)
    line.setFocus()
    line.selectAll()
    keys("10")
    assert not looks
    assert window.desk.job.amounts == {}
    keys(Qt.Key.Key_Escape)
    assert line.text() == "95"
    line.selectAll()
    keys("100")
    keys(Qt.Key.Key_Tab)
    assert window.desk.job.amounts == {"length": "100"}
    assert window.desk.look.report.finished["length"] > 990


def test_the_wheel_passes_over(window):
    """Rule 4: fields, ranges and lists of options."""
    row = amount(window, "length")
    window.table.setFocus()
    for widget in (row.line, choice(window, "closing").box):
        QApplication.sendEvent(widget, wheel(widget))
    assert window.desk.saved
    row.line.setFocus()
    QApplication.sendEvent(row.line, wheel(row.line))
    assert window.desk.job.amounts == {"length": "95.1 cm"}


def test_the_wheel_never_turns_a_list_even_one_just_chosen_from(window):
    box = choice(window, "closing").box
    box.setFocus()
    rolled = wheel(box)
    QApplication.sendEvent(box, rolled)
    assert not rolled.isAccepted(), "what lies under it scrolls"
    assert window.desk.saved
    for each in window.findChildren(QComboBox):
        assert isinstance(each, Choosing), each.accessibleName()


def test_a_list_of_options_opens_as_tall_as_they_are_and_below_its_name(window):
    """Flat in a slip or with a rim in the settings; with and without the focus."""
    flat, rimmed = choice(window, "closing").box, Choosing()
    rimmed.setParent(window)
    rimmed.addItems(["one", "two"])
    rimmed.show()
    for box in (flat, rimmed):
        for has_focus in (False, True):
            (box if has_focus else window.table).setFocus()
            box.showPopup()
            settled(window)
            last = box.model().index(box.count() - 1, 0)
            assert box.view().viewport().rect().contains(box.view().visualRect(last))
            popup = box.view().window().geometry()
            foot = box.mapToGlobal(box.rect().bottomRight())
            assert popup.width() >= box.view().sizeHintForColumn(0)
            assert popup.top() > foot.y()
            assert popup.right() <= max(foot.x(), popup.width()) + 2
            box.hidePopup()


def test_out_of_range_keeps_the_entry_and_the_drawing(window):
    """Rule 5."""
    row = amount(window, "hip_ease")
    look = window.desk.look
    enter(row.line, "44")
    assert row.line.text() == "44"
    assert row.line.wrong
    assert "44 cm" in row.said.text()
    assert "10 cm" in row.said.text()
    assert window.desk.look is look
    window.slips.shape.amounts["length"].line.setFocus()
    assert row.line.text() == "44", "leaving the field leaves it"
    row.line.setFocus()
    QTest.keyClick(row.line, Qt.Key.Key_Escape)
    assert row.line.text() == "4"


@given(
    mm=st.floats(1, 2000),
    unit=st.sampled_from(["cm", "in"]),
    fraction=st.sampled_from([4, 8, 16]),
)
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_what_is_shown_reads_back_within_half_a_step(mm, unit, fraction):
    """Rule 6."""
    manner = Manner(unit, fraction)
    text = shown("length", mm, manner)
    step = 25.4 / fraction if unit == "in" else 0.1
    assert math.isclose(read_length(text, unit), mm, abs_tol=step / 2 + 1e-9)


def test_untouched_means_unchanged(window):
    """Rule 6: going through every field in inches changes nothing."""
    window.settings.choose("unit", "in")
    for fold in slip(window, "shape").folds.values():
        fold.unfold()
    for row in window.slips.shape.amounts.values():
        row.line.setFocus()
    slip(window, "measure").unused.unfold()
    for row in window.slips.measure.rows_by_name.values():
        row.line.setFocus()
    window.table.setFocus()
    assert window.desk.saved
    assert window.desk.job.amounts == {}


def test_inches_typed_into_a_card_in_centimetres(window):
    """A bare number is in the unit she sees."""
    window.settings.choose("unit", "in")
    enter(measurement(window, "waist").line, "29 1/8")
    assert window.desk.job.card.measurements["waist"] == "29 1/8 in"
    assert measurement(window, "waist").line.text() == "29 1/8"
    enter(amount(window, "front_spread").line, "1 1/4")
    assert window.desk.state("front_spread").value == pytest.approx(31.75)
    enter(amount(window, "hip_ease").line, "waist/40 + 1/2")
    wanted = 29.125 / 40 * 25.4 + 12.7
    assert window.desk.state("hip_ease").value == pytest.approx(wanted)
    assert window.desk.state("front_spread").value == pytest.approx(31.75)


def test_a_sum_is_kept_as_she_wrote_it(window):
    line = amount(window, "hip_ease").line
    enter(line, "hip/40 + 1 cm")
    assert window.desk.state("hip_ease").value == pytest.approx(34.5)
    window.table.setFocus()
    assert line.text() == "3.45"
    line.setFocus()
    assert line.text() == "hip/40 + 1 cm"
    window.table.setFocus()
    assert window.desk.history.count() == 1


def test_arrows_step_by_a_millimetre_or_her_fraction(window, keys):
    line = amount(window, "front_spread").line
    line.setFocus()
    keys(Qt.Key.Key_Up, Qt.Key.Key_Up)
    assert window.desk.state("front_spread").value == pytest.approx(32)
    keys(Qt.Key.Key_Down)
    assert line.text() == "3.1"
    window.settings.choose("unit", "in")
    keys(Qt.Key.Key_Up)
    assert line.text() == "1 1/4", "3.1 cm is a little under 1 1/4 in"
    keys(Qt.Key.Key_Up)
    assert line.text() == "1 3/8"
    assert window.desk.history.count() == 5


def test_set_back_by_key_by_button_and_from_the_list(window, keys):
    row = amount(window, "front_spread")
    enter(row.line, "4.5")
    assert row.line.property("stated"), "what she stated is bold"
    changed = window.slips.shape.changed
    assert changed.names == ["front_spread"]
    row.line.setFocus()
    keys(Qt.Key.Key_Backspace, mods=Qt.KeyboardModifier.ControlModifier)
    assert window.desk.job.amounts == {}
    assert not row.line.property("stated")
    enter(row.line, "4.5")
    (back,) = changed.findChildren(QAbstractButton)
    QTest.mouseClick(back, Qt.MouseButton.LeftButton)
    assert window.desk.job.amounts == {}
    enter(row.line, "4.5")
    row.line.setText("")
    row.line.setModified(True)
    QTest.keyClick(row.line, Qt.Key.Key_Return)
    assert window.desk.job.amounts == {}, "an emptied field is the default again"


def test_minus_and_plus_are_clicks_of_their_own(window):
    """Rule 7, of the strips: no drag is ever needed.

    Targets of 24 px at least: Web Content Accessibility Guidelines 2.2, 2.5.8.
    """
    row = amount(window, "front_spread")
    QTest.mouseClick(row.more, Qt.MouseButton.LeftButton)
    QTest.mouseClick(row.more, Qt.MouseButton.LeftButton)
    QTest.mouseClick(row.less, Qt.MouseButton.LeftButton)
    assert window.desk.state("front_spread").value == pytest.approx(31)
    for button in (row.less, row.more):
        assert button.width() >= 24
        assert button.height() >= 24


def test_a_button_held_down_draws_and_is_one_step(window, qtbot):
    """Rule 8, of the slip of shape: the skirt follows; release is one step."""
    row = amount(window, "front_spread")
    looks = []
    window.desk.looked.connect(looks.append)
    QTest.mousePress(row.more, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: len(looks) >= 3)
    assert window.desk.history.count() == 0
    assert looks[-1].worked.stated.amounts["front_spread"].value >= 32
    assert row.line.property("moving"), "what follows the hand is in the accent"
    QTest.mouseRelease(row.more, Qt.MouseButton.LeftButton)
    assert window.desk.history.count() == 1
    assert window.desk.state("front_spread").value > 32
    assert not row.line.property("moving")
    window.desk.history.undo()
    assert window.desk.job.amounts == {}


def test_what_is_not_measured_is_pencil_with_about_what_it_is(window):
    for name in ("knee", "thigh", "waist_to_floor_back"):
        enter(measurement(window, name).line, "")
        assert name not in window.desk.job.card.measurements
    measure = window.slips.measure
    knee = measure.rows_by_name["knee"]
    assert knee.line.placeholderText() == "about 36", "whole centimetres"
    assert knee.name.property("role") == "pencil"
    assert not knee.said.isVisible(), "what it decides is one click away"
    QTest.mouseClick(measure.decides, Qt.MouseButton.LeftButton)
    assert "longest step" in knee.said.text()
    QTest.mouseClick(measure.decides, Qt.MouseButton.LeftButton)
    assert not knee.said.isVisible()
    sides = measurement(window, "waist_to_floor_side")
    QTest.mouseClick(sides.sign, Qt.MouseButton.LeftButton)
    enter(sides.left, "103.5")
    enter(sides.right, "102.5")
    back = measure.rows_by_name["waist_to_floor_back"]
    assert back.line.placeholderText() == "about 103", "as the sheet prints it"
    window.settings.choose("unit", "in")
    assert knee.line.placeholderText() == "about 14", "half inches"
    assert measure.rows_by_name["thigh"].line.placeholderText() == "about 22 1/2"


def test_what_the_style_does_not_use_stands_last_and_says_so(window):
    window.desk.change(set_style(window.desk.job, styles.style("bias-slip")))
    unused = window.desk.look.report.unused
    assert unused
    row = measurement(window, unused[0])
    assert row.said.text() == "Not used with this style as it stands."
    measure = window.slips.measure
    assert measure.unused.button.text().endswith("not used with this style")


@pytest.mark.parametrize(
    ("name", "text", "question", "kept"),
    [
        ("hip", "38 5/8", "38 5/8 inches = 98.1 cm?", 981),
        ("hip", "38.6", "38.6 inches = 98 cm?", 980),
        ("waist", "30⅞", "30⅞ inches = 78.4 cm?", 784),
    ],
)
def test_a_number_of_the_other_unit_is_asked_about(window, name, text, question, kept):
    row = measurement(window, name)
    look = window.desk.look
    enter(row.line, text)
    assert row.question.isVisible()
    assert row.question.words.text() == question
    assert window.desk.look is look, "never silently"
    QTest.keyClick(row.line, Qt.Key.Key_Return)
    assert not row.question.isVisible()
    body = window.desk.look.worked.stated.measurements
    assert body[name] == pytest.approx(kept)


def test_what_is_still_asked_is_said_when_she_goes_on(window):
    row = measurement(window, "hip")
    enter(row.line, "38 5/8")
    window.take_typed()
    assert "38 5/8 inches = 98.1 cm?" in window.line.words.text()
    assert "Hip" in window.line.words.text()
    # Parted, the question would be of a field that is no longer there.
    row.sign.click()
    assert not row.question.isVisible()
    body = window.desk.job.card.measurements
    assert (body["hip_left"], body["hip_right"]) == ("49 cm", "49 cm")


def test_the_question_is_left_or_dropped(window, keys):
    row = measurement(window, "hip")
    enter(row.line, "38 5/8")
    settled(window)
    QTest.mouseClick(row.question.leave, Qt.MouseButton.LeftButton)
    assert window.desk.job.card.measurements["hip"] == "38 5/8", "as she says"
    assert "measures.unusual" in {p.code for p in window.desk.problems}
    window.desk.history.undo()
    enter(row.line, "38 5/8")
    QTest.keyClick(row.line, Qt.Key.Key_Escape)
    assert not row.question.isVisible()
    assert row.line.text() == "98"
    enter(row.line, "38 5/8")
    QTest.keyClicks(row.line, "7")
    assert not row.question.isVisible(), "typing goes on"
    window.settings.choose("unit", "in")
    row.line.restore()
    enter(row.line, "98")
    assert row.question.words.text() == "98 centimetres = 38 5/8 in?"
    settled(window)
    QTest.mouseClick(row.question.take, Qt.MouseButton.LeftButton)
    body = window.desk.look.worked.stated.measurements
    assert body["hip"] == pytest.approx(980)


def test_inches_typed_into_an_amount_are_asked_about(window):
    row = amount(window, "length")
    enter(row.line, "37 1/2")
    assert row.question.words.text() == "37 1/2 inches = 95.2 cm?"
    QTest.keyClick(row.line, Qt.Key.Key_Return)
    assert window.desk.state("length").value == pytest.approx(952)


def test_left_and_right_are_taken_apart_and_joined_again(window, keys):
    row = measurement(window, "waist_to_hip")
    QTest.mouseClick(row.sign, Qt.MouseButton.LeftButton)
    card = window.desk.job.card.measurements
    assert "waist_to_hip" not in card
    assert (card["waist_to_hip_left"], card["waist_to_hip_right"]) == ("20", "20")
    assert row.left.isVisible()
    assert not row.line.isVisible()
    assert QApplication.focusWidget() is row.left
    keys(Qt.Key.Key_Tab)
    assert QApplication.focusWidget() is row.right
    enter(row.right, "19")
    assert {p.name for p in window.desk.look.pieces} >= {"front_left", "front_right"}
    assert row.right.accessibleName() == "Waist to hip, right, centimetres"
    QTest.mouseClick(row.sign, Qt.MouseButton.LeftButton)
    assert window.desk.job.card.measurements["waist_to_hip"] == "19.5 cm"
    assert row.line.isVisible()
    assert window.desk.history.count() == 3
    hip = measurement(window, "hip")
    hip.line.setFocus()
    keys(Qt.Key.Key_L, mods=Qt.KeyboardModifier.ControlModifier)
    assert hip.left.text() == "49", "the half that goes round that side"
    QTest.mouseClick(hip.sign, Qt.MouseButton.LeftButton)
    assert window.desk.look.worked.stated.measurements["hip"] == pytest.approx(980)
    assert not measurement(window, "height").sign.isVisible()


def test_a_share_reads_as_a_part_of_a_hundred(window):
    row = amount(window, "side_part")
    assert row.line.text() == "50"
    assert row.unit.text() == "%"
    enter(row.line, "60")
    assert window.desk.state("side_part").value == pytest.approx(0.6)
    enter(row.line, "0.55")
    assert row.line.text() == "55"
    enter(row.line, "62 %")
    assert window.desk.job.amounts["side_part"] == "0.62"
    row.line.setFocus()
    QTest.keyClick(row.line, Qt.Key.Key_Up)
    assert row.line.text() == "65"


def test_the_sentence_of_the_tape_follows_the_field_in_hand(window):
    measurement(window, "hip").line.setFocus()
    assert window.slips.measure.taken.text().startswith("Round the fullest part")
    measurement(window, "waist_to_knee").line.setFocus()
    strip = window.slips.measure
    assert "kneecap" in strip.taken.text()
    assert strip.taken.isVisible()
    assert not strip.taking.button.isVisible()


def test_in_large_letters_how_it_is_taken_leaves_the_rows_their_room(window):
    window.resize(1024, 700)
    window.settings.choose("text_size", 200)
    strip = slip(window, "measure")
    settled(window)
    assert strip.scrolled.height() > 0.75 * strip.height()
    QTest.mouseClick(strip.taking.button, Qt.MouseButton.LeftButton)
    assert strip.taken.isVisible()
    window.settings.choose("text_size", 100)
    settled(window)
    assert strip.taken.isVisible()
    assert not strip.taking.button.isVisible()


def test_measures_without_meaning_are_hidden(window):
    for fold in slip(window, "shape").folds.values():
        fold.unfold()
    dart = amount(window, "dart_intake_front")
    assert dart.isVisibleTo(window.slips.shape.body)
    box = choice(window, "waist_shape").box
    box.setCurrentIndex(1)
    box.activated.emit(1)
    assert window.desk.job.choices == {"waist_shape": "side_elastic"}
    assert dart.isHidden()


def test_six_stand_at_first_and_the_rest_a_fold_away(window):
    slip(window, "shape")
    first = window.desk.job.draft.first
    assert list(window.slips.shape.amounts) == list(first)
    assert len(first) == 6
    assert set(window.slips.shape.folds) >= {"length", "flare", "waist", "finishing"}
    for fold in window.slips.shape.folds.values():
        fold.unfold()
    assert set(window.slips.shape.amounts) == {
        amount.name for amount in window.desk.job.draft.amounts
    }


@pytest.mark.parametrize("size", [100, 200])
def test_figures_of_measurements_are_whole_at_every_text_size(opened, size):
    """Left and right apart, their names beside the figures, nothing beyond the slip."""
    window = opened(None, size=(1024, 700))
    window.settings.choose("text_size", size)
    row = measurement(window, "waist_to_hip")
    QTest.mouseClick(row.sign, Qt.MouseButton.LeftButton)
    settled(window)
    shown = window.slips.measure
    assert shown.body.width() <= shown.scrolled.viewport().width()
    assert shown.needs() <= shown.width()
    for line in (row.left, row.right):
        assert line.mapTo(shown, line.rect().topRight()).x() < shown.width()
        side = line.side.geometry()
        assert line.rect().contains(side)
        figure = line.fontMetrics().horizontalAdvance("20 15/16")
        assert side.right() + figure < line.width() - 8, "never under the figure"
    for other in shown.rows_by_name.values():
        guess = other.line.placeholderText()
        wide = other.line.fontMetrics().horizontalAdvance(guess)
        assert not other.isVisible() or wide < other.line.width() - 12


def test_enter_goes_down_the_measurements_and_no_row_moves(window, keys):
    window.acts.by_name["new_client"].trigger()
    settled(window)
    rows = window.slips.measure.rows_by_name
    first, second = rows["waist"], rows["hip"]
    first.line.setFocus()
    before = second.pos()
    assert first.said.text()
    keys("72", Qt.Key.Key_Return)
    settled(window)
    assert QApplication.focusWidget() is second.line
    assert not first.said.text()
    assert second.pos() == before
    keys("nonsense", Qt.Key.Key_Return)
    assert QApplication.focusWidget() is second.line, "refused: hers to put right"


def test_a_refusal_goes_once_it_is_no_longer_true(window, keys):
    window.desk.set_amounts({"length": "64", "knee_lift": "0"})
    row = amount(window, "knee_curve")
    row.line.setFocus()
    row.line.selectAll()
    keys("8", Qt.Key.Key_Return)
    assert row.line.wrong
    assert row.said.text()
    window.desk.set_amounts({"hip_ease": "5"})
    assert row.line.wrong, "still true"
    window.desk.set_amounts({"length": "95"})
    assert not row.line.wrong
    assert not row.said.text()


def test_no_figure_is_parted_from_its_unit():
    said = unbroken("Hip 100.4 cm, ease 3 %, in 2 pieces; 37 3/8 in round")
    assert said.replace("\u00a0", "_") == (
        "Hip 100.4_cm, ease 3_%, in 2 pieces; 37_3/8_in round"
    )


def test_a_pull_of_two_amounts_is_undone_by_their_names(window):
    window.desk.settle({"front_spread": 40.0, "back_spread": 40.0})
    assert window.desk.history.undoText().startswith("change of ")
    assert "front flare at the break" in window.desk.history.undoText().lower()
    assert "measure" not in window.desk.history.undoText()


def test_a_side_far_from_the_other_is_asked_about(window):
    """A waist to hip of 20 and 31 cm is a figure in the wrong box."""
    row = measurement(window, "waist_to_hip")
    QTest.mouseClick(row.sign, Qt.MouseButton.LeftButton)
    before = window.desk.job
    enter(row.right, "31")
    assert row.question.isVisible()
    assert "left and right are 11 cm apart" in row.question.words.text()
    assert window.desk.job is before, "never silently"
    settled(window)
    QTest.mouseClick(row.question.leave, Qt.MouseButton.LeftButton)
    assert not row.question.isVisible()
    assert row.right.text() == "20"
    assert window.desk.job is before
    enter(row.right, "31")
    QTest.keyClick(row.right, Qt.Key.Key_Return)
    assert window.desk.job.card.measurements["waist_to_hip_right"] == "31"
    enter(row.left, "28")
    assert not row.question.isVisible(), "a high hip is nothing odd"


def test_what_raises_is_told_as_raising_and_typed_with_its_sign(window):
    window.desk.change(set_style(window.desk.job, styles.style("straight-block")))
    name = next(
        a.name
        for a in window.desk.job.draft.amounts
        if a.below_zero and window.desk.state(a.name).least < 0
    )
    window.desk.set_amounts({name: "-0.5 cm"})
    row = amount(window, name)
    shape = window.slips.shape
    shape.first_place().setFocus()
    assert row.line.text() == "0.5"
    assert row.name.text() == row.amount.below_zero
    row.line.setFocus()
    assert row.line.text() == "-0.5"
    assert row.name.text() == row.amount.label
    shape.first_place().setFocus()
    assert row.name.text() == row.amount.below_zero
