"""The report: its contract, and its figures walked again from outlines."""

from __future__ import annotations

import json
import math
import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))

import itertools

from bodies import CLIENTS, HOUSE, SAMPLE
from drafting import as_read, look_of, reported
from sampling import some_of
from skirtwright import __version__
from skirtwright.draft import styles
from skirtwright.export.report_json import as_json
from skirtwright.job.job import new_job
from walker import (
    area,
    distance_to_path,
    distance_to_ring,
    edge_length,
    edge_path,
    folds_on,
    length_less_intakes,
    path_length,
    points_along,
    width_at,
)

CASES = [
    *((name, {}) for name in CLIENTS),
    ("curved", {"hem_shape": "even_from_knee", "hem_drop": 20.0}),
    ("tall", {"waist_shape": "side_elastic", "closing": "none"}),
    ("narrow", {"front_spread": 52.0, "back_spread": 18.0, "knee_shaping": 35.0}),
    ("full", {"knee_curve": 0.0, "back_share": 15.0, "hip_ease": 25.0}),
    ("straight", {"dart_ends": "by_depth", "length": 1080.0, "knee_lift": 120.0}),
]


@pytest.fixture(
    scope="module",
    params=[
        pytest.param(case, marks=pytest.mark.sampled) for case in some_of(CASES, each=2)
    ],
    ids=lambda case: f"{case[0]}-{case[1]}",
)
def report(request):
    name, amounts = request.param
    body = CLIENTS[name]
    return json.loads(json.dumps(as_read("mermaid", body, **amounts))), body, amounts


def piece_of(report, name):
    return next(piece for piece in report["pieces"] if piece["name"] == name)


# The contract, key by key


def is_point(value):
    return (
        isinstance(value, list)
        and len(value) == 2
        and all(isinstance(n, float | int) and math.isfinite(n) for n in value)
    )


def is_ring(value):
    return (
        len(value) > 2
        and all(map(is_point, value))
        and value[0] != value[-1]
        and area(value) > 0
    )


def is_size(value):
    return isinstance(value, float | int) and math.isfinite(value) and value >= 0


def test_top_keys(report):
    found, body, _ = report
    wanted = {
        "skirtwright",
        "title",
        "style",
        "measurements",
        "amounts",
        "choices",
        "points",
        "panels",
        "pieces",
        "seams",
        "finished",
        "lay",
        "problems",
    }
    assert wanted <= set(found)
    assert found["skirtwright"] == __version__
    assert found["style"] == "mermaid"
    assert {name: found["measurements"][name] for name in body} == body
    assert found["lay"] == []
    assert all(isinstance(option, str) for option in found["choices"].values())
    assert all(isinstance(value, float) for value in found["amounts"].values())
    assert all(map(is_point, found["points"].values()))


def test_no_number_is_missing_or_infinite(report):
    json.dumps(report[0], allow_nan=False)


def test_panels(report):
    found, _, _ = report
    assert {"front", "back", "front_lining", "back_lining"} <= set(found["panels"])
    for panel in found["panels"].values():
        assert set(panel) == {"area", "edges", "outline"}
        assert is_ring(panel["outline"])
        assert area(panel["outline"]) == pytest.approx(panel["area"], rel=1e-5)
        for edge in panel["edges"]:
            assert set(edge) == {"name", "length", "start", "end"}
            assert is_size(edge["length"])
            assert is_point(edge["start"])
            assert is_point(edge["end"])


def test_pieces(report):
    found, _, _ = report
    assert [p["name"] for p in found["pieces"]][:2] == ["front", "back"]
    for piece in found["pieces"]:
        assert {
            "name",
            "panel",
            "material",
            "cut",
            "edges",
            "darts",
            "pleats",
            "stitch_area",
            "cut_area",
            "stitch_outline",
            "cut_outline",
            "notches",
            "grain_deg",
        } <= set(piece)
        assert set(piece["cut"]) == {"count", "folds", "mirrored"}
        assert is_ring(piece["stitch_outline"])
        assert is_ring(piece["cut_outline"])
        for edge in piece["edges"]:
            assert {"name", "length", "start", "end", "allowance"} <= set(edge)
        for dart in piece["darts"]:
            assert set(dart) == {"name", "edge", "tip", "legs", "intake"}
            assert is_point(dart["tip"])
        for dart in piece["darts"]:
            assert dart["intake"] == pytest.approx(math.dist(*dart["legs"]))
        for pleat in piece["pleats"]:
            assert set(pleat) == {"name", "edges"}
            assert pleat["edges"]
            for crossing in pleat["edges"]:
                assert set(crossing) == {
                    "edge",
                    "distance",
                    "intake",
                    "width",
                    "legs",
                    "folded",
                }
                assert crossing["width"] == pytest.approx(math.dist(*crossing["legs"]))
        for fold in (
            *piece["darts"],
            *(e for p in piece["pleats"] for e in p["edges"]),
        ):
            assert len(fold["legs"]) == 2
            assert all(map(is_point, fold["legs"]))
        for notch in piece["notches"]:
            assert set(notch) == {"edge", "distance", "count"}
        assert piece["grain_deg"] == pytest.approx(90)
    front, back = (piece_of(found, name) for name in ("front", "back"))
    assert front["cut"] == {"count": 1, "folds": ["centre"], "mirrored": False}
    assert back["cut"] == {"count": 2, "folds": [], "mirrored": True}


def test_pieces_of_one_cloth_come_together_the_skirt_first(report):
    found, _, _ = report
    cloths = [piece["material"] for piece in found["pieces"]]
    assert [cloth for cloth, _ in itertools.groupby(cloths)] == list(
        dict.fromkeys(cloths)
    )
    assert cloths[0] == "shell"
    assert {"shell", "lining", "interfacing"} == set(cloths)


def test_tucks_of_the_lining_lie_where_the_darts_did(report):
    """As many as the shell has darts, pressed out of the same length of waist."""
    found, _, _ = report
    for name in ("front", "back"):
        shell, lining = piece_of(found, name), piece_of(found, f"{name}_lining")
        assert len(lining["pleats"]) == len(shell["darts"])
        assert edge_length(lining, "waist") == pytest.approx(
            edge_length(shell, "waist"), abs=NEAR
        )


def test_seams(report):
    found, _, _ = report
    names = [seam["name"] for seam in found["seams"]]
    assert {"side", "centre_back", "lining_side", "lining_waist"} <= set(names)
    for seam in found["seams"]:
        assert set(seam) == {"name", "sides", "lengths", "ease", "difference", "half"}
        a, b = seam["lengths"]
        assert seam["difference"] == pytest.approx(a - b - seam["ease"], abs=1e-9)
    # A centre back of mirrored pieces: both sides are the same edge.
    pair = found["seams"][names.index("centre_back")]
    assert pair["sides"] == [[["back", "centre"]], [["back", "centre"]]]


def test_finished_keys(report):
    found, _, _ = report
    assert list(found["finished"]) == [
        "waist",
        "hip",
        "knee",
        "sweep",
        "length",
        "step_allowed",
    ]


def test_problems(report):
    found, _, _ = report
    for problem in found["problems"]:
        assert set(problem) == {"code", "severity", "where", "says", "remedy"}
        assert problem["severity"] in ("wrong", "caution", "note")
        assert problem["says"]
        assert "?" not in problem["says"]
    assert not any(problem["severity"] == "wrong" for problem in found["problems"])


# Walked again


NEAR = 0.02
"""mm, of what the report says."""


def test_every_edge_is_as_long_as_it_says(report):
    found, _, _ = report
    for piece in found["pieces"]:
        for edge in piece["edges"]:
            walked = edge_length(piece, edge["name"])
            assert walked == pytest.approx(edge["length"], abs=NEAR), edge["name"]
    for piece in found["pieces"]:
        panel = found["panels"][piece["panel"]]
        assert panel["outline"] == piece["stitch_outline"]
        assert [e["length"] for e in panel["edges"]] == [
            e["length"] for e in piece["edges"]
        ]


def test_every_seam_is_as_long_as_it_says(report):
    found, _, _ = report
    for seam in found["seams"]:
        for side, length in zip(seam["sides"], seam["lengths"], strict=True):
            walked = sum(
                edge_length(piece_of(found, piece), edge.removeprefix("-"))
                for piece, edge in side
            )
            assert walked == pytest.approx(length, abs=NEAR)
        assert abs(seam["difference"]) < 0.1


def test_finished_waist_and_sweep_and_length(report):
    found, body, amounts = report
    pieces = {name: piece_of(found, name) for name in ("front", "back")}
    finished = found["finished"]
    elastic = amounts.get("waist_shape") == "side_elastic"
    for edge, measure in (("waist", "waist"), ("hem", "sweep")):
        walked = 2 * sum(edge_length(piece, edge) for piece in pieces.values())
        if elastic and measure == "waist":
            # On the body it is drawn up; flat, the waist is as wide as the hip.
            assert walked == pytest.approx(finished["hip"], abs=NEAR)
            continue
        assert walked == pytest.approx(finished[measure], abs=NEAR)
    assert edge_length(pieces["front"], "side") == pytest.approx(
        finished["length"], abs=NEAR
    )
    assert finished["waist"] == pytest.approx(body["waist"] + 15, abs=0.1)


def test_finished_hip(report):
    found, body, amounts = report
    # The hip line is level at the zero line of each piece.
    walked = 2 * sum(width_at(piece_of(found, n), 0.0) for n in ("front", "back"))
    assert walked == pytest.approx(found["finished"]["hip"], abs=NEAR)
    ease = amounts.get("hip_ease", 40.0)
    assert found["finished"]["hip"] == pytest.approx(body["hip"] + ease, abs=1e-6)


def test_finished_knee(report):
    found, body, _amounts = report
    lift = found["amounts"]["knee_lift"]
    height = -(body["waist_to_knee"] - lift - body["waist_to_hip"])
    front, back = (piece_of(found, name) for name in ("front", "back"))
    # The back's knee is trued to the front's walked length, so its line runs from the
    # level at the centre a little down to the side: to the notch both sides share.
    notch = next(
        n["distance"]
        for n in front["notches"]
        if n["edge"] == "side"
        and abs(_at(edge_path(front, "side"), n["distance"])[1] - height) < 1
    )
    side = _at(edge_path(back, "side"), notch)
    centre = _crossing(edge_path(back, "centre"), height)
    walked = 2 * (width_at(front, height) + math.dist(side, centre))
    assert walked == pytest.approx(found["finished"]["knee"], abs=2 * NEAR)


def _at(path, distance):
    for a, b in itertools.pairwise(path):
        size = math.dist(a, b)
        if distance <= size:
            share = distance / size
            return [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])]
        distance -= size
    return path[-1]


def _crossing(path, height):
    for a, b in itertools.pairwise(path):
        if (a[1] - height) * (b[1] - height) <= 0 and a[1] != b[1]:
            share = (height - a[1]) / (b[1] - a[1])
            return [a[0] + share * (b[0] - a[0]), height]
    raise AssertionError(height)


def test_the_cutting_line_lies_the_allowance_away(report):
    found, _, _ = report
    for piece in found["pieces"]:
        ring = piece["cut_outline"]
        for edge in piece["edges"]:
            runs = edge["allowances"]
            path = edge_path(piece, edge["name"])
            folds = folds_on(piece, edge["name"])
            for place in points_along(path, 25.0):
                if any(_on_cap(piece, edge["name"], dart, place) for dart in folds):
                    continue
                walked = _walked(path, place)
                width = _width_at(runs, walked)
                if width is None or _near_end(path, walked, runs):
                    continue
                found_width = distance_to_ring(place, ring)
                assert found_width == pytest.approx(width, abs=0.05), (
                    edge["name"],
                    walked,
                )


def _on_cap(piece, edge, dart, place):
    path = edge_path(piece, edge)
    legs = sorted(
        min(range(len(path)), key=lambda i: math.dist(path[i], leg))
        for leg in dart["legs"]
    )
    cap = path[legs[0] : legs[1] + 1]
    return distance_to_path(place, cap) < 0.5


def _walked(path, place):
    best, walked, at = float("inf"), 0.0, 0.0
    for a, b in itertools.pairwise(path):
        off = distance_to_path(place, [a, b])
        if off < best:
            best, at = off, walked + math.dist(a, place)
        walked += math.dist(a, b)
    return at


def _width_at(runs, walked):
    done = 0.0
    for run in runs:
        if walked < done + run["length"]:
            return run["width"]
        done += run["length"]
    return runs[-1]["width"] if runs else None


def _near_end(path, walked, runs):
    """Near an end of the edge or a step of its allowance the corner rules."""
    total, done = path_length(path), 0.0
    steps = [0.0, total]
    for run in runs[:-1]:
        done += run["length"]
        steps.append(done)
    return min(abs(walked - step) for step in steps) < 45


def test_areas(report):
    found, _, _ = report
    for piece in found["pieces"]:
        assert area(piece["stitch_outline"]) == pytest.approx(
            piece["stitch_area"], rel=1e-5
        )
        assert area(piece["cut_outline"]) == pytest.approx(piece["cut_area"], rel=1e-4)
        assert piece["cut_area"] >= piece["stitch_area"] * (1 - 1e-6)
        if piece["material"] != "interfacing":
            assert piece["cut_area"] > piece["stitch_area"]


def test_outlines_are_simple_by_another_judge(report):
    shapely = pytest.importorskip("shapely")
    found, _, _ = report
    for piece in found["pieces"]:
        for name in ("stitch_outline", "cut_outline"):
            assert shapely.LinearRing(piece[name]).is_simple
        inside = shapely.Polygon(piece["stitch_outline"])
        outside = shapely.Polygon(piece["cut_outline"])
        assert outside.buffer(0.01).contains(inside)


def test_notches_are_on_both_sides_of_a_seam_alike(report):
    found, _, _ = report
    for seam in found["seams"]:
        sides = []
        if seam["name"] not in ("side", "centre_back", "lining_side"):
            # A waist carries the marks of its band and of its lining.
            continue
        for side in seam["sides"]:
            ((piece, edge),) = side
            sides.append(
                sorted(
                    (round(n["distance"], 3), n["count"])
                    for n in piece_of(found, piece)["notches"]
                    if n["edge"] == edge
                )
            )
        assert sides[0] == sides[1]
        assert sides[0]


def test_points_are_the_drafts(report):
    found, body, _ = report
    back = found["points"]["front_hip"]
    assert back[1] == 0
    assert found["points"]["centre_hip"] == [0, 0]
    assert body


# Other styles and whole reports


@pytest.mark.parametrize("name", styles.names())
def test_every_style_keeps_the_contract(name):
    found = json.loads(json.dumps(as_read(name, HOUSE)))
    assert found["style"] == name
    assert found["pieces"]
    for piece in found["pieces"]:
        assert is_ring(piece["stitch_outline"])
        assert is_ring(piece["cut_outline"])
        for edge in piece["edges"]:
            walked = edge_length(piece, edge["name"])
            assert walked == pytest.approx(edge["length"], abs=NEAR), edge["name"]
    assert list(found["finished"]) == [
        "waist",
        "hip",
        "knee",
        "sweep",
        "length",
        "step_allowed",
    ]


PLEATED = [
    ("inverted-pleat", {}),
    ("inverted-pleat", {"place": "both", "fold_depth": 50.0, "hem_fold_depth": 110.0}),
    ("pegged", {}),
    ("pegged", {"open": 64.0}),
]


@pytest.mark.parametrize(("name", "amounts"), PLEATED)
def test_the_outline_less_what_the_pleats_take_up_is_the_waist(name, amounts):
    """Walked by another hand: paper round the waist, less each intake, is the waist."""
    found = json.loads(json.dumps(as_read(name, SAMPLE, **amounts)))
    shell = [piece for piece in found["pieces"] if piece["material"] == "shell"]
    walked = paper = 0.0
    for piece in shell:
        times = piece["cut"]["count"] * (2 if piece["cut"]["folds"] else 1)
        for edge in piece["edges"]:
            if edge["role"] == "waist":
                walked += times * length_less_intakes(piece, edge["name"])
                paper += times * edge_length({**piece, "pleats": []}, edge["name"])
    assert walked == pytest.approx(found["finished"]["waist"], abs=NEAR)
    assert paper > walked + 50


def test_a_pleat_says_where_it_crosses_the_waist_and_what_it_adds_to_the_hem():
    """Folds of 7 cm, two at the centre: 14 cm of half the front at waist and hem."""
    found = as_read("inverted-pleat", SAMPLE)
    (pleat,) = piece_of(found, "front")["pleats"]
    waist, hem = pleat["edges"]
    assert (waist["edge"], waist["folded"]) == ("waist", True)
    assert (hem["edge"], hem["folded"]) == ("hem", False)
    assert waist["width"] == pytest.approx(140)
    assert hem["intake"] == pytest.approx(140, abs=0.05)


@pytest.mark.parametrize("style", ["box-pleat", "knife-pleat"])
def test_pleats_all_round_say_what_they_take_up_at_the_hem(style: str):
    """Straight down from the hip: shut, the hem is as wide as that (plain geometry)."""
    found = as_read(style, SAMPLE)
    front = piece_of(found, "front")
    hem = next(edge for edge in front["edges"] if edge["role"] == "hem")
    crossings = [c for p in front["pleats"] for c in p["edges"] if c["edge"] == "hem"]
    assert len(crossings) == len(front["pleats"])
    shut = hem["length"] - sum(c["intake"] for c in crossings)
    assert shut == pytest.approx(found["finished"]["hip"] / 4, abs=0.1)


def test_every_pleat_of_a_waist_has_its_place_on_it():
    """Laid from the centre on, each further along the finished waist than the last."""
    front = piece_of(as_read("pegged", SAMPLE, open=50.0), "front")
    crossings = [p["edges"][0] for p in front["pleats"]]
    distances = [crossing["distance"] for crossing in crossings]
    assert distances == sorted(distances)
    assert distances[0] > 0
    # The last takes up the front's dart besides, 2.97 cm on the house client.
    widths = [crossing["width"] for crossing in crossings]
    assert widths == pytest.approx([50, 50, 50 + 29.7], abs=1)
    for crossing in crossings:
        before = edge_path(front, "waist")
        start = min(
            range(len(before)), key=lambda i: math.dist(before[i], crossing["legs"][0])
        )
        earlier = sum(
            c["intake"] for c in crossings if c["distance"] < crossing["distance"]
        )
        darts = sum(
            path_length(_between(before, dart["legs"]))
            for dart in front["darts"]
            if before.index(_nearest(before, dart["legs"][0])) < start
        )
        walked = path_length(before[: start + 1]) - earlier - darts
        assert crossing["distance"] == pytest.approx(walked, abs=NEAR)


def _nearest(path, place):
    return min(path, key=lambda point: math.dist(point, place))


def _between(path, legs):
    low, high = sorted(path.index(_nearest(path, leg)) for leg in legs)
    return path[low : high + 1]


def test_a_measure_a_style_has_not_is_null():
    assert as_read("straight-block", HOUSE)["finished"]["knee"] is None


def test_problems_are_said_gravest_first():
    found = as_json(
        reported("mermaid", {**SAMPLE, "waist": 1450.0}, hip_ease=10.0, length=1200.0)
    )
    order = {"wrong": 0, "caution": 1, "note": 2}
    grades = [order[problem["severity"]] for problem in found["problems"]]
    refused = [p for p in found["problems"] if p["code"] == "style.waist_over_hip"]
    assert refused
    assert grades == sorted(grades)


def test_nothing_is_said_twice():
    found = as_json(reported("mermaid", SAMPLE, length=1190.0, hip_ease=5.0))
    keys = [(p["code"], p["where"], p["says"]) for p in found["problems"]]
    assert len(keys) == len(set(keys))


def test_of_a_skirt_that_is_refused_no_step_is_told():
    # Half of it is not drawn: what is there would let her step 0 mm.
    chosen = {"waist_shape": "side_elastic", "pocket": "slanted"}
    found = look_of(new_job(styles.style("mermaid")).replace(choices=chosen))
    assert [p.code for p in found.problems] == ["style.slant_needs_darts"]
    assert found.report.finished["step_allowed"] is None
