"""Plotter files, read back by ezhpgl and hp2xx."""

from __future__ import annotations

import random
import re
import shutil
from dataclasses import replace
from functools import cache
from itertools import pairwise

import ezhpgl
import numpy as np
import paper_readers as read
import pytest
import shapely
from skirt_sheet import P, rectangle

from drafting import look_of
from skirtwright import budget
from skirtwright.draft import styles
from skirtwright.export import pen_order
from skirtwright.export.facts import CoverFacts
from skirtwright.export.pen_order import _Grid
from skirtwright.export.penwork import Drawn, dashed, drawn, in_order, within
from skirtwright.export.plotter import OVERLAP, frame_lines, plot, write_plotter
from skirtwright.export.print_job import PrintJob
from skirtwright.export.print_media import looks, plotter_named, plotters
from skirtwright.export.printing import Printing
from skirtwright.export.sheet import Group, Sheet, Stroke, outline
from skirtwright.geometry import Point
from skirtwright.geometry.box import Box
from skirtwright.job.job import new_job
from skirtwright.problems import Refused, SkirtwrightError
from skirtwright.words import Manner

pytestmark = pytest.mark.usefixtures("packed_in_few_tries")

PEN = plotter_named("pen")
CUTTER = plotter_named("cutter")
SHORT = replace(PEN, longest_frame=914.0)


@pytest.fixture(scope="module")
def plotted_on(skirt, facts):
    """The skirt as each plotter draws it; worked once."""
    return cache(lambda key: plot(skirt, plotter_named(key), facts))


@pytest.fixture(scope="module")
def written_for(plotted_on, facts):
    """The file for each plotter; written once."""
    return cache(lambda key: write_plotter(plotted_on(key), facts))


def _commands(data: bytes) -> list[str]:
    return data.decode("ascii").replace("\n", "").split(";")[:-1]


def _runs(page, step):
    """Polylines of one page as ezhpgl read them, in plotter steps, with their pens."""
    runs, last = [], None
    for op in page.operations:
        points = [[p.x, p.y] for p in op.geometry.points]
        # One line in several commands is several operations of one path.
        if op.path_id == last:
            runs[-1][1].extend(points[1:])
        else:
            runs.append((op.style.pen, points))
        last = op.path_id
    return [(pen, np.array(points) / step) for pen, points in runs]


@pytest.mark.parametrize("key", list(plotters()))
def test_ezhpgl_reads_everything_and_every_point(
    plotted_on, written_for, facts, key, tmp_path
):
    machine = plotter_named(key)
    plotted, data = plotted_on(key), written_for(key)
    path = tmp_path / "skirt.plt"
    path.write_bytes(data)
    document = ezhpgl.readfile(path)
    assert document.completeness == "complete"
    assert not document.diagnostics
    assert len(document.pages) == len(plotted.frames)
    if machine.step != 0.025:
        return  # ezhpgl takes every step for 0.025 mm
    for number, (page, frame) in enumerate(
        zip(document.pages, plotted.frames, strict=True)
    ):
        assert page.plot_size_mm == pytest.approx((frame.width, frame.height), abs=0.02)
        ours = sorted(
            _rounded(line, frame, machine)
            for bundle in frame_lines(plotted, number, facts, Manner())
            for line in bundle
        )
        theirs = sorted(
            _either_way([tuple(round(v) for v in p) for p in points])
            for _, points in _runs(page, machine.step)
        )
        assert theirs == ours


def _rounded(line, frame, machine):
    x, y = frame.left, frame.bottom
    if machine.origin == "centre":
        x, y = (frame.left + frame.right) / 2, (frame.bottom + frame.top) / 2
    points = []
    for p in line.points:
        pair = (
            int(np.floor((p.x - x) / machine.step + 0.5)),
            int(np.floor((p.y - y) / machine.step + 0.5)),
        )
        if not points or points[-1] != pair:
            points.append(pair)
    return _either_way(points if len(points) > 1 else points * 2)


def _either_way(points):
    """From the same end whichever it is drawn from; a ring from its least corner."""
    if points[0] == points[-1] and len(points) > 2:
        ring = points[:-1]
        first = ring.index(min(ring))
        points = [*ring[first:], *ring[:first], ring[first]]
    return min(tuple(points), tuple(points[::-1]))


@pytest.mark.skipif(not shutil.which("hp2xx"), reason="no hp2xx here")
@pytest.mark.parametrize("roll", [400.0, 914.0])
def test_hp2xx_finds_the_size_of_every_frame(skirt, facts, roll, tmp_path):
    plotted = plot(skirt, SHORT, facts, roll=roll, grain_along=False)
    # One file for each frame: of frames of several sizes hp2xx reports the largest.
    pages = write_plotter(plotted, facts).split(b"PG;")
    path = tmp_path / "frame.plt"
    for page, frame in zip(pages, plotted.frames, strict=False):
        path.write_bytes(b"IN;" + page + b"PG;")
        size = read.hp2xx_size(path)
        assert size == pytest.approx((frame.width, frame.height), abs=0.03)
        assert frame.width >= frame.height


def test_curves_lines_and_squares_are_true(skirt, written_for, tmp_path):
    """By ezhpgl: every outline at its length and area."""
    path = tmp_path / "skirt.plt"
    path.write_bytes(written_for("pen"))
    page = ezhpgl.readfile(path).pages[0]
    cuts = [points * PEN.step for pen, points in _runs(page, PEN.step) if pen == 3]
    assert len(cuts) == 3
    for group in skirt.groups:
        (edge,) = [m for m in group.marks if m.layer == "cutting"]
        true = sum(s.length for s in edge.path)
        lengths = [shapely.LineString(points).length for points in cuts]
        assert min(abs(x - true) for x in lengths) < 0.05 * true / 1000
    squares = [
        points * PEN.step
        for pen, points in _runs(page, PEN.step)
        if pen == 1 and len(points) == 5
    ]
    for side in (100.0, 101.6):
        assert any(
            np.allclose(np.ptp(points, axis=0), (side, side), atol=0.03)
            for points in squares
        )


def test_lines_are_drawn_first_and_cuts_last(written_for):
    for key, machine in plotters().items():
        commands = _commands(written_for(key))
        assert commands[0] == f"{machine.prefix}IN"
        assert sum(command.endswith("IN") for command in commands) == 1
        assert commands[-2:] == ["SP0", "PG"]
        pens = [int(c[2:]) for c in commands if c.startswith("SP")][:-1]
        assert pens == sorted(pens)
        assert pens[-1] == machine.pens["cutting"]
        assert {c[:2] for c in commands[1:]} <= {"IN", "PS", "SP", "PU", "PD", "PG"}
        for command in commands:
            assert command.count(",") < 2 * 64
        limit = machine.most or 10**7
        moves = [c for c in commands if c[:2] in ("PU", "PD")]
        numbers = [int(x) for c in moves for x in re.findall(r"-?\d+", c[2:])]
        assert max(map(abs, numbers)) <= limit
        if machine.origin == "corner":
            assert min(numbers) >= 0


def test_holes_are_cut_before_the_outline_round_them():
    def ring(left, foot, size):
        box = Box(left, foot, left + size, foot + size)
        corners = box.corners
        return [Drawn((*corners, corners[0]), "cutting", closed=True)]

    plain = [Drawn((P(500, 500), P(600, 500)), "stitching")]
    order = in_order([ring(0, 0, 100), ring(40, 40, 10), plain], P(0, 0))
    assert [line.layer for line in order] == ["stitching", "cutting", "cutting"]
    assert {*order[1].points} == {P(40, 40), P(50, 40), P(50, 50), P(40, 50)}


def test_frames_cut_once_and_share_a_strip(skirt, facts):
    plotted = plot(skirt, SHORT, facts, roll=400.0, grain_along=False)
    assert len(plotted.frames) > 1
    for one, other in zip(plotted.frames, plotted.frames[1:], strict=False):
        assert one.right - other.left == pytest.approx(OVERLAP)
    true = sum(
        s.length
        for m in skirt.marks
        if isinstance(m, Stroke) and m.layer == "cutting"
        for s in m.path
    )
    cut = 0.0
    for number in range(len(plotted.frames)):
        for bundle in frame_lines(plotted, number, facts, Manner()):
            for piece in bundle:
                if piece.layer == "cutting":
                    points = [(p.x, p.y) for p in piece.points]
                    cut += shapely.LineString(points).length
    assert cut == pytest.approx(true, abs=0.1)


def test_clipping_agrees_with_shapely(skirt):
    window = Box(100, 50, 400, 430)
    box = shapely.box(100, 50, 400, 430)
    for bundle in drawn(skirt.marks, looks()["paper"]):
        for piece in bundle:
            whole = shapely.LineString([(p.x, p.y) for p in piece.points])
            ours = sum(
                shapely.LineString([(p.x, p.y) for p in part.points]).length
                for part in within(piece, window)
            )
            assert ours == pytest.approx(whole.intersection(box).length, abs=1e-6)


def test_dashes_keep_their_lengths():
    runs = dashed([P(0, 0), P(10, 0), P(10, 10)], (3, 1))
    lengths = [sum(a.to(b) for a, b in pairwise(r)) for r in runs]
    assert lengths == pytest.approx([3] * 5)
    assert runs[2] == [P(8, 0), P(10, 0), P(10, 1)]


def test_grain_lies_along_the_roll(plotted_on):
    plotted = plotted_on("cutter")
    for group in plotted.sheet.groups[:-1]:
        (grain,) = [
            m for m in group.marks if isinstance(m, Stroke) and m.layer == "grain"
        ]
        step = grain.path[-1].end - grain.path[0].start
        assert abs(step.y) < 1e-6


def test_the_file_says_client_scale_and_unit(skirt, written_for):
    """Words are strokes, so what is asked for is that they are drawn at all."""
    said = written_for("pen")
    unsaid = write_plotter(plot(skirt, PEN, CoverFacts()), CoverFacts())
    assert said.count(b"PD") > unsaid.count(b"PD") + 100
    assert unsaid.count(b"PD") > 40


@pytest.mark.parametrize(
    ("size", "roll", "code"),
    [
        ((900, 300), 600.0, None),  # fits turned
        ((900, 700), 600.0, "print.roll_too_narrow"),
        ((581, 300), 600.0, None),
    ],
)
def test_a_roll_too_narrow_is_refused_and_nothing_shrinks(size, roll, code, facts):
    sheet = rectangle(*size)
    if code is None:
        plotted = plot(sheet, PEN, facts, roll=roll, grain_along=False)
        box = plotted.sheet.groups[0].outline_box
        assert sorted((box.width, box.height)) == pytest.approx(sorted(size))
        return
    with pytest.raises(SkirtwrightError) as caught:
        plot(sheet, PEN, facts, roll=roll, grain_along=False)
    assert caught.value.problem.code == code
    least = caught.value.problem.values["least"]
    assert plot(sheet, PEN, facts, roll=least, grain_along=False)


def test_grain_along_a_narrow_roll_is_refused_with_what_would_do(skirt, facts):
    with pytest.raises(SkirtwrightError) as caught:
        plot(rectangle(700, 300), CUTTER, facts, roll=600.0)
    problem = caught.value.problem
    assert problem.code == "print.roll_too_narrow"
    assert plot(rectangle(700, 300), CUTTER, facts, roll=problem.values["least"])


def test_a_machine_that_cannot_reach_is_refused(skirt, facts):
    machine = replace(PEN, most=32767)
    with pytest.raises(SkirtwrightError) as caught:
        plot(skirt, machine, facts)
    assert caught.value.problem.code == "plot.too_far"
    empty = Sheet("None", ())
    with pytest.raises(SkirtwrightError) as caught:
        plot(empty, PEN, facts)
    assert caught.value.problem.code == "print.nothing"


def test_steps_are_what_the_machine_counts(facts):
    """2560 steps to the inch: a 4 in side is 10240 steps, from the step's meaning."""
    path = outline(P(0, 0), P(101.6, 0), P(101.6, 101.6), P(0, 101.6))
    sheet = Sheet("Four", (Group.of("Four", [Stroke(path, "cutting", closed=True)]),))
    machine = plotter_named("cutter-2560")
    commands = _commands(write_plotter(plot(sheet, machine, facts), facts))
    last = [int(x) for x in re.findall(r"-?\d+", commands[-4])]
    assert commands[-4].startswith("PD")
    xs, ys = last[0::2], last[1::2]
    first = [int(x) for x in re.findall(r"-?\d+", commands[-5])]
    xs, ys = [first[0], *xs], [first[1], *ys]
    assert max(xs) - min(xs) in (10239, 10240, 10241)
    assert max(ys) - min(ys) in (10239, 10240, 10241)


def test_on_paper_pieces_lie_as_they_save_most_of_it(skirt, plotted_on, facts):
    """Free to lie across, they never take more of the roll than with the grain."""
    saved = plotted_on("pen")
    assert saved.length <= plot(skirt, PEN, facts, grain_along=True).length
    assert not PEN.grain_along
    assert CUTTER.grain_along


def _lifted(lines, start):
    """How far the pen goes lifted, mm."""
    ends = [start, *(p for line in lines for p in (line.points[0], line.points[-1]))]
    return sum(a.to(b) for a, b in zip(ends[::2], ends[1::2], strict=False))


def _two_opt(strokes, start):
    """Single strokes in the order and direction that 2-opt finds, from the nearest."""
    waiting, here, tour = list(strokes), start, []
    while waiting:
        ends = np.array([[e for p in (s[0], s[-1]) for e in p] for s in waiting])
        near = np.hypot(ends[:, 0] - here[0], ends[:, 1] - here[1])
        far = np.hypot(ends[:, 2] - here[0], ends[:, 3] - here[1])
        n = int(np.argmin(np.minimum(near, far)))
        stroke = waiting.pop(n)
        tour.append(stroke if near[n] <= far[n] else stroke[::-1])
        here = tour[-1][-1]
    begins = np.array([s[0] for s in tour])
    ends = np.array([s[-1] for s in tour])
    better = True
    while better:
        better = False
        for low in range(len(tour)):
            before = ends[low - 1] if low else np.array(start)
            after = np.vstack([begins[low + 1 :], [[np.nan, np.nan]]])
            now = np.hypot(*(before - begins[low])) + _far(ends[low:] - after)
            then = _far(before - ends[low:]) + _far(begins[low] - after)
            saves = now - then
            if saves.max() > 1e-6:
                high = low + int(np.argmax(saves)) + 1
                begins[low:high], ends[low:high] = (
                    ends[low:high][::-1].copy(),
                    begins[low:high][::-1].copy(),
                )
                better = True
    gaps = np.vstack([[start], ends[:-1]]) - begins
    return float(_far(gaps).sum())


def _far(steps):
    return np.nan_to_num(np.hypot(steps[:, 0], steps[:, 1]))


def _little_further(sheet, facts):
    """How far the pen goes lifted, in parts of what 2-opt of single strokes finds."""
    front = Sheet("Front", sheet.groups[:1])
    bundles = frame_lines(plot(front, PEN, facts), 0, facts, Manner())
    plain = [b for b in bundles if b[0].layer != "cutting"]
    ours = _lifted(in_order(plain, P(0, 0)), P(0, 0))
    strokes = [[(p.x, p.y) for p in line.points] for b in plain for line in b]
    return ours / _two_opt(strokes, (0.0, 0.0))


def test_the_lifted_pen_goes_little_further_than_2_opt_of_single_strokes(skirt, facts):
    """Within 1.1 times, though dashes and letters stay together."""
    assert _little_further(skirt, facts) <= 1.1
    look = look_of(new_job(styles.style("gored")))
    gored = PrintJob(look.report, "", "", Printing(), Manner())
    assert _little_further(gored.sheet(), gored.facts()) <= 1.1


def test_the_order_of_drawing_is_not_held_against_a_skirt(monkeypatch):
    """A slow machine plots too; what no skirt is drawn with is ended by the clock."""
    monkeypatch.setattr(budget, "MOST_SECONDS", 0.0)
    runs = [(P(n, 0), P(n, 9)) for n in range(20)]
    with budget.bounded():
        assert len(pen_order.pen_order(runs, P(0, 0))) == 20
    monkeypatch.setattr(pen_order, "_OURS", 19)
    with pytest.raises(Refused, match=r"budget\.too_long"), budget.bounded():
        pen_order.pen_order(runs, P(0, 0))


def test_solid_lines_have_pens_of_their_own(skirt, written_for, facts):
    dashed = _commands(written_for("pen"))
    solid = _commands(write_plotter(plot(skirt, PEN, facts, solid=True), facts))
    assert {"SP4", "SP5", "SP6"} <= {*solid}
    assert not {"SP4", "SP5", "SP6"} & {*dashed}
    # Nothing is broken into dashes: far fewer lines are begun.
    begun = [sum(c.startswith("PU") for c in made) for made in (solid, dashed)]
    assert begun[0] < 0.8 * begun[1]


def test_speed_and_prefix_are_the_machines_own(skirt, written_for, facts):
    slow = replace(PEN, speed=12, prefix="\x1b%0B")
    data = write_plotter(plot(skirt, slow, facts), facts)
    assert data.startswith(b"\x1b%0BIN;\nVS12;\n")
    assert written_for("pen").startswith(b"IN;\nPS")


def test_the_nearest_ends_are_those_of_all_that_are_left():
    chance = random.Random(3)
    places = [Point(chance.uniform(0, 900), chance.uniform(0, 300)) for _ in range(120)]
    grid = _Grid(places)
    while grid.left:
        here = Point(chance.uniform(-50, 950), chance.uniform(-50, 350))
        but = next(iter(grid.left)) // 2
        known = [end for end in grid.left if end // 2 != but]
        known.sort(key=lambda end: (here.to(places[end]), end))
        assert grid.nearest(here, 8, but) == known[:8]
        grid.drop(but)
