"""The making-up sheet as a PDF: calm pages to lie beside the machine.

Black on white, so that any printer will do. Whoever wants a sheet imports this module
then: reportlab is slow to load.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from functools import partial
from io import BytesIO
from itertools import zip_longest
from typing import Any

from reportlab.lib.colors import Color
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import (
    BaseDocTemplate,
    CondPageBreak,
    Frame,
    KeepInFrame,
    PageBreak,
    PageTemplate,
    Table,
)

from skirtwright.budget import bounded
from skirtwright.export.lay_page import picture
from skirtwright.export.pages import language_tag
from skirtwright.export.pdf import (
    POINT,
    REGULAR,
    describe,
    make_ready,
    set_marks,
    with_metadata,
)
from skirtwright.export.print_media import Paper
from skirtwright.export.printed_letters import CAPITAL, composed
from skirtwright.export.setting import broken
from skirtwright.export.sewing.making_up_sheet import (
    CUT_NOTES,
    FIGURE_HIGH,
    Making,
    making_of,
)
from skirtwright.export.sewing.piece_pictures import pictures
from skirtwright.export.sewing.sheet_setting import (
    BODY,
    BOX,
    CLOTH,
    GREY,
    NOTE,
    PART,
    PINNED,
    PINNED_BOLD,
    PLAIN,
    SMALL,
    STEP,
    TITLE,
    WARNED,
    heading,
    lined_table,
    numbered,
    paragraph,
)
from skirtwright.export.sewing.step_pictures import stage_picture, step_picture
from skirtwright.export.sheet import box_of
from skirtwright.geometry import Motion, Point, shift
from skirtwright.geometry.box import Box
from skirtwright.report import Report
from skirtwright.words import Manner, say

_SIDE, _TOP, _FOOT = 18.0, 16.0, 22.0
"""Margins, mm: room to hold the sheet, and for its foot."""

_FOOT_LOW, _FOOT_LETTERS = (_FOOT - 8) * POINT, 8.5
"""Where the words of the foot stand, and how large, in points."""

_SHORT_ORDER, _LARGER = 24, 1.7
"""An order of so many steps leaves room on its page for the skirt so many times as
large."""

_FAINT = Color(0.35, 0.35, 0.35)

_NOTE_ROOM = 24.0
"""Heading and note over the pictures, mm."""

_STEP_WIDE, _STEP_HIGH = 44.0, 20.0
"""Room for the drawing of a step, mm."""

_STAGE_HIGH, _STAGE_GAP = 34.0, 4.0
"""Room for the drawing of a stage of the draft, and below it, mm."""

_LAY_HIGH = (34.0, 56.0)
"""Room for the picture of a lay at least and at most, mm."""

_BEGINS = 60.0
"""Room for the heading of the order or the draft and what begins it, mm."""

_LAY_BELOW = 4.0
"""Left free over and under the picture of a lay together, mm."""

_PIECES_SHARE = 0.55
"""Of a page, for the pictures of all pieces: other words stand on it too."""

_PART_BEGINS = 35.0
"""Room for the heading and a few lines of a part of the draft, mm."""


@bounded()
def worksheet_pdf(
    report: Report, client: str, date: str, paper: Paper, manner: Manner
) -> bytes:
    """The making-up sheet of a report.

    Raises:
        Refused: `print.nothing`, there is no piece.
    """
    return write_worksheet(making_of(report, client, date, manner), paper, manner)


def write_worksheet(making: Making, paper: Paper, manner: Manner) -> bytes:
    """A making-up sheet as a PDF file.

    Raises:
        Refused: `print.nothing`, there is no piece.
    """
    make_ready()
    subject = say("making.title", manner=manner)
    return with_metadata(
        _set(making, paper, manner),
        making.title,
        subject,
        making.client,
        language_tag(manner),
        making.date,
    )


class _Numbered(Canvas):  # type: ignore[misc]  # reportlab has no types
    """Writes which page of how many each is once all are set: only then is it known.

    Args:
        told: gives the words, of a page and how many there are.
        at: where the words end on each page, in points.
    """

    def __init__(
        self,
        *given: Any,
        told: Callable[[int, int], str],
        at: tuple[float, float],
        **named: Any,
    ) -> None:
        super().__init__(*given, **named)
        self._told, self._at = told, at

    def save(self) -> None:
        """Write the file; nothing is set after it."""
        pages = self.getPageNumber() - 1
        for page in range(1, pages + 1):
            self.beginForm(_number(page))
            self.setFillColor(_FAINT)
            self.setFont(REGULAR, _FOOT_LETTERS)
            self.drawRightString(*self._at, self._told(page, pages))
            self.endForm()
        super().save()


def _number(page: int) -> str:
    return f"number-{page}"


def _set(making: Making, paper: Paper, manner: Manner) -> BytesIO:
    """The bytes of the sheet."""
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
        _foot(canvas, making, paper)
        canvas.doForm(_number(canvas.getPageNumber()))

    def told(page: int, pages: int) -> str:
        return say("making.page", {"page": page, "pages": pages}, manner)

    document.addPageTemplates([PageTemplate("page", [room], onPage=on_page)])
    document.afterFlowable = _bookmark(document)
    at = (paper.width - _SIDE) * POINT, _FOOT_LOW
    document.build(
        list(_story(making, width, height, manner)),
        canvasmaker=partial(_Numbered, told=told, at=at),
    )
    return buffer


def _bookmark(document: Any) -> Callable[[Any], None]:
    """Headings are listed beside the pages by whatever shows them."""

    def after(flowable: Any) -> None:
        words = getattr(flowable, "listed_as", "")
        if words:
            key = f"section-{words}"
            document.canv.bookmarkPage(key)
            document.canv.addOutlineEntry(words, key, level=0)

    return after


def _foot(canvas: Any, making: Making, paper: Paper) -> None:
    low = _FOOT_LOW
    left, right = _SIDE * POINT, (paper.width - _SIDE) * POINT
    canvas.saveState()
    canvas.setStrokeColor(GREY)
    canvas.setLineWidth(0.4)
    canvas.line(left, low + 11, right, low + 11)
    canvas.setFillColor(_FAINT)
    canvas.setFont(REGULAR, _FOOT_LETTERS)
    parts = [part for part in (making.title, making.date) if part]
    words = composed(" · ".join(parts))
    lines = broken(words, paper.width - 2 * _SIDE - 35, _FOOT_LETTERS * CAPITAL / POINT)
    canvas.drawString(left, low, lines[0])
    canvas.restoreState()


# What stands on the pages


def _story(
    making: Making, width: float, height: float, manner: Manner
) -> Iterator[Any]:
    """Everything on the sheet, in order; measures in mm."""
    yield _pinned_page(making, width, height, manner)
    yield PageBreak()
    yield heading("cut", manner)
    yield from _cut_list(making, width, height, manner)
    yield heading("measures", manner)
    yield _measures(making, width, manner)
    yield from _pictures(making, width, height, manner)
    yield CondPageBreak(_BEGINS * POINT)
    yield heading("order", manner)
    yield paragraph(say("making.order_intro", manner=manner), NOTE)
    if making.halved:
        yield paragraph(say("making.halves", manner=manner), NOTE)
    yield _order(making, width)
    yield CondPageBreak(_BEGINS * POINT)
    yield heading("draft", manner)
    yield from _draft(making, width, manner)


def _pinned_page(making: Making, width: float, height: float, manner: Manner) -> Any:
    """What is pinned up is one page: drawn smaller where it would take two."""
    told = [_head(making, width, manner), *_pinned(making, width, manner)]
    page = KeepInFrame(width * POINT, height * POINT, told, mode="shrink")
    if making.cautions:
        page.listed_as = say("making.section.cautions", manner=manner)
    return page


def _head(making: Making, width: float, manner: Manner) -> Any:
    """What it is and for whom, with the skirt on her beside it."""
    facts = (making.date, making.lengths)
    told = [
        paragraph(say("making.title", manner=manner), SMALL),
        paragraph(making.title, TITLE),
        paragraph(" · ".join(part for part in facts if part), SMALL),
    ]
    if not making.figure:
        return Table([(told,)], [width * POINT], style=[*PLAIN], hAlign="LEFT")
    # A short order leaves the page to the skirt.
    times = _LARGER if len(making.order) <= _SHORT_ORDER else 1.0
    figure = [mark.moved(Motion(a=times, d=times)) for mark in making.figure]
    wide = box_of(figure).right
    drawn = set_marks(figure, wide, times * FIGURE_HIGH)
    columns = [(width - wide - 2) * POINT, (wide + 2) * POINT]
    return Table([(told, drawn)], columns, style=[*PLAIN], hAlign="LEFT")


def _pinned(making: Making, width: float, manner: Manner) -> Iterator[Any]:
    """A page to hang up beside the machine: what to cut, the order, the cautions."""
    for section, lines in (("altered", making.altered), ("look", making.look)):
        if lines:
            yield heading(section, manner)
            yield from (paragraph(line, WARNED) for line in lines)
    order: list[Cells] = [
        (BOX, paragraph(str(number), PINNED_BOLD), paragraph(step.title, PINNED))
        for number, step in enumerate(making.order, 1)
    ]
    rows = [
        (*left, *right)
        for left, right in zip_longest(
            _to_cut_and_buy(making, manner), order, fillvalue=("", "", "")
        )
    ]
    alone = [n for n, row in enumerate(rows) if row[1] == ""]
    columns = (0.32 * width, 0.2 * width, 0.02 * width, 6, 9, 0.46 * width - 15)
    yield Table(
        rows,
        [wide * POINT for wide in columns],
        style=[
            *PLAIN,
            ("BOTTOMPADDING", (0, 0), (-1, -1), 2.5),
            *(("SPAN", (0, n), (1, n)) for n in alone),
        ],
        hAlign="LEFT",
        spaceBefore=10,
    )
    if making.cautions:
        yield heading("cautions", manner)
        yield from (paragraph(line, WARNED) for line in making.cautions)


Cells = tuple[Any, Any, Any]


def _to_cut_and_buy(making: Making, manner: Manner) -> Iterator[Cells]:
    """Each piece with how it is cut, cloth by cloth, and the notions."""
    for cut in making.cut:
        yield (paragraph(cut.cloth, PINNED_BOLD), "", "")
        for row in cut.rows:
            yield (paragraph(row.piece, PINNED), paragraph(row.cut, PINNED), "")
    notions = say("making.section.notions", manner=manner)
    yield (paragraph(notions, PINNED_BOLD), "", "")
    for words in making.notions:
        yield (paragraph(words, PINNED), "", "")


def _order(making: Making, width: float) -> Any:
    """Each step with what it is, how it is done, and a drawing of what it joins."""
    rows = []
    for number, step in enumerate(making.order, 1):
        drawn = step_picture(step.row, making.sewn, _STEP_WIDE, _STEP_HIGH)
        high = box_of(drawn).top if drawn else 0.0
        told = [paragraph(step.title, STEP), paragraph(step.words, BODY)]
        picture = set_marks(drawn, _STEP_WIDE, high) if drawn else ""
        rows.append((paragraph(str(number), STEP), told, picture))
    words = width - 10 - _STEP_WIDE - 6
    return Table(
        rows,
        [10 * POINT, words * POINT, (_STEP_WIDE + 6) * POINT],
        style=[
            *PLAIN,
            ("LEFTPADDING", (2, 0), (2, -1), 6 * POINT),
            ("BOTTOMPADDING", (0, 0), (-1, -1), 4),
        ],
        hAlign="LEFT",
    )


def _cut_list(
    making: Making, width: float, height: float, manner: Manner
) -> Iterator[Any]:
    """What is cut, cloth by cloth, with its lay: on one page where there is room."""
    heads = [
        say(f"making.column.{name}", manner=manner)
        for name in ("piece", "cut", "size", "allowances")
    ]
    columns = (0.25 * width, 0.14 * width, 0.21 * width, 0.4 * width)
    notes = [paragraph(say(note, manner=manner), NOTE) for note in CUT_NOTES]
    tables = [
        lined_table(
            [
                heads,
                *(
                    (f"{r.number} {r.piece}", r.cut, r.size, r.allowances)
                    for r in cut.rows
                ),
            ],
            columns,
        )
        for cut in making.cut
    ]
    laid = [_LAY_HIGH[1] for cut in making.cut if cut.lay]
    words = [paragraph(cut.needs, CLOTH) for cut in making.cut]
    told = _high([heading("cut", manner), *words, *tables, *notes], width)
    high = max(_LAY_HIGH[0], min([(height - told) / max(len(laid), 1), *laid]))
    for cut, needs, table in zip(making.cut, words, tables, strict=True):
        yield needs
        yield table
        if cut.lay:
            room = Box(0, 0, width, high - _LAY_BELOW)
            drawn = picture(cut.lay, making.numbers, room, manner, lying=True)
            lower = shift(Point(0, _LAY_BELOW / 2 - box_of(drawn).bottom))
            marks = [mark.moved(lower) for mark in drawn]
            yield set_marks(marks, width, box_of(marks).top + _LAY_BELOW / 2)
    yield from notes


def _high(flowables: Sequence[Any], width: float) -> float:
    """How high what is set one below another stands, mm."""
    high: float = sum(
        (one.getSpaceBefore() + one.wrap(width * POINT, 1e6)[1] + one.getSpaceAfter())
        / POINT
        for one in flowables
    )
    return high


def _measures(making: Making, width: float, manner: Manner) -> Any:
    names = ("measure", "body", "ease", "finished")
    heads = [say(f"making.column.{name}", manner=manner) for name in names]
    rows = [(m.name, m.body, m.ease, m.finished) for m in making.measures]
    columns = (0.4 * width, 0.2 * width, 0.2 * width, 0.2 * width)
    return lined_table([heads, *rows], columns, right=3)


def _draft(making: Making, width: float, manner: Manner) -> Iterator[Any]:
    columns = (0.31 * width, 0.18 * width) * 2
    for name, pairs in (("taken", making.taken), ("set", making.set)):
        if not pairs:
            continue
        yield from _part(say(f"making.{name}", manner=manner))
        half = (len(pairs) + 1) // 2
        second = [*pairs[half:], ("", "")]
        rows = [(*pairs[i], *second[i]) for i in range(half)]
        yield lined_table(rows, columns, small=True)
    yield from (paragraph(line, NOTE) for line in making.noted)
    yield paragraph(say("making.draft_intro", manner=manner), NOTE)
    number = 0
    if making.halved:
        yield paragraph(say("making.halves", manner=manner), NOTE)
    for part in making.drafting:
        yield from _part(part.heading, _STAGE_HIGH if part.panels else 0.0)
        if part.panels:
            drawn = stage_picture(part.panels, width, _STAGE_HIGH - _STAGE_GAP)
            lower = shift(Point(0, _STAGE_GAP))
            marks = [mark.moved(lower) for mark in drawn]
            yield set_marks(marks, width, box_of(marks).top)
        yield numbered(part.sentences, width, number)
        number += len(part.sentences)


def _part(heading: str, more: float = 0.0) -> Iterator[Any]:
    """A heading of what may go over several pages; some of it stands below.

    Args:
        more: room for what stands between, mm.
    """
    yield CondPageBreak((_PART_BEGINS + more) * POINT)
    yield paragraph(heading, PART)


# Pictures


def _pictures(
    making: Making, width: float, height: float, manner: Manner
) -> Iterator[Any]:
    room = _PIECES_SHARE * height - _NOTE_ROOM
    drawn = pictures(making.pieces, width, room, manner)
    yield heading("pieces", manner)
    note = paragraph(say("making.scale", {"scale": drawn.scale}, manner), NOTE)
    note.keepWithNext = 1
    yield note
    for row in drawn.rows:
        yield set_marks(row.marks, width, row.height)
