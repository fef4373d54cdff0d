"""The verb `worksheet`: what it writes, how it ends, what it refuses."""

from __future__ import annotations

import json

import pymupdf
import pytest

from command_line import run

pytestmark = pytest.mark.usefixtures("elsewhere", "drafted_once", "laid_in_few_tries")


def words(path):
    with pymupdf.open(path) as document:
        return " ".join("".join(page.get_text() for page in document).split())


def test_a_sheet_is_written_and_said_and_the_report_goes_with_it(capsys, elsewhere):
    options = ("-o", "m.pdf", "--choose", "zip_kind=invisible", "--report", "m.json")
    code, out, err = run(capsys, "worksheet", "mermaid", *options)
    assert (code, err) == (0, "")
    assert "m.pdf" in out
    said = words("m.pdf")
    assert "Order of sewing" in said
    assert "invisible zip" in said
    report = json.loads((elsewhere / "m.json").read_text("utf-8"))
    assert f"{report['finished']['waist'] / 10:.1f} cm" in said


@pytest.mark.parametrize("unit", ["cm", "in"])
def test_lengths_are_in_the_unit_of_her_card_and_paper_is_chosen(
    capsys, elsewhere, unit
):
    """Or in the unit that is asked for."""
    card = {
        "name": "Ottoline Brack",
        "unit": "in",
        "measurements": {
            "waist": "29 1/8",
            "hip": "38 1/2",
            "waist_to_hip": "8",
            "waist_to_knee": "23",
        },
    }
    (elsewhere / "card.json").write_text(json.dumps(card), "utf-8")
    options = ["--card", "card.json", "-o", "o.pdf", "--paper", "letter"]
    options += ["--unit", "cm"] if unit == "cm" else []
    code, _, err = run(capsys, "worksheet", "straight", *options)
    assert (code, err) == (0, "")
    with pymupdf.open("o.pdf") as document:
        assert document[0].rect.width == pytest.approx(612)
    said = words("o.pdf")
    assert "Ottoline Brack" in said
    assert ("29 1/8 in" in said) == (unit == "in")
    assert ("lengths in inches" in said) == (unit == "in")


def test_what_is_wrong_ends_with_one_and_stands_on_the_sheet(capsys):
    """A hip smaller than the body's cannot be got into."""
    options = ("--amount", "hip_ease=-5cm", "-o", "w.pdf")
    code, _, _ = run(capsys, "worksheet", "mermaid", *options)
    assert code == 1
    assert "Before you cut" in words("w.pdf")


@pytest.mark.parametrize(
    ("arguments", "named"),
    [
        (("mermaid", "-o", "m.svg"), ".pdf"),
        (("mermaid", "-o", "m.pdf", "--paper", "foolscap"), "foolscap"),
        (("mermaid", "-o", "m.pdf", "--unit", "ell"), "ell"),
        (("marmaid", "-o", "m.pdf"), "mermaid"),
        (("mermaid", "-o", "nowhere/m.pdf"), "nowhere"),
        (("mermaid",), "-o"),
        (("mermaid", "-o", "m.pdf", "--amount", "hip_ease=wide"), "wide"),
        (("mermaid", "-o", "m.pdf", "--measure", "waist=70cm"), "Hip is not measured"),
    ],
)
def test_bad_input_is_one_sentence_and_writes_nothing(
    capsys, elsewhere, arguments, named
):
    code, out, err = run(capsys, "worksheet", *arguments)
    assert (code, out) == (2, "")
    assert err.count("\n") == 1
    assert named in err
    assert not list(elsewhere.iterdir())
