"""The verb `lay`: what it says, what it writes, what it refuses."""

from __future__ import annotations

import json
import math
import re
from pathlib import Path

import pymupdf
import pytest
from shapely import Polygon, affinity

from command_line import run
from drafting import look_of
from skirtwright.cli import lay_verb
from skirtwright.job import file, on_hand
from skirtwright.measures.units import read_length, show_length


@pytest.fixture(autouse=True)
def _in_a_folder(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    # The same code as she runs, with fewer tries.
    monkeypatch.setattr(lay_verb, "TRIES", 60)


def test_the_report_says_where_each_piece_lies(capsys, tmp_path):
    """Put there from the pieces and the figures alone, as others read them."""
    code, out, err = run(
        capsys, "lay", "mermaid", "--cloth-width", "150cm", "--report", "f.json"
    )
    assert (code, err) == (0, "")
    assert "Main cloth, 150 cm wide, folded lengthwise" in out
    report = json.loads((tmp_path / "f.json").read_text("utf-8"))
    rings = {p["name"]: p["cut_outline"] for p in report["pieces"]}
    assert [lay["material"] for lay in report["lay"]] == [
        "shell",
        "lining",
        "interfacing",
    ]
    shell = report["lay"][0]
    assert (shell["cloth_width"], shell["folded"]) == (1500.0, True)
    covered = 0.0
    for placed in shell["placed"]:
        ring = Polygon(rings[placed["piece"]])
        if placed["mirrored"]:
            ring = affinity.scale(ring, -1, 1, origin=(0, 0))
        ring = affinity.rotate(ring, placed["rotation_deg"], origin=(0, 0))
        ring = affinity.translate(ring, placed["x"], placed["y"])
        assert ring.symmetric_difference(Polygon(placed["outline"])).area < 0.01
        assert ring.bounds[1] > -0.01
        assert ring.bounds[3] < shell["length"] + 0.01
        assert ring.bounds[0] > shell["usable"][0] - 0.01
        assert ring.bounds[2] < shell["usable"][1] + 0.01
        covered += ring.area * (2 if placed["on_fold"] else placed["gives"])
    share = covered / (1500.0 * shell["length"])
    assert shell["efficiency"] == pytest.approx(share, abs=1e-6)


def test_the_lay_on_paper(capsys, tmp_path):
    code, out, _ = run(
        capsys, "lay", "straight", "--cloth-width", "140cm", "-o", "l.pdf"
    )
    assert code == 0
    assert "l.pdf" in out
    with pymupdf.open(tmp_path / "l.pdf") as read:
        words = [page.get_text() for page in read]
        # The cloth takes most of its page.
        for page in read:
            drawn = [drawing["rect"] for drawing in page.get_drawings()]
            wide = max(box.x1 for box in drawn) - min(box.x0 for box in drawn)
            high = max(box.y1 for box in drawn) - min(box.y0 for box in drawn)
            assert wide * high > 0.35 * page.rect.get_area()
    assert len(words) == 3
    assert "Main cloth: Straight skirt" in words[0]
    for told in ("1. Front", "On the fold, 0 cm from the end.", "70 cm across"):
        assert told in words[0]
    assert "Lining" in words[1]
    assert "Interfacing" in words[2]


def test_cloth_on_hand_too_short_is_a_finding(capsys):
    code, out, _ = run(capsys, "lay", "straight", "--on-hand", "60cm")
    assert code == 1
    assert "18.4 cm too little" in out
    code, out, _ = run(capsys, "lay", "straight", "--on-hand", "1m")
    assert code == 0
    assert "21.6 cm is left over" in out


def test_inches_are_bought_by_the_eighth_of_a_yard(capsys):
    code, out, _ = run(
        capsys, "lay", "straight-block", "--unit", "in", "--cloth-width", "60"
    )
    assert code == 0
    assert "60 in wide, folded lengthwise: the lay is 25 3/4 in long; buy 3/4 yd" in out
    assert "36 in wide" in out


@pytest.mark.parametrize(
    ("options", "said"),
    [
        (["--cloth-width", "0"], "is no cloth to cut from"),
        (["--cloth-width", "2cm"], "leave nothing of cloth"),
        (["--on-hand", "0"], "is nothing to cut from"),
        (["--cloth-width", "wide"], "--cloth-width"),
        (["--folded", "--open"], "--open"),
        (["-o", "l.svg"], "l.svg"),
        (["-o", "l.skirt"], "--join or --largest"),
        (["--join", "nope=5"], "did you mean"),
        (["--join", "front=-5"], "a join at -5 cm from its fold"),
        (["--join", "front=1000000"], "too narrow to sew"),
    ],
)
def test_bad_input_is_one_sentence_and_no_file(capsys, tmp_path, options, said):
    code, out, err = run(capsys, "lay", "straight", *options)
    assert (code, out) == (2, "")
    assert said in err
    assert err.count("\n") == 1
    assert "mean ?" not in err
    assert list(tmp_path.iterdir()) == []


def test_the_table_of_widths_says_of_her_width_what_the_lay_takes(capsys, monkeypatch):
    """Of gores, a search of a tenth of the tries comes to a fifth more cloth."""
    monkeypatch.setattr(lay_verb, "TRIES", 10)
    _, out, _ = run(capsys, "lay", "gored", "--cloth-width", "150")
    buy = re.search(r"Main cloth, 150 cm .* buy (\d+ cm)", out)[1]
    assert f"  150 cm wide: {buy}" in out


def test_too_wide_a_piece_is_a_finding_that_says_what_would_do(capsys):
    code, out, _ = run(capsys, "lay", "straight", "--cloth-width", "40cm")
    assert code == 1
    assert "Front takes 55 cm across the grain" in out
    assert "58 cm wide or wider would do" in out


def test_the_order_opened_as_far_as_the_cloth_gives_is_written(capsys, monkeypatch):
    monkeypatch.setattr(on_hand, "TRIES", 60)
    monkeypatch.setattr(on_hand, "QUICK", 20)
    asked = ["lay", "straight-block", "--unit", "in", "--cloth-width", "45"]
    code, out, _ = run(
        capsys, *asked, "--on-hand", "1yd", "--largest", "length", "-o", "n.skirt"
    )
    assert code == 0
    said = re.search("The cloth gives Length (.*) in", out)[1]
    job = file.load(Path("n.skirt"))
    cloth = job.cloth("shell")
    assert (cloth.width, cloth.on_hand) == pytest.approx((45 * 25.4, 914.4))
    state = look_of(job).worked.stated.amounts["length"]
    assert show_length(state.value, "in", 8) == said
    # The file by itself: its pieces go on the cloth that stands in it.
    code, out, _ = run(capsys, "lay", "n.skirt")
    assert code == 0
    assert "is left over" in out


def test_where_nothing_goes_no_order_is_written(capsys, tmp_path, monkeypatch):
    monkeypatch.setattr(on_hand, "TRIES", 20)
    monkeypatch.setattr(on_hand, "QUICK", 10)
    asked = ["--on-hand", "20cm", "--largest", "hip_ease", "-o", "n.skirt"]
    code, out, err = run(capsys, "lay", "straight-block", *asked)
    assert (code, out) == (2, "")
    assert "so no order is written" in err
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("inches", [False, True])
def test_what_is_told_adds_up(capsys, inches):
    """What is on hand, less what is taken, is what is left, as it is written."""
    asked = ["--unit", "in"] if inches else []
    for length in ("100cm", "99.96cm", "39 5/16in"):
        _, out, _ = run(capsys, "lay", "straight-block", "--on-hand", length, *asked)
        whole, left = re.search(r"Of (.*?) on hand, (.*?) is left over", out).groups()
        needs = re.search("the lay is (.*?) long", out)[1]
        told = [read_length(each) for each in (whole, needs, left)]
        assert told[0] - told[1] == pytest.approx(told[2])


def test_the_report_says_what_is_bought_and_what_is_needed(capsys, tmp_path):
    run(capsys, "lay", "straight-block", "--report", "f.json")
    lay = json.loads((tmp_path / "f.json").read_text("utf-8"))["lay"][0]
    assert lay["bought"] == 100 * math.ceil(lay["needed"] / 100)
    assert lay["needed"] == lay["length"]
