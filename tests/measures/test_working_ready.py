"""What was read when the program was built is what the parser reads."""

from __future__ import annotations

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from skirtwright.draft import styles
from skirtwright.job.job import new_job
from skirtwright.job.worktable import Worktable
from skirtwright.measures import working_parsing
from skirtwright.measures.working_parsing import parse_working, read_now
from skirtwright.measures.working_ready import all_ready, as_text, from_text, ready
from skirtwright.measures.working_trees import Binary, Name, Number
from skirtwright.problems import BadInput

TEXTS = [
    line.partition("\t")[0].partition(" ")[::2]
    for line in all_ready().decode().split("\n")[:-1]
]


@pytest.mark.parametrize("how", ["working", "condition", "place"])
def test_every_tree_is_what_the_parser_makes_of_its_text(how):
    texts = [text for known, text in TEXTS if known == how]
    assert len(texts) > 100
    for text in texts:
        assert ready(how, text) == read_now(how, text), text


def test_a_text_that_was_not_read_beforehand_is_read_now():
    text = "waist / 4 + 17.125 mm"
    assert ready("working", text) is None
    waist = Name((("waist", None),))
    sum_of = Binary("+", Binary("/", waist, Number(4.0)), Number(17.125, "mm"))
    assert parse_working(text) == sum_of


def test_read_as_something_else_is_still_refused():
    assert ready("condition", "waist_shape is darted") is not None
    assert ready("working", "waist_shape is darted") is None
    with pytest.raises(BadInput) as refused:
        parse_working("waist_shape is darted")
    assert refused.value.problem.code == "workings.condition_for_number"


def test_the_first_drawing_needs_no_parser(monkeypatch):
    def refuse(text, start):
        raise AssertionError(f"read with the parser: {text}")

    kept = [each for each in vars(styles).values() if hasattr(each, "cache_clear")]
    for each in (*kept, working_parsing._read):
        each.cache_clear()
    monkeypatch.setattr(working_parsing, "_parse", refuse)
    assert Worktable().look(new_job(styles.style(styles.first()))).drawn
    for name in styles.names():
        styles.style(name)


NAMES = st.sampled_from(["waist", "tier[i - 1].hem", "front.dart[2].left"])
SUMS = st.recursive(
    st.one_of(NAMES, st.floats(0, 999).map(lambda number: f"{number:.3f} cm")),
    lambda inner: st.one_of(
        st.tuples(inner, st.sampled_from("+-*/"), inner).map(" ".join),
        inner.map("least({0}, 1 1/2 in)".format),
        inner.map("({0} if shape is darted else walk(front.side))".format),
    ),
    max_leaves=8,
)


@given(SUMS)
def test_there_and_back(text):
    try:
        tree = read_now("working", text)
    except BadInput:
        return  # too deep
    assert from_text(as_text(tree)) == tree
    assert json.loads(as_text(tree))
