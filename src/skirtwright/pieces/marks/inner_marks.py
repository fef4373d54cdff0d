"""What else is marked on a piece: where to lengthen it, where to clip, how pleats lie.

All of it is read from the panel: the hip and knee lines it carries, the corners of its
outline and the fold lines of its pleats.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from typing import Final

from skirtwright.draft.shapes.folds import Fold
from skirtwright.draft.shapes.panel import Panel
from skirtwright.geometry import Chain, Line, Point, Segment, bend_deg, straight
from skirtwright.pieces.marks.notches import CLEAR, distances_out
from skirtwright.pieces.spec import AllowanceRun

LENGTHEN_APART: Final = 6.0
"""Between the two lines a piece is lengthened at, mm (common practice, no source)."""

LENGTHEN_BELOW: Final = 150.0
"""From the hip line down to them at most, mm (common practice, no source)."""

LEAST_ROOM: Final = 160.0
"""A piece shorter than this from its hip line on has no place for them, mm."""

CLIP_DEG: Final = 8.0
"""A seam that turns in by more than this is clipped (common practice, no source)."""

CLIP_SHORT: Final = 2.0
"""How far short of the stitching a clip ends, mm (common practice, no source)."""

_ROUND: Final = 10.0
_LEVEL_DEG: Final = 8.0
_ARROW_AT: Final = 60.0
_LEAST_ARROW: Final = 15.0


def lengthen_lines(
    panel: Panel, cut: Sequence[Point], inside: Collection[str]
) -> tuple[Line, Line] | None:
    """Two parallel lines across a piece, between the hip and the knee or hem.

    They lie along the hip line and 15 cm below it, or halfway to a knee line or hem
    that is nearer, so that pieces sewn together are lengthened at one level. None
    where the piece has no hip line drawn, or too little below it.
    """
    hip = panel.level("hip")
    if hip is None or not any(m.shape is hip and m.name in inside for m in panel.marks):
        return None
    beside = panel.level_at_side("hip") or hip
    along = (beside.end - beside.start).unit()
    tilt = abs(bend_deg(Point(1, 0), along))
    if min(tilt, 180 - tilt) > _LEVEL_DEG:
        return None
    along = along if along.x > 0 else -along
    middle, down = hip.start.between(hip.end, 0.5), along.right()
    room = _room_below(panel, middle, down)
    if room < LEAST_ROOM:
        return None
    below = min(LENGTHEN_BELOW, _ROUND * (room / 2 // _ROUND))
    lines = []
    for depth in (below - LENGTHEN_APART / 2, below + LENGTHEN_APART / 2):
        place = middle + down * depth
        left = min(distances_out(cut, place, -along), default=0.0)
        right = min(distances_out(cut, place, along), default=0.0)
        lines.append(Line(place - along * left, place + along * right))
    return lines[0], lines[1]


def _room_below(panel: Panel, place: Point, down: Point) -> float:
    """From the hip line down to the knee line or, without one, to the hem."""
    knee = panel.level("knee")
    if knee is not None:
        middle = knee.start.between(knee.end, 0.5)
        return (middle - place).dot(down)
    found = [d for d in distances_out(panel.ring(2.0), place, down) if d > 1.0]
    return min(found, default=0.0)


def clips(
    panel: Panel, cut: Sequence[Point], runs: Mapping[str, Sequence[AllowanceRun]]
) -> Iterator[Line]:
    """Where the allowance is clipped: in corners that turn inwards.

    Args:
        cut: its cutting line.
        runs: the allowances of each edge that has one.
    """
    steps = list(_steps(panel))
    for index, (edge, walked, after) in enumerate(steps):
        before_edge, before_walked, before = steps[index - 1]
        if before.fold or after.fold:
            continue
        if bend_deg(before.end_direction, after.start_direction) >= -CLIP_DEG:
            continue
        sides = before.end_direction.right(), after.start_direction.right()
        widths = (
            _width(runs.get(before_edge, ()), before_walked[1]),
            _width(runs.get(edge, ()), walked[0]),
        )
        if min(widths) <= 0:
            continue
        # Towards where the two allowances meet.
        out = (sides[1].left() * widths[0] - sides[0].left() * widths[1]).unit()
        gap = min(distances_out(cut, after.start, out), default=0.0)
        if gap > CLIP_SHORT + CLEAR:
            yield Line(after.start + out * gap, after.start + out * CLIP_SHORT)


def _steps(panel: Panel) -> Iterator[tuple[str, tuple[float, float], Segment]]:
    """Each segment round the outline, with its edge and where it lies along that."""
    for edge in panel.edges:
        walked = 0.0 if edge.forward else edge.chain.length
        for segment in edge.ringwise.segments:
            length = 0.0 if segment.fold else segment.length
            before, walked = walked, walked + (length if edge.forward else -length)
            yield edge.name, (before, walked), segment


def _width(runs: Sequence[AllowanceRun], walked: float) -> float:
    for run in runs:
        if run.until is None or walked < run.until:
            return run.width
    return runs[-1].width if runs else 0.0


def pleat_folds(panel: Panel) -> Iterator[tuple[Fold, Chain, Chain]]:
    """Each pleat with its fold line and the line the fold is laid to."""
    for mark in panel.marks:
        pleat, line = Fold.part_of(mark.name)
        if pleat is not None and line == "fold":
            meets = panel.mark(pleat.part("meets"))
            shapes = mark.shape, meets.shape if meets else None
            if isinstance(shapes[0], Chain) and isinstance(shapes[1], Chain):
                yield pleat, shapes[0], shapes[1]


def pleat_arrow(fold: Chain, meets: Chain) -> Chain | None:
    """An arrow from a pleat's fold to where it is laid; None for a narrow one."""
    at = min(_ARROW_AT, fold.length / 2)
    start = fold.at(at)
    place, _ = meets.nearest(start)
    end = meets.at(place)
    return straight(start, end) if start.to(end) > _LEAST_ARROW else None
