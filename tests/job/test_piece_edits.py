"""What she sets for single pieces: names, allowances, notches, shown or hidden."""

from __future__ import annotations

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from drafting import OneWorktable
from skirtwright.draft import styles
from skirtwright.export.pattern import Drawing, pattern_of, svg_of
from skirtwright.export.report_json import as_json
from skirtwright.job import edits, file, piece_edits
from skirtwright.job.job import new_job
from skirtwright.problems import SkirtwrightError
from skirtwright.words import Manner, has_message, remedy, say


@pytest.fixture(scope="module")
def job():
    return new_job(styles.style("mermaid"))


@pytest.fixture(scope="module")
def table():
    return OneWorktable()


def piece_of(look, name):
    return next(piece for piece in look.pieces if piece.name == name)


def widths(look, piece, edge):
    found = next(e for e in piece_of(look, piece).edges if e.name == edge)
    return [width for width, _ in found.allowances]


def marks(look, piece, edge):
    return {
        (round(n.distance, 3), n.count)
        for n in piece_of(look, piece).notches
        if n.edge == edge and not n.dart
    }


EDITS = [
    ("name", lambda job: piece_edits.rename_piece(job, "front", "Tail, front")),
    ("hidden", lambda job: piece_edits.show_piece(job, "front", on=False)),
    ("allowance", lambda job: piece_edits.set_allowance(job, "front", "side", "2.2")),
    ("run", lambda job: piece_edits.set_allowance(job, "back", "centre[1]", "3")),
    ("notch", lambda job: piece_edits.add_notch(job, "front", "side", "30", 2)),
    (
        "several",
        lambda job: piece_edits.set_allowances(
            job, {("front", "hem"): "4", ("back", "hem"): "4"}, "Workroom"
        ),
    ),
]


@pytest.mark.parametrize(("name", "edit"), EDITS, ids=[n for n, _ in EDITS])
def test_an_edit_has_a_name_and_goes_round_the_file(job, name, edit):
    before = job.model_dump_json()
    done = edit(job)
    assert job.model_dump_json() == before
    assert done.job != job
    assert has_message(done.name)
    words = say(done.name, done.values)
    assert "?" not in words
    assert "{" not in words
    assert file.read(file.written(done.job), "o.skirt") == done.job


def test_a_name_of_her_own_is_on_the_label_and_goes_back(job, table):
    done = piece_edits.rename_piece(job, "front", "  Tail,   front ").job
    look = table.look(done)
    assert piece_of(look, "front").spec.title == "Tail, front"
    assert "Tail, front" in svg_of(look.report, "", Manner())
    assert piece_edits.rename_piece(done, "front", "").job == job
    with pytest.raises(SkirtwrightError) as refused:
        piece_edits.rename_piece(job, "front", "x" * 81)
    assert "80 letters" in remedy(refused.value.problem)


def test_a_hidden_piece_is_off_the_paper_and_still_checked(job, table):
    done = piece_edits.show_piece(job, "back", on=False).job
    whole, look = table.look(job), table.look(done)
    assert {p.name for p in whole.shown} - {p.name for p in look.shown} == {"back"}
    assert [p.name for p in look.pieces] == [p.name for p in whole.pieces]
    assert look.report.problems == whole.report.problems
    assert [w.lengths for w in look.report.cut.seams] == [
        w.lengths for w in whole.report.cut.seams
    ]
    listed = {p["name"]: p["hidden"] for p in as_json(look.report)["pieces"]}
    assert listed["back"] is True
    assert listed["front"] is False
    names = {group.name for group in pattern_of(look.report, "", Manner()).groups}
    assert "Back" not in names
    asked = pattern_of(look.report, "", Manner(), Drawing(only=["back"]))
    assert [group.name for group in asked.groups] == ["Back"]
    assert piece_edits.show_piece(done, "back", on=True).job == job


def test_one_run_of_an_edge_is_set_by_itself(job, table):
    assert widths(table.look(job), "back", "centre") == [25, 20]
    first = piece_edits.set_allowance(job, "back", "centre[1]", "3 cm").job
    assert widths(table.look(first), "back", "centre") == [30, 20]
    both = piece_edits.set_allowance(first, "back", "centre[2]", "3 cm").job
    assert widths(table.look(both), "back", "centre") == [30]
    whole = piece_edits.set_allowance(first, "back", "centre", "1.5 cm").job
    assert whole.piece("back").allowances == {"centre": "1.5 cm"}
    assert widths(table.look(whole), "back", "centre") == [15]
    assert piece_edits.set_allowance(whole, "back", "centre", None).job == job


def test_a_bare_number_is_in_the_unit_of_the_order(job, table):
    inches = edits.set_unit(job, "in").job
    done = piece_edits.set_allowance(inches, "front", "side", "1").job
    done = piece_edits.add_notch(done, "front", "side", "12 1/2").job
    look = table.look(done)
    assert widths(look, "front", "side") == [pytest.approx(25.4)]
    assert (317.5, 1) in marks(look, "front", "side")
    again = table.look(edits.set_unit(done, "cm").job)
    assert widths(again, "front", "side") == [pytest.approx(25.4)]
    assert (317.5, 1) in marks(again, "front", "side")


def test_a_notch_is_matched_across_its_seam(job, table):
    done = piece_edits.add_notch(job, "back", "side", "30", 3).job
    look = table.look(done)
    assert (300, 3) in marks(look, "front", "side") & marks(look, "back", "side")
    gone = piece_edits.remove_notch(done, "back", 0).job
    assert gone == job
    moved = piece_edits.change_notch(done, "back", 0, at="31", count=1).job
    look = table.look(moved)
    assert (310, 1) in marks(look, "front", "side") & marks(look, "back", "side")
    assert (300, 3) not in marks(look, "front", "side")


def test_a_notch_at_the_waist_goes_on_to_the_band(job, table):
    before = marks(table.look(job), "band", "joins")
    done = piece_edits.add_notch(job, "front", "waist", "10 cm").job
    fresh = marks(table.look(done), "band", "joins") - before
    assert len(fresh) == 2, "on either side of the fold at the centre front"
    low, high = sorted(distance for distance, _ in fresh)
    middle = (low + high) / 2
    assert {(round(middle, 1), 1)} <= {(round(d, 1), c) for d, c in before}


@settings(
    max_examples=12,
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
@given(st.floats(20, 900), st.integers(1, 3), st.sampled_from(["front", "back"]))
def test_a_notch_lies_as_far_along_both_edges(job, table, at, count, piece):
    done = piece_edits.add_notch(job, piece, "side", f"{at:.3f} mm", count).job
    look = table.look(done)
    both = marks(look, "front", "side") & marks(look, "back", "side")
    assert any(abs(d - at) < 0.01 and c == count for d, c in both)


def test_a_notch_that_is_off_its_edge_or_twice(job, table):
    done = piece_edits.add_notch(job, "front", "side", "300 cm").job
    assert "pieces.notch_off_edge" in {p.code for p in table.look(done).problems}
    with pytest.raises(SkirtwrightError) as refused:
        piece_edits.add_notch(done, "front", "side", "300 cm")
    assert refused.value.problem.code == "pieces.notch_there"
    for count in (0, 4):
        with pytest.raises(SkirtwrightError) as refused:
            piece_edits.add_notch(job, "front", "side", "3", count)
        assert refused.value.problem.code == "pieces.snips"
    with pytest.raises(SkirtwrightError) as refused:
        piece_edits.remove_notch(job, "front", 0)
    assert refused.value.problem.code == "pieces.no_notch"


def test_what_is_set_for_an_edge_that_is_gone_is_kept_and_said(job, table):
    done = piece_edits.add_notch(job, "front", "pocket", "3 cm").job
    found = [p for p in table.look(done).problems if p.code == "pieces.setting_unused"]
    assert len(found) == 1
    assert found[0].severity == "note"
    assert done.piece("front").notches


def test_what_is_set_for_a_lining_left_out_is_kept_in_quiet(job, table):
    done = piece_edits.set_allowance(job, "front_lining", "hem", "3").job
    bare = edits.set_choice(done, "lining", "unlined").job
    look = table.look(bare)
    assert "front_lining" not in {piece.name for piece in look.pieces}
    assert "pieces.setting_unused" not in {p.code for p in look.problems}
    back = edits.set_choice(bare, "lining", "lined").job
    assert widths(table.look(back), "front_lining", "hem") == [30]


def test_what_is_set_for_a_half_holds_for_left_and_right(job, table):
    done = piece_edits.set_allowance(job, "front", "hem", "4").job
    done = piece_edits.rename_piece(done, "front", "Tail").job
    done = piece_edits.add_notch(done, "front", "side", "30").job
    uneven = edits.set_measurement(done, "waist_to_hip_left", "21 cm").job
    look = table.look(uneven)
    assert {"front_left", "front_right"} <= {piece.name for piece in look.pieces}
    for side in ("left", "right"):
        assert widths(look, f"front_{side}", "hem") == [40]
        assert piece_of(look, f"front_{side}").spec.title == f"Tail, {side}"
        assert (300, 1) in marks(look, f"back_{side}", "side")


def test_a_half_set_by_itself_keeps_what_was_set_for_both(job, table):
    done = piece_edits.set_allowance(job, "front", "hem", "4").job
    done = piece_edits.rename_piece(done, "front", "Tail").job
    uneven = edits.set_measurement(done, "waist_to_hip_left", "21 cm").job
    left = piece_edits.set_allowance(uneven, "front_left", "side", "3").job
    look = table.look(left)
    assert widths(look, "front_left", "hem") == widths(look, "front_right", "hem")
    assert widths(look, "front_left", "side") == [30]
    assert widths(look, "front_right", "side") == [15]
    assert piece_of(look, "front_left").spec.title == "Tail, left"
    bare = piece_edits.set_allowance(left, "front_left", "side", None).job
    bare = piece_edits.set_allowance(bare, "front_left", "hem", None).job
    bare = piece_edits.rename_piece(bare, "front_left", "").job
    look = table.look(bare)
    assert widths(look, "front_left", "hem") == [25], "the style's on the left alone"
    assert widths(look, "front_right", "hem") == [40]
    assert file.read(file.written(bare), "o.skirt") == bare
