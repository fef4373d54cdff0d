"""Fresh pictures of corners, caps and marks against the kept ones.

Each kept picture was looked at; what is right about it stands in its first line.
"""

from __future__ import annotations

import pytest
from picture import FOLDER, read, svg_of
from picture_cases import PICTURES

WITHIN = 0.1
"""How far a line may lie from the kept one, mm: flattening is 0.05."""


@pytest.mark.parametrize("name", PICTURES)
def test_picture(name):
    kept, kept_words = read((FOLDER / f"{name}.svg").read_text(encoding="utf-8"))
    fresh, words = read(svg_of(PICTURES[name]()))
    assert fresh.keys() == kept.keys()
    assert words == kept_words
    for kind, lines in fresh.items():
        assert lines.hausdorff_distance(kept[kind]) < WITHIN, kind
        assert lines.length == pytest.approx(kept[kind].length, abs=1.0), kind


def test_no_picture_is_kept_that_is_no_longer_drawn():
    assert {file.stem for file in FOLDER.glob("*.svg")} == PICTURES.keys()


def test_each_says_what_is_right_about_it():
    for name, make in PICTURES.items():
        kept = (FOLDER / f"{name}.svg").read_text(encoding="utf-8")
        assert kept.startswith(f"<!-- {make().right} -->")
