"""What would mend a finding: tried, the least of its kind, nothing graver for it."""

from __future__ import annotations

from dataclasses import replace
from itertools import islice

import pytest

from drafting import look_of, worktable_of
from skirtwright.draft import styles
from skirtwright.job.edits import (
    amount_text,
    set_amount,
    set_choice,
    set_measurement,
)
from skirtwright.job.job import new_job
from skirtwright.job.piece_edits import set_allowance_of
from skirtwright.job.remedies import remedies


def order(style, **amounts):
    job = new_job(styles.style(style))
    for name, text in amounts.items():
        job = set_amount(job, name, text).job
    return job


def grave(look):
    return {
        (p.code, p.where): p.severity for p in look.problems if p.severity != "note"
    }


def found_for(job, code, unit="cm", wanted=1):
    table = worktable_of(job.draft.id)
    look = table.look(job)
    problem = next(p for p in look.problems if p.code == code)
    best = ()
    for best in remedies(problem, look, table.look, unit):
        if len(best) >= wanted:
            break
    return table, look, problem, best


def test_a_hem_near_the_floor_is_shortened_by_the_least_that_does():
    job = order("mermaid", length="102")
    table, look, problem, best = found_for(job, "check.hem_near_floor")
    first = best[0]
    assert first.of.name == "length"
    assert first.before == pytest.approx(1020)
    assert first.after < first.before
    assert (first.before - first.after) % 5 == pytest.approx(0)
    assert (problem.code, problem.where) not in grave(first.look)
    assert set(grave(first.look)) <= set(grave(look))
    # A step less does not do: it is the least.
    less = amount_text(first.of, first.after + 5)
    assert (problem.code, problem.where) in grave(
        table.look(set_amount(job, "length", less).job)
    )
    # What is told is what is done.
    assert grave(table.look(first.edited.job)) == grave(first.look)


def test_what_mends_is_in_steps_of_her_unit():
    job = order("mermaid", length="102")
    _, _, _, best = found_for(job, "check.hem_near_floor", "in")
    marks = best[0].after / (25.4 / 4)
    assert marks == pytest.approx(round(marks), abs=1e-3)


def test_a_remedy_stays_within_its_range_and_makes_nothing_graver():
    job = order("straight", hip_ease="0")
    _, look, _, best = found_for(job, "check.hip_tight")
    (ease, *_) = best
    state = look.worked.stated.amounts["hip_ease"]
    assert state.value < state.least, "given beyond its range"
    assert ease.of.name == "hip_ease"
    assert state.least <= ease.after <= state.most
    moved = ease.after - state.value
    assert ease.share == pytest.approx(moved / (state.most - state.least))
    assert set(grave(ease.look)) <= set(grave(look))


def test_a_choice_mends_where_the_style_has_it():
    job = order("straight", length="90")
    _, _, _, best = found_for(job, "check.step_short", wanted=2)
    assert "vent" in {remedy.of.name for remedy in best}
    vented = set_choice(job, "vent", "vent").job
    look = look_of(vented)
    assert "check.step_short" not in {p.code for p in look.problems}


def test_the_search_can_be_left_after_every_try():
    job = order("mermaid", length="102")
    table = worktable_of(job.draft.id)
    look = table.look(job)
    tried = []

    def try_out(changed):
        tried.append(changed)
        return table.look(changed)

    problem = next(p for p in look.problems if p.code == "check.hem_near_floor")
    list(islice(remedies(problem, look, try_out, "cm"), 3))
    assert len(tried) <= 3


def test_a_hem_near_the_floor_is_never_mended_by_a_longer_skirt():
    """Still nearer to the floor the finding is a note, and no better for it."""
    job = order("mermaid", length="98")
    table = worktable_of(job.draft.id)
    look = table.look(job)
    problem = next(p for p in look.problems if p.code == "check.floor_length")
    for best in islice(remedies(problem, look, table.look, "cm"), 30):
        for remedy in best:
            finished = remedy.look.report.finished["length"]
            assert finished <= look.report.finished["length"] + 1e-6
    assert best, "a shorter skirt is offered"


def test_a_choice_of_hers_is_a_remedy_only_where_the_checks_say_so():
    """A flounce hides a side that runs off the grain: it is another skirt."""
    job = order("straight", length="70")
    look = look_of(job)
    short = next(p for p in look.problems if p.code == "check.step_short")
    off_grain = replace(short, code="check.off_grain")
    assert chosen_in_tries(look, off_grain) == set()
    assert chosen_in_tries(look, short) == {
        ("vent", "vent"),
        ("vent", "kick_pleat"),
        ("vent", "slit"),
        ("at_hem", "slits"),
    }


def chosen_in_tries(look, problem):
    tried = []

    def try_out(changed):
        tried.append(changed)
        return look

    list(remedies(problem, look, try_out, "cm"))
    assert tried
    return {pair for job in tried for pair in job.choices.items()}


HEMS = (("front", "hem"), ("back", "hem"))


@pytest.mark.parametrize(
    "job",
    [
        order("a-line", hem_allowance="5"),
        set_allowance_of(order("mermaid"), HEMS, "5").job,
    ],
    ids=["Shape", "Cut"],
)
def test_a_hem_too_deep_is_turned_up_less_and_the_skirt_stays_as_long(job):
    table = worktable_of(job.draft.id)
    look = table.look(job)
    deep = next(p for p in look.problems if "would_do" in p.values)
    *_, (turned,) = remedies(deep, look, table.look, "cm")
    assert deep.values["would_do"] - 1 < turned.after <= deep.values["would_do"]
    assert deep.code not in {p.code for p in turned.look.problems}
    assert turned.look.report.finished == look.report.finished
    pieces = {piece.name: piece for piece in turned.look.pieces}
    for name, hem in HEMS:
        (edge,) = (edge for edge in pieces[name].edges if edge.name == hem)
        assert [width for width, _ in edge.allowances] == pytest.approx([turned.after])


def test_a_flare_off_the_grain_is_not_mended_by_a_mermaid_without_its_knee():
    job = order("mermaid", front_spread="4.5", back_spread="4.5", length="94")
    taken = {"waist": "74", "hip": "101", "waist_to_knee": "58", "waist_to_hip": "20"}
    for name, text in taken.items():
        job = set_measurement(job, name, text).job
    _, _, _, best = found_for(job, "check.off_grain", wanted=9)
    assert "knee_shaping" not in [remedy.of.name for remedy in best]
