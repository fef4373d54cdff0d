"""Where left and right differ, their centres are made to meet, equally long.

They meet first where the block is drawn, so that what is cut from it or copied later
(a yoke, a facing, a lining) has it from there; and once more when all is drawn, for
the little that spreading and shaping have moved them apart again.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from skirtwright.draft.draft import Group
from skirtwright.draft.halves.rewriting import (
    divided,
    less,
    named,
    names_in,
    names_made,
    total,
    walked,
)
from skirtwright.draft.halves.seams_of_halves import of_both
from skirtwright.draft.kinds.moved_edges import LeadAlong, MoveStart
from skirtwright.draft.runs import Run, Side
from skirtwright.draft.step import Reads
from skirtwright.measures.records import take


@dataclass(frozen=True)
class Centre:
    """A seam that joins left to right.

    Attributes:
        runs: its edges, as the style names them.
        sides: the same of the left and of the right half.
    """

    runs: Side
    sides: tuple[Side, Side]
    when: str | None = None

    @property
    def panel(self) -> str:
        """The panel at whose waist it is moved."""
        return self.runs[0].piece


Meetings = dict[int, list[tuple[Centre, list[MoveStart]]]]
"""What meets below each step or group of a draft, by its number from the top."""


def meetings(items: Sequence[Any], centres: Iterable[Centre]) -> Meetings:
    """Steps that let centres meet, below the steps their panels are drawn with."""
    numbered = list(enumerate(items))
    made_in = {name: at for at, item in numbered for name in names_made([item])}
    begun_in = {name: at for at, item in numbered for name in _first_drawn([item])}
    makers = dict(_makers(items))
    found: Meetings = defaultdict(list)
    begun: set[Run] = set()
    for centre in centres:
        first = _first(centre, makers)
        at = max(begun_in.get(way, -1) for way in (first[0].piece, first[0]))
        if len(first) == 1 and first[0] not in begun and at >= 0:
            begun.add(first[0])
            early = Centre(first, of_both(first))
            if _has_edge(makers.get(first[0].piece), first[0].edge):
                found[at].append((early, _meeting(early.sides, "begun")))
        # Not before it can be told whether they are sewn at all.
        needs = {run.piece for run in centre.runs} | (
            names_in(centre.when, "condition") if centre.when else frozenset()
        )
        last = max((made_in.get(name, -1) for name in needs), default=-1)
        found[last].append((centre, _meeting(centre.sides, "met")))
    return found


def _first(centre: Centre, makers: dict[str, Any]) -> Side:
    """The edges of a centre on the panels its own were cut from, each once."""
    found: dict[Run, None] = {}
    for run in centre.runs:
        source = run.piece
        while (step := makers.get(source)) is not None and (above := _source(step)):
            source = above
        found[Run(source, run.edge)] = None
    return tuple(found)


def _source(step: Any) -> str:
    """The panel that a step makes its own from, or nothing."""
    panels = [name for name, how in type(step).reading().items() if how is Reads.PANEL]
    return str(getattr(step, panels[0])) if panels else ""


def _has_edge(step: Any, edge: str) -> bool:
    return edge in (getattr(step, "edges", None) or {})


def _makers(items: Iterable[Any]) -> Iterator[tuple[str, Any]]:
    """Every name with the step that makes it; of several, the last."""
    for item in items:
        if isinstance(item, Group):
            yield from _makers(item.steps)
        elif item.rewrites is None:
            yield from ((name, item) for name in item.results())


def _first_drawn(items: Iterable[Any]) -> Iterator[str | Run]:
    """Every name that steps make, and every edge that they lead on along lines.

    Until a centre is led on to its end it cannot be told how long it is.
    """
    for item in items:
        if isinstance(item, Group):
            yield from _first_drawn(item.steps)
        elif isinstance(item, LeadAlong):
            yield Run(item.panel, item.edge)
        elif item.rewrites is None:
            yield from item.results()


def _meeting(sides: tuple[Side, Side], how: str) -> list[MoveStart]:
    """Makes two centres equally long at their start, each by half the difference."""
    left, right = (total(walked(run.named) for run in side) for side in sides)
    ways = (divided(less(right, left), 2.0), less(left, right))
    return [_moved(side[0], by, how) for side, by in zip(sides, ways, strict=True)]


def _moved(first: Run, by: str, how: str) -> MoveStart:
    fields = {"panel": named(first.piece), "edge": first.edge, "by": by}
    return take(MoveStart, {"step": f"{first.piece}_{first.edge}_{how}", **fields})


def conditions_of(
    items: Iterable[Any], above: tuple[str, ...]
) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Names with the conditions of the groups they are made in."""
    for item in items:
        if isinstance(item, Group):
            when = (item.when,) if item.when else ()
            yield from conditions_of(item.steps, (*above, *when))
        elif item.rewrites is None:
            yield from ((name, above) for name in item.results())
