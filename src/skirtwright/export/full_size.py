"""One full-size PDF for a copy shop's roll, or for A0 sheets.

x runs across the roll, y along it. At the foot stand the test squares and what the
print is; along the left edge a line of 1000 mm to lay a tape on; above, the pieces,
turned and moved to use little of the roll. Longer than the longest page, the drawing
is cut across into pages of one PDF that overlap and have crosses. Nothing is ever
drawn smaller to fit.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from skirtwright.export.facts import CoverFacts, one_line
from skirtwright.export.furniture import check_line, cross
from skirtwright.export.head import head
from skirtwright.export.labelling import Field, Room
from skirtwright.export.packing import CLEAR, QUARTERS
from skirtwright.export.pages import Document, Page, View
from skirtwright.export.print_media import Roll
from skirtwright.export.roll_packing import on_a_roll
from skirtwright.export.sheet import Group, Mark, Sheet, Stroke, line
from skirtwright.geometry import Motion, Point, shift
from skirtwright.geometry.box import Box
from skirtwright.problems import Refused
from skirtwright.words import Manner, say

MARGIN = 5.0
"""Left unprinted all round, mm."""

OVERLAP = 20.0
"""What two pages of a roll share, mm."""

_BAND = 16.0
"""Room along the left edge for the check line, mm."""

_GAP = 10.0
_CLEAR = 2.0
_LETTERS = 3.0
"""Height of capitals of the line that says which page it is, mm."""


@dataclass(frozen=True)
class FullSize:
    """A sheet laid on a roll.

    Attributes:
        sheet: the pieces, the squares and the check line where they lie; the paper's
            lower left corner is the origin.
        windows: what each page shows.
    """

    sheet: Sheet
    roll: Roll
    windows: tuple[Box, ...]

    @property
    def length(self) -> float:
        """Length of roll used if it were one piece, mm."""
        return self.windows[-1].top + MARGIN


def full_size(
    sheet: Sheet,
    roll: Roll,
    facts: CoverFacts,
    manner: Manner = Manner(),
) -> FullSize:
    """Lay a sheet on a roll.

    Raises:
        Refused: `print.nothing`; `print.roll_too_narrow` when a piece does not fit
            however it is turned.
    """
    if not sheet.groups:
        raise Refused("print.nothing")
    room = roll.width - 2 * MARGIN - _BAND
    check_room(sheet, roll.width, room)
    packed = on_a_roll(sheet, room, QUARTERS)
    if packed is None:
        raise too_narrow(sheet, roll.width, room)
    top = head(sheet, facts, manner, room)
    corner = Motion(e=MARGIN + _BAND, f=MARGIN)
    above = corner.then(Motion(f=top.outline_box.top + _GAP))
    groups = [group.moved(above) for group in packed.groups]
    laid = replace(sheet, groups=(*groups, top.moved(corner)))
    tape = check_line(Point(MARGIN + 4, MARGIN + 2), laid.box.top - MARGIN - 4, manner)
    name = say("print.check_line", {"length": 1000.0}, manner)
    laid = replace(sheet, groups=(*laid.groups, Group.of(name, tape)))
    windows = _windows(laid.box.top, roll)
    return FullSize(laid, roll, windows)


def check_room(sheet: Sheet, roll: float, room: float) -> None:
    """Refuse a piece wider than the room, whichever way it is turned.

    Raises:
        Refused: `print.roll_too_narrow`.
    """
    if any(_least(group) > room for group in sheet.groups):
        raise too_narrow(sheet, roll, room)


def too_narrow(sheet: Sheet, roll: float, room: float) -> Refused:
    """The refusal that names the piece which needs most."""
    worst = max(sheet.groups, key=_least)
    return needs_more(worst.name, _least(worst), roll, room)


def needs_more(
    piece: str, needed: float, roll: float, room: float, spare: int = 0
) -> Refused:
    """The refusal of a piece that needs more than the room of a roll, all mm."""
    least = math.ceil(needed + roll - room) + spare
    values = {"piece": piece, "needed": needed, "room": room, "least": least}
    return Refused("print.roll_too_narrow", piece, **values)


def _least(group: Group) -> float:
    return min(group.outline_box.width, group.outline_box.height) + 2 * CLEAR


def _windows(top: float, roll: Roll) -> tuple[Box, ...]:
    """What each page shows: all across, and as much along as a page may hold."""
    left, right = MARGIN, roll.width - MARGIN
    most = roll.longest_page - 2 * MARGIN
    windows: list[Box] = []
    foot = MARGIN
    while not windows or windows[-1].top < top:
        if windows:
            foot = windows[-1].top - OVERLAP
        end = foot + most if roll.sheets else min(foot + most, top)
        windows.append(Box(left, foot, right, end))
    return tuple(windows)


def write_full_size(
    laid: FullSize,
    facts: CoverFacts,
    manner: Manner = Manner(),
    *,
    layered: bool = True,
) -> bytes:
    """The PDF, a page for each window."""
    from skirtwright.export.pdf import write

    foot = one_line(laid.sheet, facts, manner)
    fields = _fields(laid)
    room = Room(laid.sheet, fields)
    laid = replace(laid, sheet=room.sheet)
    pages = [
        _page(laid, number, _name_of(number, fields, foot, room, manner), manner)
        for number in range(len(fields))
    ]
    return write(
        Document(
            of=laid.sheet.title,
            subject=foot,
            client=facts.client,
            date=facts.date,
            manner=manner,
            drawing=laid.sheet,
            pages=tuple(pages),
            layered=layered,
        )
    )


def _fields(laid: FullSize) -> list[Field]:
    """The pages, and where on each there may be words: clear of what two share."""
    return [
        Field(
            window,
            Box(
                window.left + _CLEAR,
                window.bottom + (OVERLAP + _CLEAR if number else _CLEAR),
                window.right - _CLEAR,
                window.top
                - (OVERLAP + _CLEAR if number + 1 < len(laid.windows) else _CLEAR),
            ),
        )
        for number, window in enumerate(laid.windows)
    ]


def _name_of(
    number: int, fields: Sequence[Field], foot: str, room: Room, manner: Manner
) -> list[Mark]:
    """Which of several pages one is, near its foot, where there is room for it."""
    if len(fields) == 1:
        return []
    field, name = fields[number], _page_of(number, len(fields), manner)
    for words in (f"{name} · {foot}", name):
        near = field.core.corners[0]
        marks = room.words_on(field, (words,), _LETTERS, near, bold=False)
        if marks:
            return marks
    return []


def _page_of(number: int, of: int, manner: Manner) -> str:
    return say("print.page_of", {"number": number + 1, "of": of}, manner)


def _page(laid: FullSize, number: int, name: list[Mark], manner: Manner) -> Page:
    seen = laid.windows[number]
    window = Box(MARGIN, MARGIN, MARGIN + seen.width, MARGIN + seen.height)
    home = Point(MARGIN - seen.left, MARGIN - seen.bottom)
    marks = [mark.moved(shift(home)) for mark in name]
    for joined, edge in (
        (number > 0, window.bottom + OVERLAP / 2),
        (number + 1 < len(laid.windows), window.top - OVERLAP / 2),
    ):
        if joined:
            marks.extend(_join(window, edge))
    return Page(
        _page_of(number, len(laid.windows), manner),
        laid.roll.width,
        window.top + MARGIN,
        tuple(marks),
        view=View(window, home),
    )


def _join(window: Box, at: float) -> list[Mark]:
    """Crosses and a line across, in the middle of the strip two pages share."""
    middle = (window.left + window.right) / 2
    ends = Point(window.left, at), Point(window.right, at)
    marks: list[Mark] = [Stroke(line(*ends), "frame", dash=(4.0, 4.0))]
    for x in (window.left + 20, middle, window.right - 20):
        marks.extend(cross(Point(x, at)))
    return marks
