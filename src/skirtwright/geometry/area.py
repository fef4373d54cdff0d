"""Areas joined and measured against one another; the only home of shapely.

Slower than the plain geometry beside it and used where that will not do.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from skirtwright.budget import spend
from skirtwright.geometry.point import Point
from skirtwright.geometry.ring import area_of_points, without_spikes

if TYPE_CHECKING:
    from shapely import Geometry, Polygon

_CRACK = 1e-3
"""Cracks narrower than this, mm, that rounding leaves between areas are closed."""

_JOINED = 10
"""To join areas is as much work as to find so many points for each of their corners."""

_NOTHING = 1e-6
"""Areas smaller than this, mm2, are not there."""


def union_ring(parts: Iterable[Sequence[Point]]) -> list[Point]:
    """The outer ring of several areas together, anticlockwise.

    Where the areas do not hang together, the largest is taken; holes are filled.
    A part may cross itself.

    Raises:
        ValueError: there is no area.
    """
    import shapely

    areas = [area for part in parts if (area := _area_of(part)) is not None]
    wider = shapely.union_all(areas).buffer(_CRACK, join_style="mitre")
    whole = wider.buffer(-_CRACK, join_style="mitre")
    largest = max(_polygons(whole), key=lambda p: p.area, default=None)
    if largest is None:
        message = "no area to join"
        raise ValueError(message)
    ring = without_spikes([Point(x, y) for x, y in largest.exterior.coords])
    return ring if area_of_points(ring) > 0 else ring[::-1]


def gaps(ring: Sequence[Point], places: Sequence[Point]) -> list[float]:
    """Distance of each place from a ring, mm."""
    import shapely

    spend("points", len(ring) // 2)
    line = shapely.LinearRing([(p.x, p.y) for p in ring])
    found = shapely.distance(shapely.points([(p.x, p.y) for p in places]), line)
    return [float(gap) for gap in found]


def shared_area(one: Sequence[Point], other: Sequence[Point]) -> float:
    """What two areas have in common, mm2."""
    import shapely

    areas = [_area_of(part) for part in (one, other)]
    if areas[0] is None or areas[1] is None:
        return 0.0
    return float(shapely.intersection(*areas).area)


def grown_ring(ring: Sequence[Point], by: float, within: float) -> list[Point]:
    """A simpler ring that lies outside another, anticlockwise.

    Args:
        by: how far outside at the least, mm.
        within: how much further at the most, mm.
    """
    import shapely

    area = shapely.Polygon([(p.x, p.y) for p in ring])
    out = by + within / 2
    wider = area.buffer(out, join_style="mitre").simplify(within / 2)
    largest = max(_polygons(wider), key=lambda p: p.area)
    found = without_spikes([Point(x, y) for x, y in largest.exterior.coords])
    return found if area_of_points(found) > 0 else found[::-1]


def unlike(first: Sequence[Point], second: Sequence[Point]) -> float:
    """Area that lies in one of two rings and not in the other, mm2."""
    import shapely

    areas = [shapely.Polygon([(p.x, p.y) for p in ring]) for ring in (first, second)]
    return float(areas[0].symmetric_difference(areas[1]).area)


def _area_of(part: Sequence[Point]) -> Geometry | None:
    import shapely

    points = without_spikes(part)
    if len(points) < 3:
        return None
    spend("points", _JOINED * len(points))
    area = shapely.Polygon([(p.x, p.y) for p in points])
    if not area.is_valid:
        area = shapely.make_valid(area)
    return area if area.area > _NOTHING else None


def _polygons(area: Geometry) -> list[Polygon]:
    parts = getattr(area, "geoms", [area])
    return [g for g in parts if g.geom_type == "Polygon" and not g.is_empty]
