"""The measurement card on paper: to be filled in beside her, or as it was filled in."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from skirtwright.export.pages import Document, Page
from skirtwright.export.print_media import Paper, paper_named
from skirtwright.export.setting import broken
from skirtwright.export.sheet import SMALLEST_LETTERS, Mark, Stroke, Text, line
from skirtwright.geometry import Point
from skirtwright.geometry.box import Box
from skirtwright.measures.card import Card, values_of
from skirtwright.measures.measurements import SIDES, Measurement, measurements
from skirtwright.words import Manner, say, translate

_TITLE = 5.0
_NAME = 2.4
_SMALL = SMALLEST_LETTERS
"""Heights of capitals, mm."""

_LINE = 3.1
_FIELD = 19.0
"""Room for a figure in pencil, mm."""

_GAP = 4.0


@dataclass(frozen=True)
class _Column:
    """Where the parts of a row stand, mm from the left."""

    name: float
    words: float
    whole: float
    sides: tuple[float, float]


def card_pdf(card: Card | None, date: str, manner: Manner, paper: str = "a4") -> bytes:
    """The card as a PDF.

    Args:
        card: whose figures stand in it; None for one to be filled in.
        paper: a4 or letter.

    Raises:
        BadInput: a measurement of the card cannot be read.
    """
    from skirtwright.export.pdf import write

    kind = paper_named(paper)
    client = card.name if card else ""
    title = say("card_page.title", {}, manner)
    return write(
        Document(
            of=title,
            subject=title,
            client=client,
            date=date,
            manner=manner,
            pages=tuple(_pages(card, date, kind, manner)),
        )
    )


def _pages(
    card: Card | None, date: str, paper: Paper, manner: Manner
) -> Iterator[Page]:
    edge = paper.margin + 4
    room = Box(edge, edge, paper.width - edge, paper.height - edge)
    taken = values_of(card) if card else {}
    marks, top = _head(card, date, room, manner)
    title = say("card_page.title", {}, manner)
    for known in measurements().values():
        row, high = _row(known, taken, room, top, manner)
        if top - high < room.bottom:
            yield Page(title, paper.width, paper.height, tuple(marks))
            marks, top = [], room.top
            row, high = _row(known, taken, room, top, manner)
        marks += row
        top -= high
    yield Page(title, paper.width, paper.height, tuple(marks))


def _head(
    card: Card | None, date: str, room: Box, manner: Manner
) -> tuple[list[Mark], float]:
    """Name and day, or lines for them; and what stands over the columns."""
    at = _columns(room)
    top = room.top - _TITLE
    title = say("card_page.title", {}, manner)
    unit = say(f"print.lengths_in.{manner.unit}", manner=manner)
    marks: list[Mark] = [
        Text(title, Point(room.left, top), _TITLE, bold=True),
        Text(unit, Point(room.right, top), _NAME, anchor="end"),
    ]
    top -= 11.0
    middle = room.left + room.width * 0.62
    for field, begin, end, told in (
        ("name", room.left, middle - _GAP, card.name if card else ""),
        ("day", middle, room.right, date if card else ""),
    ):
        words = say(f"card_page.{field}", manner=manner)
        marks.append(Text(words, Point(begin, top), _SMALL))
        marks.append(_rule(begin + 12, end, top - 1))
        if told:
            marks.append(Text(told, Point(begin + 13, top), _NAME, bold=True))
    top -= 7.0
    heads = ("whole", "left", "right")
    for which, x in zip(heads, (at.whole, *at.sides), strict=True):
        words = say(f"card_page.{which}", manner=manner)
        marks.append(Text(words, Point(x, top), _SMALL))
    return marks, top - 2.0


def _columns(room: Box) -> _Column:
    right = room.right - _FIELD
    left = right - _FIELD - _GAP
    whole = left - _FIELD - _GAP
    return _Column(room.left, room.left + 47.0, whole, (left, right))


def _row(
    known: Measurement,
    taken: dict[str, float],
    room: Box,
    top: float,
    manner: Manner,
) -> tuple[list[Mark], float]:
    """A measurement, how it is taken, and lines for what the tape said."""
    at = _columns(room)
    name = broken(translate(known.label, manner), at.words - at.name - 2, _NAME)
    wide = at.whole - at.words - _GAP
    how = broken(translate(known.taken, manner), wide, _SMALL)
    high = max(len(how) * _LINE, len(name) * 1.6 * _NAME) + 4.2
    first = top - 4.6
    marks: list[Mark] = []
    for number, part in enumerate(name):
        place = Point(at.name, first - number * 1.6 * _NAME)
        marks.append(Text(part, place, _NAME, bold=True))
    for number, part in enumerate(how):
        marks.append(Text(part, Point(at.words, first - number * _LINE), _SMALL))
    fields = {known.name: at.whole}
    if known.sides:
        fields |= {f"{known.name}_{s}": x for s, x in zip(SIDES, at.sides, strict=True)}
    for field, x in fields.items():
        marks.append(_rule(x, x + _FIELD, first - 1.2))
        if field in taken:
            words = say("finished.length_shown", {"value": taken[field]}, manner)
            marks.append(Text(words, Point(x + 1, first), _NAME, bold=True))
    return marks, high


def _rule(begin: float, end: float, up: float) -> Stroke:
    return Stroke(line(Point(begin, up), Point(end, up)), "label", 0.2)
