"""A quote: one page for the client, with the skirt on her, and what it comes to.

The cloth is what the lay takes; the hours, what they cost and what the notions cost are
the dressmaker's own, and what she leaves open is not on the page.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from skirtwright.export.figure_marks import figure_marks
from skirtwright.export.lay_words import (
    bought_words,
    cost_of,
    in_hundredths,
    material_name,
)
from skirtwright.export.pages import Document, Page, language_tag
from skirtwright.export.papers import Paper, looks, paper_named
from skirtwright.export.setting import broken
from skirtwright.export.sewing.sewing_facts import facts_of
from skirtwright.export.sewing.sewing_order import notions
from skirtwright.export.sewing.sewing_words import phrase
from skirtwright.export.sheet import Mark, Sheet, Stroke, Text, box_of, line
from skirtwright.geometry import Point, shift
from skirtwright.geometry.box import Box
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
        hours: of work.
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
        total: of what has a price; None where nothing has.
        without: what of it has no price.
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


def quote_of(report: Report, terms: Terms, manner: Manner) -> Quote:
    """What an order comes to.

    Args:
        report: of the order, its pieces laid on their cloths.
        terms: what she asks.
        manner: her unit and language.

    Raises:
        Refused: `print.nothing`, there is no piece.
    """
    if not report.cut.shown:
        raise Refused("print.nothing")
    return Quote(tuple(_rows(report, terms, manner)))


def _rows(report: Report, terms: Terms, manner: Manner) -> Iterator[Row]:
    for laid in report.lays:
        values = {
            "bought": bought_words(laid.bought, manner.unit),
            "width": laid.cloth.width,
        }
        much = say("quote.cloth", values, manner)
        cost = cost_of(laid.bought, laid.asked, manner.unit)
        yield Row(material_name(laid.cloth.material, manner), much, cost)
    listed = [phrase(saying, manner) for saying in notions(facts_of(report))]
    if listed:
        words = "; ".join(words.rstrip(".") for words in listed)
        cost = None if terms.notions is None else in_hundredths(terms.notions)
        yield Row(say("quote.notions", manner=manner), words, cost)
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
        report: of the order, laid.
        client: whom it is for; may be empty.
        date: as it is to be read.
        terms: what she asks.
        manner: her unit and language.
        paper: a4 or letter.

    Raises:
        Refused: `print.nothing`, there is no piece.
    """
    from skirtwright.export.pdf import write

    kind = paper_named(paper)
    quote = quote_of(report, terms, manner)
    title = say("quote.title", manner=manner)
    marks = _set(report, quote, client, date, terms, kind, manner)
    return write(
        Document(
            title=" · ".join(filter(None, (client, report.title, title))),
            subject=title,
            client=client,
            date=date,
            language=language_tag(manner),
            look=looks()["paper"],
            drawing=Sheet(title, ()),
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
    marks = _down(lines, room.left, top, _TITLE, bold=True)
    marks.append(Text(date, Point(room.right, top), _NAME, anchor="end"))
    top -= 9 + (len(lines) - 1) * _TITLE * _LEADING
    title = say("quote.title", manner=manner)
    whose = say("quote.for", {"client": client}, manner) if client else title
    marks.append(Text(whose, Point(room.left, top), _NAME))
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
        marks += _down(what, room.left, top, name, bold=True)
        marks += _down(lines, words_at, top, small)
        if row.cost is not None:
            place = Point(room.right, top)
            marks.append(Text(f"{row.cost:.2f}", place, name, anchor="end"))
        top -= max(len(lines) * small, len(what) * name) * _LEADING + 2.6 * size
        marks.append(_rule(room, top + name + 1.8 * size))
    if quote.total is None:
        return marks, top
    top -= name
    # What leaves something out is not called the total.
    words = say("quote.so_far" if quote.without else "quote.total", manner=manner)
    told = terms.money(quote.total)
    marks += [
        Text(words, Point(room.left, top), name * 1.2, bold=True),
        Text(told, Point(room.right, top), name * 1.2, anchor="end", bold=True),
    ]
    if quote.without:
        top -= name * _LEADING
        values = {"what": ", ".join(quote.without)}
        lines = broken(say("quote.without", values, manner), room.width, small)
        marks += _down(lines, room.left, top, small)
        top -= (len(lines) - 1) * small * _LEADING
    return marks, top


def _down(
    lines: Sequence[str], left: float, top: float, size: float, *, bold: bool = False
) -> list[Mark]:
    return [
        Text(words, Point(left, top - number * size * _LEADING), size, bold=bold)
        for number, words in enumerate(lines)
    ]


def _rule(room: Box, up: float) -> Stroke:
    return Stroke(line(Point(room.left, up), Point(room.right, up)), "label", 0.15)
