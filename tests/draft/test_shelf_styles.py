"""The shelf is taken unchecked at start, so it is checked here: it reads the same."""

from __future__ import annotations

import json

import pytest

from skirtwright import shelf
from skirtwright.draft import styles
from skirtwright.draft.draft import Draft, Told
from skirtwright.job import allowance_sets
from skirtwright.job.allowance_sets import AllowanceSet
from skirtwright.job.job import Job, new_job, sample_card
from skirtwright.measures.card import Card
from skirtwright.measures.records import take
from skirtwright.measures.strict_json import read_as, read_strict

DRAFTS = [
    *(f"styles/{name}" for name in shelf.names("styles", ".json") if name != "shelf"),
    *(f"finishings/{name}" for name in shelf.names("finishings", ".json")),
    *(f"additions/{name}" for name in shelf.names("additions", ".json")),
]


def text_of(place: str) -> str:
    with shelf.open_text(f"{place}.json") as text:
        return text.read()


@pytest.mark.parametrize("place", DRAFTS)
def test_a_draft_of_the_shelf_stands_the_check_and_is_taken_as_it_reads(place):
    checked = read_as(Draft, read_strict(text_of(place), place), place)
    taken = take(Draft, json.loads(text_of(place)))
    assert taken == checked
    # What was written and what was left out, too: an order keeps only what was written.
    assert taken.model_dump(by_alias=True) == checked.model_dump(by_alias=True)
    assert taken.model_fields_set == checked.model_fields_set


@pytest.mark.parametrize("name", styles.names())
def test_a_style_of_the_shelf_is_the_one_read_with_all_checks(name):
    assert styles.style(name) == styles.read_draft(text_of(f"styles/{name}"), name)


@pytest.mark.parametrize("name", shelf.names("cards", ".json"))
def test_a_card_of_the_shelf_stands_the_check(name):
    place = f"cards/{name}"
    checked = read_as(Card, read_strict(text_of(place), place), place)
    assert take(Card, json.loads(text_of(place))) == checked


def test_a_new_order_is_the_one_made_with_all_checks():
    draft = styles.style(styles.first())
    checked = Job(card=sample_card(draft), sample=True, draft=draft)
    made = new_job(draft)
    assert made == checked
    assert made.model_fields_set == checked.model_fields_set


def test_the_sets_of_allowances_stand_the_check():
    places = [f"allowances/{name}.json" for name in shelf.names("allowances", ".json")]
    raw = {place: shelf.read_json(place) for place in places}
    listed = raw.pop("allowances/roles.json")["roles"]
    sets = [read_as(AllowanceSet, data, place) for place, data in raw.items()]
    assert list(allowance_sets.shipped()) == sets
    roles = [read_as(allowance_sets.Role, role, "roles") for role in listed]
    assert list(allowance_sets.roles()) == roles


def test_what_is_told_is_the_same_with_and_without_a_condition():
    assert Told.of("2 cm") == Told(value="2 cm")
    told = Told(value="2 cm", when="lining is lined")
    assert Told.of(told) is told
