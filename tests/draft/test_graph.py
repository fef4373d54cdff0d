"""The graph of a draft: groups, names, problems, and drafts that cannot be read."""

from __future__ import annotations

import json

import pytest

from drafting import length_of, point, small, square_panel, work, worked_of
from skirtwright.draft import styles
from skirtwright.draft.inputs import Inputs
from skirtwright.draft.working.recompute import Reworking
from skirtwright.problems import SkirtwrightError
from skirtwright.words import has_message, remedy, says


def number(name, value):
    return {"step": name, "kind": "number", "value": value}


CHOICE = {
    "name": "shape",
    "label": "Shape",
    "options": {"plain": "plain", "full": "full"},
    "default": "plain",
}


# when


def test_a_group_whose_condition_fails_is_passed_over():
    steps = [
        *square_panel(),
        {
            "group": "longer",
            "when": "shape is full",
            "steps": [
                {
                    "step": "longer",
                    "kind": "lengthen",
                    "panel": "panel",
                    "edge": "right",
                    "by": "5",
                }
            ],
        },
        number("after", "walk(panel.right)"),
    ]
    draft = small(*steps, choices=[CHOICE])
    reworking = Reworking()
    plain = reworking.work(draft, Inputs())
    # A step passed over leaves the panel as it was; what stands below goes on.
    assert plain.values["after"] == pytest.approx(300)
    full = reworking.work(draft, Inputs(choices={"shape": "full"}))
    assert full.values["after"] == pytest.approx(350)
    # Panels are rewritten in place: the name means the changed panel from there down.
    assert full.made_by["panel"] == ("panel", "longer/longer")
    back = reworking.work(draft, Inputs())
    assert back.values["after"] == pytest.approx(300)


def test_a_condition_on_a_number():
    steps = [
        {"group": "g", "when": "wide > 4", "steps": [number("more", "1 cm")]},
        number("sum", "wide + 1"),
    ]
    draft = small(*steps, amounts=[("wide", "3")])
    reworking = Reworking()
    assert "more" not in reworking.work(draft, Inputs()).values
    assert reworking.work(draft, Inputs(amounts={"wide": "5"})).values["more"] == 10


def test_leaning_on_a_step_passed_over_is_said_where_it_happens():
    steps = [
        {"group": "g", "when": "1 > 2", "steps": [number("more", "1 cm")]},
        number("leans", "more + 1"),
        number("free", "2 cm"),
    ]
    worked = worked_of(*steps)
    (said,) = worked.problems
    assert said.code == "draft.leans_on_absent"
    assert said.where == "leans"
    assert said.values["name"] == "more"
    assert worked.values["free"] == 20


# repeat

TIERS = {
    "group": "tier",
    "repeat": "tiers",
    "start": {"bottom": "top_line", "depth": "0 cm"},
    "steps": [
        number("depth", "tier[i - 1].depth + 10 cm * i"),
        {
            "step": "corner",
            "kind": "measure_off",
            "start": "tier[i - 1].bottom start",
            "distance": "10",
            "direction": "270",
        },
        {
            "step": "other",
            "kind": "measure_off",
            "start": "tier[i - 1].bottom end",
            "distance": "10",
            "direction": "270",
        },
        {"step": "bottom", "kind": "join", "through": ["corner", "other"]},
    ],
}
ABOVE = [
    point("a", 0, 0),
    point("b", 20, 0),
    {"step": "top_line", "kind": "join", "through": ["a", "b"]},
]
BELOW = [
    number("last_depth", "tier[last].depth"),
    {"step": "end", "kind": "place", "at": "tier[last].bottom start"},
]


@pytest.mark.parametrize("turns", [1, 2, 3, 7])
def test_repeat(turns):
    draft = small(*ABOVE, TIERS, *BELOW, amounts=[("tiers", str(turns), "count")])
    worked = Reworking().work(draft, Inputs())
    assert worked.problems == ()
    for i in range(1, turns + 1):
        # 10 + 20 + ... cm, each turn adding to the one before.
        assert worked.values[f"tier[{i}].depth"] == pytest.approx(50 * i * (i + 1))
        assert worked.values[f"tier[{i}].corner"].y == pytest.approx(-100 * i)
    assert f"tier[{turns + 1}].depth" not in worked.values
    assert worked.values["last_depth"] == pytest.approx(50 * turns * (turns + 1))
    assert worked.values["end"].y == pytest.approx(-100 * turns)
    # Names of a turn are read from outside by their number.
    assert length_of(worked, "walk(tier[1].bottom)") == pytest.approx(200)


def test_fewer_turns_leave_nothing_of_the_others_behind():
    draft = small(*ABOVE, TIERS, *BELOW, amounts=[("tiers", "3", "count")])
    reworking = Reworking()
    reworking.work(draft, Inputs())
    worked = reworking.work(draft, Inputs(amounts={"tiers": "1"}))
    assert "tier[2].depth" not in worked.values
    assert worked.values["last_depth"] == pytest.approx(100)
    again = reworking.work(draft, Inputs(amounts={"tiers": "4"}))
    assert again.values["last_depth"] == pytest.approx(1000)


def test_no_turn_leaves_the_start_standing_as_the_last():
    draft = small(*ABOVE, TIERS, *BELOW, amounts=[("tiers", "0", "count")])
    worked = Reworking().work(draft, Inputs())
    assert worked.problems == ()
    assert worked.values["last_depth"] == 0
    assert worked.values["end"].y == 0


@pytest.mark.parametrize("turns", ["-1", "101", "2.5"])
def test_a_count_of_turns_that_cannot_be(turns):
    draft = small(*ABOVE, {**TIERS, "repeat": turns}, number("after", "1 cm"))
    worked = Reworking().work(draft, Inputs())
    assert worked.problems[0].code == "draft.not_a_count"
    assert worked.values["after"] == 10


def test_i_means_nothing_outside_a_repeat():
    worked = worked_of(number("n", "i + 1"))
    assert worked.problems[0].code == "draft.no_turn"


def test_groups_nest():
    inner = {
        "group": "pleat",
        "repeat": "2",
        "start": {"at": "0 cm"},
        "steps": [number("at", "pleat[i - 1].at + base")],
    }
    outer = {
        "group": "panel",
        "repeat": "2",
        "start": {},
        "steps": [
            number("base", "i * 1 cm"),
            {"group": "odd", "when": "base > 1.5", "steps": [number("extra", "9 cm")]},
            inner,
        ],
    }
    worked = worked_of(outer, number("sum", "panel[2].pleat[2].at"))
    assert worked.problems == ()
    assert worked.values["panel[1].pleat[2].at"] == pytest.approx(20)
    assert worked.values["panel[2].pleat[2].at"] == pytest.approx(40)
    assert worked.values["sum"] == pytest.approx(40)
    assert "panel[1].extra" not in worked.values
    assert worked.values["panel[2].extra"] == 90


# find


def finding(match, to, least="0", most="50", **more):
    return {
        "group": "found",
        "find": {
            "unknown": "x",
            "kind": "length",
            "least": least,
            "most": most,
            "match": match,
            "to": to,
            **more,
        },
        "steps": [
            {"step": "p", "kind": "start", "right": "x", "up": "10"},
            point("o", 0, 0),
            {"step": "way", "kind": "join", "through": ["o", "p"]},
        ],
    }


@pytest.mark.parametrize("target", [10.5, 12, 20, 45])
def test_find(target):
    worked = worked_of(finding("walk(way)", str(target)), number("twice", "2 * x"))
    # Pythagoras: x^2 + 10^2 = target^2.
    assert worked.values["way"].length == pytest.approx(target * 10, abs=1e-3)
    assert worked.values["x"] == pytest.approx(10 * (target**2 - 100) ** 0.5, abs=1e-2)
    assert worked.values["twice"] == pytest.approx(2 * worked.values["x"])
    assert not worked.stopped


@pytest.mark.parametrize(
    ("target", "end", "limit", "miss"),
    [("5", "least", 0, 50), ("60", "most", 500, 600 - 509.902)],
)
def test_find_says_how_near_it_came_and_at_which_limit(target, end, limit, miss):
    worked = worked_of(finding("walk(way)", target), number("free", "1 cm"))
    (said,) = worked.problems
    assert said.code == "draft.cannot_agree"
    assert said.where == "found/"
    assert said.values["end"] == end
    assert said.values["limit"] == pytest.approx(limit)
    assert said.values["miss"] == pytest.approx(miss, abs=0.01)
    assert said.stops
    assert says(said)
    assert remedy(said)
    assert worked.values["free"] == 10


def test_find_gives_the_same_whatever_was_found_before():
    draft = small(finding("walk(way)", "target"), amounts=[("target", "12")])
    fresh = Reworking().work(draft, Inputs(amounts={"target": "31.7"})).values["x"]
    reworking = Reworking()
    for target in ("12", "45", "11", "31.7"):
        found = reworking.work(draft, Inputs(amounts={"target": target})).values["x"]
    assert found == fresh


def test_find_is_not_looked_for_where_it_is_not_wanted():
    more = {"wanted": "shape is full", "otherwise": "3 cm"}
    draft = small(finding("walk(way)", "20", **more), choices=[CHOICE])
    reworking = Reworking()
    assert reworking.work(draft, Inputs()).values["x"] == 30
    full = reworking.work(draft, Inputs(choices={"shape": "full"}))
    assert full.values["way"].length == pytest.approx(200, abs=1e-3)


def test_finds_nest():
    inner = finding("walk(way)", "y", most="50")
    outer = {
        "group": "outer",
        "find": {
            "unknown": "y",
            "kind": "length",
            "least": "10",
            "most": "40",
            "match": "x",
            "to": "15",
        },
        "steps": [inner],
    }
    worked = worked_of(outer)
    assert not worked.stopped
    assert worked.values["x"] == pytest.approx(150, abs=1e-3)
    assert worked.values["y"] == pytest.approx((150**2 + 100**2) ** 0.5, abs=1e-2)


def test_find_with_limits_the_wrong_way_round():
    worked = worked_of(finding("walk(way)", "20", least="9", most="3"))
    assert worked.problems[0].code == "draft.cannot_be_found"
    assert worked.problems[0].stops


# from


def test_from_brings_a_drafts_names_amounts_and_measurements():
    mermaid, block = styles.style("mermaid"), styles.style("straight-block")
    assert {a.name for a in block.amounts} <= {a.name for a in mermaid.amounts}
    # An amount the draft lists itself stands where the origin had it.
    assert "least(95, " in mermaid.amount("length").default
    assert block.amount("length").default == "60"
    worked = work("mermaid")
    assert worked.values["half_box"] == work("straight-block").values["half_box"]
    # Its steps are copied, so that an old order never changes.
    (group,) = [
        g for g in mermaid.steps if getattr(g, "from_", None) == "straight-block"
    ]
    assert group.steps


def test_from_an_unknown_draft_is_refused_with_the_nearest():
    with pytest.raises(SkirtwrightError) as refused:
        small({"group": "g", "from": "strait-block"})
    assert refused.value.problem.code == "draft.no_style"
    assert refused.value.problem.values["nearest"] == "straight-block"


# Problems


def test_a_problem_stops_only_what_leans_on_it():
    worked = worked_of(
        point("a", 0, 0),
        number("bad", "1 cm / 0"),
        number("leans", "bad + 1"),
        number("leans_on_that", "leans + 1"),
        number("free", "3 cm"),
        {"step": "line", "kind": "join", "through": ["a", "a"]},
        number("walks", "walk(line)"),
    )
    assert worked.values["free"] == 30
    assert [p.where for p in worked.problems] == ["bad", "line"]
    assert not {"bad", "leans", "leans_on_that", "line", "walks"} & set(worked.values)


def test_a_step_that_cannot_be_worked_takes_its_panel_along():
    worked = worked_of(
        *square_panel(),
        {
            "step": "longer",
            "kind": "lengthen",
            "panel": "panel",
            "edge": "right",
            "by": "-99",
        },
        number("after", "walk(panel.right)"),
        number("before", "walk(panel_right_line)"),
    )
    assert "panel" not in worked.values
    assert "after" not in worked.values
    assert worked.values["before"] == pytest.approx(300)
    assert len([p for p in worked.problems if p.stops]) == 1


def test_put_right_it_goes_on():
    draft = small(
        number("n", "1 cm / w"), number("m", "n * 2"), amounts=[("w", "0", "ratio")]
    )
    reworking = Reworking()
    assert reworking.work(draft, Inputs()).stopped
    worked = reworking.work(draft, Inputs(amounts={"w": "4"}))
    assert worked.problems == ()
    assert worked.values["m"] == pytest.approx(5)


# Names


@pytest.mark.parametrize(
    ("given", "code", "nearest"),
    [
        ({"amounts": {"hip_eas": "3"}}, "draft.no_amount", "hip_ease"),
        ({"choices": {"hem_shap": "one_curve"}}, "draft.no_choice", "hem_shape"),
        ({"measurements": {"wiast": 700.0}}, "draft.no_measurement", "waist"),
    ],
)
def test_unknown_names_are_refused_with_the_nearest(given, code, nearest):
    from bodies import HOUSE

    inputs = Inputs(**{"measurements": HOUSE, **given})
    with pytest.raises(SkirtwrightError) as refused:
        Reworking().work(styles.style("mermaid"), inputs)
    problem = refused.value.problem
    assert problem.code == code
    assert problem.values["nearest"] == nearest
    assert nearest in says(problem)


def test_an_unknown_option_lists_those_there_are():
    from bodies import HOUSE

    with pytest.raises(SkirtwrightError) as refused:
        Reworking().work(
            styles.style("mermaid"), Inputs(HOUSE, choices={"hem_shape": "wavy"})
        )
    assert refused.value.problem.code == "draft.no_option"
    assert "even_from_knee" in says(refused.value.problem)


def test_a_name_below_is_not_seen_so_no_circle_can_be_written():
    worked = worked_of(number("first", "second + 1"), number("second", "first + 1"))
    assert worked.problems[0].code == "draft.no_name"
    assert worked.problems[0].where == "first"
    # It sees itself no more than what stands below.
    worked = worked_of(number("own", "own + 1"))
    assert worked.problems[0].code == "draft.no_name"


def test_an_unknown_name_in_a_step_says_the_nearest():
    worked = worked_of(number("half_waist", "3 cm"), number("n", "half_wiast * 2"))
    (said,) = worked.problems
    assert said.values["nearest"] == "half_waist"
    assert "half_waist" in says(said)


@pytest.mark.parametrize(
    ("value", "code"),
    [
        ("a + 1", "draft.not_a_number"),
        ("walk(a)", "draft.not_a_line"),
        ("apart(n, a)", "draft.not_a_point"),
        ("walk(panel.sleeve)", "draft.no_part"),
        ("girth(bust)", "draft.no_mark"),
    ],
)
def test_names_of_the_wrong_sort(value, code):
    worked = worked_of(
        point("a", 0, 0), number("n", "1 cm"), *square_panel(), number("m", value)
    )
    (said,) = worked.problems
    assert said.code == code
    assert has_message(f"problem.{code}")


def test_a_missing_measurement_is_named():
    from bodies import HOUSE

    body = {name: value for name, value in HOUSE.items() if name != "hip"}
    with pytest.raises(SkirtwrightError) as refused:
        Reworking().work(styles.style("mermaid"), Inputs(body))
    problem = refused.value.problem
    assert problem.code == "draft.measurement_missing"
    assert problem.values["name"] == "hip"


def test_a_count_must_be_whole():
    draft = small(number("n", "w"), amounts=[("w", "1", "count")])
    with pytest.raises(SkirtwrightError) as refused:
        Reworking().work(draft, Inputs(amounts={"w": "2.5"}))
    assert refused.value.problem.code == "draft.amount_not_whole"


def test_out_of_range_is_a_note_not_a_refusal():
    worked = work("mermaid", length=1150)
    (said,) = [p for p in worked.problems if p.code == "draft.length_out_of_range"]
    assert said.severity == "note"
    assert said.values["most"] == pytest.approx(1100)


# Drafts that cannot be read

GOOD = {
    "format": 1,
    "id": "d",
    "title": "D",
    "measurements": [],
    "steps": [],
}


@pytest.mark.parametrize(
    ("change", "code"),
    [
        ({"format": 99}, "file.newer"),
        ({"colour": "red"}, "json.unknown_key"),
        ({"steps": [{"step": "a", "kind": "strat"}]}, "draft.no_kind"),
        ({"steps": [7]}, "draft.not_a_step"),
        ({"steps": [{"step": "a", "kind": "start", "left": "3"}]}, "json.unknown_key"),
        ({"steps": [{"step": "a", "kind": "measure_off"}]}, "json.missing_key"),
        (
            {"steps": [{"group": "g", "when": "1 < 2", "repeat": "2", "steps": []}]},
            "draft.group_has_two_rules",
        ),
        (
            {"choices": [{**CHOICE, "default": "wide"}]},
            "draft.no_option",
        ),
        ({"unit": "furlong"}, "json.no_option"),
    ],
)
def test_bad_drafts_are_refused_with_a_sentence(change, code):
    with pytest.raises(SkirtwrightError) as refused:
        styles.read_draft(json.dumps({**GOOD, **change}), "the style")
    problem = refused.value.problem
    assert problem.code == code
    assert has_message(f"problem.{code}")
    assert "?" not in says(problem)


@pytest.mark.parametrize("text", ["", "{", "[]", "null", '{"format": 1', "\x00"])
def test_what_is_no_draft_at_all(text):
    with pytest.raises(SkirtwrightError) as refused:
        styles.read_draft(text, "the style")
    assert says(refused.value.problem)


def test_an_unknown_kind_says_the_nearest():
    with pytest.raises(SkirtwrightError) as refused:
        small({"step": "a", "kind": "slash_and_sprad"})
    assert refused.value.problem.values["nearest"] == "slash_and_spread"


def test_two_groups_of_one_name_are_two():
    """As where a draft is written out for left and right."""
    first, second = (
        {
            "group": "both",
            "when": f"wide > {limit}",
            "steps": [{"step": f"n{limit}", "kind": "number", "value": "wide"}],
        }
        for limit in (3, 9)
    )
    draft = small(first, second, amounts=[("wide", "6")])
    reworking = Reworking()
    for _ in range(2):
        worked = reworking.work(draft, Inputs())
        assert "n3" in worked.values
        assert "n9" not in worked.values
        assert worked.made_by == {"n3": ("both/n3",)}


def test_every_problem_code_of_the_draft_has_its_sentences():
    """Every code written in the source of the draft can be said, with what would do."""
    import re
    from pathlib import Path

    import skirtwright

    root = Path(skirtwright.__file__).parent
    codes = set()
    for path in [*root.glob("draft/**/*.py"), *root.glob("pieces/*.py")]:
        text = path.read_text(encoding="utf-8")
        codes |= set(re.findall(r'"((?:draft|check|pieces)\.[a-z_]+)"', text))
    assert len(codes) > 40
    missing = [code for code in sorted(codes) if not has_message(f"problem.{code}")]
    assert missing == []
