"""Checks of one outline: can scissors follow it, can its marks be seen."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

from skirtwright.geometry import Point, bend_deg
from skirtwright.geometry.ring import crossing
from skirtwright.pieces.checks_limits import finding, graded, limits, severity_of
from skirtwright.pieces.checks_paper import HEM, WAIST, Paper, Place
from skirtwright.pieces.checks_skirt import edge_words
from skirtwright.pieces.notches import Notch
from skirtwright.problems import Problem


def outline_checks(paper: Paper) -> Iterator[Problem]:
    """What there is to say of a piece's outline and its marks."""
    yield from _outline(paper)
    yield from _folds(paper)
    yield from _needles(paper)
    yield from _corners_in_edges(paper)
    yield from _notches_clear(paper)
    yield from _drill_marks(paper)


def _outline(paper: Paper) -> Iterator[Problem]:
    values = {"piece": paper.title}
    if crossing([Point(x, y) for x, y in paper.ring]):
        yield Problem("check.outline_crosses", where=paper.name, values=values)
        return
    gap = _narrowest(paper.ring)
    if gap is not None:
        values |= {"gap": gap}
        yield Problem("check.neck", "caution", paper.name, values)


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
                {"piece": paper.title, "edge": edge_words(edge), "angle": angle},
            )


def _needles(paper: Paper) -> Iterator[Problem]:
    for (edge, at_start), angle in paper.corners.items():
        grade = graded("needle", angle)
        if grade and at_start:
            other = paper.neighbours[edge, at_start]
            yield Problem(
                "check.needle",
                severity_of(grade),
                f"{paper.name}.{edge} start",
                {
                    "piece": paper.title,
                    "edge": edge_words(edge),
                    "other": edge_words(other),
                    "angle": angle,
                },
            )


def _corners_in_edges(paper: Paper) -> Iterator[Problem]:
    """The sharpest re-entrant corner within each seam edge."""
    folds = paper.piece.spec.folds
    for edge in paper.panel.edges:
        if edge.name in (HEM, WAIST) or edge.name in folds:
            continue
        turned = [
            bend_deg(before.end_direction, after.start_direction)
            for before, after in pairwise(edge.chain.segments)
            if not (before.fold or after.fold)
        ]
        # Anticlockwise, a re-entrant corner turns to the right.
        bends = [-turn if edge.forward else turn for turn in turned]
        yield from finding(
            "seam_corner",
            max(bends, default=0.0),
            f"{paper.name}.{edge.name}",
            {
                "piece": paper.title,
                "edge": edge_words(edge.name),
                "angle": max(bends, default=0.0),
            },
        )


def _notches_clear(paper: Paper) -> Iterator[Problem]:
    for notch in paper.piece.notches:
        if notch.clear > limits()["notch_clear"]["under"]["note"]:
            continue
        values = {"edge": edge_words(notch.edge), "clear": max(notch.clear, 0.0)}
        values |= {"piece": paper.title, "distance": notch.distance}
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
        values = {
            "piece": paper.title,
            "dart": dart.name,
            "distance": dart.tip.to(dart.drill),
        }
        where = f"{paper.name}.{dart.name}"
        left, right = (leg - dart.tip for leg in dart.legs)
        mark = dart.drill - dart.tip
        turned = 1.0 if right.cross(left) >= 0 else -1.0
        outside = right.cross(mark) * turned < 0 or mark.cross(left) * turned < 0
        if outside or mark.dot(left + right) < 0:
            yield Problem("check.drill_outside", "wrong", where, values)
        else:
            yield from finding("drill_mark", values["distance"], where, values)


def _narrowest(ring: Sequence[Place]) -> float | None:
    """How wide the paper is where it is too narrow to hold together, mm.

    Sides are sorted along the longer way of the ring; only those that come within
    the limit of one another are measured.
    """
    gap, apart = limits()["neck"]["gap"], limits()["neck"]["apart"]
    xs, ys = [p[0] for p in ring], [p[1] for p in ring]
    along, across = (0, 1) if max(xs) - min(xs) > max(ys) - min(ys) else (1, 0)
    walked = [0.0]
    sides = []
    for i, (a, b) in enumerate(zip(ring, [*ring[1:], ring[0]], strict=True)):
        walked.append(walked[-1] + math.dist(a, b))
        low, high = sorted((a[along], b[along]))
        left, right = sorted((a[across], b[across]))
        sides.append((low - gap, high, left - gap, right, i, a, b))
    round_ = walked[-1]
    best: float | None = None
    active: list[tuple[float, float, float, float, int, Place, Place]] = []
    for side in sorted(sides):
        low, _, left, right, i, a, b = side
        active = [other for other in active if other[1] >= low]
        for _, _, left2, right2, j, c, d in active:
            if left2 > right or right2 < left:
                continue
            for place, first, second, k, at in (
                (a, c, d, j, walked[i]),
                (b, c, d, j, walked[i + 1]),
                (c, a, b, i, walked[j]),
                (d, a, b, i, walked[j + 1]),
            ):
                found = _facing(place, first, second)
                if found and found[0] < min(gap, best or gap):
                    way = abs(walked[k] + found[1] - at)
                    if min(way, round_ - way) > apart:
                        best = found[0]
        active.append(side)
    return best


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
