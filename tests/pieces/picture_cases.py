"""The cases that pictures are kept of: corners, caps and marks."""

from __future__ import annotations

import shapely
from outlines import polygon
from picture import Picture
from picture_skirts import darts_curved, darts_one, darts_two, darts_wide, legend

from skirtwright.draft.shapes.panel import panel_of
from skirtwright.geometry import Point, curve, heading, join, reflect, straight
from skirtwright.geometry.arc import arc
from skirtwright.pieces.piece_making import make_piece
from skirtwright.pieces.spec import AllowanceRun, NotchSpec, PieceSpec


def runs(widths):
    return {
        name: width if isinstance(width, tuple) else (AllowanceRun(None, width),)
        for name, width in widths.items()
    }


def piece_of(panel, widths, corners=None, **more):
    spec = PieceSpec(
        "piece",
        "Piece",
        "piece",
        allowances=runs(widths),
        corners=corners or {},
        **more,
    )
    return make_piece(panel, spec)


def over(piece, fold, near, reach=140.0):
    """The cutting line beyond a fold, folded over it, near a place."""
    first, second = fold
    out = (second - first).right()
    motion = reflect(first, second)
    ring = [*piece.cut, piece.cut[0]]
    area = shapely.Polygon([(p.x, p.y) for p in ring])
    far = (second - first).unit() * 2000
    wide = out.unit() * 2000
    corners = [first - far, first + far, first + far + wide, first - far + wide]
    beyond = area.intersection(shapely.Polygon([(p.x, p.y) for p in corners]))
    circle = shapely.Point(near.x, near.y).buffer(reach)
    lines = beyond.boundary.intersection(circle)
    return tuple(
        tuple(motion(Point(x, y)) for x, y in line.coords)
        for line in getattr(lines, "geoms", [lines])
        if line.geom_type == "LineString"
    )


def leaning(inner_deg, hem_deg=0.0):
    """A side seam that meets a hem at the origin with an angle inside."""
    up = heading(180 - inner_deg + hem_deg) * 160
    left = heading(180 + hem_deg) * 160
    top = straight(Point(left.x, up.y), up)
    return panel_of(
        [
            ("hem", straight(left, Point(0, 0))),
            ("side", straight(up, Point(0, 0))),
            ("waist", top),
            ("centre", straight(Point(left.x, up.y), left)),
        ]
    )


def hem(inner_deg):
    panel = leaning(inner_deg)
    piece = piece_of(panel, {"hem": 40, "side": 15}, {("hem", "end"): "mirror"})
    fold = (Point(-100, 0), Point(0, 0))
    return piece, over(piece, fold, Point(0, 0), 90)


def hem_flared():
    piece, folded = hem(72)
    return Picture(
        (piece,),
        (-90, -50, 40, 70),
        "The skirt flares: below the hem line the allowance grows narrower, so that "
        "turned up (green) its end lies on the side's cutting line.",
        folded,
    )


def hem_tapered():
    piece, folded = hem(104)
    return Picture(
        (piece,),
        (-90, -50, 60, 70),
        "The skirt narrows to the hem: the hem's end runs out, and lies on the side's "
        "cutting line when it is turned up (green).",
        folded,
    )


def zip_slant():
    lean = [Point(0, 0), Point(16, 240)]
    panel = panel_of(
        [
            ("centre", straight(lean[1], lean[0])),
            ("hem", straight(lean[0], Point(160, 0))),
            ("side", straight(Point(160, 0), Point(160, 262))),
            (
                "waist",
                curve([lean[1], Point(60, 240), Point(110, 246), Point(160, 262)]),
            ),
        ]
    )
    widths = {
        "waist": 12,
        "centre": (AllowanceRun(130, 25), AllowanceRun(None, 15)),
    }
    piece = piece_of(panel, widths, {("centre", "start"): "mirror"})
    return Picture(
        (piece,),
        (-40, 80, 90, 275),
        "Folded under along the leaning centre back (green) the zip's allowance ends"
        " on the waist's cutting line; 30 below the zip it slants by 45 degrees to "
        "15.",
        over(piece, (lean[1], lean[0]), Point(16, 240), 60),
    )


def waist_at_side():
    side = curve([Point(160, 0), Point(160, 60), Point(140, 120), Point(112, 170)])
    panel = panel_of(
        [
            ("waist", curve([Point(0, 150), Point(50, 150), Point(85, 156), side.end])),
            ("side", side),
            ("hem", straight(Point(160, 0), Point(0, 0))),
            ("centre", straight(Point(0, 0), Point(0, 150))),
        ]
    )
    piece = piece_of(panel, {"waist": 12, "side": 20}, {("side", "end"): "mirror"})
    end, way = side.end, side.end_direction
    return Picture(
        (piece,),
        (50, 90, 170, 200),
        "The side seam leans; pressed open (green) its allowance ends on the waist's "
        "cutting line, neither short of it nor beyond.",
        over(piece, (end - way, end), end, 45),
    )


def turned_corner(inner_deg, facing, width):
    up = heading(180 - inner_deg) * 150
    panel = panel_of(
        [
            ("hem", straight(Point(-150, 0), Point(0, 0))),
            ("facing", straight(up, Point(0, 0))),
            ("top", straight(Point(-150, up.y), up)),
            ("centre", straight(Point(-150, up.y), Point(-150, 0))),
        ]
    )
    return panel, {"hem": width, "facing": facing}


def mitre(inner_deg, facing, width, right):
    panel, widths = turned_corner(inner_deg, facing, width)
    piece = piece_of(panel, widths, {("hem", "end"): "mitre"})
    up = heading(180 - inner_deg)
    return Picture(
        (piece,),
        (-110, -70, 90, 110),
        right,
        (
            *over(piece, (Point(-1, 0), Point(0, 0)), Point(0, 0), 100),
            *over(piece, (Point(0, 0), up), Point(0, 0), 100),
        ),
    )


def mitre_equal():
    return mitre(
        90,
        40,
        40,
        "Hem and facing are both 40: the mitre is one line at 45 degrees, 6 beyond "
        "the corner. Turned in (green), each side reaches 6 over the line both are "
        "sewn on.",
    )


def mitre_unequal():
    return mitre(
        90,
        70,
        30,
        "Facing 70, hem 30: turned in (green), each side reaches 6 over the line "
        "from the corner to where the two edges cross.",
    )


def mitre_leaning():
    return mitre(
        78,
        50,
        30,
        "The facing's edge leans: the mitre has a bend before the corner, and turned"
        " in (green) its two sides still reach 6 over one line from the corner.",
    )


def squared_off():
    panel, widths = turned_corner(90, 60, 30)
    piece = piece_of(panel, widths, {("hem", "end"): "mirror"})
    return Picture(
        (piece,),
        (-90, -50, 80, 80),
        "The hem is turned up first and the facing lies over it: the hem runs on "
        "square under the facing.",
    )


def pressed_to_one_side():
    slant = Point(150, -40)
    lower = panel_of(
        [
            ("line", straight(Point(0, 0), Point(150, 0))),
            ("side", straight(Point(150, 0), Point(190, -120))),
            ("hem", straight(Point(190, -120), Point(0, -120))),
            ("centre", straight(Point(0, -120), Point(0, 0))),
        ]
    )
    upper = panel_of(
        [
            ("line", straight(Point(0, 40), Point(150, 40))),
            ("side", straight(Point(150, 40), Point(117, 139))),
            ("waist", straight(Point(117, 139), Point(0, 139))),
            ("centre", straight(Point(0, 139), Point(0, 40))),
        ]
    )
    del slant
    widths = {"line": 15, "side": 20}
    yoke = piece_of(upper, widths, {("line", "end"): "mirror"})
    skirt = piece_of(lower, widths, {("line", "end"): "square"})
    return Picture(
        (yoke, skirt),
        (70, -60, 200, 120),
        "A yoke seam pressed up: the yoke's own allowance folds onto the yoke "
        "(green) and ends on its side's cutting line; the skirt's stops square.",
        over(yoke, (Point(0, 40), Point(150, 40)), Point(150, 40), 40),
    )


def bagged():
    panel = polygon((0, 0), (120, 0), (120, 60), (0, 60))
    piece = piece_of(panel, {"a": 12, "b": 12, "c": 12})
    return Picture(
        (piece,),
        (60, -20, 140, 80),
        "The end of a band is bagged out: both allowances are whole at the corner and "
        "trimmed later.",
    )


def sharp_point():
    panel = panel_of(
        [
            ("a", straight(Point(-120, 0), Point(0, 0))),
            ("b", straight(Point(0, 0), heading(140) * 120)),
            ("c", straight(heading(140) * 120, Point(-120, 0))),
        ]
    )
    piece = piece_of(panel, {"a": 15, "b": 15})
    return Picture(
        (piece,),
        (-80, -25, 40, 60),
        "A point of 40 degrees is cut off square, 6 beyond the stitching point.",
    )


def inner_corner():
    panel = polygon((0, 0), (200, 0), (200, 60), (100, 60), (100, 160), (0, 160))
    piece = piece_of(panel, {"c": 15, "d": 15})
    return Picture(
        (piece,),
        (50, 30, 200, 160),
        "Where the seam turns inwards both allowances are plain; a clip (red) to 2 "
        "short of the stitching lets them spread.",
    )


def tight_hollow():
    radius, at = 18, Point(98, 78)
    bend = arc(at, Point(at.x, at.y - radius), -90)
    panel = panel_of(
        [
            ("a", straight(Point(0, 0), Point(200, 0), Point(200, 60))),
            (
                "b",
                join(
                    [
                        straight(Point(200, 60), bend.start),
                        bend,
                        straight(bend.end, Point(80, 160)),
                    ]
                ),
            ),
            ("c", straight(Point(80, 160), Point(0, 160), Point(0, 0))),
        ]
    )
    piece = piece_of(panel, {"b": 25})
    return Picture(
        (piece,),
        (50, 30, 200, 160),
        "A hollow of 18 radius cannot turn 25: there the allowance is 14.4, 0.8 of the "
        "radius, and widens on either side.",
    )


def notches():
    panel = polygon((0, 0), (160, 0), (160, 90), (0, 90), names=("a", "b", "c", "d"))
    widths = {"a": 15, "b": 15, "c": 15, "d": 5}
    marks = (
        NotchSpec("a", 40, 1),
        NotchSpec("a", 80, 2),
        NotchSpec("a", 120, 3),
        NotchSpec("d", 45, 1),
    )
    piece = piece_of(panel, widths, notches=marks)
    return Picture(
        (piece,),
        (-15, -25, 180, 60),
        "One, two and three snips, 4 deep and 11 clear of the stitching, those of "
        "one mark 5 apart about their middle; on 5 of allowance a snip is 2 deep, so"
        " that 3 are clear.",
    )


PICTURES = {
    made.__name__.replace("_", "-"): made
    for made in (
        hem_flared,
        hem_tapered,
        zip_slant,
        waist_at_side,
        mitre_equal,
        mitre_unequal,
        mitre_leaning,
        squared_off,
        pressed_to_one_side,
        bagged,
        sharp_point,
        inner_corner,
        tight_hollow,
        notches,
        darts_one,
        darts_two,
        darts_wide,
        darts_curved,
        legend,
    )
}
