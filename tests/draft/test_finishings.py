"""Finishings: linings, bands, facings, zips, taken in by a group of a draft.

Rules and figures: common practice, no source, each named
beside its test. Lengths in mm.
"""

from __future__ import annotations

import json

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
    worked_of,
)
from skirtwright.checks.striding import girth_needed
from skirtwright.draft import styles
from skirtwright.draft.draft import Draft
from skirtwright.draft.every_name import check_names
from skirtwright.draft.shapes.panel import Panel
from skirtwright.draft.step import Reads
from skirtwright.figure.body import body_of
from skirtwright.geometry.tolerance import SAME

INCH = 25.4

KINDS_TESTED = ("copy", "tucks", "let_out", "strip_along", "rectangle")
"""Kinds whose tables stand here (see test_kinds.py)."""


def finished(base: str, *names: str, **more):
    """A style with finishings taken in behind its own steps."""
    raw = json.loads(styles.style(base).model_dump_json(by_alias=True))
    for name in names:
        group = {"group": name.replace("-", "_") + "_in", "pieces": True}
        raw["steps"].append({**group, "from": "finishing/" + name})
    return draft_of({**raw, **more}, "made")


@pytest.fixture(scope="module")
def mermaid():
    """The mermaid: closed, lined and with its waist finished by default."""
    return styles.style("mermaid")


@pytest.fixture(scope="module")
def house(mermaid):
    """It worked, cut and reported for the house client with all defaults."""
    return reported(mermaid, SAMPLE)


def marks(report, piece, edge):
    return [
        (n.distance, n.count)
        for n in pieces(report)[piece].notches
        if n.edge == edge and not n.dart
    ]


def wrongs(report):
    return [p for p in report.problems if p.severity == "wrong"]


# Taking in


def test_all_finishings_are_drafts():
    assert "finishing/straight-band" in styles.finishings()
    assert "addition/flounce" in styles.additions()
    for name in (*styles.finishings(), *styles.additions()):
        assert styles.origin(name).steps


def test_a_group_brings_pieces_seams_and_amounts_behind_the_styles_own():
    draft = finished("straight-block", "zip", "straight-band")
    # One band for each way the skirt opens.
    bands = ["band", "band", "band", "band_interfacing"]
    opening = [p.name for p in styles.origin("finishing/zip").pieces]
    assert [p.name for p in draft.pieces] == ["front", "back", *opening, *bands]
    names = [seam.name for seam in draft.seams]
    # One waistband seam for each place of the opening; with none its ends meet.
    seams = ["waistband", "waistband", "band_ends", "waistband"]
    assert names == ["side", "centre_back", *seams]
    assert draft.amounts[-1].name == "ease_in"
    plain = styles.style("straight-block")
    assert draft.amounts[: len(plain.amounts)] == plain.amounts


OF_SOME_STYLES = (
    *("a-line-flare", "bias-waist", "lining-room", "lining-to-knee", "lining-vent"),
    *("lining-wrap", "ties", "vent", "wrap-band", "yoke-facing"),
)
"""Finishings that carry on what a style draws, or another finishing before them."""


def test_a_finishing_leans_on_no_more_than_the_plain_block_and_its_opening_have():
    """Nor on an addition that a style need not take in; in what is not chosen, too."""
    for name in styles.finishings():
        alone = name.removeprefix("finishing/")
        if alone not in OF_SOME_STYLES:
            behind = dict.fromkeys(("zip", alone))
            check_names(finished("straight-block", *behind), name)


def test_a_style_grown_with_pieces_has_those_of_what_it_grows_from(mermaid):
    """Its own piece wins; amounts of what it grows from still stand before its own."""
    raw = {
        "id": "made",
        "title": "Made for a test",
        "measurements": [],
        "amounts": [
            {
                "name": "more",
                "label": "More",
                "default": "length / 2",
                "least": "0",
                "most": "100",
            }
        ],
        "steps": [{"group": "skirt", "from": "mermaid", "pieces": True}],
        "pieces": [{"name": "front", "title": "Own front", "panel": "front"}],
    }
    draft = styles.with_origins(Draft.model_validate(raw), lambda _: mermaid)
    assert [p.title for p in draft.pieces if p.panel == "front"] == ["Own front"]
    assert {p.name for p in draft.pieces} >= {"back", "band", "front_lining"}
    assert draft.amounts[-1].name == "more"
    assert not reported(draft, SAMPLE).refusals


def test_without_pieces_a_group_brings_none():
    raw = json.loads(styles.style("straight-block").model_dump_json(by_alias=True))
    raw["steps"].append({"group": "band", "from": "finishing/straight-band"})
    draft = draft_of(raw, "made")
    assert [p.name for p in draft.pieces] == ["front", "back"]


def test_the_styles_own_amount_wins():
    own = {
        "name": "band_height",
        "kind": "length",
        "label": "Own",
        "default": "2",
        "least": "1",
        "most": "9",
    }
    plain = json.loads(styles.style("straight-block").model_dump_json(by_alias=True))
    amounts = [*plain["amounts"], own]
    draft = finished("straight-block", "zip", "straight-band", amounts=amounts)
    assert [a.label for a in draft.amounts if a.name == "band_height"] == ["Own"]
    panel = work(draft).values["band"]
    assert panel.edge("left_end").chain.length == pytest.approx(40)


def test_what_is_taken_in_applies_where_the_groups_around_it_do():
    draft = finished("straight-block", "zip", "waist")
    heights = draft.amount("band_height"), draft.amount("facing_depth")
    assert all("finish is" in amount.when for amount in heights)
    for finish, names in {
        "straight_band": {"band", "band_interfacing"},
        "facing": {
            "front_facing",
            "back_facing",
            "front_facing_interfacing",
            "back_facing_interfacing",
        },
        "petersham": set(),
        "none": set(),
    }.items():
        report = reported(draft, finish=finish)
        assert set(pieces(report)) == {"front", "back", "zip_strip"} | names
        assert not wrongs(report)


def test_a_saved_draft_keeps_what_was_taken_in(mermaid):
    text = mermaid.model_dump_json(by_alias=True)
    again = styles.read_draft(text, "again")
    assert again.pieces == mermaid.pieces
    assert again.amounts == mermaid.amounts


# Waistband


def test_band_of_a_published_skirt():
    """Common practice, no source: waist 24 in, 1 in ease, 3/4 in more.

    The band is 25 3/4 in long and twice 1 in high. There the ease is in the skirt's
    edge and nothing is eased in; the underlap is 3/4 in.
    """
    body = {"waist": 24 * INCH, "hip": 34 * INCH, "waist_to_hip": 200.0}
    body["waist_to_knee"] = 560.0
    worked = work(
        finished("straight-block", "zip", "straight-band"),
        body,
        waist_ease=1 * INCH,
        ease_in=0.0,
        underlap=0.75 * INCH,
        band_height=1 * INCH,
    )
    band = worked.values["band"]
    whole = band.edge("joins").chain.length + band.edge("underlap").chain.length
    assert whole == pytest.approx(25.75 * INCH, abs=0.1)
    assert band.edge("inside").chain.length == pytest.approx(25.75 * INCH, abs=0.1)
    assert band.edge("left_end").chain.length == pytest.approx(2 * INCH, abs=1e-6)


def test_band_of_the_house_client(house):
    """Skirt edge 73.5, eased in 0.5, underlap 3, cut 2 x 3 + 2.4."""
    band = pieces(house)["band"]
    lengths = {edge.name: edge.length for edge in band.edges}
    assert lengths["joins"] == pytest.approx(730, abs=0.1)
    assert lengths["underlap"] == pytest.approx(30)
    assert max(p.x for p in band.cut) - min(p.x for p in band.cut) == pytest.approx(84)
    long = max(p.y for p in band.cut) - min(p.y for p in band.cut)
    assert long == pytest.approx(730 + 30 + 24, abs=0.1)
    walked = seam(house, "waistband")
    assert walked.seam.ease == pytest.approx(5)
    assert abs(walked.difference) < 0.1


def test_band_marks_come_from_the_trued_pieces(house):
    """Snips at CB, sides and CF, each at its share of the ease."""
    values = house.worked.values
    back, front = (values[n].edge("waist").chain.length for n in ("back", "front"))
    share = 730 / 735
    wanted = [0, back, back + front, back + 2 * front, 735]
    found = marks(house, "band", "joins")
    assert [count for _, count in found] == [1] * 5
    assert [d for d, _ in found] == pytest.approx([w * share for w in wanted], abs=0.01)
    # The skirt itself is snipped at CF and CB; its side seams are marks enough.
    assert marks(house, "front", "waist") == [(0.0, 1)]
    assert [d for d, _ in marks(house, "back", "waist")] == pytest.approx([0.0])


def test_underlap_lies_at_the_right_back():
    """The overlap is left over right.

    Seen from outside with the joined edge at the left, the band runs down from the
    right back over the right side, the front and the left side to the left back; the
    underlap is at its beginning.
    """
    band = work(finished("straight-block", "zip", "straight-band")).values["band"]
    assert band.edge("underlap").chain.end.is_at(band.edge("joins").chain.start)
    joined, inside = band.edge("joins").chain, band.edge("inside").chain
    assert joined.start.x < inside.start.x
    assert joined.start.y > joined.end.y


def test_interfacing_of_the_outer_half_and_1_cm():
    report = reported(
        finished("straight-block", "zip", "straight-band"),
        band_interfacing="outer_half",
    )
    cut = pieces(report)["band_interfacing"]
    assert cut.spec.material == "interfacing"
    assert cut.cut_area == pytest.approx(40 * 760, rel=1e-6)


# Facing


def test_facing_runs_beside_the_shut_waist(mermaid):
    """5 deep, lower edge parallel, 0.2 shorter than the edge."""
    report = reported(mermaid, SAMPLE, finish="facing")
    values = report.worked.values
    for name in ("front", "back"):
        strip = values[f"{name}_facing"]
        outer, joins = strip.edge("outer").chain, strip.edge("joins").chain
        gaps = [outer.nearest(joins.at(joins.length * i / 8))[1] for i in range(9)]
        assert all(gap == pytest.approx(50, abs=1.0) for gap in gaps)
        assert strip.edge("end").chain.length == pytest.approx(50)
        assert not strip.darts
    assert seam(report, "facing_waist").seam.ease == pytest.approx(1)
    assert abs(seam(report, "facing_waist").difference) < 0.1
    assert abs(seam(report, "facing_side").difference) < 0.1
    front, stiff = (
        pieces(report)[n] for n in ("front_facing", "front_facing_interfacing")
    )
    assert front.panel is stiff.panel
    assert (front.spec.material, stiff.spec.material) == ("shell", "interfacing")
    assert not wrongs(report)


def test_petersham_is_the_trued_waist_and_its_ends(mermaid):
    """Trued waist and 1.2 at each end."""
    worked = work(mermaid, SAMPLE, finish="petersham")
    assert length_of(worked, "petersham_cut") == pytest.approx(735 + 24, abs=0.1)


# Lining


def test_lining_follows_the_shell_to_the_knee(house):
    """To the break as the shell and 0.3 on each hip edge.

    The corner at the back's hip, where it is let in over the seat, is eased, which
    takes up to 0.25 mm off again; the lining is larger than the skirt there still.
    At the knee itself the shell's corner is eased from a greater flare, which fills
    it out by up to 0.2 more on each edge; the lining is not the narrower for it.
    """
    values = house.worked.values
    for name in ("front", "back"):
        shell, lining = values[name], values[f"{name}_lining"]
        hip, knee = (
            lining.mark(mark).shape.length - shell.mark(mark).shape.length
            for mark in ("hip", "knee")
        )
        assert hip == pytest.approx(3, abs=0.1 if name == "front" else 0.25)
        assert 0 < knee < 3.1
        assert lining.edge("waist").chain.length == pytest.approx(
            shell.edge("waist").chain.length, abs=1e-6
        )


def test_lining_is_longer_over_the_seat(mermaid):
    """0.6 in length over the seat of the back, none at the side."""
    long, plain = (
        work(mermaid, SAMPLE, lining_seat=seat).values["back_lining"] for seat in (6, 0)
    )
    more = long.edge("centre").chain.length - plain.edge("centre").chain.length
    assert more == pytest.approx(6, abs=0.1)
    assert long.edge("side").chain.length == pytest.approx(
        plain.edge("side").chain.length, abs=0.1
    )


def test_lining_ends_shorter(house):
    """2.5 shorter, at the fold (before the hem is lowered 1.5)."""
    values = house.worked.values
    centre = [values[n].edge("centre").chain.length for n in ("front", "front_lining")]
    assert centre[0] - centre[1] == pytest.approx(25 + 15, abs=0.1)
    assert abs(seam(house, "lining_side").difference) < 0.1


@pytest.mark.parametrize("body", [SAMPLE, *({**HOUSE, **b} for b in FIVE.values())])
def test_lining_hem_allows_the_step_and_5_cm(mermaid, body):
    """Sweep of the stride girth + 5: the figure's leg works the girth here, the draft's
    steps the sweep, for which the leg is straight between where it is taken."""
    worked = work(mermaid, body)
    measured = worked.stated.measurements
    height = measured["waist_to_floor_side"] - 950 + 25
    wanted = girth_needed(660, height, body_of(measured)) + 50
    hems = (worked.values[f"{n}_lining"].edge("hem").chain for n in ("front", "back"))
    sweep = 2 * sum(hem.length for hem in hems)
    assert wanted - 15 <= length_of(worked, "lining_sweep") <= wanted + 30
    assert wanted - 15 <= sweep <= wanted + 45


@pytest.mark.parametrize("spread", [0.0, 5.0, 10.0, 30.0])
def test_lining_is_nowhere_wider_than_the_shell(mermaid, spread):
    worked = work(mermaid, SAMPLE, front_spread=spread, back_spread=spread)
    hems = {
        n: worked.values[n].edge("hem").chain.length
        for n in worked.values
        if n in ("front", "back", "front_lining", "back_lining")
    }
    lining = hems["front_lining"] + hems["back_lining"]
    # The four side edges are let out by 0.3 each.
    assert lining <= hems["front"] + hems["back"] + 6.1
    assert reported(mermaid, SAMPLE, front_spread=spread).has_wrong is False


def test_a_shorter_lining_needs_less():
    """Plain geometry: about 125 at mid-calf.

    74 long and 2.5 shorter it ends 32.5 over the floor, as mid-calf does: 120.2 by
    the plain term of plain geometry at 30, and 5; the fuller term gives a little more.
    """
    text = styles.origin("finishing/lining-room").model_dump_json(by_alias=True)
    assert "lining_sweep" in text
    draft = finished("straight-block", "zip", "lining-a-line")
    worked = work(draft, SAMPLE, length=740.0)
    assert length_of(worked, "lining_sweep") == pytest.approx(1250, abs=40)


def test_darts_are_laid_as_tucks(house):
    """Tucks at the legs, 5 long, pressed the other way."""
    shell, lining = (house.worked.values[n] for n in ("back", "back_lining"))
    assert len(shell.darts) == 2
    assert not lining.darts
    folds = {s.fold for s in lining.edge("waist").chain.segments if s.fold}
    assert folds == {"tuck[1]", "tuck[2]"}
    for number in (1, 2):
        for side in ("left", "right"):
            line = lining.mark(f"tuck[{number}].{side}").shape
            assert line.length == pytest.approx(50)
    snips = [n for n in pieces(house)["back_lining"].notches if n.dart]
    assert [n.dart for n in snips] == ["tuck[1]"] * 2 + ["tuck[2]"] * 2
    assert all(n.clear >= 3 for n in snips)
    left, right = (lining.mark(f"tuck[1].{s}").shape for s in ("left", "right"))
    assert left.start.to(right.start) == pytest.approx(
        shell.legs(shell.dart("dart[1]"))[0].to(shell.legs(shell.dart("dart[1]"))[1]),
        abs=1e-3,
    )


def test_lining_is_open_past_the_zip_and_clear_of_it(house):
    """1.3 clear of the zip, its seam open 1 longer."""
    open_to, count = marks(house, "back_lining", "centre")[0]
    assert (open_to, count) == (pytest.approx(180 + 10), 2)
    lining = house.worked.values["back_lining"]
    line = lining.mark("zip_clear[1]").shape
    centre = lining.edge("centre").chain
    assert line.end.is_at(centre.at(190))
    assert centre.nearest(line.start)[1] == pytest.approx(13, abs=0.2)
    assert centre.nearest(line.segments[0].end)[1] == pytest.approx(13, abs=0.2)


def test_unlined_has_no_lining(mermaid):
    report = reported(mermaid, SAMPLE, lining="unlined")
    assert not [p for p in report.cut.pieces if p.spec.material == "lining"]
    assert not report.worked.stated.amounts["lining_shorter"].applies


def test_full_skirts_have_an_a_line_lining():
    """The greater of stride girth + 5 and hip + 20."""
    draft = finished("straight-block", "zip", "lining-a-line", "waist")
    report = reported(draft, SAMPLE, length=500.0)
    values = report.worked.values
    hems = (values[f"{n}_lining"].edge("hem").chain.length for n in ("front", "back"))
    sweep = 2 * sum(hems)
    assert 980 + 200 <= sweep <= 980 + 200 + 25
    assert not wrongs(report)


# Openings


@pytest.mark.parametrize(
    ("kind", "allowance", "bought"),
    [("lapped", 25, 180), ("centred", 20, 180), ("invisible", 20, 220)],
)
def test_zip_kinds(mermaid, kind, allowance, bought):
    """18 for the house client, invisible 22."""
    report = reported(mermaid, SAMPLE, zip_kind=kind)
    assert length_of(report.worked, "zip_to_buy") == pytest.approx(bought)
    back = pieces(report)["back"]
    centre = next(edge for edge in back.edges if edge.name == "centre")
    assert centre.allowances[0][0] == pytest.approx(allowance)
    strip = pieces(report)["zip_strip"]
    assert (strip.spec.material, strip.spec.count) == ("interfacing", 2)
    assert strip.cut_area == pytest.approx(25 * 200)


# Elastic


def test_channel_depth_of_a_published_skirt():
    """Common practice, no source: elastic 2, seam 5/8, ease 1/2 in
    give 5.75 in."""
    report = reported(
        finished("straight-block", "casing"),
        waist_shape="side_elastic",
        elastic_width=2 * INCH,
        casing_seam=5 / 8 * INCH,
        casing_ease=0.5 * INCH,
    )
    cut = pieces(report)["casing"].cut
    deep = max(p.x for p in cut) - min(p.x for p in cut)
    assert deep == pytest.approx(5.75 * INCH, abs=1e-6)
    assert length_of(report.worked, "casing_elastic") == pytest.approx(0.9 * 720 + 15)
    assert [d for d, _ in marks(report, "casing", "left")] == pytest.approx(
        [255, 510, 765]
    )
    assert not wrongs(report)


def test_elastic_at_the_sides(mermaid):
    """Common practice, no source: flat 26 in front and 16 at the back, zones
    of 15.75 that carry 30 of cloth; elastic 0.9 of it and 3."""
    report = reported(mermaid, SAMPLE, waist_shape="side_elastic")
    worked = report.worked
    figures = {"flat_front": 260, "flat_back": 160, "elastic_side": 157.5}
    figures |= {"elastic_cloth": 300, "elastic_cut": 0.9 * 157.5 + 30}
    for name, value in figures.items():
        assert length_of(worked, name) == pytest.approx(value, abs=0.1)
    walked = seam(report, "elastic_waistband")
    # The waist tips with the lengths to the floor, which makes its line a hair longer.
    assert walked.lengths[0] == pytest.approx(walked.lengths[1], abs=0.001)
    assert walked.lengths == pytest.approx((1020, 1020), abs=0.2)
    assert [d for d, _ in marks(report, "elastic_band", "joins")] == pytest.approx(
        [0, 80, 255, 380, 510, 640, 765, 940, 1020], abs=0.2
    )
    assert not wrongs(report)


# The whole


def test_with_its_defaults_the_mermaid_is_finished(house):
    """Lined, an interfaced band, a lapped zip at the centre back."""
    assert house.worked.stated.choices["zip_kind"] == "lapped"
    materials = {name: piece.spec.material for name, piece in pieces(house).items()}
    assert materials == {
        "front": "shell",
        "back": "shell",
        "zip_strip": "interfacing",
        "front_lining": "lining",
        "back_lining": "lining",
        "band": "shell",
        "band_interfacing": "interfacing",
    }
    assert all(abs(walked.difference) < 0.1 for walked in house.cut.seams)
    assert not wrongs(house)


def test_a_pull_at_the_front_leaves_lining_and_band(mermaid):
    """The spread of the front reworks neither the lining nor the band's panel.

    Only the two numbers that keep the lining within the shell are worked again.
    """
    first = work(mermaid, SAMPLE, front_spread=30.0)
    again = work(mermaid, SAMPLE, reworking=first.worked_by, front_spread=30.5)
    touched = {item.path.rpartition("/")[2] for item in again.reworked}
    assert "front_spread_out" in touched
    lining = {step for step in touched if "lining" in step}
    assert lining <= {"lining_shell", "lining_hem_girth"}
    assert "band" not in touched


# Kinds


def test_copy_keeps_the_paper_and_may_rename_edges():
    worked = worked_of(
        *square_panel(),
        {"step": "copied", "kind": "copy", "panel": "panel", "edges": {"top": "joins"}},
    )
    panel, copied = worked.values["panel"], worked.values["copied"]
    assert isinstance(copied, Panel)
    assert [e.name for e in copied.edges] == [
        {"top": "joins"}.get(e.name, e.name) for e in panel.edges
    ]
    assert copied.area == panel.area


def test_copy_of_an_edge_that_is_not_there_is_refused():
    worked = worked_of(
        *square_panel(),
        {"step": "copied", "kind": "copy", "panel": "panel", "edges": {"hem": "joins"}},
    )
    assert [p.code for p in worked.problems] == ["draft.no_edge"]


def test_let_out_grows_from_nothing_and_then_stays():
    """A right side of 30, let out 1 from 10 down: half of it half way to the place."""
    worked = worked_of(
        *square_panel(20, 30),
        {
            "step": "side",
            "kind": "join",
            "through": ["panel_c", "panel_b"],
        },
        {
            "step": "skirt",
            "kind": "outline",
            "edges": {
                "hem": "panel_bottom_line",
                "side": "side",
                "waist": "panel_top_line",
                "centre": "panel_left_line",
            },
        },
        {
            "step": "out",
            "kind": "let_out",
            "panel": "skirt",
            "edge": "side",
            "at": "skirt.side at 10",
            "by": "1",
        },
    )
    side = worked.values["skirt"].edge("side").chain
    assert side.start.x == pytest.approx(200)
    assert side.end.x == pytest.approx(210)
    assert side.end.y == pytest.approx(0)
    half = side.at(side.nearest(worked.read("side at 5", Reads.PLACE))[0])
    assert half.x == pytest.approx(205, abs=0.3)
    below = worked.read("side at 20", Reads.PLACE)
    assert side.nearest(below)[1] == pytest.approx(10)
    assert worked.values["skirt"].edge("hem").chain.length == pytest.approx(210)


def test_tucks_and_letting_out_keep_edge_names_and_directions():
    plain = work("straight-block").values["back"]
    lined = work(finished("straight-block", "zip", "lining")).values["back_lining"]
    assert [(e.name, e.forward) for e in lined.edges] == [
        (e.name, e.forward) for e in plain.edges
    ]


def test_tucks_of_no_length_are_refused():
    draft = finished("straight-block", "zip", "lining")
    worked = work(draft, tuck_length=0.0)
    codes = [p.code for p in worked.problems if p.stops]
    assert codes == ["draft.distance_not_positive"] * 2


def test_a_strip_wider_than_what_it_runs_along_is_refused():
    steps = [
        *square_panel(20, 5),
        {
            "step": "strip",
            "kind": "strip_along",
            "panel": "panel",
            "edge": "top",
            "width": "6",
        },
    ]
    worked = worked_of(*steps)
    assert [p.code for p in worked.problems] == ["draft.run_too_long"]


def test_rectangle():
    step = {"step": "r", "kind": "rectangle", "wide": "4", "high": "7", "up": "-7"}
    panel = work(small(step), {}).values["r"]
    assert panel.area == pytest.approx(40 * 70)
    assert panel.edge("left").chain.end.is_at(panel.edge("top").chain.start)
    assert panel.edge("top").chain.start.y == pytest.approx(0, abs=SAME)
    none = work(small({**step, "wide": "0"}), {})
    assert [p.code for p in none.problems] == ["draft.distance_not_positive"]


def facing_of(style, panel="front", **chosen):
    """The lengths of a facing's edges, and how far apart the ends of its waist lie."""
    worked = work(style, SAMPLE, finish="facing", **chosen)
    facing = worked.values[f"{panel}_facing"]
    joins = facing.edge("joins").chain
    lengths = [facing.edge(n).chain.length for n in ("joins", "outer", "end", "start")]
    return [*lengths, joins.start.to(joins.end), facing.area / 100]


@pytest.mark.parametrize("panel", ["front", "back"])
def test_a_facing_follows_the_waist_with_its_pleats_folded(panel):
    """With a pleat at the centre, between two darts or with one in it, or none."""
    plain = facing_of("straight", panel)
    pleated = facing_of("inverted-pleat", panel, place="both")
    assert pleated == pytest.approx(plain, abs=0.01)
    place = work("pegged", SAMPLE).stated.amounts["dart_place_front"].value
    plain = facing_of("straight", panel, dart_place_front=place)
    for pleats in (1.0, 3.0):
        amounts = {"slashes": pleats, "slashes_back": pleats - 1}
        pegged = facing_of("pegged", panel, **amounts)
        assert pegged == pytest.approx(plain, abs=0.01)
