"""What the cutting line does where two allowances meet.

Turns are counted along the anticlockwise outline: left turns are the piece's own
corners, right turns its re-entrant ones. The plain rule: under 20 degrees two widths
make a step square to the seam; a corner is mitred up to 2.5 times the larger
allowance and cut off beyond that; a re-entrant corner is trimmed where the offsets
cross. On a fold, the neighbour's line runs square to the fold. A turned-up hem's
allowance is the mirror of the piece over the fold line.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from skirtwright.geometry import Point, bend_deg, reflect
from skirtwright.geometry.meeting import lines_meet
from skirtwright.geometry.tolerance import SAME
from skirtwright.pieces.spec import Corner
from skirtwright.pieces.strip import Strip

STEP_DEG = 20.0
"""Below this turn two widths make a step."""

MITRE = 2.5
"""Longest mitre, as a multiple of the larger allowance."""

_SLIGHT_DEG = 0.1
_REACH = 4.0

Side = Literal["left", "right"]


@dataclass(frozen=True, slots=True)
class Joint:
    """The cutting line between two strips.

    Attributes:
        left: where the strip before is left, as a position on its points counted
            back from the corner (0 the corner itself, 1.5 halfway past the next).
        points: what lies between, in order.
        right: where the strip after is taken up, counted from the corner.
    """

    left: float
    points: tuple[Point, ...]
    right: float

    def turned(self) -> Joint:
        """The same with the two strips exchanged."""
        return Joint(self.right, self.points[::-1], self.left)


@dataclass(frozen=True, slots=True)
class _Side:
    """A strip seen from a corner."""

    points: Sequence[Point]
    away: Point
    normal: Point
    width: float


def joint(
    left: Strip, right: Strip, rule: Corner | None = None, owner: Side = "left"
) -> Joint:
    """The cutting line where `left` ends and `right` begins.

    `rule` replaces the plain rule; `owner` is the strip it was given for.
    """
    before = _Side(left.points[::-1], -left.arriving, left.arriving.right(), left.width)
    after = _Side(right.points, right.leaving, right.leaving.right(), right.width)
    corner = left.base[-1]
    if left.fold or right.fold:
        if left.fold:
            return _at_fold(corner, before, after)
        return _at_fold(corner, after, before).turned()
    turn = bend_deg(left.arriving, right.leaving)
    if rule == "bevel":
        return Joint(0.0, (), 0.0)
    made = None
    if rule is not None:
        form = _mirrored if rule == "mirror" else _squared
        if owner == "left":
            made = form(corner, before, after)
        else:
            other_way = form(corner, after, before)
            made = other_way.turned() if other_way else None
    return made or _plain(corner, before, after, turn)


def _plain(corner: Point, before: _Side, after: _Side, turn: float) -> Joint:
    if turn < 0 and (turn < -_SLIGHT_DEG or before.width != after.width):
        made = _trimmed(before, after) or _step(corner, before, after)
    elif turn < STEP_DEG:
        made = _step(corner, before, after) or _mitred(corner, before, after)
    else:
        made = _mitred(corner, before, after)
    return made or Joint(0.0, (), 0.0)


def _mitred(corner: Point, before: _Side, after: _Side) -> Joint | None:
    first, second = before.points[0], after.points[0]
    tip = lines_meet(first, before.away, second, after.away)
    larger = max(before.width, after.width)
    if tip is None or corner.to(tip) > MITRE * larger + SAME:
        return None
    # How far each line has to be drawn on to the tip; less than nothing: cut back.
    on, on_after = (first - tip).dot(before.away), (second - tip).dot(after.away)
    if on < -SAME and on_after >= 0:
        return _cut_back(corner, before, after)
    if on_after < -SAME and on >= 0:
        made = _cut_back(corner, after, before)
        return made.turned() if made else None
    return Joint(_share(before.points, -on), (tip,), _share(after.points, -on_after))


def _cut_back(corner: Point, wide: _Side, narrow: _Side) -> Joint | None:
    """The narrower line drawn on until it cuts the wider one, if that is near."""
    hit = first_hit(wide.points, narrow.points[0], -narrow.away)
    larger = max(wide.width, narrow.width)
    if hit and corner.to(place_on(wide.points, hit[0])) <= MITRE * larger:
        return Joint(hit[0], (), 0.0)
    return _step(corner, wide, narrow)


def _share(points: Sequence[Point], back: float) -> float:
    """A position `back` mm along the first piece of a line; 0 when not positive."""
    return min(back / points[0].to(points[1]), 1.0) if back > SAME else 0.0


def _trimmed(before: _Side, after: _Side) -> Joint | None:
    reach = _REACH * max(before.width, after.width)
    found = first_crossing(before.points, after.points, reach)
    return Joint(found[0], (), found[1]) if found else None


def _step(corner: Point, before: _Side, after: _Side) -> Joint | None:
    """The wider strip ends square to its seam, down to the narrower one's line."""
    if before.width == after.width:
        return None
    if before.width > after.width:
        return _squared(corner, before, after)
    made = _squared(corner, after, before)
    return made.turned() if made else None


def _squared(corner: Point, square: _Side, other: _Side) -> Joint | None:
    """`square` ends square to its seam, where the other's line comes to meet it."""
    hit = first_hit(other.points, corner, square.normal)
    if hit and hit[1] <= square.width:
        return Joint(0.0, (), hit[0])
    start = other.points[0]
    meet = lines_meet(corner, square.normal, start, other.away)
    if meet is None or (start - meet).dot(other.away) < -SAME:
        return None
    height = (meet - corner).dot(square.normal)
    return Joint(0.0, (meet,), 0.0) if -SAME <= height <= square.width else None


def _at_fold(corner: Point, fold: _Side, other: _Side) -> Joint:
    """The fold drawn on straight; the other's line meets it square."""
    on, start = -fold.away, other.points[0]
    if (start - corner).dot(fold.normal) > SAME:
        hit = first_hit(other.points, corner, on)
        if hit:
            return Joint(0.0, (), hit[0])
    height = max((start - corner).dot(on), 0.0)
    return Joint(0.0, (corner + on * height,), 0.0)


def _mirrored(corner: Point, hem: _Side, seam: _Side) -> Joint | None:
    """The seam's cutting line as far as the hem line, then its mirror over it."""
    outwards = -hem.away
    hit = first_hit(seam.points, corner, outwards)
    if hit:
        cut, start = hit[0], place_on(seam.points, hit[0])
    else:
        meet = lines_meet(corner, outwards, seam.points[0], seam.away)
        if meet is None or (seam.points[0] - meet).dot(seam.away) < -SAME:
            return None
        cut, start = 0.0, meet
    over = reflect(corner, corner + hem.away)
    far = _REACH * (hem.width + seam.width)
    last = seam.points[-1]
    beyond = last + (last - seam.points[-2]).unit() * far
    rest = seam.points[int(cut) + 1 :] if cut else seam.points
    folded = [start, *(over(p) for p in rest), over(beyond)]
    lines = [hem.points[0] + outwards * far, *hem.points]
    found = first_crossing(folded, lines, float("inf"))
    if not found:
        return None
    at, on_hem = found
    points = (*folded[: int(at) + 1], place_on(folded, at))
    # `points` run from the seam to the hem; the hem is the first of this joint.
    return Joint(max(on_hem - 1, 0.0), points[::-1], cut)


def place_on(points: Sequence[Point], position: float) -> Point:
    """The point at a position: 2.25 is a quarter past the third point."""
    index = min(int(position), len(points) - 2)
    return points[index].between(points[index + 1], position - index)


def first_hit(
    points: Sequence[Point], origin: Point, along: Point
) -> tuple[float, float] | None:
    """Where a ray first meets a line of points, searched from the line's start.

    Returns the position on the line and the distance along the ray (`along` is a
    unit step), or None.
    """
    before = along.cross(points[0] - origin)
    for i in range(len(points) - 1):
        after = along.cross(points[i + 1] - origin)
        if (before <= 0 <= after or after <= 0 <= before) and before != after:
            share = before / (before - after)
            place = points[i].between(points[i + 1], share)
            distance = (place - origin).dot(along)
            if distance >= -SAME:
                return i + share, max(distance, 0.0)
        before = after
    return None


def first_crossing(
    first: Sequence[Point], second: Sequence[Point], reach: float
) -> tuple[float, float] | None:
    """Where two lines of points cross, nearest to the start of `first`.

    Only what lies within `reach` mm of each line's own start is looked at. Returns
    the two positions, or None.
    """
    ends = _within(second, reach)
    for i in range(_within(first, reach)):
        a, b = first[i], first[i + 1]
        low_x, high_x = (a.x, b.x) if a.x < b.x else (b.x, a.x)
        low_y, high_y = (a.y, b.y) if a.y < b.y else (b.y, a.y)
        best: tuple[float, float] | None = None
        for j in range(ends):
            c, d = second[j], second[j + 1]
            if (
                (c.x < low_x and d.x < low_x)
                or (c.x > high_x and d.x > high_x)
                or (c.y < low_y and d.y < low_y)
                or (c.y > high_y and d.y > high_y)
            ):
                continue
            found = _crossing_shares(a, b, c, d)
            if found and (best is None or i + found[0] < best[0]):
                best = (i + found[0], j + found[1])
        if best:
            return best
    return None


def _within(points: Sequence[Point], reach: float) -> int:
    """How many pieces of a line begin within `reach` of its start."""
    last = len(points) - 1
    start = points[0]
    for i in range(last):
        if start.to(points[i]) > reach:
            return i
    return last


def _crossing_shares(
    a: Point, b: Point, c: Point, d: Point
) -> tuple[float, float] | None:
    ux, uy, vx, vy = b.x - a.x, b.y - a.y, d.x - c.x, d.y - c.y
    across = ux * vy - uy * vx
    if across == 0:
        return None
    wx, wy = c.x - a.x, c.y - a.y
    share, other = (wx * vy - wy * vx) / across, (wx * uy - wy * ux) / across
    if 0 <= share <= 1 and 0 <= other <= 1:
        return share, other
    return None
