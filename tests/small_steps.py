"""A little more of an amount moves a drawing a little: no named point jumps."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from drafting import work
from options import Chosen, every_option
from skirtwright.draft import styles
from skirtwright.draft.inputs import AmountState
from skirtwright.draft.shapes.panel import Panel
from skirtwright.draft.working.recompute import Worked
from skirtwright.geometry.chain import Chain
from skirtwright.geometry.point import Point

LITTLE = {"length": 0.5, "ratio": 0.001, "angle": 0.05}
"""A little of an amount: mm, plain, degrees. Of a count there is none."""

MOST = 5.0
"""So far a named point moves at most for so little, mm: ten times as far."""

BOUGHT = ("zip_length",)
"""Amounts that follow by whole steps, for so it is sold: they stay as they were."""

FROM = {
    (style, "waist_level"): (-0.5, 0.5, 5.0, 20.0, 34.9)
    for style in ("straight-block", "gored")
}
"""Further values to begin from, mm; each amount begins from its default."""


Case = tuple[Chosen, str]
"""Options that are chosen, and the amount of which there is a little more."""


def cases(style: str) -> list[Case]:
    """Every amount of a style with every option."""
    named = [a.name for a in styles.style(style).amounts if a.kind in LITTLE]
    return [(chosen, name) for chosen in [{}, *every_option(style)] for name in named]


def jumps(
    style: str, body: dict[str, float], chosen: Chosen, amount: str
) -> Iterator[str]:
    """What moves too far for a little more, or less where there is no more."""
    stated = work(style, body, **chosen).stated.amounts
    state = stated[amount]
    bought = {name: stated[name].value for name in BOUGHT if name in stated}
    further = FROM.get((style, amount), ())
    for value in (state.value, *further) if state.applies else ():
        other = _a_little_from(state, value)
        if other is None:
            continue
        before, after = (
            work(style, body, **{**chosen, **bought, amount: to})
            for to in (value, other)
        )
        stops = [p.code for w in (before, after) for p in w.problems if p.stops]
        far, name = farthest(before, after)
        if stops or far > MOST:
            yield f"{value:.2f} to {other:.2f}: {stops or (name, far)}"


def _a_little_from(state: AmountState, value: float) -> float | None:
    """The value a little further on, within the amount's range."""
    little = LITTLE[state.amount.kind]
    for other in (value + little, value - little):
        if all(state.least <= each <= state.most for each in (value, other)):
            return other
    return None


def farthest(before: Worked, after: Worked) -> tuple[float, str]:
    """How far a point that both have moves at most, mm, and its name."""
    there = places(after)
    moved = [(p.to(there[n]), n) for n, p in places(before).items() if n in there]
    return max(moved, default=(0.0, ""))


def places(worked: Worked) -> dict[str, Point]:
    """Every named point of a draft: points, ends and middles of edges, marks, tips."""
    found: dict[str, Point] = {}
    for name, value in worked.values.items():
        if isinstance(value, Point):
            found[name] = value
        elif isinstance(value, Panel):
            found |= {f"{name}.{at}": point for at, point in _of_panel(value)}
    return found


def _of_panel(panel: Panel) -> Iterator[tuple[str, Point]]:
    for edge in panel.edges:
        yield f"{edge.name} start", edge.chain.start
        yield f"{edge.name} end", edge.chain.end
        yield from _between_folds(edge.name, edge.chain)
    for mark in panel.marks:
        if isinstance(mark.shape, Chain):
            yield f"{mark.name} start", mark.shape.start
            yield f"{mark.name} end", mark.shape.end
        else:
            yield mark.name, mark.shape
    for dart in panel.darts:
        yield f"{dart.name}.tip", dart.tip


def _between_folds(name: str, line: Chain) -> Iterator[tuple[str, Point]]:
    """Both ends and the middle of each run between darts and pleats."""
    runs = groupby(line.segments, key=lambda segment: segment.fold)
    plain = [Chain(tuple(segments)) for fold, segments in runs if not fold]
    # Where a dart ends or begins, they are other runs than they were.
    for number, run in enumerate(plain, 1):
        which = f"{name} run {number} of {len(plain)}"
        yield f"{which} start", run.start
        yield f"{which} middle", run.at(run.length / 2)
        yield f"{which} end", run.end
