"""Test squares, check lines, rules and crosses: marks that say a page is true.

All are on the `test` layer, which is always printed, save a page's own frame, rule
and crosses, which are on `frame`.
"""

from __future__ import annotations

from collections.abc import Iterator

from skirtwright.export.correction import SQUARE
from skirtwright.export.sheet import Layer, Mark, Stroke, Text, line, outline
from skirtwright.geometry import Point
from skirtwright.geometry.box import Box
from skirtwright.words import Manner, say

INCH_SQUARE = 4 * 25.4
"""Side of the inch test square: 4 in, mm."""

ARM = 4.0
"""Half the length of a joining cross, mm."""

HAIR = 0.18
"""The thinnest pen of the series, mm."""


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
        start: its foot.
        room: how long it may be, mm.
        manner: how to say its length.
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


def rule(box: Box, out: float) -> Iterator[Mark]:
    """Centimetres along the left side and the foot of a frame, outside it.

    Pages laid side by side show at once when one came out at another scale.

    Args:
        box: the frame.
        out: length of the longest tick, mm; negative for a rule inside.
    """
    ticks: list[Stroke] = []
    for upright in (False, True):
        reach = box.height if upright else box.width
        for number in range(int(reach // 5) + 1):
            long = out if number % 2 == 0 else out / 2
            foot, step = _rule_tick(box, number * 5.0, long, upright)
            ticks.append(Stroke(line(foot, foot + step), "frame", weight=HAIR, dash=()))
            if number % 10 == 0 and number:
                yield _rule_number(foot + step, number // 2, out, upright)
    yield from ticks


def _rule_tick(
    box: Box, along: float, out: float, upright: bool
) -> tuple[Point, Point]:
    if upright:
        return Point(box.left, box.bottom + along), Point(-out, 0)
    return Point(box.left + along, box.bottom), Point(0, -out)


def _rule_number(at: Point, centimetres: int, out: float, upright: bool) -> Text:
    away = 0.5 if out > 0 else -2.0
    if upright:
        return Text(str(centimetres), at + Point(-away, 0), 1.5, 90, "frame", "middle")
    return Text(str(centimetres), at + Point(0, -away - 1.5), 1.5, 0, "frame", "middle")


def frame_of(box: Box) -> Stroke:
    """The dashed frame of a page's window."""
    return Stroke(outline(*box.corners), "frame", closed=True)
