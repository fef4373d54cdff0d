"""`print` and `plot` as a person runs them, read back by other programs."""

from __future__ import annotations

import json
from pathlib import Path

import pymupdf
import pytest

from drafting import look_of
from skirtwright import cli
from skirtwright.budget import MOST, bounded
from skirtwright.draft.styles import style
from skirtwright.export.pattern import toile_piece
from skirtwright.export.print_job import PrintJob
from skirtwright.export.printing import Printing
from skirtwright.job.job import new_job
from skirtwright.words import Manner


def run(*words: str) -> int:
    return cli.main(list(words))


def strokes(path: Path) -> list[float]:
    """Lengths in mm of all straight strokes of a PDF, by PyMuPDF."""
    found = []
    with pymupdf.open(path) as document:
        for page in document:
            for drawing in page.get_drawings():
                for item in drawing["items"]:
                    if item[0] == "l":
                        found.append(abs(item[2] - item[1]) * 25.4 / 72)
                    elif item[0] == "re":
                        found.append(item[1].width * 25.4 / 72)
                    elif item[0] == "qu":
                        sides = (item[1].width, item[1].height)
                        found.extend(side * 25.4 / 72 for side in sides)
    return found


@pytest.mark.parametrize("paper", ["a4", "letter", "a3", "legal", "tabloid"])
def test_prints_on_every_paper(paper: str, tmp_path: Path) -> None:
    """A tiled PDF with its 100 mm square true, whatever the paper."""
    place = tmp_path / "m.pdf"
    asked = ("print", "mermaid", "--only", "front", "--paper", paper)
    assert run(*asked, "-o", str(place)) == 0
    with pymupdf.open(place) as document:
        assert document.page_count > 2
        words = " ".join(document[0].get_text().split())
    assert "Orla Penhallow" in words
    assert "100 mm" in words


def test_full_size_centre_front_is_true(tmp_path: Path) -> None:
    """The straight centre front is found at its drafted length by another reader."""
    place, report = tmp_path / "f.pdf", tmp_path / "f.json"
    given = ("--full-size", "-o", str(place), "--report", str(report))
    assert run("print", "straight-block", *given) == 0
    pieces = json.loads(report.read_text())["pieces"]
    edges = {e["name"]: e for e in pieces[0]["edges"]}
    # From the hip line down the side is straight: 60 cm long less 20 cm.
    assert edges["side"]["length"] == pytest.approx(600, abs=0.1)
    assert any(abs(length - 400) < 0.02 for length in strokes(place))


def test_only_one_piece_needs_fewer_sheets(tmp_path: Path) -> None:
    """`--only` leaves the other piece out."""
    both, one = tmp_path / "both.pdf", tmp_path / "one.pdf"
    asked = ("print", "straight-block")
    assert run(*asked, "-o", str(both)) == 0
    assert run(*asked, "--only", "front", "-o", str(one)) == 0
    with pymupdf.open(both) as first, pymupdf.open(one) as second:
        assert second.page_count < first.page_count


def test_a_toile_has_wide_seams_and_none_at_waist_and_hem(tmp_path: Path) -> None:
    """The toile's page is wider and shorter than the pattern's."""
    report = look_of(new_job(style("straight-block"))).report
    plain = report.cut.pieces[0]
    toile = toile_piece(plain)
    # Side 40 instead of 20 mm; the hem on its line 560 - 160 mm below the hip.
    assert max(p.x for p in toile.cut) - max(p.x for p in plain.cut) == (
        pytest.approx(20, abs=0.1)
    )
    assert min(p.y for p in toile.cut) == pytest.approx(-400, abs=0.1)
    assert min(p.y for p in plain.cut) == pytest.approx(-440, abs=0.1)


def test_a_printer_is_put_right_and_remembered(tmp_path: Path) -> None:
    """A square read as 99 mm makes the next print larger by 100/99, for good."""
    place = tmp_path / "r.pdf"
    words = ("print", "straight-block", "--printer", "Attic", "-o", str(place))
    assert run(*words, "--read-across", "99mm", "--read-along", "100mm") == 0
    assert any(abs(length - 100 * 100 / 99) < 0.02 for length in strokes(place))
    assert run(*words) == 0
    assert any(abs(length - 100 * 100 / 99) < 0.02 for length in strokes(place))


def test_plots(tmp_path: Path) -> None:
    """A plotter file that begins and ends as HP-GL does."""
    place = tmp_path / "m.plt"
    assert run("plot", "mermaid", "--only", "front", "-o", str(place)) == 0
    text = place.read_bytes()
    assert text.startswith(b"IN;")
    assert b"PG;" in text[-20:]


@pytest.mark.parametrize(
    "words",
    [
        ("--paper", "b7"),
        ("--margin", "200mm"),
        ("--full-size", "--roll", "30cm"),
        ("--roll", "914mm"),
        ("--only", "sleeve"),
        ("--read-across", "80mm"),
        ("--overlap", "-1mm"),
        ("--overlap", "many"),
    ],
)
def test_what_cannot_be_printed_is_refused(
    words: tuple[str, ...], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """One sentence, exit 2, nothing written."""
    place = tmp_path / "x.pdf"
    assert run("print", "mermaid", *words, "-o", str(place)) == 2
    said = capsys.readouterr().err
    assert said.count("\n") == 1
    assert "Traceback" not in said
    assert list(tmp_path.glob("*.pdf")) == []
    assert list(tmp_path.glob(".*")) == []


@pytest.mark.parametrize("name", ["knife-pleat", "train"])
def test_a_print_spends_a_small_part_of_what_it_may(name: str) -> None:
    """Many pleats, all alike, are not all looked at for the roomiest place."""
    look = look_of(new_job(style(name)))
    job = PrintJob(look.report, "", "", Printing(), Manner())
    with bounded() as spent:
        blocks = job.blocks()
        job.pdf(blocks)
    assert blocks.sheets > 20
    assert spent.points < MOST["points"] / 4
