"""The record of prints on the command line; 6 seconds."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from skirtwright.cli import main
from skirtwright.export.print_job import PrintJob
from skirtwright.job import file

pytestmark = pytest.mark.usefixtures("packed_in_few_tries", "drafted_once")


@pytest.fixture
def ask(capsys, monkeypatch, tmp_path):
    monkeypatch.chdir(tmp_path)

    def run(*asked):
        code = main([*asked])
        out, err = capsys.readouterr()
        return code, out, err

    return run


def test_fewer_sheets_go_with_sheets_and_a_roll_only(ask):
    for option in ("--lining-on-shell", "--as-sizes"):
        for other in ("--changed", "--projector"):
            asked = ("print", "straight-block", option, other, "-o", "p.pdf")
            code, _, err = ask(*asked)
            assert code == 2
            assert option in err
            assert other in err
    assert not list(Path().glob("*.pdf"))


def test_of_sheets_chosen_it_is_told_how_many_are_printed(ask):
    asked = ("print", "straight-block", "--only", "front", "-o", "a.pdf")
    every = re.search(r"(\d+) sheets of A4; laid together", ask(*asked)[1])
    _, out, _ = ask(*asked, "--sheets", "2-3")
    assert f"2 of {every[1]} sheets of A4\n" in out
    # No record of a print of all pieces is made of it.
    Path("a.pdf").unlink()
    code, _, err = ask(*asked, "--sheets", "2-3", "--record", "a.skirt")
    assert (code, "prints of all sheets" in err) == (2, True)
    assert not [*Path().iterdir()]


def test_sizes_of_a_chart_and_cards_over_one_another(ask):
    sizes = ("print", "straight-block", "--size", "uk-women:10-12", "--only", "front")
    code, out, err = ask(*sizes, "-o", "a.pdf", "--nest-on", "hem start")
    assert (code, err) == (0, "")
    assert "Straight skirt block, UK women" in out.splitlines()[0]
    for name, waist in (("a", "70cm"), ("b", "76cm")):
        kept = ("draft", "straight-block", "--measure", f"waist={waist}")
        more = ("hip=98cm", "waist_to_hip=20cm", "waist_to_knee=60cm")
        pairs = [part for pair in more for part in ("--measure", pair)]
        code, _, err = ask(*kept, *pairs, "-o", f"{name}.skirt")
        assert (code, err) == (0, "")
        card = file.load(Path(f"{name}.skirt")).card.replace(name=name)
        Path(f"{name}.json").write_text(card.model_dump_json(), encoding="utf-8")
    cards = ("print", "straight-block", "--card", "a.json", "--with-card", "b.json")
    code, _, err = ask(*cards, "--only", "front", "-o", "b.pdf")
    assert (code, err) == (0, "")
    for asked, said in (
        ((*sizes, "--changed"), "--changed"),
        ((*sizes, "--nest-on", "hmm start"), "hmm start"),
        ((*sizes[:3], "uk-women:12-10"), "10-12"),
        ((*sizes[:3], "uk-women:10-13"), "did you mean 12?"),
        (("print", "straight-block", "--nest-on", "hem start"), "--nest-on"),
        ((*sizes, "--with-card", "b.json"), "--with-card"),
        ((*cards, "--with-card", "b.json"), "b"),
    ):
        code, _, err = ask(*asked, "-o", "no.pdf")
        assert code == 2, asked
        assert said in err
    assert not Path("no.pdf").exists()


def test_what_changed_is_printed_and_the_source_never_written(ask):
    first = ("print", "straight-block", "-o", "a.pdf", "--record", "a.skirt")
    code, out, _ = ask(*first)
    assert code in (0, 1)
    assert "take it up" not in out
    assert out.splitlines()[-2:] == ["Saved as a.pdf.", "Saved as a.skirt."]
    source = Path("a.skirt").read_bytes()
    again = ("print", "a.skirt", "--amount", "hip_ease=5", "--changed")
    code, out, _ = ask(*again, "-o", "b.pdf", "--record", "b.skirt")
    assert code in (0, 1)
    assert "Hip ease: 4 cm is now 5 cm." in out
    assert "stay from the print of" in out
    assert len(file.load(Path("b.skirt")).prints) == 2
    # Neither with --record of itself nor without is it written.
    code, _, err = ask(*again, "-o", "c.pdf", "--record", "a.skirt")
    assert (code, "a.skirt" in err) == (2, True)
    assert Path("a.skirt").read_bytes() == source
    assert not Path("c.pdf").exists()
    # Of what was printed last nothing differs.
    code, _, err = ask("print", "b.skirt", "--changed", "-o", "c.pdf")
    assert (code, "still good" in err) == (2, True)
    assert not Path("c.pdf").exists()


@pytest.mark.parametrize("verb", ["plot", "export"])
def test_other_files_are_recorded_too(ask, verb):
    place = {"plot": "a.plt", "export": "a.svg"}[verb]
    _, out, _ = ask(verb, "straight-block", "-o", place, "--record", "a.skirt")
    assert "--changed does not take it up" in out
    one = file.load(Path("a.skirt")).prints[0]
    assert one.how == {"plot": "plotter", "export": "drawing"}[verb]
    assert set(one.drawn) == {"front", "back"}
    # Nothing of it lies on sheets.
    code, _, err = ask("print", "a.skirt", "--changed", "-o", "b.pdf")
    assert (code, "no record of a print on sheets" in err) == (2, True)


@pytest.mark.parametrize(
    "more",
    [
        ("--paper", "a3"),
        ("--landscape",),
        ("--overlap", "2cm"),
        ("--scale", "half"),
        ("--toile",),
        ("--full-size",),
        ("--projector",),
    ],
)
def test_with_what_changed_the_sheets_are_as_they_were(ask, more):
    code, _, err = ask("print", "straight-block", "--changed", "-o", "a.pdf", *more)
    assert (code, "--changed" in err) == (2, True)


def test_the_record_is_an_order(ask):
    code, _, err = ask("print", "straight-block", "-o", "a.pdf", "--record", "a.json")
    assert (code, "a.json" in err) == (2, True)
    assert not Path("a.pdf").exists()


def test_what_changed_of_many_pieces_is_no_more_work_than_is_allowed(ask, monkeypatch):
    """Left and right apart there are twice as many pieces, and four times the pairs."""
    sides = ["waist=74", "hip=100", "waist_to_knee=59"]
    sides += ["waist_to_hip_left=20", "waist_to_hip_right=21.5"]
    measured = [word for side in sides for word in ("--measure", side)]
    printed = ("--paper", "a4", "-o", "a.pdf", "--record", "a.skirt")
    # Of the first print only the record is wanted.
    with monkeypatch.context() as unwritten:
        unwritten.setattr(PrintJob, "pdf", lambda *_: b"")
        code, _, err = ask("print", "mermaid", *measured, *printed)
    assert code in (0, 1), err
    again = ("--amount", "length=94cm", "--changed", "-o", "b.pdf")
    code, out, err = ask("print", "a.skirt", *again)
    assert code in (0, 1), err
    assert "stay from the print" in out
