"""Checks between waist and hip: darts, side curve, waist curve."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import accumulate, pairwise
from typing import Final

from skirtwright.checks.checked_skirt import Skirt, of_edge
from skirtwright.checks.edge_walk import DrawnEdge
from skirtwright.checks.limits import finding, limits
from skirtwright.checks.measured_outline import (
    WAIST,
    Level,
    Paper,
    arriving,
    leaving,
    turned,
)
from skirtwright.draft.shapes.panel import Edge
from skirtwright.geometry import Cubic, Point, Segment, bend_deg
from skirtwright.pieces.marks.notches import walked_to_dart
from skirtwright.pieces.piece import CutDart
from skirtwright.problems import Problem

_LOOKS: Final = 12
"""Places at which the direction of a curve is looked at."""


def waist_checks(paper: Paper, depth: float | None, raised: float) -> Iterator[Problem]:
    """What there is to say of a piece above its hip line.

    Args:
        depth: from her waist to her hip, mm.
        raised: how far its waist is moved up from hers on purpose, mm.
    """
    yield from _dart_shapes(paper, depth)
    yield from _dart_places(paper)
    for waist in paper.of_role(WAIST):
        yield from _waist_curve(paper, waist)
        if depth:
            yield from _sides(paper, waist, depth, raised)


def waist_of_skirt(skirt: Skirt) -> Iterator[Problem]:
    """The whole waist, walked along its curve, against what was asked."""
    asked = skirt.stated("waist_asked")
    if asked is not None and skirt.waist is not None:
        values = {"waist": skirt.waist, "asked": asked}
        off = abs(skirt.waist - asked)
        yield from finding("waist_length", off, "waist", values | {"off": off})


def band_of_skirt(skirt: Skirt) -> Iterator[Problem]:
    """What the skirt's edge is eased on to its band, or cannot be."""
    bands = list(skirt.stated_at("band_length"))
    # One edge of a band speaks for it, walked on the paper; else its length is told.
    band = next((skirt.walked(place) or told for place, told in bands), None)
    if band and skirt.waist is not None:
        # What is gathered or stretched onto its band is not eased.
        more = skirt.waist - (skirt.stated("drawn_in") or 0.0) - band
        values = {"band": band, "waist": skirt.waist, "more": more, "less": -more}
        codes = dict.fromkeys(("note", "caution", "wrong"), "band_longer")
        yield from finding("band", more, "waist", values, codes if more < 0 else None)


# Darts


def _dart_shapes(paper: Paper, depth: float | None) -> Iterator[Problem]:
    darts = paper.piece.darts
    # Of several that are too wide or too narrow the one that is so most is told.
    widest = max(darts, key=lambda dart: dart.intake, default=None)
    narrowest = min(darts, key=lambda dart: dart.intake, default=None)
    for dart in darts:
        where = f"{paper.name}.{dart.name}"
        left, right = (leg.to(dart.tip) for leg in dart.legs)
        off = abs(left - right)
        values = {"piece": paper.title, "width": dart.intake, "difference": off}
        yield from finding("dart_legs", off, where, values)
        if _legs_exchanged(paper, dart):
            yield Problem("check.dart_negative", "wrong", where, values)
            continue
        if dart is widest:
            yield from finding("dart_wide", dart.intake, where, values)
        if dart is narrowest:
            yield from finding("dart_narrow", dart.intake, where, values)
        if depth and paper.hip is not None and paper.role(dart.edge) == WAIST:
            yield from _tip(paper, dart, paper.hip, depth)


def _legs_exchanged(paper: Paper, dart: CutDart) -> bool:
    """True where the legs lie over one another: a dart of less than nothing."""
    turn = bend_deg(dart.legs[0] - dart.tip, dart.legs[1] - dart.tip)
    forward = paper.panel.edge(dart.edge).forward
    return (turn < 0) if forward else (turn > 0)


def _tip(paper: Paper, dart: CutDart, hip: Level, depth: float) -> Iterator[Problem]:
    over = -hip.below((dart.tip.x, dart.tip.y))
    limit = limits()["tip_of_dart"]
    bounds = limit[paper.piece.spec.body or "other"]
    values = {
        "piece": paper.title,
        "over": abs(over),
        "least": bounds["least"] * depth,
        "most": bounds["most"] * depth,
    }
    where = f"{paper.name}.{dart.name}"
    if over < 0:
        yield Problem("check.dart_below_hip", "caution", where, values)
    elif not bounds["least"] - 1e-6 <= over / depth <= bounds["most"] + 1e-6:
        yield Problem("check.dart_tip", "note", where, values)


def _dart_places(paper: Paper) -> Iterator[Problem]:
    """Darts too near one another or the side, along the finished waist."""
    by_edge: dict[str, list[tuple[float, CutDart]]] = {}
    for dart in paper.piece.darts:
        mark = paper.panel.dart(dart.name)
        by_edge.setdefault(dart.edge, []).append(
            (walked_to_dart(paper.panel, mark), dart)
        )
    for edge, darts in by_edge.items():
        darts.sort(key=lambda item: item[0])
        for (here, first), (there, second) in pairwise(darts):
            where = f"{paper.name}.{second.name}"
            values = {"piece": paper.title, "gap": there - here}
            if _legs_cross(first, second):
                yield Problem("check.darts_cross", "wrong", where, values)
            else:
                yield from finding("dart_near", there - here, where, values)
        if paper.role(paper.neighbours[edge, False]) != "side":
            continue
        last = darts[-1][1]
        gap = paper.edges[edge].length - darts[-1][0]
        values = {"piece": paper.title, "gap": gap}
        codes = dict.fromkeys(("note", "caution"), "dart_near_side")
        yield from finding("dart_near", gap, f"{paper.name}.{last.name}", values, codes)


def _legs_cross(first: CutDart, second: CutDart) -> bool:
    return any(
        _cross(first.tip, leg, second.tip, other)
        for leg in first.legs
        for other in second.legs
    )


def _cross(a: Point, b: Point, c: Point, d: Point) -> bool:
    along, other = b - a, d - c
    return (
        along.cross(c - a) * along.cross(d - a) < 0
        and other.cross(a - c) * other.cross(b - c) < 0
    )


# The waist curve


def _waist_curve(paper: Paper, waist: str) -> Iterator[Problem]:
    """A waist that bends both ways once the darts are shut."""
    edge = paper.panel.edge(waist)
    darts = {dart.name for dart in paper.piece.darts}
    if any(s.fold and s.fold not in darts for s in edge.chain.segments):
        # How a pleat lies when folded is not to be seen from its edge.
        return
    turns = list(_turns(paper, edge))
    left = math.fsum(turn for turn in turns if turn > 0)
    right = -math.fsum(turn for turn in turns if turn < 0)
    back = min(left, right)
    values = {"piece": paper.title, "angle": back}
    yield from finding("waist_turns", back, f"{paper.name}.{waist}", values)


def _turns(paper: Paper, edge: Edge) -> Iterator[float]:
    """How far each stretch of an edge turns, degrees, left > 0, darts shut."""
    before: Segment | None = None
    shut = 0.0
    dart_name = ""
    for segment in edge.chain.segments:
        if segment.fold:
            if segment.fold != dart_name:
                dart_name = segment.fold
                shut += _dart_angle(paper, dart_name)
            continue
        if before is not None:
            bend = turned(arriving(before), leaving(segment))
            # Shutting a dart turns what lies beyond it back by the dart's own angle.
            yield (bend + shut + 180) % 360 - 180
        shut, dart_name = 0.0, ""
        if isinstance(segment, Cubic):
            yield from _cubic_turns(segment)
        before = segment


def _cubic_turns(cubic: Cubic) -> tuple[float, float]:
    """How far a curve turns left and how far right, degrees."""
    p, q, r, e = cubic.start, cubic.control1, cubic.control2, cubic.end
    first = (q.x - p.x) * (r.y - q.y) - (q.y - p.y) * (r.x - q.x)
    second = (r.x - q.x) * (e.y - r.y) - (r.y - q.y) * (e.x - r.x)
    if first * second >= 0:
        # Handles that bend one way only: so does the curve.
        turn = turned(leaving(cubic), arriving(cubic))
        return max(turn, 0.0), min(turn, 0.0)
    ways = [cubic.direction_at_parameter(i / _LOOKS) for i in range(_LOOKS + 1)]
    bends = [bend_deg(a, b) for a, b in pairwise(ways)]
    return (
        math.fsum(b for b in bends if b > 0),
        math.fsum(b for b in bends if b < 0),
    )


def _dart_angle(paper: Paper, name: str) -> float:
    dart = next((d for d in paper.piece.darts if d.name == name), None)
    if dart is None:
        return 0.0
    return bend_deg(dart.legs[1] - dart.tip, dart.legs[0] - dart.tip)


# Sides


def _sides(paper: Paper, waist: str, depth: float, raised: float) -> Iterator[Problem]:
    """The edges that run down from the ends of the waist to the hip line."""
    hip = paper.hip
    if hip is None:
        return
    for at_start in (True, False):
        name = paper.neighbours[waist, at_start]
        edge = paper.edges[name]
        begins = paper.neighbours[name, True] == waist
        if name in paper.piece.spec.folds or not begins:
            continue
        above = _above_hip(edge, hip)
        if len(above) < 2:
            continue
        # The edge of a pocket ends higher; what is left of a side there is a side.
        reaches, is_side = above[-1][0] == 0, paper.role(name) == "side"
        if reaches or is_side:
            yield from _side(paper, name, above, hip, depth)
            if reaches and is_side:
                yield from _tape(paper, name, above[-1][2], depth + raised)


def _above_hip(edge: DrawnEdge, hip: Level) -> list[tuple[float, float, float]]:
    """Depth, way across and walked distance of places from waist to hip line."""
    down_x, down_y, along_x, along_y = hip.down.x, hip.down.y, hip.along.x, hip.along.y
    start_x, start_y = hip.start.x, hip.start.y
    found: list[tuple[float, float, float]] = []
    for (u, v), walked in zip(edge.points, edge.walked, strict=True):
        x, y = u - start_x, v - start_y
        below, across = x * down_x + y * down_y, x * along_x + y * along_y
        if below > 0:
            if found and found[-1][0] < 0:
                share = found[-1][0] / (found[-1][0] - below)
                _, across_before, walked_before = found[-1]
                at = across_before + (across - across_before) * share
                found.append(
                    (0.0, at, walked_before + (walked - walked_before) * share)
                )
            break
        found.append((below, across, walked))
    return found


def _side(
    paper: Paper,
    name: str,
    above: list[tuple[float, float, float]],
    hip: Level,
    depth: float,
) -> Iterator[Problem]:
    """How the edge comes down: `above` is depth, way across, distance walked."""
    where = f"{paper.name}.{name}"
    said = of_edge(paper, name)
    end = above[-1]
    outwards = 1.0 if end[1] > hip.length / 2 else -1.0
    intake = (end[1] - above[0][1]) * outwards
    values = said | {"intake": intake, "depth": depth}
    yield from finding("intake_at_side", intake / depth, where, values)
    way = paper.panel.edge(name).chain.start_direction
    down, across = way.dot(hip.down), way.dot(hip.along) * outwards
    lean = math.degrees(math.atan2(across, down))
    yield from finding("side_lean", lean, where, said | {"angle": lean})
    if len(above) == 2:
        # A straight line is no curve that could bulge or run back.
        return
    out = max((place[1] - end[1]) * outwards for place in above)
    lowest = accumulate((place[0] for place in above), max)
    back = max(low - place[0] for low, place in zip(lowest, above, strict=True))
    off = max(out, back)
    yield from finding("side_outside", off, where, said | {"out": off})


def _tape(paper: Paper, name: str, walked: float, depth: float) -> Iterator[Problem]:
    """The side from waist to hip line against the tape, from the waist as meant."""
    off = abs(walked - depth)
    values = {"piece": paper.title, "walked": walked, "depth": depth, "off": off}
    yield from finding("hip_level", off, f"{paper.name}.{name}", values)
