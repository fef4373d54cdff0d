"""The kinds of step, one file per family; `ALL` is what a style may use."""

from skirtwright.draft.kinds import (
    cutting,
    darting,
    fairing,
    finishes,
    finishing,
    folding,
    halving,
    levels,
    lines,
    numbers,
    panels,
    pleating,
    points,
    reading,
    spreading,
)
from skirtwright.draft.step import Step

ALL: dict[str, type[Step]] = {
    kind.model_fields["kind"].default: kind
    for family in (
        numbers,
        points,
        lines,
        reading,
        panels,
        spreading,
        darting,
        cutting,
        pleating,
        folding,
        levels,
        halving,
        finishing,
        fairing,
        finishes,
    )
    for kind in family.KINDS
}
"""Every kind by the word a style writes."""
