"""A quote: one page for the client, with the skirt on her, and what it comes to.

The cloth is what the lay takes; the hours, what they cost and what the notions cost are
the dressmaker's own, and what she leaves open is not on the page.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from skirtwright.export.figure_marks import figure_marks
from skirtwright.export.lay_words import (
    bought_words,
    cost_of,
    in_hundredths,
    material_name,
)
from skirtwright.export.pages import Document, Page
from skirtwright.export.print_media import Paper, paper_named
from skirtwright.export.setting import broken
from skirtwright.export.sewing.sewing_facts import facts_of
from skirtwright.export.sewing.sewing_order import notions
from skirtwright.export.sewing.sewing_words import phrase
from skirtwright.export.sheet import Mark, Stroke, Text, box_of, line
from skirtwright.geometry import Point, shift
from skirtwright.geometry.box import Box
from skirtwright.lay.cloth_to_cut import Cloth
from skirtwright.problems import BadInput, Refused
from skirtwright.report import Report
from skirtwright.words import Manner, say, translate

_TITLE = 5.0
_NAME = 2.6
_SMALL = 2.1
"""Heights of capitals, mm."""

_LEADING = 2.1
"""From line to line, of the height of capitals."""

_HIGH = 92.0
"""Of the skirt on her, mm."""

_SMALLEST = 0.5
MOST = 1_000_000.0
LONGEST_SIGN = 5
"""Letters of a currency: its code has three, some signs have four."""


@dataclass(frozen=True)
class Terms:
    """What the dressmaker asks, as far as she says so.

    Attributes:
        rate: for an hour.
        notions: what they cost together.
        currency: stands before the total, such as "£" or "EUR"; may be empty.
    """

    hours: float | None = None
    rate: float | None = None
    notions: float | None = None
    currency: str = ""

    def __post_init__(self) -> None:
        """Refuse what nobody asks.

        Raises:
            BadInput: an amount is less than nothing or beyond a million, or the
                currency is longer than any sign.
        """
        if len(self.currency) > LONGEST_SIGN:
            raise BadInput("quote.currency", self.currency, most=LONGEST_SIGN)
        for name in ("hours", "rate", "notions"):
            value = getattr(self, name)
            if value is not None and not 0 <= value <= MOST:
                raise BadInput("quote.amount", name, value=value, most=MOST)

    def money(self, amount: float) -> str:
        """An amount with its currency; letters stand apart from the figure."""
        apart = " " if self.currency[-1:].isalpha() else ""
        return f"{self.currency}{apart}{amount:.2f}"


@dataclass(frozen=True)
class ClothNeeded:
    """A cloth that an order takes: what it is like, and how much is bought, mm."""

    cloth: Cloth
    bought: float


@dataclass(frozen=True)
class Needed:
    """What an order takes, before anything is asked for it.

    Attributes:
        cloths: each with its price where that is known.
        notions: in her language; nothing where there are none.
    """

    cloths: tuple[ClothNeeded, ...]
    notions: str

    def at_prices(self, prices: Mapping[str, float | None]) -> Needed:
        """The same, cloths at these prices of a metre, by material."""
        cloths = tuple(
            replace(one, cloth=replace(one.cloth, price=prices[one.cloth.material]))
            if one.cloth.material in prices
            else one
            for one in self.cloths
        )
        return replace(self, cloths=cloths)


@dataclass(frozen=True)
class Row:
    """One thing that is paid for: what, how much of it, and what it comes to."""

    what: str
    much: str = ""
    cost: float | None = None


@dataclass(frozen=True)
class Quote:
    """What stands on the page, in her language.

    Attributes:
        rows: cloth by cloth, the notions, and the work.
    """

    rows: tuple[Row, ...]

    @property
    def total(self) -> float | None:
        """Of what has a price; None where nothing has."""
        costs = [row.cost for row in self.rows if row.cost is not None]
        return in_hundredths(sum(costs)) if costs else None

    @property
    def without(self) -> tuple[str, ...]:
        """What on the page has no price."""
        return tuple(row.what for row in self.rows if row.cost is None)

    def total_called(self, manner: Manner) -> str:
        """What leaves something out is not called the total."""
        return say("quote.so_far" if self.without else "quote.total", manner=manner)

    def listed(self, terms: Terms, manner: Manner) -> list[str]:
        """Each row, with what it comes to where that is known."""
        return [
            say(
                "quote.row" if row.cost is None else "quote.row_cost",
                {
                    "what": row.what,
                    "much": row.much,
                    "cost": terms.money(row.cost or 0.0),
                },
                manner,
            )
            for row in self.rows
        ]

    def summed_up(self, terms: Terms, manner: Manner) -> tuple[str, str]:
        """What it comes to, and what of it has no price: a sentence each, or nothing.

        The second is for the dressmaker alone, and not on the page.
        """
        total, missing = "", ""
        if self.total is not None:
            values = {"called": self.total_called(manner)}
            total = say("quote.sum", {**values, "sum": terms.money(self.total)}, manner)
        if self.without:
            missing = say("quote.without", {"what": list(self.without)}, manner)
        return total, missing


def needed(report: Report, manner: Manner) -> Needed:
    """What an order takes.

    Raises:
        Refused: `print.nothing`, there is no piece.
    """
    if not report.cut.shown:
        raise Refused("print.nothing")
    cloths = tuple(ClothNeeded(laid.asked, laid.bought) for laid in report.lays)
    listed = [phrase(saying, manner) for saying in notions(facts_of(report))]
    return Needed(cloths, "; ".join(words.rstrip(".") for words in listed))


def quote_of(needs: Needed, terms: Terms, manner: Manner) -> Quote:
    """What an order comes to."""
    return Quote(tuple(_rows(needs, terms, manner)))


def _rows(needs: Needed, terms: Terms, manner: Manner) -> Iterator[Row]:
    for one in needs.cloths:
        bought = bought_words(one.bought, manner.unit)
        much = say("quote.cloth", {"bought": bought, "width": one.cloth.width}, manner)
        cost = cost_of(one.bought, one.cloth, manner.unit)
        yield Row(material_name(one.cloth.material, manner), much, cost)
    if needs.notions:
        cost = None if terms.notions is None else in_hundredths(terms.notions)
        yield Row(say("quote.notions", manner=manner), needs.notions, cost)
    if terms.hours is not None:
        cost = None if terms.rate is None else in_hundredths(terms.hours * terms.rate)
        much = say("quote.hours", {"hours": terms.hours}, manner)
        if terms.rate is not None:
            values = {"hours": terms.hours, "rate": f"{terms.rate:.2f}"}
            much = say("quote.hours_at", values, manner)
        yield Row(say("quote.work", manner=manner), much, cost)


def quote_pdf(
    report: Report,
    client: str,
    date: str,
    terms: Terms,
    manner: Manner,
    paper: str = "a4",
) -> bytes:
    """The quote as a PDF of one page.

    Args:
        paper: a4 or letter.

    Raises:
        Refused: `print.nothing`, there is no piece.
    """
    from skirtwright.export.pdf import write

    kind = paper_named(paper)
    quote = quote_of(needed(report, manner), terms, manner)
    title = say("quote.title", manner=manner)
    marks = _set(report, quote, client, date, terms, kind, manner)
    return write(
        Document(
            of=" · ".join(filter(None, (report.title, title))),
            subject=title,
            client=client,
            date=date,
            manner=manner,
            pages=(Page(title, kind.width, kind.height, tuple(marks)),),
        )
    )


def _set(
    report: Report,
    quote: Quote,
    client: str,
    date: str,
    terms: Terms,
    paper: Paper,
    manner: Manner,
) -> list[Mark]:
    """Everything on the page; the rows smaller where they would not all go on it."""
    edge = paper.margin + 10
    room = Box(edge, edge, paper.width - edge, paper.height - edge)
    marks, top = _head(report, client, date, room, manner)
    size = 1.0
    rows, foot = _table(quote, terms, room, top, size, manner)
    while foot < room.bottom and size > _SMALLEST:
        size -= 0.05
        rows, foot = _table(quote, terms, room, top, size, manner)
    return [*marks, *rows]


def _head(
    report: Report, client: str, date: str, room: Box, manner: Manner
) -> tuple[list[Mark], float]:
    """For whom, what, when; under it the skirt on her."""
    top = room.top - _TITLE
    style = translate(report.worked.draft.title, manner)
    lines = broken(style, room.width - 34, _TITLE)
    marks = _written_down_page(lines, room.left, top, _TITLE, bold=True)
    marks.append(Text(date, Point(room.right, top), _NAME, anchor="end"))
    top -= 9 + (len(lines) - 1) * _TITLE * _LEADING
    title = say("quote.title", manner=manner)
    heading = say("quote.for", {"client": client}, manner) if client else title
    marks.append(Text(heading, Point(room.left, top), _NAME))
    told = _finished(report, manner)
    if told:
        top -= _NAME * _LEADING
        marks.append(Text(told, Point(room.left, top), _SMALL))
    figure = figure_marks(report, _HIGH)
    if not figure:
        return marks, top - 14
    box = box_of(figure)
    top -= 8 + _HIGH
    aside = room.left + (room.width - box.width) / 2 - box.left
    marks += [mark.moved(shift(Point(aside, top))) for mark in figure]
    return marks, top - 14


def _finished(report: Report, manner: Manner) -> str:
    """How long it is, and how wide at the hem."""
    values = {
        name: value
        for name in ("length", "sweep")
        if (value := report.finished.get(name)) is not None
    }
    return say("quote.finished", values, manner) if len(values) == 2 else ""


def _table(
    quote: Quote, terms: Terms, room: Box, top: float, size: float, manner: Manner
) -> tuple[list[Mark], float]:
    """What is paid for, a row each, and the total; and where it ends, mm up."""
    name, small = _NAME * size, _SMALL * size
    words_at = room.left + room.width * 0.26
    wide = room.width * 0.56
    marks: list[Mark] = []
    for row in quote.rows:
        lines = broken(row.much, wide, small)
        what = broken(row.what, words_at - room.left - 3, name)
        marks += _written_down_page(what, room.left, top, name, bold=True)
        marks += _written_down_page(lines, words_at, top, small)
        if row.cost is not None:
            place = Point(room.right, top)
            marks.append(Text(f"{row.cost:.2f}", place, name, anchor="end"))
        top -= max(len(lines) * small, len(what) * name) * _LEADING + 2.6 * size
        marks.append(_rule(room, top + name + 1.8 * size))
    if quote.total is None:
        return marks, top
    top -= name
    words, told = quote.total_called(manner), terms.money(quote.total)
    marks += [
        Text(words, Point(room.left, top), name * 1.2, bold=True),
        Text(told, Point(room.right, top), name * 1.2, anchor="end", bold=True),
    ]
    return marks, top


def _written_down_page(
    lines: Sequence[str], left: float, top: float, size: float, *, bold: bool = False
) -> list[Mark]:
    return [
        Text(words, Point(left, top - number * size * _LEADING), size, bold=bold)
        for number, words in enumerate(lines)
    ]


def _rule(room: Box, up: float) -> Stroke:
    return Stroke(line(Point(room.left, up), Point(room.right, up)), "label", 0.15)
