"""Pieces cut apart and sewn together again.

Every expected number is plain geometry: what is cut apart adds up to what it was.
"""

from __future__ import annotations

import pytest

from drafting import OneWorktable
from skirtwright.draft import styles
from skirtwright.export.sewing.making_up_sheet import making_of
from skirtwright.job.job import new_job
from skirtwright.job.piece_edits import set_across, set_allowance, set_joins
from skirtwright.words import Manner, says


@pytest.fixture(scope="module")
def table():
    """One table for all orders of this file."""
    return OneWorktable()


def joined(table, style, **joins):
    """An order of a style, and the same with pieces joined."""
    job = new_job(styles.style(style))
    made = set_joins(job, {piece: at.split() for piece, at in joins.items()}).job
    return table.look(job), table.look(made)


CASES = [
    ("circle", {"front": "50", "back": "50"}),
    ("tiered", {"front_3": "20 45"}),
    ("straight", {"front": "15", "band": "36"}),
]


@pytest.mark.parametrize(("style", "joins"), CASES)
def test_parts_add_up_to_the_piece(table, style, joins):
    before, after = joined(table, style, **joins)
    whole = {piece.name: piece for piece in before.pieces}
    for name, at in joins.items():
        parts = [p for p in after.pieces if p.name.startswith(f"{name}_part_")]
        assert len(parts) == len(at.split()) + 1
        areas = sum(part.stitch_area for part in parts)
        assert areas == pytest.approx(whole[name].stitch_area, abs=0.5)
        for edge in whole[name].edges:
            runs = [e.length for p in parts for e in p.edges if e.name == edge.name]
            assert sum(runs) == pytest.approx(edge.length, abs=0.01)
        # On a fold the first part stays there; of the others a pair is cut.
        folds = [bool(part.spec.folds) for part in parts]
        on_fold = bool(whole[name].spec.folds)
        assert folds == [on_fold] + [False] * (len(parts) - 1)
        times = 2 if on_fold else 1
        assert {p.spec.count for p in parts[1:]} == {times * whole[name].spec.count}


@pytest.mark.parametrize(("style", "joins"), CASES)
def test_the_join_is_a_seam_and_the_others_are_as_long_as_they_were(
    table, style, joins
):
    before, after = joined(table, style, **joins)
    known = {walked.seam.name: walked for walked in before.report.cut.seams}
    made = [w for w in after.report.cut.seams if w.seam.name not in known]
    assert len(made) == sum(len(at.split()) for at in joins.values())
    for walked in made:
        assert walked.lengths[0] == pytest.approx(walked.lengths[1], abs=1e-6)
    for walked in after.report.cut.seams:
        if walked.seam.name in known:
            assert walked.lengths == pytest.approx(known[walked.seam.name].lengths)
    # The skirt is the same: nothing is found that was not before.
    codes = {(p.code, p.where) for p in after.problems}
    assert codes <= {(p.code, p.where) for p in before.problems}


def test_marks_of_a_seam_meet_over_the_parts(table):
    _, after = joined(table, "straight", front="15")
    cut = after.report.cut
    names = {"front_part_1", "front_part_2"}
    marks = {name: [] for name in names}
    for piece in cut.pieces:
        if piece.name in names:
            marks[piece.name] += [n for n in piece.notches if n.edge == "join"]
    one, two = ([(n.distance, n.count) for n in marks[n]] for n in sorted(names))
    # 59 cm: no seam is without a mark for more than 35.
    assert one == two != []


def test_on_the_fold_a_seam_takes_its_place(table):
    before, after = joined(table, "circle", front="0")
    front = next(piece for piece in after.pieces if piece.name == "front")
    assert (front.spec.folds, front.spec.count, front.spec.mirrored) == ((), 2, True)
    centre = next(edge for edge in front.edges if edge.name == "centre")
    assert centre.allowance == 15.0
    assert len(after.report.cut.seams) == len(before.report.cut.seams) + 1


def test_an_allowance_of_the_piece_holds_for_its_parts_and_of_a_part_for_itself(table):
    job = new_job(styles.style("circle"))
    job = set_allowance(job, "front", "hem", "3").job
    job = set_joins(job, {"front": ("50",)}).job
    job = set_allowance(job, "front_part_2", "join", "2").job
    look = table.look(job)
    found = {(p.name, e.name): e.allowance for p in look.pieces for e in p.edges}
    assert found["front_part_1", "hem"] == found["front_part_2", "hem"] == 30.0
    assert found["front_part_1", "join"] == 15.0
    assert found["front_part_2", "join"] == 20.0
    # Taken away, what was set for the part goes with it.
    back = set_joins(job, {"front": ()}).job
    assert [own.piece for own in back.pieces] == ["front"]


@pytest.mark.parametrize("at", ["1", "200", "{dart}"])
def test_a_join_that_cannot_be_is_told_and_the_piece_stays_whole(table, at):
    front = table.look(new_job(styles.style("straight"))).pieces[0]
    left, right = front.darts[0].legs
    in_dart = f"{abs(left.between(right, 0.5).x - front.stitching.start.x) / 10:.3f}"
    _, after = joined(table, "straight", front=at.format(dart=in_dart))
    assert "front" in {piece.name for piece in after.pieces}
    (problem,) = [p for p in after.problems if p.code.startswith("join.")]
    assert problem.severity == "caution"


def test_joins_are_sewn_first_and_the_sheet_says_so(table):
    _, after = joined(table, "circle", front="50")
    sheet = making_of(after.report, "", "", Manner())
    steps = [step.step for step in sheet.order]
    assert steps.index("join") < steps.index("side")
    assert any("Front, part 2" in str(row) for row in sheet.cut[0].rows)


@pytest.mark.parametrize("at", ["10 20", "25"])
def test_a_piece_that_is_cut_across_too_is_joined_all_the_same(table, at):
    job = set_across(new_job(styles.style("circle")), ["front"], on=True).job
    before, after = (
        table.look(each) for each in (job, set_joins(job, {"front": at.split()}).job)
    )
    whole = next(piece for piece in before.pieces if piece.name == "front")
    parts = [p for p in after.pieces if p.name.startswith("front_part_")]
    assert len(parts) == len(at.split()) + 1
    areas = sum(part.stitch_area for part in parts)
    assert areas == pytest.approx(whole.stitch_area, abs=0.5)
    assert {part.grain_deg for part in parts} == {whole.grain_deg} == {0.0}
    assert not any("000" in says(problem) for problem in after.problems)


def test_a_join_that_cannot_be_is_told_from_where_it_is_measured(table):
    for style, piece, at, begins in (
        ("circle", "front", "-5", "from its fold"),
        ("straight", "back", "900", "from its left"),
        ("straight", "band", "900", "from its lower end"),
    ):
        _, after = joined(table, style, **{piece: at})
        (told,) = [p for p in after.problems if p.code == "join.misses"]
        assert f"a join at {at} cm {begins}" in says(told)
