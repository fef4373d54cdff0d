"""What she may ask of a print, read back from the file by readers that are not ours."""

from __future__ import annotations

import re
from dataclasses import replace

import pymupdf
import pytest
from paper_readers import MM

from bodies import SAMPLE
from drafting import reported
from skirtwright.export.changed_sheets import BEFORE
from skirtwright.export.cover import cover_pages
from skirtwright.export.cover_drawings import how_to_join, key_of_lines
from skirtwright.export.pattern import cover_facts
from skirtwright.export.print_job import PrintJob
from skirtwright.export.print_media import looks
from skirtwright.export.printed_letters import width_of
from skirtwright.export.printing import Printing
from skirtwright.export.setting import LETTERS, flowed, in_columns
from skirtwright.export.sheet import Group, Sheet, Stroke, Text, box_of, line
from skirtwright.export.traced_twice import LINING_CUTTING, LINING_STITCHING
from skirtwright.geometry import Point
from skirtwright.geometry.box import Box
from skirtwright.words import Manner, say

MANNER = Manner()
TOLD_APART = ("cutting", "stitching", "fold", "grain", "inside", "lengthen")
"""Kinds of line she has to tell from one another on paper."""


@pytest.fixture(scope="module")
def straight():
    return reported("straight-block", SAMPLE)


def tiled(report, **how):
    return PrintJob(report, "", "3 May", Printing("a3", **how), MANNER).pdf()


def thrown(report, **how):
    return PrintJob(report, "", "3 May", Printing(**how), MANNER).projector_pdf()


def drawings(data, layer):
    """The lines of one kind on all pages."""
    words = say(f"print.layer.{layer}", manner=MANNER)
    with pymupdf.open(stream=data) as document:
        every = [d for page in document for d in page.get_drawings()]
    return [drawing for drawing in every if drawing["layer"] == words]


def test_kinds_of_line_differ_in_width_or_pattern_without_colour(straight):
    """Read from the file: widths and dashes, as a printer of greys draws them."""
    data = tiled(straight)
    seen = {}
    for layer in TOLD_APART:
        lines = [d for d in drawings(data, layer) if d["type"] == "s"]
        looked = {(round(d["width"] * MM, 2), dashes_of(d)) for d in lines}
        style = looks()["paper"].styles[layer]
        dash = tuple(round(part, 1) for part in style.dash)
        assert looked == {(style.weight, dash)}, layer
        assert all(max(d["color"]) == 0 for d in lines), layer
        seen[layer] = looked.pop()
    assert len(set(seen.values())) == len(TOLD_APART)


def test_the_key_shows_each_line_as_it_is_drawn():
    """A lining's lines, pleats, sizes over one another, the line as it was."""
    path = line(Point(0, 0), Point(9, 0))
    kinds = {
        "Cutting line of a lining": Stroke(path, "cutting", *LINING_CUTTING),
        "Stitching line of a lining": Stroke(path, "stitching", *LINING_STITCHING),
        "As it was before": Stroke(path, "inside", *BEFORE),
        "Fold of a pleat": Stroke(path, "inside", dash=()),
        "Cutting line of size 12": Stroke(path, "size-1"),
    }
    for words, drawn in kinds.items():
        sizes = ("12",) if drawn.layer == "size-1" else ()
        plain = Stroke(path, "fold")
        sheet = Sheet("", (Group.of("Front", [drawn, plain]),), sizes=sizes)
        key = list(key_of_lines(sheet, Box(0, 0, 88, 86), MANNER))
        said = {mark.text for mark in key if isinstance(mark, Text)}
        assert said >= {words, "Fold"}
        assert said.isdisjoint(kinds.keys() - {words})
        assert "Drill" not in said
        pens = {(m.weight, m.dash) for m in key if isinstance(m, Stroke)}
        assert (drawn.weight, drawn.dash) in pens
        texts = [mark for mark in key if isinstance(mark, Text)]
        assert all(0 <= mark.at.y <= 86 for mark in texts)
        assert all(mark.at.x + width_of(mark.text, LETTERS) <= 88 for mark in texts)


@pytest.mark.parametrize("butted", [True, False])
def test_how_to_join_stands_in_the_middle_of_its_square(butted):
    room = Box(7, 9, 96.6, 96.6)
    heads, *marks = how_to_join(room, MANNER, butted=butted)
    drawn = box_of(marks)
    above, below = heads.at.y - drawn.top, drawn.bottom - room.bottom
    assert above == pytest.approx(below, abs=5.0)
    assert below > 3.0


def test_what_is_told_of_pieces_begins_at_one_column_or_stands_below():
    """In a column as wide as a page's; names too long for a narrow one stand above."""
    told = [("1 Front", "Cut 1 pair, main cloth; 2A-5A, 2B-5B"), ("12 Band", "Cut 1")]
    texts, rest = flowed(in_columns(told), [Box(0, 0, 60, 60)])
    column = width_of("12 Band", LETTERS) + 3
    at = {mark.text: mark.at.x for mark in texts}
    assert not rest
    assert at["1 Front"] == at["12 Band"] == 0
    for words in ("Cut 1 pair, main cloth", "2A-5A, 2B-5B", "Cut 1"):
        assert at[words] == pytest.approx(column)
    texts, _ = flowed(in_columns(told), [Box(0, 0, 20, 90)])
    assert max(mark.at.x for mark in texts) < column


def dashes_of(drawing):
    parts = drawing["dashes"].partition("]")[0].strip("[ ")
    return tuple(round(float(part) * MM, 1) for part in parts.split())


def test_only_the_sheets_asked_for_are_written_without_the_first_page(straight):
    whole, some = tiled(straight), tiled(straight, sheets="2-3,5")
    with pymupdf.open(stream=whole) as all_of_it, pymupdf.open(stream=some) as part:
        assert len(part) == 3
        for page, number in zip(part, (2, 3, 5), strict=True):
            # The first page of the whole print is none of the sheets.
            assert page.get_text() == all_of_it[number].get_text()


def test_the_other_ways_are_counted_as_they_would_be_printed(straight):
    how = Printing("a3")
    others = PrintJob(straight, "", "", how, MANNER).sheet_counts()
    assert set(others) == {"cloth", "piece"}
    for way, count in others.items():
        with pymupdf.open(stream=tiled(straight, laying=way)) as document:
            numbered = [p for p in document if f"of {count}" in p.get_text()]
            assert len(numbered) == count


def test_opened_out_a_piece_on_the_fold_is_whole_and_a_pair_is_two(straight):
    """Area inside the cutting lines: each half and each one of a pair as it is cut."""
    half, whole = (areas(thrown(straight, open_out=out)) for out in (False, True))
    fold = next(p for p in straight.cut.pieces if p.spec.folds)
    pair = next(p for p in straight.cut.pieces if p.spec.mirrored)
    assert len(half) == 2
    assert len(whole) == 3
    assert sum(whole) == pytest.approx(2 * sum(half), rel=1e-3)
    assert fold.name != pair.name


def areas(data):
    """What each cutting line goes round, mm2, by its own corners."""
    found = []
    for drawing in drawings(data, "cutting"):
        ring = [p for item in drawing["items"] for p in item[1:] if hasattr(p, "x")]
        if len(ring) > 20:
            twice = sum(
                a.x * b.y - a.y * b.x
                for a, b in zip(ring, [*ring[1:], ring[0]], strict=True)
            )
            found.append(abs(twice) / 2 * MM**2)
    return found


def test_mirrored_is_the_same_page_turned_over(straight):
    """Each place at the left lies as far from the right edge; words can be read."""
    plain, over = (thrown(straight, mirrored=m) for m in (False, True))
    spans = []
    for data in (plain, over):
        rects = [drawing["rect"] for drawing in drawings(data, "cutting")]
        left = min(rect.x0 for rect in rects)
        spans.append(sorted((r.x0 - left, r.x1 - left) for r in rects))
    wide = max(x1 for _, x1 in spans[0])
    turned = sorted((wide - x1, wide - x0) for x0, x1 in spans[0])
    for expected, found in zip(turned, spans[1], strict=True):
        assert found == pytest.approx(expected, abs=1.5)
    assert spans[0] != spans[1]
    with pymupdf.open(stream=over) as document:
        assert "Front" in document[1].get_text()


def test_the_cover_of_a_toile_says_what_a_toile_includes():
    report = reported("straight", SAMPLE)
    with pymupdf.open(stream=tiled(report, toile=True)) as document:
        words = " ".join(document[0].get_text().split())
    assert "Seams have 4 cm to let out" in words
    assert "waist and hem are cut on the line" in words
    assert "Front lining" not in words
    assert not re.search(r"\b1\.5 cm", words)


def test_the_cover_tells_allowances_of_the_lining_that_are_its_own():
    facts = cover_facts(reported("mermaid", SAMPLE), "", "", Manner())
    told = dict(facts.widths)
    assert told["Hem"] == "2.5 cm"
    assert told["Lining, hem"] == "2 cm"
    assert "Lining, waist" not in told, "as the main cloth's"


@pytest.mark.parametrize(
    ("style", "paper"), [("train", "letter"), ("tiered", "letter"), ("flounce", "a4")]
)
def test_both_squares_and_all_that_is_told_are_on_one_first_page(style, paper):
    """For styles of many pieces and a long title; the map gives way to the lists."""
    inches = Manner(unit="in")
    title = "A skirt for the garden in June, Orla Penhallow"
    report = replace(reported(style, SAMPLE), title=title)
    blocks = PrintJob(report, "", "", Printing(paper), inches).blocks()
    # Sheets are counted from the first that is needed.
    assert min(tile.column for _, tile in blocks.printed) == 0
    assert min(tile.row for _, tile in blocks.printed) == 0
    facts = cover_facts(report, "Orla Penhallow", "3 May", inches)
    (page,) = cover_pages(blocks, facts, inches)
    closed = [m for m in page.marks if isinstance(m, Stroke) and m.closed]
    sides = {round(box_of([m]).width, 1) for m in closed if m.layer == "test"}
    assert {100.0, 101.6} <= sides
    words = " ".join(m.text for m in page.marks if isinstance(m, Text))
    for name, value in facts.finished:
        assert name in words
        assert value.partition(" ")[0] in words
    # A small sheet's name is made of what stands over and beside the map.
    texts = [m.text for m in page.marks if isinstance(m, Text)]
    columns = {str(tile.column + 1) for _, tile in blocks.printed}
    assert {"A", "B", *columns} <= set(texts)


def test_a_piece_at_a_time_has_one_first_page_too():
    """Small maps of many blocks rather than a second page."""
    report = reported("wrap", SAMPLE)
    how = Printing(laying="piece")
    blocks = PrintJob(report, "", "", how, MANNER).blocks()
    assert len(blocks.tilings) > 4
    assert len(cover_pages(blocks, cover_facts(report, "", "", MANNER), MANNER)) == 1
