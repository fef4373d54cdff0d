"""What only a gored skirt has; where no work is named, plain geometry. All mm."""

from __future__ import annotations

import math

import pytest

from bodies import SAMPLE
from drafting import reported
from fairness import unfair
from orders import body_of
from sewn import order_faults
from skirtwright.draft import styles
from skirtwright.problems import BadInput

GORES = range(4, 13)

PULLED_ON = {
    "zip_centre_back": {},
    "none": {"waist_shape": "side_elastic", "elastic_kind": "all_round"},
}


def cut_of(told):
    return {p.name: p for p in told.cut.pieces if p.name.startswith("gore_")}


def round_her(pieces):
    """How many gores lie round her: a pair is two, one on a fold is one."""
    return sum(piece.spec.count for piece in pieces.values())


def edge(told, name):
    part, of = name.split(".")
    return told.worked.values[part].edge(of).chain


@pytest.mark.parametrize("gores", GORES)
@pytest.mark.parametrize("closing", ["zip_centre_back", "none"])
def test_as_many_gores_go_round_as_are_asked_for(gores, closing):
    """A gore at the centre back is cut in two where the zip parts it."""
    told = reported("gored", SAMPLE, gores=gores, closing=closing, **PULLED_ON[closing])
    parted = closing == "zip_centre_back" and gores in (6, 10)
    assert round_her(cut_of(told)) == gores + parted
    lined = {walked.seam.name for walked in told.cut.seams}
    assert ("side" in lined) == (gores % 2 == 0)
    assert not [p for p in told.problems if p.severity == "wrong"]


@pytest.mark.parametrize(
    ("gores", "taken"), [(4, 35.6), (6, 23.8), (8, 17.8), (10, 14.2), (12, 11.9)]
)
def test_all_that_the_waist_is_narrower_is_taken_by_the_seams(gores, taken):
    """Hip 102, waist 73.5: 28.5 over twice as many edges as gores; the mean of them."""
    told = reported("gored", SAMPLE, gores=gores)
    waists = sum(
        piece.panel.edge("waist").chain.length
        * (piece.spec.count * (2 if piece.spec.folds else 1))
        for piece in cut_of(told).values()
    )
    assert waists == pytest.approx(735, abs=0.1)
    assert (told.finished["hip"] - waists) / (2 * gores) == pytest.approx(
        taken, abs=0.06
    )
    assert not any(piece.panel.darts for piece in cut_of(told).values())


@pytest.mark.parametrize("gores", GORES)
def test_each_gore_is_so_much_wider_at_the_hem(gores):
    """The sweep is the hip and twice the flare of every gore, along its arcs."""
    told = reported("gored", SAMPLE, gores=gores, gore_flare=50.0)
    straight = 1020 + 2 * gores * 50
    assert straight <= told.finished["sweep"] <= 1.004 * straight


def test_six_gores_of_baldt():
    """Baldt, 1916: half the front gore is a twelfth of the hip, twice that below."""
    told = reported("gored", SAMPLE, gores=6, hip_ease=40.0, gore_flare=85.0)
    assert told.worked.values["gore_1"].mark("hip").shape.length == pytest.approx(
        1020 / 12
    )
    hem = edge(told, "gore_1.hem")
    assert abs(hem.end.x - hem.start.x) == pytest.approx(2 * 1020 / 12, abs=0.01)


@pytest.mark.parametrize("gores", GORES)
def test_edges_of_a_seam_are_one_length_and_the_waist_is_exact(gores, real_women):
    """Seven women for each number of gores: 63; waist and hip to a tenth."""
    for number, woman in enumerate(real_women[gores::37]):
        start = ("hip_line", "thigh", "knee")[number % 3]
        told = reported("gored", body_of(woman), gores=gores, flare_from=start)
        assert told.cut.seams
        for walked in told.cut.seams:
            assert abs(walked.difference) < 0.1, walked.seam.name
        assert told.finished["waist"] == pytest.approx(woman.waist + 15, abs=0.1)
        assert told.finished["hip"] == pytest.approx(woman.hip + 40, abs=0.1)
        assert list(unfair(told.worked)) == []
        wrong = [p.code for p in told.problems if p.severity == "wrong"]
        assert wrong == [], (woman, gores)


@pytest.mark.parametrize(
    "more",
    [
        {"finish": "facing"},
        {"finish": "petersham"},
        {"closing": "zip_left_side"},
        {"closing": "placket_left_side", "finish": "facing"},
        {"waist_shape": "side_elastic"},
        {"waist_level": -30.0},
    ],
)
@pytest.mark.parametrize("gores", [4, 6, 7, 12])
def test_band_facing_and_elastic_go_round_any_number_of_gores(gores, more):
    told = reported("gored", SAMPLE, gores=gores, **more)
    if gores % 2 and "left" in more.get("closing", ""):
        assert [p.code for p in told.refusals] == ["style.no_side_seam"]
        return
    joined = {"waist", "waist_join"}
    edges = {run.key for w in told.cut.seams for side in w.seam.sides for run in side}
    for name, piece in cut_of(told).items():
        on_waist = [e.name for e in piece.edges if e.role in joined]
        assert on_waist == ["waist"]
        assert (name, "waist") in edges
    for walked in told.cut.seams:
        assert abs(walked.difference) < 0.1, walked.seam.name


@pytest.mark.parametrize("gores", [4, 6])
def test_the_right_side_is_sewn_with_the_gores_where_the_left_one_opens(gores):
    told = reported("gored", SAMPLE, gores=gores, closing="zip_left_side")
    assert list(order_faults(told)) == []


def test_an_edge_made_of_others_is_joined_to_something():
    draft = styles.style("gored")
    assert draft.made_of == ()
    raw = {
        "format": 2,
        "id": "made",
        "title": "Made",
        "measurements": [],
        "steps": [],
        "made_of": [{"when": "1 > 0", "edges": {"front.wiast": ["gore.waist"]}}],
    }
    with pytest.raises(BadInput) as caught:
        styles.draft_of(raw, "made")
    assert caught.value.problem.code == "draft.made_of_nothing"
    assert caught.value.problem.values["edge"] == "front.wiast"


def test_gores_lean_by_their_flare():
    """Sweep 200 of six gores: 8.2 each edge on 50 below the hip, over 9.3 degrees."""
    told = reported("gored", SAMPLE, gores=6, gore_flare=82.0)
    away = edge(told, "gore_2.outer").end_direction
    lean = math.degrees(math.atan2(abs(away.x), -away.y))
    assert 9.3 < lean < 9.3 * 1.25
    assert told.finished["sweep"] == pytest.approx(1020 + 12 * 82, rel=0.01)


@pytest.mark.parametrize("gores", [6, 8, 10])
def test_gored_mermaid_is_narrowest_over_the_knee_and_flares_at_every_seam(gores):
    """Knee: the hip less twice what each edge takes in; sweep: that and the flare."""
    told = reported("mermaid-gored", SAMPLE, gores=gores, gore_flare=60.0)
    taken = told.worked.stated.amounts["break_taken_in"].value
    knee = 1020 - 2 * gores * taken
    assert 2 * told.worked.values["narrow"] == pytest.approx(knee, abs=0.1)
    straight = knee + 2 * gores * 60
    assert straight <= told.finished["sweep"] <= 1.01 * straight
    assert not [p for p in told.problems if p.severity == "wrong"]
    for walked in told.cut.seams:
        assert abs(walked.difference) < 0.1, walked.seam.name
