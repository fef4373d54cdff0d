"""PullTrials places: the amount found so that the place follows the pointer."""

from __future__ import annotations

import math

import pytest

from bodies import SAMPLE
from drafting import small, work
from skirtwright.draft import styles
from skirtwright.draft.inputs import Inputs
from skirtwright.draft.pulls import Drag, PullTrials, handles
from skirtwright.draft.step import Reads
from skirtwright.draft.working.recompute import Reworking
from skirtwright.geometry.point import Point


@pytest.fixture(scope="module")
def worked():
    return work(styles.style("mermaid"), SAMPLE)


def handle_at(worked, place):
    return next(h for h in handles(worked) if h.place == place)


def where(worked, place, amounts):
    return work("mermaid", SAMPLE, **amounts).read(place, Reads.PLACE)


def test_every_handle_of_the_style_is_there(worked):
    listed = [
        data.place
        for data in worked.draft.pulls
        if data.when is None or worked.read(data.when, Reads.WHETHER)
    ]
    assert [h.place for h in handles(worked)] == listed
    for handle in handles(worked):
        assert handle.label
        assert handle.point == worked.read(handle.place, Reads.PLACE)


def test_handles_of_amounts_that_do_not_apply_are_left_out():
    elastic = work("mermaid", SAMPLE, waist_shape="side_elastic")
    shown = {h.place for h in handles(elastic)}
    assert not any("dart" in place for place in shown)
    assert "front.side end" in shown


ONE_WAY = [
    ("front.side end", "front_spread", 41.0),
    ("front.hem middle", "length", 900.0),
    ("front.knee middle", "knee_lift", 100.0),
    ("front.hem start", "hem_drop", 25.0),
    ("front.hip end", "hip_ease", 62.0),
    ("front.knee end", "knee_shaping", 31.0),
]


@pytest.mark.parametrize(("place", "amount", "value"), ONE_WAY)
def test_the_place_is_brought_to_where_an_amount_puts_it(worked, place, amount, value):
    # The pointer is put exactly where the place lies for another value of the amount;
    # the drag must find that value.
    target = where(worked, place, {amount: value})
    handle = handle_at(worked, place)
    drag = Drag(PullTrials(), worked, handle, handle.point)
    for share in (0.25, 0.5, 0.75, 1.0, 1.0):
        found = drag.to(handle.point.between(target, share))
    assert found[amount] == pytest.approx(value, abs=0.05)
    assert where(worked, place, found).to(target) < 0.05


def test_the_offset_at_the_press_is_kept(worked):
    handle = handle_at(worked, "front.hem middle")
    off = Point(3, -2)
    drag = Drag(PullTrials(), worked, handle, handle.point + off)
    found = drag.to(handle.point + off)
    assert found["length"] == pytest.approx(950, abs=0.05)


@pytest.mark.parametrize("panel", ["front", "back"])
def test_a_dart_tip_is_pulled_both_ways(worked, panel):
    place, first, second = (
        f"{panel}.dart[1].tip",
        f"dart_place_{panel}",
        f"dart_above_hip_{panel}",
    )
    states = worked.stated.amounts
    wanted = {first: states[first].value + 8, second: states[second].value + 6}
    target = where(worked, place, wanted)
    handle = handle_at(worked, place)
    assert handle.amounts == (first, second)
    drag = Drag(PullTrials(), worked, handle, handle.point)
    for share in (0.5, 1.0, 1.0):
        found = drag.to(handle.point.between(target, share))
    assert where(worked, place, found).to(target) < 0.1
    assert found == pytest.approx(wanted, abs=0.2)


def test_it_is_clamped_to_the_range(worked):
    handle = handle_at(worked, "front.hem middle")
    drag = Drag(PullTrials(), worked, handle, handle.point)
    assert drag.to(handle.point + Point(0, -5000))["length"] == pytest.approx(1100)
    assert drag.to(handle.point + Point(0, 5000))["length"] == pytest.approx(600)


def test_the_nearest_is_found_when_the_pointer_lies_aside(worked):
    handle = handle_at(worked, "front.hem middle")
    drag = Drag(PullTrials(), worked, handle, handle.point)
    found = drag.to(handle.point + Point(200, -30))["length"]
    best = min(
        (
            where(worked, handle.place, {"length": n}).to(
                handle.point + Point(200, -30)
            ),
            n,
        )
        for n in (found - 8, found - 2, found, found + 2, found + 8)
    )
    assert abs(best[1] - found) <= 2


@pytest.mark.parametrize(
    ("place", "value"), [("front.side end", 41.0), ("front.knee middle", 100.0)]
)
def test_six_tries_at_most_a_tick(worked, place, value):
    class Counting(PullTrials):
        tries = 0

        def place(self, *arguments):
            self.tries += 1
            return super().place(*arguments)

    pulling = Counting()
    handle = handle_at(worked, place)
    drag = Drag(pulling, worked, handle, handle.point)
    for step in range(1, 20):
        pulling.tries = 0
        drag.to(handle.point + Point(step, step * 0.4))
        assert pulling.tries <= 6
    assert value


def test_only_what_the_place_leans_on_is_worked(worked):
    pulling = PullTrials()
    handle = handle_at(worked, "front.side end")
    before = worked.worked_by.work(worked.draft, worked.inputs).reworked
    pulling.place(worked, handle, {"front_spread": 35.0})
    reworked = worked.worked_by._memory.reworked[len(before) :]
    touched = {item.path for item in reworked}
    assert touched
    assert not any(path.rpartition("/")[2].startswith("back") for path in touched)


def test_a_place_still_follows_after_a_choice():
    """What a place hangs on is asked anew: a choice brings other steps."""
    pulling, reworking = PullTrials(), Reworking()
    for chosen in ({}, {"dart_ends": "above_hip"}, {}):
        table = work("trumpet", SAMPLE, reworking, **chosen)
        for handle in handles(table):
            state = table.stated.amounts[handle.amount]
            more = 1.0 if state.amount.kind == "count" else 0.7
            pulled = {handle.amount: state.value + more}
            place = pulling.place(table, handle, pulled)
            again = work("trumpet", SAMPLE, **chosen, **pulled)
            assert place == again.read(handle.place, Reads.PLACE)


@pytest.mark.parametrize("style", ["trumpet", "yoke", "high-low"])
def test_a_pull_may_bring_a_group_that_was_off(style):
    """The waist line can be raised from where it lies at the natural waist."""
    table, pulling = work(styles.style(style), SAMPLE), PullTrials()
    for handle in handles(table):
        for amount in handle.amounts:
            state = table.stated.amounts[amount]
            pulled = {amount: float(round((state.value + state.most) / 2))}
            again = work(style, SAMPLE, **pulled)
            place = pulling.place(table, handle, pulled)
            assert place == again.read(handle.place, Reads.PLACE), amount
            if amount == "waist_level":
                assert not pulling.response(table, handle, amount).is_ineffective


@pytest.mark.parametrize(
    ("kind", "each", "values", "pulls"),
    [
        ("count", 30, ("2", "0", "9"), {130: 4.0, 5000: 9.0}),
        ("ratio", 900, ("0.5", "0.2", "0.8"), {453: 453 / 900, 900: 0.8}),
    ],
)
def test_a_count_snaps_and_a_ratio_is_pulled_as_finely_as_a_length(
    kind, each, values, pulls
):
    amount = {"name": "n", "kind": kind, "label": "Number"}
    amount |= dict(zip(("default", "least", "most"), values, strict=True))
    draft = small(
        {"step": "p", "kind": "start", "right": f"n * {each} mm", "up": "0"},
        {"step": "q", "kind": "start", "right": "0", "up": "0"},
        amounts=[amount],
        pulls=[{"place": "p", "amount": "n"}],
    )
    table = Reworking().work(draft, Inputs())
    (handle,) = handles(table)
    drag = Drag(PullTrials(), table, handle, handle.point)
    fine = 0 if kind == "count" else 1e-4
    for right, value in pulls.items():
        assert drag.to(Point(right, 0))["n"] == pytest.approx(value, abs=fine)


def test_a_place_that_hardly_moves_is_hopeless():
    draft = small(
        {"step": "p", "kind": "start", "right": "far + near / 1000", "up": "0"},
        {"step": "q", "kind": "start", "right": "far", "up": "0"},
        amounts=[("near", "2"), ("far", "3")],
        pulls=[{"place": "p", "amount": "near"}, {"place": "q", "amount": "far"}],
    )
    table = Reworking().work(draft, Inputs())
    dim = handles(table)[0]
    pulling = PullTrials()
    assert pulling.response(table, dim, "near").is_ineffective
    assert Drag(pulling, table, dim, dim.point).is_ineffective


def test_response_is_the_slope(worked):
    pulling = PullTrials()
    handle = handle_at(worked, "front.hem start")
    response = pulling.response(worked, handle, "hem_drop")
    assert response.reach == pytest.approx(1, abs=1e-6)
    assert (response.direction.x, response.direction.y) == pytest.approx((0, -1))
    spread = handle_at(worked, "front.side end")
    # 450 below the knee, swing 2 asin(a / 235): d/da = 450 / root(117.5^2 - (a/2)^2).
    expected = 450 / math.sqrt(117.5**2 - 15**2)
    found = pulling.response(worked, spread, "front_spread").reach
    assert found == pytest.approx(expected, rel=0.02)


def test_pulling_leaves_the_draft_on_the_table_alone(worked):
    before = dict(worked.values)
    handle = handle_at(worked, "front.side end")
    Drag(PullTrials(), worked, handle, handle.point).to(handle.point + Point(40, 0))
    assert dict(worked.values) == before
    again = worked.worked_by.work(worked.draft, worked.inputs)
    assert dict(again.values) == before
    assert again.problems == worked.problems


def test_a_handle_on_what_is_not_drawn_is_left_out():
    stopped = work("mermaid", SAMPLE, front_spread=170.0)
    assert not any(h.panel == "front" for h in handles(stopped))
