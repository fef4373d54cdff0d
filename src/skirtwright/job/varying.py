"""An order laid off in another way of sharing."""

from __future__ import annotations

from skirtwright.draft.variants import variant
from skirtwright.job.edits import Edited
from skirtwright.job.job import Job


def set_variant(job: Job, name: str) -> Edited:
    """A ready way of sharing: what of it the draft knows is set, the rest stays.

    Raises:
        NotFound: there is no such variant.
    """
    found = variant(name)
    amounts = {n: text for n, text in found.amounts.items() if job.draft.amount(n)}
    choices = {n: option for n, option in found.choices.items() if job.draft.choice(n)}
    changed = job.replace(
        amounts={**job.amounts, **amounts}, choices={**job.choices, **choices}
    )
    return Edited(changed, "edit.variant", {"title": found.title})
