"""Seams walked, and marks put on both their sides."""

from __future__ import annotations

import pytest
from outlines import polygon, skirt_front

from skirtwright.draft.runs import Run
from skirtwright.pieces.spec import NotchSpec
from skirtwright.pieces.walked_seams import (
    Seam,
    balance_marks,
    joints,
    length_of,
    matched,
    place_on,
    walk,
)
from skirtwright.problems import NotFound

PANELS = {
    "front": skirt_front(),
    "one": polygon((0, 0), (100, 0), (100, 50), (0, 50)),
    "two": polygon((0, 0), (60, 0), (60, 40), (0, 40)),
    "band": polygon((0, 0), (155, 0), (155, 30), (0, 30)),
}
JOIN = Seam(
    "join", ((Run.of("one.a"), Run.of("two.a")), (Run.of("-band.a"),)), ease=3.0
)


def test_difference_is_what_ease_does_not_explain():
    walked = walk(JOIN, PANELS)
    assert walked.lengths == (160, 155)
    assert walked.difference == pytest.approx(2)


def test_darts_are_walked_shut():
    """170.85...: the two parts of the waist without the cap between the legs."""
    waist = PANELS["front"].edge("waist").chain
    parts = [s.length for s in waist.segments if not s.fold]
    assert length_of((Run("front", "waist"),), PANELS) == pytest.approx(sum(parts))
    assert waist.paper_length > sum(parts) + 14


@pytest.mark.parametrize(
    ("distance", "place"),
    [
        (0, ("one", "a", 0)),
        (100, ("one", "a", 100)),
        (130, ("two", "a", 30)),
        (160, ("two", "a", 60)),
        (161, None),
    ],
)
def test_places_on_a_run(distance, place):
    found = place_on(JOIN.sides[0], PANELS, distance)
    assert found == place


def test_marks_lie_at_equal_walked_distances():
    """The band is walked backwards: 130 from its far end."""
    plain = Seam("join", JOIN.sides)
    assert matched(plain, PANELS, 130, 2) == (
        ("two", NotchSpec("a", 30, 2)),
        ("band", NotchSpec("a", 25, 2)),
    )


def test_marks_of_an_eased_seam_share_the_ease():
    """130 of 160 is 125.9375 of the band's 155, which is walked backwards."""
    assert matched(JOIN, PANELS, 130, 2) == (
        ("two", NotchSpec("a", 30, 2)),
        ("band", NotchSpec("a", 29.0625, 2)),
    )


def test_a_side_has_no_mark_where_two_of_its_pieces_meet():
    plain = Seam("join", JOIN.sides)
    assert joints(plain.sides[0], PANELS) == (100,)
    assert matched(plain, PANELS, 100) == (("band", NotchSpec("a", 55)),)
    # Back along the same edge it crosses a fold, which is marked.
    folded = Seam("join", ((Run.of("-one.a"), Run.of("one.a")), (Run.of("band.a"),)))
    assert joints(folded.sides[0], PANELS) == ()
    assert matched(folded, PANELS, 100)[0] == ("one", NotchSpec("a", 0.0))


def test_two_sides_of_one_edge_have_one_mark():
    seam = Seam("centre_back", ((Run.of("one.b"),), (Run.of("one.b"),)))
    assert matched(seam, PANELS, 20) == (("one", NotchSpec("b", 20)),)
    assert walk(seam, PANELS).difference == 0


def test_balance_marks_fill_long_gaps():
    assert balance_marks(960, [220], 350) == pytest.approx([466.667, 713.333], abs=1e-3)
    assert balance_marks(350, [], 350) == []
    assert balance_marks(351, [], 350) == pytest.approx([175.5])


def test_names_that_are_not_there():
    with pytest.raises(NotFound) as caught:
        length_of((Run("cuff", "a"),), PANELS)
    assert caught.value.problem.code == "pieces.no_piece"
    with pytest.raises(NotFound):
        length_of((Run("one", "z"),), PANELS)


def test_a_mark_at_the_end_is_put_on_a_side_a_hair_shorter():
    """Sides of 100 and 99.99 are sewn together; their ends meet."""
    panels = {**PANELS, "near": polygon((0, 0), (99.99, 0), (99.99, 50), (0, 50))}
    seam = Seam("near", ((Run.of("one.a"),), (Run.of("near.a"),)))
    assert matched(seam, panels, 100) == (
        ("one", NotchSpec("a", 100)),
        ("near", NotchSpec("a", 99.99)),
    )
    short = Seam("short", ((Run.of("one.a"),), (Run.of("two.a"),)))
    assert matched(short, panels, 100) == (("one", NotchSpec("a", 100)),)
