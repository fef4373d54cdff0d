"""Printed pages read back by programs that are not ours."""

from __future__ import annotations

import io
import os
import shutil
import subprocess
import sys
from dataclasses import replace

import numpy as np
import paper_readers as read
import pikepdf
import pymupdf
import pypdfium2
import pypdfium2.raw as pdfium
import pytest
from skirt_sheet import P

from skirtwright.export.correction import Correction
from skirtwright.export.facts import CoverFacts
from skirtwright.export.full_size import full_size, write_full_size
from skirtwright.export.pages import Page, View
from skirtwright.export.pdf import write
from skirtwright.export.print_media import own_roll, paper_named, roll_named
from skirtwright.export.sheet import (
    LAYERS,
    Group,
    Sheet,
    Stroke,
    Text,
    drawn_at,
    line,
    with_layers,
)
from skirtwright.export.tiled import tiled_document
from skirtwright.export.tiles import Blocks, TileOptions, tile
from skirtwright.geometry import Cubic, Line, Motion, Point
from skirtwright.geometry.box import Box

A4, LETTER = paper_named("a4"), paper_named("letter")
PAPER = {"a4": A4, "letter": LETTER}

poppler = pytest.mark.skipif(not shutil.which("pdftoppm"), reason="no poppler here")


@pytest.fixture(scope="session")
def tiling(skirt):
    return tile(skirt, A4)


@pytest.fixture(scope="session")
def tiled(tiling, facts):
    return write(tiled_document(Blocks((tiling,)), facts))


def _known_line(size: float = 100.0) -> Sheet:
    """A slanted line of known length among others."""
    along = Motion(0.8, 0.6, -0.6, 0.8, 40, 30)
    marks = [Stroke((Line(P(0, 0), P(size, 0)).moved(along),), "cutting")]
    return Sheet("Line", (Group.of("Line", marks),))


@pytest.mark.parametrize("key", ["a4", "letter"])
@pytest.mark.parametrize("overlap", [0, 10])
def test_a_line_of_100_mm_is_100_mm_in_two_readers(key, overlap, facts):
    tiling = tile(_known_line(), PAPER[key], TileOptions(overlap=overlap))
    data = write(tiled_document(Blocks((tiling,)), facts))
    for reader in (read.mupdf_lines, read.content_lines):
        for page in range(1, 1 + tiling.sheets):
            best = min(abs(read.length(x) - 100) for x in reader(data, page))
            assert best < 0.005  # 0.05 mm per metre


def _edges(sheet: Sheet) -> list[tuple[Point, Point]]:
    return [
        (s.start, s.end)
        for mark in sheet.marks
        if isinstance(mark, Stroke)
        for s in mark.path
        if isinstance(s, Line)
    ]


def _nearest(lines, p: Point, q: Point) -> float:
    """How far the best line lies from where it should, at its worse end, mm."""
    ends = np.array([[*a, *b] for a, b in lines])
    ways = [np.array([p.x, p.y, q.x, q.y]), np.array([q.x, q.y, p.x, p.y])]
    return min(np.abs(ends - way).max(axis=1).min() for way in ways)


# Printed lengths read back by an independent reader, 0.05 mm per
# metre.
def test_every_straight_edge_is_where_the_sheet_has_it(skirt, facts):
    laid = full_size(skirt, roll_named("36in"), facts)
    data = write_full_size(laid, facts)
    for reader in (read.mupdf_lines, read.content_lines):
        lines = reader(data, 0)
        for p, q in _edges(laid.sheet):
            assert _nearest(lines, p, q) < 0.002
            longest = min(lines, key=lambda x: abs(read.length(x) - p.to(q)))
            assert abs(read.length(longest) - p.to(q)) < 0.05 * p.to(q) / 1000 + 0.001


def test_a_metre_is_a_metre(facts):
    laid = full_size(_known_line(1400), own_roll(914.4), facts)
    data = write_full_size(laid, facts)
    for size in (1000.0, 1400.0):  # the check line, and the drawing's own
        for reader in (read.mupdf_lines, read.content_lines):
            near = min(abs(read.length(x) - size) for x in reader(data, 0))
            assert near < 0.05 * size / 1000


def test_squares_on_the_first_page_are_100_mm_and_4_in(tiled):
    for reader in (read.mupdf_lines, read.content_lines):
        found = [read.length(x) for x in reader(tiled, 0)]
        for side in (100.0, 4 * 25.4):
            assert sum(abs(x - side) < 0.01 for x in found) >= 4


@poppler
def test_curves_are_true(facts):
    bend = Cubic(P(0, 0), P(50, 120), P(130, -60), P(180, 40))
    sheet = Sheet("Bend", (Group.of("Bend", [Stroke((bend,), "cutting")]),))
    data = write(
        tiled_document(Blocks((tile(sheet, A4, TileOptions("landscape")),)), facts)
    )
    with pymupdf.open(stream=data) as document:
        curves = [
            [(p.x * read.MM, p.y * read.MM) for p in item[1:]]
            for drawing in document[1].get_drawings()
            for item in drawing["items"]
            if item[0] == "c"
        ]
    (found,) = curves
    (x, y) = found[0]
    ours = [bend.start, bend.control1, bend.control2, bend.end]
    for (a, b), p in zip(found, ours, strict=True):
        # MuPDF counts y downwards.
        assert a - x == pytest.approx(p.x, abs=0.002)
        assert y - b == pytest.approx(p.y, abs=0.002)


# The stitch test: pages by PDFium, cut on the frame, laid together, against one page.
@pytest.mark.parametrize(
    ("key", "overlap", "per_mm"),
    [("a4", 10, 5), ("letter", 0, 10)],
)
def test_sheets_laid_together_make_the_drawing(skirt, facts, key, overlap, per_mm):
    slants = [
        Stroke(line(P(k * 20, 0), P(800 - k * 20, 620)), "stitching", dash=())
        for k in range(0, 40, 4)
    ]
    sheet = Sheet("Skirt", (*skirt.groups, Group.of("Slants", slants)))
    options = TileOptions("portrait", overlap=overlap, pack=False)
    tiling = tile(sheet, PAPER[key], options)
    document = tiled_document(Blocks((tiling,)), facts)
    bare = [replace(page, marks=(), stencils=()) for page in document.pages[1:]]
    pages = write(replace(document, pages=tuple(bare)))

    low = tiling.tiles[-tiling.columns].window
    top = tiling.tiles[tiling.columns - 1].window
    size = (top.right - low.left, top.top - low.bottom)
    whole = Page(
        "whole",
        *size,
        view=View(Box(0, 0, *size), Point(-low.left, -low.bottom)),
    )
    truth = read.dark(read.raster(write(replace(document, pages=(whole,))), 0, per_mm))
    stitched = np.zeros_like(truth)
    wide, high = (round(side * per_mm) for side in tiling.window)
    edge = round(tiling.margin[0] * per_mm)
    for number, t in enumerate(tiling.printed):
        picture = read.dark(read.raster(pages, number, per_mm))
        cut = picture[edge : edge + high, edge : edge + wide]
        left = round((t.window.left - low.left) * per_mm)
        down = round((top.top - t.window.top) * per_mm)
        stitched[down : down + high, left : left + wide] |= cut
    assert truth.sum() > 10_000
    # A pixel more than one away is missing or extra. At the very end of a dash the
    # raster itself may round two ways; 26 were seen in a like case.
    assert (truth & ~read.grown(stitched)).sum() <= 5
    assert (stitched & ~read.grown(truth)).sum() <= 5
    # Had a sheet been half a millimetre out, this would have seen it.
    astray = np.roll(stitched, round(per_mm / 2) + 1, axis=1)
    assert (truth & ~read.grown(astray)).sum() > 1000


def _crosses(data, page, window):
    """Middles of the joining crosses on a page, in the drawing, by PyMuPDF."""
    flat, upright = [], []
    for (a, b), (c, d) in read.mupdf_lines(data, page):
        if abs(read.length(((a, b), (c, d))) - 8) < 0.001:
            (flat if abs(b - d) < 1e-3 else upright).append(((a + c) / 2, (b + d) / 2))
    return [
        (x, y)
        for x, y in flat
        if any(np.hypot(x - u, y - v) < 0.01 for u, v in upright)
    ]


@pytest.mark.parametrize(("key", "overlap"), [("a4", 0), ("a4", 10), ("letter", 15)])
def test_crosses_coincide(skirt, facts, key, overlap):
    tiling = tile(skirt, PAPER[key], TileOptions(overlap=overlap))
    data = write(tiled_document(Blocks((tiling,)), facts))
    middles = {}
    for page, t in enumerate(tiling.printed, 1):
        shift = (t.window.left - tiling.margin[0], t.window.bottom - tiling.margin[1])
        middles[t.row, t.column] = [
            (x + shift[0], y + shift[1]) for x, y in _crosses(data, page, t.window)
        ]
    pairs = 0
    for (row, column), mine in middles.items():
        for near in ((row, column + 1), (row + 1, column)):
            if near not in middles:
                continue
            shared = [
                m
                for m in mine
                if any(np.hypot(*np.subtract(m, o)) < 0.01 for o in middles[near])
            ]
            # Two corners and the middle of the side.
            assert len(shared) == 3
            pairs += 1
    assert pairs > 6


def test_no_font_is_left_out(tiled):
    names = set()
    with pikepdf.open(io.BytesIO(tiled)) as pdf:
        for thing in pdf.objects:
            if isinstance(thing, pikepdf.Dictionary) and thing.get("/Type") == "/Font":
                assert "/FontFile2" in thing.FontDescriptor
                names.add(str(thing.BaseFont).split("+")[1])
    assert names == {"NotoSans-Regular", "NotoSans-Bold"}


@poppler
def test_pdffonts_finds_every_font_embedded(tiled, tmp_path):
    path = tmp_path / "tiled.pdf"
    path.write_bytes(tiled)
    told = subprocess.run(
        ["pdffonts", str(path)], capture_output=True, text=True, check=True
    )
    rows = told.stdout.splitlines()[2:]
    assert len(rows) >= 2
    assert all(row.split()[-5] == "yes" for row in rows)


def test_print_scaling_is_none_by_pdfium(tiled):
    document = pypdfium2.PdfDocument(tiled)
    # FPDF_VIEWERREF_GetPrintScaling: 0 is none, 1 the application's default.
    assert not pdfium.FPDF_VIEWERREF_GetPrintScaling(document.raw)
    document.close()


def test_page_boxes_and_no_user_unit(tiled, tiling):
    with pikepdf.open(io.BytesIO(tiled)) as pdf:
        assert "/UserUnit" not in pdf.pages[0]
        cover, *pages = pdf.pages
        assert [float(x) * read.MM for x in cover.MediaBox] == pytest.approx(
            [0, 0, 210, 297], abs=1e-3
        )
        size = sorted(float(x) * read.MM for x in pages[0].MediaBox)[2:]
        assert size == pytest.approx([210, 297], abs=1e-3)
        trim = [float(x) * read.MM for x in pages[0].TrimBox]
        assert trim[2] - trim[0] == pytest.approx(tiling.window[0], abs=1e-3)
        assert trim[3] - trim[1] == pytest.approx(tiling.window[1], abs=1e-3)


def test_bookmarks_metadata_and_language(tiled, tiling, facts):
    with pikepdf.open(io.BytesIO(tiled)) as pdf:
        with pdf.open_outline() as outline:
            names = [item.title for item in outline.root]
        assert names[1:] == [t.name for t in tiling.printed]
        assert facts.client in str(pdf.docinfo["/Title"])
        assert str(pdf.docinfo["/Author"]) == facts.client
        assert str(pdf.Root.Lang) == "en-GB"
        with pdf.open_metadata() as metadata:
            assert facts.client in metadata["dc:title"]
    assert b"anonymous" not in tiled
    assert b"unspecified" not in tiled


def test_the_same_sheet_gives_the_same_bytes(tiling, facts, tiled):
    assert write(tiled_document(Blocks((tiling,)), facts)) == tiled


@pytest.mark.parametrize("seed", ["1", "2"])
def test_another_process_gives_the_same_bytes(seed, facts, tiled):
    script = (
        "import pickle, skirt_sheet, sys\n"
        "from skirtwright.export.print_media import paper_named\n"
        "from skirtwright.export.pdf import write\n"
        "from skirtwright.export.tiled import tiled_document\n"
        "from skirtwright.export.tiles import Blocks, tile\n"
        "tiling = tile(skirt_sheet.skirt(), paper_named('a4'))\n"
        "made = tiled_document(Blocks((tiling,)), pickle.load(sys.stdin.buffer))\n"
        "sys.stdout.buffer.write(write(made))"
    )
    import pickle

    made = subprocess.run(
        [sys.executable, "-c", script],
        input=pickle.dumps(facts),
        capture_output=True,
        check=True,
        env={
            **os.environ,
            "PYTHONHASHSEED": seed,
            "PYTHONPATH": os.pathsep.join(sys.path),
        },
    )
    assert made.stdout == tiled


def _turned_off(data: bytes, layer_name: str) -> bytes:
    with pikepdf.open(io.BytesIO(data)) as pdf:
        groups = pdf.Root.OCProperties.OCGs
        (one,) = [group for group in groups if str(group.Name) == layer_name]
        pdf.Root.OCProperties.D.OFF = pikepdf.Array([one])
        pdf.Root.OCProperties.D.ON = pikepdf.Array(
            [group for group in groups if str(group.Name) != layer_name]
        )
        out = io.BytesIO()
        pdf.save(out)
    return out.getvalue()


@poppler
@pytest.mark.parametrize(
    "reader", [read.poppler_raster, read.mupdf_raster, read.raster]
)
def test_a_layer_can_be_turned_off(skirt, facts, reader):
    """Turned off, a page looks as if the cutting lines had not been drawn."""
    tiling = tile(skirt, A4, TileOptions(pack=False))
    document = tiled_document(Blocks((tiling,)), facts)
    data = write(document)
    drawing = with_layers(document.drawing, [x for x in LAYERS if x != "cutting"])
    wanted = write(replace(document, drawing=drawing))
    hidden = _turned_off(data, "Cutting line")
    changed = 0
    for page in range(1, tiling.sheets + 1):
        seen = read.dark(reader(data, page, 2))
        without = read.dark(reader(hidden, page, 2))
        changed += (seen != without).sum()
        assert (without == read.dark(reader(wanted, page, 2))).all()
    assert changed > 1000


def test_layers_are_listed_without_usage(tiled):
    with pikepdf.open(io.BytesIO(tiled)) as pdf:
        groups = list(pdf.Root.OCProperties.OCGs)
        assert all("/Usage" not in group for group in groups)
        names = {str(group.Name) for group in groups}
    with pymupdf.open(stream=tiled) as document:
        listed = {row["text"] for row in document.layer_ui_configs()}
    assert listed == names
    assert {"Cutting line", "Stitching line", "Labels"} <= names


def test_flat_has_no_layers_and_looks_alike(tiling, facts, tiled):
    flat = write(tiled_document(Blocks((tiling,)), facts, layered=False))
    with pikepdf.open(io.BytesIO(flat)) as pdf:
        assert "/OCProperties" not in pdf.Root
    for page in (0, 1):
        assert (read.raster(flat, page, 2) == read.raster(tiled, page, 2)).all()


def test_words_can_be_found_in_the_page(tiled, tiling, facts):
    with pymupdf.open(stream=tiled) as document:
        first = document[0].get_text()
        assert facts.client in first
        assert "Print at 100 %" in first
        for name, length in facts.finished:
            assert name in first
            assert length in first
        for page, t in zip(list(document)[1:], tiling.printed, strict=True):
            words = page.get_text()
            assert t.name in words
            assert facts.client in words
            assert "full size" in words
            assert "lengths in cm" in words
            for down, over in ((0, 1), (1, 0), (0, -1), (-1, 0)):
                other = tiling.tile_at(t.row + down, t.column + over)
                if other and not other.blank:
                    assert f"joins {other.name}" in words


def test_every_script_comes_back_out():
    lines = [
        "Ọlá Ńkẹ́",
        "Nguyễn Thị Hằng",
        "Łódź Şule Çiğdem",
        "Ξένη Παπά",
        "Юлія",
        "⅜ ½ ″",
    ]
    marks = [Text(x, P(0, -9 * n), 4) for n, x in enumerate(lines)]
    sheet = Sheet("Names", (Group.of("Names", marks),))
    data = write(tiled_document(Blocks((tile(sheet, A4),)), CoverFacts()))
    with pymupdf.open(stream=data) as document:
        words = document[1].get_text()
    # The second name holds an accent that has no letter of its own: it is set by the
    # font's rules, and may be read back in another order.
    for text in ["Ọlá", *lines[1:]]:
        assert text in words


def test_correction_puts_a_printer_right(skirt, facts):
    # A printer that prints 1.5 % small across and 0.8 % large along.
    wrong = (0.985, 1.008)
    right = Correction(100 / 98.5, 100 / 100.8)
    for way in ("portrait", "landscape"):
        tiling = tile(skirt, A4, TileOptions(way, correction=right, pack=False))
        data = write(tiled_document(Blocks((tiling,)), facts, printer="upstairs"))
        squares = []
        for (a, b), (c, d) in read.content_lines(data, 0):
            printed = ((a * wrong[0], b * wrong[1]), (c * wrong[0], d * wrong[1]))
            squares.append(read.length(printed))
        assert sum(abs(x - 100) < 0.005 for x in squares) >= 4
        # Pages on their side go through the printer turned.
        turned = wrong[::-1] if way == "landscape" else wrong
        lines = [
            ((a * turned[0], b * turned[1]), (c * turned[0], d * turned[1]))
            for (a, b), (c, d) in read.content_lines(data, 1)
        ]
        for p, q in _edges(skirt):
            assert min(abs(read.length(x) - p.to(q)) for x in lines) < 0.05
        with pymupdf.open(stream=data) as document:
            for page in document:
                words = " ".join(page.get_text().split())
                assert "101.5 % across and 99.2 % along" in words
                assert "upstairs" in words


# ISO 216: A4 fitted to Letter prints at 0.9407, and a 4 in square reads 3.76
# (ISO 216 sizes, plain geometry).
def test_a4_fitted_to_letter_shows_in_the_square(tiled):
    fit = min(LETTER.width / A4.width, LETTER.height / A4.height)
    assert fit == pytest.approx(0.9407, abs=0.001)
    found = [read.length(x) * fit / 25.4 for x in read.mupdf_lines(tiled, 0)]
    assert sum(abs(x - 3.76) < 0.005 for x in found) >= 4


@pytest.mark.parametrize("scale", [0.5, 0.25, 0.2])
def test_part_scale_prints(skirt, facts, scale):
    small = drawn_at(skirt, scale)
    tiling = tile(small, A4, TileOptions(pack=False))
    data = write(tiled_document(Blocks((tiling,)), facts))
    found = [read.length(x) for x in read.mupdf_lines(data, 1)]
    for p, q in _edges(skirt):
        assert min(abs(x - p.to(q) * scale) for x in found) < 0.005
    squares = [read.length(x) for x in read.mupdf_lines(data, 0)]
    assert sum(abs(x - 100) < 0.01 for x in squares) >= 4
    with pymupdf.open(stream=data) as document:
        for page in document:
            assert f"drawn at 1 : {round(1 / scale)}" in page.get_text()


def test_cutting_alone(skirt):
    cut = with_layers(skirt, ["cutting"])
    assert {m.layer for m in cut.marks} == {"cutting"}


def test_long_lists_go_on_to_another_page(skirt, facts):
    many = tuple(
        (n + 1, f"Piece number {n}", "main cloth: cut 1 pair") for n in range(200)
    )
    tiling = tile(skirt, A4)
    data = write(tiled_document(Blocks((tiling,)), replace(facts, cut_list=many)))
    with pymupdf.open(stream=data) as document:
        assert len(document) > tiling.sheets + 1
        words = " ".join(page.get_text() for page in document)
        for _, name, _ in many:
            assert name in words


@pytest.mark.parametrize("key", ["a4", "letter", "a3"])
@pytest.mark.parametrize("margin", [None, 5.0, 40.0])
def test_squares_and_map_never_meet(skirt, facts, key, margin):
    from skirtwright.export.cover import cover_pages
    from skirtwright.words import Manner

    tiling = tile(skirt, paper_named(key), TileOptions(margin=margin))
    covers = cover_pages(Blocks((tiling,)), facts, Manner())
    squares, others = [], []
    for number, page in enumerate(covers):
        for mark in page.marks:
            points = mark.points()
            xs, ys = [p.x for p in points], [p.y for p in points]
            box = Box(min(xs), min(ys), max(xs), max(ys))
            edge = margin if margin is not None else tiling.paper.margin
            assert box.left > edge - 0.01
            assert box.right < page.width - edge + 1.0
            assert box.bottom > edge - 2
            if isinstance(mark, Stroke) and mark.closed and mark.layer == "test":
                squares.append((number, box))
            elif mark.layer != "test":
                others.append((number, mark.layer, box))
    assert len(squares) == 2
    assert not (squares[0][0] == squares[1][0] and squares[0][1].meets(squares[1][1]))
    # Key and drawings stand within a square; the map, on the layer of the sheets,
    # beside it.
    for number, layer, box in others:
        for page, square in squares:
            if number == page and box.meets(square):
                assert layer != "frame"
                assert all(square.holds(corner) for corner in box.corners)
