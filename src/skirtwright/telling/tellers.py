"""What each kind of step tells of itself, beside its fields: places, ways, outcomes.

`TELLERS` gives for a kind the values its sentence names, and what is added to its
message id where one kind has several sentences.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from skirtwright.draft.shapes.panel import Edge, Panel
from skirtwright.draft.step import Reads
from skirtwright.draft.working.replay import Moment
from skirtwright.telling import of_lines, of_panels, of_paper
from skirtwright.telling.places_named import DRAWN, PhraseOf

TELLERS: dict[str, Callable[[Moment], PhraseOf]] = {
    **of_lines.TELLERS,
    **of_panels.TELLERS,
    **of_paper.TELLERS,
}
"""By kind."""


_SHORT = frozenset({"ease_corner", "ease_start", "square_end"})
"""They change a short run of an edge, which a few places along it may miss."""


def changed(moment: Moment) -> bool:
    """Whether a step drew anything: a curve by nothing did not."""
    before, after = moment.before, moment.after
    if moment.step.rewrites is None or not isinstance(before, Panel):
        return True
    by = moment.fields.get("by")
    if type(moment.step).reading().get("by") is Reads.LENGTH and abs(by or 0) < DRAWN:
        return False
    if moment.step.kind in _SHORT:
        return bool(before != after)
    return before is not after and any(_moves(before, after))


def _moves(before: Panel, after: Panel) -> Iterator[bool]:
    """Each way in which two panels may differ for one who draws."""
    names = [[edge.name for edge in panel.edges] for panel in (before, after)]
    yield names[0] != names[1]
    darts = [[(d.name, d.bow) for d in panel.darts] for panel in (before, after)]
    yield darts[0] != darts[1]
    yield [mark.name for mark in before.marks] != [mark.name for mark in after.marks]
    yield any(
        a.tip.to(b.tip) > DRAWN for a, b in zip(before.darts, after.darts, strict=False)
    )
    for old, new in zip(before.edges, after.edges, strict=False):
        if old.chain is new.chain:
            continue
        for share in (0.0, 0.25, 0.5, 0.75, 1.0):
            yield (
                old.chain.at(share * old.chain.length).to(
                    new.chain.at(share * new.chain.length)
                )
                > DRAWN
            )
        yield _folds(old) != _folds(new)


def _folds(edge: Edge) -> list[str]:
    """What is folded on an edge, in order."""
    return list(dict.fromkeys(s.fold for s in edge.chain.segments if s.fold))
