"""Caps of darts as they come from whole drafts: folded, they lie on the waist."""

from __future__ import annotations

import pytest
import shapely
from picture_skirts import BODY, one_piece, shut_over_leg
from referee import xy

from skirtwright.geometry import reflect
from skirtwright.geometry.tolerance import FLAT


def must_lie_on_the_waist(piece):
    """The half of each cap nearer the centre, folded over its leg."""
    ring = shapely.LinearRing(xy(piece.cut))
    for number, dart in enumerate(piece.darts):
        folded = shut_over_leg(piece, number)
        assert len(folded) >= 2
        for place in folded:
            gap = ring.distance(shapely.Point(place.x, place.y))
            assert gap <= 2 * FLAT, (dart.name, gap)


@pytest.mark.parametrize("name", ["front", "back"])
def test_caps_of_real_women(real_women, name):
    for woman in real_women[::20]:
        body = {
            "waist": woman.waist,
            "hip": woman.hip,
            "waist_to_hip": 0.122 * woman.height,
            "waist_to_knee": 0.35 * woman.height,
        }
        must_lie_on_the_waist(one_piece(name, "straight-block", body))


@pytest.mark.parametrize("legs", ["hollow", "full"])
@pytest.mark.parametrize("name", ["front", "back"])
def test_caps_of_curved_darts(name, legs):
    piece = one_piece(name, "straight-block", BODY, **{f"dart_legs_{name}": legs})
    must_lie_on_the_waist(piece)
    straight = one_piece(name, "straight-block", BODY)
    assert piece.cut == straight.cut
    # The legs themselves are curved: 3 mm off the straight half way.
    dart, plain = piece.darts[0], straight.darts[0]
    assert dart.stitching.length > plain.stitching.length


@pytest.mark.parametrize("style", ["straight", "mermaid", "a-line"])
@pytest.mark.parametrize("name", ["front", "back"])
def test_the_side_allowance_pressed_open_reaches_the_waist(style, name):
    """Its end is the waist's cutting line mirrored over the seam."""
    piece = one_piece(name, style, BODY)
    side, waist = piece.panel.edge("side").chain, piece.panel.edge("waist").chain
    corner, down = side.start, side.start_direction
    over = reflect(corner, corner + down)
    out = down.left() if piece.panel.edge("side").forward else down.right()
    if out.x < 0:
        out = -out
    near = [p for p in piece.cut if p.to(corner) < 60 and (p - corner).dot(out) > 1]
    tip = min(near, key=lambda p: (p - corner).dot(down))
    assert waist.nearest(over(tip))[1] == pytest.approx(12, abs=0.1)


def test_centre_back_allowance_turned_under_reaches_the_waist():
    piece = one_piece("back", "mermaid", BODY)
    centre, waist = piece.panel.edge("centre").chain, piece.panel.edge("waist").chain
    corner, down = centre.start, centre.start_direction
    over = reflect(corner, corner + down)
    near = [p for p in piece.cut if p.to(corner) < 60 and p.x < corner.x - 5]
    tip = min(near, key=lambda p: (p - corner).dot(down))
    assert waist.nearest(over(tip))[1] == pytest.approx(12, abs=0.1)
    # Three cm below the zip the allowance slants to what the seam has below.
    runs = {e.name: e.allowances for e in piece.edges}["centre"]
    assert [round(width, 3) for width, _ in runs] == [25, 20]
    assert runs[0][1] == pytest.approx(_zip_end(piece) + 30, abs=1)


def _zip_end(piece):
    """The two snips of the centre back seam nearest to the waist: the zip's end."""
    marks = [n for n in piece.notches if n.edge == "centre" and n.count == 2]
    return min(mark.distance for mark in marks)
