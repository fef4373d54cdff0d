"""A sentence about bad input says what it is of: an amount, or a place in a file."""

from __future__ import annotations

import json
import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))

from shown_order import put
from skirtwright.cli import main
from skirtwright.job import file
from skirtwright.job.worktable import Worktable
from skirtwright.problems import SkirtwrightError
from skirtwright.words import Manner, in_one_sentence, say


def said(place: str, value: object) -> str:
    """What an order is refused with, or the first thing that stops a part of it."""
    try:
        look = Worktable().look(file.read(json.dumps(put(place, value)), "tube.skirt"))
    except SkirtwrightError as refused:
        return in_one_sentence(refused.problem)
    return in_one_sentence(next(p for p in look.problems if p.stops))


@pytest.mark.parametrize(
    "place",
    [
        "amounts.0.default",
        "amounts.0.when",
        "pieces.0.count",
        "pieces.0.allowances.side",
        "steps.0.value",
        "steps.14.when",
        "finished.waist",
        "pulls.0.place",
        "stride.0.girth",
    ],
)
def test_a_sum_in_a_style_is_told_with_its_file_and_place(place):
    head, _, rest = place.partition(".")
    sentence = said(f"draft.{place}", "((")
    assert sentence.startswith(f"tube.skirt, {head}."), sentence
    if rest.rpartition(".")[2] in ("default", "when", "count", "value"):
        assert f".{rest.rpartition('.')[2]}: the sum" in sentence


@pytest.mark.parametrize("step", [None, 7, [], "x"])
@pytest.mark.parametrize("place", ["draft.steps.1", "draft.steps.14.steps.0"])
def test_a_step_that_is_none_is_told_with_its_file_and_place(place, step):
    sentence = said(place, step)
    assert sentence.startswith(f"tube.skirt, {place}: a step must be an object")
    assert "NoneType" not in sentence


def test_an_unknown_draft_to_grow_from_is_told_with_its_place():
    sentence = said("draft.steps.+", {"group": "block", "from": "strait"})
    assert sentence.startswith("tube.skirt, block.from: ")
    assert 'the nearest is "straight"' in sentence


def test_what_she_typed_for_an_edge_is_told_with_its_piece_and_edge():
    said_of = said("pieces.0.allowances.waist", "((")
    assert said_of.startswith("Front and back, waist: the sum")
    assert said("pieces.0.notches.0.at", "((").startswith("half, side: the sum")


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ("hip_ease=((", "Hip ease: the sum stops too early"),
        ("hip_ease=1 deg", "Hip ease: the sum comes to an angle"),
        ("hip_ease=foo", 'Hip ease: nothing above is called "foo"'),
        ("waist_ease=hip_ease", "Waist ease: hip ease comes after it"),
        ("hip_ease=hip_ease + 1", "Hip ease: hip ease comes after it"),
        ("length=-5", "Length cannot be less than 0; leave the minus out"),
        (
            "dart_count_front=-1",
            "Front darts cannot be less than 0; leave the minus out",
        ),
    ],
)
def test_what_is_typed_for_an_amount_is_told_with_its_label(capsys, typed, sentence):
    assert main(["check", "straight", "--amount", typed]) == 2
    out, err = capsys.readouterr()
    assert (out, err.count("\n")) == ("", 1)
    assert err.lower().startswith(sentence.lower()), err


@pytest.mark.parametrize("place", ["", " ", "\t"])
def test_a_blank_place_is_a_value_that_lacks(capsys, place):
    assert main(["export", "straight", "-o", place]) == 2
    assert "-o lacks" in capsys.readouterr().err
    assert main(["check", "straight", "--report", place]) == 2
    assert "--report lacks" in capsys.readouterr().err


@pytest.mark.parametrize("place", [".", "/", ".."])
def test_a_folder_is_called_what_it_was_called(capsys, place):
    assert main(["check", "straight", "--report", place]) == 2
    assert capsys.readouterr().err.startswith(f"{place} is a folder")


@pytest.mark.parametrize("half", ["a\udcff.skirt", "\udcff"])
def test_half_a_letter_is_told_of_the_option_it_is_in(capsys, half):
    assert main(["check", half]) == 2
    assert capsys.readouterr().err.startswith("SOURCE holds")
    assert main(["export", "straight", "-o", half]) == 2
    assert capsys.readouterr().err.startswith("-o holds")


def test_what_is_offered_is_less_than_what_was_refused():
    """19.96 mm is not offered as the 2 cm that were too much."""
    values = {"would_do": 19.96}
    metric = say("remedy.check.hem_too_deep", values)
    inches = say("remedy.check.hem_too_deep", values, Manner(unit="in"))
    assert "1.9 cm" in metric
    assert "3/4 in" in inches  # 19.05 mm; 25/32 in would round up
    assert "2 cm" in say("remedy.check.hem_too_deep", {"would_do": 20.0})
