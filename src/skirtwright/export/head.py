"""The head of a print that has no first page: squares, and what it is.

Full-size rolls, projectors, plotters and SVG carry it as one more group of the sheet,
so that no output leaves without a square to measure, its scale, unit and client.
"""

from __future__ import annotations

from dataclasses import replace

from skirtwright.export.correction import SQUARE
from skirtwright.export.facts import CoverFacts, one_line
from skirtwright.export.furniture import (
    INCH_SQUARE,
    inch_square,
    metric_square,
)
from skirtwright.export.setting import broken
from skirtwright.export.sheet import Group, Mark, Sheet, Text
from skirtwright.geometry import Motion, Point
from skirtwright.words import Manner, say

GAP = 6.0


def told(sheet: Sheet, facts: CoverFacts, manner: Manner) -> list[str]:
    """What the head says, a line each."""
    lines = [one_line(sheet, facts, manner)]
    style = "" if facts.style in sheet.title else facts.style
    lines.append(" · ".join(filter(None, (style, facts.date))))
    pairs = (f"{name} {value}" for name, value in facts.finished)
    lines.append(" · ".join(pairs))
    lines.append(facts.allowances)
    lines.extend(facts.notes)
    return [line for line in lines if line]


def head(
    sheet: Sheet,
    facts: CoverFacts,
    manner: Manner,
    width: float,
    *,
    letters: float = 3.0,
    inches: bool = True,
) -> Group:
    """The squares side by side from the origin, and the words above them.

    Args:
        width: room across, mm; the words are broken to fit.
        letters: height of capitals, mm.
        inches: draw the 4 in square too.
    """
    marks: list[Mark] = [*metric_square(Point(0, 0), manner)]
    if inches:
        marks += inch_square(Point(SQUARE + GAP, 0), manner)
    lines = [
        part
        for words in told(sheet, facts, manner)
        for part in broken(words, width, letters)
    ]
    foot = INCH_SQUARE + GAP + (len(lines) - 1) * letters * 1.9
    if lines:
        at = Point(0, foot)
        marks.append(Text("\n".join(lines), at, letters, layer="test"))
    return Group.of(say("print.layer.test", manner=manner), marks)


def with_head(sheet: Sheet, group: Group, gap: float = 20.0) -> Sheet:
    """The sheet with a head below it, left edges in line."""
    box, room = sheet.box, group.outline_box
    down = Motion(e=box.left - room.left, f=box.bottom - gap - room.top)
    return replace(sheet, groups=(*sheet.groups, group.moved(down)))
