"""Sheets cut into pages: what lies where, and how many."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from skirt_sheet import P, rectangle

from skirtwright.export.correction import Correction
from skirtwright.export.print_media import Paper, paper_named, papers
from skirtwright.export.sheet import Group, Label, Sheet, Stroke, line
from skirtwright.export.tiles import TileOptions, moved_to_page, tile, tile_name
from skirtwright.problems import SkirtwrightError

A4 = paper_named("a4")


def test_papers_have_their_published_sizes():
    # ISO 216; the US sizes are 8 1/2 x 11, 8 1/2 x 14 and 11 x 17 in.
    inch = 25.4
    sizes = {
        "a4": (210, 297),
        "a3": (297, 420),
        "letter": (8.5 * inch, 11 * inch),
        "legal": (8.5 * inch, 14 * inch),
        "tabloid": (11 * inch, 17 * inch),
    }
    assert set(papers()) == set(sizes)
    for key, paper in papers().items():
        assert (paper.width, paper.height) == pytest.approx(sizes[key], abs=1e-9)


# Windows of A4 with 10 mm margins are 190 x 277; worked by hand.
@pytest.mark.parametrize(
    ("size", "overlap", "landscape", "grid"),
    [
        ((190, 277), 0, False, (1, 1)),
        ((190.01, 277), 0, False, (2, 1)),
        ((380, 554), 0, False, (2, 2)),
        ((190, 277), 10, False, (1, 1)),
        ((370, 544), 10, False, (2, 2)),
        ((370.01, 544), 10, False, (3, 2)),
        ((750, 1100), 0, False, (4, 4)),  # plain geometry
        ((750, 1100), 10, False, (5, 5)),  # 740/180 = 4.1, 1090/267 = 4.1
        ((750, 1100), 0, True, (3, 6)),  # plain geometry
        ((750, 1100), 10, True, (3, 7)),
    ],
)
def test_grid_of_a_rectangle(size, overlap, landscape, grid):
    way = "landscape" if landscape else "portrait"
    options = TileOptions(way, overlap=overlap, pack=False)
    tiling = tile(rectangle(*size), A4, options)
    assert (tiling.columns, tiling.rows) == grid
    # A solid piece leaves no window blank, not even one wholly inside it.
    assert tiling.sheets == grid[0] * grid[1]


def test_auto_takes_the_orientation_with_fewer_sheets():
    for size in ((270, 180), (180, 270), (750, 1100), (900, 500)):
        both = [
            tile(rectangle(*size), A4, TileOptions(way, pack=False))
            for way in ("portrait", "landscape")
        ]
        auto = tile(rectangle(*size), A4, TileOptions(pack=False))
        assert auto.sheets == min(tiling.sheets for tiling in both)


def test_blank_windows_keep_their_names():
    apart = Sheet(
        "Two",
        tuple(
            rectangle(150, 150).groups[0].moved(motion)
            for motion in (_shift(0, 0), _shift(400, 560))
        ),
    )
    tiling = tile(apart, A4, TileOptions("portrait", overlap=0, pack=False))
    assert [t.name for t in tiling.tiles] == [
        f"{column}{row}" for row in "ABC" for column in (1, 2, 3)
    ]
    assert [t.name for t in tiling.printed] == ["3A", "1C"]


def _shift(x, y):
    from skirtwright.geometry import Motion

    return Motion(e=x, f=y)


def test_tile_names():
    assert tile_name(0, 0) == "1A"
    assert tile_name(25, 9) == "10Z"
    assert tile_name(26, 0) == "1AA"
    assert tile_name(27, 1) == "2AB"


def _drawn(sheet):
    """Every line, and all that lies inside a piece, as shapely sees it."""
    shapes = []
    for mark in sheet.marks:
        points = [(p.x, p.y) for p in mark.points()]
        shapes.append(shapely.LineString(points))
        if isinstance(mark, Stroke) and mark.closed:
            shapes.append(shapely.Polygon(points))
    return shapely.union_all(shapes)


def _box(window, grown):
    return shapely.box(
        window.left - grown,
        window.bottom - grown,
        window.right + grown,
        window.top + grown,
    )


@pytest.mark.parametrize("key", list(papers()))
@pytest.mark.parametrize("overlap", [0, 10, 15])
@pytest.mark.parametrize("pack", [False, True])
def test_all_is_shown_and_no_sheet_is_needless(skirt, key, overlap, pack):
    tiling = tile(skirt, paper_named(key), TileOptions(overlap=overlap, pack=pack))
    drawn = _drawn(tiling.sheet)
    windows = [t.window for t in tiling.printed]
    assert drawn.difference(
        shapely.union_all([_box(w, 0.001) for w in windows])
    ).is_empty
    # What only touches an edge may be judged either way.
    for window in windows:
        others = [_box(w, -0.01) for w in windows if w is not window]
        own = drawn.intersection(_box(window, 0.0)).difference(
            shapely.union_all(others)
        )
        assert not own.is_empty


def _apart(*boxes):
    """Plain pieces by left, foot, width and height."""
    groups = tuple(
        rectangle(width, height).groups[0].moved(_shift(left, foot))
        for left, foot, width, height in boxes
    )
    return Sheet("Apart", groups)


def test_what_a_neighbour_shares_needs_no_sheet_of_its_own():
    # Windows of 190 mm stand 180 apart. Over 370 mm the strip both columns show runs
    # from 180 to 190: the small piece, in a row of its own, wants one sheet, not two.
    laid = _apart((0, 0, 370, 20), (182, 400, 6, 20))
    tiling = tile(laid, A4, TileOptions("portrait", pack=False))
    assert tiling.sheets == 3


def test_the_grid_slides_to_save_a_sheet():
    # In the middle of its windows the wide piece would be cut in two.
    laid = _apart((0, 300, 50, 50), (60, 0, 180, 50))
    tiling = tile(laid, A4, TileOptions("portrait", overlap=0, pack=False))
    assert tiling.sheets == 2


@pytest.mark.parametrize("key", list(papers()))
@pytest.mark.parametrize("overlap", [0, 10])
def test_packing_saves_sheets_and_keeps_pieces_whole(skirt, key, overlap):
    paper = paper_named(key)
    plain = tile(skirt, paper, TileOptions(overlap=overlap, pack=False))
    packed = tile(skirt, paper, TileOptions(overlap=overlap))
    assert packed.sheets <= plain.sheets
    bodies = [
        shapely.union_all(
            [
                shapely.Polygon([(p.x, p.y) for p in m.points()])
                for m in group.marks
                if isinstance(m, Stroke) and m.closed
            ]
        )
        for group in packed.sheet.groups
    ]
    for n, one in enumerate(bodies):
        for other in bodies[n + 1 :]:
            assert one.distance(other) > 0
    for before, after in zip(skirt.groups, packed.sheet.groups, strict=True):
        assert after.name == before.name
        for a, b in zip(before.marks, after.marks, strict=True):
            if isinstance(a, Stroke):
                was = sum(s.length for s in a.path)
                now = sum(s.length for s in b.path)
                assert now == pytest.approx(was, abs=1e-6)


def test_packing_saves_paper_on_the_made_up_skirt(skirt):
    plain = tile(skirt, A4, TileOptions(pack=False))
    assert tile(skirt, A4).sheets < plain.sheets


def test_pieces_with_other_words_lie_the_same_each_with_its_own(skirt):
    """What was counted is kept, and words move with their piece."""

    of_a_line = Label((("",),), 4.0, line(P(0, 0), P(10, 20)))

    def with_words(words):
        label = replace(of_a_line, versions=((words,),))
        groups = (Group.of("A piece", g.marks, labels=[label]) for g in skirt.groups)
        return replace(skirt, title=words, groups=tuple(groups))

    first, second = (tile(with_words(words), A4) for words in ("Front", "Back"))
    assert first.tiles == second.tiles
    assert (first.sheet.title, second.sheet.title) == ("Front", "Back")
    for before, group in zip(skirt.groups, second.sheet.groups, strict=True):
        assert before.moved(group.motion).marks == group.marks
        (label,) = group.labels
        assert label.versions == (("Back",),)
        assert label.of == of_a_line.moved(group.motion).of


lengths = st.floats(20, 1500, allow_nan=False)
some_paper = st.builds(
    lambda w, h, m: Paper("own", "own", w, h, m),
    st.floats(150, 450),
    st.floats(150, 450),
    st.floats(0, 20),
)
factors = st.floats(0.9, 1.1)


@given(
    paper=some_paper,
    overlap=st.sampled_from([0.0, 5.0, 10.0, 15.0]),
    size=st.tuples(lengths, lengths),
    right=st.builds(Correction, factors, factors),
    way=st.sampled_from(["auto", "portrait", "landscape"]),
    share=st.tuples(st.floats(0, 1), st.floats(0, 1)),
)
def test_every_point_of_the_drawing_is_on_some_page(
    paper, overlap, size, right, way, share
):
    slanted = Stroke(line(P(0, 0), P(*size)), "inside")
    sheet = Sheet("Piece", (Group.of("Piece", [slanted]),))
    options = TileOptions(way, overlap=overlap, correction=right, pack=False)
    tiling = tile(sheet, paper, options)

    # The least grid that covers the drawing, or one window more where it has slid.
    for extent, count, side in (
        (size[0], tiling.columns, tiling.window[0]),
        (size[1], tiling.rows, tiling.window[1]),
    ):
        step = side - overlap
        assert count * step + overlap >= extent - 1e-5
        assert count <= 2 or (count - 2) * step + overlap < extent

    # A point of the line is inside the window of a printed page, and comes to lie
    # on the paper inside the margins.
    spot = P(0, 0).between(P(*size), share[0])
    on = [
        t
        for t in tiling.printed
        if t.window.left - 1e-6 <= spot.x <= t.window.right + 1e-6
        and t.window.bottom - 1e-6 <= spot.y <= t.window.top + 1e-6
    ]
    assert on
    for t in on:
        there = moved_to_page(tiling, t)(spot)
        assert tiling.margin[0] - 1e-6 <= there.x
        assert there.x <= tiling.page[0] - tiling.margin[0] + 1e-6
        assert tiling.margin[1] - 1e-6 <= there.y
        assert there.y <= tiling.page[1] - tiling.margin[1] + 1e-6
    # With the correction undone the page is the paper itself.
    factor = (right.across, right.along)
    if tiling.landscape:
        factor = factor[::-1]
    sides = sorted(p * f for p, f in zip(tiling.page, factor, strict=True))
    assert sides == pytest.approx(sorted((paper.width, paper.height)), abs=1e-6)


def _code(call) -> str:
    with pytest.raises(SkirtwrightError) as caught:
        call()
    return caught.value.problem.code


@pytest.mark.parametrize(
    ("options", "code"),
    [
        (TileOptions(margin=95.0), "print.no_window"),
        (TileOptions(margin=70.0, overlap=30.0), "print.no_window"),
        (TileOptions(margin=-1.0), "print.margin_size"),
        (TileOptions(margin=math.nan), "print.margin_size"),
        (TileOptions(margin=math.inf), "print.margin_size"),
        (TileOptions(overlap=-1.0), "print.overlap_size"),
        (TileOptions(overlap=51.0), "print.overlap_size"),
        (TileOptions(overlap=math.nan), "print.overlap_size"),
    ],
)
def test_bad_options_are_refused(skirt, options, code):
    assert _code(lambda: tile(skirt, A4, options)) == code


def test_what_would_do_for_the_margin_does(skirt):
    with pytest.raises(SkirtwrightError) as caught:
        tile(skirt, A4, TileOptions(margin=95.0))
    most = caught.value.problem.values["most"]
    assert tile(skirt, A4, TileOptions(margin=most)).sheets > 0


def test_nothing_and_too_much_are_refused():
    assert _code(lambda: tile(Sheet("None", ()), A4)) == "print.nothing"
    huge = rectangle(20_000, 20_000)
    assert _code(lambda: tile(huge, A4)) == "print.too_many_sheets"
