"""Add-ons: openings, pockets, vents, kick pleats, ties.

Rules and figures: common practice, no source, each beside its
test; "common practice" has no other source. Lengths in mm, in drafts cm.
"""

from __future__ import annotations

from itertools import pairwise

import pytest

from bodies import FIVE, HOUSE, SAMPLE
from drafting import (
    draft_of,
    length_of,
    pieces,
    reported,
    seam,
    small,
    square_panel,
    work,
)
from options import CLOSINGS, TOGETHER, unsewable, wrong_of
from skirtwright.draft import styles
from skirtwright.draft.step import Reads

BODIES = [SAMPLE, *({**HOUSE, **body} for body in FIVE.values())]
SOLD = (150, 180, 200, 220, 250, 300)
"""Lengths zips are sold in."""

NUMBERED = [(number, *tried) for number, tried in enumerate(TOGETHER)]


def cut_list(report):
    return {p.name: (p.spec.material, p.spec.count) for p in report.cut.pieces}


def marks(report, piece, edge):
    return [
        (pytest.approx(n.distance, abs=0.01), n.count)
        for n in pieces(report)[piece].notches
        if n.edge == edge and not n.dart
    ]


def zip_ends(report, piece, edge):
    """Marks of two snips; long seams have balance marks of their own besides."""
    return [mark for mark in marks(report, piece, edge) if mark[1] == 2]


def widths(report, piece, edge):
    """Allowances along an edge: width and how far each goes."""
    found = next(e for e in pieces(report)[piece].edges if e.name == edge)
    return found.allowances


def codes(report):
    return {problem.code for problem in report.problems}


# Openings


@pytest.mark.parametrize(
    ("depth", "sold"),
    [
        (150, 150),
        (170, 150),
        (180, 180),
        (200, 180),
        (210, 200),
        (220, 200),
        (240, 220),
        (250, 250),
        (270, 250),
        (280, 300),
    ],
)
def test_zip_lengths(depth, sold):
    """Depth at the seam less 2, up to a sold length."""
    body = {**HOUSE, "waist_to_hip": float(depth)}
    side = work("straight", body, closing="zip_left_side")
    assert length_of(side, "zip_length") == pytest.approx(sold)
    behind = work("straight", body)
    lower = length_of(behind, "centre_back_below")
    needed = depth - 20 - lower
    wanted = next(length for length in SOLD if length >= needed - 1e-6)
    assert length_of(behind, "zip_length") == pytest.approx(wanted)


@pytest.mark.parametrize("depth", range(150, 290, 20))
def test_an_invisible_zip_is_bought_longer(depth):
    """2.5 to 4 longer; an 8 in zip gave 6.5 (common practice, no source)."""
    body = {**HOUSE, "waist_to_hip": float(depth)}
    worked = work("straight", body, zip_kind="invisible")
    more = length_of(worked, "zip_to_buy") - length_of(worked, "zip_length")
    assert more >= 25
    assert length_of(worked, "zip_to_buy") in [*SOLD, 350.0]


def test_a_7_in_zip_is_too_short_for_a_depth_of_28():
    """Common practice, no source."""
    body = {**SAMPLE, "waist_to_hip": 280.0}
    short = reported("straight", body, zip_length=7 * 25.4)
    assert "check.opening_short" in codes(short)
    assert "check.opening_short" not in codes(reported("straight", body))


@pytest.mark.parametrize("kind", ["lapped", "centred", "invisible"])
@pytest.mark.parametrize("body", BODIES)
def test_a_zip_by_rule_lets_the_hip_through(body, kind):
    """Its foot, shut, is the hip and 2; b: 2 above the hip line."""
    for closing in ("zip_centre_back", "zip_left_side"):
        told = reported("straight", body, closing=closing, zip_kind=kind)
        assert not {"check.opening", "check.opening_short"} & codes(told)


@pytest.mark.parametrize("depth", range(150, 301, 15))
def test_buttoned_placket(depth):
    """Button and 1.5; buttons every 6 to 9, one at the hip line.

    The first of the equal gaps is to the waistband's own fastening.
    """
    body = {**HOUSE, "waist_to_hip": float(depth)}
    told = reported("straight", body, closing="placket_left_side", button_size=18.0)
    worked = told.worked
    assert length_of(worked, "button_extension") == pytest.approx(33)
    count = worked.read("buttons", Reads.RATIO)
    gap = length_of(worked, "button_gap")
    assert 60 <= gap <= 90
    assert count * gap == pytest.approx(depth)
    panels = worked.values
    buttons = [m.shape for m in panels["placket_underlap"].marks if m.name != "fold"]
    holes = [m.shape for m in panels["placket_facing"].marks]
    assert len(buttons) == len(holes) == count
    whole = length_of(worked, "opening_length")
    for number, (button, hole) in enumerate(zip(buttons, holes, strict=True), 1):
        assert whole - button.y == pytest.approx(number * gap)
        assert hole.start.y == pytest.approx(button.y)
        # From 0.3 before the button's middle to its whole width behind it.
        assert hole.length == pytest.approx(18 + 3)
        assert button.x == pytest.approx(33 / 2)
    assert (
        cut_list(told).items()
        >= {
            "placket_facing": ("shell", 1),
            "placket_underlap": ("shell", 1),
            "placket_interfacing": ("interfacing", 2),
        }.items()
    )
    assert "zip_strip" not in cut_list(told)


def test_the_placket_is_as_wide_as_its_extension():
    told = reported("straight", SAMPLE, closing="placket_centre_back")
    over, under = (pieces(told)[f"placket_{n}"].panel for n in ("facing", "underlap"))
    # The facing goes on past the buttonholes, which are as long as the button and 0.3.
    assert over.edge("foot").chain.length == pytest.approx(30 + 10)
    assert max(m.shape.end.x for m in over.marks) == pytest.approx(30)
    assert under.edge("foot").chain.length == pytest.approx(60)
    opening = length_of(told.worked, "opening_length")
    assert over.edge("left").chain.length == pytest.approx(opening)
    stiff = pieces(told)["placket_interfacing"]
    assert stiff.cut_area == pytest.approx(40 * opening)
    line = told.worked.values["back_lining"].mark("zip_clear[1]").shape
    centre = told.worked.values["back_lining"].edge("centre").chain
    assert centre.nearest(line.start)[1] == pytest.approx(30 + 5, abs=0.2)


@pytest.mark.parametrize(
    ("closing", "width"),
    [("zip_left_side", 25), ("placket_left_side", 12)],
)
def test_an_opening_in_the_left_side_seam(closing, width):
    """The zip's allowance to 3 below it, then the seam's own."""
    told = reported("straight", SAMPLE, closing=closing)
    end = length_of(told.worked, "side_opening_end")
    for piece in ("front", "back"):
        run = widths(told, piece, "side")
        assert [round(w) for w, _ in run] == [width, 20]
        assert run[0][1] == pytest.approx(end + 30)
        assert (end, 2) in marks(told, piece, "side")
    # The centre back is a plain seam.
    assert [w for w, _ in widths(told, "back", "centre")] == [20]
    assert zip_ends(told, "back", "centre") == []
    assert not wrong_of(told)


def test_the_opening_behind_leaves_the_sides_alone():
    told = reported("straight", SAMPLE)
    assert [w for w, _ in widths(told, "front", "side")] == [20]
    assert [w for w, _ in widths(told, "back", "centre")] == [25, 20]
    assert zip_ends(told, "back", "centre") == [(180, 2)]


def test_the_band_begins_where_the_skirt_opens():
    """The front laps over, so that the underlap lies at the back.

    From the left back: centre back, right side, centre front, left front.
    """
    told = reported("straight", SAMPLE, closing="zip_left_side")
    back, front = (
        told.worked.values[n].edge("waist").chain.length for n in ("back", "front")
    )
    share = (2 * (back + front) - 5) / (2 * (back + front))
    wanted = [0, back, 2 * back, 2 * back + front, 2 * (back + front)]
    found = [distance for distance, _ in marks(told, "band", "joins")]
    assert [w * share for w in wanted] == found
    assert abs(seam(told, "waistband").difference) < 0.1


def test_the_lining_is_open_where_the_skirt_is():
    """1.3 clear of the zip, its seam open 1 longer."""
    told = reported("straight", SAMPLE, closing="zip_left_side")
    end = length_of(told.worked, "side_opening_end")
    for name in ("front_lining", "back_lining"):
        assert (end + 10, 2) in marks(told, name, "side")
        lining = told.worked.values[name]
        line, side = lining.mark("zip_clear[1]").shape, lining.edge("side").chain
        gaps = [side.nearest(s.start)[1] for s in line.segments[:-1]]
        assert gaps == pytest.approx([13] * len(gaps), abs=1.0)
        assert line.end.is_at(side.at(end + 10))
    assert zip_ends(told, "back_lining", "centre") == []


@pytest.mark.parametrize("depth", [180.0, 205.0, 190.0])
def test_the_end_of_an_opening_is_not_mistaken_for_the_hip_line(depth):
    """Where both lie within 1.2 only the opening's two snips are made."""
    body = {**HOUSE, "waist_to_hip": depth}
    told = reported("straight", body, closing="zip_left_side")
    for piece in ("front", "back"):
        places = [n.distance for n in pieces(told)[piece].notches if n.edge == "side"]
        assert all(b - a >= 12 for a, b in pairwise(sorted(places)))
        assert len(zip_ends(told, piece, "side")) == 1
    assert not wrong_of(told)


def test_elastic_at_the_sides_and_a_side_opening_do_not_go_together():
    told = reported(
        "straight", SAMPLE, waist_shape="side_elastic", closing="zip_left_side"
    )
    assert "style.side_opens" in codes(told)
    assert told.refusals


@pytest.mark.parametrize("style", ["straight", "a-line"])
def test_with_a_side_opening_the_back_may_be_cut_whole(style):
    """Nothing is added on a fold."""
    told = reported(style, SAMPLE, closing="zip_left_side", back_cut="fold")
    back = pieces(told)["back"]
    assert (back.spec.count, back.spec.folds) == (1, ("centre",))
    assert not [w for w in told.cut.seams if w.seam.name == "centre_back"]
    assert not wrong_of(told)
    # Behind a zip at the centre back it has its seam whatever was chosen.
    behind = reported(style, SAMPLE, back_cut="fold")
    assert pieces(behind)["back"].spec.count == 2
    elastic = reported(style, SAMPLE, back_cut="fold", waist_shape="side_elastic")
    assert not elastic.refusals


@pytest.mark.parametrize("place", ["centre_back", "both"])
def test_with_a_pleat_behind_the_opening_goes_to_the_side(place):
    told = reported("inverted-pleat", SAMPLE, place=place)
    assert length_of(told.worked, "opening_end") == 0
    assert length_of(told.worked, "side_opening_end") == pytest.approx(180)
    assert (180, 2) in marks(told, "front", "side")
    assert not wrong_of(told)


def test_a_finishing_adds_its_marks_to_the_styles_seam():
    """The side seam is the style's; what is taken in marks it, under its conditions."""
    own = {"name": "down", "sides": [["panel.left"], ["panel.right"]]}
    told = {
        "group": "in",
        "when": "deep > 0",
        "steps": [{"group": "p", "from": "part", "pieces": True}],
    }
    part = small(
        {"step": "n", "kind": "number", "value": "1"},
        seams=[{**own, "notches": [{"at": "panel.left at 5", "count": 2}]}],
    )
    mark = {"at": "panel.left at 9"}
    draft = small(
        *square_panel(),
        seams=[{**own, "notches": [mark]}],
        amounts=[("deep", "1")],
    )
    grown = styles.with_origins(
        type(draft).model_validate(
            {
                **draft.model_dump(by_alias=True, exclude_unset=True),
                "steps": [
                    *draft.model_dump(by_alias=True, exclude_unset=True)["steps"],
                    told,
                ],
            }
        ),
        lambda _: part,
    )
    (found,) = grown.seams
    assert [(n.at, n.count, n.when) for n in found.notches] == [
        ("panel.left at 9", 1, None),
        ("panel.left at 5", 2, "deep > 0"),
    ]


@pytest.mark.parametrize("style", ["yoke", "half-circle-yoke"])
def test_marks_from_the_waist_go_on_below_a_yoke(style):
    """The side seam begins in the yoke, wherever the skirt below it is drawn."""
    told = reported(style, SAMPLE, closing="zip_left_side")
    end = length_of(told.worked, "side_opening_end")
    for piece in ("front", "back"):
        yoke = told.worked.values[f"{piece}_yoke"].edge("side").chain.length
        assert zip_ends(told, piece, "side") == [(end - yoke, 2)]


def test_pockets_begin_clear_of_a_yoke():
    told = reported("yoke", SAMPLE, pocket="in_side_seams")
    below = length_of(told.worked, "pocket_below")
    front_yoke = told.worked.values["front_yoke"].edge("side").chain.length
    assert below - front_yoke >= 20
    for piece in ("front", "back"):
        yoke = told.worked.values[f"{piece}_yoke"].edge("side").chain.length
        found = marks(told, piece, "side")
        assert (below - yoke, 1) in found
        assert (below + 160 - yoke, 1) in found
    assert cut_list(told)["pocket_bag"] == ("lining", 4)


# Pockets


POCKETED = (
    "straight",
    "a-line",
    "pegged",
    "inverted-pleat",
    "wrap",
    "trumpet",
    "high-low",
)


@pytest.mark.parametrize("style", POCKETED)
def test_pockets_are_marked_alike_on_both_edges(style):
    """One snip at each end of the pocket, on both edges."""
    told = reported(style, SAMPLE, pocket="in_side_seams")
    for piece in ("front", "back"):
        found = marks(told, piece, "side")
        assert (70, 1) in found
        assert (70 + 160, 1) in found
    assert marks(told, "pocket_bag", "opening") == [(70, 1), (230, 1)]
    assert (
        cut_list(told).items()
        >= {
            "pocket_bag": ("lining", 4),
            "pocket_facing": ("shell", 4),
        }.items()
    )
    assert not wrong_of(told)


@pytest.mark.parametrize("below", [40.0, 70.0, 120.0, 180.0])
@pytest.mark.parametrize("style", POCKETED)
def test_the_bag_lies_on_the_side_seam(style, below):
    """It has the seam's own shape there: places are as far from each other."""
    told = reported(style, SAMPLE, pocket="in_side_seams", pocket_below=below)
    bag = pieces(told)["pocket_bag"].panel
    side = pieces(told)["front"].panel.edge("side").chain
    opening = bag.edge("opening").chain
    starts = 0 if below <= 100 else below - 30
    places = [opening.length * share for share in (0.0, 0.3, 0.6, 1.0)]
    for one in places:
        for other in places:
            apart = opening.at(one).to(opening.at(other))
            beside = side.at(starts + one).to(side.at(starts + other))
            assert apart == pytest.approx(beside, abs=0.01)
    # Near the waist the bag is caught in it; lower it hangs from the side seam.
    names = {edge.name for edge in bag.edges}
    assert names == {"opening", "round", "caught" if below <= 100 else "top"}
    found = marks(told, "pocket_bag", "opening")
    assert found == [(below - starts, 1), (below + 160 - starts, 1)]


def test_the_bag_holds_a_hand():
    """Common practice: 15 wide and deeper than its opening, whose end is 3 higher."""
    told = reported("straight", SAMPLE, pocket="in_side_seams")
    bag = pieces(told)["pocket_bag"].panel
    foot = bag.edge("opening").chain.at(230)
    ring = bag.ring()
    assert foot.x - min(p.x for p in ring) == pytest.approx(150, abs=8)
    assert 50 < foot.y - min(p.y for p in ring) < 120


def test_pockets_of_main_cloth_need_no_facing():
    told = reported("straight", SAMPLE, pocket="in_side_seams", pocket_cloth="shell")
    assert cut_list(told)["pocket_bag"] == ("shell", 4)
    assert "pocket_facing" not in cut_list(told)
    # The bag is no part of the skirt's own waist or hip.
    plain = reported("straight", SAMPLE)
    assert told.finished == plain.finished


def test_where_the_left_side_opens_there_is_one_pocket():
    told = reported("straight", SAMPLE, pocket="in_side_seams", closing="zip_left_side")
    assert cut_list(told)["pocket_bag"] == ("lining", 2)
    assert told.worked.read("pockets", Reads.RATIO) == 1


def test_pockets_too_low_for_the_skirt_are_refused():
    told = reported(
        "straight", SAMPLE, length=400.0, pocket="in_side_seams", pocket_below=150.0
    )
    assert "style.pocket_fits" in codes(told)


def test_pockets_are_none_unless_asked_for():
    for style in POCKETED:
        assert not [n for n in cut_list(reported(style, SAMPLE)) if "pocket" in n]


# Vent, kick pleat, slit


@pytest.mark.parametrize("style", ["straight", "pegged"])
def test_ranges_of_a_vent(style):
    """Common practice, no source: 15 to 30 long, 4 to 7 wide."""
    stated = work(style, SAMPLE, vent="vent").stated.amounts
    length, width = stated["vent_length"], stated["vent_width"]
    assert (length.least, length.most) == (150, 300)
    assert (width.least, width.most) == (40, 70)
    assert width.value == 50


@pytest.mark.parametrize("style", ["straight", "pegged"])
@pytest.mark.parametrize("vent", ["vent", "kick_pleat"])
def test_a_vent_runs_on_beside_the_centre_back(style, vent):
    told = reported(style, SAMPLE, vent=vent, vent_length=200.0, vent_width=60.0)
    back = told.worked.values["back"]
    run = back.edge("vent").chain
    assert back.edge("centre").chain.end.is_at(run.start)
    # The top slopes 45 degrees; below it the edge is 6 from the fold.
    assert run.segments[0].length == pytest.approx(60 * 2**0.5, abs=0.5)
    fold = back.mark("vent_fold").shape
    assert fold.start.is_at(run.start)
    assert fold.length == pytest.approx(200, abs=0.01)
    assert fold.nearest(run.end)[1] == pytest.approx(60, abs=0.5)
    assert [w for w, _ in widths(told, "back", "vent")] == [10]
    plain = reported(style, SAMPLE)
    assert told.finished["sweep"] == pytest.approx(plain.finished["sweep"])
    assert not wrong_of(told)


def test_only_a_vent_is_mitred():
    """Through the meeting of the two folds."""
    back = work("straight", SAMPLE, vent="vent").values["back"]
    mitre, foot = back.mark("vent_mitre[1]").shape, back.mark("vent_fold").shape.end
    assert mitre.segments[0].end.is_at(foot)
    away = mitre.start - foot
    assert (-away.x, away.y) == pytest.approx((60, 40), abs=0.01)
    back = work("straight", SAMPLE, vent="kick_pleat").values["back"]
    assert back.mark("vent_mitre[1]") is None


def test_room_to_walk_of_each_opening():
    """The girth at the top of the opening, and a kick pleat's own width below.

    Shut at its top, an open vent gives all below; a kick pleat twice its width.
    """
    steps = {
        vent: reported(
            "straight", SAMPLE, length=750.0, vent=vent, vent_length=250.0
        ).finished["step_allowed"]
        for vent in ("none", "kick_pleat", "vent", "slit")
    }
    assert steps["none"] < steps["kick_pleat"] < steps["vent"]
    assert steps["vent"] == steps["slit"]
    wide = reported(
        "straight", SAMPLE, length=750.0, vent="kick_pleat", vent_width=70.0
    )
    assert wide.finished["step_allowed"] > steps["kick_pleat"]
    told = reported("straight", SAMPLE, length=750.0, vent="kick_pleat")
    girth = told.worked.read(told.worked.draft.stride[1].girth, Reads.LENGTH)
    assert girth == pytest.approx(told.finished["sweep"] + 2 * 50)


def test_one_edge_is_not_marked_twice_at_one_place():
    """A front on the fold is sewn to a left and a right back: one mark serves both."""
    report = reported("straight", SAMPLE, vent="vent", length=750)
    for piece in report.cut.pieces:
        for edge in {n.edge for n in piece.notches}:
            there = sorted(
                (n.distance, n.count)
                for n in piece.notches
                if n.edge == edge and not n.dart
            )
            for (one, count), (two, other) in pairwise(there):
                assert count == other or two - one > 12, (piece.name, edge)


def test_seam_ends_square_where_the_left_lining_is_cut_back():
    report = reported("straight", SAMPLE, vent="vent", length=750)
    left = pieces(report)["back_lining_left"]
    centre = next(e for e in left.edges if e.name == "centre")
    outside = max(p.x for p in left.cut)
    assert min(p.y for p in left.cut if p.x > outside - 1) == pytest.approx(
        centre.end.y, abs=2
    )


def test_a_kick_pleat_is_sewn_shut_inside():
    told = reported("straight", SAMPLE, vent="kick_pleat")
    assert seam(told, "kick_pleat").difference == 0
    assert "kick_pleat" not in {
        w.seam.name for w in reported("straight", SAMPLE, vent="vent").cut.seams
    }


def test_the_linings_halves_are_unlike_at_a_vent():
    """Cut back round the opening 1 shy, slack 0.6 above it."""
    told = reported("straight", SAMPLE, vent="vent", vent_length=200.0)
    assert (
        cut_list(told).items()
        >= {
            "back_lining_left": ("lining", 1),
            "back_lining_right": ("lining", 1),
        }.items()
    )
    assert "back_lining" not in cut_list(told)
    left, right = (told.worked.values[f"back_lining_{s}"] for s in ("left", "right"))
    plain = reported("straight", SAMPLE).worked.values["back_lining"]
    shell = told.worked.values["back"]
    centre = left.edge("centre").chain.length
    assert right.edge("centre").chain.length == pytest.approx(centre)
    # Above the vent: the seat's 0.6 and the vent's own.
    above = shell.edge("centre").chain.length
    assert centre - above == pytest.approx(6 + 6, abs=0.1)
    # At the hem the right one runs on by 5 less 1, the left one ends as far inside.
    hem = plain.edge("hem").chain.length
    assert right.edge("hem").chain.length - hem == pytest.approx(40, abs=1)
    assert hem - left.edge("hem").chain.length == pytest.approx(40, abs=1)
    # Drawn with the right side up, the left one lies the other way.
    assert min(p.x for p in left.ring()) < -200 < 0 < max(p.x for p in right.ring())
    for name in ("lining_centre_back_vent", "lining_side_left", "lining_side_right"):
        assert abs(seam(told, name).difference) < 0.1
    assert not wrong_of(told)


def test_unlined_has_no_lining_at_the_vent():
    told = reported("straight", SAMPLE, vent="vent", lining="unlined")
    assert not [n for n, (m, _) in cut_list(told).items() if m == "lining"]


@pytest.mark.parametrize("vent", ["kick_pleat", "slit"])
def test_elsewhere_the_linings_seam_is_left_open(vent):
    told = reported("straight", SAMPLE, vent=vent, vent_length=200.0)
    lining = told.worked.values["back_lining"].edge("centre").chain
    assert (lining.length - 200 + 25, 1) in marks(told, "back_lining", "centre")
    assert cut_list(told)["back_lining"] == ("lining", 2)


def test_a_vent_that_begins_below_the_narrowest_place_is_said():
    """Here the skirt narrows to well over the knee and flares below."""
    raw = styles.style("straight").model_dump(by_alias=True, exclude_unset=True)
    raw["stride"] = [
        *raw["stride"],
        {"girth": "hem_girth - 30", "below_waist": "length - 18"},
    ]
    draft = draft_of(raw, "made")
    told = reported(draft, SAMPLE, vent="vent", vent_length=150.0)
    assert "check.vent_top" in codes(told)
    assert "check.vent_top" not in codes(
        reported(draft, SAMPLE, vent="vent", vent_length=300.0)
    )


def test_a_vent_up_to_the_hip_is_refused():
    told = reported("straight", SAMPLE, length=450.0, vent="vent", vent_length=300.0)
    assert "style.opening_fits" in codes(told)


def test_other_styles_may_have_a_vent():
    """An A-line with little flare: the finishing needs only a back with a hem."""
    raw = styles.style("a-line").model_dump(by_alias=True, exclude_unset=True)
    raw["steps"] = [
        *raw["steps"],
        {"group": "vent_in", "from": "finishing/vent", "pieces": True},
        {"group": "vent_lined", "from": "finishing/lining-vent", "pieces": True},
    ]
    draft = draft_of(raw, "made")
    for vent in ("none", "vent", "kick_pleat", "slit"):
        told = reported(draft, SAMPLE, vent=vent)
        assert not told.refusals
        assert all(abs(walked.difference) < 0.1 for walked in told.cut.seams)


# Ties


@pytest.mark.parametrize("body", BODIES)
def test_ties_meet_at_the_side_and_make_a_bow(body):
    """Common practice: the under tie goes from its side round the back to the other.

    Each has 45 to tie with; the slot lies over the side seam, on the side the under
    front ends at.
    """
    for laps, from_start in (("right_over_left", True), ("left_over_right", False)):
        told = reported("wrap", body, wrap_closing="ties", laps=laps)
        worked = told.worked
        band, lap = length_of(worked, "band_finished"), length_of(worked, "lap")
        girth = band - 2 * lap
        assert girth == pytest.approx(worked.stated.measurements["waist"] + 10, abs=1)
        rest = max(girth / 4 - lap, 0)
        short, long = (pieces(told)[f"tie_{n}"].panel for n in ("short", "long"))
        assert short.edge("left").chain.length == pytest.approx(450 + rest)
        assert long.edge("left").chain.length == pytest.approx(450 + rest + girth / 2)
        assert short.edge("foot").chain.length == pytest.approx(2 * 20)
        slot = worked.values["band"].mark("slot[1]").shape
        side = worked.values["wrap_front"].edge("waist").chain.length
        wanted = side * band / length_of(worked, "skirt_edge")
        at = wanted if from_start else band - wanted
        assert slot.start.y == pytest.approx(at, abs=0.1)
        assert slot.length == pytest.approx(25)
        assert not wrong_of(told)


def test_ties_are_told_to_the_checks_as_cords():
    """No free cords in children's clothes (EN 14682, ASTM F1816)."""
    child = {**HOUSE, "height": 1300.0}
    tied, hooked = (
        reported("wrap", child, wrap_closing=how) for how in ("ties", "hooks")
    )
    assert codes(tied) - codes(hooked) == {"check.child"}
    assert not [n for n in cut_list(hooked) if n.startswith("tie")]


# All together


@pytest.mark.parametrize(("number", "style", "chosen"), NUMBERED)
def test_every_option_on_the_bodies(number, style, chosen):
    """Each on one body, turn about; the bench tries each on all."""
    for body in BODIES[number % len(BODIES) :: len(BODIES)]:
        assert list(unsewable(reported(style, body, **chosen))) == [], body


def test_every_fact_that_is_told_is_known():
    """Of the add-ons: names and words as resources/sewing.json has them."""
    from skirtwright import shelf

    known = shelf.read_json("sewing.json")["told"]
    for name in ("zip", "vent", "pocket-in-seam", "ties", "lining-vent"):
        draft = styles.origin(f"finishing/{name}")
        options = {choice.name: set(choice.options) for choice in draft.choices}
        for key, said in draft.sewing.items():
            fact = known[key.partition(" at ")[0]]
            value = said if isinstance(said, str) else said.value
            if isinstance(fact["kind"], list):
                words = options.get(value, {value})
                assert words <= set(fact["kind"]), key


def test_orders_of_depths_grow_with_the_body():
    """A deeper hip never gets a shorter opening."""
    for closing in CLOSINGS:
        lengths = [
            length_of(
                work("straight", {**HOUSE, "waist_to_hip": d}, closing=closing),
                "opening_length",
            )
            for d in (150.0, 180.0, 210.0, 240.0, 270.0, 300.0)
        ]
        assert all(a <= b for a, b in pairwise(lengths))


WORN = [
    ("straight", {"closing": "placket_left_side", "pocket": "in_side_seams"}),
    ("straight", {"vent": "vent", "length": 750.0, "dart_legs_back": "full"}),
    ("pegged", {"vent": "kick_pleat", "closing": "zip_left_side"}),
    ("inverted-pleat", {"place": "both", "pocket": "in_side_seams"}),
    ("yoke", {"closing": "placket_centre_back", "pocket": "in_side_seams"}),
    ("wrap", {"wrap_closing": "ties", "pocket": "in_side_seams"}),
    ("high-low", {"closing": "zip_left_side", "pocket": "in_side_seams"}),
]


@pytest.mark.parametrize(("style", "chosen"), WORN)
def test_real_women_have_nothing_wrong(style, chosen, real_women):
    """Zero wrong; four of the 260 women for each, others for every style."""
    first = [style for style, _ in WORN].index(style)
    for woman in real_women[first::65]:
        body = {"waist": woman.waist, "hip": woman.hip, "knee": woman.knee_girth}
        body |= {"height": woman.height, "waist_to_hip": 0.122 * woman.height}
        body["waist_to_knee"] = 0.35 * woman.height
        told = reported(style, body, **chosen)
        assert not wrong_of(told), body
        assert all(abs(walked.difference) < 0.1 for walked in told.cut.seams)
