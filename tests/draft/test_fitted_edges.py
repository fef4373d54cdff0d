"""Kinds that alter edges after a fitting; expected figures are plain geometry."""

from __future__ import annotations

import pytest

from drafting import square_panel, worked_of

KINDS_TESTED = ("let_out_between", "shorten_along", "put_back")


def out(first: str, last: str, by: str = "1", edge: str = "right"):
    """A panel 20 by 30 with an edge let out between two places."""
    step = {
        "step": "out",
        "kind": "let_out_between",
        "panel": "panel",
        "edge": edge,
        "first": first,
        "last": last,
        "by": by,
    }
    return worked_of(*square_panel(20, 30), step)


def sticks_out(worked, *levels: float) -> list[float]:
    """How far the right side lies beyond where it was, at levels from its start, mm."""
    chain = worked.values["panel"].edge("right").chain
    start = chain.start.y
    way = 1 if chain.end.y > start else -1
    found = []
    for level in levels:
        low, high = 0.0, chain.length
        for _ in range(60):
            middle = (low + high) / 2
            if (chain.at(middle).y - start) * way < level:
                low = middle
            else:
                high = middle
        found.append(chain.at(low).x - 200.0)
    return found


def test_all_of_it_half_way_between_two_places_and_nothing_at_both():
    worked = out("panel.right at 5", "panel.right at 15")
    assert sticks_out(worked, 50, 100, 150, 250) == pytest.approx(
        [0, 10, 0, 0], abs=0.05
    )


@pytest.mark.parametrize("last", ["8", "10", "13.7"])
def test_all_of_it_however_short_the_stretch(last: str):
    """Between 5 and LAST, which no curve of a longer edge would be read within."""
    worked = out("panel.right at 5", f"panel.right at {last}", by="0.5")
    half = (50 + 10 * float(last)) / 2
    assert sticks_out(worked, half) == pytest.approx([5], abs=1e-6)


def test_all_of_it_of_a_hem_shorter_than_one_curve():
    step = {"step": "cut", "kind": "shorten_along", "panel": "panel", "edge": "bottom"}
    worked = worked_of(*square_panel(2, 30), {**step, "cuts": ["0", "0.5", "0"]})
    hem = worked.values["panel"].edge("bottom").chain
    levels = [point.y for point in hem.flattened(0.01)]
    assert max(levels) - min(levels) == pytest.approx(5.0, abs=1e-6)


@pytest.mark.parametrize(
    ("first", "last", "by", "least"),
    [
        ("at 10", "at 10.5", "3", 90.0),
        ("at 10", "at 11.9", "0.1", 20.0),
        ("at 27", "end", "-3", 45.0),
        ("start", "at 1.9", "1", 20.0),
    ],
)
def test_a_stretch_too_short_to_be_fair_is_refused(first, last, by, least):
    worked = out(f"panel.right {first}", f"panel.right {last}", by=by)
    assert [p.code for p in worked.problems] == ["draft.stretch_too_short"]
    assert worked.problems[0].values["least"] == pytest.approx(least)


def test_all_of_it_at_an_end_of_the_edge():
    worked = out("panel.right start", "panel.right at 20", by="-1")
    assert sticks_out(worked, 0, 100, 200) == pytest.approx([-10, -5, 0], abs=0.05)


def test_everywhere_where_it_goes_from_end_to_end():
    worked = out("panel.right start", "panel.right end")
    assert sticks_out(worked, 0, 150, 300) == pytest.approx([10, 10, 10], abs=0.05)


@pytest.mark.parametrize(
    ("first", "last"), [("start", "at 20"), ("at 5", "at 15"), ("at 10", "end")]
)
def test_the_edge_keeps_its_length(first: str, last: str):
    worked = out(f"panel.right {first}", f"panel.right {last}", by="1.5")
    chain = worked.values["panel"].edge("right").chain
    assert chain.length == pytest.approx(300.0, abs=1e-6)


def test_a_panel_put_back_is_as_it_was_traced():
    out_fields = {"panel": "panel", "edge": "right", "by": "1"}
    ends = {"first": "panel.right start", "last": "panel.right end"}
    worked = worked_of(
        *square_panel(20, 30),
        {"step": "before", "kind": "copy", "panel": "panel"},
        {"step": "out", "kind": "let_out_between", **out_fields, **ends},
        {"step": "back", "kind": "put_back", "panel": "panel", "traced": "before"},
    )
    assert worked.values["panel"] == worked.values["before"]


def test_places_in_the_wrong_order_are_refused():
    worked = out("panel.right at 15", "panel.right at 5")
    assert [p.code for p in worked.problems] == ["draft.run_too_long"]


def cut(*cuts: str, edge: str = "bottom"):
    step = {
        "step": "cut",
        "kind": "shorten_along",
        "panel": "panel",
        "edge": edge,
        "cuts": list(cuts),
    }
    return worked_of(*square_panel(20, 30), step)


def test_so_much_is_cut_off_at_each_place():
    panel = cut("1", "2", "3").values["panel"]
    hem = panel.edge("bottom").chain
    left, right = panel.edge("left").chain, panel.edge("right").chain
    lengths = sorted((left.length, right.length))
    assert lengths == pytest.approx([270.0, 290.0])
    middle = hem.at(hem.nearest(hem.at(hem.length / 2))[0])
    assert abs(middle.y) == pytest.approx(20.0, abs=0.2)


def test_paper_is_added_by_less_than_nothing():
    panel = cut("-1", "-1").values["panel"]
    assert panel.edge("left").chain.length == pytest.approx(310.0)
    assert panel.edge("bottom").chain.length == pytest.approx(200.0)


def test_one_place_is_too_few():
    assert [p.code for p in cut("1").problems] == ["draft.too_few_places"]
