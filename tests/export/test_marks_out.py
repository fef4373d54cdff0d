"""Every mark of a pattern comes out: as SVG, on printed sheets, on a plotter."""

from __future__ import annotations

import re

import pymupdf
import pytest

from skirtwright.draft import styles
from skirtwright.draft.inputs import Inputs
from skirtwright.draft.working.recompute import Reworking
from skirtwright.export.labelling import Field, Room
from skirtwright.export.pattern import pattern_of, svg_of
from skirtwright.export.print_job import PrintJob
from skirtwright.export.printing import Printing
from skirtwright.export.sheet import Stroke, Text
from skirtwright.pieces.cutting import Cutting
from skirtwright.report import report
from skirtwright.words import Manner

WOMAN = {"waist": 740, "hip": 990, "waist_to_hip": 205, "waist_to_knee": 590}
WORDS = (
    "Hip line",
    "Break line",
    "Place to fold",
    "Lengthen or shorten here",
    "Centre of Front",
    "Maud Ferrier, 3 May",
    "Cut 1 on the fold, main cloth",
    "Right side up",
)


@pytest.fixture(scope="module")
def mermaid():
    worked = Reworking().work(styles.style("mermaid"), Inputs(WOMAN))
    return report(worked, Cutting().cut(worked, {}), "Mermaid")


def test_svg(mermaid):
    svg = svg_of(mermaid, "Maud Ferrier, 3 May", Manner())
    said = " ".join(re.findall(r"<text[^>]*>([^<]*)</text>", svg))
    assert [words for words in WORDS if words not in said] == []


@pytest.mark.usefixtures("packed_in_few_tries")
@pytest.mark.parametrize("large", [False, True])
def test_pdf(mermaid, large):
    """What goes to a copy shop names the client only where that is asked for."""
    named = Printing(named=large)
    job = PrintJob(mermaid, "Maud Ferrier", "3 May", named, Manner())
    made = job.roll_pdf(job.on_roll("914mm")) if large else job.pdf()
    with pymupdf.open(stream=made, filetype="pdf") as pages:
        text = " ".join(page.get_text() for page in pages).replace("\n", " ")
    assert [words for words in WORDS if words not in text] == []


@pytest.mark.usefixtures("packed_in_few_tries")
def test_plotter_draws_every_line_of_the_pattern(mermaid):
    """As many strokes of each layer as the sheet has, and all its words."""
    sheet = pattern_of(mermaid, "Maud Ferrier", Manner(), date="3 May")
    job = PrintJob(mermaid, "Maud Ferrier", "3 May", Printing(), Manner())
    plotted = job.plot("pen", None)
    strokes = [mark for mark in sheet.marks if isinstance(mark, Stroke)]
    drawn = [mark for group in plotted.sheet.groups for mark in group.marks]
    for layer in {mark.layer for mark in strokes}:
        there = sum(isinstance(m, Stroke) and m.layer == layer for m in drawn)
        assert there >= sum(mark.layer == layer for mark in strokes), layer
    made = Room(plotted.sheet, [Field(frame, frame) for frame in plotted.frames]).sheet
    said = " ".join(mark.text for mark in made.marks if isinstance(mark, Text))
    assert [words for words in WORDS if words not in said] == []
