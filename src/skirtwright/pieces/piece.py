"""A cut piece: a panel with its cutting line, notches, darts, grain and fold marks."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, fields
from functools import cached_property
from typing import TYPE_CHECKING, Any

from skirtwright.draft.shapes.folds import Fold
from skirtwright.draft.shapes.panel import Panel
from skirtwright.geometry import Chain, Line, Point, heading
from skirtwright.geometry.box import Box, box_of
from skirtwright.geometry.ring import area_of_points
from skirtwright.pieces.marks.notches import Notch, distances_out
from skirtwright.pieces.outline.room import roomiest_place
from skirtwright.pieces.spec import (
    PieceSpec,
)
from skirtwright.problems import Problem

_LONGEST_ARROW = 300.0


@dataclass(frozen=True)
class PieceEdge:
    """A sewn edge of a piece.

    Attributes:
        length: walked with darts shut, mm.
        allowances: width and walked length of each run, from the start, mm.
    """

    name: str
    length: float
    start: Point
    end: Point
    allowances: tuple[tuple[float, float], ...]
    role: str = "seam"

    @property
    def allowance(self) -> float:
        """The width that the most of the edge has, mm."""
        return max(self.allowances, key=lambda run: run[1])[0]


@dataclass(frozen=True)
class CutDart:
    """A dart as it is marked on a piece.

    Attributes:
        legs: where its legs meet the edge, the start side first.
        intake: straight distance between the legs there, mm.
        drill: the drill mark, 15 mm short of the tip inside the dart.
        stitching: along one leg to the tip and back along the other.
    """

    name: str
    edge: str
    tip: Point
    legs: tuple[Point, Point]
    intake: float
    drill: Point
    fold: Line
    stitching: Chain


_STITCHED_ON = "patch["
"""How marks are called along which something is stitched on flat, as a pocket is."""


@dataclass(frozen=True)
class Piece:
    """A piece ready to be cut; half of it where it lies on a fold.

    One that is made `later` is finished for cutting when its cutting line, or a mark on
    it, is first asked for: while something is pulled most pieces are not seen.

    Attributes:
        panel: the panel it was made from; its outline is the stitching line.
        cut: the cutting line, anticlockwise, first point not repeated.
        notches: those asked for, then the snips of darts, tucks and pleats.
        brackets: for each fold, the bracket that says so.
        clips: where the allowance is clipped, from the cutting line inwards.
        lengthen: the two lines it is lengthened or shortened between, if any.
        problems: what could not be done as asked.
        worn: the panel it is a part of as the skirt is worn, where that is another.
        larger: by what shares its cloth shrinks along and across the grain after it
            is cut, which it is drawn larger for.
    """

    spec: PieceSpec
    panel: Panel
    edges: tuple[PieceEdge, ...]
    cut: tuple[Point, ...]
    darts: tuple[CutDart, ...]
    notches: tuple[Notch, ...]
    brackets: tuple[Chain, ...]
    inside: tuple[tuple[str, Point | Chain], ...]
    problems: tuple[Problem, ...]
    clips: tuple[Line, ...]
    lengthen: tuple[Line, Line] | None
    worn: Panel | None = None
    larger: tuple[float, float] = (0.0, 0.0)

    @classmethod
    def later(cls, work: Callable[[], Piece], **known: Any) -> Piece:
        """The piece that `work` gives; spec, panel, edges and worn are known."""
        piece = cls.__new__(cls)
        piece.__dict__.update(known, _work=work)
        return piece

    if not TYPE_CHECKING:

        def __getattr__(self, name: str) -> Any:
            """Finish it for cutting."""
            work = self.__dict__.get("_work")
            if work is None or name not in self.__dataclass_fields__:
                raise AttributeError(name)
            self.__dict__.update(work().__dict__)
            return self.__dict__[name]

    def __eq__(self, other: object) -> bool:
        """What was asked is looked at before what came of it."""
        if not isinstance(other, Piece):
            return NotImplemented
        return (self.panel, self.spec) == (other.panel, other.spec) and all(
            getattr(self, one.name) == getattr(other, one.name) for one in fields(self)
        )

    def __hash__(self) -> int:
        return hash(self.name)

    @property
    def name(self) -> str:
        """The stable name."""
        return self.spec.name

    @property
    def stitching(self) -> Chain:
        """The stitching line with its true curves, anticlockwise."""
        return self.panel.outline

    @property
    def stitch_area(self) -> float:
        """Area within the stitching line, mm2."""
        return self.panel.area

    @property
    def stitched_on(self) -> Iterator[Chain]:
        """Round what is stitched on flat; each begins and ends at its open edge."""
        for name, shape in self.inside:
            if name.startswith(_STITCHED_ON) and isinstance(shape, Chain):
                yield shape

    @property
    def pleat_folds(self) -> Iterator[Chain]:
        """The lines its pleats are folded at."""
        for name, shape in self.inside:
            if Fold.part_of(name)[1] == "fold" and isinstance(shape, Chain):
                yield shape

    @cached_property
    def box(self) -> Box:
        """Round the cutting line, mm."""
        return box_of(self.cut)

    @cached_property
    def cut_area(self) -> float:
        """Area within the cutting line, mm2."""
        return area_of_points(self.cut)

    @cached_property
    def grain_deg(self) -> float:
        """Direction of the straight grain from the x axis, 0 to below 180 degrees."""
        grain = self.spec.grain
        names = [edge.name for edge in self.edges]
        if grain.along not in names:
            return grain.angle_deg % 180.0
        edge = self.edges[names.index(grain.along)]
        return (edge.end - edge.start).heading_deg() % 180.0

    @cached_property
    def middle(self) -> tuple[Point, float]:
        """The roomiest place, and how far it is from everything drawn, mm."""
        lines = [dart.stitching for dart in self.darts]
        lines.extend(self.brackets)
        lines.extend(Chain((line,)) for line in self.lengthen or ())
        lines.extend(shape for _, shape in self.inside if isinstance(shape, Chain))
        return roomiest_place(self.panel.ring(2.0), lines)

    @cached_property
    def grain(self) -> Line:
        """The grain arrow: well inside, beside the roomiest place."""
        place, room = self.middle
        along = heading(self.grain_deg)
        start = place + along.left() * (0.6 * room)
        ring = self.panel.ring(2.0)
        ahead = min(distances_out(ring, start, along), default=0.0)
        behind = min(distances_out(ring, start, -along), default=0.0)
        half = min(0.4 * (ahead + behind), _LONGEST_ARROW / 2)
        shift = min(max(half - ahead * 0.9, 0.0), half) - min(
            max(half - behind * 0.9, 0.0), half
        )
        centre = start - along * shift
        return Line(centre - along * half, centre + along * half)
