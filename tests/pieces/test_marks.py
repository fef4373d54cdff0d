"""What is marked on a piece besides its seams, and the words on it."""

from __future__ import annotations

from itertools import pairwise

import pytest
from outlines import polygon, skirt_front
from picture_skirts import BODY, skirt

from skirtwright.geometry import Point, straight
from skirtwright.pieces.drawn_things import DrawnLine, DrawnWords
from skirtwright.pieces.marks.notches import CLEAR
from skirtwright.pieces.piece_drawing import drawn
from skirtwright.pieces.piece_making import make_piece
from skirtwright.pieces.spec import AllowanceRun, NotchSpec, PieceSpec
from skirtwright.pieces.wording.labels import one_way_up
from skirtwright.pieces.wording.notch_words import notch_legend
from skirtwright.words import Manner


def even(**widths):
    return {name: (AllowanceRun(None, width),) for name, width in widths.items()}


def texts(piece):
    found = [t for t in drawn(piece, Manner()) if isinstance(t, DrawnWords)]
    return {text.words: text for text in found}


def test_lengthen_lines_lie_15_cm_below_the_hip_line():
    """The hip line of the front lies at -200, its hem far below."""
    spec = PieceSpec(
        "front", "Front", "front", inside=("hip",), allowances=even(side=15)
    )
    upper, lower = make_piece(skirt_front(), spec).lengthen
    assert upper.start.y == upper.end.y
    assert (upper.start.y + lower.start.y) / 2 == pytest.approx(-200 - 150)
    assert upper.start.y - lower.start.y == pytest.approx(6)
    # They run right across, from cutting line to cutting line.
    assert upper.start.x == pytest.approx(0, abs=1e-6)
    side = skirt_front().edge("side").chain
    assert side.nearest(upper.end)[1] == pytest.approx(15, abs=0.03)


def test_halfway_to_a_knee_line_or_hem_that_is_near():
    panel = skirt_front().with_mark(
        "knee", straight(Point(0, -420), Point(226, -420)), "knee"
    )
    spec = PieceSpec("front", "Front", "front", inside=("hip", "knee"))
    upper, lower = make_piece(panel, spec).lengthen
    assert (upper.start.y + lower.start.y) / 2 == pytest.approx(-310)


@pytest.mark.parametrize("inside", [(), ("knee",)])
def test_no_lengthening_without_a_hip_line(inside):
    panel = skirt_front()
    assert make_piece(panel, PieceSpec("f", "F", "f", inside=inside)).lengthen is None
    low = polygon((0, 0), (200, 0), (200, 150), (0, 150)).with_mark(
        "hip", straight(Point(0, 140), Point(200, 140)), "hip"
    )
    assert make_piece(low, PieceSpec("f", "F", "f", inside=("hip",))).lengthen is None


@pytest.mark.parametrize(("one", "two"), [(15, 15), (20, 10), (10, 25)])
def test_a_clip_runs_from_where_the_allowances_meet_to_2_short(one, two):
    panel = polygon((0, 0), (200, 0), (200, 60), (100, 60), (100, 160), (0, 160))
    spec = PieceSpec("p", "P", "p", allowances=even(c=one, d=two))
    (clip,) = make_piece(panel, spec).clips
    # The inner corner lies at 100, 60: c's line is y = 60 + one, d's x = 100 + two.
    assert clip.start.is_at(Point(100 + two, 60 + one))
    assert clip.end.to(Point(100, 60)) == pytest.approx(2)


def test_no_clip_at_darts_or_without_allowance():
    spec = PieceSpec("f", "F", "f", allowances=even(waist=12, side=15, hem=30))
    assert make_piece(skirt_front(), spec).clips == ()
    panel = polygon((0, 0), (200, 0), (200, 60), (100, 60), (100, 160), (0, 160))
    assert (
        make_piece(panel, PieceSpec("p", "P", "p", allowances=even(c=15))).clips == ()
    )


@pytest.fixture(scope="module")
def mermaid():
    return skirt("mermaid", BODY)


def piece_named(cut, name):
    return next(piece for piece in cut.pieces if piece.name == name)


def test_lines_and_folds_are_named(mermaid):
    _, cut = mermaid
    words = texts(piece_named(cut, "front"))
    assert set(words) >= {
        "Hip line", "Break line", "Place to fold", "Lengthen or shorten here",
    }  # fmt: skip
    hip = next(s for n, s in piece_named(cut, "front").inside if n == "hip")
    assert words["Hip line"].of == hip
    upright = words["Place to fold"].of
    assert upright.start.x == pytest.approx(upright.end.x)


def test_marks_of_a_band_are_called_after_what_they_face(mermaid):
    _, cut = mermaid
    band = piece_named(cut, "band")
    joins = [n for n in band.notches if n.edge == "joins"]
    said = [(n.word, n.of) for n in sorted(joins, key=lambda n: n.distance)]
    assert said == [
        ("centre back seam", ""),
        ("side seam", ""),
        ("mark.centre_of", "Front"),
        ("side seam", ""),
        ("centre back seam", ""),
    ]
    assert "Centre of Front" in texts(band)


def test_legend_is_of_the_piece_and_its_own_cloth(mermaid):
    draft, cut = mermaid
    titles = {seam.name: seam.title for seam in draft.seams}
    materials = {piece.name: piece.spec.material for piece in cut.pieces}
    seams = [walked.seam for walked in cut.seams]

    def legend(name):
        return notch_legend(piece_named(cut, name), seams, titles, materials)

    assert legend("front") == ("Notches:", "side seam 1", "waistband seam 1")
    assert "centre back seam 1 and 2" in legend("back")
    assert len({part.rstrip(" and0123456789") for part in legend("back")}) == len(
        legend("back")
    )
    assert legend("band_interfacing") == ()


def test_every_style_keeps_its_long_seams_marked_and_marks_clear(mermaid):
    """At least every 35 cm, 3 mm clear of the stitching."""
    _, cut = mermaid
    for piece in cut.pieces:
        for notch in piece.notches:
            assert notch.clear >= CLEAR - 1e-6
    for walked in cut.seams:
        run, *more = walked.seam.sides[0]
        if more or not run.forward:
            continue
        there = piece_named(cut, run.piece)
        stops = sorted(n.distance for n in there.notches if n.edge == run.edge)
        stops = [0.0, *stops, walked.lengths[0]]
        assert max(b - a for a, b in pairwise(stops)) <= 350.01


def test_pleats_have_their_lines_arrow_and_snips():
    _, cut = skirt("inverted-pleat", BODY)
    front = piece_named(cut, "front")
    kinds = [thing.kind for thing in drawn(front) if isinstance(thing, DrawnLine)]
    assert kinds.count("pleat") == 2
    (fold,) = [n for n in front.notches if n.dart == "pleat[1]"]
    line = front.panel.mark("pleat[1].fold").shape
    (snip,) = fold.snips
    assert abs(line.start_direction.cross(snip.start - line.start)) < 1e-6


def test_right_side_up_where_left_and_right_are_unlike():
    plain = polygon((0, 0), (200, 0), (200, 60), (0, 60))
    spec = PieceSpec("band", "Band", "band")
    assert not one_way_up(make_piece(plain, spec))
    marked = PieceSpec("band", "Band", "band", notches=(NotchSpec("a", 30),))
    assert one_way_up(make_piece(plain, marked))
    slant = polygon((0, 0), (200, 0), (150, 60), (0, 60))
    assert one_way_up(make_piece(slant, spec))
    pair = PieceSpec("band", "Band", "band", count=2, mirrored=True)
    assert not one_way_up(make_piece(slant, pair))
