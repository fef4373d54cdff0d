"""Trees with other names in them, and trees written out as text."""

from __future__ import annotations

import random

import pytest

from skirtwright.measures.measurements import SIDES
from skirtwright.measures.working_halves import half_text
from skirtwright.measures.working_parsing import (
    parse_condition,
    parse_place,
    parse_working,
    read_now,
)
from skirtwright.measures.working_ready import all_ready, from_text
from skirtwright.measures.working_renaming import names_of, renamed
from skirtwright.measures.working_writing import written

READ = {"working": parse_working, "condition": parse_condition, "place": parse_place}


@pytest.mark.parametrize("how", READ)
def test_what_is_written_reads_as_the_same_tree(how):
    """A sample of the workings of the shelf; the parser is the referee."""
    lines = all_ready().decode().split("\n")[:-1]
    known = [line.removeprefix(f"{how} ") for line in lines if line.startswith(how)]
    for line in random.Random(how).sample(known, 150):
        text, _, made = line.partition("\t")
        tree = from_text(made)
        assert read_now(how, str(written(tree))) == tree, text


@pytest.mark.parametrize(
    ("how", "text"),
    [
        ("working", "a - (b - c) + d"),
        ("working", "-(a + b) * 2 / (3 * c)"),
        ("working", "(a if b > 1 and not (c < 2 or d == 3) else e) / 2"),
        ("working", "a if b is c else d if e is not f else 29.125 in"),
        ("working", "walk(front.side) - apart(a, front.hem at share 1/3) + 0.1 mm"),
        ("condition", "(a is b or c is d) and given(waist)"),
        ("place", "tier[i - 1].bottom at (walk(x[last].y) / 2)"),
        ("place", "front.dart[2].left at mark hip"),
    ],
)
def test_brackets_are_written_where_the_tree_needs_them(how, text):
    tree = read_now(how, text)
    assert read_now(how, str(written(tree))) == tree


def test_what_was_written_keeps_its_tree():
    text = written(parse_working("waist / 4 + 1"))
    assert text == "waist / 4 + 1"
    assert parse_working(text) is text.tree
    bare = written(parse_place("front"))
    assert parse_place(bare) == parse_place("front")
    assert parse_working(bare) == parse_working("front")


@pytest.mark.parametrize(
    ("how", "text", "new"),
    [
        ("working", "a + walk(a.side) + a_b", "a_left + walk(a_left.side) + a_b"),
        ("working", "b.a + a[i - 1].b", "b.a + a_left[i - 1].b"),
        ("working", "a if given(a) else 1", "a_left if given(a) else 1"),
        ("working", "2 * girth(a) + girth(a.hip)", "2 * girth(a) + girth(a_left.hip)"),
        ("condition", "a is a and a > 1", "a is a and a_left > 1"),
        ("place", "a.side at mark a", "a_left.side at mark a"),
        ("place", "a.side at share a", "a_left.side at share a_left"),
    ],
)
def test_names_are_renamed_and_what_is_none_stays(how, text, new):
    """A choice and its option, what is given, and marks are no names of the draft."""
    tree = READ[how](text)
    assert written(renamed(tree, {"a": "a_left"})) == new


@pytest.mark.parametrize(
    ("how", "text"),
    [
        ("working", "(a + walk(b.side)) * 2 - a_b"),
        ("condition", "a is a and not (a > b or c < 2)"),
        ("place", "a.side at share b / 2"),
        ("place", "b"),
    ],
)
def test_a_half_has_a_text_but_for_its_names(how, text):
    """Put together from its parts it is what was renamed as a tree and written out."""
    for side in SIDES:
        own = {name: f"{name}_{side}" for name in "ab"}
        found = half_text(text, how, own)
        assert found == written(renamed(READ[how](text), own))
        assert READ[how](found) == READ[how](str(found))
    assert half_text(text, how, {"side": "side_left"}) is text


def test_a_tree_without_the_names_stays_itself():
    tree = parse_working("least(waist / 4, 3) if given(hip) else -hip * 2")
    assert renamed(tree, {"given": "x", "front": "front_left"}) is tree
    assert names_of(tree) == {"waist", "hip"}
