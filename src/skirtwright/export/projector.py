"""One page to throw on cloth: full size, wide lines, nothing cut off.

The page is a whole number of centimetres each way. A grid of 100 mm on a layer of its
own and a 100 mm square are for setting the projector up. Words are at least 20 mm
high, so that they can be read from where she stands.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Literal

from skirtwright.export.facts import CoverFacts, one_line
from skirtwright.export.head import head, with_head
from skirtwright.export.pages import (
    Document,
    Page,
    View,
    language_tag,
    layer_names,
)
from skirtwright.export.papers import looks
from skirtwright.export.setting import broken
from skirtwright.export.sheet import (
    LEADING,
    Group,
    Mark,
    Sheet,
    Stroke,
    Text,
    line,
    outline,
)
from skirtwright.geometry import Motion, Point, heading
from skirtwright.geometry.box import Box
from skirtwright.problems import Refused
from skirtwright.words import Manner, say

Ground = Literal["light", "dark"]

LETTERS = 20.0
"""Least height of capitals, mm."""

MOST = 5080.0
"""The longest side a page can have, mm: 200 in."""

_GRID = 100.0
_BORDER = 20.0
_LEAST_LINE = 120.0


def projected(sheet: Sheet, facts: CoverFacts, manner: Manner | None = None) -> Sheet:
    """The sheet with large letters, head, grid and border; the page's corner at 0, 0.

    Raises:
        Refused: `print.nothing`; `print.projector_too_large` beyond 5080 mm a side.
    """
    manner = manner or Manner()
    if not sheet.groups:
        raise Refused("print.nothing")
    large = replace(sheet, groups=tuple(_readable(group) for group in sheet.groups))
    said = (say("print.grid", manner=manner),)
    words = replace(facts, finished=(), allowances="", notes=said)
    width = max(large.box.width, 600.0)
    foot = head(sheet, words, manner, width, letters=LETTERS, inches=False)
    foot = _without_small_words(foot)
    large = with_head(large, foot, gap=40.0)
    box = large.box.grown(_BORDER)
    wide, high = (math.ceil(side / 10 - 1e-9) * 10 for side in (box.width, box.height))
    if max(wide, high) > MOST:
        raise Refused("print.projector_too_large", width=wide, height=high, most=MOST)
    # The square's corner falls on the grid, so that each proves the other.
    square = large.groups[-1].outline_box
    left, low = square.left - _BORDER, square.bottom - _BORDER
    page = Box(left, low, left + wide, low + high)
    grid = Group.of(say("print.layer.frame", manner=manner), _grid(page, square))
    whole = replace(large, groups=(grid, *large.groups))
    return whole.moved(Motion(e=-page.left, f=-page.bottom))


def _without_small_words(group: Group) -> Group:
    """The head's own small label of the square left out: the words say it."""
    return Group.of(
        group.name,
        (m for m in group.marks if not isinstance(m, Text) or m.height_mm >= LETTERS),
    )


def _readable(group: Group) -> Group:
    """Letters made large: broken to stay in the piece, lines below each other apart."""
    marks: list[Mark] = []
    above: tuple[Text, Text] | None = None
    for mark in group.marks:
        if not isinstance(mark, Text):
            marks.append(mark)
            continue
        large = _large(mark, group.outline_box.right)
        if above is not None and _is_next_line(above[0], mark):
            down = heading(mark.angle_deg).right() * (LETTERS * LEADING)
            lines = above[1].text.count("\n") + 1
            large = replace(large, at=above[1].at + down * lines)
        marks.append(large)
        above = (mark, large)
    return Group.of(group.name, marks)


def _large(text: Text, right: float) -> Text:
    words = text.text
    if text.anchor == "start" and not text.angle_deg:
        room = max(right - text.at.x - _BORDER, _LEAST_LINE)
        lines = [p for x in words.split("\n") for p in broken(x, room, LETTERS)]
        words = "\n".join(lines)
    return replace(text, text=words, height_mm=max(text.height_mm, LETTERS))


def _is_next_line(above: Text, below: Text) -> bool:
    """Whether words stand as the next line of what was written before them."""
    step = below.at - above.at
    down = heading(above.angle_deg).right()
    apart = step.dot(down)
    return (
        above.angle_deg == below.angle_deg
        and abs(step.cross(down)) < 1.0
        and 0 < apart < 4 * max(above.height_mm, below.height_mm)
    )


def _grid(page: Box, square: Box) -> list[Mark]:
    """Lines 100 mm apart through the corner of the square, and the page's border."""
    inside = page.grown(-2.0)
    marks: list[Mark] = [Stroke(outline(*inside.corners), "frame", 1.0, closed=True)]
    x = square.left
    while x < page.right - 2:
        marks.append(Stroke(line(Point(x, page.bottom), Point(x, page.top)), "frame"))
        x += _GRID
    y = square.bottom
    while y < page.top - 2:
        marks.append(Stroke(line(Point(page.left, y), Point(page.right, y)), "frame"))
        y += _GRID
    return marks


def write_projector(
    sheet: Sheet,
    facts: CoverFacts,
    manner: Manner | None = None,
    *,
    ground: Ground = "light",
    layered: bool = True,
) -> bytes:
    """The PDF of one page.

    Args:
        sheet: the pieces as they lie on the cloth.
        facts: client, style and date are said.
        manner: her unit and language.
        ground: `dark` fills the page black and draws light lines.
        layered: kinds of line, and the grid, can be turned off in the reader.
    """
    from skirtwright.export.pdf import write

    manner = manner or Manner()
    drawn = projected(sheet, facts, manner)
    page = drawn.groups[0].outline_box
    whole = Box(0, 0, page.width, page.height)
    return write(
        Document(
            title=" · ".join(filter(None, (facts.client, sheet.title))),
            subject=one_line(sheet, facts, manner),
            client=facts.client,
            date=facts.date,
            language=language_tag(manner),
            look=looks()[f"projector-{ground}"],
            drawing=drawn,
            pages=(
                Page(
                    sheet.title,
                    whole.width,
                    whole.height,
                    view=View(whole, Point(0, 0)),
                ),
            ),
            layer_names=layer_names(manner) if layered else {},
            grounded=ground == "dark",
        )
    )
