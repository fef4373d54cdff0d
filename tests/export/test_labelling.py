"""Words on paper: where they stand, read back from what is written."""

from __future__ import annotations

from dataclasses import astuple, replace
from itertools import combinations

import pymupdf
import pytest
import shapely
from overlaps import overlaps, words_on_pages

from drafting import look_of
from skirtwright.draft.styles import style
from skirtwright.export import tiled
from skirtwright.export.labelling import Field, Room
from skirtwright.export.lay_page import lays_pdf
from skirtwright.export.pattern import pattern_of
from skirtwright.export.print_job import PrintJob
from skirtwright.export.printing import Printing
from skirtwright.export.sheet import (
    SMALLEST_LETTERS,
    Group,
    Label,
    Sheet,
    Stroke,
    Text,
    box_of,
    line,
    outline,
)
from skirtwright.geometry import Point
from skirtwright.geometry.box import Box
from skirtwright.job.job import new_job
from skirtwright.lay.all_cloths import lay_all
from skirtwright.lay.cloth_to_cut import usual
from skirtwright.words import Manner

MANNER = Manner()
A3 = Printing("a3")


@pytest.fixture(scope="module")
def mermaid():
    return look_of(new_job(style("mermaid"))).report


@pytest.fixture(scope="module")
def a3(mermaid):
    return PrintJob(mermaid, "Orla", "3 May", A3, MANNER).pdf()


def test_no_words_meet_a_line_or_other_words_on_sheets(a3):
    assert overlaps(a3) == []


@pytest.mark.usefixtures("packed_in_few_tries")
def test_each_page_of_large_paper_says_which_it_is_clear_of_the_squares(mermaid):
    """Two pages of A0: the squares stand at the foot of the first."""
    job = PrintJob(mermaid, "", "3 May", Printing(), MANNER)
    made = job.roll_pdf(job.on_roll("a0"))
    assert overlaps(made) == []
    first, second = words_on_pages(made)
    assert any(words.startswith("1 of 2") for words in first)
    assert any(words.startswith("2 of 2") for words in second)


@pytest.mark.usefixtures("packed_in_few_tries")
@pytest.mark.parametrize("kind", ["roll", "projector"])
def test_nor_on_a_roll_nor_from_a_projector(mermaid, kind):
    job = PrintJob(mermaid, "Orla", "3 May", Printing(), MANNER)
    on_roll = kind == "roll"
    made = job.roll_pdf(job.on_roll("914mm")) if on_roll else job.projector_pdf()
    assert overlaps(made) == []


def test_the_meter_finds_what_meets():
    """Words set on a line, and words on words, are told."""
    with pymupdf.open() as document:
        page = document.new_page()
        page.draw_line((50, 98), (200, 98))
        page.insert_text((60, 100), "on a line")
        page.insert_text((60, 300), "first")
        page.insert_text((65, 302), "second")
        page.insert_text((60, 500), "alone")
        made = document.tobytes()
    found = overlaps(made)
    assert [told for _, told in found] == ["on a line", "first / second"]


def test_every_sheet_says_which_pieces_are_on_it(mermaid, a3):
    """Pieces by shapely, words by PyMuPDF, names broken into lines joined again."""
    tiling = PrintJob(mermaid, "Orla", "3 May", A3, MANNER).blocks().tilings[0]
    pages = words_on_pages(a3)[-tiling.sheets :]
    for tile, words in zip(tiling.printed, pages, strict=True):
        window = shapely.box(*_sides(tile.window))
        said = " ".join(words)
        for group in tiling.sheet.groups:
            (cut,) = group.outlines
            body = shapely.Polygon([(p.x, p.y) for p in cut.points()])
            if body.intersection(window).area > 4.0:
                assert all(part in said for part in group.name.split()), (
                    tile.name,
                    group.name,
                )


def _sides(box: Box):
    return box.left, box.bottom, box.right, box.top


def test_words_read_level_within_one_sheet_and_at_least_8_points(mermaid):
    tiling = PrintJob(mermaid, "Orla", "3 May", A3, MANNER).blocks().tilings[0]
    fields = [tiled._field(tiling, tile) for tile in tiling.printed]
    made = Room(tiling.sheet, fields).sheet
    texts = [mark for mark in made.marks if isinstance(mark, Text)]
    assert {text.text for text in texts} >= {"Hip line", "Place to fold", "Front"}
    for text in texts:
        assert text.angle_deg == 0
        assert text.height_mm >= SMALLEST_LETTERS
        assert any(
            all(field.core.holds(corner) for corner in text.points())
            for field in fields
        ), text.text


def test_what_is_said_of_a_line_stands_beside_it(mermaid):
    sheet = pattern_of(mermaid, "Orla", MANNER)
    made = Room(sheet, [Field(sheet.box, sheet.box)]).sheet
    for before, after in zip(sheet.groups, made.groups, strict=True):
        words = {t.text: t for t in after.marks if isinstance(t, Text)}
        for label in before.labels:
            said = label.versions[0][0]
            if label.of and said in ("Hip line", "Break line"):
                hip = Stroke(label.of, "inside").points()
                near = shapely.LineString([(p.x, p.y) for p in hip])
                corners = [(p.x, p.y) for p in words[said].points()]
                assert near.distance(shapely.Polygon(corners)) < 4


def _piece(name, wide, high, *labels):
    corners = (Point(0, 0), Point(wide, 0), Point(wide, high), Point(0, high))
    cut = Stroke(outline(*corners), "cutting", closed=True)
    return Group.of(name, [cut], labels=labels)


def _said(group):
    sheet = Sheet("One", (group,))
    whole = sheet.box.grown(60)
    made = Room(sheet, [Field(whole, whole)]).sheet.groups[0].marks
    return [m for m in made if isinstance(m, Text)], [
        m for m in made if isinstance(m, Stroke) and m.layer == "label"
    ]


def test_a_label_is_shrunk_then_broken_then_shortened_then_led_outside():
    full = ("Strip behind the zip", "Cut 1 pair, interfacing")
    label = Label((full, full[:1]), 5.0)
    large, leaders = _said(_piece("Strip", 200, 60, label))
    assert [t.text for t in large] == [*full]
    assert large[0].height_mm == 5
    assert not leaders
    small, leaders = _said(_piece("Strip", 60, 60, label))
    assert [t.text for t in small] == [*full]
    assert SMALLEST_LETTERS <= small[0].height_mm < 5
    broken, leaders = _said(_piece("Strip", 24, 50, label))
    assert " ".join(t.text for t in broken) == " ".join(full)
    assert len(broken) > 2
    short, leaders = _said(_piece("Strip", 26, 16, label))
    assert " ".join(t.text for t in short) == full[0]
    assert not leaders
    led, (leader,) = _said(_piece("Strip", 12, 12, label))
    assert " ".join(t.text for t in led) == full[0]
    body = shapely.box(0, 0, 12, 12)
    end = leader.points()[-1]
    assert body.contains(shapely.Point(end.x, end.y))
    for text in led:
        corners = [(p.x, p.y) for p in text.points()]
        assert body.distance(shapely.Polygon(corners)) >= 1


def test_words_of_a_line_without_room_beside_it_are_led_to_it():
    along = line(Point(15, 5), Point(15, 45))
    inside = Stroke(along, "inside")
    group = _piece("Tab", 20, 50, Label((("Lengthen here",),), 3.0, along))
    group = Group.of("Tab", (*group.marks, inside), labels=group.labels)
    words, (leader,) = _said(group)
    assert " ".join(t.text for t in words) == "Lengthen here"
    end = leader.points()[-1]
    assert end.x == pytest.approx(15)
    assert 5 <= end.y <= 45


@pytest.fixture(scope="module")
def wrap():
    return look_of(new_job(style("wrap"))).report


def test_thrown_words_stand_on_no_other_piece_and_no_leaders_cross(wrap):
    """Narrow bands have their words beside them, on nothing and over nothing."""
    thrown = PrintJob(wrap, "Orla", "3 May", Printing(), MANNER).projected()
    pieces = [group for group in thrown.groups if group.piece]
    areas = {
        group.piece: shapely.Polygon(
            [(p.x, p.y) for p in group.outlines[0].points(0.5)]
        )
        for group in pieces
    }
    leaders = []
    for group in pieces:
        for mark in group.marks:
            if isinstance(mark, Text):
                box = shapely.box(*astuple(box_of([mark])))
                for name, area in areas.items():
                    assert name == group.piece or not box.intersects(area), mark.words
            elif isinstance(mark, Stroke) and mark.layer == "label":
                leaders.append(shapely.LineString([(p.x, p.y) for p in mark.points()]))
    assert len(leaders) > 3
    assert not any(a.crosses(b) for a, b in combinations(leaders, 2))


def test_nor_on_a_lay_and_she_is_named_once(mermaid):
    cloths = [usual(material, "cm") for material in ("shell", "lining", "interfacing")]
    laid = lay_all(mermaid.cut, cloths, 20)
    told = replace(mermaid.with_lays(laid), title="Mermaid skirt, Orla")
    made = lays_pdf(told, "Orla", "3 May", MANNER)
    assert overlaps(made) == []
    for words in words_on_pages(made):
        assert sum("Orla" in said for said in words) == 1
