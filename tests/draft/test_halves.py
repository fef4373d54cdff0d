"""A body whose left and right differ is drafted half by half."""

from __future__ import annotations

import json

import pytest

from bodies import HOUSE
from skirtwright.draft import styles
from skirtwright.draft.halves import Halving
from skirtwright.draft.inputs import Inputs
from skirtwright.geometry.ring import crossing
from skirtwright.job.file import load, save
from skirtwright.job.job import new_job
from skirtwright.job.worktable import Worktable
from skirtwright.measures.card import Card, values_of
from skirtwright.measures.measurements import known_measurement
from skirtwright.problems import BadInput
from skirtwright.report import as_json

KINDS_TESTED = ("turn_over", "move_start")

FOUR = {"waist": "72", "hip": "98", "waist_to_hip": "20", "waist_to_knee": "58"}


def look_of(style, **typed):
    """A style for the house client with other measures, in cm, and some by sides."""
    taken = {**FOUR, **typed}
    card = Card(name="", measurements={n: str(v) for n, v in taken.items() if v})
    return Worktable().look(new_job(styles.style(style), card))


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


@pytest.mark.parametrize("style", ["straight-block", "mermaid"])
def test_pieces_are_named_left_and_right_and_nothing_is_on_a_fold(style):
    look = uneven(style)
    assert look.drawn
    assert set(pieces(look)) == {"front_left", "front_right", "back_left", "back_right"}
    for piece in look.pieces:
        assert piece.spec.folds == ()
        assert piece.spec.count == 1
        assert not piece.spec.mirrored
        assert crossing(piece.panel.ring(0.5)) is None
        assert piece.panel.area > 0
        assert piece.cut_area > piece.stitch_area
    titles = {piece.spec.title for piece in look.pieces}
    assert titles == {"Front, left", "Front, right", "Back, left", "Back, right"}


def test_every_seam_of_the_mermaid_is_sewn_on_both_sides():
    look = uneven("mermaid")
    seams = {walked.seam.name: walked for walked in look.report.cut.seams}
    assert set(seams) == {
        "side_left",
        "side_right",
        "centre_back",
        "front_centre_joined",
    }
    for walked in seams.values():
        assert abs(walked.difference) < 1e-6
    joined = seams["front_centre_joined"].seam.sides
    assert joined == ((("front_left", "centre"),), (("front_right", "centre"),))
    back = seams["centre_back"].seam.sides
    assert back == ((("back_left", "centre"),), (("back_right", "centre"),))


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
        for edge in ("side", "hem"):
            lengths = [p.panel.edge(edge).chain.length for p in (mine, its)]
            assert lengths[0] == pytest.approx(lengths[1])
        intakes = [[d.intake for d in p.darts] for p in (mine, its)]
        assert intakes[0] == pytest.approx(intakes[1])


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
    job = job.model_copy(update={"amounts": {"dart_intake_front": "2", "length": "70"}})
    values = Worktable().look(job).worked.values
    for side in ("left", "right"):
        assert values[f"front_intake_{side}"] == pytest.approx(20)
        assert values[f"front_{side}"].edge("side").chain.length == pytest.approx(700)


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
    places = {handle.place for handle in look.worked.draft.handles}
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
