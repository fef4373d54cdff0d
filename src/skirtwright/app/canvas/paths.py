"""Panels and pieces as painter's paths, in mm, y up."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from PySide6.QtGui import QPainterPath

from skirtwright.draft.shapes.panel import Panel
from skirtwright.geometry.box import Box, box_of
from skirtwright.geometry.chain import Chain
from skirtwright.geometry.point import Point
from skirtwright.geometry.segment import Cubic, Segment
from skirtwright.pieces.piece import Piece
from skirtwright.pieces.piece_drawing import lines_within


def path_of(chain: Chain, *, closed: bool = False) -> QPainterPath:
    """A chain with its true curves."""
    path = QPainterPath()
    add_chain(path, chain, closed=closed)
    return path


def add_chain(path: QPainterPath, chain: Chain, *, closed: bool = False) -> None:
    """A chain as a further part of a path."""
    add_segments(path, chain.segments, closed=closed)


def add_segments(
    path: QPainterPath, segments: Sequence[Segment], *, closed: bool = False
) -> None:
    """Segments, each beginning where the last one ended, as a further part."""
    start = segments[0].start
    path.moveTo(start.x, start.y)
    for segment in segments:
        end = segment.end
        if isinstance(segment, Cubic):
            first, second = segment.control1, segment.control2
            path.cubicTo(first.x, first.y, second.x, second.y, end.x, end.y)
        else:
            path.lineTo(end.x, end.y)
    if closed:
        path.closeSubpath()


@dataclass(frozen=True)
class Prepared:
    """A thing of the table ready to be painted; each path is made when it is needed."""

    of: Panel | Piece

    @property
    def body(self) -> QPainterPath:
        """Within its stitching line, to be filled."""
        return self.lines["stitching"]

    @cached_property
    def cut(self) -> QPainterPath:
        """Within its cutting line, to be filled."""
        return self.body if isinstance(self.of, Panel) else polygon_of(self.of.cut)

    @cached_property
    def lines(self) -> dict[str, QPainterPath]:
        """For each kind of line, everything of that kind that is shown at rest.

        Of a stage of the draft its stitching lines, darts, and the lines it is marked
        with; of a piece its stitching line with darts and levels.
        """
        lines: dict[str, QPainterPath] = {"dart": QPainterPath()}
        for kind, chain, closed in self.drawn:
            path = lines.setdefault(kind, QPainterPath())
            add_chain(path, chain, closed=closed)
        if isinstance(self.of, Panel):
            lines["working"] = _marks(self.of)
        return lines

    @cached_property
    def drawn(self) -> list[tuple[str, Chain, bool]]:
        """The same but for a panel's marks: each with its kind, and whether closed."""
        of = self.of
        panel = of if isinstance(of, Panel) else of.panel
        found = [("stitching", panel.outline, True)]
        legs = (leg for dart in panel.darts for leg in panel.leg_lines(dart))
        found += [("dart", leg, False) for leg in legs]
        if isinstance(of, Panel):
            return found
        levels = (mark.shape for mark in panel.marks if mark.level)
        found += [("inside", line, False) for line in levels if isinstance(line, Chain)]
        found += [("pleat", fold, False) for fold in of.pleat_folds]
        return found + [("dart", line, True) for line in of.stitched_on]

    def apart(self, other: Prepared) -> list[Box] | None:
        """Round each part of the lines of a piece at rest that is another way, mm.

        None where the two cannot be held against one another part by part.
        """
        if isinstance(self.of, Panel) or isinstance(other.of, Panel):
            return None
        mine, others = (
            [(kind, each) for kind, chain, _ in one.drawn for each in chain.segments]
            for one in (self, other)
        )
        if [kind for kind, _ in mine] != [kind for kind, _ in others]:
            return None
        return swept([each for _, each in mine], [each for _, each in others])

    @property
    def cutting_lines(self) -> dict[str, QPainterPath]:
        """The same while allowances are shown: a piece is cut, with all its marks."""
        return self.lines if isinstance(self.of, Panel) else self._within[0]

    @property
    def solid(self) -> dict[str, QPainterPath]:
        """For each kind of line, small shapes to be filled with it."""
        return self._within[1]

    @cached_property
    def _within(self) -> tuple[dict[str, QPainterPath], dict[str, QPainterPath]]:
        if isinstance(self.of, Panel):
            return {}, {}
        cutting: dict[str, QPainterPath] = {"cutting": self.cut}
        solid: dict[str, QPainterPath] = {}
        for thing in lines_within(self.of):
            kept = solid if thing.filled else cutting
            path = kept.setdefault(thing.kind, QPainterPath())
            add_chain(path, thing.chain, closed=thing.closed)
        return cutting, solid


def swept(one: Sequence[Segment], other: Sequence[Segment]) -> list[Box]:
    """Round each segment and what it was where the two are not the same, mm."""
    pairs = zip(one, other, strict=True)
    return [
        box_of((*now.points, *then.points))
        for now, then in pairs
        if now is not then and now != then
    ]


def _marks(panel: Panel) -> QPainterPath:
    path = QPainterPath()
    for mark in panel.marks:
        if isinstance(mark.shape, Chain):
            add_chain(path, mark.shape)
        else:
            add_cross(path, mark.shape, 3.0)
    return path


def add_cross(path: QPainterPath, place: Point, arm: float) -> None:
    """A small upright cross."""
    path.moveTo(place.x - arm, place.y)
    path.lineTo(place.x + arm, place.y)
    path.moveTo(place.x, place.y - arm)
    path.lineTo(place.x, place.y + arm)


def body_of(of: Panel | Piece) -> QPainterPath:
    """Within the stitching line of a thing of the table."""
    panel = of if isinstance(of, Panel) else of.panel
    return path_of(panel.outline, closed=True)


def polygon_of(ring: Sequence[Point]) -> QPainterPath:
    """Straight lines through points in turn, closed."""
    path = QPainterPath()
    path.moveTo(ring[0].x, ring[0].y)
    for point in ring[1:]:
        path.lineTo(point.x, point.y)
    path.closeSubpath()
    return path
