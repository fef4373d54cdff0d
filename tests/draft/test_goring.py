"""The kinds that gores and godets brought; figures by plain geometry, in mm."""

from __future__ import annotations

import math

import pytest

from drafting import angle_at, square_panel, worked_of

KINDS_TESTED = ("gore", "divide_edge")

PLAIN = {"hip": "17", "waist": "12", "depths": ["20", "19.5"], "below": "50"}


def gore(**fields):
    step = {"step": "made", "kind": "gore", **PLAIN, **fields}
    return worked_of(step)


def corners(panel):
    """The angles at the four corners, from the waist's start round."""
    waist, inner, hem, outer = (
        panel.edge(name).chain for name in ("waist", "inner", "hem", "outer")
    )
    return [
        angle_at(waist.start_direction, inner.start_direction),
        angle_at(waist.end_direction, -outer.start_direction),
        angle_at(hem.start_direction, inner.end_direction),
        angle_at(hem.end_direction, -outer.end_direction),
    ]


@pytest.mark.parametrize(
    "more",
    [
        {},
        {"out": ["0", "5"]},
        {"out": ["-0.8", "8"], "flare_from": "25"},
        {"inner_share": "0", "straight": ["1", "0"], "out": ["0", "5"]},
        {"inner_share": "1", "straight": ["0", "1"], "out": ["0", "5"]},
        {"waist": "17", "out": ["0", "3"]},
    ],
)
def test_edges_are_as_long_as_asked_and_square_to_waist_and_hem(more):
    panel = gore(**more).values["made"]
    assert panel.edge("waist").chain.length == pytest.approx(
        10 * float(more.get("waist", "12")), abs=1e-3
    )
    straight = more.get("straight", ["0", "0"])
    for name, long, plain in zip(("inner", "outer"), (700, 695), straight, strict=True):
        if plain == "0":
            assert panel.edge(name).chain.length == pytest.approx(long, abs=1e-3)
    assert corners(panel) == pytest.approx([90.0] * 4, abs=1e-4)
    assert panel.mark("hip").shape.length == pytest.approx(170, abs=1e-6)


@pytest.mark.parametrize(("flare", "taken", "low"), [(50, 0, 0), (80, 8, 250)])
def test_each_edge_stands_out_by_its_flare(flare, taken, low):
    made = gore(out=[f"-{taken} mm", f"{flare} mm"], flare_from=f"{low} mm")
    panel = made.values["made"]
    hem = panel.edge("hem").chain
    assert hem.start.to(hem.end) == pytest.approx(170 - 2 * taken + 2 * flare, abs=1e-3)
    if low:
        narrow = panel.mark("knee[1]").shape.length
        assert narrow == pytest.approx(170 - 2 * taken, abs=1e-3)
    # The hem is part of a circle about where both edges would meet.
    lean = angle_at(panel.edge("outer").chain.end_direction, type(hem.start)(0, -1))
    arc = (
        math.radians(2 * lean)
        * hem.start.to(hem.end)
        / (2 * math.sin(math.radians(lean)))
    )
    assert hem.length == pytest.approx(arc, abs=0.01)


def test_half_a_gore_is_half_of_the_whole_one():
    """Its straight edge is the middle of the whole one, hem and all."""
    whole = gore(out=["0", "5"]).values["made"]
    half = gore(hip="8.5", out=["0", "5"], straight=["1", "0"], inner_share="0").values[
        "made"
    ]
    length = whole.edge("hem").chain.length
    assert 2 * half.edge("hem").chain.length == pytest.approx(length, abs=1e-6)
    middle = whole.edge("hem").chain.at(length / 2)
    assert half.edge("inner").chain.end.y == pytest.approx(middle.y, abs=1e-6)


@pytest.mark.parametrize(
    ("fields", "code"),
    [
        ({"hip": "0"}, "draft.distance_not_positive"),
        ({"flare_from": "50"}, "draft.distance_not_positive"),
        ({"depths": ["20"]}, "draft.gore_of_two_edges"),
        ({"waist": "60"}, "draft.gore_takes_too_much"),
        ({"out": ["0", "49"]}, "draft.turns_too_far"),
    ],
)
def test_what_is_no_gore_is_refused(fields, code):
    stops = [problem for problem in gore(**fields).problems if problem.stops]
    assert [problem.code for problem in stops] == [code]


def divided(at, name="low"):
    step = {"step": "made", "kind": "divide_edge", "panel": "panel", "edge": "left"}
    return worked_of(*square_panel(), {**step, "at": at, "name": name})


def test_an_edge_divided_is_two_on_one_outline():
    whole = worked_of(*square_panel()).values["panel"]
    panel = divided("panel.left at 12").values["panel"]
    assert panel.edge("left").chain.length == pytest.approx(120)
    assert panel.edge("low").chain.length == pytest.approx(180)
    assert panel.edge("left").chain.end.is_at(panel.edge("low").chain.start)
    assert [e.name for e in panel.edges if e.name != "low"] == [
        e.name for e in whole.edges
    ]
    assert panel.area == pytest.approx(whole.area)


@pytest.mark.parametrize(
    ("at", "name", "code"),
    [
        ("panel.left end", "low", "draft.edge_not_divided"),
        ("panel.left at 12", "top", "draft.edge_there"),
    ],
)
def test_an_edge_is_divided_between_its_ends_and_named_anew(at, name, code):
    assert [p.code for p in divided(at, name).problems if p.stops] == [code]
