"""shapely as the referee of cutting lines."""

from __future__ import annotations

from itertools import pairwise

import shapely

from skirtwright.geometry.tolerance import FLAT

FINE = 0.001


def xy(points):
    return [(p.x, p.y) for p in points]


def body(panel):
    return shapely.Polygon(xy(panel.ring(FINE)))


def judge(panel, widths, line, folds=(), most=2.5):
    """What is wrong with a cutting line; empty when nothing is.

    Away from corners (2.5 times the largest allowance) a place of the line is as far
    from one edge as that edge's allowance and no nearer to any other edge than its
    own: the outer line of everything within an allowance of its edge.
    """
    cut = shapely.Polygon(xy(line.ring))
    if not cut.is_valid:
        return [f"not simple: {shapely.is_valid_reason(cut)}"]
    wrong = []
    outside = body(panel).difference(cut.buffer(FLAT + FINE))
    if not outside.is_empty:
        wrong.append(f"leaves {outside.area:.4f} mm2 of the piece outside")
    reach = most * max(widths.values()) + 1
    corners = [edge.ringwise.start for edge in panel.edges]
    for edge in panel.edges:
        segments = edge.ringwise.segments
        for one, two in pairwise(segments):
            if one.end_direction.dot(two.start_direction) < 1 - 1e-12:
                corners.append(one.end)
    near = shapely.union_all([shapely.Point(c.x, c.y).buffer(reach) for c in corners])
    edges = {
        edge.name: shapely.LineString(xy(edge.chain.flattened(FINE)))
        for edge in panel.edges
    }
    ring = xy(line.ring)
    middles = [
        ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
        for a, b in zip(ring, ring[1:] + ring[:1], strict=True)
    ]
    # A cutting line without allowance may run in the piece by as much as it is flat.
    inside = body(panel).buffer(-FLAT - FINE)
    places = shapely.points(ring + middles)
    kept = places[~shapely.contains(near, places)]
    for place in kept:
        gap = min(edges[n].distance(place) - widths.get(n, 0.0) for n in edges)
        if abs(gap) > FLAT + FINE:
            # In a needle an edge may be near through the piece: it does not count.
            seen = [n for n in edges if _sees(edges[n], place, inside)]
            gap = min(edges[n].distance(place) - widths.get(n, 0.0) for n in seen)
        if abs(gap) > FLAT + FINE:
            wrong.append(f"{gap:+.4f} mm off at {place.x:.1f}, {place.y:.1f}")
    return wrong


def _sees(edge, place, inside):
    """True when the way from an edge to a place does not lead through the piece."""
    return not shapely.shortest_line(edge, place).crosses(inside)
