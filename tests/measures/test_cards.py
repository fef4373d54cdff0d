"""Cards and measurements, kind and hostile."""

from __future__ import annotations

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from skirtwright import shelf, words
from skirtwright.measures.card import Card, read_card, values_of
from skirtwright.measures.measurements import (
    estimated,
    measurements,
    read_measurement,
    unlikely,
)
from skirtwright.measures.strict_json import read_strict
from skirtwright.problems import BadInput

NEEDED = ("waist", "hip", "waist_to_hip", "waist_to_knee")


def sample() -> dict[str, float]:
    with shelf.open_text("cards/sample.json") as text:
        return values_of(read_card(text.read()))


def test_the_sample_card_is_the_house_client() -> None:
    """W 72, H 98, D 20, knee 58: the client every worked figure is for."""
    values = sample()
    assert [values[name] for name in NEEDED] == [720, 980, 200, 580]
    assert unlikely(values) == ()


def test_only_four_measurements_have_no_estimate() -> None:
    missing = [m.name for m in measurements().values() if m.estimate is None]
    assert tuple(missing) == NEEDED


def test_estimates_come_near_the_house_client() -> None:
    """Within 1 cm of what was measured on her (common practice, no source)."""
    values = sample()
    worked = estimated({name: values[name] for name in NEEDED})
    for name in set(values) - set(NEEDED):
        assert worked[name] == pytest.approx(values[name], abs=10), name
    assert set(worked) | set(NEEDED) == set(measurements())


def test_an_estimate_never_replaces_what_was_measured() -> None:
    assert "thigh" not in estimated({"hip": 980.0, "thigh": 600.0})
    assert "height" not in estimated({"hip": 980.0})
    assert estimated({"height": 1700.0})["waist_to_floor_back"] == 1071.0


def test_every_measurement_is_told_and_sourced() -> None:
    for known in measurements().values():
        assert known.taken.endswith(".")
        assert 0 < known.least < known.most < 5000
        assert (known.estimate is None) == (known.source == "")


@pytest.mark.parametrize(
    ("name", "text", "code"),
    [
        ("waist", "0", "measures.not_positive"),
        ("waist", "-72", "measures.not_positive"),
        ("waist", "0.5 mm", "measures.out_of_reach"),
        ("waist", "5001 mm", "measures.out_of_reach"),
        ("waist", "720", "measures.out_of_reach"),
        ("waist", "nan", "measures.not_a_length"),
        ("waist", "1e9", "measures.not_a_length"),
        ("waist", "9**9**9", "measures.not_a_length"),
        ("waist", "seventy", "measures.not_a_length"),
        ("waist", "7" * 900, "measures.not_a_length"),
        ("wiast", "72", "measures.unknown_near"),
        ("zzz", "72", "measures.unknown"),
    ],
)
def test_what_cannot_be_a_measurement(name: str, text: str, code: str) -> None:
    """The sentence names the measurement and says what would do."""
    with pytest.raises(BadInput) as caught:
        read_measurement(name, text)
    problem = caught.value.problem
    assert problem.code == code
    sentence = words.in_one_sentence(problem)
    assert ("Waist" in sentence) or (name in sentence)
    assert ";" in sentence


@pytest.mark.parametrize(
    ("name", "usual"), [("waist_left", (275.0, 650.0)), ("knee_left", (280.0, 550.0))]
)
def test_ordinarily_one_side_has_half_of_a_girth_round_her(name, usual) -> None:
    """Of 55 to 130 cm; each leg has a knee of its own, of 28 to 55 cm."""
    with pytest.raises(BadInput) as caught:
        read_measurement(name, "0")
    values = caught.value.problem.values
    assert (values["least"], values["most"]) == usual


def test_the_nearest_name_is_offered() -> None:
    with pytest.raises(BadInput) as caught:
        read_measurement("wiast_to_hip", "20")
    assert caught.value.problem.values["nearest"] == "waist_to_hip"


def test_unlikely_bodies_are_told_and_not_refused() -> None:
    found = unlikely({"waist": 1000.0, "hip": 900.0, "waist_to_hip": 400.0})
    assert [(p.code, p.where) for p in found] == [
        ("measures.unusual", "waist_to_hip"),
        ("measures.at_odds", "waist"),
    ]
    assert {p.severity for p in found} == {"caution"}
    said = [words.says(problem) for problem in found]
    assert said[0] == "Waist to hip is 40 cm; ordinarily it is 14 cm to 30 cm."
    assert said[1] == "Waist is not less than Hip."


def test_a_card_keeps_what_was_typed() -> None:
    card = read_card(
        '{"name":"A","unit":"in","measurements":{"waist":"29 1/8","hip":39}}'
    )
    assert card.measurements == {"waist": "29 1/8", "hip": "39"}
    assert values_of(card) == {"waist": 29.125 * 25.4, "hip": 39 * 25.4}
    assert read_card(card.model_dump_json()) == card


BAD_CARDS = [
    ("", "json.cut_short", ""),
    ('{"name":"A","measurements":{"waist":"7', "json.cut_short", ""),
    ('{"name":"A",', "json.cut_short", ""),
    ('{"name" "A"}', "json.not_json", ""),
    ("[" * 100_000, "json.too_deep", ""),
    ('{"a":' * 30 + "1" + "}" * 30, "json.too_deep", ""),
    ("[" + "0," * 2_600_000 + "0]", "json.too_large", ""),
    ('{"name":NaN}', "json.not_finite", ""),
    ('{"name":Infinity}', "json.not_finite", ""),
    ('{"name":1e999}', "json.not_finite", ""),
    ('{"name":' + "9" * 5000 + "}", "json.too_many_digits", ""),
    ('{"name":"A","name":"B"}', "json.twice", "name"),
    ('{"name":"A","measurements":{},"weight":"1"}', "json.unknown_key", "weight"),
    ('{"name":"A"}', "json.missing_key", "measurements"),
    (
        '{"name":"A","measurements":{"waist":true}}',
        "json.wrong_value",
        "measurements.waist",
    ),
    ('{"name":"A","measurements":{},"unit":"ell"}', "json.no_option", "unit"),
    ("[1]", "json.wrong_value", ""),
]


@pytest.mark.parametrize(("text", "code", "place"), BAD_CARDS)
def test_hostile_cards(text: str, code: str, place: str) -> None:
    """Each with the place of what is wrong."""
    with pytest.raises(BadInput) as caught:
        read_card(text, "anna.json")
    problem = caught.value.problem
    assert problem.code == code
    assert place in problem.where
    sentence = words.in_one_sentence(problem)
    assert "anna.json" in sentence
    assert "?" not in sentence


def test_bytes_that_are_not_text() -> None:
    with pytest.raises(BadInput) as caught:
        read_strict(b"\xff\xfe{", "anna.json")
    assert caught.value.problem.code == "json.not_text"


@given(
    st.recursive(
        st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=5),
        lambda inner: (
            st.lists(inner, max_size=3)
            | st.dictionaries(
                st.sampled_from(["name", "measurements", "unit", "waist"]),
                inner,
                max_size=3,
            )
        ),
    )
)
def test_any_json_is_a_card_or_bad_input(value: object) -> None:
    try:
        card = read_card(json.dumps(value))
        values_of(card)
    except BadInput:
        return
    assert isinstance(card, Card)
