"""The making-up sheet as a PDF, read back by readers that know nothing of ours."""

from __future__ import annotations

import io
from dataclasses import replace
from functools import cache

import pikepdf
import pymupdf
import pypdfium2
import pytest
from paper_readers import MM, length, mupdf_lines

from bodies import SAMPLE
from drafting import reported
from sampling import some_of
from skirtwright.draft import styles
from skirtwright.export.print_media import paper_named
from skirtwright.export.sewing.making_up_sheet import making_of
from skirtwright.export.sewing.piece_pictures import pictures
from skirtwright.export.sewing.step_pictures import stage_picture, step_picture
from skirtwright.export.sewing.worksheet import worksheet_pdf, write_worksheet
from skirtwright.export.sheet import Fill, Stroke
from skirtwright.problems import Refused
from skirtwright.words import Manner

CM, INCHES = Manner(), Manner(unit="in")


@pytest.fixture(scope="module")
def house():
    return reported("mermaid", SAMPLE)


def pdf_of(report, paper="a4", manner=CM, client="Adaeze Nguyễn-Łącka"):
    return worksheet_pdf(report, client, "25 November 2026", paper_named(paper), manner)


@cache
def written(style, paper="a4", manner=CM):
    """A style's sheet, with the details in `PINNED`; written once."""
    return pdf_of(reported(style, SAMPLE, **PINNED.get(style, {})), paper, manner)


@pytest.fixture(scope="module")
def sheet():
    return written("mermaid")


def texts(data):
    """The words of each page by PDFium."""
    document = pypdfium2.PdfDocument(data)
    try:
        return [
            " ".join(document[i].get_textpage().get_text_bounded().split())
            for i in range(len(document))
        ]
    finally:
        document.close()


def page_with(data, words):
    return next(i for i, text in enumerate(texts(data)) if words in text)


def test_all_sections_are_there_in_order(sheet):
    whole = " ".join(texts(sheet))
    sections = [
        "Making-up sheet",
        "Notions",
        "Cut list",
        "Finished measures",
        "All pieces at",
        "Order of sewing",
        "The draft, step by step",
    ]
    places = [whole.index(words) for words in sections]
    assert places == sorted(places)


def test_everything_of_the_contents_is_read_back(house, sheet):
    """Every row, step and sentence, by another reader than the one above."""
    making = making_of(house, "", "", CM)
    with pymupdf.open(stream=sheet) as document:
        whole = " ".join("".join(page.get_text() for page in document).split())
    said = [
        *making.notions,
        *(step.words for step in making.order),
        *(row.size for cut in making.cut for row in cut.rows),
        *(row.allowances for cut in making.cut for row in cut.rows),
        *(words for part in making.drafting for words in part.sentences),
    ]
    # Spaces fall where lines are broken, and feet between pages.
    squeezed = whole.replace(" ", "")
    missing = [words for words in said if words.replace(" ", "") not in squeezed]
    assert len(missing) <= len(texts(sheet)), missing


PINNED = {
    "mermaid": {},
    "straight": {"vent": "vent", "pocket": "in_side_seams"},
    "train": {},
    "wrap": {"wrap_closing": "ties"},
}


@pytest.mark.parametrize("style", PINNED)
def test_one_page_to_pin_up_has_all_she_looks_for_beside_the_machine(style):
    making = making_of(reported(style, SAMPLE, **PINNED[style]), "", "", CM)
    first = texts(written(style))[0].replace(" ", "")
    pieces = [row.piece for cut in making.cut for row in cut.rows]
    steps = [step.title for step in making.order]
    for words in (*pieces, *making.notions, *steps, *making.cautions, *making.look):
        assert words.replace(" ", "") in first, words


def test_the_page_to_pin_up_is_one_page_however_much_stands_on_it():
    """The train's with a long title is more than a Letter page: it is set smaller."""
    making = making_of(reported("train", SAMPLE), "", "", CM)
    long = replace(making, title="A skirt to be worn in the garden " * 6)
    pages = texts(write_worksheet(long, paper_named("letter"), CM))
    assert "Final press" in pages[0]
    assert "Cut list" in pages[1]


@pytest.mark.parametrize("style", [*PINNED, "bias-slip"])
def test_no_page_is_all_but_empty(style):
    """Every page but the last is written on well down, past a heading."""
    with pymupdf.open(stream=written(style)) as document:
        for page in list(document)[1:-1]:
            high = page.rect.height * MM
            lows = [y1 * MM for *_, y1, words in words_of(page) if words]
            lows += [d["rect"].y1 * MM for d in page.get_drawings()]
            low = max(y for y in lows if y < high - 24)
            assert low > 0.6 * high, page.number
            # Nor does a heading stand alone at its foot.
            own = [b for b in page.get_text("blocks") if b[3] * MM < high - 24]
            foot = max(own, key=lambda block: block[3])
            assert foot[4].strip() != "The draft, step by step", page.number


def words_of(page):
    """The words of a page with the boxes they stand in."""
    return [(*word[:4], word[4]) for word in page.get_text("words")]


@pytest.mark.parametrize(
    ("paper", "size"), [("a4", (210, 297)), ("letter", (216, 279))]
)
def test_pages_are_of_the_paper_and_numbered(paper, size):
    data = written("mermaid", paper)
    said = texts(data)
    for number, words in enumerate(said, 1):
        assert f"page {number} of {len(said)}" in words
    with pymupdf.open(stream=data) as document:
        for page in document:
            found = (page.rect.width * MM, page.rect.height * MM)
            assert found == pytest.approx(size, abs=0.6)


def test_nothing_stands_outside_the_margins(sheet):
    with pymupdf.open(stream=sheet) as document:
        for page in document:
            high = page.rect.height * MM
            for x0, y0, x1, y1, *_ in page.get_text("words"):
                assert x0 * MM > 17
                assert x1 * MM < 210 - 17
                assert y0 * MM > 12
                assert y1 * MM < high - 8


@pytest.mark.parametrize("manner", [CM, INCHES], ids=["cm", "in"])
@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_pictures_are_true_to_the_scale_that_is_printed(house, paper, manner):
    """The band's long sides, and the bar, measured on the page within 0.5 %."""
    data = written("mermaid", paper, manner)
    page = page_with(data, "All pieces at 1 :")
    words = texts(data)[page]
    scale = int(words.split("All pieces at 1 :")[1].split(".")[0])
    lines = [length(line) for line in mupdf_lines(data, page)]
    band = next(p for p in house.cut.pieces if p.name == "band")
    long = max(p.y for p in band.cut) - min(p.y for p in band.cut)
    wide = max(p.x for p in band.cut) - min(p.x for p in band.cut)
    bar = 200.0 if manner.unit == "cm" else 8 * 25.4
    for true in (long, wide, bar):
        nearest = min(lines, key=lambda drawn: abs(drawn * scale - true))
        assert nearest * scale == pytest.approx(true, rel=0.005)


def test_every_piece_has_its_picture_at_the_one_scale(house, sheet):
    """Each outline's perimeter, added up on the page from its own strokes."""
    page = page_with(sheet, "All pieces at 1 :")
    scale = int(texts(sheet)[page].split("All pieces at 1 :")[1].split(".")[0])
    with pymupdf.open(stream=sheet) as document:
        found = [
            drawing["rect"]
            for drawing in document[page].get_drawings()
            if drawing["type"] == "s" and abs(drawing["width"] * MM - 0.35) < 0.02
        ]
    boxes = [(r.width * MM * scale, r.height * MM * scale) for r in found]
    for piece in house.cut.pieces:
        wide = max(p.x for p in piece.cut) - min(p.x for p in piece.cut)
        high = max(p.y for p in piece.cut) - min(p.y for p in piece.cut)
        assert any(
            w == pytest.approx(wide, rel=0.005, abs=0.5)
            and h == pytest.approx(high, rel=0.005, abs=0.5)
            for w, h in boxes
        ), piece.name


def test_pictures_keep_within_their_rows_and_the_page(house):
    drawn = pictures(making_of(house, "", "", CM).pieces, 174, 235, CM)
    assert sum(row.height for row in drawn.rows) <= 235
    for row in drawn.rows:
        for mark in row.marks:
            for point in mark.points():
                assert -0.5 <= point.x <= 175
                assert -0.5 <= point.y <= row.height + 0.5


def test_more_pieces_than_a_page_holds_go_on_to_the_next(house):
    pieces = making_of(house, "", "", CM).pieces
    drawn = pictures(pieces * 12, 174, 235, CM)
    assert drawn.scale == 20
    assert sum(row.height for row in drawn.rows) > 235
    assert max(row.height for row in drawn.rows) < 235


def test_a_step_shows_what_it_joins_and_nothing_else(house):
    """The centre back seam: the back twice, its seam on both; the side: both pieces."""
    rows = {step.step: step.row for step in making_of(house, "", "", CM).order}
    for step, pieces, seams in (("opening_seam", 2, 2), ("side", 2, 3)):
        drawn = step_picture(rows[step], house.cut.pieces, 44, 20)
        lit = [mark for mark in drawn if isinstance(mark, Fill)]
        heavy = [m for m in drawn if isinstance(m, Stroke) and (m.weight or 0) > 0.5]
        assert len(lit) == pieces
        # The front on the fold is drawn whole, so its side is there twice.
        assert len(heavy) == seams
        for mark in drawn:
            for point in mark.points():
                assert -0.1 <= point.x <= 44.1
                assert -0.1 <= point.y <= 20.1
    assert step_picture(rows["wash"], house.cut.pieces, 44, 20) == ()


def test_each_stage_of_the_draft_shows_its_panels(house):
    making = making_of(house, "", "", CM)
    block = making.drafting[0]
    drawn = stage_picture(block.panels, 174, 30)
    closed = [mark for mark in drawn if isinstance(mark, Stroke)]
    assert len(closed) >= len(block.panels) >= 2
    assert max(p.y for m in drawn for p in m.points()) <= 30.1


def test_fonts_are_embedded_and_the_file_says_what_it_is(sheet):
    with pikepdf.open(io.BytesIO(sheet)) as pdf:
        assert pdf.Root.Lang == "en-GB"
        assert pdf.Root.ViewerPreferences.DisplayDocTitle
        assert pdf.Root.ViewerPreferences.PrintScaling == "/None"
        assert str(pdf.docinfo["/Title"]) == "Test"
        assert str(pdf.docinfo["/Author"]) == "Adaeze Nguyễn-Łącka"
        with pdf.open_metadata() as metadata:
            assert metadata["dc:title"] == "Test"
    with pymupdf.open(stream=sheet) as document:
        fonts = {f for i in range(len(document)) for f in document.get_page_fonts(i)}
        assert fonts
        for _, suffix, _, name, *_ in fonts:
            assert suffix == "ttf"
            assert "NotoSans" in name
        assert [entry[1] for entry in document.get_toc()][:2] == [
            "Cautions",
            "Cut list",
        ]


def test_the_same_sheet_gives_the_same_bytes(house, sheet):
    assert pdf_of(house) == sheet


def test_black_and_white_is_enough(sheet):
    """No colour is drawn anywhere: any printer will do."""
    with pymupdf.open(stream=sheet) as document:
        for page in document:
            for drawing in page.get_drawings():
                for ink in (drawing.get("color"), drawing.get("fill")):
                    assert ink is None or max(ink) - min(ink) < 1e-6


def test_names_with_signs_and_markup_are_printed_as_they_are(house):
    making = making_of(house, "A", "B", CM)
    odd = replace(making, title="<b>Ọlá & Sons</b> \x07 ½", client="<i>&")
    words = texts(write_worksheet(odd, paper_named("a4"), CM))
    assert "<b>Ọlá & Sons</b>" in words[0]


def test_inches_are_shown_to_the_sixteenth():
    words = " ".join(texts(written("mermaid", manner=INCHES)))
    assert "lengths in inches" in words
    assert "28 15/16 in" in words
    assert " cm " not in words.partition("The draft, step by step")[0]


@pytest.mark.sampled
@pytest.mark.parametrize("name", some_of(styles.names(), 0))
def test_every_style_writes_its_sheet(name):
    """For the sample client; one on A4 in cm, the next on Letter in inches."""
    other = styles.names().index(name) % 2
    said = texts(written(name, *(("letter", INCHES) if other else ("a4", CM))))
    assert 3 <= len(said) < 30
    assert "Order of sewing" in " ".join(said)


def test_an_order_without_pieces_is_refused():
    report = reported("mermaid", SAMPLE)
    bare = replace(report, cut=replace(report.cut, pieces=()))
    with pytest.raises(Refused):
        pdf_of(bare)
