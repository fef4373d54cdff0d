"""The kinds of step, one file per family; `ALL` is what a style may use."""

from skirtwright.draft.kinds import (
    darting,
    fitted_edges,
    goring,
    lines,
    moved_edges,
    numbers,
    panels,
    panels_from_panels,
    placed_points,
    pleating,
    redrawn_edges,
    spreading,
)
from skirtwright.draft.step import Step

ALL: dict[str, type[Step]] = {
    kind.kind: kind
    for family in (
        numbers,
        placed_points,
        lines,
        panels,
        redrawn_edges,
        moved_edges,
        fitted_edges,
        darting,
        spreading,
        pleating,
        panels_from_panels,
        goring,
    )
    for kind in vars(family).values()
    if isinstance(kind, type) and issubclass(kind, Step) and "kind" in vars(kind)
    if kind.__module__ == family.__name__
}
"""Every kind by the word a style writes."""
