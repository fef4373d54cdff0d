"""Panels: closed runs of named edges, with darts and marks that move with the paper.

An edge keeps its name through every operation; only its chain changes. Its chain
runs in the style's direction (waist to hem, centre to side); `forward` says whether
the outline, walked anticlockwise, runs the same way.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

from skirtwright.draft.shapes.folds import Fold
from skirtwright.geometry.box import Box, box_of
from skirtwright.geometry.chain import Chain, join
from skirtwright.geometry.curves import reaching
from skirtwright.geometry.point import Motion, Point
from skirtwright.geometry.ring import area_of_chain, without_repeats
from skirtwright.geometry.segment import Line
from skirtwright.geometry.tolerance import OUTLINE, SAME
from skirtwright.problems import NotFound, Refused


@dataclass(init=False)
class Edge:
    """A named side of a panel."""

    name: Final[str]
    chain: Final[Chain]
    forward: Final[bool]

    def __init__(self, name: str, chain: Chain, forward: bool = True) -> None:
        self.name = name
        self.chain = chain
        self.forward = forward
        self._ringwise: Chain | None = None

    def __eq__(self, other: object) -> bool:
        return (
            isinstance(other, Edge)
            and self.name == other.name
            and self.forward == other.forward
            and self.chain == other.chain
        )

    def __hash__(self) -> int:
        return hash((self.name, self.forward, self.chain))

    @property
    def ringwise(self) -> Chain:
        """The chain as the anticlockwise outline walks it."""
        if self._ringwise is None:
            self._ringwise = self.chain if self.forward else self.chain.reversed()
        return self._ringwise


@dataclass(init=False, unsafe_hash=True)
class Dart:
    """A dart: the edge it opens on and its tip. Its legs are read from the edge.

    `bow` is how far each leg is curved away from the other half way down, mm (full);
    less than nothing towards it (hollow).
    """

    name: Final[str]
    edge: Final[str]
    tip: Final[Point]
    bow: Final[float]

    def __init__(self, name: str, edge: str, tip: Point, bow: float = 0.0) -> None:
        self.name = name
        self.edge = edge
        self.tip = tip
        self.bow = bow


@dataclass(init=False, unsafe_hash=True)
class Mark:
    """A point or a line drawn on the paper; `level` is the body's level it marks."""

    name: Final[str]
    shape: Final[Point | Chain]
    level: Final[str]

    def __init__(self, name: str, shape: Point | Chain, level: str = "") -> None:
        self.name = name
        self.shape = shape
        self.level = level


@dataclass(init=False)
class Panel:
    """A closed outline of named edges, anticlockwise, and what is drawn inside."""

    edges: Final[tuple[Edge, ...]]
    darts: Final[tuple[Dart, ...]]
    marks: Final[tuple[Mark, ...]]

    def __init__(
        self,
        edges: tuple[Edge, ...],
        darts: tuple[Dart, ...] = (),
        marks: tuple[Mark, ...] = (),
    ) -> None:
        self.edges = edges
        self.darts = darts
        self.marks = marks
        self._outline: Chain | None = None
        self._area: float | None = None
        self._box: Box | None = None
        self._rings: dict[float, tuple[Point, ...]] = {}

    def __eq__(self, other: object) -> bool:
        return (
            isinstance(other, Panel)
            and self.edges == other.edges
            and self.darts == other.darts
            and self.marks == other.marks
        )

    def __hash__(self) -> int:
        return hash((self.edges, self.darts, self.marks))

    def edge(self, name: str) -> Edge:
        """The edge of that name.

        Raises:
            NotFound: the panel has none.
        """
        for edge in self.edges:
            if edge.name == name:
                return edge
        names = ", ".join(edge.name for edge in self.edges)
        raise NotFound("draft.no_edge", name, edge=name, known=names)

    def mark(self, name: str) -> Mark | None:
        """The mark of that name, or None."""
        return next((mark for mark in self.marks if mark.name == name), None)

    def level(self, name: str) -> Chain | None:
        """The line that marks a level of the body, or None."""
        found = (mark.shape for mark in self.marks if mark.level == name)
        return next((shape for shape in found if isinstance(shape, Chain)), None)

    def level_at_side(self, name: str) -> Chain | None:
        """The line that marks a level, beyond its last pleat: how the paper lies there.

        A line across open pleats turns at each; None where there is none.
        """
        line = self.level(name)
        folded = [n for n, s in enumerate(line.segments, 1) if s.fold] if line else []
        if line is None or not folded:
            return line
        beyond = line.segments[folded[-1] :]
        return Chain(beyond) if beyond else line

    def dart(self, name: str) -> Dart:
        """The dart of that name, such as `dart[1]`.

        Raises:
            NotFound: the panel has none.
        """
        for dart in self.darts:
            if dart.name == name:
                return dart
        raise NotFound("draft.no_dart", name, dart=name)

    def legs(self, dart: Dart) -> tuple[Point, Point]:
        """Where the two legs of a dart end on its edge: start side, end side.

        Raises:
            NotFound: it is not on its edge.
        """
        cap = [s for s in self.edge(dart.edge).chain.segments if s.fold == dart.name]
        if not cap:
            raise NotFound("draft.no_dart", dart.name, dart=dart.name)
        return cap[0].start, cap[-1].end

    def leg_lines(self, dart: Dart) -> tuple[Chain, Chain]:
        """The two legs of a dart from its edge to its tip, mirror images."""
        left, right = self.legs(dart)
        return (
            _leg(left, dart.tip, right, dart.bow),
            _leg(right, dart.tip, left, dart.bow),
        )

    def part(self, rest: str) -> Point | Chain:
        """What `panel.<rest>` names: an edge, a mark, or a dart's tip or leg.

        Raises:
            NotFound: nothing of the panel has that name.
        """
        for edge in self.edges:
            if edge.name == rest:
                return edge.chain
        mark = self.mark(rest)
        if mark:
            return mark.shape
        fold, what = Fold.part_of(rest)
        if fold is not None and fold.kind == "dart" and what:
            dart = self.dart(str(fold))
            if what == "tip":
                return dart.tip
            if what in ("left", "right"):
                return self.leg_lines(dart)[what == "right"]
        known = [edge.name for edge in self.edges] + [mark.name for mark in self.marks]
        raise NotFound("draft.no_part", rest, part=rest, known=", ".join(known))

    def with_chain(self, name: str, chain: Chain) -> Panel:
        """The panel with one edge drawn anew."""
        edges = [
            Edge(name, chain, edge.forward) if edge.name == name else edge
            for edge in self.edges
        ]
        return Panel(tuple(edges), self.darts, self.marks)

    def with_mark(self, name: str, shape: Point | Chain, level: str = "") -> Panel:
        """The panel with a mark added, or drawn anew at the level it marked."""
        old = self.mark(name)
        others = [mark for mark in self.marks if mark.name != name]
        new = Mark(name, shape, level or (old.level if old else ""))
        return Panel(self.edges, self.darts, (*others, new))

    def moved(self, motion: Motion) -> Panel:
        """The whole panel after a motion that does not turn it over."""
        return Panel(
            tuple([Edge(e.name, e.chain.moved(motion), e.forward) for e in self.edges]),
            tuple([Dart(d.name, d.edge, motion(d.tip), d.bow) for d in self.darts]),
            tuple([moved_mark(mark, motion) for mark in self.marks]),
        )

    @property
    def outline(self) -> Chain:
        """The whole outline, anticlockwise from the first edge."""
        if self._outline is None:
            self._outline = join([edge.ringwise for edge in self.edges])
        return self._outline

    @property
    def area(self) -> float:
        """Area within the stitching line, mm2."""
        if self._area is None:
            self._area = area_of_chain(self.outline)
        return self._area

    @property
    def box(self) -> Box:
        """Round the outline, to half a mm."""
        if self._box is None:
            self._box = box_of(self.outline.flattened(0.5))
        return self._box

    def ring(self, tolerance: float = OUTLINE) -> tuple[Point, ...]:
        """The outline as points, anticlockwise, first not repeated."""
        if tolerance not in self._rings:
            ring = without_repeats(self.outline.flattened(tolerance))
            self._rings[tolerance] = tuple(ring)
        return self._rings[tolerance]

    def neighbours(self, name: str) -> tuple[tuple[Edge, bool], tuple[Edge, bool]]:
        """The edges that meet an edge's start and its end.

        Each comes with True when it is its own start that meets there.
        """
        index = next(i for i, edge in enumerate(self.edges) if edge.name == name)
        before = self.edges[index - 1]
        after = self.edges[(index + 1) % len(self.edges)]
        # Ringwise, the edge before ends where this begins, and the next begins at
        # its end; an edge that is drawn against the ring has the two exchanged.
        first = (before, not before.forward)
        second = (after, after.forward)
        return (first, second) if self.edges[index].forward else (second, first)


_MOST_BOWED: Final = 0.8
"""How far a leg may be curved, as a share of its way to the fold half way down."""


def _leg(start: Point, tip: Point, other: Point, bow: float) -> Chain:
    """A leg; a curved one leaves the edge and comes to its tip as a straight one does.

    So the cap, the finished edge and the last stitches along the fold are those of
    the straight dart (its ends and lengths are kept).
    """
    if not bow:
        return Chain((Line(start, tip),))
    most = _MOST_BOWED * start.to(other) / 4
    along = (tip - start).unit()
    out = along.left() if along.cross(other - start) < 0 else along.right()
    middle = start.between(tip, 0.5) + out * max(-most, min(bow, most))
    reach = start.to(tip) / 4
    return Chain(
        (
            reaching(start, along, middle, along, reach),
            reaching(middle, along, tip, along, reach),
        )
    )


def lies_within(drawn: object, reach: float) -> bool:
    """True when no point of what was drawn lies further from zero, mm."""
    if isinstance(drawn, Point):
        return drawn.size() <= reach
    if isinstance(drawn, Chain):
        return drawn.furthest <= reach
    if isinstance(drawn, Panel):
        return all(edge.chain.furthest <= reach for edge in drawn.edges)
    return True


def moved_mark(mark: Mark, motion: Motion) -> Mark:
    """A mark after a motion."""
    shape = mark.shape
    moved = motion(shape) if isinstance(shape, Point) else shape.moved(motion)
    return Mark(mark.name, moved, mark.level)


def panel_of(edges: list[tuple[str, Chain]]) -> Panel:
    """A panel from edges in order round the outline, each in the style's direction.

    Each edge is taken forwards or backwards so that it joins the one before; the
    outline is then made anticlockwise.

    Raises:
        Refused: an edge does not meet the next, or the outline encloses nothing.
    """
    placed: list[Edge] = []
    for name, chain in edges:
        if not placed:
            second = edges[1][1]
            meets = (second.start, second.end)
            forward = any(chain.end.is_at(place) for place in meets)
            placed.append(Edge(name, chain, forward))
            continue
        here = placed[-1].ringwise.end
        if not (chain.start.is_at(here) or chain.end.is_at(here)):
            gap = min(chain.start.to(here), chain.end.to(here))
            raise Refused(
                "draft.edges_do_not_meet",
                name,
                edge=placed[-1].name,
                next=name,
                gap=gap,
            )
        placed.append(Edge(name, chain, chain.start.is_at(here)))
    first, last = placed[0].ringwise, placed[-1].ringwise
    if not last.end.is_at(first.start):
        raise Refused(
            "draft.edges_do_not_meet",
            placed[0].name,
            edge=placed[-1].name,
            next=placed[0].name,
            gap=last.end.to(first.start),
        )
    panel = Panel(tuple(placed))
    if abs(panel.area) <= SAME:
        raise Refused("draft.outline_is_flat", placed[0].name)
    if panel.area < 0:
        edges_back = (replace(e, forward=not e.forward) for e in reversed(placed))
        panel = Panel(tuple(edges_back))
    return panel
