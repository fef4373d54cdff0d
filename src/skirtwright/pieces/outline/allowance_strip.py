"""A strip of allowance: a smooth run of seam and its line offset outwards."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from skirtwright.geometry import Chain, Cubic, Point, Segment, bend_deg
from skirtwright.geometry.tolerance import FLAT, SAME
from skirtwright.pieces.outline.hollows import Hollow, may_be_tight, narrowed

_SMOOTH_DEG: Final = 0.01
"""Segments that meet at less than this are one smooth run: at 60 mm the gap between
their offsets is 0.01 mm, half of what a cutting line may be off."""

_SAMPLES: Final = 8
_SPARE: Final = 1.2 / 0.9
"""Steps are chosen from the bend at nine places; the bend between them may be more."""


@dataclass(frozen=True, slots=True)
class Strip:
    """A smooth run of seam, walked anticlockwise, and its offset.

    Attributes:
        edge: the edge it belongs to.
        width: allowance, mm.
        fold: True on a fold of the cloth.
        base: points of the seam.
        points: the same places offset outwards along the true normals.
        leaving: unit direction of the seam at its start.
        arriving: unit direction at its end.
        folds_back: True where the seam is hollow with a radius under the width, so
            that the offset doubles back.
        start_width: what is left of the allowance at the start, mm.
        end_width: what is left of it at the end, mm.
        hollow: where a tight hollow narrows it.
    """

    edge: str
    width: float
    fold: bool
    base: tuple[Point, ...]
    points: tuple[Point, ...]
    leaving: Point
    arriving: Point
    folds_back: bool
    start_width: float
    end_width: float
    hollow: Hollow | None = None


def strips_of(chain: Chain, edge: str, width: float, *, fold: bool) -> list[Strip]:
    """The smooth runs of a seam with their offsets; `chain` walked anticlockwise."""
    runs: list[list[Segment]] = []
    for segment in chain.segments:
        if segment.length <= SAME:
            continue
        if runs and _is_smooth(runs[-1][-1], segment):
            runs[-1].append(segment)
        else:
            runs.append([segment])
    return [_strip(run, edge, width, fold=fold) for run in runs]


def _is_smooth(before: Segment, after: Segment) -> bool:
    bend = bend_deg(before.end_direction, after.start_direction)
    return abs(bend) <= _SMOOTH_DEG


def _strip(run: Sequence[Segment], edge: str, width: float, *, fold: bool) -> Strip:
    leaving, arriving = run[0].start_direction, run[-1].end_direction
    base = [run[0].start]
    points = [run[0].start + leaving.right() * width]
    hollowest = 0.0
    for segment in run:
        if isinstance(segment, Cubic):
            hollowest = max(hollowest, _offset_cubic(segment, width, base, points))
        end_direction = segment.end_direction
        base.append(segment.end)
        points.append(
            Point(
                segment.end.x + end_direction.y * width,
                segment.end.y - end_direction.x * width,
            )
        )
    if width == 0:
        points = base
    widths, hollow = [width, width], None
    if may_be_tight(hollowest, width):
        found = narrowed(run, width)
        if found:
            base, points, widths, hollow = found
    return Strip(
        edge,
        width,
        fold,
        tuple(base),
        tuple(points),
        leaving,
        arriving,
        folds_back=hollowest * (hollow.width if hollow else width) >= 1,
        start_width=widths[0],
        end_width=widths[-1],
        hollow=hollow,
    )


def _offset_cubic(
    cubic: Cubic, width: float, base: list[Point], points: list[Point]
) -> float:
    """Add the places between a cubic's ends and their offsets; how hollow it bends.

    The offset of a curve with speed v and bend k leaves its chord over a step h of
    the parameter by h h v v k (1 + k width) / 8, k positive where the seam is full.
    """
    p, q, r, s = cubic.start, cubic.control1, cubic.control2, cubic.end
    ax, ay = 3 * (q.x - p.x), 3 * (q.y - p.y)
    bx, by = 3 * (r.x - 2 * q.x + p.x), 3 * (r.y - 2 * q.y + p.y)
    cx, cy = s.x - 3 * r.x + 3 * q.x - p.x, s.y - 3 * r.y + 3 * q.y - p.y
    worst, hollowest = 0.0, 0.0
    for i in range(_SAMPLES + 1):
        t = i / _SAMPLES
        vx, vy = ax + t * (2 * bx + 3 * t * cx), ay + t * (2 * by + 3 * t * cy)
        wx, wy = 2 * bx + 6 * t * cx, 2 * by + 6 * t * cy
        speed = math.sqrt(vx * vx + vy * vy)
        if speed <= SAME:
            continue
        span = vx * wy - vy * wx
        bend = span / (speed * speed * speed)
        hollowest = max(hollowest, -bend)
        grows = 1 + width * bend
        worst = max(worst, abs(span) / speed * max(grows, 0.25))
    steps = math.ceil(math.sqrt(worst * _SPARE / (8 * FLAT)))
    for i in range(1, steps):
        t = i / steps
        x, y = p.x + t * (ax + t * (bx + t * cx)), p.y + t * (ay + t * (by + t * cy))
        vx, vy = ax + t * (2 * bx + 3 * t * cx), ay + t * (2 * by + 3 * t * cy)
        speed = math.sqrt(vx * vx + vy * vy)
        if speed <= SAME:
            continue
        base.append(Point(x, y))
        points.append(Point(x + vy / speed * width, y - vx / speed * width))
    return hollowest
