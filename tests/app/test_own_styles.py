"""A style of hers: kept from the order on the table and taken for another client."""

from __future__ import annotations

import pytest

from skirtwright.draft import styles
from skirtwright.job.edits import set_choice, set_style


def test_a_style_kept_is_taken_again_with_what_she_chose_and_set(window, tmp_path):
    desk = window.desk
    desk.change(set_style(desk.job, styles.style("straight")))
    desk.change(set_choice(desk.job, "at_hem", "flounce"))
    desk.set_amounts({"flounce_depth": "18 cm"})
    kept = tmp_path / "Ruby.style.json"
    assert window.commands.own_styles.keep(tmp_path / "Ruby")
    assert kept.exists()
    assert "Ruby" in window.line.words.text()
    drawn = {p.name: p.cut_area for p in desk.look.report.cut.pieces}
    desk.change(set_style(desk.job, styles.style("a-line")))
    assert window.commands.own_styles.take(kept)
    assert desk.job.draft.title == "Ruby"
    assert desk.job.draft.choice("at_hem").default == "flounce"
    assert desk.state("flounce_depth").value == 180
    again = {p.name: p.cut_area for p in desk.look.report.cut.pieces}
    assert again == drawn


def test_what_is_no_style_is_said_and_the_table_stays(window, tmp_path):
    wrong = tmp_path / "wrong.style.json"
    wrong.write_text('{"format": 2}', encoding="utf-8")
    before = window.desk.job
    assert not window.commands.own_styles.take(wrong)
    assert window.desk.job is before
    assert window.line.words.text().startswith("Your style:")


def test_a_name_without_letters_is_refused_and_nothing_is_written(window, tmp_path):
    assert not window.commands.own_styles.keep(tmp_path / "...")
    assert not list(tmp_path.glob("*.json"))


def test_keeping_asks_for_a_name_first_that_of_the_style(window):
    window.acts.by_name["keep_style"].trigger()
    dialog = window.files.dialog
    assert window.desk.job.draft.title in dialog.selectedFiles()[0]
    dialog.reject()


@pytest.mark.parametrize("way", ["among the styles", "from a file"])
def test_what_another_style_has_no_place_for_is_said(window, tmp_path, way):
    desk, styles_of_hers = window.desk, window.commands.own_styles
    desk.change(set_style(desk.job, styles.style("circle")))
    assert styles_of_hers.keep(tmp_path / "Coral")
    desk.change(set_style(desk.job, styles.style("straight")))
    desk.change(set_choice(desk.job, "patch_pocket", "front"))
    if way == "from a file":
        assert styles_of_hers.take(tmp_path / "Coral.style.json")
    else:
        window.commands.styles(name="circle")
        window.commands.chooser.take()
    said = window.line.words.text()
    assert "no place for" in said
    assert "Patch pockets: two, stitched on" in said
    # It goes with what she does next, and undo brings back what it speaks of.
    window.acts.by_name["undo"].trigger()
    assert "no place for" not in window.line.words.text()
    assert desk.job.choices["patch_pocket"] == "front"


def test_a_style_that_knows_all_that_was_chosen_says_nothing(window):
    desk = window.desk
    desk.change(set_style(desk.job, styles.style("straight")))
    desk.change(set_choice(desk.job, "patch_pocket", "front"))
    window.commands.styles(name="a-line")
    window.commands.chooser.take()
    assert desk.job.choices["patch_pocket"] == "front"
    assert "no place for" not in window.line.words.text()
