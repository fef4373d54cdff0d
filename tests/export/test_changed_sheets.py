"""Printing what changed: sheets not printed again show what they showed; 8 seconds."""

from __future__ import annotations

from dataclasses import replace

import pytest
import shapely

from drafting import OneWorktable, look_of
from skirtwright.draft import styles
from skirtwright.export import printing
from skirtwright.export.print_job import PrintJob
from skirtwright.export.sheet import Stroke, Text, box_of
from skirtwright.export.tiled import with_words
from skirtwright.export.tiles import Blocks
from skirtwright.geometry import Point
from skirtwright.geometry.area import shared_area
from skirtwright.job import edits, piece_edits
from skirtwright.job.job import new_job
from skirtwright.problems import SkirtwrightError
from skirtwright.words import Manner

HOW = printing.Printing()
SEEN, NEARER = 0.27, 0.23
"""As near as a line can be taken for the same, mm: half of the pen, and the
flattening more or less."""


class Printed:
    """A style printed on A4, and what is printed of it again."""

    def __init__(self, style):
        self.table = OneWorktable()
        self.job = new_job(styles.style(style))
        self.look = self.table.look(self.job)
        self.tiling = PrintJob(self.look.report, "", "2nd", HOW, Manner()).tiling()
        self.laid = printing.laid_of(self.tiling, HOW)
        self.drawn = {
            piece.name: length
            for piece, length in zip(
                self.look.shown,
                self.job.printed("2026-11-02", "sheets", self.look.shown)
                .prints[0]
                .drawn.values(),
                strict=True,
            )
        }

        self._known = {}

    def again(self, job, laid=None):
        """Of each change once, for it is looked at in several ways."""
        if laid is not None or job.model_dump_json() not in self._known:
            made = self._again(job, laid)
            if laid is not None:
                return made
            self._known[job.model_dump_json()] = made
        return self._known[job.model_dump_json()]

    def _again(self, job, laid):
        report = self.table.look(job).report
        before = printing.PrintBefore(
            self.look.report, laid or self.laid, self.drawn, "2nd"
        )
        tiling = PrintJob(report, "", "3rd", HOW, Manner(), before).tiling()
        return report, before, tiling


@pytest.fixture(scope="module")
def mermaid():
    return Printed("mermaid")


@pytest.fixture(scope="module")
def straight():
    return Printed("straight")


KINDS = ("cutting", "stitching", "notch", "fold", "drill", "inside")
OLD = 0.18
"""Weight of a line as it was, which nothing else is drawn with, mm."""


def lines_in(sheet, window, grown=0.0):
    """The lines within a window, by kind; those as they were left out."""
    low, _, high, _ = window.grown(grown).corners
    room = shapely.box(low.x, low.y, high.x, high.y)
    found = {kind: [] for kind in KINDS}
    for mark in sheet.marks:
        if isinstance(mark, Stroke) and mark.layer in found and mark.weight != OLD:
            found[mark.layer].append([(p.x, p.y) for p in mark.points()])
    return {
        kind: shapely.MultiLineString(lines).intersection(room)
        for kind, lines in found.items()
    }


def same(one, other, seen=SEEN):
    """Whether two sheets show the same lines."""
    return all(
        a[kind].difference(b[kind].buffer(seen)).length <= 0.3
        for a, b in ((one, other), (other, one))
        for kind in KINDS
    )


def words_in(sheet, window):
    """What is to be read in a window, and where, to a millimetre."""
    return sorted(
        (mark.text, round(mark.at.x), round(mark.at.y))
        for mark in sheet.marks
        if isinstance(mark, Text) and any(map(window.holds, mark.points()))
    )


CHANGES = [
    ("mermaid", "front spread", lambda j: edits.set_amount(j, "front_spread", "5").job),
    ("straight", "waist", lambda j: edits.set_measurement(j, "waist", "74").job),
    (
        "straight",
        "allowance",
        lambda j: piece_edits.set_allowance(j, "back", "hem", "5").job,
    ),
]


@pytest.mark.parametrize(("style", "what", "change"), CHANGES)
def test_sheets_that_stay_show_what_they_showed(request, style, what, change):
    printed = request.getfixturevalue(style)
    _, _, tiling = printed.again(change(printed.job))
    assert tiling.kept, what
    assert tiling.printed, what
    assert tiling.sheets < printed.tiling.sheets
    before = {tile.name: tile for tile in printed.tiling.printed}
    for tile in tiling.kept:
        # Under the same name, at the same place, with the same lines in it.
        was = before[tile.name].window
        assert was.corners[0].to(tile.window.corners[0]) < 0.01
        shown = [
            lines_in(each.sheet, tile.window, -1.0) for each in (printed.tiling, tiling)
        ]
        assert same(*shown), (what, tile.name)


@pytest.mark.parametrize(("style", "what", "change"), CHANGES)
def test_sheets_printed_again_show_a_difference(request, style, what, change):
    printed = request.getfixturevalue(style)
    _, _, tiling = printed.again(change(printed.job))
    before = {tile.name: tile for tile in printed.tiling.printed}
    alike = [
        tile.name
        for tile in tiling.printed
        if tile.name in before
        and words_in(printed.tiling.sheet, tile.window)
        == words_in(tiling.sheet, tile.window)
        and same(
            lines_in(printed.tiling.sheet, tile.window),
            lines_in(tiling.sheet, tile.window),
            NEARER,
        )
    ]
    assert alike == [], what


def test_every_line_is_on_a_sheet_that_stays_or_is_printed(mermaid):
    _, _, tiling = mermaid.again(CHANGES[0][2](mermaid.job))
    windows = [tile.window for tile in (*tiling.kept, *tiling.printed)]
    for mark in tiling.sheet.marks:
        if getattr(mark, "weight", None) == OLD:
            continue
        for place in mark.points():
            assert any(window.holds(place) for window in windows)


@pytest.mark.parametrize("style", ["mermaid", "straight"])
def test_nothing_is_printed_when_nothing_changed(request, style):
    printed = request.getfixturevalue(style)
    report, before, tiling = printed.again(printed.job)
    assert (tiling.sheets, len(tiling.kept)) == (0, printed.tiling.sheets)
    with pytest.raises(SkirtwrightError) as refused:
        PrintJob(report, "", "3rd", HOW, Manner(), before).pdf(tiling)
    assert refused.value.problem.code == "print.nothing_differs"


def test_where_a_line_was_is_dotted(straight):
    _, _, tiling = straight.again(CHANGES[1][2](straight.job))
    old = [m for m in tiling.sheet.marks if getattr(m, "weight", None) == OLD]
    assert old
    assert all(mark.dash == (0.3, 1.5) for mark in old)
    box = straight.tiling.sheet.box
    was = shapely.union_all([*lines_in(straight.tiling.sheet, box).values()])
    now = shapely.union_all([*lines_in(tiling.sheet, tiling.sheet.box).values()])
    lines = [[(p.x, p.y) for p in mark.points()] for mark in old]
    drawn = shapely.segmentize(shapely.MultiLineString(lines), 5)
    ends = shapely.points(shapely.get_coordinates(drawn))
    assert max(shapely.distance(ends, was)) < 0.3
    assert max(shapely.distance(ends, now)) > 3


def test_a_piece_without_room_is_laid_below_and_over_no_other(straight):
    longer = edits.set_amount(straight.job, "length", "75").job
    _, _, tiling = straight.again(longer)
    assert tiling.rows > straight.tiling.rows
    rings = [
        next(m for m in g.marks if m.layer == "cutting").points()
        for g in tiling.sheet.groups
    ]
    for number, ring in enumerate(rings):
        for other in rings[:number]:
            assert shared_area(ring, other) < 1.0
    for group in tiling.sheet.groups:
        corners = group.outline_box.corners
        windows = [t.window for t in tiling.tiles]
        assert all(any(w.grown(0.01).holds(c) for w in windows) for c in corners)


def test_new_pieces_are_printed_and_those_left_out_stay_out(straight):
    _, _, tiling = straight.again(straight.job)
    fewer = straight.laid.replace(pieces=straight.laid.pieces[:2])
    _, _, tiling = straight.again(straight.job, fewer)
    assert [g.piece for g in tiling.sheet.groups] == [
        spot.piece for spot in fewer.pieces
    ]
    unlined = edits.set_choice(straight.job, "lining", "unlined").job
    bare = look_of(unlined)
    first = PrintJob(bare.report, "", "", HOW, Manner()).tiling()
    before = printing.PrintBefore(
        bare.report,
        printing.laid_of(first, HOW),
        unlined.printed("2026-11-02", "sheets", bare.shown).prints[0].drawn,
    )
    lined = straight.look.report
    tiling = PrintJob(lined, "", "", HOW, Manner(), before).tiling()
    names = {group.piece for group in tiling.sheet.groups}
    assert {"front_lining", "back_lining"} <= names


def test_a_piece_drawn_otherwise_by_another_version_is_printed_whole(straight):
    report = straight.look.report
    drawn = {**straight.drawn, "front": straight.drawn["front"] + 1}
    before = printing.PrintBefore(report, straight.laid, drawn)
    tiling = PrintJob(report, "", "", HOW, Manner(), before).tiling()
    group = next(g for g in tiling.sheet.groups if g.piece == "front")
    place = next(m for m in group.marks if m.layer == "cutting").points()[0]
    assert any(tile.window.holds(place) for tile in tiling.printed)
    assert tiling.kept


def test_a_piece_is_laid_from_the_place_it_was_drafted(mermaid):
    for group, spot in zip(
        mermaid.tiling.sheet.groups, mermaid.laid.pieces, strict=True
    ):
        piece = next(p for p in mermaid.look.pieces if p.name == group.piece)
        cut = next(m for m in group.marks if m.layer == "cutting").points()
        assert spot.motion(piece.cut[0]).to(cut[0]) < 0.01
        assert isinstance(spot.motion(Point(0, 0)), Point)


def test_what_is_said_on_a_sheet_that_stays_is_not_said_elsewhere_as_well(straight):
    """The words of a sheet that stays stand nowhere else, unless their line moved."""
    job = edits.set_measurement(straight.job, "waist", "74").job
    report, before, tiling = straight.again(job)
    whole = replace(before, whole=True)
    old = with_words(Blocks((straight.tiling,))).sheet.groups
    twice = {}
    for how in (before, whole):
        job = PrintJob(report, "", "3rd", HOW, Manner(), how)
        blocks = job.with_words_staying(Blocks((tiling,)))
        now = {group.piece: group for group in with_words(blocks).sheet.groups}
        twice[how.whole] = [
            (was.piece, word)
            for was in old
            for word, place in said_again(was, now[was.piece], tiling)
            if place not in {p for _, p in words_of(was)}
        ]
    assert twice[True] == []
    assert len(twice[False]) > 5


def words_of(group):
    return {
        (mark.text, (round(mark.at.x), round(mark.at.y)))
        for mark in group.marks
        if isinstance(mark, Text)
    }


def said_again(was, now, tiling):
    """Words of sheets that stay that are on a sheet printed again: but for the name."""
    kept = {
        word
        for word, place in words_of(was)
        if any(tile.window.holds(Point(*place)) for tile in tiling.kept)
    }
    name = {was.name, *was.name.split()}
    return [
        (word, place)
        for word, place in words_of(now)
        if word in kept - name
        and any(tile.window.holds(Point(*place)) for tile in tiling.printed)
    ]


def test_the_grain_stays_where_sheets_that_stay_show_it(straight):
    """A longer skirt has it lower; the sheets that stay have it where it was."""
    job = edits.set_amount(straight.job, "length", "64").job
    _, _, tiling = straight.again(job)
    before = {group.piece: group for group in straight.tiling.sheet.groups}
    stayed = 0
    for group in tiling.sheet.groups:
        was = before[group.piece]
        here, there = (
            box_of(m for m in g.marks if m.layer == "grain") for g in (group, was)
        )
        longer = abs(group.outline_box.width - was.outline_box.width) + abs(
            group.outline_box.height - was.outline_box.height
        )
        spots = [Point(g.motion.e, g.motion.f) for g in (group, was)]
        if longer > 1.0 and spots[0].to(spots[1]) < 0.01:
            assert here.middle.to(there.middle) < 0.01, group.piece
            stayed += 1
    assert stayed
