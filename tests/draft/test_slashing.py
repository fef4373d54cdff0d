"""Slash and spread: what must hold for every slash (common practice, no source).

What is expected is plain geometry: rigid parts keep their lengths, the gap is the
straight distance between the two sides, the paper grows by the gap alone.
"""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drafting import square_panel, worked_of
from skirtwright.draft.shapes.slashing import largest_opening, spread, turn_for
from skirtwright.draft.shapes.spot import Spot
from skirtwright.geometry.point import Point
from skirtwright.geometry.ring import crossing
from skirtwright.problems import Refused

KINDS_TESTED = ["slash_and_spread"]

WIDE, HIGH = 20.0, 30.0
MARKED = [
    {
        "step": "line",
        "kind": "mark",
        "panel": "panel",
        "name": "level",
        "through": ["panel.left at 20", "panel.right at 10"],
    },
    {
        "step": "dot",
        "kind": "mark",
        "panel": "panel",
        "name": "dot",
        "shape": "panel_b",
    },
]


def slashed(paths, opening, corner=1, stays="left", **more):
    step = {
        "step": "spread",
        "kind": "slash_and_spread",
        "panel": "panel",
        "slashes": paths,
        "opening": opening,
        "corner": corner,
        "stays": stays,
        **more,
    }
    return worked_of(*square_panel(WIDE, HIGH), *MARKED, step)


def panel_of(*args, **kwargs):
    worked = slashed(*args, **kwargs)
    assert not worked.stopped, worked.problems
    return worked.values["panel"]


STRAIGHT_UP = ["panel.bottom middle", "panel.top middle"]
AROUND = ["panel.bottom middle", "panel.level middle", "panel.right at mark level"]
TO_A_SIDE = ["panel.bottom at 5", "panel.right middle"]
BEFORE = worked_of(*square_panel(WIDE, HIGH), *MARKED).values["panel"]


@pytest.mark.parametrize("path", [STRAIGHT_UP, AROUND, TO_A_SIDE])
@pytest.mark.parametrize("opening", ["0", "0.3", "4", "8"])
def test_mouth_grows_by_the_gap_and_other_edges_keep_their_length(path, opening):
    made = panel_of([path], opening)
    lengths = {e.name: e.chain.length for e in made.edges}
    for edge in BEFORE.edges:
        if edge.name == "bottom":
            continue
        assert lengths[edge.name] == pytest.approx(edge.chain.length), edge.name
    reach = spot(path[0]).to(spot(path[-1]))
    gap = 10 * float(opening)
    assert lengths["bottom"] == pytest.approx(200 + gap)
    assert gap <= 2 * reach


def spot(text):
    return worked_of(
        *square_panel(WIDE, HIGH),
        *MARKED,
        {"step": "p", "kind": "place", "at": text},
    ).values["p"]


@pytest.mark.parametrize("path", [STRAIGHT_UP, TO_A_SIDE])
@pytest.mark.parametrize("opening", ["1", "5"])
def test_area_grows_by_the_gap(path, opening):
    # A straight slash opens to a triangle: two sides as long as the slash.
    made = panel_of([path], opening)
    reach, gap = spot(path[0]).to(spot(path[1])), 10 * float(opening)
    turn = 2 * math.asin(gap / (2 * reach))
    assert made.area == pytest.approx(
        BEFORE.area + reach * reach * math.sin(turn) / 2, rel=1e-9
    )


def test_a_bent_slash_adds_what_the_turned_corner_sweeps():
    made = panel_of([AROUND], "5", corner=2)
    hinge = spot(AROUND[-1])
    mouth, corner = (spot(text) for text in AROUND[:2])
    turn = 2 * math.asin(50 / (2 * corner.to(hinge)))
    # What lies between the slash and the slash turned about its hinge.
    moved = [turned(p, hinge, turn) for p in (mouth, corner, hinge)]
    ring = [mouth, corner, hinge, moved[1], moved[0]]
    gap = abs(shoelace(ring))
    assert made.area == pytest.approx(BEFORE.area + gap, rel=1e-9)


def turned(p, about, angle):
    dx, dy = p.x - about.x, p.y - about.y
    c, s = math.cos(angle), math.sin(angle)
    return Point(about.x + c * dx - s * dy, about.y + s * dx + c * dy)


def shoelace(ring):
    pairs = zip(ring, ring[1:] + ring[:1], strict=True)
    return sum(a.x * b.y - b.x * a.y for a, b in pairs) / 2


@pytest.mark.parametrize("corner", [1, 2])
@pytest.mark.parametrize("opening", [1.0, 12.5, 60.0])
def test_the_gap_at_the_named_corner_is_the_opening(corner, opening):
    path = [Spot(spot(t), t.split()[0].split(".")[1]) for t in AROUND]
    done = spread(BEFORE, path, corner, opening, "left")
    at = path[corner - 1].point
    assert at.to(done.turned.motion(at)) == pytest.approx(opening, abs=1e-9)
    assert path[-1].point.to(done.turned.motion(path[-1].point)) < 1e-9


@pytest.mark.parametrize("stays", ["left", "right", "top"])
def test_the_part_that_holds_the_named_edge_lies_still(stays):
    made = panel_of([TO_A_SIDE], "3", stays=stays)
    if stays == "right":
        # Both ends of the right edge are on different parts; the longer one holds it:
        # they are equal here, so only the parts' rigidity is asked.
        assert made.edge("right").chain.length == pytest.approx(300)
        return
    assert made.edge(stays).chain == BEFORE.edge(stays).chain


def test_the_other_part_turns_away_from_it():
    for path, stays in ((STRAIGHT_UP, "left"), (STRAIGHT_UP, "right")):
        made = panel_of([path], "4", stays=stays)
        assert made.area > BEFORE.area
        assert crossing(made.ring(0.5)) is None


def test_marks_lie_on_their_paper():
    made = panel_of([STRAIGHT_UP], "4")
    hinge = spot("panel.top middle")
    turn = 2 * math.asin(40 / (2 * 300))
    expected = turned(Point(200, 0), hinge, turn)
    dot = made.mark("dot").shape
    assert dot.to(expected) < 1e-9
    assert dot.to(made.edge("right").chain.start) < 1e-9
    level = made.mark("level").shape
    # Drawn across the gap: both halves keep their length, the gap is added.
    depth = hinge.y - BEFORE.mark("level").shape.start.y
    gap = 2 * depth * math.sin(turn / 2)
    assert level.length == pytest.approx(200 + gap)


def test_several_slashes_are_each_carried_by_those_before():
    paths = [
        [f"panel.bottom at share {n}/4", f"panel.top at share {n}/4"] for n in (1, 2, 3)
    ]
    made = panel_of(paths, "2")
    assert made.edge("bottom").chain.length == pytest.approx(200 + 3 * 20)
    assert made.edge("top").chain.length == pytest.approx(200)
    for edge in ("left", "right"):
        assert made.edge(edge).chain.length == pytest.approx(300)
    turn = math.degrees(2 * math.asin(20 / 600))
    along = made.edge("right").chain.start_direction
    assert abs(along.heading_deg() - 90) == pytest.approx(3 * turn, abs=1e-9)


@pytest.mark.parametrize("share", ["0", "0.5", "1"])
def test_the_last_slash_may_open_by_a_share(share):
    paths = [
        ["panel.bottom at 5", "panel.top at 5"],
        ["panel.bottom at 15", "panel.top at 15"],
    ]
    made = panel_of(paths, "2", last_share=share)
    grown = 20 * (1 + float(share))
    assert made.edge("bottom").chain.length == pytest.approx(200 + grown)
    # A single slash is not a last one of several.
    alone = panel_of([paths[0]], "2", last_share=share)
    assert alone.edge("bottom").chain.length == pytest.approx(220)


def test_slashes_to_opposite_sides_commute():
    left = ["panel.bottom middle", "panel.level middle", "panel.left at mark level"]
    first = panel_of([AROUND, left], "3", corner=2, stays="top")
    second = panel_of([left, AROUND], "3", corner=2, stays="top")
    for edge in first.edges:
        other = second.edge(edge.name).chain
        for share in range(11):
            a = edge.chain.at(edge.chain.length * share / 10)
            b = other.at(other.length * share / 10)
            assert a.to(b) < 1e-9, edge.name


def test_an_empty_list_of_slashes_does_nothing():
    assert panel_of([], "3") == BEFORE


# Refusals


def test_more_than_a_quarter_turn_is_refused_with_the_largest():
    for path, corner in ((STRAIGHT_UP, 1), (AROUND, 2)):
        reach = spot(path[corner - 1]).to(spot(path[-1]))
        largest = reach * math.sqrt(2)
        assert largest_opening(reach) == pytest.approx(largest)
        worked = slashed([path], f"{largest / 10 + 0.01}", corner=corner)
        (refused,) = [p for p in worked.problems if p.stops]
        assert refused.code == "draft.turns_too_far"
        assert refused.where == "spread"
        assert refused.values["largest"] == pytest.approx(largest)
        assert "panel" not in worked.values


def test_folding_is_refused_with_the_largest_that_does_not():
    # A narrow panel slashed twice towards the same side turns back on itself.
    paths = [
        [f"panel.bottom at share {n}/6", f"panel.top at share {n}/6"]
        for n in range(1, 6)
    ]
    worked = slashed(paths, "35")
    refused = [p for p in worked.problems if p.stops]
    assert refused[0].code == "draft.folds_over"
    largest = refused[0].values["largest"]
    assert 0 <= largest < 350
    fine = panel_of(paths[:1], f"{min(largest, 300) / 10 - 0.02}")
    assert crossing(fine.ring(0.5)) is None


@pytest.mark.parametrize(
    ("paths", "opening", "more", "code"),
    [
        ([STRAIGHT_UP], "-1", {}, "draft.opening_negative"),
        ([["panel.bottom middle"]], "1", {}, "draft.slash_too_short"),
        (
            [["panel.bottom middle", "panel.bottom middle"]],
            "1",
            {},
            "draft.slash_too_short",
        ),
        ([["panel.level middle", "panel.top middle"]], "1", {}, "draft.slash_off_edge"),
        ([STRAIGHT_UP], "1", {"corner": 5}, "draft.no_such_corner"),
        ([STRAIGHT_UP], "1", {"stays": "collar"}, "draft.no_edge"),
    ],
)
def test_slashes_that_cannot_be(paths, opening, more, code):
    worked = slashed(paths, opening, **more)
    (refused,) = [p for p in worked.problems if p.stops]
    assert refused.code == code


def test_a_slash_that_leaves_the_panel_is_refused():
    from drafting import point

    notch = [
        point("out", 30, 15),
        {"step": "way", "kind": "place", "at": "out"},
    ]
    worked = worked_of(
        *square_panel(WIDE, HIGH),
        *notch,
        {
            "step": "spread",
            "kind": "slash_and_spread",
            "panel": "panel",
            "slashes": [["panel.bottom middle", "out", "panel.top middle"]],
            "opening": "1",
            "stays": "left",
        },
    )
    (refused,) = [p for p in worked.problems if p.stops]
    assert refused.code == "draft.slash_leaves_panel"


@given(
    mouth=st.floats(0.05, 0.95),
    hinge=st.floats(0.05, 0.95),
    opening=st.floats(0.1, 400),
    stays=st.sampled_from(["left", "right"]),
)
def test_any_straight_slash_is_spread_or_refused(mouth, hinge, opening, stays):
    path = [
        Spot(Point(200 * mouth, 0), "bottom"),
        Spot(Point(200 * hinge, 300), "top"),
    ]
    reach = path[0].point.to(path[1].point)
    largest, done = None, None
    try:
        done = spread(BEFORE, path, 1, opening, stays)
    except Refused as refused:
        largest = refused.problem.values["largest"]
    if done is None:
        assert 0 <= largest < opening
        return
    assert opening <= reach * math.sqrt(2) + 1e-6
    assert done.panel.edge(stays).chain == BEFORE.edge(stays).chain
    turn = math.radians(turn_for(opening, reach))
    grown = done.panel.area - BEFORE.area
    assert grown == pytest.approx(reach * reach * math.sin(turn) / 2, rel=1e-6)
    assert crossing(done.panel.ring(0.5)) is None
    assert done.panel.edge("top").chain.length == pytest.approx(200)
