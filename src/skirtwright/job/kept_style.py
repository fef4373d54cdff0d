"""A style of her own, kept from an order: what she chose and set are its defaults."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from skirtwright.budget import LONGEST_NAME
from skirtwright.draft.draft import Amount, Choice, Draft
from skirtwright.draft.every_name import without_unused
from skirtwright.draft.inputs import Stated
from skirtwright.job.edits import amount_text
from skirtwright.job.job import Job
from skirtwright.measures.named_lengths import is_named
from skirtwright.problems import BadInput


def style_of(job: Job, stated: Stated, title: str) -> Draft:
    """The order's style as she has it, under a title of her own.

    A length set by its name is kept as that name, for the next body's own. What she set
    for single pieces, her card and her cloth stay with the order; steps
    that draw what nothing asks for are left out.

    Args:
        title: the style's; its id is made of the letters and figures in it.

    Raises:
        BadInput: a title without any, or one too long to be read again.
    """
    title = " ".join(title.split())
    if len(title) > LONGEST_NAME:
        raise BadInput("draft.style_title_long", count=len(title), most=LONGEST_NAME)
    name = re.sub(r"[^a-z0-9]+", "-", title.lower()).strip("-")
    if not name:
        raise BadInput("draft.style_untitled", title=title)
    set_by_her = {
        amount.name: typed
        if is_named(typed := job.amounts[amount.name])
        else amount_text(amount, stated.amounts[amount.name].value)
        for amount in job.draft.amounts
        if amount.name in job.amounts
    }
    kept = without_unused(job.draft)
    return kept.replace(
        id=name,
        title=title,
        choices=tuple(_beginning(one, job.choices) for one in kept.choices),
        amounts=tuple(_beginning(one, set_by_her) for one in kept.amounts),
    )


def _beginning(item: Choice | Amount, told: Mapping[str, str]) -> Any:
    return item.replace(default=told.get(item.name, item.default))
