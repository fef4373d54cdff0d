"""Every edge of every style is fair: no bend too tight, no corner, no turn undrafted.

A bend of 60 mm is the tightest that scissors and a turned hem follow without a clip
(common practice, no source). The meter is the tests' own (`fairness.py`); a second one
reads nothing but the outlines of the report.
"""

from __future__ import annotations

import bisect
import itertools
import math
import random

import pytest

from bodies import SAMPLE
from drafting import angle_at, as_read, work
from fairness import TIGHTEST, at_ends, drawn_edges, fairness, meant_at, unfair
from orders import body_of
from skirtwright.draft import styles
from skirtwright.draft.inputs import Inputs
from skirtwright.draft.shapes.panel import Panel
from skirtwright.draft.step import Reads
from skirtwright.draft.working.recompute import Reworking

HOOKED = ("108.6/117.5/23.3/63.4", "87.2/99.6/21.4/58.9", "83.4/92.8/19.8/63.9")
HOOKED += ("81.7/87.8/22.1/53.1",)
"""Waist, hip, waist to hip and waist to knee, cm, of bodies with little to shut."""


def body(text):
    names = ("waist", "hip", "waist_to_hip", "waist_to_knee")
    cm = map(float, text.split("/"))
    return {name: 10 * value for name, value in zip(names, cm, strict=True)}


@pytest.mark.parametrize("text", HOOKED)
@pytest.mark.parametrize("style", ["yoke", "half-circle-yoke"])
def test_a_yoke_line_is_fair_on_a_straight_body(style, text):
    worked = work(style, body(text))
    for name in ("front_yoke", "back_yoke"):
        for edge, chain in drawn_edges(worked.values[name]):
            found = fairness(chain)
            assert found.radius >= 60, (name, edge)
            assert found.turns <= 1, (name, edge)


@pytest.mark.parametrize("text", HOOKED)
def test_a_yoke_still_fits_what_hangs_from_it(text):
    told = as_read("yoke", body(text))
    for seam in told["seams"]:
        assert abs(seam["difference"]) < 0.1, seam["name"]


def test_a_hem_facing_is_square_to_its_fold():
    # At the fold the hem runs level, and so must the facing's other edge.
    worked = work("high-low", SAMPLE, hem_inside="faced")
    facing = worked.values["front_hem_facing"]
    outer, fold = (facing.edge(name).chain for name in ("outer", "start"))
    assert angle_at(outer.start_direction, fold.end_direction) == pytest.approx(
        90, abs=0.05
    )


def test_a_facing_does_not_cross_itself_in_a_hollow_narrower_than_it():
    worked = work("train", SAMPLE, back_spread=0.0)
    facing = worked.values["back_hem_facing"]
    joins, outer = (fairness(facing.edge(n).chain) for n in ("joins", "outer"))
    assert outer.radius >= min(joins.radius, 60)
    assert outer.turns <= joins.turns


def test_an_a_line_without_darts_hangs_level():
    """Its hem lies everywhere as far below the hip line as its seams (Baldt, 1916)."""
    told = work("a-line", SAMPLE, waist_shape="side_elastic")
    front = told.values["front"]
    hem, hip = front.edge("hem").chain, front.edge("side").chain
    depth = told.values["hem_depth"]
    below = [hem.at(hem.length * share / 20).y for share in range(16)]
    assert below == pytest.approx([-depth] * 16, abs=0.1)
    assert angle_at(hem.end_direction, hip.end_direction) == pytest.approx(90, abs=1e-6)


@pytest.mark.parametrize("style", ["yoke", "half-circle-yoke"])
def test_a_centre_far_over_the_side_is_drawn_as_asked_and_its_bends_told(style):
    """It leaves the line no room to be fair: what bends too tightly is said."""
    her, amounts = body("58/85.5/19.41/55.69"), {"centre_front_below": -30.0}
    worked = work(style, her, **amounts)
    tight = {
        f"{piece.name}.{edge}"
        for piece in worked.draft.pieces
        for panel in [worked.values.get(piece.panel)]
        if isinstance(panel, Panel) and piece.material == "shell"
        for edge, chain in drawn_edges(panel)
        if fairness(chain).radius < TIGHTEST
    }
    found = as_read(style, her, **amounts)["problems"]
    told = {one["where"] for one in found if one["code"] == "check.bend"}
    assert "front_yoke.waist" in tight
    assert tight <= told


SEAT = (
    ("trumpet", "81.8/99.3/20.7/59.5", {}),
    ("trumpet", "65.5/95.9/20.3/58.2", {}),
    ("trumpet", "73.6/106.2/21.4/61.4", {}),
    ("mermaid", "61.5/90.5/20.435/58.625", {"knee_lift": 0.0}),
)
"""Bodies whose lining had a hollow at the hip once it was let in over the seat."""


@pytest.mark.parametrize(("style", "text", "amounts"), SEAT)
def test_a_lining_let_in_over_the_seat_keeps_its_side_fair(style, text, amounts):
    worked = work(style, body(text), lining_seat=15.0, **amounts)
    assert not list(unfair(worked))


RAISED = (
    ("straight-block", "70.2/97.8/20.4/58.7", {"front_waist_part": 0.4}),
    ("half-circle-yoke", "68.8/103.3/19.5/56", {}),
    ("pegged", "66.9/98.8/20.6/59.1", {"back_dart_part": 0.3}),
)
"""Where the side leans most at the natural waist, from which it is raised."""


@pytest.mark.parametrize(("style", "text", "amounts"), RAISED)
def test_a_side_raised_over_the_waist_bends_gently_into_it(style, text, amounts):
    stated = work(style, body(text), **amounts).stated
    level = stated.amounts["waist_level"].most
    worked = work(style, body(text), waist_level=level, **amounts)
    assert not list(unfair(worked))
    asked = stated.amounts["length"].value + level
    side = worked.read(worked.draft.finished["length"], Reads.LENGTH)
    assert side == pytest.approx(asked, abs=1e-3)


def test_a_waist_raised_by_any_little_is_fair(real_women):
    draft, reworking = styles.style("straight-block"), Reworking()
    for woman in real_women[3::40]:
        for level in (0.5, 5.0, 20.0, 34.9, 35.0, 45.0):
            inputs = Inputs(body_of(woman), {"waist_level": level})
            assert not list(unfair(reworking.work(draft, inputs))), (level, woman)


def test_a_waist_redrawn_to_its_length_leaves_the_side_as_long_as_it_was():
    told = as_read("yoke", body("90.5/108.1/19.5/56.1"), centre_front_below=-30.0)
    sides = [s for s in told["seams"] if s["name"] in ("side", "yoke_facing_side")]
    assert len(sides) == 2
    assert all(abs(seam["difference"]) < 1e-3 for seam in sides)


# Every edge of every style

SEED = 10


@pytest.mark.parametrize("style", styles.names())
def test_every_edge_is_fair(style, real_women):
    """Six women, each with two amounts at an end of their range.

    With no amount of hers `test_every_style.py` holds it of 13 bodies.
    """
    chance = random.Random(f"{SEED} {style}")
    draft, reworking = styles.style(style), Reworking()
    found = []
    for woman in chance.sample(real_women, 20)[1:13:2]:
        inputs = Inputs(body_of(woman))
        stated = reworking.state(draft, inputs)
        inputs = at_ends(stated, inputs, chance, 2)
        worked = reworking.work(draft, inputs)
        if not worked.stopped:
            found += [(said, dict(worked.inputs.amounts)) for said in unfair(worked)]
    assert found == []


# A second meter, on the outlines of the report alone

STEP = 10.0
"""Half the stretch, mm, over which a bend is read off an outline's points."""


def edges_of_outline(piece):
    """The points of each edge of a reported piece on which no dart or pleat lies."""
    ring = piece["stitch_outline"]
    broken = {dart["edge"] for dart in piece["darts"]} | {
        crossed["edge"] for pleat in piece["pleats"] for crossed in pleat["edges"]
    }
    for edge in piece["edges"]:
        ends = [
            min(range(len(ring)), key=lambda i: math.dist(ring[i], place))
            for place in (edge["start"], edge["end"])
        ]
        first, last = ends
        one = (ring + ring)[first : last + (len(ring) if last < first else 0) + 1]
        other = (ring + ring)[last : first + (len(ring) if first < last else 0) + 1]
        if edge["name"] not in broken:
            yield edge["name"], min(one, other, key=lambda p: off(p, edge["length"]))


def off(points, length):
    return abs(sum(map(math.dist, points, points[1:])) - length)


def tightest_of(points):
    """The least radius through places `STEP` before and after each point of a row."""
    walked = [0.0]
    for a, b in itertools.pairwise(points):
        walked.append(walked[-1] + math.dist(a, b))

    def at(distance):
        i = max(bisect.bisect_left(walked, distance), 1)
        share = (distance - walked[i - 1]) / (walked[i] - walked[i - 1])
        return [
            p + (q - p) * share for p, q in zip(*points[i - 1 : i + 1], strict=True)
        ]

    least = math.inf
    for distance in walked:
        if STEP <= distance <= walked[-1] - STEP:
            a, b, c = (at(distance + step) for step in (-STEP, 0, STEP))
            doubled = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
            sides = math.dist(a, b) * math.dist(b, c) * math.dist(a, c)
            least = min(least, sides / max(2 * abs(doubled), 1e-9))
    return least


@pytest.mark.parametrize("style", styles.names())
def test_outlines_of_the_report_are_fair(style):
    """Points lie within 0.05 mm of the line: at 60 mm a tenth of the bend over 2 cm."""
    for text in HOOKED[:1] if style != "yoke" else HOOKED:
        for piece in as_read(style, body(text))["pieces"]:
            for edge, points in edges_of_outline(piece):
                where = f"{piece['panel']}.{edge}"
                if not meant_at(styles.style(style), where):
                    assert tightest_of(points) > 52, (piece["name"], edge)
