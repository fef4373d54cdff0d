"""No part of a draft is lost because a name was misspelt, and none judged by its name.

What a style may hold is looked for name by name before anything is worked; the names
here are misspelt by a seeded draw, and none may pass.
"""

from __future__ import annotations

import json
import random

import pytest

from bodies import SAMPLE
from drafting import as_read, draft_of
from misspelling import Misspelling, references
from sampling import some_of
from skirtwright import shelf
from skirtwright.draft import styles
from skirtwright.draft.every_name import check_names, without_unused
from skirtwright.draft.inputs import Inputs
from skirtwright.draft.known_names import KnownNames
from skirtwright.draft.shapes.panel import Panel
from skirtwright.draft.unused_names import places
from skirtwright.draft.working.recompute import Reworking
from skirtwright.problems import BadInput, SkirtwrightError
from skirtwright.words import says

TRIES = 48
"""Misspellings in all; about 60 ms each."""


def raw(name, folder="styles"):
    return shelf.read_json(f"{folder}/{name}.json")


@pytest.mark.parametrize("name", styles.names())
def test_every_name_of_the_shelf_is_there(name):
    check_names(styles.style(name), name)


def test_no_name_misspelt_at_random_passes():
    rng = random.Random(20261128)
    passed = []
    for _ in range(TRIES):
        name = rng.choice(styles.names())
        wrong = Misspelling.of(raw(name), rng)
        if not wrong.is_refused():
            passed.append((name, wrong))
    assert passed == []


def test_no_name_misspelt_in_a_finishing_passes():
    rng = random.Random(18)
    passed = []
    for _ in range(TRIES // 4):
        finishing = rng.choice(shelf.names("finishings", ".json"))
        wrong = Misspelling.of(raw(finishing, "finishings"), rng)
        if not wrong.is_refused_in(f"finishing/{finishing}"):
            passed.append((finishing, wrong))
    assert passed == []


WRONG = {
    "panel of a piece": ("pieces.front.panel", "frnot", "front"),
    "edge with an allowance": ("pieces.front.allowances", "siide", "side"),
    "panel of a seam": ("seams.side.sides", "baack", "back"),
    "edge of a seam": ("seams.side.sides", "sidee", "side"),
    "mark of a notch": ("seams.side.notches", "hiip", "hip"),
    "finished measure": ("finished", "lenght", "length"),
    "amount of a pull": ("pulls.0", "lentgh", "length"),
}


def misspelt(place, wrong, right):
    """The straight skirt with one name misspelt at a place."""
    style = raw("straight")
    part, _, rest = place.partition(".")
    text = json.dumps(style[part])
    if rest:
        named, _, key = rest.partition(".")
        items = [i for i in style[part] if i.get("name", "0") == named]
        item = items[0] if items else style[part][0]
        if not key:
            key = "amount"
        item[key] = json.loads(json.dumps(item[key]).replace(right, wrong, 1))
        return style
    style[part] = json.loads(text.replace(right, wrong, 1))
    return style


@pytest.mark.parametrize(("place", "wrong", "right"), WRONG.values(), ids=list(WRONG))
def test_a_misspelt_name_is_refused_at_its_place_with_the_nearest(place, wrong, right):
    with pytest.raises(SkirtwrightError) as refused:
        styles.read_draft(json.dumps(misspelt(place, wrong, right)), "my.json")
    problem = refused.value.problem
    assert problem.where.startswith(place)
    assert problem.values["name"] == wrong
    assert problem.values["nearest"] == right
    assert "my.json" in says(problem)


def test_a_fact_misspelt_in_a_style_taken_unchecked_is_a_sentence_too():
    straight = styles.style("straight")
    told = {**straight.sewing, "tie_lenth": "2"}
    wrong = straight.replace(sewing=told)
    (said,) = Reworking().work(wrong, Inputs(SAMPLE)).bound.unread
    assert said.values["name"] == "tie_lenth"
    assert said.values["nearest"] == "tie_length"


def test_an_amount_that_nothing_is_worked_from_is_refused():
    """One that was to stand in another's place, and is called otherwise."""
    style = raw("straight")
    style["amounts"][0]["name"] += "s"
    with pytest.raises(SkirtwrightError):
        styles.read_draft(json.dumps(style), "my.json")


@pytest.mark.sampled
@pytest.mark.parametrize("name", some_of(styles.names(), 2))
def test_panels_have_no_edge_or_mark_that_their_steps_do_not_tell_of(name):
    draft = styles.style(name)
    known = KnownNames(draft).parts
    options = [{}] + [
        {choice.name: option}
        for choice in draft.choices
        for option in list(choice.options)[-1:]
    ]
    for chosen in options[:4]:
        worked = Reworking().work(draft, Inputs(SAMPLE, {}, chosen))
        panels = {n: v for n, v in worked.values.items() if isinstance(v, Panel)}
        assert panels
        for panel, drawn in panels.items():
            there = {edge.name for edge in drawn.edges}
            there |= {mark.name for mark in drawn.marks}
            told = known[panel]
            assert {part for part in there if "[" not in part} <= set(told), panel


# Names mean nothing


def circle(names):
    """A right circle: a panel that is a quarter, on two folds; edges named so."""
    waist, side, hem, centre = names
    return {
        "format": 2,
        "id": "circle",
        "title": "Circle",
        "measurements": ["waist", "hip", "waist_to_hip", "waist_to_knee"],
        "amounts": [
            {
                "name": "length",
                "label": "Length",
                "default": "60",
                "least": "30",
                "most": "110",
            }
        ],
        "steps": [
            {"step": "radius", "kind": "number", "value": "waist / (2 * pi)"},
            {"step": "middle", "kind": "start"},
            {"step": "waist_left", "kind": "start", "up": "-radius"},
            {"step": "waist_right", "kind": "start", "right": "radius"},
            {"step": "hem_left", "kind": "start", "up": "-radius - length"},
            {"step": "hem_right", "kind": "start", "right": "radius + length"},
            {
                "step": "inner",
                "kind": "arc",
                "centre": "middle",
                "start": "waist_left",
                "angle": "90",
            },
            {
                "step": "outer",
                "kind": "arc",
                "centre": "middle",
                "start": "hem_left",
                "angle": "90",
            },
            {"step": "one", "kind": "join", "through": ["waist_left", "hem_left"]},
            {"step": "two", "kind": "join", "through": ["waist_right", "hem_right"]},
            {
                "step": "quarter",
                "kind": "outline",
                "edges": {waist: "inner", side: "two", hem: "outer", centre: "one"},
            },
        ],
        "seams": [
            {
                "name": "seams",
                "sides": [[f"quarter.{side}"], [f"quarter.{centre}"]],
                "notches": [{"at": f"quarter.{side} middle"}],
            }
        ],
        "pieces": [
            {
                "name": "quarter",
                "title": "Quarter",
                "panel": "quarter",
                "count": "4",
                "allowances": {waist: "1", side: "1.5", hem: "1", centre: "1.5"},
            }
        ],
        "finished": {"length": f"walk(quarter.{side})"},
        "pulls": [{"place": f"quarter.{hem} start", "amount": "length"}],
    }


def test_names_of_edges_and_points_are_not_judged():
    found = [
        [
            (p["code"], p["severity"])
            for p in as_read(draft_of(circle(names), "c"), SAMPLE)["problems"]
        ]
        for names in (("waist", "side", "hem", "centre"), ("a", "b", "c", "d"))
    ]
    assert found[0] == found[1]
    assert "wrong" not in {severity for _, severity in found[0]}


def test_what_the_style_states_is_told_in_the_report():
    style = circle(("a", "b", "c", "d"))
    style["pieces"][0]["roles"] = {"a": "waist", "c": "hem"}
    (piece,) = as_read(draft_of(style, "c"), SAMPLE)["pieces"]
    roles = {edge["name"]: edge["role"] for edge in piece["edges"]}
    assert roles == {"a": "waist", "b": "seam", "c": "hem", "d": "seam"}


def test_misspellings_cover_every_sort_of_name():
    """The draw would find a panel, an edge, a choice, a group's turn, and so on."""
    keys = {
        word
        for name in styles.names()
        for path, _ in references(raw(name))
        for word in path
        if isinstance(word, str)
    }
    assert {"panel", "edge", "when", "place", "amount", "at", "from", "seams"} <= keys


def test_two_steps_side_by_side_of_one_name_are_refused():
    """Either would be worked by the other's conditions, in silence."""
    draft = styles.style("straight")
    for again in (draft.steps[0], draft.steps[-1]):
        doubled = draft.replace(steps=(*draft.steps, again))
        with pytest.raises(BadInput) as caught:
            check_names(doubled, "straight")
        assert caught.value.problem.code == "draft.named_twice"


@pytest.mark.parametrize("name", ["dort[1]", "dart[0]", "pleat[1]", "none at all"])
def test_a_dart_misspelt_in_a_pleat_is_refused(name):
    wrong = json.dumps(raw("pegged")).replace('"dart": "dart[1]"', f'"dart": "{name}"')
    assert name in wrong
    with pytest.raises(BadInput) as caught:
        styles.read_draft(wrong, "pegged")
    assert caught.value.problem.where.endswith(".dart")


def test_a_cloth_misspelt_is_refused():
    draft = styles.style("straight")
    first = draft.pieces[0].replace(material="shall")
    pieces = (first, *draft.pieces[1:])
    with pytest.raises(BadInput) as caught:
        check_names(draft.replace(pieces=pieces), "straight")
    assert caught.value.problem.code == "draft.letter_apart"


# What is made and nothing asks for


MADE_IN_A_BRANCH = {
    "number": (
        "straight-block",
        "front_taken",
        '"step": "{}", "kind": "number"',
        "fornt_taken",
    ),
    "line": ("handkerchief", "back_side_hem_line", '"step": "{}"', "back_sied_hm_line"),
    "edge unlike any": ("handkerchief", "centre", '"{}": "back_centre_line"', "zqxj"),
}


@pytest.mark.parametrize(
    ("name", "right", "place", "wrong"), MADE_IN_A_BRANCH.values(), ids=MADE_IN_A_BRANCH
)
def test_what_one_branch_alone_calls_otherwise_is_refused(name, right, place, wrong):
    """Others of that name are made under other conditions: it is missed in this one."""
    text = json.dumps(raw(name))
    assert text.count(place.format(right)) > 1
    text = text.replace(place.format(right), place.format(wrong), 1)
    with pytest.raises(BadInput) as caught:
        styles.read_draft(text, "my.json")
    problem = caught.value.problem
    assert problem.code.startswith("draft.unused")
    assert problem.values["name"] == wrong
    assert right in (problem.values["nearest"], "centre")


def test_an_edge_of_an_outline_that_nothing_asks_for_is_refused():
    style = circle(("a", "b", "c", "d"))
    del style["pieces"][0]["allowances"]["a"]
    with pytest.raises(BadInput) as caught:
        styles.read_draft(json.dumps(style), "my.json")
    assert caught.value.problem.where == "steps.quarter"


def test_halves_are_called_together_by_one_name():
    wrong = Misspelling(raw("lining-vent", "finishings"), (), "", "")
    said = json.dumps(wrong.raw).replace('"whole": "back_', '"whole": "bakc_', 1)
    assert Misspelling(json.loads(said), (), "", "").is_refused_in(
        "finishing/lining-vent"
    )


def test_a_style_kept_draws_nothing_that_nothing_asks_for():
    """What it grew from may find more than it needs; so it can be read again."""
    draft = styles.style("wrap")
    kept = without_unused(draft)
    assert len(list(places(kept.steps, ""))) < len(list(places(draft.steps, "")))
    check_names(kept, "wrap", kept)
    with pytest.raises(BadInput):
        check_names(draft, "wrap", draft)


def test_a_mark_beside_a_seam_of_other_pieces_is_refused():
    """Of the cut edges that the seam is made of none is left to measure it from."""
    wrong = json.loads(json.dumps(raw("facing", "finishings")))
    (seam,) = [one for one in wrong["seams"] if one["name"] == "facing_waist"]
    seam["sides"][0][1] = "-rfont.waist"
    assert Misspelling(wrong, (), "", "").is_refused_in("finishing/facing")


def test_a_figure_set_anew_under_another_name_is_refused():
    """Where the opening moves to the side, none is left at the centre back."""
    text = json.dumps(raw("inverted-pleat"))
    figure = '"step": "opening_end", "kind": "number", "value": "0 cm"'
    assert figure in text
    with pytest.raises(BadInput) as caught:
        styles.read_draft(
            text.replace(figure, figure.replace("opening_end", "kz")), "x"
        )
    assert caught.value.problem.code == "draft.unused"
