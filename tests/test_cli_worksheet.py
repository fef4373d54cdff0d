"""The verb `worksheet`: what it writes, how it ends, what it refuses."""

from __future__ import annotations

import json

import pymupdf
import pytest

from command_line import run


@pytest.fixture(autouse=True)
def elsewhere(tmp_path, monkeypatch, drafted_once):
    monkeypatch.chdir(tmp_path)
    return tmp_path


def words(path):
    with pymupdf.open(path) as document:
        return " ".join("".join(page.get_text() for page in document).split())


def test_a_sheet_is_written_and_said(capsys, elsewhere):
    code, out, err = run(capsys, "worksheet", "mermaid", "-o", "m.pdf")
    assert (code, err) == (0, "")
    assert "m.pdf" in out
    assert "Order of sewing" in words("m.pdf")


def test_the_report_goes_with_it(capsys, elsewhere):
    run(capsys, "worksheet", "mermaid", "-o", "m.pdf", "--report", "m.json")
    report = json.loads((elsewhere / "m.json").read_text("utf-8"))
    waist = report["finished"]["waist"]
    assert f"{waist / 10:.1f} cm" in words("m.pdf")


def test_paper_and_unit_are_chosen(capsys):
    options = ("--paper", "letter", "--unit", "in")
    code, _, _ = run(capsys, "worksheet", "straight", *options, "-o", "s.pdf")
    assert code == 0
    with pymupdf.open("s.pdf") as document:
        assert document[0].rect.width == pytest.approx(612)
    assert "lengths in inches" in words("s.pdf")


def test_lengths_are_in_the_unit_of_her_card(capsys, elsewhere):
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
    options = ("--card", "card.json", "-o", "o.pdf")
    code, _, err = run(capsys, "worksheet", "straight", *options)
    assert (code, err) == (0, "")
    assert "29 1/8 in" in words("o.pdf")
    assert "Ottoline Brack" in words("o.pdf")


def test_a_choice_reaches_the_order_of_sewing(capsys):
    options = ("--choose", "zip_kind=invisible", "-o", "i.pdf")
    assert run(capsys, "worksheet", "mermaid", *options)[0] == 0
    assert "invisible zip" in words("i.pdf")


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
