"""The skirt on her: its girths are the draft's, and it lies outside her."""

from __future__ import annotations

import math
import re
import sys
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest
from shapely import LinearRing, Point, Polygon

sys.path.insert(0, str(Path(__file__).parent))

from figure_cases import FOLDER, WORKTABLE, look_of, svg_of, worn_by_sample

from skirtwright.draft import styles
from skirtwright.figure.bare_views import bare
from skirtwright.figure.body import body_of
from skirtwright.figure.drawn_figure import FILLED, VIEWS
from skirtwright.figure.views import _one_stroke, _spread, dressed
from skirtwright.figure.wearing import Wearing
from skirtwright.figure.worn_skirt import worn
from skirtwright.job.edits import part_sides, set_measurement
from skirtwright.job.job import new_job
from skirtwright.problems import Refused

STYLES = styles.names()
DEPTHS = ("waist_to_hip", "waist_to_knee")
NEAR = 3.0
"""How near a girth by columns is to the walked one, mm."""


@pytest.fixture(scope="module", params=STYLES)
def look(request):
    return look_of(request.param)


def at_depth(skirt, down):
    return min(skirt.levels, key=lambda level: abs(level.down - down))


def test_its_girths_are_those_of_the_finished_skirt(look):
    skirt = look.report.worn()
    finished = look.report.finished
    waist = skirt.levels[0].girth
    # What is gathered in, or stretched onto its band, hangs as wide as it is cut; the
    # arc of a circle is followed in chords.
    cut = finished["waist"] + look.report.worked.values.get("drawn_in", 0.0)
    assert waist == pytest.approx(cut, abs=max(NEAR, 0.006 * cut))
    if finished["hip"]:
        # Below it pleats fall open at once: one of the levels next to it is as wide.
        down = skirt.body.waist_to_hip - skirt.cloth.begins
        beside = [
            level for level in skirt.levels if abs(level.down - down) < skirt.step
        ]
        off = min(abs(level.girth - finished["hip"]) for level in beside)
        assert off <= 2 * NEAR
    lengths = [x for quarter in skirt.cloth.quarters for x in quarter.lengths]
    assert min(lengths) <= finished["length"] + NEAR
    assert max(lengths) >= finished["length"] - NEAR


@pytest.mark.parametrize("style", ["straight", "mermaid"])
def test_unlike_sides_hang_from_her_waist_and_are_not_called_tight(style):
    job = part_sides(new_job(styles.style(style)), "waist_to_hip").job
    for text in ("20.5 cm", "22 cm"):
        uneven = set_measurement(job, "waist_to_hip_right", text).job
        skirt = WORKTABLE.look(uneven).report.worn()
        # Its sides are as long to the hip as hers, so it begins at her waist.
        assert skirt.cloth.begins == pytest.approx(0.0, abs=0.1)
        assert not any(level.tight for level in skirt.levels)


@pytest.mark.parametrize("where", ["sides", "sides_and_back"])
def test_godets_are_let_in_from_their_points_down(where):
    """At the hem it is as wide as the finished skirt; above them it is as without."""
    look = look_of("godet", godets_in=where)
    skirt, finished = look.report.worn(), look.report.finished
    assert skirt.levels[-1].girth == pytest.approx(finished["sweep"], abs=6 * NEAR)
    assert finished["sweep"] > 1.4 * finished["hip"]
    height = look.report.worked.stated.amounts["godet_height"].value
    for level in skirt.levels:
        plain = sum(walked[-1] for walked in level.walked)
        if level.down < finished["length"] - height - 2 * NEAR:
            assert level.girth == pytest.approx(plain, abs=2 * NEAR)
    # Seen from the front it is wider at the hem than at the hip.
    assert skirt.levels[-1].wave > 10


def test_each_level_is_as_long_as_its_cloth(look):
    """The line with its waves, measured; on a curve a sine is up to 3 % off."""
    skirt = look.report.worn(fine=False)
    for level in skirt.levels[::4]:
        if not level.tight and not level.trail:
            places = [skirt.spot(level, i / 480)[:2] for i in range(480)]
            assert LinearRing(places).length == pytest.approx(level.girth, rel=0.03)


def test_it_lies_outside_her_and_falls(look):
    skirt = look.report.worn(fine=False)
    heights = [level.height for level in skirt.levels]
    assert heights == sorted(heights, reverse=True)
    for level in skirt.levels[:: len(skirt.levels) // 6]:
        if level.wave > level.beside.distance:
            continue
        body = Polygon(skirt.body.hull(level.height).places).buffer(-1.0)
        assert not any(
            body.contains(Point(skirt.spot(level, i / 40)[:2])) for i in range(40)
        )


def test_no_step_down_is_longer_than_the_cloth(look):
    skirt = look.report.worn(fine=False)
    for one, other in zip(skirt.levels, skirt.levels[1:], strict=False):
        assert one.height - other.height <= skirt.step + 1e-9


def test_a_straight_skirt_hangs_smooth_and_a_half_circle_in_folds():
    straight = worn_by_sample("straight")
    assert max(level.wave for level in straight.levels) == 0
    full = worn_by_sample("half-circle-yoke")
    assert full.waves > worn_by_sample("a-line").waves
    assert full.levels[-1].wave > 20
    assert full.waves % 4 == 0


def test_it_hangs_from_the_seat_and_does_not_cling_to_the_knee():
    skirt = worn_by_sample("straight")
    hip = at_depth(skirt, 200)
    for level in skirt.levels:
        if level.down > 220:
            assert skirt.spot(level, 0.5)[1] == pytest.approx(
                skirt.spot(hip, 0.5)[1], abs=8
            )


def test_where_she_is_wider_it_is_marked():
    skirt = worn_by_sample("straight")
    wider = {"waist": 720.0, "hip": 1060.0, "waist_to_hip": 200.0}
    body = body_of({**wider, "waist_to_knee": 580.0})
    tight = worn(body, skirt.cloth, {"waist": 735.0, "hip": 1020.0})
    worst = max(tight.levels, key=lambda level: level.tight)
    assert worst.tight == pytest.approx(40.0, abs=5)
    assert 140 < worst.down < 260
    kinds = {line.kind for line in dressed(tight, "front")}
    assert "tight" in kinds
    assert not any(level.tight for level in skirt.levels)
    stretched = worn(body, skirt.cloth, {"waist": 735.0, "hip": 1020.0}, 0.05)
    assert not any(level.tight for level in stretched.levels)


def test_a_train_lies_on_the_floor():
    skirt = worn_by_sample("train")
    last = skirt.levels[-1]
    assert last.trail > 100
    assert skirt.place(1, 0.0, skirt.cloth.left[1].lengths[0])[2] == 0.0


def test_laps_are_counted_once_and_the_right_front_lies_on_top():
    skirt = worn_by_sample("wrap")
    assert skirt.levels[0].girth == pytest.approx(735.0, abs=NEAR)
    assert min(skirt.overlap) > 300
    edges = [line for line in dressed(skirt, "front") if line.kind == "edge"]
    assert edges
    assert all(x > 0 for line in edges for x, _ in line.points)


def test_a_vent_opens_the_seam_and_makes_the_hem_no_wider():
    plain, vented = (worn_by_sample("straight", vent=vent) for vent in ("none", "vent"))
    assert vented.levels[-1].girth == pytest.approx(plain.levels[-1].girth, abs=NEAR)
    kinds = [
        {line.kind for line in dressed(skirt, "back")} for skirt in (plain, vented)
    ]
    assert "edge" not in kinds[0]
    assert "edge" in kinds[1]


def test_a_side_elastic_or_pleats_hold_more_than_the_waist():
    skirt = worn_by_sample("straight", waist_shape="side_elastic")
    assert skirt.levels[0].smooth <= skirt.levels[0].girth


@pytest.mark.parametrize("style", ["box-pleat", "knife-pleat"])
@pytest.mark.parametrize(
    "body",
    [("83", "88.1", "21", "58"), ("56", "66", "13", "41")],
    ids=["straight", "child"],
)
def test_pleats_are_nowhere_wider_than_below_them(style, body):
    """Not at the waist beside the hip, nor at the hem, down to which they are laid."""
    job = new_job(styles.style(style))
    for name, text in zip(("waist", "hip", *DEPTHS), body, strict=True):
        job = set_measurement(job, name, f"{text} cm").job
    skirt = WORKTABLE.look(job).report.worn()
    girths = [level.girth for level in skirt.levels]
    hip = at_depth(skirt, skirt.body.waist_to_hip).girth
    over = [g for g, x in zip(girths, skirt.levels, strict=True) if x.down < 100]
    assert max(over) <= hip + 2 * NEAR
    steps = [below - above for above, below in pairwise(girths)]
    assert steps[-1] <= max(steps[-4:-1]) + NEAR


def test_pleats_laid_alike_hang_alike():
    """Of each that hangs open as much is taken up, not of the first alone twice."""
    skirt = worn_by_sample("knife-pleat")
    hem = [
        line.points[-1][0]
        for line in dressed(skirt, "front")
        if line.kind == "pleat" and len(line.points) > 3
    ]
    near = sorted({round(x) for x in hem if abs(x) < 120})
    gaps = [b - a for a, b in pairwise(near)]
    assert len(gaps) > 3
    assert max(gaps) < 1.5 * min(gaps)


@pytest.mark.parametrize("view", VIEWS)
def test_every_picture_is_whole(look, view):
    picture = dressed(look.report.worn(fine=False), view)
    kinds = [line.kind for line in picture]
    assert kinds[0] == "floor"
    assert kinds.index("inside") < kinds.index("body") < kinds.index("skirt")
    assert "outline" in kinds
    assert "seam" in kinds or view != "side"
    for line in picture:
        assert len(line.points) >= (3 if line.kind in FILLED else 2)
        assert all(math.isfinite(v) for place in line.points for v in place)
    (cloth,) = (Polygon(line.points) for line in picture if line.kind == "skirt")
    assert cloth.is_valid
    assert cloth.area > 100_000


def test_what_is_guessed_is_dashed():
    four = {"waist": 720.0, "hip": 980.0, "waist_to_hip": 200.0, "waist_to_knee": 580.0}
    for taken, guessed in ((four, 8), ({**four, "knee": 360.0}, 6)):
        kinds = [line.kind for line in bare(body_of(taken), "front")]
        # Upper hip; thigh, knee, calf and ankle of two legs.
        assert kinds.count("guessed") == guessed + 1


def test_a_longer_left_side_lifts_the_waist_on_the_right_of_the_picture():
    four = {"waist": 720.0, "hip": 980.0, "waist_to_hip": 200.0, "waist_to_knee": 580.0}
    sides = {"waist_to_floor_side_left": 1060.0, "waist_to_floor_side_right": 1040.0}
    body = body_of({**four, **sides})
    skirt = worn(body, worn_by_sample("straight").cloth, {"waist": 735.0})
    waist = next(ln for ln in dressed(skirt, "front") if ln.kind == "outline")
    assert waist.points[-1][1] > waist.points[0][1] + 15
    waist = next(ln for ln in dressed(skirt, "back") if ln.kind == "outline")
    assert waist.points[-1][1] < waist.points[0][1] - 15


def test_cloth_without_end_is_refused():
    look = look_of("straight")
    pieces = [
        replace(piece, spec=replace(piece.spec, count=1_000_000))
        if piece.spec.material == "shell"
        else piece
        for piece in look.report.cut.pieces
    ]
    cut = replace(look.report.cut, pieces=tuple(pieces))
    with pytest.raises(Refused, match=r"budget\.too_much"):
        Wearing().of(look.report.taken, cut, look.report.finished)


def test_golden_figures_are_those_of_the_shelf():
    assert {path.stem for path in FOLDER.glob("*.svg")} == set(STYLES)


@pytest.mark.parametrize("style", STYLES)
def test_pictures_are_as_they_were_looked_at(style):
    """Numbers to half a mm: machines differ in the last digits."""
    kept = (FOLDER / f"{style}.svg").read_text("utf-8")
    words, numbers = _parted(svg_of(style))
    kept_words, kept_numbers = _parted(kept)
    assert words == kept_words
    pairs = zip(numbers, kept_numbers, strict=True)
    assert [pair for pair in pairs if abs(pair[0] - pair[1]) > 0.5] == []


_NUMBER = re.compile(r"-?\d+(?:\.\d+)?")


def _parted(text):
    return _NUMBER.sub("#", text), [float(found) for found in _NUMBER.findall(text)]


def test_a_level_at_its_sides_is_one_stroke_without_teeth():
    teeth = [(0.0, 0.0), (4.0, -1.0), (4.1, -6.0), (20.0, -7.0), (50.0, -8.0)]
    right = [(100.0 - x, y) for x, y in reversed(teeth[:-1])]
    line = _one_stroke(_spread([*teeth, *right]), 1.0)
    assert line[0] == teeth[0]
    assert line[-1] == right[-1]
    steepest = max(abs((b[1] - a[1]) / (b[0] - a[0])) for a, b in pairwise(line))
    assert steepest < 2, "no step as steep as a tooth"


@pytest.mark.parametrize("style", ["circle", "mermaid"])
@pytest.mark.parametrize("view", VIEWS)
def test_a_level_hem_ends_round_and_goes_in_no_teeth(style, view):
    choices = {"waist_shape": "side_elastic"} if style == "mermaid" else {}
    lines = dressed(worn_by_sample(style, **choices), view)
    drawn = [line for line in lines if line.kind == "outline"][1].points
    hem = [at for at, to in pairwise(drawn) if at != to]
    low, high = hem.index(min(hem)), hem.index(max(hem))
    bottom = hem[low : high + 1]
    (first, *_), (last, *_) = bottom[0], bottom[-1]
    for (x, y), (to_x, to_y) in pairwise(bottom):
        out = abs((x + to_x - first - last) / (last - first))
        if to_x - x > 0.01 and 0.6 < out < 0.9:
            assert abs(to_y - y) / (to_x - x) < 1.2
    # An oval leaves its end upright.
    for at, to in ((bottom[0], bottom[1]), (bottom[-1], bottom[-2])):
        assert at[1] - to[1] > abs(at[0] - to[0])


def test_elastic_at_the_sides_gathers_there_and_not_in_front_or_behind():
    skirt = worn_by_sample("mermaid", waist_shape="side_elastic")
    waist = skirt.levels[0]
    assert waist.wave > 2
    flat_front, flat_back = skirt.flat
    assert flat_front > 200
    assert flat_back > 100
    gathered = [skirt.gathered(waist, i / 200) for i in range(200)]
    for i, there in enumerate(gathered):
        from_front = min(i, 200 - i) / 200 * waist.smooth
        beyond = waist.smooth / 2 - from_front
        if from_front <= flat_front / 2 or beyond <= flat_back / 2:
            assert there == 0
    assert gathered[50] == gathered[150] == 1
    assert {skirt.gathered(skirt.levels[-1], i / 200) for i in range(200)} == {1.0}
    for line in dressed(skirt, "front"):
        if line.kind == "wave" and line.points[0][1] > skirt.levels[1].height:
            assert abs(line.points[0][0]) > flat_front / 2 * 0.8


def test_gathers_all_round_stay_all_round():
    skirt = worn_by_sample("dirndl")
    assert skirt.flat == (0.0, 0.0)
    assert skirt.gathered(skirt.levels[0], 0.0) == 1


def test_patch_pockets_are_drawn_on_her_where_they_are_stitched():
    """Two alike on the front: as far down and as wide as they are on the paper."""
    look = look_of("mermaid", patch_pocket="front")
    skirt = look.report.worn(Wearing())
    amounts = look.worked.stated.amounts
    front = [quarters[0] for quarters in (skirt.cloth.left, skirt.cloth.right)]
    for quarter in front:
        (line,) = quarter.tiers[0].lines_on_it()
        downs = [down for _, down in line]
        depth = amounts["patch_height"].value
        assert max(downs) - min(downs) == pytest.approx(depth, rel=0.02)
        below = amounts["patch_below"].value
        assert min(downs) == pytest.approx(below, abs=15)
        widths = quarter.tiers[0].walked_at(sum(downs) / len(downs))
        cells = len(widths) - 1

        def walked(share, widths=widths, cells=cells):
            at = share * cells
            i = min(int(at), cells - 1)
            return widths[i] + (widths[i + 1] - widths[i]) * (at - i)

        across = [walked(share) for share, _ in line]
        wide = amounts["patch_width"].value
        assert max(across) - min(across) == pytest.approx(wide, rel=0.05)
    plain = look_of("mermaid").report.worn(Wearing())
    more = len(dressed(skirt, "front")) - len(dressed(plain, "front"))
    assert more == 2
    assert len(dressed(skirt, "back")) == len(dressed(plain, "back"))


def test_a_slanted_pocket_is_drawn_on_her_from_waist_to_side():
    skirt = look_of("straight", pocket="slanted").report.worn(Wearing())
    plain = look_of("straight").report.worn(Wearing())
    assert skirt.levels[0].girth == pytest.approx(plain.levels[0].girth)
    for quarter in (skirt.cloth.left[0], skirt.cloth.right[0]):
        (line,) = quarter.tiers[0].lines_on_it()
        (_, high), (beside, low) = sorted((line[0], line[-1]), key=lambda at: at[1])
        assert high == pytest.approx(0, abs=2)
        assert (beside, low) == pytest.approx((1, 160), abs=2)
    assert len(dressed(skirt, "side")) == len(dressed(plain, "side")) + 1
    assert len(dressed(skirt, "back")) == len(dressed(plain, "back"))


def test_a_front_that_is_buttoned_laps_and_shows_its_edge_and_its_buttons():
    look = look_of("straight", closing="buttons_front")
    skirt = look.report.worn(Wearing())
    plain = look_of("straight").report.worn(Wearing())
    assert skirt.levels[0].girth == pytest.approx(plain.levels[0].girth, abs=NEAR)
    # 2 cm past the centre on either side.
    assert skirt.overlap == pytest.approx([40.0] * len(skirt.overlap), abs=NEAR)
    lines = dressed(skirt, "front")
    (edge,) = [line for line in lines if line.kind == "edge"]
    # Her left is at the right of the picture: there her right front ends.
    assert {round(x, -1) for x, _ in edge.points} == {20.0}
    other = look_of("straight", closing="buttons_front", laps="left_over_right")
    left = dressed(other.report.worn(Wearing()), "front")
    (edge,) = [line for line in left if line.kind == "edge"]
    assert {round(x, -1) for x, _ in edge.points} == {-20.0}
    seams = [line.points for line in lines if line.kind == "seam"]
    round_ones = [points for points in seams if math.dist(points[0], points[-1]) < 1]
    (front,) = [p for p in look.report.cut.pieces if p.name == "front"]
    assert len(round_ones) == sum(n.startswith("button[") for n, _ in front.inside)
    for points in round_ones:
        across = [x for x, _ in points]
        assert (min(across), max(across)) == pytest.approx((-10, 10), abs=3)


def test_an_overlay_hangs_upon_the_skirt():
    plain = look_of("straight").report.worn(Wearing())
    look = look_of("straight", overlay="over_skirt")
    skirt = look.report.worn(Wearing())
    assert plain.over is None
    assert skirt.over.levels[0].girth == pytest.approx(skirt.levels[0].girth, abs=NEAR)
    for level, under in zip(skirt.over.levels, skirt.levels, strict=True):
        assert level.girth > under.girth - NEAR
    upon = dressed(skirt, "front")[len(dressed(plain, "front")) :]
    assert upon[0].kind == "edge"
    wide = max(x for x, _ in upon[0].points)
    outline = [ln for ln in dressed(plain, "front") if ln.kind == "skirt"]
    assert wide > max(x for x, _ in outline[0].points) + 10


def test_a_side_seam_hangs_without_a_kink():
    """Between upper hip and hip, and where her legs part, her shape moves back."""
    skirt = look_of("straight").report.worn(Wearing())
    for quarter in (0, 3):
        ways = [skirt.place(quarter, 1.0, level.down)[1] for level in skirt.levels]
        leans = [(b - a) / skirt.step for a, b in pairwise(ways)]
        bends = [abs(b - a) for a, b in pairwise(leans)]
        assert max(map(abs, leans)) < 0.07
        assert max(bends) < 0.02
