"""The making-up sheet as a PDF: calm pages to lie beside the machine.

Black on white, so that any printer will do. Whoever wants a sheet imports this module
then: reportlab is slow to load.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from io import BytesIO
from typing import Any
from xml.sax.saxutils import escape

from reportlab.lib.colors import Color, black
from reportlab.lib.styles import ParagraphStyle
from reportlab.platypus import (
    BaseDocTemplate,
    CondPageBreak,
    Frame,
    PageBreak,
    PageTemplate,
    Paragraph,
    Table,
)

from skirtwright.budget import bounded
from skirtwright.export.pages import language_tag
from skirtwright.export.papers import Paper
from skirtwright.export.pdf import (
    BOLD,
    POINT,
    REGULAR,
    describe,
    register_fonts,
    set_marks,
    with_metadata,
)
from skirtwright.export.printed_letters import CAPITAL, composed
from skirtwright.export.setting import broken
from skirtwright.export.sewing.making_up_sheet import CUT_NOTES, Making, making_of
from skirtwright.export.sewing.piece_pictures import pictures
from skirtwright.report import Report
from skirtwright.words import Manner, say

_SIDE, _TOP, _FOOT = 18.0, 16.0, 22.0
"""Margins, mm: room to hold the sheet, and for its foot."""

_GREY = Color(0.55, 0.55, 0.55)
_FAINT = Color(0.35, 0.35, 0.35)

_NOTE_ROOM = 24.0
"""Heading and note over the pictures, mm."""

_PART_BEGINS = 35.0
"""Room for the heading and a few lines of a part of the draft, mm."""


@bounded()
def worksheet_pdf(
    report: Report, client: str, date: str, paper: Paper, manner: Manner
) -> bytes:
    """The making-up sheet of a report.

    Args:
        report: of the order; nothing in it was refused.
        client: whom it is for; may be empty.
        date: as it is to be read.
        paper: what it is printed on.
        manner: her unit, fraction and language.

    Raises:
        Refused: `print.nothing`, there is no piece.
    """
    return write_worksheet(making_of(report, client, date, manner), paper, manner)


def write_worksheet(making: Making, paper: Paper, manner: Manner) -> bytes:
    """A making-up sheet as a PDF file.

    Raises:
        Refused: `print.nothing`, there is no piece.
    """
    register_fonts()
    # Twice: only what was set once knows how many pages there are.
    _, pages = _set(making, paper, manner, pages=0)
    data, _ = _set(making, paper, manner, pages=pages)
    subject = say("making.title", manner=manner)
    return with_metadata(
        data, making.title, subject, making.client, language_tag(manner)
    )


def _set(
    making: Making, paper: Paper, manner: Manner, *, pages: int
) -> tuple[BytesIO, int]:
    """The sheet set once: its bytes, and how many pages it took."""
    buffer = BytesIO()
    width, height = paper.width - 2 * _SIDE, paper.height - _TOP - _FOOT
    room = Frame(
        _SIDE * POINT, _FOOT * POINT, width * POINT, height * POINT, 0, 0, 0, 0
    )
    document = BaseDocTemplate(
        buffer,
        pagesize=(paper.width * POINT, paper.height * POINT),
        initialFontName=REGULAR,
        invariant=1,
        lang=language_tag(manner),
    )
    subject = say("making.title", manner=manner)

    def on_page(canvas: Any, _: Any) -> None:
        if canvas.getPageNumber() == 1:
            describe(canvas, making.title, subject, making.client)
        values = {"page": canvas.getPageNumber(), "pages": pages}
        _foot(canvas, making, paper, say("making.page", values, manner))

    document.addPageTemplates([PageTemplate("page", [room], onPage=on_page)])
    document.afterFlowable = _bookmark(document)
    document.build(list(_story(making, width, height, manner)))
    return buffer, int(document.page)


def _bookmark(document: Any) -> Callable[[Any], None]:
    """Headings are listed beside the pages by whatever shows them."""

    def after(flowable: Any) -> None:
        words = getattr(flowable, "listed_as", "")
        if words:
            key = f"section-{words}"
            document.canv.bookmarkPage(key)
            document.canv.addOutlineEntry(words, key, level=0)

    return after


def _foot(canvas: Any, making: Making, paper: Paper, page: str) -> None:
    low = (_FOOT - 8) * POINT
    left, right = _SIDE * POINT, (paper.width - _SIDE) * POINT
    canvas.saveState()
    canvas.setStrokeColor(_GREY)
    canvas.setLineWidth(0.4)
    canvas.line(left, low + 11, right, low + 11)
    canvas.setFillColor(_FAINT)
    canvas.setFont(REGULAR, 8.5)
    parts = [part for part in (making.title, making.date) if part]
    words = composed(" · ".join(parts))
    lines = broken(words, paper.width - 2 * _SIDE - 35, 8.5 * CAPITAL / POINT)
    canvas.drawString(left, low, lines[0])
    canvas.drawRightString(right, low, page)
    canvas.restoreState()


# What stands on the pages


def _story(
    making: Making, width: float, height: float, manner: Manner
) -> Iterator[Any]:
    """Everything on the sheet, in order; measures in mm."""
    yield _words(say("making.title", manner=manner), _SMALL)
    yield _words(making.title, _TITLE)
    facts = (making.date, making.lengths)
    yield _words(" · ".join(part for part in facts if part), _SMALL)
    if making.look:
        yield _heading("look", manner)
        yield from (_words(line, _BODY) for line in making.look)
    yield _heading("cut", manner)
    yield from _cut_list(making, width, manner)
    yield _heading("notions", manner)
    yield from (_words(line, _ITEM) for line in making.notions)
    yield _heading("measures", manner)
    yield _measures(making, width, manner)
    yield from _pictures(making, width, height, manner)
    yield PageBreak()
    yield _heading("order", manner)
    yield _words(say("making.order_intro", manner=manner), _NOTE)
    yield _numbered([step.words for step in making.order], width, _BODY)
    if making.cautions:
        yield _heading("cautions", manner)
        yield from (_words(line, _ITEM) for line in making.cautions)
    yield PageBreak()
    yield _heading("draft", manner)
    yield from _draft(making, width, manner)


def _cut_list(making: Making, width: float, manner: Manner) -> Iterator[Any]:
    heads = [
        say(f"making.column.{name}", manner=manner)
        for name in ("piece", "cut", "size", "allowances")
    ]
    columns = (0.25 * width, 0.14 * width, 0.21 * width, 0.4 * width)
    for cut in making.cut:
        values = {"cloth": cut.cloth, "needs": cut.needs}
        yield _words(say("making.cloth_heading", values, manner), _CLOTH)
        rows = [(r.piece, r.cut, r.size, r.allowances) for r in cut.rows]
        yield _table([heads, *rows], columns)
    for note in CUT_NOTES:
        yield _words(say(note, manner=manner), _NOTE)


def _measures(making: Making, width: float, manner: Manner) -> Any:
    names = ("measure", "body", "ease", "finished")
    heads = [say(f"making.column.{name}", manner=manner) for name in names]
    rows = [(m.name, m.body, m.ease, m.finished) for m in making.measures]
    columns = (0.4 * width, 0.2 * width, 0.2 * width, 0.2 * width)
    return _table([heads, *rows], columns, right=3)


def _draft(making: Making, width: float, manner: Manner) -> Iterator[Any]:
    columns = (0.31 * width, 0.18 * width) * 2
    for name, pairs in (("taken", making.taken), ("set", making.set)):
        if not pairs:
            continue
        yield from _part(say(f"making.{name}", manner=manner))
        half = (len(pairs) + 1) // 2
        second = [*pairs[half:], ("", "")]
        rows = [(*pairs[i], *second[i]) for i in range(half)]
        yield _table(rows, columns, small=True)
    yield _words(say("making.draft_intro", manner=manner), _NOTE)
    number = 0
    for part in making.drafting:
        yield from _part(part.heading)
        yield _numbered(part.sentences, width, _FINE, number)
        number += len(part.sentences)


def _part(heading: str) -> Iterator[Any]:
    """A heading of what may go over several pages; some of it stands below."""
    yield CondPageBreak(_PART_BEGINS * POINT)
    yield _words(heading, _PART)


# Setting


def _style(size: float, leading: float, **more: Any) -> Any:
    font = BOLD if more.pop("bold", False) else REGULAR
    return ParagraphStyle(
        "", fontName=font, fontSize=size, leading=leading, textColor=black, **more
    )


_TITLE = _style(20, 26, bold=True, spaceAfter=2)
_HEADING = _style(14, 18, bold=True, spaceBefore=16, spaceAfter=5, keepWithNext=1)
_CLOTH = _style(11, 15, bold=True, spaceBefore=9, spaceAfter=3, keepWithNext=1)
_PART = _style(11, 15, bold=True, spaceBefore=9, spaceAfter=3)
_BODY = _style(11, 15.5, spaceAfter=4)
_ITEM = _style(11, 15.5, spaceAfter=2)
_CELL = _style(10, 13.5)
_CELL_BOLD = _style(9, 13.5, bold=True)
_CELL_RIGHT = _style(10, 13.5, alignment=2)
_CELL_BOLD_RIGHT = _style(9, 13.5, bold=True, alignment=2)
_FINE = _style(9.5, 13)
_FINE_RIGHT = _style(9.5, 13, alignment=2)
_NOTE = _style(9, 12.5, spaceBefore=3, spaceAfter=5)
_SMALL = _style(10, 14)


def _words(text: str, style: Any) -> Any:
    return Paragraph(escape(composed(text)), style)


def _heading(section: str, manner: Manner) -> Any:
    words = say(f"making.section.{section}", manner=manner)
    made = _words(words, _HEADING)
    made.listed_as = words
    return made


def _table(
    rows: Sequence[Sequence[str]],
    columns: Sequence[float],
    *,
    right: int = 0,
    small: bool = False,
) -> Any:
    """Rows with hairlines between; the first is the heading unless `small`.

    The last `right` columns stand to the right.
    """
    cells = []
    for number, row in enumerate(rows):
        head = number == 0 and not small
        made = []
        for place, words in enumerate(row):
            rightwards = place >= len(row) - right
            if small:
                style = _FINE
            elif head:
                style = _CELL_BOLD_RIGHT if rightwards else _CELL_BOLD
            else:
                style = _CELL_RIGHT if rightwards else _CELL
            made.append(_words(words, style))
        cells.append(made)
    gap = 1.0 if small else 2.5
    return Table(
        cells,
        [wide * POINT for wide in columns],
        repeatRows=0 if small else 1,
        style=[
            ("FONTNAME", (0, 0), (-1, -1), REGULAR),
            ("VALIGN", (0, 0), (-1, -1), "TOP"),
            ("LINEBELOW", (0, 0), (-1, -1), 0.4, _GREY),
            ("LEFTPADDING", (0, 0), (-1, -1), 0),
            ("RIGHTPADDING", (0, 0), (-1, -1), 6),
            ("TOPPADDING", (0, 0), (-1, -1), gap),
            ("BOTTOMPADDING", (0, 0), (-1, -1), gap),
        ],
        hAlign="LEFT",
    )


def _numbered(
    sentences: Sequence[str], width: float, style: Any, after: int = 0
) -> Any:
    """Sentences with their numbers before them, counted on from `after`."""
    number = _style(style.fontSize, style.leading, bold=True)
    rows = [
        (_words(str(i), number), _words(words, style))
        for i, words in enumerate(sentences, after + 1)
    ]
    space = 3.5 if style is _BODY else 0.8
    return Table(
        rows,
        [10 * POINT, (width - 10) * POINT],
        style=[
            ("FONTNAME", (0, 0), (-1, -1), REGULAR),
            ("VALIGN", (0, 0), (-1, -1), "TOP"),
            ("LEFTPADDING", (0, 0), (-1, -1), 0),
            ("RIGHTPADDING", (0, 0), (-1, -1), 0),
            ("TOPPADDING", (0, 0), (-1, -1), 0),
            ("BOTTOMPADDING", (0, 0), (-1, -1), space),
        ],
        hAlign="LEFT",
    )


# Pictures


def _pictures(
    making: Making, width: float, height: float, manner: Manner
) -> Iterator[Any]:
    drawn = pictures(making.pieces, width, height - _NOTE_ROOM, manner)
    yield _heading("pieces", manner)
    note = _words(say("making.scale", {"scale": drawn.scale}, manner), _NOTE)
    note.keepWithNext = 1
    yield note
    for row in drawn.rows:
        yield set_marks(row.marks, width, row.height)
