"""Pictures of whole skirts' darts and of a piece with all its words."""

from __future__ import annotations

import shapely
from picture import Picture

from skirtwright.draft import styles
from skirtwright.draft.inputs import Inputs
from skirtwright.draft.working.recompute import Reworking
from skirtwright.geometry import reflect
from skirtwright.pieces.cutting import Cutting
from skirtwright.pieces.wording.labels import label_lines
from skirtwright.pieces.wording.notch_words import notch_legend


def skirt(style, body, **amounts):
    draft = styles.style(style)
    choices = {k: v for k, v in amounts.items() if draft.choice(k)}
    numbers = {k: v for k, v in amounts.items() if k not in choices}
    worked = Reworking().work(draft, Inputs(body, amounts=numbers, choices=choices))
    return draft, Cutting().cut(worked, {})


BODY = {"waist": 740, "hip": 990, "waist_to_hip": 205, "waist_to_knee": 590}


def one_piece(name, style, body, **amounts):
    _, cut = skirt(style, body, **amounts)
    return next(piece for piece in cut.pieces if piece.name == name)


def waist_box(piece, down=140.0):
    waist = piece.panel.edge("waist").chain.flattened(1.0)
    left, right = min(p.x for p in waist) - 30, max(p.x for p in waist) + 30
    top = max(p.y for p in waist) + 25
    return left, top - down, right, top


def shut_over_leg(piece, number=0):
    """The cap's part between a leg and the middle, folded over that leg."""
    dart = piece.darts[number]
    leg = dart.legs[0]
    cap = [p for p in piece.cut if p.to(dart.fold.end) < 1.5 * dart.intake + 20]
    axis = (dart.fold.end - dart.tip).unit()
    way = (leg - dart.tip).unit()
    part = [
        p
        for p in cap
        if way.cross(p - dart.tip) <= 1e-6 and axis.cross(p - dart.tip) >= -1e-6
    ]
    motion = reflect(dart.tip, leg)
    return tuple(motion(p) for p in sorted(part, key=lambda p: way.cross(p - dart.tip)))


def darts_one():
    piece = one_piece("front", "straight-block", BODY)
    return Picture(
        (piece,),
        waist_box(piece),
        "Pressed to the centre, the cap's near half (green) lies on the waist's "
        "cutting line; a snip at each leg, a drill mark 15 short of the tip.",
        (shut_over_leg(piece),),
    )


def darts_two():
    piece = one_piece("back", "straight-block", {**BODY, "waist": 680})
    return Picture(
        (piece,),
        waist_box(piece, 190),
        "Two darts: each cap on its own, both pressed to the centre (green on the "
        "waist's cutting line), and the line between them is the waist's.",
        tuple(shut_over_leg(piece, number) for number in range(len(piece.darts))),
    )


def darts_wide():
    piece = one_piece("front", "straight-block", {**BODY, "waist": 715})
    return Picture(
        (piece,),
        waist_box(piece),
        "As wide as one dart is made: the cap is high, for all the waist it lies on,"
        " and has no horn beyond its middle.",
        (shut_over_leg(piece),),
    )


def darts_curved():
    piece = one_piece("front", "straight-block", BODY, dart_legs_front="hollow")
    return Picture(
        (piece,),
        waist_box(piece),
        "Curved legs leave the waist as straight ones do, so that the cap and its fold "
        "(green) are those of the straight dart.",
        (shut_over_leg(piece),),
    )


def legend():
    draft, cut = skirt("mermaid", BODY)
    piece = next(piece for piece in cut.pieces if piece.name == "back")
    titles = {seam.name: seam.title for seam in draft.seams}
    materials = {piece.name: piece.spec.material for piece in cut.pieces}
    notes = notch_legend(piece, [w.seam for w in cut.seams], titles, materials)
    ring = shapely.Polygon([(p.x, p.y) for p in piece.cut])
    left, bottom, right, top = ring.bounds
    return Picture(
        (piece,),
        (left - 10, bottom - 10, right + 10, top + 10),
        "Every mark of a back with its words, and the legend of its balance marks "
        "under how it is cut.",
        labels=(
            label_lines(piece, draft.title, "Maud Ferrier", "3 May", notches=notes),
        ),
    )
