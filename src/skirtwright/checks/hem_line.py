"""Checks of the hem: how evenly it hangs, and whether its turning lies flat."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise
from typing import Final

from skirtwright.checks.checked_skirt import Skirt, of_edge
from skirtwright.checks.edge_walk import Place
from skirtwright.checks.limits import finding, limits
from skirtwright.checks.measured_outline import HEM, Paper
from skirtwright.problems import Problem

_HANGS_FROM: Final = ("knee", "hip")
"""The levels a hem may hang from, the lowest first."""


def hem_depth_of_skirt(skirt: Skirt) -> Iterator[Problem]:
    """The turned-up hem that is deepest for its curve, said once for the skirt."""
    weight = limits()["hem_depth"]["heavy"] if skirt.stated("heavy") else 1.0
    found = [
        problem
        for paper in skirt.papers.values()
        for problem in skirt.remembered(paper.name, hem_depth, paper, weight)
        # What little a lining has to draw in is not worth a word.
        if paper.is_shell or problem.severity != "note"
    ]
    if found:
        deepest = max(found, key=lambda problem: float(problem.values["share"]))
        if deepest.severity == "wrong" and skirt.stated("hem_levelled"):
            # What was read off the floor dips and rises a little: that is eased in.
            deepest = replace(deepest, code="check.hem_too_deep", severity="caution")
        yield deepest


def hem_depth(paper: Paper, weight: float) -> Iterator[Problem]:
    """Turned-up hems of a piece that are too deep for the curve they lie on.

    `weight` is how many times as much heavy cloth makes of it.
    """
    limit = limits()["hem_depth"]
    for edge in paper.piece.edges:
        depth = max((width for width, _ in edge.allowances), default=0.0)
        if edge.name not in paper.piece.spec.turned_up or depth <= 0:
            continue
        points = paper.edges[edge.name].coarse
        if not paper.panel.edge(edge.name).forward:
            points = points[::-1]
        bend = tightest(points, limit["window"])
        would_do = limit["over"]["caution"] / bend / weight if bend else depth
        sizes = {"depth": depth, "share": depth * bend, "would_do": would_do}
        values = of_edge(paper, edge.name, **sizes)
        codes = {"caution": "hem_too_deep", "wrong": "hem_will_not_turn"}
        where = f"{paper.name}.{edge.name}"
        yield from finding("hem_depth", depth * bend * weight, where, values, codes)


def tightest(points: Sequence[Place], window: float) -> float:
    """The greatest bend to the left of a line of points, as 1 / radius, per mm.

    It is taken over stretches of at least `window` mm, or the whole line.
    """
    at: list[float] = []
    headings: list[float] = []
    walked = 0.0
    for (x, y), (u, v) in pairwise(points):
        size = math.hypot(u - x, v - y)
        if size == 0:
            continue
        heading = math.atan2(v - y, u - x)
        if headings:
            heading = headings[-1] + math.remainder(heading - headings[-1], math.tau)
        at.append(walked + size / 2)
        headings.append(heading)
        walked += size
    if len(at) < 2:
        return 0.0
    best, first = (headings[-1] - headings[0]) / (at[-1] - at[0]), 0
    for last in range(1, len(at)):
        while first + 1 < last and at[last] - at[first + 1] >= window:
            first += 1
        span = at[last] - at[first]
        if span >= window:
            best = max(best, (headings[last] - headings[first]) / span)
    return max(best, 0.0)


def hem_even(skirt: Skirt) -> Iterator[Problem]:
    """How evenly the hem lies below the line it hangs from, over the whole skirt.

    A hem levelled off the floor lies on paper as she stands: nothing is said of it.
    What a style lowers on purpose, so that it comes level on her, is no unevenness.
    """
    if skirt.stated("hem_levelled"):
        return
    for level in _HANGS_FROM:
        found = [(paper, _depths(paper, level)) for paper in skirt.shell]
        depths = [(d, paper) for paper, all_ in found for d in all_]
        if depths:
            break
    else:
        return
    lowered = {at.partition(".")[0]: by for at, by in skirt.stated_at("hem_lowered")}
    least = min(d for d, _ in depths)
    most = max(max(least, d - lowered.get(paper.name, 0.0)) for d, paper in depths)
    short = next(paper for d, paper in depths if d == least)
    spread = most - least - (skirt.stated("hem_spread_meant") or 0.0)
    values = {"spread": spread, "least": least, "most": most, "piece": short.title}
    hem = short.of_role(HEM)[0]
    yield from finding("hem_spread", spread, f"{short.name}.{hem}", values)


def _depths(paper: Paper, level: str) -> list[float]:
    """Distances of places of the hem from a level marked on the panel, mm."""
    marked = paper.panel.level(level)
    if marked is None:
        return []
    line = [(p.x, p.y) for p in marked.flattened(0.5)]
    found: list[float] = []
    for hem in paper.of_role(HEM):
        places = paper.edges[hem].coarse
        places = [*places[:-1:2], places[-1]]
        found += [min(_from_side(p, a, b) for a, b in pairwise(line)) for p in places]
    return found


def _from_side(place: Place, first: Place, second: Place) -> float:
    x, y = second[0] - first[0], second[1] - first[1]
    u, v = place[0] - first[0], place[1] - first[1]
    size = x * x + y * y
    share = min(max((u * x + v * y) / size, 0.0), 1.0) if size else 0.0
    return math.hypot(u - share * x, v - share * y)
