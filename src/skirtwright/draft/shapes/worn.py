"""An edge as it is worn: its darts shut, its pleats and tucks folded."""

from __future__ import annotations

from typing import Final

from skirtwright.draft.shapes.darts import ShutDart, shut_darts
from skirtwright.draft.shapes.folds import TUCK_LINES, Fold
from skirtwright.draft.shapes.panel import Panel
from skirtwright.draft.shapes.shutting import met_half_way
from skirtwright.geometry.chain import Chain, join
from skirtwright.geometry.point import Motion, bend_deg, shift, turn
from skirtwright.geometry.segment import Segment

_LINES: Final = {"pleat": ("fold", "meets"), "tuck": TUCK_LINES}
"""The two lines that are laid on one another, of what folds."""


def worn(panel: Panel, edge: str) -> tuple[Chain, Motion, Motion]:
    """An edge as it is worn.

    Returns:
        The line, its first stretch that shows lying still; and where what it meets at
        its start and at its end has gone.
    """
    darts = {shut.dart.name: shut for shut in shut_darts(panel, edge)}
    stretches = _stretches(panel.edge(edge).chain)
    before, motion, runs = Motion(), Motion(), list[Chain]()
    if stretches[0][0]:
        fold, run = stretches.pop(0)
        before = _folded(panel, fold, run.reversed())
    for fold, run in stretches:
        if fold:
            own = _shut(darts[fold]) if fold in darts else _folded(panel, fold, run)
            motion = own.then(motion)
        else:
            runs.append(run.moved(motion))
    return join(met_half_way(runs)), before, motion


def _stretches(chain: Chain) -> list[tuple[str, Chain]]:
    """What of a line is taken up by one fold, and what lies between, in order."""
    found: list[tuple[str, list[Segment]]] = []
    for segment in chain.segments:
        if found and found[-1][0] == segment.fold:
            found[-1][1].append(segment)
        else:
            found.append((segment.fold, [segment]))
    return [(fold, Chain(tuple(segments))) for fold, segments in found]


def _shut(dart: ShutDart) -> Motion:
    """The motion that shuts one dart, all others as they lie."""
    tip = dart.dart.tip
    return turn(tip, bend_deg(dart.far - tip, dart.near - tip))


def _folded(panel: Panel, name: str, taken: Chain) -> Motion:
    """The motion that lays what is beyond a pleat or tuck against what is before it."""
    fold = Fold.of(name)
    marks = [panel.mark(fold.part(part)) for part in _LINES[fold.kind]] if fold else []
    lines = [m.shape for m in marks if m is not None and isinstance(m.shape, Chain)]
    angle = 0.0
    if len(lines) == 2:
        before, beyond = sorted(lines, key=lambda line: line.start.to(taken.start))
        angle = bend_deg(beyond.start_direction, before.start_direction)
    return turn(taken.end, angle).then(shift(taken.start - taken.end))
