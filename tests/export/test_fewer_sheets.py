"""Less paper for the same skirt: linings on the shell, rectangles told as sizes."""

from __future__ import annotations

from itertools import pairwise
from math import hypot

import pypdfium2
import pytest

from drafting import reported
from skirtwright.draft import styles
from skirtwright.export.given_as_sizes import rectangle_of, sentences_of
from skirtwright.export.pattern import Drawing, pattern_of
from skirtwright.export.print_job import PrintJob
from skirtwright.export.printing import (
    Printing,
    laid_of,
    pieces_printed,
)
from skirtwright.export.sheet import Stroke
from skirtwright.export.traced_twice import traced_twice
from skirtwright.geometry import Point
from skirtwright.geometry.ring import area_of_points
from skirtwright.words import Manner

BOTH = Printing(lining_on_shell=True, as_sizes=True)


def sheets(how):
    return PrintJob(reported("mermaid"), "", "", how, Manner()).blocks().sheets


def test_the_mermaid_takes_half_the_paper():
    plain, linings, sizes, both = (
        sheets(how)
        for how in (
            Printing(),
            Printing(lining_on_shell=True),
            Printing(as_sizes=True),
            BOTH,
        )
    )
    assert both <= linings < plain
    assert both <= sizes < plain
    assert both < 24 < plain


def gap(place, run):
    """From a place to a line of points, mm."""

    def to_side(a, b):
        along = b - a
        size = along.dot(along) or 1.0
        share = min(max((place - a).dot(along) / size, 0.0), 1.0)
        near = a + along * share
        return hypot(place.x - near.x, place.y - near.y)

    return min(to_side(a, b) for a, b in pairwise(run))


@pytest.mark.parametrize("style", ["mermaid", "straight"])
def test_every_line_of_the_lining_is_on_the_paper(style):
    report = reported(style)
    pieces = {piece.name: piece for piece in report.cut.shown}
    how = Drawing(lining_on_shell=True)
    groups = {g.piece: g for g in pattern_of(report, "", Manner(), how).groups}
    on = traced_twice(list(pieces.values()))
    assert {name for names in on.values() for name in (p.name for p in names)} == {
        "front_lining",
        "back_lining",
    }
    for shell, (lining,) in on.items():
        assert lining.name not in groups
        group = groups[shell]
        home = group.motion
        cuts = [
            m.points(0.2)
            for m in group.marks
            if isinstance(m, Stroke) and m.layer == "cutting"
        ]
        ring = [home(p) for p in (*lining.cut, lining.cut[0])]
        for a, b in [*pairwise(ring)][::3]:
            assert min(gap(a.between(b, 0.37), run) for run in cuts) < 0.3
        own = [m for m in group.marks if isinstance(m, Stroke) and m.dash == (9.0, 2.5)]
        assert own
        for line in own:
            assert all(gap(p, ring) < 0.3 for p in line.points(0.5)[::5])
        assert any(
            lining.spec.title in words for words in group.labels[0].versions[0][-2:]
        )


def test_a_lining_that_is_none_of_the_shell_is_drawn_by_itself():
    for style in ("half-circle-yoke", "flounce"):
        assert traced_twice(reported(style).cut.shown) == {}


def test_a_rectangle_is_told_as_it_is_cut():
    pieces = {piece.name: piece for piece in reported("mermaid").cut.shown}
    band = rectangle_of(pieces["band"])
    ring = pieces["band"].cut
    xs, ys = [p.x for p in ring], [p.y for p in ring]
    assert pieces["band"].grain_deg == pytest.approx(90)
    assert band.long == pytest.approx(max(ys) - min(ys))
    assert band.wide == pytest.approx(max(xs) - min(xs))
    snips = [s.start for n in pieces["band"].notches for s in n.snips]
    told = {
        Point(min(xs) if side == "left" else max(xs), min(ys) + at)
        for side, held in band.notches.items()
        for at, _ in held
    }
    assert len(told) == len(snips) == 5
    for snip in snips:
        assert min(snip.to(place) for place in told) < 0.01
    assert band.along == [pytest.approx(band.wide / 2)]
    (said,) = sentences_of([pieces["band"]], Manner())
    assert "along the grain" in said
    assert "centre back seam" in said
    assert "a line along it 4.2 cm from the left" in said


def test_only_rectangles_are_told():
    found = 0
    for name in styles.names()[::4]:
        for piece in reported(name).cut.shown:
            sizes = rectangle_of(piece)
            if sizes:
                found += 1
                area = area_of_points(piece.cut)
                assert sizes.long * sizes.wide == pytest.approx(area, rel=1e-3)
                assert not piece.darts
    assert found > 5
    front = reported("mermaid").cut.shown[0]
    assert rectangle_of(front) is None


def test_the_first_page_says_what_is_not_drawn():
    pdf = pypdfium2.PdfDocument(
        PrintJob(reported("mermaid"), "", "", BOTH, Manner()).pdf()
    )
    told = "".join(pdf[n].get_textpage().get_text_range() for n in range(2))
    told = " ".join(told.split())
    assert "Waistband, to be drawn on the cloth: 78.4 cm along the grain" in told
    assert "drawn on Front" in told


def test_such_a_print_holds_every_piece_and_is_no_ground_for_changed_sheets():
    report = reported("mermaid")
    blocks = PrintJob(report, "", "", BOTH, Manner()).blocks()
    names = [piece.name for piece in pieces_printed(report, BOTH, blocks)]
    assert names == [piece.name for piece in report.cut.shown]
    assert laid_of(blocks.tilings[0], BOTH) is None
