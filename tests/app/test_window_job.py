"""A whole job by keys alone, and undo to the last byte."""

from __future__ import annotations

import random

import pytest
from places import amount, settled, slip
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QFileDialog, QLineEdit

from skirtwright.app.slip_holder import SLIPS
from skirtwright.app.style_chooser import StylesChooser
from skirtwright.draft import styles
from skirtwright.job import file
from skirtwright.job.edits import (
    part_sides,
    set_amount,
    set_choice,
    set_measurement,
    set_style,
)
from skirtwright.measures.card import values_of
from skirtwright.problems import SkirtwrightError

CTRL = Qt.KeyboardModifier.ControlModifier
SHIFT = Qt.KeyboardModifier.ShiftModifier


def focus():
    return QApplication.focusWidget()


def test_a_whole_job_by_keys_alone(window, keys, qtbot, tmp_path, monkeypatch):
    """Rule 20: new client, measurements, flare, checks, save, export."""
    monkeypatch.chdir(tmp_path)
    keys(Qt.Key.Key_N, mods=CTRL)
    assert focus() is window.slips.measure.client
    assert window.desk.waits is not None
    assert "Waist" in window.line.words.text()
    keys("Clara Winterbourne", Qt.Key.Key_Tab)
    assert window.slips.measure.client.cursorPosition() == 0, "its beginning is seen"
    for text in ("29 1/8 in", "104,5", "21 cm", "595mm"):
        keys(text, Qt.Key.Key_Tab)
    assert window.desk.waits is None
    body = window.desk.look.worked.stated.measurements
    assert [body[n] for n in ("waist", "hip", "waist_to_hip", "waist_to_knee")] == (
        pytest.approx([739.775, 1045, 210, 595])
    )
    assert "Clara Winterbourne" in window.windowTitle()
    assert "not saved" in window.windowTitle()
    before = window.desk.look.report.finished["sweep"]
    keys(Qt.Key.Key_F3)
    line = window.slips.shape.amounts["front_spread"].line
    for _ in range(40):
        if focus() is line:
            break
        keys(Qt.Key.Key_Tab)
    assert focus() is line
    keys(Qt.Key.Key_Up, Qt.Key.Key_Up, Qt.Key.Key_PageUp)
    assert window.desk.state("front_spread").value == pytest.approx(42)
    assert window.desk.look.report.finished["sweep"] > before
    keys(Qt.Key.Key_F8)
    assert window.slips.open_name == "check"
    keys(Qt.Key.Key_S, mods=CTRL)
    assert "Saved in the client book" in window.band.state.accessibleName()
    keys(Qt.Key.Key_S, mods=CTRL | Qt.KeyboardModifier.ShiftModifier)
    type_name(keys, qtbot, window, tmp_path / "clara.skirt")
    assert file.load(tmp_path / "clara.skirt") == window.desk.job
    assert "not saved" not in window.windowTitle()
    assert "Saved in clara.skirt" in window.band.state.accessibleName()
    keys(Qt.Key.Key_E, mods=CTRL)
    type_name(keys, qtbot, window, tmp_path / "clara.svg")
    text = (tmp_path / "clara.svg").read_text("utf-8")
    assert text.startswith("<?xml")
    assert "Clara Winterbourne" in text
    keys(Qt.Key.Key_Q, mods=CTRL)
    assert not window.isVisible()


def type_name(keys, qtbot, window, path) -> None:
    """Answer a file dialog with keys."""
    dialog = window.files.dialog
    assert isinstance(dialog, QFileDialog)
    dialog.activateWindow()
    qtbot.waitUntil(dialog.isActiveWindow)
    line = dialog.findChild(QLineEdit, "fileNameEdit")
    # Its list of names would be a window of its own, which offscreen cannot give keys.
    line.setCompleter(None)
    line.setFocus()
    line.selectAll()
    QTest.keyClicks(line, str(path))
    QTest.keyClick(line, Qt.Key.Key_Return)
    qtbot.waitUntil(path.exists)
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)


def something_to_a_piece(window, chance: random.Random) -> None:
    """A name, a tick, an allowance, a notch or a set, as the list has them."""
    pieces, look = window.piecework.desk, window.desk.look
    piece = chance.choice(look.pieces)
    state = chance.choice(pieces.seams(look))
    what = chance.randrange(6)
    if what == 0:
        pieces.rename(piece.name, chance.choice(["", "Tail", "Of silk, doubled"]))
    elif what == 1:
        pieces.show(piece.name, chance.random() < 0.5)
    elif what == 2 and state.allowances:
        text = chance.choice([None, "2", "5/8 in", "waist / 50"])
        parts = chance.choice(state.allowances).parts
        pieces.set_allowance([(part.piece, part.key) for part in parts], text)
    elif what == 3:
        name, edge = chance.choice(state.edges)
        pieces.add_notch_in_middle(name, edge)
    elif what == 4 and any(notch.piece for notch in state.notches):
        notch = next(notch for notch in state.notches if notch.piece)
        pieces.remove_notch(notch.piece, notch.number)
    else:
        slip(window, "cut")
        box = window.slips.cut.sets.box
        box.activated.emit(chance.randrange(box.count()))


def some_action(window, chance: random.Random) -> None:
    """Something she might do, through the desk as the slips do it."""
    slip(window, "shape")
    desk = window.desk
    amounts = [s for s in desk.look.worked.stated.amounts.values() if s.applies]
    what = chance.randrange(9)
    if what > 6:
        something_to_a_piece(window, chance)
        return
    state = chance.choice(amounts)
    name = state.amount.name
    share = chance.random()
    value = state.least + (state.most - state.least) * share
    if what == 0:
        desk.settle({name: value})
    elif what == 1:
        desk.set_amounts({name: None})
    elif what == 2:
        desk.pull({name: value})
        desk.settle({name: value})
    elif what == 3:
        desk.pull({name: value})
        desk.drop()
    elif what == 4:
        row = chance.choice(list(window.slips.shape.choices.values()))
        row.box.activated.emit(chance.randrange(row.box.count()))
    elif what == 5:
        hip = f"{94 + chance.randrange(20)} cm"
        desk.change(set_measurement(desk.job, "hip", hip))
    else:
        row = chance.choice(list(window.slips.shape.amounts.values()))
        row.step(chance.choice([-10, -1, 1, 10]))


@pytest.mark.sampled
def test_a_slip_opened_by_mouse_has_no_field_in_hand_and_tab_goes_to_its_first(
    window, keys
):
    names = dict(zip(SLIPS, window.band.names, strict=True))
    for name in ("shape", "cut"):
        QTest.mouseClick(names[name], Qt.MouseButton.LeftButton)
        slip = window.slips[name]
        assert focus() is slip
        keys(Qt.Key.Key_Tab)
        assert focus() is slip.first_place()
    QTest.mouseClick(names["cut"], Qt.MouseButton.LeftButton)
    assert focus() is window.table
    keys(Qt.Key.Key_F12)
    assert focus() is slip.first_place(), "by keys the first field is in hand"


def test_undo_of_random_actions_gives_the_same_bytes(window, at_length):
    """Rule 14, of 200 actions."""
    chance, actions = random.Random(1), 200 if at_length else 25
    desk = window.desk
    before = file.written(desk.job)
    refused = 0
    for _ in range(actions):
        try:
            some_action(window, chance)
        except SkirtwrightError:
            refused += 1
    assert refused < actions / 5
    done = desk.history.count()
    assert done > 0.45 * actions, "most of the actions did something"
    after = file.written(desk.job)
    for _ in range(done):
        desk.history.undo()
    assert file.written(desk.job) == before
    assert desk.saved
    for _ in range(done):
        desk.history.redo()
    assert file.written(desk.job) == after


def test_every_step_is_named_and_the_menu_says_it(window):
    """Rule 13."""
    window.desk.set_amounts({"front_spread": "4"})
    undo = window.acts.by_name["undo"]
    assert undo.text() == "&Undo change of Front flare at the break"
    window.desk.change(set_measurement(window.desk.job, "hip", "101"))
    assert undo.text() == "&Undo change of Hip"
    undo.trigger()
    assert undo.text() == "&Undo change of Front flare at the break"
    assert window.acts.by_name["redo"].text() == "&Redo change of Hip"
    window.desk.set_amounts({"front_spread": None})
    assert undo.text() == "&Undo Front flare at the break back to what the style has"
    for _ in range(3):
        undo.trigger()
    assert not undo.isEnabled()
    assert undo.text() == "&Undo"


def test_undo_says_what_it_did_and_brings_it_into_sight(opened):
    """Rule 14: what changed is seen."""
    window = opened(None, (1024, 700))
    slip(window, "shape")
    window.desk.set_amounts({"length": "100"})
    for fold in window.slips.shape.folds.values():
        fold.unfold()
    bar = window.slips.shape.scrolled.verticalScrollBar()
    bar.setValue(bar.maximum())
    row = amount(window, "length")
    assert row.visibleRegion().isEmpty()
    window.acts.by_name["undo"].trigger()
    assert not row.visibleRegion().isEmpty()
    assert window.pointed.text() == "Undone: change of Length."


def test_a_new_client_has_the_choices_on_the_table_and_no_lengths_of_another(window):
    chosen = set_choice(window.desk.job, "waist_shape", "side_elastic").job
    window.desk.change(set_amount(chosen, "length", "80"))
    window.acts.by_name["new_client"].trigger()
    job = window.desk.job
    assert (job.choices, job.amounts) == ({"waist_shape": "side_elastic"}, {})


def test_until_the_sheet_is_complete_the_sample_stays_and_is_said_to(window):
    window.acts.by_name["new_client"].trigger()
    assert "Waist" in window.line.words.text()
    assert window.slips.open_name == "measure"
    assert [p.code for p in window.desk.problems] == ["draft.measurement_missing"]
    assert window.desk.drawing.worked.stated.measurements["waist"] == 720
    for name, text in (("waist", "70"), ("hip", "96"), ("waist_to_hip", "20")):
        window.desk.change(set_measurement(window.desk.job, name, text))
        assert window.desk.waits is not None
    window.acts.by_name["export"].trigger()
    assert "cannot be exported yet" in window.line.words.text()
    window.desk.change(set_measurement(window.desk.job, "waist_to_knee", "58"))
    assert window.desk.waits is None
    slip(window, "check")
    assert "Waist 71.5 cm" in window.slips.check.figures.accessibleName()


def test_a_new_client_in_inches(window):
    """Her figures are hers in her unit, and no other woman's stand in for the rest."""
    window.settings.choose("unit", "in")
    window.acts.by_name["new_client"].trigger()
    window.desk.change(set_measurement(window.desk.job, "waist", "28"))
    assert values_of(window.desk.job.card) == {"waist": pytest.approx(711.2)}
    assert window.desk.waits is not None
    for name, text in (("hip", "38"), ("waist_to_hip", "8"), ("waist_to_knee", "23")):
        window.desk.change(set_measurement(window.desk.job, name, text))
    assert window.desk.waits is None
    taken = window.desk.look.worked.stated.measurements
    assert (taken["waist"], taken["hip"]) == pytest.approx((711.2, 965.2))


def test_another_style_before_the_sheet_is_complete(window):
    window.acts.by_name["new_client"].trigger()
    window.desk.change(set_style(window.desk.job, styles.style("straight-block")))
    assert window.desk.waits is not None
    slip(window, "shape")
    assert set(window.slips.shape.amounts) == {"length", "waist_ease", "hip_ease"}
    assert window.desk.look.job.draft.id == "straight-block"
    window.desk.history.undo()
    assert "front_spread" in window.slips.shape.amounts


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("99999999999 in", "draft.length_out_of_reach"),
        ("hip * 99999999", "draft.length_out_of_reach"),
        ("-40", "field.beyond_length"),
    ],
)
def test_far_beyond_is_refused_before_anything_is_drawn(window, text, code):
    look = window.desk.look
    with pytest.raises(SkirtwrightError) as refused:
        window.desk.set_amounts({"waist_drop_back": text})
    assert refused.value.problem.code == code
    assert window.desk.look is look


def test_undo_is_reached_from_inside_a_field(window, keys):
    line = amount(window, "front_spread").line
    line.setFocus()
    keys(Qt.Key.Key_Up)
    assert window.desk.history.count() == 1
    keys(Qt.Key.Key_Z, mods=CTRL)
    assert window.desk.job.amounts == {}
    assert line.text() == "3"
    keys(Qt.Key.Key_Z, mods=CTRL | SHIFT)
    assert line.text() == "3.1"


def test_what_the_table_pulls_is_one_step(window):
    table, desk = window.table, window.desk
    slip(window, "shape")
    for value in (31.0, 35.0, 44.44):
        table.pulling.emit({"front_spread": value})
    assert desk.history.count() == 0
    assert amount(window, "front_spread").line.text() == "4.44"
    table.dropped.emit()
    assert amount(window, "front_spread").line.text() == "3"
    table.pulling.emit({"front_spread": 44.44})
    table.pulled.emit({"front_spread": 44.44})
    assert desk.history.count() == 1
    assert desk.job.amounts == {"front_spread": "44.44 mm"}


def test_two_measures_pulled_at_once_are_one_step(window):
    window.desk.settle({"dart_place_front": 90.0, "dart_above_hip_front": 80.0})
    assert window.desk.history.count() == 1
    window.desk.history.undo()
    assert window.desk.job.amounts == {}


def test_findings_follow_a_pull_and_equal_the_command_line(window, tmp_path):
    import json

    from skirtwright.cli import main

    for _ in range(10):
        QTest.mouseClick(amount(window, "front_spread").more, Qt.MouseButton.LeftButton)
    report = tmp_path / "r.json"
    assert main(
        ["check", "mermaid", "--amount", "front_spread=4cm", "--report", str(report)]
    ) in (0, 1)
    told = json.loads(report.read_text())
    assert window.desk.history.count() == 10
    assert told["finished"] == pytest.approx(dict(window.desk.look.report.finished))
    shown = [p.code for p in window.desk.problems]
    assert shown == [p["code"] for p in told["problems"]]
    for _ in range(10):
        window.desk.history.undo()
    assert window.desk.job.amounts == {}


def test_the_last_good_drawing_stays(window):
    """A measurement that makes the draft stop: told, and the drawing is kept."""
    good = window.desk.drawing
    window.desk.change(set_measurement(window.desk.job, "waist_to_knee", "28"))
    assert not window.desk.look.drawn
    assert window.desk.drawing is good
    assert window.desk.problems[0].stops
    window.desk.history.undo()
    assert window.desk.look.drawn


def test_another_style_keeps_client_and_common_measures(window, qtbot):
    window.desk.set_amounts({"hip_ease": "5"})
    QTest.mouseClick(window.band.style_name, Qt.MouseButton.LeftButton)
    chooser = window.commands.chooser
    assert window.line.words.text().startswith("Mermaid skirt: ")
    names = [
        chooser.list.item(row).data(Qt.ItemDataRole.UserRole)
        for row in range(chooser.list.count())
    ]
    assert sorted(filter(None, names)) == sorted(styles.names())
    mermaid = chooser.list.currentItem()
    qtbot.waitUntil(lambda: card_of(mermaid).figure is not None)
    assert mermaid.text().splitlines()[1].endswith("round")
    drawn = card_of(mermaid).figure.pictures
    chooser.reject()
    QTest.mouseClick(window.band.style_name, Qt.MouseButton.LeftButton)
    chooser = window.commands.chooser
    chooser.draw_next()
    again = card_of(chooser.list.currentItem()).figure
    assert again.pictures is drawn, "kept from the last visit"
    chooser.list.setCurrentRow(names.index("straight-block"))
    assert window.line.words.text().startswith("Straight skirt block: ")
    assert window.line.buttons[0].text() == "Take this style"
    QTest.mouseClick(window.line.buttons[0], Qt.MouseButton.LeftButton)
    assert window.over is None
    assert window.line.code == ""
    assert window.desk.job.draft.id == "straight-block"
    assert window.desk.job.amounts == {"hip_ease": "5"}
    assert window.desk.job.card.name == "Orla Penhallow"
    window.desk.history.undo()
    assert window.desk.job.draft.id == "mermaid"


@pytest.fixture
def no_figures(monkeypatch):
    """The styles stand in their places, but no skirt is worked for them."""
    monkeypatch.setattr(StylesChooser, "draw_next", lambda _: None)


def test_what_is_said_of_a_style_is_never_cut(opened, no_figures):
    window = opened(None, (1024, 700))
    window.acts.by_name["styles"].trigger()
    chooser, words = window.commands.chooser, window.line.words
    for row in range(chooser.list.count()):
        chooser.list.setCurrentRow(row)
        settled(window)
        assert words.heightForWidth(words.width()) <= words.height(), words.text()


def card_of(item):
    return item.data(Qt.ItemDataRole.UserRole + 1)


def test_styles_lie_six_by_two_by_families_and_more_are_scrolled_to(window, no_figures):
    window.acts.by_name["styles"].trigger()
    chooser = window.commands.chooser
    settled(window)
    now = chooser.list.visualItemRect(chooser.list.currentItem())
    assert chooser.list.viewport().rect().contains(now.center())
    # The order's own style is scrolled to, and it may stand below the first two rows.
    chooser.list.scrollToTop()
    items = [chooser.list.item(row) for row in range(chooser.list.count())]
    areas = [chooser.list.visualItemRect(item) for item in items]
    assert len({area.top() for area in areas[:6]}) == 1
    assert areas[6].left() == areas[0].left()
    assert areas[6].top() > areas[0].bottom() - 4
    room = chooser.list.viewport().rect()
    assert all(room.contains(area.adjusted(1, 1, -1, -1)) for area in areas[:12])
    assert chooser.list.verticalScrollBar().maximum() > 0
    cards = [card for item in items if (card := card_of(item)) is not None]
    firsts = [(card.family, card.title) for card in cards if card.family]
    assert [family for family, _ in firsts] == [f for f, _ in styles.families()]
    assert firsts[0] == ("Straight and narrow", "Straight skirt block")


def test_a_style_is_chosen_by_a_click_or_a_key_and_only_so(
    window, qtbot, keys, no_figures
):
    """What the pointer passes over, or what scrolls under it, is not in hand."""
    QTest.mouseMove(window.table, window.table.rect().center())
    keys(Qt.Key.Key_T, mods=CTRL)
    sheet = window.commands.chooser.list
    settled(window)
    assert card_of(sheet.currentItem()).is_now
    # The order's own style is scrolled to, and it may stand below the first two rows.
    sheet.scrollToTop()
    first, second, third = (
        sheet.visualItemRect(sheet.item(row)).center() for row in range(3)
    )
    QTest.mouseClick(sheet.viewport(), Qt.MouseButton.LeftButton, pos=third)
    said = window.line.words.text()
    assert said.startswith(sheet.item(2).text())
    at_rest = sheet.grab().toImage()
    for place in (first, second, second + QPoint(3, 3)):
        QTest.mouseMove(sheet.viewport(), place)
    qtbot.waitUntil(lambda: sheet.grab().toImage() != at_rest)
    sheet.scrollToBottom()
    settled(window)
    assert (sheet.currentRow(), window.line.words.text()) == (2, said)
    keys(Qt.Key.Key_Right)
    assert sheet.currentRow() == 3
    QTest.mouseClick(window.line.buttons[0], Qt.MouseButton.LeftButton)
    assert window.over is None
    assert window.desk.job.draft.id == "wrap"


def test_a_style_no_family_lists_stands_among_the_last(monkeypatch):
    from skirtwright import shelf

    listed = {
        "order": ["one", "two", "new"],
        "families": [
            {"title": "First", "styles": ["one", "gone"]},
            {"title": "Last", "styles": ["two"]},
        ],
    }
    monkeypatch.setattr(shelf, "read_json", lambda _: listed)
    assert styles.families() == (("First", ("one",)), ("Last", ("two", "new")))


def test_the_styles_are_left_by_escape(window, keys, no_figures):
    window.acts.by_name["styles"].trigger()
    assert window.over is not None
    keys(Qt.Key.Key_Escape)
    assert window.over is None
    assert window.desk.job.draft.id == "mermaid"


def test_amounts_are_changed_while_left_and_right_differ(window):
    """Each of the first six, up and down: what she set is in the order and drawn."""
    desk = window.desk
    desk.change(part_sides(desk.job, "waist_to_hip"))
    desk.change(set_measurement(desk.job, "waist_to_hip_right", "21.5"))
    lengths = [a for a in desk.job.draft.amounts if a.kind == "length"]
    for known in lengths[:6]:
        value = desk.state(known.name).value
        for text in (f"{value + 2} mm", f"{value - 2} mm"):
            desk.set_amounts({known.name: text})
            assert desk.job.amounts[known.name] == text
            drawn = desk.look.worked.stated.amounts[known.name].value
            assert drawn == pytest.approx(float(text.split()[0]))


def test_undo_of_an_amount_while_measurements_lie_open_is_no_fault(window, keys):
    """Names that are no measurement are passed over by the slip."""
    line = amount(window, "hip_ease").line
    line.setFocus()
    line.selectAll()
    keys("7", Qt.Key.Key_Return)
    slip(window, "measure")
    assert window.slips.open_name == "measure"
    keys(Qt.Key.Key_Z, mods=CTRL)
    assert "hip_ease" not in window.desk.job.amounts
    keys(Qt.Key.Key_Z, mods=CTRL | SHIFT)
    assert window.desk.job.amounts["hip_ease"] == "7"
    assert window.desk.history.index() == 1


@pytest.mark.parametrize(("key", "mods"), [("Z", CTRL | SHIFT), ("Y", CTRL)])
def test_redo_in_a_number_field_is_the_orders(window, keys, key, mods):
    line = amount(window, "hip_ease").line
    line.setFocus()
    line.selectAll()
    keys("7", Qt.Key.Key_Return)
    keys(Qt.Key.Key_Z, mods=CTRL)
    assert "hip_ease" not in window.desk.job.amounts
    keys(getattr(Qt.Key, f"Key_{key}"), mods=mods)
    assert window.desk.job.amounts["hip_ease"] == "7"


def test_another_order_of_the_same_style_lies_whole_in_view(window, qtbot, tmp_path):
    path = tmp_path / "other.skirt"
    file.save(window.desk.job, path)
    table = window.table
    table.true_size()
    assert table.view.scale != pytest.approx(table.best_fit().view.scale, rel=0.01)
    assert window.files.open(path)
    qtbot.waitUntil(
        lambda: table.view.scale == pytest.approx(table.best_fit().view.scale, rel=0.01)
    )


def test_typing_undone_in_a_number_field_is_redone_there(window, keys):
    line = amount(window, "hip_ease").line
    line.setFocus()
    line.selectAll()
    keys("8", Qt.Key.Key_Return)
    keys(Qt.Key.Key_Z, mods=CTRL)
    assert window.desk.history.canRedo()
    line.selectAll()
    before = line.text()
    keys("7")
    keys(Qt.Key.Key_Z, mods=CTRL)
    for _ in range(3):
        if line.text() != before:
            keys(Qt.Key.Key_Z, mods=CTRL)
    assert line.text() == before
    for _ in range(3):
        if line.text() != "7":
            keys(Qt.Key.Key_Z, mods=CTRL | SHIFT)
    assert line.text() == "7"
    assert "hip_ease" not in window.desk.job.amounts


@pytest.mark.parametrize("wide", [1440, 1024])
def test_the_line_under_the_styles_is_as_tall_for_each(window, wide, no_figures):
    window.resize(wide, 700)
    window.acts.by_name["styles"].trigger()
    styles_shown = window.commands.chooser.list
    tall, takes = set(), set()
    for row in range(styles_shown.count()):
        styles_shown.setCurrentRow(row)
        tall.add(window.line.height())
        takes.add(window.line.buttons[0].sizeHint().width())
        assert window.line.words.heightForWidth(window.line.words.width()) <= max(tall)
    assert len(tall) == 1, tall
    assert len(takes) == 1, "its button does not move under the hand"


@pytest.mark.parametrize("style", ["mermaid", "pegged", "circle", "straight"])
def test_how_the_skirt_is_made_up_stands_in_sight(window, style):
    window.desk.change(set_style(window.desk.job, styles.style(style)))
    shape = slip(window, "shape")
    choices = window.desk.job.draft.choices
    made_up = {"waist_shape", "closing", "zip_kind", "lining", "pocket", "finish"}
    for choice in choices:
        if choice.name in made_up and window.desk.look.worked.applies(choice):
            assert shape.choices[choice.name].isVisible(), choice.name
    if window.desk.job.draft.id != "pegged":
        window.desk.change(set_choice(window.desk.job, "waist_shape", "side_elastic"))
        assert not shape.choices["finish"].isVisible()
        if any(choice.name == "elastic_kind" for choice in choices):
            assert shape.choices["elastic_kind"].isVisible()
    # How darts are drafted is a fold away.
    assert "dart_axis" not in shape.choices
