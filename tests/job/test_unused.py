"""Which measurements are of no use as the order stands: seen by trying."""

from __future__ import annotations

from drafting import worktable_of
from skirtwright.draft import styles
from skirtwright.job.edits import set_choice
from skirtwright.job.job import new_job
from skirtwright.job.unused import measurements_to_try, unused


def of_no_use(job):
    table = worktable_of(job.draft.id)
    return {name for name in unused(table.look(job), table.look) if name}


def test_what_is_used_with_darts_may_be_of_no_use_with_elastic():
    job = new_job(styles.style("mermaid"))
    assert {"waist_to_floor_front", "waist_to_floor_back"} <= set(
        measurements_to_try(job)
    )
    assert of_no_use(job) == set()
    elastic = set_choice(job, "waist_shape", "side_elastic").job
    assert "top_hip" in of_no_use(elastic)


def test_what_the_style_needs_is_not_asked_about():
    job = new_job(styles.style("mermaid"))
    assert not set(job.draft.measurements) & set(measurements_to_try(job))
