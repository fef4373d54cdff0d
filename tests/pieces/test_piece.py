"""A finished piece: edges, darts, notches, grain, what is drawn and said."""

from __future__ import annotations

import math
from dataclasses import FrozenInstanceError, replace
from itertools import pairwise

import pytest
import shapely
from outlines import polygon, skirt_front
from referee import body, xy

from skirtwright.geometry import Chain, Point, curve, shift, straight
from skirtwright.geometry.ring import area_of_points
from skirtwright.pieces.arrange import side_by_side
from skirtwright.pieces.drawn_things import DrawnLine
from skirtwright.pieces.marks.notches import APART, CLEAR, DEPTH, walked_to_dart
from skirtwright.pieces.outline.room import roomiest_place
from skirtwright.pieces.piece_drawing import drawn
from skirtwright.pieces.piece_making import make_piece
from skirtwright.pieces.spec import AllowanceRun, Grain, NotchSpec, PieceSpec
from skirtwright.pieces.wording.labels import cut_line, label_lines
from skirtwright.words import Manner

SPEC = PieceSpec(
    "front",
    "Front",
    "front",
    folds=("centre_front",),
    allowances={
        "waist": (AllowanceRun(None, 12),),
        "side": (AllowanceRun(210, 20), AllowanceRun(None, 15)),
        "hem": (AllowanceRun(None, 25),),
    },
    corners={("hem", "end"): "mirror"},
    notches=(NotchSpec("side", 219.0), NotchSpec("side", 700.0, 2)),
    inside=("hip",),
)


@pytest.fixture(scope="module")
def front():
    return make_piece(skirt_front(), SPEC)


def test_edges_carry_their_lengths_and_allowances(front):
    edges = {edge.name: edge for edge in front.edges}
    assert set(edges) == {"waist", "side", "hem", "centre_front"}
    assert edges["centre_front"].allowance == 0
    assert edges["centre_front"].length == pytest.approx(965)
    assert edges["side"].allowance == 15
    assert [width for width, _ in edges["side"].allowances] == [20, 15]
    assert edges["side"].allowances[0][1] == pytest.approx(210, abs=1e-6)
    assert edges["waist"].start == Point(0, 0)
    assert edges["waist"].end == Point(185, 15)
    assert front.problems == ()


def test_a_bracket_stands_15_mm_within_its_fold():
    (bracket,) = make_piece(skirt_front().moved(shift(Point(40, 300))), SPEC).brackets
    foot, low, high, top = (bracket.start, *(s.end for s in bracket.segments))
    assert foot.x == top.x == 40
    assert low.x == high.x == pytest.approx(55)
    # From 15 to 85 of a hundred of a fold that is 965 long.
    assert abs(foot.y - top.y) == pytest.approx(0.7 * 965)


def test_areas_against_shapely(front):
    assert front.stitch_area == pytest.approx(body(front.panel).area, rel=1e-6)
    assert front.cut_area == pytest.approx(shapely.Polygon(xy(front.cut)).area)
    assert front.cut_area > front.stitch_area


def test_dart_is_marked(front):
    (dart,) = front.darts
    assert dart.legs == (Point(80, 2), Point(94, 3))
    assert dart.intake == pytest.approx(math.hypot(14, 1))
    assert dart.drill.to(dart.tip) == pytest.approx(15)
    assert Chain((dart.fold,)).nearest(dart.drill)[0] == pytest.approx(15)
    assert dart.fold.end == Point(87, 2.5)


def test_short_darts_are_drilled_half_way():
    panel = skirt_front()
    short = replace(panel, darts=(replace(panel.darts[0], tip=Point(87, -17.5)),))
    (dart,) = make_piece(short, SPEC).darts
    assert dart.drill.to(dart.tip) == pytest.approx(10)


def test_snips_are_square_and_clear_of_the_stitching(front):
    line = shapely.LinearRing(xy(front.cut))
    seam = shapely.LineString(xy(front.panel.edge("side").chain.flattened(0.001)))
    for notch in front.notches[:2]:
        assert len(notch.snips) == notch.count
        assert notch.clear == pytest.approx(15 - DEPTH, abs=0.03)
        for snip in notch.snips:
            assert snip.length == pytest.approx(DEPTH)
            assert line.distance(shapely.Point(snip.start.x, snip.start.y)) < 1e-9
            gap = seam.distance(shapely.Point(snip.end.x, snip.end.y))
            assert gap == pytest.approx(11, abs=0.03)
    first, second = front.notches[1].snips
    assert first.start.to(second.start) == pytest.approx(APART, abs=0.01)


def test_notch_lies_at_its_walked_distance(front):
    chain = front.panel.edge("side").chain
    (snip,) = front.notches[0].snips
    distance, gap = chain.nearest(snip.start)
    assert distance == pytest.approx(219, abs=0.01)
    assert gap == pytest.approx(15, abs=0.03)


def test_each_dart_leg_has_a_snip_in_the_line_of_the_leg(front):
    legs = [notch for notch in front.notches if notch.dart]
    assert [notch.edge for notch in legs] == ["waist", "waist"]
    walked = walked_to_dart(front.panel, front.panel.darts[0])
    assert [notch.distance for notch in legs] == [walked, walked]
    for notch, leg in zip(legs, front.darts[0].legs, strict=True):
        way = (leg - front.darts[0].tip).unit()
        (snip,) = notch.snips
        assert abs(way.cross(snip.start - leg)) < 1e-9
        assert snip.start_direction.dot(way) == pytest.approx(-1)
        assert notch.clear >= CLEAR


@pytest.mark.parametrize(
    ("width", "depth", "inwards"),
    [
        (15, 4, True),
        (7, 4, True),
        (6, 3, True),
        (4, 1, True),
        (3, 4, False),
        (0, 4, False),
    ],
)
def test_narrow_allowances_have_shallow_snips_then_tabs(width, depth, inwards):
    spec = replace(
        SPEC,
        allowances={"hem": (AllowanceRun(None, width),)},
        notches=(NotchSpec("hem", 100),),
    )
    notch = make_piece(skirt_front(), spec).notches[0]
    (snip,) = notch.snips
    out = skirt_front().edge("hem").chain.direction_at(100).right()
    assert snip.length == pytest.approx(depth, abs=0.03)
    assert (snip.start_direction.dot(out) < 0) == inwards


def test_what_is_no_longer_there_is_said_and_passed_over():
    spec = replace(
        SPEC,
        allowances={**SPEC.allowances, "yoke": (AllowanceRun(None, 10),)},
        notches=(NotchSpec("flap", 10), NotchSpec("hem", 5000)),
        inside=("hip", "knee"),
    )
    piece = make_piece(skirt_front(), spec)
    said = [(p.code, p.where, p.severity) for p in piece.problems]
    assert said == [
        ("pieces.edge_gone", "front.yoke", "note"),
        ("pieces.edge_gone", "front.flap", "note"),
        ("pieces.edge_gone", "front.knee", "note"),
        ("pieces.notch_off_edge", "front.hem", "caution"),
    ]
    assert piece.spec == spec
    assert [name for name, _ in piece.inside] == ["hip"]


def test_a_bent_fold_is_wrong():
    bent = curve([Point(0, 0), Point(3, -300), Point(3, -600), Point(0, -965)])
    panel = skirt_front().with_chain("centre_front", bent)
    (problem,) = make_piece(panel, SPEC).problems
    assert (problem.code, problem.severity) == ("pieces.fold_not_straight", "wrong")


@pytest.mark.parametrize(
    ("grain", "angle"),
    [
        (Grain(), 90),
        (Grain(45), 45),
        (Grain(-90), 90),
        (Grain(along="centre_front"), 90),
        (Grain(0, "hem"), math.degrees(math.atan2(35, 334))),
    ],
)
def test_grain(grain, angle):
    piece = make_piece(skirt_front(), replace(SPEC, grain=grain))
    assert piece.grain_deg == pytest.approx(angle)
    arrow = shapely.LineString(xy([piece.grain.start, piece.grain.end]))
    assert body(piece.panel).contains(arrow)
    assert piece.grain.length > 60


def test_roomiest_place_of_a_rectangle_and_round_a_line():
    ring = [Point(0, 0), Point(100, 0), Point(100, 300), Point(0, 300)]
    place, room = roomiest_place(ring)
    assert 46 <= room <= 50
    assert shapely.Polygon(xy(ring)).contains(shapely.Point(place.x, place.y))
    split = straight(Point(0, 200), Point(100, 200))
    place, room = roomiest_place(ring, [split])
    assert place.y < 160
    assert room >= 46


def test_a_piece_is_frozen(front):
    with pytest.raises(FrozenInstanceError):
        front.cut = ()


def test_everything_is_drawn(front):
    things = drawn(front, Manner())
    kinds = {thing.kind for thing in things}
    assert kinds == {
        "stitching",
        "cutting",
        "fold",
        "grain",
        "notch",
        "drill",
        "dart",
        "inside",
        "lengthen",
        "label",
    }
    lines = [thing for thing in things if isinstance(thing, DrawnLine)]
    for thing in lines:
        for one, two in pairwise(thing.chain.segments):
            assert one.end.is_at(two.start)
        if thing.closed:
            assert thing.chain.start.is_at(thing.chain.end)
    (cut,) = [thing for thing in lines if thing.kind == "cutting"]
    assert area_of_points([s.start for s in cut.chain.segments]) == front.cut_area
    stitched = [thing.chain for thing in lines if thing.kind == "stitching"]
    assert sum(chain.length for chain in stitched) == pytest.approx(
        sum(edge.length for edge in front.edges) - 965
    )


@pytest.mark.parametrize(
    ("changes", "line"),
    [
        ({}, "Cut 1 on the fold, main cloth"),
        ({"folds": (), "count": 2, "mirrored": True}, "Cut 1 pair, main cloth"),
        ({"folds": (), "count": 4, "mirrored": True}, "Cut 2 pairs, main cloth"),
        ({"folds": (), "count": 3, "material": "lining"}, "Cut 3, lining"),
        ({"folds": (), "material": "net"}, "Cut 1, net"),
    ],
)
def test_cut_line(changes, line):
    assert cut_line(make_piece(skirt_front(), replace(SPEC, **changes))) == line


def test_label(front):
    assert label_lines(front) == ("Front", "Cut 1 on the fold, main cloth")
    lines = label_lines(front, "Ridley skirt", "Maud Ferrier", "3 May 2025")
    assert lines == (
        "Front",
        "Ridley skirt",
        "Maud Ferrier, 3 May 2025",
        "Cut 1 on the fold, main cloth",
    )


def test_pieces_side_by_side():
    cut = make_piece(skirt_front(), SPEC).cut
    rings = [[p + Point(away, 9) for p in cut] for away in (-70, 0, 40)]
    moves = side_by_side(rings, 30)
    boxes = [
        shapely.box(*shapely.Polygon(xy([p + move for p in ring])).bounds)
        for ring, move in zip(rings, moves, strict=True)
    ]
    assert boxes[0].bounds[0] == pytest.approx(0)
    assert boxes[0].bounds[3] == pytest.approx(0)
    assert boxes[0].distance(boxes[1]) == pytest.approx(30)
    assert boxes[1].distance(boxes[2]) == pytest.approx(30)


def test_drawing_a_piece_without_darts_or_folds():
    plain = make_piece(
        polygon((0, 0), (400, 0), (400, 60), (0, 60)),
        PieceSpec("band", "Band", "band", grain=Grain(0)),
    )
    kinds = {thing.kind for thing in drawn(plain)}
    assert kinds == {"cutting", "stitching", "grain"}
    assert isinstance(plain.stitching, Chain)
