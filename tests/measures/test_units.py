"""Lengths as people write them."""

from __future__ import annotations

import contextlib
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from skirtwright.measures.units import (
    MM_PER,
    next_mark,
    read_length,
    read_number,
    show_length,
)
from skirtwright.problems import BadInput

CM = [
    ("74", 740.0),
    ("74 cm", 740.0),
    ("74cm", 740.0),
    (" 74 CM ", 740.0),
    ("74.5", 745.0),
    ("74,5", 745.0),
    ("74,5 cm", 745.0),
    ("740mm", 740.0),
    ("740 mm", 740.0),
    ("0.74 m", 740.0),
    ("2.5m", 2500.0),
    (".5", 5.0),
    (",5", 5.0),
    ("74.", 740.0),
    ("0", 0.0),
    ("-0", 0.0),
    ("-6", -60.0),
    ("\u22126", -60.0),
    ("- 6", -60.0),
    ("+3", 30.0),
    ("1/2", 5.0),
    ("½", 5.0),
    ("74½", 745.0),
    ("29 1/8 in", 29.125 * 25.4),
    ('29 1/8"', 29.125 * 25.4),
    ('29-1/8"', 29.125 * 25.4),
    ("29 - 1/8 in", 29.125 * 25.4),
    ("29.125 in", 29.125 * 25.4),
    ("29,125 in", 29.125 * 25.4),
    ('29.125"', 29.125 * 25.4),
    ("29.125\u2033", 29.125 * 25.4),
    ("29.125\u201d", 29.125 * 25.4),
    ("29.125''", 29.125 * 25.4),
    ("29 inches", 29 * 25.4),
    ("1 inch", 25.4),
    ("1 yd", 914.4),
    ("2 1/2 yards", 2.5 * 914.4),
    ("24 3/8in", 24.375 * 25.4),
    ("24\u00a03/8in", 24.375 * 25.4),
    ("24 3\u20448 in", 24.375 * 25.4),
    ("3/8 in", 0.375 * 25.4),
    ("-1 1/2 in", -1.5 * 25.4),
]
INCHES = [
    ("24 3/8", 24.375 * 25.4),
    ("24⅜", 24.375 * 25.4),
    ("24 ⅜", 24.375 * 25.4),
    ("⅞", 0.875 * 25.4),
    ("3/8", 0.375 * 25.4),
    ("70,5", 70.5 * 25.4),
    ("61.9 cm", 619.0),
]
NOT_LENGTHS = [
    "",
    " ",
    "abc",
    "1/0",
    "5 1/0",
    "24 12/8",
    "nan",
    "inf",
    "1e9",
    "1_000",
    "١٢",
    "７４",
    "9**9**9",
    "74 kg",
    "74 deg",
    "74 75",
    "7 4.5",
    "--3",
    "1.2.3",
    "1,000 mm",
    "0x10",
    "1" * 30,
    "1" * 5000,
    "74 cm cm",
    "⅜⅜",
    ".",
    "/8",
]


@pytest.mark.parametrize(("text", "mm"), CM)
def test_lengths_in_centimetres(text: str, mm: float) -> None:
    """A bare number is centimetres; a unit written beside it rules."""
    assert read_length(text) == pytest.approx(mm, abs=1e-9)


@pytest.mark.parametrize(("text", "mm"), INCHES)
def test_lengths_in_inches(text: str, mm: float) -> None:
    """A bare number is inches where inches are chosen."""
    assert read_length(text, "in") == pytest.approx(mm, abs=1e-9)


@pytest.mark.parametrize("text", NOT_LENGTHS)
def test_what_is_not_a_length(text: str) -> None:
    """Anything else is refused by name, never half read."""
    with pytest.raises(BadInput) as caught:
        read_length(text)
    assert caught.value.problem.code.startswith("units.")
    assert caught.value.problem.values["text"] in text


def test_numbers_and_angles() -> None:
    """Counts take no unit."""
    assert read_number("2,5") == 2.5
    assert read_number("1 1/2") == 1.5
    for text in ("3 cm", "two", '3"'):
        with pytest.raises(BadInput, match=r"units\.not_a_number"):
            read_number(text)


@pytest.mark.parametrize(
    ("mm", "keywords", "shown"),
    [
        (745.0, {}, "74.5"),
        (740.0, {}, "74"),
        (740.0, {"with_unit": True}, "74 cm"),
        (0.2, {}, "0"),
        (-0.2, {}, "0"),
        (-60.0, {}, "-6"),
        (7.354, {"digits": 2}, "0.74"),
        (745.0, {"unit": "mm"}, "745"),
        (29.125 * 25.4, {"unit": "in"}, "29 1/8"),
        (29.125 * 25.4, {"unit": "in", "digits": 3}, "29.125"),
        (29.99 * 25.4, {"unit": "in"}, "30"),
        (0.999 * 25.4, {"unit": "in", "fraction": 16}, "1"),
        (5 * 25.4, {"unit": "in", "with_unit": True}, "5 in"),
        (0.5 * 25.4, {"unit": "in", "fraction": 16}, "1/2"),
        (-1.5 * 25.4, {"unit": "in"}, "-1 1/2"),
        (-0.01, {"unit": "in"}, "0"),
    ],
)
def test_lengths_shown(mm: float, keywords: dict[str, object], shown: str) -> None:
    """Noughts fall away, fractions are in their lowest terms, 8/8 never shows."""
    assert show_length(mm, **keywords) == shown  # type: ignore[arg-type]


def test_an_inch_is_exactly_25_4_mm() -> None:
    """The international inch and yard (agreement of 1959)."""
    assert MM_PER["in"] == 25.4
    assert MM_PER["yd"] == 36 * 25.4


@given(st.floats(-5000, 5000), st.sampled_from([2, 4, 8, 16, 32]))
def test_shown_fractions_read_back(mm: float, fraction: int) -> None:
    """What is shown reads back within half a step."""
    shown = show_length(mm, "in", fraction)
    assert abs(read_length(shown, "in") - mm) <= 25.4 / fraction / 2 + 1e-9


@settings(max_examples=50)
@given(st.text(max_size=60) | st.text("0123456789 /.,-⅜cmin\"'", max_size=12))
def test_any_text_is_read_or_refused(text: str) -> None:
    """Nothing but BadInput leaves the reader, and what is read is finite."""
    with contextlib.suppress(BadInput):
        assert math.isfinite(read_length(text))


@pytest.mark.parametrize(
    ("value", "steps", "reached"),
    [(12.0, -2, 10.0), (12.3, 1, 13.0), (12.7, -2, 11.0), (-0.3, -1, -1.0)],
)
@pytest.mark.parametrize("step", [1.0, 25.4 / 8])
def test_from_between_two_marks_the_first_step_goes_to_the_next(
    value, steps, reached, step
):
    """Counted off a tape by hand."""
    assert next_mark(value * step, step, steps) == pytest.approx(reached * step)
