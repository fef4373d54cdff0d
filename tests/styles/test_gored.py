"""What only a gored skirt has; where no work is named, plain geometry. All mm."""

from __future__ import annotations

import math

import pytest

from bodies import SAMPLE
from drafting import draft_of, look_of, reported, work
from fairness import fairness, unfair
from options import wrong_of
from orders import body_of
from sewn import order_faults
from skirtwright.draft import styles
from skirtwright.draft.step import Reads
from skirtwright.job import edits
from skirtwright.job.job import new_job
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


def test_five_gores_of_a_system_of_1914():
    """The Perfect Dressmaking System, 1914, page 13: waist 25, hip 40 inches.

    Each gore is 5 in wide at the waist and 8 at the hip; 2 1/4 yards go round the
    bottom; what the lengths differ is made at the top.
    """
    inch = 25.4
    body = {
        **SAMPLE,
        "waist": 25 * inch - 15,
        "hip": 40 * inch - 40,
        "waist_to_floor_front": 38 * inch,
        "waist_to_floor_side": 39 * inch,
        "waist_to_floor_back": 39.5 * inch,
    }
    told = reported("gored", body, gores=5, sweep=81 * inch, length=39 * inch)
    pieces = cut_of(told)
    hips = [piece.panel.mark("hip").shape.length for piece in pieces.values()]
    whole = [4.0 if piece.spec.folds else 8.0 for piece in pieces.values()]
    assert hips == pytest.approx([wide * inch for wide in whole], abs=0.1)
    waists = sum(
        piece.panel.edge("waist").chain.length * 2 for piece in pieces.values()
    )
    assert waists / 5 == pytest.approx(5 * inch, abs=0.1)
    assert told.finished["sweep"] == pytest.approx(81 * inch, abs=0.1)
    tops = [told.worked.values[f"{end}_depth"] for end in ("front", "back")]
    assert tops[1] - tops[0] == pytest.approx(1.5 * inch)


@pytest.mark.parametrize("gores", GORES)
def test_edges_of_a_seam_are_one_length_and_the_waist_is_exact(gores, real_women):
    """Four women for each number of gores: 36; waist and hip to a tenth."""
    for number, woman in enumerate(real_women[gores::64]):
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
        {"waist_level": 40.0},
        {"waist_level": 40.0, "finish": "facing"},
        {"flare_grade": 0.5, "gore_grain": "edge"},
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
        draft_of(raw, "made")
    assert caught.value.problem.code == "draft.made_of_nothing"
    assert caught.value.problem.values["edge"] == "front.wiast"


@pytest.mark.parametrize("flare_from", ["hip_line", "thigh", "knee"])
@pytest.mark.parametrize("style", ["gored", "mermaid-gored"])
def test_no_length_is_offered_that_ends_where_the_flare_begins(style, flare_from):
    shortest = work(style, SAMPLE, flare_from=flare_from).stated.amounts["length"].least
    told = reported(style, SAMPLE, flare_from=flare_from, length=shortest)
    assert not [p for p in told.problems if p.stops or p.severity == "wrong"]


def test_gores_lean_by_their_flare():
    """Sweep 200 of six gores: 8.2 each edge on 50 below the hip, over 9.3 degrees."""
    told = reported("gored", SAMPLE, gores=6, gore_flare=82.0)
    away = edge(told, "gore_2.outer").end_direction
    lean = math.degrees(math.atan2(abs(away.x), -away.y))
    assert 9.3 < lean < 9.3 * 1.25
    assert told.finished["sweep"] == pytest.approx(1020 + 12 * 82, rel=0.01)


@pytest.mark.parametrize(
    ("style", "gores", "chosen"),
    [
        ("gored", 6, {}),
        ("gored", 7, {"flare_grade": 0.5}),
        ("mermaid-gored", 10, {"flare_grade": 0.3}),
    ],
)
def test_a_sweep_that_is_asked_for_is_the_sweep(style, gores, chosen):
    told = reported(style, SAMPLE, gores=gores, sweep=2100.0, **chosen)
    assert told.finished["sweep"] == pytest.approx(2100, abs=0.1)
    assert not [p for p in told.problems if p.severity == "wrong"]
    for walked in told.cut.seams:
        assert abs(walked.difference) < 0.1, walked.seam.name


@pytest.mark.parametrize(
    "chosen",
    [
        {"sweep": "210 cm"},
        {"waist_level": "4 cm"},
        {"flare_grade": "0.4", "gore_grain": "edge"},
    ],
    ids=str,
)
def test_gores_of_unlike_halves_go_round_as_asked(chosen):
    """What is of both halves is found behind what each finds for itself."""
    job = new_job(styles.style("gored"))
    sides = {"hip_left": "47.5 cm", "hip_right": "50.5 cm"}
    for name, text in (sides | {"waist_to_hip_right": "21.5 cm"}).items():
        job = edits.set_measurement(job, name, text).job
    for name, text in chosen.items():
        put = edits.set_choice if name == "gore_grain" else edits.set_amount
        job = put(job, name, text).job
    look = look_of(job)
    assert look.drawn
    assert not wrong_of(look.report)
    for walked in look.report.cut.seams:
        assert abs(walked.difference) < 0.1, walked.seam.name
    found = look.report.finished
    assert found["hip"] == pytest.approx(1020, abs=0.1)
    if "sweep" in chosen:
        assert found["sweep"] == pytest.approx(2100, abs=0.5)


def lean_of(told, name):
    """How far an edge leans out at the hem, degrees."""
    away = edge(told, name).end_direction
    return math.degrees(math.atan2(abs(away.x), -away.y))


def test_a_graded_flare_grows_from_seam_to_seam():
    """Centre front half of the mean, centre back half as much again."""
    told = reported("gored", SAMPLE, gores=8, flare_grade=0.5, gore_flare=60.0)
    plain = reported("gored", SAMPLE, gores=8, gore_flare=60.0)
    seams = [
        ("gore_1.outer", "gore_2.inner"),
        ("gore_2.outer", "gore_3.inner"),
        ("gore_3.outer", "gore_back.inner"),
    ]
    leans = [lean_of(told, "gore_1.inner")]
    for before, behind in seams:
        assert lean_of(told, before) == pytest.approx(lean_of(told, behind))
        leans.append(lean_of(told, before))
    leans.append(lean_of(told, "gore_back.outer"))
    mean = math.sin(math.radians(lean_of(plain, "gore_2.outer")))
    shares = [math.sin(math.radians(lean)) / mean for lean in leans]
    assert shares == pytest.approx([0.5, 0.75, 1, 1.25, 1.5], abs=0.01)


def test_a_raised_waist_is_as_wide_as_hers_and_no_seam_bends_there():
    told = reported("gored", SAMPLE, waist_level=40.0)
    waists = sum(
        piece.panel.edge("waist").chain.length
        * (piece.spec.count * (2 if piece.spec.folds else 1))
        for piece in cut_of(told).values()
    )
    assert waists == pytest.approx(735, abs=0.1)
    assert edge(told, "gore_2.outer").length == pytest.approx(700 + 40, abs=0.01)
    assert list(unfair(told.worked)) == []


def test_a_waist_that_falls_steeply_to_the_centre_bends_on_60_mm():
    """Of ordinary fullness it would bend on 47 at the back, and on 46."""
    body = {"waist": 655, "hip": 904, "waist_to_hip": 203, "waist_to_knee": 582}
    told = work("gored", body, centre_back_below=30.0)
    for name in ("gore_3", "gore_back"):
        assert fairness(told.values[name].edge("waist").chain).radius >= 59.5


def test_the_straight_grain_runs_along_the_front_edge_of_a_gore():
    """Baldt, 1916, has it so as well as down the middle."""
    told = reported("gored", SAMPLE, gores=8, gore_grain="edge")
    for name, piece in cut_of(told).items():
        way = edge(told, f"{name}.inner").end_direction
        along = math.degrees(math.atan2(-way.y, -way.x))
        assert piece.grain_deg == pytest.approx(along, abs=0.01)


@pytest.mark.parametrize("gores", [6, 8, 10])
def test_gored_mermaid_is_narrowest_over_the_knee_and_flares_at_every_seam(gores):
    """Knee: the hip less twice what each edge takes in; sweep: that and the flare."""
    told = reported("mermaid-gored", SAMPLE, gores=gores, gore_flare=60.0)
    taken = told.worked.stated.amounts["break_taken_in"].value
    knee = 1020 - 2 * gores * taken
    narrowest = told.worked.draft.stride[0].girth
    assert told.worked.read(narrowest, Reads.LENGTH) == pytest.approx(knee, abs=0.1)
    straight = knee + 2 * gores * 60
    assert straight <= told.finished["sweep"] <= 1.01 * straight
    assert not [p for p in told.problems if p.severity == "wrong"]
    for walked in told.cut.seams:
        assert abs(walked.difference) < 0.1, walked.seam.name


@pytest.mark.parametrize("name", styles.names())
def test_a_waist_shaped_by_its_seams_is_not_said_to_have_darts(name):
    """The choice's words fit the style."""
    shaped, waist = (
        styles.style(name).choice(choice) for choice in ("shaped_by", "waist_shape")
    )
    if shaped is not None and waist is not None:
        by_seams = shaped.default == "seams"
        words = " ".join((waist.help, *waist.options.values())).lower()
        assert ("seams" in words, "darts" in words) == (by_seams, not by_seams)
