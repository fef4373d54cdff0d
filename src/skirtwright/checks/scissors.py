"""Checks of one outline: can scissors follow it, can its marks be seen."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Final

from skirtwright.budget import spend
from skirtwright.checks.checked_skirt import Skirt, edge_words, of_edge
from skirtwright.checks.edge_walk import Place
from skirtwright.checks.limits import finding, graded, limits, severity_of
from skirtwright.checks.measured_outline import (
    HEM,
    WAIST,
    Paper,
    arriving,
    leaving,
    turned,
)
from skirtwright.geometry import Point
from skirtwright.geometry.curves import tightest_bend
from skirtwright.pieces.marks.notches import Notch
from skirtwright.problems import Problem

_SAME_WAY: Final = 1e-9
"""Tangent of the angle below which two sides lie on one line."""


def outline_checks(paper: Paper) -> Iterator[Problem]:
    """What there is to say of a piece's outline and its marks."""
    yield from _outline(paper)
    yield from _folds(paper)
    yield from _needles(paper)
    yield from _corners_in_edges(paper)
    yield from _notches_clear(paper)
    yield from _drill_marks(paper)


def _outline(paper: Paper) -> Iterator[Problem]:
    ring = paper.ring
    near = list(near_sides(ring, limits()["neck"]["gap"]))
    values = {"piece": paper.title}
    if crosses(ring, near):
        yield Problem("check.outline_crosses", where=paper.name, values=values)
        return
    gap = _narrowest(ring, near)
    if gap is not None:
        yield Problem("check.neck", "caution", paper.name, {**values, "gap": gap})


def _folds(paper: Paper) -> Iterator[Problem]:
    """A fold is met square: at the waist and at the hem."""
    for fold in paper.piece.spec.folds:
        for at_start in (True, False):
            angle = paper.corners.get((fold, at_start))
            if angle is None:
                continue
            edge = paper.neighbours[fold, at_start]
            yield from finding(
                "fold_angle",
                abs(angle - 90),
                f"{paper.name}.{edge}",
                of_edge(paper, edge, angle=angle),
            )


def _needles(paper: Paper) -> Iterator[Problem]:
    for (edge, at_start), angle in paper.corners.items():
        grade = graded("needle", angle)
        if grade and at_start:
            other = paper.neighbours[edge, at_start]
            values = of_edge(paper, edge, other=edge_words(other), angle=angle)
            where = f"{paper.name}.{edge} start"
            yield Problem("check.needle", severity_of(grade), where, values)


def _corners_in_edges(paper: Paper) -> Iterator[Problem]:
    """The sharpest re-entrant corner within each seam edge."""
    folds = paper.piece.spec.folds
    for edge in paper.panel.edges:
        if paper.role(edge.name) in (HEM, WAIST) or edge.name in folds:
            continue
        joints = [
            turned(arriving(before), leaving(after))
            for before, after in pairwise(edge.chain.segments)
            if not (before.fold or after.fold)
        ]
        # Anticlockwise, a re-entrant corner turns to the right.
        sharpest = max((-t if edge.forward else t for t in joints), default=0.0)
        values = of_edge(paper, edge.name, angle=sharpest)
        where = f"{paper.name}.{edge.name}"
        yield from finding("seam_corner", sharpest, where, values)


def bends_of_skirt(skirt: Skirt) -> Iterator[Problem]:
    """Edges that bend more tightly than scissors follow and a turned hem lies."""
    meant = dict(skirt.stated_at("bend_meant"))
    for paper in skirt.papers.values():
        told = tuple(
            meant.get(f"{paper.name}.{edge.name}", math.inf)
            for edge in paper.panel.edges
        )
        yield from skirt.remembered(paper.name, _bends, paper, told)


def _bends(paper: Paper, meant: Sequence[float]) -> Iterator[Problem]:
    for edge, radius in zip(paper.panel.edges, meant, strict=True):
        found = tightest_bend(edge.chain, within=limits()["bend"]["under"]["note"])
        if found < radius:
            said = of_edge(paper, edge.name, radius=found)
            yield from finding("bend", found, f"{paper.name}.{edge.name}", said)


def _notches_clear(paper: Paper) -> Iterator[Problem]:
    for notch in paper.piece.notches:
        if notch.clear > limits()["notch_clear"]["under"]["note"]:
            continue
        clear = max(notch.clear, 0.0)
        values = of_edge(paper, notch.edge, clear=clear, distance=notch.distance)
        where = f"{paper.name}.{notch.edge}"
        if not _cuts_inwards(paper, notch):
            continue
        if notch.clear <= 0:
            yield Problem("check.notch_clear", "wrong", where, values)
        else:
            yield from finding("notch_clear", notch.clear, where, values)


def _cuts_inwards(paper: Paper, notch: Notch) -> bool:
    """False for a tab left standing outside a narrow allowance."""
    seam = Point(*paper.edges[notch.edge].at(notch.distance))
    return any(snip.end.to(seam) < snip.start.to(seam) for snip in notch.snips)


def _drill_marks(paper: Paper) -> Iterator[Problem]:
    for dart in paper.piece.darts:
        off = dart.tip.to(dart.drill)
        values = {"piece": paper.title, "distance": off}
        where = f"{paper.name}.{dart.name}"
        left, right = (leg - dart.tip for leg in dart.legs)
        mark = dart.drill - dart.tip
        way = 1.0 if right.cross(left) >= 0 else -1.0
        outside = right.cross(mark) * way < 0 or mark.cross(left) * way < 0
        if outside or mark.dot(left + right) < 0:
            yield Problem("check.drill_outside", "wrong", where, values)
        else:
            yield from finding("drill_mark", off, where, values)


def crosses(ring: Sequence[Place], near: Sequence[tuple[int, int]]) -> bool:
    """Whether two sides cross, or a side turns back along the one before."""
    count = len(ring)
    for i, j in near:
        if _meet(ring[i], ring[(i + 1) % count], ring[j], ring[(j + 1) % count]):
            return True
    before = ring[-1]
    for here, after in pairwise((*ring, ring[0])):
        x, y = here[0] - before[0], here[1] - before[1]
        u, v = after[0] - here[0], after[1] - here[1]
        way = x * u + y * v
        if way < 0 and abs(x * v - y * u) <= -way * _SAME_WAY:
            return True
        before = here
    return False


def _meet(a: Place, b: Place, c: Place, d: Place) -> bool:
    """Whether two sides meet; of two on one line, whether their ends overlap."""
    for way in (0, 1):
        if max(a[way], b[way]) < min(c[way], d[way]):
            return False
        if max(c[way], d[way]) < min(a[way], b[way]):
            return False
    return _left(a, b, c) * _left(a, b, d) <= 0 and _left(c, d, a) * _left(c, d, b) <= 0


def _left(a: Place, b: Place, place: Place) -> float:
    return (b[0] - a[0]) * (place[1] - a[1]) - (b[1] - a[1]) * (place[0] - a[0])


def _narrowest(ring: Sequence[Place], near: Sequence[tuple[int, int]]) -> float | None:
    """How wide the paper is where it is too narrow to hold together, mm."""
    gap, apart = limits()["neck"]["gap"], limits()["neck"]["apart"]
    walked = [0.0]
    for a, b in pairwise((*ring, ring[0])):
        walked.append(walked[-1] + math.hypot(b[0] - a[0], b[1] - a[1]))
    round_, count = walked[-1], len(ring)
    best: float | None = None
    for i, j in near:
        for corner, side in ((i, j), (i + 1, j), (j, i), (j + 1, i)):
            at, low, high = walked[corner], walked[side], walked[side + 1]
            if abs(low - at) < apart > abs(high - at):
                continue
            place = ring[corner % count]
            found = _facing(place, ring[side], ring[(side + 1) % count])
            if found and found[0] < (gap if best is None else best):
                way = abs(low + found[1] - at)
                if min(way, round_ - way) > apart:
                    best = found[0]
    return best


def near_sides(ring: Sequence[Place], gap: float) -> Iterator[tuple[int, int]]:
    """Pairs of sides, not neighbours, whose boxes come within `gap` of each other."""
    count = len(ring)
    xs, ys = [p[0] for p in ring], [p[1] for p in ring]
    if max(xs) - min(xs) < max(ys) - min(ys):
        xs, ys = ys, xs
    boxes = []
    sides = zip(xs, xs[1:] + xs[:1], ys, ys[1:] + ys[:1], strict=True)
    for i, (a, b, c, d) in enumerate(sides):
        low, high = (a, b) if a < b else (b, a)
        left, right = (c, d) if c < d else (d, c)
        boxes.append((low - gap, high, left - gap, right, i))
    boxes.sort()
    active: list[tuple[float, float, float, float, int]] = []
    for box in boxes:
        low, _, left, right, i = box
        spend("points", 1 + len(active) // 8)
        active = [other for other in active if other[1] >= low]
        for _, _, left2, right2, j in active:
            if left2 <= right and right2 >= left and 1 < abs(i - j) < count - 1:
                spend("points", 3)
                yield i, j
        active.append(box)


def _facing(place: Place, first: Place, second: Place) -> tuple[float, float] | None:
    """Distance of a place that lies to the left of a side, and where along it."""
    x, y = second[0] - first[0], second[1] - first[1]
    u, v = place[0] - first[0], place[1] - first[1]
    size = math.hypot(x, y)
    if size == 0:
        return None
    share = (u * x + v * y) / (size * size)
    if not 0 <= share <= 1:
        return None
    gap = (x * v - y * u) / size
    return (gap, share * size) if gap >= 0 else None
