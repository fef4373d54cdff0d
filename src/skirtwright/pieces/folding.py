"""Pleats and tucks of a panel: what each takes up of every edge it crosses."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from skirtwright.draft.shapes.panel import Edge, Panel
from skirtwright.geometry.chain import Chain
from skirtwright.geometry.point import Point
from skirtwright.geometry.tolerance import SAME

_NEAR: Final = 1.0
"""A pleat whose lines end within this of an edge crosses it, mm."""


@dataclass(frozen=True)
class Crossing:
    """Where a pleat or tuck crosses an edge.

    Attributes:
        distance: from the edge's start to it, with all that is folded there shut, mm.
        intake: what it takes up along the edge, mm.
        legs: the two places of the edge that come together, in its direction.
        folded: the edge is walked with it folded; else it hangs open there.
    """

    edge: str
    distance: float
    intake: float
    legs: tuple[Point, Point]
    folded: bool

    @property
    def width(self) -> float:
        """How far apart the two places lie, mm."""
        return self.legs[0].to(self.legs[1])


@dataclass(frozen=True)
class Folded:
    """A pleat or a tuck, such as `pleat[1]`, with the edges it crosses."""

    name: str
    edges: tuple[Crossing, ...]


def folded(panel: Panel, *, halves_hang: bool = False) -> tuple[Folded, ...]:
    """Pleats and tucks of a panel, those folded on its first edge first.

    Args:
        halves_hang: with the foot of a pleat of which only half is on the panel.
    """
    found: dict[str, list[Crossing]] = {}
    for edge in panel.edges:
        for name, crossing in _shut(panel, edge):
            found.setdefault(name, []).append(crossing)
    return tuple(
        Folded(name, (*shut, *_open(panel, name, {c.edge for c in shut}, halves_hang)))
        for name, shut in found.items()
    )


def _shut(panel: Panel, edge: Edge) -> Iterator[tuple[str, Crossing]]:
    """What is folded along an edge and is no dart."""
    darts = {dart.name for dart in panel.darts}
    begun: dict[str, tuple[float, Point]] = {}
    taken: dict[str, tuple[float, Point]] = {}
    walked = 0.0
    for segment in edge.chain.segments:
        fold = segment.fold
        if not fold:
            walked += segment.length
        elif fold not in darts:
            begun.setdefault(fold, (walked, segment.start))
            before = taken[fold][0] if fold in taken else 0.0
            taken[fold] = (before + segment.length, segment.end)
    for name, (distance, start) in begun.items():
        intake, end = taken[name]
        yield name, Crossing(edge.name, distance, intake, (start, end), folded=True)


def _open(panel: Panel, name: str, shut: set[str], halves: bool) -> Iterator[Crossing]:
    """The edge at a pleat's foot, which its middle and its other lines run down to.

    Of half a pleat there is one other line: it lies between that and the middle.
    """
    marks = (panel.mark(f"{name}.{line}") for line in ("middle", "fold", "meets"))
    feet = [m.shape.end for m in marks if m and isinstance(m.shape, Chain)]
    if len(feet) < (2 if halves else 3):
        return
    foot, inner = feet[0], feet[-1]
    places = (inner, foot + (foot - inner) if len(feet) > 2 else foot)
    for edge in panel.edges:
        near = [edge.chain.nearest(place) for place in places]
        if edge.name not in shut and all(gap <= _NEAR for _, gap in near):
            low, high = sorted(at for at, _ in near)
            if high - low > SAME:
                legs = edge.chain.at(low), edge.chain.at(high)
                yield Crossing(edge.name, low, high - low, legs, folded=False)
