"""An order whose left and right differ is stated as it is worked."""

from __future__ import annotations

import pytest

from sampling import some_of
from skirtwright.draft import styles
from skirtwright.job.edits import part_sides, set_amount, set_measurement
from skirtwright.job.job import new_job
from skirtwright.job.worktable import Worktable


@pytest.mark.sampled
@pytest.mark.parametrize("style", some_of(styles.names(), 0))
def test_what_is_stated_is_what_is_worked_with_sides_apart(style):
    job = part_sides(new_job(styles.style(style)), "waist_to_hip").job
    job = set_measurement(job, "waist_to_hip_right", "21.5").job
    amount = job.draft.amounts[0].name
    table = Worktable()
    look = table.look(job)
    text = f"{look.worked.stated.amounts[amount].value} mm"
    job = set_amount(job, amount, text).job
    stated = table.stated(job)
    assert stated.amounts == table.look(job).worked.stated.amounts
    assert stated.amounts[amount].value == look.worked.stated.amounts[amount].value
