"""What the styles draft, against figures that pages of dressmakers print.

Pages print a figure as a tape is read: a tolerance is half of the last place they give,
unless said. Each work stands in the list of works with its address.
"""

from __future__ import annotations

import math

import pytest

from bodies import SAMPLE
from drafting import reported, work

INCH = 25.4
PLAIN = {"waist_ease": 0.0, "waist_take": 0.0}
"""As on pages: no ease, and the arc not drawn smaller for its stretch."""


def values(style, body, **amounts):
    return work(style, {**SAMPLE, **body}, **amounts).values


def walked(told, *edges):
    """The lengths of edges as they are cut, mm, each with its other half."""
    split = (name.split(".") for name in edges)
    return [2 * told.worked.values[p].edge(e).chain.length for p, e in split]


@pytest.mark.parametrize(
    ("waist", "share", "radius", "half_place"),
    [
        # BurdaStyle: 41 1/4 in round are 6 1/2 in, which is to the nearest quarter.
        (41.25 * INCH, 1.0, 6.5 * INCH, 0.125 * INCH),
        # "fabric whisperer", 2011: 24 in are 3.82.
        (24 * INCH, 1.0, 3.82 * INCH, 0.005 * INCH),
        # "jeloca", 2006: 28 in are 8.917 across, worked with 3.14: 0.05 % more.
        (28 * INCH, 1.0, 8.917 / 2 * INCH, 0.003 * INCH),
        # Corset Academy: half a circle round 77 cm is told as 25, exactly 24.5.
        (770.0, 0.5, 250.0, 5.0),
    ],
)
def test_radius_of_a_circle(waist, share, radius, half_place):
    found = values("circle", {"waist": waist}, **PLAIN, circle_share=share)["radius"]
    assert found == pytest.approx(radius, abs=half_place)


def test_hem_of_half_a_circle_is_drawn_from_the_same_centre():
    """Prime Number: radius 9.5 in and 20 in of length: an arc of 29.5 in."""
    told = reported(
        "circle",
        {**SAMPLE, "waist": 9.5 * math.pi * INCH},
        **PLAIN,
        circle_share=0.5,
        length=20 * INCH,
    )
    hem = told.worked.values["front"].edge("hem").chain
    assert hem.start.size() == pytest.approx(29.5 * INCH, abs=0.01)


@pytest.mark.parametrize(("across", "round_"), [(12, 37.75), (13, 40.75), (14, 44.0)])
def test_hole_of_a_handkerchief(across, round_):
    """Katrin's Krafts, 2011: 12, 13, 14 in across are so many round, to a quarter."""
    found = values("handkerchief", {"waist": round_ * INCH, "hip": 1150.0}, **PLAIN)
    assert 2 * found["radius"] / INCH == pytest.approx(across, abs=0.125 / math.pi)


@pytest.mark.parametrize(
    ("across", "inner", "outer"), [(1, 3.14, 9.42), (2, 6.28, 12.56)]
)
def test_ring_of_a_flounce(across, inner, outer):
    """Mary Funt, 2017: rings 1 in deep; three to one in fullness, and two to one.

    The line of a skirt is longer: the ring has its radius by depth and fullness alone.
    """
    depth = 120.0
    found = values("flounce", {}, fullness=outer / inner, flounce_depth=depth)
    assert found["radius"] / depth == pytest.approx(across / 2)


def test_width_of_a_gathered_skirt():
    """Ugly Cute Designs, 2011: waist 26 in, 2.5 to 1: 65 in, a front of 32.5."""
    body = {**SAMPLE, "waist": 26 * INCH}
    told = reported("dirndl", body, waist_ease=0.0, ratio=2.5, front_part=0.5)
    assert told.finished["sweep"] == pytest.approx(65 * INCH, abs=0.1)
    assert walked(told, "front.hem") == pytest.approx([32.5 * INCH], abs=0.1)


@pytest.mark.parametrize(
    ("cloth", "round_", "strips"),
    [(45, 82, 2), (45, 132, 3), (30, 85, 3), (30, 115, 4)],
)
def test_widths_of_cloth_of_a_gathered_skirt(cloth, round_, strips):
    """Lara the Lacemaker: so many widths of cloth make a skirt so wide.

    An inch of each goes into seams. An odd number of widths leaves half of one over
    here, since front and back are cut alike: the seams lie at the sides.
    """
    told = work(
        "dirndl",
        {**SAMPLE, "waist": round_ / 2.5 * INCH, "hip": 900.0},
        waist_ease=0.0,
        ratio=2.5,
        front_part=0.5,
        usable_width=(cloth - 1) * INCH,
    )
    assert told.values["strips"] == 2 * math.ceil(strips / 2)


@pytest.mark.parametrize(
    ("tiers", "length", "depth", "ratio", "printed"),
    [
        # Craftster: hip 40 in by 1.5, 40 in long in four tiers; the last is 202.5.
        (4, 40, 10, 1.5, (60, 90, 135, 202)),
        # Londa's Sewing: hip 44 in and 6 more, 30 in long in three tiers.
        (3, 30, 10, 2.0, (50, 100, 200)),
    ],
)
def test_widths_and_depths_of_tiers(tiers, length, depth, ratio, printed):
    """Pages widen the first tier from the hip, here it is widened from the waist."""
    told = reported(
        "tiered",
        {**SAMPLE, "waist": 30 * INCH, "hip": 40 * INCH},
        waist_ease=0.0,
        top_ratio=printed[0] / 30,
        tier_ratio=ratio,
        tiers=float(tiers),
        length=length * INCH,
        depths="even",
    )
    names = ["", *(f"_{number}" for number in range(2, tiers + 1))]
    feet = [sum(walked(told, f"front{n}.foot", f"back{n}.foot")) for n in names]
    assert [foot / INCH for foot in feet] == pytest.approx(printed, abs=0.51)
    front = told.worked.values
    sides = [front[f"front{name}"].edge("side").chain.length for name in names]
    assert sides == pytest.approx([depth * INCH] * tiers, abs=0.01)


@pytest.mark.parametrize(
    ("style", "amounts", "round_", "shows", "cloth"),
    [
        # Yuzu and Pear: 72 cm, 18 pleats that show 4.
        ("knife-pleat", {"pleats_half": 9.0}, 720.0, 40.0, 2160.0),
        # Vera Venus: 72 cm, 6 boxes that show 12.
        ("box-pleat", {"boxes": 6.0}, 720.0, 120.0, 2160.0),
        # Pattern Table, 2012: 30 in, 20 pleats that show 1 1/2 and take up 1 1/4: 55.
        (
            "knife-pleat",
            {"pleats_half": 10.0, "depth_share": 1.25 / 1.5 / 2},
            30 * INCH,
            1.5 * INCH,
            55 * INCH,
        ),
    ],
)
def test_cloth_of_pleats(style, amounts, round_, shows, cloth):
    """Pages count round the waist, of which the skirt is as wide below.

    Here pleats hang from the hip, where they show as much. The last are shallower than
    those that are offered, which take up as much as they show.
    """
    body = {"waist": 600.0, "hip": round_ - 40}
    found = values(style, body, hip_ease=40.0, **amounts)
    assert found["shows_hip"] == pytest.approx(shows)
    assert found["cloth"] == pytest.approx(cloth)


def test_gores_of_six():
    """Plus Size Children: waist 30, hip 42 in: each gore 5 in, and 7 1/4 at the hip.

    An inch and a half of ease are the quarter inch of each.
    """
    body = {**SAMPLE, "waist": 30 * INCH, "hip": 42 * INCH}
    told = reported("gored", body, gores=6.0, waist_ease=0.0, hip_ease=1.5 * INCH)
    assert told.finished["waist"] / 6 == pytest.approx(5 * INCH, abs=0.1)
    # Front and back are on a fold or open behind: of theirs a half is drawn.
    wide = [
        p.panel.mark("hip").shape.length / INCH
        for p in told.cut.pieces
        if p.name.startswith("gore_")
    ]
    assert sorted(wide) == pytest.approx([3.625, 3.625, 7.25, 7.25], abs=0.01)
