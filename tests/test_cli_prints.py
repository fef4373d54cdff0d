"""The record of prints on the command line; 6 seconds."""

from __future__ import annotations

from pathlib import Path

import pytest

from skirtwright.cli import main
from skirtwright.job import file


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


def test_what_changed_is_printed_and_the_source_never_written(ask):
    first = ("print", "straight-block", "-o", "a.pdf", "--record", "a.skirt")
    code, out, _ = ask(*first)
    assert code in (0, 1)
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
    ask(verb, "straight-block", "-o", place, "--record", "a.skirt")
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
