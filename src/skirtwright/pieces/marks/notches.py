"""Balance marks: where they lie, and the snips that are drawn for them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from skirtwright.budget import spend
from skirtwright.draft.shapes.folds import Fold
from skirtwright.draft.shapes.panel import Dart, Panel
from skirtwright.geometry import Chain, Line, Point
from skirtwright.geometry.meeting import lines_meet
from skirtwright.geometry.tolerance import SAME
from skirtwright.pieces.spec import NotchSpec

DEPTH: Final = 4.0
"""How deep a snip goes, mm (school table)."""

CLEAR: Final = 3.0
"""How near a snip may come to the stitching line, mm (common practice, no source)."""

APART: Final = 5.0
"""Between the snips of one notch, mm (common practice, no source)."""


_BESIDE_END: Final = 0.01

_FOLDED_AT: Final = {"tuck": ("left", "right"), "pleat": ("fold", "meets")}


@dataclass(frozen=True)
class Notch:
    """A balance mark on an edge.

    Attributes:
        distance: walked from the edge's start with darts shut, mm.
        snips: each from the cutting line inwards; outwards, as a little tab, where
            the allowance is too narrow for a snip clear of the stitching.
        clear: what is left between snip and stitching line, mm.
        dart: the dart, tuck or pleat whose line it marks, or nothing.
        word: what is written beside it, a message id or text of the style.
        of: the title of a piece that the message names.
    """

    edge: str
    distance: float
    count: int
    snips: tuple[Line, ...]
    clear: float
    dart: str = ""
    word: str = ""
    of: str = ""


def notch(panel: Panel, ring: Sequence[Point], spec: NotchSpec) -> Notch:
    """A balance mark with its snips, square to the seam; `ring` is the cutting line.

    Several snips lie side by side, their middle at the distance.
    """
    edge = panel.edge(spec.edge)
    snips, clear = [], float("inf")
    for number in range(spec.count):
        place = spec.distance + (number - (spec.count - 1) / 2) * APART
        along = edge.chain.direction_at(place)
        out = along.right() if edge.forward else along.left()
        # At a fold the cutting line runs on from the seam's end: looked at just beside.
        beside = min(max(place, _BESIDE_END), edge.chain.length - _BESIDE_END)
        snip, left = _snip(ring, edge.chain.at(beside), out)
        snips.append(snip)
        clear = min(clear, left)
    return Notch(
        spec.edge,
        spec.distance,
        spec.count,
        tuple(snips),
        clear,
        word=spec.word,
        of=spec.of,
    )


def dart_notches(panel: Panel, ring: Sequence[Point], dart: Dart) -> tuple[Notch, ...]:
    """A snip at each leg of a dart, in the line of the leg."""
    walked = walked_to_dart(panel, dart)
    found = []
    for leg in panel.legs(dart):
        snip, clear = _snip(ring, leg, (leg - dart.tip).unit())
        found.append(Notch(dart.edge, walked, 1, (snip,), clear, dart.name))
    return tuple(found)


def fold_notches(panel: Panel, ring: Sequence[Point]) -> Iterator[Notch]:
    """A snip at each line of every tuck and pleat, in the direction of the line.

    A pleat has them where it is folded and where the fold is laid to; none where that
    is an end of the edge.
    """
    for edge in panel.edges:
        ends = edge.chain.start, edge.chain.end
        names = dict.fromkeys(s.fold for s in edge.chain.segments)
        for fold in filter(None, map(Fold.of, names)):
            for side in _FOLDED_AT.get(fold.kind, ()):
                line = panel.mark(fold.part(side))
                if line is None or not isinstance(line.shape, Chain):
                    continue
                start = line.shape.start
                if min(start.to(end) for end in ends) > APART:
                    snip, clear = _snip(ring, start, -line.shape.start_direction)
                    walked = walked_to_fold(edge.chain, str(fold))
                    yield Notch(edge.name, walked, 1, (snip,), clear, str(fold))


def walked_to_dart(panel: Panel, dart: Dart) -> float:
    """Walked distance from the start of its edge to a dart, mm."""
    return walked_to_fold(panel.edge(dart.edge).chain, dart.name)


def walked_to_fold(chain: Chain, fold: str) -> float:
    """Walked distance from the start of an edge to what takes it up there, mm."""
    walked = 0.0
    for segment in chain.segments:
        if segment.fold == fold:
            break
        walked += 0.0 if segment.fold else segment.length
    return walked


def _snip(ring: Sequence[Point], seam: Point, out: Point) -> tuple[Line, float]:
    """The snip before a place of the seam, and what it leaves clear, mm."""
    gap = min(distances_out(ring, seam, out), default=0.0)
    cut = seam + out * gap
    depth = min(DEPTH, gap - CLEAR)
    if depth <= SAME:
        return Line(cut, cut + out * DEPTH), gap
    return Line(cut, cut - out * depth), gap - depth


def distances_out(ring: Sequence[Point], start: Point, along: Point) -> list[float]:
    """Distances, in no order, at which a ray meets a ring; `along` is a unit step."""
    # Written out in plain numbers: it runs for every snip of every piece while
    # something is pulled.
    ax, ay, sx, sy = along.x, along.y, start.x, start.y
    spend("points", 1 + len(ring) // 8)
    found: list[float] = []
    last = ring[-1]
    before = ax * (last.y - sy) - ay * (last.x - sx)
    for point in ring:
        after = ax * (point.y - sy) - ay * (point.x - sx)
        if (before <= 0 < after or after <= 0 < before) or before == 0 == after:
            meet = lines_meet(start, along, last, point - last)
            distance = ((meet or point) - start).dot(along)
            if distance >= -SAME:
                found.append(max(distance, 0.0))
        last, before = point, after
    return found
