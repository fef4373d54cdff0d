"""A cut piece as a strip of cloth: columns down from its upper to its lower edge.

A column is a way down the cloth, as the grain would run in a fan. Between two columns
lies a cell, whose width at a depth is straight across the paper, less what darts and
pleats have taken up there.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from itertools import accumulate, pairwise

from skirtwright.budget import spend
from skirtwright.draft.shapes.panel import Edge
from skirtwright.geometry import Chain, Point, Segment, heading
from skirtwright.geometry.tolerance import OUTLINE
from skirtwright.pieces.folding import Crossing, folded
from skirtwright.pieces.piece import Piece

Place = tuple[float, float]
"""On the paper, mm."""

_FLAT = 0.5
"""How near the paper's curves are followed, mm."""

_CELLS = 6
_ROWS = 8
_ROUND = 24
"""Parts a line that lies upon the cloth is taken in."""

CUT_ALONG = "cut_along["
"""How lines upon a piece are called along which some of it is cut out."""

_BUTTON, _BUTTON_WIDE = "button[", 20.0
"""How places of buttons are called, and how wide a button is drawn, mm (no source)."""

_FREE = "opening"

_INSIDE = 1e-6
"""What lies at the end of an edge takes nothing from the cells beside it."""


@dataclass(frozen=True)
class Column:
    """A way down the cloth: places, and how far down each lies, mm."""

    places: tuple[Place, ...]
    down: tuple[float, ...]

    @property
    def length(self) -> float:
        """From the upper edge to the lower one, mm."""
        return self.down[-1]

    def at(self, down: float) -> Place:
        """The place so far down; the ends beyond them."""
        rows = self.down
        i = min(max(bisect_right(rows, down), 1), len(rows) - 1)
        step = rows[i] - rows[i - 1]
        t = min(max((down - rows[i - 1]) / step, 0.0), 1.0) if step > 0 else 0.0
        (a, b), (c, d) = self.places[i - 1], self.places[i]
        return a + (c - a) * t, b + (d - b) * t


@dataclass(frozen=True)
class Fold:
    """A dart, tuck or pleat of a strip.

    Attributes:
        share: where it lies, as a share of the way along the upper edge.
        top, foot: what it takes up at the upper edge and where it ends, mm.
        depth: how far down it ends, mm.
        open: True for a pleat that hangs open at the lower edge.
    """

    kind: str
    share: float
    top: float
    foot: float
    depth: float
    open: bool = False

    def taken(self, down: float) -> float:
        """What it takes up so far down, mm."""
        return self.top + (self.foot - self.top) * min(down / self.depth, 1.0)


@dataclass(frozen=True)
class Strip:
    """A piece by columns, from its centre to its side.

    Attributes:
        columns: one more than there are cells.
        across: walked share of the upper edge at each.
        folds: what is folded in it.
        widths: of the upper and of the lower edge, walked, mm.
        free: how far the column at the centre lies open: nothing is sewn to it.
        sewn: True where a seam runs down its centre.
        slit: how far down its centre seam opens, mm; None where it does not.
        lines_on_it: lines that lie upon it, as round a pocket or a button: places by
            the share across, equal from column to column, and how far down, mm.
    """

    columns: tuple[Column, ...]
    across: tuple[float, ...]
    folds: tuple[Fold, ...]
    widths: tuple[float, float]
    free: bool
    sewn: bool
    slit: float | None
    lines_on_it: tuple[tuple[Place, ...], ...] = ()

    def widths_at(self, down: float) -> list[float]:
        """The width of each cell so far down, mm."""
        spend("points", len(self.columns) + len(self.folds))
        places = [column.at(down) for column in self.columns]
        found = [math.dist(a, b) for a, b in pairwise(places)]
        for fold in self.folds:
            taken = fold.taken(down)
            if taken > 0 and _INSIDE < fold.share < 1 - _INSIDE:
                share = fold.share - _INSIDE
                i = min(max(bisect_right(self.across, share), 1), len(found)) - 1
                found[i] = max(found[i] - taken, 0.0)
        return found


def strip_of(
    piece: Piece, top: Collection[str], foot: Collection[str], half: bool
) -> Strip | None:
    """A piece as a strip between two runs of its edges.

    Args:
        top: names of the edges it hangs from.
        foot: names of its lower edges.
        half: of a piece that lies over the middle only the half on her left.
    """
    sides = _sides(piece, top, foot)
    if sides is None:
        return None
    upper_edges, lower_edges, first, second = sides
    folds = [crossing for fold in folded(piece.panel) for crossing in fold.edges]
    upper = _walked(upper_edges, folds)
    lower = _walked(lower_edges, folds)
    seam = [e for e in first if piece.spec.role(e.name) != _FREE]
    centre = _places(first)
    if seam and len(seam) < len(first):
        # A vent lies behind the seam: the seam's own line goes on to the hem.
        centre = _lengthened_to(_places(seam), lower.places[0])
        lower = lower.begun_at(centre[-1])
    bows = _bow(centre), _bow(_places(second))
    shares = [i / _CELLS for i in range(_CELLS + 1)]
    if half:
        shares = [0.5 + share / 2 for share in shares]
    columns = tuple(_column(u, upper, lower, bows) for u in shares)
    taken = tuple(_folds(piece, upper_edges, columns, shares))
    free = bool(first) and not seam
    is_sewn = any(e.name not in piece.spec.folds for e in seam) and not half
    slit = _length(seam) if seam and len(seam) < len(first) else None
    part = shares[-1] - shares[0]
    widths = upper.length * part, lower.length * part
    across = tuple((u - shares[0]) / part for u in shares)
    on_it = tuple(
        tuple(_between(columns, (place.x, place.y)) for place in line)
        for line in _lines_on(piece)
    )
    return Strip(columns, across, taken, widths, free, is_sewn, slit, on_it)


Run = list[Edge]


def _sides(
    piece: Piece, top: Collection[str], foot: Collection[str]
) -> tuple[Run, Run, Run, Run] | None:
    """Upper and lower edges from the centre on, and both sides from the top down."""
    edges = piece.panel.edges
    kinds = ["t" if e.name in top else "f" if e.name in foot else "" for e in edges]
    if "t" not in kinds or "f" not in kinds:
        return None
    begin = next(
        i for i, kind in enumerate(kinds) if kind == "t" and kinds[i - 1] != "t"
    )
    turned = [(edges[(begin + i) % len(edges)]) for i in range(len(edges))]
    marks = [kinds[(begin + i) % len(edges)] for i in range(len(edges))]
    first_foot, last_foot = marks.index("f"), len(marks) - 1 - marks[::-1].index("f")
    tops = [e for e, kind in zip(turned[:first_foot], marks, strict=False) if kind]
    down = [e for e, k in zip(turned[:first_foot], marks, strict=False) if not k]
    feet = turned[first_foot : last_foot + 1]
    up = turned[last_foot + 1 :]
    # Anticlockwise from the upper right: the upper edge, the left side down, the
    # lower edge, the right side up.
    left, right = down, [_back(edge) for edge in reversed(up)]
    uppers, lowers = [_back(edge) for edge in reversed(tops)], feet
    if _is_side(piece, left) and not _is_side(piece, right):
        left, right = right, left
        uppers = [_back(edge) for edge in reversed(uppers)]
        lowers = [_back(edge) for edge in reversed(lowers)]
    return uppers, lowers, left, right


def _is_side(piece: Piece, run: Run) -> bool:
    return any(piece.spec.role(edge.name) == "side" for edge in run)


def _back(edge: Edge) -> Edge:
    """The same edge gone along the other way."""
    return Edge(edge.name, edge.chain, not edge.forward)


@dataclass(frozen=True)
class _Walked:
    """A run of edges walked, what is folded left out."""

    places: list[Place]
    walked: list[float]

    @property
    def length(self) -> float:
        return self.walked[-1]

    def at(self, share: float) -> Place:
        # Where something is folded the place is the one beyond it.
        length = share * self.walked[-1] + _INSIDE
        i = min(max(bisect_right(self.walked, length), 1), len(self.walked) - 1)
        step = self.walked[i] - self.walked[i - 1]
        t = min((length - self.walked[i - 1]) / step, 1.0) if step > 0 else 1.0
        (a, b), (c, d) = self.places[i - 1], self.places[i]
        return a + (c - a) * t, b + (d - b) * t

    def begun_at(self, place: Place) -> _Walked:
        """What lies on from the place nearest to another."""
        i = min(
            range(len(self.places) - 1), key=lambda i: math.dist(self.places[i], place)
        )
        rest = self.walked[i:]
        return _Walked(self.places[i:], [length - rest[0] for length in rest])


def _walked(run: Run, folds: Sequence[Crossing]) -> _Walked:
    places: list[Place] = []
    walked: list[float] = []
    for edge in run:
        # What is taken up between the ends is taken from the columns beside it.
        hanging = [
            c
            for c in folds
            if c.edge == edge.name and not c.folded and _at_an_end(c, edge)
        ]
        for chain in _without(edge.ringwise, edge, hanging):
            points = [(p.x, p.y) for p in chain.flattened(_FLAT)]
            start = walked[-1] if walked else 0.0
            places += points
            walked += accumulate(
                (math.dist(a, b) for a, b in pairwise(points)), initial=start
            )
    return _Walked(places, walked)


def _at_an_end(crossing: Crossing, edge: Edge) -> bool:
    left = edge.chain.length - crossing.distance - crossing.intake
    return min(crossing.distance, left) < OUTLINE


def _without(chain: Chain, edge: Edge, hanging: Sequence[Crossing]) -> Iterator[Chain]:
    """The parts of a line that lie open to the eye."""
    for crossing in sorted(hanging, key=lambda c: c.distance):
        low, high = crossing.distance, crossing.distance + crossing.intake
        whole = edge.chain.length
        if not edge.forward:
            low, high = whole - high, whole - low
        before, rest = chain.split(low)
        after = rest.split(high - low)[1] if rest else None
        yield from (part for part in (before, after) if part)
        return
    run: list[Segment] = []
    for segment in chain.segments:
        if segment.fold and run:
            yield Chain(tuple(run))
            run = []
        elif not segment.fold:
            run.append(segment)
    if run:
        yield Chain(tuple(run))


def _length(run: Run) -> float:
    return sum(edge.chain.length for edge in run)


def _places(run: Run) -> list[Place]:
    return [(p.x, p.y) for edge in run for p in edge.ringwise.flattened(_FLAT)]


def _lengthened_to(places: list[Place], level: Place) -> list[Place]:
    """A side made longer, straight on, until it is as far as another place."""
    (a, b), (c, d) = places[0], places[-1]
    size = math.hypot(c - a, d - b) or 1.0
    x, y = (c - a) / size, (d - b) / size
    further = max((level[0] - c) * x + (level[1] - d) * y, 0.0)
    return [*places, (c + further * x, d + further * y)]


def _bow(places: list[Place]) -> list[Place]:
    """How far a side lies off its chord at each row, as steps on the paper."""
    if len(places) < 2:
        return [(0.0, 0.0)] * (_ROWS + 1)
    walked = list(
        accumulate((math.dist(a, b) for a, b in pairwise(places)), initial=0.0)
    )
    line = _Walked(places, walked)
    (a, b), (c, d) = places[0], places[-1]
    found = []
    for row in range(_ROWS + 1):
        t = row / _ROWS
        x, y = line.at(t)
        found.append((x - a - (c - a) * t, y - b - (d - b) * t))
    return found


def _column(
    share: float, upper: _Walked, lower: _Walked, bows: tuple[list[Place], list[Place]]
) -> Column:
    """A column: straight from edge to edge, bowed as the sides are (a Coons patch)."""
    (a, b), (c, d) = upper.at(share), lower.at(share)
    places = []
    for row in range(_ROWS + 1):
        t = row / _ROWS
        (p, q), (r, s) = bows[0][row], bows[1][row]
        places.append(
            (
                a + (c - a) * t + p + (r - p) * share,
                b + (d - b) * t + q + (s - q) * share,
            )
        )
    down = accumulate((math.dist(a, b) for a, b in pairwise(places)), initial=0.0)
    return Column(tuple(places), tuple(down))


def _lines_on(piece: Piece) -> Iterator[list[Point]]:
    """Round what is stitched on and round its buttons; edges it is cut along."""
    for chain in piece.stitched_on:
        line = _along(chain)
        last = line[-1]
        yield [*line, *(last.between(line[0], i / _ROWS) for i in range(1, _ROWS + 1))]
    for name, shape in piece.inside:
        if isinstance(shape, Chain):
            if name.startswith(CUT_ALONG):
                yield _along(shape)
        elif name.startswith(_BUTTON):
            ways = (i * 360 / _ROUND for i in range(_ROUND + 1))
            yield [shape + heading(way) * (_BUTTON_WIDE / 2) for way in ways]


def _along(chain: Chain) -> list[Point]:
    return [chain.at(chain.length * i / _ROUND) for i in range(_ROUND + 1)]


def _between(columns: Sequence[Column], place: Place) -> Place:
    """The share across and the way down at which a place lies, by the columns' own."""
    spend("points", len(columns))
    near = [_nearest(column, place) for column in columns]
    i = min(range(len(near) - 1), key=lambda i: near[i][0] + near[i + 1][0])
    (off, down), (other, further) = near[i], near[i + 1]
    t = off / (off + other) if off + other > 0 else 0.0
    return (i + t) / (len(columns) - 1), down + (further - down) * t


def _nearest(column: Column, place: Place) -> tuple[float, float]:
    """How far a place lies from a column, and how far down."""
    found = []
    for (low, high), (a, b) in zip(
        pairwise(column.down), pairwise(column.places), strict=True
    ):
        step = high - low
        along = (place[0] - a[0]) * (b[0] - a[0]) + (place[1] - a[1]) * (b[1] - a[1])
        t = min(max(along / step**2, 0.0), 1.0) if step > 0 else 0.0
        foot = a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t
        found.append((math.dist(foot, place), low + step * t))
    return min(found)


def _folds(
    piece: Piece, upper: Run, columns: Sequence[Column], shares: Sequence[float]
) -> Iterator[Fold]:
    """Darts, tucks and pleats that begin at the upper edge."""
    whole = _length(upper)
    reach = shares[-1] - shares[0]
    walked = 0.0
    for edge in upper:
        for kind, at, top, foot, depth, hangs in _folds_on_edge(piece, edge, columns):
            along = at if edge.forward else edge.chain.length - at
            share = ((walked + along) / whole - shares[0]) / reach
            if -1e-6 <= share <= 1 + 1e-6:
                yield Fold(kind, share, top, foot, depth, hangs)
        walked += edge.chain.length


def _folds_on_edge(
    piece: Piece, edge: Edge, columns: Sequence[Column]
) -> Iterator[tuple[str, float, float, float, float, bool]]:
    """What is folded on an edge: kind, distance, width there and below, depth, open."""
    longest = max(column.length for column in columns)
    for dart in piece.darts:
        if dart.edge == edge.name:
            at, _ = _distance(edge, dart.name)
            yield "dart", at, dart.intake, 0.0, dart.fold.length, False
    for fold in folded(piece.panel):
        here = [c for c in fold.edges if c.edge == edge.name and c.folded]
        below = [c for c in fold.edges if c.edge != edge.name]
        if here:
            middle = piece.panel.mark(f"{fold.name}.middle")
            shape = middle.shape if middle else None
            long = shape.length if isinstance(shape, Chain) else longest
            foot = below[0].width if below else 0.0
            depth = longest if below else min(long, longest)
            hangs = bool(below) and not below[0].folded
            kind = fold.name.partition("[")[0]
            yield kind, here[0].distance, here[0].width, foot, depth, hangs


def _distance(edge: Edge, name: str) -> tuple[float, float]:
    """Walked distance at which a dart opens, and how wide along the edge, mm."""
    walked = wide = 0.0
    for segment in edge.chain.segments:
        if segment.fold == name:
            wide += segment.length
        elif wide:
            break
        elif not segment.fold:
            walked += segment.length
    return walked, wide
