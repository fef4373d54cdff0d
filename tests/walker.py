"""Walks a report's outlines in plain Python, knowing nothing of the program.

It uses the outline of a piece, where its edges start and end, and what is folded; from
these it works edge lengths, seams and finished measures again.
"""

from __future__ import annotations

import itertools
from math import dist, hypot


def edge_path(piece: dict, name: str, ring_name: str = "stitch_outline") -> list:
    """The points of an edge from its start to its end, along the outline."""
    ring = piece[ring_name]
    edges = {edge["name"]: edge for edge in piece["edges"]}
    edge = edges[name]
    first, last = _index(ring, edge["start"]), _index(ring, edge["end"])
    others = {
        _index(ring, other[end])
        for other in piece["edges"]
        if other["name"] != name
        for end in ("start", "end")
    } - {first, last}
    size = len(ring)
    ways = [
        [(first + step) % size for step in range((last - first) % size + 1)],
        [(first - step) % size for step in range((first - last) % size + 1)],
    ]
    free = [way for way in ways if len(way) > 1 and not others & set(way)]
    assert len(free) == 1, (name, len(free))
    return [ring[index] for index in free[0]]


def _index(ring: list, place: list) -> int:
    index = min(range(len(ring)), key=lambda i: dist(ring[i], place))
    assert dist(ring[index], place) < 1e-4, place
    return index


def path_length(path: list) -> float:
    """Length of a run of points."""
    return sum(dist(a, b) for a, b in itertools.pairwise(path))


def edge_length(piece: dict, name: str) -> float:
    """Length of an edge with its darts shut and its pleats and tucks folded.

    What lies between two legs is left out.
    """
    path = edge_path(piece, name)
    total = path_length(path)
    for fold in folds_on(piece, name):
        places = sorted(_index(path, leg) for leg in fold["legs"])
        total -= path_length(path[places[0] : places[1] + 1])
    return total


def folds_on(piece: dict, name: str) -> list:
    """The darts of an edge, and its pleats and tucks that are folded there."""
    crossings = [e for pleat in piece["pleats"] for e in pleat["edges"] if e["folded"]]
    return [fold for fold in (*piece["darts"], *crossings) if fold["edge"] == name]


def length_less_intakes(piece: dict, name: str) -> float:
    """The same, pleats and tucks by what the report says that each takes up."""
    taken = sum(
        crossing["intake"]
        for pleat in piece["pleats"]
        for crossing in pleat["edges"]
        if crossing["edge"] == name and crossing["folded"]
    )
    return edge_length({**piece, "pleats": []}, name) - taken


def area(ring: list) -> float:
    """Signed area of a ring, positive anticlockwise."""
    pairs = zip(ring, ring[1:] + ring[:1], strict=True)
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in pairs) / 2


def width_at(piece: dict, height: float) -> float:
    """Width of a piece at a height: between the two places where it is crossed."""
    crossings = []
    ring = piece["stitch_outline"]
    for a, b in zip(ring, ring[1:] + ring[:1], strict=True):
        if (a[1] - height) * (b[1] - height) < 0:
            share = (height - a[1]) / (b[1] - a[1])
            crossings.append(a[0] + share * (b[0] - a[0]))
        elif a[1] == height:
            crossings.append(a[0])
    crossings = sorted({round(x, 9) for x in crossings})
    return crossings[-1] - crossings[0]


def distance_to_ring(place: list, ring: list) -> float:
    """How far a place lies from a ring."""
    return min(
        _to_side(place, a, b) for a, b in zip(ring, ring[1:] + ring[:1], strict=True)
    )


def distance_to_path(place: list, path: list) -> float:
    """How far a place lies from a run of points."""
    return min(_to_side(place, a, b) for a, b in itertools.pairwise(path))


def _to_side(p: list, a: list, b: list) -> float:
    ux, uy = b[0] - a[0], b[1] - a[1]
    size = ux * ux + uy * uy
    share = ((p[0] - a[0]) * ux + (p[1] - a[1]) * uy) / size if size else 0.0
    share = min(max(share, 0.0), 1.0)
    return hypot(p[0] - a[0] - share * ux, p[1] - a[1] - share * uy)


def points_along(path: list, every: float) -> list:
    """Places along a run of points, about so far apart; ends left out."""
    total = path_length(path)
    count = max(int(total / every), 3)
    wanted = [total * (n + 0.5) / count for n in range(count)]
    found, walked = [], 0.0
    for a, b in itertools.pairwise(path):
        size = dist(a, b)
        while wanted and wanted[0] <= walked + size:
            share = (wanted.pop(0) - walked) / size
            found.append([a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])])
        walked += size
    return found
