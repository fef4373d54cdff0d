"""Additions that styles take in: a flounce at the hem, godets in the seams. All mm.

Plain geometry unless said.
"""

from __future__ import annotations

import itertools
import json
import math
import random
import re

import pytest

from bodies import SAMPLE
from drafting import as_read, draft_of, look_of, reported, work
from fairness import fairness, unfair
from options import wrong_of
from orders import body_of, ends_of
from sampling import some_of
from sewn import faults
from skirtwright import shelf
from skirtwright.draft import styles
from skirtwright.draft.alterations import Alteration
from skirtwright.draft.draft import Draft
from skirtwright.export.report_json import as_json
from skirtwright.export.sewing.sewing_facts import facts_of
from skirtwright.job import edits
from skirtwright.job.job import new_job
from skirtwright.measures.records import take
from skirtwright.problems import BadInput
from skirtwright.words import remedy

TAKING = ("straight", "a-line", "mermaid")
ADDED = {
    "flounce": {"at_hem": "flounce"},
    "godet": {"at_hem": "godets"},
    "godet_": {"at_hem": "godets_behind"},
    "slit": {"at_hem": "slits"},
    "slope": {"at_hem": "dropped"},
    "patch": {"patch_pocket": "front"},
    "slant": {"pocket": "slanted"},
    "train": {"at_hem": "train"},
    "overlay": {"overlay": "over_skirt"},
    "stand": {"closing": "buttons_front"},
    "yoke_pleat": {"below_yoke": "pleats"},
}
"""What is chosen for each addition, under what the names of its amounts begin with."""
AT_THE_HEM = ("flounce", "godet", "godet_", "slit")
TAKEN = [
    *((style, named) for style in (*TAKING, "yoke", "pegged") for named in AT_THE_HEM),
    *((style, "slope") for style in ("straight", "a-line", "yoke")),
    *((style, "patch") for style in (*TAKING, "high-low", "wrap")),
    *((style, named) for style in TAKING for named in ("slant", "train", "overlay")),
    ("inverted-pleat", "slit"),
    *((style, "stand") for style in ("straight", "a-line")),
    ("yoke", "yoke_pleat"),
]
SOME = 1
"""Women to each style and addition in the suite, 41 in all; at length all of them."""


def must_be_sewable(told, body, length):
    assert not wrong_of(told)
    for walked in told.cut.seams:
        assert abs(walked.difference) <= 0.1, walked.seam.name
    assert told.finished["waist"] == pytest.approx(body["waist"] + 15, abs=0.1)
    assert told.finished["hip"] == pytest.approx(body["hip"] + 40, abs=0.1)
    if length is not None:
        assert told.finished["length"] == pytest.approx(length, abs=0.1)
    assert told.finished["step_allowed"] is not None
    assert not list(unfair(told.worked))


@pytest.mark.sampled
@pytest.mark.parametrize(("style", "named"), TAKEN)
def test_an_addition_is_sewable_on_women(style, named, real_women, at_length):
    """As it comes, or with one of its amounts at an end of its range."""
    chance, added = random.Random(f"{style} {named}"), ADDED[named]
    women = real_women if at_length else chance.sample(real_women, SOME)
    for number, woman in enumerate(women, chance.randrange(3)):
        body = body_of(woman)
        stated = work(style, body, **added).stated.amounts
        own = [name for name in stated if name.startswith(named)]
        name = chance.choice(own)
        ends = {name: chance.choice(ends_of(stated[name]))} if number % 3 else {}
        told = reported(style, body, **added, **ends)
        # Only one of its lengths is at the side of a hem that drops.
        asked = None if style == "high-low" else stated["length"].value
        must_be_sewable(told, body, asked)


TAKEN_IN = Alteration(
    what="side_seams", by="-0.6", side="left", first="waist", last="hip"
)
LET_OUT = Alteration(what="side_seams", by="0.5", first="hip", last="hem")
LEVELLED = Alteration(
    what="level_hem",
    readings=("30", "30.2", "29.6", "30", "30.1", "30.5", "30.1", "30"),
)


@pytest.mark.sampled
@pytest.mark.parametrize(
    ("style", "alteration", "sides", "waist", "length"),
    [
        (
            "straight",
            TAKEN_IN,
            {"waist_to_hip_left": "20", "waist_to_hip_right": "21.5"},
            735.0 - 2 * 6.0,
            600.0,
        ),
        ("a-line", LET_OUT, {"waist_shape": "side_elastic"}, 735.0, 600.0),
        (
            "yoke",
            TAKEN_IN,
            {"waist_to_hip_left": "20", "waist_to_hip_right": "21.5"},
            735.0 - 2 * 6.0,
            600.0,
        ),
        (
            "mermaid",
            LEVELLED,
            {"hip_left": "47.5", "hip_right": "50.5", "front_hip": "48"},
            735.0,
            950.0 - (9.0 + 4.0) / 2,
        ),
    ],
    ids=["one hip higher", "elastic", "below a yoke", "one hip fuller"],
)
def test_an_addition_follows_what_is_fitted(style, alteration, sides, waist, length):
    """The seams that are taken in, let out and levelled are those that it is sewn to.

    Two edges of a side; the lowest readings of the sides over the highest of all.
    """
    job = new_job(styles.style(style)).replace(fitting=(alteration,))
    for name, given in sides.items():
        put = edits.set_choice if name == "waist_shape" else edits.set_measurement
        job = put(job, name, given).job
    # What a waist of elastic does not take is refused, as its own test shows.
    without = {"slope", "slant", "stand"} if "waist_shape" in sides else {"slope"}
    added = [named for of, named in TAKEN if of == style and named not in without]
    for named in some_of(added, first=len(style) % 3):
        ((choice, option),) = ADDED[named].items()
        told = look_of(edits.set_choice(job, choice, option).job).report
        assert not wrong_of(told)
        for walked in told.cut.seams:
            assert abs(walked.difference) <= 0.1, walked.seam.name
        # A skirt with a train is as long as it is to the floor.
        wanted = {"waist": waist, "hip": 1020.0, "length": length}
        if named == "train":
            del wanted["length"]
        found = {name: told.finished[name] for name in wanted}
        assert found == pytest.approx(wanted, abs=0.1), option


@pytest.mark.parametrize("style", TAKING)
def test_without_an_addition_the_skirt_is_as_if_there_were_none(style):
    raw = shelf.read_json(f"styles/{style}.json")
    raw["steps"] = [
        step
        for step in raw["steps"]
        if not str(step.get("from", "")).startswith("addition/")
        and "at_hem" not in step.get("when", "")
        and step.get("step") != "lap_of_buttons"
    ]
    known = {a.name for n in styles.additions() for a in styles.origin(n).amounts}
    raw["amounts"] = [a for a in raw["amounts"] if a["name"] not in known]
    raw["amounts"] = [a for a in raw["amounts"] if a["name"] != "underlap"]
    text = json.dumps(raw)
    for option in ("flounce", "godets_behind", "train"):
        for said in (f" and not at_hem is {option}", f"not at_hem is {option} and "):
            text = text.replace(said, "")
    text = text.replace('"when": "not at_hem is train", ', "")
    text = text.replace(" or closing is buttons_front", "")
    plain = json.loads(re.sub(r'"[^"]* if at_hem is train else ', '"', text))
    bare = reported(styles.whole(draft_of(plain, style), style), SAMPLE)
    told, expected = as_read(style, SAMPLE), as_json(bare)
    for key in ("pieces", "seams", "finished"):
        assert told[key] == expected[key]


@pytest.mark.parametrize(
    ("style", "fullness"), [("straight", 1.5), ("a-line", 2.5), ("mermaid", 2.0)]
)
def test_a_flounce_is_a_sector_of_a_ring(style, fullness):
    """Baldt (1916): radius of the inner edge is line x depth / (hem less line)."""
    depth = 160.0
    told = reported(
        style, SAMPLE, at_hem="flounce", flounce_depth=depth, flounce_fullness=fullness
    )
    panels = told.worked.values
    line = sum(2 * panels[name].edge("hem").chain.length for name in ("front", "back"))
    assert told.finished["sweep"] == pytest.approx(fullness * line, abs=0.1)
    radius = line * depth / (fullness * line - line)
    turned = 0.0
    for name in ("front_flounce", "back_flounce"):
        inner, outer = (panels[name].edge(e).chain for e in ("inner", "hem"))
        turned += 2 * (outer.length - inner.length) / depth
        assert inner.length / ((outer.length - inner.length) / depth) == pytest.approx(
            radius, abs=0.1
        )
    assert turned == pytest.approx(line / radius, abs=1e-3)


@pytest.mark.parametrize(
    ("style", "added", "count"),
    [
        ("straight", "godets", 2),
        ("a-line", "godets_behind", 3),
        ("mermaid", "godets", 2),
    ],
)
def test_godets_add_their_arcs_and_stop_the_seam_at_their_points(style, added, count):
    plain = reported(style, SAMPLE)
    told = reported(style, SAMPLE, at_hem=added, godet_height=200.0, godet_angle=45.0)
    arcs = count * 200 * math.radians(45)
    assert told.finished["sweep"] - plain.finished["sweep"] == pytest.approx(
        arcs, abs=0.1
    )
    seams = {walked.seam.name: walked for walked in told.cut.seams}
    for name in ("godet_front", "godet_back"):
        assert seams[name].lengths == pytest.approx((200, 200), abs=0.1)
    before = next(w for w in plain.cut.seams if w.seam.name == "side").lengths[0]
    assert seams["side"].lengths[0] == pytest.approx(before - 200, abs=0.1)


@pytest.mark.parametrize("named", [*AT_THE_HEM, "patch"])
def test_the_sheet_tells_the_skirt_as_long_down_the_back_as_it_is(named):
    """A seam goes on down a godet, and down a flounce."""
    added = ADDED[named]
    backs = [
        facts_of(reported("mermaid", SAMPLE, **chosen)).values["skirt_back"]
        for chosen in ({}, added)
    ]
    assert backs[1] == pytest.approx(backs[0], abs=0.5)


def test_room_to_walk_is_that_of_the_skirt_above_the_addition():
    """A flounce frees no stride above its line, a godet none above its point."""
    for added, reach in (
        ("flounce", {"flounce_depth": 80.0, "flounce_fullness": 1.6}),
        ("godets", {"godet_height": 150.0}),
    ):
        taller, lower = (
            reported("straight", SAMPLE, at_hem=added, length=length, **reach)
            for length in (600.0, 850.0)
        )
        steps = [told.finished["step_allowed"] for told in (taller, lower)]
        assert steps[1] < steps[0] - 100


@pytest.mark.parametrize("style", TAKING)
def test_slits_open_the_skirt_from_their_tops_down(style):
    """The seam is as long as before, marked where it stops; below it nothing binds."""
    plain, told = (reported(style, SAMPLE, at_hem=at) for at in ("none", "slits"))
    assert told.finished["step_allowed"] > plain.finished["step_allowed"] + 20
    slit = told.worked.stated.amounts["slit_length"].value
    sides = [
        next(w.lengths for w in told.cut.seams if w.seam.name == "side")
        for told in (plain, told)
    ]
    assert sides[0] == pytest.approx(sides[1])
    for name in ("front", "back"):
        piece = next(p for p in told.cut.pieces if p.name == name)
        places = [n.distance for n in piece.notches if n.edge == "side" and not n.dart]
        assert any(abs(sides[1][0] - slit - at) < 0.1 for at in places)


@pytest.mark.parametrize("named", ["flounce", "godet", "slit"])
def test_a_lining_is_left_open_as_high_as_the_skirt_is_freed(named):
    """One that hangs straight to the hem would bind what the addition frees."""
    told = reported("straight", SAMPLE, length=950.0, lining="lined", **ADDED[named])
    assert not [p.code for p in told.problems if p.code.startswith("check.lining_step")]
    amounts = told.worked.stated.amounts
    high = {"flounce": "flounce_depth", "godet": "godet_height", "slit": "slit_length"}
    open_to = facts_of(told).values["lining_side_slits"]
    assert open_to == pytest.approx(amounts[high[named]].value)


@pytest.mark.parametrize("length", ["least", "value"])
def test_slits_of_a_mermaid_begin_where_she_steps(length):
    """At their shortest too they reach up to where it binds; above, thighs fill it."""
    body = SAMPLE | {"waist": 612.0, "hip": 871.0, "waist_to_knee": 552.0}
    stated = work("mermaid", body, at_hem="slits").stated.amounts
    slit = getattr(stated["slit_length"], length)
    told = reported("mermaid", body, at_hem="slits", slit_length=slit)
    assert "check.vent_top" not in {problem.code for problem in told.problems}


def test_a_slit_where_any_step_is_free_need_not_begin_higher():
    told = reported("trumpet", SAMPLE, at_hem="slits", length=750.0)
    assert told.finished["step_allowed"] > 700
    assert "check.vent_top" not in {problem.code for problem in told.problems}


@pytest.mark.parametrize("shape", ["smooth", "late"])
@pytest.mark.parametrize("style", ["straight", "a-line"])
def test_a_hem_that_drops_keeps_its_side(style, shape):
    """Level at both centres; the whole way down at once is 3 u² - 2 u³ of it."""
    drop = 180.0
    chosen = {"at_hem": "dropped", "slope_drop": drop, "slope_shape": shape}
    plain, told = reported(style, SAMPLE), reported(style, SAMPLE, **chosen)
    before, after = plain.worked.values, told.worked.values
    lower = {
        name: after[name].edge("centre").chain.length
        - before[name].edge("centre").chain.length
        for name in ("front", "back", "front_lining", "back_lining")
    }
    assert lower["back"] - lower["front"] == pytest.approx(drop, abs=0.01)
    assert lower["back_lining"] - lower["front_lining"] == pytest.approx(drop, abs=0.01)
    assert told.finished["length"] == pytest.approx(600, abs=0.01)
    front, back = (before[name].edge("hem").chain.length for name in ("front", "back"))
    way = (front / (front + back)) ** (1 if shape == "smooth" else 2)
    assert lower["front"] == pytest.approx(-drop * way * way * (3 - 2 * way), abs=0.1)
    steps = [one.finished["step_allowed"] for one in (plain, told)]
    assert steps[1] == pytest.approx(steps[0])


@pytest.mark.parametrize(("style", "on"), [("straight", "front"), ("wrap", "back")])
def test_a_patch_pocket_lies_below_the_darts(style, on):
    """On the back of a wrap, where nothing laps over it."""
    told = reported(style, SAMPLE, patch_pocket="front")
    front = told.worked.values[on]
    outline = next(mark for mark in front.marks if mark.name == "patch[1]").shape
    tips = [dart.tip.y for dart in front.darts]
    corners = [segment.start for segment in outline.segments]
    corners.append(outline.end)
    assert max(at.y for at in corners) < min(tips)
    assert min(at.x for at in corners) > 0
    pocket = next(p for p in told.cut.pieces if p.name == "patch_piece")
    assert pocket.spec.count == 2
    wide = told.worked.stated.amounts["patch_width"].value
    across = max(at.x for at in corners) - min(at.x for at in corners)
    assert across == pytest.approx(wide, abs=0.01)
    drawn = next(p for p in told.cut.pieces if p.name == on).inside
    assert ("patch[1]", outline) in drawn


@pytest.mark.parametrize("style", TAKING)
def test_a_slanted_pocket_stays_open_and_the_skirt_is_as_without_it(style):
    """Its edge is sewn to the bag alone, and hip piece and front make up the front."""
    plain, told = reported(style, SAMPLE), reported(style, SAMPLE, pocket="slanted")
    assert told.finished == plain.finished
    seams = {walked.seam.name: walked for walked in told.cut.seams}
    edge = next(p for p in told.cut.pieces if p.name == "front").panel.edge("slant")
    sewn = {
        run.key
        for walked in told.cut.seams
        for first, *rest in [[run for side in walked.seam.sides for run in side]]
        if ("front", "slant") in {run.key for run in (first, *rest)}
        for run in (first, *rest)
    }
    assert sewn == {("front", "slant"), ("slant_pocket", "slant")}
    amounts = told.worked.stated.amounts
    across, down = (amounts[n].value for n in ("slant_in", "slant_depth"))
    assert math.hypot(across, down) < edge.chain.length < across + down
    runs = seams["side"].seam.sides[0]
    assert [run.piece for run in runs] == ["slant_hip", "front"]
    walked = [
        next(p for p in told.cut.pieces if p.name == run.piece)
        .panel.edge(run.edge)
        .chain.length
        for run in runs
    ]
    assert walked[0] == pytest.approx(down, abs=0.01)
    assert seams["side"].lengths == pytest.approx((sum(walked), sum(walked)), abs=0.1)
    # What was marked on the side stays where it was, on whichever piece that is.
    places = [
        {round(n.distance) for n in piece.notches if n.edge == "side" and not n.dart}
        for report in (plain, told)
        for piece in report.cut.pieces
        if piece.name == "back"
    ]
    assert places[1] == places[0] | {round(down)}


@pytest.mark.parametrize("style", TAKING)
def test_an_overlay_is_of_a_fourth_cloth_and_its_hem_is_walked_in(style):
    """Shaped as the skirt to the hip; what it lets her step is told with the skirt."""
    plain = reported(style, SAMPLE)
    told = reported(style, SAMPLE, overlay="over_skirt", overlay_shorter=50.0)
    assert told.finished["waist"] == plain.finished["waist"]
    cloths = {p.name: p.spec.material for p in told.cut.pieces}
    assert {n for n, c in cloths.items() if c == "overlay"} == {
        "front_overlay",
        "back_overlay",
    }
    seams = {walked.seam.name: walked for walked in told.cut.seams}
    assert seams["overlay_side"].lengths == pytest.approx(
        (550 if style != "mermaid" else 900,) * 2, abs=0.1
    )
    assert seams["overlay_waist"].lengths == pytest.approx((735 / 2,) * 2, abs=0.1)
    rows = facts_of(told).values
    assert (rows["overlay"], rows["overlay_shorter"]) == (1, 50)


def test_an_overlay_binds_as_it_is_narrow():
    """Slits free the skirt; the layer over it, shaped as it is, binds as it did shut.

    Through it nobody reaches a pocket.
    """
    shape = {"length": 900.0, "hem_taper": 5.0}
    over = {"overlay": "over_skirt", "overlay_flare": 0.0, "pocket": "slanted"}
    shut = reported("straight", SAMPLE, **shape)
    told = reported("straight", SAMPLE, at_hem="slits", **shape, **over)
    assert told.finished["step_allowed"] == shut.finished["step_allowed"]
    assert set(shut.skirt.levels[-2:]) <= set(told.skirt.levels)
    assert "style.overlay_over_pockets" in {problem.code for problem in told.problems}
    told = reported("mermaid", SAMPLE, at_hem="slits", overlay="over_skirt")
    assert told.refusals[0].code == "style.overlay_binds"


@pytest.mark.parametrize(
    ("chosen", "code"),
    [
        (
            {"pocket": "slanted", "waist_shape": "side_elastic"},
            "style.slant_needs_darts",
        ),
        (
            {"pocket": "slanted", "closing": "zip_left_side"},
            "style.slant_at_opening",
        ),
        (
            {**ADDED["stand"], "waist_shape": "side_elastic"},
            "style.stand_needs_darts",
        ),
        ({**ADDED["stand"], **ADDED["slant"]}, "style.stand_takes_no_slant"),
        ({**ADDED["stand"], **ADDED["overlay"]}, "style.stand_takes_no_overlay"),
        ({**ADDED["stand"], **ADDED["train"]}, "style.stand_takes_no_hem"),
        ({**ADDED["stand"], "stand_open": 450.0}, "style.stand_shuts"),
        ({**ADDED["stand"], "stand_button": 4.0}, "style.stand_buttons_small"),
        ({**ADDED["stand"], "stand_gap": 29.0}, "style.stand_buttons_near"),
        ({**ADDED["stand"], "stand_button": 90.0}, "style.stand_too_wide"),
        ({**ADDED["stand"], "stand_width": 9.0}, "style.stand_fits"),
        ({**ADDED["stand"], "stand_facing_width": 30.0}, "style.stand_facing_fits"),
        ({**ADDED["stand"], "dart_place_front": 40.0}, "style.stand_meets_dart"),
    ],
)
def test_what_does_not_go_together_is_refused_with_a_reason(chosen, code):
    told = reported("straight", SAMPLE, **chosen)
    assert code in {problem.code for problem in told.refusals}


@pytest.mark.parametrize(
    ("style", "how", "below"),
    [
        ("straight", {"lining": "unlined", "stand_gap": 70.0}, 150),
        ("a-line", {"buttonholes": "upright", "stand_width": 30.0}, 150),
        ("a-line", {"finish": "facing", "stand_open": 60.0}, 60),
    ],
)
def test_a_front_is_buttoned_down_its_centre(style, how, below):
    """Wider by the stand alone; facing and lining make up what lies behind it."""
    plain = reported(style, SAMPLE)
    told = reported(style, SAMPLE, closing="buttons_front", **how)
    for name in ("waist", "hip", "sweep", "length"):
        assert told.finished[name] == pytest.approx(plain.finished[name], abs=0.01)
    assert told.finished["step_allowed"] >= plain.finished["step_allowed"] - 0.01
    cut = {piece.name: piece for piece in told.cut.pieces}
    seams = {walked.seam.name: walked for walked in told.cut.seams}
    front, facing = cut["front"], cut["stand_facing"]
    assert (front.spec.count, front.spec.mirrored, front.spec.folds) == (2, True, ())
    for piece in (front, facing):
        roles = {edge.name: edge.role for edge in piece.edges}
        assert roles["front_edge"] == "opening"
        assert "centre" not in roles
    stand = how.get("stand_width", 20.0)
    was = next(piece for piece in plain.cut.pieces if piece.name == "front").panel
    assert front.panel.edge("waist").chain.length == pytest.approx(
        was.edge("waist").chain.length + stand, abs=0.01
    )
    assert seams["stand_edge"].lengths[0] == pytest.approx(
        was.edge("centre").chain.length, abs=0.01
    )
    if "finish" not in how:
        joined = seams["waistband"].lengths[1]
        assert joined == pytest.approx(735 + 2 * stand - 5, abs=0.1)
    if "lining" not in how:
        behind = [(facing, "waist"), (cut["front_lining"], "waist")]
        assert sum(
            piece.panel.edge(edge).chain.length for piece, edge in behind
        ) == pytest.approx(front.panel.edge("waist").chain.length, abs=0.01)
    marks = dict(front.inside)
    centre = was.edge("centre").chain
    buttons = [
        marks[name].start.y if hasattr(marks[name], "start") else marks[name].y
        for name in sorted(marks, key=len)
        if name.startswith("button[")
    ]
    gaps = [high - low for high, low in itertools.pairwise(buttons)]
    assert gaps == pytest.approx([gaps[0]] * len(gaps))
    assert gaps[0] <= how.get("stand_gap", 90.0)
    assert min(abs(y) for y in buttons) == pytest.approx(0, abs=0.01)
    above = buttons[-1] - centre.end.y
    assert below - 0.01 <= above < below + gaps[0]
    holes = [shape for name, shape in front.inside if name.startswith("buttonhole[")]
    assert len(holes) == len(buttons)
    assert all(hole.length == pytest.approx(23) for hole in holes)
    facts = facts_of(told).values
    assert facts["buttons"] == len(buttons) + ("finish" not in how)


@pytest.mark.parametrize(("right", "fitting"), [(220, ()), (195, (TAKEN_IN,))])
def test_no_dart_is_left_in_the_bags_of_a_slanted_pocket(right, fitting):
    """They lie flat behind the front: round them runs one line without a corner."""
    body = {"waist": 740, "hip": 1040, "waist_to_knee": 590, "waist_to_hip": 205}
    job = new_job(styles.style("straight")).replace(fitting=fitting)
    for name, taken in {**body, "waist_to_hip_right": right}.items():
        job = edits.set_measurement(job, name, str(taken / 10)).job
    told = look_of(edits.set_choice(job, "pocket", "slanted").job).report
    bags = [p.panel for p in told.cut.pieces if p.name.startswith("slant_")]
    assert len(bags) == 4
    for bag in bags:
        assert not bag.darts
        assert fairness(bag.edge("round").chain).corner_deg < 1


@pytest.mark.parametrize("added", ["flounce", "godets_behind", "slits"])
def test_a_vent_and_an_addition_at_one_hem_are_refused(added):
    told = reported("straight", SAMPLE, at_hem=added, vent="vent")
    assert "style.hem_taken" in {problem.code for problem in told.problems}


@pytest.mark.parametrize("added", [{}, {"at_hem": "godets"}, {"at_hem": "flounce"}])
def test_patch_pockets_too_low_are_told_by_the_front_as_it_is(added):
    """Godets shorten the side seam, not the front they lie on."""
    told = reported("straight", SAMPLE, patch_pocket="front", **added)
    assert "style.patch_fits" not in {problem.code for problem in told.problems}
    low = reported(
        "straight", SAMPLE, patch_pocket="front", patch_height=480.0, **added
    )
    (said,) = [p for p in low.problems if p.code == "style.patch_fits"]
    front = low.worked.values["front"].edge("centre").chain.length
    assert said.values["front"] == pytest.approx(front)
    assert said.values["foot"] > front - 30


def test_a_skirt_too_short_for_what_is_added_is_told_how_long_it_must_be():
    """Said in one number that would do, never between two that are no range."""
    for added, reach in (
        ("flounce", {"flounce_depth": 260.0}),
        ("godets", {"godet_height": 280.0}),
        ("slits", {"slit_length": 280.0}),
    ):
        short = reported("straight", SAMPLE, at_hem=added, length=460.0, **reach)
        (said,) = [p for p in short.problems if p.stops]
        least = said.values["least"]
        longer = reported("straight", SAMPLE, at_hem=added, length=least, **reach)
        assert not [p for p in longer.problems if p.stops], added


@pytest.mark.parametrize("style", TAKING)
def test_a_train_lies_on_the_floor_behind_and_clears_it_elsewhere(style):
    """The back as long as the way to the floor and the train; the sides 2 cm clear."""
    asked = {"at_hem": "train", "train_length": 400.0}
    plain, told = reported(style, SAMPLE), reported(style, SAMPLE, **asked)
    floor = told.worked.values["waist_to_floor_back"]
    back = told.worked.values["back"].edge("centre").chain.length
    assert back == pytest.approx(floor + 400, abs=0.1)
    assert told.finished["length"] == pytest.approx(
        told.worked.values["waist_to_floor_side"] - 20, abs=0.1
    )
    for name in ("waist", "hip"):
        assert told.finished[name] == pytest.approx(plain.finished[name], abs=0.01)
    assert "check.train" in {problem.code for problem in told.problems}
    making = facts_of(told).values
    assert (making["train"], making["train_loop"]) == (400, 1)
    front = next(p for p in told.cut.pieces if p.name == "front")
    assert next(e for e in front.edges if e.name == "hem").allowance == 10


@pytest.mark.parametrize(
    ("panels", "code"),
    [
        ({"front": "front_skirt", "bakc": "back_skirt"}, "draft.panel_not_named"),
        ({"front": "front_skrit", "back": "back_skirt"}, "draft.nothing_called_near"),
    ],
)
def test_a_panel_that_is_meant_and_misspelt_is_refused(panels, code):
    raw = shelf.read_json("styles/yoke.json")
    next(s for s in raw["steps"] if s.get("from") == "addition/slits")["panels"] = (
        panels
    )
    with pytest.raises(BadInput) as caught:
        styles.whole(draft_of(raw, "mine"), "mine")
    assert caught.value.problem.code == code


def test_a_name_misspelt_where_it_is_made_is_not_advised():
    """Nobody knows which of two is the slip: both are named."""
    whole = styles.style("a-line").model_dump_json(by_alias=True)
    once = whole.replace('"back_overlay"', '"bakc_overlay"', 1)
    with pytest.raises(BadInput) as caught:
        styles.read_draft(once, "mine")
    assert "back_overlay or bakc_overlay" in remedy(caught.value.problem)


def test_panels_are_meant_only_where_something_is_taken_in():
    raw = shelf.read_json("styles/yoke.json")
    fitted = next(s for s in raw["steps"] if s.get("group") == "fitted")
    fitted["panels"] = {"front": "front_skirt"}
    with pytest.raises(BadInput) as caught:
        draft_of(raw, "mine")
    assert caught.value.problem.code == "draft.panels_of_nothing"


def test_a_style_of_hers_says_what_it_changes_in_its_own_pieces():
    raw = shelf.read_json("styles/straight.json")
    raw["adds"] = [{"when": "vent is none", "edges": {}}]
    with pytest.raises(BadInput) as caught:
        styles.whole(draft_of(raw, "mine"), "mine")
    assert caught.value.problem.code == "draft.adds_to_nothing"


def test_what_a_style_tells_may_be_as_long_as_any_working():
    """Written together with what the addition tells, it is longer than may be typed."""
    raw = shelf.read_json("styles/straight.json")
    length = " + ".join([raw["finished"]["length"], *["0 * walk(front.side)"] * 20])
    raw["finished"]["length"] = length
    draft = styles.read_draft(json.dumps(raw), "mine.skirt")
    assert max(map(len, draft.finished.values())) > 500 > len(length)
    chosen = edits.set_choice(new_job(draft), "at_hem", "flounce").job
    plain = edits.set_choice(new_job(styles.style("straight")), "at_hem", "flounce").job
    assert (
        look_of(chosen).report.finished["length"]
        == look_of(plain).report.finished["length"]
    )


def test_a_mermaid_with_a_flounce_is_the_mermaid_that_takes_one_in():
    mermaid = as_read("mermaid", SAMPLE, at_hem="flounce")
    kept = as_read("mermaid-flounce", SAMPLE)
    for key in ("pieces", "seams", "finished"):
        assert kept[key] == mermaid[key]


@pytest.mark.parametrize(
    ("amount", "named"),
    [
        ({"flounce_fullness": 999.0}, "flounce_goes_round"),
        ({"flounce_fullness": 12.0}, "flounce_goes_round"),
        ({"flounce_gather": 999.0}, "too_much_drawn_up"),
    ],
    ids=str,
)
def test_a_flounce_no_ring_can_be_is_refused_before_it_is_drawn(amount, named):
    told = reported("straight", SAMPLE, at_hem="flounce", **amount)
    assert told.refusals[0].code == f"style.{named}"


def test_a_flounce_is_drawn_up_to_the_fullness_its_refusal_names():
    asked = {"at_hem": "flounce", "flounce_fullness": 12.0}
    most = reported("straight", SAMPLE, **asked).refusals[0].values["most"]
    asked["flounce_fullness"] = most
    assert not reported("straight", SAMPLE, **asked).refusals


@pytest.mark.parametrize(
    ("field", "right", "wrong"),
    [
        ("edges", "front.hem", "fornt.hem"),
        ("goes_on", "front.side", "front.sied"),
        ("finished", "sweep", "swep"),
        ("checks", "front_length", "front_lenght"),
    ],
)
def test_what_an_addition_changes_is_there_or_it_is_refused(field, right, wrong):
    raw = shelf.read_json("additions/flounce.json")
    changed = raw["adds"][0][field]
    changed[wrong] = changed.pop(right)
    flounce = draft_of(raw, "flounce")

    def find(name):
        return flounce if name == "addition/flounce" else styles.origin(name)

    straight = take(Draft, shelf.read_json("styles/straight.json"))
    grown = styles.with_origins(straight, find)
    with pytest.raises(BadInput) as caught:
        styles.check_additions(grown, find, "straight")
    assert caught.value.problem.where == f"adds.{field}"
    assert wrong.partition(".")[0] in str(caught.value.problem.values["name"])


def test_an_addition_taken_in_twice_is_refused():
    raw = shelf.read_json("styles/straight.json")
    raw["steps"].append({"group": "again", "from": "addition/flounce"})
    with pytest.raises(BadInput) as caught:
        draft_of(raw, "straight")
    assert caught.value.problem.code == "draft.listed_twice"


@pytest.mark.parametrize(("pleats", "share"), [(2, 0.3), (4, 0.5), (8, 0.65)])
def test_pleats_below_a_yoke_are_folded_to_its_edge(pleats, share):
    """They take up twice their depth of all that is sewn to the yoke, and hang upright.

    Upright within half a degree: the yoke line is hollow, and its depth slopes.
    """
    plain = reported("yoke", SAMPLE)
    told = reported(
        "yoke", SAMPLE, below_yoke="pleats", yoke_pleats=pleats, yoke_pleat_share=share
    )
    must_be_sewable(told, SAMPLE, 600.0)
    assert not list(faults(told))
    around = 0.0
    for half in ("front", "back"):
        (walked,) = [w for w in told.cut.seams if w.seam.name == f"yoke_{half}"]
        around += 2 * walked.lengths[1]
        for number in range(1, pleats + 1):
            fold = told.worked.values[f"{half}_skirt"].mark(f"pleat[{number}].fold")
            aslant = abs(fold.shape.end.x - fold.shape.start.x)
            assert aslant < fold.shape.length * math.sin(math.radians(0.5))
    assert told.finished["sweep"] == pytest.approx(
        plain.finished["sweep"] + 2 * share * around, abs=1.0
    )


@pytest.mark.parametrize(
    ("more", "code"),
    [
        ({"at_hem": "flounce"}, "style.pleats_take_no_hem"),
        ({"yoke_depth_front": 50.0}, "style.dart_under_pleats"),
        ({"yoke_pleats": 9}, "style.pleats_are_whole"),
    ],
)
def test_pleats_that_do_not_hang_from_a_yoke_are_refused(more, code):
    told = reported("yoke", SAMPLE, below_yoke="pleats", **more)
    assert next(p.code for p in told.problems if p.stops) == code
