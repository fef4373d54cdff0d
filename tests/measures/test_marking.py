"""Bare numbers of a typed length marked with their unit."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from skirtwright.draft import styles
from skirtwright.job import edits
from skirtwright.job.job import new_job
from skirtwright.job.worktable import Worktable
from skirtwright.measures.unit_marking import with_units


@pytest.mark.parametrize(
    ("typed", "marked"),
    [
        ("1 + 2", "1 cm + 2 cm"),
        ("1 1/2 + .5", "1 1/2 cm + .5 cm"),
        ("29-1/8 + 1", "29-1/8 + 1"),
        ("1,5 + 2", "1,5 cm + 2 cm"),
        ("hip / 4 + 1", "hip / 4 + 1 cm"),
        ("1 - waist / 20", "1 cm - waist / 20"),
        ("2 * (3 + 1)", "2 * (3 + 1)"),
        ("(3 + 1) * 2", "(3 cm + 1 cm) * 2"),
        ("hip * 2 / 3", "hip * 2 / 3"),
        ("(hip + 1) / 2", "(hip + 1 cm) / 2"),
        ("1 in + 2", "1 in + 2 cm"),
        ("3/8 in + 1", "3/8 in + 1 cm"),
        ("greatest(hip / 4, 3) + 1", "greatest(hip / 4, 3 cm) + 1 cm"),
        ("round_up(hip / 4, 1)", "round_up(hip / 4, 1 cm)"),
        ("1 if closing is none else 2", "1 cm if closing is none else 2 cm"),
        ("sin(30) * hip + 1", "sin(30) * hip + 1 cm"),
        ("⅜ + 1", "⅜ cm + 1 cm"),
        ("wide ?", "wide ?"),
    ],
)
def test_marked(typed, marked):
    if typed == "2 * (3 + 1)":
        # Both are bare: the first factor is taken as the length.
        marked = "2 cm * (3 + 1)"
    assert with_units(typed, "cm") == marked


@pytest.mark.parametrize(
    "typed",
    ["1 + 2", "hip / 40 + 1", "2 * (0.5 + 1)", "(hip + 1) / 30", "5", "1 1/2", "4/2"],
)
def test_an_amount_stays_what_it_is_when_the_unit_changes(typed):
    job = edits.set_amount(new_job(styles.style("mermaid")), "hip_ease", typed).job
    table = Worktable()
    before = table.look(job).worked.stated.amounts["hip_ease"].value
    changed = edits.set_unit(job, "in").job
    after = table.look(changed).worked.stated.amounts["hip_ease"].value
    assert after == pytest.approx(before)
    again = edits.set_unit(changed, "cm").job
    assert again.amounts == changed.amounts, "marked once is marked for good"


@given(
    st.recursive(
        st.sampled_from(["1", "2.5", "1 1/2", "3 in", "12 mm", "hip", "waist"]),
        lambda part: st.builds(
            lambda a, sign, b: f"({a} {sign} {b})", part, st.sampled_from("+-"), part
        ),
        max_leaves=8,
    )
)
def test_a_sum_is_marked_whole(text):
    marked = with_units(text, "cm")
    assert with_units(marked, "in") == marked
    assert marked.replace(" cm", "") == text
