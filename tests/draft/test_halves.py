"""A body whose left and right differ is drafted half by half."""

from __future__ import annotations

import json

import pytest

from bodies import HOUSE
from drafting import draft_of, reported_apart, small, square_panel, work
from drafting import look_of as looked
from skirtwright import words
from skirtwright.draft import styles
from skirtwright.draft.draft import Seam
from skirtwright.draft.halves.halving import Halving
from skirtwright.draft.halves.seams_of_halves import columns
from skirtwright.draft.inputs import Inputs
from skirtwright.draft.kinds.moved_edges import MoveStart
from skirtwright.draft.runs import Run
from skirtwright.draft.working.recompute import Reworking
from skirtwright.export.report_json import as_json
from skirtwright.geometry.ring import crossing
from skirtwright.job.file import load, save
from skirtwright.job.job import new_job
from skirtwright.job.worktable import Worktable
from skirtwright.measures import working_parsing
from skirtwright.measures.card import Card, values_of
from skirtwright.measures.measurements import known_measurement
from skirtwright.pieces.cutting import Cutting
from skirtwright.problems import BadInput
from skirtwright.report import report

KINDS_TESTED = ("turn_over", "move_start")

FOUR = {"waist": "72", "hip": "98", "waist_to_hip": "20", "waist_to_knee": "58"}


def look_of(style, **typed):
    """A style for the house client with other measures, in cm, and some by sides."""
    taken = {**FOUR, **typed}
    card = Card(name="", measurements={n: str(v) for n, v in taken.items() if v})
    return looked(new_job(styles.style(style), card))


def uneven(style, **more):
    return look_of(
        style, waist_to_hip="", waist_to_hip_left=19, waist_to_hip_right=21, **more
    )


def pieces(look):
    return {piece.name: piece for piece in look.pieces}


def test_alike_left_and_right_is_one_half():
    draft = styles.style("mermaid")
    alike = {**HOUSE, "waist_to_hip_left": 200.0, "waist_to_hip_right": 200.0}
    same, inputs = Halving().of(draft, Inputs(alike))
    assert same is draft
    assert dict(inputs.measurements) == HOUSE
    plain = Inputs(HOUSE)
    assert Halving().of(draft, plain) == (draft, plain)


ONCE = {"band", "band_interfacing"}


@pytest.mark.parametrize(
    ("style", "names"),
    [
        ("straight-block", ("front", "back")),
        ("mermaid", ("front", "back", "front_lining", "back_lining", "zip_strip")),
    ],
)
def test_pieces_are_named_left_and_right_and_nothing_is_on_a_fold(style, names):
    look = uneven(style)
    assert look.drawn
    halves = {f"{name}_{side}" for name in names for side in ("left", "right")}
    assert set(pieces(look)) - ONCE == halves
    for piece in look.pieces:
        assert piece.spec.folds == ()
        assert piece.spec.count == 1
        assert not piece.spec.mirrored
        assert crossing(piece.panel.ring(0.5)) is None
        assert piece.panel.area > 0
        if piece.spec.material != "interfacing":
            assert piece.cut_area > piece.stitch_area
    titles = {piece.spec.title for piece in look.pieces}
    assert {"Front, left", "Front, right", "Back, left", "Back, right"} <= titles


def test_every_seam_of_the_mermaid_is_sewn_on_both_sides():
    look = uneven("mermaid")
    seams = {walked.seam.name: walked for walked in look.report.cut.seams}
    assert set(seams) == {
        "side_left",
        "side_right",
        "centre_back",
        "front_centre_joined",
        "lining_side_left",
        "lining_side_right",
        "lining_centre_back",
        "front_lining_centre_joined",
        "lining_waist_left",
        "lining_waist_right",
        "waistband",
    }
    for walked in seams.values():
        assert abs(walked.difference) < 0.01, walked.seam.name
    joined = seams["front_centre_joined"].seam.sides
    assert joined == ((Run.of("front_left.centre"),), (Run.of("front_right.centre"),))
    back = seams["centre_back"].seam.sides
    assert back == ((Run.of("back_left.centre"),), (Run.of("back_right.centre"),))


def wider_to_the_right(style, **chosen):
    """A waist of 35 left and 37 right, the half that goes round each side."""
    body = {**HOUSE, "waist_left": 350.0, "waist_right": 370.0}
    return reported_apart(style, body, chosen)


def test_a_band_is_cut_once_and_goes_round_both_halves():
    """As long as the four waists less its ease, the right half first."""
    found = wider_to_the_right("mermaid")
    cut = {piece.name: piece for piece in found.cut.pieces}
    waists = [
        cut[f"{name}_{side}"].panel.edge("waist").chain.length
        for name in ("front", "back")
        for side in ("left", "right")
    ]
    assert waists[1] - waists[0] == pytest.approx(10, abs=2)
    joins = cut["band"].panel.edge("joins").chain.length
    assert joins == pytest.approx(sum(waists) - 5, abs=0.01)
    stiff = cut["band_interfacing"].panel.edge("left").chain.length
    assert stiff == pytest.approx(joins + 30, abs=0.01)
    (band,) = [w for w in found.cut.seams if w.seam.name == "waistband"]
    assert [run.piece for run in band.seam.sides[0]] == [
        "back_right",
        "front_right",
        "front_left",
        "back_left",
    ]
    assert abs(band.difference) < 0.01
    assert not [p for p in found.problems if p.code == "check.seam_uneven"]


def test_marks_of_a_band_lie_at_its_own_halves():
    """Its marks face the side seams: right back, both fronts, left back."""
    found = wider_to_the_right("mermaid")
    cut = {piece.name: piece for piece in found.cut.pieces}
    right, front, left = (
        cut[name].panel.edge("waist").chain.length
        for name in ("back_right", "front_right", "front_left")
    )
    marks = [n.distance for n in cut["band"].notches if n.edge == "joins"]
    joins = cut["band"].panel.edge("joins").chain.length
    share = joins / (joins + 5)
    for walked in (right, right + front, right + front + left):
        assert min(abs(mark - walked * share) for mark in marks) < 0.05


def test_a_band_closed_at_the_left_side_begins_there():
    found = wider_to_the_right("mermaid", closing="zip_left_side")
    (band,) = [w for w in found.cut.seams if w.seam.name == "waistband"]
    assert band.seam.sides[0] == (
        Run.of("-back_left.waist"),
        Run.of("back_right.waist"),
        Run.of("-front_right.waist"),
        Run.of("front_left.waist"),
    )
    assert abs(band.difference) < 0.01


def test_what_a_style_says_of_itself_is_said_of_both_halves():
    draft = styles.style("mermaid")
    body = {**HOUSE, "waist_to_hip_left": 190.0, "waist_to_hip_right": 210.0}
    both, _ = Halving().of(draft, Inputs(body))
    swings = {key for key in both.checks if key.startswith("swing at ")}
    assert swings == {
        f"swing at {name}_{side}.side"
        for name in ("front", "back")
        for side in ("left", "right")
    }
    measures = {key.partition(" at ")[0] for key in draft.checks}
    assert {key.partition(" at ")[0] for key in both.checks} == measures
    told = {key for key in both.sewing if key.startswith("opening_at")}
    assert told == {"opening_at at back_left.centre", "opening_at at front_left.side"}


@pytest.mark.parametrize(
    ("closing", "right", "left"),
    [("zip_centre_back", 2, 2), ("zip_left_side", 2, 0)],
)
def test_each_half_has_its_own_pair_of_pocket_bags(closing, right, left):
    """Where the left side opens only the right has a pocket."""
    body = {**HOUSE, "waist_to_hip_left": 190.0, "waist_to_hip_right": 210.0}
    chosen = {"pocket": "in_side_seams", "closing": closing}
    both, inputs = Halving().of(styles.style("a-line"), Inputs(body, {}, chosen))
    cut = Cutting().cut(Reworking().work(both, inputs), {})
    counts = {piece.name: piece.spec.count for piece in cut.pieces}
    assert counts["pocket_bag_right"] == right
    assert counts.get("pocket_bag_left", 0) == left
    rounds = {w.seam.name for w in cut.seams if w.seam.name.startswith("pocket_round")}
    assert rounds == {"pocket_round_right"} | ({"pocket_round_left"} if left else set())


def test_a_lining_unlike_left_and_right_takes_each_from_its_half():
    """Round a vent the lining's backs differ, and are named so by the style."""
    body = {**HOUSE, "waist_to_hip_left": 190.0, "waist_to_hip_right": 210.0}
    chosen = {"vent": "vent"}
    both, inputs = Halving().of(styles.style("straight"), Inputs(body, {}, chosen))
    cut = Cutting().cut(Reworking().work(both, inputs), {})
    backs = [p.spec for p in cut.pieces if p.name.startswith("back_lining")]
    assert [(spec.name, spec.panel) for spec in backs] == [
        ("back_lining_left", "back_lining_left_left"),
        ("back_lining_right", "back_lining_right_right"),
    ]
    for walked in cut.seams:
        assert abs(walked.difference) < 0.1, walked.seam.name


@pytest.mark.parametrize("style", ["straight-block", "mermaid"])
def test_each_half_has_its_own_depth_and_the_whole_its_measures(style):
    look = uneven(style)
    values = look.worked.values
    for side, depth in (("left", 190), ("right", 210)):
        for name in ("front", "back"):
            curve = values[f"{name}_side_curve_{side}"]
            assert curve.length == pytest.approx(depth, abs=0.01)
    finished = look.report.finished
    assert finished["waist"] == pytest.approx(735, abs=0.1)
    assert finished["hip"] == pytest.approx(1020, abs=0.1)
    whole = look_of(style).report.finished
    for name in ("sweep", "length", "step_allowed"):
        assert finished[name] == pytest.approx(whole[name], abs=2)


def test_each_half_is_the_half_of_a_skirt_with_that_depth():
    look = uneven("straight-block")
    for side, depth in (("left", 19), ("right", 21)):
        alone = look_of("straight-block", waist_to_hip=depth)
        mine, its = pieces(look)[f"back_{side}"], pieces(alone)["back"]
        for edge, longer in (("side", 10 * (depth - 20)), ("hem", 0)):
            lengths = [p.panel.edge(edge).chain.length for p in (mine, its)]
            assert lengths[0] == pytest.approx(lengths[1] + longer)
        intakes = [[d.intake for d in p.darts] for p in (mine, its)]
        assert intakes[0] == pytest.approx(intakes[1], abs=1)


def test_halves_lie_as_they_are_worn_all_with_the_same_side_up():
    # Seen from outside, her left front lies right of its centre and her left back
    # left of its centre: the two meet at the left side.
    found = pieces(uneven("mermaid"))
    for name, way in (
        ("front_left", 1),
        ("front_right", -1),
        ("back_left", -1),
        ("back_right", 1),
    ):
        panel = found[name].panel
        centre, side = (panel.edge(e).chain.start.x for e in ("centre", "side"))
        assert (side - centre) * way > 0
        for dart in panel.darts:
            assert (dart.tip.x - centre) * way > 0


def test_a_half_girth_goes_round_its_side():
    look = look_of("straight-block", hip="", hip_left=50, hip_right=48)
    values = look.worked.values
    assert values["half_box_left"] == pytest.approx(520)
    assert values["half_box_right"] == pytest.approx(500)
    assert look.report.finished["hip"] == pytest.approx(1020)
    assert look.report.finished["waist"] == pytest.approx(735, abs=0.1)
    # One side and the whole say the other.
    by_one = look_of("straight-block", hip=98, hip_left=50).worked.values
    assert by_one["half_box_right"] == pytest.approx(500)


def test_one_side_of_a_depth_leaves_the_other_as_the_whole():
    values = look_of("mermaid", waist_to_hip=20, waist_to_hip_left=21).worked.values
    assert values["waist_to_hip_left"] == pytest.approx(210)
    assert values["waist_to_hip_right"] == pytest.approx(200)


def test_an_amount_set_by_hand_holds_for_both_halves():
    job = uneven("straight-block").job
    job = job.replace(amounts={"dart_intake_front": "2", "length": "70"})
    values = Worktable().look(job).worked.values
    for side, length in (("left", 690), ("right", 710)):
        assert values[f"front_intake_{side}"] == pytest.approx(20)
        made = values[f"front_{side}"].edge("side").chain.length
        assert made == pytest.approx(length)


def test_a_zip_is_as_long_on_both_sides():
    found = pieces(uneven("mermaid"))
    runs = [
        next(e for e in found[f"back_{side}"].edges if e.name == "centre").allowances
        for side in ("left", "right")
    ]
    assert len(runs[0]) == 2
    assert runs[0][0] == pytest.approx(runs[1][0])
    marks = [
        [n.distance for n in found[f"back_{side}"].notches if n.edge == "centre"]
        for side in ("left", "right")
    ]
    assert marks[0] == pytest.approx(marks[1])


def test_handles_pull_both_halves():
    look = uneven("mermaid")
    places = {handle.place for handle in look.worked.draft.pulls}
    assert {"front_left.side end", "front_right.side end"} <= places
    job = look.job
    table = Worktable()
    table.look(job)
    pulled = table.look(job, {"front_spread": 40.0})
    for side in ("left", "right"):
        hems = [x.worked.values[f"front_{side}"].edge("hem") for x in (look, pulled)]
        assert hems[1].chain.length > hems[0].chain.length + 10


def test_only_what_can_be_taken_by_sides_is_known_by_sides():
    hip = known_measurement("hip_left")
    assert hip.label == "Hip, left"
    assert hip.most == known_measurement("hip").most / 2
    for name in ("height_left", "dart_spacing_right", "hip_middle", "left"):
        with pytest.raises(BadInput):
            known_measurement(name)
    card = Card(name="", measurements={"waist_to_hip_left": "8 in"})
    assert values_of(card) == {"waist_to_hip_left": pytest.approx(203.2)}


def test_the_file_keeps_the_half_and_both_measures(tmp_path):
    look = uneven("mermaid")
    place = tmp_path / "uneven.skirt"
    save(look.job, place)
    text = json.loads(place.read_text(encoding="utf-8"))
    assert text["card"]["measurements"]["waist_to_hip_left"] == "19"
    again = Worktable().look(load(place))
    assert as_json(again.report)["pieces"] == as_json(look.report)["pieces"]


@pytest.mark.parametrize("style", ["straight-block", "mermaid"])
def test_nothing_is_wrong_with_uneven_hips(style):
    assert [p.code for p in uneven(style).problems if p.severity == "wrong"] == []


@pytest.mark.parametrize("style", styles.names())
def test_every_style_can_be_drafted_by_halves(style):
    look = uneven(style)
    assert look.drawn, [p.code for p in look.report.refusals]
    assert not any(piece.spec.folds for piece in look.pieces)
    for walked in look.report.cut.seams:
        assert abs(walked.difference) < 0.1, walked.seam.name


@pytest.mark.parametrize("style", styles.names())
def test_nothing_is_wrong_where_left_and_right_differ(style):
    assert not [p for p in uneven(style).problems if p.severity == "wrong"]


def test_what_is_one_piece_over_both_sides_is_opened_out_from_both():
    look = uneven("bias-slip")
    assert not [p for p in look.problems if "sides_alike" in p.code]
    for body, left, right in (
        ("front", "side", "other_side"),
        ("back", "other_side", "side"),
    ):
        panel = pieces(look)[body].panel
        lengths = [panel.edge(edge).chain.length for edge in (left, right)]
        assert lengths == pytest.approx([740, 760], abs=0.1)
        assert crossing(panel.ring(0.5)) is None


@pytest.mark.parametrize("style", ["straight", "a-line", "inverted-pleat"])
def test_a_front_cut_in_two_is_joined(style):
    """The waistband goes round the front, which does not hang below itself."""
    look = look_of(
        style, waist_to_hip="", waist_to_hip_left=20, waist_to_hip_right=21.5
    )
    seams = {w.seam.name: w for w in look.report.cut.seams}
    front = seams["front_centre_joined"]
    assert front.seam.sides == (
        (Run.of("front_left.centre"),),
        (Run.of("front_right.centre"),),
    )
    assert front.lengths[0] > 400
    assert abs(front.difference) < 0.01


def test_a_back_on_the_fold_is_joined_when_the_left_side_opens():
    body = {**HOUSE, "waist_to_hip_left": 200.0, "waist_to_hip_right": 215.0}
    chosen = {"closing": "zip_left_side", "back_cut": "fold"}
    both, inputs = Halving().of(styles.style("straight"), Inputs(body, {}, chosen))
    cut = Cutting().cut(Reworking().work(both, inputs), {})
    assert {"front_centre_joined", "back_centre_joined"} <= {
        walked.seam.name for walked in cut.seams
    }


def test_panels_that_hang_one_below_another_share_a_centre():
    """The yoke and the skirt below it are one centre; a facing has its own."""
    seams = {w.seam.name: w.seam.sides for w in uneven("yoke").report.cut.seams}
    assert [run.piece for run in seams["front_yoke_centre_joined"][0]] == [
        "front_yoke_left",
        "front_left",
    ]
    assert "front_skirt_centre_joined" not in seams
    assert "front_yoke_facing_centre_joined" in seams


def test_panels_said_to_hang_below_each_other_lose_no_fold():
    loop = [
        {"name": "x", "sides": [["a.line"], ["b.line"]]},
        {"name": "y", "sides": [["a.side", "b.side"], ["b.side", "a.side"]]},
    ]
    folds = {Run("a", "centre"), Run("b", "centre")}
    found = columns(dict.fromkeys(folds, ()), map(Seam.model_validate, loop))
    assert {fold for column in found for fold in column} == folds


def test_a_word_told_is_not_taken_for_a_name():
    """`facing` is a waist finish, and the group that draws it is called so too."""
    body = {**HOUSE, "waist_to_hip_left": 200.0, "waist_to_hip_right": 215.0}
    both, _ = Halving().of(styles.style("straight"), Inputs(body))
    told = both.sewing["waist_finish at facing"]
    assert told.value == "facing"


def test_left_and_right_are_written_without_reading_a_text_again(monkeypatch):
    def refuse(how, text):
        raise AssertionError(f"{how}: {text}")

    styles.style("pegged")  # What is added to a style is written in as it is read.
    monkeypatch.setattr(working_parsing, "read_now", refuse)
    working_parsing._read.cache_clear()
    assert uneven("pegged").drawn


def test_what_cannot_be_worked_is_told_of_its_own_half():
    """The right half is bound as the left was, and yet speaks of itself."""
    steps = [
        *square_panel(),
        {"step": "long", "kind": "number", "value": "walk(panel_a) + waist_to_hip"},
    ]
    draft = small(*steps, measurements=["waist_to_hip"])
    body = {"waist_to_hip": 200.0, "waist_to_hip_left": 190.0}
    worked = Reworking().work(*Halving().of(draft, Inputs(body)))
    told = {problem.where: problem.values["name"] for problem in worked.problems}
    assert told == {"long_left": "panel_a_left", "long_right": "panel_a_right"}


def test_a_refusal_of_both_halves_is_told_once_and_of_no_half():
    chosen = {"waist_shape": "side_elastic", "pocket": "slanted"}
    body = {**HOUSE, "waist_to_hip_left": 200.0, "waist_to_hip_right": 215.0}
    (refused,) = reported_apart("straight", body, chosen).problems
    assert refused.code == "style.slant_needs_darts"
    assert refused.says.startswith("A slanted pocket")
    assert refused.remedy
    short = reported_apart("straight", body, amounts={"length": 200.0}).refusals
    own = [p for p in short if p.code.startswith("style.length_over")]
    # What is unlike is given of each: whole sentences are never said twice.
    (told,) = map(words.says, own)
    assert "hip line, 20 cm (left) and 21.5 cm (right) below the waist" in told


def test_titles_of_halves_are_said_in_her_language():
    catalogue = {"half.left": "links: {title:text}", "Front": "Vorne"}
    look = uneven("straight")
    title = pieces(look)["front_left"].spec.title
    assert title == "Front, left"
    whole, halves = look.job.draft, look.worked.draft
    written = {each.title for each in (*whole.pieces, *whole.seams)}
    made = [
        each.title
        for each in (*halves.pieces, *halves.seams)
        if each.title not in written
    ]
    assert "side seam, right" in made
    assert all(isinstance(each, words.Composed) for each in made)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(words, "_look_up", lambda text, _: catalogue.get(text, text))
        assert words.translate(title) == "links: Vorne"
        assert words.fill("{piece:text} {piece}", {"piece": title}) == (
            "links: Vorne links: Vorne"
        )


def test_a_yoke_is_as_deep_on_both_sides_of_a_centre():
    found = pieces(uneven("yoke"))
    for name in ("front_yoke", "back_yoke"):
        depths = [
            found[f"{name}_{side}"].panel.edge("centre").chain.length
            for side in ("left", "right")
        ]
        assert depths[0] == pytest.approx(depths[1], abs=0.01)


APART = {**HOUSE, "waist_to_hip_left": 190.0, "waist_to_hip_right": 210.0}


@pytest.mark.parametrize("body", [HOUSE, APART], ids=["alike", "apart"])
def test_a_half_is_stated_and_not_read_off_a_name(body):
    """Pieces that only one half has may be called anything."""
    known = styles.style("straight")
    text = known.model_dump_json(by_alias=True, exclude_unset=True)
    for name, other in (("left", "sinister"), ("right", "dexter")):
        text = text.replace(f"back_lining_{name}", f"back_lining_{other}")
    found = []
    for draft in (known, draft_of(json.loads(text), "made")):
        both, inputs = Halving().of(draft, Inputs(body, {}, {"vent": "vent"}))
        worked = Reworking().work(both, inputs)
        told = report(worked, Cutting().cut(worked, {}), "")
        walked = sorted(seam.lengths for seam in told.cut.seams)
        found.append((walked, [(p.code, p.severity) for p in told.problems]))
    assert found[0] == found[1]


SQUARE = {
    "measurements": ["waist", "hip", "waist_to_hip"],
    "seams": [{"name": "side", "sides": [["flap_left.left"], ["flap_left.left"]]}],
}


@pytest.mark.parametrize("count", ["1", "2"])
def test_a_name_that_ends_in_left_is_no_half(count):
    piece = {"name": "flap_left", "title": "Flap", "panel": "flap_left"}
    folds = {"folds": ["right"]} if count == "1" else {}
    made = small(
        *square_panel(name="flap_left"),
        **SQUARE,
        pieces=[{**piece, **folds, "count": count}],
        format=2,
    )
    both, _ = Halving().of(made, Inputs(APART))
    assert [(p.name, p.half) for p in both.pieces] == [
        ("flap_left_left", "left"),
        ("flap_left_right", "right"),
    ]
    assert {str(run) for side in both.seams[0].sides for run in side} == {
        "flap_left_left.left",
        "flap_left_right.left",
    }


def test_what_the_old_format_took_for_a_half_is_stated():
    piece = {"name": "flap_left", "title": "Flap", "panel": "flap_left"}
    made = small(*square_panel(name="flap_left"), **SQUARE, pieces=[piece])
    assert [(p.half, p.whole) for p in made.pieces] == [("left", "flap")]


CENTRE_TAKEN_IN = {
    "slender": {
        "waist": 700.0,
        "hip": 1080.0,
        "waist_to_knee": 580.0,
        "waist_to_hip_left": 200.0,
        "waist_to_hip_right": 215.0,
    },
    "full": {
        "waist": 862.0,
        "hip": 1136.0,
        "waist_to_knee": 603.0,
        "waist_to_hip_left": 223.0,
        "waist_to_hip_right": 212.0,
    },
}
"""Bodies whose left and right differ and whose centre back seam takes in."""


@pytest.mark.parametrize(
    ("style", "body", "amounts"),
    [
        ("straight-block", "full", {"back_dart_part": 1.0}),
        ("straight-block", "full", {"front_waist_part": 0.6}),
        ("straight", "slender", {}),
        ("half-circle-yoke", "slender", {}),
    ],
)
def test_centres_meet_where_the_centre_back_takes_in(style, body, amounts):
    taken = CENTRE_TAKEN_IN[body]
    alone = {n: v for n, v in taken.items() if not n.endswith(("_left", "_right"))}
    alike = sum(taken[f"waist_to_hip_{side}"] for side in ("left", "right")) / 2
    look = reported_apart(style, taken, amounts=amounts)
    assert not look.refusals
    assert not [p.code for p in look.problems if p.severity == "wrong"]
    whole = reported_apart(style, {**alone, "waist_to_hip": alike}, amounts=amounts)
    if "waist" in whole.finished:
        assert look.finished["waist"] == pytest.approx(whole.finished["waist"], abs=0.1)
    halves = {piece.name: piece.panel for piece in look.cut.pieces}
    for left, right in of_centres(halves):
        assert left.length == pytest.approx(right.length, abs=0.01)
        assert rise(left) == pytest.approx(rise(right), abs=0.1)


def of_centres(panels):
    """The centre of the left and of the right half of each pair of panels."""
    for name, panel in panels.items():
        other = panels.get(f"{name.removesuffix('_left')}_right")
        if name.endswith("_left") and "centre" in {edge.name for edge in panel.edges}:
            yield panel.edge("centre").chain, other.edge("centre").chain


def rise(chain):
    return abs(chain.end.y - chain.start.y)


@pytest.mark.parametrize("by", [-7.0, -0.01, 4.0])
def test_an_edge_is_made_longer_or_shorter_at_its_start(by):
    panel = work("straight-block").values["back"]
    step = MoveStart(step="moved", panel="back", edge="side", by="0")
    before, after = panel.edge("side").chain, step.draw(panel, by).edge("side").chain
    assert after.length == pytest.approx(before.length + by)
    at = after.start if by < 0 else before.start
    nearest = (before if by < 0 else after).nearest(at)
    assert nearest == pytest.approx((abs(by), 0), abs=1e-6)
