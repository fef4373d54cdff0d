"""A meter of curves: how tight the edges of a draft bend, where, and how they turn.

It reads nothing of the program but the points of lines and curves. The curvature of a
cubic is worked from its derivatives, `(x' y'' - y' x'') / (x'^2 + y'^2)^(3/2)` (plain
calculus); where two segments meet, the angle between them is read.
"""

from __future__ import annotations

import math
import random
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise

from skirtwright.checks.all_checks import Checking
from skirtwright.draft.draft import Draft
from skirtwright.draft.inputs import Inputs, Stated
from skirtwright.draft.shapes.darts import darts_on
from skirtwright.draft.shapes.panel import Panel
from skirtwright.draft.shapes.shutting import shut_line
from skirtwright.draft.working.recompute import Worked
from skirtwright.geometry.chain import Chain
from skirtwright.geometry.segment import Cubic, Segment
from skirtwright.pieces.cutting import Cutting

PLACES = 40
"""Places looked at on each cubic, spread closer towards its ends."""

SHORT = 0.05
"""A segment shorter than this, mm, is the leavings of a cut: nobody draws it."""

SEEN_DEG = 0.5
"""A turn smaller than this in all, degrees, is none that anyone sees."""


@dataclass(frozen=True)
class Fairness:
    """How fair a line is.

    Attributes:
        radius: of the tightest bend, mm; endless for a straight line.
        corner_deg: the sharpest corner between two segments.
        turns: how often it changes from bending one way to bending the other.
    """

    radius: float
    corner_deg: float
    turns: int


SHARES = tuple((1 - math.cos(math.pi * n / PLACES)) / 2 for n in range(PLACES + 1))


def curvatures(cubic: Cubic) -> Iterator[tuple[float, float]]:
    """Curvature (1/mm, left positive) and speed (mm) at places along a cubic."""
    p, q, r, s = cubic.start, cubic.control1, cubic.control2, cubic.end
    ax, ay = 3 * (q.x - p.x), 3 * (q.y - p.y)
    bx, by = 6 * (r.x - 2 * q.x + p.x), 6 * (r.y - 2 * q.y + p.y)
    cx, cy = 3 * (s.x - 3 * r.x + 3 * q.x - p.x), 3 * (s.y - 3 * r.y + 3 * q.y - p.y)
    for t in SHARES:
        dx, dy = ax + t * (bx + t * cx), ay + t * (by + t * cy)
        ddx, ddy = bx + 2 * t * cx, by + 2 * t * cy
        speed = math.sqrt(dx * dx + dy * dy)
        yield (dx * ddy - dy * ddx) / max(speed**3, 1e-12), speed


def fairness(chain: Chain) -> Fairness:
    """The tightest bend, the sharpest corner and the turns of a line."""
    tightest = corner = 0.0
    bends: list[float] = []
    before = None
    for segment in chain.segments:
        if segment.length < SHORT:
            continue
        if before is not None:
            turned = _turned_deg(before, segment)
            corner = max(corner, abs(turned))
            bends.append(turned)
        before = segment
        if isinstance(segment, Cubic):
            seen = list(curvatures(segment))
            tightest = max(tightest, *(abs(k) for k, _ in seen))
            bends.extend(_bends_deg(seen))
    return Fairness(1 / tightest if tightest else math.inf, corner, _turns(bends))


def _turned_deg(before: Segment, after: Segment) -> float:
    first, second = before.end_direction, after.start_direction
    return math.degrees(math.atan2(first.cross(second), first.dot(second)))


def _bends_deg(seen: list[tuple[float, float]]) -> list[float]:
    """How far a cubic turns over each of its looked-at stretches, degrees."""
    return [
        math.degrees((k * v + kk * vv) / 2 * (tt - t))
        for ((k, v), (kk, vv)), (t, tt) in zip(
            pairwise(seen), pairwise(SHARES), strict=True
        )
    ]


def _turns(bends: list[float]) -> int:
    """Changes of hand, of bends that come to something."""
    runs: list[float] = []
    for bend in bends:
        if not bend:
            continue
        if runs and runs[-1] * bend > 0:
            runs[-1] += bend
        else:
            runs.append(bend)
    seen: list[float] = []
    for run in runs:
        if abs(run) < SEEN_DEG:
            continue
        if not seen or seen[-1] * run < 0:
            seen.append(run)
    return max(len(seen) - 1, 0)


def drawn_edges(panel: Panel) -> Iterator[tuple[str, Chain]]:
    """The edges of a panel as they are sewn: darts shut, pleats folded apart."""
    for edge in panel.edges:
        known = {dart.name for dart in darts_on(panel, edge.name)}
        folds = {s.fold for s in edge.chain.segments if s.fold} - known
        if not folds:
            yield edge.name, shut_line(panel, edge.name)
            continue
        run: list[Segment] = []
        for segment in edge.chain.segments:
            if segment.fold:
                if run:
                    yield edge.name, Chain(tuple(run))
                run = []
            else:
                run.append(segment)
        if run:
            yield edge.name, Chain(tuple(run))


# What a draft may do


TIGHTEST = 60.0
"""The tightest bend of an edge, mm (common practice, no source), unless it is told."""

READ_TO = 0.2
"""How nearly this meter and the program's read a bend alike, mm."""

CORNER_DEG = 0.5
"""The sharpest corner within an edge that is meant to be smooth."""

CORNERED = {"vent", "rise"}
"""Edges drawn with corners: a vent's sloped top."""

TURNS = dict.fromkeys(("hem", "inner", "joins", "outer", "waist"), 2) | {
    "side": 3,
    "other_side": 3,
}
"""Changes of hand that are drafted; of other edges one.

A side, and an edge of a gore: in at a raised waist, out over the hip, in again to the
flare. A whole front has both halves of them; a hem lowered at its fold runs into the
level and up to the side.
"""

SHARP_WHEN_NOT_EASED = ("knee_curve", "break_curve")
"""Amounts that ease a corner of the sides and centre back; at nothing it stays one."""


def meant_at(draft: Draft, where: str) -> float | None:
    """The tightest bend a style says it means at `piece.edge`, mm."""
    told = draft.checks.get(f"bend_meant at {where}")
    return None if told is None else 10 * float(getattr(told, "value", told))


def bends_told(worked: Worked) -> set[str]:
    """The edges, `panel.edge`, of which the checks say that they bend too tightly."""
    found = Checking().of(worked, Cutting().cut(worked, {}), {}).problems
    at = {p.where.partition(".")[::2] for p in found if p.code == "check.bend"}
    pieces = worked.draft.pieces
    return {f"{p.panel}.{edge}" for p in pieces for name, edge in at if p.name == name}


def unfair(worked: Worked) -> Iterator[str]:
    """What is unfair in the pieces of a worked draft, and no check says."""
    left_sharp = any(not worked.values.get(name, 1) for name in SHARP_WHEN_NOT_EASED)
    for name in sorted({piece.panel for piece in worked.draft.pieces}):
        panel = worked.values.get(name)
        for edge, chain in drawn_edges(panel) if isinstance(panel, Panel) else ():
            found = fairness(chain)
            where = f"{name}.{edge}"
            tightest = (meant_at(worked.draft, where) or TIGHTEST) - READ_TO
            sharp = edge in CORNERED or (left_sharp and edge in ("side", "centre"))
            if found.radius < tightest and where not in bends_told(worked):
                yield f"{where} bends on {found.radius:.1f} mm"
            if found.corner_deg > CORNER_DEG and not sharp:
                yield f"{where} has a corner of {found.corner_deg:.1f} degrees"
            if found.turns > TURNS.get(edge, 1) and edge not in CORNERED:
                yield f"{where} turns {found.turns} times"


def at_ends(stated: Stated, inputs: Inputs, chance: random.Random, few: int) -> Inputs:
    """The inputs with a few of the amounts at an end of their range."""
    states = [state for state in stated.amounts.values() if state.applies]
    chosen = chance.sample(states, few)
    ends = {s.amount.name: chance.choice((s.least, s.most)) for s in chosen}
    return replace(inputs, amounts=ends)
