"""Published size charts, and the drawing that belongs to each measurement."""

from __future__ import annotations

from xml.etree import ElementTree as ET

import pytest

from skirtwright import shelf
from skirtwright.cli import main
from skirtwright.measures.card import values_of
from skirtwright.measures.measurements import measurements, unlikely
from skirtwright.measures.sizes import chart, charts, read_size, size
from skirtwright.problems import BadInput, NotFound

INCH = 25.4


def all_sizes():
    return [(one.id, name) for one in charts() for name in one.names]


def test_straight_less_curvy_waist_is_an_inch_and_a_half_at_every_size():
    # Source: ASTM D5585-11e1, table 1, 12 sizes.
    curvy, straight = chart("us-misses-curvy"), chart("us-misses-straight")
    assert curvy.names == straight.names
    assert len(curvy.names) == 12
    for name in curvy.names:
        waists = [values_of(size(one.id, name))["waist"] for one in (straight, curvy)]
        assert waists[0] - waists[1] == pytest.approx(1.5 * INCH, abs=1e-9)


@pytest.mark.parametrize(
    ("name", "waist"),
    [("00", 23.875), ("6", 27), ("10", 29), ("14", 32.5), ("20", 39)],
)
def test_us_waists_are_as_printed(name, waist):
    # Source: ASTM D5585-11e1, table 1, waist girth, curvy, in inches.
    found = values_of(size("us-misses-curvy", name))["waist"]
    assert found == pytest.approx(waist * INCH, abs=1e-9)


@pytest.mark.parametrize(
    ("name", "waist", "hip"),
    [
        ("6", 64, 88),
        ("12", 76, 100),
        ("18", 88, 112),
        ("20", 94, 118),
        ("24", 106, 132),
    ],
)
def test_uk_sizes_are_as_printed(name, waist, hip):
    # Source: Aldrich, Metric Pattern Cutting for Women's Wear, 6th ed., in cm.
    found = values_of(size("uk-women", name))
    assert (found["waist"], found["hip"]) == (waist * 10, hip * 10)


@pytest.mark.parametrize(("chart_name", "name"), all_sizes())
def test_a_size_is_a_whole_card(chart_name, name):
    card = size(chart_name, name)
    found = values_of(card)
    assert set(found) == {"waist", "hip", "waist_to_hip", "waist_to_knee"}
    assert unlikely(found) == ()
    assert 51 < found["hip"] - found["waist"] < 367  # as real women's do
    assert name in card.name


@pytest.mark.parametrize("one", charts(), ids=lambda one: one.id)
def test_sizes_grow_and_every_figure_has_a_source(one):
    for name, column in one.measurements.items():
        assert column.source
        assert bool(column.values) != bool(column.working)
        if column.values:
            assert len(column.values) == len(one.names)
            row = [values_of(size(one.id, s))[name] for s in one.names]
            assert row == sorted(set(row))


def test_what_a_chart_does_not_print_is_marked():
    for one in charts():
        for column in one.measurements.values():
            if column.working:
                assert "no source" in column.source


@pytest.mark.parametrize(
    ("text", "error", "code", "nearest"),
    [
        ("uk-women", BadInput, "measures.not_a_size", None),
        ("aldritch:12", NotFound, "measures.no_chart", "uk-women"),
        ("uk-women:13", NotFound, "measures.no_size", "12"),
        ("uk-women:99", NotFound, "measures.no_size", "24"),
        ("uk-women:10-14", BadInput, "measures.several_sizes", None),
        ("uk-women:12, 10,12", BadInput, "measures.several_sizes", None),
        ("us-misses-curvy:", NotFound, "measures.no_size", None),
        ("", BadInput, "measures.not_a_size", None),
        (":", BadInput, "measures.not_a_size", None),
        (": 12", BadInput, "measures.not_a_size", None),
    ],
)
def test_what_cannot_be_a_size_names_the_nearest(text, error, code, nearest):
    with pytest.raises(error) as caught:
        read_size(text)
    problem = caught.value.problem
    assert problem.code == code
    if nearest:
        assert problem.values["nearest"] == nearest


def test_a_size_is_read_with_room_round_the_colon():
    assert read_size(" uk-women : 12 ") == size("uk-women", "12")


@pytest.mark.parametrize("name", list(measurements()))
def test_every_measurement_is_told_and_drawn(name):
    known = measurements()[name]
    assert known.taken.endswith(".")
    assert len(known.taken) > 20
    with shelf.open_text(known.figure) as file:
        text = file.read()
    root = ET.fromstring(text)
    paths = [e for e in root.iter() if e.tag.endswith("}path")]
    tapes = [e for e in paths if e.get("class") == "tape"]
    assert len(tapes) == 1  # one tape, and it is the only thing in the accent
    assert len(paths) > 8  # a body, not a stick man
    assert root.get("stroke") == "currentColor"  # so it reads on dark ground too
    assert not {e.tag.rpartition("}")[2] for e in root.iter()} & {
        "image",
        "text",
        "script",
    }


def test_a_size_is_asked_for_on_the_command_line(capsys):
    assert main(["draft", "straight-block", "--size", "uk-women:12"]) == 0
    said = capsys.readouterr()
    assert "UK women, 12" in said.out
    assert "77.5 cm" in said.out  # 76 and 1.5 of ease
    assert (
        main(["check", "mermaid", "--size", "uk-women:12", "--measure", "hip=99"]) == 0
    )
    capsys.readouterr()
    for text in ("uk-women:13", "nowhere:12", "12"):
        assert main(["draft", "straight-block", "--size", text]) == 2
        said = capsys.readouterr()
        assert said.out == ""
        assert said.err.count("\n") == 1


@pytest.mark.parametrize(
    ("former", "now"),
    [
        ("aldrich:12", "uk-women:12"),
        ("astm-misses-straight:12", "us-misses-straight:12"),
        ("astm-misses-curvy:12", "us-misses-curvy:12"),
    ],
)
def test_what_charts_were_called_goes_on_answering(former, now):
    assert read_size(former) == read_size(now)


def test_ids_say_whose_sizes_they_are():
    for one in charts():
        assert "women" in one.id or "misses" in one.id


def test_the_measured_women_are_as_measured(real_women):
    """Reckoned anew from the data set: the mean waist of hips within 2 cm, to a mm."""
    reckoned = chart("measured-women")
    heights = [woman.height for woman in real_women]
    assert f"{sum(heights) / len(heights) / 10:.1f} cm tall" in reckoned.source
    counts = []
    for name, waist in zip(
        reckoned.names, reckoned.measurements["waist"].values, strict=True
    ):
        near = [w.waist for w in real_women if abs(w.hip - 10 * int(name)) <= 20]
        counts.append(len(near))
        assert f"{sum(near) / len(near) / 10:.1f}" == waist
    assert f"{min(counts)} to {max(counts)} women" in (
        reckoned.measurements["waist"].source
    )
