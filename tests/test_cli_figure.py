"""The verb `figure`: what it writes, what it says, what it refuses."""

from __future__ import annotations

import io
import json
from xml.etree import ElementTree as ET

import pytest
from PIL import Image

from command_line import run

pytestmark = pytest.mark.usefixtures("elsewhere", "drafted_once")


def test_a_picture_is_written_and_said(capsys, elsewhere):
    code, out, err = run(
        capsys, "figure", "straight", "-o", "f.svg", "--report", "f.json"
    )
    assert (code, err) == (0, "")
    assert "f.svg" in out
    drawn = ET.parse(elsewhere / "f.svg").getroot()
    assert {"floor", "body", "skirt", "outline"} <= {
        each.get("class") for each in drawn if each.get("class")
    }
    read = json.loads((elsewhere / "f.json").read_text("utf-8"))
    assert len(read["figure"]["sections"]) == 9


def test_the_sides_differ(capsys, elsewhere):
    drawn = []
    for view in ("front", "side", "back"):
        code, _, _ = run(
            capsys, "figure", "mermaid", "--view", view, "-o", f"{view}.svg"
        )
        assert code == 0
        root = ET.parse(elsewhere / f"{view}.svg").getroot()
        kinds = [each.get("class") for each in root if each.get("class")]
        drawn.append(kinds)
    front, side, back = drawn
    assert front.count("dart") == 2
    assert back.count("dart") == 4
    assert "seam" in side


def test_a_png_shows_cloth_and_body(capsys, elsewhere):
    assert run(capsys, "figure", "straight", "-o", "f.png")[0] == 0
    data = (elsewhere / "f.png").read_bytes()
    image = Image.open(io.BytesIO(data))
    assert image.width < image.height
    colours = {colour for _, colour in image.getcolors(1 << 24)}
    assert {(0xDB, 0xE5, 0xEF), (0xE0, 0xCD, 0xB9)} <= colours


def test_what_is_guessed_and_what_is_tight_is_said(capsys):
    four = ("waist=72cm", "hip=98cm", "waist_to_hip=20cm", "waist_to_knee=58cm")
    given = [part for each in four for part in ("--measure", each)]
    _, out, _ = run(capsys, "figure", "straight", *given, "-o", "f.svg")
    assert "Upper hip, Thigh, Knee, Calf" in out
    assert "tighter" not in out
    more = ("--measure", "top_hip=105cm")
    _, out, _ = run(capsys, "figure", "straight", *given, *more, "-o", "f.svg")
    assert "tighter than she is" in out


@pytest.mark.parametrize(
    ("arguments", "word"),
    [
        (("straight", "-o", "f.pdf"), ".svg"),
        (("straight", "--view", "above", "-o", "f.svg"), "front"),
        (("straight",), "-o"),
    ],
)
def test_what_it_does_not_take_is_said(capsys, elsewhere, arguments, word):
    code, _, err = run(capsys, "figure", *arguments)
    assert code == 2
    assert word in err
    assert not list(elsewhere.iterdir())
