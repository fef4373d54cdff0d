"""Rolls and projectors."""

from __future__ import annotations

import io
import math
from types import SimpleNamespace

import numpy as np
import paper_readers as read
import pikepdf
import pymupdf
import pytest
import shapely
from skirt_sheet import P, rectangle

from skirtwright import budget
from skirtwright.export import roll_packing
from skirtwright.export.full_size import MARGIN, OVERLAP, full_size, write_full_size
from skirtwright.export.packing import CLEAR, QUARTERS, shapes_of
from skirtwright.export.print_media import own_roll, roll_named, rolls
from skirtwright.export.projector import projected, write_projector
from skirtwright.export.roll_packing import _CELLS, _TRIES, _WORK, on_a_roll
from skirtwright.export.sheet import Group, Label, Sheet, Stroke, Text, line
from skirtwright.geometry import Motion
from skirtwright.lay.cells import Cells
from skirtwright.lay.placing import Floor, no_fit
from skirtwright.problems import Refused, SkirtwrightError
from skirtwright.words import in_one_sentence


@pytest.fixture(scope="session")
def long_sheet():
    """Long pieces, few for packing's sake: more than two pages of a narrow roll."""
    pieces = [rectangle(700, 2500).groups[0].moved(Motion(e=800 * n)) for n in range(4)]
    groups = [Group.of(f"Piece {n}", g.marks) for n, g in enumerate(pieces)]
    return Sheet("Long", tuple(groups))


def _pages(data):
    with pikepdf.open(io.BytesIO(data)) as pdf:
        assert all("/UserUnit" not in page for page in pdf.pages)
        return [[float(x) * read.MM for x in page.MediaBox][2:] for page in pdf.pages]


def test_rolls_have_their_sizes():
    # 36, 42 and 44 in at 25.4; ISO 216 A0 is 841 x 1189.
    widths = {key: roll.width for key, roll in rolls().items()}
    assert widths["36in"] == pytest.approx(36 * 25.4)
    assert widths["42in"] == pytest.approx(42 * 25.4)
    assert widths["44in"] == pytest.approx(44 * 25.4)
    assert widths["914mm"] == 914
    assert (roll_named("a0").width, roll_named("a0").longest_page) == (841, 1189)


@pytest.mark.usefixtures("packed_in_few_tries")
@pytest.mark.parametrize("key", list(rolls()))
def test_pieces_lie_on_the_roll_apart_from_each_other(skirt, facts, key):
    laid = full_size(skirt, roll_named(key), facts)
    for group in laid.sheet.groups:
        box = group.outline_box
        assert box.left >= MARGIN - 1e-6
        assert box.right <= laid.roll.width - MARGIN + 1e-6
        assert box.bottom >= MARGIN - 1e-6
    rooms = [
        shapely.union_all(
            [shapely.LineString([(p.x, p.y) for p in m.points()]) for m in group.marks]
        )
        for group in laid.sheet.groups
    ]
    for n, one in enumerate(rooms):
        for other in rooms[n + 1 :]:
            assert one.distance(other) > 0.5
    for before, after in zip(skirt.groups, laid.sheet.groups, strict=False):
        for a, b in zip(before.marks, after.marks, strict=True):
            if isinstance(a, Stroke):
                assert sum(s.length for s in b.path) == pytest.approx(
                    sum(s.length for s in a.path), abs=1e-6
                )


@pytest.mark.usefixtures("packed_in_few_tries")
def test_a_wider_roll_never_takes_more_paper(skirt, monkeypatch):
    # Plain geometry: what lies on a narrower roll lies on a wider one too. Whatever
    # sliding gains: here some lays are made out longer, and few are slid at all.
    measured, seen = roll_packing._length, []

    def longer(motions, outlines):
        length = measured(motions, outlines)
        seen.append(length * (1 + length * 7 % 1 / 10))
        return seen[-1]

    monkeypatch.setattr(roll_packing, "_length", longer)
    monkeypatch.setattr(roll_packing, "_SETTLES", 1.04)
    lengths = []
    for room in (600, 720, 840, 850, 860, 980):
        seen.clear()
        laid = on_a_roll(skirt, room, QUARTERS)
        if laid is not None:
            assert laid.box.width <= room + 1e-6
            lengths.append(min(seen))
    assert len(lengths) > 4
    assert lengths == sorted(lengths, reverse=True)


def test_pieces_that_fit_one_way_alone_are_laid_in_however_few_tries(monkeypatch):
    """A try may turn some across a roll that is too narrow for them."""
    monkeypatch.setattr(roll_packing, "_TRIES", range(1, 2))
    pieces = [rectangle(300, 700 + n).groups[0] for n in range(6)]
    laid = on_a_roll(Sheet("Many", tuple(pieces)), 400, QUARTERS)
    assert laid.box.width <= 400
    assert laid.box.height >= 6 * 700


@pytest.fixture
def slow_search(monkeypatch):
    """A machine on which each lay takes two minutes."""
    now = [0.0]
    laid = Floor.laid

    def slow(*args):
        now[0] += 120
        return laid(*args)

    monkeypatch.setattr(Floor, "laid", slow)
    monkeypatch.setattr(budget.time, "thread_time", lambda: now[0])
    return now


def test_time_to_lay_is_not_held_against_an_order(skirt, slow_search):
    with budget.bounded():
        assert on_a_roll(skirt, 600, QUARTERS) is not None
        budget.look_up()
    assert slow_search[0] > budget.MOST_SECONDS


@pytest.mark.usefixtures("slow_search")
def test_more_pieces_than_any_skirt_has_are_held_against_their_file():
    piece = rectangle(500, 2500).groups[0]
    many = Sheet("Many", tuple(Group.of(str(n), piece.marks) for n in range(60)))
    lay = budget.bounded()(on_a_roll)
    with pytest.raises(Refused) as caught:
        lay(many, 914, QUARTERS)
    assert caught.value.problem.code == "budget.too_long"


def test_fewer_lays_are_tried_of_more_pieces(skirt):
    """The work at a width stays about the same."""

    def tried(groups):
        shapes = [shapes_of(g.marks, _CELLS, QUARTERS) for g in groups]
        work, asked = Floor(shapes, _CELLS).work, []
        lay = SimpleNamespace(lying=())
        floor = SimpleNamespace(work=work, tried=lambda *_: asked.append(1) or lay)
        list(roll_packing._searched(floor, [900.0]))
        return len(asked) / len(roll_packing._SEEDS), work

    (few, _), (many, work) = tried(skirt.groups), tried(skirt.groups * 5)
    assert few == _TRIES[-1]
    assert few > many >= _TRIES[0]
    assert many * work <= _WORK


def test_where_two_shapes_would_overlap(skirt):
    """By looking at every cell of the one over every cell of the other."""
    cells = Cells(30.0, 60.0)
    shapes = [s for g in skirt.groups for s in shapes_of(g.marks, cells, QUARTERS)]
    for lying in shapes[::2]:
        for laid in shapes[1::2]:
            bits = 8 * -(-(lying.width + laid.width) // 8)
            region = no_fit(lying, laid, bits)
            high, back = len(laid.rows) - 1, laid.width - 1
            rows = len(lying.rows) + high
            assert not region >> rows * bits
            for row in range(rows):
                found = region >> row * bits
                for step in range(bits):
                    up, right = row - high, step - back
                    meets = any(
                        (over << back + right) & (lying.rows[n + up] << back)
                        for n, over in enumerate(laid.rows)
                        if 0 <= n + up < len(lying.rows)
                    )
                    assert bool(found >> step & 1) == meets


def test_a_piece_just_as_wide_as_the_roll_is_laid():
    piece = rectangle(700, 900)
    room = 700 + 2 * CLEAR
    laid = on_a_roll(piece, room, QUARTERS)
    assert laid is not None
    assert laid.box.width == pytest.approx(700)
    assert on_a_roll(piece, room - 0.5, QUARTERS) is None


def test_one_page_as_wide_as_the_roll(skirt, facts):
    laid = full_size(skirt, roll_named("36in"), facts)
    ((wide, high),) = _pages(write_full_size(laid, facts))
    assert wide == pytest.approx(914.4, abs=1e-3)
    assert high == pytest.approx(laid.length, abs=1e-3)


def test_long_drawings_go_by_pages(long_sheet, facts):
    laid = full_size(long_sheet, own_roll(800), facts)
    data = write_full_size(laid, facts)
    sizes = _pages(data)
    assert len(sizes) == len(laid.windows) > 2
    assert all(high <= 5000.001 for _, high in sizes)
    for one, other in zip(laid.windows, laid.windows[1:], strict=False):
        assert one.top - other.bottom == pytest.approx(OVERLAP)
    # Every edge is on one page or goes on from page to page.
    assert laid.windows[0].bottom <= laid.sheet.box.bottom
    assert laid.windows[-1].top >= laid.sheet.box.top
    with pymupdf.open(stream=data) as document:
        for number, page in enumerate(document, 1):
            assert f"{number} of {len(sizes)}" in page.get_text()
    # Crosses of neighbours are the same places in the drawing.
    for number in range(len(sizes) - 1):
        seen = []
        for page, window in list(enumerate(laid.windows))[number : number + 2]:
            middles = {
                (
                    round((a + c) / 2 + window.left - MARGIN, 2),
                    round((b + d) / 2 + window.bottom - MARGIN, 2),
                )
                for (a, b), (c, d) in read.mupdf_lines(data, page)
                if abs(read.length(((a, b), (c, d))) - 8) < 0.001
            }
            seen.append(middles)
        shared = sum(
            any(np.hypot(*np.subtract(p, q)) < 0.02 for q in seen[1]) for p in seen[0]
        )
        assert shared == 3


def test_a0_is_whole_sheets(long_sheet, facts):
    laid = full_size(long_sheet, roll_named("a0"), facts)
    for size in _pages(write_full_size(laid, facts)):
        assert size == pytest.approx([841, 1189], abs=1e-3)


def test_squares_and_words_are_on_the_roll(skirt, facts):
    data = write_full_size(full_size(skirt, own_roll(914), facts), facts)
    found = [read.length(x) for x in read.mupdf_lines(data, 0)]
    for side in (100.0, 101.6):
        assert sum(abs(x - side) < 0.01 for x in found) >= 4
    with pymupdf.open(stream=data) as document:
        words = document[0].get_text()
    for told in (facts.client, "full size", "lengths in cm", "Waist 74 cm"):
        assert told in words


@pytest.mark.parametrize("width", [249.0, 5001.0, math.nan, math.inf, -914.0])
def test_widths_no_roll_has(width):
    with pytest.raises(SkirtwrightError) as caught:
        own_roll(width)
    assert caught.value.problem.code == "print.roll_size"


def test_too_narrow_is_refused_and_what_would_do_does(facts):
    piece = rectangle(900, 950)
    with pytest.raises(SkirtwrightError) as caught:
        full_size(piece, roll_named("914mm"), facts)
    problem = caught.value.problem
    assert problem.code == "print.roll_too_narrow"
    assert "Piece" in in_one_sentence(problem)
    laid = full_size(piece, own_roll(problem.values["least"]), facts)
    box = laid.sheet.groups[0].outline_box
    assert sorted((box.width, box.height)) == pytest.approx([900, 950])


def test_projector_page(skirt, facts):
    groups = (
        Group.of(
            group.name,
            [mark for mark in group.marks if not isinstance(mark, Text)],
            labels=[Label(((group.name,),), 5.0)],
        )
        for group in skirt.groups
    )
    skirt = Sheet(skirt.title, tuple(groups))
    data = write_projector(skirt, facts)
    set_up, (wide, high) = _pages(data)
    assert set_up == pytest.approx((1000, 600), abs=0.01)
    assert wide / 10 == pytest.approx(round(wide / 10), abs=1e-3)
    assert high / 10 == pytest.approx(round(high / 10), abs=1e-3)
    drawn = projected(skirt, facts)
    for mark in drawn.marks:
        if isinstance(mark, Text):
            assert mark.height_mm >= 20
        for p in mark.points():
            assert -0.01 <= p.x <= wide + 0.01
            assert -0.01 <= p.y <= high + 0.01
    found = read.mupdf_lines(data, 1)
    sides = [read.length(x) for x in found]
    assert sum(abs(x - 100) < 0.01 for x in sides) >= 4
    # Lines of the grid lie 100 mm apart.
    ups = sorted(
        {
            round(a, 2)
            for (a, b), (c, d) in found
            if abs(a - c) < 0.01 and (min(b, d) < 0.1 or max(b, d) > high - 0.1)
        }
    )
    assert len(ups) >= 7
    assert np.allclose(np.diff(ups), 100, atol=0.02)


def test_projector_layers_and_dark_ground(skirt, facts):
    data = write_projector(skirt, facts, ground="dark")
    with pymupdf.open(stream=data) as document:
        listed = {row["text"] for row in document.layer_ui_configs()}
        assert facts.client in document[1].get_text()
    assert {"Grid", "Cutting line", "Stitching line", "Labels"} <= listed
    picture = read.raster(data, 1, 1)
    assert (picture == 0).mean() > 0.8
    light = read.raster(write_projector(skirt, facts), 1, 1)
    assert (light == 255).mean() > 0.8


def test_too_large_for_a_page_is_refused(facts):
    long = Sheet(
        "Long", (Group.of("Long", [Stroke(line(P(0, 0), P(5100, 0)), "grain")]),)
    )
    with pytest.raises(SkirtwrightError) as caught:
        write_projector(long, facts)
    assert caught.value.problem.code == "print.projector_too_large"
