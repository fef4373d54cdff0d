"""Edges walked one way: read and written in one place."""

import json

import pytest

from skirtwright.draft import styles
from skirtwright.draft.draft import Seam
from skirtwright.draft.runs import Run


@pytest.mark.parametrize(
    ("text", "run"),
    [
        ("front.side", Run("front", "side")),
        ("-front.side", Run("front", "side", forward=False)),
        ("-tier[2].cloth.hem", Run("tier[2].cloth", "hem", forward=False)),
        ("-side", Run("", "side", forward=False)),
    ],
)
def test_what_is_read_is_written_again(text, run):
    assert Run.of(text) == run
    assert str(run) == text


def test_an_edge_walked_backwards_is_measured_from_its_other_end():
    assert Run.of("front.side").own_distance(30, 100) == 30
    assert Run.of("-front.side").own_distance(30, 100) == 70


def test_a_seam_keeps_its_text_in_a_file():
    data = {"name": "side", "sides": [["-front.side", "front.hem"], ["back.side"]]}
    seam = Seam.model_validate(data)
    assert seam.sides[0][0] == Run("front", "side", forward=False)
    assert json.loads(seam.model_dump_json(exclude_unset=True)) == data
    assert seam.model_dump(exclude_unset=True)["sides"] == (
        ("-front.side", "front.hem"),
        ("back.side",),
    )


def test_a_style_of_the_shelf_has_its_runs_read():
    for seam in styles.style("mermaid").seams:
        assert all(isinstance(run, Run) for side in seam.sides for run in side)
