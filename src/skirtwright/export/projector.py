"""Pages to throw on cloth: full size, wide lines, nothing cut off.

The first page is for setting the projector up: squares of 100 mm, with lines from
corner to corner. The pattern's own page is a whole number of centimetres each way; a
grid of 100 mm on a layer of its own and a 100 mm square are on it too. Words are at
least 20 mm high, so that they can be read from where she stands.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Literal, get_args

from skirtwright.export.facts import CoverFacts, one_line
from skirtwright.export.furniture import clear_of
from skirtwright.export.head import head, with_head
from skirtwright.export.labelling import Field, Room, width_aside
from skirtwright.export.pages import Document, Page, View
from skirtwright.export.print_media import looks
from skirtwright.export.setting import broken
from skirtwright.export.sheet import (
    LEADING,
    Group,
    Mark,
    Sheet,
    Stroke,
    Text,
    box_of,
    line,
    outline,
)
from skirtwright.geometry import Motion, Point, shift
from skirtwright.geometry.arc import arc
from skirtwright.geometry.box import Box
from skirtwright.geometry.box import box_of as room_of
from skirtwright.pieces.arrange import side_by_side
from skirtwright.problems import Refused
from skirtwright.words import Manner, say

Ground = Literal["light", "dark"]

GROUNDS: tuple[Ground, ...] = get_args(Ground)

LETTERS = 20.0
"""Least height of capitals, mm."""

_LABEL = 30.0
"""Height of capitals of a label where there is room, mm."""

MOST = 5080.0
"""The longest side a page can have, mm: 200 in."""

SET_UP = (1000.0, 600.0)
"""Width and height of the page to set the projector up by, mm."""

_GRID = 100.0
_BORDER = 20.0
_OFF = 4.0
"""How far the grid keeps from words, mm."""

_APART = 60.0
"""Between pieces, mm."""

_NARROW = 1.5
"""A piece no wider than so many times its words has them beside it."""


def projected(sheet: Sheet, facts: CoverFacts, manner: Manner = Manner()) -> Sheet:
    """The sheet with large letters, head, grid and border; the page's corner at 0, 0.

    Raises:
        Refused: `print.nothing`; `print.projector_too_large` beyond 5080 mm a side.
    """
    if not sheet.groups:
        raise Refused("print.nothing")
    large = _apart(replace(sheet, groups=tuple(map(_readable, sheet.groups))))
    said = (say("print.grid", manner=manner),)
    told = replace(facts, finished=(), allowances="", notes=said)
    width = max(large.box.width, 600.0)
    foot = head(sheet, told, manner, width, letters=LETTERS, inches=False)
    foot = _without_small_words(foot)
    room = room_of(p for group in large.groups for p in _with_words(group).corners)
    large = Room(large, [Field(room, room)], least=LETTERS).sheet
    large = with_head(large, foot, gap=40.0)
    box = large.box.grown(_BORDER)
    wide, high = (math.ceil(side / 10 - 1e-9) * 10 for side in (box.width, box.height))
    if max(wide, high) > MOST:
        raise Refused("print.projector_too_large", width=wide, height=high, most=MOST)
    # The square's corner falls on the grid, so that each proves the other.
    square = large.groups[-1].outline_box
    left, low = square.left - _BORDER, square.bottom - _BORDER
    page = Box(left, low, left + wide, low + high)
    words = [box_of([m]).grown(_OFF) for m in large.marks if isinstance(m, Text)]
    lines = _grid(page, square, words)
    grid = Group.of(say("print.layer.frame", manner=manner), lines)
    whole = replace(large, groups=(grid, *large.groups))
    return whole.moved(Motion(e=-page.left, f=-page.bottom))


def _apart(sheet: Sheet) -> Sheet:
    """The pieces further from one another, in the order in which they lie."""
    groups = sorted(sheet.groups, key=lambda group: group.outline_box.left)
    rings = [_with_words(group).corners for group in groups]
    moves = side_by_side(rings, _APART)
    moved = (g.moved(shift(m)) for g, m in zip(groups, moves, strict=True))
    return replace(sheet, groups=tuple(moved))


def _with_words(group: Group) -> Box:
    """The room of a piece; of a narrow one with that of its words beside it.

    The words of its lines stand at the left, its name at the right.
    """
    box = group.outline_box
    of_lines, name = (
        max(
            (width_aside(w, LETTERS) for w in group.labels if bool(w.of) == of),
            default=0.0,
        )
        for of in (True, False)
    )
    if box.width > _NARROW * max(of_lines, name):
        return box
    return Box(box.left - of_lines, box.bottom, box.right + name, box.top)


def _without_small_words(group: Group) -> Group:
    """The head's own small label of the square left out: the words say it."""
    return Group.of(
        group.name,
        (m for m in group.marks if not isinstance(m, Text) or m.height_mm >= LETTERS),
    )


def _readable(group: Group) -> Group:
    """Labels that want large letters."""
    labels = (
        replace(label, height_mm=LETTERS if label.of else _LABEL)
        for label in group.labels
    )
    return replace(group, labels=tuple(labels))


def _grid(page: Box, square: Box, words: Sequence[Box]) -> Iterator[Mark]:
    """The page's border, and lines 100 mm apart through the corner of the square.

    They leave out the words.
    """
    inside = page.grown(-2.0)
    yield Stroke(outline(*inside.corners), "frame", 1.0, closed=True)
    ends = []
    for number in range(math.ceil((page.right - 2 - square.left) / _GRID)):
        x = square.left + number * _GRID
        ends.append((Point(x, page.bottom), Point(x, page.top)))
    for number in range(math.ceil((page.top - 2 - square.bottom) / _GRID)):
        y = square.bottom + number * _GRID
        ends.append((Point(page.left, y), Point(page.right, y)))
    for start, end in ends:
        for part in clear_of(start, end, words):
            yield Stroke(line(*part), "frame")


def _set_up(manner: Manner) -> Page:
    wide, high = SET_UP
    name = say("print.set_up", manner=manner)
    lines = [
        part
        for words in (name, say("print.set_up.how", manner=manner))
        for part in broken(words, wide - 3 * _GRID, LETTERS, bold=True)
    ]
    # The words stand in a band of squares left white in the middle.
    band = math.ceil((len(lines) * LEADING * LETTERS + _BORDER) / _GRID)
    low = (math.floor(high / _GRID) - band) // 2 * _GRID
    white = Box(_GRID, low, wide - _GRID, low + band * _GRID)
    marks = list(_squares(wide, high, white))
    foot = white.middle.y + (len(lines) / 2 * LEADING - 1.45) * LETTERS
    words = "\n".join(lines)
    at = Point(wide / 2, foot)
    marks.append(Text(words, at, LETTERS, layer="test", anchor="middle", bold=True))
    return Page(name, wide, high, tuple(marks))


def _squares(wide: float, high: float, white: Box) -> Iterator[Mark]:
    """Squares of 100 mm all over but for a band, lines to the corners, and circles."""
    for column in range(round(wide / _GRID)):
        for row in range(round(high / _GRID)):
            left, low = column * _GRID, row * _GRID
            square = Box(left, low, left + _GRID, low + _GRID)
            if not square.meets(white):
                yield Stroke(outline(*square.corners), "test", closed=True)
    edge = Box(0, 0, wide, high).grown(-1.0)
    yield Stroke(outline(*edge.corners), "test", 2.0, closed=True)
    for corner in edge.corners:
        inward = Point(
            math.copysign(_GRID, wide / 2 - corner.x),
            math.copysign(_GRID, high / 2 - corner.y),
        )
        yield Stroke(line(corner, corner + inward), "test")
        middle = corner + inward * 0.5
        circle = arc(middle, middle + Point(0.4 * _GRID, 0), 360.0)
        yield Stroke(circle.segments, "test", closed=True)


def write_projector(
    sheet: Sheet,
    facts: CoverFacts,
    manner: Manner = Manner(),
    *,
    ground: Ground = "light",
    layered: bool = True,
) -> bytes:
    """The PDF: a page to set the projector up by, and the pattern on one page.

    Args:
        ground: `dark` fills the page black and draws light lines.
        layered: kinds of line, and the grid, can be turned off in the reader.
    """
    from skirtwright.export.pdf import write

    drawn = projected(sheet, facts, manner)
    page = drawn.groups[0].outline_box
    whole = Box(0, 0, page.width, page.height)
    pattern = Page(
        sheet.title, whole.width, whole.height, view=View(whole, Point(0, 0))
    )
    return write(
        Document(
            of=sheet.title,
            subject=one_line(sheet, facts, manner),
            client=facts.client,
            date=facts.date,
            manner=manner,
            look=looks()[f"projector-{ground}"],
            drawing=drawn,
            pages=(_set_up(manner), pattern),
            layered=layered,
            grounded=ground == "dark",
        )
    )
