"""Pieces moved, turned and locked by hand; what is wrong with where they then lie."""

from __future__ import annotations

from dataclasses import replace

import pytest

from drafting import look_of
from lay_referee import faults as referee
from skirtwright.draft import styles
from skirtwright.geometry import Point
from skirtwright.geometry.box import box_of
from skirtwright.job import file
from skirtwright.job.cloth_edits import set_cloth, set_hand_lay
from skirtwright.job.job import new_job
from skirtwright.job.worktable import laid
from skirtwright.lay.all_cloths import lay_all, partial_lay
from skirtwright.lay.by_hand import (
    at_spots,
    hand_lay,
    locked,
    moved,
    spots_of,
    turned,
)
from skirtwright.lay.cloth_to_cut import usual
from skirtwright.lay.lay import lay
from skirtwright.problems import BadInput, Refused
from skirtwright.words import Manner, says

KINDS = {
    "folded": {},
    "single": {"fold": "single"},
    "checks": {"repeat_along": 120.0, "repeat_across": 50.0},
    "end_to_end": {"fold": "crosswise"},
}


@pytest.fixture(params=KINDS)
def known(request, look_of):
    """A skirt cut, and its main cloth with its pieces on it."""
    cut = look_of("mermaid").report.cut
    cloth = replace(usual("shell", "cm"), **KINDS[request.param])
    return cut, lay(cut, cloth, 20)


def loose(found):
    return next(one for one in found.placed if not one.copy.on_fold)


def codes(found):
    return [fault.problem.code for fault in found.faults]


def test_a_lay_put_together_from_its_spots_is_the_same_lay(known):
    cut, found = known
    again = at_spots(cut, found.cloth, found.asked, spots_of(found))
    for one, other in zip(found.placed, again.placed, strict=True):
        assert one.key == other.key
        assert one.way == other.way
        apart = [p.to(q) for p, q in zip(one.outline, other.outline, strict=True)]
        assert max(apart) < 1e-6
    assert again.faults == () == tuple(referee(again, cut))


def test_a_piece_moved_stays_on_the_fold_and_in_phase(known):
    cut, found = known
    for one in found.placed:
        there = moved(found, one, Point(137.0, 2 * found.reach))
        (new,) = (p for p in there.placed if p.key == one.key)
        assert new.locked
        said = " ".join(referee(there, cut))
        assert "fold" not in said
        assert "phase" not in said
        if one.copy.on_fold and found.cloth.fold == "lengthwise":
            assert box_of(new.outline).left == pytest.approx(0.0)


def test_what_lies_wrong_is_told_and_the_referee_agrees(look_of):
    cut = look_of("straight").report.cut
    found = lay(cut, usual("shell", "cm"), 20)
    one = loose(found)
    box = box_of(one.outline)
    assert codes(moved(found, one, Point(0.0, 0.0))) == []
    off = moved(found, one, Point(-box.left - 25.0, 3000.0))
    assert codes(off) == ["lay.off_cloth"]
    assert "off the cloth" in " ".join(referee(off, cut))
    words = says(off.faults[0].problem, Manner())
    assert words == "Back lies 2.5 cm off the cloth."
    front = next(p for p in found.placed if p.copy.on_fold)
    over = moved(found, one, box_of(front.outline).middle - box.middle)
    assert "lay.overlap" in codes(over)
    pair = next(f for f in over.faults if f.problem.code == "lay.overlap")
    assert {p.key for p in pair.placed} == {front.key, one.key}
    assert " over " in " ".join(referee(over, cut))
    # From a file, which may say anything.
    spots = [
        spot.replace(x=60.0, y=5000.0) if spot.piece == front.copy.piece.name else spot
        for spot in spots_of(found)
    ]
    assert codes(at_spots(cut, found.cloth, found.asked, spots)) == ["lay.off_fold"]


def test_a_piece_turned_end_for_end_lies_in_the_same_box(look_of):
    cut = look_of("straight").report.cut
    found = lay(cut, usual("shell", "cm"), 20)
    for one in found.placed:
        there = turned(found, one)
        (new,) = (p for p in there.placed if p.key == one.key)
        ends = [box_of(p.outline) for p in (one, new)]
        assert (ends[0].bottom, ends[0].top) == pytest.approx(
            (ends[1].bottom, ends[1].top)
        )
        assert abs(new.way.rotation_deg - one.way.rotation_deg) == 180
        assert not [f for f in referee(there, cut) if "grain" in f or "fold" in f]


def test_nap_holds_a_piece_as_it_lies(look_of):
    cut = look_of("straight").report.cut
    found = lay(cut, replace(usual("shell", "cm"), one_way=True), 20)
    with pytest.raises(Refused) as refused:
        turned(found, loose(found))
    assert "nap or repeat run one way" in says(refused.value.problem, Manner())


@pytest.mark.parametrize("kind", ["folded", "single", "checks"])
def test_the_rest_goes_round_what_is_held(look_of, kind):
    cut = look_of("mermaid").report.cut
    found = lay(cut, replace(usual("shell", "cm"), **KINDS[kind]), 20)
    there = moved(found, loose(found), Point(0.0, 260.0))
    held = [one for one in there.placed if one.locked]
    again = lay(cut, found.cloth, 20, held=held)
    assert referee(again, cut) == []
    (kept,) = (one for one in again.placed if one.locked)
    assert kept.motion == held[0].motion
    # All held: nothing is left to be laid.
    every = tuple(replace(one, locked=True) for one in found.placed)
    assert lay(cut, found.cloth, 20, held=every).placed == every


def test_held_off_the_cloth_it_is_in_nobodys_way(look_of):
    cut = look_of("straight").report.cut
    found = lay(cut, usual("shell", "cm"), 20)
    there = moved(found, loose(found), Point(-5000.0, 0.0))
    again = lay(cut, found.cloth, 20, held=[p for p in there.placed if p.locked])
    assert codes(again) == ["lay.off_cloth"]


def test_a_lay_by_hand_is_kept_until_a_piece_changes():
    from skirtwright.job.edits import set_amount
    from skirtwright.job.worktable import Worktable

    table, job = Worktable(), new_job(styles.style("straight"))
    cut = table.look(job).report.cut
    found = lay(cut, job.cloth("shell"), 20)
    there = locked(
        moved(found, loose(found), Point(0, 900.0)), found.placed[0], on=True
    )
    job = set_hand_lay(job, "shell", hand_lay(there, cut), "edit.cloth").job
    job = file.read(file.written(job), "o.skirt")
    kept = laid(table.look(job), 5).report.lays[0]
    assert kept.length == pytest.approx(there.length, abs=0.01)
    assert [p.locked for p in kept.placed] == [p.locked for p in there.placed]
    other = set_amount(job, "length", "70").job
    assert not other.hand_lays["shell"].fits(
        table.look(other).report.cut, job.cloth("shell")
    )
    assert laid(table.look(other), 5).report.lays[0].length < there.length - 300
    # Folded another way it is another lay; the price changes nothing.
    assert (
        set_cloth(job, "shell", price="12")
        .job.hand_lays["shell"]
        .fits(cut, job.cloth("shell"))
    )
    single = set_cloth(job, "shell", fold="single").job
    assert not job.hand_lays["shell"].fits(cut, single.cloth("shell"))
    # What lies wrong by hand is said wherever the lay is.
    off = moved(there, loose(there), Point(-3000.0, 0.0))
    lays = lay_all(cut, [job.cloth("shell")], 5, by_hand={"shell": hand_lay(off, cut)})
    assert [problem.code for problem in lays.problems] == ["lay.off_cloth"]
    assert set_hand_lay(job, "shell", None, "edit.cloth").job.cloths == ()


def test_laid_by_hand_as_it_was_opened_it_stays_open():

    job = set_cloth(new_job(styles.style("bias-slip")), "shell", width="150").job
    look = look_of(job)
    found = laid(look, 5).report.lays[0]
    assert (found.cloth.fold, found.asked.fold) == ("single", "lengthwise")
    kept = hand_lay(moved(found, found.placed[0], Point(0, 5)), look.report.cut)
    job = set_hand_lay(job, "shell", kept, "edit.cloth").job
    assert job.cloth("shell").fold == "single"
    assert kept.fits(look.report.cut, job.cloth("shell"))


def test_a_piece_too_wide_is_left_off_a_lay_by_hand_and_nothing_is_bought_by_it():

    job = set_cloth(new_job(styles.style("mermaid")), "shell", width="45").job
    cut = look_of(job).report.to_cut
    goes = partial_lay(cut, job.cloth("shell"), 5)
    kept = hand_lay(moved(goes, goes.placed[0], Point(0, 40)), cut)
    job = set_hand_lay(job, "shell", kept, "edit.cloth").job
    lays = lay_all(cut, [job.cloth("shell")], 5, by_hand=job.hand_lays)
    assert lays.lays == ()
    (problem,) = lays.problems
    assert (problem.code, problem.where) == ("lay.too_wide", "front")
    (partial,) = lays.partial
    assert [piece.name for piece in partial.left_off] == ["front", "back"]
    assert partial.reach == pytest.approx(goes.reach + 40, abs=0.02)
    assert not partial.faults


def test_a_cloth_that_is_none_is_refused_and_the_order_stays():
    job = new_job(styles.style("straight"))
    for typed in ({"width": "0"}, {"on_hand": "0"}, {"shrinks_along": "100"}):
        with pytest.raises(BadInput):
            set_cloth(job, "shell", **typed)
    assert set_cloth(job, "shell", width="").job == job
