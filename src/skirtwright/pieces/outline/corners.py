"""What the cutting line does where two allowances meet.

Turns are counted along the anticlockwise outline: left turns are the piece's own
corners, right turns its re-entrant ones. The plain rule: under 20 degrees two widths
make a step square to the seam, and a slant of 45 degrees where they are two widths
of one edge; a corner is drawn out full, one under 60 degrees cut off 6 mm beyond the
stitching point; a re-entrant corner is trimmed, or drawn on, to where the offsets
cross. On a fold, the neighbour's line runs square to the fold. An allowance that is
turned before the next is sewn, such as a hem's, is the mirror of the piece over its
own line; where two are turned, such as a hem's and a facing's, they are mitred.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, Literal

from skirtwright.budget import spend
from skirtwright.geometry import Point, bend_deg, reflect
from skirtwright.geometry.meeting import lines_meet
from skirtwright.geometry.tolerance import SAME
from skirtwright.pieces.outline.allowance_strip import Strip
from skirtwright.pieces.outline.crossings import first_crossing, first_hit, place_on
from skirtwright.pieces.spec import Corner

_JOINED: Final = 20
"""To join two allowances is as much work as to find so many points."""

STEP_DEG: Final = 20.0
"""Below this turn two widths make a step."""

MITRE: Final = 2.5
"""Longest corner, as a multiple of the larger allowance."""

SHARP_DEG: Final = 60.0
"""A point of less than this is cut off (common practice, no source)."""

BEYOND_POINT: Final = 6.0
"""How far beyond the stitching point, mm (common practice, no source)."""

MITRE_SEAM: Final = 6.0
"""Allowance of a mitre's own seam, mm, as enclosed (common practice, no source)."""

_SLIGHT_DEG: Final = 0.1
_STRAIGHT_ON: Final = 1e-6
_REACH: Final = 4.0

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
    spend("points", _JOINED)
    corner = left.base[-1]
    before = _Side(
        left.points[::-1], -left.arriving, left.arriving.right(), left.end_width
    )
    after = _Side(right.points, right.leaving, right.leaving.right(), right.start_width)
    if left.fold or right.fold:
        if left.fold:
            return _at_fold(corner, before, after)
        return _at_fold(corner, after, before).turned()
    turn = bend_deg(left.arriving, right.leaving)
    if rule == "bevel":
        return Joint(0.0, (), 0.0)
    made = None
    if rule is not None and turn >= STEP_DEG:
        made = _ruled(corner, before, after, rule, owner)
    elif left.edge == right.edge and abs(turn) < STEP_DEG:
        made = _slanted(before, after)
    return made or _plain(corner, before, after, turn)


def _ruled(
    corner: Point, before: _Side, after: _Side, rule: Corner, owner: Side
) -> Joint | None:
    """The joint a rule makes; None where the owner has nothing to turn."""
    if rule == "mitre":
        return _mitred_turns(corner, before, after)
    form = _mirrored if rule == "mirror" else _squared
    first, second = (before, after) if owner == "left" else (after, before)
    made = form(corner, first, second) if first.width > 0 else None
    return made.turned() if made and owner == "right" else made


def _plain(corner: Point, before: _Side, after: _Side, turn: float) -> Joint:
    made: Joint | None
    if turn < 0 and (turn < -_SLIGHT_DEG or before.width != after.width):
        made = _trimmed(before, after)
        if made is None and turn < -STEP_DEG:
            made = _drawn_on(before, after)
        made = made or _step(corner, before, after)
    elif turn < STEP_DEG:
        made = _step(corner, before, after)
        # Of two curves that turn in a hair the lines cross on both of them; where
        # their tangents do lies beside them, and a line through there crosses itself.
        made = made or (_trimmed(before, after) if turn < 0 else None)
        made = made or _full(corner, before, after)
    else:
        sharp = turn > 180 - SHARP_DEG
        made = _cut_off(corner, before, after) if sharp else None
        made = made or _full(corner, before, after)
    return made or Joint(0.0, (), 0.0)


def _full(corner: Point, before: _Side, after: _Side) -> Joint | None:
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


def _cut_off(corner: Point, before: _Side, after: _Side) -> Joint | None:
    """Cut off square to the point, a little beyond the stitching point."""
    out = (before.normal + after.normal).unit()
    tip = lines_meet(before.points[0], before.away, after.points[0], after.away)
    if tip is not None and (tip - corner).dot(out) <= BEYOND_POINT:
        return None
    middle = corner + out * BEYOND_POINT
    # Leaving a left turn, the strip before lies to the right of the way out.
    ends = _onto(before, middle, out.right()), _onto(after, middle, out.left())
    return _between_ends(*ends)


def _mitred_turns(corner: Point, before: _Side, after: _Side) -> Joint | None:
    """A mitre of two turned allowances.

    Turned in, they meet on the line from the corner to where their edges cross.
    Laid open over either fold that line is the mitre's stitching line.
    """
    across = before.normal.cross(after.normal)
    if min(before.width, after.width) <= MITRE_SEAM or abs(across) < SAME:
        return None
    inner = after.normal.left() * before.width - before.normal.left() * after.width
    way = inner * (1 / across)
    out = (before.normal + after.normal).unit()
    ends, seams = [], []
    for side in (before, after):
        along = (way + side.normal * (2 * side.width)).unit()
        square = along.left() if along.left().dot(out) > 0 else along.right()
        start = corner + square * MITRE_SEAM
        seams.append((start, along))
        ends.append(_onto(side, start, along))
    bend = lines_meet(*seams[0], *seams[1])
    left, right = ends
    if bend is None or abs(seams[0][1].cross(seams[1][1])) < _STRAIGHT_ON:
        return _between_ends(left, right)
    near = corner.to(bend) < 2 * MITRE_SEAM
    return _between_ends(left, right, bend) if near else None


End = tuple[float, tuple[Point, ...]]
"""A position on a strip's points, and the corner before it if it is drawn on."""


def _onto(side: _Side, start: Point, along: Point) -> End | None:
    """Where a ray comes to a strip's line, which may be drawn on to meet it."""
    hit = first_hit(side.points, start, along)
    meet = lines_meet(start, along, side.points[0], side.away)
    if meet is not None and (side.points[0] - meet).dot(side.away) >= -SAME:
        distance = (meet - start).dot(along)
        if distance >= -SAME and (hit is None or distance < hit[1]):
            return 0.0, (meet,)
    return (hit[0], ()) if hit else None


def _between_ends(left: End | None, right: End | None, *bend: Point) -> Joint | None:
    if left is None or right is None:
        return None
    return Joint(left[0], (*left[1], *bend, *right[1]), right[0])


def _slanted(before: _Side, after: _Side) -> Joint | None:
    """From one width to another of one edge by 45 degrees, within the narrower."""
    if before.width == after.width:
        return None
    if before.width < after.width:
        made = _slanted(after, before)
        return made.turned() if made else None
    way = (after.away - before.normal).unit()
    hit = first_hit(after.points, before.points[0], way)
    most = 3 * (before.width - after.width)
    return Joint(0.0, (), hit[0]) if hit and hit[1] <= most else None


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


def _drawn_on(before: _Side, after: _Side) -> Joint | None:
    """At a hollow corner the wider line runs on until it meets the narrower one."""
    if before.width < after.width:
        made = _drawn_on(after, before)
        return made.turned() if made else None
    if not after.width:
        return None
    hit = first_hit(after.points, before.points[0], -before.away)
    near = hit is not None and hit[1] <= MITRE * before.width
    return Joint(0.0, (), hit[0]) if hit and near else None


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
    if corner.to(place_on(folded, at)) > MITRE * max(hem.width, seam.width) + SAME:
        return None
    points = (*folded[: int(at) + 1], place_on(folded, at))
    # `points` run from the seam to the hem; the hem is the first of this joint.
    return Joint(max(on_hem - 1, 0.0), points[::-1], cut)
