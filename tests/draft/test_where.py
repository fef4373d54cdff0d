"""An amount names what its workings have in common."""

import json

import pytest

from drafting import small
from skirtwright.draft import styles
from skirtwright.draft.inputs import Inputs
from skirtwright.draft.working.recompute import Reworking
from skirtwright.measures.working_intermediates import written_in
from skirtwright.measures.working_parsing import parse_working
from skirtwright.problems import BadInput

WHERE = (("half", "hip / 2"), ("rest", "half - waist / 2"))


@pytest.mark.parametrize(
    ("text", "whole"),
    [
        ("rest", "hip / 2 - waist / 2"),
        ("10 - rest / 2", "10 - (hip / 2 - waist / 2) / 2"),
        ("half if given(half) else 0", "hip / 2 if given(half) else 0"),
        ("length", "length"),
    ],
)
def test_names_stand_for_their_workings(text, whole):
    """`given` asks of an amount, never of a name that stands for a working."""
    assert parse_working(written_in(text, WHERE)) == parse_working(whole)


def test_names_of_names_do_not_grow_without_end():
    doubled = [("a0", "hip")]
    doubled += [(f"a{n}", f"a{n - 1} + a{n - 1}") for n in range(1, 40)]
    with pytest.raises(BadInput) as refused:
        written_in("a39", tuple(doubled))
    assert refused.value.problem.code == "workings.too_many_parts"


def draft_with(where, default):
    data = small(amounts=[("deep", "1")]).model_dump(exclude_unset=True)
    (amount,) = data["amounts"]
    amount |= {"where": where, "default": default}
    data["steps"] = [{"step": "n", "kind": "number", "value": "deep"}]
    data["finished"] = {"length": "n"}
    return json.dumps(data)


def test_an_amount_is_worked_from_what_it_names():
    text = draft_with({"third": "9 / 3", "more": "third + 1"}, "third * more")
    draft = styles.read_draft(text, "the style")
    worked = Reworking().work(draft, Inputs())
    assert worked.stated.amounts["deep"].default == pytest.approx(120)


@pytest.mark.parametrize(
    ("where", "code"),
    [
        ({"third": "3"}, "draft.unused"),
        ({"hip": "3"}, "draft.name_taken"),
        ({"third": "thrid"}, "draft.nothing_called"),
    ],
)
def test_a_name_is_used_and_its_own(where, code):
    default = "1" if code == "draft.unused" else next(iter(where))
    with pytest.raises(BadInput) as refused:
        styles.read_draft(draft_with(where, default), "the style")
    assert refused.value.problem.code.startswith(code)
