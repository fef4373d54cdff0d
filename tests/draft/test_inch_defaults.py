"""An order in inches is drafted in eighths, not rounded to them."""

from __future__ import annotations

import pytest

from drafting import look_of
from sampling import some_of
from skirtwright.draft import styles
from skirtwright.draft.inch_defaults import in_inches
from skirtwright.export.sewing.making_up_sheet import making_of
from skirtwright.job import edits, file, opening
from skirtwright.measures.inch_column import inch_column, with_inches
from skirtwright.measures.units import read_length
from skirtwright.words import Manner

INCH = 25.4
INCHES = Manner(unit="in")
SOLD = {6, 7, 8, 9, 10, 12, 14}
"""Lengths of zip as sold for skirts, in inches; from memory."""


def order(style, unit="in", **chosen):
    job = opening.open_source(style)
    for name, option in chosen.items():
        job = edits.set_choice(job, name, option).job
    return edits.begun_in(job, unit)


def looked(job):
    return look_of(job).report


def is_eighths(length):
    return abs(length / INCH * 8 - round(length / INCH * 8)) < 1e-6


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("1.5", "5/8 in"),
        ("-1", "-3/8 in"),
        ("2.5 if zip_kind is lapped else 2", "1 in if zip_kind is lapped else 3/4 in"),
        ("least(18, waist / 4 - 1)", "least(7 in, waist / 4 - 3/8 in)"),
        ("15 cm if reach <= 15 cm else 18 cm", "6 in if reach <= 6 in else 7 in"),
        ("0.5 * waist_to_hip", "0.5 * waist_to_hip"),
        ("2 * band_height", "2 * band_height"),
        ("3 if count > 2 else 0", "1 1/4 in if count > 2 else 0"),
        ("5/8 in", "5/8 in"),
        ("13.37", "13.37"),
    ],
)
def test_lengths_take_the_column_beside_theirs_and_factors_do_not(text, told):
    assert with_inches(text, is_length=True) == told
    assert with_inches(told, is_length=True) == told


def test_of_what_may_be_a_count_only_said_centimetres_are_changed():
    assert with_inches("2", is_length=False) == "2"
    assert with_inches("zip_length + 2 cm", is_length=False) == "zip_length + 3/4 in"


def test_the_column_is_of_eighths_that_rise_with_the_centimetres():
    """An eighth of an inch is 3.2 mm; nothing up to 8 cm is moved by more."""
    before = 0.0
    for metric, text in sorted(inch_column().items()):
        inches = read_length(f"{text} in")
        assert is_eighths(inches)
        assert inches >= before
        before = inches
        if metric <= 8:
            assert abs(inches - 10 * metric) <= INCH / 8 + 1e-9


def test_the_step_a_lining_allows_is_in_whole_inches():
    """As a default; it is finished by a group that other styles share."""
    report = looked(order("mermaid", lining="lined"))
    step = report.worked.stated.amounts["step_in_lining"]
    assert step.value == pytest.approx(26 * INCH)


@pytest.mark.parametrize("style", styles.names())
def test_every_plain_default_stands_in_the_column(style):
    for amount in styles.style(style).amounts:
        if amount.kind == "length" and amount.default.replace(".", "").isdigit():
            default = float(amount.default)
            assert not default or default in inch_column(), amount.name


@pytest.mark.parametrize("style", styles.names())
def test_what_the_program_chooses_is_exact_eighths(style):
    """Every listed default, and every allowance; the cut is of these, not near them."""
    job = order(style)
    report = looked(job)
    assert not report.refusals
    plain = styles.style(style)
    for state in report.worked.stated.amounts.values():
        if plain.amount(state.amount.name).default in {f"{c:g}" for c in inch_column()}:
            assert state.amount.kind != "length" or is_eighths(state.value)
            assert state.least <= state.value <= state.most
    for piece in report.cut.pieces:
        for edge in piece.edges:
            for width, _ in edge.allowances:
                assert is_eighths(width), (piece.name, edge.name, width / INCH)


def test_a_centre_that_was_a_fold_is_joined_by_eighths_too():
    job = order("straight")
    for name, text in (("waist_to_hip_left", "20cm"), ("waist_to_hip_right", "21cm")):
        job = edits.set_measurement(job, name, text).job
    for piece in looked(job).cut.pieces:
        for edge in piece.edges:
            assert all(is_eighths(width) for width, _ in edge.allowances), edge.name


def test_what_is_bought_comes_in_lengths_that_are_sold():
    for chosen in ({}, {"zip_kind": "invisible"}, {"closing": "zip_left_side"}):
        making = making_of(looked(order("mermaid", **chosen)), "", "", INCHES)
        zips = [words for words in making.notions if " zip, " in words]
        (length,) = [words.split(", ")[1].removesuffix(" in long") for words in zips]
        assert int(length) in SOLD


@pytest.mark.sampled
@pytest.mark.parametrize("style", some_of(styles.names(), 0, each=2))
def test_an_order_in_inches_has_no_graver_findings(style):
    metric = {(p.severity, p.code) for p in looked(order(style, "cm")).problems}
    found = {(p.severity, p.code) for p in looked(order(style)).problems}
    assert {one for one in found - metric if one[0] != "note"} == set()


def hem(report):
    return report.worked.stated.amounts["hem_allowance"].value


def test_a_unit_of_words_changes_words_only():
    report = looked(order("straight", "cm"))
    told = making_of(report, "", "", INCHES)
    assert any("13/16 in" in row.size for cut in told.cut for row in cut.rows)
    assert hem(report) == 40
    assert hem(looked(order("straight"))) == pytest.approx(1.5 * INCH)


def test_an_order_keeps_its_inches_in_its_file(tmp_path):
    job = order("wrap")
    path = tmp_path / "wrap.skirt"
    file.save(job, path)
    again = file.load(path)
    assert again.unit == "in"
    kept, first = looked(again), looked(job)
    assert kept.worked.stated.amounts == first.worked.stated.amounts
    assert [p.cut for p in kept.cut.pieces] == [p.cut for p in first.cut.pieces]


def test_another_style_is_in_the_unit_of_the_order():
    job = edits.set_style(order("wrap"), styles.style("straight")).job
    assert job.draft == in_inches(styles.style("straight"))
    metric = edits.set_style(order("wrap", "cm"), styles.style("straight")).job
    assert metric.draft == styles.style("straight")


def test_the_next_client_may_be_measured_in_the_other_unit():
    """Whose order takes the style that lies on the table."""
    inches = order("straight")
    assert edits.begun_in(inches, "cm").draft == styles.style("straight")
    own = inches.replace(draft=changed(inches.draft))
    assert edits.begun_in(own, "cm").draft == own.draft


def changed(draft):
    return draft.replace(title="Her own")


def test_one_figure_everywhere_on_a_sheet():
    """What is set, what is drafted and what is sewn of one dart, told alike."""
    making = making_of(looked(order("straight")), "", "", INCHES)
    width = dict(making.set)["Front darts take in (level)"]
    darts = next(step.words for step in making.order if step.step == "darts")
    assert f"Front: 2, each {width} wide" in darts
    drafted = " ".join(words for part in making.drafting for words in part.sentences)
    assert "front darts take in (level) = " in drafted
    assert width in drafted
