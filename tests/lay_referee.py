"""What is wrong with a lay, found from the pieces and motions alone."""

from __future__ import annotations

from itertools import combinations

from shapely import Polygon, affinity, union_all

from skirtwright.geometry import Point, heading
from skirtwright.pieces.walked_seams import place_on

OVERLAP, OFF, PHASE = 0.01, 0.01, 0.5
"""mm2 two pieces may share; mm one may lie off the cloth; mm a repeat may be out."""


def faults(laid, cut):
    """Sentences; none where the lay can be cut."""
    found = []
    cloth = laid.cloth
    polygons = [polygon_of(placed, cloth) for placed in laid.placed]
    for (a, p), (b, q) in combinations(zip(laid.placed, polygons, strict=True), 2):
        shared = p.intersection(q).area
        if shared > OVERLAP:
            found.append(f"{name(a)} over {name(b)}: {shared:.3f} mm2")
    wide = cloth.width * (1 - cloth.shrinks_across)
    left, right = cloth.selvedge, wide - cloth.selvedge
    if cloth.fold == "lengthwise":
        left, right = 0.0, wide / 2 - cloth.selvedge
    reach = laid.length / (2 if cloth.fold == "crosswise" else 1)
    for placed, polygon in zip(laid.placed, polygons, strict=True):
        x0, y0, x1, y1 = polygon.bounds
        if x0 < left - OFF or x1 > right + OFF or y0 < -OFF or y1 > reach + OFF:
            found.append(f"{name(placed)} lies off the cloth: {polygon.bounds}")
        found += turned_wrong(placed, cloth)
    if cloth.gap:
        for (a, p), (b, q) in combinations(zip(laid.placed, polygons, strict=True), 2):
            if p.distance(q) < cloth.gap - OFF:
                found.append(f"{name(a)} {p.distance(q):.2f} mm from {name(b)}")
    found += missing(laid, cut)
    found += out_of_phase(laid, cut)
    return found


def name(placed):
    return placed.copy.piece.name


def polygon_of(placed, cloth):
    """As it lies: the half on the fold, else opened out over its folds."""
    piece = placed.copy.piece
    area = Polygon([(p.x, p.y) for p in piece.cut])
    on = fold_on_cloth(placed, cloth)
    for fold in piece.spec.folds:
        if fold == on:
            continue
        chain = piece.panel.edge(fold).chain
        along = chain.end - chain.start
        angle = along.heading_deg()
        start = (chain.start.x, chain.start.y)
        other = affinity.rotate(area, -angle, origin=start)
        other = affinity.scale(other, 1, -1, origin=start)
        area = union_all([area, affinity.rotate(other, angle, origin=start)])
    m = placed.motion
    return affinity.affine_transform(area, [m.a, m.c, m.b, m.d, m.e, m.f])


def fold_on_cloth(placed, cloth):
    """The fold edge that lies on the fold of the cloth."""
    piece = placed.copy.piece
    for fold in piece.spec.folds:
        chain = piece.panel.edge(fold).chain
        ends = [placed.motion(p) for p in (chain.start, chain.end)]
        at = [p.x if cloth.fold == "lengthwise" else p.y for p in ends]
        if cloth.fold != "single" and max(map(abs, at)) < OFF:
            return fold
    return None


def turned_wrong(placed, cloth):
    piece, m = placed.copy.piece, placed.motion
    up = m(heading(piece.grain_deg)) - m(Point(0, 0))
    if abs(up.x) > 1e-6:
        yield f"{name(placed)} is off the grain"
    if cloth.one_way and up.y < 0:
        yield f"{name(placed)} lies against the nap"
    over = m.a * m.d - m.b * m.c < 0
    if over != placed.way.mirrored:
        yield f"{name(placed)} is said to be turned over and is not"
    if placed.copy.on_fold != (fold_on_cloth(placed, cloth) is not None):
        yield f"{name(placed)} is said to be on the fold and is not"


def missing(laid, cut):
    """Pieces of which too few are cut, or too many of one hand."""
    doubled = laid.cloth.fold != "single"
    for piece in cut.shown:
        if piece.spec.material != laid.cloth.material:
            continue
        mine = [p for p in laid.placed if p.copy.piece is piece]
        if sum(p.copy.gives for p in mine) != piece.spec.count:
            yield f"{piece.name}: not {piece.spec.count} cut"
        if piece.spec.mirrored and not doubled:
            over = sum(p.way.mirrored for p in mine)
            if 2 * over != piece.spec.count:
                yield f"{piece.name}: {over} of {len(mine)} turned over"
        single = not (piece.spec.mirrored or doubled or piece.spec.folds)
        if single and any(p.way.mirrored for p in mine):
            yield f"{piece.name} is turned over"


def out_of_phase(laid, cut):
    """Pieces that do not meet the repeat of those they are sewn to."""
    if laid.cloth.repeat_along:
        yield from unlike_along(laid, cut, laid.cloth.repeat_along)
    across = laid.cloth.repeat_across
    wide = laid.cloth.width * (1 - laid.cloth.shrinks_across)
    middle = 0.0 if laid.cloth.fold == "lengthwise" else wide / 2
    for placed in laid.placed if across else ():
        for edge in placed.copy.piece.edges:
            chain = placed.copy.piece.panel.edge(edge.name).chain
            grain = heading(placed.copy.piece.grain_deg)
            along = (chain.end - chain.start).unit()
            if edge.role == "centre" and abs(along.dot(grain)) > 0.99:
                out = beside(placed.motion(chain.end).x - middle, across)
                if out > PHASE:
                    yield f"{name(placed)}: centre {out:.2f} mm out of the repeat"


def unlike_along(laid, cut, repeat):
    """Two pieces sewn together at the side or centre, none of whose marks meet."""
    panels = {p.name: p.panel for p in cut.pieces}
    pieces = {p.name: p for p in cut.pieces}
    mine = {name(p) for p in laid.placed}
    met = {}
    for walked in cut.seams:
        sides = walked.seam.sides
        runs = [run for side in sides for run in side]
        if not {run.piece for run in runs} <= mine:
            continue
        if not any(
            pieces[r.piece].spec.role(r.edge) in ("side", "centre") for r in runs
        ):
            continue
        before = 0.0
        for run in sides[0]:
            length = panels[run.piece].edge(run.edge).chain.length
            for mark in pieces[run.piece].notches:
                if mark.edge == run.edge and not mark.dart:
                    far = before + run.own_distance(mark.distance, length)
                    at = [place_on(side, panels, far) for side in sides]
                    if None not in at:
                        pair = (at[0][0], at[1][0])
                        met.setdefault(pair, []).append(
                            spread(laid, panels, at, repeat)
                        )
            before += length
    for pair, spreads in met.items():
        if min(spreads) > PHASE:
            yield f"{pair}: {min(spreads):.2f} mm out of the repeat"


def spread(laid, panels, at, repeat):
    """How far apart the copies of two places lie in the repeat, mm."""
    heights = [
        p.motion(panels[piece].edge(edge).chain.at(distance)).y
        for piece, edge, distance in at
        for p in laid.placed
        if name(p) == piece
    ]
    return max(beside(height - heights[0], repeat) for height in heights)


def beside(length, repeat):
    """How far a length is from a whole number of repeats, mm."""
    return abs((length + repeat / 2) % repeat - repeat / 2)
