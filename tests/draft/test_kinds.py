"""One table per kind of step: what it draws, and what it refuses.

Expected figures are plain geometry, worked by hand; lengths in steps are cm, what comes
out is mm.
"""

from __future__ import annotations

import ast
import itertools
import math
from pathlib import Path

import pytest

from drafting import angle_at, kinds, length_of, point, square_panel, worked_of
from skirtwright.draft.shapes.panel import Panel
from skirtwright.geometry.chain import Chain
from skirtwright.geometry.point import Point

A, B = point("A", 0, 0), point("B", 30, 40)
LINE = {"step": "L", "kind": "join", "through": ["A", "B"]}
X, Y = point("X", 0, 10), point("Y", 10, 10)
CROSS = {"step": "C", "kind": "join", "through": ["X", "Y"]}


def step(kind, **fields):
    return {"step": "made", "kind": kind, **fields}


SQUARE = square_panel()

# For each kind: what stands above, the step's fields, and the place it must draw.
POINTS = {
    "start": [
        ([], {}, (0, 0)),
        ([], {"right": "2 1/2", "up": "-3cm"}, (25, -30)),
        ([], {"right": "1 in", "up": "5mm"}, (25.4, 5)),
    ],
    "measure_off": [
        ([A], {"start": "A", "distance": "10", "direction": "0"}, (100, 0)),
        ([A], {"start": "A", "distance": "10", "direction": "90"}, (0, 100)),
        (
            [A],
            {"start": "A", "distance": "10", "direction": "-30"},
            (86.6025, -50),
        ),
        ([B], {"start": "B", "distance": "-10", "direction": "180"}, (400, 400)),
    ],
    "square_out": [
        ([A, B, LINE], {"line": "L", "at": "A", "distance": "5"}, (-40, 30)),
        (
            [A, B, LINE],
            {"line": "L", "at": "B", "distance": "5", "side": "right"},
            (340, 370),
        ),
        (
            [A, B, LINE],
            {"line": "L", "at": "L middle", "distance": "0"},
            (150, 200),
        ),
    ],
    "divide": [
        ([A, B], {"start": "A", "end": "B"}, (150, 200)),
        ([A, B], {"start": "A", "end": "B", "share": "1/3"}, (100, 133.3333)),
        ([A, B], {"start": "A", "end": "B", "share": "2"}, (600, 800)),
    ],
    "meet": [
        (
            [A, B, X, Y, CROSS],
            {"start": "A", "through": "B", "line": "C"},
            (75, 100),
        ),
    ],
    "place": [
        ([A, B, LINE], {"at": "L at 25"}, (150, 200)),
        ([A, B, LINE], {"at": "L at share 0.2"}, (60, 80)),
        (SQUARE, {"at": "panel.right start"}, (200, 0)),
        (SQUARE, {"at": "panel.top end"}, (200, 300)),
    ],
    "turned": [
        ([A, B], {"point": "B", "about": "A", "angle": "90"}, (-400, 300)),
        ([A, B], {"point": "A", "about": "B", "angle": "180"}, (600, 800)),
        ([A, B], {"point": "B", "about": "B", "angle": "33"}, (300, 400)),
    ],
    "reflected": [
        ([A, X, B], {"point": "B", "start": "A", "end": "X"}, (-300, 400)),
        ([A, X, Y, B], {"point": "B", "start": "X", "end": "Y"}, (300, -200)),
    ],
}

# For each kind of line: what stands above, fields, start, end, length.
LINES = {
    "join": [
        ([A, B], {"through": ["A", "B"]}, (0, 0), (300, 400), 500),
        ([A, B, X], {"through": ["A", "B", "X"]}, (0, 0), (0, 100), 500 + 424.264),
    ],
    "curve": [
        # A third of the chord each way and straight on: the straight line itself.
        (
            [A, X],
            {"start": "A", "end": "X", "leaving": "90", "arriving": "90"},
            (0, 0),
            (0, 100),
            100,
        ),
        # Quarter of a circle, radius 100, handles 0.5523 r of a chord root(2) r:
        # the usual cubic is within 0.03 %.
        (
            [A, Y],
            {
                "start": "A",
                "end": "Y",
                "leaving": "0",
                "arriving": "90",
                "start_reach": "0.5522847 / root(2)",
                "end_reach": "0.5522847 / root(2)",
            },
            (0, 0),
            (100, 100),
            50 * math.pi,
        ),
    ],
    "arc": [
        (
            [A, X],
            {"centre": "A", "start": "X", "angle": "90"},
            (0, 100),
            (-100, 0),
            50 * math.pi,
        ),
        (
            [A, X],
            {"centre": "A", "start": "X", "angle": "-180"},
            (0, 100),
            (0, -100),
            100 * math.pi,
        ),
        (
            [A, X],
            {"centre": "A", "start": "X", "angle": "360"},
            (0, 100),
            (0, 100),
            200 * math.pi,
        ),
    ],
    "run": [
        (
            [A, B, X, LINE, {"step": "D", "kind": "join", "through": ["B", "X"]}],
            {"lines": ["L", "D"]},
            (0, 0),
            (0, 100),
            500 + 424.264,
        ),
    ],
}

NUMBERS = [
    ([], {"value": "2 * 3"}, 6),
    ([], {"value": "3 cm + 1 in"}, 55.4),
    ([A, B], {"value": "apart(A, B)"}, 500),
    ([A, B, LINE], {"value": "walk(L) / 2"}, 250),
    ([], {"value": "round_up(7.2 cm, 0.5 cm)"}, 75),
    ([], {"value": "asin(0.5)"}, 30),
]

# For each kind: what stands above, the fields that cannot be, and the code said.
REFUSALS = {
    "number": [
        ([], {"value": "1 / 0"}, None),
        ([], {"value": "root(-1)"}, None),
        ([], {"value": "nothing_here"}, "draft.no_name"),
    ],
    "join": [
        ([A], {"through": ["A"]}, "draft.line_too_short"),
        ([A], {"through": ["A", "A"]}, "draft.line_too_short"),
    ],
    "curve": [
        (
            [A],
            {"start": "A", "end": "A", "leaving": "0", "arriving": "0"},
            "draft.line_too_short",
        ),
    ],
    "arc": [
        (
            [A, X],
            {"centre": "A", "start": "X", "angle": "90", "less": "6"},
            "draft.no_arc",
        ),
        ([A], {"centre": "A", "start": "A", "angle": "90"}, "draft.no_arc"),
        ([A, B], {"centre": "A", "start": "B", "angle": "0"}, "draft.no_arc"),
        ([A, B], {"centre": "A", "start": "B", "angle": "400"}, "draft.no_arc"),
    ],
    "run": [
        (
            [A, B, X, Y, LINE, CROSS],
            {"lines": ["L", "C"]},
            "draft.lines_do_not_meet",
        ),
    ],
    "meet": [
        (
            [A, B, X, Y, CROSS, point("E", 10, 0)],
            {"start": "A", "through": "E", "line": "C"},
            "draft.do_not_meet",
        ),
    ],
    "reflected": [
        (
            [A, B],
            {"point": "B", "start": "A", "end": "A"},
            "draft.no_direction",
        ),
    ],
    "place": [
        ([A, B, LINE], {"at": "L at 51"}, "draft.beyond_the_edge"),
        ([A, B, LINE], {"at": "L at -1"}, "draft.beyond_the_edge"),
        (SQUARE, {"at": "panel.botom start"}, "draft.no_part"),
        ([A], {"at": "AA"}, "draft.no_name"),
    ],
    "outline": [
        ([A, B, LINE], {"edges": {"a": "L"}}, "draft.outline_too_short"),
        (
            [A, B, X, Y, LINE, CROSS],
            {"edges": {"a": "L", "b": "C"}},
            "draft.edges_do_not_meet",
        ),
        (
            [A, B, LINE, {"step": "D", "kind": "join", "through": ["B", "A"]}],
            {"edges": {"a": "L", "b": "D"}},
            "draft.outline_is_flat",
        ),
    ],
    "mark": [(SQUARE, {"panel": "panel", "name": "m"}, "draft.nothing_to_mark")],
    "insert_darts": [
        (
            SQUARE,
            {
                "panel": "panel",
                "edge": "top",
                "count": "2",
                "at": ["5"],
                "width": "2",
                "lengths": ["10"],
            },
            "draft.too_few_places",
        ),
        (
            SQUARE,
            {
                "panel": "panel",
                "edge": "top",
                "count": "1",
                "at": ["5"],
                "width": "-2",
                "lengths": ["10"],
            },
            "draft.dart_not_positive",
        ),
        (
            SQUARE,
            {
                "panel": "panel",
                "edge": "top",
                "count": "1",
                "at": ["19"],
                "width": "2",
                "lengths": ["10"],
            },
            "draft.darts_do_not_fit",
        ),
        (
            SQUARE,
            {
                "panel": "panel",
                "edge": "top",
                "count": "1",
                "at": ["5"],
                "width": "2",
                "tips_up": ["40"],
            },
            "draft.dart_tip_too_high",
        ),
        (
            SQUARE,
            {
                "panel": "panel",
                "edge": "collar",
                "count": "1",
                "at": ["5"],
                "width": "2",
                "lengths": ["10"],
            },
            "draft.no_edge",
        ),
    ],
    "lengthen": [
        (
            SQUARE,
            {"panel": "panel", "edge": "right", "by": "-30"},
            "draft.nothing_left",
        ),
    ],
    "lead_along": [
        (
            [*SQUARE, A, B, LINE],
            {
                "panel": "panel",
                "edge": "right",
                "at": "panel.right middle",
                "lines": ["L"],
            },
            "draft.lines_do_not_meet",
        ),
        (
            [*SQUARE, A, B, LINE],
            {"panel": "panel", "edge": "right", "at": "B", "lines": ["L"]},
            "draft.not_on_edge",
        ),
    ],
    "ease_corner": [
        (
            SQUARE,
            {
                "panel": "panel",
                "edge": "right",
                "at": "panel.right middle",
                "run": "16",
            },
            "draft.run_too_long",
        ),
        (
            SQUARE,
            {
                "panel": "panel",
                "edge": "right",
                "at": "panel.right middle",
                "run": "-1",
            },
            "draft.run_too_long",
        ),
    ],
    "ease_start": [
        (
            SQUARE,
            {
                "panel": "panel",
                "edge": "right",
                "at": "panel.right middle",
                "run": "2",
                "beyond": "2",
                **wrong,
            },
            code,
        )
        for wrong, code in (
            ({"run": "16"}, "draft.run_too_long"),
            ({"beyond": "16"}, "draft.run_too_long"),
            ({"run": "0"}, "draft.run_too_long"),
            ({"turned": "1.1"}, "draft.shares_do_not_fit"),
        )
    ],
    "square_end": [
        (
            SQUARE,
            {"panel": "panel", "edge": "right", "run": "0"},
            "draft.run_too_long",
        ),
        (
            SQUARE,
            {"panel": "panel", "edge": "right", "run": "31"},
            "draft.run_too_long",
        ),
    ],
    "even_from": [
        (
            SQUARE,
            {
                "panel": "panel",
                "edge": "bottom",
                "line": "panel_top_line",
                "distance": "0",
            },
            "draft.distance_not_positive",
        ),
    ],
}


def flat(table):
    return [(kind, *row) for kind, rows in table.items() for row in rows]


@pytest.mark.parametrize(("kind", "above", "fields", "place"), flat(POINTS))
def test_points(kind, above, fields, place):
    worked = worked_of(*above, step(kind, **fields))
    found = worked.values["made"]
    assert isinstance(found, Point)
    assert (found.x, found.y) == pytest.approx(place, abs=1e-3)


@pytest.mark.parametrize(
    ("kind", "above", "fields", "start", "end", "length"), flat(LINES)
)
def test_lines(kind, above, fields, start, end, length):
    worked = worked_of(*above, step(kind, **fields))
    found = worked.values["made"]
    assert isinstance(found, Chain)
    assert (found.start.x, found.start.y) == pytest.approx(start, abs=1e-6)
    assert (found.end.x, found.end.y) == pytest.approx(end, abs=1e-6)
    assert found.length == pytest.approx(length, rel=3e-4)
    if kind == "arc":
        # An arc is cubics of at most 30 degrees, true to its radius.
        assert found.length == pytest.approx(length, rel=1e-5)
        assert all(abs(p.size() - 100) < 1e-3 for p in found.flattened(0.01))


@pytest.mark.parametrize(("above", "fields", "value"), NUMBERS)
def test_number(above, fields, value):
    worked = worked_of(*above, step("number", **fields))
    assert worked.values["made"] == pytest.approx(value)


@pytest.mark.parametrize(
    ("when", "grade", "said", "stops"),
    [
        ("1 < 2", "note", True, False),
        ("2 < 1", "note", False, False),
        ("1 < 2", "wrong", True, False),
        ("1 < 2", "refuse", True, True),
    ],
)
def test_check(when, grade, said, stops):
    from skirtwright.words import remedy, says

    worked = worked_of(
        step(
            "check",
            when=when,
            grade=grade,
            says="It is {long:length}.",
            remedy="Make it {other:length}.",
            values={"long": "3 cm", "other": "1 in"},
        )
    )
    assert len(worked.problems) == said
    assert worked.stopped is stops
    if said:
        (found,) = worked.problems
        assert says(found) == "It is 3 cm."
        assert remedy(found) == "Make it 2.5 cm."
        assert found.severity == ("wrong" if grade == "refuse" else grade)


@pytest.mark.parametrize(("kind", "above", "fields", "code"), flat(REFUSALS))
def test_refusals(kind, above, fields, code):
    from skirtwright.words import has_message, says

    worked = worked_of(*above, step(kind, **fields))
    assert worked.stopped
    found = next(p for p in worked.problems if p.stops)
    if code is not None:
        assert found.code == code
    assert found.where == "made"
    assert has_message(f"problem.{found.code}")
    assert "?" not in says(found)
    if "panel" not in fields:
        assert "made" not in worked.values


# Panels


def panel(*steps):
    worked = worked_of(*SQUARE, *steps)
    assert not worked.stopped, worked.problems
    return worked.values["panel"]


def test_outline_is_anticlockwise_whichever_way_its_edges_run():
    made = panel()
    assert isinstance(made, Panel)
    assert made.area == pytest.approx(200 * 300)
    assert [e.name for e in made.edges] == ["bottom", "right", "top", "left"]
    # Drawn from the left to the right, the top runs against the ring.
    forward = {e.name: e.forward for e in made.edges}
    assert forward == {"bottom": True, "right": True, "top": False, "left": True}
    # Listed clockwise, the ring is turned, the edges' own directions are not.
    edges = {e: f"panel_{e}_line" for e in ("left", "top", "right", "bottom")}
    turned = worked_of(*SQUARE, step("outline", edges=edges)).values["made"]
    assert turned.area == pytest.approx(200 * 300)
    for edge in made.edges:
        assert turned.edge(edge.name).chain == edge.chain


def test_mark_is_drawn_on_the_panel():
    made = panel(
        step("mark", panel="panel", name="m", through=["panel_a", "panel_c"]),
        {
            "step": "n",
            "kind": "mark",
            "panel": "panel",
            "name": "dot",
            "shape": "panel_b",
        },
    )
    assert made.mark("m").shape.length == pytest.approx(math.hypot(200, 300))
    assert made.mark("dot").shape == Point(200, 0)


def test_insert_darts_takes_up_its_width_and_keeps_the_edge():
    fields = {"panel": "panel", "edge": "top", "width": "2"}
    made = panel(
        step("insert_darts", count="2", at=["4", "10"], lengths=["10", "8"], **fields)
    )
    assert [d.name for d in made.darts] == ["dart[1]", "dart[2]"]
    top = made.edge("top").chain
    assert top.length == pytest.approx(200 - 40)
    assert top.paper_length == pytest.approx(200)
    # Distances are walked with the darts shut: the second lies 4 + ... + 2 on paper.
    first, second = made.darts
    assert (first.tip.x, first.tip.y) == pytest.approx((50, 200))
    assert (second.tip.x, second.tip.y) == pytest.approx((130, 220))
    left, right = made.legs(second)
    assert (left.x, right.x) == pytest.approx((120, 140))
    assert made.part("dart[2].left").length == pytest.approx(math.hypot(10, 80))
    assert panel(step("insert_darts", count="0", at=[], **fields)).darts == ()
    up = panel(step("insert_darts", count="1", at=["4"], tips_up=["12"], **fields))
    assert up.darts[0].tip.y == pytest.approx(120)


def test_a_dart_shut_opens_the_hem():
    # Plain geometry: a dart 2 cm wide and 10 long along its axis, shut; 50 below the
    # tip the hem opens 9.95 (geometry: 2 x 50 x sin(half the dart's angle)).
    from skirtwright.draft.shapes.darts import shut_darts

    worked = worked_of(
        *square_panel(20, 60),
        step(
            "insert_darts",
            panel="panel",
            edge="top",
            count="1",
            at=["9"],
            width="2",
            lengths=["10"],
        ),
    )
    made = worked.values["panel"]
    (shut,) = shut_darts(made, "top")
    tip = shut.dart.tip
    hem = Point(tip.x, tip.y - 500)
    assert hem.to(shut.beyond(hem)) / 10 == pytest.approx(9.95, abs=0.01)
    assert shut.beyond(shut.far).to(shut.near) < 1e-9


def test_lead_along_and_lengthen_bring_the_neighbour_along():
    made = panel(
        point("out", 25, 30),
        {"step": "way", "kind": "join", "through": ["panel.right middle", "out"]},
        step(
            "lead_along",
            panel="panel",
            edge="right",
            at="panel.right middle",
            lines=["way"],
        ),
    )
    assert made.edge("right").chain.end == Point(250, 300)
    assert made.edge("top").chain.end == Point(250, 300)
    assert made.area == pytest.approx(200 * 300 + 0.5 * 50 * 150)
    for by, area in ((5, 200 * 300 + 0.5 * 50 * 200), (-5, 200 * 300 - 5000)):
        longer = panel(step("lengthen", panel="panel", edge="right", by=str(by)))
        assert longer.edge("right").chain.length == pytest.approx(300 + 10 * by)
        assert longer.area == pytest.approx(area)
    assert panel(step("lengthen", panel="panel", edge="right", by="0")) == panel()


def test_redraw_leaves_square_and_keeps_its_ends():
    slanted = [
        {"step": "s", "kind": "lengthen", "panel": "panel", "edge": "right", "by": "5"}
    ]
    made = panel(*slanted, step("redraw", panel="panel", edge="top"))
    top = made.edge("top").chain
    assert (top.start, top.end) == (Point(0, 300), Point(200, 350))
    assert angle_at(top.start_direction, Point(1, 0)) == pytest.approx(0, abs=1e-6)
    assert angle_at(top.end_direction, Point(1, 0)) == pytest.approx(0, abs=1e-6)
    drawn = panel(
        *slanted,
        step("redraw", panel="panel", edge="top", start="as_drawn", end="as_drawn"),
    )
    assert drawn.edge("top").chain.length == pytest.approx(math.hypot(200, 50))


def test_redraw_shuts_the_darts_first():
    darts = {
        "step": "darts",
        "kind": "insert_darts",
        "panel": "panel",
        "edge": "top",
        "count": "2",
        "at": ["4", "10"],
        "width": "2",
        "lengths": ["10", "8"],
    }
    from skirtwright.draft.shapes.darts import shut_darts

    for pressed in ("start", "end"):
        made = panel(darts, step("redraw", panel="panel", edge="top", pressed=pressed))
        shut = shut_darts(made, "top")
        for one in shut:
            left, right = made.legs(one.dart)
            assert left.to(one.dart.tip) == pytest.approx(right.to(one.dart.tip))
        # Shut, it is one smooth line: no corner across a dart.
        parts, motions = [], [lambda p: p, shut[0].beyond, shut[1].beyond]
        runs = [[]]
        for segment in made.edge("top").chain.segments:
            if segment.fold:
                if runs[-1]:
                    runs.append([])
            else:
                runs[-1].append(segment)
        assert len(runs) == 3
        for run, motion in zip(runs, motions, strict=True):
            origin = motion(Point(0, 0))
            parts.append(
                (
                    motion(run[0].start),
                    motion(run[0].start_direction) - origin,
                    motion(run[-1].end),
                    motion(run[-1].end_direction) - origin,
                )
            )
        for before, after in itertools.pairwise(parts):
            assert before[2].to(after[0]) < 1e-4
            assert angle_at(before[3], after[1]) < 1e-3


def test_ease_corner_is_tangent_and_moves_marks_on_to_the_curve():
    bent = [
        point("out", 15, 30),
        {"step": "way", "kind": "join", "through": ["panel.right middle", "out"]},
        {"step": "corner", "kind": "place", "at": "panel.right middle"},
        {
            "step": "line",
            "kind": "mark",
            "panel": "panel",
            "name": "m",
            "through": ["panel.left middle", "corner"],
        },
        {
            "step": "bent",
            "kind": "lead_along",
            "panel": "panel",
            "edge": "right",
            "at": "corner",
            "lines": ["way"],
        },
    ]
    made = panel(
        *bent, step("ease_corner", panel="panel", edge="right", at="corner", run="4")
    )
    chain = made.edge("right").chain
    bends = [
        angle_at(a.end_direction, b.start_direction)
        for a, b in zip(chain.segments, chain.segments[1:], strict=False)
    ]
    assert max(bends) < 1e-4
    mark = made.mark("m").shape
    assert chain.nearest(mark.end)[1] < 1e-4
    # Inside a corner that turns in, the curve lies inside: run x tan(bend / 4).
    bend = math.degrees(math.atan2(50, 150))
    moved = 200 - mark.end.x
    assert abs(moved) == pytest.approx(40 * math.tan(math.radians(bend / 4)), rel=0.05)
    # Nothing to ease, nothing done.
    assert (
        panel(
            step(
                "ease_corner",
                panel="panel",
                edge="right",
                at="panel.right middle",
                run="0",
            )
        )
        == panel()
    )


def set_out(by: str, turned: str):
    """A square panel's right edge, set out aslant below its corner and eased there."""
    out = {"panel": "panel", "edge": "bottom", "by": by, "wider": "0.3"}
    eased = {"run": f"0.8 * {by}", "beyond": "2.8", "turned": turned}
    where = {"panel": "panel", "edge": "right", "at": "panel_b"}
    return panel(
        {"step": "out", "kind": "set_edge", **out},
        step("ease_start", **where, **eased),
    )


@pytest.mark.parametrize("turned", ["0", "0.25", "1"])
def test_ease_start_turns_by_its_share_and_keeps_the_start(turned):
    chain = set_out("1", turned).edge("right").chain
    assert chain.start.to(Point(203, -10)) < 1e-9
    for before, after in itertools.pairwise(chain.segments):
        assert angle_at(before.end_direction, after.start_direction) < 1e-4
    # The stretch leans by 3 mm in 10.
    leans = angle_at(chain.start_direction, Point(0, 1))
    assert leans == pytest.approx(float(turned) * math.degrees(math.atan2(3, 10)))
    # Beyond the curve the edge is as it was.
    assert chain.end == Point(200, 300)
    assert chain.at(chain.length - 271).to(Point(200, 29)) < 1e-6


def test_square_end_ends_square():
    slanted = [
        {"step": "s", "kind": "lengthen", "panel": "panel", "edge": "right", "by": "5"}
    ]
    for which in ("start", "end"):
        made = panel(
            *slanted,
            step("square_end", panel="panel", edge="top", which=which, run="6"),
        )
        top = made.edge("top").chain
        along = top.start_direction if which == "start" else top.end_direction
        assert angle_at(along, Point(1, 0)) == pytest.approx(0, abs=1e-6)
        assert (top.start, top.end) == (Point(0, 300), Point(200, 350))


def test_even_from_is_one_distance_away():
    made = panel(
        step(
            "even_from",
            panel="panel",
            edge="bottom",
            line="panel_top_line",
            distance="30",
        )
    )
    assert made.area == pytest.approx(200 * 300)
    lowered = panel(
        {"step": "s", "kind": "lengthen", "panel": "panel", "edge": "left", "by": "2"},
        step(
            "even_from",
            panel="panel",
            edge="bottom",
            line="panel_top_line",
            distance="30",
        ),
    )
    bottom = lowered.edge("bottom").chain
    # Square to the lowered side, and level from the middle on.
    assert abs(bottom.start_direction.y) < 1e-6
    assert bottom.start == Point(0, -20)
    assert abs(bottom.at(bottom.length * 0.75).y) < 1e-6


def test_length_of_edges_is_read_with_darts_shut():
    worked = worked_of(
        *SQUARE,
        step(
            "insert_darts",
            panel="panel",
            edge="top",
            count="1",
            at=["9"],
            width="2",
            lengths=["10"],
        ),
    )
    assert length_of(worked, "walk(panel.top)") == pytest.approx(180)


# Every kind has its table, and keeps the names of edges

TABLES = {
    **dict.fromkeys(POINTS, "POINTS"),
    **dict.fromkeys(LINES, "LINES"),
    "number": "NUMBERS",
    "check": "test_check",
    "outline": "test_outline_is_anticlockwise_whichever_way_its_edges_run",
    "mark": "test_mark_is_drawn_on_the_panel",
    "insert_darts": "test_insert_darts_takes_up_its_width_and_keeps_the_edge",
    "lead_along": "test_lead_along_and_lengthen_bring_the_neighbour_along",
    "lengthen": "test_lead_along_and_lengthen_bring_the_neighbour_along",
    "redraw": "test_redraw_leaves_square_and_keeps_its_ends",
    "ease_corner": "test_ease_corner_is_tangent_and_moves_marks_on_to_the_curve",
    "ease_start": "test_ease_start_turns_by_its_share_and_keeps_the_start",
    "square_end": "test_square_end_ends_square",
    "even_from": "test_even_from_is_one_distance_away",
}


def kinds_with_own_file():
    """Kinds whose table stands in another file, which lists them as KINDS_TESTED."""
    found = set()
    for path in Path(__file__).parent.glob("test_*.py"):
        for node in ast.parse(path.read_text(encoding="utf-8")).body:
            if isinstance(node, ast.Assign) and any(
                isinstance(t, ast.Name) and t.id == "KINDS_TESTED" for t in node.targets
            ):
                found |= set(ast.literal_eval(node.value))
    return found


def test_every_kind_has_a_table():
    assert set(TABLES) | kinds_with_own_file() == set(kinds())
    here = globals()
    assert all(name in here for name in TABLES.values())


def test_every_kind_has_a_sentence():
    from skirtwright.words import has_message

    # A number says its result, by its kind.
    suffixes = {"number": ("_length", "_angle", "_number")}
    missing = [
        kind
        for kind in kinds()
        for suffix in suffixes.get(kind, ("",))
        if not has_message(f"step.{kind}{suffix}")
    ]
    assert missing == []


IDENTITY = {
    "mark": {"name": "m", "through": ["panel_a", "panel_c"]},
    "insert_darts": {
        "edge": "top",
        "count": "1",
        "at": ["9"],
        "width": "2",
        "lengths": ["10"],
    },
    "lead_along": {"edge": "right", "at": "panel.right middle", "lines": ["way"]},
    "lengthen": {"edge": "right", "by": "3"},
    "slash_and_spread": {
        "slashes": [["panel.bottom middle", "panel.top middle"]],
        "opening": "4",
        "stays": "left",
    },
    "redraw": {"edge": "top"},
    "ease_corner": {"edge": "right", "at": "panel.right middle", "run": "2"},
    "ease_start": {
        "edge": "right",
        "at": "panel.right middle",
        "run": "2",
        "beyond": "3",
    },
    "square_end": {"edge": "top", "run": "2"},
    "even_from": {"edge": "bottom", "line": "panel_top_line", "distance": "30"},
}


def test_every_rewriting_kind_keeps_edge_names_and_directions():
    rewriting = {word for word, kind in kinds().items() if kind.rewrites}
    assert rewriting - set(IDENTITY) <= kinds_with_own_file()
    before = panel()
    above = [
        point("out", 25, 30),
        {"step": "way", "kind": "join", "through": ["panel.right middle", "out"]},
    ]
    for kind, fields in IDENTITY.items():
        after = panel(*above, step(kind, panel="panel", **fields))
        assert [e.name for e in after.edges] == [e.name for e in before.edges], kind
        assert [e.forward for e in after.edges] == [e.forward for e in before.edges]
        made = kinds()[kind].makes
        assert not made, "a kind that makes further edges is declared and tested here"
        # Still one closed ring, each edge beginning where the last ended.
        assert after.outline.start.to(after.outline.end) < 1e-6
        marks = {m.name for m in after.marks} - {m.name for m in before.marks}
        assert marks == ({"m"} if kind == "mark" else set())
