"""Which allowance is turned first, read from the seams (common practice, no source)."""

from __future__ import annotations

import pytest
from outlines import polygon

from skirtwright.draft.draft import PieceOf
from skirtwright.draft.draft import Seam as SeamOf
from skirtwright.draft.runs import Run
from skirtwright.pieces.outline.turning import corners_of, sewing_order
from skirtwright.pieces.walked_seams import Seam

NAMES = ("hem", "side", "waist", "centre")


def square(names=NAMES):
    return polygon((0, 0), (200, 0), (200, 300), (0, 300), names=names)


def piece(name, **more):
    return PieceOf(name=name, title=name, panel=name, **more)


def skirt(**pressed):
    """A yoke over a skirt, front and back, on a band."""
    upper = ("line", "side", "waist", "centre")
    lower = ("hem", "side", "line", "centre")
    panels = {
        "front_yoke": square(upper),
        "back_yoke": square(upper),
        "front": square(lower),
        "back": square(lower),
        "band": square(("foot", "right", "top", "left")),
    }

    def seam(name, first, second):
        return Seam(name, (tuple(map(Run.of, first)), tuple(map(Run.of, second))))

    seams = [
        # Written in no order: the runs say what comes first.
        seam("band", ["-back_yoke.waist", "front_yoke.waist"], ["band.foot"]),
        seam(
            "side",
            ["-front_yoke.side", "-front.side"],
            ["-back_yoke.side", "-back.side"],
        ),
        seam("front_yoke", ["front.line"], ["front_yoke.line"]),
        seam("back_yoke", ["back.line"], ["back_yoke.line"]),
    ]
    written = [
        SeamOf(
            name=s.name, sides=(("a.b",), ("c.d",)), pressed=pressed.get(s.name, "open")
        )
        for s in seams
    ]
    return panels, sewing_order(seams, written, panels)


def test_a_seam_over_a_meeting_of_pieces_comes_after_the_seam_there():
    _, order = skirt()
    turns = [
        order.turn_of("front", "line"),
        order.turn_of("front", "side"),
        order.turn_of("front_yoke", "waist"),
    ]
    assert turns == sorted(set(turns))
    assert order.turn_of("band", "right") > order.turn_of("band", "foot")


def test_what_is_sewn_first_mirrors_the_piece_where_it_is_crossed():
    panels, order = skirt()
    yoke = corners_of(
        piece("front_yoke", folds=("centre",)), panels["front_yoke"], order
    )
    assert yoke == {("line", "end"): "mirror", ("side", "end"): "mirror"}
    front = piece("front", folds=("centre",), turned_up=("hem",))
    # The yoke seam runs along the skirt's upper edge, walked backwards round it.
    assert corners_of(front, panels["front"], order) == {
        ("hem", "end"): "mirror",
        ("line", "start"): "mirror",
    }


def test_a_seam_pressed_to_one_side_mirrors_only_there():
    """Pressed up onto the yoke: its end there is folded, the skirt's own squared."""
    panels, order = skirt(front_yoke="second")
    yoke = corners_of(
        piece("front_yoke", folds=("centre",)), panels["front_yoke"], order
    )
    assert yoke["line", "end"] == "mirror"
    front = piece("front", folds=("centre",), turned_up=("hem",))
    assert corners_of(front, panels["front"], order)["line", "start"] == "square"


def test_two_turned_edges_are_mitred_and_data_comes_last():
    panels, order = skirt()
    wrap = piece("front", turned_up=("hem", "centre"))
    found = corners_of(wrap, panels["front"], order)
    assert "mitre" in {found.get(("hem", "start")), found.get(("centre", "end"))}
    stated = piece("front", folds=("centre",), corners={"hem end": "square"})
    assert corners_of(stated, panels["front"], order)["hem", "end"] == "square"


@pytest.mark.parametrize("edge", ["waist", "side"])
def test_a_waist_without_joins_is_still_sewn_after_the_seams(edge):
    panels = {"skirt": square(), "band": square()}
    seams = [
        Seam("centre", ((Run.of("skirt.side"),), (Run.of("skirt.centre"),))),
        Seam("band", ((Run.of("skirt.waist"),), (Run.of("band.hem"),))),
    ]
    order = sewing_order(seams, (), panels, {("skirt", "waist")})
    assert order.turn_of("skirt", edge) == (edge == "waist")
