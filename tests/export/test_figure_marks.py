"""The skirt on her on printed pages: on the first page and on the making-up sheet."""

from __future__ import annotations

import io
import sys
from pathlib import Path

import pymupdf
import pytest
from PIL import Image

sys.path.insert(0, str(Path(__file__).parents[1]))

from drafting import look_of, reported
from skirtwright.draft import styles
from skirtwright.export import printing
from skirtwright.export.cover import cover_pages
from skirtwright.export.facts import CoverFacts
from skirtwright.export.figure_marks import figure_marks
from skirtwright.export.pattern import cover_facts
from skirtwright.export.print_job import PrintJob
from skirtwright.export.print_media import paper_named
from skirtwright.export.sewing.worksheet import worksheet_pdf
from skirtwright.export.sheet import Fill, box_of
from skirtwright.job import piece_edits
from skirtwright.job.edits import set_choice
from skirtwright.job.job import new_job
from skirtwright.words import Manner

BODY_GREY = 224
"""0.88 of 255."""


@pytest.fixture(scope="module")
def report():
    return reported("high-low")


def corner(data):
    """The upper right corner of a PDF's first page, grey, 100 to the inch."""
    with pymupdf.open(stream=data) as document:
        page = document[0]
        clip = pymupdf.Rect(page.rect.width * 0.6, 0, page.rect.width, 140)
        png = page.get_pixmap(dpi=100, clip=clip).tobytes("png")
    return Image.open(io.BytesIO(png)).convert("L")


def test_three_figures_stand_beside_one_another(report):
    marks = figure_marks(report, 34.0)
    size = box_of(marks)
    assert (size.left, size.bottom) == (pytest.approx(0.0), pytest.approx(0.0))
    assert size.height == pytest.approx(34.0)
    assert 30 < size.width < 90
    assert sum(isinstance(mark, Fill) and mark.grey == 1.0 for mark in marks) == 3


def test_the_making_up_sheet_begins_with_her(report):
    data = worksheet_pdf(report, "", "", paper_named("a4"), Manner())
    assert BODY_GREY in {grey for _, grey in corner(data).getcolors()}


def is_of(mark, figure):
    """Whether it is filled in a grey of her body, which no piece on the map has."""
    greys = {m.grey for m in figure if isinstance(m, Fill) and 0 < m.grey < 1}
    return isinstance(mark, Fill) and mark.grey in greys


def test_the_first_page_of_a_print_shows_her_right_of_the_words(report):
    manner, order = Manner(), printing.Printing()
    tiling = PrintJob(report, "", "", order, manner).blocks()
    facts = cover_facts(report, "", "", manner)
    with_her = cover_pages(tiling, facts, manner)
    bare = CoverFacts(**{**vars(facts), "figure": ()})
    assert len(with_her) == len(cover_pages(tiling, bare, manner))
    her = box_of([m for m in with_her[0].marks if is_of(m, facts.figure)])
    assert her.right <= with_her[0].width
    assert her.top <= with_her[0].height
    words = [
        box_of([mark])
        for mark in with_her[0].marks
        if not isinstance(mark, Fill) and hasattr(mark, "text")
    ]
    assert not any(her.meets(box) for box in words)


def test_paper_too_narrow_for_both_leaves_her_out(report):
    manner = Manner()
    facts = cover_facts(report, "", "", manner)
    tall = CoverFacts(**{**vars(facts), "figure": figure_marks(report, 120.0)})
    tiling = PrintJob(report, "", "", printing.Printing(), manner).blocks()
    page = cover_pages(tiling, tall, manner)[0]
    assert not any(is_of(mark, tall.figure) for mark in page.marks)


def test_the_first_page_tells_what_is_alike_all_round_in_one(report):
    """A band of one allowance takes one line, so that the lists need no other page."""
    widths = dict(cover_facts(report, "", "", Manner()).widths)
    assert widths["Waistband"] == "1.2 cm all round"
    assert not {"Inside edge", "Left end", "Underlap"} & set(widths)
    assert widths["Centre"] == "2.5 cm then 2 cm"


def test_an_edge_unlike_on_two_pieces_is_told_of_each():
    job = new_job(styles.style("straight"))
    job = piece_edits.set_allowance(job, "front", "side", "3 cm").job
    job = set_choice(job, "patch_pocket", "front").job
    report = look_of(job).report
    widths = dict(cover_facts(report, "", "", Manner()).widths)
    assert widths["Side seam (Front)"] == "3 cm"
    assert widths["Side seam (Back)"] == "2 cm"
    assert "Side seam" not in widths
    assert widths["Upper edge (Patch pocket)"] == "3 cm", "what hangs from no waist"
