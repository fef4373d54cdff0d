"""How the making-up sheet is set: its letters, headings, tables and numbered rows."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any
from xml.sax.saxutils import escape

from reportlab.lib.colors import Color, black
from reportlab.lib.styles import ParagraphStyle
from reportlab.platypus import Paragraph, Table

from skirtwright.export.pdf import BOLD, POINT, REGULAR, set_marks
from skirtwright.export.printed_letters import composed
from skirtwright.export.sheet import Stroke, outline
from skirtwright.geometry import Point
from skirtwright.words import Manner, say

GREY = Color(0.55, 0.55, 0.55)


def _style(size: float, leading: float, **more: Any) -> Any:
    font = BOLD if more.pop("bold", False) else REGULAR
    return ParagraphStyle(
        "", fontName=font, fontSize=size, leading=leading, textColor=black, **more
    )


TITLE = _style(20, 26, bold=True, spaceAfter=2)
_HEADING = _style(14, 18, bold=True, spaceBefore=16, spaceAfter=5, keepWithNext=1)
CLOTH = _style(11, 15, bold=True, spaceBefore=9, spaceAfter=3, keepWithNext=1)
PART = _style(11, 15, bold=True, spaceBefore=9, spaceAfter=3)
BODY = _style(10.5, 14.5)
PINNED = _style(12.5, 17)
PINNED_BOLD = _style(12.5, 17, bold=True)
WARNED = _style(11, 15, spaceAfter=3)
STEP = _style(10.5, 14.5, bold=True)
_CELL = _style(10, 13.5)
_CELL_BOLD = _style(9, 13.5, bold=True)
_CELL_RIGHT = _style(10, 13.5, alignment=2)
_CELL_BOLD_RIGHT = _style(9, 13.5, bold=True, alignment=2)
FINE = _style(9.5, 13)
_FINE_BOLD = _style(9.5, 13, bold=True)
NOTE = _style(9, 12.5, spaceBefore=3, spaceAfter=5)
SMALL = _style(10, 14)


_SQUARE = outline(Point(0, 0), Point(2.6, 0), Point(2.6, 2.6), Point(0, 2.6))
BOX = set_marks([Stroke(_SQUARE, "test", 0.2, ())], 4, 2.8)
"""To be ticked off."""

PLAIN = [
    ("FONTNAME", (0, 0), (-1, -1), REGULAR),
    ("VALIGN", (0, 0), (-1, -1), "TOP"),
    ("LEFTPADDING", (0, 0), (-1, -1), 0),
    ("RIGHTPADDING", (0, 0), (-1, -1), 0),
    ("TOPPADDING", (0, 0), (-1, -1), 0),
]


def paragraph(text: str, style: Any) -> Any:
    """A paragraph."""
    return Paragraph(escape(composed(text)), style)


def heading(section: str, manner: Manner) -> Any:
    """The heading of a section, listed beside the pages by whatever shows them."""
    words = say(f"making.section.{section}", manner=manner)
    made = paragraph(words, _HEADING)
    made.listed_as = words
    return made


def lined_table(
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
                style = FINE
            elif head:
                style = _CELL_BOLD_RIGHT if rightwards else _CELL_BOLD
            else:
                style = _CELL_RIGHT if rightwards else _CELL
            made.append(paragraph(words, style))
        cells.append(made)
    gap = 1.0 if small else 2.5
    return Table(
        cells,
        [wide * POINT for wide in columns],
        repeatRows=0 if small else 1,
        style=[
            ("FONTNAME", (0, 0), (-1, -1), REGULAR),
            ("VALIGN", (0, 0), (-1, -1), "TOP"),
            ("LINEBELOW", (0, 0), (-1, -1), 0.4, GREY),
            ("LEFTPADDING", (0, 0), (-1, -1), 0),
            ("RIGHTPADDING", (0, 0), (-1, -1), 6),
            ("TOPPADDING", (0, 0), (-1, -1), gap),
            ("BOTTOMPADDING", (0, 0), (-1, -1), gap),
        ],
        hAlign="LEFT",
    )


def numbered(sentences: Sequence[str], width: float, after: int = 0) -> Any:
    """Sentences with their numbers before them, counted on from `after`."""
    rows = [
        (paragraph(str(i), _FINE_BOLD), paragraph(words, FINE))
        for i, words in enumerate(sentences, after + 1)
    ]
    return Table(
        rows,
        [10 * POINT, (width - 10) * POINT],
        style=[*PLAIN, ("BOTTOMPADDING", (0, 0), (-1, -1), 0.8)],
        hAlign="LEFT",
    )
