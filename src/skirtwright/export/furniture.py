"""Test squares, check lines, rules and crosses: marks that say a page is true.

All are on the `test` layer, which is always printed, save a page's own frame, rule
and crosses, which are on `frame`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from skirtwright.export.correction import SQUARE
from skirtwright.export.sheet import (
    LEADING,
    SMALLEST_LETTERS,
    Anchor,
    Layer,
    Mark,
    Stroke,
    Text,
    line,
    outline,
)
from skirtwright.geometry import Point
from skirtwright.geometry.box import Box
from skirtwright.words import Manner, say

INCH_SQUARE = 4 * 25.4
"""Side of the inch test square: 4 in, mm."""

ARM = 4.0
"""Half the length of a joining cross, mm."""

HAIR = 0.18
"""The thinnest pen of the series, mm."""

OFF = 1.2
"""From a frame, or from the ticks along it, to the words in the margin, mm."""

TICK = 2.5
"""Length of the tick of a centimetre, mm."""

JOINS_AT = {"left": 0.3, "right": 0.3, "top": 0.78, "foot": 0.7}
"""How far along each side of a sheet the name of its neighbour begins."""

_JOINS_LONG = 18.0


def metric_square(corner: Point, manner: Manner) -> tuple[Mark, ...]:
    """The 100 mm square from its lower left corner, a tick every 10 mm."""
    label = say("print.metric_square", manner=manner)
    return _square(corner, SQUARE, 10.0, label)


def inch_square(corner: Point, manner: Manner) -> tuple[Mark, ...]:
    """The 4 in square from its lower left corner, a tick every half inch."""
    label = say("print.inch_square", manner=manner)
    return _square(corner, INCH_SQUARE, 12.7, label)


def _square(corner: Point, side: float, every: float, label: str) -> tuple[Mark, ...]:
    x, y = corner.x, corner.y
    box = Box(x, y, x + side, y + side)
    marks: list[Mark] = [Stroke(outline(*box.corners), "test", closed=True)]
    for number in range(1, round(side / every)):
        along = number * every
        marks.append(_tick(Point(x + along, y), Point(0, 2)))
        marks.append(_tick(Point(x, y + along), Point(2, 0)))
    foot = Point(x + side / 2, y + 4)
    return (*marks, Text(label, foot, 2.5, layer="test", anchor="middle", bold=True))


def _tick(foot: Point, step: Point) -> Stroke:
    return Stroke(line(foot, foot + step), "test", weight=HAIR)


def check_line(start: Point, room: float, manner: Manner) -> tuple[Mark, ...]:
    """An upright line to lay a tape on: 1000 mm, or the longest that has room.

    Args:
        room: how long it may be, mm.
    """
    length = next((x for x in (1000.0, 500.0, 200.0) if x <= room), 100.0)
    end = start + Point(0, length)
    marks: list[Mark] = [Stroke(line(start, end), "test")]
    for number in range(round(length / 100) + 1):
        here = start + Point(0, number * 100.0)
        marks.append(Stroke(line(here - Point(3, 0), here + Point(3, 0)), "test"))
    label = say("print.check_line", {"length": length}, manner)
    at = start + Point(6, 4)
    return (*marks, Text(label, at, 2.5, 90, layer="test"))


def cross(at: Point, layer: Layer = "frame") -> tuple[Stroke, Stroke]:
    """A joining cross: its middle is the same place on both pages."""
    across, up = Point(ARM, 0), Point(0, ARM)
    return (
        Stroke(line(at - across, at + across), layer, weight=HAIR, dash=()),
        Stroke(line(at - up, at + up), layer, weight=HAIR, dash=()),
    )


def rule(box: Box, *, outside: bool) -> Iterator[Mark]:
    """Centimetres along the left side and the foot of a frame.

    Pages laid side by side show at once when one came out at another scale. The
    numbers leave room for the names of the neighbours.

    Args:
        outside: in the margin; where that is too narrow inside, without numbers.
    """
    for upright in (False, True):
        reach = box.height if upright else box.width
        name = reach * JOINS_AT["left" if upright else "foot"]
        for number in range(int(reach // 5) + 1):
            long = (TICK if number % 2 == 0 else TICK / 2) * (1 if outside else -1)
            along = number * 5.0
            foot, step = _rule_tick(box, along, long, upright)
            yield Stroke(line(foot, foot + step), "frame", weight=HAIR, dash=())
            clear = not name - 4 < along < name + _JOINS_LONG
            if outside and number % 10 == 0 and number and clear:
                yield margin_words(
                    str(number // 2),
                    "left" if upright else "foot",
                    box,
                    along,
                    "middle",
                )


def margin_words(
    words: str,
    side: str,
    box: Box,
    along: float,
    anchor: Anchor = "start",
    up: int = 0,
) -> Text:
    """Words in the margin along a side of a frame, those at a rule outside its ticks.

    Args:
        side: `left`, `right`, `top` or `foot`.
        along: where they stand, mm from the left or from the foot.
        anchor: which part of them stands there.
        up: at the top, how many lines stand below them.
    """
    over = OFF + up * LEADING * SMALLEST_LETTERS
    ruled = TICK + OFF
    at, angle = {
        "left": (Point(box.left - ruled, box.bottom + along), 90.0),
        "right": (Point(box.right + OFF + SMALLEST_LETTERS, box.bottom + along), 90.0),
        "top": (Point(box.left + along, box.top + over), 0.0),
        "foot": (Point(box.left + along, box.bottom - ruled - SMALLEST_LETTERS), 0.0),
    }[side]
    return Text(words, at, SMALLEST_LETTERS, angle, "frame", anchor)


def _rule_tick(
    box: Box, along: float, out: float, upright: bool
) -> tuple[Point, Point]:
    if upright:
        return Point(box.left, box.bottom + along), Point(-out, 0)
    return Point(box.left + along, box.bottom), Point(0, -out)


def frame_of(box: Box) -> Stroke:
    """The dashed frame of a page's window."""
    return Stroke(outline(*box.corners), "frame", closed=True)


def clear_of(
    start: Point, end: Point, boxes: Iterable[Box]
) -> Iterator[tuple[Point, Point]]:
    """The parts of a level or upright line that run through none of some boxes."""
    level = start.y == end.y
    reach = start.to(end)
    gaps = []
    for box in boxes:
        near, far, low, high, at = (
            (box.left - start.x, box.right - start.x, box.bottom, box.top, start.y)
            if level
            else (box.bottom - start.y, box.top - start.y, box.left, box.right, start.x)
        )
        if low < at < high and far > 0 and near < reach:
            gaps.append((near, far))
    along = 0.0
    for near, far in sorted(gaps):
        if near > along:
            yield start.between(end, along / reach), start.between(end, near / reach)
        along = max(along, far)
    if along < reach:
        yield start.between(end, along / reach), end
