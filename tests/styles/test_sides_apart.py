"""A waist that stands higher over the hip on one side, in every style.

Hip and hem are level on her, so the higher side is longer by just that, and the
centre, which belongs to both, is one. All is measured on the outlines of the report.
"""

from __future__ import annotations

import math
import random
from collections import defaultdict

import pytest

from bodies import SAMPLE
from drafting import reported_apart
from options import wrong_of
from sampling import some_of
from skirtwright.draft import styles
from skirtwright.export.report_json import as_json
from skirtwright.report import Report

STYLES = styles.names()

NEAR = 0.1

UNLIKE = 0.2
"""Where halves of unlike width are spread, their lines turn a little unlike, mm."""

SEAMS = 0.05

HALVES = ("left", "right")

GODETS = {"beside_godet": "side", "behind_godet": "centre"}
"""Edges sewn to godets, in which a side or a centre goes on down to the hem."""

BODIES = {
    "right higher": {"waist_to_hip_left": 200.0, "waist_to_hip_right": 215.0},
    "left higher": {"waist_to_hip_left": 222.0, "waist_to_hip_right": 197.0},
    "to the floor": {
        "waist_to_floor_side_left": 1047.5,
        "waist_to_floor_side_right": 1032.5,
    },
}

FULLER = {
    "front_hip": 480.0,
    "hip_left": SAMPLE["hip"] / 2 - 15,
    "hip_right": SAMPLE["hip"] / 2 + 15,
    "waist_left": SAMPLE["waist"] / 2 + 6,
    "waist_right": SAMPLE["waist"] / 2 - 6,
}
"""One half of her is fuller: how far her skirt hangs down is as if both were alike."""


def told_of(style, sides, chosen=None, amounts=None) -> Report:
    body = {name: value for name, value in SAMPLE.items() if name != "top_hip"} | sides
    return reported_apart(style, body, chosen, amounts)


def along(ring, edge):
    """The length of an edge on a ring; of its two ways round the one it states."""
    start, end = (
        min(range(len(ring)), key=lambda n: math.dist(ring[n], edge[name]))
        for name in ("start", "end")
    )
    steps = [math.dist(ring[n - 1], ring[n]) for n in range(len(ring))]
    total, walked = sum(steps), 0.0
    while start != end:
        start = (start + 1) % len(ring)
        walked += steps[start]
    return min(walked, total - walked, key=lambda way: abs(way - edge["length"]))


def lengths(read):
    """Lengths of the skirt's sides and centres, by body, role and half, mm."""
    found: dict[tuple[str, str, str], float] = defaultdict(float)
    yokes = {p["name"] for p in read["pieces"] if "facing" in p["name"]}
    for piece in read["pieces"]:
        last = piece["name"].rpartition("_")[2]
        if piece["material"] != "shell" or piece["name"] in yokes or piece["hidden"]:
            continue
        for edge in piece["edges"]:
            half, role = last, GODETS.get(edge["name"], edge["role"])
            if role == "side" and last not in HALVES:
                # Both halves in one; seen from outside her left is to the right in
                # front, and to the left behind.
                half = HALVES[(edge["name"] == "side") == (piece["body"] == "back")]
            if role in ("side", "centre") and half in HALVES:
                key = (piece["body"], role, half)
                found[key] += along(piece["stitch_outline"], edge)
    return found


def levels(told):
    """How far the ends of each line of a level lie over the hem, on both halves.

    Yields the line, and what was measured of the left and of the right half.
    """
    over = defaultdict(list)
    for name, panel in told.worked.values.items():
        whole, _, half = name.rpartition("_")
        edges = {edge.name for edge in getattr(panel, "edges", ())}
        if half not in ("left", "right") or not {"hem", "centre", "side"} <= edges:
            continue
        for mark in panel.marks:
            if mark.name in ("hip", "knee"):
                for edge in ("centre", "side"):
                    chain = panel.edge(edge).chain
                    ends = map(chain.nearest, (mark.shape.start, mark.shape.end))
                    here, gap = min(ends, key=lambda found: found[1])
                    # Folded into a pleat the centre lies elsewhere.
                    if gap < NEAR:
                        over[whole, mark.name, edge].append(chain.length - here)
    return {line: both for line, both in over.items() if len(both) == 2}


@pytest.mark.sampled
@pytest.mark.parametrize("style", some_of(STYLES, 1))
def test_hip_and_hem_are_level_and_the_higher_side_is_longer(style, at_length):
    # Each style on one of the bodies in turn; at length each on all.
    front = {"front_hip": FULLER["front_hip"]}
    alike, bodies = told_of(style, front), list(BODIES.values())
    one = STYLES.index(style) % len(bodies)
    for sides in bodies if at_length else bodies[one : one + 1]:
        must_be_level_and_longer(told_of(style, FULLER | sides), alike, sides)


def must_be_level_and_longer(told, alike, sides):
    assert wrong_of(told) == []
    left, right = sides.values()
    read, finished = as_json(told), told.finished
    found = lengths(read)
    more = finished["length_left"] - finished["length_right"]
    assert more == pytest.approx(left - right, abs=NEAR)
    for measure in ("length", "waist", "hip"):
        assert finished[measure] == pytest.approx(alike.finished[measure], abs=UNLIKE)
    for seam in read["seams"]:
        assert abs(seam["difference"]) < SEAMS, seam["name"]
    for body in ("front", "back"):
        for half in ("left", "right"):
            side = found[body, "side", half]
            assert side == pytest.approx(finished[f"length_{half}"], abs=NEAR)
        centres = [found[body, "centre", half] for half in ("left", "right")]
        assert centres[0] == pytest.approx(centres[1], abs=NEAR)
    for line, (one, other) in levels(told).items():
        assert one == pytest.approx(other, abs=UNLIKE), line
    assert "check.sides_uneven" in {problem.code for problem in told.problems}


def floors(seed):
    """Lengths to the floor in front, behind and on both sides; waist to hip too."""
    lot = random.Random(seed)
    left, right = lot.uniform(1020, 1060), lot.uniform(1020, 1060)
    found = {
        "waist_to_floor_side_left": left,
        "waist_to_floor_side_right": right,
        "waist_to_floor_front": (left + right) / 2 + lot.uniform(-25, 5),
        "waist_to_floor_back": (left + right) / 2 + lot.uniform(-20, 15),
    }
    if seed % 2:
        found |= {
            f"waist_to_hip_{side}": lot.uniform(180, 230) for side in ("left", "right")
        }
    return found


@pytest.mark.sampled
@pytest.mark.parametrize("seed", some_of(range(4), each=2))
@pytest.mark.parametrize("style", ["straight-block", "yoke", "mermaid", "wrap"])
def test_the_waist_is_as_asked_whatever_was_taken_to_the_floor(style, seed):
    told = told_of(style, floors(seed))
    asked = SAMPLE["waist"] + told.worked.stated.amounts["waist_ease"].value
    assert told.finished["waist"] == pytest.approx(asked, abs=NEAR)


SHAPED = [
    name
    for name in STYLES
    if any(choice.name == "depth_taken" for choice in styles.style(name).choices)
]


RIGHT_HIGHER_TO_THE_FLOOR = {
    "waist_to_floor_side_left": 1030.0,
    "waist_to_floor_side_right": 1045.0,
    "waist_to_floor_front": 1030.0,
    "waist_to_floor_back": 1035.0,
}
RIGHT_HIGHER = (BODIES["right higher"], RIGHT_HIGHER_TO_THE_FLOOR)


@pytest.mark.sampled
@pytest.mark.parametrize("apart", [False, True], ids=["alike", "apart"])
@pytest.mark.parametrize("style", some_of(SHAPED, 2))
def test_waist_to_hip_taken_at_the_centre_leaves_the_length_as_asked(style, apart):
    # Taken down the sides or to the floor, in turn: what the sides differ by counts
    # once, along the seam as the tape ran.
    sides = RIGHT_HIGHER[SHAPED.index(style) % 2] if apart else {}
    told = told_of(style, sides, {"depth_taken": "centre"})
    aside = told_of(style, sides, {"depth_taken": "side"}).finished["length"]
    assert told.finished["length"] == pytest.approx(aside, abs=NEAR)
    finished = told.finished
    more = finished.get("length_right", 0) - finished.get("length_left", 0)
    assert more == pytest.approx(15 if apart else 0, abs=NEAR)
    codes = [problem.code for problem in told.problems]
    assert any(code.startswith("style.depth_at_centre") for code in codes)


def test_the_report_has_each_side_as_it_was_taken():
    halves = {"waist_left": 350.0, "waist_right": 372.0}
    read = as_json(told_of("straight", BODIES["right higher"] | halves))["measurements"]
    assert (read["waist_to_hip_left"], read["waist_to_hip_right"]) == (200, 215)
    assert read["waist_to_hip"] == pytest.approx(207.5)
    assert (read["waist_left"], read["waist_right"]) == (350, 372)
    assert read["waist"] == pytest.approx(722)
    assert "hip_left" not in read


@pytest.mark.parametrize(
    ("style", "raised"), [("straight", -10.0), ("a-line", 0.0), ("high-low", 20.0)]
)
def test_drawn_in_by_elastic_the_waist_has_no_peak_at_its_sides(style, raised):
    elastic, amounts = {"waist_shape": "side_elastic"}, {"waist_level": raised}
    told = told_of(style, BODIES["right higher"], elastic, amounts)
    assert wrong_of(told) == []
    assert "check.seam_angle" not in {problem.code for problem in told.problems}
    more = told.finished["length_right"] - told.finished["length_left"]
    assert more == pytest.approx(15, abs=NEAR)


@pytest.mark.parametrize(
    ("style", "waist", "darts"), [("bias-slip", 755.0, 4), ("straight", 805.0, 4)]
)
def test_halves_a_hair_apart_have_as_many_darts(style: str, waist: float, darts: int):
    """Each waist lies between two numbers of darts, by the rules of the style.

    Bias slip: (1000 - waist) / 4 - 46 > 0.02 waist. Straight: 0.15 (1005 - waist) is
    30 where the back takes a second dart.
    """
    apart = {"waist_left": waist / 2 + 0.5, "waist_right": waist / 2 - 0.5}
    told = told_of(style, {"waist": waist, **apart})
    halves = {"left": 0, "right": 0}
    whole = 0
    for piece in told.cut.pieces:
        if piece.spec.material == "shell":
            whole += len(piece.darts) * piece.spec.count
            if piece.spec.half:
                halves[piece.spec.half] += len(piece.darts)
    assert halves["left"] == halves["right"]
    assert whole == darts


def test_what_a_flare_leaves_of_a_dart_is_eased_in_both_halves_or_in_neither():
    """Each half by itself would ease the back's outer dart, 6 mm, on the left alone."""
    body = {"waist": 721.2, "hip": 957.6, "waist_to_knee": 580.0}
    body |= {"waist_to_hip_left": 200.5, "waist_to_hip_right": 199.5}
    told = reported_apart("a-line", body, None, {"hem_flare": 81.4})
    darts = {piece.name: len(piece.darts) for piece in told.cut.pieces}
    assert darts["back_left"] == darts["back_right"] == 2
